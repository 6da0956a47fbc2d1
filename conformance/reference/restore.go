package reference

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// At takes a match up from a line. People are put where the line says that
// they stand. A line that the model would write otherwise, or with a number or
// a name that there is not, is an error; whether the position can be reached is
// not asked.
func At(f format.Format, line string) (*Match, error) {
	m, err := New(f, "", [2]int{1, 1})
	if err != nil {
		return nil, err
	}
	return m, m.takeUp(line)
}

// takeUp puts the match where a line says.
func (m *Match) takeUp(line string) error {
	v := map[string]string{}
	for _, word := range strings.Fields(line) {
		name, value, _ := strings.Cut(word, "=")
		if f := forms[name]; f != nil && !f.MatchString(value) {
			return errors.New("reference: " + name + " says no such thing: " + value)
		}
		v[name] = value
	}
	*m = Match{book: m.book, first: noSide, winner: noSide, starts: [2]int{1, 1}}
	pairs := [...]struct {
		name, by string
		into     *[2]int
	}{{"won", ":", &m.won}, {"score", "-", &m.score}, {"opens", ":", &m.opens}, {"timeouts", ":", &m.calls},
		{"vw", ":", &m.verbals}, {"tw", ":", &m.warnings}, {"tf", ":", &m.fouls}, {"gf", ":", &m.forfeits}, {"wrong", ":", &m.wrong}}
	for _, p := range pairs {
		a, b, _ := strings.Cut(v[p.name], p.by)
		p.into[sideA], p.into[sideB] = number(a), number(b)
	}
	m.phase, m.number = v["phase"], number(v["game"])
	first := v["first"]
	if len(first) == 2 && (first[0] == byte(tookEnd) || first[0] == byte(deferred)) {
		m.choice, first = choice(first[0]), first[1:]
	}
	m.first = sideIn(first)
	if s := v["start"]; len(s) == 4 {
		m.begun, m.starts = true, [2]int{number(s[1:2]), number(s[3:])}
	}
	m.ends = number(strings.TrimSuffix(v["ends"], "m"))
	m.made = strings.HasSuffix(v["ends"], "m")
	m.due, m.right = strings.Contains(v["due"], "e"), strings.Contains(v["due"], "p")
	version := 1
	if strings.HasPrefix(line, "L2 ") {
		version = 2
	}
	m.walking = strings.Contains(v["due"], "x") || version == 1 && m.due && m.coming().Order == format.FixedCourts
	if v["break"] != "-" {
		m.pause = v["break"]
	}
	if v["result"] != "-" {
		m.result = v["result"]
		if rest, ok := strings.CutSuffix(m.result, "ab"); ok {
			m.paused, m.result = true, rest
		}
	}
	var same [4]carried
	for i := range m.medical {
		m.medical[i], m.out[i] = letterAt(v["medical"], i), letterAt(v["out"], i)
		switch c := letterAt(v["carry"], i); {
		case c == 'w':
			m.carried[i] = carriedWarning
		case c == 'f':
			m.carried[i] = carriedFoul
		case version > 1 && c != 0:
			n, err := strconv.ParseUint(string(c), 32, 8)
			if err != nil {
				return errors.New("reference: nobody carries that")
			}
			m.carried[i], same[i] = carried(n)&(sameWarning-1), carried(n)&^(sameWarning-1)
		}
	}
	m.guessTheRest(same)
	if m.phase == inPlay {
		who, rest, _ := strings.Cut(v["serve"], "@")
		m.server = personIn(who)
		m.turn = 1
		if strings.HasSuffix(rest, "#2") {
			m.turn = 2
		}
		for s, name := range []string{"A", "B"} {
			if len(v[name]) == 2 {
				m.floor[s] = courts{right: personIn(name + v[name][:1]), left: personIn(name + v[name][1:])}
			}
		}
		if m.server == nobody || m.first == noSide {
			return errors.New("reference: nobody serves")
		}
		if m.inRound() && !m.rejoin(m.server, personIn(v["receive"])) {
			return errors.New("reference: nobody comes to serve so")
		}
	}
	if m.line(version) != line {
		return errors.New("reference: the line states what this model would write otherwise")
	}
	return nil
}

// guessTheRest works out what the line says only indirectly: who won the last
// game, what of the penalties was carried in, and whether the end changes made tell of a game forfeited unplayed.
func (m *Match) guessTheRest(same [4]carried) {
	if m.phase == between || m.phase == over {
		m.winner = sideA
		if m.score[sideB] > m.score[sideA] {
			m.winner = sideB
		}
		if strings.HasSuffix(m.result, "gf") {
			m.winner = sideIn(m.result[:1])
		}
	}
	for i, s := range bothSides {
		first, second := m.carried[2*i], m.carried[2*i+1]
		m.brought[s] = tally{
			warnings: countBrought(first, second, carriedWarning, same[2*i]&sameWarning != 0, m.warnings[s]),
			fouls:    countBrought(first, second, carriedFoul, same[2*i]&sameFoul != 0, m.fouls[s]),
		}
	}
	if match := m.book.match; match.ChangeEnds && m.book.game.ChangeEndsAt == 0 {
		ends := m.ends
		if m.made {
			ends = 1 - ends
		}
		m.skipped = ends != max(m.number-1, 0)%2
	}
}

// forms are what the fields can say (conformance/LINE.md, 1); those that are
// not here show when they are written back.
var forms = map[string]*regexp.Regexp{
	"game": form(`[0-9]`), "won": form(`[0-9]:[0-9]`), "score": form(points + `-` + points), "opens": form(`[0-2]:[0-2]`),
	"first": form(`-|[de]?[AB]`), "start": form(`-|A[12]B[12]`), "ends": form(`[01]m?`), "due": form(`-|e?p?x?`),
	"phase": form(`before|play|between|over|closed`), "result": form(`-|tie|dmf|[AB](ret|wd|mf|late)?|([AB]gf)?(ab)?`),
	"break": form(`-|t[AB]|(m|eq)[AB][12]|ref|blood|hazard|illness`), "timeouts": form(`[0-9]:[0-9]`), "medical": form(`[-rug]{4}`),
	"out": form(`[-xc]{4}`), "vw": form(`[01]:[01]`), "tw": form(`[0-7]:[0-7]`), "tf": form(`[0-7]:[0-7]`), "gf": form(`[0-3]:[0-3]`),
	"wrong": form(`[0-3]:[0-3]`), "carry": form(`[-1-9a-v]{4}`),
}

const points = `([0-9]|[1-9][0-9]|1[0-9][0-9]|2[0-4][0-9]|25[0-5])`

func form(pattern string) *regexp.Regexp { return regexp.MustCompile(`^(` + pattern + `)$`) }

// countBrought counts a penalty that two partners bring: once where it is of the
// same pair, which shows where there are not two on record.
func countBrought(first, second, what carried, same bool, onRecord int) int {
	n := 0
	for _, c := range []carried{first, second} {
		if c&what != 0 {
			n++
		}
	}
	if n == 2 && (same || onRecord < 2) {
		n = 1
	}
	return min(n, onRecord)
}

func letterAt(word string, i int) byte {
	if len(word) != 4 || word[i] == '-' {
		return 0
	}
	return word[i]
}

// number reads a number; what is none shows when the line is written back.
func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return -1
	}
	return n
}
