package audit

import (
	"strings"

	"github.com/evencourt/evencourt/rally/words"
)

// RowReader turns the rows of a table into matches. What it returns is valid
// until the next row; it allocates nothing for a row without findings. It must
// not be copied once it has read a row. Make one with the columns that [ReadHeader]
// returned: RowReader{Columns: columns}.
type RowReader struct {
	Columns  *Columns
	texts    []textColumn // cells that are taken as they are
	others   []column     // cells that are read as something
	match    ReportedMatch
	games    [mostGames]Score
	times    [mostGames]Score
	played   int // games of the row so far
	timed    int // and time-outs of so many
	won      Score
	totals   Score
	missing  []string // spellings of a missing value that were met
	sawEmpty bool     // the empty spelling among them
}

// Read reads one row. Findings about its fields are appended to out. A cell that
// cannot be read costs only what it holds: without a date, a winner or games won
// the match is audited like one that does not give them. Where scores or how
// it ended cannot be read ok is false, and only [Finals.CheckPart] may audit it.
func (r *RowReader) Read(row []string, at Place, out []Finding) (m *ReportedMatch, ok bool, findings []Finding) {
	if len(row) != r.Columns.width {
		at.Field = ""
		return nil, false, append(out, NewFinding(rowUnreadable, at, words.Within("reason", words.New("reason.fields", words.Count("want", r.Columns.width), words.Count("have", len(row))))))
	}
	if r.texts == nil {
		r.bind()
	}
	for i := range r.texts {
		t := &r.texts[i]
		text := row[t.at]
		if text == "" || !ordinary[text[0]] || text[len(text)-1] <= ' ' {
			text = r.unusual(text)
		}
		*t.into = text
	}
	m = &r.match
	m.Date, m.Winner, m.By, m.Status, m.Won, m.Totals = "", Nobody, Nobody, Played, nil, nil
	r.played, r.timed = 0, 0
	ok, sums, open := true, false, false
	for i := range r.others {
		c := &r.others[i]
		text := row[c.at]
		if text == "" || !ordinary[text[0]] || text[len(text)-1] <= ' ' {
			if text = r.unusual(text); text == "" && c.holds != holdsPointsA {
				continue
			}
		}
		text, problem := r.take(c, text, row)
		if problem == NoCode {
			continue
		}
		switch c.holds {
		case holdsGames, holdsStatus:
			ok, open = false, true
		case holdsGame, holdsPointsA, holdsBy:
			ok = false
		case holdsWon, holdsTotals:
			sums = true
		}
		at.Match, at.About = m.ID, m.About()
		out = append(out, c.unreadable(text, at))
	}
	if open && r.played > 0 {
		r.played-- // how the match ended is not known: it may be in this game
	}
	m.Games, m.TimeOuts = r.games[:r.played], r.times[:r.timed]
	ok = ok && (!sums || r.played > 0)
	return m, ok, out
}

// take reads a cell as what its column holds. Where it cannot be read it returns the
// problem, and the text that shows it.
func (r *RowReader) take(c *column, text string, row []string) (shown string, problem FindingCode) {
	m, read := &r.match, true
	switch c.holds {
	case holdsDate:
		if read = isDate(text); read {
			m.Date = text
		}
	case holdsWinner:
		m.Winner = whoOf(text)
		read = m.Winner != Nobody
	case holdsBy:
		m.By = whoOf(text)
		read = m.By != Nobody
	case holdsStatus:
		m.Status, read = statusOf(text)
	case holdsWon, holdsTotals, holdsGame, holdsTimeOuts:
		var s Score
		if s, read = wholeScore(text); read {
			r.score(c, s)
		}
	case holdsGames:
		r.played, problem = r.readGames(text)
		return text, problem
	case holdsPointsA:
		other := cell(row[c.also])
		if text == "" && other == "" || c.n < r.played && !r.games[c.n].missing() {
			return text, NoCode // no game, or one whose score stands in one cell
		}
		x, good := points(text)
		y, alike := points(other)
		if read = good && alike; read {
			r.played = put(&r.games, r.played, c.n, Score{x, y}, noScore)
		} else {
			text = row[c.at] + " / " + row[c.also]
		}
	}
	if !read {
		problem = fieldUnreadable
	}
	return text, problem
}

// score keeps the score of a cell.
func (r *RowReader) score(c *column, s Score) {
	switch c.holds {
	case holdsGame:
		r.played = put(&r.games, r.played, c.n, s, noScore)
	case holdsTimeOuts:
		r.timed = put(&r.times, r.timed, c.n, s, Score{})
	case holdsWon:
		r.won = s
		r.match.Won = &r.won
	default:
		r.totals = s
		r.match.Totals = &r.totals
	}
}

// textColumn is a column whose cells are taken as they are.
type textColumn struct {
	at   int     // its place in the row
	into *string // the field of the reader's match
}

// bind sorts the columns into texts and others.
func (r *RowReader) bind() {
	m := &r.match
	r.texts = make([]textColumn, 0, len(r.Columns.present))
	for _, c := range r.Columns.present {
		var into *string
		switch c.holds {
		case holdsMatch:
			into = &m.ID
		case holdsEvent:
			into = &m.Event
		case holdsRound:
			into = &m.Round
		case holdsFormat:
			into = &m.Format
		case holdsOf:
			into = &m.Of
		case holdsPlayer:
			into = &m.Sides[c.n>>1].Players[c.n&1]
		case holdsName:
			into = &m.Sides[c.n>>1].Names[c.n&1]
		case holdsTeam:
			into = &m.Sides[c.n].Team
		default:
			r.others = append(r.others, c)
			continue
		}
		r.texts = append(r.texts, textColumn{c.at, into})
	}
}

// unusual returns what a cell says that does not begin and end with what most
// do; empty if it says that there is no value, whose spelling is remembered.
func (r *RowReader) unusual(text string) string {
	said := cell(text)
	if said == "" {
		r.spelled(text)
	}
	return said
}

// readGames reads all scores of a match from one cell.
func (r *RowReader) readGames(text string) (games int, problem FindingCode) {
	for text != "" {
		s, rest, good := scanScore(text)
		if !good || games == mostGames {
			return games, fieldUnreadable
		}
		r.games[games] = s
		games++
		text = skipSeparators(rest)
	}
	return games, NoCode
}

// put sets the nth value of a list, fills what was left out before it, and
// returns the new length.
func put(list *[mostGames]Score, length, n int, v, between Score) int {
	for ; length < n; length++ {
		list[length] = between
	}
	list[n%mostGames] = v
	return max(length, n+1)
}

// unreadable is the finding about a cell that does not say what its column
// holds: with a proposal, if a spreadsheet can have made a date of a score.
func (c *column) unreadable(text string, at Place) Finding {
	at.Field = c.name
	want := words.New("want.scores")
	switch c.holds {
	case holdsDate:
		want = words.New("want.date")
	case holdsWinner, holdsBy:
		want = words.New("want.side")
	case holdsStatus:
		want = words.New("want.status", words.Name("names", strings.Join(statusNames, ", ")))
	case holdsTimeOuts:
		want = words.New("want.time-outs")
	case holdsPointsA:
		at.Field = "game" + itoa(c.n+1)
		want = words.New("want.numbers")
	default:
		if proposals := scoresOfDate(text); len(proposals) > 0 {
			return NewFinding(scoreAsDate, at, words.Name("read", quote(text)), words.Each("proposed", proposalTexts(proposals)...))
		}
		if tooMany(text) {
			want = words.New("want.fewer")
		}
	}
	taken := words.Code("taken.part")
	switch c.holds {
	case holdsDate, holdsTimeOuts, holdsWinner, holdsWon, holdsTotals:
		taken = "taken.ignored"
	}
	return NewFinding(fieldUnreadable, at, words.Name("read", quote(text)), words.Within("want", want), words.Word("taken", taken))
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

func proposalTexts(scores []Score) []words.Text {
	out := make([]words.Text, len(scores))
	for i, s := range scores {
		out[i] = words.New("score.of", s.as("score"))
	}
	return out
}

// Finish returns what can only be said of the whole table.
func (r *RowReader) Finish(at Place, out []Finding) []Finding {
	if len(r.missing) > 1 {
		out = append(out, NewFinding(missingSpelled, at, words.Count("n", len(r.missing)), words.Name("spellings", strings.Join(r.missing, ", "))))
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
