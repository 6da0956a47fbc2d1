package record_test

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

func itoa(n int) string { return strconv.Itoa(n) }

// seed is the beginning of a real record: long seeds make fuzzing slow.
func seed(t testing.TB, n uint64) string {
	t.Helper()
	lines := strings.SplitAfter(whole(t, played(t, n)), "\n")
	return strings.Join(lines[:20], "")
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(strings.Join(short(f), "")))
	f.Add([]byte(seed(f, 1)))
	own := rally.NewLog(rally.MustCompile(own(f)), rally.State{})
	f.Add([]byte(whole(f, own)))
	f.Fuzz(func(t *testing.T, data []byte) {
		rec, err := record.Read(bytes.NewReader(data))
		if err != nil {
			var e *record.Error
			require.ErrorAs(t, err, &e)
			return
		}
		// What is read can be written, and is read the same again.
		var b bytes.Buffer
		require.NoError(t, record.Write(&b, rec.Setup, rec.Log))
		again, err := record.Read(&b)
		require.NoError(t, err)
		same(t, rec.Log, again.Log)
		require.Equal(t, rec.Setup, again.Setup)
	})
}

func FuzzRecover(f *testing.F) {
	text := seed(f, 2)
	f.Add([]byte(text))
	f.Add([]byte(text[:len(text)-40]))
	lines := short(f)
	f.Add([]byte(lines[0] + lines[1] + lines[1] + lines[3] + `{"n":3,"do":"amend 2 B"}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		rec, problems, err := record.Recover(bytes.NewReader(data))
		if err != nil {
			var e *record.Error
			require.ErrorAs(t, err, &e)
			return
		}
		require.LessOrEqual(t, len(problems), record.MostProblems+1)
		strict, err := record.Read(bytes.NewReader(data))
		if err == nil {
			require.Empty(t, problems, "strict reading sees no less than lenient")
			same(t, strict.Log, rec.Log)
		}
	})
}

func FuzzParseNotation(f *testing.F) {
	for _, text := range []string{
		"sideout-doubles-11@2026 A: gA1B1 AABAB tA in A:net BB undo B",
		`sideout-doubles-11@2026 A: AAB (amend 2 B) undo (amend 1 - a note \(two\) \\ \x0a) redo (rewind 2)@77 B`,
	} {
		f.Add(text)
	}
	for _, l := range []*rally.Log{played(f, 4), rally.NewLog(rally.MustCompile(own(f)), rally.State{})} {
		text, err := record.Notation(l)
		require.NoError(f, err)
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := record.ParseNotation(text)
		if err != nil {
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.LessOrEqual(t, e.Byte, int64(len(text)))
			return
		}
		out, err := record.Notation(l)
		require.NoError(t, err)
		again, err := record.ParseNotation(out)
		require.NoError(t, err, out)
		same(t, l, again)
	})
}

func FuzzUnmarshalFormat(f *testing.F) {
	full, err := record.MarshalFormat(own(f))
	require.NoError(f, err)
	f.Add(full)
	named, err := record.MarshalFormat(compile(f, "fixed-doubles-21-leader-and-trailer@2025").Format())
	require.NoError(f, err)
	f.Add(named)
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := record.UnmarshalFormat(data)
		if err != nil {
			var e *record.Error
			require.ErrorAs(t, err, &e)
			return
		}
		out, err := record.MarshalFormat(got)
		require.NoError(t, err)
		again, err := record.UnmarshalFormat(out)
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}

func FuzzUnmarshalEvents(f *testing.F) {
	f.Add([]byte(`["gA1B1","A","B:net","tA","in","A?server,rallyover"]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := record.UnmarshalEvents(data)
		if err != nil {
			var e *record.Error
			require.ErrorAs(t, err, &e)
			return
		}
		out, err := record.MarshalEvents(got)
		require.NoError(t, err)
		again, err := record.UnmarshalEvents(out)
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}
