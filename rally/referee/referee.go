// Package referee puts a match into words for whoever officiates it: what to
// say and do now, which faults there are and who calls them, which questions
// may be answered, why this player serves and why that ruling fell, what the
// next referee must know.
//
// A [Guide] joins the rules of a format with the names of a match. What it
// returns are codes with arguments ([Text]); a [Language] says them. Nothing
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
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Guide answers a referee's questions about one match. Make one with [New]; it
// is immutable and safe for use by several goroutines.
type Guide struct {
	rules   *rally.Rules
	format  format.Format
	setup   rally.Setup
	doubles bool
}

// New returns the guide to a match. The set-up may be empty: players are then
// called A1, A2, B1, B2.
func New(r *rally.Rules, u rally.Setup) *Guide {
	f := r.Format()
	return &Guide{r, f, u, f.Game.Sides == format.Doubles}
}

// game returns how the game in play, or the last one, is played.
func (g *Guide) game(s rally.State) *format.Game { return g.format.Of(max(s.Game(), 1)) }

func (g *Guide) reads(s format.Switch, value uint16) bool { return g.format.Rulings[s] == value }

// number returns the value of a switch that holds a number; 0 for no rule.
func (g *Guide) number(s format.Switch) int { return int(g.format.Rulings[s]) }

// source says where something comes from: a switch of the match's edition, a
// numbered rule, or neither. A number is claimed only for the editions that
// carry it; in others the matter is derived.
func (g *Guide) source(s format.Switch, rule string, m format.Mark) format.Source {
	e := g.format.Edition
	if s != 0 {
		if source, ok := format.Origin(e, s); ok {
			return source
		}
		return format.Source{Document: e.Document(), Edition: e, Mark: format.Derived}
	}
	if rule != "" && !carries(e, rule) {
		return format.Source{Document: e.Document(), Edition: e, Mark: format.Derived}
	}
	return format.Source{Document: e.Document(), Edition: e, Rule: rule, Mark: m}
}

// carries reports whether an edition has the rule numbers of this package: the
// numbering of 2018, with tournament rules in section 13 from 2021, until the
// new parts of 2026.
func carries(e format.Edition, rule string) bool {
	if strings.HasPrefix(rule, "13.") {
		return e >= format.E2021 && e <= format.E2025
	}
	return e >= format.E2018 && e <= format.E2025
}

// person names a player, with his mark where one is known.
func (g *Guide) person(name string, p rally.Person) Arg {
	if mark := g.setup.Mark(p); mark != "" {
		return Arg{name, Text{"person.marked", []Arg{plain("name", g.setup.Name(p)), plain("mark", mark)}}}
	}
	return plain(name, g.setup.Name(p))
}

func (g *Guide) side(name string, s rally.Side) Arg {
	return plain(name, g.setup.SideName(s, g.doubles))
}

func court(name string, c rally.Court) Arg {
	if c == rally.Right {
		return word(name, "court.right")
	}
	return word(name, "court.left")
}

func parity(name string, score int) Arg {
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

var wordTexts = []Entry{
	{"person.marked", []string{"name", "mark"}},
	{"court.right", nil}, {"court.left", nil},
	{"parity.even", nil}, {"parity.odd", nil},
	{"hand.left", nil}, {"hand.right", nil},
	{"depth.near", nil}, {"depth.far", nil},
	{"clause.rule", []string{"rule", "edition", "mark"}},
	{"clause.edition", []string{"edition", "mark"}},
	{"clause.practice", nil},
	{"clause.procedure", []string{"mark"}},
	{"mark.read", nil}, {"mark.paraphrase", nil}, {"mark.paraphrase-low", nil}, {"mark.common-practice", nil},
	{"mark.derived", nil}, {"mark.memory", nil}, {"mark.open", nil},
}

// Clause is where a value comes from, as text: rule, edition and how well it
// is known.
func Clause(s format.Source) Text {
	mark := word("mark", Code("mark."+s.Mark.String()))
	switch {
	case s.Mark == format.CommonPractice:
		return Text{Code: "clause.practice"}
	case s.Rule == "":
		return Text{"clause.edition", []Arg{plain("edition", s.Edition.String()), mark}}
	}
	return Text{"clause.rule", []Arg{plain("rule", s.Rule), plain("edition", s.Edition.String()), mark}}
}
