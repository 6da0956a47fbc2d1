package rally_test

import (
	"fmt"
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	spoken "github.com/evencourt/evencourt/rally/words"
)

// The first lines of README.md.
func Example_readme() {
	f, _ := format.Parse("sideout-doubles-11-of3@2025") // a shape and an edition
	rules, _ := rally.Compile(f)
	state := rules.New(rally.A) // side A serves first
	state, did, _ := rules.Apply(state, rally.RallyTo(rally.B))
	fmt.Printf("%s %s\n", did.Result(), rules.AppendCall(nil, state)) // what happened, and the next call
	p := rules.Places(state)
	fmt.Println(p.Server, "serves from", p.Court, "to", p.Receiver) // p.At says where all four stand
	again := rally.Start(rally.A, rally.Starters{rally.A1, rally.B1})
	fmt.Println(slices.Contains(slices.Collect(rules.Events(state)), again)) // grey the other buttons
	fmt.Println(rules.Why(state, again).Refusal)                             // and by which rule, and what instead
	fmt.Println(rules.Line(state))                                           // everything, in one line of text
	// Output:
	// side-out 0-0-1
	// B1 serves from R to A1
	// false
	// in-play
	// L2 game=1 won=0:0 score=0-0 opens=0:0 serve=B1@R#1 receive=A1 A=12 B=12 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----
}

// One value, one call a rally: the state goes in, the next one comes out.
func Example() {
	f, _ := format.Parse("sideout-doubles-11-of3")
	rules, _ := rally.Compile(f)
	state := rules.New(rally.A) // side A serves first
	for _, winner := range []rally.Side{rally.A, rally.B, rally.A, rally.B} {
		var did rally.Effects
		state, did, _ = rules.Apply(state, rally.RallyTo(winner))
		p := rules.Places(state)
		fmt.Printf("%-14s %s  %s serves from %s to %s\n", did.Result(), rules.AppendCall(nil, state), p.Server, p.Court, p.Receiver)
	}
	// Output:
	// point          1-0-2  A1 serves from L to B2
	// side-out       0-1-1  B1 serves from R to A2
	// second-server  0-1-2  B2 serves from L to A1
	// point          1-1-2  B2 serves from R to A2
}

// A refused event changes nothing, and the refusal can be explained.
func ExampleRules_Why() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2025"))
	state := rules.New(rally.A)
	for _, text := range []string{"gA1B1", "mA1", "mA1+", "in"} {
		e, _ := rally.ParseEvent(text)
		state, _, _ = rules.Apply(state, e)
	}
	again := rally.OfPerson(rally.MedicalRequest, rally.A1)
	_, _, refusal := rules.Apply(state, again)
	why := rules.Why(state, again)
	fmt.Println(refusal, why.Grounds[0].Clause, "help:", why.Help, "instead:", why.Instead.Names())
	// Output: medical-used medical-once help: true instead: [referee blood illness]
}

// A log is the match: every entry stays, corrections included.
func ExampleLog() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2025"))
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, entry := range []string{"gA1B1", "A", "A", "B", "undo", "amend 2 B"} {
		if _, err := log.Enter(entry); err != nil {
			fmt.Println(err)
		}
	}
	fmt.Println(string(rules.AppendCall(nil, log.State())), log.Len())
	_, err := log.Enter("rewind 1 2")
	fmt.Println(err)
	// Output:
	// 0-0-2 6
	// rally: entry "rewind 1 2": malformed: want-number
}

// A wrong server is ruled by the edition: a fault until mid-2023, a replay if
// the rally was stopped from then on.
func ExampleEvent_WithIncident() {
	wrongServer := rally.Incident{Mistakes: rally.Mistakes(0).With(rally.WrongServer), Reach: rally.Struck, Stopper: rally.ByReferee}
	e := rally.EventOf(rally.Stop).WithIncident(wrongServer)
	for _, edition := range []string{"2023", "2023-08"} {
		rules := rally.MustCompile(mustParse("sideout-doubles-11@" + edition))
		state, _, _ := rules.Apply(rules.New(rally.A), rally.RallyTo(rally.B))
		state, did, _ := rules.Apply(state, e)
		fmt.Println(edition, e, did, string(rules.AppendCall(nil, state)))
	}
	// Output:
	// 2023 stop?server,struck,byref second-server,put-right 0-0-2
	// 2023-08 stop?server,struck,byref replay 0-0-1
}

// The court as the referee sees it from his post.
func ExampleRules_View() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2025"))
	state, _, _ := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	v := rules.View(state, rally.A) // A began on his left
	fmt.Println(v.Server.Person, v.Server.Hand, v.Server.Depth, "to", v.Receiver.Person, v.Receiver.Hand, v.Receiver.Depth)
	// Output: A1 left near to B1 right far
}

// A match can be taken up anywhere: the line states the position.
func ExampleRules_ParseLine() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2025"))
	state, err := rules.ParseLine(goodLine)
	fmt.Println(string(rules.AppendCall(nil, state)), err)
	_, err = rules.ParseLine(with("A=21"))
	fmt.Println(err)
	// Output:
	// 4-3-1 <nil>
	// rally: line: serve "A1@R#1": no order of service of this format puts the players so
}

// Everything that a screen draws, after every entry.
func ExampleBoard() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2026"))
	log := rally.NewLog(rules, rules.New(rally.A))
	board := rally.NewBoard(log, rally.Setup{Sides: [2]rally.Team{{Players: [2]rally.Player{{Name: "Imani Okafor", Mark: "band"}, {Name: "Tomasz Zielinski"}}}}})
	for _, e := range []string{"gA1B1", "A", "tB"} {
		log.Enter(e)
	}
	v := board.Snapshot(-1) // nobody keeps the time
	fmt.Println(v.Score, v.Call, v.Result, v.Setup.Name(*v.Server), *v.Court, "to", *v.Receiver)
	fmt.Println("game to", v.Target, "break", v.Break, "left", v.TimeOuts[rally.B].Left, "undo takes", v.Undo)
	fmt.Println(v.Refused[0].Event, v.Refused[0].Why)
	fmt.Println(string(board.AppendJSON(nil, -1)[:50]))
	// Output:
	// [1 0] 1-0-2 point Imani Okafor L to B2
	// game to 11 break t left 1 undo takes tB
	// gA1B1 in-play
	// {"format":"sideout-doubles-11-of3@2026","doubles":
}

// The buttons that may be pressed: those of the side that has a time-out left.
func ExampleRules_Events() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2026"))
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range []string{"gA1B1", "tA", "in", "tA", "in"} {
		log.Enter(e)
	}
	for e := range rules.Events(log.State()) {
		if e.Kind() == rally.TimeOut {
			fmt.Println(e)
		}
	}
	fmt.Println(rules.Why(log.State(), rally.OfSide(rally.TimeOut, rally.A)).Refusal)
	// Output:
	// tB
	// none-left
}

// What remains of a time-out, and when its notice is due.
func ExampleClockAt() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2026"))
	log := rally.NewLog(rules, rules.New(rally.A))
	for i, e := range []string{"gA1B1", "A", "tB"} {
		log.Enter(e)
		log.Stamp(int64(i) * 20_000)
	}
	clock, running := rally.ClockAt(log, 65_000)
	fmt.Println(running, clock.Interval, clock.Remaining, clock.NoticeAt)
	// Output: true time-out 35000 85000
}

// What an undo would take back, in words.
func ExampleLog_Undoable() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2026"))
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range []string{"gA1B1", "A", "tB"} {
		log.Enter(e)
	}
	n, _ := log.Undoable()
	e, _ := log.Holds(n)
	fmt.Println(n, log.Entry(n), "-", spoken.English().Say(spoken.Event(e, nil)))
	// Output: 3 tB - time-out, side B
}

// A match that goes over to another edition with its next game.
func ExampleLog_Do() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2025"))
	log := rally.NewLog(rules, rules.New(rally.A))
	log.Enter("A")
	_, err := log.Do(rally.Entry{Kind: rally.ChangeFormat, Format: mustParse("sideout-doubles-11-of3@2026"), Next: true, Note: "Haddad"})
	fmt.Println(log.Entry(2), err)
	fmt.Println("now", log.Rules(), "then", log.Pending())
	// Output:
	// format sideout-doubles-11-of3@2026 next Haddad <nil>
	// now sideout-doubles-11-of3@2025 then sideout-doubles-11-of3@2026
}

// What a repair would change, before anybody confirms it.
func ExampleLog_Would() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2026"))
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range []string{"A", "A", "B"} {
		log.Enter(e)
	}
	repair, _ := rally.ParseEntry("amend 2 B")
	_, changes, _ := log.Would(repair)
	for _, c := range changes {
		fmt.Println(c.N, c.Before.Effects, c.Before.Score, "->", c.After.Effects, c.After.Score)
	}
	fmt.Println(log)
	// Output:
	// 2 point [2 0] -> side-out [1 0]
	// 3 side-out [2 0] -> point [1 1]
	// sideout-doubles-11@2026 entries=3 game=1 won=0:0 score=2-0 phase=play
}

// A decision with the clauses that it rests on.
func ExampleRules_Decide() {
	rules := rally.MustCompile(mustParse("sideout-doubles-11@2023-08"))
	state, _, _ := rules.Apply(rules.New(rally.A), rally.RallyTo(rally.B))
	wrongServer, _ := rally.ParseEvent("stop?server,struck,byref")
	_, did, _, by := rules.Decide(state, wrongServer)
	fmt.Println(did, by)
	for _, g := range rules.Grounds(by) {
		fmt.Println(g.Source.Rule, g.Source.Mark)
	}
	// Output:
	// replay order-replay
	// 4.B.9.a read
}
