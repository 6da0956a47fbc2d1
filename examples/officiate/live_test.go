package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
)

// session is a match from the keyboard that no file keeps.
func session(t *testing.T, id string, out io.Writer) *live {
	f, err := format.Parse(id)
	require.NoError(t, err)
	rules, err := rally.Compile(f)
	require.NoError(t, err)
	v := &live{clock: func() time.Duration { return 0 }}
	v.out = out
	v.desk = newDesk(rally.NewLog(rules, rally.State{}), rally.Setup{}, inEnglish(t))
	v.file = filepath.Join(t.TempDir(), "unsaved.jsonl")
	v.saved, err = record.NewWriter(io.Discard, v.setup, v.log)
	require.NoError(t, err)
	return v
}

// anything is what a referee may type: rallies mostly, what a reminder asks for,
// and everything else that may come.
func anything(rng *rand.Rand, log *rally.Log, asked []string) string {
	switch n := rng.IntN(20); {
	case n < 12:
		return []string{"a", "B"}[rng.IntN(2)]
	case n < 16 && len(asked) > 0:
		return asked[rng.IntN(len(asked))]
	case n == 16:
		return []string{"u", "r", "score", "nonsense", "tA", "TB", "x", "court", "left b"}[rng.IntN(9)]
	case n == 17:
		set := log.Rules().Allowed(log.State())
		for k := range set.Names() {
			if rng.IntN(4) == 0 {
				if all := spoken(log.Rules(), log.State(), rally.Kind(k)); len(all) > 0 {
					return all[rng.IntN(len(all))]
				}
			}
		}
	}
	return "g"
}

// Matches typed through a pipe: after every entry exactly the reminders are shown
// that the match so far has, as a log played from what was typed has them.
func TestTypedMatchesShowWhatIsOpen(t *testing.T) {
	matches := 300
	if testing.Short() {
		matches = 60
	} else if os.Getenv("EVENCOURT_DEEP") != "" {
		matches = 2000
	}
	rng := rand.New(rand.NewPCG(14, 2000))
	ids := []string{"sideout-doubles-11-of3@2026", "sideout-doubles-11-of3@2019", "sideout-singles-11-of3@2025", "rally-doubles-21@2026", "fixed-doubles-21-each-at-point@2026"}
	entries, shown := 0, 0
	for m := range matches {
		id := ids[m%len(ids)]
		if _, err := format.Parse(id); err != nil {
			id = ids[0]
		}
		var out bytes.Buffer
		v := session(t, id, &out)
		in, keyboard := io.Pipe()
		done := make(chan error)
		go func() { done <- v.listen(in) }()
		typing := session(t, id, io.Discard) // what a person would see, to choose what to type
		var typed []string
		for range 40 + rng.IntN(100) {
			var asked []string
			for _, r := range typing.guide.Reminders(typing.log, 0) {
				for _, e := range r.Settles {
					asked = append(asked, short(e))
				}
			}
			text := anything(rng, typing.log, asked)
			typed = append(typed, text)
			typing.answer(text)
			_, err := fmt.Fprintln(keyboard, text)
			require.NoError(t, err)
		}
		require.NoError(t, keyboard.Close())
		require.NoError(t, <-done)
		require.Equal(t, typing.log.Len(), v.log.Len())

		rules, start := v.log.Initial()
		log := rally.NewLog(rules, start)
		g := referee.New(rules, rally.Setup{})
		lines := strings.Split(out.String(), "\n")
		for i, line := range lines {
			number, ok := strings.CutSuffix(line, "]")
			if !ok {
				continue
			}
			n, err := strconv.Atoi(number[strings.LastIndex(number, "[")+1:])
			require.NoError(t, err)
			require.Equal(t, log.Len()+1, n, line)
			_, err = log.Do(v.log.Entry(n))
			require.NoError(t, err)
			var got []string
			for _, after := range lines[i+1:] {
				if strings.HasPrefix(after, "  ") {
					got = append(got, strings.TrimSpace(after))
				} else if strings.HasSuffix(after, "]") || !strings.HasPrefix(after, "Which end?") && !isDuty(v, after) {
					break
				}
			}
			var want []string
			for _, r := range g.Reminders(log, 0) {
				want = append(want, v.say(r.Text))
			}
			require.Len(t, got, len(want), "%s\n%v", line, typed)
			for j := range want {
				require.True(t, strings.HasPrefix(got[j], want[j]), "%s: %s", line, got[j])
			}
			entries++
			shown += len(want)
		}
	}
	t.Logf("%d matches, %d entries, %d reminders", matches, entries, shown)
	require.Greater(t, shown, entries/10)
}

// isDuty reports whether a line is one of the duties that follow where somebody
// may need care.
func isDuty(v *live, line string) bool {
	for _, start := range []string{"Keep play", "Leave it", "Wait for", "Write down", "Only at", "The medical clock", "This break", "What remains", "Give notice",
		"Say ", "Compare ", "Call the score ", "Have the", "First of all"} {
		if strings.HasPrefix(line, start) {
			return true
		}
	}
	return strings.Contains(line, "takes no further part") || strings.Contains(line, "plays on alone")
}

// For who listens: the calls and what is still open, nothing else.
func TestTerse(t *testing.T) {
	var out bytes.Buffer
	v := session(t, "sideout-doubles-11@2026", &out)
	v.terse = true
	for _, text := range []string{"first A", "g", "A", "B", "tB"} {
		out.Reset()
		v.answer(text)
		if text == "A" {
			require.Equal(t, "Point. one, zero, two.\n", out.String())
		}
		require.NotContains(t, out.String(), "[")
	}
	require.Contains(t, out.String(), "Play is stopped")
}

// A ruling that no text settles says so, and why says of each rule how well it is
// known, in short forms and in German too.
func TestWhyKeepsWhatIsOpen(t *testing.T) {
	var out bytes.Buffer
	v := session(t, "sideout-doubles-11@2024", &out)
	v.terse, v.language = true, in(t, "de")
	for _, text := range []string{"first A", "g", "A", "A?call,rallyover,byA"} {
		out.Reset()
		v.answer(text)
	}
	require.Contains(t, out.String(), "Kein Text entscheidet das.")
	out.Reset()
	v.answer("why")
	require.Contains(t, out.String(), "(Regel 4.K von 2024, kein Text entscheidet es)")
	out.Reset()
	v.answer("stop?server,struck,byref")
	require.NotContains(t, out.String(), "Kein Text")
	v.answer("why")
	require.NotContains(t, out.String(), "kein Text")
}

// Of a refused correction why says the rule, and a medical clock that nobody's
// arrival began says from when it runs.
func TestWhyOfACorrection(t *testing.T) {
	var out bytes.Buffer
	v := session(t, "sideout-doubles-11@2019", &out)
	for _, text := range []string{"first A", "g", "A", "A", "rule 3 A?server"} {
		v.answer(text)
	}
	out.Reset()
	v.answer("why")
	require.Contains(t, out.String(), "(rule 4.B.11 of 2019, read in the text)")
	for _, text := range []string{"mA1", "mA1+"} {
		out.Reset()
		v.answer(text)
	}
	require.Contains(t, out.String(), "the medical clock runs from the finding")
	for _, text := range []string{"in", "mB1", "aidB1", "mB1+"} {
		out.Reset()
		v.answer(text)
		require.NotContains(t, out.String(), "from the finding")
	}
}

// A second time-out in one break is charged only if it is typed twice, no game
// begins by a rally whose starting servers nobody named, and letters are alike.
func TestSlipsAreHeldBack(t *testing.T) {
	var out bytes.Buffer
	v := session(t, "sideout-doubles-11-of3@2026", &out)
	for _, c := range []struct {
		typed   string
		entries int
		said    string
	}{
		{"A", 0, "nobody has chosen who serves first"}, {"FIRST a", 1, "Type gA1B1"}, {"a", 1, "first name the starting servers of game 1"},
		{"G", 2, "Game 1 begins"}, {"tA", 3, "60 seconds"}, {"ta", 3, "Type tA again"}, {"tA", 4, "no time-out left"}, {"TA", 4, "Play on: asking costs nothing."},
		{"IN", 5, "Time in"}, {"stop?byREF struck server", 6, "Replay."}, {"A:fot", 6, "Did you mean A:foot?"}, {"Undoo", 6, ""}, {"side out", 6, "follows by itself"},
		{"gA2B1", 6, "take back the entry that began it"}, {"xA", 6, "Play on: places follow the score."},
	} {
		out.Reset()
		v.answer(c.typed)
		require.Equal(t, c.entries, v.log.Len(), c.typed)
		require.Contains(t, out.String(), c.said, c.typed)
	}
}

// What is printed in one line when nothing can be saved is read back by -from.
func TestGoesOnFromOneLine(t *testing.T) {
	dir := t.TempDir()
	first := officiated("first A\ng\nA\nB\nA\nlog notation\n", "-live", "-save", filepath.Join(dir, "one.jsonl"))
	require.Equal(t, 0, first.code, first.errs)
	at := strings.Index(first.out, "sideout-doubles-11-of3@2026 ")
	line, _, _ := strings.Cut(first.out[at:], "\n")
	again := officiated("score\n", "-live", "-from", line, "-save", filepath.Join(dir, "two.jsonl"))
	require.Equal(t, 0, again.code, again.errs)
	require.Contains(t, again.out, "5 entries")
	require.Equal(t, entries(t, filepath.Join(dir, "one.jsonl")), entries(t, filepath.Join(dir, "two.jsonl")))
	require.Equal(t, 2, officiated("", "-live", "-from", "nonsense", "-save", filepath.Join(dir, "three.jsonl")).code)
}

// A result never takes the place of something else, and its own again.
func TestResultLeavesOtherFilesAlone(t *testing.T) {
	dir := t.TempDir()
	file, result := filepath.Join(dir, "m.jsonl"), filepath.Join(dir, "m.result.json")
	require.Equal(t, 0, officiated("g\n", "-live", "-first", "A", "-save", file).code)
	require.NoError(t, os.WriteFile(result, []byte(`{"mine": 1}`), 0o644))
	got := officiated("retB\n", "-live", "-resume", file)
	require.Equal(t, 0, got.code, got.errs)
	require.Contains(t, got.out, "m.result.json holds something else and was left alone")
	text, err := os.ReadFile(result)
	require.NoError(t, err)
	require.Equal(t, `{"mine": 1}`, string(text))
	require.NoError(t, os.Remove(result))
	for range 2 { // written, and written again
		got = officiated("", "-live", "-resume", file)
		require.Contains(t, got.out, "Result saved in ")
	}
}

// A refusal says the fact for this kind of entry and what to do; why adds how well
// the rule is known.
func TestRefusalsSayWhatToDo(t *testing.T) {
	for _, c := range []struct{ name, id, typed, said string }{
		{"a rally before the choice", "sideout-doubles-11@2026", "A", "nobody has chosen who serves first (the 2026 edition). Hold the draw"},
		{"and why", "sideout-doubles-11@2026", "A/why", "the 2026 edition, derived)"},
		{"the start of a game in play", "sideout-doubles-11@2026", "first A/g/g", "this game has begun"},
		{"resume in play", "sideout-doubles-11@2026", "first A/g/resume", "the match has not been stopped"},
		{"a penalty of the pair", "sideout-doubles-11@2026", "cwA2=", "the partner has not brought that penalty"},
		{"a penalty brought twice", "sideout-doubles-11@2026", "cvA1/cvA1", "that player has brought a penalty already"},
		{"a late ruling that stands", "sideout-doubles-11@2026", "first A/g/A/rule 3 A?server,rallyover,byB", "by this edition that rally stands as it was played"},
		{"a late ruling too late", "sideout-doubles-11@2019", "first A/g/A/A/rule 3 A?server,rallyover,byB", "it is too late for that ruling"},
		{"a repair after the sheet", "sideout-singles-11@2026", "first A/g/retA/sheet/amend 3 - a slip", "entry 4, sheet, would then be refused: the match is not over; repair that one first"},
		{"an absent partner", "sideout-doubles-11@2026", "first A/g/outB1/A", "that fault comes first (the 2026 edition). Enter that fault."},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			v := session(t, c.id, &out)
			for typed := range strings.SplitSeq(c.typed, "/") {
				out.Reset()
				v.answer(typed)
			}
			require.Contains(t, out.String(), c.said)
			require.NotContains(t, out.String(), "cannot come at this moment")
		})
	}
}

// The seconds for the serve run from the call, as the edition counts them, until
// something is entered.
func TestTenSeconds(t *testing.T) {
	var out bytes.Buffer
	v := session(t, "sideout-doubles-11@2026", &out)
	now := time.Duration(0)
	said := func(typed string, after time.Duration) string {
		out.Reset()
		now += after
		v.look()
		if typed != "" {
			v.answer(typed)
		} else {
			v.notice()
		}
		return out.String()
	}
	v.clock = func() time.Duration { return now }
	require.Contains(t, said("ten", 0), "There is nothing to call now.")
	said("first A", 0)
	said("g", 0)
	require.Contains(t, said("ten", time.Second), "10 seconds from the call")
	require.NotContains(t, said("", 9*time.Second), "is over")
	require.Contains(t, said("", time.Second), "If it has not been struck: B:ten.")
	require.NotContains(t, said("", time.Minute), "is over", "it is said once")
	require.Contains(t, said("B:ten", 0), "Side out.")
	said("ten", 0)
	said("A", time.Second)
	require.NotContains(t, said("", time.Minute), "is over", "the rally has been played")
	v = session(t, "table-tennis-singles-11@table-tennis-2001", &out)
	v.clock = func() time.Duration { return now }
	said("first A", 0)
	said("g", 0)
	require.Contains(t, said("ten", 0), "no number of seconds")
}
