package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
)

// layout says which column holds what.
type layout struct {
	header  []string
	means   []Meaning // of each column
	width   int
	plain   bool // every name is a documented one: rows are read as they stand
	winners bool // A is the side that won
	sources []source
	unsure  []UnknownColumn // passed over, and nobody knows what they are
	refused []int           // columns for which the table is refused
	at      map[Meaning]int

	winner, by, status, won, date int // of the sources
}

// source says from where a cell of a documented column comes.
type source struct {
	name string // documented
	from int    // column; -1 for none
	also int    // the column of side B, where two make one cell; -1 for none
	op   operation

	names int // 1 for what names side A, 2 for side B
}

type operation uint8

const (
	opText operation = iota
	opFirst
	opSecond
	opDate
	opWho
	opStatus
	opFormat
	opGame
	opGames
	opBoth // two columns of numbers make a score
)

// layOut finds what each column holds. The error is a [*ColumnError] or an
// [*audit.InputError].
func (t *Reader) layOut(header []string) error {
	l := &t.layout
	for len(header) > 1 && strings.TrimSpace(header[len(header)-1]) == "" && t.emptyColumn(len(header)-1) {
		header = header[:len(header)-1]
	}
	l.header, l.width = header, len(header)
	l.means = make([]Meaning, len(header))
	guess := make([]bool, len(header)) // not said by name or mapping, but known as another word
	losers := false
	for i, h := range header {
		if m, ok := t.options.Mapping.of(h); ok {
			l.means[i] = m
			continue
		}
		m, ok := meaningOf(h)
		if !ok {
			continue
		}
		l.means[i], guess[i] = m, known[strings.Join(wordsOf(h), " ")] == ""
		for _, w := range wordsOf(h) {
			losers = losers || vocabulary[w] == aLoser
		}
	}
	t.resolve(guess, losers)
	if err := t.check(guess); err != nil {
		return err
	}
	l.at = map[Meaning]int{}
	for i, m := range l.means {
		if m != passedOver && m != "" {
			l.at[m] = i
		}
	}
	return t.bind(guess)
}

// emptyColumn reports whether no row that was looked at has anything there.
func (t *Reader) emptyColumn(i int) bool {
	return !slices.ContainsFunc(t.ahead, func(r aheadRow) bool { return i < len(r.cells) && strings.TrimSpace(r.cells[i]) != "" })
}

// cellsOf returns what a column holds in the rows that were looked at.
func (t *Reader) cellsOf(i int) []string {
	var out []string
	for _, r := range t.ahead {
		if i < len(r.cells) && len(r.cells) > 1 {
			if c := trimmed(r.cells[i]); c != "" {
				out = append(out, c)
			}
		}
	}
	return out
}

// most reports whether more than half of some cells are so; false for none.
func most(cells []string, is func(string) bool) bool {
	n := 0
	for _, c := range cells {
		if is(c) {
			n++
		}
	}
	return 2*n > len(cells)
}

// resolve settles what hangs on the other columns and on what stands in them.
func (t *Reader) resolve(guess []bool, losers bool) {
	l := &t.layout
	has := func(m Meaning) bool { return slices.Contains(l.means, m) }
	four := has("player3") || has("player4")
	games := slices.ContainsFunc(l.means, func(m Meaning) bool { return m == "games" || strings.HasPrefix(string(m), "game1") })
	for i, m := range l.means {
		switch {
		case m == sideA && !losers && slices.ContainsFunc(wordsOf(l.header[i]), func(w string) bool { return vocabulary[w] == aWinner }):
			l.means[i] = "winner"
		case strings.HasPrefix(string(m), "player"):
			l.means[i] = map[bool]map[Meaning]Meaning{true: {"player1": "a1", "player2": "a2", "player3": "b1", "player4": "b2"}, false: {"player1": "a1", "player2": "b1"}}[four][m]
		case m == pointsA || m == pointsB:
			// Games won, or the points of a single game.
			wins := games || most(t.cellsOf(i), func(c string) bool { n, err := strconv.Atoi(c); return err == nil && n <= 3 })
			l.means[i] = map[bool]map[Meaning]Meaning{true: {pointsA: wonA, pointsB: wonB}, false: {pointsA: "game1_a", pointsB: "game1_b"}}[wins][m]
		case (m == "games" || m == "won") && guess[i]:
			cells := t.cellsOf(i)
			scored := most(cells, func(c string) bool { r, ok := readResult(c); return ok && len(r.games) > 0 })
			if !scored && most(cells, func(c string) bool { _, _, ok := t.readStatus(c); return ok }) {
				l.means[i] = "status"
			} else if m == "games" && games && slices.ContainsFunc(l.means, func(m Meaning) bool { return m == "game1" || m == "game1_a" }) {
				l.means[i] = "won" // the games stand in columns of their own
			}
		case m == "format" && guess[i] && most(t.cellsOf(i), func(c string) bool { _, _, ok := t.readStatus(c); return ok }):
			l.means[i] = "status"
		}
	}
	l.winners = losers
	if losers && has("winner") {
		for i, m := range l.means {
			if m == "winner" {
				l.means[i] = sideA
			}
		}
	}
	for _, side := range []string{"a", "b"} {
		// Names stand for ids where there are no ids.
		for _, n := range []string{"1", "2"} {
			id, name := Meaning(side+n), Meaning(side+n+"_name")
			if i := slices.Index(l.means, name); i >= 0 && !has(id) && guess[i] {
				l.means[i] = id
			}
		}
		whole := Meaning("side_" + side)
		for i, m := range l.means {
			if m != whole {
				continue
			}
			switch {
			case has(Meaning(side + "1")):
				l.means[i] = Meaning("team_" + side)
			case most(t.cellsOf(i), func(c string) bool { _, _, pair := splitPair(c); return pair }):
			case strings.Contains(t.options.Format, "singles"):
				l.means[i] = Meaning(side + "1")
			default:
				l.means[i] = Meaning("team_" + side)
			}
		}
	}
}

// check refuses what may hold results and is not known, and columns that mean
// the same.
func (t *Reader) check(guess []bool) error {
	l := &t.layout
	first := map[Meaning]int{}
	var twice, unknown []UnknownColumn
	for i, m := range l.means {
		if m == passedOver {
			continue
		}
		if m == "" {
			scores := most(t.cellsOf(i), func(c string) bool { r, ok := readResult(c); return ok && len(r.games) > 0 })
			u := UnknownColumn{l.header[i], nearest(l.header[i])}
			if scores || u.Nearest != "" {
				unknown = append(unknown, u)
				l.refused = append(l.refused, i)
			} else {
				l.unsure = append(l.unsure, u)
			}
			l.means[i] = passedOver
			continue
		}
		k, again := first[m]
		switch {
		case !again:
			first[m] = i
		case strings.HasPrefix(string(m), "game") || m == "winner":
			twice = append(twice, UnknownColumn{l.header[i], string(m)})
			l.refused = append(l.refused, i)
		case guess[i] && !guess[k]:
			l.means[i] = passedOver
			l.unsure = append(l.unsure, UnknownColumn{l.header[i], string(m)})
		case guess[k] && !guess[i]:
			l.means[k] = passedOver
			l.unsure = append(l.unsure, UnknownColumn{l.header[k], string(m)})
			first[m] = i
		case m == "event" || m == "date" || m == "match" || m == "round":
			l.means[i] = passedOver
			l.unsure = append(l.unsure, UnknownColumn{l.header[i], string(m)})
		default:
			twice = append(twice, UnknownColumn{l.header[i], string(m)})
			l.refused = append(l.refused, i)
		}
	}
	switch {
	case len(unknown) > 0:
		return &ColumnError{t.Header, "unknown columns that may hold results", unknown}
	case len(twice) > 0:
		return &ColumnError{t.Header, "columns that mean what another one means", twice}
	}
	return nil
}

// bind says for every documented column from where its cells come.
func (t *Reader) bind(guess []bool) error {
	l := &t.layout
	var names []string
	for _, name := range audit.ColumnNames() {
		if s := l.source(name); s.from >= 0 || slices.Contains(always, name) {
			l.sources, names = append(l.sources, s), append(names, name)
		}
	}
	at := func(name string) int { return slices.Index(names, name) }
	l.winner, l.by, l.status, l.won, l.date = at("winner"), at("by"), at("status"), at("won"), at("date")
	columns, err := audit.ReadHeader(names)
	if err != nil {
		return err
	}
	// Something must hold results: status and won are there in any case.
	results := l.has("status") || l.has("won") || l.has(wonA)
	for _, s := range l.sources {
		results = results || s.from >= 0 && (s.op == opGame || s.op == opGames) || strings.HasPrefix(s.name, "game")
	}
	if !results {
		return &ColumnError{Row: t.Header, Reason: "no column of scores: want one such as games, game 1, or points of each side"}
	}
	t.read.Columns = columns
	t.cells = make([]string, len(names))
	plain := !l.winners
	documented := make([]string, len(l.header))
	for i, m := range l.means {
		if m != passedOver {
			documented[i] = string(m)
			plain = plain && !guess[i] && slices.Contains(audit.ColumnNames(), string(m))
		}
	}
	if plain {
		t.plain.Columns, err = audit.ReadHeader(documented)
		l.plain = err == nil
	}
	return nil
}

// always are the columns that a row has even where its table has not: cells of others
// may say what they hold.
var always = []string{"winner", "by", "status", "won", "date"}

// source finds from where the cells of a documented column come.
func (l *layout) source(name string) source {
	m, op, also, names := Meaning(name), opText, -1, 0
	switch strings.TrimRight(strings.TrimSuffix(name, "_name"), "123456789") {
	case "date":
		op = opDate
	case "format":
		op = opFormat
	case "winner", "by":
		op = opWho
	case "status":
		op = opStatus
	case "games":
		op = opGames
	case "totals", "time_outs", "game":
		op = opGame
	case "won":
		op = opGame
		if b, ok := l.at[wonB]; ok && !l.has(m) && l.has(wonA) {
			m, op, also = wonA, opBoth, b
		}
	case "a", "team_a":
		names = 1
	case "b", "team_b":
		names = 2
	}
	if whole := Meaning("side_" + name[:1]); names > 0 && len(name) == len("a1") && l.has(whole) {
		if m, op = whole, opFirst; name[1] == '2' {
			op, names = opSecond, 0 // the same cell
		}
	}
	from, ok := l.at[m]
	if !ok {
		from = -1
	}
	return source{name, from, also, op, names}
}

func (l *layout) has(m Meaning) bool { _, ok := l.at[m]; return ok }

// settle finds what has to be the same for all rows.
func (t *Reader) settle() {
	l := &t.layout
	if dates := t.dateCells(); len(dates) > 0 {
		var open bool
		t.order, open, t.orderTold = orderOf(dates)
		if open && !t.orderTold && t.options.DayFirst != nil {
			t.order, t.orderTold = dayFirst, true
			if !*t.options.DayFirst {
				t.order = monthFirst
			}
		}
		t.dates = t.dateWords(dates)
	}
	for _, m := range []Meaning{"winner", "by"} {
		if i, ok := l.at[m]; ok {
			t.homeLetters = t.homeLetters || slices.ContainsFunc(t.cellsOf(i), func(c string) bool { return strings.EqualFold(c, "h") })
		}
	}
	if l.has("winner") && !l.winners {
		t.winnerFirst = t.findWinnerFirst()
		if t.winnerFirst || t.homeLetters {
			l.plain = false
		}
	}
}

// dateCells are the dates of the rows that were looked at, or where no column holds
// them those that stand beside scores.
func (t *Reader) dateCells() []string {
	if i, ok := t.layout.at["date"]; ok {
		return t.cellsOf(i)
	}
	var out []string
	if i, ok := t.layout.at["games"]; ok {
		for _, cell := range t.cellsOf(i) {
			if r := readCell(cell); r.date != "" {
				out = append(out, r.date)
			}
		}
	}
	return out
}

// findWinnerFirst reports whether the score of whoever won stands first: then
// the games contradict the winner in the rows that B won, and in no other.
func (t *Reader) findWinnerFirst() bool {
	against, with := [3]int{}, [3]int{}
	saved := t.layout.plain
	for _, r := range t.ahead {
		if len(r.cells) != t.layout.width {
			continue
		}
		m, ok, found := t.read.Read(t.translated(r.cells), audit.Place{}, nil)
		if !ok || len(found) > 0 || m.Winner == audit.Nobody || m.Status != audit.Played {
			continue
		}
		switch won := m.GamesWon(); {
		case won[0] == won[1]:
		case (won[0] > won[1]) == (m.Winner == audit.SideA):
			with[m.Winner]++
		default:
			against[m.Winner]++
		}
	}
	t.layout.plain = saved
	return against[audit.SideB] >= 3 && against[audit.SideB] >= 5*with[audit.SideB] && 10*against[audit.SideA] <= with[audit.SideA]
}

// translated writes a row as the documented columns have it. What cannot be
// read stays as it is, so that the reader of rows says so.
func (t *Reader) translated(raw []string) []string {
	l := &t.layout
	t.sides[0], t.sides[1] = t.sides[0][:0], t.sides[1][:0]
	for i := range l.sources {
		if s := &l.sources[i]; s.names > 0 && isName(raw[s.from]) {
			t.sides[s.names-1] = append(t.sides[s.names-1], raw[s.from])
		}
	}
	var said said
	for i := range l.sources {
		t.cells[i] = ""
		if s := &l.sources[i]; s.from >= 0 {
			t.cells[i] = t.translate(s, raw, &said)
		}
	}
	t.conclude(&said)
	return t.cells
}

// said is what cells of a row say beside what their columns hold.
type said struct {
	scores     result // of cells of scores, but for the scores
	by, winner audit.MaybeSide
	partner    string // of the player before
}

// translate writes the cell of a source.
func (t *Reader) translate(s *source, raw []string, said *said) string {
	if s.op == opSecond {
		return said.partner
	}
	cell := trimmed(raw[s.from])
	switch s.op {
	case opFirst:
		cell, said.partner, _ = splitPair(cell)
	case opDate:
		return t.told.dates.of(cell, t.civil)
	case opWho:
		if w := t.readWho(cell, &t.sides); w != audit.Nobody {
			return w.String()
		}
	case opStatus:
		if cell == "" {
			break
		}
		if e := t.told.statuses.of(cell, t.ending); e.ok {
			cell, said.by = e.status, e.by
		}
	case opFormat:
		return t.format(cell)
	case opGame, opGames:
		switch signOfScores(cell, s.op == opGames) {
		case '-', ':':
			return cell
		case '/':
			return strings.ReplaceAll(cell, "/", "-")
		}
		r := t.told.results.of(cell, readCell)
		if !r.ok && r.names == "" || s.op == opGame && len(r.games) > 1 {
			break
		}
		cell = r.text
		if r.names != "" {
			switch who := t.readWho(r.names, &t.sides); {
			case who == audit.Nobody:
				cell += " " + r.names // which the reader of rows cannot read either
			case r.ended && !r.wins:
				said.by = who
			default:
				said.winner = who
			}
		}
		if r.ended {
			said.scores.status, said.scores.ended = r.status, true
		}
		said.scores.won, said.scores.date = cmp.Or(r.won, said.scores.won), cmp.Or(r.date, said.scores.date)
	case opBoth:
		if other := trimmed(raw[s.also]); cell != "" || other != "" {
			return cell + "-" + other
		}
	}
	return cell
}

// conclude fills in what some cells of a row say of others.
func (t *Reader) conclude(said *said) {
	l := &t.layout
	winner, status, stopped := &t.cells[l.winner], &t.cells[l.status], &t.cells[l.by]
	if said.scores.ended && (*status == "" || *status == audit.Played.String()) {
		*status = said.scores.status.String()
	}
	if won := said.scores.won; won != nil && t.cells[l.won] == "" {
		t.cells[l.won] = fmt.Sprintf("%d-%d", won[0], won[1])
	}
	if l.winners {
		*winner = "A"
	}
	both(winner, said.winner.String())
	both(&t.cells[l.date], t.told.dates.of(said.scores.date, t.civil))
	if *stopped == "" {
		*stopped = said.by.String()
	}
	if *stopped == "" && (*status == audit.Retired.String() || *status == audit.Forfeited.String() || *status == audit.Withdrawn.String()) {
		// Whoever did not win is the side that stopped.
		*stopped = map[string]string{"A": "B", "B": "A"}[*winner]
	}
	if t.winnerFirst && *winner == "B" {
		t.mirror()
	}
}

// both adds to a cell what another one says of the same; if that is something else,
// the cell cannot be read.
func both(cell *string, also string) {
	if *cell == "" {
		*cell = also
	} else if also != "" && also != *cell {
		*cell += " / " + also
	}
}

// civil writes a date as a civil one; what is none stays as it is.
func (t *Reader) civil(cell string) string {
	if p, ok := partsOf(cell); ok {
		if d, ok := p.date(t.order); ok {
			return d
		}
	}
	return strings.Clone(cell)
}

// mirror exchanges the sides of every score of the row.
func (t *Reader) mirror() {
	for i, s := range t.layout.sources {
		if s.op == opGame && !strings.HasPrefix(s.name, "time_outs") || s.op == opGames {
			if r, ok := readResult(t.cells[i]); ok {
				for k, g := range r.games {
					r.games[k] = audit.Score{g[1], g[0]}
				}
				t.cells[i] = r.text()
			}
		}
	}
}

// format reads a cell of formats: an id, or a word that says how many play.
func (t *Reader) format(cell string) string {
	if known, ok := t.formats[cell]; ok || cell == "" {
		return known
	}
	out := cell
	lower := strings.ToLower(cell)
	if _, err := format.Parse(cell); err == nil {
	} else if _, err := format.Parse(lower); err == nil {
		out = lower
	} else if sides := sidesOf(cell); sides != "" {
		other := map[string]string{"singles": "doubles", "doubles": "singles"}[sides]
		swapped := strings.Replace(t.options.Format, other, sides, 1)
		if _, err := format.Parse(swapped); err == nil || swapped == t.options.Format {
			if out = swapped; swapped == t.options.Format {
				out = ""
			}
		}
	}
	if len(t.formats) < 500 {
		t.formats[strings.Clone(cell)] = out
	}
	return out
}

// sidesOf reads a word that says only how many play.
func sidesOf(cell string) string {
	if strings.ContainsAny(cell, "0123456789@") {
		return "" // an id that is none
	}
	for word := range strings.FieldsSeq(fold(cell)) {
		switch word {
		case "singles", "single", "einzel", "individual", "individuales", "simple", "simples", "singolo", "singolare", "enkel", "singel", "ms", "ws":
			return "singles"
		case "doubles", "double", "doppel", "dobles", "doppio", "duplas", "dubbel", "debel", "mixed", "mixte", "mixto", "misto", "md", "wd", "xd", "mxd":
			return "doubles"
		}
	}
	return ""
}
