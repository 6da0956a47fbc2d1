// Package digests certifies engines over every sequence of events.
//
// Three digests hash the canonical line: WALK every sequence up to a depth,
// TREE the same as a tree of hashes to any depth, TABLE every transition
// between reachable lines within a score bound. Two engines with equal digests
// answer alike on everything that the digest covers; [Diverge] finds the
// shortest sequence on which two differ. What is hashed, byte by byte, is in
// conformance/DIGESTS.md.
//
// A digest proves agreement, not correctness: the worked cases tied to clauses
// stay the authority.
package digests

import (
	"errors"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// A Position is an engine at one moment of a match. It never changes.
type Position interface {
	// Line is the canonical line.
	Line() string
	// Play returns the position after an event; refused is the code if the
	// engine refused it. The error means that the engine cannot be asked.
	Play(event string) (next Position, refused string, err error)
}

// A Teller is a position that says more of the event that led to it than its
// line does: what is called and what the event did.
type Teller interface{ Told() string }

func told(p Position) string {
	if t, ok := p.(Teller); ok {
		return t.Told()
	}
	return ""
}

// Builtin returns the library's own engine at the root of a format: game 1 opened
// by side A, A1 and B1 starting.
func Builtin(formatID string) (Position, error) {
	return BuiltinAt(formatID, conformance.Start{First: "A", Servers: "A1B1"})
}

// BuiltinAt returns the library's own engine at any start.
func BuiltinAt(formatID string, start conformance.Start) (Position, error) {
	var engine conformance.Builtin
	if _, err := engine.Begin(formatID, start); err != nil {
		return nil, err
	}
	rules, state := engine.State()
	return own{rules, state}, nil
}

type own struct {
	rules *rally.Rules
	state rally.State
}

func (p own) Line() string { return p.rules.Line(p.state) }

func (p own) Play(event string) (Position, string, error) {
	e, err := rally.ParseEvent(event)
	if err != nil {
		return nil, rally.Malformed.String(), nil
	}
	next, _, refusal := p.rules.Apply(p.state, e)
	if refusal != rally.NotRefused {
		return nil, refusal.String(), nil
	}
	return own{p.rules, next}, "", nil
}

// Reference returns the slow second model at the root of a format.
func Reference(formatID string) (Position, error) {
	f, err := format.Parse(formatID)
	if err != nil {
		return nil, err
	}
	m, err := reference.New(f, "A", [2]int{1, 1})
	if err != nil {
		return nil, err
	}
	if _, refused := m.Do("gA1B1"); refused != "" {
		return nil, errors.New("digests: the second model refuses to begin: " + refused)
	}
	return slow{m}, nil
}

type slow struct{ match *reference.Match }

func (p slow) Line() string { return p.match.Line() }

func (p slow) Play(event string) (Position, string, error) {
	next := p.match.Clone()
	if _, refused := next.Do(event); refused != "" {
		return nil, refused, nil
	}
	return slow{next}, "", nil
}

// Replay returns a position of any engine: every event plays the whole
// sequence again from the start.
func Replay(engine conformance.Engine, formatID string, start conformance.Start) (Position, error) {
	a, err := engine.Begin(formatID, start)
	if err != nil {
		return nil, err
	}
	return replayed{engine: engine, format: formatID, start: start, line: a.Line}, nil
}

type replayed struct {
	engine conformance.Engine
	format string
	start  conformance.Start
	path   []string
	line   string
}

func (p replayed) Line() string { return p.line }

func (p replayed) Play(event string) (Position, string, error) {
	if _, err := p.engine.Begin(p.format, p.start); err != nil {
		return nil, "", err
	}
	for _, e := range p.path {
		if a := p.engine.Do(e); a.Refused != "" {
			return nil, "", errors.New("digests: the engine now refuses what it accepted before: " + a.Refused)
		}
	}
	a := p.engine.Do(event)
	if a.Refused != "" {
		return nil, a.Refused, nil
	}
	p.path = append(p.path[:len(p.path):len(p.path)], event)
	p.line = a.Line
	return p, "", nil
}
