package explore_test

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/explore"
)

// namedFormats are all shapes, each in its newest edition, and those that
// play differently in 2025 in that one as well.
func namedFormats() []string {
	var out []string
	for _, shape := range format.Shapes() {
		out = append(out, shape)
		if strings.HasPrefix(shape, "rally-") {
			out = append(out, shape+"@2025")
		}
	}
	return out
}

func TestInvariantsHoldEverywhere(t *testing.T) {
	states, cases := 0, 0
	for _, id := range namedFormats() {
		f := mustParse(id)
		if f.Match.Games > 3 && f.Game.Target > 11 && os.Getenv("EVENCOURT_DEEP") == "" || f.Match.Games > 1 && testing.Short() {
			continue // the same games again, in longer matches
		}
		if f.Match.NextServe == format.Chosen {
			f = mustParse(id + "+games=1") // rallies alone open no other game
		}
		p, err := explore.Prove(f, 0)
		require.NoError(t, err, id)
		require.Empty(t, p.Broken, id)
		require.Empty(t, p.Dead, id)
		require.Empty(t, p.Unseen, id)
		require.LessOrEqual(t, uint64(p.States), p.Bound, id)
		states += p.States
		for _, c := range p.Checked {
			require.NotZero(t, c.Cases, "%s: %s", id, c.Name)
			cases += c.Cases
		}
	}
	t.Logf("%d states, %d cases", states, cases)
}

// Formats that say what never happens.
func TestDeadRulesAreReported(t *testing.T) {
	base := mustParse("rally-doubles-11@2026")
	base.Shape = ""
	with := func(change func(*format.Game)) format.Format {
		f := base
		change(&f.Game)
		f.Last = f.Game
		return f
	}
	for name, c := range map[string]struct {
		f    format.Format
		dead string
	}{
		"a cap beyond every final":     {with(func(g *format.Game) { g.WinBy, g.Cap = 1, 20 }), "last.cap: 20 never decides a game"},
		"a margin under a cap at once": {with(func(g *format.Game) { g.Cap = 11 }), "last.win_by: the margin never keeps a game going"},
	} {
		t.Run(name, func(t *testing.T) {
			require.NoError(t, c.f.Validate())
			p, err := explore.Prove(c.f, 0)
			require.NoError(t, err)
			require.Empty(t, p.Broken)
			require.Contains(t, p.Dead, c.dead)
		})
	}
}

func TestProofIsBounded(t *testing.T) {
	p, err := explore.Prove(mustParse("swap-doubles-11@2026"), 100)
	var size *explore.SizeError
	require.ErrorAs(t, err, &size)
	require.Positive(t, p.Bound)
}
