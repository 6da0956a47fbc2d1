package rally

// correction appends a correction, folds the log again and keeps it only if
// every entry still holds.
func (l *Log) correction(k Kind, p payload) error {
	before := *l
	l.entries = append(l.entries, Event(k)|Event(len(l.payloads))<<secondsAt)
	l.payloads = append(l.payloads, p)
	if l.times != nil {
		l.times = append(l.times, noTime)
	}
	text := l.Text(len(l.entries))
	if len(before.payloads) > 65535 {
		*l = before
		return &EntryError{shorten(text), 0, NotNow, "too many corrections in one log"}
	}
	if err := l.fold(nil); err != nil {
		*l = before
		err.Text = shorten(text)
		return err
	}
	return nil
}

// live returns for every entry what holds in its place: the event itself, what
// an amendment put there, or 0 if it was struck. A later correction of the
// same entry wins over an earlier one, and a correction can itself be struck.
func (l *Log) live() []Event {
	out := append([]Event(nil), l.entries...)
	decided := make([]bool, len(out))
	for n := len(out); n >= 1; n-- {
		k := l.entries[n-1].Kind()
		if k < Undo || k > Rule || out[n-1] == 0 {
			continue
		}
		if p := l.payload(n); !decided[p.target-1] {
			decided[p.target-1] = true
			out[p.target-1] = p.event
		}
	}
	return out
}

// Step is one entry that holds, as a fold meets it.
type Step struct {
	N       int    // entry number, from 1
	Event   Event  // what holds; a correction for rewind, set and format
	Rules   *Rules // in force after it
	Before  State
	After   State
	Effects Effects
}

// Each folds the log and calls f for every entry that holds, until f returns
// false. Amendments are seen in the place of what they amend.
func (l *Log) Each(f func(Step) bool) {
	scratch := *l
	_ = scratch.fold(f) // a log that exists folds
}

// fold computes the state from the entries that hold.
func (l *Log) fold(visit func(Step) bool) *EntryError {
	live := l.live()
	r, s := l.first, l.start
	var pending *Rules
	after := make([]State, len(live)+1)
	after[0] = s
	for i, e := range live {
		n := i + 1
		step := Step{N: n, Event: e, Before: s}
		var refusal Refusal
		var reason string
		switch k := e.Kind(); {
		case e == 0 || k >= Undo && k <= Rule:
			after[n] = s
			continue
		case k == Rewind:
			s, refusal, reason = rewind(s, after[l.payload(n).target])
		case k == SetPosition:
			var err error
			if s, err = r.ParseLine(l.payload(n).text); err != nil {
				refusal, reason = Malformed, err.Error()
			}
		case k == ChangeFormat:
			p := l.payload(n)
			if p.next && s.Phase() == Playing {
				pending = p.rules
			} else if s, reason = p.rules.takeOver(s, r); reason != "" {
				refusal = NotNow
			} else {
				r, pending = p.rules, nil
			}
		default:
			s, step.Effects, refusal = r.Apply(s, e)
		}
		if refusal != NotRefused {
			return &EntryError{N: n, Refusal: refusal, Reason: reason}
		}
		if pending != nil && s.Phase() != Playing {
			r, pending = pending, nil
		}
		after[n] = s
		step.After, step.Rules = s, r
		if visit != nil && !visit(step) {
			return nil
		}
	}
	l.rules, l.now, l.pending = r, s, pending
	l.rare = l.times != nil || pending != nil
	return nil
}

// Holds returns what holds in the place of entry n: its own event, the one
// that amended it, or false if it was struck or never was an event.
func (l *Log) Holds(n int) (Event, bool) {
	if n < 1 || n > len(l.entries) {
		return 0, false
	}
	e := l.live()[n-1]
	return e, e != 0 && e.Kind() < Undo
}
