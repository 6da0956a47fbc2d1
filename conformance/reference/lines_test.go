package reference_test

import (
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
)

// nonsense are values that some field or other does not have.
var nonsense = strings.Fields("- 0 1 2 00 01 0:0 8:0 0:8 0:-1 1:1 3:0 10:0 0-0 256-0 12-12 A B AA dA dB A1B1 A1B4 A2B0 A3B1 12 21 11 1- -1 -- A1@R#1 A1@L#1 A2@R#3 B1@R#- " +
	"A1 A2 B3 x u---x ---- cccc uuuu rr-- g--- x-x- 8--- 1--- e p ex ep xe 1m 2 2m 0m m playing before play between over closed tie ab Aret Agf tA mA1 ref")

// TestLinesAgree puts a value of another line, or none of any, into one field of
// a line of the corpus: engine and model refuse the same positions.
func TestLinesAgree(t *testing.T) {
	files, err := conformance.Load()
	if err != nil {
		t.Fatal(err)
	}
	values, linesOf := map[string]map[string]bool{}, map[string]map[string]bool{}
	for i := range files {
		for _, c := range files[i].Cases {
			lines := []string{c.From}
			for _, s := range c.Steps {
				lines = append(lines, s.Line)
			}
			for _, line := range lines {
				if !strings.HasPrefix(line, "L2 ") {
					continue
				}
				for _, word := range strings.Fields(line)[1:] {
					name, value, _ := strings.Cut(word, "=")
					if values[name] == nil {
						values[name] = map[string]bool{}
					}
					values[name][value] = true
				}
				ids, err := conformance.Expand(c.Formats[len(c.Formats)-1])
				if err != nil {
					t.Fatal(err)
				}
				ids = slices.DeleteFunc(ids, func(id string) bool {
					f, err := parsed(id)
					return err != nil || !reference.Taught(f.Edition)
				})
				if len(ids) == 0 {
					continue
				}
				id := ids[len(ids)-1]
				if linesOf[id] == nil {
					linesOf[id] = map[string]bool{}
				}
				linesOf[id][line] = true
			}
		}
	}
	of := map[string][]string{}
	for name := range values {
		of[name] = slices.Sorted(maps.Keys(values[name]))
	}
	names := slices.Sorted(maps.Keys(of))
	ids := slices.Sorted(maps.Keys(linesOf))
	lines := map[string][]string{}
	for id := range linesOf {
		lines[id] = slices.Sorted(maps.Keys(linesOf[id]))
	}
	r := rand.New(rand.NewPCG(2492, 2547))
	tries := 100000
	if testing.Short() {
		tries = 6000
	}
	asked, refused := 0, 0
	differ := map[string][]string{}
	for range tries {
		id := ids[r.IntN(len(ids))]
		line := lines[id][r.IntN(len(lines[id]))]
		name := names[r.IntN(len(names))]
		value := of[name][r.IntN(len(of[name]))]
		if r.IntN(5) == 0 {
			value = nonsense[r.IntN(len(nonsense))]
		}
		changed := strings.Replace(line, " "+name+"="+fieldOf(line, name), " "+name+"="+value, 1)
		if fieldOf(changed, "phase") == "closed" {
			continue
		}
		f, err := parsed(id)
		if err != nil {
			t.Fatal(err)
		}
		var own conformance.Builtin
		_, err = own.Begin(id, conformance.Start{From: changed})
		_, no := reference.Stated(f, changed)
		asked++
		if err != nil {
			refused++
		}
		if (err != nil) != no {
			why := "engine accepts"
			if err != nil {
				why = err.Error()
			}
			key := name + ": " + why
			differ[key] = append(differ[key], id+" "+changed)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(differ)) {
		t.Errorf("%d times %s\n\t%s", len(differ[key]), key, differ[key][0])
	}
	t.Logf("%d lines asked, %d refused", asked, refused)
}
