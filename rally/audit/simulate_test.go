package audit_test

import (
	"math/rand"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
)

// columns says which columns a simulated log has.
type columns struct{ winner, people, side, score, call, game, number, elapsed bool }

var allColumns = columns{true, true, true, true, true, true, true, true}

// match plays a random match and returns its log and what happened.
func match(r *rally.Rules, rng *rand.Rand, c columns, most int) (*audit.Log, []rally.Event) {
	first := rally.Side(rng.Intn(2))
	st := rally.Starters{rally.A1, rally.B1}
	doubles := r.Format().Game.Sides == format.Doubles
	if doubles {
		st = rally.Starters{rally.A1 + rally.Person(rng.Intn(2)), rally.B1 + rally.Person(rng.Intn(2))}
	}
	s, _, _ := r.Apply(r.New(first), rally.Start(first, st))
	l := &audit.Log{Rules: r, Match: "m", First: audit.Of(first), Starters: &st}
	var truth []rally.Event
	for n := 1; s.Phase() != rally.Over && (most == 0 || n <= most); n++ {
		winner := rally.Side(rng.Intn(2))
		if s.Phase() == rally.Between {
			f, known := r.NextFirst(s)
			if !known {
				f = rally.A
			}
			starters, _ := s.Starters()
			s, _, _ = r.Apply(s, rally.Start(f, starters))
		}
		next, did, refusal := r.Apply(s, rally.RallyTo(winner))
		if refusal != rally.NotRefused {
			panic(refusal)
		}
		l.Rows = append(l.Rows, rowOf(r, s, next, winner, n, c))
		truth = append(truth, rally.RallyTo(winner))
		if did.Has(rally.GameWon) {
			l.Finals = append(l.Finals, audit.Score{next.Score(rally.A), next.Score(rally.B)})
		}
		s = next
	}
	if most != 0 {
		l.Finals = nil
	}
	return l, truth
}

func rowOf(r *rally.Rules, before, after rally.State, winner rally.Side, n int, c columns) audit.Row {
	p := r.Places(before)
	row := audit.Row{Line: n}
	if c.winner {
		row.Event = rally.RallyTo(winner)
	}
	if c.people {
		row.Server, row.Receiver = audit.PlayerOf(p.Server), audit.PlayerOf(p.Receiver)
	}
	if c.side {
		row.Serving = audit.Of(p.Server.Side())
	}
	if c.score {
		row.Score = &audit.Score{after.Score(rally.A), after.Score(rally.B)}
	}
	if c.call {
		call, _ := r.Call(before)
		row.Call = &audit.Call{Serving: call.Serving, Receiving: call.Receiving, Number: call.Number}
	}
	if c.game {
		row.Game = after.Game()
	}
	if c.number {
		row.N = n
	}
	if c.elapsed {
		row.Elapsed = int64(n) * 20000
	}
	return row
}
