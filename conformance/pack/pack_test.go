package pack

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
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
	width := 4 + len(p.Core.Match)
	for _, shape := range format.Shapes() {
		spans := p.Core.Formats[shape]
		for n, name := range p.Core.Editions {
			f, err := format.Parse(shape + "@" + name)
			var found []int
			for at := 0; at < len(spans); at += width {
				if spans[at] <= n && n <= spans[at+1] {
					found = spans[at : at+width]
				}
			}
			require.Equal(t, err == nil, found != nil, "%s@%s", shape, name)
			if err == nil {
				require.Equal(t, valuesOf(f.Game), p.Core.Games[found[2]], "%s@%s", shape, name)
				require.Equal(t, valuesOf(f.Last), p.Core.Games[found[3]], "%s@%s", shape, name)
				require.Equal(t, valuesOf(f.Match), found[4:], "%s@%s", shape, name)
			}
		}
	}
}

// The rulings of every edition are in the pack as far as play turns on them.
func TestRulingsComeBack(t *testing.T) {
	p := published(t)
	seen := 0
	for _, row := range append(p.Core.Switches, p.Rulings.Switches...) {
		var s format.Switch
		require.NoError(t, s.UnmarshalText([]byte(row.Name)))
		for n, name := range p.Core.Editions {
			if row.Takes == nil {
				require.NotContains(t, []string{"line", "result"}, s.Moves().String())
				continue
			}
			seen++
			var e format.Edition
			require.NoError(t, e.UnmarshalText([]byte(name)))
			r := format.RulingsOf(e)
			require.Equal(t, int(r[s]), row.Takes[n], "%s %s", row.Name, name)
			if r[s] != 0 && row.Readings != nil {
				require.Equal(t, r.Text(s), row.Readings[r[s]-1])
				require.Equal(t, r.Clause(s).String(), row.Clauses[r[s]-1])
			}
		}
	}
	require.Greater(t, seen, 500)
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

// Masks that are published, played back by a reader of them that knows no order: games of
// every order come to the same server, receiver and courts as in package serviceorder.
func TestMasksPlayTheirOrder(t *testing.T) {
	_, fits := fit(format.Game{Target: 21, WinBy: 2, Freeze: format.BothAtPoint + 1})
	require.True(t, fits, "an unknown freeze freezes nobody")
	_, ok := playable(format.FixedCourts, format.Singles, 1, 0)
	require.False(t, ok)
	p := published(t)
	require.Len(t, p.Core.Orders, 16)
	read := func(masks [4]int, x int) (out int) {
		for i, mask := range masks {
			if odd(x & mask) {
				out |= 1 << i
			}
		}
		return out
	}
	for key, o := range p.Core.Orders {
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
		r := observed{serviceorder.New(f.Game, f.Rulings), sides == 2, f.Game.Order.Counted()}
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
