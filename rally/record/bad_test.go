package record_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// short is a record with three entries, a set-up and a closing line.
func short(t testing.TB) []string {
	t.Helper()
	rules := compile(t, "sideout-doubles-11@2026")
	l := rally.NewLog(rules, rules.New(rally.A))
	var b bytes.Buffer
	u := harbour
	first := rally.A
	u.First = &first
	w, err := record.NewWriter(&b, u, l)
	require.NoError(t, err)
	for i, e := range []string{"gA1B1", "A", "B"} {
		_, err := l.Enter(e)
		require.NoError(t, err)
		l.Stamp(int64(1000 * i))
		require.NoError(t, w.Append())
	}
	require.NoError(t, w.End())
	return strings.SplitAfter(strings.TrimSuffix(version1(b.String()), "\n"), "\n")
}

var (
	sums = regexp.MustCompile(`,"sum":"[0-9a-f]{16}"}`)
	pins = regexp.MustCompile(`"rules":\{.*\},("setup"|"ms"|"line")`)
)

// version1 is a record as the first version had it, without checksums and rules: it is
// read for ever.
func version1(text string) string {
	return sums.ReplaceAllString(pins.ReplaceAllString(strings.Replace(text, `"record":2`, `"record":1`, 1), "$1"), "}")
}

// with returns the record with one text in one line (from 1) replaced.
func with(t testing.TB, line int, old, new string) string {
	t.Helper()
	lines := short(t)
	require.Contains(t, lines[line-1], old)
	lines[line-1] = strings.Replace(lines[line-1], old, new, 1)
	return strings.Join(lines, "") + "\n"
}

func TestRefusedRecords(t *testing.T) {
	lines := short(t)
	in := func(order ...int) string {
		out := ""
		for _, n := range order {
			out += strings.TrimSuffix(lines[n-1], "\n") + "\n"
		}
		return out
	}
	for _, c := range []struct {
		name  string
		text  string
		line  int
		code  record.ErrorCode
		field string
	}{
		{"nothing", "", 1, "no-header", ""},
		{"an empty line", "\n", 1, "syntax", ""},
		{"an array", "[]\n", 1, "syntax", ""},
		{"another object", "{}\n", 1, "no-header", "record"},
		{"no header", in(2, 3), 1, "no-header", "record"},
		{"a second header", in(1, 2, 1), 3, "syntax", "record"},
		{"a later version", with(t, 1, `"record":1`, `"record":3`), 1, "version", "record"},
		{"no version", with(t, 1, `"record":1`, `"record":null`), 1, "field", "record"},
		{"an unknown shape", with(t, 1, "sideout-doubles-11", "sideout-doubles-12"), 1, "field", "format"},
		{"a format that is a number", with(t, 1, `"format":"sideout-doubles-11@2026"`, `"format":11`), 1, "field", "format"},
		{"an empty format", with(t, 1, `"format":"sideout-doubles-11@2026"`, `"format":{}`), 1, "field", "format.shape"},
		{"another edition", with(t, 1, `"edition":"2026"`, `"edition":"2025"`), 1, "field", "edition"},
		{"an unknown edition", with(t, 1, `"edition":"2026"`, `"edition":"1066"`), 1, "field", "edition"},
		{"no edition", with(t, 1, `"edition":"2026",`, ``), 1, "field", "edition"},
		{"no set-up", with(t, 1, `"setup":`, `"set_up":`), 1, "field", "set_up"},
		{"an unknown field of the set-up", with(t, 1, `"court":`, `"courts":`), 1, "field", "setup.courts"},
		{"a side that is none", with(t, 1, `"left":"B"`, `"left":"C"`), 1, "field", "setup"},
		{"one player twice", with(t, 1, `"id":"tz"`, `"id":"io"`), 1, "field", "setup.sides.0.players.1"},
		{"an impossible start", with(t, 1, `"setup"`, `"start":"L2 game=9","setup"`), 1, "field", "start"},
		{"an unknown field of an entry", with(t, 3, `"do"`, `"dont":1,"do"`), 3, "field", "dont"},
		{"a field in capitals", with(t, 3, `"do"`, `"Do"`), 3, "field", `"Do"`},
		{"a field twice", with(t, 3, `"do"`, `"n":2,"do"`), 3, "field", "n"},
		{"no event", with(t, 3, `"do":"A",`, ``), 3, "field", "do"},
		{"an event that is none", with(t, 3, `"do":"A"`, `"do":"C"`), 3, "refused", "do"},
		{"an event that cannot come", with(t, 3, `"do":"A"`, `"do":"in"`), 3, "refused", "do"},
		{"a number as text", with(t, 3, `"n":2`, `"n":"2"`), 3, "field", "n"},
		{"a broken number", with(t, 3, `"n":2`, `"n":2.5`), 3, "field", "n"},
		{"number nought", with(t, 3, `"n":2`, `"n":0`), 3, "field", "n"},
		{"a huge number", with(t, 3, `"n":2`, `"n":20001`), 3, "too-many", "n"},
		{"a time before the match", with(t, 3, `"ms":1000`, `"ms":-1`), 3, "field", "ms"},
		{"a time beyond all", with(t, 3, `"ms":1000`, `"ms":9007199254740993`), 3, "field", "ms"},
		{"a time that goes back", with(t, 4, `"ms":2000`, `"ms":999`), 4, "time-back", "ms"},
		{"an edited entry", with(t, 3, `"do":"A"`, `"do":"B"`), 3, "disagrees", "line.score"},
		{"an edited score", with(t, 3, `score=1-0`, `score=2-0`), 3, "disagrees", "line.score"},
		{"an edited ledger", with(t, 4, `timeouts=0:0`, `timeouts=0:1`), 4, "disagrees", "line.timeouts"},
		{"a line cut short", with(t, 4, ` carry=----`, ``), 4, "disagrees", "line"},
		{"a missing entry", in(1, 2, 4), 3, "gap", "n"},
		{"a line twice", in(1, 2, 3, 3, 4), 4, "duplicate", "n"},
		{"two writers", in(1, 2, 3, 4) + `{"n":3,"do":"A"}` + "\n", 5, "collision", "n"},
		{"two writers at different times", in(1, 2, 3, 4) + `{"n":3,"do":"B","ms":2001}` + "\n", 5, "collision", "n"},
		{"a closing line that counts more", with(t, 5, `"entries":3`, `"entries":4`), 5, "gap", "entries"},
		{"a closing line of another phase", with(t, 5, `"end":"play"`, `"end":"over"`), 5, "disagrees", "end"},
		{"a closing line of another score", with(t, 5, `score=1-0`, `score=1-1`), 5, "disagrees", "line.score"},
		{"two closing lines", in(1, 2, 3, 4, 5, 5), 6, "duplicate", "end"},
		{"a set-up with another first side", in(1) + `{"setup":{"sides":[{"players":[{},{}]},{"players":[{},{}]}],"left":"A","first":"B"}}` + "\n", 2, "field", "setup.first"},
		{"some other object", in(1) + `{"note":"rain"}` + "\n", 2, "syntax", ""},
		{"text after the object", in(1) + "{\"n\":1,\"do\":\"A\"} {}\n" + in(2), 2, "syntax", ""},
		{"bytes that are no text", in(1) + "{\"n\":1,\"do\":\"\xff\"}\n", 2, "syntax", ""},
		{"a bomb of brackets", in(1) + `{"n":` + strings.Repeat("[", 9000) + strings.Repeat("]", 9000) + "}\n", 2, "syntax", ""},
		{"a line without end", in(1) + strings.Repeat("x", record.MostLine+1) + "\n" + in(2), 2, "too-long", ""},
		{"a last line that is no line", in(1, 2) + "\x00\x00\x00\n", 3, "torn", ""},
		{"a last line too long", in(1) + strings.Repeat("x", record.MostLine+1), 2, "torn", ""},
		{"a mark before the text", "\xef\xbb\xbf" + in(1, 2), 1, "syntax", ""},
		{"UTF-16", "\xff\xfe{\x00\"\x00" + in(2), 1, "syntax", ""},
		{"half a surrogate", in(1) + `{"n":1,"do":"amend 1 A \ud800"}` + "\n" + in(2), 2, "syntax", ""},
		{"set-ups without end", in(1) + strings.Repeat(`{"setup":{"sides":[{"players":[{},{}]},{"players":[{},{}]}],"left":"B","first":"A"}}`+"\n", record.MostSetups+1), record.MostSetups + 2, "too-many", "setup"},
		{"a torn line", in(1, 2) + `{"n":2,"do`, 3, "torn", ""},
		{"a line without its line end", strings.TrimSuffix(in(1, 2), "\n"), 2, "torn", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := record.Read(strings.NewReader(c.text))
			require.Nil(t, got)
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, c.code, e.Code, e.Error())
			require.Equal(t, c.line, e.Line, e.Error())
			if c.name == "a bomb of brackets" {
				require.Contains(t, e.Reason, "nested too deeply")
				return
			}
			require.Equal(t, c.field, e.Field, e.Error())
			require.Equal(t, int64(nth(c.text, c.line)), e.Byte)
			require.NotRegexp(t, regexp.MustCompile(`\.$|[^\x20-\x7e]`), e.Error())
		})
	}
}

// nth returns the number of bytes before a line.
func nth(text string, line int) int {
	at := 0
	for ; line > 1; line-- {
		at += strings.IndexByte(text[at:], '\n') + 1
	}
	return at
}

// What the strict reader refuses, the lenient one names, and goes on.
func TestRecover(t *testing.T) {
	lines := short(t)
	codes := func(problems []*record.Error) (out []record.ErrorCode) {
		for _, p := range problems {
			out = append(out, p.Code)
		}
		return out
	}
	for _, c := range []struct {
		name  string
		text  string
		want  string // entries
		codes []record.ErrorCode
	}{
		{"all is well", strings.Join(lines, "") + "\n", "gA1B1 A B", nil},
		{"spaces and empty lines", lines[0] + "\n  \n" + " " + lines[1] + "\r\n" + lines[2] + lines[3], "gA1B1 A B", nil},
		{"a line twice", lines[0] + lines[1] + lines[2] + lines[2] + lines[3], "gA1B1 A B", []record.ErrorCode{"duplicate"}},
		{"two writers", lines[0] + lines[1] + lines[2] + `{"n":2,"do":"B"}` + "\n" + lines[3], "gA1B1 A B", []record.ErrorCode{"collision"}},
		{"a torn line in the middle", lines[0] + lines[1] + `{"n":2,"d` + "\n" + lines[2] + lines[3], "gA1B1 A B", []record.ErrorCode{"syntax"}},
		{"a missing entry", lines[0] + lines[1] + lines[3], "gA1B1 set", []record.ErrorCode{"gap", "disagrees"}},
		{"an event that cannot come", with(t, 3, `"do":"A"`, `"do":"ends"`), "gA1B1 set B", []record.ErrorCode{"refused"}},
		{"an edited line", with(t, 3, "score=1-0", "score=9-0"), "gA1B1 A B", []record.ErrorCode{"disagrees"}},
		{"unknown fields", with(t, 3, `"do"`, `"note":"rain","do"`), "gA1B1 A B", nil},
		{"a line too long", lines[0] + lines[1] + strings.Repeat("x", 3*record.MostLine) + "\n" + lines[2] + lines[3], "gA1B1 A B", []record.ErrorCode{"too-long"}},
		{"a correction of a missing entry", lines[0] + lines[1] + strings.ReplaceAll(lines[3], `"n":3`, `"n":4`) +
			`{"n":5,"do":"amend 3 A"}` + "\n" + `{"n":6,"do":"amend 4 A"}` + "\n", "gA1B1 set",
			[]record.ErrorCode{"gap", "disagrees", "refused", "refused"}},
		{"an edited entry", with(t, 2, `"do":"gA1B1"`, `"do":"gB1A1"`), "set A B", []record.ErrorCode{"refused"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, problems, err := record.Recover(strings.NewReader(c.text))
			require.NoError(t, err)
			require.Equal(t, c.codes, codes(problems))
			var entries []string
			for n := 1; n <= got.Log.Len(); n++ {
				if e, ok := got.Log.Holds(n); ok {
					entries = append(entries, e.String())
				} else {
					entries = append(entries, got.Log.Entry(n).Kind.String())
				}
			}
			require.Equal(t, c.want, strings.Join(entries, " "))
		})
	}
}

// However much is wrong, what is told about it is bounded.
func TestProblemsAreBounded(t *testing.T) {
	text := short(t)[0] + strings.Repeat("x\n", 5000)
	_, problems, err := record.Recover(strings.NewReader(text))
	require.NoError(t, err)
	require.Len(t, problems, record.MostProblems+1)
	require.Equal(t, record.ErrorCode("too-many"), problems[record.MostProblems].Code)
}

// No number of corrections is too many: a child may press undo all afternoon.
func TestCorrectionsHaveNoEnd(t *testing.T) {
	const presses = 9_000
	var b strings.Builder
	b.WriteString(short(t)[0] + short(t)[1])
	for n := 2; n < presses; n++ {
		b.WriteString(`{"n":` + strconv.Itoa(n) + `,"do":"` + []string{"undo", "redo"}[n%2] + "\"}\n")
	}
	got, err := record.Read(strings.NewReader(b.String()))
	require.NoError(t, err)
	require.Equal(t, presses-1, got.Log.Len())
	text, err := record.Notation(got.Log)
	require.NoError(t, err)
	again, err := record.ParseNotation(text)
	require.NoError(t, err)
	require.Equal(t, got.Log.State(), again.State())
}

// broken is a source that fails after some bytes.
type broken struct{ rest string }

var errBroken = errors.New("the disk is gone")

func (b *broken) Read(p []byte) (int, error) {
	if b.rest == "" {
		return 0, errBroken
	}
	n := copy(p, b.rest)
	b.rest = b.rest[n:]
	return n, nil
}

func TestUnreadable(t *testing.T) {
	text := short(t)[0] + short(t)[1] + `{"n":2,`
	_, err := record.Read(&broken{text})
	require.ErrorIs(t, err, errBroken)
	got, problems, err := record.Recover(&broken{text})
	require.NoError(t, err)
	require.Equal(t, 1, got.Log.Len())
	require.Equal(t, record.ErrorCode("unreadable"), problems[0].Code)
}

// What no record can hold, no log takes, so that a match is never ahead of its
// record.
func TestReasonsThatNoRecordCanHold(t *testing.T) {
	rules := compile(t, "sideout-doubles-11@2026")
	l := rally.NewLog(rules, rules.New(rally.A))
	l.Apply(rally.RallyTo(rally.A))
	for name, note := range map[string]string{
		"no text": "\xff", "two lines": "one\ntwo", "an order to a terminal": "\x1b[2J", "without end": strings.Repeat("x", rally.MostNote+1),
		"a space at its end": "x ",
	} {
		_, err := l.Do(rally.Entry{Kind: rally.Amend, Target: 1, Note: note})
		var refused *rally.EntryError
		require.ErrorAs(t, err, &refused, name)
		require.Equal(t, rally.Malformed, refused.Refusal, name)
	}
	require.Equal(t, 1, l.Len())
}

func TestWriterRefuses(t *testing.T) {
	rules := compile(t, "sideout-doubles-11@2026")
	begin := func() (*rally.Log, *record.Writer, *bytes.Buffer) {
		var b bytes.Buffer
		l := rally.NewLog(rules, rules.New(rally.A))
		w, err := record.NewWriter(&b, harbour, l)
		require.NoError(t, err)
		return l, w, &b
	}
	code := func(err error) record.ErrorCode {
		var e *record.Error
		require.ErrorAs(t, err, &e)
		return e.Code
	}
	t.Run("a time that goes back", func(t *testing.T) {
		l, w, b := begin()
		for _, ms := range []int64{1000, 999, 1001} {
			_, _ = l.Apply(rally.RallyTo(rally.A))
			l.Stamp(ms)
		}
		require.NoError(t, w.End(), "a clock that is set back does not cost the match")
		got, err := record.Read(b)
		require.NoError(t, err)
		require.Equal(t, l.State(), got.Log.State())
		_, timed := got.Log.Time(2)
		require.False(t, timed)
		ms, _ := got.Log.Time(3)
		require.Equal(t, int64(1001), ms)
	})
	t.Run("names that are no text", func(t *testing.T) {
		u := harbour
		u.Referee = "\xc3"
		_, err := record.NewWriter(&bytes.Buffer{}, u, rally.NewLog(rules, rally.State{}))
		require.Equal(t, record.ErrorCode("field"), code(err))
		_, w, b := begin()
		require.Equal(t, record.ErrorCode("field"), code(w.Setup(u)))
		u.Referee = "Noor Haddad"
		u.Sides[0].Players[0].Mark = "cap"
		require.NoError(t, w.Setup(u), "a set-up refused costs nothing")
		got, err := record.Read(b)
		require.NoError(t, err)
		require.Equal(t, u, got.Setup)
	})
	t.Run("another writer", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "match.jsonl")
		l := rally.NewLog(rules, rules.New(rally.A))
		w, err := record.Create(path, harbour, l)
		require.NoError(t, err)
		if runtime.GOOS == "linux" {
			_, _, err = record.Resume(path)
			require.Equal(t, record.ErrorCode("other-writer"), code(err), "the second is told at once")
		}
		_, err = record.Create(path, harbour, l)
		require.ErrorIs(t, err, os.ErrExist)
		by, err := os.OpenFile(path, os.O_APPEND|os.O_WRONLY, 0)
		require.NoError(t, err)
		_, err = by.WriteString("x\n")
		require.NoError(t, err)
		require.NoError(t, by.Close())
		_, _ = l.Apply(rally.RallyTo(rally.A))
		require.Equal(t, record.ErrorCode("other-writer"), code(w.Append()), "what writes without asking is seen")
		require.NoError(t, w.Close())
		require.Equal(t, record.ErrorCode("unreadable"), code(w.Append()), "closed")
		rec, w, err := record.Resume(path)
		require.NoError(t, err)
		require.Equal(t, "x", rec.Torn)
		require.NoError(t, w.Close())
	})
	t.Run("resuming what is more than torn", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "match.jsonl")
		text := with(t, 3, "score=1-0", "score=2-0")
		require.NoError(t, os.WriteFile(path, []byte(text+`{"n":4`), 0o644))
		_, _, err := record.Resume(path)
		require.Equal(t, record.ErrorCode("disagrees"), code(err))
		require.Equal(t, text+`{"n":4`, readFile(t, path), "it stays as it is")
	})
}

// A match may go on after its record was closed.
func TestGoesOnAfterTheEnd(t *testing.T) {
	path := filepath.Join(t.TempDir(), "match.jsonl")
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(short(t), "")+"\n"), 0o644))
	rec, w, err := record.Resume(path)
	require.NoError(t, err)
	require.True(t, rec.Ended)
	require.NoError(t, w.End(), "it is closed already")
	_, err = rec.Log.Enter("A")
	require.NoError(t, err)
	require.NoError(t, w.Append())
	got, err := record.Read(strings.NewReader(readFile(t, path)))
	require.NoError(t, err)
	require.False(t, got.Ended)
	require.NoError(t, w.End())
	require.NoError(t, w.Close())
	got, err = record.Read(strings.NewReader(readFile(t, path)))
	require.NoError(t, err)
	require.True(t, got.Ended)
	require.Equal(t, 4, got.Log.Len())
}

func TestRefusedFormats(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11-of3@2026")
	require.NoError(t, err)
	full, err := record.MarshalFormat(f)
	require.NoError(t, err)
	for _, c := range []struct{ name, old, new, field string }{
		{"no shape", `"shape":"sideout-doubles-11-of3",`, ``, "shape"},
		{"an unknown shape", `sideout-doubles-11-of3`, `nonsense`, "shape"},
		{"a shape of another game", `"shape":"sideout-doubles-11-of3"`, `"shape":"rally-doubles-11-of3"`, "shape"},
		{"a target as text", `"target":11`, `"target":"11"`, "game.target"},
		{"a target beyond all", `"target":11`, `"target":300`, "game.target"},
		{"a missing target", `"target":11,`, ``, "game.target"},
		{"a target that is null", `"target":11`, `"target":null`, "game.target"},
		{"an unknown field", `"target":11`, `"target":11,"goal":11`, "game.goal"},
		{"a field twice", `"target":11`, `"target":11,"target":11`, "game.target"},
		{"an order that is none", `"order":"parity"`, `"order":"chaos"`, "game"},
		{"no games", `"games":3`, `"games":0`, "match.games"},
		{"a reading that is none", `"order-error":"replay-if-stopped"`, `"order-error":"maybe"`, "rulings.order-error"},
		{"a switch that is none", `"order-error"`, `"weather":"rain","order-error"`, "rulings"},
		{"rulings as numbers", `"order-error":"replay-if-stopped"`, `"order-error":3`, "rulings.order-error"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, string(full), c.old)
			_, err := record.UnmarshalFormat([]byte(strings.Replace(string(full), c.old, c.new, 1)))
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, c.field, e.Field, e.Error())
		})
	}
	_, err = record.MarshalFormat(format.Format{})
	require.Error(t, err)
}

func TestEvents(t *testing.T) {
	l := played(t, 5)
	var all []rally.Event
	for n := 1; n <= l.Len(); n++ {
		if e, ok := l.Holds(n); ok {
			all = append(all, e)
		}
	}
	data, err := record.MarshalEvents(all)
	require.NoError(t, err)
	got, err := record.UnmarshalEvents(data)
	require.NoError(t, err)
	require.Equal(t, all, got)
	_, err = record.MarshalEvents([]rally.Event{rally.RallyTo(rally.A), 0})
	require.Error(t, err)
	for _, c := range []struct{ name, text, field string }{
		{"nothing", ``, ""},
		{"an object", `{}`, ""},
		{"a number", `["A",1]`, "1"},
		{"no event", `["A","B","C"]`, "2"},
		{"a correction", `["undo"]`, "0"},
		{"an array that breaks off", `["A","B"`, ""},
		{"two arrays", `["A"]["B"]`, ""},
		{"too many", `["A"` + strings.Repeat(`,"A"`, record.MostEntries) + `]`, strconv.Itoa(record.MostEntries)},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := record.UnmarshalEvents([]byte(c.text))
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, c.field, e.Field, e.Error())
		})
	}
}

// A format that was written before a switch existed reads as its edition has it.
func TestFormatFromBeforeASwitch(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11-of3@2026+late-side=stands")
	require.NoError(t, err)
	full, err := record.MarshalFormat(f)
	require.NoError(t, err)
	older := strings.Replace(string(full), `"order-error":"replay-if-stopped",`, ``, 1)
	require.NotEqual(t, string(full), older)
	got, err := record.UnmarshalFormat([]byte(older))
	require.NoError(t, err)
	require.Equal(t, f, got)
}
