package rally_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// after plays rallies, a letter each, and other events of one word each.
func after(t testing.TB, r *rally.Rules, s rally.State, events string) (rally.State, rally.Effects) {
	t.Helper()
	var did rally.Effects
	for _, word := range strings.Fields(events) {
		for _, text := range split(word) {
			e, err := rally.ParseEvent(text)
			require.NoError(t, err)
			var refusal rally.Refusal
			s, did, refusal = r.Apply(s, e)
			require.Equal(t, rally.NotRefused, refusal, "%s at %s", text, r.Line(s))
			as, err := r.ParseLine(r.Line(s))
			require.NoError(t, err)
			require.Equal(t, s, as)
		}
	}
	return s, did
}

func split(word string) []string {
	if strings.Trim(word, "AB") == "" {
		return strings.Split(word, "")
	}
	return []string{word}
}

func compiled(t testing.TB, id string) *rally.Rules {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	return rally.MustCompile(f)
}

// Ends of beach volleyball: every 7 points, 5 in the third set; a change that is
// missed is made when noticed and the score stands (18.2.1 and 18.2.2, read). The
// casebook of 2023, 6.3.12: A leads 7-6 and serves into the net, 7-7, B serves and
// ends change, since 14 points are played.
func TestEndsByTotal(t *testing.T) {
	r := compiled(t, "beach-doubles-21-of3")
	s, did := after(t, r, r.New(rally.A), "gA1B1 ABABABA")
	require.True(t, did.Has(rally.EndsDue))
	late, did := after(t, r, s, "BA ends")
	require.True(t, did.Has(rally.EndsMade))
	require.Equal(t, 9, late.Score(rally.A)+late.Score(rally.B))
	require.True(t, late.EndsSwapped())
	s, _ = after(t, r, s, "ends BABABA")
	require.Equal(t, [2]int{7, 6}, [2]int{s.Score(rally.A), s.Score(rally.B)})
	s, did = after(t, r, s, "B")
	side, _ := s.Serving()
	require.Equal(t, rally.B, side)
	require.True(t, did.Has(rally.EndsDue))
	missed, did := after(t, r, r.New(rally.A), "gA1B1 ABABABABABABAB")
	require.False(t, did.Has(rally.EndsDue))
	require.False(t, missed.EndChangeDue(), "who has missed two stands right")
	third := compiled(t, "beach-doubles-21-of3")
	s, _ = after(t, third, third.New(rally.A), "gA1B1 "+strings.Repeat("A", 21)+" gB1A1 "+strings.Repeat("B", 21)+" gA1B1 AABB")
	require.False(t, s.EndChangeDue())
	s, _ = after(t, third, s, "A")
	require.True(t, s.EndChangeDue())
}

// Who has changed ends on a wrong score changes back (casebook of 2023, 9.9): the
// set stands 2-2 in truth, the change belongs at five points.
func TestEndsChangedOnAWrongScore(t *testing.T) {
	r := compiled(t, "beach-doubles-21-of3+games=1+change-ends-every=5")
	l := rally.NewLog(r, r.New(rally.A))
	for _, text := range strings.Fields("gA1B1 A A B B B ends") {
		mustEnter(t, l, text)
	}
	require.True(t, l.State().EndsSwapped())
	mustEnter(t, l, "rewind 5")
	require.True(t, l.State().EndChangeDue(), r.Line(l.State()))
	mustEnter(t, l, "ends")
	require.False(t, l.State().EndsSwapped())
	mustEnter(t, l, "A")
	require.True(t, l.State().EndChangeDue())
}

func mustEnter(t testing.TB, l *rally.Log, text string) {
	t.Helper()
	_, err := l.Enter(text)
	require.NoError(t, err, text)
}

// The deciding game of table tennis doubles turns the order around at 5, also where
// it is played again after a rewind, and the first receiver of a next game is fixed.
func TestTableTennisDoublesMatch(t *testing.T) {
	r := compiled(t, "table-tennis-doubles-11-of3")
	eleven := strings.Repeat("A", 11)
	s, _ := after(t, r, r.New(rally.A), "gA1B1 "+eleven)
	e, err := rally.ParseEvent("gB1A2")
	require.NoError(t, err)
	_, _, refusal := r.Apply(s, e)
	require.Equal(t, rally.NotItsChoice, refusal)
	s, _ = after(t, r, s, "gB2A2 "+strings.Repeat("B", 11)+" gA1B1 AAAA")
	require.Equal(t, "A2@R#- B2", serve(r, s))
	s, did := after(t, r, s, "A")
	require.True(t, did.Has(rally.EndsDue))
	require.Equal(t, "A2@R#- B1", serve(r, s))
}

func serve(r *rally.Rules, s rally.State) string {
	var got []string
	for _, word := range strings.Fields(r.Line(s)) {
		for _, name := range []string{"serve=", "receive="} {
			if v, ok := strings.CutPrefix(word, name); ok {
				got = append(got, v)
			}
		}
	}
	return strings.Join(got, " ")
}
