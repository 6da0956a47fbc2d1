package conformance_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/internal/mutants"
	"github.com/evencourt/evencourt/format"
)

// elsewhere are switches that turn no case, each with what they turn.
var elsewhere = map[string]string{
	"tie-restart": "the standings of several teams, which are of rally/audit and no case",
}

// reading is the library with one switch set otherwise.
type reading struct {
	conformance.Own
	set string
}

func (e *reading) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	if _, err := format.Parse(id + "+" + e.set); err != nil {
		return e.Own.Begin(id, start) // a reading is set already, or is not asked for
	}
	return e.Own.Begin(id+"+"+e.set, start)
}

// A switch must move what it says: of a line or a result, some case under
// another reading, as the matrix of mutants has it, which a test holds to the
// cases, or as the cases that rest on its clauses show; of a clock or of words,
// code that asks for it.
func TestEverySwitchMovesSomething(t *testing.T) {
	rows, err := mutants.Matrix()
	require.NoError(t, err)
	files, err := conformance.Load()
	require.NoError(t, err)
	named, moved := namedInCode(t), map[string]int{}
	for _, s := range format.Switches() {
		does, moves := false, s.Moves().String()
		switch moves {
		case "line", "result":
			does = slices.ContainsFunc(rows, func(row mutants.Row) bool {
				return strings.HasPrefix(row.Mutant, s.String()+"=") && len(row.Kills) > 0
			}) || turnsCase(t, files, s)
		default:
			for _, c := range format.Clauses() {
				does = does || c.Switch() == s && named[c.String()]
			}
		}
		moved[moves]++
		require.NotEqual(t, does, elsewhere[s.String()] != "", "%s, which moves %s: %v", s, moves, does)
	}
	t.Logf("%v", moved)
}

// turnsCase plays the cases that rest on the clauses of a switch under its
// readings, and says whether one fails.
func turnsCase(t *testing.T, files []conformance.File, s format.Switch) bool {
	var rest []conformance.File
	for _, f := range files {
		f.Cases = slices.DeleteFunc(slices.Clone(f.Cases), func(c conformance.Case) bool {
			return !slices.ContainsFunc(c.Clauses, func(c format.Clause) bool { return c.Switch() == s })
		})
		if len(f.Cases) > 0 {
			rest = append(rest, f)
		}
	}
	values := s.Readings()
	if len(values) == 1 { // the unit of a number
		values = []string{"1"}
	}
	for _, v := range values {
		report, err := conformance.RunAll(&reading{set: s.String() + "=" + v}, rest)
		require.NoError(t, err)
		if len(report.Failures) > 0 {
			return true
		}
	}
	return false
}
