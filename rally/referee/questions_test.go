package referee_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// What may be answered, by edition: 4.B.8 of 2018 (servers: their server and
// the score; receivers: the score only), 4.B.10 of 2019 (the score only) and
// 2020 (the own score may be said), 4.B.8 of 2022 (any player, any of them),
// 4.B.9 from 14 August 2023 (the referee puts all in order), 5.C of 2026.
func TestQuestionsByEdition(t *testing.T) {
	const servers, receivers = rally.A, rally.B
	for _, c := range []struct {
		edition  string
		asker    rally.Side
		question referee.Question
		want     referee.Response
	}{
		{"2017", receivers, referee.AskOwnPlaces, referee.Confirm},
		{"2018", servers, referee.AskServer, referee.Confirm},
		{"2018", receivers, referee.AskServer, referee.Refuse},
		{"2018", servers, referee.AskServerCourt, referee.Refuse},
		{"2018", receivers, referee.AskScore, referee.ScoreOnly},
		{"2019", servers, referee.AskServer, referee.Refuse},
		{"2019", receivers, referee.AskScore, referee.ScoreOnly},
		{"2020", receivers, referee.AskOwnPlaces, referee.ScoreOnly},
		{"2021", servers, referee.AskServerCourt, referee.ScoreOnly},
		{"2022", receivers, referee.AskReceiver, referee.Confirm},
		{"2023", servers, referee.AskServer, referee.Confirm},
		{"2023-08", servers, referee.AskServer, referee.PutInOrder},
		{"2025", receivers, referee.AskOwnPlaces, referee.PutInOrder},
		{"2026", receivers, referee.AskOpponentPlaces, referee.PutInOrder},
	} {
		t.Run(c.edition+" "+c.asker.String()+" "+c.question.String(), func(t *testing.T) {
			g, rules := guide(t, "sideout-doubles-11@"+c.edition)
			s := play(t, rules, rules.New(servers), "gA1B1", "A")
			a := g.Answer(s, c.asker, c.question, c.want != referee.PutInOrder)
			require.Equal(t, c.want, a.Done)
			require.NotEmpty(t, a.Source.Rule, "every one of these has a rule")
		})
	}
}

func TestAnswersSayTheScoreTheyMay(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2020")
	s := play(t, rules, rules.New(rally.A), "gA1B1", "A", "A", "A")
	say := words.English().Say
	require.Equal(t, `"You have 0 points."`, say(g.Answer(s, rally.B, referee.AskOwnPlaces, true).Said))
	require.Equal(t, `"You have 3 points."`, say(g.Answer(s, rally.A, referee.AskOwnPlaces, true).Said))
	require.Equal(t, `"three, zero, two"`, say(g.Answer(s, rally.B, referee.AskScore, true).Said))

	g, _ = guide(t, "sideout-doubles-11@2022")
	require.Equal(t, `"No."`, say(g.Answer(s, rally.B, referee.AskReceiver, false).Said))
}

// From mid-2023 the referee corrects places: there is nothing to put in order
// where they are right.
func TestNobodyIsMovedWhoIsRight(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2026")
	s := play(t, rules, rules.New(rally.A), "gA1B1", "A")
	right, wrong := g.Answer(s, rally.A, referee.AskServer, true), g.Answer(s, rally.A, referee.AskServer, false)
	require.Equal(t, `"Yes."`, words.English().Say(right.Said))
	require.Equal(t, referee.PutInOrder, wrong.Done)
	require.Equal(t, wrong.Clause, right.Clause)
}

func TestUnsaid(t *testing.T) {
	for edition, want := range map[string]int{"2017": 5, "2022": 5, "2023": 5, "2023-08": 1, "2026": 1} {
		g, _ := guide(t, "sideout-doubles-11@"+edition)
		require.Len(t, g.Unsaid(), want, edition)
	}
}

func TestFaultsByEdition(t *testing.T) {
	fault := func(edition string, f rally.Fault) referee.FaultCall {
		g, _ := guide(t, "sideout-doubles-11@"+edition)
		out, ok := g.Fault(f)
		require.True(t, ok)
		return out
	}
	require.True(t, fault("2022", rally.WrongReceiver).Exists)
	require.False(t, fault("2025", rally.WrongReceiver).Exists, "4.B.9 of August 2023: no fault, a replay")
	require.Contains(t, fault("2025", rally.WrongReceiver).Without, referee.AnyPlayer)
	require.Equal(t, words.Code("when.early.motion"), fault("2019", rally.EarlyServe).When.Code)
	require.Equal(t, words.Code("when.early"), fault("2021", rally.EarlyServe).When.Code)
	require.Equal(t, []referee.Caller{referee.Referee}, fault("2024", rally.ShortServe).Officiated, "6.D.1: only the referee where there is one")
	require.Equal(t, []referee.Caller{referee.AnyPlayer}, fault("2024", rally.VolleyZone).Without, "13.D.1.c")

	g, rules := guide(t, "sideout-doubles-11@2022")
	require.Len(t, g.Faults(), len(rally.Faults()))
	require.Equal(t, format.Clause(clause.FootFaultByEither), fault("2024", rally.FootFault).Clause)
	require.Empty(t, fault("2024", rally.FootFault).Source.Rule, "no text names an edition for its number")
	_, ok := g.Fault(rally.NoFault)
	require.False(t, ok)
	s := play(t, rules, rules.New(rally.B), "gB1A1")
	foot, _ := g.Fault(rally.FootFault)
	side, known := foot.Loser(s)
	require.True(t, known)
	require.Equal(t, rally.B, side)
	wrong, _ := g.Fault(rally.WrongReceiver)
	side, _ = wrong.Loser(s)
	require.Equal(t, rally.A, side)
	net, _ := g.Fault(rally.IntoNet)
	_, known = net.Loser(s)
	require.False(t, known)
}

// Rulings whose texts were read; the clause is in the name.
func TestRulingsNameTheirClause(t *testing.T) {
	for _, c := range []struct {
		name, edition, event string
		want                 referee.Verdict
		rule                 string
	}{
		{"1999 5.B.5: the wrong partner's serve stands", "1999", "A?server", referee.RallyStands, "5.B.5"},
		{"2019 4.B.10: wrong server, at the strike", "2019", "stop?server,struck,byref", referee.ServersFault, "4.B.10"},
		{"2019 4.B.11: until the next serve", "2019", "A?server,rallyover", referee.ServersFault, "4.B.10"},
		{"2023-08 4.B.9.a: stopped for a real mistake", "2023-08", "stop?server,returned,byB", referee.RallyReplayed, "4.B.9.a"},
		{"2023-08 4.B.9.a: stopped without one", "2023-08", "stop?~server,returned,byB", referee.ReceiversFault, "4.B.9.a"},
		{"2023-08 4.B.9.b: played out", "2023-08", "A?server,rallyover", referee.RallyStands, "4.B.9.b"},
		{"2026 5.C.2: played out", "2026", "A?receiver,rallyover", referee.RallyStands, "5.C.2"},
		{"2019 4.B.10: wrong receiver, at the strike", "2019", "stop?receiver,struck,byref", referee.ReceiversFault, "4.B.10"},
		{"2026 5.C.1", "2026", "stop?receiver,returned,byA", referee.RallyReplayed, "5.C.1"},
		{"2020 4.K: wrong score, before the return", "2020", "stop?call,struck,byB", referee.RallyReplayed, "4.K"},
		{"2020 4.K: after the return", "2020", "stop?call,returned,byB", referee.ReceiversFault, "4.K"},
		{"2021 4.K: before the third shot", "2021", "stop?call,returned,byB", referee.RallyReplayed, "4.K"},
		{"2022 4.K: only before the serve", "2022", "stop?call,struck,byB", referee.ReceiversFault, "4.K"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g, rules := guide(t, "sideout-doubles-11@"+c.edition)
			s := play(t, rules, rules.New(rally.A), "gA1B1", "A")
			r := g.Ruling(s, event(t, c.event))
			require.Equal(t, c.want, r.Verdict)
			require.Equal(t, c.rule, r.Grounds[0].Source.Rule)
			require.Contains(t, words.English().Say(r.Text), "rule "+c.rule+" of "+c.edition)
		})
	}
}

// What decided is what is named, and nothing that was not consulted: the two
// sentences that a stop before the call used to get were about other rules.
func TestRulingNamesWhatDecided(t *testing.T) {
	for _, c := range []struct {
		format, event string
		verdict       referee.Verdict
		grounds       []format.Clause
	}{
		{"sideout-doubles-11@2025", "stop?side,uncalled,byA", referee.RallyReplayed, []format.Clause{clause.WrongSideStopped}},
		{"sideout-doubles-11@2025", "stop?starter,uncalled,byA", referee.RallyReplayed, []format.Clause{clause.BeforeStrike}},
		{"sideout-doubles-11@2019", "A?server,rallyover", referee.ServersFault, []format.Clause{clause.OrderFault, clause.WindowNextServe}},
		{"sideout-doubles-11@2026", "B?receiver,rallyover", referee.RallyStands, []format.Clause{clause.LateReceiverStands, clause.OrderStands}},
	} {
		t.Run(c.format+" "+c.event, func(t *testing.T) {
			g, rules := guide(t, c.format)
			s := play(t, rules, rules.New(rally.A), "gA1B1", "A")
			r := g.Ruling(s, event(t, c.event))
			require.Equal(t, c.verdict, r.Verdict)
			var grounds []format.Clause
			for _, ground := range r.Grounds {
				grounds = append(grounds, ground.Clause)
				require.Contains(t, words.English().Say(r.Text), words.English().Say(words.For(ground.Clause)))
			}
			require.Equal(t, c.grounds, grounds, words.English().Say(r.Text))
		})
	}
}

// Each side gets the first choice about as often as the other: of 100,000
// draws within five standard deviations of the half.
func TestDrawIsFair(t *testing.T) {
	source := rand.NewPCG(2026, 5)
	const n = 100_000
	var draws, hidden int
	for range n {
		draws += int(referee.Draw(source))
		hidden += referee.Hide(source).Reveal() - 1
	}
	require.InDelta(t, n/2, draws, 5*158)
	require.InDelta(t, n/2, hidden, 5*158)

	h := referee.Hide(source)
	side, ok := h.Guess(rally.A, h.Reveal())
	require.True(t, ok)
	require.Equal(t, rally.A, side)
	side, ok = h.Guess(rally.A, 3-h.Reveal())
	require.True(t, ok)
	require.Equal(t, rally.B, side)
	_, ok = h.Guess(rally.A, 3)
	require.False(t, ok)
	_, ok = referee.Hidden{}.Guess(rally.A, 1)
	require.False(t, ok)
}

// 5.A.1: serve, receive, end or defer; before 2019 no deferring.
func TestOptionsOfTheFirstChoice(t *testing.T) {
	choices := func(g *referee.Guide, s rally.State, side rally.Side) []rally.Choice {
		var out []rally.Choice
		for _, o := range g.Options(s, side) {
			out = append(out, o.Choice)
		}
		return out
	}
	g, rules := guide(t, "sideout-doubles-11@2019")
	all := []rally.Choice{rally.ChooseServe, rally.ChooseReceive, rally.ChooseEnd, rally.ChooseDefer}
	require.Equal(t, all, choices(g, rally.State{}, rally.A))
	deferred := play(t, rules, rally.State{}, "fcA:defer")
	require.Equal(t, all[:3], choices(g, deferred, rally.B))
	require.Empty(t, choices(g, deferred, rally.A))
	require.Equal(t, all[:2], choices(g, play(t, rules, rally.State{}, "fcA:end"), rally.B))
	require.Empty(t, choices(g, play(t, rules, rally.State{}, "fcA:serve"), rally.A), "final once made")
	g, _ = guide(t, "sideout-doubles-11@2018")
	require.Equal(t, all[:3], choices(g, rally.State{}, rally.A))
}
