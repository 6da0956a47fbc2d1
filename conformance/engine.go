package conformance

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Builtin is the library's own engine as an [Engine]: a match log, so that
// corrections are carried out too. The zero value is ready for use.
type Builtin struct {
	log   *rally.Log
	rules map[string]*rally.Rules // by the id of their format, so that a case costs no compiling
}

// mostRules is how many formats an engine remembers; the corpus has fewer.
const mostRules = 2000

// Begin implements [Engine].
func (o *Builtin) Begin(formatID string, start Start) (Answer, error) {
	rules := o.rules[formatID]
	if rules == nil {
		f, err := format.Parse(formatID)
		if err != nil {
			return Answer{}, err
		}
		if rules, err = rally.Compile(f); err != nil {
			return Answer{}, err
		}
		if o.rules == nil || len(o.rules) >= mostRules {
			o.rules = map[string]*rally.Rules{}
		}
		o.rules[formatID] = rules
	}
	return o.BeginBy(rules, start)
}

// BeginBy is Begin by the rules of a format that has no id.
func (o *Builtin) BeginBy(rules *rally.Rules, start Start) (Answer, error) {
	state, event, err := begin(rules, start)
	if err != nil {
		return Answer{}, err
	}
	o.log = rally.NewLog(rules, state)
	if event != "" {
		if _, err := o.log.Enter(event); err != nil {
			return Answer{}, err
		}
	}
	return o.answer(0), nil
}

// begin returns the state a start describes, and the event that opens game 1
// where starting servers are named.
func begin(rules *rally.Rules, start Start) (rally.State, string, error) {
	if start.From != "" {
		s, err := rules.ParseLine(start.From)
		return s, "", err
	}
	if start.First == "-" {
		return rally.State{}, "", nil
	}
	var first rally.Side
	if err := first.UnmarshalText([]byte(start.First)); err != nil {
		return rally.State{}, "", err
	}
	s := rules.New(first)
	if start.Servers == "" {
		return s, "", nil
	}
	if len(start.Servers) != 4 {
		return rally.State{}, "", errors.New("conformance: starting servers stand like A1B1, not " + format.Quote(start.Servers))
	}
	servers := []string{start.Servers[:2], start.Servers[2:]}
	return s, "g" + servers[first] + servers[first.Other()], nil
}

// Do implements [Engine].
func (o *Builtin) Do(entry string) Answer {
	did, err := o.log.Enter(entry)
	a := o.answer(did)
	if err == nil {
		a.Help = did.Has(rally.CallHelp)
		for _, c := range o.log.Changes(o.log.Len()) {
			a.Changes = append(a.Changes, Change{c.N, told(c.Before), told(c.After)})
		}
		return a
	}
	var refused *rally.EntryError
	a.Refused = rally.Malformed.String()
	if errors.As(err, &refused) {
		a.Refused = refused.Refusal.String()
	}
	if e, err := rally.ParseEvent(entry); err == nil && careFor[e.Kind()] {
		why := o.log.Rules().Why(o.log.State(), e)
		a.Help, a.Instead = why.Help, why.Instead.Names()
	}
	return a
}

// careFor are the events after which somebody may need care, so that a bare
// refusal is no answer.
var careFor = map[rally.Kind]bool{rally.MedicalRequest: true, rally.PlayOnAlone: true, rally.Concussion: true,
	rally.BloodTimeOut: true, rally.IllnessTimeOut: true, rally.HazardTimeOut: true}

func told(d rally.Did) *Did {
	if !d.Holds && d.Effects == 0 {
		return nil
	}
	return &Did{append([]string{}, d.Effects.Names()...), strconv.Itoa(d.Score[rally.A]) + "-" + strconv.Itoa(d.Score[rally.B]), d.Final}
}

func (o *Builtin) answer(did rally.Effects) Answer {
	rules, s := o.log.Rules(), o.log.State()
	return Answer{Line: rules.Line(s), Call: strings.Clone(string(rules.AppendCall(nil, s))), Effects: did.Names()}
}

// Report implements [Reporter].
func (o *Builtin) Report() Reported {
	r := Reported{Winner: "-", Games: []string{}}
	if o.log == nil {
		return r
	}
	result := o.log.Result()
	if result.Winner != nil {
		r.Winner = result.Winner.String()
	}
	for _, g := range result.Games {
		r.Games = append(r.Games, fmt.Sprintf("%d-%d", g.Score[rally.A], g.Score[rally.B]))
	}
	return r
}

// State returns the rules and the state where the engine stands; the rules are
// nil before the first match.
func (o *Builtin) State() (*rally.Rules, rally.State) {
	if o.log == nil {
		return nil, rally.State{}
	}
	return o.log.Rules(), o.log.State()
}
