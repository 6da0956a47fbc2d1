package intake

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/evencourt/evencourt/rally/audit"
)

// result is what a cell of scores says: the scores, games won if they are
// written before them, and whatever else stands beside them.
type result struct {
	games  []audit.Score
	won    *audit.Score
	status audit.Status
	ended  bool   // a word of status stands there
	wins   bool   // a word that names a winner
	names  string // words that say neither: whom the others are about, if anybody
	date   string
}

// text writes the scores as [audit] reads them.
func (r *result) text() string {
	var out strings.Builder
	for i, g := range r.games {
		if i > 0 {
			out.WriteByte(' ')
		}
		out.WriteString(strconv.Itoa(g[0]))
		out.WriteByte('-')
		out.WriteString(strconv.Itoa(g[1]))
	}
	return out.String()
}

// piece is a number, with what stands between it and the one before.
type piece struct {
	before string
	n      int
}

// readResult reads scores however they are spelt: "11-9, 9-11", "11/9 9/11",
// "11:9 | 9:11", "(11-9) (9-11)", "11 to 9", "2-1 (11-9, 9-11, 11-7)", "11-4 3-2
// ret.". It is false for what is not wholly read; where only words are not, the
// result has them.
func readResult(text string) (result, bool) {
	var r result
	text = trimmed(text)
	if len(text) > 200 {
		return r, false
	}
	if before, inside, ok := strings.Cut(text, "("); ok && strings.HasSuffix(text, ")") && strings.Count(text, "(") == 1 && strings.TrimSpace(before) != "" && strings.ContainsAny(inside, "0123456789") {
		// Games won before the scores.
		if won, good := readResult(before); good && len(won.games) == 1 && !won.ended {
			if r, good = readResult(strings.TrimSuffix(inside, ")")); good && len(r.games) == won.games[0][0]+won.games[0][1] {
				w := won.games[0]
				r.won = &w
				return r, true
			}
		}
		return result{}, false
	}
	var pieces []piece
	glue := ""
	for text != "" {
		c, width := utf8.DecodeRuneInString(text)
		switch {
		case c >= '0' && c <= '9':
			i := 0
			for i < len(text) && text[i] >= '0' && text[i] <= '9' {
				i++
			}
			if i > 3 {
				return result{}, false
			}
			n, _ := strconv.Atoi(text[:i]) // up to three digits
			pieces = append(pieces, piece{strings.TrimSpace(glue), n})
			if glue != "" && strings.TrimSpace(glue) == "" {
				pieces[len(pieces)-1].before = " "
			}
			glue, text = "", text[i:]
		case isLetter(c):
			i := width
			for i < len(text) {
				c, w := utf8.DecodeRuneInString(text[i:])
				if !isLetter(c) && c != '.' && (c != '/' || i+1 >= len(text) || !isLetter(rune(text[i+1]))) {
					break
				}
				i += w
			}
			word := text[:i]
			text = text[i:]
			switch folded := strings.ReplaceAll(fold(word), " ", ""); {
			case folded == "to" || folded == "zu":
				glue += "to"
			case folded == "w" || folded == "l" || folded == "tb" || folded == "and" || folded == "und" || folded == "y" || folded == "et":
				glue += " " // a win or a loss, which the scores say themselves
			case vocabulary[folded] == aWon || vocabulary[folded] == aWinner:
				r.wins = true
			default:
				if !r.word(word, folded) && glue == "" && len(pieces) > 0 {
					return result{}, false // 11-9x
				}
			}
		default:
			glue += text[:width]
			text = text[width:]
		}
	}
	if len(pieces) == 0 && r.ended {
		return r, r.names == ""
	}
	if strings.Trim(glue, " ,;:|([)].*") != "" || len(pieces) == 0 || len(pieces)%2 != 0 {
		return result{}, false
	}
	sign := signOf(pieces)
	if sign == "" || strings.Trim(pieces[0].before, " ([") != "" {
		return result{}, false
	}
	for i := 0; i < len(pieces); i += 2 {
		if i > 0 && (pieces[i].before == sign || strings.Trim(pieces[i].before, " ,;./|()[]") != "") || pieces[i+1].before != sign {
			return result{}, false
		}
		r.games = append(r.games, audit.Score{pieces[i].n, pieces[i+1].n})
	}
	return r, r.names == ""
}

// word takes in a word, and reports whether it is one of status, which can be two.
func (r *result) word(word, folded string) bool {
	rest := strings.Fields(r.names)
	status, ok := statusOf(folded)
	if n := len(rest); !ok && n > 0 {
		if status, ok = statusOf(fold(rest[n-1]) + folded); ok {
			rest = rest[:n-1]
		}
	}
	if ok && !r.ended {
		r.status, r.ended = status, true
	} else {
		rest = append(rest, word)
	}
	r.names = strings.Join(rest, " ")
	return ok
}

// readCell reads a cell of scores, with a date if one stands before or after them,
// to be kept.
func readCell(cell string) readAs {
	r, ok := readResult(cell)
	if !ok {
		if date, rest := cutDate(cell); date != "" {
			if with, good := readResult(rest); good || with.names != "" {
				r, ok = with, good
				r.date = date
			}
		}
	}
	return readAs{r, r.text(), ok}
}

// signOfScores returns the sign of scores that are spelt as most are: numbers with
// one sign between the two of a score, blanks or commas between scores; 0 for
// others.
func signOfScores(cell string, several bool) (sign byte) {
	digits, open := 0, false // a score wants its second number
	for i := range len(cell) {
		switch c := cell[i]; {
		case c-'0' <= 9:
			if digits++; digits > 3 {
				return 0
			}
		case digits > 0 && !open && (c == sign || sign == 0 && (c == '-' || c == ':' || c == '/')):
			sign, digits, open = c, 0, true
		case digits > 0 && open && several && (c == ' ' || c == ','):
			digits, open = 0, false
		case c != ' ' || digits > 0 || open || i == 0:
			return 0
		}
	}
	if digits == 0 || !open {
		return 0
	}
	return sign
}

// signOf returns what stands between the points of each score.
func signOf(pieces []piece) string {
	for _, sign := range []string{"-", ":", "to", "/", " "} {
		all := true
		for i := 1; i < len(pieces); i += 2 {
			all = all && pieces[i].before == sign
		}
		if all && (sign != " " || len(pieces) > 2 || len(pieces) == 2) {
			return sign
		}
	}
	return ""
}

func isLetter(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r > 0x7f && r != utf8.RuneError && r != '°'
}

// statusWords are the words of a status, folded and without spaces, in the
// languages of the vocabulary.
var statusWords = func() map[string]audit.Status {
	out := map[string]audit.Status{}
	for status, list := range map[audit.Status]string{
		audit.Played:        "played completed complete finished final finalized done ok full fulltime normal result official confirmed closed f ft beendet gespielt fertig jugado terminado finalizado termine joue giocato finita terminata jogado encerrado gespeeld zagrany rozegrany",
		audit.Retired:       "retired retirement ret retd rtd rt retiredhurt injury injured inj retiredinjured aufgabe aufgegeben verletzt retirado retirada retiro lesion abandono abandon blessure ritirato ritiro desistencia opgave krecz",
		audit.Forfeited:     "forfeited forfeit forfeiture ff wo walkover wover def defaulted default noshow ns dns absent kampflos wow incomparecencia forfait assenza nietopgekomen walkower",
		audit.Withdrawn:     "withdrawn withdrew withdrawal wd wdn scratched zuruckgezogen zurueckgezogen baja retraitavant",
		audit.DoubleForfeit: "doubleforfeit doublewalkover doublewo doubledefault bothforfeited doppelkampflos",
		audit.NotPlayed:     "notplayed np unplayed cancelled canceled cancel scheduled upcoming open tbd tbp abgesagt ausgefallen nichtgespielt ausstehend cancelado nojugado annule nonjoue nongiocato nietgespeeld nierozegrany",
		audit.Bye:           "bye freilos spielfrei exempt riposo libre descansa vrij",
		audit.Postponed:     "postponed ppd rescheduled moved deferred rainout rained verschoben verlegt aplazado reporte rinviato rinviata adiado uitgesteld przelozony",
		audit.Abandoned:     "abandoned abd suspended interrupted brokenoff stopped abgebrochen suspendido interrompu interrotta sospesa gestaakt przerwany",
		audit.Resumed:       "resumed",
		audit.Awarded:       "awarded award adjudicated amtable zugesprochen gewertet",
		audit.Annulled:      "annulled void voided annuliert annulliert anulado nul annullato struck deleted",
		audit.Amended:       "amended corrected correction amendment revised",
	} {
		for word := range strings.FieldsSeq(list) {
			out[word] = status
		}
	}
	return out
}()

// statusOf reads a word of status, folded and without spaces.
func statusOf(folded string) (audit.Status, bool) {
	s, ok := statusWords[folded]
	return s, ok
}

// readStatus reads a cell of status, and the side that it names if it does:
// "RET", "Retired (home)", "W/O", "forfeit by B".
func (t *Reader) readStatus(text string) (status audit.Status, by audit.MaybeSide, ok bool) {
	folded := fold(text)
	if status, ok = statusOf(strings.ReplaceAll(folded, " ", "")); ok {
		return status, audit.Nobody, true
	}
	var rest []string
	for word := range strings.FieldsSeq(folded) {
		switch {
		case vocabulary[word] == aSide || word == "1":
			by = audit.SideA
		case vocabulary[word] == bSide || word == "2":
			by = audit.SideB
		case vocabulary[word] == aBy || vocabulary[word] == aTeam || vocabulary[word] == filler:
		default:
			rest = append(rest, word)
		}
	}
	status, ok = statusOf(strings.Join(rest, ""))
	return status, by, ok
}

// ending reads a cell of status, to be kept.
func (t *Reader) ending(cell string) ending {
	status, by, ok := t.readStatus(cell)
	return ending{status.String(), by, ok}
}

// readWho reads which side a cell names: A or B, home or away, 1 or 2, or the
// names of a side of the row.
func (t *Reader) readWho(text string, sides *[2][]string) audit.MaybeSide {
	if t.homeLetters { // H and A are home and away where the file uses H
		switch text {
		case "h", "H":
			return audit.SideA
		case "a", "A":
			return audit.SideB
		}
	}
	var whole, part [2]bool
	for s, names := range sides {
		rest := text
		for i, name := range names {
			left, ok := cutName(text, name)
			part[s] = part[s] || ok && left == ""
			if i == 0 {
				rest, whole[s] = left, ok
			} else if whole[s] {
				rest, whole[s] = cutName(rest, name)
			}
		}
		whole[s] = whole[s] && rest == ""
	}
	if side := only(whole); side != audit.Nobody {
		return side
	}
	if side := only(part); side != audit.Nobody {
		return side
	}
	if side := t.told.sides.of(text, sideSaid); side != audit.Nobody {
		return side
	}
	// Part of the names of one side only: a surname, one of a pair.
	text = " " + t.told.folded.of(text, fold) + " "
	for s, names := range sides {
		all, among := " ", len(names) > 0
		for _, name := range names {
			name = t.told.folded.of(name, fold)
			all += name + " "
			among = among && strings.Contains(text, " "+name+" ")
		}
		part[s] = among || strings.Contains(all, text)
	}
	return only(part)
}

// only returns the side of which alone something is so.
func only(is [2]bool) audit.MaybeSide {
	switch {
	case is[0] == is[1]:
		return audit.Nobody
	case is[0]:
		return audit.SideA
	}
	return audit.SideB
}

// sideSaid reads which side words name without a name: "home", "team 2",
// "winner side A".
func sideSaid(text string) audit.MaybeSide {
	a, b := false, false
	for word := range strings.FieldsSeq(fold(text)) {
		switch {
		case vocabulary[word] == aSide || word == "1":
			a = true
		case vocabulary[word] == bSide || word == "2":
			b = true
		case vocabulary[word] == aTeam || vocabulary[word] == aWinner || vocabulary[word] == aWon || vocabulary[word] == aPlayer || vocabulary[word] == aPair || vocabulary[word] == filler:
		default:
			return audit.Nobody
		}
	}
	return only([2]bool{a, b})
}

// splitPair splits the names of a pair in one cell.
func splitPair(text string) (string, string, bool) {
	for _, sep := range []string{" / ", "/", " & ", "&", " + ", "+", "; ", ";", " and ", " und ", " y ", " et ", " e ", "\n"} {
		if a, b, ok := strings.Cut(text, sep); ok && strings.TrimSpace(a) != "" && strings.TrimSpace(b) != "" {
			return strings.TrimSpace(a), strings.TrimSpace(b), true
		}
	}
	return text, "", false
}
