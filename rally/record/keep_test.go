package record_test

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

func entry(t testing.TB, text string) rally.Entry {
	t.Helper()
	e, err := rally.ParseEntry(text)
	require.NoError(t, err)
	return e
}

// kept begins a match in a new file, with a clock that a test can set.
func kept(t *testing.T, ms *int64) (m *record.Match, path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "court.jsonl")
	rules := compile(t, "sideout-doubles-11@2026")
	w, err := record.Create(path, harbour, rally.NewLog(rules, rules.New(rally.A)))
	require.NoError(t, err)
	return record.Keep(w, func() int64 { return *ms }), path
}

// onDisk is what a reader finds in the file.
func onDisk(t testing.TB, path string) *rally.Log {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer func() { require.NoError(t, file.Close()) }()
	rec, err := record.Read(file)
	require.NoError(t, err)
	return rec.Log
}

// agrees sees that memory and file hold the same.
func agrees(t testing.TB, m *record.Match, path string) {
	t.Helper()
	m.Read(func(l *rally.Log) { same(t, l, onDisk(t, path)) })
}

// TestEnteredLater gives an entry the time at which a device had it.
func TestEnteredLater(t *testing.T) {
	ms := int64(1_000)
	m, path := kept(t, &ms)
	_, err := m.Do(record.Request{Entry: entry(t, "A")})
	require.NoError(t, err)
	ms += 60_000
	_, err = m.Do(record.Request{ID: "late", Entry: entry(t, "tA"), Time: ms - 50_000})
	require.NoError(t, err)
	require.EqualValues(t, 10_000, m.Snapshot().Clock.Remaining, "fifty of sixty seconds are over")
	_, err = m.Do(record.Request{ID: "later", Entry: entry(t, "undo"), Time: ms + 50_000})
	require.NoError(t, err)
	m.Read(func(l *rally.Log) {
		at, stamped := l.Time(3)
		require.True(t, stamped)
		require.Equal(t, ms, at, "nothing is entered in the future")
	})
	agrees(t, m, path)
}

func TestKeptMatch(t *testing.T) {
	ms := int64(1_000)
	m, path := kept(t, &ms)
	got, err := m.Do(record.Request{ID: "one", N: 1, Entry: entry(t, "gA1B1")})
	require.NoError(t, err)
	require.Equal(t, record.Done{N: 1, Effects: rally.GameStarted}, got)
	ms += 9000
	got, err = m.Do(record.Request{ID: "two", Entry: entry(t, "A")})
	require.NoError(t, err)
	require.Equal(t, 2, got.N)
	agrees(t, m, path)

	t.Run("a retry adds nothing", func(t *testing.T) {
		again, err := m.Do(record.Request{ID: "two", N: 2, Entry: entry(t, "A")})
		require.NoError(t, err)
		require.Equal(t, record.Done{N: 2, Effects: rally.Point, Again: true}, again)
		agrees(t, m, path)
	})
	t.Run("one name for two entries", func(t *testing.T) {
		_, err := m.Do(record.Request{ID: "two", Entry: entry(t, "B")})
		require.ErrorContains(t, err, "is that of another entry, number 2")
	})
	t.Run("the second of two devices", func(t *testing.T) {
		_, err := m.Do(record.Request{ID: "three", N: 2, Entry: entry(t, "B")})
		var e *record.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, record.ErrorCode("stale"), e.Code)
	})
	t.Run("an event that cannot come", func(t *testing.T) {
		_, err := m.Do(record.Request{ID: "four", Entry: entry(t, "in")})
		var e *rally.EntryError
		require.ErrorAs(t, err, &e)
		require.Equal(t, rally.NoBreakRunning, e.Refusal)
	})
	t.Run("a name that is too long", func(t *testing.T) {
		_, err := m.Do(record.Request{ID: strings.Repeat("x", record.MostRequest+1), Entry: entry(t, "A")})
		require.ErrorContains(t, err, "request: must be 1 to 64 bytes")
	})
	agrees(t, m, path)

	t.Run("names and a clock that goes back", func(t *testing.T) {
		changed := m.Changed()
		u := m.Setup()
		u.Court = "7"
		require.NoError(t, m.Name(u))
		<-changed
		ms = 500
		_, err := m.Do(record.Request{Entry: entry(t, "tA")})
		require.NoError(t, err)
		m.Read(func(l *rally.Log) {
			_, stamped := l.Time(3)
			require.False(t, stamped)
		})
		var drawn rally.Snapshot
		require.NoError(t, json.Unmarshal(m.AppendJSON(nil), &drawn))
		require.Equal(t, "7", drawn.Setup.Court)
		require.Equal(t, 3, drawn.Entries)
		require.Equal(t, "sideout-doubles-11@2026", m.Rules().Format().ID())
	})
	t.Run("a correction tells what it changed", func(t *testing.T) {
		got, err := m.Do(record.Request{ID: "five", Entry: entry(t, "amend 2 B")})
		require.NoError(t, err)
		require.Len(t, got.Changes, 1)
		again, err := m.Do(record.Request{ID: "five", Entry: entry(t, "amend 2 B")})
		require.NoError(t, err)
		require.Equal(t, got.Changes, again.Changes)
	})
	agrees(t, m, path)
	require.NoError(t, m.Close())

	t.Run("a retry after a restart", func(t *testing.T) {
		_, w, err := record.Resume(path)
		require.NoError(t, err)
		m := record.Keep(w, nil)
		again, err := m.Do(record.Request{ID: "two", Entry: entry(t, "A")})
		require.NoError(t, err)
		require.True(t, again.Again)
		require.Equal(t, "7", m.Setup().Court)
		for range 11 {
			_, err = m.Do(record.Request{Entry: entry(t, "B")})
			require.NoError(t, err)
		}
		agrees(t, m, path)
		require.NoError(t, m.Close())
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Contains(t, string(text), `{"end":"over"`)
	})
}

// full is a disk that takes so many bytes more.
type full struct {
	strings.Builder
	room int
}

func (f *full) Write(b []byte) (int, error) {
	if len(b) > f.room {
		n, _ := f.Builder.Write(b[:f.room])
		f.room = 0
		return n, errors.New("no space left")
	}
	f.room -= len(b)
	return f.Builder.Write(b)
}

// A write that fails leaves the log as it was, and after one that put nothing into
// the file the match goes on.
func TestFailedWrite(t *testing.T) {
	disk := &full{room: 1 << 16}
	rules := compile(t, "sideout-doubles-11@2026")
	w, err := record.NewWriter(disk, harbour, rally.NewLog(rules, rules.New(rally.A)))
	require.NoError(t, err)
	m := record.Keep(w, func() int64 { return 0 })
	do := func(id string) error {
		_, err := m.Do(record.Request{ID: id, Entry: entry(t, "A")})
		return err
	}
	held := func() (n int) {
		m.Read(func(l *rally.Log) { n = l.Len() })
		return n
	}
	require.NoError(t, do("1"))
	disk.room = 0
	require.ErrorContains(t, do("2"), "no space left")
	require.Equal(t, 1, held())
	disk.room = 1 << 16
	require.NoError(t, do("2"), "the same request again")
	require.Equal(t, 2, held())
	disk.room = 10
	require.ErrorContains(t, do("3"), "no space left")
	require.Equal(t, 2, held())
	disk.room = 1 << 16
	require.Error(t, do("3"), "nobody can know what the file holds")
	require.Equal(t, 2, held())
	rec, problems, err := record.Recover(strings.NewReader(disk.String()))
	require.NoError(t, err)
	require.Len(t, problems, 1)
	require.Equal(t, record.ErrorCode("torn"), problems[0].Code)
	require.Equal(t, 2, rec.Log.Len())
}

// Many hands at once: every request that was answered is in the file, once, and who
// asks for a number gets it alone.
func TestKeptBySeveral(t *testing.T) {
	ms := int64(0)
	m, path := kept(t, &ms)
	const hands, each = 8, 12
	var group sync.WaitGroup
	answered := make([]map[string]int, hands)
	for h := range hands {
		answered[h] = map[string]int{}
		group.Add(1)
		go func() {
			defer group.Done()
			for i := range each {
				id := strconv.Itoa(h) + "-" + strconv.Itoa(i)
				words := []string{"A", "B", "replay", "undo"}
				e, _ := rally.ParseEntry(words[(h+i)%len(words)])
				var n int
				m.Read(func(l *rally.Log) { n = l.Len() + 1 })
				for _, number := range []int{n, 0} { // first with the guard, then without
					if got, err := m.Do(record.Request{ID: id, N: number, Entry: e}); err == nil {
						answered[h][id] = got.N
						again, err := m.Do(record.Request{ID: id, Entry: e})
						if err != nil || !again.Again || again.N != got.N {
							t.Errorf("%s again: %v, %v", id, again, err)
						}
						break
					}
				}
				m.AppendJSON(nil)
			}
		}()
	}
	group.Wait()
	agrees(t, m, path)
	numbers := map[int]bool{}
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, of := range answered {
		for id, n := range of {
			require.False(t, numbers[n])
			numbers[n] = true
			require.Contains(t, string(text), `{"n":`+strconv.Itoa(n)+`,`)
			require.Equal(t, 1, strings.Count(string(text), `"request":"`+id+`"`))
		}
	}
	require.Greater(t, len(numbers), hands*each/2)
	require.NoError(t, m.Close())
}
