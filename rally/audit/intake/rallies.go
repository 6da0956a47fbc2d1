package intake

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/internal/moment"
	"github.com/evencourt/evencourt/rally/words"
)

// rallyColumns are what the columns of a table with a row a rally hold, by the
// words of their headers. Those of a match may stand in its first row only.
var rallyColumns = func() map[string]Meaning {
	out := map[string]Meaning{}
	for m, list := range map[Meaning]string{
		"match": "match|match id|matchid|id", "format": "format", "first": "first|first serve|served first", "starters": "starters|starting servers", "finals": "finals|final|final score",
		"a1": "a 1|player a 1|home 1", "a2": "a 2|player a 2|home 2", "b1": "b 1|player b 1|away 1", "b2": "b 2|player b 2|away 2",
		"a1_name": "a 1 name", "a2_name": "a 2 name", "b1_name": "b 1 name", "b2_name": "b 2 name",
		"game": "game|set|game no|game number|set no|set number", "n": "n|rally|rally no|rally number|rally id|point no|point number|row|row number|no|number",
		"ms": "ms|time|elapsed|elapsed ms|time ms|timestamp|clock", "winner": "winner|rally winner|won by|point to|point for|point winner|winning side|winning team",
		"event": "event", "undo": "undo|undone|deleted", "serving": "serving|serving side|serving team|side serving", "server": "server|serve|served by|serving player",
		"receiver": "receiver|receive|returner|received by|receiving player", "call": "call|score call|called|score called",
		"score": "score|score after|score after rally|result", "score_a": "score a|a score|points a|a points|home score|home points|score home|team 1 score|score 1",
		"score_b": "score b|b score|points b|b points|away score|away points|score away|team 2 score|score 2",
	} {
		for name := range strings.SplitSeq(list, "|") {
			out[name] = m
		}
	}
	return out
}()

// tellsRallies are columns that only a table of rallies has.
var tellsRallies = []Meaning{"serving", "server", "receiver", "call", "undo", "starters", "first"}

// rallyHeader says what the columns of a table of rallies hold; false for a
// table of anything else.
func (t *Reader) rallyHeader(header []string) (means []Meaning, ok bool) {
	said, numbered := 0, false
	means = make([]Meaning, len(header))
	for i, h := range header {
		m, mapped := t.options.Mapping.of(h)
		name := strings.Join(wordsOf(h), " ")
		if !mapped {
			m = rallyColumns[name]
		}
		if means[i] = passedOver; m != "" && !slices.Contains(means[:i], m) {
			means[i] = m
		}
		ok = ok || slices.Contains(tellsRallies, m)
		numbered = numbered || m == "n" && strings.HasPrefix(name, "rally")
		switch m {
		case "winner", "serving", "server", "score", "score_a", "call", "event":
			said++
		}
	}
	return means, said > 0 && (ok || numbered || t.options.Rallies)
}

// Rallies reports whether the table has a row a rally, so that [Reader.Logs] reads
// it.
func (t *Reader) Rallies() bool { return t.rallies }

// mostRallies is how many rows a table of rallies can have.
const mostRallies = 200_000

// Logs reads a table of rallies whole: the log of every match, in the order in
// which they begin, and what is known of each match. A cell that cannot be read
// is a finding and costs only what it holds.
func (t *Reader) Logs(at audit.Place) (logs []*audit.RallyLog, matches []*audit.ReportedMatch, out []audit.Finding, err error) {
	known, rules := map[string]int{}, map[string]*rally.Rules{}
	for n := 0; ; n++ {
		if err := t.Next(); err == io.EOF {
			return logs, matches, out, nil
		} else if err != nil {
			return nil, nil, nil, err
		}
		if n == mostRallies {
			return nil, nil, nil, &audit.InputError{Line: t.row, Reason: "more than " + strconv.Itoa(mostRallies) + " rallies in one table"}
		}
		r := rallyRow{table: t, at: at, rules: rules}
		r.at.Line = t.row
		id := r.cell("match")
		i, begun := known[id]
		if !begun {
			i = len(logs)
			known[strings.Clone(id)] = i
			l, m := r.match(id)
			logs, matches = append(logs, l), append(matches, m)
		}
		r.log, r.of = logs[i], matches[i]
		if n := t.layout.width; t.Comma != 0 && len(t.raw) < n || slices.ContainsFunc(t.raw[min(len(t.raw), n):], func(c string) bool { return strings.TrimSpace(c) != "" }) {
			r.found = append(r.found, audit.NewFinding("row-unreadable", r.at, words.Within("reason", words.New("reason.fields", words.Count("want", n), words.Count("have", len(t.raw))))))
		}
		row := r.read()
		if r.log.Rules != nil && len(r.log.Rows) <= audit.MostRows {
			r.log.Rows = append(r.log.Rows, row)
		}
		out = append(out, r.found...)
	}
}

// rallyRow is a row that is being read.
type rallyRow struct {
	table *Reader
	at    audit.Place
	rules map[string]*rally.Rules // by format
	log   *audit.RallyLog
	of    *audit.ReportedMatch
	found []audit.Finding
}

// cell returns what a column holds; "" where there is none.
func (r *rallyRow) cell(m Meaning) string {
	if i := slices.Index(r.table.layout.means, m); i >= 0 && i < len(r.table.raw) {
		return trimmed(r.table.raw[i])
	}
	return ""
}

// wrong notes a cell that cannot be read.
func (r *rallyRow) wrong(m Meaning, want words.Code) {
	at := r.at
	at.Field = string(m)
	r.found = append(r.found, audit.NewFinding("field-unreadable", at, words.Name("read", quote(r.cell(m))), words.Within("want", words.New(want)), words.Word("taken", "taken.ignored")))
}

// match begins a log with what its first row says of the match.
func (r *rallyRow) match(id string) (*audit.RallyLog, *audit.ReportedMatch) {
	m := &audit.ReportedMatch{ID: strings.Clone(id), Format: r.table.options.Format}
	for i, column := range []Meaning{"a1", "a2", "b1", "b2"} {
		e := &m.Sides[i>>1]
		e.Players[i&1], e.Names[i&1] = strings.Clone(r.cell(column)), strings.Clone(r.cell(column+"_name"))
	}
	r.of, r.at.Match = m, m.ID
	l := &audit.RallyLog{Match: m.ID, First: r.who("first")}
	if text := r.cell("format"); text != "" {
		m.Format = strings.Clone(text)
	}
	if l.Rules = r.rulesOf(m.Format); l.Rules == nil {
		at := r.at
		at.Field = "format"
		r.found = append(r.found, audit.NewFinding("format-unknown", at, words.Name("format", m.Format)))
	}
	if text := r.cell("starters"); text != "" {
		if e, err := rally.ParseEvent("g" + strings.NewReplacer(" ", "", "/", "", "+", "").Replace(text)); err == nil && e.Kind() == rally.StartGame {
			st := e.Starters()
			l.Starters = &st
		} else {
			r.wrong("starters", "want.starters")
		}
	}
	if text := r.cell("finals"); text != "" {
		if scores, ok := readResult(text); ok && !scores.ended {
			l.Finals = scores.games
		} else {
			r.wrong("finals", "want.scores")
		}
	}
	return l, m
}

// rulesOf are the rules of a format; nil if there are none.
func (r *rallyRow) rulesOf(id string) *rally.Rules {
	rules, known := r.rules[id]
	if !known {
		if shape, err := format.Parse(id); err == nil {
			rules, _ = rally.Compile(shape) // nil for what cannot be played
		}
		r.rules[id] = rules
	}
	return rules
}

// read reads what the row says of its rally.
func (r *rallyRow) read() audit.Row {
	row := audit.Row{Line: r.at.Line, Game: r.number("game", 9), N: r.number("n", 1<<20-1), Elapsed: r.elapsed(), Serving: r.who("serving"),
		Server: r.player("server"), Receiver: r.player("receiver"), Score: r.score(), Call: r.call()}
	if row.Server == audit.Unknown && r.cell("server") != "" {
		if side := r.who("server"); row.Serving == audit.Nobody {
			row.Serving = side // only the side is told
		}
	}
	if text := strings.ToLower(r.cell("undo")); text != "" && text != "false" && text != "0" && text != "no" && text != "n" {
		row.Undo = true
		return row
	}
	if text := r.cell("event"); text != "" {
		e, err := rally.ParseEvent(text)
		if err != nil || e.Kind() >= rally.Undo {
			r.wrong("event", "want.event")
		} else {
			row.Event = e
		}
	}
	if side, ok := r.who("winner").Side(); ok && row.Event == 0 {
		row.Event = rally.RallyTo(side)
	}
	return row
}

// who reads a cell that names a side.
func (r *rallyRow) who(m Meaning) audit.MaybeSide {
	text := r.cell(m)
	if text == "" {
		return audit.Nobody
	}
	var sides [2][]string
	for s := range sides {
		for _, e := range [][2]string{r.of.Sides[s].Players, r.of.Sides[s].Names} {
			for _, name := range e {
				if isName(name) {
					sides[s] = append(sides[s], name)
				}
			}
		}
	}
	w := r.table.readWho(text, &sides)
	if p := r.person(text); p != audit.Unknown && w == audit.Nobody {
		who, _ := p.Person()
		w = audit.KnownSide(who.Side())
	}
	if w == audit.Nobody {
		r.wrong(m, "want.side")
	}
	return w
}

// person reads a player, by place in the match or by name.
func (r *rallyRow) person(text string) audit.MaybePerson {
	var p rally.Person
	if p.UnmarshalText([]byte(strings.ToUpper(text))) == nil {
		return audit.KnownPerson(p)
	}
	folded, found := fold(text), audit.Unknown
	for i := range rally.Person(4) {
		e := &r.of.Sides[i.Side()]
		if folded == fold(e.Players[i&1]) || folded == fold(e.Names[i&1]) {
			if found != audit.Unknown {
				return audit.Unknown // two of one name
			}
			found = audit.KnownPerson(i)
		}
	}
	return found
}

func (r *rallyRow) player(m Meaning) audit.MaybePerson {
	text := r.cell(m)
	if text == "" {
		return audit.Unknown
	}
	p := r.person(text)
	if p == audit.Unknown && m == "receiver" { // a server may be told by side
		r.wrong(m, "want.player")
	}
	return p
}

func (r *rallyRow) number(m Meaning, most int) int {
	text := r.cell(m)
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > most {
		r.wrong(m, "want.number")
		return 0
	}
	return n
}

// elapsed reads a time: a number, 1:02:03, or a moment with its date.
func (r *rallyRow) elapsed() int64 {
	text := r.cell("ms")
	if text == "" {
		return 0
	}
	ms, ok := moment.Read(text)
	if !ok {
		r.wrong("ms", "want.time")
	}
	return ms
}

func (r *rallyRow) score() *audit.Score {
	text, m := r.cell("score"), Meaning("score")
	if a, b := r.cell("score_a"), r.cell("score_b"); text == "" && (a != "" || b != "") {
		text, m = a+"-"+b, "score_a"
	}
	if text == "" {
		return nil
	}
	got, ok := readResult(text)
	if !ok || len(got.games) != 1 || got.ended {
		r.wrong(m, "want.scores")
		return nil
	}
	return &got.games[0]
}

func (r *rallyRow) call() *audit.CalledScore {
	text := r.cell("call")
	if text == "" {
		return nil
	}
	var n [3]int
	parts := strings.FieldsFunc(text, func(c rune) bool { return c == '-' || c == ' ' || c == ',' || c == ':' || c == '/' })
	ok := len(parts) == 2 || len(parts) == 3
	for i := 0; ok && i < len(parts); i++ {
		v, err := strconv.ParseUint(parts[i], 10, 8)
		n[i], ok = int(v), err == nil
	}
	if !ok || len(parts) == 3 && (n[2] < 1 || n[2] > 2) {
		r.wrong("call", "want.call")
		return nil
	}
	return &audit.CalledScore{Serving: n[0], Receiving: n[1], Number: n[2]}
}
