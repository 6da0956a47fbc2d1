package record_test

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// A record cut at any byte keeps every entry that is whole, and says where it
// was cut.
func TestCutAtAnyByte(t *testing.T) {
	full := playedOf(t, "sideout-doubles-11", 3)
	text := []byte(whole(t, full))
	lineEnds := 0
	step := 7 // and at every end of a line
	switch {
	case deep(0) > 0:
		step = 1
	case testing.Short():
		step = 31
	}
	for cut := range text {
		if cut%step != 0 && text[cut-1] != '\n' {
			continue
		}
		part := text[:cut]
		complete := bytes.Count(part, []byte("\n"))
		atEnd := cut == 0 || part[cut-1] == '\n'
		if !atEnd && text[cut] == '\n' {
			complete++ // only the line end is gone
		}
		got, problems, err := record.Recover(bytes.NewReader(part))
		if complete == 0 {
			var e *record.Error
			require.ErrorAs(t, err, &e, cut)
			require.Equal(t, cut > 0, e.Code == "torn", cut)
			continue
		}
		require.NoError(t, err, cut)
		require.Equal(t, min(complete-1, full.Len()), got.Log.Len(), cut)
		for n := max(1, got.Log.Len()-1); n <= got.Log.Len(); n++ {
			require.Equal(t, full.Entry(n).String(), got.Log.Entry(n).String())
		}
		if atEnd {
			lineEnds++
			require.Empty(t, problems, cut)
			strict, err := record.Read(bytes.NewReader(part))
			require.NoError(t, err, cut)
			require.False(t, strict.Ended, cut)
			continue
		}
		require.Len(t, problems, 1, cut)
		require.Equal(t, record.ErrorCode("torn"), problems[0].Code, cut)
		require.Equal(t, int64(bytes.LastIndexByte(part, '\n')+1), problems[0].Byte, cut)
		require.Equal(t, bytes.Count(part, []byte("\n"))+1, problems[0].Line, cut)
		if cut%23 != 0 {
			continue // the strict reader is the same code: it is looked at less often
		}
		strict, err := record.Read(bytes.NewReader(part))
		require.Nil(t, strict)
		require.EqualError(t, err, problems[0].Error())
	}
	require.Equal(t, full.Len()+1, lineEnds)
	t.Logf("%d bytes, %d entries", len(text), full.Len())
}

// Whatever a crash leaves, the match goes on from it in the same file.
func TestResumeAfterACut(t *testing.T) {
	full := played(t, 3)
	text := []byte(whole(t, full))
	step := 101
	if testing.Short() {
		step = 997
	}
	header := bytes.IndexByte(text, '\n')
	path := filepath.Join(t.TempDir(), "match.jsonl")
	for cut := header; cut < len(text); cut += step {
		require.NoError(t, os.WriteFile(path, text[:cut], 0o644))
		rec, w, err := record.Resume(path)
		require.NoError(t, err, cut)
		for n := rec.Log.Len() + 1; n <= full.Len(); n++ {
			_, err := rec.Log.Enter(full.Entry(n).String())
			require.NoError(t, err)
			if ms, ok := full.Time(n); ok {
				rec.Log.Stamp(ms)
			}
		}
		require.NoError(t, w.End())
		require.NoError(t, w.Close())
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, string(text), string(got), cut)
	}
}

const writes = "EVENCOURT_TEST_WRITES"

// TestMain lets the test binary be the process that is killed while it writes.
func TestMain(m *testing.M) {
	if path := os.Getenv(writes); path != "" {
		writeForever(path)
	}
	os.Exit(m.Run())
}

// writeForever writes entry after entry, and says the number of each on its
// standard output when it is safe.
func writeForever(path string) {
	say := bufio.NewWriter(os.Stdout)
	fail := func(err error) {
		if err != nil {
			_, _ = os.Stderr.WriteString(err.Error())
			os.Exit(1)
		}
	}
	l := rally.NewLog(ofTest(), ofTest().New(rally.A))
	w, err := record.Create(path, harbour, l)
	fail(err)
	for n := 1; n < record.MostEntries; n++ {
		entry := "replay"
		if n%2 == 0 {
			entry = "undo"
		}
		_, err := l.Enter(entry)
		fail(err)
		fail(w.Append())
		fail(w.Sync())
		_, _ = say.WriteString(entry + "\n")
		_ = say.Flush()
	}
	os.Exit(2) // nobody killed us
}

func TestKilledWhileWriting(t *testing.T) {
	early := 0
	for i := range min(deep(6), 200) {
		path := filepath.Join(t.TempDir(), "match.jsonl")
		child := exec.Command(os.Args[0])
		child.Env = append(os.Environ(), writes+"="+path)
		out, err := child.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, child.Start())
		said := 0
		lines := bufio.NewScanner(out)
		if i%3 == 0 { // while the record is being created, or soon after
			time.Sleep(time.Duration(i%40) * time.Millisecond / 2)
		} else {
			for said < 20+13*(i%9) && lines.Scan() {
				said++
			}
			time.Sleep(time.Duration(i%7) * time.Millisecond)
		}
		require.NoError(t, child.Process.Kill())
		for lines.Scan() {
			said++
		}
		require.Error(t, child.Wait(), "it was killed, it did not end")
		file, err := os.Open(path)
		if os.IsNotExist(err) {
			early++
			require.Zero(t, said)
			w, err := record.Create(path, harbour, rally.NewLog(ofTest(), ofTest().New(rally.A)))
			require.NoError(t, err, "a creation that was killed blocks nothing")
			require.NoError(t, w.Close())
			continue
		}
		require.NoError(t, err)
		got, problems, err := record.Recover(file)
		require.NoError(t, err)
		require.NoError(t, file.Close())
		require.GreaterOrEqual(t, got.Log.Len(), said, "every entry that was said to be safe is there")
		require.LessOrEqual(t, got.Log.Len(), said+1)
		for _, p := range problems {
			require.Equal(t, record.ErrorCode("torn"), p.Code)
		}
		rec, w, err := record.Resume(path)
		require.NoError(t, err)
		_, err = rec.Log.Enter("A")
		require.NoError(t, err)
		require.NoError(t, w.End())
		require.NoError(t, w.Close())
		_, err = record.Read(strings.NewReader(readFile(t, path)))
		require.NoError(t, err)
	}
	t.Logf("%d times before the record had its name", early)
}

func readFile(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(data)
}
