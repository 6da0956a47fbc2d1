package audit_test

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// finalsOf returns the audit of a named format.
func finalsOf(id string) *audit.Finals {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	finals, err := audit.NewFinals(f)
	if err != nil {
		panic(err)
	}
	return finals
}

func show(findings []audit.Finding) {
	for i := range findings {
		f := &findings[i]
		fmt.Printf("%s: %s [%s]\n", f.Severity, words.English().Say(f.Text()), f.Code)
	}
}

// Is this final possible?
func ExampleFinals_Check() {
	m := audit.ReportedMatch{
		ID:     "L05",
		Sides:  [2]audit.Entrant{{Players: [2]string{"imani", "tomasz"}}, {Players: [2]string{"priya", "lars"}}},
		Games:  []audit.Score{{11, 10}, {11, 3}},
		Winner: audit.SideB,
	}
	show(finalsOf("sideout-doubles-11-of3").Check(&m, audit.Place{}, nil))
	// Output:
	// error: game 1: 11-10 lacks the margin of 2: mistyped, unfinished, or an event won by one point: probably 12-10, 11-9 or 11-8 [game-margin]
	// error: side B is named the winner, but the games stand 2-0: the winner or the order of the scores is wrong [winner-disagrees]
}

// Which rallies lead to a final?
func ExampleFinals_Shortest() {
	first, rallies, err := finalsOf("sideout-doubles-11").Shortest([]audit.Score{{11, 1}})
	fmt.Println(first, rallies, err)
	// Output:
	// B [B A A A A A A A A A A A A] <nil>
}

// What does the edition report where a side retired at 10-5 up in game 1?
func ExampleFinals_Convention() {
	games := []audit.Score{{10, 5}}
	for _, edition := range []string{"2021", "2024"} {
		finals := finalsOf("sideout-doubles-11-of3@" + edition)
		fmt.Println(edition, audit.GamesText(finals.Convention(games, audit.SideA, audit.Retired)))
	}
	// Output:
	// 2021 0-11 0-11
	// 2024 10-12 0-11
}

// Other games that count alike are a scoring.
func ExampleReadScoring() {
	s, err := audit.ReadScoring([]byte(`{"target":25,"win_by":2,"games":5,"last":{"target":15,"win_by":2}}`))
	if err != nil {
		panic(err)
	}
	finals, _ := audit.NewFinalsOf(s)
	fmt.Println(finals.Game(4, audit.Score{25, 24}), finals.Game(5, audit.Score{15, 13}) == audit.NoCode)
	_, err = audit.ReadScoring([]byte(`{"target":25,"win_by":26,"games":5}`))
	fmt.Println(err)
	// Output:
	// game-margin true
	// audit: win_by: must be 1 to target
}

// Rows of a table, the way a spreadsheet left them.
func ExampleRowReader() {
	r := csv.NewReader(strings.NewReader("match,game1,game2,winner\nL03,9-Nov,11-7,B\nL04,11-9,11-4,A\n"))
	header, _ := r.Read()
	columns, err := audit.ReadHeader(header)
	if err != nil {
		panic(err)
	}
	reader, finals := audit.RowReader{Columns: columns}, finalsOf("sideout-doubles-11-of3")
	for {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		m, ok, found := reader.Read(row, audit.Place{}, nil)
		if ok {
			found = finals.Check(m, audit.Place{}, found)
		}
		fmt.Println(row[0], ok, len(found))
		show(found)
	}
	// Output:
	// L03 false 1
	// error: "9-Nov" looks like a score that a spreadsheet turned into a date: 11-9 or 9-11 [score-as-date]
	// L04 true 0
}

// A log as JSON, one line a match.
func ExampleReadLine() {
	m, log, err := audit.ReadLine([]byte(`{"match":"L08","format":"sideout-doubles-11","first":"A","starters":"A1B1",
		"rows":[{"winner":"A","server":"A1","score":[1,0]},{"winner":"B","server":"A1"},{"server":"B1","score":[1,1]}]}`), 1)
	if err != nil {
		panic(err)
	}
	fmt.Println(m.ID, len(log.Rows))
	show(log.Audit(audit.Place{}).Findings)
	// Output:
	// L08 3
	// note: row 3 has no winner; it was side B [log-winner-inferred]
}

// ladderLog is a short log: A1 serves first.
func ladderLog(rows ...audit.Row) *audit.RallyLog {
	f, err := format.Parse("sideout-doubles-11")
	if err != nil {
		panic(err)
	}
	return &audit.RallyLog{Rules: rally.MustCompile(f), First: audit.SideA, Starters: &rally.Starters{rally.A1, rally.B1}, Rows: rows}
}

func won(by rally.Side, server rally.Person, a, b int) audit.Row {
	return audit.Row{Event: rally.RallyTo(by), Server: audit.KnownPerson(server), Score: &audit.Score{a, b}}
}

// Where does a log go wrong, and what is the likeliest truth?
func ExampleRallyLog_Audit() {
	log := ladderLog(
		won(rally.A, rally.A1, 1, 0),
		won(rally.B, rally.A1, 1, 0), // side out: the opening turn has one server
		won(rally.B, rally.B2, 1, 1), // B1 was due
		won(rally.B, rally.B1, 1, 2),
		won(rally.A, rally.B1, 1, 2), // second server
		won(rally.A, rally.B2, 1, 2), // side out
		won(rally.A, rally.A2, 2, 2),
		won(rally.B, rally.A2, 2, 2),
		won(rally.B, rally.A1, 2, 2),
	)
	show(log.Audit(audit.Place{}).Findings)
	// Output:
	// error: row 3 is the first that does not follow from those before it; 1 of 9 rows disagree, and the last ones agree again [log-diverges]
	// error: row 3 names B2 as server, B1 was due: certain, unless an error more was made than this takes [log-server-wrong]
}

// What happened, by the cheapest explanation, and how sure is that?
func ExampleRallyLog_Repair() {
	log := ladderLog(
		won(rally.A, rally.A1, 1, 0),
		won(rally.A, rally.A1, 1, 0), // B won it: the score stands, and B serves
		won(rally.B, rally.B1, 1, 1),
		won(rally.B, rally.B1, 1, 2),
		won(rally.B, rally.B1, 1, 3),
		won(rally.B, rally.B1, 1, 4),
	)
	repair := log.Repair()
	fmt.Println("cost", repair.Cost, "ties", repair.Ties)
	for _, e := range repair.Edits {
		fmt.Println("row", e.Row, e.Code, e.Args.Plain("named"), e.Args.Plain("side"), "certain:", e.Certain)
	}
	fmt.Println(repair.Truth)
	// Output:
	// cost 30 ties 1
	// row 2 log-winner-wrong A B certain: true
	// [gA1B1 A B B B B B]
}

// What do the marks of a sheet allow, and what is to be asked?
func ExampleSheet_Read() {
	f, err := format.Parse("sideout-doubles-11")
	if err != nil {
		panic(err)
	}
	rules := rally.MustCompile(f)
	sheet := audit.Sheet{
		Rules: rules, First: audit.SideA, Starters: &rally.Starters{rally.A1, rally.B1},
		Serving: audit.SideA, // the record is turned to A; nobody moved the marker
	}
	sheet.Sides[rally.A] = audit.SideMarks{Servers: []uint8{2, 2}, Ends: []int{2}} // two points, side out at 2
	sheet.Sides[rally.B] = audit.SideMarks{Servers: []uint8{1, 1, 1, 2}, Ends: []int{4}}
	reading := sheet.Read(audit.Place{})
	for _, state := range reading.States {
		var call []byte
		fmt.Println(string(rules.AppendCall(call, state)), rules.Places(state).Server)
	}
	fmt.Println("ask:", reading.Question)
	// Output:
	// 2-4-1 A1
	// 2-4-2 A2
	// ask: court
}

// MaybeSide serves, from the least that a sheet holds?
func ExampleStarterServes() {
	f, err := format.Parse("sideout-doubles-11")
	if err != nil {
		panic(err)
	}
	starter, _ := audit.StarterServes(f, 5, 2, false)
	fmt.Println("odd at the side out, second server: the starting server:", starter)
	// Output:
	// odd at the side out, second server: the starting server: true
}

func match(id, a, b string, games ...audit.Score) audit.ReportedMatch {
	return audit.ReportedMatch{ID: id, Sides: [2]audit.Entrant{{Players: [2]string{a}}, {Players: [2]string{b}}}, Games: games}
}

// MaybeSide is where in a round robin, and why?
func ExampleStandings() {
	lines, err := audit.Standings(audit.RoundRobin(format.RulingsOf(format.Default)), []audit.ReportedMatch{
		match("1", "mei-lin", "rafael", audit.Score{11, 9}, audit.Score{11, 9}),
		match("2", "rafael", "imani", audit.Score{11, 5}, audit.Score{11, 5}),
		match("3", "imani", "mei-lin", audit.Score{11, 8}, audit.Score{11, 8}),
	})
	if err != nil {
		panic(err)
	}
	for _, line := range lines {
		reasons := line.Explain()
		fmt.Printf("%d %s %d-%d: %s\n", line.Rank, line.ID, line.Won, line.Lost, reasons[len(reasons)-1])
	}
	// Output:
	// 1 rafael 1-1: point-difference 8 against -2 among imani mei-lin rafael
	// 2 mei-lin 1-1: point-difference -2 against 8 among imani mei-lin rafael
	// 3 imani 1-1: point-difference -6 against -2 among imani mei-lin rafael
}

// Does a report agree with those before it?
func ExampleSeason() {
	var season audit.Season
	first := match("L02", "mei-lin", "rafael", audit.Score{11, 6}, audit.Score{11, 4})
	second := match("L02", "rafael", "mei-lin", audit.Score{6, 11}, audit.Score{5, 11}) // by the other side
	show(season.Add(&first, audit.Place{Line: 2}, nil))
	show(season.Add(&second, audit.Place{Line: 7}, nil))
	// Output:
	// error: reported twice, and games differs: 11-6 11-4 / 11-6 11-5 (row 2) [same-match-differs]
}

// MaybeSide won a match of teams?
func ExampleTeamRule_Check() {
	rule := audit.TeamRule{Roles: []string{"women", "men"}, TieBreaker: "decider"}
	m := audit.TeamMatch{ID: "t1", Parts: []audit.Part{
		{Role: "women", ReportedMatch: match("t1w", "mei-lin", "priya", audit.Score{11, 7})},
		{Role: "men", ReportedMatch: match("t1m", "tomasz", "lars", audit.Score{8, 11})},
	}}
	score, winner, found := rule.Check(&m, audit.Place{}, nil)
	fmt.Printf("%v %q\n", score, winner)
	show(found)
	// Output:
	// [1 1] ""
	// error: the teams are level at 1-1, and decider is missing [tie-breaker-missing]
}

// What does a match do to the ladder?
func ExampleLadder_Apply() {
	ladder := audit.Ladder{"mei-lin", "rafael", "imani"}
	m := match("L09", "imani", "mei-lin", audit.Score{11, 9})
	after, move := ladder.Apply(audit.LadderRules{}, &m)
	fmt.Println(after, move.From, move.To, move.Why)
	// Output:
	// [imani mei-lin rafael] 3 1 took-place
}
