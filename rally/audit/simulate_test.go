package audit_test

import (
	"math/rand"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// columns says which columns a simulated log has.
type columns struct{ winner, people, score, call, game, number bool }

func (c columns) String() string {
	var out []string
	for _, part := range []struct {
		has  bool
		name string
	}{{c.winner, "winner"}, {c.people, "server, receiver"}, {c.score, "score"}, {c.call, "call"}, {c.game, "game"}, {c.number, "number"}} {
		if part.has {
			out = append(out, part.name)
		}
	}
	return strings.Join(out, ", ")
}

var (
	everyColumn = columns{winner: true, people: true, score: true, call: true, game: true}
	numbered    = columns{winner: true, people: true, score: true, call: true, game: true, number: true}
	noScores    = columns{winner: true, people: true, game: true}
)

// world is a match that was played, and the log of it.
type world struct {
	*audit.RallyLog
	rng    *rand.Rand
	c      columns
	truth  []rally.Event
	before []rally.State // the state before each row
	end    rally.State
	known  bool // what happened is truth, whatever the rows say
}

// play plays a random match of at most most rallies (0 for all). meddle may
// change the state before rally i: what really happened on court.
func play(r *rally.Rules, rng *rand.Rand, c columns, most int, meddle func(i int, s rally.State) rally.State) *world {
	first := rally.Side(rng.Intn(2))
	st := rally.Starters{rally.A1, rally.B1}
	if r.Format().Game.Sides == format.Doubles {
		st = rally.Starters{rally.A1 + rally.Person(rng.Intn(2)), rally.B1 + rally.Person(rng.Intn(2))}
	}
	s, _, _ := r.Apply(r.New(first), rally.Start(first, st))
	w := &world{RallyLog: &audit.RallyLog{Rules: r, Match: "m", First: audit.KnownSide(first), Starters: &st}, rng: rng, c: c}
	for i := 0; s.Phase() != rally.Over && (most == 0 || i < most); i++ {
		if s.Phase() == rally.Between {
			f, known := r.NextFirst(s)
			if !known {
				f = rally.A
			}
			starters, _ := s.Starters()
			s, _, _ = r.Apply(s, rally.Start(f, starters))
		}
		if meddle != nil {
			s = meddle(i, s)
		}
		winner := rally.Side(rng.Intn(2))
		next, did, refusal := r.Apply(s, rally.RallyTo(winner))
		if refusal != rally.NotRefused {
			panic(refusal)
		}
		w.Rows = append(w.Rows, rowOf(r, s, next, winner, i+1, c))
		w.before = append(w.before, s)
		w.truth = append(w.truth, rally.RallyTo(winner))
		if did.Has(rally.GameWon) {
			w.Finals = append(w.Finals, audit.Score{next.Score(rally.A), next.Score(rally.B)})
		}
		s = next
	}
	w.end = s
	if most != 0 && s.Phase() != rally.Over {
		w.Finals = nil
	}
	return w
}

func rowOf(r *rally.Rules, before, after rally.State, winner rally.Side, n int, c columns) audit.Row {
	p := r.Places(before)
	row := audit.Row{Line: n}
	if c.winner {
		row.Event = rally.RallyTo(winner)
	}
	if c.people {
		row.Server, row.Receiver = audit.KnownPerson(p.Server), audit.KnownPerson(p.Receiver)
	}
	if c.score {
		row.Score = &audit.Score{after.Score(rally.A), after.Score(rally.B)}
	}
	if c.call {
		call, _ := r.Call(before)
		row.Call = &audit.CalledScore{Serving: call.Serving, Receiving: call.Receiving, Number: call.Number}
	}
	if c.game {
		row.Game = after.Game()
	}
	if c.number {
		row.N = n
	}
	return row
}

func TestCleanLogsHaveNoFindings(t *testing.T) {
	rng := rand.New(rand.NewSource(1))
	logs := 0
	for _, shape := range format.Shapes() {
		r := rules(t, shape)
		for _, c := range []columns{everyColumn, numbered, noScores, {winner: true, game: true}, {winner: true}, {score: true, people: true, winner: true}} {
			for most := range 2 {
				w := play(r, rng, c, most*(5+rng.Intn(30)), nil)
				rep := w.Audit(audit.Place{})
				for _, f := range rep.Findings {
					t.Errorf("%s %+v: %s", shape, c, words.English().Say(f.Text()))
				}
				require.Zero(t, rep.Rerun.First)
				logs++
			}
		}
	}
	t.Logf("%d clean logs", logs)
}
