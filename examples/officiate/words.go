package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// aliases are short words for frequent entries.
var aliases = map[string]string{
	"u": "undo", "r": "redo", "p": "replay", "e": "ends",
	"first a": "fcA:serve", "first b": "fcB:serve",
}

// meant returns the entry that a typed text stands for: the text itself, an
// alias, or the one entry that it is when small letters of sides are made
// capitals.
func meant(typed string) (string, bool) {
	if text, ok := aliases[strings.ToLower(typed)]; ok {
		return text, true
	}
	var noEvent *rally.EventError
	if _, err := rally.ParseEntry(typed); !errors.As(err, &noEvent) {
		return typed, true // a correction may still be refused for what it carries
	}
	found := capitals(typed)
	if len(found) != 1 {
		return "", false
	}
	return found[0], true
}

// capitals lists the entries that a text is when some of its letters a and b
// are read as sides.
func capitals(typed string) []string {
	var at []int
	for i := 0; i < len(typed); i++ {
		if typed[i] == 'a' || typed[i] == 'b' {
			at = append(at, i)
		}
	}
	if len(at) > 6 {
		return nil
	}
	var out []string
	for set := 1; set < 1<<len(at); set++ {
		text := []byte(typed)
		for j, i := range at {
			if set>>j&1 != 0 {
				text[i] -= 'a' - 'A'
			}
		}
		if _, err := rally.ParseEntry(string(text)); err == nil {
			out = append(out, string(text))
		}
	}
	return out
}

// allowed lists the words that may be typed now, by what they are.
func (v *live) allowed() {
	s, rules := v.log.State(), v.log.Rules()
	set := rules.Allowed(s)
	var out []string
	for _, k := range rally.Kinds() {
		if !set.Has(k) {
			continue
		}
		kind := words.Within("kind", words.For(k))
		if typed := spoken(rules, s, k); len(typed) > 0 {
			out = append(out, v.tell("officiate.may", kind, words.Name("typed", strings.Join(typed, " "))))
		} else {
			out = append(out, v.tell("officiate.may-kind", kind))
		}
	}
	if n, ok := v.log.Undoable(); ok {
		out = append(out, v.tell("officiate.may-undo", words.Name("what", v.log.Entry(n).String())))
	}
	if n, ok := v.log.Redoable(); ok {
		out = append(out, v.tell("officiate.may-redo", words.Name("what", v.log.Entry(n).String())))
	}
	v.put("", orElse(strings.Join(out, "; "), v.tell("officiate.closed"))+".")
}

// spoken lists the texts of the plain events of a kind that are accepted now.
func spoken(rules *rally.Rules, s rally.State, k rally.Kind) []string {
	var all []rally.Event
	switch k {
	case rally.Stop:
		all = append(all, rally.Of(k).WithIncident(rally.Incident{Stopper: rally.ByReferee}))
	case rally.StartGame:
		for n := range 8 {
			all = append(all, rally.Start(rally.Side(n>>2), rally.Starters{rally.A1 + rally.Person(n&1), rally.B1 + rally.Person(n>>1&1)}))
		}
	case rally.FirstChoice:
		for c := rally.ChooseServe; c <= rally.ChooseDefer; c++ {
			all = append(all, rally.Choose(rally.A, c), rally.Choose(rally.B, c))
		}
	default:
		for p := rally.A1; p <= rally.B2; p++ {
			all = append(all, rally.OfPerson(k, p))
		}
	}
	if e, due := rules.AbsentFault(s); due && k == rally.RallyWon {
		all = []rally.Event{e}
	}
	var out []string
	for _, e := range all {
		if _, _, refusal := rules.Apply(s, e); refusal == rally.NotRefused && !slices.Contains(out, e.String()) {
			out = append(out, e.String())
		}
	}
	return out
}
