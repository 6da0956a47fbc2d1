package audit_test

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
)

// inputError requires an *InputError with this text, and with a short one
// whatever was read.
func inputError(t *testing.T, err error, want string) {
	t.Helper()
	require.EqualError(t, err, want)
	var input *audit.InputError
	require.True(t, errors.As(err, &input), "%T", err)
	require.Less(t, len(want), 600)
}

const knownColumns = "; know match, event, round, date, format, a1, a2, b1, b2, a1_name, a2_name, b1_name, b2_name, team_a, team_b, games, won, totals, winner, status, by, of, game1, game1_a, time_outs1, …"

func TestBadHeaders(t *testing.T) {
	tests := []struct{ name, header, want string }{
		{"empty", "", "audit: line 1: header: no column of scores: want games, game1, game1_a and game1_b, won or totals"},
		{"no scores", "match,a1,b1,winner", "audit: line 1: header: no column of scores: want games, game1, game1_a and game1_b, won or totals"},
		{"time-outs are no scores", "match,time_outs1", "audit: line 1: header: no column of scores: want games, game1, game1_a and game1_b, won or totals"},
		{"unknown", "match,games,court", `audit: line 1: header: unknown column "court"` + knownColumns},
		{"unknown and long", "games," + strings.Repeat("x", 5000), `audit: line 1: header: unknown column "` + strings.Repeat("x", 40) + `"…` + knownColumns},
		{"control characters", "games,\x00\x1b[2J", `audit: line 1: header: unknown column "\x00\x1b[2j"` + knownColumns},
		{"a tenth game", "game10", `audit: line 1: header: unknown column "game10"` + knownColumns},
		{"twice", "match,games,Match", "audit: line 1: header: column match twice"},
		{"twice under two names", "scores,games", "audit: line 1: header: column games twice"},
		{"twice but for spaces", "games,A1 name,a1_name", "audit: line 1: header: column a1_name twice"},
		{"the points of A only", "game1_a,game2_a,game2_b", "audit: line 1: header: game1 has the points of one side only"},
		{"the points of B only", "game3_b", "audit: line 1: header: game3 has the points of one side only"},
		{"a semicolon for a comma", "match;games", `audit: line 1: header: unknown column "match;games"` + knownColumns},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			columns, err := audit.ReadHeader(strings.Split(test.header, ","))
			require.Nil(t, columns)
			inputError(t, err, test.want)
		})
	}
}

func TestGoodHeaders(t *testing.T) {
	for _, header := range []string{
		"games", "\ufeffMatch,GAMES", " Game1 ,game1_A,game1_B", "score,notes,note 2,proposed,", "id,won", "totals,team A", "status,match",
		strings.Join(audit.ColumnNames(), ","),
	} {
		_, err := audit.ReadHeader(strings.Split(header, ","))
		require.NoError(t, err, header)
	}
}

// A row under a header, and what is said of it; ok is whether the match may be
// audited further.
func TestBadRows(t *testing.T) {
	tests := []struct {
		name, header, row string
		ok                bool
		want              []string
	}{
		{"a field too few", "match,game1,game2", "m|11-8", false, []string{"row-unreadable: this row cannot be read: want 3 fields, have 2"}},
		{"a field too many", "match,game1", "m|11-8|x", false, []string{"row-unreadable: this row cannot be read: want 2 fields, have 3"}},
		{"no score", "game1", "won", false, []string{`field-unreadable game1: "won" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"half a score", "game1", "11-", false, []string{`field-unreadable game1: "11-" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"one number", "game1", "11", false, []string{`field-unreadable game1: "11" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"a negative score", "game1", "-11-8", false, []string{`field-unreadable game1: "-11-8" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"four digits", "game1", "1111-8", false, []string{`field-unreadable game1: "1111-8" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"two scores in a cell for one", "game1", "11-8 11-4", false, []string{`field-unreadable game1: "11-8 11-4" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"letters after it", "game1", "11-8x", false, []string{`field-unreadable game1: "11-8x" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"a fraction", "game1", "11.5-8", false, []string{`field-unreadable game1: "11.5-8" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"full-width digits", "game1", "１１-8", false, []string{`field-unreadable game1: "１１-8" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"a score made a date", "game1", "9-Nov", false, []string{`score-as-date game1: "9-Nov" looks like a score that a spreadsheet turned into a date: 11-9 or 9-11`}},
		{"a score made a number of days", "game1", "45239", false, []string{`score-as-date game1: "45239" looks like a score that a spreadsheet turned into a date: 11-9 or 9-11`}},
		{"a score made a full date", "game1", "2026-11-08", false, []string{`score-as-date game1: "2026-11-08" looks like a score that a spreadsheet turned into a date: 11-8 or 8-11`}},
		{"level scores have one reading", "game1", "11-Nov", false, []string{`score-as-date game1: "11-Nov" looks like a score that a spreadsheet turned into a date: 11-11`}},
		{"all games in one cell, one unreadable", "games", "11-8 x 11-4", false, []string{`field-unreadable games: "11-8 x 11-4" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"ten games in one cell", "games", strings.Repeat("11-8 ", 10), false, []string{`field-unreadable games: "11-8 11-8 11-8 11-8 11-8 11-8 11-8 11-8 "… cannot be read here: there are more than nine games; only what could be read of the row was checked`}},
		{"points of one side missing", "game1_a,game1_b", "11|", false, []string{`field-unreadable game1: "11 / " cannot be read here: want two numbers up to 999; only what could be read of the row was checked`}},
		{"points that are no number", "game1_a,game1_b", "11|eight", false, []string{`field-unreadable game1: "11 / eight" cannot be read here: want two numbers up to 999; only what could be read of the row was checked`}},
		{"points past a thousand", "game1_a,game1_b", "1000|8", false, []string{`field-unreadable game1: "1000 / 8" cannot be read here: want two numbers up to 999; only what could be read of the row was checked`}},
		{"a winner by name: the row is read all the same", "games,winner", "11-8|Imani Okafor", true, []string{`field-unreadable winner: "Imani Okafor" cannot be read here: want A or B; the field was left out, the row was checked without it`}},
		{"a side that is neither", "games,status,by", "11-8|retired|C", false, []string{`field-unreadable by: "C" cannot be read here: want A or B; only what could be read of the row was checked`}},
		{"an unknown status", "games,status", "11-8|default", false, []string{`field-unreadable status: "default" cannot be read here: want one of played, retired, forfeited, withdrawn, double-forfeit, not-played, bye, postponed, abandoned, resumed, awarded, annulled, amended; only what could be read of the row was checked`}},
		{"a date of the other order: the row is read all the same", "games,date", "11-8|12.09.2026", true, []string{`field-unreadable date: "12.09.2026" cannot be read here: want a date, YYYY-MM-DD; the field was left out, the row was checked without it`}},
		{"a day that no month has", "games,date", "11-8|2026-09-31", true, []string{`field-unreadable date: "2026-09-31" cannot be read here: want a date, YYYY-MM-DD; the field was left out, the row was checked without it`}},
		{"29 February of a common year", "games,date", "11-8|2026-02-29", true, []string{`field-unreadable date: "2026-02-29" cannot be read here: want a date, YYYY-MM-DD; the field was left out, the row was checked without it`}},
		{"29 February of 1900", "games,date", "11-8|1900-02-29", true, []string{`field-unreadable date: "1900-02-29" cannot be read here: want a date, YYYY-MM-DD; the field was left out, the row was checked without it`}},
		{"time-outs that are one number: the row is read all the same", "games,time_outs1", "11-8|2", true, []string{`field-unreadable time_outs1: "2" cannot be read here: want time-outs used, such as 1-0; the field was left out, the row was checked without it`}},
		{"games won that are no score", "won", "two", false, []string{`field-unreadable won: "two" cannot be read here: want scores such as 11-8; the field was left out, the row was checked without it`}},
		{"totals made a date", "totals", "22-Dec", false, []string{`score-as-date totals: "22-Dec" looks like a score that a spreadsheet turned into a date: 12-22 or 22-12`}},
		{"several fields at once", "game1,game2,winner", "x|y|z", false, []string{
			`field-unreadable winner: "z" cannot be read here: want A or B; the field was left out, the row was checked without it`,
			`field-unreadable game1: "x" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`,
			`field-unreadable game2: "y" cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
		{"a cell of a million bytes is quoted short", "game1", strings.Repeat("é", 500_000), false,
			[]string{`field-unreadable game1: "` + strings.Repeat("é", 20) + `"… cannot be read here: want scores such as 11-8; only what could be read of the row was checked`}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			columns, err := audit.ReadHeader(strings.Split(test.header, ","))
			require.NoError(t, err)
			reader := audit.RowReader{Columns: columns}
			m, ok, found := reader.Read(strings.Split(test.row, "|"), audit.Place{Source: "file.csv", Line: 7}, nil)
			require.Equal(t, test.ok, ok)
			require.Empty(t, cmp.Diff(test.want, brief(found)))
			for _, f := range found {
				require.Equal(t, []any{"file.csv", 7, f.Code.Severity()}, []any{f.Source, f.Line, f.Severity})
			}
			if ok {
				require.Equal(t, []audit.Score{{11, 8}}, m.Games)
			}
		})
	}
}

// What is read as it should be, whichever way it is spelt.
func TestGoodRows(t *testing.T) {
	tests := []struct{ name, header, row, want string }{
		{"hyphen", "game1,game2", "11-8|7-11", "11-8 7-11"},
		{"en dash, minus, em dash, colon, spaces", "games", "11–8 7−11;11 : 9 / 3—11", "11-8 7-11 11-9 3-11"},
		{"one number a cell", "game1_a,game1_b,game2_a,game2_b", "11|8|7|11", "11-8 7-11"},
		{"a cell of its own before two cells", "game1,game1_a,game1_b", "11-8||", "11-8"},
		{"spaces around", "game1", "  11 - 8 ", "11-8"},
		{"missing, spelt in many ways", "game1,game2,game3,game4", "11-8|n/a|-|", "11-8"},
		{"a gap", "game1,game2,game3", "11-8||11-4", "11-8 - 11-4"},
		{"columns in any order", "game2,match,game1", "7-11|m|11-8", "11-8 7-11"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			columns, err := audit.ReadHeader(strings.Split(test.header, ","))
			require.NoError(t, err)
			reader := audit.RowReader{Columns: columns}
			m, ok, found := reader.Read(strings.Split(test.row, "|"), audit.Place{}, nil)
			require.True(t, ok)
			require.Empty(t, found)
			require.Equal(t, test.want, audit.GamesText(m.Games))
		})
	}
}

func TestMissingValuesSpeltInManyWays(t *testing.T) {
	columns, err := audit.ReadHeader([]string{"game1", "winner", "date"})
	require.NoError(t, err)
	reader := audit.RowReader{Columns: columns}
	for _, row := range [][]string{{"11-8", "", "n/a"}, {"11-8", "-", ""}, {"11-8", "A", "n/a"}} {
		_, ok, found := reader.Read(row, audit.Place{}, nil)
		require.True(t, ok)
		require.Empty(t, found)
	}
	require.Equal(t, []string{"missing-spelled: missing values are spelt in 3 ways: n/a, empty, -"}, brief(reader.Finish(audit.Place{}, nil)))
	one := audit.RowReader{Columns: columns}
	_, _, _ = one.Read([]string{"11-8", "", ""}, audit.Place{}, nil)
	require.Empty(t, one.Finish(audit.Place{}, nil))
}

// What a spreadsheet can have made of 11-9, and what it cannot.
func TestScoresOfDates(t *testing.T) {
	both := []audit.Score{{11, 9}, {9, 11}}
	swapped := []audit.Score{{9, 11}, {11, 9}}
	tests := []struct {
		text string
		want []audit.Score
	}{
		{"9-Nov", both}, {"Nov-9", both}, {"nov 9", both}, {"09.11.2026", swapped}, {"9/11/26", swapped}, {"11/9/2026", both}, {"2026-11-09", both},
		{"2026-11-09T00:00:00", both}, {"2026-11-09 00:00:00", both}, {"45239", both}, {"9 November", both}, {"9. Nov", both}, {" 9-NOV ", both},
		{"9-Nov-2026", both}, {"11-Nov", []audit.Score{{11, 11}}}, {"Nov-15", []audit.Score{{11, 15}, {15, 11}}},
		// 11-0 is stored as the first of November 2000.
		{"Nov-00", []audit.Score{{11, 0}, {0, 11}}}, {"Nov-2000", []audit.Score{{11, 0}, {0, 11}}},
		{"2000-11-01", []audit.Score{{11, 1}, {1, 11}, {11, 0}, {0, 11}}}, {"36831", []audit.Score{{11, 1}, {1, 11}, {11, 0}, {0, 11}}},
		{"11/1/00", []audit.Score{{11, 1}, {1, 11}, {11, 0}, {0, 11}}}, {"2001-11-01", []audit.Score{{11, 1}, {1, 11}}},
		{"Nov-151", nil}, {"Nov-1995", nil}, {"Nov-1915", []audit.Score{{11, 15}, {15, 11}}}, {"9-Nov-9999", both},
		{"", nil}, {"11-9", nil}, {"hello", nil}, {"2999", nil}, {"61000", nil}, {"13/13/2026", nil}, {"0/9/2026", nil}, {"9-Nov-Dec", nil},
		{"no-9", nil}, {"9-Novembering", nil}, {"1-2-3-4", nil}, {"99999999999999999999", nil}, {"-9-Nov--", both}, {strings.Repeat("9-Nov", 20), nil}, {"9/11/202", nil},
	}
	for _, test := range tests {
		t.Run(test.text, func(t *testing.T) {
			require.Empty(t, cmp.Diff(test.want, audit.ScoresOfDate(test.text)))
		})
	}
}

func TestBadLines(t *testing.T) {
	log := func(rows string) string {
		return `{"match":"m","format":"sideout-doubles-11","rows":[` + rows + `]}`
	}
	tests := []struct{ name, line, want string }{
		{"empty", "", "audit: line 4: no JSON: unexpected end"},
		{"blanks", "   ", "audit: line 4: no JSON: unexpected end"},
		{"torn", `{"match":"m","games":[[11,8`, "audit: line 4: no JSON: unexpected end"},
		{"no JSON", "match,games", "audit: line 4: want an object"},
		{"null", "null", "audit: line 4: want an object"},
		{"a list", "[1]", "audit: line 4: want an object"},
		{"bad JSON", `{"match":}`, "audit: line 4: no JSON: unexpected '}' at byte 10"},
		{"two objects", `{"match":"m"}{"match":"n"}`, "audit: line 4: want one object a line"},
		{"an unknown field", `{"match":"m","court":3}`, `audit: line 4: unknown field "court"`},
		{"an unknown field of a thousand bytes", `{"` + strings.Repeat("x", 1000) + `":3}`, `audit: line 4: unknown field "` + strings.Repeat("x", 65) + "…"},
		{"a number of a thousand digits", `{"games":[[` + strings.Repeat("9", 1000) + `,8]]}`, "audit: line 4: games: want a whole number, not number " + strings.Repeat("9", 73) + "…"},
		{"an unknown field of a side", `{"sides":[{"player":"p"}]}`, `audit: line 4: unknown field "player"`},
		{"an id that is a number", `{"match":5}`, "audit: line 4: match: want a text, not number"},
		{"a score that is another text", `{"games":["eleven"]}`, "audit: line 4: games: want a list, not string"},
		{"a score of one number", `{"games":[[11,8],[11]]}`, "audit: line 4: games.1: want two numbers up to 999"},
		{"a score of three numbers", `{"games":[[11,8,7]]}`, "audit: line 4: games.0: want two numbers up to 999"},
		{"a score of half a point", `{"games":[[11,8.5]]}`, "audit: line 4: games: want a whole number, not number 8.5"},
		{"a negative score", `{"games":[[11,-8]]}`, "audit: line 4: games.0: want two numbers up to 999"},
		{"a score past a thousand", `{"games":[[1000,8]]}`, "audit: line 4: games.0: want two numbers up to 999"},
		{"a score past any number", `{"games":[[99999999999999999999,8]]}`, "audit: line 4: games: want a whole number, not number 99999999999999999999"},
		{"ten games", `{"games":[` + strings.Repeat("[11,8],", 9) + `[11,8]]}`, "audit: line 4: games: more than nine games"},
		{"ten finals", `{"rows":[],"finals":[` + strings.Repeat("[11,8],", 9) + `[11,8]]}`, "audit: line 4: finals: more than nine games"},
		{"finals that are no score", `{"rows":[],"finals":[[11]]}`, "audit: line 4: finals.0: want two numbers up to 999"},
		{"time-outs that are no pair", `{"time_outs":[[1]]}`, "audit: line 4: time_outs.0: want two numbers up to 999"},
		{"games won that are no pair", `{"won":[2]}`, "audit: line 4: won: want two numbers up to 999"},
		{"totals that are negative", `{"totals":[-1,-1]}`, "audit: line 4: totals: want two numbers up to 999"},
		{"three sides", `{"sides":[{},{},{}]}`, "audit: line 4: sides: want two sides"},
		{"three players", `{"sides":[{},{"players":["p1","p2","p3"]}]}`, "audit: line 4: sides.1.players: want one or two players"},
		{"three names", `{"sides":[{"names":["Imani","Tomasz","Priya"]}]}`, "audit: line 4: sides.0.names: want one or two names"},
		{"a winner that is neither side", `{"winner":"C"}`, `audit: line 4: winner: want A or B`},
		{"nobody's retirement", `{"status":"retired","by":"home"}`, `audit: line 4: by: want A or B`},
		{"a log of another first side", `{"format":"sideout-doubles-11","first":"us","rows":[]}`, `audit: line 4: first: want A or B`},
		{"a row won by neither side", `{"format":"sideout-doubles-11","rows":[{"winner":"nobody"}]}`, `audit: line 4: rows.0.winner: want A or B`},
		{"a row served by neither side", `{"format":"sideout-doubles-11","rows":[{"serving":"3"}]}`, `audit: line 4: rows.0.serving: want A or B`},
		{"an unknown status", `{"status":"default"}`, `audit: line 4: status: unknown value "default"`},
		{"a date of another order", `{"date":"12.09.2026"}`, "audit: line 4: date: want a date, YYYY-MM-DD"},
		{"a log without rows", `{"first":"A"}`, "audit: line 4: rows: a log has rows"},
		{"end changes without rows", `{"end_changes":true}`, "audit: line 4: rows: a log has rows"},
		{"a log without a format", `{"rows":[]}`, `audit: line 4: format: shape: unknown id ""`},
		{"a log of an unknown format", `{"format":"triples-11","rows":[]}`, `audit: line 4: format: shape: unknown id "triples-11"`},
		{"a log of an impossible edition", `{"format":"rally-doubles-11@1999","rows":[]}`, "audit: line 4: format: edition: shape rally-doubles-11 does not exist in edition 1999"},
		{"rows past the bound", `{"format":"sideout-doubles-11","rows":[` + strings.Repeat("{},", 20_000) + `{}]}`, "audit: line 4: rows: more than 20000"},
		{"a line past the bound", `{"match":"` + strings.Repeat("x", 1<<20) + `"}`, "audit: line 4: line longer than 1048576 bytes"},
		{"starting servers of one side", `{"format":"sideout-doubles-11","starters":"A1A2","rows":[]}`, "audit: line 4: starters: want the starting servers, such as A1B1"},
		{"a row that is a number", log("5"), "audit: line 4: rows: want an object, not number"},
		{"a field of a row with a slip of the pen", log(`{"winer":"A"}`), `audit: line 4: winer: unknown field; is it winner?`},
		{"a winner and an event", log(`{"winner":"A","event":"tA"}`), "audit: line 4: rows.0.winner: either a winner or an event"},
		{"no such event", log(`{},{"event":"hop"}`), `audit: line 4: rows.1.event: no event: "hop"`},
		{"a correction is no row", log(`{"event":"undo"}`), `audit: line 4: rows.0.event: no event: "undo"`},
		{"no such server", log(`{"server":"A3"}`), "audit: line 4: rows.0.server: want A1, A2, B1, B2, A or B"},
		{"a server of the other side than serves", log(`{"server":"A","serving":"B"}`), "audit: line 4: rows.0.server: want A1, A2, B1, B2, A or B"},
		{"a receiver that is a side", log(`{"receiver":"B"}`), "audit: line 4: rows.0.receiver: want A1, A2, B1 or B2"},
		{"a call of one number", log(`{"call":"4"}`), "audit: line 4: rows.0.call: want a score call, such as 4-3-1"},
		{"a call with a third server", log(`{"call":"4-3-3"}`), "audit: line 4: rows.0.call: want a score call, such as 4-3-1"},
		{"a call past 255", log(`{"call":"256-3-1"}`), "audit: line 4: rows.0.call: want a score call, such as 4-3-1"},
		{"a score of a row", log(`{"score":[4]}`), "audit: line 4: rows.0.score: want two numbers up to 999"},
		{"a missing score written out", log(`{"score":[-1,-1]}`), "audit: line 4: rows.0.score: want two numbers up to 999"},
		{"a tenth game", log(`{"game":10}`), "audit: line 4: rows.0.game: want the number of a game, 1 to 9"},
		{"a negative number", log(`{"n":-1}`), "audit: line 4: rows.0.n: want a number from 1"},
		{"a negative time", log(`{"ms":-1}`), "audit: line 4: rows.0.ms: want milliseconds, or a time such as 1:02:03"},
		{"no time", log(`{"time":"noon"}`), "audit: line 4: rows.0.ms: want milliseconds, or a time such as 1:02:03"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			m, l, err := audit.ReadLine([]byte(test.line), 4)
			require.Nil(t, m)
			require.Nil(t, l, "nothing is half-read")
			inputError(t, err, test.want)
		})
	}
}

func TestBadScorings(t *testing.T) {
	tests := []struct{ name, text, want string }{
		{"empty", "", "audit: no JSON: unexpected end"},
		{"no JSON", "11", "audit: want an object, not number"},
		{"two values", `{"target":11,"win_by":2,"games":1} 7`, "audit: want one value"},
		{"an unknown field", `{"target":11,"win_by":2,"games":1,"freeze":20}`, `audit: unknown field "freeze"`},
		{"a text", `{"target":"11"}`, "audit: target: want a whole number, not string"},
		{"no target", `{"win_by":2,"games":1}`, "audit: target: must be 1 to 250"},
		{"a target past the bound", `{"target":251,"win_by":2,"games":1}`, "audit: target: must be 1 to 250"},
		{"no margin", `{"target":11,"games":1}`, "audit: win_by: must be 1 to target"},
		{"a margin past the target", `{"target":11,"win_by":12,"games":1}`, "audit: win_by: must be 1 to target"},
		{"a cap under the target", `{"target":11,"win_by":2,"cap":10,"games":1}`, "audit: cap: must be 0 for none, or target to 255"},
		{"no games", `{"target":11,"win_by":2}`, "audit: games: must be 1 to 9"},
		{"ten games", `{"target":11,"win_by":2,"games":10}`, "audit: games: must be 1 to 9"},
		{"the most of two games", `{"target":11,"win_by":2,"games":2}`, "audit: games: an even number needs play_all"},
		{"another last game of one", `{"target":11,"win_by":2,"games":1,"last":{"target":15,"win_by":2}}`, "audit: last: a single game has no other last game"},
		{"a last game without a target", `{"target":11,"win_by":2,"games":3,"last":{"win_by":2}}`, "audit: last.target: must be 1 to 250"},
		{"negative time-outs", `{"target":11,"win_by":2,"games":3,"time_outs":-1}`, "audit: time_outs: must be 0 to 15"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			got, err := audit.ReadScoring([]byte(test.text))
			require.Zero(t, got)
			inputError(t, err, test.want)
		})
	}
}

// The texts of enums, and of scores, read by encoding/json.
func TestBadTexts(t *testing.T) {
	tests := []struct {
		name string
		into any
		text string
		want string
	}{
		{"code", new(audit.FindingCode), `"no-such"`, `audit: code: unknown value "no-such"`},
		{"severity", new(audit.Severity), `"fatal"`, `audit: severity: unknown value "fatal"`},
		{"severity of nothing", new(audit.Severity), `""`, `audit: severity: unknown value ""`},
		{"side", new(audit.MaybeSide), `"C"`, `audit: side: unknown value "C"`},
		{"status", new(audit.Status), `"default"`, `audit: status: unknown value "default"`},
		{"criterion", new(audit.Criterion), `"coin"`, `audit: criterion: unknown value "coin"`},
		{"by", new(audit.By), `"club"`, `audit: by: unknown value "club"`},
		{"unit", new(audit.Unit), `"sets"`, `audit: unit: unknown value "sets"`},
		{"score of one", new(audit.Score), `[11]`, `audit: want two numbers up to 999`},
		{"score of three", new(audit.Score), `[11,8,7]`, `audit: want two numbers up to 999`},
		{"score of texts", new(audit.Score), `["11","8"]`, `audit: want a whole number, not string`},
		{"a long value is quoted short", new(audit.Status), `"` + strings.Repeat("x", 1000) + `"`, `audit: status: unknown value "` + strings.Repeat("x", 40) + `"…`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			inputError(t, json.Unmarshal([]byte(test.text), test.into), test.want)
		})
	}
	s := audit.Score{1, 2}
	require.NoError(t, json.Unmarshal([]byte("null"), &s))
	require.Equal(t, audit.NoScore(), s)
	require.Error(t, new(audit.FindingCode).UnmarshalText(nil))
}

// Public functions take any value of their types.
func TestValuesOutOfRange(t *testing.T) {
	require.Equal(t, "?", audit.Status(255).String())
	require.Zero(t, audit.FindingCode("none-such").Severity())
	require.Empty(t, audit.FindingCode("none-such").Clauses())
	require.Zero(t, audit.FindingCode("none-such").Clause(format.E2026))
	require.Error(t, audit.FindingCode("none-such").Meaning().Check())
	require.Error(t, (&audit.Finding{Code: "none-such"}).Text().Check())
	require.Equal(t, "", audit.MaybePerson(9).String())
	finals := newFinals(t, "sideout-doubles-11-of3")
	const huge = math.MaxInt / 2
	odd := audit.ReportedMatch{Status: 255, Winner: 7, By: 9, Games: []audit.Score{{-5, huge}, {huge, -1}, {huge, 3}}, Won: &audit.Score{-1, huge}, Totals: &audit.Score{huge, -1},
		TimeOuts: []audit.Score{{-1, huge}}}
	require.NotEmpty(t, finals.Check(&odd, audit.Place{}, nil))
	require.NotPanics(t, func() {
		odd.Victor()
		finals.Game(-3, audit.Score{1, 2})
		finals.Convention(odd.Games, 9, 200)
		_, _ = audit.Standings(audit.TableRules{By: 9, Order: []audit.Criterion{audit.MatchesWon}}, []audit.ReportedMatch{odd})
		audit.Ladder{"a"}.Apply(audit.LadderRules{By: 9, Reach: -1}, &odd)
		var l audit.RallyLog
		l.Audit(audit.Place{})
		l.Repair()
		new(audit.RowReader).Finish(audit.Place{}, nil)
	})
	require.Equal(t, -1, new(audit.RallyLog).Repair().Cost)
	require.Equal(t, audit.FindingCode("log-unexplained"), new(audit.RallyLog).Audit(audit.Place{}).Findings[0].Code)
}
