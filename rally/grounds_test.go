package rally_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	alphabets "github.com/evencourt/evencourt/rally/walk"
)

// everything is one alphabet of what can happen besides rallies with incidents.
func everything() []rally.Event {
	out := slices.Concat(alphabets.Play(), alphabets.Openings(), alphabets.Breaks(), alphabets.Penalties())
	for s := rally.A; s <= rally.B; s++ {
		for _, k := range []rally.Kind{rally.Exchange, rally.GameForfeit, rally.MatchForfeit, rally.Retirement, rally.Withdrawal} {
			out = append(out, rally.OfSide(k, s))
		}
		for n := rally.A1; n <= rally.A2; n++ {
			out = append(out, rally.Start(s, rally.Starters{n, rally.B1 + n}))
		}
		out = append(out, rally.FaultTo(s, rally.AbsentPlayer))
	}
	for _, p := range []rally.Person{rally.A1, rally.B2} {
		for _, k := range []rally.Kind{rally.PlayOnAlone, rally.Concussion, rally.Ejection, rally.Expulsion, rally.Substitution} {
			out = append(out, rally.OfPerson(k, p))
		}
	}
	for _, k := range []rally.Kind{rally.Replay, rally.HazardTimeOut, rally.IllnessTimeOut, rally.DoubleForfeit, rally.Abandon,
		rally.ResumePlay, rally.SheetReturned, rally.Undo} {
		out = append(out, rally.EventOf(k))
	}
	return append(out, rally.Event(0))
}

// decided plays every event of an alphabet in the states that random play from
// a root comes by, and in some of them rallies with every incident, and hands
// each decision to see.
func decided(r *rally.Rules, seed uint64, n int, see func(rally.State, rally.Event, rally.Effects, rally.Refusal, rally.Grounds)) {
	alphabet, incidents := everything(), alphabets.Incidents()
	rng := rand.New(rand.NewPCG(seed, 3))
	s := r.New(rally.A)
	fresh := []rally.State{{}, s}
	ask := func(events []rally.Event) (next []rally.State) {
		for _, e := range events {
			to, did, refusal, by := r.Decide(s, e)
			see(s, e, did, refusal, by)
			if refusal == rally.NotRefused {
				next = append(next, to)
			}
		}
		return next
	}
	for step := range n {
		next := ask(alphabet)
		if step%100 == 50 && s.Phase() == rally.Playing {
			next = append(next, ask(incidents)...)
		}
		switch {
		case len(next) == 0 || s.Phase() >= rally.Over && rng.IntN(4) == 0:
			s = fresh[rng.IntN(2)]
		case s.Phase() == rally.Playing && rng.IntN(3) > 0:
			if to, _, refusal := r.Apply(s, rally.RallyTo(rally.Side(rng.IntN(2)))); refusal == rally.NotRefused {
				s = to
				continue
			}
			s = next[rng.IntN(len(next))]
		default:
			s = next[rng.IntN(len(next))]
		}
	}
}

// notTurnedOn are clauses of the engine on which no decision turns, by the reason.
var notTurnedOn = map[string][]format.Clause{
	"the order of service is shown by the places after any rally and is one step without branches": {clause.StartPlace,
		clause.HoldsServe, clause.TwoServers, clause.OpeningTurn, clause.SideOutRight, clause.Parity, clause.FirstServer,
		clause.SecondServer, clause.ReceiversStay, clause.SinglesPlace, clause.SinglesSideOut, clause.FixedCourts, clause.HalfCourt,
		clause.SwapOnServe, clause.RallyOneServer, clause.RallyFirstServer, clause.BadmintonSingles, clause.BadmintonDoubles,
		clause.BadmintonHands, clause.BadmintonLet, clause.FoulKeepsServe, clause.TableTennisTurns, clause.TableTennisDoubles,
		clause.TableTennisExchange, clause.TableTennisCourt, clause.TieBreakTurns, clause.TieBreakCourts, clause.BeachTurns,
		clause.SquashDoublesTurns},
	"who scores, and what a game or a match is, stands in the format": {clause.ServerOnlyScores, clause.RallyOption, clause.RallyTargets,
		clause.RallyTo7, clause.RallyAnySideWins, clause.RallyPointOnServe, clause.RallyMargin, clause.MatchFormats, clause.ClubMargins,
		clause.ClubTimeOuts, clause.ClubEndChange, clause.BadmintonGame, clause.BadmintonEnds, clause.EndChangeUnplayed, clause.FreezeIsNow,
		clause.TableTennisGame, clause.TableTennisEnds, clause.TieBreakGame, clause.BeachGame, clause.SquashDoublesGame},
	"a call, or a word of the referee": {clause.CallDoubles, clause.CallSingles, clause.CallRally, clause.OpeningCall,
		clause.TrueNumber, clause.FaultInLivePlay, clause.Delay, clause.EndChangeMissed, clause.StarterBand},
	"a clock, or what qualified people say when it has run out": {clause.MedicalExpired},
	"a penalty never asks for a freeze":                         {clause.PenaltyIsNoRally},
	"the log asks it, not an event":                             {clause.LastPointFinal},
}

// frozen is a game in which A has twenty points and wins a rally as receivers.
var frozen = "gA1B1 " + strings.Repeat("A ", 20) + "B A"

// turnsOn are decisions that random play seldom comes by or that only the rules
// of an event bring: the last of some events from the start of a match, or from
// the score in it, turns on a clause.
var turnsOn = []struct {
	format, events string
	clause         format.Clause
}{
	{"table-tennis-doubles-11-of3", "gA1B1 A A A A A A A A A A A gB1A2", clause.TableTennisReceiver},
	{"beach-doubles-21-of3+target=15", "gA1B1 tA tA", clause.BeachTimeOutsLast},
	{"sideout-doubles-11@1999", "gA1B1 A?server A?server", clause.OrderSecondOffence},
	{"sideout-doubles-11@1999", "gA1B1 A?server A?server", clause.SecondOffenceIgnored},
	{"sideout-doubles-11@1999+second-offence=counts", "gA1B1 A?server A?server", clause.SecondOffenceCounts},
	{"sideout-doubles-11@1999", "gA1B1 A A A A A A A A A A A?server", clause.WonStaysWon},
	{"badminton-doubles-21-of3@badminton-2006", "gA1B1 stop?server,struck,byA", clause.OrderCorrected},
	{"sideout-doubles-11@2026+late-receiver=fault", "gA1B1 A?receiver,rallyover", clause.LateReceiverFault},
	{"sideout-doubles-11@2026+late-side=stands", "gA1B1 A?side,rallyover", clause.LateSideStands},
	{"sideout-doubles-11@2022+both-wrong=receiving-side", "gA1B1 stop?server,receiver,returned,byref", clause.BothWrongReceivers},
	{"sideout-doubles-11@2022", "gA1B1 B stop?server,struck,byref A?server", clause.FaultAgain},
	{"sideout-doubles-11@2022+fault-again=excused", "gA1B1 B stop?server,struck,byref A?server", clause.FaultAgainExcused},
	{"sideout-doubles-11@2021", "gA1B1 stop?call,returned,byB", clause.ScoreBeforeThird},
	{"rally-doubles-7@2026", "gA1B1 tA tA tA", clause.TimeOutsTo7},
	{"sideout-doubles-21@2026", "gA1B1 tA tA tA tA", clause.TimeOutsTo21},
	{"sideout-doubles-11@2025", "gA1B1 tA tA mA1 mA1-", clause.MedicalInvalidFoul},
	{"sideout-doubles-11@2025", "gA1B1 mA1 mA1+ in mA2", clause.MedicalPartner},
	{"sideout-doubles-11@2025", "gA1B1 mA1 mA1+ tA", clause.MedicalWithTimeOuts},
	{"sideout-doubles-11@2023", "gA1B1 mA1 mA1+ tA", clause.MedicalEnds},
	{"sideout-doubles-11@2025+warning-scope=game", "gA1B1 twA twA", clause.SecondWarningGame},
	{"sideout-doubles-11@2025+two-fouls=game-forfeit", "gA1B1 tfA tfA", clause.TwoFoulsGame},
	{"sideout-doubles-11@2025+made-foul-counts=no", "gA1B1 twA twA tfA", clause.MadeFoulApart},
	{"sideout-doubles-11-of3@2021+warning-between=no", "gA1B1 twA A A A A A A A A A A A twA", clause.NoWarningBetween},
	{"sideout-doubles-11-of3@2021", "gA1B1 twA A A A A A A A A A A A twA", clause.WarningBetween},
	{"sideout-doubles-11@2025+awarded-point-wins=no", "gA1B1 A A A A A A A A A A tfB", clause.AwardedPointWinsNot},
	{"sideout-doubles-11@2025", "gA1B1 A A A A A A A A A A tfB", clause.AwardedPointWins},
	{"rally-doubles-11@2026", "gA1B1 A A A A A A A A A A B B B B B B B B B B A tfB", clause.RemovedPointEndsNot},
	{"rally-doubles-11@2026+removed-point-wins=yes", "gA1B1 A A A A A A A A A A B B B B B B B B B B A tfB", clause.RemovedPointEnds},
	{"sideout-doubles-11@2025", "gA1B1 A A A A A tfB", clause.PenaltyEndChange},
	{"sideout-doubles-11@2025+penalty-end-change=no", "gA1B1 A A A A A tfB", clause.PenaltyNoEndChange},
	{"fixed-doubles-21@2025", "gA1B1 A tfA", clause.FixedCourtFoulParity},
	{"fixed-doubles-21@2025+fixed-court-foul=same-server", "gA1B1 A tfA", clause.FixedCourtFoulSame},
	{"swap-doubles-11@2025", "gA1B1 A tfA", clause.SwapFoulSwaps},
	{"swap-doubles-11@2025+swap-foul=stay", "gA1B1 A tfA", clause.SwapFoulStays},
	{"sideout-doubles-11@2025", "gA1B1 A tfA", clause.FoulPlaces},
	{"fixed-doubles-21-win-on-serve@2025", frozen, clause.FreezeWinningPoint},
	{"fixed-doubles-21-each-at-point@2025", frozen, clause.FreezeEach},
	{"fixed-doubles-21-leader-and-trailer@2025", frozen, clause.FreezeLeaderTrailer},
	{"fixed-doubles-21-both-at-point@2025", frozen, clause.FreezeBoth},
	{"sideout-doubles-11@2025", "gA1B1 tA tB", clause.TimeOutAgain},
	{"sideout-doubles-11@2025", "gA1B1 tA A", clause.TimeOutOver},
	{"sideout-doubles-11@2025", "cwA1 cwA2=", clause.CarriedFromPair},
	{"sideout-doubles-11@2025", "gA1B1 B:ten", clause.TenSeconds},
	{"sideout-doubles-11@2025", "gA1B1 B:net", clause.LostRally},
	{"sideout-doubles-11@2025", "gA1B1 B:timeout", clause.TimeOutLate},
	{"sideout-doubles-11@2025", "gA1B1 A A A A A A", clause.EndChangeSingle},
	{"sideout-doubles-11-of3@2025", "gfA gB1A1 gfB gA1B1 A A A A A A", clause.EndChangeLast},
	{"sideout-doubles-11-of3@2025", "gA1B1 gfA gB1A1", clause.AfterGameForfeit},
}

// TestEveryDecisionNamesItsClause asks of every decision about every event in
// every edition: a refusal and a ruling name a clause, and it stands in the
// edition. Together they turn on every clause that the engine decides by.
func TestEveryDecisionNamesItsClause(t *testing.T) {
	seen := map[format.Clause]bool{}
	note := func(by rally.Grounds) { seen[by.First()], seen[by.Second()] = true, true }
	var editions []format.Edition
	for _, d := range format.Documents() {
		editions = append(editions, format.Editions(d)...)
	}
	for _, e := range editions {
		for _, shape := range []string{"sideout-doubles-11-of3", "sideout-singles-15", "rally-doubles-21-of3", "fixed-doubles-21",
			"fixed-doubles-21-leader-and-trailer", "swap-doubles-11", "half-court-singles-11", "badminton-doubles-15-of3", "badminton-singles-21-of3",
			"table-tennis-doubles-11-of3", "table-tennis-singles-21-of3", "tie-break-10", "beach-doubles-21-of3", "squash-doubles-11"} {
			f, err := format.Named(shape, e)
			if err != nil {
				continue
			}
			r := rally.MustCompile(f)
			decided(r, uint64(e), steps(2000), func(s rally.State, event rally.Event, did rally.Effects, refusal rally.Refusal, by rally.Grounds) {
				note(by)
				_, rides := event.Incident()
				if by == 0 && (refusal != rally.NotRefused || rides) {
					t.Fatalf("%s: %s (%s, %s) names no clause at %s", f.ID(), event, refusal, did, r.Line(s))
				}
				if e.Document() != format.Pickleball {
					return // what is no law there is brought by the rules of the event
				}
				for _, c := range []format.Clause{by.First(), by.Second()} {
					if c != 0 && !c.In(e) {
						t.Fatalf("%s: %s (%s, %s) by %s, which does not stand, at %s", f.ID(), event, refusal, did, c, r.Line(s))
					}
				}
			})
		}
	}
	for _, d := range turnsOn {
		f, err := format.Parse(d.format)
		require.NoError(t, err, d.format)
		r := rally.MustCompile(f)
		s, by := r.New(rally.A), rally.Grounds(0)
		for _, text := range strings.Fields(d.events) {
			e, err := rally.ParseEvent(text)
			require.NoError(t, err, d)
			s, _, _, by = r.Decide(s, e)
		}
		require.Contains(t, []format.Clause{by.First(), by.Second()}, d.clause, "%s %s: %s, %s", d.format, d.events, by.First(), by.Second())
		note(by)
	}
	excused := map[format.Clause]bool{}
	for reason, clauses := range notTurnedOn {
		for _, c := range clauses {
			require.False(t, seen[c], "%s is turned on, though %s", c, reason)
			excused[c] = true
		}
	}
	for _, c := range format.Clauses() {
		if c.Status().String() == "engine" && !seen[c] && !excused[c] {
			t.Errorf("no decision turns on %s", c)
		}
	}
}

// What Why explains is what decided, with its source in the edition, and not what the
// kind of event is usually refused by.
func TestWhySaysWhatDecided(t *testing.T) {
	for _, c := range []struct {
		name, format, events, asked string
		want                        []format.Clause
	}{
		{"no penalties in badminton", "badminton-doubles-21-of3", "gA1B1", "vwA", []format.Clause{clause.BadmintonMisconduct}},
		{"nor technical ones", "badminton-doubles-21-of3", "gA1B1", "twA", []format.Clause{clause.BadmintonMisconduct}},
		{"a lost challenge between games, where no foul can follow", "sideout-doubles-11-of3@2021+warning-between=no",
			"gA1B1 " + strings.Repeat("A ", 11) + "tA in tA in twA", "lostA", []format.Clause{clause.ChallengeLost, clause.NoWarningBetween}},
		{"a time-out with none left", "sideout-doubles-11@2025", "gA1B1 tA in tA in", "tA", []format.Clause{clause.TimeOutNoneLeft, clause.TimeOutsTo11}},
	} {
		t.Run(c.name, func(t *testing.T) {
			log := begin(t, c.format, words(c.events)...)
			e, err := rally.ParseEvent(c.asked)
			require.NoError(t, err)
			var told []format.Clause
			for _, g := range log.Rules().Why(log.State(), e).Grounds {
				told = append(told, g.Clause)
				source, stands := g.Clause.Source(log.Rules().Format().Edition)
				require.Equal(t, source, g.Source)
				require.Equal(t, !stands, g.Setting)
			}
			require.Equal(t, c.want, told)
		})
	}
}
