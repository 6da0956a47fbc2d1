package digests

import (
	"crypto/sha256"
	"encoding/hex"
	"hash/fnv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Every named format stands in the table, confirmed by somebody else.
func TestEveryFormatIsPublished(t *testing.T) {
	rows, err := Published()
	require.NoError(t, err)
	covered := map[string]int{}
	for _, r := range rows {
		require.Contains(t, r.Confirmed, "reference", r.Formats)
		ids, err := conformance.Expand(r.Formats)
		require.NoError(t, err)
		for _, id := range ids {
			covered[id+" "+strings.Join(r.Alphabet, " ")]++
		}
	}
	formats := 0
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			if e.Document() == format.Pickleball && format.Default.Before(e) {
				continue // what a later edition is, is published when it becomes the default
			}
			formats++
			id := shape + "@" + e.String()
			f, err := format.Parse(id)
			require.NoError(t, err)
			for _, p := range Plans(&f) {
				require.Equal(t, 1, covered[id+" "+strings.Join(p.Alphabet, " ")], id)
			}
		}
	}
	t.Logf("%d rows cover %d formats", len(rows), formats)
}

// Every event of LINE.md can stand in an alphabet; a comma in one does not look
// like the comma between two.
func TestAlphabetOfIncidents(t *testing.T) {
	root, err := Builtin("sideout-doubles-11@2026")
	require.NoError(t, err)
	var lines []string
	alphabet := []string{"A", "A?receiver,returned", "stop?server,struck,byB"}
	require.NoError(t, WalkLines(root, alphabet, 2, func(line []byte) { lines = append(lines, string(line)) }))
	require.Contains(t, lines[len(lines)-1], "stop?server;struck;byB,stop?server;struck;byB L")
	g, err := NewGraph(root, alphabet)
	require.NoError(t, err)
	_, err = g.Tree(3)
	require.NoError(t, err)
}

// A fast part of the table is computed again by both models; the rest by
// go run ./conformance/cmd/digests.
func TestPublishedDigests(t *testing.T) {
	rows, err := Published()
	require.NoError(t, err)
	for _, id := range []string{"sideout-doubles-11@2026", "sideout-singles-11@2026", "rally-doubles-11@2025", "rally-doubles-11@2026",
		"rally-singles-7-of3@2026", "fixed-doubles-21-leader-and-trailer@2025", "badminton-doubles-21-of3@badminton-2006"} {
		for _, r := range Covering(rows, id) {
			if len(r.Alphabet) > 2 {
				continue
			}
			for name, open := range map[string]func(string) (Position, error){"engine": Builtin, "second model": Reference} {
				root, err := open(id)
				require.NoError(t, err)
				got, err := Digests(root, r.Plan())
				require.NoError(t, err)
				require.True(t, r.Same(&got), "%s of %s differs in %s", name, id, r.Differences(&got))
			}
		}
	}
}

// The digest from the merged states is that over the sequences themselves.
func TestTreeMergesNothingThatDiffers(t *testing.T) {
	depth := 16
	if testing.Short() {
		depth = 10
	}
	var naive func(p Position, d int) string
	naive = func(p Position, d int) string {
		text := p.Line() + "\n"
		for _, e := range []string{"A", "B"} {
			if d == 0 {
				break
			}
			next, refused, err := p.Play(e)
			require.NoError(t, err)
			if refused != "" {
				text += e + " !\n"
			} else {
				text += e + " " + naive(next, d-1) + "\n"
			}
		}
		sum := sha256.Sum256([]byte(text))
		return hex.EncodeToString(sum[:])
	}
	for _, id := range []string{"rally-singles-7@2025", "sideout-doubles-11@2026"} {
		root, err := Builtin(id)
		require.NoError(t, err)
		g, err := NewGraph(root, []string{"A", "B"})
		require.NoError(t, err)
		got, err := g.Tree(depth)
		require.NoError(t, err)
		require.Equal(t, naive(root, depth), got)
	}
}

// WALK and TABLE are the bytes that the page describes, and FNV is the plain
// published function.
func TestBytes(t *testing.T) {
	root, err := Builtin("rally-singles-7@2026")
	require.NoError(t, err)
	a, _, err := root.Play("A")
	require.NoError(t, err)
	b, _, err := root.Play("B")
	require.NoError(t, err)
	text := "- " + root.Line() + "\nA " + a.Line() + "\nB " + b.Line() + "\n"
	sum, err := Walk(root, []string{"A", "B"}, 1)
	require.NoError(t, err)
	sha := sha256.Sum256([]byte(text))
	h := uint64(0xcbf29ce484222325)
	for i := 0; i < len(text); i++ {
		h = (h ^ uint64(text[i])) * 0x100000001b3
	}
	check := fnv.New64a()
	_, _ = check.Write([]byte(text))
	require.Equal(t, check.Sum64(), h)
	require.Equal(t, Sum{hex.EncodeToString(sha[:]), hex.EncodeToString(check.Sum(nil)), 3, int64(len(text))}, sum)

	g, err := NewGraph(root, []string{"A", "B"})
	require.NoError(t, err)
	rows, err := g.TableRows(1)
	require.NoError(t, err)
	require.Len(t, rows, 6)
	require.Contains(t, rows, root.Line()+"\tA\t"+a.Line()+"\n")
	require.Contains(t, rows, a.Line()+"\tB\t#bound\n")
}

// Counts of sequences that can be checked by hand: all 2^d go on below seven
// rallies; a game to 7 won to nothing is one sequence for either side.
func TestCounts(t *testing.T) {
	root, err := Builtin("rally-singles-7@2026")
	require.NoError(t, err)
	g, err := NewGraph(root, []string{"A", "B"})
	require.NoError(t, err)
	c, err := g.Count(8)
	require.NoError(t, err)
	require.Equal(t, []string{"1", "2", "4", "8", "16", "32", "64", "128", "252"}, c.N)
	require.Equal(t, []string{"0", "0", "0", "0", "0", "0", "0", "1", "7"}, c.TA, "7-0 in one way, 7-1 in seven")
	require.Equal(t, c.TA, c.TB)
}

func position(t *testing.T, change func(*format.Format)) Position {
	t.Helper()
	f, err := format.Parse("sideout-doubles-11@2026")
	require.NoError(t, err)
	f.Shape = ""
	change(&f)
	f.Last = f.Game
	rules, err := rally.Compile(f)
	require.NoError(t, err)
	s, _, refusal := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	require.Equal(t, rally.NotRefused, refusal)
	return own{rules, s}
}

// The shortest sequence, and the first of the shortest.
func TestDiverge(t *testing.T) {
	alphabet := []string{"A", "B"}
	for _, test := range []struct {
		name   string
		change func(*format.Format)
		path   string // "none", or "*" for any
	}{
		{"the same", func(*format.Format) {}, "none"},
		{"no exception in the first turn", func(f *format.Format) { f.Game.FirstTurn = 2 }, ""},
		{"target 9", func(f *format.Format) { f.Game.Target = 9 }, "AAAAAAAAA"},
		{"win by one", func(f *format.Format) { f.Game.WinBy = 1 }, "*"},
		{"rally scoring", func(f *format.Format) { f.Game.Scorer = format.EitherSide }, "B"},
	} {
		t.Run(test.name, func(t *testing.T) {
			x, y := Answering(position(t, func(*format.Format) {}), alphabet), Answering(position(t, test.change), alphabet)
			d, err := Diverge(x, y, alphabet, 64)
			require.NoError(t, err)
			if test.path == "none" {
				require.Nil(t, d)
				return
			}
			got := strings.Join(d.Path, "")
			if test.path != "*" {
				require.Equal(t, test.path, got)
			}
			shorter, err := Diverge(x, y, alphabet, max(0, len(d.Path)-1))
			require.NoError(t, err)
			require.True(t, shorter == nil || len(d.Path) == 0, "none is shorter")
			require.NotEqual(t, d.A, d.B)
		})
	}
}

func TestBadAlphabetsAndDepths(t *testing.T) {
	root, err := Builtin("rally-singles-7@2026")
	require.NoError(t, err)
	for _, alphabet := range [][]string{nil, {"B", "A"}, {"A", "A"}, {""}, {"A;B"}, {"A B"}, make([]string, 40)} {
		_, err := NewGraph(root, alphabet)
		require.Error(t, err)
		_, err = Walk(root, alphabet, 1)
		require.Error(t, err)
	}
	for _, depth := range []int{-1, MostDepth + 1} {
		_, err := Walk(root, []string{"A"}, depth)
		require.Error(t, err)
	}
	_, err = Builtin("chess")
	require.Error(t, err)
	_, err = Reference("chess")
	require.Error(t, err)
}
