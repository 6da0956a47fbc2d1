package record_test

import (
	"bytes"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// sealed gives lines their checksums, as FORMAT.md has them.
func sealed(lines []string) string {
	out, before := "", "00000000"
	for _, line := range lines {
		body := sums.ReplaceAllString(line, "") // and the brace at the end
		sum := fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(before+body)))
		out += body + `,"sum":"` + before + sum + `"}` + "\n"
		before = sum
	}
	return out
}

// older is a record as a library would have written it in whose tables the
// formats of the record had their plain ids: what differs today is no part of the id.
func older(text string) string {
	text = regexp.MustCompile(`(@20[0-9-]+)(\+[a-z0-9-]+=[a-z0-9-]+)+([ "])`).ReplaceAllString(text, "$1$3")
	return sealed(strings.Split(strings.TrimSuffix(text, "\n"), "\n"))
}

// TestUpdateOfOneReading plays a match with every sort of entry in it under every
// other value of every switch, writes it as a library would have that had this value
// in its tables, and reads it with today's: the score is the one that was played.
func TestUpdateOfOneReading(t *testing.T) {
	plain := mustParse(t, "sideout-doubles-11-of3@2026")
	scripts := [][]string{
		{"A", "A", "tfA", "B", "twB", "twB", "A", "mA1", "mA1-", "A", "mB1", "mB1w", "tA", "in", "A"},
		{"A", "A?server,rallyover,byB", "stop?server,struck,byA", "stop?receiver,returned,byB", "A?call,rallyover,byA", "A?side,rallyover", "stop?~call,struck,byB",
			"A:net?court,served,byA", "A?starter,rallyover", "B", "stop?server,receiver,struck,byref", "lostB", "backA", "A"},
		{"A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "A", "twA", "twA", "tB", "in", "B", "tfB", "gfA", "lostA", "retA"},
	}
	changed, departed := 0, 0
	for _, s := range format.Switches() {
		values := s.Readings()
		if len(values) == 1 {
			values = []string{"1", "7"} // a number, of time-outs or seconds
		}
		for _, value := range values {
			f := plain
			require.NoError(t, f.Rulings.SetText(s, value))
			f.Settle()
			if f == plain {
				continue
			}
			for i, script := range scripts {
				if testing.Short() && i != int(s)%len(scripts) {
					continue // one of them a switch
				}
				t.Run(s.String()+"="+value+"/"+string(rune('1'+i)), func(t *testing.T) {
					rules, err := rally.Compile(f)
					require.NoError(t, err)
					l := rally.NewLog(rules, rules.New(rally.A))
					_, err = l.Do(rally.Entry{Kind: rally.ChangeFormat, Format: f, Next: true, Note: "Haddad"})
					require.NoError(t, err)
					for _, e := range script {
						_, _ = l.Enter(e) // what these rules refuse is left out
					}
					text := older(whole(t, l))
					require.Contains(t, text, `"format":"sideout-doubles-11-of3@2026"`)
					require.Contains(t, text, `"do":"format sideout-doubles-11-of3@2026 next Haddad"`)

					rec, err := record.Read(strings.NewReader(text))
					require.NoError(t, err)
					same(t, l, rec.Log)
					require.Len(t, rec.Changed, 2, "the header and the change of format")
					require.Equal(t, record.ErrorCode("rules-changed"), rec.Changed[0].Code)
					require.Contains(t, rec.Changed[0].Error(), s.String()+" was "+value+" and is "+plain.Rulings.Text(s))
					changed++

					path := filepath.Join(t.TempDir(), "match.jsonl")
					require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
					resumed, w, err := record.Resume(path)
					require.NoError(t, err)
					same(t, l, resumed.Log)
					_, err = resumed.Log.Enter("undo")
					require.NoError(t, err)
					require.NoError(t, w.End())
					require.NoError(t, w.Close())
					after, err := os.ReadFile(path)
					require.NoError(t, err)
					again, problems, err := record.Recover(bytes.NewReader(after))
					require.NoError(t, err)
					require.Empty(t, problems)
					same(t, resumed.Log, again.Log)

					today, from := rec.Today()
					require.Equal(t, plain, today.Rules().Format())
					fresh := rally.NewLog(rally.MustCompile(plain), rally.MustCompile(plain).New(rally.A))
					for n := 2; n < l.Len() && (from == nil || n < from.Entry); n++ {
						_, err := fresh.Do(l.Entry(n))
						require.NoError(t, err, n)
					}
					if from == nil {
						require.Equal(t, line(l), line(today))
						return
					}
					departed++
					_, err = fresh.Do(l.Entry(from.Entry))
					require.Equal(t, from.Refused == nil, err == nil)
					if err == nil {
						require.Contains(t, line(fresh), " "+from.Field+"="+from.Is)
					}
				})
			}
		}
	}
	t.Logf("%d records read after an update of one reading, of which %d move the score", changed, departed)
	if !testing.Short() {
		require.Greater(t, changed, 180)
		require.Greater(t, departed, 8)
	}
}

// TestRetryAfterUpdate sends a change of format again, under its name, after an
// update of the library by which its id means something else: it is known.
func TestRetryAfterUpdate(t *testing.T) {
	now := mustParse(t, "sideout-doubles-11@2026")
	then := now
	require.NoError(t, then.Rulings.SetText(format.Switches()[0], otherValue(t, now, format.Switches()[0])))
	then.Settle()
	rules := rally.MustCompile(then)
	path := filepath.Join(t.TempDir(), "match.jsonl")
	w, err := record.Create(path, rally.Setup{}, rally.NewLog(rules, rules.New(rally.A)))
	require.NoError(t, err)
	m := record.Keep(w, nil)
	change := rally.Entry{Kind: rally.ChangeFormat, Format: then, Next: true, Note: "Haddad"}
	_, err = m.Do(record.Request{ID: "change", N: 1, Entry: change})
	require.NoError(t, err)
	require.NoError(t, m.Close())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, []byte(older(string(text))), 0o600))

	rec, w, err := record.Resume(path)
	require.NoError(t, err)
	require.NotEmpty(t, rec.Changed)
	m = record.Keep(w, nil)
	change.Format = now // what the text of the request says today
	did, err := m.Do(record.Request{ID: "change", N: 1, Entry: change})
	require.NoError(t, err)
	require.True(t, did.Again)
	require.Equal(t, 1, did.N)
	change.Note = "Raman"
	_, err = m.Do(record.Request{ID: "change", N: 1, Entry: change})
	require.ErrorContains(t, err, "is that of another entry")
	require.NoError(t, m.Close())
}

// otherValue is a reading of a switch that a format does not have.
func otherValue(t *testing.T, f format.Format, s format.Switch) string {
	t.Helper()
	for _, reading := range s.Readings() {
		g := f
		if g.Rulings.SetText(s, reading) == nil {
			if g.Settle(); g != f {
				return reading
			}
		}
	}
	t.Fatal("no other reading")
	return ""
}

func mustParse(t testing.TB, id string) format.Format {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	return f
}

func TestRulesOfARecord(t *testing.T) {
	text := whole(t, played(t, 3))
	read := func(t *testing.T, old, new string) (*record.Record, error) {
		t.Helper()
		require.Contains(t, text, old)
		return record.Read(strings.NewReader(sealed(strings.Split(strings.TrimSuffix(strings.Replace(text, old, new, 1), "\n"), "\n"))))
	}
	t.Run("the same today", func(t *testing.T) {
		rec, err := read(t, "{", "{")
		require.NoError(t, err)
		require.Empty(t, rec.Changed)
		log, from := rec.Today()
		require.Nil(t, from)
		same(t, rec.Log, log)
	})
	t.Run("none stored, as in records of before", func(t *testing.T) {
		rec, err := record.Read(strings.NewReader(sealed(strings.Split(strings.TrimSuffix(pins.ReplaceAllString(text, "$1"), "\n"), "\n"))))
		require.NoError(t, err)
		require.Empty(t, rec.Changed)
	})
	t.Run("a shape that is named no more", func(t *testing.T) {
		rec, err := read(t, `"format":"sideout-doubles-11-of3@2026"`, `"format":"sideout-doubles-11-of9@2026"`)
		require.NoError(t, err)
		require.Len(t, rec.Changed, 1)
		require.Contains(t, rec.Changed[0].Error(), "is the name of no format today")
	})
	for _, c := range []struct{ name, old, new, field string }{
		{"a digest of something else", `"digest":"`, `"digest":"0`, "rules.digest"},
		{"no digest", `"digest"`, `"digets"`, "rules.digest"},
		{"no version of the data", `"data"`, `"date"`, "rules.data"},
		{"a reading that is none", `"foul-value":"`, `"foul-value":"x`, "rules.rulings.foul-value"},
		{"a target that cannot be", `"target":11`, `"target":0`, "rules.digest"},
		{"another version of the data", `"data":` + strconv.Itoa(format.DataVersion) + `,"digest":"`, `"data":999,"digest":"0`, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := read(t, c.old, c.new)
			if c.field == "" {
				require.NoError(t, err)
				return
			}
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, c.field, e.Field, e.Error())
			require.Equal(t, 1, e.Line)
		})
	}
	t.Run("leniently today's", func(t *testing.T) {
		bad := strings.Replace(text, `"foul-value":"`, `"foul-value":"x`, 1)
		rec, problems, err := record.Recover(strings.NewReader(sealed(strings.Split(strings.TrimSuffix(bad, "\n"), "\n"))))
		require.NoError(t, err)
		require.Len(t, problems, 1)
		require.Equal(t, "rules.rulings.foul-value", problems[0].Field)
		same(t, played(t, 3), rec.Log)
	})
}
