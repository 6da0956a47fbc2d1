package pack

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/serviceorder"
)

// What is published, read back: whoever has the file alone has this.
func published(t *testing.T) *Pack {
	t.Helper()
	text, err := os.ReadFile("pack.json")
	require.NoError(t, err)
	var p Pack
	require.NoError(t, json.Unmarshal(text, &p))
	return &p
}

func TestDigestIsThatOfTheRest(t *testing.T) {
	p, err := New()
	require.NoError(t, err)
	require.Equal(t, published(t).Digest, p.Digest)
	p.Digest = ""
	text, err := Marshal(p)
	require.NoError(t, err)
	sum := sha256.Sum256(text)
	require.Equal(t, hex.EncodeToString(sum[:]), published(t).Digest)
}

// Every shape in every edition has its games and its match in the pack, and no
// other edition of it is there.
func TestFormatsComeBack(t *testing.T) {
	p := published(t)
	found := map[string]format.Format{}
	for _, row := range slices.Concat(p.Core.Formats, p.Sports.Formats) {
		id, at := row[0].(string), func(i, or int) uint8 {
			if i >= len(row) {
				return uint8(or)
			}
			return uint8(row[i].(float64))
		}
		for _, target := range strings.Fields(row[1].(string)) {
			for _, length := range strings.Fields(row[2].(string)) {
				points, err := strconv.Atoi(target)
				require.NoError(t, err)
				games, err := strconv.Atoi(length)
				require.NoError(t, err)
				g := format.Game{Sides: format.Sides(at(5, 0)), Scorer: format.Scorer(at(6, 0)), Servers: at(7, 0), Order: format.Order(at(8, 0)),
					Target: uint8(points), WinBy: at(9, 0), Cap: at(10, 0), Freeze: format.Freeze(at(11, 0)), Serves: at(14, 0), FirstTurn: at(15, 1), ChangeEndsEvery: at(16, 0)}
				last := g
				if n := at(18, 0); n != 0 {
					last.Target = n
				}
				last.ChangeEndsEvery = at(17, 0)
				switch at(13, 1) {
				case 1:
					last.ChangeEndsAt = (last.Target + 1) / 2
				case 2:
					last.ChangeEndsAt = last.Target / 2
				}
				if games == 1 {
					g = last
				}
				match := format.Series{Games: uint8(games), NextServe: format.NextServe(at(12, 0)), ChangeEnds: games > 1 && at(19, 0) == 0}
				shape := strings.Replace(id, "*", target, 1)
				if games > 1 {
					shape += "-of" + length
				}
				for n := at(3, 0); n <= at(4, 0); n++ {
					found[shape+"@"+editions()[n].String()] = format.Format{Game: g, Last: last, Match: match}
				}
			}
		}
	}
	seen := 0
	for _, shape := range format.Shapes() {
		for _, e := range editions() {
			f, err := format.Named(shape, e)
			got, in := found[shape+"@"+e.String()]
			require.Equal(t, err == nil, in, "%s@%s", shape, e)
			if !in {
				continue
			}
			seen++
			got.Game.TimeOuts, got.Last.TimeOuts = p.timeOuts(t, got.Game.Target, e), p.timeOuts(t, got.Last.Target, e)
			require.Equal(t, f.Game, got.Game, "%s@%s", shape, e)
			require.Equal(t, f.Last, got.Last, "%s@%s", shape, e)
			require.Equal(t, f.Match, got.Match, "%s@%s", shape, e)
		}
	}
	require.Len(t, found, seen)
}

// timeOuts are those of a game to a target, by the switch that the pack names.
func (p *Pack) timeOuts(t *testing.T, target uint8, e format.Edition) uint8 {
	name := p.timeOutsOf(target)
	for _, row := range p.Core.Switches {
		if row[0] != name {
			continue
		}
		value := p.takes(row, e)
		if value == 0 {
			return 0
		}
		n, err := strconv.Atoi(strings.Fields(row[2])[value-1])
		require.NoError(t, err)
		return uint8(n)
	}
	require.Fail(t, "no switch", name)
	return 0
}

// timeOutsOf is the switch that holds the time-outs of a game to a target.
func (p *Pack) timeOutsOf(target uint8) (name string) {
	for _, row := range p.Core.TimeOuts {
		if row[0].(float64) <= float64(target) {
			name = row[1].(string)
		}
	}
	return name
}

// takes is the number of the value of a switch in an edition.
func (p *Pack) takes(row Switch, e format.Edition) int {
	n, known := slices.Index(editions(), e), len(strings.Fields(p.Core.Editions))
	digits := row[1]
	if n >= known {
		n, digits = n-known, p.Sports.Takes[row[0]]
	}
	if n >= len(digits) {
		return 0
	}
	return int(digits[n] - '0')
}

// The rulings of every edition are in the pack as far as play turns on them.
func TestRulingsComeBack(t *testing.T) {
	p := published(t)
	require.Equal(t, words(editions()), p.Core.Editions+" "+p.Sports.Editions)
	for _, name := range strings.Fields(p.Rulings.Idle) {
		var s format.Switch
		require.NoError(t, s.UnmarshalText([]byte(name)))
		require.NotContains(t, []string{"line", "result"}, s.Moves().String())
	}
	seen := 0
	for i, row := range slices.Concat(p.Core.Switches, p.Rulings.Switches) {
		if i < len(p.Core.Switches) {
			row = append(row, p.Rulings.Clauses[i])
		}
		var s format.Switch
		require.NoError(t, s.UnmarshalText([]byte(row[0])))
		for _, e := range editions() {
			seen++
			r, n := format.RulingsOf(e), p.takes(row, e)
			require.Equal(t, r[s] == 0, n == 0, "%s %s", row[0], e)
			if n != 0 {
				require.Equal(t, r.Text(s), strings.Fields(row[2])[n-1])
				require.Equal(t, r.Clause(s).String(), strings.Fields(row[3])[n-1])
			}
		}
	}
	require.Greater(t, seen, 500)
	require.Equal(t, len(format.Switches()), len(p.Core.Switches)+len(p.Rulings.Switches)+len(strings.Fields(p.Rulings.Idle)))
}

// What an id may set of a switch is what the pack says: a reading of those that it
// lists, or a number up to the most.
func TestOwnValuesAreThoseThatAreTaken(t *testing.T) {
	p := published(t)
	values := map[string][]string{}
	for _, row := range slices.Concat(p.Core.Switches, p.Rulings.Switches) {
		values[row[0]] = strings.Fields(row[2])
	}
	for _, row := range p.Rulings.Own {
		words := strings.Fields(row)
		values[words[0]] = words[1:]
	}
	numbers := 0
	for _, s := range format.Switches() {
		of := values[s.String()]
		require.NotEmpty(t, of, s)
		most, err := strconv.Atoi(of[0])
		if err != nil {
			require.Equal(t, s.Readings(), of, s)
			continue
		}
		numbers++
		require.NoError(t, new(format.Rulings).SetText(s, of[0]), s)
		require.Error(t, new(format.Rulings).SetText(s, strconv.Itoa(most+1)), s)
	}
	require.Equal(t, 14, numbers)
}

// What is known of each clause in each edition is in the pack.
func TestClausesComeBack(t *testing.T) {
	p := published(t)
	require.Len(t, p.Clauses, len(format.Clauses()))
	for _, c := range format.Clauses() {
		known := ""
		rows := strings.Fields(p.Clauses[c.String()])
		for n, e := range editions() {
			if n > 0 && e.Document() != editions()[n-1].Document() {
				known = ""
			}
			for _, row := range rows {
				if from, err := strconv.ParseInt(row[:1], 36, 64); err == nil && int(from) == n {
					known = strings.TrimPrefix(row[1:], "-")
				}
			}
			source, stands := c.Source(e)
			if !stands {
				require.Empty(t, known, "%s %s", c, e)
				continue
			}
			require.Equal(t, source.Rule+letter(source.Mark), known, "%s %s", c, e)
		}
	}
	letters := map[string]bool{}
	for m := format.Read; !strings.HasPrefix(m.String(), "?"); m++ {
		letters[letter(m)] = true
	}
	require.Len(t, letters, 7, "each mark has a letter of its own")
}

// Of every switch, shape and edition: a reading of one's own is refused exactly where
// the pack says that nobody would ask for it.
func TestNeedsAndAskedAreThoseOfTheLibrary(t *testing.T) {
	p := published(t)
	probed, refusals := map[string]int{}, map[string]int{}
	for _, shape := range format.Shapes() {
		for _, e := range editions() {
			base, err := format.Named(shape, e)
			if err != nil {
				continue
			}
			for _, s := range format.Switches() {
				name := s.String()
				if slices.Contains(strings.Fields(p.Rulings.Idle), name) {
					continue
				}
				inForce := len(needs[name]) == 0
				for _, id := range needs[name] {
					c, err := format.ClauseNamed(id)
					require.NoError(t, err)
					inForce = inForce || base.Rulings.Takes(c)
				}
				both := []format.Game{base.Game, base.Last}
				inForce = inForce && slices.ContainsFunc(both, func(g format.Game) bool { return p.isAsked(t, name, &g) })
				values := s.Readings()
				if new(format.Rulings).SetText(s, values[0]) != nil {
					values = []string{"1"} // a number
				}
				for _, value := range values {
					own := base
					if own.Rulings.SetText(s, value) != nil || own.Rulings == base.Rulings {
						continue
					}
					probed[name]++
					// What only this reading makes idle is of other switches.
					err := own.Validate()
					refused := err != nil && strings.Contains(err.Error(), "rulings."+name+":")
					require.Equal(t, !inForce, refused, "%s=%s in %s@%v: %v", name, value, shape, e, err)
					if refused {
						refusals[name]++
					}
				}
			}
		}
	}
	for name := range needs {
		require.NotZero(t, refusals[name], "%s is never refused", name)
	}
	for name := range asked {
		require.NotZero(t, refusals[name], "%s is never refused", name)
		require.Less(t, refusals[name], probed[name], "%s is never taken", name)
	}
	require.Len(t, probed, len(p.Core.Switches)+len(p.Rulings.Switches))
}

// isAsked reports whether a game has what the pack says that a switch is asked under.
func (p *Pack) isAsked(t *testing.T, name string, g *format.Game) bool {
	t.Helper()
	if strings.HasPrefix(name, "time-outs-") {
		return name == p.timeOutsOf(g.Target)
	}
	switch field, value, has := strings.Cut(asked[name], "="); {
	case !has:
		return true
	case field == "order":
		return g.Order.String() == value
	case field == "servers":
		return strconv.Itoa(int(g.Servers)) == value
	default:
		require.Fail(t, "unknown field", field)
		return false
	}
}

// An event of every kind that has a clause of its own is taken by it in some match, so
// that none is said of a kind that does not go by it; and the kinds of the rulings and of
// the core are all there are.
func TestTakenIsSaidByTheLibrary(t *testing.T) {
	seen := map[rally.Kind]map[format.Clause]bool{}
	next := rand.New(rand.NewPCG(5, 6))
	ends := []rally.Kind{rally.GameForfeit, rally.MatchForfeit, rally.DoubleForfeit, rally.Retirement, rally.Withdrawal, rally.Abandon, rally.SheetReturned, rally.Concussion}
	for _, id := range []string{"sideout-doubles-11-of3@2024", "fixed-doubles-21@2026", "sideout-doubles-11-of3@2013", "badminton-doubles-21-of3"} {
		f, err := format.Parse(id)
		require.NoError(t, err)
		r, err := rally.Compile(f)
		require.NoError(t, err)
		for range 400 {
			s := r.New(rally.A)
			if next.IntN(4) == 0 {
				s = rally.State{}
			}
			for range 80 {
				e := rally.RallyTo(rally.Side(next.IntN(2)))
				if next.IntN(3) == 0 {
					k := rally.Kinds()[next.IntN(int(rally.Undo)-1)]
					if k == rally.Stop || slices.Contains(ends, k) && next.IntN(12) != 0 {
						continue
					}
					switch k {
					case rally.StartGame:
						first := rally.Side(next.IntN(2))
						e = rally.Start(first, rally.Starters{rally.A1, rally.B1})
					case rally.FirstChoice:
						e = rally.Choose(rally.Side(next.IntN(2)), rally.ChooseServe)
					case rally.LateArrival:
						e = rally.Late(rally.Side(next.IntN(2)), 700)
					default:
						text := rally.OfSide(k, rally.Side(next.IntN(2))).String()
						if e, err = rally.ParseEvent(text); err != nil {
							e = rally.EventOf(k)
						}
					}
				}
				var refusal rally.Refusal
				var by rally.Grounds
				s, _, refusal, by = r.Decide(s, e)
				if refusal == rally.NotRefused {
					if seen[e.Kind()] == nil {
						seen[e.Kind()] = map[format.Clause]bool{}
					}
					seen[e.Kind()][by.First()] = true
				}
			}
		}
	}
	for k, c := range taken {
		require.True(t, seen[k][c], "no %v is taken by %v: %v", k, c, seen[k])
	}
	p := published(t)
	own := 0
	for _, k := range rally.Kinds() {
		if k < rally.Undo && !slices.Contains(later, k) {
			own++
			require.Regexp(t, `(^| )`+k.String()+`(:| |$)`, p.Core.Kinds)
		}
	}
	require.Len(t, strings.Fields(p.Core.Kinds), own)
	require.Len(t, strings.Fields(p.Rulings.Kinds), len(later))
}

// playedBy is a format that is played by the masks under a key: order, sides and
// servers by number, then the reading where one decides.
func playedBy(t *testing.T, key string) format.Format {
	t.Helper()
	var order, sides, servers int
	_, err := fmt.Sscanf(key, "%d,%d,%d", &order, &sides, &servers)
	require.NoError(t, err)
	reading := format.Clause(0)
	if i := strings.LastIndex(key, ","); key[i+1] > '9' {
		reading, err = format.ClauseNamed(key[i+1:])
		require.NoError(t, err)
	}
	f, ok := playable(format.Order(order), format.Sides(sides), uint8(servers), reading)
	require.True(t, ok, key)
	return f
}

// Masks that are published, played back by a reader of them that knows no order: games of
// every order come to the same server, receiver and courts as in package serviceorder.
func TestMasksPlayTheirOrder(t *testing.T) {
	_, fits := fit(format.Game{Target: 21, WinBy: 2, Freeze: format.BothAtPoint + 1})
	require.True(t, fits, "an unknown freeze freezes nobody")
	_, ok := playable(format.FixedCourts, format.Singles, 1, 0)
	require.False(t, ok)
	p := published(t)
	orders := maps.Clone(p.Core.Orders)
	maps.Copy(orders, p.Sports.Orders)
	for key, more := range p.Rulings.Orders {
		if o, known := orders[key]; known {
			o.Foul, o.Valid = more.Foul, more.Valid
			more = o
		}
		orders[key] = more
	}
	require.Len(t, orders, 16)
	read := func(masks []int, x int) (out int) {
		for i, mask := range masks {
			if odd(x & mask) {
				out |= 1 << i
			}
		}
		return out
	}
	for key, o := range orders {
		f := playedBy(t, key)
		r := observed{serviceorder.New(f.Game, f.Rulings), f.Game.Sides == format.Doubles, f.Game.Order.Counted()}
		next := rand.New(rand.NewPCG(1, 2))
		for range 200 {
			first := serviceorder.Side(next.IntN(2))
			s, score := r.Start(first, serviceorder.Starters{serviceorder.A1, serviceorder.B1}, 0, 0), [2]uint8{}
			short := 0
			if max(f.Game.Servers, f.Game.Serves) > f.Game.FirstTurn {
				short = second
			}
			state := read(o.Start, r.question(s, 0, 0)&^moves|short)
			for range 40 {
				a, b := score[0], score[1]
				x := r.question(s, a, b)&^moves | state
				require.Equal(t, r.placed(s, a, b), read(o.Places, x), key)
				for _, mask := range o.Valid {
					require.False(t, odd(x&mask), key)
				}
				winner, before := serviceorder.Side(next.IntN(2)), s.Side()
				foul := !r.counted && next.IntN(6) == 0
				scored := foul || r.counted || winner == before || next.IntN(2) == 0
				if scored {
					score[winner]++
				}
				a, b = score[0], score[1]
				if foul {
					s = r.Penalty(s, winner, a, b)
				} else {
					s = r.Rally(s, winner, scored, a, b)
				}
				x = r.question(s, a, b)&^moves | state
				switch {
				case foul && winner == before:
					state = read(o.Foul, x|notFirst)
				case foul:
					state = read(o.Foul, x&^notFirst)
				case s.Side() != before:
					state = read(o.Out, x)
				case winner == before || r.counted:
					state = read(o.Kept, x)
				default:
					state = read(o.First, x)
				}
				if around := r.bits(s, a, b) & second; r.counted && around != state&second {
					require.Contains(t, o.Is, "around")
					require.Equal(t, uint8(5), score[winner])
					state ^= second
				}
			}
		}
	}
}

// The lines by which the project's page shows the pack work as printed.
func TestPageOfTheProjectReadsThePack(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("needs Python")
	}
	page, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, code, found := strings.Cut(string(page), "```python\n")
	require.True(t, found)
	code, _, _ = strings.Cut(code, "```")
	require.LessOrEqual(t, strings.Count(code, "\n"), 10)
	run := exec.Command(python, "-c", code)
	run.Dir = "../.."
	out, err := run.CombinedOutput()
	require.NoError(t, err, string(out))
	require.Equal(t, "A1 serves from the left to B2 at 1-0, server 2\n", string(out))
}
