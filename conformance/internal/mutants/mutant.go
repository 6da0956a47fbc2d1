// Package mutants measures the corpus: engines with one broken rule each, and
// the hand-written cases that find them out.
//
// A mutant is the library's engine with changed format data, or with a wrapper
// round its answers or its state, or the slow model with an error of thought
// put in from outside. A case kills a mutant if the mutant gives an answer that
// the case does not allow and the unbroken engine passes; that a mutant
// crashes, or cannot take up a line, does not count. Generated cases do not
// count either.
//
// What a program makes of the core by changing an operator at a time is
// measured by .ci/mutants.go.
package mutants

import (
	"errors"
	"fmt"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Mutant is an engine with one broken rule.
type Mutant struct {
	Name  string // stable
	Wrong string // what it gets wrong
	How   string // changed data, wrapper, slow model, or bent answer
	// New returns the broken engine and the same one unbroken; nil for the
	// latter where it is the library's own, which passes the whole corpus.
	New func() (broken, sound conformance.Engine)
	// touches says whether the format is changed at all; nil for all.
	touches func(f format.Format) bool
	// change is what a mutant of changed data does to a format.
	change func(*format.Format)
}

// Kill plays a case and reports in which format the mutant first fails it, or
// "" if it passes in all.
func (m *Mutant) Kill(c *conformance.Case) string {
	broken, sound := m.New()
	for _, entry := range c.Formats {
		ids, err := conformance.Expand(entry)
		if err != nil {
			return ""
		}
		for _, id := range ids {
			if m.touches != nil {
				if f, err := format.Parse(id); err != nil || !m.touches(f) {
					continue
				}
			}
			if f := conformance.Run(broken, *c, id); f == nil || f.Outcome != conformance.Wrong {
				continue
			}
			if sound != nil && conformance.Run(sound, *c, id) != nil {
				continue // the model does not play this case
			}
			return id
		}
	}
	return ""
}

// changed plays a format after changing its data.
type changed struct {
	conformance.Builtin
	change func(*format.Format)
	rules  map[string]*rally.Rules
}

// Begin implements [conformance.Engine].
func (e *changed) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	r := e.rules[id]
	if r == nil {
		f, err := format.Parse(id)
		if err != nil {
			return conformance.Answer{}, err
		}
		e.change(&f)
		f.Shape = ""
		if r, err = rally.Compile(f); err != nil {
			return conformance.Answer{}, err
		}
		e.rules[id] = r
	}
	return e.BeginBy(r, start)
}

// data makes a mutant of changed format data.
func data(name, wrong string, change func(*format.Format)) Mutant {
	return Mutant{Name: name, Wrong: wrong, How: "changed data", change: change,
		New: func() (conformance.Engine, conformance.Engine) {
			return &changed{change: change, rules: map[string]*rally.Rules{}}, nil
		},
		touches: func(f format.Format) bool {
			g := f
			change(&g)
			return g != f
		}}
}

// games changes both kinds of game.
func games(name, wrong string, change func(*format.Game)) Mutant {
	return data(name, wrong, func(f *format.Format) {
		change(&f.Game)
		change(&f.Last)
	})
}

// reading makes a mutant that reads a switch otherwise than the edition.
func reading(name, value string) Mutant {
	var s format.Switch
	if err := s.UnmarshalText([]byte(name)); err != nil {
		panic(err) // the list names switches that exist
	}
	return data(fmt.Sprintf("%s=%s", s, value), fmt.Sprintf("reads %q as %s where the edition says otherwise", s.About(), value),
		func(f *format.Format) {
			if f.Rulings[s] == 0 || f.Edition.Document() != format.Pickleball {
				return // not invented where the edition has no such rule
			}
			if err := f.Rulings.SetText(s, value); err != nil {
				panic(err) // the list names readings that exist
			}
		})
}

// wrapper bends what the engine answers or does to an event.
type wrapper struct {
	conformance.Builtin
	last  conformance.Answer
	bend  func(w *wrapper, event string) conformance.Answer
	first func(conformance.Answer) conformance.Answer
}

// Begin implements [conformance.Engine].
func (w *wrapper) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	a, err := w.Builtin.Begin(id, start)
	if err == nil && w.first != nil {
		a = w.first(a)
	}
	w.last = a
	return a, err
}

// Do implements [conformance.Engine].
func (w *wrapper) Do(event string) conformance.Answer {
	a := w.bend(w, event)
	w.last = a
	return a
}

// play is what the sound engine does.
func (w *wrapper) play(event string) conformance.Answer { return w.Builtin.Do(event) }

// set moves the engine to another line, if it can be there.
func (w *wrapper) set(a conformance.Answer, line string) conformance.Answer {
	if b := w.Builtin.Do("set " + line); b.Refused == "" {
		b.Effects = a.Effects
		return b
	}
	return a
}

// wrapped makes a mutant of a wrapper.
func wrapped(name, wrong string, bend func(w *wrapper, event string) conformance.Answer) Mutant {
	return Mutant{Name: name, Wrong: wrong, How: "wrapper",
		New: func() (conformance.Engine, conformance.Engine) { return &wrapper{bend: bend}, nil }}
}

// answered makes a mutant that plays as the rules are and only says otherwise,
// at the start too.
func answered(name, wrong string, bend func(conformance.Answer) conformance.Answer) Mutant {
	return Mutant{Name: name, Wrong: wrong, How: "bent answer", New: func() (conformance.Engine, conformance.Engine) {
		return &wrapper{first: bend, bend: func(w *wrapper, event string) conformance.Answer { return bend(w.play(event)) }}, nil
	}}
}

// model is the slow model as an engine.
type model struct{ match *reference.Match }

// Begin implements [conformance.Engine].
func (e *model) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	f, err := format.Parse(id)
	if err != nil {
		return conformance.Answer{}, err
	}
	if start.From != "" {
		e.match, err = reference.At(f, start.From)
	} else {
		first := start.First
		if first == "-" {
			first = ""
		}
		e.match, err = reference.New(f, first, [2]int{1, 1})
	}
	if err != nil {
		return conformance.Answer{}, err
	}
	if s := start.Servers; s != "" {
		opening := "g" + s
		if start.First == "B" {
			opening = "g" + s[2:] + s[:2]
		}
		if _, refused := e.match.Do(opening); refused != "" {
			return conformance.Answer{}, errors.New("mutants: refused to begin: " + refused)
		}
	}
	return conformance.Answer{Line: e.match.Line(), Call: e.match.Call()}, nil
}

// Do implements [conformance.Engine].
func (e *model) Do(event string) conformance.Answer {
	effects, refused := e.match.Do(event)
	return conformance.Answer{Line: e.match.Line(), Call: e.match.Call(), Effects: effects, Refused: refused}
}
