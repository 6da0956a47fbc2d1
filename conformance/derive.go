package conformance

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// Every case is also played derived: as other cases that follow from it by
// symmetry and are never written down. An engine with a rule broken for one
// side, one partner or one game fails there. README.md says how each is made,
// for runners in other languages. A derived case has the id of the case that
// it was made of, a slash and the name of the derivation.
const (
	mirrored   = "mirrored"   // the sides exchanged
	relabelled = "relabelled" // the partners of both sides exchanged
	inGame2    = "game-2"     // what happens in game 1 happens in game 2
	inLastGame = "last-game"  // or in the last game, at one game each or two
)

// Derivations names the derivations.
func Derivations() []string { return []string{mirrored, relabelled, inGame2, inLastGame} }

// Derive returns a case as derived for one of its formats, or nil where the
// derivation makes no case of it.
func (c *Case) Derive(derivation string, f *format.Format) *Case {
	switch derivation {
	case mirrored:
		out := c.rewritten(derivation, mirrorLine, mirrorEvent)
		if c.Reported != nil {
			out.Reported = &Reported{Winner: mirrorEvent(c.Reported.Winner)}
			for _, g := range c.Reported.Games {
				a, b, _ := strings.Cut(g, "-")
				out.Reported.Games = append(out.Reported.Games, b+"-"+a)
			}
		}
		return out
	case relabelled:
		if f.Game.Sides != format.Doubles || fieldOf(c.opening(), "phase") == "before" {
			return nil // before the match the starting servers may go unnamed, and are then players 1
		}
		return c.rewritten(derivation, relabelLine, relabelEvent)
	case inGame2:
		if f.Match.Games < 3 {
			return nil
		}
		return c.moved(derivation, f, 2)
	case inLastGame:
		if f.Match.Games < 2 || !sameButEnds(f) {
			return nil
		}
		return c.moved(derivation, f, int(f.Match.Games))
	}
	return nil
}

// sameButEnds reports whether the last game differs from the others in its end
// change alone, and nothing else comes with that.
func sameButEnds(f *format.Format) bool {
	game, last := f.Game, f.Last
	last.ChangeEndsAt = 0
	turnsRound := game.Order == format.CountedTurns && game.Sides == format.Doubles
	return game == last && !turnsRound
}

// rewritten is a copy with every line and every event changed.
func (c *Case) rewritten(derivation string, line, event func(string) string) *Case {
	out := *c
	out.ID += "/" + derivation
	out.From = line(c.From)
	if c.Start != nil {
		start := *c.Start
		start.Line = line(start.Line)
		start.First = event(start.First)
		if s := event(start.Servers); s != "" {
			start.Servers = s
			if s[0] == 'B' {
				start.Servers = s[2:] + s[:2] // A stands first
			}
		}
		out.Start = &start
	}
	out.Steps = slices.Clone(c.Steps)
	for i := range out.Steps {
		s := &out.Steps[i]
		s.Line = line(s.Line)
		words := s.events()
		for j, w := range words {
			switch text, isSet := strings.CutPrefix(w, "set "); {
			case isSet:
				words[j] = "set " + line(text)
			case !strings.HasPrefix(w, "format "):
				words[j] = event(w)
			}
		}
		if s.Entry != "" {
			s.Entry = words[0]
		} else {
			s.Do = strings.Join(words, " ")
		}
	}
	return &out
}

// editLine changes the values of a line; of gives those of other fields.
func editLine(line string, change func(name, value string, of func(string) string) string) string {
	words := strings.Split(line, " ")
	of := func(name string) string { return fieldOf(line, name) }
	for i, w := range words {
		if name, value, ok := strings.Cut(w, "="); ok {
			words[i] = name + "=" + change(name, value, of)
		}
	}
	return strings.Join(words, " ")
}

var sides = strings.NewReplacer("A", "B", "B", "A")

func mirrorEvent(event string) string { return sides.Replace(event) }

func mirrorLine(line string) string {
	return editLine(line, func(name, value string, of func(string) string) string {
		switch name {
		case "won", "opens", "timeouts", "vw", "tw", "tf", "gf", "wrong":
			a, b, _ := strings.Cut(value, ":")
			return b + ":" + a
		case "score":
			a, b, _ := strings.Cut(value, "-")
			return b + "-" + a
		case "A":
			return of("B")
		case "B":
			return of("A")
		case "medical", "out", "carry":
			if len(value) == 4 {
				return value[2:] + value[:2]
			}
		case "start":
			if len(value) == 4 {
				return "A" + value[3:] + "B" + value[1:2]
			}
		case "serve", "receive", "first", "result", "break":
			return sides.Replace(value)
		}
		return value
	})
}

var person = regexp.MustCompile(`[AB][12]`)

func relabelEvent(text string) string {
	return person.ReplaceAllStringFunc(text, func(p string) string {
		if p[1] == '1' {
			return p[:1] + "2"
		}
		return p[:1] + "1"
	})
}

func relabelLine(line string) string {
	return editLine(line, func(name, value string, _ func(string) string) string {
		switch name {
		case "A", "B":
			if len(value) == 2 {
				return value[1:] + value[:1]
			}
		case "medical", "out", "carry":
			if len(value) == 4 {
				return value[1:2] + value[:1] + value[3:] + value[2:3]
			}
		case "serve", "receive", "start", "break":
			return relabelEvent(value)
		}
		return value
	})
}

// moved is a case that stays within game 1 taken to a later game: all of its
// lines are in play, and in the last game all are short of the end change, or
// all past it.
func (c *Case) moved(derivation string, f *format.Format, game int) *Case {
	last := game == int(f.Match.Games)
	midpoint := int(f.Last.ChangeEndsAt)
	if f.Game.ChangeEndsAt != 0 || c.Reported != nil || c.Start != nil && c.counts() {
		return nil
	}
	opening := c.opening()
	changed := last && midpoint > 0 && most(opening) >= midpoint
	before := strconv.Itoa(game/2) + ":" + strconv.Itoa((game-1)/2)
	flip := f.Match.ChangeEnds && game%2 == 0
	can := true
	line := func(line string) string {
		if line == "" {
			return ""
		}
		return editLine(line, func(name, value string, _ func(string) string) string {
			switch name {
			case "game":
				can = can && value == "1"
				return strconv.Itoa(game)
			case "won":
				can = can && value == "0:0"
				return before
			case "phase":
				can = can && value == "play"
			case "score":
				can = can && (!last || midpoint == 0 || (most(line) >= midpoint) == changed)
			case "ends":
				can = can && len(value) == 1
				made := 0
				if changed {
					made = 1
				}
				if flip {
					made++
				}
				if made == 1 {
					value = string('0' + '1' - value[0])
				}
				if changed {
					value += "m"
				}
				return value
			}
			return value
		})
	}
	out := c.rewritten(derivation, line, func(event string) string { return event })
	out.Start, out.From = nil, line(opening)
	for i := range out.Steps {
		if s := &out.Steps[i]; strings.HasPrefix(s.Entry, "format ") {
			can = false // it may be in force from another game, or count the games otherwise
		}
	}
	if !can {
		return nil
	}
	return out
}

// counts reports whether a case has corrections, which count entries: a start
// with named servers is one, a line that is taken up is none.
func (c *Case) counts() bool {
	return slices.ContainsFunc(c.entries(), func(e string) bool {
		word, _, _ := strings.Cut(e, " ")
		return slices.Contains([]string{"undo", "redo", "amend", "rule", "rewind"}, word)
	})
}

// most is the higher score of a line.
func most(line string) int {
	a, b, _ := strings.Cut(fieldOf(line, "score"), "-")
	m, _ := strconv.Atoi(a)
	n, _ := strconv.Atoi(b)
	return max(m, n)
}
