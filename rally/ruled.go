package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// RuleOn carries out a ruled correction: something happened in rally n, and a
// rule changes what the rally does. What is over since is read from the log.
// It is refused if the edition's window has closed, that is if the rally would
// stand all the same.
func (l *Log) RuleOn(n int, e Event) (Effects, error) {
	text := "rule " + strconv.Itoa(n) + " " + e.String()
	i, rides := e.Incident()
	switch {
	case n < 1 || n > len(l.entries):
		return 0, &EntryError{text, 0, Malformed, "no such entry"}
	case l.now.Phase() == Closed:
		return 0, &EntryError{text, 0, MatchClosed, ""}
	case l.live()[n-1].Kind() != RallyWon || e.Kind() != RallyWon || !rides:
		return 0, &EntryError{text, n, NotNow, "want a rally that was won, with what was wrong with it"}
	case e.Side() != l.live()[n-1].Side():
		return 0, &EntryError{text, n, NotNow, "another side won that rally: amend it"}
	case l.now.Phase() == Over && l.rules.switchIs(format.Correctable, format.CorrectableLastPoint):
		return 0, &EntryError{text, n, OutOfWindow, ""}
	}
	i.Since = max(i.Since, l.since(n))
	e = e.WithIncident(i)
	did := l.effectsOf(n, e)
	if did.Has(Stands) && !did.Has(Warned) && !did.Has(Fouled) {
		return 0, &EntryError{text, n, OutOfWindow, ""}
	}
	if err := l.correction(Rule, payload{target: n, event: e}); err != nil {
		return 0, err
	}
	return did, nil
}

// effectsOf returns what event e would have done in the place of entry n.
func (l *Log) effectsOf(n int, e Event) (did Effects) {
	l.Each(func(st Step) bool {
		if st.N == n {
			_, did, _ = st.Rules.Apply(st.Before, e)
		}
		return st.N < n
	})
	return did
}

// since reads from the log what has happened after rally n.
func (l *Log) since(n int) Since {
	since := RallyOver
	var serving Side
	var score int
	l.Each(func(st Step) bool {
		switch k := st.Event.Kind(); {
		case st.N < n:
		case st.N == n:
			serving, _ = st.After.Serving()
			score = st.After.Score(A) + st.After.Score(B)
			if st.Effects.Has(GameWon) {
				since = GameOver
			}
		case k == RallyWon || k == Replay || k == Stop:
			since = NextServed
			side, _ := st.Before.Serving()
			if st.Before.Phase() != Playing || side != serving || st.After.Score(A)+st.After.Score(B) != score {
				since = Overtaken
				return false
			}
		}
		return true
	})
	return since
}
