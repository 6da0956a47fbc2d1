package rally_test

import (
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// everyFormat lists each named shape under its newest edition and, where the
// form differs, its older one.
func everyFormat() []string {
	var ids []string
	for _, shape := range format.Shapes() {
		editions := slices.DeleteFunc(format.EditionsOf(shape), func(e format.Edition) bool { return !reference.Taught(e) })
		ids = append(ids, shape+"@"+editions[len(editions)-1].String())
		if strings.HasPrefix(shape, "rally-") {
			ids = append(ids, shape+"@2025")
		}
	}
	return append(ids, "badminton-doubles-15-of3@badminton-2005") // another game by the same name
}

// walk plays random events in engine and slow model side by side and compares
// acceptance, effects, line and call after each.
func walk(t *testing.T, id string, seed uint64, rallies int, words []string) {
	f, err := format.Parse(id)
	require.NoError(t, err)
	rules := rally.MustCompile(f)
	rng := rand.New(rand.NewPCG(seed, 7))
	var s rally.State
	var slow *reference.Match
	for n := 0; n < rallies; n++ {
		if slow == nil || s.Phase() >= rally.Over && rng.IntN(3) == 0 {
			first := rally.Side(rng.IntN(2))
			s = rules.New(first)
			slow, err = reference.New(f, first.String(), [2]int{1, 1})
			require.NoError(t, err)
		}
		word := "AB"[rng.IntN(2):][:1]
		if len(words) > 0 && rng.IntN(6) == 0 {
			word = words[rng.IntN(len(words))]
		}
		e, err := rally.ParseEvent(word)
		if err != nil {
			t.Fatal(err)
		}
		next, did, refusal := rules.Apply(s, e)
		effects, refused := slow.Do(word)
		want := ""
		if refusal != rally.NotRefused {
			want = refusal.String()
		}
		if strings.HasPrefix(word, "x") && want != refused {
			slow = nil // until when partners may exchange at an end change is being settled
			continue
		}
		if want != refused || strings.Join(did.Names(), ",") != strings.Join(effects, ",") {
			t.Fatalf("%s, %s at\n%s\nengine: %s %v\nmodel:  %s %v", id, word, rules.Line(s), want, did.Names(), refused, effects)
		}
		before := s
		s = next
		if got, model := rules.Line(s), slow.Line(); got != model {
			t.Fatalf("%s, %s at\n%s\nengine: %s\nmodel:  %s", id, word, rules.Line(before), got, model)
		}
		if got, model := string(rules.AppendCall(nil, s)), slow.Call(); got != model {
			t.Fatalf("%s at\n%s\nengine calls: %s\nmodel calls:  %s", id, rules.Line(s), got, model)
		}
	}
}

// otherWords are events besides won rallies that the slow model knows.
var otherWords = []string{"replay", "gA1B1", "gA2B1", "gB1A2", "gB2A2", "ends", "xA", "xB", "tA", "tB", "in", "ref", "eqA1",
	"eqB2", "blood", "hazard", "illness", "dealt", "sheet", "A:foot", "B:net"}

func TestEngineAgreesWithSlowModel(t *testing.T) {
	rallies := steps(5_000)
	if n, err := strconv.Atoi(os.Getenv("EVENCOURT_RALLIES")); err == nil {
		rallies = n // .ci/deep plays a million a format
	}
	for _, id := range everyFormat() {
		t.Run(id, func(t *testing.T) {
			t.Parallel()
			walk(t, id, 1, rallies, nil)
			walk(t, id, 2, rallies/2, otherWords)
		})
	}
}

// FuzzAgainstSlowModel lets the fuzzer choose the events.
func FuzzAgainstSlowModel(f *testing.F) {
	f.Add("sideout-doubles-11@2025", []byte("AABBABAB"))
	f.Add("rally-doubles-7@2025", []byte("AAAAAABBBBBBABAB"))
	f.Add("fixed-doubles-21-leader-and-trailer@2026", []byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9})
	f.Fuzz(func(t *testing.T, id string, choices []byte) {
		parsed, err := format.Parse(id)
		if err != nil || !reference.Taught(parsed.Edition) {
			return
		}
		rules := rally.MustCompile(parsed)
		s := rules.New(rally.A)
		slow, err := reference.New(parsed, "A", [2]int{1, 1})
		require.NoError(t, err)
		for _, c := range choices {
			word := "AB"[c&1:][:1]
			if n := int(c >> 1); n < len(otherWords) {
				word = otherWords[n]
			}
			e, err := rally.ParseEvent(word)
			require.NoError(t, err)
			next, did, refusal := rules.Apply(s, e)
			effects, refused := slow.Do(word)
			if strings.HasPrefix(word, "x") && (refused == "") != (refusal == rally.NotRefused) {
				return
			}
			require.Equal(t, refused == "", refusal == rally.NotRefused, "%s at %s", word, rules.Line(s))
			require.Equal(t, strings.Join(effects, ","), strings.Join(did.Names(), ","))
			s = next
			require.Equal(t, slow.Line(), rules.Line(s))
		}
	})
}

// The table holds only where nothing but points and order can change, up to the most points that a score counts to.
func TestTableIsTheRuleOfScoring(t *testing.T) {
	ids := everyFormat()
	for _, shape := range format.Shapes() { // those that the slow model does not know
		editions := format.EditionsOf(shape)
		ids = append(ids, shape+"@"+editions[0].String(), shape+"@"+editions[len(editions)-1].String())
	}
	ids = append(ids, "beach-doubles-21-of3+change-ends-every=5", "fixed-doubles-21@2026+change-ends-at=0+change-ends-every=6+freeze=both-at-point")
	slices.Sort(ids)
	scores := []uint8{0, 1, 2, 3, 4, 5, 6, 7, 9, 10, 11, 12, 13, 14, 15, 18, 19, 20, 21, 22, 24, 25, 29, 30, 126, 127, 128, 129, 253, 254, 255}
	for _, id := range slices.Compact(ids) {
		f, err := format.Parse(id)
		require.NoError(t, err, id)
		rules := rally.MustCompile(f)
		for _, a := range scores {
			for _, b := range scores {
				if s, differs := rules.TableDiffers(a, b); differs {
					t.Fatalf("%s: %s", id, rules.Line(s))
				}
			}
		}
	}
}
