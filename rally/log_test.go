package rally_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
)

// begin returns a log of a format, A serving first, with entries played.
func begin(t testing.TB, id string, entries ...string) *rally.Log {
	t.Helper()
	rules := rally.MustCompile(mustParse(id))
	log := rally.NewLog(rules, rules.New(rally.A))
	enter(t, log, entries...)
	return log
}

// enter adds entries; one that holds no payload may hold several events.
func enter(t testing.TB, log *rally.Log, entries ...string) {
	t.Helper()
	for _, e := range entries {
		_, err := log.Enter(e)
		require.NoError(t, err, e)
	}
}

// What one correction says, for tests that count on it.
func undo(log *rally.Log) error { _, err := log.Do(rally.Entry{Kind: rally.Undo}); return err }
func redo(log *rally.Log) error { _, err := log.Do(rally.Entry{Kind: rally.Redo}); return err }
func rewind(log *rally.Log, n int) error {
	_, err := log.Do(rally.Entry{Kind: rally.Rewind, Target: n})
	return err
}
func amend(log *rally.Log, n int, e rally.Event) error {
	_, err := log.Do(rally.Entry{Kind: rally.Amend, Target: n, Event: e})
	return err
}

func words(s string) []string { return strings.Fields(s) }

func call(log *rally.Log) string { return string(log.Rules().AppendCall(nil, log.State())) }

func refused(t *testing.T, err error) *rally.EntryError {
	t.Helper()
	var e *rally.EntryError
	require.ErrorAs(t, err, &e)
	return e
}

func TestUndoAcrossGames(t *testing.T) {
	log := begin(t, "sideout-doubles-11-of3@2025", words("A A A A A A A A A A A gB2A1 B")...)
	require.Equal(t, 2, log.State().Game())
	n, ok := log.Undoable()
	require.True(t, ok)
	require.Equal(t, "B", log.Entry(n).String())
	require.Equal(t, 13, n)
	enter(t, log, "undo", "undo", "undo")
	require.Equal(t, "10-0-2", call(log))
	n, ok = log.Redoable()
	require.True(t, ok)
	require.Equal(t, 11, n)
	require.Equal(t, "A", log.Entry(n).String())
	enter(t, log, "redo", "redo", "redo")
	require.Equal(t, "1-0-2", call(log))
	_, err := log.Enter("redo")
	require.Equal(t, rally.NotNow, refused(t, err).Refusal)
	require.Equal(t, 19, log.Len(), "nothing is erased")
}

func TestRedoIsLostOnceSomethingIsEntered(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", words("A A undo B")...)
	_, err := log.Enter("redo")
	require.Equal(t, rally.NotNow, refused(t, err).Refusal)
	require.Equal(t, "0-1-1", call(log))
}

func TestUndoTakesCorrectionsBackToo(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", words("A B A")...)
	enter(t, log, "amend 2 A")
	require.Equal(t, "3-0-2", call(log))
	enter(t, log, "undo")
	require.Equal(t, "0-1-2", call(log), "the amendment is taken back, not the rally")
}

func TestAmend(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", words("A B A")...)
	require.Equal(t, "0-1-2", call(log))
	enter(t, log, "amend 2 A")
	require.Equal(t, "3-0-2", call(log))
	enter(t, log, "amend 2 B")
	require.Equal(t, "0-1-2", call(log), "the later amendment holds")
	enter(t, log, "amend 2 -")
	require.Equal(t, "2-0-2", call(log), "struck")
	enter(t, log, "amend 6 -")
	require.Equal(t, "0-1-2", call(log), "a correction can be struck")
	event, holds := log.Holds(2)
	require.True(t, holds)
	require.Equal(t, "B", event.String())
}

func TestAmendIsRefusedWithTheEntryThatWouldFail(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", words("A tA tA B A A")...)
	before := log.State()
	_, err := log.Enter("amend 1 tA")
	e := refused(t, err)
	require.Equal(t, 1, e.N)
	require.Equal(t, rally.NotStarted, e.Refusal)
	_, err = log.Enter("amend 5 tA")
	require.Equal(t, rally.NoneLeft, refused(t, err).Refusal)
	require.Equal(t, 5, refused(t, err).N)
	_, err = log.Enter("amend 9 A")
	require.Equal(t, rally.Malformed, refused(t, err).Refusal)
	_, err = log.Enter("amend 1 undo")
	require.Error(t, err)
	require.Equal(t, before, log.State())
	require.Equal(t, 6, log.Len(), "a refused correction is not in the log")
}

func TestAmendOfAFinishedMatch(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", words("A A A A A A A A A A A")...)
	require.Equal(t, rally.Over, log.State().Phase())
	enter(t, log, "amend 11 B")
	require.Equal(t, rally.Playing, log.State().Phase())
	require.Equal(t, "0-10-1", call(log))
	enter(t, log, "undo", "sheet")
	_, err := log.Enter("amend 11 B")
	require.Equal(t, rally.MatchClosed, refused(t, err).Refusal)
}

// The word was wrong, not the rally: disputed before the next serve it is an
// entry repair, for each of the three words (common practice).
func TestWrongResultCallIsAnEntryRepair(t *testing.T) {
	tests := []struct{ name, before, entered, happened string }{
		{"point was called, server 1 had lost the rally", "A B", "B", "A"},
		{"second server was called, he had won it", "A B", "A", "B"},
		{"side out was called, server 2 had won it", "A B A", "A", "B"},
	}
	for _, test := range tests {
		log := begin(t, "sideout-doubles-11@2025", words(test.before+" "+test.entered)...)
		wrong := log.State()
		enter(t, log, "amend "+strconv.Itoa(log.Len())+" "+test.happened)
		want := begin(t, "sideout-doubles-11@2025", words(test.before+" "+test.happened)...)
		require.Equal(t, want.State(), log.State(), test.name)
		require.NotEqual(t, wrong, log.State(), test.name)
	}
}

func TestRewind(t *testing.T) {
	log := begin(t, "sideout-doubles-11-of3@2025", words("A A A tB A A B")...)
	enter(t, log, "rewind 2")
	require.Equal(t, "2-0-2", call(log))
	require.Equal(t, 1, log.State().TimeOutsUsed(rally.B), "the ledger stays")
	enter(t, log, words("A A A A A A A A A B")...)
	require.Equal(t, 2, log.State().Game())
	_, err := log.Enter("rewind 2")
	require.Equal(t, rally.NotNow, refused(t, err).Refusal, "never across the first serve of a game")
	_, err = log.Enter("rewind 0")
	require.Equal(t, rally.Malformed, refused(t, err).Refusal)
}

func TestSetPosition(t *testing.T) {
	log := begin(t, "sideout-doubles-11-of3@2025")
	line := "L2 game=2 won=1:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=B start=A1B1 ends=1 due=- phase=play result=- break=- timeouts=0:1 medical=---- out=---- vw=0:0 tw=1:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"
	enter(t, log, "set "+line)
	require.Equal(t, line, log.Rules().Line(log.State()))
	require.Equal(t, "4-3-1", call(log))
	_, err := log.Enter("set " + strings.Replace(line, "serve=A1@R", "serve=A1@L", 1))
	var bad *rally.LineError
	require.ErrorAs(t, err, &bad)
	require.Equal(t, "serve", bad.Field)
	enter(t, log, "A")
	require.Equal(t, "5-3-1", call(log))
}

func TestFormatChangedByDecision(t *testing.T) {
	log := begin(t, "rally-doubles-11-of3@2026", words("A B A A B")...)
	enter(t, log, "format rally-doubles-7-of3@2026 now weather")
	require.Equal(t, 7, int(log.Rules().Format().Game.Target))
	require.Equal(t, "2-3", call(log), "places and score stay")
	enter(t, log, words("A A A A")...)
	require.Equal(t, 1, log.State().Won(rally.A), "and the game ends at 7")

	log = begin(t, "rally-doubles-11-of3@2026", words("A A A A A A A A")...)
	_, err := log.Enter("format rally-doubles-7-of3@2026 now weather")
	e := refused(t, err)
	require.Equal(t, rally.NotNow, e.Refusal)
	require.Equal(t, rally.EntryReason("game-over"), e.Reason)
	enter(t, log, "format rally-doubles-7-of3@2026 next weather")
	require.Equal(t, 11, int(log.Rules().Format().Game.Target), "not before the next game")
	enter(t, log, words("A A A")...)
	require.Equal(t, 11, int(log.Rules().Format().Game.Target), "between games the old header still holds")
	enter(t, log, "gB1A1")
	require.Equal(t, 7, int(log.Rules().Format().Game.Target))
	_, err = log.Enter("format rally-singles-7-of3@2026 now weather")
	require.Equal(t, rally.NotNow, refused(t, err).Refusal)
	for _, bad := range []string{"format", "format x now y", "format rally-doubles-7@2026 soon y", "format rally-doubles-7@2026 now "} {
		_, err = log.Enter(bad)
		require.Error(t, err, bad)
	}
}

func TestRuledCorrectionByWindow(t *testing.T) {
	tests := []struct {
		name, id string
		then     []string
		entry    string
		refusal  rally.Refusal
		call     string
	}{
		{"2019, before the next serve", "sideout-doubles-11@2019", nil, "rule 5 A?server", rally.NotRefused, "1-0-2"},
		{"2019, after the next serve", "sideout-doubles-11@2019", words("A"), "rule 5 A?server", rally.OutOfWindow, ""},
		{"2017, after a lost serve only", "sideout-doubles-11@2017", words("B"), "rule 5 A?server", rally.NotRefused, "1-0-2"},
		{"2017, after another point", "sideout-doubles-11@2017", words("A"), "rule 5 A?server", rally.OutOfWindow, ""},
		{"2023-08, a rally played out stands", "sideout-doubles-11@2023-08", nil, "rule 5 A?server", rally.OutOfWindow, ""},
		{"2022, at once", "sideout-doubles-11@2022", nil, "rule 5 A?court", rally.NotRefused, "1-0-2"},
		{"another winner is an amendment", "sideout-doubles-11@2022", nil, "rule 5 B?court", rally.NotNow, ""},
		{"no such entry", "sideout-doubles-11@2022", nil, "rule 50 A?court", rally.Malformed, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			// A point, side-out, both servers of B lost, and a point of A.
			log := begin(t, test.id, append(words("A B A A A"), test.then...)...)
			before := log.State()
			_, err := log.Enter(test.entry)
			if test.refusal != rally.NotRefused {
				require.Equal(t, test.refusal, refused(t, err).Refusal)
				require.Equal(t, before, log.State())
				return
			}
			require.NoError(t, err)
			require.Equal(t, test.call, call(log))
		})
	}
}

// A correction that is refused names the clause that says so: the window of the
// edition, what a sheet or a suspected concussion stands for, or what a correction
// of its kind may do.
func TestRefusedCorrectionsNameTheirClause(t *testing.T) {
	for _, test := range []struct {
		name, id, entries, entry string
		by                       format.Clause
	}{
		{"2019, after the next serve", "sideout-doubles-11@2019", "A A", "rule 1 A?server", clause.WindowNextServe},
		{"2023-08, played out", "sideout-doubles-11@2023-08", "A", "rule 1 A?server", clause.OrderStands},
		{"2017, only the point can go", "sideout-doubles-11@2017", "B B B", "rule 1 B?server", clause.WindowOvertaken},
		{"nothing after the last point", "sideout-doubles-11@2025+correctable=last-point", strings.Repeat("A ", 11), "rule 11 A?call", clause.LastPointFinal},
		{"another winner", "sideout-doubles-11@2022", "A", "rule 1 B?court", clause.EntryRepair},
		{"no such entry", "sideout-doubles-11@2022", "A", "rule 50 A?court", clause.EventWords},
		{"an event", "sideout-doubles-11@2022", "A tA tA", "tA", clause.TimeOutNoneLeft},
		{"the sheet, ruled on", "sideout-doubles-11@2022", strings.Repeat("A ", 11) + "sheet", "rule 11 A?server", clause.SheetReopened},
		{"the sheet, undone", "sideout-doubles-11@2022", strings.Repeat("A ", 11) + "sheet", "undo", clause.SheetReopened},
		{"the sheet, amended without a reason", "sideout-doubles-11@2022", strings.Repeat("A ", 11) + "sheet", "amend 11 B", clause.SheetReopened},
		{"a concussion undone", "sideout-doubles-11@2025", "A cB2", "undo", clause.Concussion},
		{"a concussion amended", "sideout-doubles-11@2025", "A cB2", "amend 2 -", clause.Concussion},
		{"a repair that a later entry refuses", "sideout-doubles-11@2025", "A tA in", "amend 2 A", clause.EntryRepair},
		{"a rewind across a penalty", "sideout-doubles-11@2025", "A tfB A", "rewind 1", clause.Rewind},
		{"a sheet returned by a position", "sideout-doubles-11@2025", "A", "set closed", clause.StatedPosition},
		{"other players", "sideout-doubles-11@2025", "A", "format sideout-singles-11@2025 now director", clause.ChangeOfFormat},
	} {
		t.Run(test.name, func(t *testing.T) {
			log := begin(t, test.id, words(test.entries)...)
			if test.entry == "set closed" {
				closed := begin(t, test.id, words(strings.Repeat("A ", 11)+"sheet")...)
				test.entry = "set " + closed.Rules().Line(closed.State())
			}
			_, err := log.Enter(test.entry)
			require.Equal(t, test.by, refused(t, err).By.First(), "%v", err)
		})
	}
}

// 2022, 4.B.10: the last rally of a match can be ruled on until the sheet is
// returned (read).
func TestLastRallyUntilTheSheet(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2022", words("A A A A A A A A A A A")...)
	_, err := log.Enter("rule 11 A?server")
	require.NoError(t, err)
	require.Equal(t, "0-10-1", call(log))
	enter(t, log, "undo", "sheet")
	_, err = log.Enter("rule 11 A?server")
	require.Equal(t, rally.MatchClosed, refused(t, err).Refusal)
}

func TestConcussionIsLiftedOnlyWithAReason(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", "A", "cB2")
	_, err := log.Enter("A")
	require.Equal(t, rally.PlayerIsOut, refused(t, err).Refusal)
	_, ok := log.Undoable()
	require.False(t, ok)
	_, err = log.Enter("undo")
	require.Equal(t, rally.NotNow, refused(t, err).Refusal)
	_, err = log.Enter("amend 2 -")
	require.Equal(t, rally.NotNow, refused(t, err).Refusal)
	enter(t, log, "amend 2 - entered for the wrong court", "A")
	require.Equal(t, "2-0-2", call(log))
	require.Equal(t, "amend 2 - entered for the wrong court", log.Entry(3).String(), "the reason stays visible")
}

func TestDoRefusesWhatIsNoEntry(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2025", "A")
	for _, bad := range []string{"", "C", "undo now", "amend", "amend x A", "amend 1", "rule 1 -", "rewind", "rewind 1 2",
		"set", "set L1", "set L2 x", "A B", "a", "tC", "gA1A2", "gA1B1B2", "lateA", "lateA:x", "lateA:70000", "fcA", "fcA:pass", "stop?",
		"stop", "A?", "A?server,server", "A?struck", "A?asked,server", "A:nofault", "A:", "mA3", "mA1*", strings.Repeat("A", 5000)} {
		before, n := log.State(), log.Len()
		_, err := log.Enter(bad)
		require.Error(t, err, bad)
		require.Less(t, len(err.Error()), 700, bad)
		require.Equal(t, before, log.State(), bad)
		require.Equal(t, n, log.Len(), bad)
		var event *rally.EventError
		var entry *rally.EntryError
		var line *rally.LineError
		require.True(t, errors.As(err, &event) || errors.As(err, &entry) || errors.As(err, &line), "%q: %T", bad, err)
	}
}

func TestTextsAreEntriesAgain(t *testing.T) {
	entries := []string{"gA2B1", "A", "B:foot", "tA", "A?court,rallyover,byB", "stop?server,struck,byref", "amend 2 B", "undo", "redo",
		"mB1", "mB1-", "rewind 5", "format sideout-doubles-15@2023 next director", "lateA:30"}
	log := begin(t, "sideout-doubles-11@2023")
	var kept []string
	for _, e := range entries {
		if _, err := log.Enter(e); err == nil {
			kept = append(kept, e)
		}
	}
	require.Greater(t, len(kept), 10)
	again := begin(t, "sideout-doubles-11@2023")
	for n := 1; n <= log.Len(); n++ {
		require.Equal(t, kept[n-1], log.Entry(n).String())
		enter(t, again, log.Entry(n).String())
	}
	require.Equal(t, log.State(), again.State())
}
