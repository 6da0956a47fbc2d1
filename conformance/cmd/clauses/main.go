// Command clauses writes conformance/CLAUSES.md. Run it in the root of the
// repository.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/internal/clauses"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "clauses:", err)
		os.Exit(1)
	}
}

func run() error {
	files, err := conformance.Load()
	if err != nil {
		return err
	}
	rows, err := clauses.Matrix(files)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.FromSlash("conformance/CLAUSES.md"), []byte(clauses.Page(rows)), 0o666)
}
