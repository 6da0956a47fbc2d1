//go:build wasm

// Package exchange is how a page and a build of the library speak: a request is
// lines in a buffer, an operation and its arguments; the answer is lines there,
// and an error begins with "!". It links neither encoding/json nor fmt.
//
// A build exports space, where the buffer is, room, its bytes, and ask, which
// answers the request of so many bytes and returns the length of the answer.
package exchange

import (
	"strings"
	"unsafe"
)

var (
	buffer [1 << 19]byte
	answer func(operation string, args []string) []string
)

// Serve lets a function answer every request. It does not return.
func Serve(f func(operation string, args []string) []string) {
	answer = f
	select {}
}

// Wrong is the answer that says why a request cannot be met.
func Wrong(reason string) []string { return []string{"!" + reason} }

//go:wasmexport space
func space() unsafe.Pointer { return unsafe.Pointer(&buffer[0]) }

//go:wasmexport room
func room() int32 { return int32(len(buffer)) }

//go:wasmexport ask
func ask(n int32) int32 {
	if n < 0 || int(n) > len(buffer) || answer == nil {
		return 0
	}
	request := strings.Split(string(buffer[:n]), "\n")
	return int32(copy(buffer[:], strings.Join(answer(request[0], request[1:]), "\n")))
}
