package audit_test

import (
	"fmt"
	"math/rand"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
)

// claim is one edit of an explanation that is found here by trying all.
type claim struct {
	code audit.FindingCode
	row  int
	text string // what the row should say, or who won a missing rally
}

// search tries every way to explain a short log by the slow model: each row
// taken with its columns corrected, left out, or with one rally before it, at
// the published costs. It keeps those that cost little more than the cheapest.
type search struct {
	rows      []audit.Row
	most      int
	best      int
	near      []explained
	following []claim
}

// explained is one explanation.
type explained struct {
	cost  int
	edits map[claim]bool
}

func (s *search) try(m *reference.Match, i, cost, inserted int) {
	if cost > s.best+audit.Costs().CertainWithin || cost > s.most {
		return
	}
	if i == len(s.rows) {
		s.best = min(s.best, cost)
		edits := map[claim]bool{}
		for _, c := range s.following {
			edits[c] = true
		}
		s.near = append(s.near, explained{cost, edits})
		return
	}
	row := s.rows[i]
	with := func(next *reference.Match, to, cost, inserted int, claims ...claim) {
		s.following = append(s.following, claims...)
		s.try(next, to, cost, inserted)
		s.following = s.following[:len(s.following)-len(claims)]
	}
	for _, side := range []rally.Side{rally.A, rally.B} {
		next := m.Clone()
		if _, refusal := next.Do(side.String()); refusal != "" {
			continue
		}
		more := 0
		var claims []claim
		if row.Event != 0 && row.Event.Side() != side {
			more += audit.Costs().Winner
			claims = append(claims, claim{"log-winner-wrong", i + 1, side.String()})
		}
		if now := audit.Score(sides(next.Line())); row.Score != nil && now != *row.Score {
			more += audit.Costs().Score
			claims = append(claims, claim{"log-score-wrong", i + 1, audit.GamesText([]audit.Score{now})})
		}
		if who, _, _ := server(m.Line()); row.Server != audit.Unknown && row.Server.String() != who {
			more += audit.Costs().Server
			claims = append(claims, claim{"log-server-wrong", i + 1, who})
		}
		with(next, i+1, cost+more, 0, claims...)
		if inserted == 0 {
			with(next, i, cost+audit.Costs().Missing, 1, claim{"log-rally-missing", i + 1, side.String()})
		}
	}
	if inserted == 0 {
		with(m, i+1, cost+audit.Costs().Extra, 0, claim{"log-row-extra", i + 1, ""})
	}
}

// Against a search of its own over the slow model: no cheaper explanation of
// these edits is missed, and what is said to be certain is in every one that
// the search finds within the stated distance of the cheapest.
func TestRepairAgainstEverySimpleExplanation(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	compared, certain, cheaper := 0, 0, 0
	for _, id := range []string{"rally-singles-11", "sideout-singles-11", "sideout-doubles-11"} {
		for range 320 {
			c := []columns{{winner: true, score: true}, {winner: true, people: true}, {winner: true, score: true, people: true}}[rng.Intn(3)]
			w := play(rules(t, id), rng, c, 7, nil)
			for range 1 + rng.Intn(2) {
				i := rng.Intn(len(w.Rows))
				row := &w.Rows[i]
				switch rng.Intn(5) {
				case 0, 1:
					if row.Event != 0 {
						row.Event = flip(row.Event)
					}
				case 2:
					if row.Score != nil {
						row.Score = &audit.Score{row.Score[0] + 1, row.Score[1]}
					}
				case 3:
					w.Rows = append(w.Rows[:i:i], w.Rows[i+1:]...)
				case 4:
					row.Event = 0
				}
				if len(w.Rows) == 0 {
					break
				}
			}
			for i := range w.Rows {
				w.Rows[i].Receiver, w.Rows[i].Game = audit.Unknown, 0
			}
			repair := w.Repair()
			first, _ := w.First.Side()
			st := w.Starters
			starters := [2]int{int(st[0]-rally.A1) + 1, int(st[1]-rally.B1) + 1}
			m := newScorer(t, w.Rules.Format(), first.String(), starters).game
			s := search{rows: w.Rows, most: 100, best: 1 << 20}
			s.try(m, 0, 0, 0)
			require.GreaterOrEqual(t, repair.Cost, 0)
			require.LessOrEqual(t, repair.Cost, s.best, "%s: %v", id, w.Rows)
			compared++
			if repair.Cost < s.best {
				cheaper++ // by an edit that the search does not have
				continue
			}
			for _, e := range repair.Edits {
				want := claim{e.Code, e.Row, ""}
				switch e.Code {
				case "log-winner-wrong":
					want.text = e.Args.Plain("side")
				case "log-server-wrong":
					want.text = e.Args.Plain("due")
				case "log-rally-missing":
					want.text = e.Args.Plain("events")
				case "log-score-wrong":
					want.text = audit.GamesText([]audit.Score{e.Args.Score("due")})
				case "log-row-extra":
				default:
					continue
				}
				if !e.Certain {
					continue
				}
				certain++
				for _, other := range s.near {
					if other.cost <= s.best+audit.Costs().CertainWithin {
						require.True(t, other.edits[want], "%s: %+v is said to be certain, but %v explains it nearly as cheaply; rows %s", id, want, other, told(w.Rows))
					}
				}
			}
		}
	}
	t.Logf("%d logs, %d cheaper by other edits, %d certain edits", compared, cheaper, certain)
	require.Greater(t, certain, 50)
}

func told(rows []audit.Row) string {
	out := ""
	for _, r := range rows {
		out += fmt.Sprint(r.Event, " ", r.Server)
		if r.Score != nil {
			out += fmt.Sprint(" ", *r.Score)
		}
		out += "; "
	}
	return out
}

// Rows that are noise, or say nothing at all, cost neither time nor memory
// without end, and are not explained.
func TestRepairIsBounded(t *testing.T) {
	rng := rand.New(rand.NewSource(2))
	noise := make([]audit.Row, 10_000)
	for i := range noise {
		noise[i] = audit.Row{Event: rally.RallyTo(rally.Side(rng.Intn(2))), Server: audit.KnownPerson(rally.Person(rng.Intn(4))), Score: &audit.Score{rng.Intn(12), rng.Intn(12)}}
	}
	for name, rows := range map[string][]audit.Row{"noise": noise, "300 rows of nothing": make([]audit.Row, 300), "20,000 rows of nothing": make([]audit.Row, audit.MostRows), "too many": make([]audit.Row, audit.MostRows+1)} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			began := time.Now()
			l := audit.RallyLog{Rules: rules(t, "sideout-doubles-11-of3"), Rows: rows}
			rep := l.Audit(audit.Place{})
			runtime.ReadMemStats(&after)
			t.Logf("%v, %d MB", time.Since(began).Round(time.Millisecond), (after.TotalAlloc-before.TotalAlloc)>>20)
			require.True(t, audit.Has(rep.Findings, "log-unexplained"))
			require.Less(t, len(rep.Findings), 10)
			require.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(1<<30))
		})
	}
}

// A winner that nothing tells ends the comparison: what follows is neither
// said to disagree nor to fit another format.
func TestWinnersThatNothingTells(t *testing.T) {
	w := play(rules(t, "sideout-doubles-11-of3"), rand.New(rand.NewSource(1)), columns{}, 40, nil)
	rep := w.Audit(audit.Place{})
	require.True(t, rep.Rerun.Collapsed)
	require.Equal(t, map[string]int{"log-winner-blank": 40}, count(rep.Findings))
}
