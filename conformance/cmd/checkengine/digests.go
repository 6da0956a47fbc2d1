package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/conformance/protocol"
)

// runDigests computes the digests of an engine, in the first edition of every
// published row that it plays or in the formats named, and compares. It exits
// with 0 if all that were computed agree and at least one was.
func (s *settings) runDigests(command []string) (int, error) {
	rows, err := digests.Published()
	if err != nil {
		return 0, err
	}
	type task struct {
		id  string
		row digests.Row
	}
	var tasks []task
	if s.format == "" {
		for _, r := range rows {
			ids, err := conformance.Expand(r.Formats)
			if err != nil {
				return 0, err
			}
			tasks = append(tasks, task{ids[0], r})
		}
	} else {
		for _, id := range strings.Split(s.format, ",") {
			covering := digests.Covering(rows, id)
			if len(covering) == 0 {
				return 0, fmt.Errorf("no digests are published of format %q", id)
			}
			for _, r := range covering {
				tasks = append(tasks, task{id, r})
			}
		}
	}
	client, hangUp, err := s.dial(command)
	if err != nil {
		return 0, err
	}
	name := client.Identity().Name
	agreed, differed := 0, 0
	var skipped []string
	for _, t := range tasks {
		got, err := client.Digests(t.id, t.row.Plan())
		switch {
		case protocol.IsSkipped(err):
			skipped = append(skipped, t.id)
		case err != nil:
			return 0, errors.Join(err, hangUp())
		case t.row.Same(&got):
			agreed++
			fmt.Fprintf(s.stdout, "%-45s %-10s agrees: WALK %.16s TABLE %.16s TREE %.16s\n", t.id, strings.Join(t.row.Alphabet, " "), got.Walk.SHA256, got.Table.SHA256, got.Tree)
		default:
			differed++
			fmt.Fprintf(s.stdout, "%-45s %-10s DIFFERS in %s; -diff -format %s finds the shortest sequence\n", t.id, strings.Join(t.row.Alphabet, " "), t.row.Differences(&got), t.id)
		}
	}
	if err := hangUp(); err != nil {
		return 0, err
	}
	fmt.Fprintf(s.stdout, "%s: %d rows agree, %d differ, %d not played\n", name, agreed, differed, len(slices.Compact(skipped)))
	if differed > 0 || agreed == 0 {
		return notConformant, nil
	}
	return conformant, nil
}
