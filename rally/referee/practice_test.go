package referee_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// The checks of this file are facts of the trade, without a published source.

func codes(list []referee.Duty) []words.Code {
	var out []words.Code
	for _, d := range list {
		out = append(out, d.Text.Code)
	}
	return out
}

func play(t testing.TB, rules *rally.Rules, s rally.State, events ...string) rally.State {
	for _, text := range events {
		e, err := rally.ParseEvent(text)
		require.NoError(t, err)
		next, _, refusal := rules.Apply(s, e)
		require.Equal(t, rally.NotRefused, refusal, text)
		s = next
	}
	return s
}

func event(t testing.TB, text string) rally.Event {
	e, err := rally.ParseEvent(text)
	require.NoError(t, err)
	return e
}

// Own score at the last side-out mark and the server number give the server.
func TestRebuildTable(t *testing.T) {
	for _, c := range []struct {
		name    string
		marks   referee.TurnMarks
		starter bool
	}{
		{"even and one: starter", referee.TurnMarks{Own: 4, Number: 1, OwnNow: 4}, true},
		{"odd and one: partner", referee.TurnMarks{Own: 3, Number: 1, OwnNow: 5}, false},
		{"even and two: partner", referee.TurnMarks{Own: 4, Number: 2, OwnNow: 7}, false},
		{"odd and two: starter", referee.TurnMarks{Own: 3, Number: 2, OwnNow: 3}, true},
		{"opening turn: starter", referee.TurnMarks{Opening: true, Number: 2, OwnNow: 3}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := referee.Rebuild(c.marks)
			require.NoError(t, err)
			require.Equal(t, c.starter, got.Starter)
		})
	}
}

// The table holds at every rally of random games: the server whom the engine
// knows is the one whom the marks give, in the court that the score gives.
func TestRebuildFindsTheServerOfEveryRally(t *testing.T) {
	_, rules := guide(t, "sideout-doubles-21@2025")
	rng := rand.New(rand.NewPCG(3, 3))
	checked := 0
	for game := 0; game < 300; game++ {
		st := rally.Starters{rally.A1 + rally.Person(rng.IntN(2)), rally.B1 + rally.Person(rng.IntN(2))}
		first := rally.Side(rng.IntN(2))
		s, _, refusal := rules.Apply(rules.New(first), rally.Start(first, st))
		require.Equal(t, rally.NotRefused, refusal)
		marks := referee.TurnMarks{Opening: true}
		for s.Phase() == rally.Playing {
			c, _ := rules.Call(s)
			p := rules.Places(s)
			marks.Number, marks.OwnNow, marks.OtherNow = c.Number, c.Serving, c.Receiving
			got, err := referee.Rebuild(marks)
			require.NoError(t, err)
			require.Equal(t, st[p.Server.Side()] == p.Server, got.Starter, rules.Line(s))
			require.Equal(t, p.Court, got.Court, rules.Line(s))
			checked++
			next, did, _ := rules.Apply(s, rally.RallyTo(rally.Side(rng.IntN(2))))
			if did.Has(rally.SideOut) {
				serving, _ := next.Serving()
				marks = referee.TurnMarks{Own: next.Score(serving)}
			}
			s = next
		}
	}
	require.Greater(t, checked, 10_000)
}

func TestMarksThatNoTurnLeaves(t *testing.T) {
	for _, c := range []struct {
		name  string
		marks referee.TurnMarks
		field string
	}{
		{"no number", referee.TurnMarks{Own: 1, OwnNow: 1}, "number"},
		{"first server in the opening turn", referee.TurnMarks{Opening: true, Number: 1}, "number"},
		{"points lost in a turn", referee.TurnMarks{Own: 5, OwnNow: 4, Number: 1}, "own"},
		{"below zero", referee.TurnMarks{Own: -1, OwnNow: 4, Number: 1}, "own"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := referee.Rebuild(c.marks)
			var at *referee.MarksError
			require.ErrorAs(t, err, &at)
			require.Equal(t, c.field, at.Field)
		})
	}
}

// The right court is the far one for the side on the referee's right and the
// near one for the side on the left; server and receiver are one near, one
// far; a side-out or an end change turns the serving hand, both cancel.
func TestGeometryOfHandsAndDepth(t *testing.T) {
	require.Equal(t, rally.Far, rally.RightHand.Depth(rally.Right))
	require.Equal(t, rally.Near, rally.LeftHand.Depth(rally.Right))
	require.Equal(t, rally.Near, rally.RightHand.Depth(rally.Left))
	require.Equal(t, rally.Far, rally.LeftHand.Depth(rally.Left))

	for _, id := range []string{"sideout-doubles-11@2026", "sideout-singles-11@2026", "rally-doubles-11@2026", "fixed-doubles-21@2026"} {
		t.Run(id, func(t *testing.T) {
			_, rules := guide(t, id)
			for _, s := range states(rules) {
				if s.Phase() != rally.Playing {
					continue
				}
				for left := rally.A; left <= rally.B; left++ {
					v := rules.View(s, left)
					require.NotEqual(t, v.Server.Depth, v.Receiver.Depth, rules.Line(s))
					require.Equal(t, v.Server.Hand.Other(), v.Receiver.Hand)
				}
				turns := rules.View(s, rally.A).Server.Hand
				if s.EndChangeDue() {
					next, _, _ := rules.Apply(s, rally.EventOf(rally.EndsChanged))
					require.Equal(t, turns.Other(), rules.View(next, rally.A).Server.Hand)
				}
				for _, e := range []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B)} {
					next, did, _ := rules.Apply(s, e)
					if next.Phase() != rally.Playing {
						continue
					}
					want := turns
					if did.Has(rally.SideOut) {
						want = want.Other()
					}
					require.Equal(t, want, rules.View(next, rally.A).Server.Hand)
					if next.EndChangeDue() && did.Has(rally.SideOut) {
						both, _, _ := rules.Apply(next, rally.EventOf(rally.EndsChanged))
						require.Equal(t, turns, rules.View(both, rally.A).Server.Hand, "side-out and end change cancel")
					}
				}
			}
		})
	}
}

// Where ends and first serve both alternate, every game opens with the serving
// side on the same hand; the side that takes serve serves games 1 and 3.
func TestPlanOfServesAndEnds(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11-of3@2026", "sideout-doubles-11-of5@2026", "rally-singles-21-of5@2026"} {
		for first := rally.A; first <= rally.B; first++ {
			g, rules := guide(t, id)
			plan := g.Plan(first)
			require.Len(t, plan, int(rules.Format().Match.Games))
			for n, p := range plan {
				require.True(t, p.Known)
				want := first
				if n%2 == 1 {
					want = first.Other()
				}
				require.Equal(t, want, p.First, "game %d", n+1)
				require.Equal(t, plan[0].First == plan[0].Left, p.First == p.Left, "game %d opens on the same hand", n+1)
			}
			require.Equal(t, 0, plan[0].MidChange)
			require.NotZero(t, plan[len(plan)-1].MidChange)
		}
	}
	g, _ := guide(t, "badminton-doubles-21-of3")
	require.False(t, g.Plan(rally.A)[1].Known, "the winner of a game serves first in the next")
	require.Equal(t, words.Code("plan.winner"), g.Plan(rally.A)[1].Text.Code)
}

// The word first, then the mark, then the next call; on a side-out score
// before people.
func TestOrderOfDutiesAfterARally(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2026")
	opening := play(t, rules, rules.New(rally.A), "gA1B1")
	second := play(t, rules, opening, "B", "A") // B1 serves, loses: B2 is second server
	for _, c := range []struct {
		name  string
		state rally.State
		event string
		want  []words.Code
	}{
		{"point", opening, "A", []words.Code{"duty.say-result", "duty.mark-point-server", "duty.rehearse"}},
		{"second server", play(t, rules, opening, "B"), "A", []words.Code{"duty.say-result", "duty.marker-two", "duty.rehearse"}},
		{"side out", second, "A", []words.Code{"duty.say-result", "duty.mark-turn-end", "duty.turn-record", "duty.read-score",
			"duty.set-marker", "duty.then-look", "duty.rehearse"}},
		{"replay", opening, "replay", []words.Code{"duty.say-replay", "duty.note-replay", "duty.rehearse"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, _ := g.After(c.state, event(t, c.event))
			require.Equal(t, c.want, codes(list))
		})
	}
}

// Before the call: receiver, server, feet, call, never skipping one. Until
// mid-2023 the referee corrects nobody unasked.
func TestOrderOfDutiesBeforeTheCall(t *testing.T) {
	last := []words.Code{"duty.receiver-ready", "duty.server", "duty.feet", "duty.call"}
	for _, c := range []struct{ edition, first string }{
		{"1999", "duty.correct-nobody"}, {"2019", "duty.correct-nobody"}, {"2022", "duty.correct-nobody"}, {"2023", "duty.correct-nobody"},
		{"2023-08", "duty.check-order"}, {"2024", "duty.check-order"}, {"2026", "duty.check-order"},
	} {
		t.Run(c.edition, func(t *testing.T) {
			g, rules := guide(t, "sideout-doubles-11@"+c.edition)
			list := codes(g.Duties(play(t, rules, rules.New(rally.A), "gA1B1"), referee.BeforeCall))
			require.Equal(t, append([]words.Code{words.Code(c.first)}, last...), list)
		})
	}
}

// After a called fault on server 1 the side is put right before the next call.
func TestPutRightDuty(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2019")
	s := play(t, rules, rules.New(rally.A), "gA1B1", "B") // B1 is first server
	list, next := g.After(s, event(t, "stop?server,struck,byref"))
	require.True(t, next.PutRightDue())
	require.Equal(t, words.Code("duty.say-ruling"), list[0].Text.Code)
	require.Equal(t, words.Code("duty.put-right"), list[len(list)-1].Text.Code)
	require.Contains(t, codes(g.Duties(next, referee.BeforeCall)), words.Code("duty.put-right"))
}

// Paddles where players will stand, notice, time in, and a look on return.
func TestDutiesAtATimeOut(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2025")
	s := play(t, rules, rules.New(rally.A), "gA1B1", "A", "tB")
	require.Equal(t, []words.Code{"duty.say-time-out", "duty.note-time-out", "duty.coaching", "duty.clock", "duty.paddles", "duty.notice", "duty.say-time-in",
		"duty.compare", "duty.not-ready.when-ready"}, codes(g.Now(s)))
	g, rules = guide(t, "sideout-doubles-11@1999")
	s = play(t, rules, rules.New(rally.A), "gA1B1", "A", "tB")
	require.NotContains(t, codes(g.Now(s)), words.Code("duty.notice"), "1999 has no notice")
	require.Contains(t, codes(g.Now(s)), words.Code("duty.not-ready.penalty"))
}

// Help first, clocks and penalties last; a second need is never met by a bare
// refusal; nobody here judges a condition or a return to play.
func TestHelpFirst(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2025")
	s := play(t, rules, rules.New(rally.A), "gA1B1", "A")
	for _, text := range []string{"mA1", "blood", "illness", "cB2", "outA2"} {
		t.Run(text, func(t *testing.T) {
			list, next := g.After(s, event(t, text))
			require.Equal(t, words.Code("duty.help"), list[0].Text.Code)
			if text != "outA2" { // a substitute for nothing: play goes on with one
				require.Equal(t, words.Code("duty.help"), g.Now(next)[0].Text.Code)
			}
		})
	}
	list := codes(g.Now(play(t, rules, s, "mA1")))
	require.Equal(t, words.Code("duty.medical-penalty"), list[len(list)-1])
	clock := -1
	for i, c := range list {
		if c == "duty.medical-clock.arrival" {
			clock = i
		}
	}
	require.Greater(t, clock, 2, "the clock comes after help, safety and qualified people")

	again := g.Refusal(play(t, rules, s, "mA1", "mA1+", "in"), event(t, "mA1"))
	require.Equal(t, words.Code("duty.help"), again[0].Code)
	var instead bool
	for _, line := range again {
		instead = instead || line.Code == "refusal.instead"
	}
	require.True(t, instead, "the answer names what stops play for safety")

	for name, at := range map[string][]string{
		"before the match": {}, "after the last point": {"gA1B1", "mfB"}, "abandoned": {"gA1B1", "abandon"}, "after the sheet": {"gA1B1", "mfB", "sheet"},
	} {
		for _, need := range []string{"mA1", "blood", "illness"} {
			t.Run(need+" "+name, func(t *testing.T) {
				s := play(t, rules, rules.New(rally.A), at...)
				why := rules.Why(s, event(t, need))
				require.NotEqual(t, rally.NotRefused, why.Refusal)
				require.Equal(t, words.Code("duty.help"), g.Refusal(s, event(t, need))[0].Code)
				require.Equal(t, s.Phase() != rally.Closed, why.Instead.Has(rally.Concussion), "what must be on record can be, until the sheet is returned")
			})
		}
	}
}

// After a suspected concussion nobody is told to call a score, a fault or time
// in: whatever is due, the match is not played on.
func TestNothingIsCalledAfterASuspectedConcussion(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2025")
	for name, events := range map[string][]string{
		"the server":       {"gA1B1", "A", "cA1"},
		"the receiver":     {"gA1B1", "A", "cB2"},
		"somebody else":    {"gA1B1", "A", "cA2"},
		"end change due":   {"gA1B1", "A", "A", "A", "A", "A", "A", "cA1"},
		"a time-out":       {"gA1B1", "A", "cA1", "tA"},
		"partner out too":  {"gA1B1", "A", "outB1", "cB2"},
		"before the match": {"cA1"},
	} {
		t.Run(name, func(t *testing.T) {
			s := play(t, rules, rules.New(rally.A), events...)
			_, due := rules.AbsentFault(s)
			require.False(t, due, "an event that would be refused")
			for _, m := range g.Moments(s) {
				list := codes(g.Duties(s, m))
				require.Equal(t, []words.Code{"duty.help", "duty.safety", "duty.out-of-match", "duty.what-remains"}, list[:4], m)
				for _, call := range []words.Code{"duty.call", "duty.call-absence", "duty.say-time-in", "duty.paddles", "duty.first-call", "duty.count"} {
					require.NotContains(t, list, call, m)
				}
			}
			said := strings.Join(words.English().SayAll(g.HandOver(rally.NewLog(rules, s)).Lines), "\n")
			require.NotContains(t, said, "Next call")
		})
	}
}

// Game 1 forfeited unplayed: the first choice, and with it the ends, hold for
// the first game that is played.
func TestEndsHoldWhileNoGameHasBeenPlayed(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11-of3@2024")
	s := play(t, rules, rules.New(rally.A), "lateA:600")
	list := codes(g.Now(s))
	require.Contains(t, list, words.Code("duty.keep-ends"))
	require.Contains(t, list, words.Code("duty.ask-starters"))
	next := play(t, rules, s, "gA1B1")
	require.Equal(t, rules.View(rules.New(rally.A), rally.A).Hands, rules.View(next, rally.A).Hands)
	s = play(t, rules, next, "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A")
	require.Contains(t, codes(g.Now(s)), words.Code("duty.change-ends"))
}

// A time-out that is charged with a penalty which ends the game is not noted
// for the coming one.
func TestTimeOutChargedWithTheEndOfAGame(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11-of3@2022")
	s := play(t, rules, rules.New(rally.A), "A", "tfB")
	list, _ := g.After(s, event(t, "lostB"))
	require.NotContains(t, codes(list), words.Code("duty.note-time-out.between"))
	require.Contains(t, codes(list), words.Code("duty.say-forfeit-game"))
}

// 4.J: a game of side-out doubles opens with "zero, zero, two"; where the event
// sets it so, with "start" instead of the number.
func TestCallsInWords(t *testing.T) {
	say := words.English().Say
	g, rules := guide(t, "sideout-doubles-21@2025")
	s := play(t, rules, rules.New(rally.A), "gA1B1")
	require.Equal(t, "zero, zero, two", say(g.Call(s)))
	start, _ := guide(t, "sideout-doubles-21@2025+opening-word=start")
	require.Equal(t, "zero, zero, start", say(start.Call(s)))
	s = play(t, rules, s, "A", "A", "B", "B", "A")
	require.Equal(t, "one, two, two", say(g.Call(s)))
	require.Equal(t, "one, two, two", say(start.Call(s)))
	g, rules = guide(t, "sideout-singles-21@2025")
	s = play(t, rules, rules.New(rally.B), strings.Split(strings.Repeat("B,", 10)+"B", ",")...)
	require.Equal(t, "eleven, zero", say(g.Call(s)))
	require.Equal(t, "no score is called now", say(g.Call(rally.State{})))
}

// What is said aloud is what referees say, and no word has two senses.
func TestSpokenWords(t *testing.T) {
	english := words.English()
	g, rules := guide(t, "sideout-doubles-11@2025")
	for f, want := range map[rally.Fault]string{rally.FootFault: `"foot fault"`, rally.VolleyZone: `"fault, non-volley zone"`, rally.TenSeconds: `"fault, ten seconds"`,
		rally.ShortServe: `"short"`, rally.OutOfBounds: `"out"`, rally.NetTouch: `"fault, touching the net or a post"`, rally.OtherFault: `"fault"`} {
		fault, _ := g.Fault(f)
		require.Equal(t, want, english.Say(fault.Said), f.String())
	}
	s := play(t, rules, rules.New(rally.A), "gA1B1")
	require.Contains(t, codes(g.Duties(s, referee.DuringRally)), words.Code("duty.line-appeal"))
	s = play(t, rules, s, "A", "A", "A", "A", "A", "A")
	require.Contains(t, codes(g.Duties(s, referee.EndChange)), words.Code("duty.no-coaching"))
	s = play(t, rules, s, "A", "A", "A", "A", "A")
	require.Contains(t, english.Say(g.Now(s)[0].Text), "11 to 0.", "a single game is announced with its score")
	older, rulesOf2017 := guide(t, "sideout-doubles-11@2017")
	require.NotContains(t, codes(older.Now(play(t, rulesOf2017, rulesOf2017.New(rally.A), "gA1B1", "tB"))), words.Code("duty.coaching"), "read from 2018 on")

	g, rules = guide(t, "sideout-singles-11@2025")
	s = play(t, rules, rules.New(rally.A), "gA1B1")
	require.Contains(t, english.Say(g.WhyServer(s)), "serves as the side that serves first, or that won the last rally")
	require.Contains(t, english.Say(g.WhyServer(play(t, rules, s, "B"))), "serves because that side won the last rally")
	require.Contains(t, english.Say(g.WhyServer(play(t, rules, s, "A"))), "serves because that side won the last rally")
	require.Contains(t, english.Say(g.WhyServer(play(t, rules, s, "tfB"))), "or that won the last rally", "a penalty point is no rally")
}
