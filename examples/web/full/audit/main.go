//go:build wasm

// Command audit is the library's check of reported results in a browser. A
// request is a line of JSON, a match or a log as examples/resultcheck reads it;
// the answer is a finding a line.
package main

import (
	"github.com/evencourt/evencourt/examples/web/exchange"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

var say = words.English()

func main() { exchange.Serve(answer) }

func answer(line string, _ []string) (out []string) {
	m, _, err := audit.ReadLine([]byte(line), 1)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	f, err := format.Parse(m.Format)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	finals, err := audit.NewFinals(f)
	if err != nil {
		return exchange.Wrong(err.Error())
	}
	for _, finding := range finals.Check(m, audit.Place{}, nil) {
		out = append(out, string(finding.Code)+"\t"+say.Say(finding.Text()))
	}
	return out
}
