package rally_test

import (
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/leanovate/gopter"
	"github.com/leanovate/gopter/gen"
	"github.com/leanovate/gopter/prop"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Properties of single games are stated over a list of rally winners.

func winners() gopter.Gen { return gen.SliceOfN(90, gen.Bool()) }

func side(aWon bool) rally.Side {
	if aWon {
		return rally.A
	}
	return rally.B
}

// moment is a state between two rallies with what led to it.
type moment struct {
	rules  *rally.Rules
	before rally.State
	after  rally.State
	did    rally.Effects
	winner rally.Side
}

// play plays winners from the start of a game of a format until the game or
// the list ends, and reports each rally.
func play(id string, list []bool, check func(moment) bool) bool {
	rules := rally.MustCompile(mustParse(id))
	s := rules.New(rally.A)
	for _, w := range list {
		next, did, refusal := rules.Apply(s, rally.RallyTo(side(w)))
		if refusal != rally.NotRefused {
			return false
		}
		if !check(moment{rules, s, next, did, side(w)}) {
			return false
		}
		if s = next; s.Phase() != rally.Playing {
			return true
		}
	}
	return true
}

func properties(t *testing.T, add func(p *gopter.Properties)) {
	parameters := gopter.DefaultTestParametersWithSeed(20261125)
	if testing.Short() {
		parameters.MinSuccessfulTests = 20
	}
	p := gopter.NewProperties(parameters)
	add(p)
	p.TestingRun(t)
}

// starterRight reports whether a side's starting server stands right.
func starterRight(m moment, s rally.Side) bool {
	st, _ := m.after.Starters()
	return m.rules.Places(m.after).At[s][rally.Right] == st[s]
}

func TestPropertiesOfGames(t *testing.T) {
	properties(t, func(p *gopter.Properties) {
		for _, id := range []string{"sideout-doubles-11@2025", "rally-doubles-15@2025", "rally-doubles-21@2026"} {
			p.Property(id+": a starting server stands right exactly while his side's score is even", prop.ForAll(
				func(list []bool) bool {
					return play(id, list, func(m moment) bool {
						if m.after.Phase() != rally.Playing {
							return true
						}
						return starterRight(m, rally.A) == (m.after.Score(rally.A)%2 == 0) &&
							starterRight(m, rally.B) == (m.after.Score(rally.B)%2 == 0)
					})
				}, winners()))
		}
		p.Property("receivers never move under side-out", prop.ForAll(func(list []bool) bool {
			return play("sideout-doubles-15@2025", list, func(m moment) bool {
				serving, playing := m.before.Serving()
				if !playing || m.after.Phase() != rally.Playing {
					return true
				}
				r := serving.Other()
				return m.rules.Places(m.before).At[r] == m.rules.Places(m.after).At[r]
			})
		}, winners()))
		p.Property("lost services fix side and number, and rallies are points and lost services", prop.ForAll(
			func(list []bool) bool {
				lost, rallies := 0, 0
				return play("sideout-doubles-11@2025", list, func(m moment) bool {
					rallies++
					if m.did&(rally.SideOut|rally.SecondServer) != 0 {
						lost++
					}
					if rallies != m.after.Score(rally.A)+m.after.Score(rally.B)+lost {
						return false
					}
					if m.after.Phase() != rally.Playing {
						return true
					}
					number := m.rules.Places(m.after).Number
					serving, _ := m.after.Serving()
					want := []struct {
						side   rally.Side
						number uint8
					}{{rally.A, 2}, {rally.B, 1}, {rally.B, 2}, {rally.A, 1}}[lost%4]
					return serving == want.side && number == want.number
				})
			}, winners()))
		for _, id := range []string{"sideout-doubles-21@2025", "badminton-doubles-15-of3@badminton-2005"} {
			p.Property(id+": courts alternate within a side's turn", prop.ForAll(func(list []bool) bool {
				return play(id, list, func(m moment) bool {
					if m.before.Phase() != rally.Playing || m.after.Phase() != rally.Playing || m.did.Has(rally.SideOut) {
						return true
					}
					return m.rules.Places(m.before).Court != m.rules.Places(m.after).Court
				})
			}, winners()))
		}
		// Law 11.4 of the Laws of Badminton (read): initial server, partner of
		// the initial receiver, partner of the initial server, initial receiver.
		p.Property("badminton doubles: service changes fix the server", prop.ForAll(func(list []bool) bool {
			changes := 0
			cycle := []rally.Person{rally.A1, rally.B2, rally.A2, rally.B1}
			return play("badminton-doubles-21-of3", list, func(m moment) bool {
				if m.did.Has(rally.SideOut) {
					changes++
				}
				return m.after.Phase() != rally.Playing || m.rules.Places(m.after).Server == cycle[changes%4]
			})
		}, winners()))
		// Law 11 of the laws before 2006 (read) is side-out doubles with
		// another end of the game.
		p.Property("pre-2006 badminton doubles is side-out doubles while neither has won", prop.ForAll(
			func(list []bool) bool {
				pickle := rally.MustCompile(mustParse("sideout-doubles-15@2025"))
				other := pickle.New(rally.A)
				return play("badminton-doubles-15-of3@badminton-2005", list, func(m moment) bool {
					other, _, _ = pickle.Apply(other, rally.RallyTo(m.winner))
					if m.after.Phase() != rally.Playing || other.Phase() != rally.Playing {
						return true
					}
					return m.rules.Places(m.after) == pickle.Places(other) &&
						m.after.Score(rally.A) == other.Score(rally.A) && m.after.Score(rally.B) == other.Score(rally.B)
				})
			}, winners()))
		p.Property("rally scoring of 2026: every rally is a point, its winner serves", prop.ForAll(func(list []bool) bool {
			return play("rally-doubles-21@2026", list, func(m moment) bool {
				serving, playing := m.after.Serving()
				return m.did.Has(rally.Point) && (!playing || serving == m.winner)
			})
		}, winners()))
	})
}

// TestFinalsReached compares the finals that games really end at with those
// the format calls legal, over every game to a bounded length.
func TestFinalsReached(t *testing.T) {
	for _, id := range everyFormat() {
		f := mustParse(id)
		g := f.Game
		rules := rally.MustCompile(f)
		const beyond = 4
		reached := map[[2]int]bool{}
		type node struct{ s rally.State }
		seen := map[node]bool{}
		opening, _, refusal := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
		require.Equal(t, rally.NotRefused, refusal)
		todo := []rally.State{opening}
		for len(todo) > 0 {
			s := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for w := rally.A; w <= rally.B; w++ {
				next, _, _ := rules.Apply(s, rally.RallyTo(w))
				switch {
				case seen[node{next}]:
				case next.Phase() != rally.Playing:
					reached[[2]int{next.Score(rally.A), next.Score(rally.B)}] = true
				case max(next.Score(rally.A), next.Score(rally.B)) < int(g.Target)+beyond:
					todo = append(todo, next)
				}
				seen[node{next}] = true
			}
		}
		legal := map[[2]int]bool{}
		for a := range int(g.Target) + beyond {
			for b := range int(g.Target) + beyond {
				if g.Final(uint8(a), uint8(b)) {
					legal[[2]int{a, b}], legal[[2]int{b, a}] = true, true
				}
			}
		}
		for score := range reached {
			if max(score[0], score[1]) < int(g.Target)+beyond {
				require.True(t, legal[score], "%s ends at %v", id, score)
			}
		}
		for score := range legal {
			require.True(t, reached[score], "%s never ends at %v", id, score)
		}
	}
}

// wild are all sorts of events, well formed or not.
func wild(rng *rand.Rand) rally.Event {
	kinds := rally.Kinds()
	k := kinds[rng.IntN(len(kinds))]
	switch rng.IntN(12) {
	case 0:
		return rally.Event(rng.Uint64())
	case 1:
		return rally.Event(k) | rally.Event(rng.Uint64()&0xffff)<<7
	case 2, 3, 4:
		return rally.RallyTo(rally.Side(rng.IntN(2)))
	case 5:
		return incidentEvent(rng)
	case 6:
		return rally.Start(rally.Side(rng.IntN(2)), rally.Starters{rally.Person(rng.IntN(2)), rally.B1 + rally.Person(rng.IntN(2))})
	case 7:
		return rally.FaultTo(rally.Side(rng.IntN(2)), rally.Faults()[rng.IntN(len(rally.Faults()))])
	}
	return rally.OfPerson(k, rally.Person(rng.IntN(4)))
}

func incidentEvent(rng *rand.Rand) rally.Event {
	i := rally.Incident{Mistakes: rally.Mistakes(rng.IntN(256)), Reach: rally.Reach(rng.IntN(6)),
		Stopper: rally.Stopper(rng.IntN(4)), Misled: rng.IntN(4) == 0, Asked: rng.IntN(4) == 0}
	if rng.IntN(3) == 0 {
		i.Claimed, i.Claim = true, rally.Mistake(rng.IntN(8))
	}
	if rng.IntN(2) == 0 {
		return rally.EventOf(rally.Stop).WithIncident(i)
	}
	i.Since = rally.Since(rng.IntN(6))
	return rally.RallyTo(rally.Side(rng.IntN(2))).WithIncident(i)
}

// roam visits states by wild events and reports each accepted and refused one.
func roam(t *testing.T, id string, seed uint64, steps int, visit func(rules *rally.Rules, before rally.State, e rally.Event, after rally.State, did rally.Effects, refusal rally.Refusal)) {
	rules := rally.MustCompile(mustParse(id))
	rng := rand.New(rand.NewPCG(seed, 3))
	s := rules.New(rally.A)
	for range steps {
		e := wild(rng)
		next, did, refusal := rules.Apply(s, e)
		visit(rules, s, e, next, did, refusal)
		if s = next; s.Phase() == rally.Closed || rng.IntN(150) == 0 {
			s = rules.New(rally.Side(rng.IntN(2)))
		}
		if rng.IntN(200) == 0 {
			s = rally.State{}
		}
	}
}

// roamed are formats of every order and of the editions that rule differently.
var roamed = []string{"sideout-doubles-11-of3@1999", "sideout-doubles-11-of3@2013", "sideout-doubles-11-of3@2017",
	"sideout-singles-11-of3@2018", "sideout-doubles-11-of3@2020", "sideout-doubles-15@2022", "sideout-doubles-11-of3@2023",
	"sideout-doubles-11-of3@2023-08", "rally-doubles-15-of3@2025", "rally-doubles-11-of3@2026", "rally-singles-7@2026",
	"fixed-doubles-21-leader-and-trailer@2025", "fixed-doubles-21@2025+fixed-court-foul=same-server", "swap-doubles-11@2025",
	"swap-doubles-11@2025+swap-foul=stay", "half-court-singles-11@2025", "badminton-doubles-21-of3", "badminton-singles-21-of3"}

func TestRefusedEventsChangeNothingAndLinesRoundTrip(t *testing.T) {
	for _, id := range roamed {
		t.Run(id, func(t *testing.T) {
			t.Parallel()
			accepted := 0
			roam(t, id, 5, steps(40_000), func(rules *rally.Rules, before rally.State, e rally.Event, after rally.State, did rally.Effects, refusal rally.Refusal) {
				if refusal != rally.NotRefused {
					if before != after || did != 0 {
						require.Fail(t, "a refused event did something", "%s refused %s", id, e)
					}
					return
				}
				accepted++
				line := rules.Line(after)
				if got, err := rules.ParseLine(line); err != nil || got != after {
					require.Fail(t, "the line does not come back", "%s: %s after\n%s: %v, %v", id, e, rules.Line(before), got, err)
				}
				text := e.String()
				if again, err := rally.ParseEvent(text); err != nil || again != e {
					require.Fail(t, "the event does not come back", "%s: %v, %v", text, again, err)
				}
			})
			require.Greater(t, accepted, steps(40_000)/20)
		})
	}
}

// steps is how many steps a test takes that tries so many in an ordinary run.
func steps(n int) int {
	switch {
	case testing.Short():
		return n / 10
	case os.Getenv("EVENCOURT_DEEP") != "":
		return n * 20
	}
	return n
}

func TestAllowedIsExactlyWhatCanCome(t *testing.T) {
	for _, id := range roamed {
		t.Run(id, func(t *testing.T) {
			t.Parallel()
			rng := rand.New(rand.NewPCG(9, 9))
			roam(t, id, 6, steps(1_000), func(rules *rally.Rules, s rally.State, _ rally.Event, _ rally.State, _ rally.Effects, _ rally.Refusal) {
				allowed := rules.Allowed(s)
				for range 60 {
					e := wild(rng)
					if _, _, refusal := rules.Apply(s, e); refusal == rally.NotRefused && !allowed.Has(e.Kind()) {
						require.Fail(t, "not allowed", "%s accepts %s at\n%s", id, e, rules.Line(s))
					}
				}
				for _, k := range rally.Kinds() {
					why := rules.Why(s, rally.OfSide(k, rally.A))
					if allowed != why.Allowed || !allowed.Has(k) && why.Refusal == rally.NotRefused {
						require.Fail(t, "Why says something else than Allowed", "%s: %s at\n%s", id, k, rules.Line(s))
					}
				}
			})
		})
	}
}

// A penalty that ends no game never changes side, server number or the count
// of lost services; positions by parity hold after any event.
func TestPenaltiesMovePlacesOnly(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11-of3@2025", "sideout-doubles-11-of3@2013", "rally-doubles-15-of3@2026"} {
		penalties := 0
		roam(t, id, 8, steps(60_000), func(rules *rally.Rules, before rally.State, e rally.Event, after rally.State, did rally.Effects, refusal rally.Refusal) {
			if after.Phase() != rally.Playing {
				return
			}
			p := rules.Places(after)
			st, _ := after.Starters()
			for side := rally.A; side <= rally.B; side++ {
				require.Equal(t, after.Score(side)%2 == 0, p.At[side][rally.Right] == st[side], rules.Line(after))
			}
			isPenalty := e.Kind() == rally.TechnicalFoul || e.Kind() == rally.TechnicalWarning
			if isPenalty && did.Has(rally.PenaltyPoint) && before.Phase() == rally.Playing {
				penalties++
				was := rules.Places(before)
				require.Equal(t, was.Server, p.Server)
				require.Equal(t, was.Number, p.Number)
			}
		})
		require.Greater(t, penalties, 3, id)
	}
}

// No sequence grants a second medical time-out or more time-outs than the
// table has.
func TestBreaksAreRationed(t *testing.T) {
	for _, id := range roamed {
		var granted [4]int
		used, game := [2]int{}, -1
		roam(t, id, 10, steps(60_000), func(rules *rally.Rules, before rally.State, e rally.Event, after rally.State, did rally.Effects, refusal rally.Refusal) {
			if before.Phase() == rally.Before {
				granted, used, game = [4]int{}, [2]int{}, -1
			}
			if refusal != rally.NotRefused {
				return
			}
			if did.Has(rally.MedicalUsedUp) {
				granted[e.Person()]++
				require.LessOrEqual(t, granted[e.Person()], 1, rules.Line(after))
			}
			coming := before.Game()
			if before.Phase() != rally.Playing {
				coming++
			}
			if coming != game {
				used, game = [2]int{}, coming
			}
			if e.Kind() == rally.TimeOut {
				used[e.Side()]++
				require.LessOrEqual(t, used[e.Side()], rationed(id, coming), rules.Line(after))
			}
		})
	}
}

// A ruling is total over edition, mistakes, reach, what is over, who stopped
// and whether the referee was asked: it gives one of the three outcomes, and
// the line of what comes out is one of the format.
func TestRulingsAreTotal(t *testing.T) {
	for _, e := range format.Editions(format.Pickleball) {
		rules := rally.MustCompile(mustParse("sideout-doubles-11@" + e.String()))
		s, err := rules.ParseLine("L2 game=1 won=0:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----")
		require.NoError(t, err)
		outcomes := map[string]int{}
		for mistakes := range 256 {
			for n := range 6 * 6 * 4 * 2 * 2 {
				i := rally.Incident{Mistakes: rally.Mistakes(mistakes), Reach: rally.Reach(n % 6), Since: rally.Since(n / 6 % 6),
					Stopper: rally.Stopper(n / 36 % 4), Asked: n/144%2 == 1, Misled: n/288 == 1}
				for _, e := range []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B), rally.EventOf(rally.Stop)} {
					if e.Kind() == rally.Stop {
						i.Since = rally.StillLive
					}
					e = e.WithIncident(i)
					next, did, refusal := rules.Apply(s, e)
					// Plain conditions: there are six million combinations.
					switch {
					case refusal == rally.Malformed && mistakes == 0:
						continue
					case refusal != rally.NotRefused, next.Score(rally.A) > 5:
						t.Fatalf("%s: %s at\n%s", e, refusal, rules.Line(next))
					case did.Has(rally.PlayedAgain):
						outcomes["again"]++
					case did.Has(rally.Point):
						outcomes["point"]++
					case did.Has(rally.SecondServer):
						outcomes["second server"]++
					case did.Has(rally.PenaltyPoint):
						outcomes["penalty"]++
					default:
						t.Fatalf("%s: nothing came of it: %s", e, did)
					}
				}
			}
		}
		require.Greater(t, len(outcomes), 2, "%s: %v", e, outcomes)
	}
}

// The share of reachable positions in which score, side and number leave two
// servers is about nine in ten (derived, computed by an independent model).
func TestShareOfAmbiguousCalls(t *testing.T) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2025"))
	start, _, _ := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	servers := map[string]map[rally.Person]bool{}
	seen := map[rally.State]bool{start: true}
	for todo := []rally.State{start}; len(todo) > 0; {
		s := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		serving, _ := s.Serving()
		key := serving.String() + string(rules.AppendCall(nil, s))
		if servers[key] == nil {
			servers[key] = map[rally.Person]bool{}
		}
		servers[key][rules.Places(s).Server] = true
		for w := rally.A; w <= rally.B; w++ {
			next, _, _ := rules.Apply(s, rally.RallyTo(w))
			if next.Phase() == rally.Playing && !seen[next] && next.Score(rally.A)+next.Score(rally.B) < 24 {
				seen[next] = true
				todo = append(todo, next)
			}
		}
	}
	two := 0
	for _, who := range servers {
		if len(who) == 2 {
			two++
		}
	}
	require.InDelta(t, 0.9, float64(two)/float64(len(servers)), 0.06)
}

func TestLogProperties(t *testing.T) {
	properties(t, func(p *gopter.Properties) {
		p.Property("undo then redo is the identity, across games", prop.ForAll(func(list []bool, back int) bool {
			log := rally.NewLog(rally.MustCompile(mustParse("sideout-doubles-11-of3@2025")), rally.State{})
			_, err := log.Enter("gA1B1")
			if err != nil {
				return false
			}
			for _, w := range append(list, list...) {
				if log.State().Phase() != rally.Over {
					log.Apply(rally.RallyTo(side(w)))
				}
			}
			want := log.State()
			var states []rally.State
			for range back {
				if undo(log) != nil {
					return false
				}
				states = append(states, log.State())
			}
			for n := back; n > 0; n-- {
				if log.State() != states[n-1] || redo(log) != nil {
					return false
				}
			}
			return log.State() == want && redo(log) != nil
		}, winners(), gen.IntRange(0, 30)))
		p.Property("a log with entry repairs folds to what the repaired entries fold to", prop.ForAll(
			func(list []bool, picks []int) bool {
				rules := rally.MustCompile(mustParse("rally-doubles-21-of3@2026"))
				log := rally.NewLog(rules, rules.New(rally.A))
				for _, w := range list {
					log.Apply(rally.RallyTo(side(w)))
				}
				clean := append([]bool(nil), list[:log.Len()]...)
				entries := log.Len()
				for _, n := range picks {
					n = n % entries
					if err := amend(log, n+1, rally.RallyTo(side(!clean[n]))); err != nil {
						continue
					}
					clean[n] = !clean[n]
				}
				repaired := rally.NewLog(rules, rules.New(rally.A))
				for _, w := range clean {
					repaired.Apply(rally.RallyTo(side(w)))
				}
				return repaired.State() == log.State()
			}, winners(), gen.SliceOfN(4, gen.IntRange(0, 80))))
		p.Property("the ledger survives a rewind", prop.ForAll(func(list []bool, to int) bool {
			rules := rally.MustCompile(mustParse("sideout-doubles-21@2025"))
			log := rally.NewLog(rules, rules.New(rally.A))
			for i, w := range list[:40] {
				log.Apply(rally.RallyTo(side(w)))
				if i%9 == 3 {
					_, _ = log.Enter("tA")
				}
				if i == 20 {
					_, _ = log.Enter("twB")
					_, _ = log.Enter("mA2")
					_, _ = log.Enter("mA2+")
				}
			}
			now := log.State()
			if now.Phase() != rally.Playing || rewind(log, to) != nil {
				return now.Phase() != rally.Playing
			}
			then := log.State()
			return then.TimeOutsUsed(rally.A) == now.TimeOutsUsed(rally.A) && then.TechnicalWarnings(rally.B) == now.TechnicalWarnings(rally.B) &&
				then.Medical(rally.A2) == now.Medical(rally.A2) && undo(log) == nil && log.State() == now
		}, winners(), gen.IntRange(1, 30)))
	})
}

func TestEveryKindHasATextAndAName(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range rally.Kinds() {
		require.NotEqual(t, "?", k.String())
		require.False(t, seen[k.String()], k.String())
		seen[k.String()] = true
	}
	require.Equal(t, "?", rally.Event(0).String())
	require.Contains(t, strings.Join(rally.Effects(1<<30-1).Names(), " "), "closed")
}

// No score runs past what a state can hold, on the table's path either.
func TestScoresStopAt255(t *testing.T) {
	for _, id := range []string{"sideout-singles-11@2025", "rally-doubles-11@2026", "sideout-doubles-21@2025"} {
		rules := rally.MustCompile(mustParse(id))
		s := rules.New(rally.A)
		for range 2000 { // level all the way: neither side is ever two ahead
			w := rally.A
			if s.Score(rally.A) > s.Score(rally.B) {
				w = rally.B
			}
			next, _, refusal := rules.Apply(s, rally.RallyTo(w))
			if refusal != rally.NotRefused {
				require.Equal(t, rally.NoMorePoints, refusal)
				require.Equal(t, next, s)
				break
			}
			s = next
		}
		require.Equal(t, 255, s.Score(rally.A), id)
		require.Equal(t, 255, s.Score(rally.B), id)
	}
}
