package explore

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// Alphabet says which events two formats are compared on: letters that may come
// any number of times, and letters of which a sequence has at most so many.
type Alphabet struct {
	Name   string
	Always []rally.Event
	Rarely []rally.Event
	Times  int  // most letters of Rarely in a sequence
	Before bool // sequences begin before the first choice, not at the first serve
}

// Alphabets lists the alphabets from the plainest on.
func Alphabets() []Alphabet {
	play := walk.Play()
	return []Alphabet{
		{Name: "rallies", Always: play},
		{Name: "rallies with one incident", Always: play, Rarely: walk.Incidents(), Times: 1},
		{Name: "rallies with two incidents", Always: walk.Rallies(), Rarely: wrongServers(), Times: 2},
		{Name: "rallies with breaks", Always: play, Rarely: walk.Breaks(), Times: 3},
		{Name: "rallies with penalties", Always: play, Rarely: walk.Penalties(), Times: 3},
		{Name: "rallies with a retirement, forfeit or exchange", Always: play, Rarely: departures(), Times: 1},
		{Name: "before the match", Always: walk.Rallies(), Rarely: append(walk.Openings(), walk.Penalties()...), Times: 2, Before: true},
	}
}

func wrongServers() []rally.Event {
	var out []rally.Event
	wrong := rally.Incident{Mistakes: rally.Mistakes(0).With(rally.WrongServer)}
	for _, e := range walk.Rallies() {
		out = append(out, e.WithIncident(wrong))
		late := wrong
		late.Since = rally.RallyOver
		out = append(out, e.WithIncident(late))
	}
	wrong.Reach, wrong.Stopper = rally.Struck, rally.BySideB
	return append(out, rally.EventOf(rally.Stop).WithIncident(wrong))
}

func departures() []rally.Event {
	var out []rally.Event
	for s := A; s <= B; s++ {
		for _, k := range []rally.Kind{rally.Retirement, rally.GameForfeit, rally.MatchForfeit, rally.Exchange} {
			out = append(out, rally.OfSide(k, s))
		}
	}
	return append(out, rally.EventOf(rally.DoubleForfeit), rally.EventOf(rally.Abandon), rally.EventOf(rally.SheetReturned))
}

// Outcome is what one format makes of the last event of a difference.
type Outcome struct {
	Line    string        `json:"line"` // state after it
	Did     rally.Effects `json:"did"`
	Refusal rally.Refusal `json:"refusal"`
	Call    string        `json:"call"` // the score call from there, if in play
}

// Difference is a shortest sequence of events on which two formats disagree.
type Difference struct {
	Alphabet string         `json:"alphabet"`
	Events   []rally.Event  `json:"events"`
	Outcomes [2]Outcome     `json:"outcomes"`
	Clauses  []ClauseChange `json:"clauses"` // what in the formats makes it, each enough or needed
}

// ClauseChange is a field or switch on which two formats differ.
type ClauseChange struct {
	Field   string            `json:"field"` // name of the switch, or path of the field
	Values  [2]string         `json:"values"`
	Sources [2]*format.Source `json:"sources"` // of switches: where each value comes from; nil for none
}

// Comparison is the outcome of comparing two formats over one alphabet.
type Comparison struct {
	Alphabet string `json:"alphabet"`
	// Difference is the shortest disagreement; nil where there is none.
	Difference *Difference `json:"difference,omitempty"`
	Pairs      int         `json:"pairs"` // pairs of states visited
	// Proved: every pair that any sequence leads to was visited, and the formats
	// agree for ever. If not, they agree on all sequences of up to Depth events.
	Proved bool `json:"proved"`
	Depth  int  `json:"depth"`
}

// mostPairs bounds a comparison.
const mostPairs = 120_000

// Compare finds a shortest sequence over the alphabet on which two formats
// disagree: on a refusal, an effect, the canonical line or the score call.
// Both are walked side by side; positions far beyond the target are folded, by
// the same for both.
func Compare(x, y format.Format, a Alphabet) (Comparison, error) {
	p, err := newPairs(x, y, a)
	if err != nil {
		return Comparison{}, err
	}
	out := p.search()
	if out.Difference != nil {
		out.Difference.Clauses = p.clauses(out.Difference.Events)
	}
	return out, nil
}

type pairs struct {
	format [2]format.Format
	rules  [2]*rally.Rules
	a      Alphabet
	root   [2]rally.State
	// alike: only rulings differ, so that equal states have equal lines and
	// calls, which are read from the state and the game.
	alike bool
}

func newPairs(x, y format.Format, a Alphabet) (*pairs, error) {
	p := &pairs{format: [2]format.Format{x, y}, a: a}
	p.alike = x.Game == y.Game && x.Last == y.Last && x.Match == y.Match
	if len(a.Always)+len(a.Rarely) == 0 {
		return nil, &InputError{"alphabet", "no letters"}
	}
	for i, f := range p.format {
		r, err := rally.Compile(f)
		if err != nil {
			return nil, err
		}
		p.rules[i] = r
		if a.Before {
			continue // the zero State: nobody has chosen
		}
		p.root[i], _, _ = r.Apply(r.New(A), rally.Start(A, rally.Starters{rally.A1, rally.B1}))
	}
	return p, nil
}

// A pair of states that have agreed so far, with how many rare letters it took.
type pair struct {
	s     [2]rally.State
	rare  uint8
	depth int32
	from  int32 // index of the pair before, and the letter
	by    rally.Event
}

func (p *pairs) search() Comparison {
	out := Comparison{Alphabet: p.a.Name}
	type key struct {
		s    [2]rally.State
		rare uint8
	}
	all := []pair{{s: p.root, from: -1}}
	seen := map[key]bool{{s: p.root}: true}
	if p.a.Before || p.rules[0].Line(p.root[0]) == p.rules[1].Line(p.root[1]) {
		seen[key{p.root, 0}] = true
	} else {
		out.Difference = p.difference(nil)
		return out
	}
	for i := 0; i < len(all); i++ {
		at := all[i]
		out.Depth = int(at.depth)
		try := func(e rally.Event, rare uint8) bool {
			next, same := p.agree(at.s, e)
			if !same {
				out.Difference = p.difference(append(path(all, i), e))
				return true
			}
			k := key{p.fold(next), rare}
			if next != at.s && !seen[k] {
				seen[k] = true
				all = append(all, pair{k.s, rare, at.depth + 1, int32(i), e})
			}
			return false
		}
		for _, e := range p.a.Always {
			if try(e, at.rare) {
				out.Pairs = len(all)
				return out
			}
		}
		if int(at.rare) < p.a.Times {
			for _, e := range p.a.Rarely {
				if try(e, at.rare+1) {
					out.Pairs = len(all)
					return out
				}
			}
		}
		if len(all) > mostPairs {
			out.Pairs = len(all)
			return out
		}
	}
	out.Pairs, out.Proved = len(all), true
	return out
}

// agree plays an event in both formats and reports whether nobody could tell
// which was which.
func (p *pairs) agree(s [2]rally.State, e rally.Event) (next [2]rally.State, same bool) {
	var did [2]rally.Effects
	var refusal [2]rally.Refusal
	for i, r := range p.rules {
		next[i], did[i], refusal[i] = r.Apply(s[i], e)
	}
	if did[0] != did[1] || refusal[0] != refusal[1] {
		return next, false
	}
	if refusal[0] != rally.NotRefused {
		return s, true
	}
	if p.alike && next[0] == next[1] {
		return next, true
	}
	var line [2][400]byte
	var call [2][16]byte
	return next, string(p.rules[0].AppendLine(line[0][:0], next[0])) == string(p.rules[1].AppendLine(line[1][:0], next[1])) &&
		string(p.rules[0].AppendCall(call[0][:0], next[0])) == string(p.rules[1].AppendCall(call[1][:0], next[1]))
}

// fold lowers both scores of both states by the same where neither format can
// tell the difference.
func (p *pairs) fold(s [2]rally.State) [2]rally.State {
	fold := walk.FoldOf(*p.format[0].Of(s[0].Game()), 4)
	if other := walk.FoldOf(*p.format[1].Of(s[1].Game()), 4); fold.Floor != 0 && (other.Floor == 0 || other.Floor > fold.Floor) {
		fold = other
	}
	out := s
	for i, r := range p.rules {
		var ok bool
		if out[i], ok = fold.State(r, s[i]); !ok {
			return s
		}
	}
	return out
}

func path(all []pair, i int) []rally.Event {
	out := make([]rally.Event, all[i].depth)
	for ; all[i].from >= 0; i = int(all[i].from) {
		out[all[i].depth-1] = all[i].by
	}
	return out
}

// difference plays a sequence in both formats.
func (p *pairs) difference(events []rally.Event) *Difference {
	d := &Difference{Alphabet: p.a.Name, Events: events}
	for i := range p.rules {
		d.Outcomes[i] = outcome(p.rules[i], p.root[i], events)
	}
	return d
}

func outcome(r *rally.Rules, s rally.State, events []rally.Event) Outcome {
	var o Outcome
	for _, e := range events {
		s, o.Did, o.Refusal = r.Apply(s, e)
	}
	o.Line, o.Call = r.Line(s), string(r.AppendCall(nil, s))
	return o
}

// clauses finds what makes the difference: the single changes to the first
// format after which it does as the second; if there is none, those without
// which the second would do as the first; if there is none, all changes.
func (p *pairs) clauses(events []rally.Event) []ClauseChange {
	all := Changes(p.format[0], p.format[1])
	ends := func(f format.Format) (Outcome, bool) {
		f.Shape = ""
		r, err := rally.Compile(f)
		if err != nil {
			return Outcome{}, false
		}
		var root rally.State
		if !p.a.Before {
			root, _, _ = r.Apply(r.New(A), rally.Start(A, rally.Starters{rally.A1, rally.B1}))
		}
		return outcome(r, root, events), true
	}
	first, _ := ends(p.format[0])
	second, _ := ends(p.format[1])
	for side, want := range []Outcome{second, first} {
		var out []ClauseChange
		for _, c := range all {
			f := p.format[side]
			if !c.apply(&f, p.format[1-side]) {
				continue
			}
			if got, ok := ends(f); ok && got == want {
				out = append(out, c)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return all
}
