package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// A book is what the book says, with every name that it uses resolved.
type book struct {
	editions []edition
	newest   string // name in Go of the edition that callers get who name none
	switches []aSwitch
	clauses  []aClause
}

type edition struct {
	constant, name, document string
	day                      int // year*10000 + month*100 + day
	about                    []string
}

type aSwitch struct {
	id, moves, about string
	needs            []string
	unit             string
	most             int
	readings         []reading
}

type reading struct{ name, clause string }

type aClause struct {
	id, status string
	stands     []period
	texts      map[string]string // by language
	known      []fact
}

// A period holds constants in Go.
type period struct{ from, to string }

type fact struct {
	period
	number, mark, source string
}

// status and marks are the words of the book and what they are in Go.
var (
	statusOf = map[string]string{"engine": "byEngine", "referee": "byReferee", "record": "onRecord", "own": "ownRule"}
	marks    = strings.Fields("read paraphrase paraphrase-low common-practice derived memory open")
	moves    = strings.Fields("line result clock words")
)

// languages are the tags of the languages in which a clause has its sentence.
var languages = []string{"en", "de"}

// read reads a book. Its errors name the line.
func read(text string) (*book, error) {
	b := new(book)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if line == "" || line[0] == '#' {
			continue
		}
		fields := strings.Fields(line)
		var err error
		if line[0] == ' ' {
			err = b.detail(fields, strings.TrimSpace(line))
		} else {
			err = b.head(fields)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
	}
	return b, b.check()
}

// head reads the line that an edition, a switch or a clause begins with.
func (b *book) head(fields []string) error {
	switch {
	case fields[0] == "edition" && len(fields) == 5 && len(b.switches) == 0:
		day, err := strconv.Atoi(strings.ReplaceAll(fields[4], "-", ""))
		if err != nil || len(fields[4]) != len("2006-01-02") {
			return fmt.Errorf("%s is no day", fields[4])
		}
		b.editions = append(b.editions, edition{fields[1], fields[2], fields[3], day, nil})
	case fields[0] == "default" && len(fields) == 2:
		var err error
		b.newest, err = b.edition(fields[1])
		return err
	case fields[0] == "switch" && len(fields) == 3 && len(b.clauses) == 0:
		if !slices.Contains(moves, fields[2]) {
			return fmt.Errorf("a switch moves one of %v", moves)
		}
		b.switches = append(b.switches, aSwitch{id: fields[1], moves: fields[2]})
	case fields[0] == "clause" && len(fields) >= 3:
		c := aClause{id: fields[1], status: statusOf[fields[2]], texts: map[string]string{}}
		if c.status == "" {
			return fmt.Errorf("nobody is called %s", fields[2])
		}
		again := false // the next period is meant to come after a gap
		for _, word := range fields[3:] {
			if word == "again" {
				again = true
				continue
			}
			p, err := b.period(word)
			if err != nil {
				return err
			}
			back := slices.ContainsFunc(c.stands, func(other period) bool { return b.document(other.from) == b.document(p.from) })
			if back != again {
				return fmt.Errorf("%s: a clause that comes back after a gap, and no other, does so \"again\"", word)
			}
			c.stands, again = append(c.stands, p), false
		}
		b.clauses = append(b.clauses, c)
	default:
		return fmt.Errorf("want an edition, the default, a switch or a clause, in this order, not %q", strings.Join(fields, " "))
	}
	return nil
}

// detail reads a line of what stands last.
func (b *book) detail(fields []string, line string) error {
	switch {
	case len(b.clauses) > 0:
		return b.detailOfClause(&b.clauses[len(b.clauses)-1], fields, line)
	case len(b.switches) > 0:
		return b.switches[len(b.switches)-1].detail(fields, line)
	case len(b.editions) > 0 && b.newest == "":
		e := &b.editions[len(b.editions)-1]
		e.about = append(e.about, line)
		return nil
	}
	return fmt.Errorf("nothing that this belongs to")
}

func (s *aSwitch) detail(fields []string, line string) error {
	switch {
	case s.about == "":
		s.about = line
	case fields[0] == "needs" && len(fields) == 2:
		s.needs = append(s.needs, fields[1])
	case fields[0] == "number" && len(fields) == 5:
		most, err := strconv.Atoi(fields[3])
		s.most, s.unit = most, fields[4]
		return err
	case len(fields) == 2:
		s.readings = append(s.readings, reading{fields[0], fields[1]})
	default:
		return fmt.Errorf("want a reading and its clause")
	}
	return nil
}

func (b *book) detailOfClause(c *aClause, fields []string, line string) error {
	if slices.Contains(languages, fields[0]) {
		c.texts[fields[0]] = strings.TrimSpace(line[len(fields[0]):])
		return nil
	}
	p, err := b.period(fields[0])
	switch {
	case err != nil:
		return err
	case len(fields) < 3 || !slices.Contains(marks, fields[2]):
		return fmt.Errorf("want a period, a number or -, and a mark: one of %v", marks)
	}
	f := fact{p, fields[1], fields[2], strings.Join(fields[3:], " ")}
	if f.number == "-" {
		f.number = ""
	}
	c.known = append(c.known, f)
	return nil
}

// edition returns the constant of the edition with a name.
func (b *book) edition(name string) (string, error) {
	for _, e := range b.editions {
		if e.name == name {
			return e.constant, nil
		}
	}
	return "", fmt.Errorf("no edition is called %q", name)
}

// document returns the document of the edition with a constant.
func (b *book) document(constant string) string {
	for _, e := range b.editions {
		if e.constant == constant {
			return e.document
		}
	}
	return ""
}

// period reads "2019", "2013..2017", "2024..", "clubs" or "ours".
func (b *book) period(word string) (period, error) {
	if word == "clubs" || word == "ours" {
		return period{word, "latest"}, nil
	}
	first, last, several := strings.Cut(word, "..")
	from, err := b.edition(first)
	switch {
	case err != nil:
		return period{}, err
	case !several:
		return period{from, from}, nil
	case last == "":
		return period{from, "latest"}, nil
	}
	to, err := b.edition(last)
	return period{from, to}, err
}

// check looks for what no single line shows: a clause that is named and is not
// there, and one that has no sentence.
func (b *book) check() error {
	there := map[string]bool{}
	for _, c := range b.clauses {
		if there[c.id] {
			return fmt.Errorf("the clause %s stands twice", c.id)
		}
		there[c.id] = true
		for _, l := range languages {
			if c.texts[l] == "" {
				return fmt.Errorf("the clause %s has no sentence in %q", c.id, l)
			}
		}
	}
	for _, s := range b.switches {
		named := slices.Clone(s.needs)
		for _, r := range s.readings {
			named = append(named, r.clause)
		}
		for _, id := range named {
			if !there[id] {
				return fmt.Errorf("the switch %s names %s, and there is no such clause", s.id, id)
			}
		}
	}
	if b.newest == "" {
		return fmt.Errorf("no edition is the default")
	}
	return nil
}
