package mutants

import (
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
)

// A slip is an error of thought about who stands and serves where: the slow
// model plays an event, then people are put where the error would have them,
// and play goes on from there.
type slip struct {
	model
	format format.Format
	bend   func(t *turn)
}

// A turn is what an event did: the position before and after it.
type turn struct {
	was, is *position
	did     []string
	game    *format.Game // the one in play
	format  *format.Format
}

func (t *turn) effect(name string) bool { return slices.Contains(t.did, name) }

// scored is the side whose score the event raised, "" for neither.
func (t *turn) scored() string {
	for _, s := range []string{"A", "B"} {
		if t.effect("point") && t.is.score(s) > t.was.score(s) {
			return s
		}
	}
	return ""
}

// A position is a line taken apart.
type position struct{ line string }

func (p *position) get(name string) string { return value(p.line, name) }
func (p *position) set(name, v string)     { p.line = with(p.line, name, v) }

// score is what a side has, or what it will open the coming game with.
func (p *position) score(side string) int {
	score := p.get("score")
	if !p.inPlay() {
		score = strings.Replace(p.get("opens"), ":", "-", 1)
	}
	a, b, _ := strings.Cut(score, "-")
	if side == "B" {
		a = b
	}
	n := 0
	for _, c := range a {
		n = 10*n + int(c-'0')
	}
	return n
}

func (p *position) server() string { return p.get("serve")[:2] }
func (p *position) doubles() bool  { return !strings.Contains(p.get("A"), "-") }
func (p *position) inPlay() bool   { return p.get("phase") == "play" }

// swap lets two partners change courts.
func (p *position) swap(side string) {
	at := p.get(side)
	p.set(side, at[1:]+at[:1])
}

// serves gives the ball to somebody; court and receiver follow from where
// people stand.
func (p *position) serves(who string) {
	_, number, _ := strings.Cut(p.get("serve"), "#")
	court := strings.IndexByte(p.get(who[:1]), who[1])
	p.set("serve", who+"@"+"RL"[court:court+1]+"#"+number)
	other := opponent(who[:1])
	if at := p.get(other); p.doubles() {
		p.set("receive", other+at[court:court+1])
	}
}

func opponent(side string) string {
	if side == "A" {
		return "B"
	}
	return "A"
}

// parityCourt is the place of the court that a score points to: 0 right, 1 left.
func parityCourt(score int) int { return score % 2 }

// Begin implements [conformance.Engine].
func (e *slip) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	var err error
	if e.format, err = format.Parse(id); err != nil {
		return conformance.Answer{}, err
	}
	return e.model.Begin(id, start)
}

// Do implements [conformance.Engine].
func (e *slip) Do(event string) conformance.Answer {
	was := position{e.match.Line()}
	a := e.model.Do(event)
	if a.Refused != "" {
		return a
	}
	is := position{a.Line}
	number := 0
	for _, c := range is.get("game") {
		number = 10*number + int(c-'0')
	}
	e.bend(&turn{&was, &is, a.Effects, e.format.Of(number), &e.format})
	if is.line == a.Line {
		return a
	}
	if m, err := reference.At(e.format, is.line); err == nil {
		e.match = m
	}
	a.Line, a.Call = e.match.Line(), e.match.Call()
	return a
}

// slipped makes a mutant of the slow model.
func slipped(name, wrong string, bend func(t *turn)) Mutant {
	return Mutant{Name: name, Wrong: wrong, How: "slow model", New: func() (conformance.Engine, conformance.Engine) {
		return &slip{bend: bend}, &model{}
	}}
}

// inDoubles bends only what doubles in play can show.
func inDoubles(bend func(t *turn)) func(t *turn) {
	return func(t *turn) {
		if t.is.inPlay() && t.is.doubles() {
			bend(t)
		}
	}
}

// opens gives a side's turn to somebody, after a side-out in doubles.
func opens(who func(t *turn, side string) string) func(t *turn) {
	return inDoubles(func(t *turn) {
		if side := t.is.server()[:1]; t.effect("side-out") {
			t.is.serves(who(t, side))
		}
	})
}

func ofPlaces() []Mutant {
	return []Mutant{
		slipped("partners-stay", "partners do not change courts after a point", inDoubles(func(t *turn) {
			s := t.scored()
			if s == "" || !t.was.inPlay() || t.was.get(s) == t.is.get(s) {
				return
			}
			t.is.swap(s)
			if t.effect("side-out") && t.game.Order == format.ByParity {
				t.is.serves(s + t.is.get(s)[:1]) // whoever stands right now
				return
			}
			t.is.serves(t.is.server())
		})),
		slipped("receivers-swap-too", "the receivers change courts too", inDoubles(func(t *turn) {
			if s := t.scored(); s != "" && t.was.inPlay() && t.was.get(s) != t.is.get(s) {
				t.is.swap(opponent(s))
				t.is.serves(t.is.server())
			}
		})),
		slipped("same-player-again", "the second server is the first one again", inDoubles(func(t *turn) {
			if t.effect("second-server") {
				t.is.serves(t.was.server())
			}
		})),
		slipped("side-out-to-second", "after a side-out a side begins with number 2", func(t *turn) {
			if t.effect("side-out") && t.is.inPlay() {
				t.is.set("serve", strings.Replace(t.is.get("serve"), "#1", "#2", 1))
			}
		}),
		slipped("left-opens-turn", "the player on the left opens a turn", opens(func(t *turn, side string) string {
			if t.game.Order != format.ByParity {
				return t.is.server()
			}
			return side + t.is.get(side)[1:]
		})),
		slipped("starter-opens-turn", "the starting server opens every turn", opens(func(t *turn, side string) string {
			return side + t.is.get("start")[2*strings.Index("AB", side)+1:][:1]
		})),
		slipped("receivers-parity", "in singles the receiver's score picks the court", func(t *turn) {
			if !t.is.inPlay() || t.is.doubles() || t.game.Order == format.HalfCourt {
				return
			}
			at := []string{"1-", "-1"}[parityCourt(t.is.score(opponent(t.is.server()[:1])))]
			t.is.set("A", at)
			t.is.set("B", at)
			t.is.serves(t.is.server())
		}),
		slipped("same-server-holds", "on fixed courts the same player serves on", inDoubles(func(t *turn) {
			if t.game.Order == format.FixedCourts && t.was.inPlay() && t.was.server()[:1] == t.is.server()[:1] {
				t.is.serves(t.was.server())
			}
		})),
		slipped("penalty-moves-nobody", "a penalty moves the score and nobody", func(t *turn) {
			if t.effect("penalty-point") && t.was.inPlay() && t.is.inPlay() {
				for _, name := range []string{"serve", "receive", "A", "B"} {
					t.is.set(name, t.was.get(name))
				}
			}
		}),
		slipped("starts-right-always", "a game that opens at 1-0 opens from the right", inDoubles(func(t *turn) {
			if !t.effect("game-started") || t.game.Order == format.FixedCourts {
				return
			}
			for i, s := range []string{"A", "B"} {
				if t.is.get(s)[:1] != t.is.get("start")[2*i+1:][:1] {
					t.is.swap(s)
				}
				if t.scored() == s {
					t.is.swap(s) // by the rally that opened the game
				}
			}
			t.is.serves(t.is.server())
		})),
		slipped("same-side-first", "the same side serves first in every game", func(t *turn) {
			if t.effect("game-won") && t.is.get("phase") == "between" && t.format.Match.NextServe == format.OtherSide {
				t.is.set("first", opponent(t.is.get("first")))
			}
		}),
		slipped("time-outs-kept", "time-outs used stay used in the next game", func(t *turn) {
			if t.effect("game-won") {
				t.is.set("timeouts", t.was.get("timeouts"))
			}
		}),
		slipped("ends-for-both", "each side's midpoint makes an end change due", func(t *turn) {
			if s := t.scored(); s != "" && t.is.score(s) == int(t.game.ChangeEndsAt) && strings.HasSuffix(t.is.get("ends"), "m") {
				t.is.set("due", "e")
			}
		}),
		{Name: "freeze-by-other", Wrong: "the other side's score freezes", How: "slow model",
			New: func() (conformance.Engine, conformance.Engine) { return new(frozen), &model{} }},
	}
}

// frozen is the slow model with the other side's score freezing: of each
// rally it is asked beforehand whether that would withhold the point, and it
// is played without a freeze or in side-out scoring accordingly.
type frozen struct {
	model
	format format.Format
}

// Begin implements [conformance.Engine].
func (e *frozen) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	var err error
	if e.format, err = format.Parse(id); err != nil {
		return conformance.Answer{}, err
	}
	return e.model.Begin(id, start)
}

// Do implements [conformance.Engine].
func (e *frozen) Do(event string) conformance.Answer {
	at := position{e.match.Line()}
	if !at.inPlay() || at.get("game") != "1" || e.format.Game.Freeze == format.NoFreeze || event != "A" && event != "B" {
		return e.model.Do(event)
	}
	f := e.format
	f.Shape = ""
	withhold := f.Game.Frozen(uint8(at.score(opponent(event))), uint8(at.score(event))) && at.server()[:1] != event
	for _, g := range []*format.Game{&f.Game, &f.Last} {
		g.Freeze = format.NoFreeze
		if withhold {
			g.Scorer = format.ServingSide
		}
	}
	m, err := reference.At(f, at.line)
	if err != nil {
		return e.model.Do(event)
	}
	effects, _ := m.Do(event)
	if withhold {
		effects = append(effects, "withheld")
	}
	line, call := m.Line(), m.Call()
	if m, err = reference.At(e.format, line); err == nil {
		e.match = m
	}
	return conformance.Answer{Line: line, Call: call, Effects: effects}
}
