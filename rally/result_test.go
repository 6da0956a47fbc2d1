package rally_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
)

// scores writes a result as "A 11-7 4-11 0-11".
func scores(r rally.MatchResult) string {
	out := "-"
	if r.Winner != nil {
		out = r.Winner.String()
	}
	for _, g := range r.Games {
		out += fmt.Sprintf(" %d-%d", g.Score[0], g.Score[1])
	}
	return out
}

// run is n rallies won by one side, as entries.
func run(side string, n int) []string { return words(strings.Repeat(side+" ", n)) }

func join(parts ...[]string) (out []string) {
	for _, p := range parts {
		out = append(out, p...)
	}
	return out
}

func TestRecordedScores(t *testing.T) {
	tests := []struct {
		name, id string
		entries  []string
		want     string
	}{
		{"retires between games keeps the first", "sideout-doubles-11-of3@2024", join(run("A", 11), words("retA")), "B 11-0 0-11 0-11"},
		{"retires behind, 2024", "sideout-singles-11-of3@2024", join(run("A", 3), run("B", 9), words("retA")), "B 3-11 0-11"},
		{"retires behind, 2021: points lost (rule 12.F.6.a, read)", "sideout-singles-11-of3@2021", join(run("A", 3), run("B", 9), words("retA")), "B 0-11 0-11"},
		{"withdraws", "sideout-doubles-11-of3@2024", words("wdA"), "B 0-11 0-11"},
		{"withdraws from best of five", "sideout-doubles-15-of5@2025", words("wdB"), "A 15-0 15-0 15-0"},
		{"game forfeit of 2026 is 11-0", "sideout-doubles-11-of3@2026", join(run("A", 3), words("gfB"), run("B", 11), run("A", 11)), "A 11-0 0-11 11-0"},
		{"game forfeit of 2024 keeps points", "sideout-singles-11-of3@2024", join(run("A", 7), words("B B B gfB"), run("B", 11), run("A", 11)), "A 11-2 0-11 11-0"},
		{"match forfeit", "sideout-doubles-11-of3@2026", join(run("A", 4), words("mfA")), "B 0-11 0-11"},
		{"both forfeit", "sideout-doubles-11-of3@2026", words("dmf"), "-"},
		{"late by ten minutes: game 1", "sideout-doubles-11-of3@2024", join(words("lateA:600"), run("A", 11)), "- 0-11 11-0"},
		{"late by a quarter of an hour: the match", "sideout-doubles-11-of3@2024", words("lateA:900"), "B 0-11 0-11"},
		{"abandoned", "sideout-doubles-11-of3@2024", join(run("A", 4), words("abandon")), "- 4-0"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			require.Equal(t, test.want, scores(begin(t, test.id, test.entries...).Result()))
		})
	}
	// The published working rule of 2024: the retiree keeps 10, the opponent gets
	// two clear, the rest is 11-0 (paraphrase); and its neighbours (derived).
	positions := []struct{ score, want string }{
		{"10-5", "B 10-12 0-11"}, {"3-8", "B 3-11 0-11"}, {"11-11", "B 11-13 0-11"}, {"14-13", "B 14-16 0-11"},
	}
	for _, p := range positions {
		log := begin(t, "sideout-singles-11-of3@2024")
		var a, b int
		_, err := fmt.Sscanf(p.score, "%d-%d", &a, &b)
		require.NoError(t, err)
		court, place := "R", "1-"
		if a%2 == 1 {
			court, place = "L", "-1"
		}
		enter(t, log, "set L2 game=1 won=0:0 score="+p.score+" opens=0:0 serve=A1@"+court+"#- receive=B1 A="+place+" B="+place+
			" first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----", "retA")
		require.Equal(t, p.want, scores(log.Result()), p.score)
	}
}

func TestResultOfPlayedMatch(t *testing.T) {
	log := begin(t, "rally-doubles-11-of3@2026", join(run("A", 11), run("B", 11), run("A", 11), words("sheet"))...)
	r := log.Result()
	require.Equal(t, "A 11-0 0-11 11-0", scores(r))
	require.Equal(t, rally.ByPlay, r.Cause)
	for _, g := range r.Games {
		require.Equal(t, rally.PlayedGame, g.How)
	}
	// A penalty point wins the game in 2026 (paraphrase of low reliability).
	log = begin(t, "sideout-doubles-11@2026", join(run("A", 10), words("tfB"))...)
	r = log.Result()
	require.Equal(t, "A 11-0", scores(r))
	require.True(t, r.Games[0].ByPenalty)
	// A ruling on the last rally that leaves the end of the game as it was.
	log = begin(t, "sideout-doubles-11-of3@2022", join(words("B"), run("B", 11))...)
	enter(t, log, "rule 12 B?receiver")
	require.Equal(t, "- 0-11", scores(log.Result()))
	require.Equal(t, rally.B, *log.Result().Games[0].Winner)
	// And one that takes it away, with the start of the next.
	log = begin(t, "sideout-doubles-11-of3@2022", join(words("B"), run("B", 11), words("gB1A1"))...)
	enter(t, log, "rule 12 B?server")
	require.Equal(t, "- 0-10", scores(log.Result()))
	require.Equal(t, rally.UnfinishedGame, log.Result().Games[0].How)
	// A log taken up in game 2 does not know game 1.
	log = begin(t, "sideout-doubles-11-of3@2026")
	enter(t, log, "set "+with("game=2", "won=1:0", "ends=1"), "retA")
	r = log.Result()
	require.Equal(t, rally.UnknownGame, r.Games[0].How)
	require.Equal(t, "B 0-0 4-11 0-11", scores(r))
}

func TestTiming(t *testing.T) {
	log := begin(t, "sideout-doubles-11@2022")
	at := func(ms int64, entry string) {
		enter(t, log, entry)
		log.Stamp(ms)
	}
	at(0, "gA1B1")
	at(10_000, "A")
	at(20_000, "tA")
	c, running := rally.ClockAt(log, 50_000)
	require.True(t, running)
	require.Equal(t, "time-out", c.Interval.String())
	require.Equal(t, int64(30_000), c.Remaining)
	require.Equal(t, int64(65_000), c.NoticeAt, "notice at 15 seconds left: 10.A.5")
	at(95_000, "in")
	at(100_000, "eqB1")
	at(250_000, "in") // 150 s: too long in 2022 (10.D), no limit from 2023
	at(260_000, "mA1")
	at(300_000, "mA1+")
	c, running = rally.ClockAt(log, 300_000+901_000)
	require.True(t, running)
	require.Equal(t, int64(-1000), c.Remaining)
	require.True(t, c.Asks.Has(rally.Retirement) && c.Asks.Has(rally.PlayOnAlone), "expiry asks, it decides nothing")
	require.Equal(t, rally.Playing, log.State().Phase())
	at(800_000, "in")
	_, running = rally.ClockAt(log, 800_001)
	require.False(t, running)
	over := rally.Timing(log)
	require.Len(t, over, 2)
	require.Equal(t, "time-out", over[0].Interval.String())
	require.Equal(t, int64(75_000), over[0].Took)
	require.Equal(t, format.Clause(clause.TimeOutClock), over[0].Clause)
	require.Equal(t, "10.A.1", over[0].Source.Rule)
	require.Equal(t, "equipment", over[1].Interval.String())

	later := begin(t, "sideout-doubles-11@2023", words("gA1B1 A eqB1 in")...)
	require.Empty(t, rally.Timing(later), "entries without times bound nothing")
}

// The medical clock runs from the arrival of help (10.B of 2023, read), for each
// of two players from the arrival at him; what waited for blood begins after it.
func TestMedicalClock(t *testing.T) {
	for _, c := range []struct {
		name, entries string // entries with their seconds
		at            int64  // asked at that second
		left          int64  // seconds left; none: no clock runs
		none          bool
		overruns      int
		from          format.Clause // why the clock began
	}{
		{name: "nobody there yet", entries: "gA1B1@0 mA1@20", at: 50, none: true},
		{name: "from the arrival", entries: "gA1B1@0 mA1@20 aidA1@60 mA1+@360", at: 960, left: 0, from: clause.MedicalFromArrival},
		{name: "too long, counted from the arrival", entries: "gA1B1@0 mA1@20 aidA1@60 mA1+@360 in@1200", at: 1200, none: true, overruns: 1},
		{name: "from the finding where no arrival was entered", entries: "gA1B1@0 mA1@20 mA1+@360", at: 960, left: 300, from: clause.MedicalFromFinding},
		{name: "the second of two from the arrival at him", entries: "gA1B1@0 mA1@20 aidA1@60 mB2@70 aidB2@100 mA1+@120 mB2+@130", at: 160, left: 840, from: clause.MedicalFromArrival},
		{name: "one of two took too long", entries: "gA1B1@0 mA1@20 aidA1@60 mB2@70 aidB2@100 mA1+@120 mB2+@130 in@990", at: 990, none: true, overruns: 1},
		{name: "both did", entries: "gA1B1@0 mA1@20 aidA1@60 mB2@70 aidB2@100 mA1+@120 mB2+@130 in@1100", at: 1100, none: true, overruns: 2},
		{name: "a break that waited for blood", entries: "gA1B1@0 blood@10 mA1@20 mA1+@30 dealt@100", at: 200, left: 800, from: clause.MedicalInBreak},
	} {
		log := begin(t, "sideout-doubles-11@2025")
		for _, entry := range words(c.entries) {
			text, second, _ := strings.Cut(entry, "@")
			n, err := strconv.ParseInt(second, 10, 64)
			require.NoError(t, err)
			enter(t, log, text)
			log.Stamp(n * 1000)
		}
		clock, running := rally.ClockAt(log, c.at*1000)
		require.Equal(t, !c.none, running, c.name)
		if running {
			require.Equal(t, "medical", clock.Interval.String(), c.name)
			require.Equal(t, c.left*1000, clock.Remaining, c.name)
			require.Equal(t, c.from, clock.Clause, c.name)
		}
		require.Len(t, rally.Timing(log), c.overruns, c.name)
	}
}
