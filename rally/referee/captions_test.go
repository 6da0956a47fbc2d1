package referee_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// Every code that a board shows has a caption, in every language, whatever is entered.
func TestCaptions(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11-of3@2026")
	require.NoError(t, err)
	rules := rally.MustCompile(f)
	u := rally.Setup{Sides: [2]rally.Team{{Players: [2]rally.Player{{Name: "Imani Okafor"}, {}}}}}
	for _, tag := range words.Tags() {
		l, known := words.ByTag(tag)
		require.True(t, known)
		log := rally.NewLog(rules, rally.State{})
		board, guide := rally.NewBoard(log, u), referee.New(rules, u)
		for _, e := range []string{"fcA:serve", "gA1B1", "A", "tB", "undo", "redo", "in", "mA1", "amend 3 B", "retB"} {
			_, err := log.Enter(e)
			require.NoError(t, err, e)
			v := board.Snapshot(-1)
			said := guide.Captions(&v, l)
			codes := []string{"phase." + v.Phase.String()}
			for _, no := range v.Refused {
				codes = append(codes, "event."+no.Event.String(), "refusal."+no.Why.String())
			}
			for _, e := range v.Allowed {
				codes = append(codes, "event."+e.String())
			}
			for _, did := range v.Did.Names() {
				codes = append(codes, "effect."+did)
			}
			if v.Break != rally.NoBreak {
				codes = append(codes, "break."+v.Break.String())
			}
			if v.Undo != "" {
				codes = append(codes, "undo")
			}
			for _, code := range codes {
				require.NotEmpty(t, said[code], "%s: %s after %s", tag, code, e)
			}
			_, err = json.Marshal(said)
			require.NoError(t, err)
		}
		v := board.Snapshot(-1)
		require.Contains(t, guide.Captions(&v, l)["event.mA1"], "Imani Okafor")
	}
}
