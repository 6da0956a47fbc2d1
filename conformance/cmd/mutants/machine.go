package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/evencourt/evencourt/conformance/mutants"
)

// readMachine reads what .ci/mutants.sh left in a folder, and writes the list
// of what lived and the page.
func readMachine(dir string) error {
	_, reasons, err := mutants.Stored()
	if err != nil {
		return err
	}
	m, err := mutants.ReadMachine(dir, time.Now().UTC().Format(time.DateOnly), reasons)
	if err != nil {
		return err
	}
	text, err := json.MarshalIndent(m, "", " ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.FromSlash("conformance/mutants/machine.json"), append(text, '\n'), 0o666); err != nil {
		return err
	}
	return machinePage(m, reasons)
}

// writeMachinePage writes the page again from what is stored.
func writeMachinePage() error {
	m, reasons, err := mutants.Stored()
	if err != nil {
		return err
	}
	return machinePage(m, reasons)
}

func machinePage(m mutants.Machine, r mutants.Reasons) error {
	for _, s := range m.Lived {
		if r.Of(s) == nil {
			fmt.Fprintf(os.Stderr, "no reason yet: %s:%d %s %d: %s\n", s.File, s.Line, s.Type, s.Column, s.Source)
		}
	}
	return os.WriteFile(filepath.FromSlash("conformance/MACHINE.md"), []byte(mutants.MachinePage(m, r)), 0o666)
}
