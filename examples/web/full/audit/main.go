//go:build wasm

// Command audit is the library's check of reported results in a browser. A
// request is a line of JSON in the buffer, a match or a log as
// examples/resultcheck reads it; the answer is a finding a line, an error begins
// with "!".
package main

import (
	"strings"
	"unsafe"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

var (
	say    = words.English()
	buffer [1 << 16]byte
)

func main() { select {} } // a page calls what is exported

//go:wasmexport space
func space() unsafe.Pointer { return unsafe.Pointer(&buffer[0]) }

// ask answers the request of n bytes and returns the length of the answer.
//
//go:wasmexport ask
func ask(n int32) int32 {
	if n < 0 || int(n) > len(buffer) {
		return 0
	}
	return int32(copy(buffer[:], strings.Join(answer(buffer[:n]), "\n")))
}

func answer(line []byte) (out []string) {
	m, _, err := audit.ReadLine(line, 1)
	if err != nil {
		return []string{"!" + err.Error()}
	}
	f, err := format.Parse(m.Format)
	if err != nil {
		return []string{"!" + err.Error()}
	}
	finals, err := audit.NewFinals(f)
	if err != nil {
		return []string{"!" + err.Error()}
	}
	for _, finding := range finals.Check(m, audit.Place{}, nil) {
		out = append(out, string(finding.Code)+"\t"+say.Say(finding.Text()))
	}
	return out
}
