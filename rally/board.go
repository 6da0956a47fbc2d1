package rally

import "github.com/evencourt/evencourt/format"

// Board draws a log. It remembers what it has read, so that after one more entry
// it reads one more entry, and only after a correction the whole log again. Make one
// with [NewBoard]. A Board is not safe for use by several goroutines, nor while
// another one adds to its log.
type Board struct {
	log    *Log
	setup  Setup
	people []byte // the set-up as JSON
	offers []offer
	asked  *Rules // by which the offers were answered last
	at     State  // and for which state: see steady
	menu   menu   // what came of it
	steady []byte // as JSON, with what goes by the same: the larger part of a snapshot
	tail   []byte // of the line, likewise

	// What was read of the log.
	n      int // entries
	times  int // of them with an elapsed time
	v      version
	timer  timer
	finals []GameScore
	result ResultWord
	did    Effects

	// What was made of it: kept for its memory.
	named   *Rules // whose id is in shown.Format
	shown   Snapshot
	texts   texts[[]byte]
	serving Side
	served  Places
	spots   [2]Spot
	owner   Person
	winner  Side
	clock   Clock
}

// NewBoard returns the board of a log, with the names of a set-up. Names that
// change are those of a new board.
func NewBoard(l *Log, u Setup) *Board {
	b := &Board{log: l, setup: u, people: appendSetup(nil, &u)}
	choices(func(e Event) bool {
		b.offers = append(b.offers, offer{e, asAllowed(e), asRefused(e), e.Fault() == AbsentPlayer, forms[e.Kind()].shape == personShape, e.namesPartner()})
		return true
	})
	b.again()
	return b
}

// Snapshot returns all that a screen draws, at an elapsed time of the match, in
// milliseconds as [Log.Stamp] takes them; a negative one if nobody keeps the time:
// then no clock is shown. It is the caller's own.
func (b *Board) Snapshot(ms int64) Snapshot {
	b.show(ms)
	v := b.shown
	t := &b.texts
	v.Line, v.Call, v.Undo, v.Redo = string(t.line), string(t.call), string(t.undo), string(t.redo)
	v.Finals = append([]GameScore{}, v.Finals...)
	v.Allowed = append([]Event{}, v.Allowed...)
	v.Refused = append([]Greyed{}, v.Refused...)
	v.View.Spots = append([]Spot(nil), v.View.Spots...)
	own(&v.Serving)
	own(&v.Server)
	own(&v.Receiver)
	own(&v.Court)
	own(&v.BreakOf)
	own(&v.Winner)
	own(&v.Clock)
	own(&v.View.Server)
	own(&v.View.Receiver)
	return v
}

// own makes a pointer one to a copy.
func own[T any](p **T) {
	if *p != nil {
		v := **p
		*p = &v
	}
}

// AppendJSON appends the snapshot of that moment as JSON, without a line end. Into
// a buffer with room for it nothing is allocated.
func (b *Board) AppendJSON(dst []byte, ms int64) []byte {
	b.show(ms)
	return appendSnapshot(dst, &b.shown, b.people, b.steady, &b.texts)
}

// follow reads what has come to the log since.
func (b *Board) follow() {
	l := b.log
	if len(l.entries) < b.n || len(l.times) > b.times && b.times < b.n && len(l.times) <= b.n {
		b.again() // begun anew, or the last entry was given its time since
	}
	for b.n < len(l.entries) {
		e := l.entries[b.n]
		if e.Kind() >= Undo {
			b.again()
			break
		}
		before := b.v.state
		to, did, refusal := b.v.after(e)
		if refusal != NotRefused {
			b.again()
			break
		}
		b.v = to
		b.n++
		b.take(Step{N: b.n, Event: e, Rules: to.rules, Before: before, After: to.state, Effects: did,
			Holds: true, Final: did&(GameWon|GameForfeited) != 0, back: to.state})
	}
	if b.v != l.now {
		b.again()
	}
	b.times = len(l.times)
}

// again reads the log from its beginning.
func (b *Board) again() {
	b.timer = timer{l: b.log, rules: b.log.begun.rules}
	b.finals, b.result, b.did = b.finals[:0], NoCall, 0
	for _, st := range b.log.read(len(b.log.entries)) {
		if st.N != 0 {
			b.take(st)
		}
	}
	b.n, b.v, b.times = len(b.log.entries), b.log.now, len(b.log.times)
}

// take reads one entry.
func (b *Board) take(st Step) {
	b.timer.step(st)
	b.timer.overruns = b.timer.overruns[:0]
	if st.Final {
		g := st.final()
		kept := b.finals[:0]
		for _, old := range b.finals {
			if old.Number < g.Number {
				kept = append(kept, old)
			}
		}
		b.finals = append(kept, g)
	}
	if !st.Holds {
		return
	}
	b.did = st.Effects
	if k := st.Event.Kind(); k == RallyWon || k == Replay || k == Stop {
		b.result = st.Effects.Result()
	}
}

// show makes the snapshot in the board's own memory; its texts stand apart.
func (b *Board) show(ms int64) {
	b.follow()
	l, v := b.log, &b.shown
	r, s := l.now.rules, l.now.state
	if b.named != r {
		b.named, v.Format = r, r.format.ID()
	}
	g := r.game(s)
	v.Setup, v.At, v.Entries = b.setup, ms, len(l.entries)
	v.Doubles, v.Target, v.WinBy, v.Cap, v.Games = r.doubles, int(g.Target), int(g.WinBy), int(g.Cap), int(r.format.Match.Games)
	v.Phase, v.Game, v.Won, v.Score = s.Phase(), s.Game(), [2]int{s.Won(A), s.Won(B)}, [2]int{s.Score(A), s.Score(B)}
	v.Result, v.Did = b.result, b.did
	v.EndsDue, v.PutRight = s.EndChangeDue(), s.PutRightDue()
	v.BreakOf = nil
	if v.Break, b.owner = s.Break(); v.Break == TimeOutBreak || v.Break == MedicalBreak || v.Break == EquipmentBreak {
		v.BreakOf = &b.owner
	}
	v.Finals = append(v.Finals[:0], b.finals...)
	if cause, _, won := s.Outcome(); won && cause != ByPlay {
		v.Finals = append(v.Finals[:0], l.Result().Games...) // with what is awarded
	}
	v.AbsentDue = 0
	if e, due := r.AbsentFault(s); due && r.comes(s, e) {
		v.AbsentDue = e
	}
	for side := A; side <= B; side++ {
		v.Frozen[side] = r.Frozen(s, side)
		_, did, _ := r.Apply(s, RallyTo(side))
		v.GamePoint[side], v.MatchPoint[side] = did.Has(GameWon), did.Has(MatchWon)
	}
	b.follows(r, s)
	b.write(r, s)
	b.places(r, s)
	v.Clock = nil
	if c, running := b.timer.at(ms); running && ms >= 0 {
		b.clock = c
		v.Clock = &b.clock
	}
}

// write makes the texts.
func (b *Board) write(r *Rules, s State) {
	l, t := b.log, &b.texts
	t.line = append(r.appendFields(append(t.line[:0], LineVersion...), s, 0, lastPlace+1), b.tail...)
	t.call = r.AppendCall(t.call[:0], s)
	t.undo, t.redo = t.undo[:0], t.redo[:0]
	if n, ok := l.Undoable(); ok {
		t.undo = l.appendEntry(t.undo, n)
	}
	if n, ok := l.Redoable(); ok {
		t.redo = l.appendEntry(t.redo, n)
	}
}

// places says who serves from where to whom, and where everybody stands; nothing
// where no serve is next.
func (b *Board) places(r *Rules, s State) {
	v := &b.shown
	v.Serving, v.Server, v.Receiver, v.Court, v.Number = nil, nil, nil, nil, 0
	v.View = r.viewInto(v.View.Spots[:0], &b.spots, s, b.setup.Left)
	if side, playing := s.Serving(); playing {
		p := r.Places(s)
		b.serving, b.served = side, p
		v.Serving, v.Server, v.Receiver, v.Court, v.Number = &b.serving, &b.served.Server, &b.served.Receiver, &b.served.Court, int(p.Number)
		if p.AnyReceives {
			v.Receiver = nil
		}
		if p.Court > Left {
			v.Court = nil
		}
	}
}

// follows says what has been used and given, how the match ended, and which events
// may come. It is the same while the state is steady: drawn for somebody else, for
// the clock, or after one more rally.
func (b *Board) follows(r *Rules, s State) {
	at := s.steady()
	if b.asked == r && b.at == at && b.steady != nil {
		return
	}
	b.asked, b.at = r, at
	b.account(r, s)
	b.offer(r, s)
	b.steady = appendSteady(b.steady[:0], &b.shown, b.menu)
	b.tail = r.appendFields(b.tail[:0], s, lastPlace+1, len(lineFields))
}

// steady is what a state holds that decides which events may come. In play, while
// nobody is out, that is neither the score nor who serves.
func (s State) steady() State {
	if a, b := s.scores(); s.Phase() == Playing && s.play&outMask == 0 && max(a, b) < format.MostPoints {
		s.play &^= orderMask | scoreMask
	}
	return s
}

// account says what has been used and given, and how the match ended.
func (b *Board) account(r *Rules, s State) {
	v, given := &b.shown, r.TimeOutsAllowed(s)
	for side := A; side <= B; side++ {
		used := s.TimeOutsUsed(side)
		v.TimeOuts[side] = TimeOuts{used, given - used}
		v.Penalties[side] = PenaltyCounts{s.VerbalWarnings(side), s.TechnicalWarnings(side), s.TechnicalFouls(side), s.GameForfeits(side)}
	}
	for p := A1; p <= B2; p++ {
		v.Medical[p], v.Absent[p] = s.Medical(p), s.Absence(p)
	}
	won := false
	v.Winner = nil
	if v.Outcome, b.winner, won = s.Outcome(); won {
		v.Winner = &b.winner
	}
}

// offer is an event that there is a button for.
type offer struct {
	event   Event
	allowed string // as a snapshot writes it
	refused string // likewise
	absent  bool   // what an absent player loses
	person  bool   // names a player
	partner bool   // needs a player whom singles does not have
}

// offer tries every event that there is a button for, but where another of its kind
// has had the answer.
func (b *Board) offer(r *Rules, s State) {
	v, m := &b.shown, &b.menu
	v.Allowed, v.Refused = v.Allowed[:0], v.Refused[:0]
	m.allowed, m.refused = m.allowed[:0], m.refused[:0]
	last, refusal, alike := NoKind, NotRefused, s.impersonal()
	for i := range b.offers {
		o := &b.offers[i]
		e := o.event
		if o.absent && e != v.AbsentDue || o.partner && !r.doubles {
			continue
		}
		if k := e.Kind(); k != last || !(alike && o.person || k != FirstChoice && ofTheMoment(refusal)) {
			_, _, refusal, _ = r.answer(s, e)
			last = k
		}
		if refusal == NotRefused {
			v.Allowed = append(v.Allowed, e)
			m.allowed = append(m.allowed, o.allowed...)
		} else if !o.absent {
			v.Refused = append(v.Refused, Greyed{e, refusal})
			m.refuse(o.refused, refusal)
		}
	}
}

// impersonal reports whether a state says nothing of one player that it does not say
// of all.
func (s State) impersonal() bool {
	b, _ := s.Break()
	return s.play&outMask == 0 && s.ledger&(medicalMask|carryMask) == 0 && b != MedicalBreak
}

// ofTheMoment reports whether a refusal is that of its kind of event at the moment,
// whoever it is for.
func ofTheMoment(why Refusal) bool {
	switch why {
	case MatchClosed, MatchOver, MatchAbandoned, NotInEdition, LocalRule, InPlay:
		return true
	}
	return false
}
