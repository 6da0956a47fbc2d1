package record_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// A match that is kept while it is played, and taken up again.
func ExampleMatch() {
	path := scratch()
	// From here as in README.md.
	f, _ := format.Parse("sideout-doubles-11@2026+target=13+cap=15") // a format of your own has an id too
	rules := rally.MustCompile(f)
	match, err := record.KeepFile(path, rally.Setup{Court: "2"}, rally.NewLog(rules, rules.New(rally.A)))
	if err != nil {
		panic(err) // what stands there is no record, say, or another program has it open
	}

	tap, _ := rally.ParseEvent("A")                                             // what a button sends
	did, err := match.Do(record.Request{ID: "tap-1", N: 1, Entry: tap.Entry()}) // checked, on the disk, then in the log
	again, _ := match.Do(record.Request{ID: "tap-1", N: 1, Entry: tap.Entry()}) // sent twice, taken once
	fmt.Println(did.N, did.Effects, err, again.Again)

	board := match.Snapshot() // all that a screen draws; match.AppendJSON for a page
	fmt.Println(board.Call, board.Server, slices.Contains(board.Allowed, tap), board.Undo)
	fmt.Println(words.English().Say(referee.New(match.Rules(), match.Setup()).Event(tap)))
	_ = match.Close()

	rec, w, _ := record.Resume(path) // the record itself; after a restart record.KeepFile goes on with the match
	_, elsewhere := rec.Today()      // where it would score otherwise by today's rules
	fmt.Println(rec.Log.Len(), elsewhere == nil, w.Close())
	// Output:
	// 1 point,game-started <nil> true
	// 1-0-2 A1 true A
	// rally won, A1 and A2
	// 1 true <nil>
}

// scratch is a path in a folder that nobody else uses.
func scratch() string {
	dir, err := os.MkdirTemp("", "evencourt")
	if err != nil {
		panic(err)
	}
	return filepath.Join(dir, "court-2.jsonl")
}

// A match written as it is played, and read back.
func Example() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	rules := rally.MustCompile(f)
	log := rally.NewLog(rules, rules.New(rally.A))
	var file bytes.Buffer
	w, err := record.NewWriter(&file, rally.Setup{Referee: "Noor Haddad"}, log)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, entry := range []string{"gA1B1", "A", "B:net", "undo"} {
		if _, err := log.Enter(entry); err != nil {
			fmt.Println(err)
			return
		}
		if err := w.Append(); err != nil { // and w.Sync() where it is a file
			fmt.Println(err)
			return
		}
	}

	rec, err := record.Read(&file)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := rec.Log.State()
	fmt.Println(rec.Setup.Referee, rec.Log.Len(), string(rec.Log.Rules().AppendCall(nil, s)))
	// Output: Noor Haddad 4 1-0-2
}

// What is left of a record that a crash tore.
func ExampleRecover() {
	const torn = `{"record":1,"format":"sideout-singles-11@2026","edition":"2026","setup":{"sides":[{"players":[{},{}]},{"players":[{},{}]}],"left":"A"},"start":"L2 game=0 won=0:0 score=0-0 opens=0:0 serve=- receive=- A=-- B=-- first=A start=- ends=0 due=- phase=before result=- break=- timeouts=0:0 medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"}
{"n":1,"do":"A"}
{"n":2,"do":"A"}
{"n":3,"d`
	rec, problems, err := record.Recover(strings.NewReader(torn))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(rec.Log.Len(), "entries")
	for _, p := range problems {
		fmt.Println(p)
	}
	// Output:
	// 2 entries
	// record: line 4: breaks off after 9 bytes; the 2 entries before it are whole
}

// A game in one line.
func ExampleNotation() {
	log, err := record.ParseNotation("sideout-doubles-11@2026 A: gA1B1 AAB AB tA in A:net undo B")
	if err != nil {
		fmt.Println(err)
		return
	}
	text, _ := record.Notation(log)
	fmt.Println(text)
	fmt.Println(string(log.Rules().AppendCall(nil, log.State())))
	// Output:
	// sideout-doubles-11@2026 A: gA1B1 AABAB tA in A:net undo B
	// 2-2-2
}

// A format that has no id, as JSON.
func ExampleMarshalFormat() {
	f, _ := format.Parse("sideout-singles-11@2026")
	f.Shape, f.Game.Target, f.Last.Target = "", 9, 9
	f.Game.ChangeEndsAt, f.Last.ChangeEndsAt = 5, 5
	data, err := record.MarshalFormat(f)
	fmt.Println(string(data[:200]), err)
	back, err := record.UnmarshalFormat(data)
	fmt.Println(back == f, err)
	// Output:
	// {"shape":"","edition":"2026","game":{"sides":"singles","scorer":"server","servers":1,"first_turn":1,"order":"parity","target":9,"win_by":2,"cap":0,"freeze":"none","change_ends_at":5,"time_outs":2},"la <nil>
	// true <nil>
}

// An older record under a library that has corrected a reading since: the match goes by
// the rules that it was played under, and Today says what comes out by the new ones.
func ExampleRecord_Today() {
	rules := rally.MustCompile(mustFormat("sideout-doubles-11@2026+foul-value=award"))
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, e := range []string{"A", "A", "tfA"} {
		log.Enter(e)
	}
	var file bytes.Buffer
	_ = record.Write(&file, rally.Setup{}, log)
	// As it was written when that reading was the edition's own.
	old := older(strings.Replace(file.String(), "@2026+foul-value=award", "@2026", 1))

	rec, _ := record.Read(strings.NewReader(old))
	s := rec.Log.State()
	fmt.Println(rec.Changed[0].Reason)
	fmt.Println(s.Score(rally.A), s.Score(rally.B))
	_, from := rec.Today()
	fmt.Println("entry", from.Entry, from.Field, from.Was, from.Is)
	// Output:
	// "sideout-doubles-11@2026" means something else today: foul-value was award and is remove; the rules that were stored hold
	// 2 1
	// entry 3 score 2-1 1-0
}

func mustFormat(id string) format.Format {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	return f
}

// A phone that had no connection sends an hour later what was tapped; another device
// has been there first.
func ExampleMatch_Do() {
	rules := rally.MustCompile(mustFormat("sideout-doubles-11@2026"))
	match, _ := record.KeepFile(scratch(), rally.Setup{}, rally.NewLog(rules, rules.New(rally.A)))
	defer match.Close()
	tapped := time.Now().Add(-time.Hour).UnixMilli()
	for i, e := range []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B), rally.OfSide(rally.TimeOut, rally.A)} {
		_, err := match.Do(record.Request{N: i + 1, Entry: e.Entry(), Time: tapped + int64(i)*20_000})
		fmt.Println(e, err)
	}
	_, err := match.Do(record.Request{N: 3, Entry: rally.RallyTo(rally.A).Entry()})
	fmt.Println(err)
	match.Read(func(l *rally.Log) {
		from, _ := l.Time(1)
		to, _ := l.Time(3)
		fmt.Println(to-from, "ms between them")
	})
	// Output:
	// A <nil>
	// B <nil>
	// tA <nil>
	// record: n: is 3, but the next entry is number 4
	// 40000 ms between them
}

// Values with a text in a text column of a database.
func ExampleColumn() {
	stored, _ := record.Column[format.Format]{V: mustFormat("sideout-doubles-11@2026+target=13")}.Value()
	var back record.Column[format.Format]
	fmt.Println(stored, back.Scan(stored), back.V.Game.Target)
	// Output: sideout-doubles-11@2026+target=13 <nil> 13
}
