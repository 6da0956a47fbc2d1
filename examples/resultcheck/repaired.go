package main

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
)

// repaired writes logs as they probably were, as lines that can be read again:
// every column of every row follows from the rallies of the cheapest explanation.
// A log that is not explained is left out. A nil *repaired writes nothing.
type repaired struct {
	file *program.File
	out  *json.Encoder
	n    int // logs written
}

func newRepaired(file *program.File) *repaired {
	return &repaired{file: file, out: json.NewEncoder(file)}
}

// repairedLog is a log as a line has it.
type repairedLog struct {
	Match    string           `json:"match"`
	Format   string           `json:"format"`
	Sides    [2]audit.Entrant `json:"sides"`
	First    string           `json:"first"`
	Starters string           `json:"starters"`
	Finals   []audit.Score    `json:"finals,omitempty"`
	Rows     []repairedRow    `json:"rows"`
}

type repairedRow struct {
	Game     int         `json:"game"`
	N        int         `json:"n"`
	Winner   string      `json:"winner,omitempty"`
	Event    string      `json:"event,omitempty"`
	Server   string      `json:"server,omitempty"`
	Receiver string      `json:"receiver,omitempty"`
	Call     string      `json:"call,omitempty"`
	Score    audit.Score `json:"score"`
}

// add writes a log; the report is that of its audit.
func (w *repaired) add(l *audit.RallyLog, m *audit.ReportedMatch, report *audit.Report) error {
	if w == nil || audit.Has(report.Findings, "log-unexplained") || audit.Has(report.Findings, "log-other-scoring") {
		return nil
	}
	repair := report.Repair
	if repair == nil {
		repair = l.Repair()
	}
	if repair.Cost < 0 || len(repair.Ends) == 0 {
		return nil
	}
	out := repairedLog{Match: m.ID, Format: l.Rules.Format().ID(), Sides: m.Sides}
	s := l.Rules.New(rally.A)
	if l.Start != nil {
		s = *l.Start
	}
	for _, e := range repair.Truth {
		if e.Kind() == rally.StartGame && s.Phase() == rally.Before {
			out.First, out.Starters = e.Side().String(), e.Starters().String()
			s = l.Rules.New(e.Side())
		}
		next, did, refusal := l.Rules.Apply(s, e)
		if refusal != rally.NotRefused {
			return fmt.Errorf("match %s: the explanation cannot be played: %s", program.Shorten(m.ID), refusal)
		}
		if !(e.Kind() == rally.StartGame && s.Phase() == rally.Before) {
			out.Rows = append(out.Rows, rowOf(l.Rules, s, next, e, len(out.Rows)+1))
		}
		if did.Has(rally.GameWon) {
			out.Finals = append(out.Finals, audit.Score{next.Score(rally.A), next.Score(rally.B)})
		}
		s = next
	}
	w.n++
	return w.out.Encode(out)
}

// rowOf writes all columns of an event.
func rowOf(r *rally.Rules, before, after rally.State, e rally.Event, n int) repairedRow {
	row := repairedRow{Game: after.Game(), N: n, Score: audit.Score{after.Score(rally.A), after.Score(rally.B)}}
	if e.Kind() == rally.RallyWon && e == rally.RallyTo(e.Side()) {
		row.Winner = e.Side().String()
	} else {
		row.Event = e.String()
	}
	if before.Phase() == rally.Playing {
		p := r.Places(before)
		row.Server, row.Receiver = p.Server.String(), p.Receiver.String()
		if c, ok := r.Call(before); ok {
			row.Call = audit.CalledScore{Serving: c.Serving, Receiving: c.Receiving, Number: c.Number}.String()
		}
	}
	return row
}

// finish puts the file in its place.
func (w *repaired) finish() error {
	if w == nil {
		return nil
	}
	if w.n == 0 {
		return errors.New("-repaired: no log was read that could be explained")
	}
	return w.file.Commit()
}
