// Command publish writes the generated files of folder conformance: clauses and
// formats as JSON, which cases rest on which clause, and the manifest. Run it in
// the root of the repository.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/evencourt/evencourt/conformance/internal/publish"
)

func main() {
	files, err := publish.Files("conformance")
	for _, f := range files {
		if err == nil {
			err = os.WriteFile(filepath.Join("conformance", filepath.FromSlash(f.Name)), f.Content, 0o666)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "publish:", err)
		os.Exit(1)
	}
}
