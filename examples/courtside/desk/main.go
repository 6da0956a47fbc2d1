//go:build wasm

// Command desk is the library behind the page: what to say and do now, entry by
// questions, what a correction would change, hand-over, the printed sheet, the
// drill. The page keeps score without it; it only speaks when it is there.
//
// The fields of a line of an answer are divided by tabs. It links neither
// encoding/json nor fmt.
package main

import (
	"strings"

	"github.com/evencourt/evencourt/examples/web/exchange"
)

func main() { exchange.Serve(answer) }

// operation is something that can be asked: how many arguments it takes at
// least, whether a match must have begun, and what answers it.
type operation struct {
	args  int
	match bool
	run   func(args []string) []string
}

var operations = map[string]operation{
	"begin":    {3, false, begin},
	"do":       {2, true, do},
	"now":      {1, true, now},
	"guided":   {1, true, guided},
	"refusal":  {1, true, refusal},
	"asks":     {0, true, asks},
	"log":      {0, true, entries},
	"handover": {0, true, handOver},
	"sheet":    {0, true, sheet},
	"blank":    {2, false, blank},
	"levels":   {1, false, levels},
	"drill":    {6, false, drill},
	"put":      {1, false, put},
	"hint":     {1, false, hint},
	"mark":     {3, false, mark},
}

func answer(name string, args []string) []string {
	op := operations[name]
	switch {
	case op.run == nil:
		return exchange.Wrong("no such operation")
	case len(args) < op.args:
		return exchange.Wrong("wants another argument")
	case op.match && log == nil:
		return exchange.Wrong("no match has begun")
	}
	return op.run(args)
}

// row is one line of an answer.
func row(fields ...string) string {
	for i, f := range fields {
		fields[i] = strings.Map(func(r rune) rune {
			if r == '\t' || r == '\n' {
				return ' '
			}
			return r
		}, f)
	}
	return strings.Join(fields, "\t")
}
