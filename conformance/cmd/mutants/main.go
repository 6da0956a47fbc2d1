// Command mutants plays every hand-written case against every mutant of
// package conformance/internal/mutants and writes conformance/internal/mutants/matrix.json and
// conformance/MUTANTS.md. Run it in the root of the repository.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/internal/mutants"
)

func main() {
	walk := flag.Int("systematic", 0, "instead: measure the systematic mutants too, with so many random `events` a format, and list on standard output what lives")
	flag.Parse()
	files, err := conformance.Load()
	switch {
	case err != nil:
	case *walk > 0:
		err = systematic(files, *walk)
	default:
		err = run(files)
	}
	os.Exit(code(err))
}

// errSurvive: all is written, and some mutant is in it that no case kills.
var errSurvive = errors.New("mutants survive")

// code is the exit code of a run that ended so.
func code(err error) int {
	if err == nil {
		return 0
	}
	fmt.Fprintln(os.Stderr, "mutants:", err)
	if errors.Is(err, errSurvive) {
		return 1
	}
	return 2
}

func run(files []conformance.File) error {
	survive, fileOf := 0, mutants.FileOf(files)
	rows := mutants.Compute(files, func(r mutants.Row) {
		switch in := r.Files(fileOf); len(in) {
		case 0:
			survive++
			fmt.Fprintf(os.Stderr, "%s survives\n", r.Mutant)
		case 1:
			fmt.Fprintf(os.Stderr, "%s is found out in %s only\n", r.Mutant, in[0])
		}
	})
	if err := write(rows); err != nil {
		return err
	}
	fmt.Fprintf(os.Stderr, "%d mutants, %d survive\n", len(rows), survive)
	if survive > 0 {
		return errSurvive
	}
	return nil
}

// write writes the matrix and the page that shows it.
func write(rows []mutants.Row) error {
	text, err := json.Marshal(rows)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.FromSlash("conformance/internal/mutants/matrix.json"), append(text, '\n'), 0o666); err != nil {
		return err
	}
	measured, err := mutants.LastMeasured()
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.FromSlash("conformance/MUTANTS.md"), []byte(mutants.Page(rows, measured)), 0o666)
}

// systematic measures the mutants that a program makes.
func systematic(files []conformance.File, events int) error {
	s := mutants.NewSystematic()
	if err := s.Play(files); err != nil {
		return err
	}
	if err := s.Walk(events); err != nil {
		return err
	}
	if err := s.Prove(); err != nil {
		return err
	}
	table, lived := s.Table()
	for _, line := range lived {
		fmt.Println(line)
	}
	m := mutants.Measured{Date: time.Now().UTC().Format(time.DateOnly), Events: events, Table: table}
	text, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.FromSlash("conformance/internal/mutants/systematic.json"), append(text, '\n'), 0o666); err != nil {
		return err
	}
	rows, err := mutants.Matrix()
	if err != nil {
		return err
	}
	err = os.WriteFile(filepath.FromSlash("conformance/MUTANTS.md"), []byte(mutants.Page(rows, m)), 0o666)
	if err == nil && len(lived) > 0 {
		err = errSurvive
	}
	return err
}
