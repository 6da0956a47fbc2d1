package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/evencourt/evencourt/examples/program"
)

var (
	findingLine = regexp.MustCompile(`^-(?::(\d+))?: (error|warning|note):`)
	alikeLine   = regexp.MustCompile(`^(\d+) more like this: rows `)
	summaryLine = regexp.MustCompile(`^(\d+) rows?, (\d+) match(?:es)?, (\d+) logs?: (\d+) errors?, (\d+) warnings?, (\d+) notes?, (\d+) waived$`)
)

// Whatever is read, the program ends with a status that agrees with what it
// printed, one line a finding, each within the file, nothing in them that a
// terminal would obey.
func FuzzRun(f *testing.F) {
	ladder, err := os.ReadFile("autumn-ladder.csv")
	if err != nil {
		f.Fatal(err)
	}
	rows := strings.SplitAfter(string(ladder), "\n")
	for i := 1; i < len(rows)-1; i++ {
		f.Add([]byte(rows[0] + rows[i]))
	}
	for _, seed := range []string{
		"", "match,games\nm,11-8\n", "match;games\nm;9-Nov\n\"x\n", "games\twinner\n11-8\tA\n", "\xef\xbb\xbfgames\n11-10\n", "\x1f\x8b\x08",
		`{"match":"L1","format":"sideout-doubles-11","games":[[11,8]]}` + "\n" + `{"match":"L1","games":[[11]]}` + "\nnull\n",
		`{"match":"L4","format":"sideout-doubles-11","rows":[{"winner":"A","server":"A2"},{"event":"tB"}]}`,
		`{"record":"evencourt/1","format":"sideout-doubles-11"}` + "\n" + `{"n":1,"event":"A"}` + "\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 4096 || bytes.Count(text, []byte("{")) > 8 {
			return // many rows of a log take long, and other tests have them
		}
		var stdout, stderr bytes.Buffer
		status := run([]string{"-"}, bytes.NewReader(text), &stdout, &stderr)
		lines := strings.Split(strings.TrimSuffix(stdout.String(), "\n"), "\n")
		m := summaryLine.FindStringSubmatch(lines[0])
		if m == nil {
			if status != program.Failed || stdout.Len() > 0 {
				t.Fatalf("no summary: %q", stdout.String())
			}
			return
		}
		n := map[string]int{}
		ends := []byte("\n")
		if !bytes.Contains(text, ends) { // lines that end with a return alone are lines
			ends = []byte("\r")
		}
		last := bytes.Count(text, ends) + 1
		for _, line := range lines[1:] {
			if len(line) > 5*4096 || strings.IndexFunc(line, unicode.IsControl) >= 0 {
				t.Fatalf("%q", line)
			}
			if alike := alikeLine.FindStringSubmatch(line); alike != nil {
				more := 0
				fmt.Sscan(alike[1], &more)
				n["error"] += more
			}
			place := findingLine.FindStringSubmatch(line)
			if place == nil {
				continue // the row, or what columns are taken for
			}
			n[place[2]]++
			at := 0
			fmt.Sscan(place[1], &at)
			if at > last && text[0] != 0x1f {
				t.Fatalf("line %d of %d: %q", at, last, line)
			}
		}
		if got := fmt.Sprint(n["error"], n["warning"], n["note"], 0); got != strings.Join(m[4:], " ") {
			t.Fatalf("counted %s, said %v", got, m[4:])
		}
		switch serious := n["error"]+n["warning"] > 0; {
		case status == program.Nothing && serious, status == program.Found && !serious, status != program.Failed && stderr.Len() > 0:
			t.Fatalf("status %d: %s%s", status, stdout.String(), stderr.String())
		case status == program.Failed && strings.Count(stderr.String(), "\n") != 1, status < program.Nothing, status > program.Failed:
			t.Fatalf("status %d: %q", status, stderr.String())
		}
	})
}

// A file of waivers is read whole or refused with its line, and every key in it
// waives.
func FuzzReadAccepted(f *testing.F) {
	for _, seed := range []string{"# why\n\nname-near/L06\ttwo people\n", "game-margin/m1/g1  a time limit\r\n", "no reason\n", "\t x", "a\tb\na\tc\n", "  \n#"} {
		f.Add([]byte(seed))
	}
	const name = "waivers"
	f.Fuzz(func(t *testing.T, text []byte) {
		a, err := readAccepted(bytes.NewReader(text), name)
		if err != nil {
			if a != nil || !strings.HasPrefix(err.Error(), name+": line ") {
				t.Fatal(err)
			}
			return
		}
		if len(a) > bytes.Count(text, []byte("\n"))+1 || a.unused() != len(a) {
			t.Fatal(len(a), a.unused())
		}
		for key, w := range a {
			if w.reason == "" || strings.TrimSpace(w.reason) != w.reason || !bytes.Contains(text, []byte(key)) || !a.waives(key) {
				t.Fatalf("%q: %q", key, w.reason)
			}
		}
		if a.unused() != 0 || a.waives("no such key\x00") {
			t.Fatal("waives what it should not")
		}
	})
}

// What breaks off is said to break off, wherever it does.
func TestReaderThatFails(t *testing.T) {
	table := "match,games,format\n" + strings.Repeat("m,11-8,sideout-singles-11\n", 20)
	step := 1
	if testing.Short() {
		step = 23
	}
	for at := 0; at < len(table); at += step {
		in := io.MultiReader(strings.NewReader(table[:at]), failing{})
		var stdout, stderr bytes.Buffer
		if status := run([]string{"-"}, in, &stdout, &stderr); status != program.Failed || !strings.Contains(stderr.String(), "the line went dead") {
			t.Fatalf("cut at %d: status %d, %q", at, status, stderr.String())
		}
	}
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("the line went dead") }
