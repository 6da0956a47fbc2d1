package audit

import (
	"strconv"
	"strings"
	"time"
)

// Columns says which column of a table holds what. Make it with [ReadHeader].
type Columns struct {
	match, event, round, date, format, games int
	winner, status, by, of, won, totals      int
	players                                  [4]int
	names                                    [4]int
	teams                                    [2]int
	game                                     [9]int
	timeOuts                                 [9]int
	cells                                    [9][2]int // columns of a game's points, one a side
	width                                    int
	header                                   []string
}

// columnNames are the columns that this package documents, in any order:
//
//	match event round date format
//	a1 a2 b1 b2                     ids of players, A and B in the order of entry
//	a1_name a2_name b1_name b2_name names, only shown
//	team_a team_b                   ids of teams
//	games                           all scores in one cell: "11-8 7-11 11-9"
//	game1 … game9                   one score a cell
//	game1_a game1_b … game9_b       one number a cell
//	time_outs1 … time_outs9         time-outs used, "1-0"
//	won totals                      games won and points, where games are not given
//	winner                          A or B
//	status                          played, retired, forfeited, withdrawn, … ([Status])
//	by                              side that retired, forfeited or withdrew
//	of                              match that is amended or resumed
var columnNames = func() []string {
	out := []string{"match", "event", "round", "date", "format", "a1", "a2", "b1", "b2", "a1_name", "a2_name", "b1_name", "b2_name",
		"team_a", "team_b", "games", "won", "totals", "winner", "status", "by", "of"}
	for i := 1; i <= 9; i++ {
		n := itoa(i)
		out = append(out, "game"+n, "game"+n+"_a", "game"+n+"_b", "time_outs"+n)
	}
	return out
}()

// ReadHeader reads the header of a table. Names are taken without regard to
// case, spaces for underscores. A header without any column of scores, with a
// column twice, or with an unknown one, is an [*InputError] that names it.
func ReadHeader(header []string) (*Columns, error) {
	c := &Columns{width: len(header)}
	for _, p := range c.all() {
		*p = -1
	}
	seen := map[string]bool{}
	scores := false
	for i, h := range header {
		name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))), " ", "_")
		p, isScore := c.find(name)
		switch {
		case name == "" || p == nil && (strings.HasPrefix(name, "note") || strings.HasPrefix(name, "proposed")):
			continue
		case p == nil:
			return nil, &InputError{1, "header", "unknown column " + quote(name) + "; know " + strings.Join(columnNames[:22], ", ") + ", game1, game1_a, time_outs1, …"}
		case seen[name]:
			return nil, &InputError{1, "header", "column " + name + " twice"}
		}
		seen[name] = true
		scores = scores || isScore
		*p = i
	}
	for i := range c.cells {
		if (c.cells[i][0] < 0) != (c.cells[i][1] < 0) {
			return nil, &InputError{1, "header", "game" + itoa(i+1) + " has the points of one side only"}
		}
	}
	if !scores && c.status < 0 {
		return nil, &InputError{1, "header", "no column of scores: want games, game1, game1_a and game1_b, won or totals"}
	}
	for _, name := range header {
		c.header = append(c.header, strings.Clone(name))
	}
	return c, nil
}

func (c *Columns) all() []*int {
	out := []*int{&c.match, &c.event, &c.round, &c.date, &c.format, &c.games, &c.winner, &c.status, &c.by, &c.of, &c.won, &c.totals, &c.teams[0], &c.teams[1]}
	for i := range c.players {
		out = append(out, &c.players[i], &c.names[i])
	}
	for i := range c.game {
		out = append(out, &c.game[i], &c.timeOuts[i], &c.cells[i][0], &c.cells[i][1])
	}
	return out
}

func (c *Columns) find(name string) (p *int, isScore bool) {
	switch name {
	case "match", "id":
		return &c.match, false
	case "event":
		return &c.event, false
	case "round":
		return &c.round, false
	case "date":
		return &c.date, false
	case "format":
		return &c.format, false
	case "games", "score", "scores":
		return &c.games, true
	case "winner":
		return &c.winner, false
	case "status":
		return &c.status, false
	case "by":
		return &c.by, false
	case "of":
		return &c.of, false
	case "won":
		return &c.won, true
	case "totals":
		return &c.totals, true
	case "team_a":
		return &c.teams[0], false
	case "team_b":
		return &c.teams[1], false
	}
	for i, player := range [...]string{"a1", "a2", "b1", "b2"} {
		switch name {
		case player:
			return &c.players[i], false
		case player + "_name":
			return &c.names[i], false
		}
	}
	for i := range c.game {
		n := itoa(i + 1)
		switch name {
		case "game" + n:
			return &c.game[i], true
		case "game" + n + "_a":
			return &c.cells[i][0], true
		case "game" + n + "_b":
			return &c.cells[i][1], true
		case "time_outs" + n:
			return &c.timeOuts[i], false
		}
	}
	return nil, false
}

// RowReader turns the rows of a table into matches. What it returns is valid
// until the next row; it allocates nothing for a row without findings.
type RowReader struct {
	Columns *Columns
	match   Match
	games   [9]Score
	times   [9]Score
	won     Score
	totals  Score
	missing []string // spellings of a missing value that were met
}

// Read reads one row. Findings about its fields are appended to out; a match
// with unreadable scores has ok false and must not be audited further.
func (r *RowReader) Read(row []string, at Place, out []Finding) (m *Match, ok bool, findings []Finding) {
	c := r.Columns
	if len(row) != c.width {
		at.Field = ""
		return nil, false, append(out, finding(RowUnreadable, at, "want "+itoa(c.width)+" fields, have "+itoa(len(row)), ""))
	}
	get := func(i int) string {
		if i < 0 {
			return ""
		}
		v := row[i]
		if isMissing(v) {
			r.spelled(v)
			return ""
		}
		return trim(v)
	}
	m = &r.match
	*m = Match{ID: get(c.match), Event: get(c.event), Round: get(c.round), Date: get(c.date), Format: get(c.format), Of: get(c.of)}
	at.Match = m.ID
	ok = true
	for i := range c.players {
		m.Sides[i>>1].Players[i&1], m.Sides[i>>1].Names[i&1] = get(c.players[i]), get(c.names[i])
	}
	m.Sides[0].Team, m.Sides[1].Team = get(c.teams[0]), get(c.teams[1])
	bad := func(field, text, why string) {
		p := at
		p.Field = field
		out = append(out, finding(FieldUnreadable, p, quote(text), why))
	}
	if m.Date != "" && !isDate(m.Date) {
		bad("date", m.Date, "want a date, YYYY-MM-DD")
		m.Date = ""
	}
	if s := get(c.winner); s != "" {
		if m.Winner = whoOf(s); m.Winner == Nobody {
			bad("winner", s, "want A or B")
			ok = false
		}
	}
	if s := get(c.by); s != "" {
		if m.By = whoOf(s); m.By == Nobody {
			bad("by", s, "want A or B")
			ok = false
		}
	}
	if s := get(c.status); s != "" {
		status, known := statusOf(s)
		if !known {
			bad("status", s, "want played, retired, forfeited, withdrawn, double-forfeit, not-played, bye, postponed, abandoned, resumed, awarded, annulled or amended")
			ok = false
		}
		m.Status = status
	}
	var good bool
	if good, out = r.readGames(row, m, at, out); !good {
		ok = false
	}
	for _, f := range [...]struct {
		name string
		col  int
		into *Score
		to   **Score
	}{{"won", c.won, &r.won, &m.Won}, {"totals", c.totals, &r.totals, &m.Totals}} {
		s := get(f.col)
		if s == "" {
			continue
		}
		v, rest, good := scanScore(s)
		switch {
		case good && rest == "":
			*f.into = v
			*f.to = f.into
		default:
			out = r.dateFinding(f.name, s, at, out)
			ok = false
		}
	}
	n := 0
	for i, col := range c.timeOuts {
		s := get(col)
		if s == "" {
			r.times[i] = Score{}
			continue
		}
		v, rest, good := scanScore(s)
		if !good || rest != "" {
			bad("time_outs"+itoa(i+1), s, "want time-outs used, such as 1-0")
			continue
		}
		r.times[i], n = v, i+1
	}
	m.TimeOuts = r.times[:n]
	return m, ok, out
}

// readGames reads the scores of games from whichever columns there are.
func (r *RowReader) readGames(row []string, m *Match, at Place, out []Finding) (bool, []Finding) {
	c := r.Columns
	n, ok := 0, true
	if c.games >= 0 && !isMissing(row[c.games]) {
		text := trim(row[c.games])
		for text != "" {
			if n == len(r.games) {
				p := at
				p.Field = "games"
				return false, append(out, finding(FieldUnreadable, p, quote(row[c.games]), "more than nine games"))
			}
			v, rest, good := scanScore(text)
			if !good {
				return false, r.dateFinding("games", row[c.games], at, out)
			}
			r.games[n] = v
			n++
			text = skipSeparators(rest)
		}
	}
	for i, col := range c.game {
		a, b := c.cells[i][0], c.cells[i][1]
		switch {
		case col >= 0 && !isMissing(row[col]):
			text := trim(row[col])
			v, rest, good := scanScore(text)
			if !good || rest != "" {
				out = r.dateFinding("game"+itoa(i+1), text, at, out)
				ok = false
				continue
			}
			n = r.put(n, i, v)
		case a >= 0 && !(isMissing(row[a]) && isMissing(row[b])):
			x, good := points(trim(row[a]))
			y, also := points(trim(row[b]))
			if !good || !also {
				p := at
				p.Field = "game" + itoa(i+1)
				out = append(out, finding(FieldUnreadable, p, quote(row[a]+" and "+row[b]), "want two numbers up to 999"))
				ok = false
				continue
			}
			n = r.put(n, i, Score{x, y})
		case col >= 0:
			r.spelled(row[col])
		}
	}
	m.Games = r.games[:n]
	return ok, out
}

func (r *RowReader) put(n, i int, v Score) int {
	for ; n < i; n++ {
		r.games[n] = NoScore
	}
	r.games[i] = v
	return i + 1
}

// dateFinding is a finding about a cell that is no score: with a proposal, if
// a spreadsheet can have made a date of one.
func (r *RowReader) dateFinding(field, text string, at Place, out []Finding) []Finding {
	at.Field = field
	if proposals := ScoresOfDate(text); len(proposals) > 0 {
		return append(out, finding(ScoreAsDate, at, quote(text), proposalText(proposals)))
	}
	return append(out, finding(FieldUnreadable, at, quote(text), "want scores such as 11-8"))
}

func proposalText(scores []Score) string {
	out := ""
	for i, s := range scores {
		if i > 0 {
			out += " or "
		}
		out += itoa(s[0]) + "-" + itoa(s[1])
	}
	return out
}

// Finish returns what can only be said of the whole table.
func (r *RowReader) Finish(at Place, out []Finding) []Finding {
	if len(r.missing) > 1 {
		out = append(out, found(MissingSpelled, at, Args{N: len(r.missing), Text: strings.Join(r.missing, ", ")}))
	}
	return out
}

// spelled remembers how a missing value is spelt.
func (r *RowReader) spelled(text string) {
	if text == "" {
		text = "empty"
	}
	for _, s := range r.missing {
		if s == text {
			return
		}
	}
	if len(r.missing) < 12 {
		r.missing = append(r.missing, strings.Clone(text))
	}
}

// isMissing reports whether a cell says that there is no value.
func isMissing(s string) bool {
	switch len(s) {
	case 0:
		return true
	case 1:
		return s == "-" || s == "?" || s == " " || s == "."
	case 2, 3, 4:
		switch s {
		case "--", "NA", "na", "n/a", "N/A", "nil", "NIL", "null", "NULL", "None", "none", "nan", "NaN", "–", "—":
			return true
		}
	}
	return false
}

func trim(s string) string {
	if s == "" || s[0] > ' ' && s[len(s)-1] > ' ' && s[0] < 0x80 {
		return s
	}
	return strings.TrimSpace(strings.TrimPrefix(s, "\ufeff"))
}

// scanScore reads a score at the beginning of a text and returns the rest. The
// sign between the points may be a hyphen, an en dash, a minus or a colon,
// with spaces around it.
func scanScore(s string) (v Score, rest string, ok bool) {
	a, i := scanNumber(s)
	if i == 0 {
		return v, s, false
	}
	k := i
	for k < len(s) && s[k] == ' ' {
		k++
	}
	switch {
	case k < len(s) && (s[k] == '-' || s[k] == ':'):
		k++
	case strings.HasPrefix(s[k:], "–"), strings.HasPrefix(s[k:], "—"), strings.HasPrefix(s[k:], "−"):
		k += 3
	default:
		return v, s, false
	}
	for k < len(s) && s[k] == ' ' {
		k++
	}
	b, j := scanNumber(s[k:])
	if j == 0 {
		return v, s, false
	}
	rest = s[k+j:]
	if rest != "" && !isSeparator(rest[0]) {
		return v, s, false // 2024-11-09, 11-9a
	}
	return Score{a, b}, rest, true
}

// scanNumber reads up to three digits.
func scanNumber(s string) (n, length int) {
	for length < len(s) && length < 3 && s[length] >= '0' && s[length] <= '9' {
		n = 10*n + int(s[length]-'0')
		length++
	}
	if length < len(s) && s[length] >= '0' && s[length] <= '9' {
		return 0, 0
	}
	return n, length
}

func points(s string) (int, bool) {
	n, i := scanNumber(s)
	return n, i > 0 && i == len(s)
}

func isSeparator(b byte) bool {
	return b == ' ' || b == ',' || b == ';' || b == '/' || b == '|' || b == '\n'
}

func skipSeparators(s string) string {
	for s != "" && isSeparator(s[0]) {
		s = s[1:]
	}
	return s
}

// whoOf reads a side.
func whoOf(s string) Who {
	switch s {
	case "A", "a":
		return SideA
	case "B", "b":
		return SideB
	}
	return Nobody
}

func statusOf(s string) (Status, bool) {
	for i, name := range statusNames {
		if name == s || strings.EqualFold(name, s) {
			return Status(i), true
		}
	}
	return Played, false
}

func isDate(s string) bool {
	if len(s) != 10 || s[4] != '-' || s[7] != '-' {
		return false
	}
	year, ok1 := strconv.Atoi(s[:4])
	month, ok2 := strconv.Atoi(s[5:7])
	day, ok3 := strconv.Atoi(s[8:])
	if ok1 != nil || ok2 != nil || ok3 != nil {
		return false
	}
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return t.Year() == year && int(t.Month()) == month && t.Day() == day
}

// finding makes a finding with two texts.
func finding(c Code, at Place, text, other string) Finding {
	return found(c, at, Args{Text: text, Other: other})
}
