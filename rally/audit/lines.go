package audit

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit/internal/moment"
	"github.com/evencourt/evencourt/rally/words"
)

// lineForm is one line of JSON Lines: a match as [ReportedMatch] has it, or, with
// rows, a log. Lists of a fixed length are read as they are, since
// encoding/json would fill up a short one and cut a long one without a word;
// sides and the status as texts, since it would not say in which field one is wrong.
type lineForm struct {
	ReportedMatch
	Sides    []entryForm `json:"sides"`
	Games    []pairForm  `json:"games"`
	Won      pairForm    `json:"won"`
	Totals   pairForm    `json:"totals"`
	TimeOuts []pairForm  `json:"time_outs"`
	Winner   string      `json:"winner"`
	By       string      `json:"by"`
	Status   string      `json:"status"`

	First      string     `json:"first"`
	Starters   string     `json:"starters"` // "A1B1"
	Finals     []pairForm `json:"finals"`
	Complete   bool       `json:"complete"`
	EndChanges bool       `json:"end_changes"`
	Rows       []rowForm  `json:"rows"`
}

// entryForm is an [Entrant].
type entryForm struct {
	Team    string   `json:"team"`
	Players []string `json:"players"`
	Names   []string `json:"names"`
}

// pairForm is a [Score]; null or [-1,-1] is one that is missing.
type pairForm []int

// UnmarshalJSON implements json.Unmarshaler: two numbers, "11-8", or by sides.
func (p *pairForm) UnmarshalJSON(text []byte) error {
	return json.Unmarshal(plainScore(text), (*[]int)(p))
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
	Match    string   `json:"match"`
	Game     int      `json:"game"`
	N        int      `json:"n"`
	Elapsed  int64    `json:"ms"`
	Winner   string   `json:"winner"`
	Event    string   `json:"event"` // text of an event, instead of a winner
	Undo     bool     `json:"undo"`
	Serving  string   `json:"serving"`
	Server   string   `json:"server"` // A1, or A where only the side is known
	Receiver string   `json:"receiver"`
	Score    pairForm `json:"score"`
	Call     string   `json:"call"` // "4-3-1"
}

// rowNames are the names of the fields of a row, and otherRowNames what they are
// called elsewhere.
var (
	rowNames      = []string{"match", "game", "n", "ms", "winner", "event", "undo", "serving", "server", "receiver", "score", "call"}
	otherRowNames = map[string]string{"rally": "n", "row": "n", "number": "n", "rally_number": "n", "set": "game", "game_number": "game", "time": "ms", "elapsed": "ms", "elapsed_ms": "ms", "timestamp": "ms", "clock": "ms",
		"won_by": "winner", "point_to": "winner", "rally_winner": "winner", "point_winner": "winner", "winning_side": "winner", "winning_team": "winner", "serving_side": "serving", "serving_team": "serving",
		"served_by": "server", "received_by": "receiver", "score_after": "score", "score_call": "call"}
)

// UnmarshalJSON implements json.Unmarshaler. Sources spell the same thing in
// several ways: a score as two numbers, as "1-0" or by sides, a side in lower
// case or as home and away, a time with a fraction or as a clock, a call with
// spaces. What else a source knows of a rally is passed over, but for what is
// nearly the name of a field: a slip of the pen would hide what it holds.
func (f *rowForm) UnmarshalJSON(text []byte) error {
	var all map[string]json.RawMessage
	if err := json.Unmarshal(text, &all); err != nil {
		return err
	}
	for other, name := range otherRowNames {
		if v, ok := all[other]; ok {
			if _, twice := all[name]; twice {
				return &InputError{Field: other, Reason: "says what " + name + " says"}
			}
			all[name] = v
			delete(all, other)
		}
	}
	for name := range all {
		if slices.Contains(rowNames, name) {
			continue
		}
		if known := words.Nearest(name, rowNames, 1); known != "" {
			return &InputError{Field: name, Reason: "unknown field; is it " + known + "?"}
		}
		delete(all, name)
	}
	for _, name := range []string{"winner", "serving"} {
		if v, ok := all[name]; ok {
			all[name] = bytes.ToUpper(v)
			if side, ok := otherSides[string(all[name])]; ok {
				all[name] = json.RawMessage(side)
			} else if string(v) == "null" {
				delete(all, name)
			}
		}
	}
	if v, ok := all["ms"]; ok && string(v) != "null" {
		ms, ok := moment.Read(strings.Trim(string(v), `"`))
		if !ok {
			ms = -1 // which is refused with its row
		}
		all["ms"] = strconv.AppendInt(nil, ms, 10)
	}
	if v, ok := all["call"]; ok {
		all["call"] = bytes.ReplaceAll(v, []byte(" "), nil)
	}
	plain, err := json.Marshal(all)
	if err != nil {
		return err
	}
	type form rowForm // without this method
	d := json.NewDecoder(bytes.NewReader(plain))
	d.DisallowUnknownFields()
	return d.Decode((*form)(f))
}

// otherSides are other words for the sides, as JSON.
var otherSides = map[string]string{`"HOME"`: `"A"`, `"AWAY"`: `"B"`, `"1"`: `"A"`, `"2"`: `"B"`, "1": `"A"`, "2": `"B"`}

// plainScore writes a score as two numbers if it is spelt as one in words or by
// sides.
func plainScore(v json.RawMessage) json.RawMessage {
	var text string
	if json.Unmarshal(v, &text) == nil {
		if s, ok := wholeScore(strings.TrimSpace(text)); ok {
			return json.RawMessage("[" + itoa(s[0]) + "," + itoa(s[1]) + "]")
		}
		return v
	}
	var sides map[string]int
	if json.Unmarshal(v, &sides) == nil && len(sides) == 2 {
		for _, names := range [][2]string{{"a", "b"}, {"A", "B"}, {"home", "away"}} {
			a, ok := sides[names[0]]
			b, good := sides[names[1]]
			if ok && good {
				return json.RawMessage("[" + itoa(a) + "," + itoa(b) + "]")
			}
		}
	}
	return v
}

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
	d := json.NewDecoder(bytes.NewReader(line))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, nil, jsonError(err, number)
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, nil, &InputError{number, "", "want one object a line"}
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
