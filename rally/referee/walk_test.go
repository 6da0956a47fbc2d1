package referee_test

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/walk"
	"github.com/evencourt/evencourt/rally/words"
)

// harbour is the invented scenario of all examples.
var harbour = rally.Setup{
	Match: "Harbour Lane Courts autumn ladder, round 3", Court: "2", Referee: "Noor Haddad",
	Sides: [2]rally.Team{
		{Players: [2]rally.Player{{Name: "Imani Okafor", Mark: "band"}, {Name: "Tomasz Zielinski"}}},
		{Players: [2]rally.Player{{Name: "Priya Raman"}, {Name: "Lars Nyberg", Mark: "green cap"}}},
	},
}

var harbourSingles = rally.Setup{
	Sides: [2]rally.Team{
		{Players: [2]rally.Player{{Name: "Mei-Lin Castellanos"}}},
		{Players: [2]rally.Player{{Name: "Rafael Oyelaran"}}},
	},
}

func setupFor(f format.Format) rally.Setup {
	if f.Game.Sides == format.Singles {
		return harbourSingles
	}
	return harbour
}

func guide(t testing.TB, id string) (*referee.Guide, *rally.Rules) {
	f, err := format.Parse(id)
	require.NoError(t, err)
	rules := rally.MustCompile(f)
	return referee.New(rules, setupFor(f)), rules
}

// everyFormat lists each named shape under its newest edition, and the shapes
// whose game or rulings differ under older ones under those too.
func everyFormat() []string {
	var ids []string
	for _, shape := range format.Shapes() {
		editions := format.EditionsOf(shape)
		for i, e := range editions {
			if i == len(editions)-1 || shape == "sideout-doubles-11" || shape == "sideout-singles-11" || e == format.E2025 && strings.HasPrefix(shape, "rally-") {
				ids = append(ids, shape+"@"+e.String())
			}
		}
	}
	return ids
}

// toy is a second language, to see that everything is said from the catalog.
var toy = words.Bare()

// whole fails if a text is not as the catalog has it, or has an empty argument.
// Seen collects the codes.
func whole(t *testing.T, seen map[words.Code]bool, text words.Text) {
	if err := text.Check(); err != nil {
		t.Fatal(err)
	}
	collect(t, seen, text)
}

func collect(t *testing.T, seen map[words.Code]bool, text words.Text) {
	for _, a := range text.Args {
		switch v := a.Value.(type) {
		case words.Text:
			collect(t, seen, v)
		case words.List:
			for _, inner := range v {
				collect(t, seen, inner)
			}
		case words.Plain:
			if v == "" {
				t.Fatalf("%s: argument %s is empty", text.Code, a.Name)
			}
		}
	}
	seen[text.Code] = true
}

func said(t *testing.T, seen map[words.Code]bool, text words.Text) {
	whole(t, seen, text)
	for _, l := range []*words.Language{words.English(), toy} {
		out := l.Say(text)
		if out == "" || strings.Contains(out, "[") || strings.ContainsAny(out, "{}") {
			t.Fatalf("%s says %q", text.Code, out)
		}
	}
}

func duties(t *testing.T, seen map[words.Code]bool, list []referee.Duty) {
	if len(list) == 0 {
		t.Fatal("no duty")
	}
	for _, d := range list {
		said(t, seen, d.Text)
		if d.Source.Mark == 0 || d.Clause == 0 {
			t.Fatalf("%s has no source", d.Text.Code)
		}
		whole(t, seen, d.Cited())
	}
}

// look asks a guide everything about a state.
func look(t *testing.T, seen map[words.Code]bool, g *referee.Guide, s rally.State) {
	duties(t, seen, g.Now(s))
	for _, m := range g.Moments(s) {
		duties(t, seen, g.Duties(s, m))
	}
	said(t, seen, g.WhyServer(s))
	said(t, seen, g.Call(s))
	for side := rally.A; side <= rally.B; side++ {
		for _, q := range referee.Questions() {
			a := g.Answer(s, side, q, side == rally.A)
			said(t, seen, a.Said)
			said(t, seen, a.Why)
		}
		for _, o := range g.Options(s, side) {
			said(t, seen, o.Text)
		}
	}
}

// states walks breadth first from both first servers over rallies, end
// changes and starts with either partner, and returns every state of one game.
// Beyond level one short of the target a state stands for all that fold into
// it, parity kept.
func states(rules *rally.Rules) []rally.State {
	out := []rally.State{{}}
	alphabet := append(walk.Play(), rally.EventOf(rally.SheetReturned),
		rally.Start(rally.A, rally.Starters{rally.A2, rally.B1}), rally.Start(rally.B, rally.Starters{rally.A1, rally.B2}))
	for first := rally.A; first <= rally.B; first++ {
		graph, err := walk.Plan{Rules: rules, Root: rules.New(first), Alphabet: alphabet,
			Stop: func(s rally.State) bool { return s.Phase() == rally.Between }}.Walk()
		if err != nil {
			panic(err)
		}
		for i := range graph.Len() {
			out = append(out, graph.State(i))
		}
	}
	return out
}

func TestNoGapInAnyStateOfAGame(t *testing.T) {
	total := 0
	deep := os.Getenv("EVENCOURT_DEEP") != ""
	for _, id := range everyFormat() {
		short := strings.Contains(id, "-7") || strings.Contains(id, "doubles-11@")
		if testing.Short() && !short {
			continue
		}
		g, rules := guide(t, id)
		seen := map[words.Code]bool{}
		all := states(rules)
		stride := 1
		if strings.Contains(id, "-of") || !newest(id) { // another id walks the same states
			stride = 31
		} else if !deep {
			stride = 3
			if !short { // more of the same scores
				stride = 17
			}
		}
		for n := 0; n < len(all); n += stride {
			s := all[n]
			look(t, seen, g, s)
			for _, e := range []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B)} {
				if list, next := g.After(s, e); next != s {
					duties(t, seen, list)
				}
			}
			total++
		}
	}
	t.Logf("%d states", total)
}

// newest reports whether an id names the newest edition of its shape.
func newest(id string) bool {
	shape, edition, _ := strings.Cut(id, "@")
	editions := format.EditionsOf(shape)
	return editions[len(editions)-1].String() == edition
}

// ownFormats are formats that [everyFormat] does not list, for duties that none
// of those leads to: two games that are both played, ends kept, first serve
// chosen, fixed courts; open readings other than the defaults; an old match of
// three games.
func ownFormats() []format.Format {
	two, _ := format.Named("fixed-doubles-21", format.E2026)
	two.Shape = ""
	two.Match = format.Series{Games: 2, PlayAll: true, NextServe: format.Chosen}
	open, _ := format.Named("sideout-doubles-11-of3", format.E2022)
	open.Rulings.Take(clause.MedicalFromRequest)
	open.Rulings.Take(clause.LastPointFinal)
	open.Rulings.Take(clause.FaultAgainExcused)
	old, _ := format.Named("sideout-doubles-11-of3", format.E2018) // no time-out between games
	return []format.Format{two, open, old}
}

// somethingRandom is any event, corrections apart: every kind, side, player,
// fault, and incidents of every sort.
func somethingRandom(rng *rand.Rand) rally.Event {
	side := rally.Side(rng.IntN(2))
	switch n := rng.IntN(10); {
	case n < 4:
		return rally.RallyTo(side)
	case n == 4:
		faults := rally.Faults()
		return rally.FaultTo(side, faults[rng.IntN(len(faults))])
	case n < 7:
		return incident(rng, side)
	}
	kinds := rally.Kinds()
	k := kinds[rng.IntN(len(kinds))]
	p := rally.Person(rng.IntN(4))
	switch k {
	case rally.StartGame:
		return rally.Start(side, rally.Starters{rally.A1 + rally.Person(rng.IntN(2)), rally.B1 + rally.Person(rng.IntN(2))})
	case rally.FirstChoice:
		return rally.Choose(side, rally.ChooseServe+rally.Choice(rng.IntN(4)))
	case rally.LateArrival:
		return rally.Late(side, rng.IntN(1000))
	case rally.Stop, rally.RallyWon:
		return incident(rng, side)
	case rally.GameForfeit, rally.MatchForfeit, rally.DoubleForfeit, rally.Retirement, rally.Withdrawal, rally.Abandon:
		if rng.IntN(20) > 0 { // or nothing would ever be played
			return rally.RallyTo(side)
		}
	}
	for _, e := range []rally.Event{rally.OfPerson(k, p), rally.OfSide(k, side), rally.EventOf(k)} {
		if e.String() != "?" {
			if back, err := rally.ParseEvent(e.String()); err == nil && back == e {
				return e
			}
		}
	}
	return rally.RallyTo(side)
}

func incident(rng *rand.Rand, side rally.Side) rally.Event {
	i := rally.Incident{
		Mistakes: rally.Mistakes(1 << rng.IntN(8)),
		Claimed:  rng.IntN(4) == 0,
		Claim:    rally.Mistake(rng.IntN(8)),
		Misled:   rng.IntN(6) == 0,
		Reach:    rally.Reach(rng.IntN(6)),
		Stopper:  rally.Stopper(rng.IntN(4)),
		Asked:    rng.IntN(4) == 0,
	}
	if rng.IntN(3) == 0 {
		return rally.EventOf(rally.Stop).WithIncident(i)
	}
	i.Since = rally.Since(rng.IntN(6))
	return rally.RallyTo(side).WithIncident(i)
}

// TestNoGapInAnyMatch plays matches of every kind of event and asks for
// everything at each step: duties after the event, rulings, refusals,
// hand-over. In the end every duty must have come up somewhere.
func TestNoGapInAnyMatch(t *testing.T) {
	seen := map[words.Code]bool{}
	steps := 200
	switch {
	case os.Getenv("EVENCOURT_DEEP") != "":
		steps = 2000
	case testing.Short():
		steps = 100
	}
	total := 0
	formats := ownFormats()
	for _, id := range everyFormat() {
		f, err := format.Parse(id)
		require.NoError(t, err)
		formats = append(formats, f)
	}
	for seed, f := range formats {
		rules := rally.MustCompile(f)
		g := referee.New(rules, setupFor(f))
		rng := rand.New(rand.NewPCG(uint64(seed), 11))
		start := rally.State{}
		log := rally.NewLog(rules, start)
		plays := steps
		if seed < len(ownFormats()) {
			plays = 18 * steps // they alone lead to some duties
		}
		for n := 0; n < plays; n++ {
			s := log.State()
			if s.Phase() >= rally.Over && rng.IntN(6) == 0 || n%400 == 399 {
				log.Reset([]rally.State{{}, rules.New(rally.A), rules.New(rally.B)}[rng.IntN(3)])
				continue
			}
			e := somethingRandom(rng)
			for _, text := range g.Refusal(s, e) {
				said(t, seen, text)
			}
			list, next := g.After(s, e)
			if did, refusal := log.Apply(e); refusal == rally.NotRefused {
				require.Equal(t, log.State(), next)
				duties(t, seen, list)
				said(t, seen, g.Ruling(s, e).Text)
				said(t, seen, g.ResultWord(did))
				if did.Has(rally.CallHelp) {
					require.Equal(t, words.Code("duty.help"), list[0].Text.Code, e.String())
				}
			} else {
				require.Nil(t, list)
			}
			look(t, seen, g, next)
			if n%50 == 0 {
				for _, line := range g.HandOver(log).Lines {
					said(t, seen, line)
				}
			}
			total++
		}
		for _, f := range g.Faults() {
			said(t, seen, f.Said)
			said(t, seen, f.When)
			said(t, seen, f.Name)
			said(t, seen, f.Loses.Text())
			for _, c := range slices.Concat(f.Officiated, f.Without) {
				said(t, seen, c.Text())
			}
			said(t, seen, referee.Cite(f.Clause, f.Source))
		}
		for _, d := range g.Unsaid() {
			said(t, seen, d.Text)
		}
		for _, first := range []rally.Side{rally.A, rally.B} {
			for _, p := range g.Plan(first) {
				said(t, seen, p.Text)
				said(t, seen, p.Mid)
			}
		}
	}
	t.Logf("%d events", total)
	if testing.Short() {
		return
	}
	for _, e := range words.Codes() {
		if strings.HasPrefix(string(e.Code), "duty.") && !seen[e.Code] {
			t.Errorf("%s never came up", e.Code)
		}
	}
}
