package mutants

import (
	"cmp"
	_ "embed" // what was measured last
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/walk"
)

// The systematic mutants are made by a program: every rule that is data, broken
// everywhere or in one place alone. A place is a value of one dimension: the
// side that serves, the partner, the server number, the side that the event
// names, the game, the family of formats, the shape or the edition.

// A rule is one change of format data.
type rule struct {
	name   string
	kind   string // of the table
	change func(*format.Format)
}

// rules lists the changes: the named ones, every bound of a game by one either
// way, and every switch as in the edition before or after.
func rules() []rule {
	var out []rule
	for _, m := range All() {
		if m.change != nil {
			out = append(out, rule{m.Name, "a named rule", m.change})
		}
	}
	bounds := []struct {
		name string
		of   func(*format.Game) *uint8
	}{
		{"target", func(g *format.Game) *uint8 { return &g.Target }},
		{"win-by", func(g *format.Game) *uint8 { return &g.WinBy }},
		{"cap", func(g *format.Game) *uint8 { return &g.Cap }},
		{"ends-at", func(g *format.Game) *uint8 { return &g.ChangeEndsAt }},
		{"time-outs", func(g *format.Game) *uint8 { return &g.TimeOuts }},
	}
	for _, b := range bounds {
		for _, by := range []int{-1, 1} {
			for _, last := range []bool{false, true} {
				which := "game"
				if last {
					which = "last game"
				}
				out = append(out, rule{fmt.Sprintf("%s%+d in the %s", b.name, by, which), "a bound of a game", func(f *format.Format) {
					g := &f.Game
					if last {
						g = &f.Last
					} else if f.Match.Games == 1 {
						return
					}
					if v := b.of(g); *v > 0 {
						*v = uint8(int(*v) + by)
					}
				}})
			}
		}
	}
	for _, s := range format.Switches() {
		for _, by := range []int{-1, 1} {
			word := map[int]string{-1: "before", 1: "after"}[by]
			out = append(out, rule{fmt.Sprintf("%s as in the edition %s", s, word), "a boundary of editions", func(f *format.Format) {
				all := format.Editions(f.Edition.Document())
				i := slices.Index(all, f.Edition) + by
				if i < 0 || i >= len(all) {
					return
				}
				here, there := format.RulingsOf(f.Edition), format.RulingsOf(all[i])
				if f.Rulings[s] == here[s] && here[s] != 0 && there[s] != 0 {
					f.Rulings[s] = there[s]
				}
			}})
		}
	}
	return out
}

// A broken rule as it is in one format.
type brokenRule struct {
	at    int // among rules
	rules *rally.Rules
	same  bool // states mean the same as those of the sound rules
}

// spot is where an event happens, one value a dimension.
type spot [8]string

// Dimensions of a place, and how the table calls what is broken in one value.
var dimensions = [8]string{"one serving side", "one partner", "one server number", "one side named", "one game", "one family", "one shape", "one edition"}

func spotOf(f *format.Format, line, event string) spot {
	field := func(name string) string {
		_, rest, _ := strings.Cut(line, " "+name+"=")
		value, _, _ := strings.Cut(rest, " ")
		return value
	}
	serve := field("serve")
	if len(serve) < 6 {
		serve = "......"
	}
	game := "middle"
	switch n := field("game"); n {
	case "0", "1":
		game = "first"
	case fmt.Sprint(f.Match.Games):
		game = "last"
	}
	side := "."
	if i := strings.IndexAny(event, "AB"); i >= 0 {
		side = event[i : i+1]
	}
	return spot{serve[:1], serve[1:2], serve[5:6], side, game, family(f.Shape), f.Shape, f.Edition.String()}
}

// family is a shape without its target and what follows.
func family(shape string) string {
	if at := strings.IndexAny(shape, "0123456789"); at > 0 {
		return shape[:at-1]
	}
	return shape
}

// Seen holds at which places a broken rule shows.
type seen [8]map[string]bool

func (s *seen) add(p spot) {
	for d, v := range p {
		if v == "." {
			continue
		}
		if s[d] == nil {
			s[d] = map[string]bool{}
		}
		s[d][v] = true
	}
}

// has reports whether all of a place is known.
func (s *seen) has(p spot) bool {
	for d, v := range p {
		if v != "." && !s[d][v] {
			return false
		}
	}
	return true
}

// Systematic is what became of the systematic mutants.
type Systematic struct {
	rules     []rule
	killed    []seen // where a case shows the broken rule
	shows     []seen // where anything does
	example   map[string]string
	formats   map[string]*formatRules
	positions int
	equal     []bool // rules that [Systematic.Prove] found to change nothing
}

type formatRules struct {
	f      format.Format
	sound  *rally.Rules
	broken []brokenRule
	played map[question]bool // by some case: another shows nothing new there
}

// A question is an event in a state, and perhaps what is reported afterwards.
type question struct {
	state    rally.State
	event    rally.Event
	reported bool
}

// NewSystematic makes the mutants.
func NewSystematic() *Systematic {
	all := rules()
	return &Systematic{rules: all, killed: make([]seen, len(all)), shows: make([]seen, len(all)), example: map[string]string{}, formats: map[string]*formatRules{}, equal: make([]bool, len(all))}
}

func (s *Systematic) format(id string) (*formatRules, error) {
	if known := s.formats[id]; known != nil {
		return known, nil
	}
	f, err := format.Parse(id)
	if err != nil {
		return nil, err
	}
	r := &formatRules{f: f, played: map[question]bool{}}
	if r.sound, err = rally.Compile(f); err != nil {
		return nil, err
	}
	for i := range s.rules {
		g := f
		s.rules[i].change(&g)
		if g == f {
			continue
		}
		g.Shape = ""
		broken, err := rally.Compile(g)
		if err != nil {
			continue // no format at all: nobody would play it
		}
		alike := func(a, b format.Game) bool { return a.Order == b.Order && a.Sides == b.Sides && a.Servers == b.Servers }
		r.broken = append(r.broken, brokenRule{i, broken, alike(f.Game, g.Game) && alike(f.Last, g.Last) && f.Match == g.Match})
	}
	s.formats[id] = r
	return r, nil
}

// try plays an event by the sound and by every broken rule and notes where they
// differ, in what is reported of the match afterwards too if that is asked.
func (s *Systematic) try(r *formatRules, state rally.State, event rally.Event, reports bool, into []seen) {
	next, did, refusal := r.sound.Apply(state, event)
	reports = reports && refusal == rally.NotRefused && did&(rally.MatchWon|rally.GameForfeited|rally.MatchForfeited) != 0
	line, text := r.sound.Line(state), event.String()
	at := spotOf(&r.f, line, text)
	var after, final string
	for i := range r.broken {
		b := &r.broken[i]
		if into[b.at].has(at) {
			continue // nothing new can show
		}
		from := state
		if !b.same {
			var err error
			if from, err = b.rules.ParseLine(line); err != nil {
				continue // a mutant that cannot take up a line is not killed
			}
		}
		n, d, e := b.rules.Apply(from, event)
		if d == did && e == refusal {
			alike := b.same && n == next
			if !alike {
				if after == "" {
					after = r.sound.Line(next)
				}
				alike = b.rules.Line(n) == after
			}
			if alike && reports {
				if final == "" {
					final = reported(r.sound, state, event)
				}
				alike = reported(b.rules, from, event) == final
			}
			if alike {
				continue
			}
		}
		into[b.at].add(at)
		for d, v := range at {
			key := s.key(b.at, d, v)
			if s.example[key] == "" {
				s.example[key] = r.f.ID() + " | " + line + " | " + text
			}
		}
	}
}

// reported is what is reported of a match that an event ends, or a game of it.
func reported(rules *rally.Rules, state rally.State, event rally.Event) string {
	log := rally.NewLog(rules, state)
	if _, err := log.Enter(event.String()); err != nil {
		return "refused"
	}
	out, r := "", log.Result()
	for _, g := range r.Games {
		out += fmt.Sprint(g.Score, g.How)
	}
	return fmt.Sprint(out, r.Cause, r.Won)
}

func (s *Systematic) key(at, d int, v string) string { return fmt.Sprint(at, " ", d, " ", v) }

// Play plays every hand-written case, written and derived.
func (s *Systematic) Play(files []conformance.File) error {
	for i := range files {
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			if c.Generated {
				continue
			}
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				if err != nil {
					return err
				}
				for _, id := range ids {
					r, err := s.format(id)
					if err != nil {
						return err
					}
					for _, derivation := range append([]string{""}, conformance.Derivations()...) {
						d := c
						if derivation != "" {
							if d = c.Derive(derivation, &r.f); d == nil {
								continue
							}
						}
						s.playCase(r, d, id)
					}
				}
			}
		}
	}
	return nil
}

// playCase follows the sound engine through a case.
func (s *Systematic) playCase(r *formatRules, c *conformance.Case, id string) {
	engine := new(conformance.Builtin)
	start := conformance.Start{From: c.From}
	if c.Start != nil {
		start = conformance.Start{First: c.Start.First, Servers: c.Start.Servers}
	}
	if _, err := engine.BeginBy(r.sound, start); err != nil {
		return
	}
	for i := range c.Steps {
		events := strings.Fields(c.Steps[i].Do)
		if c.Steps[i].Entry != "" {
			engine.Do(c.Steps[i].Entry)
			if rules, _ := engine.State(); rules != r.sound {
				return // under another format
			}
			continue
		}
		for _, text := range events {
			_, state := engine.State()
			if event, err := rally.ParseEvent(text); err == nil {
				if here := (question{state, event, c.Reported != nil}); !r.played[here] {
					r.played[here] = true
					s.try(r, state, event, c.Reported != nil, s.killed)
				}
				s.positions++
			}
			engine.Do(text)
		}
	}
}

// Walk looks for places where a broken rule shows, by random events from random
// states of every named format.
func (s *Systematic) Walk(events int) error {
	alphabet := words()
	random := rand.New(rand.NewPCG(20261126, 1))
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			r, err := s.format(shape + "@" + e.String())
			if err != nil {
				return err
			}
			state := r.sound.New(rally.Side(random.IntN(2)))
			for range events {
				word := alphabet[random.IntN(len(alphabet))]
				if random.IntN(3) > 0 {
					word = plainRally(rally.Side(random.IntN(2)))
				}
				if !word.possible(r.sound, state) {
					continue
				}
				s.try(r, state, word.event, true, s.shows)
				if next, _, refusal := r.sound.Apply(state, word.event); refusal == rally.NotRefused {
					state = next
				}
				if p := state.Phase(); p == rally.Over || p == rally.Closed {
					state = r.sound.New(rally.Side(random.IntN(2)))
				}
			}
		}
	}
	return nil
}

// A word is an event that the walk tries. What it says is over since, the rally
// as it was won must have brought about.
type word struct {
	event, won rally.Event // won: the same rally with nothing wrong in it
	since      string
}

func plainRally(s rally.Side) word { return word{event: rally.RallyTo(s)} }

func wordOf(e rally.Event) word {
	text := e.String()
	w := word{event: e}
	for _, since := range []string{"served", "overtaken", "gameover", "sheet"} {
		if strings.Contains(text, ","+since) {
			w.since = since
		}
	}
	if w.since != "" {
		w.won = rally.RallyTo(rally.Side(strings.IndexByte("AB", text[0])))
	}
	return w
}

// possible reports whether a claim can come as late as it says: no serve is
// struck after the last point, and no game or match is over that still goes on.
func (w *word) possible(rules *rally.Rules, state rally.State) bool {
	if w.since == "" {
		return true
	}
	_, did, refusal := rules.Apply(state, w.won)
	if refusal != rally.NotRefused {
		return true // so is this
	}
	switch w.since {
	case "gameover":
		return did.Has(rally.GameWon)
	case "sheet":
		return did.Has(rally.MatchWon)
	}
	return !did.Has(rally.MatchWon)
}

// words are all events but those that end a match at once.
func words() []word {
	var out []word
	for _, text := range strings.Fields("replay ends in ref dealt blood hazard illness resume " +
		"A:net B:net A:ten B:foot tA tB xA xB vwA vwB twA twB tfA tfB mA1 mA1+ mA1- mB1 mB1+ mB1- mA2 mA2w mB2 mB2- eqA1 eqB2 " +
		"outA1 outB2 lostA lostB backA backB gfA gfB gA1B1 gB1A1 gA2B1 gB2A2 cwA1 cwB2 cfA1 cfB1 lateA:600 lateB:700 lateA:900 lateB:950 " +
		"retA retB abandon fcA:serve fcB:receive fcA:defer fcB:end") {
		if e, err := rally.ParseEvent(text); err == nil {
			out = append(out, wordOf(e))
		}
	}
	for _, e := range walk.Incidents() {
		out = append(out, wordOf(e))
	}
	return out
}

// Count is a line of the table: rules of one kind, broken everywhere or for one
// value of a dimension.
type Count struct {
	Kind    string `json:"kind"`
	Where   string `json:"where"`
	Mutants int    `json:"mutants"`
	Killed  int    `json:"killed"`
	Equal   int    `json:"equal"`  // they change no named format, or nothing that an event can show
	Silent  int    `json:"silent"` // neither a case nor the walk shows them, and nothing proves them equal
}

// Measured is what the last measure of the systematic mutants found.
type Measured struct {
	Date   string  `json:"date"`
	Events int     `json:"events"` // of the walk, a format
	Table  []Count `json:"table"`
}

//go:embed systematic.json
var measuredJSON []byte

// LastMeasured returns what the last measure found.
func LastMeasured() (Measured, error) {
	var m Measured
	if err := json.Unmarshal(measuredJSON, &m); err != nil {
		return m, fmt.Errorf("mutants: systematic.json: %w", err)
	}
	return m, nil
}

// Summary is the table in short, as README.md shows it: a line a kind, of rules
// broken everywhere and of those broken in one place.
func (m *Measured) Summary() string {
	var b strings.Builder
	b.WriteString("  | rule | broken everywhere: killed, equal, left | in one place: killed, left |\n  |---|---|---|\n")
	for i := 0; i < len(m.Table); {
		kind := m.Table[i].Kind
		all, one := m.Table[i], Count{}
		for i++; i < len(m.Table) && m.Table[i].Kind == kind; i++ {
			one.Mutants += m.Table[i].Mutants
			one.Killed += m.Table[i].Killed
		}
		fmt.Fprintf(&b, "  | %s | %d, %d, %d | %d, %d |\n", kind, all.Killed, all.Equal, all.Mutants-all.Killed-all.Equal, one.Killed, one.Mutants-one.Killed)
	}
	return b.String()
}

// page is the part of MUTANTS.md about the systematic mutants.
func (m *Measured) page() string {
	var b strings.Builder
	fmt.Fprintf(&b, `
## Systematic mutants

Nobody chose these (%[1]sgo run ./conformance/cmd/mutants -systematic 3000%[1]s, measured %[2]s). Every rule that is data is changed: the
named mutants of changed data, every bound of a game by one either way, every switch as in the edition before or after; everywhere, or in
one place alone. A mutant in one place counts if a case shows it there, or a walk of %[3]d random events in each named format does. *Equal*:
no named format is changed, since both editions read the switch alike; or in every state that the rules can come to, in short games of each
family, every event does the same (%[1]srally/walk%[1]s, over each of its alphabets): clocks and words are in no line. *Silent*: nothing shows them
and nothing proves them equal. A number alone is of mutants that are all killed by hand-written cases and their derived runs; what is not is said.

`, "`", m.Date, m.Events)
	var heads, rows []string
	for _, c := range m.Table {
		if len(rows) == 0 || !strings.HasPrefix(rows[len(rows)-1], "| "+c.Kind+" |") {
			rows = append(rows, "| "+c.Kind+" |")
		}
		if len(rows) == 1 {
			heads = append(heads, c.Where)
		}
		rows[len(rows)-1] += " " + c.cell() + " |"
	}
	fmt.Fprintf(&b, "| rule broken | %s |\n|%s\n%s\n", strings.Join(heads, " | "), strings.Repeat("---|", len(heads)+1), strings.Join(rows, "\n"))
	return b.String()
}

// cell is what became of the mutants: how many are killed, and of the others why not.
func (c *Count) cell() string {
	text := fmt.Sprint(c.Killed)
	for _, other := range []struct {
		n    int
		what string
	}{{c.Equal, "equal"}, {c.Silent, "silent"}, {c.Mutants - c.Killed - c.Equal - c.Silent, "left"}} {
		if other.n > 0 {
			text += fmt.Sprintf(", %d %s", other.n, other.what)
		}
	}
	return text
}

// Table counts, and lists an example of every mutant that lives though it shows.
func (s *Systematic) Table() (rows []Count, lived []string) {
	var kinds []string
	byKind := map[string][]int{}
	for i, r := range s.rules {
		if byKind[r.kind] == nil {
			kinds = append(kinds, r.kind)
		}
		byKind[r.kind] = append(byKind[r.kind], i)
	}
	for _, kind := range kinds {
		everywhere := Count{Kind: kind, Where: "everywhere"}
		var by [8]Count
		for _, i := range byKind[kind] {
			any := false
			for d := range dimensions {
				values := maps.Clone(s.shows[i][d])
				if values == nil {
					values = map[string]bool{}
				}
				maps.Copy(values, s.killed[i][d])
				for _, v := range slices.Sorted(maps.Keys(values)) {
					by[d].Mutants++
					if s.killed[i][d][v] {
						by[d].Killed++
						any = true
					} else {
						lived = append(lived, fmt.Sprintf("%s, %s alone: %s", s.rules[i].name, v, s.example[s.key(i, d, v)]))
					}
				}
			}
			everywhere.Mutants++
			switch {
			case any:
				everywhere.Killed++
			case s.equal[i]:
				everywhere.Equal++
			case !s.showsAnywhere(i):
				everywhere.Silent++
				lived = append(lived, s.rules[i].name+" shows nowhere")
			default:
				lived = append(lived, s.rules[i].name+" everywhere")
			}
		}
		rows = append(rows, everywhere)
		for d := range dimensions {
			by[d].Kind, by[d].Where = kind, dimensions[d]
			rows = append(rows, by[d])
		}
	}
	slices.SortStableFunc(lived, cmp.Compare[string])
	return rows, lived
}

func (s *Systematic) showsAnywhere(i int) bool {
	return slices.ContainsFunc(s.shows[i][:], func(values map[string]bool) bool { return len(values) > 0 })
}
