package conformance_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/internal/mutants"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// reading is the library with one switch set otherwise.
type reading struct {
	conformance.Builtin
	set string
}

func (e *reading) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	if _, err := format.Parse(id + "+" + e.set); err != nil {
		return e.Builtin.Begin(id, start) // a reading is set already, or is not asked for
	}
	return e.Builtin.Begin(id+"+"+e.set, start)
}

// A switch must move what it says. Of a line or a result: some case under
// another reading fails, as the matrix of mutants has it, which a test holds to
// the cases, or as the cases that rest on its clauses show. Of a clock or of
// words: every two readings of it tell another thing in the same match.
func TestEverySwitchMovesSomething(t *testing.T) {
	rows, err := mutants.Matrix()
	require.NoError(t, err)
	files, err := conformance.Load()
	require.NoError(t, err)
	moved := map[string]int{}
	for _, s := range format.Switches() {
		moves := s.Moves().String()
		moved[moves]++
		switch {
		case s.String() == "tie-restart": // of several matches, which is no case
			require.NotEqual(t, standings(t, s.String()+"=yes"), standings(t, s.String()+"=no"), s)
		case moves == "clock":
			tellsApart(t, s, clocks)
		case moves == "words":
			tellsApart(t, s, said)
		default:
			require.True(t, slices.ContainsFunc(rows, func(row mutants.Row) bool {
				return strings.HasPrefix(row.Mutant, s.String()+"=") && len(row.Kills) > 0
			}) || turnsCase(t, files, s), "%s moves no %s", s, moves)
		}
	}
	t.Logf("%v", moved)
}

// tellsApart requires of every two readings of a switch that there is an edition
// in which the same matches tell another thing by the one than by the other.
func tellsApart(t *testing.T, s format.Switch, tell func(*testing.T, *rally.Log) []string) {
	values := s.Readings()
	if len(values) == 1 { // the unit of a number
		values = []string{"20", "40"}
	}
	for i, v := range values {
		for _, w := range values[:i] {
			assert.True(t, slices.ContainsFunc(format.Editions(format.Pickleball), func(e format.Edition) bool {
				var told [2][]string
				for i, v := range []string{v, w} {
					f, err := format.Parse("sideout-doubles-11-of3@" + e.String() + "+" + s.String() + "=" + v)
					if err != nil {
						return false
					}
					for _, entries := range matches {
						told[i] = append(told[i], tell(t, played(t, f, entries))...)
					}
				}
				require.NotEmpty(t, told[0])
				return !slices.Equal(told[0], told[1])
			}), "%s=%s tells what %s=%s tells", s, v, s, w)
		}
	}
}

// matches are beginnings of one, entries a second apart. Each ends where a clock
// runs or something is to be said: before the first serve and after it, in a
// time-out, a repair, a medical break with help and without, at the end change,
// between games, at the end and after it.
var matches = []string{
	"", "gA1B1", "A", "A tA", "A eqA1", "A mA1 mA1+", "A mA1 aidA1 mA1+", "A mA1",
	strings.Repeat("A ", 11) + strings.Repeat("B ", 11) + strings.Repeat("A ", 6),
	strings.Repeat("A ", 11),
	strings.Repeat("A ", 23), // of which one is the side-out in game 2
	strings.Repeat("A ", 23) + "sheet",
}

// played plays entries in a match, as far as its rules take them.
func played(t *testing.T, f format.Format, entries string) *rally.Log {
	rules, err := rally.Compile(f)
	require.NoError(t, err)
	log := rally.NewLog(rules, rules.New(rally.A))
	for i, entry := range strings.Fields(entries) {
		if _, err := log.Enter(entry); err == nil {
			log.Stamp(1000 * int64(i))
		}
	}
	return log
}

// clocks tells what clock runs ten seconds after the last entry.
func clocks(_ *testing.T, log *rally.Log) []string {
	last, _ := log.Time(log.Len())
	clock, _ := rally.ClockAt(log, last+10_000)
	return []string{fmt.Sprintf("%+v", clock)}
}

// said tells in words what is called, what is to be done in every moment, how
// faults are called, and how questions are answered; not by which rule.
func said(_ *testing.T, log *rally.Log) []string {
	guide, state := referee.New(log.Rules(), rally.Setup{}), log.State()
	texts := []words.Text{guide.Call(state)}
	for m := referee.BeforeMatch; m <= referee.Suspended; m++ {
		for _, d := range guide.Duties(state, m) {
			texts = append(texts, d.Text)
		}
	}
	for _, d := range guide.Unsaid() {
		texts = append(texts, d.Text)
	}
	for _, f := range guide.Faults() {
		texts = append(texts, f.Said, f.When)
		for _, c := range slices.Concat(f.Officiated, f.Without) {
			texts = append(texts, c.Text())
		}
	}
	for _, q := range referee.Questions() {
		texts = append(texts, guide.Answer(state, rally.A, q, true).Said, guide.Answer(state, rally.B, q, false).Said)
	}
	return words.English().SayAll(texts)
}

// standings is the table of a circle of three in which only one way of settling
// a tie that got smaller puts the second before the third.
func standings(t *testing.T, reading string) []audit.Standing {
	f, err := format.Parse("sideout-singles-11-of3@2025+" + reading)
	require.NoError(t, err)
	var matches []audit.ReportedMatch
	for _, m := range []struct {
		sides string
		games []audit.Score
	}{{"bc", []audit.Score{{11, 9}, {2, 11}, {11, 6}}}, {"ab", []audit.Score{{11, 8}, {9, 11}, {11, 9}}}, {"ca", []audit.Score{{11, 9}, {0, 11}, {11, 9}}}} {
		of := audit.ReportedMatch{ID: m.sides, Games: m.games}
		of.Sides[0].Players[0], of.Sides[1].Players[0] = m.sides[:1], m.sides[1:]
		matches = append(matches, of)
	}
	table, err := audit.Standings(audit.RoundRobin(f.Rulings), matches)
	require.NoError(t, err)
	return table
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
