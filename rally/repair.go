package rally

import "strconv"

// lastLive returns the number of the last entry that holds and is not itself
// an undo or redo; 0 if there is none.
func (l *Log) lastLive() int {
	live := l.live()
	for n := len(live); n >= 1; n-- {
		if k := l.entries[n-1].Kind(); live[n-1] != 0 && k != Undo && k != Redo {
			return n
		}
	}
	return 0
}

// Undoable returns the entry that Undo would take back, and its text. There is
// none where the last that holds is a suspected concussion.
func (l *Log) Undoable() (n int, text string, ok bool) {
	n = l.lastLive()
	if n == 0 || l.live()[n-1].Kind() == Concussion {
		return 0, "", false
	}
	return n, l.textOf(n, l.live()[n-1]), true
}

// Undo takes back the last entry that holds, across game ends if need be.
func (l *Log) Undo() error {
	n := l.lastLive()
	if n == 0 {
		return &EntryError{"undo", 0, NotNow, "there is nothing to undo"}
	}
	if l.live()[n-1].Kind() == Concussion {
		return &EntryError{"undo", n, NotNow, concussionStays}
	}
	return l.correction(Undo, payload{target: n})
}

const concussionStays = "a suspected concussion is lifted only by an amendment with a stated reason"

// redoable returns the undo that Redo would take back.
func (l *Log) redoable() int {
	live := l.live()
	for n := len(live); n >= 1; n-- {
		switch k := l.entries[n-1].Kind(); {
		case k == Undo && live[n-1] != 0:
			return n
		case k != Undo && k != Redo:
			return 0
		}
	}
	return 0
}

// Redoable returns the entry that Redo would bring back, and its text.
func (l *Log) Redoable() (n int, text string, ok bool) {
	undo := l.redoable()
	if undo == 0 {
		return 0, "", false
	}
	n = l.payload(undo).target
	return n, l.textOf(n, l.entries[n-1]), true
}

// Redo takes the last undo back, unless something was entered since.
func (l *Log) Redo() error {
	n := l.redoable()
	if n == 0 {
		return &EntryError{"redo", 0, NotNow, "there is nothing to redo"}
	}
	return l.correction(Redo, payload{target: n})
}

// Amend repairs the record: entry n says what did not happen, e did; an e of 0
// strikes the entry. Later entries are folded again, and if one of them would
// now be refused the amendment is refused and names it. Lifting a suspected
// concussion needs a stated reason, which stays visible.
func (l *Log) Amend(n int, e Event, reason string) error {
	text := "amend " + strconv.Itoa(n)
	if n < 1 || n > len(l.entries) {
		return &EntryError{text, 0, Malformed, "no such entry"}
	}
	k := l.entries[n-1].Kind()
	switch live := l.live()[n-1]; {
	case e != 0 && (k >= Undo || e.Kind() >= Undo):
		return &EntryError{text, n, LogOnly, "a correction can only be struck"}
	case e != 0 && !e.wellFormed():
		return &EntryError{text, 0, Malformed, ""}
	case live.Kind() == Concussion && reason == "":
		return &EntryError{text, n, NotNow, concussionStays}
	case l.now.Phase() == Closed:
		return &EntryError{text, 0, MatchClosed, ""}
	}
	return l.correction(Amend, payload{target: n, event: e, note: reason})
}
