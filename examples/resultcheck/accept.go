package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
)

// accepted are findings waived with a reason, by key.
type accepted map[string]*waiver

type waiver struct {
	reason string
	used   int
}

// openAccepted reads the waivers of a file; none if no file is named.
func openAccepted(name string) (accepted, error) {
	if name == "" {
		return nil, nil
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return readAccepted(file, name)
}

// readAccepted reads waivers: a key, blanks, and the reason; lines that begin
// with # are comments. A key without a reason is refused: nobody could tell
// later why it was waived.
func readAccepted(in io.Reader, name string) (accepted, error) {
	out := accepted{}
	scan := bufio.NewScanner(in)
	n := 1
	for ; scan.Scan(); n++ {
		line := strings.TrimSpace(scan.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		key, reason, ok := strings.Cut(line, "\t")
		if !ok {
			key, reason, _ = strings.Cut(line, "  ")
		}
		if reason = strings.TrimSpace(reason); reason == "" {
			return nil, fmt.Errorf("%s: line %d: want a key, a tab or two blanks, and the reason", name, n)
		}
		out[strings.TrimSpace(key)] = &waiver{reason: reason}
	}
	if errors.Is(scan.Err(), bufio.ErrTooLong) {
		return nil, fmt.Errorf("%s: line %d: longer than %d bytes", name, n, bufio.MaxScanTokenSize-1)
	}
	if scan.Err() != nil {
		return nil, scan.Err()
	}
	return out, nil
}

func (a accepted) waives(key string) bool {
	w := a[key]
	if w != nil {
		w.used++
	}
	return w != nil
}

// unused counts waivers that waived nothing.
func (a accepted) unused() int {
	n := 0
	for _, w := range a {
		if w.used == 0 {
			n++
		}
	}
	return n
}
