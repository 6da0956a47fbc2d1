package audit

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit/internal/moment"
	"github.com/evencourt/evencourt/rally/internal/jsontext"
	"github.com/evencourt/evencourt/rally/words"
)

// lineForm is one line of JSON Lines: a match as [ReportedMatch] has it, or, with
// rows, a log. Lists of a fixed length are read as they are, sides and the status
// as texts, so that what is wrong with them is said by name.
type lineForm struct {
	ReportedMatch
	Sides       []entryForm
	Games       []pairForm
	Won, Totals pairForm
	TimeOuts    []pairForm
	Winner, By  string
	Status      string
	First       string
	Starters    string // "A1B1"
	Finals      []pairForm
	Complete    bool
	EndChanges  bool
	Rows        []rowForm
}

func (f *lineForm) read(v jsontext.Value, at string) *InputError {
	m := &f.ReportedMatch
	return object(v, at, []field{
		{"match", &m.ID}, {"format", &m.Format}, {"event", &m.Event}, {"round", &m.Round}, {"date", &m.Date}, {"of", &m.Of},
		{"sides", list[entryForm]{&f.Sides}}, {"games", list[pairForm]{&f.Games}}, {"won", &f.Won}, {"totals", &f.Totals}, {"time_outs", list[pairForm]{&f.TimeOuts}},
		{"winner", &f.Winner}, {"by", &f.By}, {"status", &f.Status}, {"first", &f.First}, {"starters", &f.Starters}, {"finals", list[pairForm]{&f.Finals}},
		{"complete", &f.Complete}, {"end_changes", &f.EndChanges}, {"rows", list[rowForm]{&f.Rows}},
	})
}

// entryForm is an [Entrant].
type entryForm struct {
	Team           string
	Players, Names []string
}

func (f *entryForm) read(v jsontext.Value, at string) *InputError {
	return object(v, at, []field{{"team", &f.Team}, {"players", list[string]{&f.Players}}, {"names", list[string]{&f.Names}}})
}

// pairForm is a [Score]; null or [-1,-1] is one that is missing.
type pairForm []int

// read reads two numbers, "11-8", or points by sides.
func (p *pairForm) read(v jsontext.Value, at string) *InputError {
	if s, ok := wholeScore(strings.TrimSpace(v.Text())); ok {
		*p = s[:]
		return nil
	}
	if *p = pointsBySide(v); *p != nil {
		return nil
	}
	return list[int]{(*[]int)(p)}.read(v, at)
}

// pointsBySide reads the points of two sides by their names.
func pointsBySide(v jsontext.Value) []int {
	points := map[string]int{}
	for _, f := range v.Fields() {
		var n int
		if fill(&n, f.Value, "") != nil {
			return nil
		}
		points[f.Name] = n
	}
	for _, names := range [][2]string{{"a", "b"}, {"A", "B"}, {"home", "away"}} {
		a, ok := points[names[0]]
		if b, both := points[names[1]]; ok && both && len(points) == 2 {
			return []int{a, b}
		}
	}
	return nil
}

func (p pairForm) score() (Score, bool) {
	if p == nil {
		return noScore, true
	}
	if len(p) != 2 {
		return noScore, false
	}
	s := Score{p[0], p[1]}
	return s, s == noScore || min(p[0], p[1]) >= 0 && max(p[0], p[1]) <= 999
}

// scores reads a list of scores; reason says what is wrong at field.
func scores(list []pairForm, name string) (out []Score, field, reason string) {
	if len(list) > mostGames {
		return nil, name, "more than nine games"
	}
	for i, p := range list {
		s, ok := p.score()
		if !ok {
			return nil, name + "." + itoa(i), "want two numbers up to 999"
		}
		out = append(out, s)
	}
	return out, "", ""
}

// rowForm is a row of a log as JSON.
type rowForm struct {
	Match    string
	Game, N  int
	Elapsed  int64
	Winner   string
	Event    string // text of an event, instead of a winner
	Undo     bool
	Serving  string
	Server   string // A1, or A where only the side is known
	Receiver string
	Score    pairForm
	Call     string // "4-3-1"
}

func (f *rowForm) fields() []field {
	return []field{{"match", &f.Match}, {"game", &f.Game}, {"n", &f.N}, {"ms", timeForm{&f.Elapsed}}, {"winner", sideForm{&f.Winner}}, {"event", &f.Event}, {"undo", &f.Undo},
		{"serving", sideForm{&f.Serving}}, {"server", &f.Server}, {"receiver", &f.Receiver}, {"score", &f.Score}, {"call", callForm{&f.Call}}}
}

// rowNames are the names of the fields of a row, and otherRowNames what they are
// called elsewhere.
var (
	rowNames      = []string{"match", "game", "n", "ms", "winner", "event", "undo", "serving", "server", "receiver", "score", "call"}
	otherRowNames = map[string]string{"rally": "n", "row": "n", "number": "n", "rally_number": "n", "set": "game", "game_number": "game", "time": "ms", "elapsed": "ms", "elapsed_ms": "ms", "timestamp": "ms", "clock": "ms",
		"won_by": "winner", "point_to": "winner", "rally_winner": "winner", "point_winner": "winner", "winning_side": "winner", "winning_team": "winner", "serving_side": "serving", "serving_team": "serving",
		"served_by": "server", "received_by": "receiver", "score_after": "score", "score_call": "call"}
)

// read reads a row. Sources spell the same thing in several ways: a score as two
// numbers, as "1-0" or by sides, a side in lower case or as home and away, a time
// with a fraction or as a clock, a call with spaces. What else a source knows of a
// rally is passed over, but for what is nearly the name of a field: a slip of the
// pen would hide what it holds.
func (f *rowForm) read(v jsontext.Value, at string) *InputError {
	if v.Kind() != jsontext.Object {
		return unlike("an object", v, at)
	}
	fields := f.fields()
	var slip *InputError
	called, values := make([]string, len(fields)), make([]jsontext.Value, len(fields))
	for _, said := range v.Fields() {
		name := said.Name
		if plain, ok := otherRowNames[name]; ok {
			name = plain
		}
		i := slices.IndexFunc(fields, func(f field) bool { return f.name == name })
		switch {
		case i < 0:
			if known := words.Nearest(name, rowNames, 1); known != "" && slip == nil {
				slip = &InputError{Field: name, Reason: "unknown field; is it " + known + "?"}
			}
			continue
		case called[i] == name && said.Name != name:
			return &InputError{Field: said.Name, Reason: "says what " + name + " says"}
		case called[i] != "" && called[i] != said.Name:
			return &InputError{Field: called[i], Reason: "says what " + name + " says"}
		}
		called[i], values[i] = said.Name, said.Value
	}
	for i, f := range fields {
		if called[i] != "" && slip == nil {
			slip = fill(f.to, values[i], within(at, f.name))
		}
	}
	return slip
}

// timeForm is a time in any spelling; what is none is below zero, which is refused
// with its row.
type timeForm struct{ to *int64 }

func (f timeForm) read(v jsontext.Value, _ string) *InputError {
	if v.Kind() != jsontext.Null {
		ms, ok := moment.Read(strings.Trim(v.Raw(), `"`))
		if *f.to = ms; !ok {
			*f.to = -1
		}
	}
	return nil
}

// callForm is a score call, with spaces or without.
type callForm struct{ to *string }

func (f callForm) read(v jsontext.Value, at string) *InputError {
	wrong := fill(f.to, v, at)
	*f.to = strings.ReplaceAll(*f.to, " ", "")
	return wrong
}

// sideForm is a side in any spelling.
type sideForm struct{ to *string }

func (f sideForm) read(v jsontext.Value, at string) *InputError {
	side, ok := otherSides[strings.ToUpper(strings.Trim(v.Raw(), `"`))]
	if ok {
		*f.to = side
		return nil
	}
	wrong := fill(f.to, v, at)
	*f.to = strings.ToUpper(*f.to)
	return wrong
}

// otherSides are other words for the sides.
var otherSides = map[string]string{"HOME": "A", "AWAY": "B", "1": "A", "2": "B"}

// mostLine is the longest line that is read, in bytes.
const mostLine = 1 << 20

// ReadLine reads one line of JSON Lines: a match, or a log (one with rows),
// whose format it names. For a log m is what is known of its result. The error
// is an [*InputError] with the field at fault; nothing is half-read.
func ReadLine(line []byte, number int) (m *ReportedMatch, l *RallyLog, err error) {
	if len(line) > mostLine {
		return nil, nil, &InputError{number, "", "line longer than " + itoa(mostLine) + " bytes"}
	}
	if text := bytes.TrimLeft(line, " \t\r\n"); len(text) > 0 && text[0] != '{' {
		return nil, nil, &InputError{number, "", "want an object"}
	}
	var f lineForm
	if wrong := readJSON(line, &f, "want one object a line"); wrong != nil {
		wrong.Line = number
		return nil, nil, wrong
	}
	fault := func(field, reason string) (*ReportedMatch, *RallyLog, error) {
		return nil, nil, &InputError{number, field, reason}
	}
	if reason, field := f.match(); reason != "" {
		return fault(field, reason)
	}
	finals, field, reason := scores(f.Finals, "finals")
	if reason != "" {
		return fault(field, reason)
	}
	if f.Date != "" && !isDate(f.Date) {
		return fault("date", "want a date, YYYY-MM-DD")
	}
	m = &f.ReportedMatch
	if f.Rows == nil {
		if f.First != "" || f.Starters != "" || f.Finals != nil || f.Complete || f.EndChanges {
			return fault("rows", "a log has rows")
		}
		return m, nil, nil
	}
	if len(f.Rows) > MostRows {
		return fault("rows", "more than "+itoa(MostRows))
	}
	shape, err := format.Parse(f.Format)
	if err != nil {
		return fault("format", strings.TrimPrefix(err.Error(), "format: "))
	}
	r, err := rally.Compile(shape)
	if err != nil {
		return fault("format", err.Error())
	}
	first, ok := whoNamed(f.First)
	if !ok {
		return fault("first", wantSide)
	}
	l = &RallyLog{Rules: r, Match: f.ID, First: first, Finals: finals, Complete: f.Complete, EndChanges: f.EndChanges}
	if len(finals) == 0 {
		l.Finals = m.Games
	}
	if f.Starters != "" {
		e, err := rally.ParseEvent("g" + f.Starters)
		if err != nil || e.Kind() != rally.StartGame {
			return fault("starters", "want the starting servers, such as A1B1")
		}
		st := e.Starters()
		l.Starters = &st
	}
	for i := range f.Rows {
		row, field, reason := f.Rows[i].row()
		if reason != "" {
			return fault("rows."+itoa(i)+"."+field, reason)
		}
		row.Line = number
		l.Rows = append(l.Rows, row)
	}
	return m, l, nil
}

// match fills the match with what was read as lists.
func (f *lineForm) match() (reason, field string) {
	if len(f.Sides) > 2 {
		return "want two sides", "sides"
	}
	for i, e := range f.Sides {
		at := "sides." + itoa(i)
		if len(e.Players) > 2 {
			return "want one or two players", at + ".players"
		}
		if len(e.Names) > 2 {
			return "want one or two names", at + ".names"
		}
		f.ReportedMatch.Sides[i].Team = e.Team
		copy(f.ReportedMatch.Sides[i].Players[:], e.Players)
		copy(f.ReportedMatch.Sides[i].Names[:], e.Names)
	}
	for _, side := range [...]struct {
		text, name string
		to         *MaybeSide
	}{{f.Winner, "winner", &f.ReportedMatch.Winner}, {f.By, "by", &f.ReportedMatch.By}} {
		var ok bool
		if *side.to, ok = whoNamed(side.text); !ok {
			return wantSide, side.name
		}
	}
	if f.Status != "" && f.ReportedMatch.Status.UnmarshalText([]byte(f.Status)) != nil {
		return "unknown value " + quote(f.Status), "status"
	}
	if f.ReportedMatch.Games, field, reason = scores(f.Games, "games"); reason != "" {
		return reason, field
	}
	if f.ReportedMatch.TimeOuts, field, reason = scores(f.TimeOuts, "time_outs"); reason != "" {
		return reason, field
	}
	for _, p := range [...]struct {
		form pairForm
		to   **Score
		name string
	}{{f.Won, &f.ReportedMatch.Won, "won"}, {f.Totals, &f.ReportedMatch.Totals, "totals"}} {
		if s, ok := p.form.score(); !ok || p.form != nil && s == noScore {
			return "want two numbers up to 999", p.name
		} else if p.form != nil {
			*p.to = &s
		}
	}
	return "", ""
}

// row reads a row; reason says what is wrong with field.
func (f *rowForm) row() (r Row, field, reason string) {
	r = Row{Match: f.Match, Game: f.Game, N: f.N, Elapsed: f.Elapsed, Undo: f.Undo}
	winner, known := whoNamed(f.Winner)
	var ok bool
	r.Serving, ok = whoNamed(f.Serving)
	switch {
	case !known:
		return r, "winner", wantSide
	case !ok:
		return r, "serving", wantSide
	case f.Game < 0 || f.Game > 9:
		return r, "game", "want the number of a game, 1 to 9"
	case f.N < 0 || f.N >= 1<<20:
		return r, "n", "want a number from 1"
	case f.Elapsed < 0:
		return r, "ms", "want milliseconds, or a time such as 1:02:03"
	}
	if s, ok := f.Score.score(); !ok || f.Score != nil && s == noScore {
		return r, "score", "want two numbers up to 999"
	} else if f.Score != nil {
		r.Score = &s
	}
	if f.Event != "" {
		e, err := rally.ParseEvent(f.Event)
		if err != nil || e.Kind() >= rally.Undo {
			return r, "event", "no event: " + quote(f.Event)
		}
		r.Event = e
	}
	if side, ok := winner.Side(); ok {
		if r.Event != 0 {
			return r, "winner", "either a winner or an event"
		}
		r.Event = rally.RallyTo(side)
	}
	if r.Server, ok = playerOf(f.Server); !ok {
		if w := whoOf(f.Server); w != Nobody && (r.Serving == Nobody || r.Serving == w) {
			r.Serving = w
		} else {
			return r, "server", "want A1, A2, B1, B2, A or B"
		}
	}
	if r.Receiver, ok = playerOf(f.Receiver); !ok {
		return r, "receiver", "want A1, A2, B1 or B2"
	}
	if f.Call != "" {
		c, ok := parseCall(f.Call)
		if !ok {
			return r, "call", "want a score call, such as 4-3-1"
		}
		r.Call = &c
	}
	return r, "", ""
}

const wantSide = "want A or B"

// whoNamed reads a side; nobody of an empty text.
func whoNamed(s string) (w MaybeSide, ok bool) {
	ok = s == "" || w.UnmarshalText([]byte(s)) == nil
	return w, ok
}

func playerOf(s string) (MaybePerson, bool) {
	if s == "" {
		return Unknown, true
	}
	var p rally.Person
	if p.UnmarshalText([]byte(s)) != nil {
		return Unknown, false
	}
	return KnownPerson(p), true
}

func parseCall(s string) (CalledScore, bool) {
	parts := strings.Split(s, "-")
	if len(parts) < 2 || len(parts) > 3 {
		return CalledScore{}, false
	}
	var n [3]int
	for i, p := range parts {
		v, err := strconv.ParseUint(p, 10, 8)
		if err != nil {
			return CalledScore{}, false
		}
		n[i] = int(v)
	}
	if len(parts) == 3 && (n[2] < 1 || n[2] > 2) {
		return CalledScore{}, false
	}
	return CalledScore{n[0], n[1], n[2]}, true
}
