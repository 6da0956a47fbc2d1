package pack

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
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
	name := ""
	for _, row := range p.Core.TimeOuts {
		if row[0].(float64) <= float64(target) {
			name = row[1].(string)
		}
	}
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

// A reading of one's own is refused exactly where the pack says that nobody
// would ask for it.
func TestNeedsAreThoseOfTheLibrary(t *testing.T) {
	probed := 0
	for _, s := range format.Switches() {
		if !slices.Contains([]string{"line", "result"}, s.Moves().String()) || asked[s.String()] != "" {
			continue
		}
		for _, e := range editions() {
			shape := "sideout-doubles-11"
			if e.Document() == format.Badminton {
				shape = "badminton-doubles-15-of3"
			}
			base, err := format.Named(shape, e)
			if err != nil {
				continue
			}
			inForce := len(needs[s.String()]) == 0
			for _, id := range needs[s.String()] {
				c, err := format.ClauseNamed(id)
				require.NoError(t, err)
				inForce = inForce || base.Rulings.Takes(c)
			}
			for _, reading := range s.Readings() {
				own := base
				if own.Rulings.SetText(s, reading) != nil || own.Rulings == base.Rulings {
					continue
				}
				probed++
				// What only this reading makes idle is of other switches.
				refused := own.Validate() != nil && strings.Contains(own.Validate().Error(), "rulings."+s.String()+":")
				require.Equal(t, !inForce, refused, "%s=%s in %v", s, reading, e)
			}
		}
	}
	require.Greater(t, probed, 300)
}

// What a switch of some games only is asked under is refused elsewhere, and
// taken where the field stands.
func TestAskedIsWhereItIsAsked(t *testing.T) {
	for name, id := range map[string][2]string{
		"fixed-court-foul": {"fixed-doubles-21", "sideout-doubles-11"},
		"swap-foul":        {"swap-doubles-11", "sideout-doubles-11"},
		"opening-word":     {"sideout-doubles-11", "sideout-singles-11"},
	} {
		require.Contains(t, asked, name)
		var s format.Switch
		require.NoError(t, s.UnmarshalText([]byte(name)))
		r := format.RulingsOf(format.Default)
		for _, reading := range s.Readings() {
			if reading == r.Text(s) {
				continue
			}
			_, err := format.Parse(id[0] + "+" + name + "=" + reading)
			require.NoError(t, err)
			_, err = format.Parse(id[1] + "+" + name + "=" + reading)
			require.Error(t, err)
		}
	}
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
