package record_test

import (
	"bytes"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

// deep is a number of trials: few in an ordinary run, EVENCOURT_RECORD_TRIALS
// where they are to be many.
func deep(few int) int {
	if n, err := strconv.Atoi(os.Getenv("EVENCOURT_RECORD_TRIALS")); err == nil {
		return n
	}
	return few
}

// fifty is a record of some fifty entries of every sort.
func fifty(t testing.TB) (*rally.Log, []byte) {
	t.Helper()
	rules := compile(t, "sideout-doubles-11-of3@2026")
	l := rally.NewLog(rules, rules.New(rally.A))
	for i, e := range strings.Fields("gA1B1 A A B B tA in A B A twB A B A:net undo A redo? B B A A mB2 mB2+ in A A B amend? B A A B A stop?server,struck,byref A A B B A lostA A B A A A B") {
		switch e {
		case "redo?":
			e = "undo"
		case "amend?":
			e = "amend 2 B"
		}
		if _, err := l.Enter(e); err == nil {
			l.Stamp(int64(1000 * i))
		}
	}
	require.Greater(t, l.Len(), 40)
	return l, []byte(whole(t, l))
}

// One byte that is changed is always seen, and costs at most two entries.
func TestOneByteCostsAtMostTwoEntries(t *testing.T) {
	l, text := fifty(t)
	header := bytes.IndexByte(text, '\n') + 1
	step := 11
	switch {
	case deep(0) > 0:
		step = 1
	case testing.Short():
		step = 67
	}
	trials, worst := 0, 0
	for at := 0; at < len(text); at += step {
		changes := []byte{1, 0x20, 0x80, text[at] ^ '\n'}
		if step > 1 { // one of them a byte, each as often as the others
			changes = changes[at/step%4:][:1]
		}
		for _, change := range changes {
			if change == 0 {
				continue
			}
			damaged := bytes.Clone(text)
			damaged[at] ^= change
			trials++
			_, strict := record.Read(bytes.NewReader(damaged))
			require.Error(t, strict, "byte %d ^ %x is not seen", at, change)
			got, problems, err := record.Recover(bytes.NewReader(damaged))
			if err != nil {
				require.Less(t, at, header, "only a header can cost everything: byte %d ^ %x", at, change)
				continue
			}
			require.NotEmpty(t, problems, "byte %d ^ %x of %q, strict: %v", at, change, text[max(0, at-20):min(len(text), at+20)], strict)
			kept, n := 0, 1
			for m := 1; m <= got.Log.Len(); m++ { // entries of the one, in the order of the other
				for k := n; k <= min(n+3, l.Len()); k++ {
					if l.Entry(k) == got.Log.Entry(m) {
						kept, n = kept+1, k+1
						break
					}
				}
			}
			worst = max(worst, l.Len()-kept)
			require.LessOrEqual(t, l.Len()-kept, 2, "byte %d ^ %x: %v", at, change, problems)
			if n > l.Len() { // the last line may be the one that is damaged
				require.Equal(t, l.State(), got.Log.State(), "byte %d ^ %x: %v", at, change, problems)
			}
		}
	}
	t.Logf("%d changed records of %d bytes, %d entries: at most %d lost", trials, len(text), l.Len(), worst)
}

// A creation that fails leaves nothing behind and blocks nothing.
func TestCreationThatFails(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "match.jsonl")
	rules := compile(t, "sideout-doubles-11@2026")
	l := rally.NewLog(rules, rules.New(rally.A))
	u := harbour
	u.Match = strings.Repeat("x", record.MostLine)
	_, err := record.Create(path, u, l)
	var e *record.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, record.ErrorCode("too-long"), e.Code)
	require.Error(t, rules.Validate(u), "of one mind")
	own := rules.Format()
	own.Shape = "" // its header is the longest
	require.Empty(t, own.ID())
	long := rally.NewLog(rally.MustCompile(own), rules.New(rally.A))
	for u.Match = ""; rules.Validate(u) == nil; u.Match += "<" {
	}
	u.Match = u.Match[1:]
	require.NoError(t, record.Write(io.Discard, u, long), "the longest that is valid, with a format of its own")
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, left)
	_, err = record.Create(filepath.Join(dir, "no such folder", "match.jsonl"), harbour, l)
	require.ErrorIs(t, err, fs.ErrNotExist)

	// What a killed creation left is swept away, what is just being created is not.
	old, fresh := filepath.Join(dir, ".match.jsonl.123.new"), filepath.Join(dir, ".match.jsonl.456.new")
	for _, file := range []string{old, fresh} {
		require.NoError(t, os.WriteFile(file, []byte(`{"rec`), 0o600))
	}
	hourAgo := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(old, hourAgo, hourAgo))
	w, err := record.Create(path, harbour, l)
	require.NoError(t, err)
	require.NoFileExists(t, old)
	require.FileExists(t, fresh)
	_, err = record.Create(path, harbour, l)
	require.ErrorIs(t, err, fs.ErrExist)
	require.NoError(t, w.Close())
	_, w, err = record.Resume(path)
	require.NoError(t, err)
	require.NoError(t, w.Close())
}

// Power is lost while a line is being written: of the sectors of what was not
// yet safe any may be there, the rest is what the disk had there before.
func TestPowerLoss(t *testing.T) {
	l, text := fifty(t)
	rng := rand.New(rand.NewPCG(5, 9))
	dir := t.TempDir()
	var ends []int
	for i, c := range text {
		if c == '\n' {
			ends = append(ends, i+1)
		}
	}
	resumed := 0
	trials := deep(400)
	for range trials {
		i := 1 + rng.IntN(len(ends)-1)
		safe, end := ends[i-1], ends[i]
		state := bytes.Clone(text[:end])
		sector := []int{16, 64, 512, 4096}[rng.IntN(4)]
		fill := []byte{0, 0xff, 'x'}[rng.IntN(3)]
		for at := safe; at < end; at = at/sector*sector + sector {
			if rng.IntN(2) == 0 {
				for k := at; k < min(at/sector*sector+sector, end); k++ {
					state[k] = fill
				}
			}
		}
		if rng.IntN(3) == 0 { // the size was not written, or more of the file than its text
			state = state[:safe+rng.IntN(end-safe+1)]
		} else if rng.IntN(8) == 0 {
			state = append(state, bytes.Repeat([]byte{fill}, rng.IntN(70_000))...)
		}
		path := filepath.Join(dir, "match.jsonl")
		require.NoError(t, os.WriteFile(path, state, 0o600))
		rec, w, err := record.Resume(path)
		require.NoError(t, err, "%d safe of %d, sectors of %d, %q", safe, end, sector, fill)
		require.NoError(t, w.Close())
		require.GreaterOrEqual(t, rec.Log.Len(), i-1, "an entry that was safe is gone")
		resumed++
		got := readFile(t, path)
		require.True(t, strings.HasPrefix(got, string(text[:safe])))
		for n := 1; n <= min(i-1, l.Len()); n++ {
			require.Equal(t, l.Entry(n), rec.Log.Entry(n))
		}
	}
	t.Logf("%d states, %d resumed, no safe entry lost", trials, resumed)
}

// A name that was changed by hand is seen, and so are lines that were taken
// out, exchanged, or come from a second program.
func TestWhatChecksumsShow(t *testing.T) {
	_, text := fifty(t)
	lines := strings.SplitAfter(string(text), "\n")
	lines = lines[:len(lines)-1]
	rules := compile(t, "sideout-doubles-11-of3@2026")
	branch := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range []string{"gA1B1", "B", "A", "B", "B"} {
		_, err := branch.Enter(e)
		require.NoError(t, err)
	}
	other := strings.SplitAfter(whole(t, branch), "\n")
	join := func(parts ...[]string) string {
		out := ""
		for _, p := range parts {
			out += strings.Join(p, "")
		}
		return out
	}
	for _, c := range []struct {
		name, text string
		code       record.ErrorCode
	}{
		{"a name", strings.Replace(string(text), "Noor", "Nora", 1), "damaged"},
		{"a line taken out", join(lines[:5], lines[6:]), "gap"},
		{"two lines exchanged", join(lines[:5], lines[6:7], lines[5:6], lines[7:]), "gap"},
		{"the end of another branch", join(lines[:3], other[3:6]), "collision"},
		{"a line by hand", join(lines[:5]) + `{"n":5,"do":"A"}` + "\n" + join(lines[6:]), "damaged"},
		{"the first line of another record", join(other[:1], lines[1:]), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := record.Read(strings.NewReader(c.text))
			if c.code == "" {
				require.NoError(t, err, "the same header has the same checksum")
				return
			}
			var e *record.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, c.code, e.Code, e.Error())
		})
	}
	mixed := join(lines[:3], other[3:6])
	got, problems, err := record.Recover(strings.NewReader(mixed))
	require.NoError(t, err)
	require.Equal(t, record.ErrorCode("collision"), problems[0].Code)
	require.Equal(t, "gA1B1", got.Log.Entry(1).String())
}

// TestTwoBranches mixes what two programs wrote into one file, one after the other and by
// turns: what the second one wrote is left out and said, and never joined to the first.
func TestTwoBranches(t *testing.T) {
	rules := compile(t, "sideout-doubles-11-of3@2026")
	written := func(entries ...string) (lines []string) {
		l := rally.NewLog(rules, rules.New(rally.A))
		var out strings.Builder
		w, err := record.NewWriter(&out, rally.Setup{}, l)
		require.NoError(t, err)
		for _, e := range entries {
			_, err := l.Enter(e)
			require.NoError(t, err)
			require.NoError(t, w.Append())
		}
		return strings.SplitAfter(strings.TrimSuffix(out.String(), "\n"), "\n")
	}
	one, two := written("gA1B1", "A", "A", "B", "A"), written("gA1B1", "A", "B", "B", "A", "B")
	one[len(one)-1] += "\n"
	two[len(two)-1] += "\n"
	mixes := map[string][]string{"one after the other": append(slices.Clone(one), two[3:]...), "by turns": slices.Clone(one[:3])}
	for i := 3; i < len(two); i++ {
		if i < len(one) {
			mixes["by turns"] = append(mixes["by turns"], one[i])
		}
		mixes["by turns"] = append(mixes["by turns"], two[i])
	}
	for name, lines := range mixes {
		t.Run(name, func(t *testing.T) {
			rec, problems, err := record.Recover(strings.NewReader(strings.Join(lines, "")))
			require.NoError(t, err)
			require.Len(t, problems, len(two)-3, "one for each line that was left out")
			for _, p := range problems {
				require.Equal(t, record.ErrorCode("collision"), p.Code, p.Error())
			}
			require.Equal(t, len(one)-1, rec.Log.Len())
			for n, want := range []string{"gA1B1", "A", "A", "B", "A"} {
				require.Equal(t, want, rec.Log.Entry(n+1).String())
			}
		})
	}
}

// The same entries are taken and refused by the log, by a record and by the
// notation, whatever they are.
func TestOneGrammar(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 17))
	texts := []string{"A", "B", "A", "B", "gA1B1", "ends", "tA", "in", "undo", "redo", "replay", "A?server", "twB", "tfA", "mA1", "mA1w", "lostB", "cB2", "sheet", "retA",
		"amend 2 B", "amend 3 -", "amend 3 - why (not)", "amend 4 tA", "rule 5 A?court", "rule 6 B?receiver", "rewind 3", "rewind 5", "", "amend", "amend 2 B ", "undo ", "set x",
		"amend 1 B \n", "amend 1 B " + strings.Repeat("x", rally.MostNote), "amend 1 B " + strings.Repeat("x", rally.MostNote+1), "format x now y",
		"format sideout-doubles-15-of3@2026 next H", "format sideout-doubles-15-of3@2026 now H", "format sideout-singles-11@2026 now H", "format - now H", "C", "format {} now H"}
	taken, refused := 0, 0
	logs := min(deep(40), 1000)
	if testing.Short() {
		logs = 10
	}
	for range logs {
		rules := compile(t, "sideout-doubles-11-of3@2026")
		l := rally.NewLog(rules, rules.New(rally.A))
		for range 30 {
			text := texts[rng.IntN(len(texts))]
			if rng.IntN(12) == 0 {
				text = "set " + rules.Line(l.State())
			}
			before := *l
			record1, err := record.Notation(&before)
			require.NoError(t, err)
			_, logSays := l.Enter(text)
			word := text
			if strings.Contains(text, " ") {
				word = "(" + strings.NewReplacer("(", `\(`, ")", `\)`, "\n", `\x0a`).Replace(text) + ")"
			}
			_, notationSays := record.ParseNotation(record1 + " " + word)
			var b bytes.Buffer
			_, err = record.NewWriter(&b, harbour, &before)
			require.NoError(t, err)
			line := []byte(`{"n":` + strconv.Itoa(before.Len()+1) + `,"do":` + strconv.Quote(text) + "}\n")
			_, recordSays := record.Read(strings.NewReader(version1(b.String()) + string(line)))
			if strings.HasPrefix(text, "amend 1 B") && recordSays == nil {
				recordSays = logSays // the first version took any note, and is read for ever
			}
			require.Equal(t, logSays == nil, notationSays == nil, "%q: %v, %v", text, logSays, notationSays)
			require.Equal(t, logSays == nil, recordSays == nil, "%q: %v, %v", text, logSays, recordSays)
			if logSays == nil {
				taken++
			} else {
				refused++
			}
		}
	}
	t.Logf("%d entries taken, %d refused by all three", taken, refused)
}

// The first version of the record is read for ever, and goes on as it began.
func TestFirstVersionGoesOn(t *testing.T) {
	l, text := fifty(t)
	old := version1(string(text))
	got, err := record.Read(strings.NewReader(old))
	require.NoError(t, err)
	same(t, l, got.Log)
	path := filepath.Join(t.TempDir(), "match.jsonl")
	require.NoError(t, os.WriteFile(path, []byte(old), 0o600))
	rec, w, err := record.Resume(path)
	require.NoError(t, err)
	_, err = rec.Log.Enter("undo")
	require.NoError(t, err)
	require.NoError(t, w.End())
	require.NoError(t, w.Close())
	require.NotContains(t, readFile(t, path), `"sum"`)
	_, err = record.Read(strings.NewReader(readFile(t, path)))
	require.NoError(t, err)
	for l.Len() > 8 {
		l = rally.NewLog(l.Rules(), l.Rules().New(rally.A))
		for _, e := range []string{"gA1B1", "A", "A", "B"} {
			_, err := l.Enter(e)
			require.NoError(t, err)
		}
		old = version1(whole(t, l))
	}
	note := `{"n":` + strconv.Itoa(l.Len()+1) + `,"do":"amend 4 A one\ntwo ` + strings.Repeat("x", 500) + `"}` + "\n"
	got, err = record.Read(strings.NewReader(old + note))
	require.NoError(t, err)
	require.Contains(t, got.Log.Entry(l.Len()+1).Note, "one two xxx")
}

// Lines of the first version stand beside entries of old records: they did not
// say until when partners may exchange, a player brought one penalty, and what
// two partners brought counted once.
func TestFirstLinesAreRead(t *testing.T) {
	first := strings.NewReplacer("L2 game", "L1 game", "due=ex", "due=e", "due=x", "due=-", "carry=--2-", "carry=--w-", "carry=--22", "carry=--ww",
		"carry=4-22", "carry=f-ww", "cwB2=", "cwB2")
	for _, c := range []struct{ name, id, entries, has string }{
		{"exchange at an end change", "fixed-doubles-21@2026", "gA1B1 A A A A A A A A A A A xA ends", "due=e "},
		{"partners bring from one pair", "sideout-doubles-11-of3@2026", "cwB1 cwB2= cfA1 twA gA1B1 A", "carry=f-ww"},
	} {
		t.Run(c.name, func(t *testing.T) {
			rules := compile(t, c.id)
			l := rally.NewLog(rules, rules.New(rally.A))
			for _, e := range strings.Fields(c.entries) {
				_, err := l.Enter(e)
				require.NoError(t, err, e)
			}
			old := first.Replace(version1(whole(t, l)))
			require.Contains(t, old, c.has)
			require.NotContains(t, old, "L2 ")
			got, err := record.Read(strings.NewReader(old))
			require.NoError(t, err)
			same(t, l, got.Log)
			for _, field := range []string{"due=e", "carry=f"} { // and what is not so is seen
				if wrong := strings.Replace(old, field, field[:len(field)-1]+"-", 1); wrong != old {
					_, err := record.Read(strings.NewReader(wrong))
					require.Error(t, err)
				}
			}
		})
	}
}
