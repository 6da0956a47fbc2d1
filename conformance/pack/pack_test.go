package pack

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
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
			if err == nil && (!told(f.Game) || !told(f.Last)) {
				require.Nil(t, found, "%s@%s", shape, name)
				continue
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

// Readings that move people otherwise have tables of their own, every order has all cells, and the lowest
// bit of a state is the serving side.
func TestTablesAreThoseOfTheirOrder(t *testing.T) {
	_, fits := fit(format.Game{Target: 21, WinBy: 2, Freeze: format.BothAtPoint + 1})
	require.True(t, fits, "an unknown freeze freezes nobody")
	f, ok := playable(format.SwapOnServe, format.Doubles, 1, 1, clause.SwapFoulStays)
	require.True(t, ok)
	o, err := tables(serviceorder.New(f.Game, f.Rulings))
	require.NoError(t, err)
	require.NotEqual(t, published(t).Core.Orders["3,2,1,1"], o)
	_, ok = playable(format.FixedCourts, format.Singles, 1, 1, 0)
	require.False(t, ok)
	require.Len(t, o.Rally, (int(serviceorder.Moving)+1)*4*parities)
	require.Equal(t, rally.A, serviceorder.Turn(0).Side(), "the lowest bit is the serving side")
	require.Equal(t, rally.B, serviceorder.Turn(1).Side())
}
