package format_test

import (
	"encoding/json"
	"fmt"
	"hash/fnv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

// Rulings are read by name, so that neither order nor number of the switches
// is part of a file.
func TestRulingsAsJSON(t *testing.T) {
	for _, id := range []string{"sideout-doubles-11@1999", "rally-doubles-15@2025+late-side=stands+time-out-seconds=90", "badminton-singles-21-of3"} {
		f := named(t, id)
		text, err := json.Marshal(f)
		require.NoError(t, err)
		var got format.Format
		require.NoError(t, json.Unmarshal(text, &got))
		require.Equal(t, f, got)
		indented, err := json.MarshalIndent(f.Rulings, "", "\t")
		require.NoError(t, err)
		var r format.Rulings
		require.NoError(t, json.Unmarshal(indented, &r))
		require.Equal(t, f.Rulings, r)
	}
	r := format.RulingsOf(format.E2025)
	require.NoError(t, r.UnmarshalJSON([]byte(`{"late-side":"stands"}`)))
	want := named(t, "sideout-doubles-11@2025+late-side=stands").Rulings
	require.Equal(t, want, r, "what is not named stays")
	require.NoError(t, r.UnmarshalJSON([]byte(` { } `)))
	for _, bad := range []string{"", "{", "null", "[]", `{"late-side"}`, `{"late-side":1}`, `{"late-side":"stands"`, `{"late-side":"stands",}`, `{"late-side":"maybe"}`,
		`{"weather":"fine"}`, `{"late-side":"stands","late-side":"stands"}`, `{"late-side":"stands"}x`, `{"late\u002dside":"stands"}`, `{"late-side":"stands`, `{"`, `{"a`} {
		before := r
		var fault *format.Error
		require.ErrorAs(t, r.UnmarshalJSON([]byte(bad)), &fault, bad)
		require.Equal(t, before, r, "nothing is half read")
	}
}

func FuzzRulingsFromJSON(f *testing.F) {
	f.Add([]byte(`{"late-side":"stands"}`))
	r := format.RulingsOf(format.E2025)
	f.Add(r.AppendJSON(nil))
	f.Fuzz(func(t *testing.T, data []byte) {
		got := format.RulingsOf(format.E2025)
		if got.UnmarshalJSON(data) != nil {
			return
		}
		var names map[string]string
		require.NoError(t, json.Unmarshal(data, &names), "whatever is read is JSON")
		again := format.Rulings{}
		require.NoError(t, again.UnmarshalJSON(got.AppendJSON(nil)))
		require.Equal(t, got, again)
	})
}

// What the id of a named format means changes only together with DataVersion:
// then write the sum of that version down here.
func TestDataVersion(t *testing.T) {
	sums := map[int]string{1: "3d1956c816e9d80a", 2: "c020de8b7eeafde6"}
	all := fnv.New64a()
	seen := map[uint64]string{}
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			if e.Document() == format.Pickleball && format.Default.Before(e) {
				continue // what its ids mean is said when it becomes the default
			}
			f := named(t, shape+"@"+e.String())
			fmt.Fprintf(all, "%s %016x\n", f.ID(), f.Digest())
			seen[f.Digest()] = f.ID()
		}
	}
	require.Equal(t, sums[format.DataVersion], fmt.Sprintf("%016x", all.Sum64()), "raise DataVersion")
	f := named(t, "sideout-doubles-11-of3@2025")
	for _, own := range []string{"+target=13", "+last-win-by=1", "+late-side=stands", "+next-serve=winner", "+time-out-seconds=61"} {
		other := named(t, f.ID()+own)
		require.NotEqual(t, f.Digest(), other.Digest(), own)
		require.Empty(t, seen[other.Digest()], strings.TrimPrefix(own, "+"))
	}
}
