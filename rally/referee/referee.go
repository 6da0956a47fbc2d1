// Package referee puts a match into words for whoever officiates it: what to
// say and do now, which faults there are and who calls them, which questions
// may be answered, why this player serves and why that ruling fell, what the
// next referee must know.
//
// A [Guide] joins the rules of a format with the names of a match. What it
// returns are codes with arguments ([words.Text]); a [words.Language] says them. Nothing
// here keeps score: every answer is read from a [rally.State] or found by
// asking [rally.Rules.Apply]. The words are those of pickleball, whatever shape
// is played.
//
// Help comes first: wherever a player may need care, the first duty is to call
// qualified help, and clocks and penalties come last. Whether a condition is
// valid, whether somebody may go on and how long care takes are never decided
// here. The event's officials and the rulebook in force prevail, and knowing
// all of this confers no qualification.
package referee

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Guide answers a referee's questions about one match. Make one with [New]; it
// is immutable and safe for use by several goroutines.
type Guide struct {
	rules   *rally.Rules
	format  format.Format
	setup   rally.Setup
	doubles bool
}

// scoringOnly reports whether the library holds no more of the sport than score, order
// and ends. The duties and words of this package are those of pickleball, so that
// none is told there but help, the change of ends that is due, and to note what happens.
func (g *Guide) scoringOnly() bool { return format.Clause(clause.ScoringOnly).In(g.format.Edition) }

// New returns the guide to a match. The set-up may be empty: players are then
// called A1, A2, B1, B2.
func New(r *rally.Rules, u rally.Setup) *Guide {
	f := r.Format()
	return &Guide{r, f, u, f.Game.Sides == format.Doubles}
}

// game returns how the game in play, or the last one, is played.
func (g *Guide) game(s rally.State) *format.Game { return g.format.Of(max(s.Game(), 1)) }

func (g *Guide) takes(c format.Clause) bool { return g.format.Rulings.Takes(c) }

// number returns the value of a switch that holds a number; 0 for no rule.
func (g *Guide) number(c format.Clause) int { return g.format.Rulings.Number(c) }

// reading returns the text of a switch's reading; "-" for no rule.
func (g *Guide) reading(c format.Clause) string { return g.format.Rulings.Text(c.Switch()) }

// standing returns the first of some clauses that stands in the match's edition,
// and what is known of it there. What none of them states, an edition older or of
// another sport, is derived from the first.
func (g *Guide) standing(from ...format.Clause) (format.Clause, format.Source) {
	e := g.format.Edition
	for _, c := range from {
		if s, ok := c.Source(e); ok {
			return c, s
		}
	}
	return from[0], format.Source{Document: e.Document(), Edition: e, Mark: format.Derived}
}

func say(c words.Code, args ...words.Arg) words.Text { return words.New(c, args...) }
func plain(name, v string) words.Arg                 { return words.Name(name, v) }
func count(name string, n int) words.Arg             { return words.Count(name, n) }
func word(name string, c words.Code) words.Arg       { return words.Word(name, c) }
func within(name string, t words.Text) words.Arg     { return words.Within(name, t) }

// Person names a player, with his mark where one is known.
func (g *Guide) Person(p rally.Person) words.Value {
	if mark := g.setup.Mark(p); mark != "" {
		return say("person.marked", plain("name", g.setup.Name(p)), plain("mark", mark))
	}
	return words.Plain(g.setup.Name(p))
}

// Side names a side: by its own name, else by its players.
func (g *Guide) Side(s rally.Side) words.Value {
	if own := g.setup.Sides[s&1].Name; own != "" || !g.doubles {
		return words.Plain(g.setup.SideName(s, g.doubles))
	}
	first := rally.Person(s&1) << 1
	return say("person.pair", plain("a", g.setup.Name(first)), plain("b", g.setup.Name(first.Partner())))
}

// Event is an event as a short text, with the names of the match.
func (g *Guide) Event(e rally.Event) words.Text { return words.Event(e, g) }

// Entry is an entry of a log, corrections included, by the names of the match.
func (g *Guide) Entry(e rally.Entry) words.Text { return words.Entry(e, g) }

func (g *Guide) person(name string, p rally.Person) words.Arg {
	return words.Arg{Name: name, Value: g.Person(p)}
}
func (g *Guide) side(name string, s rally.Side) words.Arg {
	return words.Arg{Name: name, Value: g.Side(s)}
}

func court(name string, c rally.Court) words.Arg {
	return word(name, words.OfCourt(c))
}

func parity(name string, score int) words.Arg {
	if score%2 == 0 {
		return word(name, "parity.even")
	}
	return word(name, "parity.odd")
}

// starter reports whether a player is his side's starting server of this game.
func starter(s rally.State, p rally.Person) bool {
	st, _ := s.Starters()
	return st[p.Side()] == p
}

var sides = [2]rally.Side{rally.A, rally.B}

var persons = [4]rally.Person{rally.A1, rally.A2, rally.B1, rally.B2}

// Cite is where a clause stands, as text: rule, edition and how well it is known
// there; or that it is practice, a rule of this library, or only one of the event.
func Cite(c format.Clause, s format.Source) words.Text {
	mark := word("mark", words.Code("mark."+s.Mark.String()))
	switch {
	case s.Document == 0:
		return say("clause.event")
	case s.Mark == format.CommonPractice:
		return say("clause.practice")
	case s.Document == format.Own:
		return say("clause.own", mark)
	case s.Document == format.Club:
		return say("clause.club", mark)
	case s.Rule == "" && c >= clause.PracticeBeforeMatch && c <= clause.PracticeEnd:
		return say("clause.procedure", mark)
	case s.Rule == "":
		return say("clause.edition", plain("edition", s.Edition.String()), mark)
	}
	return say("clause.rule", plain("rule", s.Rule), plain("edition", s.Edition.String()), mark)
}
