package exercise

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// made are the exercises of a course.
func made(n int, c Course) []Exercise { return New(c).Exercises(n) }

func levelOf(t testing.TB, name string) Level {
	l, ok := LevelNamed(name)
	require.True(t, ok, name)
	return l
}

// slow replays an exercise's events in the slow model, which shares nothing
// with the engine but the formats.
func slow(t testing.TB, p position) *reference.Match {
	f, err := format.Parse(p.id)
	if err != nil {
		t.Fatal(err)
	}
	m, err := reference.New(f, p.first.String(), [2]int{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range p.events {
		if _, refusal := m.Do(word); refusal != "" {
			t.Fatalf("%s refused: %s", word, refusal)
		}
	}
	return m
}

// fieldOf reads one field of a canonical line.
func fieldOf(line, name string) string {
	for _, f := range strings.Fields(line) {
		if v, ok := strings.CutPrefix(f, name+"="); ok {
			return v
		}
	}
	return ""
}

// TestKeysAgreeWithSlowModel is the proof of the answer keys: ten thousand
// exercises of every level's topics, from every edition, each key worked out a
// second time without the engine.
func TestKeysAgreeWithSlowModel(t *testing.T) {
	total := 10_000
	if testing.Short() {
		total = 1_000
	}
	counts := map[Topic]int{}
	asked := map[string]int{}  // of the two rarest topics
	right := map[string]bool{} // options that were right, of topics whose options are always the same
	editions := taught()
	for batch := 0; batch*100 < total; batch++ {
		e := editions[batch%len(editions)]
		exercises := made(100, Course{Level: levelOf(t, "whole-job"), Seed: uint64(batch), Edition: e})
		for i, x := range exercises {
			if want := keyOf(t, e, x); want != x.Key {
				t.Fatalf("edition %s, seed %d, exercise %d, %s: key %q, want %q\n%v\n%s", e, batch, i+1, x.Topic, x.Key, want, x.from.events, x.event)
			}
			counts[x.Topic]++
			if x.Topic == afterFouls || x.Topic == playsAlone {
				asked[string(x.Topic)+" "+x.Subject]++
			}
			right[fixedOptions(x)+x.Key] = true
			oneTrueOption(t, x)
			namesItsClause(t, x)
		}
	}
	for of, n := range map[string]int{"result": 3, "view": 4, "toss": 4, "opening": 2, "places": 4, "ends": 3, "lines": 3, "time-out": 4, "penalty": 4, "alone": 3, "sheet": 7, "fault": 4, "hand-over": 4} {
		for i := range n {
			require.True(t, right[of+strconv.Itoa(i+1)], "option %d of %s is never right", i+1, of)
		}
	}
	require.Len(t, asked, 5, "calls and places after a foul; of who is out: due, not due, the call")
	for _, topic := range topics {
		if counts[topic] == 0 {
			t.Errorf("no exercise of topic %s", topic)
		}
	}
	t.Logf("%d exercises: %v, %v", total, counts, asked)
}

// fixedOptions names the topic of an exercise that is asked with options.
func fixedOptions(x Exercise) string {
	if x.Options == nil {
		return ""
	}
	return string(x.Topic)
}

// taught are the editions that somebody has typed for the second model.
func taught() []format.Edition {
	return slices.DeleteFunc(format.Editions(format.Pickleball), func(e format.Edition) bool { return !reference.Taught(e) })
}

// keyOf works an exercise's key out a second time.
func keyOf(t *testing.T, e format.Edition, x Exercise) string {
	if x.Topic == inBook {
		return bookKey(t, e, x)
	}
	if x.Topic == reports {
		return reportKey(t, x)
	}
	m := slow(t, x.from)
	before := m.Line()
	switch x.Topic {
	case resultCall:
		did, _ := m.Do(x.event)
		for i, word := range []string{"side-out", "second-server", "point"} {
			if slices.Contains(did, word) {
				return strconv.Itoa(3 - i)
			}
		}
	case scoreCall:
		m.Do(x.event)
		return m.Call()
	case nextServer:
		m.Do(x.event)
		return serverKey(fieldOf(m.Line(), "serve"), x, 0)
	case rebuilding:
		serve := fieldOf(before, "serve")
		return serverKey(serve, x, 4*int(serve[0]-'A'))
	case fromPost:
		return viewKey(before, x.from.setup.Left)
	case mayAnswer:
		serving := x.about.asker == rally.Side(fieldOf(before, "serve")[0]-'A')
		return strconv.Itoa(int(answerIn(e, serving, x.about.question, x.about.right)))
	case whoCalls:
		if x.event != "" {
			m.Do(x.event)
			return m.Call()
		}
		return strconv.Itoa(callerOf(x.about))
	case firstDuty:
		return firstOf(t, x)
	case situation:
		return rulingKey(t, m, x)
	case firstChoice, firstServe, allFour, changeEnds, lineCalls, timeOuts, penalties, markSheet, afterFouls, playsAlone, takesOver:
		return matchKey(t, m, x)
	case wrongSheet:
		return strconv.Itoa(int(defectOf(t, x)) + 1)
	}
	return "none"
}

// serverKey is the option of a server such as "A2@L": two options a player,
// right before left, counted from those before the first one shown.
func serverKey(serve string, x Exercise, before int) string {
	players := 2
	if !x.from.doubles() {
		players = 1
	}
	n := 2*(players*int(serve[0]-'A')+int(serve[1]-'1')) + strings.IndexByte("RL", serve[3]) + 1
	return strconv.Itoa(n - before)
}

// viewKey works from a drawing: on the referee's left stands the side that
// began there unless ends have changed; a player facing the net has his right
// hand far from a referee on whose right he stands, near on the left.
func viewKey(line string, left rally.Side) string {
	serve := fieldOf(line, "serve")
	onLeft := (serve[:1] == left.String()) == (fieldOf(line, "ends")[0] == '0')
	right := serve[3] == 'R'
	switch {
	case onLeft && right:
		return "1"
	case onLeft:
		return "2"
	case right:
		return "4"
	}
	return "3"
}

// answerIn is what may be answered, from the table of editions: 2018 4.B.8,
// 2019 and 2020 4.B.10, 2022 4.B.8, mid-2023 4.B.9, 2026 5.C.
func answerIn(e format.Edition, asksServing bool, q referee.Question, right bool) referee.Response {
	switch {
	case q == referee.AskScore:
		return referee.ScoreOnly
	case e >= format.E2023Aug && !right:
		return referee.PutInOrder
	case e >= format.E2023Aug:
		return referee.Confirm
	case e == format.E2018 && asksServing && q == referee.AskServer:
		return referee.Confirm
	case e == format.E2018, e == format.E2019:
		return referee.Refuse
	case e == format.E2020, e == format.E2021:
		return referee.ScoreOnly
	}
	return referee.Confirm
}

// callerOf is the option of who calls a fault: the referee service foot faults and
// short serves; without one players call lines in their own court and most faults on
// themselves only, and either side service foot faults and those at the non-volley
// zone (line calls and faults in play without a referee, as read).
func callerOf(d detail) int {
	switch {
	case d.officiated:
		return 1
	case d.fault == rally.OutOfBounds:
		return 2
	case d.fault == rally.FootFault, d.fault == rally.VolleyZone:
		return 3
	}
	return 4
}

// trade is the order of duties by common practice: help; after a rally the
// word, the mark, and at a side-out score before people; before the call
// receiver, server, feet, call; at a break the paper, the clock, the paddles,
// notice, time in, a look at who comes back.
var trade = strings.Fields(`help safety qualified medical-answer await-dealt medical-clock.arrival note-stop note-medical medical-penalty
	check-order check-order.singles correct-nobody receiver-ready receiver-ready.singles server feet call
	say-result mark-turn-end withheld mark-point-server mark-point turn-record read-score set-marker set-court then-look marker-two rehearse
	say-time-out note-time-out last-time-out clock paddles notice say-time-in compare not-ready.penalty not-ready.ten-seconds not-ready.when-ready say-game say-end-change
	know-format check-court check-paddles brief ask-starters first-choice note-choice orient first-call`)

// Between games the final comes first, then the clock, ends, first serve and
// starting servers, time-outs, notice and time in; after the last point the
// result, the sheet, its return (officiating procedure and common practice).
var (
	tradeBetween = strings.Fields("write-final clock-games change-ends keep-ends next-first ask-first new-starters opening-point orient time-outs-coming time-outs-none notice say-time-in not-ready.penalty not-ready.ten-seconds not-ready.when-ready")
	tradeAtEnd   = strings.Fields("say-match write-final sign note-incidents final correctable carry return-sheet")
)

func firstOf(t *testing.T, x Exercise) string {
	t.Helper()
	order := trade
	switch x.from.state.Phase() {
	case rally.Between:
		order = tradeBetween
	case rally.Over:
		order = tradeAtEnd
	}
	first, at := len(order), 0
	for i, c := range x.about.duties {
		n := slices.Index(order, strings.TrimPrefix(string(c), "duty."))
		if n < 0 {
			t.Fatalf("no such duty: %s", c)
		}
		if n < first {
			first, at = n, i+1
		}
	}
	return strconv.Itoa(at)
}

// rulingKey has the slow model rule, and finds the option that as a plain rally
// leads where its ruling leads. The engine must lead there too.
func rulingKey(t *testing.T, m *reference.Match, x Exercise) string {
	event, err := rally.ParseEvent(x.event)
	if err != nil {
		t.Fatal(err)
	}
	ruled := m.Clone()
	if _, refusal := ruled.Do(x.event); refusal != "" {
		t.Fatalf("%s refused: %s", x.event, refusal)
	}
	want := standing(ruled.Line())
	next, _, _ := x.from.rules.Apply(x.from.state, event)
	if got := standing(x.from.rules.Line(next)); got != want {
		t.Fatalf("%s: %s, want %s", x.event, got, want)
	}
	serving := fieldOf(m.Line(), "serve")[:1]
	other := map[string]string{"A": "B", "B": "A"}[serving]
	key := ""
	for n, v := range x.about.offered {
		plain := m.Clone()
		plain.Do(map[referee.Verdict]string{referee.RallyStands: event.Side().String(), referee.RallyReplayed: "replay",
			referee.ServersFault: other, referee.ReceiversFault: serving}[v])
		if standing(plain.Line()) != want || v == referee.RallyStands && event.Kind() == rally.Stop {
			continue
		}
		if key != "" {
			t.Fatalf("%s: options %s and %d come to the same", x.event, key, n+1)
		}
		key = strconv.Itoa(n + 1)
	}
	return key
}

// standing is what of a line a ruling moves, without what it costs besides.
func standing(line string) string {
	out := ""
	for _, name := range []string{"score", "serve", "receive", "A", "B", "phase", "won"} {
		out += " " + name + "=" + fieldOf(line, name)
	}
	return out
}

// defectOf writes the sheet of the game from the slow model and says in what
// the sheet shown differs from it.
func defectOf(t *testing.T, x Exercise) defect {
	truth := slowMarks(t, x.from)
	shown := *x.sheet
	var times int
	most := map[rally.Side]int{}
	for _, turn := range shown.turns {
		for _, m := range turn.timeOuts {
			most[m.side]++
			times = max(times, most[m.side])
		}
	}
	switch {
	case len(shown.turns[0].servers) != 1:
		return openingDefect
	case len(shown.turns) != len(truth.turns):
		for i := 1; i < len(shown.turns); i++ {
			if shown.turns[i].side == shown.turns[i-1].side {
				return turnDefect
			}
		}
	case times > 2:
		return breakDefect
	case fmt.Sprint(shown.turns) != fmt.Sprint(truth.turns):
		return pointDefect
	case shown.call != truth.call:
		return callDefect
	case shown.server != truth.server:
		return serverDefect
	case fmt.Sprint(shown) == fmt.Sprint(truth):
		return noDefect
	}
	t.Fatalf("shown %v\ntruth %v", shown, truth)
	return 0
}

func slowMarks(t *testing.T, p position) sheet {
	var sh sheet
	f, _ := format.Parse(p.id)
	m, err := reference.New(f, p.first.String(), [2]int{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range p.events {
		did, _ := m.Do(word)
		serve := fieldOf(m.Line(), "serve")
		server := rally.Person(2*(serve[0]-'A') + serve[1] - '1')
		side := server.Side()
		if slices.Contains(did, "game-started") || slices.Contains(did, "side-out") {
			if slices.Contains(did, "game-started") {
				start := fieldOf(m.Line(), "start")
				sh = sheet{starters: rally.Starters{rally.Person(start[1] - '1'), 2 + rally.Person(start[3]-'1')}}
			}
			sh.turns = append(sh.turns, turn{side: side, servers: []int{int(serve[5] - '0')}, points: [][]int{nil}})
			sh.server = server
		}
		last := &sh.turns[len(sh.turns)-1]
		switch {
		case slices.Contains(did, "second-server"):
			last.servers, last.points = append(last.servers, 2), append(last.points, nil)
		case slices.Contains(did, "point"):
			points := strings.Split(fieldOf(m.Line(), "score"), "-")
			n, _ := strconv.Atoi(points[side])
			last.points[len(last.points)-1] = append(last.points[len(last.points)-1], n)
		case slices.Contains(did, "time-out-charged"):
			last.timeOuts = append(last.timeOuts, marked{rally.Side(word[1] - 'A'), m.Call()})
		}
	}
	sh.call = m.Call()
	return sh
}

// matchKey works out what a match makes of it, with the slow model.
func matchKey(t *testing.T, m *reference.Match, x Exercise) string {
	line := m.Line()
	did, refusal := []string(nil), ""
	if x.Topic == playsAlone && x.Options != nil { // an ordinary rally is only played if nobody who is out is due
		if _, refusal := m.Do("A"); refusal != "absent-due" {
			return "1"
		}
		for i, winner := range []string{"B", "A"} { // the fault of A, of B
			if _, refusal := m.Do(winner + ":absent"); refusal == "" {
				return strconv.Itoa(i + 2)
			}
		}
		return "none"
	}
	if x.Topic == changeEnds {
		return endsKey(m, x.event)
	}
	if x.event != "" && x.Topic != firstChoice {
		did, refusal = m.Do(x.event)
	}
	switch x.Topic {
	case firstChoice: // who takes an end leaves serve or receive, who defers leaves all
		side := 1 - int(x.event[2]-'A')
		all := map[bool]int{true: 1, false: 0}[strings.HasSuffix(x.event, "defer")]
		return strconv.Itoa(2*side + all + 1)
	case firstServe: // the first serve alternates from game to game
		return strconv.Itoa(1 + (int(x.from.first)+x.about.game-1)%2)
	case allFour, afterFouls, playsAlone:
		if x.Options == nil {
			return m.Call()
		}
		n := 0
		for i, side := range []string{"A", "B"} {
			if fieldOf(m.Line(), side)[0] == '2' {
				n |= 1 << i
			}
		}
		return strconv.Itoa(n + 1)
	case lineCalls:
		if x.about.right { // it was appealed
			return "3"
		}
		return strconv.Itoa(int(x.about.asker) + 1)
	case timeOuts:
		left := 0 // how many more are granted
		for refusal == "" {
			m.Do("in")
			_, refusal = m.Do(x.event)
			left++
		}
		return []string{"4", "3", "2", "1"}[left]
	case penalties:
		for i, effect := range []string{"match-forfeit", "game-forfeit", "foul", "warning"} {
			if slices.Contains(did, effect) {
				return strconv.Itoa(i + 1)
			}
		}
	case takesOver:
		of := func(field string) int {
			n, err := strconv.Atoi(strings.Split(fieldOf(line, field), ":")[x.about.asker])
			require.NoError(t, err)
			return n
		}
		if x.Subject == "time-outs" {
			return strconv.Itoa(1 + of("timeouts"))
		}
		return strconv.Itoa(1 + of("vw") + 2*of("tw"))
	case markSheet:
		sh := slowMarks(t, x.from)
		return sh.row(x.about.asker)
	}
	return "none"
}

// endsKey plays on until ends are to change or the game is over: now, later in
// the game, or not any more.
func endsKey(m *reference.Match, event string) string {
	before := fieldOf(m.Line(), "ends")
	if did, _ := m.Do(event); slices.Contains(did, "ends-due") {
		return "1"
	}
	game := fieldOf(m.Line(), "game")
	for fieldOf(m.Line(), "game") == game && fieldOf(m.Line(), "phase") == "play" && fieldOf(m.Line(), "ends") == before {
		if did, _ := m.Do(fieldOf(m.Line(), "serve")[:1]); slices.Contains(did, "ends-due") {
			return "2"
		}
	}
	return "3"
}

// typed is the answers of the editions as they were typed a second time, from
// the published rules, beside the slow model.
var typed = func() map[string]string {
	data, err := os.ReadFile("../../../conformance/reference/editions.txt")
	if err != nil {
		panic(err)
	}
	out := map[string]string{}
	name := ""
	for line := range strings.Lines(string(data)) {
		fields := strings.Fields(line)
		switch {
		case len(fields) == 0 || line[0] == '#':
		case line[0] != ' ':
			name = fields[0]
		default:
			from, to, span := strings.Cut(fields[0], "..")
			if !span {
				to = from
			}
			in := false
			for _, e := range format.Editions(format.Pickleball) {
				in = in || e.String() == from
				if in {
					out[name+"@"+e.String()] = fields[1]
				}
				if e.String() == to {
					break
				}
			}
		}
	}
	return out
}()

// bookKey is the option of the answer that was typed a second time; of a clause
// that is new or gone, the only option that stands in one of the editions alone.
func bookKey(t *testing.T, e format.Edition, x Exercise) string {
	if x.about.clauses != nil {
		for i, c := range x.about.clauses {
			if c.In(e) != c.In(x.about.since) {
				return strconv.Itoa(i + 1)
			}
		}
		return "none"
	}
	want, ok := typed[x.about.matter.String()+"@"+e.String()]
	if !ok {
		t.Fatalf("%s in %s was not typed", x.about.matter, e)
	}
	r := format.RulingsOf(e)
	if err := r.SetText(x.about.matter, want); err != nil {
		t.Fatal(err)
	}
	for _, m := range matters {
		if m.of != x.about.matter {
			continue
		}
		right := words.For(r.Clause(m.of))
		if n, err := strconv.Atoi(want); err == nil {
			right = m.amount(n)
		}
		for i, option := range x.Options {
			if option.Equal(right) {
				return strconv.Itoa(i + 1)
			}
		}
	}
	return "none"
}

// oneTrueOption fails if two options say the same, or come to the same.
func oneTrueOption(t *testing.T, x Exercise) {
	seen := map[string]bool{}
	for _, option := range x.Options {
		said := words.English().Say(option)
		if option.Code[:6] == "drill." {
			said = fmt.Sprint(option)
		}
		if seen[said] {
			t.Fatalf("%s: two options are %s", x.Topic, said)
		}
		seen[said] = true
	}
	if n, err := strconv.Atoi(x.Key); len(x.Options) > 0 && (err != nil || n < 1 || n > len(x.Options)) {
		t.Fatalf("%s: key %q of %d", x.Topic, x.Key, len(x.Options))
	}
	if x.Topic != situation {
		return
	}
	// Entered as plain rallies the verdicts on offer lead to different matches.
	event, _ := rally.ParseEvent(x.event)
	lines := map[string]bool{}
	for _, v := range x.about.offered {
		e := map[referee.Verdict]rally.Event{referee.RallyReplayed: rally.EventOf(rally.Replay), referee.ServersFault: rally.RallyTo(x.from.serving().Other()),
			referee.ReceiversFault: rally.RallyTo(x.from.serving())}[v]
		if v == referee.RallyStands {
			if event.Kind() == rally.Stop {
				continue // it was not played
			}
			e = rally.RallyTo(event.Side())
		}
		next, _, _ := x.from.rules.Apply(x.from.state, e)
		line := x.from.rules.Line(next)
		if lines[line] {
			t.Fatalf("%s: two options come to %s", x.event, line)
		}
		lines[line] = true
	}
}

// namesItsClause fails if the reason of an exercise does not say where it stands,
// or, of a ruling, says another clause than the one that decided.
func namesItsClause(t *testing.T, x Exercise) {
	cited := slices.ContainsFunc(x.Reason, func(r words.Text) bool {
		return r.Code == "drill.clause" || r.Code == "drill.cite-rule" || r.Code == "drill.cite-edition"
	})
	if !cited {
		t.Fatalf("%s: no clause in %v", x.Topic, x.Reason)
	}
	if e, err := rally.ParseEvent(x.event); err == nil && x.Topic == situation && x.about.verdicts[0] == 0 {
		_, _, _, by := x.from.rules.Decide(x.from.state, e)
		if want := words.For(by.First()); !x.Reason[0].Equal(want) {
			t.Fatalf("%s: %v decided, not %v", x.event, want, x.Reason[0])
		}
	}
}

// reportKey is the option with the scores that the slow model reports.
func reportKey(t *testing.T, x Exercise) string {
	f, err := format.Parse(x.from.id)
	if err != nil {
		t.Fatal(err)
	}
	m, err := reference.New(f, x.from.first.String(), [2]int{1, 1})
	if err != nil {
		t.Fatal(err)
	}
	l := reference.NewLog(m)
	for _, word := range append(slices.Clone(x.from.events), x.event) {
		if _, refusal := l.Do(word); refusal != "" {
			t.Fatal(word, refusal)
		}
	}
	want := strings.Join(l.Report(), ", ")
	for i, option := range x.Options {
		if words.English().Say(words.New("changed.typed", words.Name("entry", want))) == said(option) {
			return strconv.Itoa(i + 1)
		}
	}
	return "none"
}

// said is a row of scores in an option.
func said(option words.Text) string {
	var out []string
	list, _ := option.Args.Of("games").(words.List)
	for _, text := range list {
		score := text.Args.Score("score")
		out = append(out, fmt.Sprintf("%d-%d", score[0], score[1]))
	}
	return strings.Join(out, ", ")
}
