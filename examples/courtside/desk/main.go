//go:build wasm

// Command desk is the library behind the page: what to say and do now, entry by
// questions, what a correction would change, hand-over, the printed sheet, the
// drill. The page keeps score without it; it only speaks when it is there.
//
// A request is lines in the buffer, an operation and its arguments; the answer
// is lines there, with fields divided by tabs, and an error begins with "!".
// It links neither encoding/json nor fmt.
package main

import (
	"strings"
	"unsafe"
)

var buffer [1 << 19]byte

func main() { select {} } // a page calls what is exported

//go:wasmexport space
func space() unsafe.Pointer { return unsafe.Pointer(&buffer[0]) }

//go:wasmexport room
func room() int32 { return int32(len(buffer)) }

// ask answers the request of n bytes and returns the length of the answer.
//
//go:wasmexport ask
func ask(n int32) int32 {
	if n < 0 || int(n) > len(buffer) {
		return 0
	}
	request := strings.Split(string(buffer[:n]), "\n")
	return int32(copy(buffer[:], strings.Join(answer(request[0], request[1:]), "\n")))
}

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
		return wrong("no such operation")
	case len(args) < op.args:
		return wrong("wants another argument")
	case op.match && log == nil:
		return wrong("no match has begun")
	}
	return op.run(args)
}

func wrong(reason string) []string { return []string{"!" + reason} }

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
