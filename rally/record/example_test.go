package record_test

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

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
