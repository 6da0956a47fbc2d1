package explore_test

import (
	"encoding/json"
	"math"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/openrecords"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/explore"
)

func mustParse(id string) format.Format {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	return f
}

func newGame(t testing.TB, id string) *explore.GameModel {
	t.Helper()
	g, err := explore.NewGameModel(mustParse(id), 1, explore.Opening{})
	require.NoError(t, err, id)
	return g
}

// checkValues are figures of an independent model, as exact rationals and
// decimals, computed there by two methods and checked by simulation.
type checkValues struct {
	PA, PB                   string
	Win, Mean, Var, ShA, ShB [2]string
	ReachTie                 [2]string `json:"reach_tie"`
	Q05, Median, Q95, Mode   int
	PMode                    float64           `json:"p_mode"`
	TieBy                    map[string]string `json:"tie_by"`
	Scores                   map[string]string
}

// shapeOf turns the heading of a check value into a format.
func shapeOf(heading string) string {
	words := strings.Fields(strings.ReplaceAll(heading, ",", ""))
	switch words[0] {
	case "a":
		return "sideout-singles-" + words[3]
	case "b":
		return "sideout-doubles-" + words[3]
	case "c":
		return "rally-doubles-" + words[2] + "@2026"
	case "dG":
		return "rally-doubles-" + words[2] + "@2025"
	case "e":
		return "badminton-singles-21-of3"
	}
	return ""
}

func rational(t *testing.T, s string) *big.Rat {
	t.Helper()
	r, ok := new(big.Rat).SetString(s)
	require.True(t, ok, s)
	return r
}

func float(t *testing.T, s string) float64 {
	t.Helper()
	x, _ := rational(t, s).Float64()
	return x
}

// closely compares to a relative error.
func closely(t *testing.T, want, got, err float64, what string) {
	t.Helper()
	require.LessOrEqual(t, math.Abs(got-want), err*math.Abs(want), "%s: want %.17g, got %.17g", what, want, got)
}

func TestCheckValues(t *testing.T) {
	var all map[string]checkValues
	require.NoError(t, json.Unmarshal(openrecords.Read(t, "facts/check-values.json"), &all))
	checked := 0
	for heading, want := range all {
		shape := shapeOf(heading)
		require.NotEmpty(t, shape, heading)
		g := newGame(t, shape)
		rates := explore.Rates{Serve: [2]float64{float(t, want.PA), float(t, want.PB)}}
		got, err := g.Figures(rates)
		require.NoError(t, err)
		check := func(what, value string, x float64) {
			closely(t, float(t, value), x, 1e-12, heading+": "+what)
			checked++
		}
		check("win", want.Win[0], got.Win)
		check("mean", want.Mean[0], got.Mean)
		check("var", want.Var[0], got.Variance)
		check("shA", want.ShA[0], got.ShutOut[explore.A])
		check("shB", want.ShB[0], got.ShutOut[explore.B])
		check("reach_tie", want.ReachTie[0], got.Level)
		require.Len(t, got.Finals, len(want.Scores), heading)
		for _, f := range got.Finals {
			key := itoa(f.Score[0]) + "-" + itoa(f.Score[1])
			require.Contains(t, want.Scores, key, heading)
			check(key, want.Scores[key], f.Chance)
		}
		ties, err := g.LevelBy(rates)
		require.NoError(t, err)
		for _, tie := range ties {
			if tie.Chance == 0 {
				continue
			}
			key := "('" + tie.Serving.String() + "', " + itoa(max(1, int(tie.Number))) + ")"
			require.Contains(t, want.TieBy, key, heading)
			check("tie by "+key, want.TieBy[key], tie.Chance)
		}
		law, err := g.Length(rates)
		require.NoError(t, err)
		mode, p := law.All.Mode()
		require.Equal(t, [4]int{want.Q05, want.Median, want.Q95, want.Mode},
			[4]int{law.All.Quantile(0.05), law.All.Quantile(0.5), law.All.Quantile(0.95), mode}, heading)
		closely(t, want.PMode, p, 1e-12, heading+": p_mode")
		checked += 5
	}
	t.Logf("read %d games and checked %d values", len(all), checked)
}

func itoa(n int) string { return big.NewInt(int64(n)).String() }
