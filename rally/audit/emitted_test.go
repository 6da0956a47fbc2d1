package audit_test

import (
	"fmt"
	"math/rand"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// final audits games of a match, 2026 edition unless the format says another.
func final(id, text string, changes ...func(m *audit.ReportedMatch)) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		m := pairs(t, "m", "imani", "tomasz", "priya", "lars")
		m.Games = games(t, text)
		for _, change := range changes {
			change(&m)
		}
		return newFinals(t, id).Check(&m, audit.Place{}, nil)
	}
}

// row reads one row under a header.
func row(header, text string) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		columns, err := audit.ReadHeader(strings.Split(header, ","))
		require.NoError(t, err)
		reader := audit.RowReader{Columns: columns}
		_, _, found := reader.Read(strings.Split(text, ","), audit.Place{}, nil)
		return reader.Finish(audit.Place{}, found)
	}
}

// season adds matches to a season that compares the latest two.
func season(matches ...func(t testing.TB) audit.ReportedMatch) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		s := audit.Season{Most: 2}
		var found []audit.Finding
		for i, make := range matches {
			m := make(t)
			found = s.Add(&m, audit.Place{Line: i + 1}, found)
		}
		return found
	}
}

func meets(id, games, a, b string) func(t testing.TB) audit.ReportedMatch {
	return func(t testing.TB) audit.ReportedMatch {
		m := singles(t, id, a, b, games)
		m.Round = "1"
		m.Sides[0].Names[0], m.Sides[1].Names[0] = a+" of Harbour Lane", b+" of Harbour Lane"
		return m
	}
}

func teams(parts ...string) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		rule := audit.TeamRule{Roles: []string{"one", "two"}, TieBreaker: "decider", PerPlayer: 1}
		m := audit.TeamMatch{Winner: audit.SideB, Score: &audit.Score{9, 0}}
		for i, p := range parts {
			role, score, _ := strings.Cut(p, " ")
			m.Parts = append(m.Parts, part(t, role, "p1", fmt.Sprint("a", i), fmt.Sprint("b", i), fmt.Sprint("c", i), score))
		}
		_, _, found := rule.Check(&m, audit.Place{}, nil)
		return found
	}
}

// log audits a match that was played, and then edited.
func log(c columns, most int, change func(w *world)) func(t testing.TB) []audit.Finding {
	return logOf("sideout-doubles-11", c, most, change)
}

func logOf(id string, c columns, most int, change func(w *world)) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		w := play(rules(t, id), rand.New(rand.NewSource(4)), c, most, nil)
		change(w)
		return w.Audit(audit.Place{}).Findings
	}
}

// corrupted audits what a class of the table of corruptions makes, until the
// audit answers with a code: where explanations tie, only one is shown.
func corrupted(id, class string, want audit.FindingCode) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		i := slices.IndexFunc(corruptions, func(c corruption) bool { return c.name == class })
		require.GreaterOrEqual(t, i, 0, class)
		rng := rand.New(rand.NewSource(1))
		for range 20 {
			if w, _, ok := corruptions[i].make(rules(t, id), rng, corruptions[i].c, 0); ok && !leavesNoTrace(w) {
				if found := w.Audit(audit.Place{}).Findings; audit.Has(found, want) {
					return found
				}
			}
		}
		t.Fatal("no such log")
		return nil
	}
}

func sheet(change func(s *audit.Sheet)) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		s, _ := ladderSheet(t)
		change(s)
		return s.Read(audit.Place{}).Findings
	}
}

// emitted has an input for every code. FormatUnknown alone belongs to readers
// that choose formats by row; the tests of examples/resultcheck have it.
var emitted = map[audit.FindingCode]func(t testing.TB) []audit.Finding{
	"row-unreadable":   row("match,games", "m"),
	"field-unreadable": row("match,games", "m,lost"),
	"score-as-date":    row("match,games", "m,9-Nov"),
	"missing-spelled":  row("match,games,winner", "-,11-2,n/a"),

	"game-level":         final("sideout-doubles-11", "9-9"),
	"game-unfinished":    final("sideout-doubles-11", "10-8"),
	"game-margin":        final("sideout-doubles-11", "11-10"),
	"game-over-run":      final("sideout-doubles-11", "19-11"),
	"game-penalty-only":  final("sideout-doubles-11", "13-10"),
	"game-nothing":       final("sideout-doubles-11", "0-0"),
	"time-outs-too-many": final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.TimeOuts = []audit.Score{{0, 3}} }),

	"match-empty":          final("sideout-doubles-11", ""),
	"match-too-many-games": final("sideout-doubles-11", "11-2 11-2"),
	"match-extra-game":     final("sideout-doubles-11-of3", "11-2 11-2 11-2"),
	"match-undecided":      final("sideout-doubles-11-of3", "11-2 2-11"),
	"match-tied": func(t testing.TB) []audit.Finding {
		finals, err := audit.NewFinalsOf(audit.Scoring{Target: 11, WinBy: 2, Games: 2, PlayAll: true})
		require.NoError(t, err)
		return finals.Check(&audit.ReportedMatch{Games: []audit.Score{{11, 2}, {2, 11}}}, audit.Place{}, nil)
	},
	"match-game-missing": final("sideout-doubles-11-of3", "11-2 - 11-2"),
	"winner-disagrees":   final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Winner = audit.SideB }),
	"winner-missing":     final("sideout-doubles-11", "", func(m *audit.ReportedMatch) { m.Totals = &audit.Score{11, 2} }),
	"sides-mirrored":     season(meets("m", "11-2", "imani", "priya"), meets("m", "2-11", "imani", "priya")),
	"target-other":       final("sideout-doubles-11", "15-12"),
	"player-both-sides":  final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Sides[1].Players[0] = "tomasz" }),
	"player-twice":       final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Sides[1].Players[0] = "lars" }),
	"side-players":       final("sideout-singles-11", "11-2"),
	"single-game-event": func(t testing.TB) []audit.Finding {
		rules, m := audit.RoundRobin(format.RulingsOf(format.Default)), singles(t, "m", "mei-lin", "rafael", "11-2")
		rules.Meeting, m.Format = 1, "sideout-singles-11@2024"
		return audit.CheckMeetings(rules, []audit.ReportedMatch{m}, audit.Place{}, nil)
	},

	"status-games":           final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Status = audit.NotPlayed }),
	"status-winner":          final("sideout-doubles-11", "5-2", func(m *audit.ReportedMatch) { m.Status = audit.Retired }),
	"retirement-convention":  final("sideout-doubles-11", "5-2", func(m *audit.ReportedMatch) { m.Status, m.By = audit.Retired, audit.SideA }),
	"retirement-complete":    final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Status, m.By = audit.Retired, audit.SideA }),
	"retirement-before-play": final("sideout-doubles-11", "", func(m *audit.ReportedMatch) { m.Status, m.By = audit.Retired, audit.SideA }),
	"retirement-unmarked":    final("sideout-doubles-11", "5-10"),
	"forfeit-convention":     final("sideout-doubles-11", "5-2", func(m *audit.ReportedMatch) { m.Status, m.By = audit.Forfeited, audit.SideA }),
	"forfeit-full-score":     final("sideout-doubles-11", "11-9", func(m *audit.ReportedMatch) { m.Status, m.By = audit.Forfeited, audit.SideB }),
	"bye-opponent":           final("sideout-doubles-11", "", func(m *audit.ReportedMatch) { m.Status = audit.Bye }),
	"reference-missing":      final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Status = audit.Amended }),

	"partial-checked":      final("sideout-doubles-11", "", func(m *audit.ReportedMatch) { m.Won = &audit.Score{1, 0} }),
	"games-won-impossible": final("sideout-doubles-11", "", func(m *audit.ReportedMatch) { m.Won = &audit.Score{1, 1} }),
	"totals-impossible":    final("sideout-doubles-11", "", func(m *audit.ReportedMatch) { m.Totals = &audit.Score{10, 2} }),
	"totals-disagree":      final("sideout-doubles-11", "11-2", func(m *audit.ReportedMatch) { m.Totals = &audit.Score{10, 2} }),

	"role-missing":          teams("one 11-2"),
	"role-unknown":          teams("one 11-2", "two 11-2", "three 11-2"),
	"role-twice":            teams("one 11-2", "one 11-2", "two 11-2"),
	"role-player-too-often": teams("one 11-2", "two 11-2"),
	"tie-breaker-missing":   teams("one 11-2", "two 2-11"),
	"tie-breaker-needless":  teams("one 11-2", "two 11-2", "decider 11-2"),
	"team-winner-disagrees": teams("one 11-2", "two 11-2"),
	"team-score-disagrees":  teams("one 11-2", "two 11-2"),
	"team-undecided": func(t testing.TB) []audit.Finding {
		var rule audit.TeamRule
		_, _, found := rule.Check(&audit.TeamMatch{}, audit.Place{}, nil)
		return found
	},
	"team-part-unfinished": teams("one 11-2", "two 2-2"),

	"same-match-agrees":  season(meets("m", "11-2", "imani", "priya"), meets("m", "11-2", "imani", "priya")),
	"same-match-differs": season(meets("m", "11-2", "imani", "priya"), meets("m", "11-3", "imani", "priya")),
	"same-pairing-twice": season(meets("m", "11-2", "imani", "priya"), meets("n", "11-2", "imani", "priya")),
	"name-near":          season(meets("m", "11-2", "rafael", "priya"), meets("n", "11-2", "rafaela", "priya")),
	"name-two-ids": season(meets("m", "11-2", "imani", "priya"), func(t testing.TB) audit.ReportedMatch {
		m := meets("n", "11-2", "lars", "priya")(t)
		m.Sides[0].Names[0] = "imani of Harbour Lane"
		return m
	}),
	"pairing-missing": func(t testing.TB) []audit.Finding {
		rules := audit.RoundRobin(format.RulingsOf(format.Default))
		rules.Meeting = 2
		return audit.CheckMeetings(rules, []audit.ReportedMatch{singles(t, "m", "imani", "priya", "11-2")}, audit.Place{}, nil)
	},
	"pairing-too-often": func(t testing.TB) []audit.Finding {
		rules := audit.RoundRobin(format.RulingsOf(format.Default))
		rules.Meeting = 1
		return audit.CheckMeetings(rules, []audit.ReportedMatch{singles(t, "m", "imani", "priya", "11-2"), singles(t, "n", "priya", "imani", "11-2")}, audit.Place{}, nil)
	},
	"player-two-matches": autumn(func(matches []audit.ReportedMatch) { matches[3].Sides[0].Players[0] = "home0" }),
	"date-outside":       autumn(func(matches []audit.ReportedMatch) { matches[3].Date = "2062-09-05" }),
	"index-full":         season(meets("1", "11-2", "imani", "priya"), meets("2", "11-2", "lars", "priya"), meets("3", "11-2", "imani", "lars")),

	"log-diverges": log(everyColumn, 30, func(w *world) { w.Rows[9].Event = flip(w.Rows[9].Event) }),
	"log-other-match": log(everyColumn, 30, func(w *world) {
		w.Rows[9].Match, w.Match = "another", "m"
	}),
	"log-out-of-order":    log(numbered, 30, func(w *world) { w.Rows[9], w.Rows[10] = w.Rows[10], w.Rows[9] }),
	"log-duplicate":       log(numbered, 30, func(w *world) { w.Rows = slices.Insert(w.Rows, 9, w.Rows[9]) }),
	"log-undo":            log(winners, 30, func(w *world) { w.Rows = slices.Insert(w.Rows, 9, audit.Row{Undo: true}) }),
	"log-undo-implied":    corrupted("rally-doubles-11", "undo implied by a score that steps back", "log-undo-implied"),
	"log-winner-inferred": log(everyColumn, 30, func(w *world) { w.Rows[9].Event = 0 }),
	"log-winner-blank":    log(winners, 30, func(w *world) { w.Rows[29].Event = 0 }),
	"log-winner-wrong":    log(everyColumn, 30, func(w *world) { w.Rows[9].Event = flip(w.Rows[9].Event) }),
	"log-server-wrong":    corrupted("sideout-doubles-11", "one wrong server that heals itself", "log-server-wrong"),
	"log-receiver-wrong":  corrupted("sideout-doubles-11", "one wrong receiver", "log-receiver-wrong"),
	"log-call-wrong":      log(everyColumn, 30, func(w *world) { w.Rows[9].Call = &audit.CalledScore{Serving: 9, Receiving: 8, Number: 1} }),
	"log-call-reversed":   corrupted("sideout-doubles-11", "score called from the receivers' side", "log-call-reversed"),
	"log-score-wrong":     log(everyColumn, 30, func(w *world) { w.Rows[9].Score = &audit.Score{9, 8} }),
	"log-score-shifted":   corrupted("sideout-doubles-11", "point marked on the wrong side's line", "log-score-shifted"),
	"log-rally-missing":   log(numbered, 30, func(w *world) { remove(w, 9, 2) }),
	"log-tail-missing":    log(everyColumn, 0, func(w *world) { remove(w, len(w.Rows)-2, 2) }),
	"log-row-extra":       log(everyColumn, 30, func(w *world) { w.Rows = slices.Insert(w.Rows, 15, w.Rows[2]) }),
	"log-after-end":       log(winners, 0, func(w *world) { w.Rows = append(w.Rows, audit.Row{Event: rally.RallyTo(rally.A)}) }),
	"log-order-slipped":   corrupted("sideout-doubles-11", "first server after side-out by habit", "log-order-slipped"),
	"log-foul-missing":    corrupted("sideout-doubles-11", "technical foul not recorded", "log-foul-missing"),
	"log-final-differs":   log(everyColumn, 0, func(w *world) { w.Finals[0][0] += 4 }),
	"log-unfinished":      log(everyColumn, 30, func(w *world) { w.Complete = true }),
	"log-event-refused":   log(everyColumn, 30, func(w *world) { w.Rows = slices.Insert(w.Rows, 9, audit.Row{Event: rally.EventOf(rally.EndsChanged)}) }),
	"log-start-differs": func(t testing.TB) []audit.Finding {
		// A served first; where explanations tie, that side's is shown.
		w := play(rules(t, "sideout-doubles-11"), rand.New(rand.NewSource(0)), everyColumn, 30, nil)
		require.Equal(t, audit.SideA, w.First)
		w.First = audit.SideB
		return w.Audit(audit.Place{}).Findings
	},
	"log-end-change-missing": log(everyColumn, 0, func(w *world) { w.EndChanges = true }),
	"log-game-number":        log(everyColumn, 30, func(w *world) { w.Rows[9].Game = 2 }),
	"log-other-scoring":      logOf("rally-doubles-11", everyColumn, 0, func(w *world) { w.Rules = rally.MustCompile(mustParse("sideout-doubles-11")) }),
	"log-unexplained":        func(testing.TB) []audit.Finding { return new(audit.RallyLog).Audit(audit.Place{}).Findings },

	"log-time-wrong": log(everyColumn, 30, func(w *world) {
		for i := range w.Rows {
			w.Rows[i].Elapsed = int64(i+1) * 1000
		}
		w.Rows[20].Elapsed = 5
	}),
	"log-convention": log(everyColumn, 30, func(w *world) { slices.Reverse(w.Rows) }),
	"log-scores-mirrored": log(columns{winner: true, score: true}, 30, func(w *world) {
		for i := 18; i < 26; i++ {
			s := w.Rows[i].Score
			w.Rows[i].Score = &audit.Score{s[1], s[0]}
		}
	}),

	"sheet-impossible":     sheet(func(s *audit.Sheet) { s.Sides[0].Ends = []int{9} }),
	"sheet-several":        sheet(func(*audit.Sheet) {}),
	"sheet-turns":          sheet(func(s *audit.Sheet) { s.Sides[0].Ends = []int{2, 2} }),
	"sheet-time-out-score": sheet(func(s *audit.Sheet) { s.TimeOuts = []audit.TimeOutNote{{Score: audit.Score{2, 9}}} }),
}

var winners = columns{winner: true}

func mustParse(id string) format.Format {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	return f
}

// autumn is a season of four rounds of six matches, changed.
func autumn(change func(matches []audit.ReportedMatch)) func(t testing.TB) []audit.Finding {
	return func(t testing.TB) []audit.Finding {
		var matches []audit.ReportedMatch
		for round := range 4 {
			for n := range 6 {
				m := singles(t, fmt.Sprint(round, "-", n), fmt.Sprint("home", n), fmt.Sprint("guest", (n+round)%6), "11-8")
				m.Date, m.Round = fmt.Sprintf("2026-09-%02d", 5+7*round), fmt.Sprint(round+1)
				matches = append(matches, m)
			}
		}
		change(matches)
		var s audit.Season
		var found []audit.Finding
		for i := range matches {
			found = s.Add(&matches[i], audit.Place{Line: i + 2}, found)
		}
		return s.Finish(found)
	}
}

func TestSeasonsWithoutErrors(t *testing.T) {
	require.Empty(t, brief(autumn(func([]audit.ReportedMatch) {})(t)))
	// A pool is no round: everybody plays everybody in it.
	require.Empty(t, brief(autumn(func(matches []audit.ReportedMatch) {
		for i := range matches {
			matches[i].Round = "pool"
			matches[i].Date = fmt.Sprintf("2026-09-%02d", 5+i)
		}
	})(t)))
	require.Equal(t, []string{"date-outside date: 2062-09-05 lies outside the season: nearly all other matches are from 2026-09-05 to 2026-09-26"},
		brief(autumn(func(matches []audit.ReportedMatch) { matches[2].Date = "2062-09-05" })(t)))
	require.Len(t, autumn(func(matches []audit.ReportedMatch) { matches[9].Date = "2025-09-12" })(t), 1, "a year back")
}

// Every code is emitted by some input, with the severity that CODES.md has.
func TestEveryCodeIsEmitted(t *testing.T) {
	var said strings.Builder
	for _, c := range audit.FindingCodes() {
		if c == "format-unknown" {
			require.Nil(t, emitted[c])
			continue
		}
		require.NotNil(t, emitted[c], string(c))
		found := emitted[c](t)
		i := slices.IndexFunc(found, func(f audit.Finding) bool { return f.Code == c })
		require.GreaterOrEqual(t, i, 0, "%s: %v", c, brief(found))
		f := found[i]
		require.Equal(t, c.Severity(), f.Severity)
		require.NoError(t, f.Text().Check())
		require.Contains(t, c.Clauses(), f.Clause)
		sentence := words.English().Say(f.Text())
		require.NotContains(t, sentence, "  ")
		fmt.Fprintf(&said, "%s: %s\n", c, sentence)
	}
	if *update {
		require.NoError(t, os.WriteFile("testdata/sentences.txt", []byte(said.String()), 0o644))
	}
	want, err := os.ReadFile("testdata/sentences.txt")
	require.NoError(t, err)
	require.Empty(t, cmp.Diff(string(want), said.String()), "run go test ./rally/audit -run EveryCode -update and read what changed")
}
