package audit

import "strings"

// RowReader turns the rows of a table into matches. What it returns is valid
// until the next row; it allocates nothing for a row without findings.
type RowReader struct {
	Columns  *Columns
	match    Match
	games    [mostGames]Score
	times    [mostGames]Score
	won      Score
	totals   Score
	missing  []string // spellings of a missing value that were met
	sawEmpty bool     // the empty spelling among them
}

// Read reads one row. Findings about its fields are appended to out; a match
// with unreadable scores has ok false and must not be audited further.
func (r *RowReader) Read(row []string, at Place, out []Finding) (m *Match, ok bool, findings []Finding) {
	if len(row) != r.Columns.width {
		at.Field = ""
		return nil, false, append(out, finding(RowUnreadable, at, "want "+itoa(r.Columns.width)+" fields, have "+itoa(len(row)), ""))
	}
	m = &r.match
	*m = Match{Games: r.games[:0], TimeOuts: r.times[:0]}
	ok = true
	for i := range r.Columns.present {
		c := &r.Columns.present[i]
		text, given := cell(row[c.at])
		if !given {
			r.spelled(row[c.at])
			if c.holds != holdsPointsA {
				continue
			}
		}
		var problem Code
		switch c.holds {
		case holdsMatch:
			m.ID = text
		case holdsEvent:
			m.Event = text
		case holdsRound:
			m.Round = text
		case holdsFormat:
			m.Format = text
		case holdsOf:
			m.Of = text
		case holdsPlayer:
			m.Sides[c.n>>1&1].Players[c.n&1] = text
		case holdsName:
			m.Sides[c.n>>1&1].Names[c.n&1] = text
		case holdsTeam:
			m.Sides[c.n&1].Team = text
		case holdsDate:
			if m.Date = text; !isDate(text) {
				m.Date = ""
				problem = FieldUnreadable
			}
		case holdsWinner:
			if m.Winner = whoOf(text); m.Winner == Nobody {
				problem = FieldUnreadable
			}
		case holdsBy:
			if m.By = whoOf(text); m.By == Nobody {
				problem = FieldUnreadable
			}
		case holdsStatus:
			var known bool
			if m.Status, known = statusOf(text); !known {
				problem = FieldUnreadable
			}
		case holdsWon:
			m.Won = &r.won
			r.won, problem = wholeScore(text)
		case holdsTotals:
			m.Totals = &r.totals
			r.totals, problem = wholeScore(text)
		case holdsGames:
			problem = r.readGames(m, text)
		case holdsGame:
			var s Score
			if s, problem = wholeScore(text); problem == NoCode {
				m.Games = put(m.Games, c.n, s, NoScore)
			}
		case holdsPointsA:
			other, also := cell(row[c.also])
			if !given && !also || c.n < len(m.Games) && !m.Games[c.n].missing() {
				continue // no game, or one whose score stands in one cell
			}
			x, good := points(text)
			y, alike := points(other)
			if good && alike {
				m.Games = put(m.Games, c.n, Score{x, y}, NoScore)
			} else {
				problem, text = FieldUnreadable, row[c.at]+" and "+row[c.also]
			}
		case holdsTimeOuts:
			var s Score
			if s, problem = wholeScore(text); problem == NoCode {
				m.TimeOuts = put(m.TimeOuts, c.n, s, Score{})
			}
		}
		if problem != NoCode {
			ok = ok && (c.holds == holdsDate || c.holds == holdsTimeOuts)
			at.Match = m.ID
			out = append(out, c.unreadable(text, at))
		}
	}
	return m, ok, out
}

// readGames reads all scores of a match from one cell.
func (r *RowReader) readGames(m *Match, text string) Code {
	games := r.games[:0]
	for text != "" {
		s, rest, good := scanScore(text)
		if !good || len(games) == mostGames {
			return FieldUnreadable
		}
		games = append(games, s)
		text = skipSeparators(rest)
	}
	m.Games = games
	return NoCode
}

// put sets the nth value of a list and fills what was left out before it.
func put(list []Score, n int, v, between Score) []Score {
	for len(list) < n {
		list = append(list, between)
	}
	if n < len(list) {
		list[n] = v
		return list
	}
	return append(list, v)
}

// unreadable is the finding about a cell that does not say what its column
// holds: with a proposal, if a spreadsheet can have made a date of a score.
func (c *column) unreadable(text string, at Place) Finding {
	at.Field = c.name
	want := "want scores such as 11-8"
	switch c.holds {
	case holdsDate:
		want = "want a date, YYYY-MM-DD"
	case holdsWinner, holdsBy:
		want = "want A or B"
	case holdsStatus:
		want = "want " + strings.Join(statusNames[:len(statusNames)-1], ", ") + " or " + statusNames[len(statusNames)-1]
	case holdsTimeOuts:
		want = "want time-outs used, such as 1-0"
	case holdsPointsA:
		at.Field = "game" + itoa(c.n+1)
		want = "want two numbers up to 999"
	default:
		if proposals := ScoresOfDate(text); len(proposals) > 0 {
			return finding(ScoreAsDate, at, quote(text), proposalText(proposals))
		}
		if tooMany(text) {
			want = "more than nine games"
		}
	}
	return finding(FieldUnreadable, at, quote(text), want)
}

// tooMany reports whether a text begins with more scores than there can be
// games.
func tooMany(text string) bool {
	for range mostGames {
		_, rest, ok := scanScore(text)
		if !ok {
			return false
		}
		text = skipSeparators(rest)
	}
	return text != ""
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
		if r.sawEmpty {
			return
		}
		r.sawEmpty = true
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

// finding makes a finding with two texts.
func finding(c Code, at Place, text, other string) Finding {
	return found(c, at, Args{Text: text, Other: other})
}
