package main

import (
	"errors"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// aliases are short words for frequent entries.
var aliases = map[string]string{
	"u": "undo", "r": "redo", "p": "replay", "e": "ends", "rain": "abandon", "halt": "abandon",
	"first a": "fcA:serve", "first b": "fcB:serve",
}

// short is how an entry is typed most easily.
func short(e rally.Entry) string {
	text := e.String()
	for _, alias := range []string{"u", "first A", "first B"} {
		if aliases[strings.ToLower(alias)] == text {
			return alias
		}
	}
	return text
}

// winners are what is said of a rally, typed in place of the side that won it.
var winners = []string{"point", "so", "side out", "side-out", "sideout", "second", "second server", "server two", "start"}

// meant returns the entry that a typed text stands for: the text itself, an
// alias, or the one entry that it is when letters are made small, those of sides
// capitals, and the words of an incident put in their order.
func (v *live) meant(typed string) (string, bool) {
	low := strings.ToLower(typed)
	if low == "g" {
		return v.sameStarters()
	}
	if text, ok := aliases[low]; ok {
		return text, true
	}
	for _, text := range []string{typed, ordered(low)} {
		var noEvent *rally.EventError
		if _, err := rally.ParseEntry(text); !errors.As(err, &noEvent) {
			return text, true // a correction may still be refused for what it carries
		}
	}
	found := capitals(ordered(low))
	if len(found) != 1 {
		return "", false
	}
	return found[0], true
}

// sameStarters is the start of the coming game with the starting servers of the
// last one, or the first players, where it is known who serves first.
func (v *live) sameStarters() (string, bool) {
	s := v.log.State()
	first, known := v.log.Rules().NextFirst(s)
	starters, played := s.Starters()
	if !played {
		starters = rally.Starters{rally.A1, rally.B1}
	}
	return rally.Start(first, starters).String(), known
}

// order is that of the words of an incident, after the mistakes.
var order = []string{"misled", "uncalled", "called", "struck", "returned", "third", "rallyover", "served", "overtaken", "gameover", "sheet",
	"bya", "byb", "byref", "asked"}

// ordered puts the words of an incident in their order; they may be divided by
// blanks too.
func ordered(typed string) string {
	head, tail, rides := strings.Cut(typed, "?")
	if !rides {
		return typed
	}
	list := strings.FieldsFunc(tail, func(r rune) bool { return r == ',' || r == ' ' })
	rank := func(w string) int {
		for m := rally.WrongSideServed; m <= rally.UnannouncedReceiver; m++ {
			if m.String() == w {
				return int(m)
			}
		}
		if strings.HasPrefix(w, "~") {
			return 20
		}
		return 21 + slices.Index(order, w)
	}
	slices.SortStableFunc(list, func(a, b string) int { return rank(a) - rank(b) })
	return strings.TrimSpace(head) + "?" + strings.Join(list, ",")
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

// unknown says that a word is none, and what was probably meant.
func (v *live) unknown(typed string) {
	name := words.Name("typed", format.Quote(typed))
	switch near := v.nearest(typed); {
	case slices.Contains(winners, strings.ToLower(typed)):
		v.print("officiate.type-winner", name)
	case strings.EqualFold(typed, "g"):
		v.print("officiate.no-first", name)
		v.remind()
	case near != "":
		v.print("officiate.no-word-but", name, words.Name("near", near))
	default:
		v.print("officiate.no-word", name)
	}
}

// nearest is the word that may be typed now and differs least from a text, by at
// most two letters; "" for none.
func (v *live) nearest(typed string) string {
	var all []string
	for _, c := range commands {
		all = append(all, c.names...)
	}
	for alias := range aliases {
		all = append(all, alias)
	}
	set := v.log.Rules().Allowed(v.log.State())
	for _, k := range rally.Kinds() {
		if set.Has(k) {
			all = append(all, spoken(v.log.Rules(), v.log.State(), k)...)
		}
	}
	for _, f := range rally.Faults() {
		all = append(all, "A:"+f.String(), "B:"+f.String())
	}
	slices.Sort(all)
	return words.Nearest(typed, all, 2)
}

// common are the kinds of events that a referee enters in most matches, in the
// order of how often.
var common = []rally.Kind{rally.RallyWon, rally.StartGame, rally.FirstChoice, rally.EndsChanged, rally.TimeIn, rally.Dealt, rally.TimeOut,
	rally.Replay, rally.SheetReturned}

// allowed lists the words that may be typed now, a line for each sort, the
// common ones first and the others if all are asked for.
func (v *live) allowed(all bool) {
	s, rules := v.log.State(), v.log.Rules()
	set := rules.Allowed(s)
	kinds := slices.Clone(common)
	for _, k := range rally.Kinds() {
		if all && !slices.Contains(kinds, k) {
			kinds = append(kinds, k)
		}
	}
	some := false
	for _, k := range kinds {
		if !set.Has(k) {
			continue
		}
		some = true
		kind := words.Within("kind", words.For(k))
		if typed := spoken(rules, s, k); len(typed) > 0 {
			v.print("officiate.may", kind, words.Name("typed", strings.Join(typed, " ")))
		} else {
			v.print("officiate.may-kind", kind)
		}
	}
	if n, ok := v.log.Undoable(); ok {
		v.print("officiate.may-undo", words.Name("what", v.log.Entry(n).String()))
	}
	if n, ok := v.log.Redoable(); ok {
		v.print("officiate.may-redo", words.Name("what", v.log.Entry(n).String()))
	}
	switch {
	case !some && set == 0:
		v.print("officiate.closed")
	case !all:
		v.print("officiate.may-more")
	}
}

// spoken lists the texts of the plain events of a kind that are accepted now.
func spoken(rules *rally.Rules, s rally.State, k rally.Kind) []string {
	var all []rally.Event
	switch k {
	case rally.Stop:
		all = append(all, rally.EventOf(k).WithIncident(rally.Incident{Stopper: rally.ByReferee}))
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
