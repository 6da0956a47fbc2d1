package rally

// Snapshot is everything that a scoreboard, a screen reader or a second device
// needs, as one value. Its JSON form is that of its fields: sides and players
// by their ids A, B, A1, A2, B1, B2, enums by their names, and the canonical
// line, from which a second device takes the match over.
type Snapshot struct {
	Format    string       `json:"format"` // id, or "" for a format of its own
	Line      string       `json:"line"`   // canonical line, L2
	Phase     Phase        `json:"phase"`
	Game      int          `json:"game"`
	Won       [2]int       `json:"won"`   // games, A and B
	Score     [2]int       `json:"score"` // points, A and B
	Call      string       `json:"call"`  // score call; "" outside play
	Serving   *Side        `json:"serving,omitempty"`
	Server    *Person      `json:"server,omitempty"`
	Number    int          `json:"number,omitempty"`
	Court     *Court       `json:"court,omitempty"`
	Receiver  *Person      `json:"receiver,omitempty"`
	Frozen    [2]bool      `json:"frozen"` // scores on own serve only, at this score
	EndsDue   bool         `json:"ends_due"`
	PutRight  bool         `json:"put_right"`
	Break     Break        `json:"break"`
	BreakOf   *Person      `json:"break_of,omitempty"` // whose break; for a time-out any player of the side
	TimeOuts  [2]TimeOuts  `json:"time_outs"`
	Medical   [4]Medical   `json:"medical"` // A1 A2 B1 B2
	Absent    [4]Absence   `json:"absent"`
	Penalties [2]Penalties `json:"penalties"`
	Outcome   Cause        `json:"outcome"`
	Winner    *Side        `json:"winner,omitempty"`
	Allowed   []string     `json:"allowed"` // kinds of events that may come
	View      View         `json:"view"`
}

// TimeOuts is what a side has used of its standard time-outs, and what is left.
type TimeOuts struct {
	Used int `json:"used"`
	Left int `json:"left"`
}

// Penalties are what a side has been given in the match.
type Penalties struct {
	Verbal   int `json:"verbal"`
	Warnings int `json:"warnings"`
	Fouls    int `json:"fouls"`
	Forfeits int `json:"forfeits"`
}

// Snapshot returns all there is to show of a state; left is the side on the
// referee's left at the first serve of the match.
func (r *Rules) Snapshot(s State, left Side) Snapshot {
	cause, winner, won := s.Outcome()
	b, owner := s.Break()
	v := Snapshot{
		Format: r.format.ID(), Line: r.Line(s), Phase: s.Phase(), Game: s.Game(),
		Won: [2]int{s.Won(A), s.Won(B)}, Score: [2]int{s.Score(A), s.Score(B)},
		Call: string(r.AppendCall(nil, s)), EndsDue: s.EndChangeDue(), PutRight: s.PutRightDue(),
		Break: b, Outcome: cause, Allowed: r.Allowed(s).Names(), View: r.View(s, left),
	}
	if b == TimeOutBreak || b == MedicalBreak || b == EquipmentBreak {
		v.BreakOf = &owner
	}
	if won {
		v.Winner = &winner
	}
	allowed := r.TimeOuts(s)
	for side := A; side <= B; side++ {
		used := s.TimeOutsUsed(side)
		v.TimeOuts[side] = TimeOuts{used, allowed - used}
		v.Penalties[side] = Penalties{s.VerbalWarnings(side), s.TechnicalWarnings(side), s.TechnicalFouls(side), s.GameForfeits(side)}
		v.Frozen[side] = r.Frozen(s, side)
	}
	for p := A1; p <= B2; p++ {
		v.Medical[p], v.Absent[p] = s.Medical(p), s.Absence(p)
	}
	if serving, playing := s.Serving(); playing {
		p := r.Places(s)
		v.Serving, v.Server, v.Receiver, v.Court, v.Number = &serving, &p.Server, &p.Receiver, &p.Court, int(p.Number)
	}
	return v
}

// Frozen reports whether a side would be refused the point of a rally that it
// won as receivers, at the present score.
func (r *Rules) Frozen(s State, side Side) bool {
	if s.Phase() != Playing {
		return false
	}
	return r.game(s).Frozen(uint8(s.Score(side)), uint8(s.Score(side.Other())))
}
