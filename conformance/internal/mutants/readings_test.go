package mutants

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// unnoticed are the readings that no case can tell from that of their edition,
// and why: switch, editions, readings (* for every other one). Each is proved.
var unnoticed = []struct{ readings, why string }{
	{"place-questions 2019..2021 score-only,own-score,opponents-too", "by none of them does the referee confirm who serves from where, so that no mistake is his"},
	{"place-questions 2023-08.. *", "an error of order costs what it costs, asked or not: the rally is replayed if it is stopped, and stands if it is over"},
	{"order-window 2018..2021 sheet", "what is over since is a word of the event: after the last point no next serve comes, and with the sheet both are closed"},
	{"order-window 2022..2023 next-serve", "the same the other way round"},
	{"tie-restart 1999.. no", "it decides who is ranked where among several teams, which is no match; package audit asks"},
	{"time-outs-7 1999..2024 *", "no named format is to 7"},
}

// A wrong reading in an edition, or a wrong number, is noticed by a case of that
// edition, as it is written or derived; or it stands in the list of those that
// none can notice, and is proved to move nothing. Of those in the list derived
// cases are asked in .ci/deep only: they show what written ones do elsewhere.
func TestEveryReadingOfAnEditionIsNoticed(t *testing.T) {
	if testing.Short() {
		t.Skip("plays every case of an edition for each of its readings")
	}
	runs := runsOf(t, func(f *format.Format) string { return f.Edition.String() })
	noticed, equal, used, by := 0, 0, map[int]bool{}, noticedBy{}
	deep := os.Getenv("EVENCOURT_DEEP") != ""
	for _, d := range format.Documents() {
		editions := format.Editions(d)
		for i, e := range editions {
			var alike []func(*format.Format)
			for _, s := range format.Switches() {
				for _, v := range otherReadings(t, e, s) {
					reads := func(f *format.Format) {
						if !strings.HasPrefix(s.String(), "time-outs-") {
							require.NoError(t, f.Rulings.SetText(s, v))
						} else if g, err := format.Parse(f.ID() + "+" + s.String() + "=" + v); err == nil && (g.Game != f.Game || g.Last != f.Last) {
							*f = g // of a number of time-outs only what it gives a game is ever asked
						}
					}
					listed := slices.IndexFunc(unnoticed, func(u struct{ readings, why string }) bool { return covers(t, u.readings, e, s, v) })
					asked := runs[e.String()]
					if listed >= 0 && !deep {
						asked = slices.DeleteFunc(slices.Clone(asked), func(r run) bool { return r.derivation != "" })
					}
					changes, seen := by.notices(fmt.Sprint(s, "=", v), asked, reads)
					switch {
					case seen:
						noticed++
						require.Negative(t, listed, "%v %v=%s is noticed, but listed", e, s, v)
					case listed >= 0:
						equal++
						used[listed] = true
						// The last edition that an entry is about proves it; in .ci/deep all of them.
						last := i+1 == len(editions) || !covers(t, unnoticed[listed].readings, editions[i+1], s, v)
						if changes && (deep || last) {
							alike = append(alike, reads)
						}
					default:
						t.Errorf("no case of %v notices %v=%s", e, s, v)
					}
				}
			}
			provedAlike(t, e, alike)
		}
	}
	require.Len(t, used, len(unnoticed), "an entry of the list is about nothing")
	t.Logf("%d readings noticed, %d listed as changing nothing", noticed, equal)
}

// otherReadings are those of a switch that an edition does not take, of a number
// the next ones, if a line or a result turns on it.
func otherReadings(t *testing.T, e format.Edition, s format.Switch) []string {
	rulings := format.RulingsOf(e)
	if m := s.Moves().String(); rulings[s] == 0 || m == "clock" || m == "words" {
		return nil
	}
	values := s.Readings()
	if len(values) == 1 {
		n, err := strconv.Atoi(rulings.Text(s))
		require.NoError(t, err)
		return []string{fmt.Sprint(n - 1), fmt.Sprint(n + 1)}
	}
	return slices.DeleteFunc(values, func(v string) bool { return v == rulings.Text(s) })
}

// covers reports whether an entry of the list is about a reading.
func covers(t *testing.T, entry string, e format.Edition, s format.Switch, v string) bool {
	words := strings.Fields(entry)
	require.Len(t, words, 3)
	if words[0] != s.String() || words[2] != "*" && !slices.Contains(strings.Split(words[2], ","), v) {
		return false
	}
	from, to, ranged := strings.Cut(words[1], "..")
	if !ranged {
		to = from
	}
	in := false
	for _, of := range format.Editions(format.Pickleball) {
		in = in || of.String() == from
		if of == e {
			return in
		}
		in = in && of.String() != to
	}
	return false
}

// provedAlike requires that changed readings move nothing: no event in any state
// of a short game, and no ruling on any rally of a short match. With EVENCOURT_DEEP
// of each family of formats, and of every incident that can be written down.
func provedAlike(t *testing.T, e format.Edition, changes []func(*format.Format)) {
	if len(changes) == 0 {
		return
	}
	deep, seen := os.Getenv("EVENCOURT_DEEP") != "", map[string]bool{}
	for _, shape := range format.Shapes() {
		f, err := format.Named(shape, e)
		if err != nil || seen[family(shape)] || !deep && shape != "sideout-doubles-11" {
			continue
		}
		seen[family(shape)] = true
		same, err := alike(f, changes...)
		require.NoError(t, err)
		require.True(t, same, "%s is changed", f.ID())
		for _, change := range changes {
			rulings(t, f, change)
			if deep && f.Game.Sides == format.Doubles {
				g := f
				change(&g)
				require.Equal(t, sum(t, f), sum(t, g), f.ID())
			}
		}
	}
	require.NotEmpty(t, seen)
}

// sum is the digest of all rulings by the rules of a format.
func sum(t *testing.T, f format.Format) digests.Sum {
	out, err := digests.RulingsBy(f)
	require.NoError(t, err)
	return out
}

// rulings rules on each rally of every way to play six in a match of games to 3,
// by the rules of a format and by changed ones.
func rulings(t *testing.T, f format.Format, change func(*format.Format)) {
	f = short(f)
	f.Game, f.Match.Games = f.Last, 3
	g := f
	change(&g)
	sound, err := rally.Compile(f)
	require.NoError(t, err)
	broken, err := rally.Compile(g)
	require.NoError(t, err)
	const rallies = 6
	for way := range 1 << rallies {
		for n := range rallies {
			for _, wrong := range strings.Fields("server court receiver rcourt side call starter rstarter") {
				for _, won := range "AB" {
					var told [2]string
					for i, r := range []*rally.Rules{sound, broken} {
						log := rally.NewLog(r, r.New(rally.A))
						for k := range rallies {
							_, _ = log.Enter("AB"[way>>k&1:][:1])
						}
						told[i] = enter(log, fmt.Sprintf("rule %d %c?%s", n+1, won, wrong))
					}
					require.Equal(t, told[0], told[1])
				}
			}
		}
	}
}

// enter tells what became of an entry.
func enter(log *rally.Log, entry string) string {
	_, err := log.Enter(entry)
	return fmt.Sprint(log.Rules().Line(log.State()), err)
}
