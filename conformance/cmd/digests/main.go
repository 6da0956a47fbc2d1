// Command digests computes the digests of every named format, has the slow
// second model and any engine on the protocol confirm them, and writes
// conformance/digests/published.json:
//
//	go run ./conformance/cmd/digests -- node examples/peer-js/engine.js
//
// That takes a quarter of an hour. With -missing the rows of shapes that are
// published in all their editions are kept as they are. With the word rulings it
// writes conformance/digests/rulings.json instead. It exits with 1 where an
// engine disagrees, and with 2 where the work could not be done.
package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/conformance/protocol"
	"github.com/evencourt/evencourt/format"
)

func main() {
	var commands [][]string
	missing := false
	for _, a := range os.Args[1:] {
		switch {
		case a == "-missing" && len(commands) == 0:
			missing = true
		case a == "--":
			commands = append(commands, nil)
		case a == "rulings" && len(os.Args) == 2:
			os.Exit(code(writeRulings()))
		case len(commands) == 0:
			fmt.Fprintln(os.Stderr, "usage: digests rulings | [-missing] [-- ENGINE ARGS...]... in the root of the repository")
			os.Exit(2)
		default:
			commands[len(commands)-1] = append(commands[len(commands)-1], a)
		}
	}
	os.Exit(code(run(commands, missing)))
}

// errDiffers: an engine has other digests.
var errDiffers = errors.New("differs")

// code is the exit code of a run that ended so.
func code(err error) int {
	if err == nil {
		return 0
	}
	fmt.Fprintln(os.Stderr, "digests:", err)
	if errors.Is(err, errDiffers) {
		return 1
	}
	return 2
}

func run(commands [][]string, missing bool) error {
	kept := map[string][]digests.Row{}
	if missing {
		var err error
		if kept, err = published(); err != nil {
			return err
		}
	}
	var rows []digests.Row
	for _, shape := range format.Shapes() {
		if old := kept[shape]; old != nil {
			rows = append(rows, old...)
			continue
		}
		added, err := compute(shape)
		if err != nil {
			return err
		}
		for _, command := range commands {
			if err := confirm(added, command); err != nil {
				return err
			}
		}
		rows = append(rows, added...)
	}
	text, err := json.MarshalIndent(rows, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.FromSlash("conformance/digests/published.json"), append(text, '\n'), 0o666)
}

// published returns the rows of each shape whose editions all have theirs.
func published() (map[string][]digests.Row, error) {
	rows, err := digests.Published()
	if err != nil {
		return nil, err
	}
	of, covered := map[string][]digests.Row{}, map[string]bool{}
	for _, r := range rows {
		ids, err := conformance.Expand(r.Formats)
		if err != nil {
			return nil, err
		}
		for _, id := range ids {
			covered[id] = true
		}
		shape, _, _ := strings.Cut(r.Formats, "@")
		of[shape] = append(of[shape], r)
	}
	for shape := range of {
		for _, e := range format.EditionsOf(shape) {
			if !covered[shape+"@"+e.String()] {
				delete(of, shape)
			}
		}
	}
	return of, nil
}

// compute computes a shape in every edition with the library's engine, joins
// editions that share all digests, and confirms with the second model.
func compute(shape string) ([]digests.Row, error) {
	var rows []digests.Row
	began := time.Now()
	open := map[string]int{} // alphabet to the row that the last edition belongs to
	for _, e := range format.EditionsOf(shape) {
		id := shape + "@" + e.String()
		f, err := format.Parse(id)
		if err != nil {
			return nil, err
		}
		for _, plan := range digests.Plans(&f) {
			root, err := digests.Builtin(id)
			if err != nil {
				return nil, err
			}
			row, err := digests.Compute(root, plan)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", id, err)
			}
			key := strings.Join(plan.Alphabet, " ")
			if at, ok := open[key]; ok && rows[at].Same(&row) {
				from, _, _ := strings.Cut(rows[at].Formats, "..")
				rows[at].Formats = from + ".." + e.String()
				continue
			}
			row.Formats = id + ".." + e.String()
			row.Computed, row.Confirmed = []string{"evencourt"}, []string{}
			slow, err := digests.Reference(id)
			if err != nil {
				return nil, err
			}
			second, err := digests.Digests(slow, plan)
			if err != nil {
				return nil, fmt.Errorf("%s, second model: %w", id, err)
			}
			if !row.Same(&second) {
				return nil, fmt.Errorf("%s: the second model %w in %s", id, errDiffers, row.Differences(&second))
			}
			row.Confirmed = append(row.Confirmed, "reference")
			open[key] = len(rows)
			rows = append(rows, row)
		}
	}
	fmt.Fprintf(os.Stderr, "%-40s %d rows, %.1f s\n", shape, len(rows), time.Since(began).Seconds())
	return rows, nil
}

// confirm asks an engine for the rows in formats that it plays.
func confirm(rows []digests.Row, command []string) error {
	client, err := protocol.Dial(command, protocol.Options{Timeout: 20 * time.Second})
	if err != nil {
		return err
	}
	defer client.Close()
	name := client.Identity().Name
	for i := range rows {
		r := &rows[i]
		ids, err := conformance.Expand(r.Formats)
		if err != nil {
			return err
		}
		other, err := client.Digests(ids[0], r.Plan())
		switch {
		case protocol.IsSkipped(err):
		case err != nil:
			return err
		case !r.Same(&other):
			return fmt.Errorf("%s, events %v: %s %w in %s", ids[0], r.Alphabet, name, errDiffers, r.Differences(&other))
		default:
			r.Confirmed = append(r.Confirmed, name)
		}
	}
	return nil
}
