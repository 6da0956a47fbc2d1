package reference

import (
	"errors"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// At takes a match up from a line. People are put where the line says that
// they stand. What the line states of events outside this model, and a line
// that the model would write otherwise, is an error.
func At(f format.Format, line string) (*Match, error) {
	m, err := New(f, "", [2]int{1, 1})
	if err != nil {
		return nil, err
	}
	v := map[string]string{}
	for _, word := range strings.Fields(line) {
		name, value, _ := strings.Cut(word, "=")
		v[name] = value
	}
	pairs := [...]struct {
		name, by string
		into     *[2]int
	}{{"won", ":", &m.won}, {"score", "-", &m.score}, {"opens", ":", &m.opens}, {"timeouts", ":", &m.calls}, {"tf", ":", &m.fouls}}
	for _, p := range pairs {
		a, b, _ := strings.Cut(v[p.name], p.by)
		p.into[sideA], p.into[sideB] = number(a), number(b)
	}
	m.phase, m.number = v["phase"], number(v["game"])
	m.first = sideIn(v["first"])
	if s := v["start"]; len(s) == 4 {
		m.starts = [2]int{number(s[1:2]), number(s[3:])}
	}
	m.ends = number(strings.TrimSuffix(v["ends"], "m"))
	m.made, m.due = strings.HasSuffix(v["ends"], "m"), v["due"] == "e"
	if v["break"] != "-" {
		m.pause = v["break"]
	}
	if v["result"] != "-" {
		m.result = v["result"]
	}
	if m.phase == between || m.phase == over {
		m.winner = sideA
		if m.score[sideB] > m.score[sideA] {
			m.winner = sideB
		}
	}
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
			return nil, errors.New("reference: nobody serves")
		}
	}
	if m.Line() != line {
		return nil, errors.New("reference: the line states what this model does not play")
	}
	return m, nil
}

// number reads a number; what is none shows when the line is written back.
func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return -1
	}
	return n
}
