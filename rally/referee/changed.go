package referee

import (
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// WouldChange says what an entry would change of the match as it stands, before
// it is made. The log is left as it is. The error is that of [rally.Log.Do].
func (g *Guide) WouldChange(l *rally.Log, e rally.Entry) ([]words.Text, error) {
	rules, start := l.Initial()
	trial := rally.NewLog(rules, start)
	for n := 1; n <= l.Len(); n++ {
		if _, err := trial.Do(l.Entry(n)); err != nil {
			return nil, err
		}
	}
	if _, err := trial.Do(e); err != nil {
		return nil, err
	}
	return g.Changed(trial, l.State()), nil
}

// Changed says what the last entry of a log changed, before being the state
// before it: of a correction which entries and finals, and in every case the
// score and the games that stand now, where they are others.
func (g *Guide) Changed(l *rally.Log, before rally.State) []words.Text {
	var out []words.Text
	made, now := l.Entry(l.Len()), l.State()
	if made.Kind == rally.Amend {
		is := say("changed.nothing")
		if made.Event != 0 {
			is = g.Event(made.Event)
		}
		out = append(out, say("changed.entry", count("entry", made.Target), within("was", g.entered(l.Entry(made.Target))), within("is", is)))
	}
	games := map[int]int{}
	l.Each(func(st rally.Step) bool {
		games[st.N] = st.After.Game()
		return true
	})
	later := 0
	for _, c := range l.Changes(l.Len()) {
		if c.N != made.Target {
			later++
		}
		was := words.Points("was", c.Before.Score[0], c.Before.Score[1])
		switch entry := count("entry", c.N); {
		case c.After.Final && (!c.Before.Final || c.Before.Score != c.After.Score):
			out = append(out, say("changed.final", count("game", games[c.N]), entry, words.Points("score", c.After.Score[0], c.After.Score[1])))
		case c.Before.Final && !c.After.Final:
			out = append(out, say("changed.withdrawn", entry, was))
		}
	}
	if later > 0 && made.Kind >= rally.Amend {
		out = append(out, say("changed.later", count("entries", later)))
	}
	if now.Score(rally.A) != before.Score(rally.A) || now.Score(rally.B) != before.Score(rally.B) || now.Game() != before.Game() {
		out = append(out, say("changed.score", count("game", now.Game()), words.Points("score", now.Score(rally.A), now.Score(rally.B)),
			count("old", before.Game()), words.Points("was", before.Score(rally.A), before.Score(rally.B))))
	} else {
		out = append(out, say("changed.same", count("game", now.Game()), words.Points("score", now.Score(rally.A), now.Score(rally.B))))
	}
	if now.Won(rally.A) != before.Won(rally.A) || now.Won(rally.B) != before.Won(rally.B) {
		out = append(out, say("changed.games", words.Points("games", now.Won(rally.A), now.Won(rally.B)), words.Points("was", before.Won(rally.A), before.Won(rally.B))))
	}
	return out
}

// entered is an entry as text: an event in words, a correction as it is typed.
func (g *Guide) entered(e rally.Entry) words.Text {
	if e.Corrects() {
		return say("changed.typed", plain("entry", e.String()))
	}
	return g.Event(e.Event)
}
