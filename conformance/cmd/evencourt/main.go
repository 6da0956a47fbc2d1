// Command evencourt is the library's own engine on the protocol of package
// conformance/protocol: JSON Lines on standard input and output.
//
//	go run ./conformance/cmd/checkengine -- go run ./conformance/cmd/evencourt
package main

import (
	"fmt"
	"os"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/conformance/protocol"
)

func main() {
	if len(os.Args) > 1 {
		fmt.Fprintln(os.Stderr, "evencourt takes no arguments: it reads requests, one a line; see conformance/PROTOCOL.md")
		os.Exit(2)
	}
	server := protocol.Server{
		Identity: conformance.Identity{Name: "evencourt", Version: conformance.Version(), Language: "Go"},
		Engine:   new(conformance.Builtin),
		Position: digests.BuiltinAt,
	}
	if err := server.Serve(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}
