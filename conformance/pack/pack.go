// Package pack writes the rules as data: what an interpreter in any language
// needs besides code that reads it. It is made of the public API alone, so that
// there is one source of every rule; pack.json is what comes of it, and
// README.md says what each field means and what resists being data.
package pack

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

// Schema is the version of the layout of a pack. It changes when an old
// interpreter would misunderstand.
const Schema = 2

// Version is the version of the data: it grows whenever any of them does.
const Version = "2.1.0"

// Pack is the rules as data. Lists of words are one text, with a space between;
// README.md says what each field holds.
type Pack struct {
	Schema  int     `json:"schema"`
	Data    string  `json:"data"`   // Version
	Digest  string  `json:"digest"` // SHA-256 of the rest, as canonical JSON
	Core    Core    `json:"core"`
	Sports  Sports  `json:"sports"`
	Rulings Rulings `json:"rulings"`
	Clauses Clauses `json:"clauses"`
}

// Core is what games and matches of pickleball and badminton need.
type Core struct {
	Editions string           `json:"editions"`  // documents one after the other, oldest first
	Default  int              `json:"default"`   // edition of an id that names none
	Formats  [][]any          `json:"formats"`   // families of shapes
	TimeOuts [][2]any         `json:"time_outs"` // from target, switch that holds the number of time-outs
	Orders   map[string]Order `json:"orders"`    // by ORDER,SIDES,SERVERS
	Freezes  [][]int          `json:"freezes"`   // by freeze
	Switches []Switch         `json:"switches"`
	Kinds    string           `json:"kinds"`     // KIND:TEXT, or KIND where they are the same
	Later    string           `json:"later"`     // texts of the kinds of Rulings
	AfterEnd string           `json:"after_end"` // kinds that may follow the last point
	Broken   string           `json:"broken"`    // kinds that may come while a match is broken off
	Outcomes string           `json:"outcomes"`  // by cause, after the side that won; "-" for nothing
	Effects  string           `json:"effects"`
	Faults   string           `json:"faults"` // from 1
	Choices  string           `json:"choices"`
	Phases   string           `json:"phases"`
}

// Sports is what games need besides of which turns are counted, and of sports of
// which no more than scoring is known.
type Sports struct {
	Editions string            `json:"editions"` // after those of Core
	Formats  [][]any           `json:"formats"`
	Orders   map[string]Order  `json:"orders"`
	Takes    map[string]string `json:"takes"` // by switch, of these editions
	Kinds    string            `json:"kinds"` // that they have no rule for; a time-out only where a game gives none
	// Instead are an edition, a clause, and that which stands in its place.
	Instead [][]any `json:"instead"`
}

// Switch is a matter on which editions differ, as far as play turns on it: its
// name; by edition the number of the value that it takes, from 1, or 0 for no
// such rule; the names of its readings, or numbers; the clauses that each goes by;
// clauses of which one must be in force for the question to be asked; and
// FIELD=VALUE that one of the games must have. What is empty at the end is left out.
type Switch []string

// Rulings is what penalties, breaks and incidents need besides, and formats of
// one's own.
type Rulings struct {
	Fields   []string `json:"fields"` // of a game, as an id sets them: NAME for a number, or NAME and the names of its values from 0
	Match    []string `json:"match"`  // the same of what makes games a match
	Switches []Switch `json:"switches"`
	Clauses  []string `json:"clauses"` // those of the switches of Core, in their order
	// Orders are of those of Core the masks of penalties and of lines, and in full
	// those that a reading changes, by ORDER,SIDES,SERVERS,CLAUSE.
	Orders   map[string]Order `json:"orders"`
	Idle     string           `json:"idle"`  // switches that no line and no result turns on
	Own      []string         `json:"own"`   // what an id may set: NAME and the readings of an idle switch, or NAME and the most of a number
	Kinds    string           `json:"kinds"` // in the order of Core.Later, then of those that have words of their own
	AfterEnd string           `json:"after_end"`
	Broken   string           `json:"broken"`
	Freezes  string           `json:"freezes"` // by freeze: the clause by which a point is withheld
	// Accepted is the clause by which an event is taken, where no other decides: by
	// kind, in the order of Core.Kinds, then of Kinds; "-" for none.
	Accepted string `json:"accepted"`
	// Ladder has a digit a cell, the place in Rungs of what a warning or a foul
	// comes to: 0 nothing more, 1 a point, 2 the game, 3 the match, and by which
	// clause, or by that which stands in its place; "" by the value of a foul.
	Ladder   string   `json:"ladder"`
	Rungs    [][2]any `json:"rungs"`
	Line     string   `json:"line"` // FIELD, or FIELD=MOST of a side or FIELD=LETTERS of a player
	Breaks   string   `json:"breaks"`
	Causes   string   `json:"causes"`
	Mistakes string   `json:"mistakes"`
	Reaches  string   `json:"reaches"` // from 1
	Sinces   string   `json:"sinces"`
	Stoppers string   `json:"stoppers"`
}

// Clauses is what is known of each clause, by id: for each edition in which that
// changes a digit to the base of 36 for the edition, the rule number, and the first
// letter of the mark, "l" for one of low reliability, "-" from where it does not
// stand; a space between. It holds to the end of the document.
type Clauses map[string]string

// core are the switches that games and matches turn on; all others belong to
// the rulings.
var core = []string{"defer", "time-out-between", "time-outs-7", "time-outs-11", "time-outs-15", "time-outs-21"}

// New makes the pack.
func New() (*Pack, error) {
	p := &Pack{Schema: Schema, Data: Version}
	b := builder{editions: editions()}
	b.sport = slices.IndexFunc(b.editions, format.Clause(clause.ScoringOnly).In)
	p.Core.Editions, p.Sports.Editions = words(b.editions[:b.sport]), words(b.editions[b.sport:])
	p.Core.Default = b.number(format.Default)
	for _, step := range []func(*Pack) error{b.formats, b.orders, b.freezes, b.switches, b.sports, b.ladder, b.kinds, b.names, b.clauses} {
		if err := step(p); err != nil {
			return nil, err
		}
	}
	text, err := Marshal(p)
	if err != nil {
		return nil, err
	}
	sum := sha256.Sum256(text)
	p.Digest = hex.EncodeToString(sum[:])
	return p, nil
}

// Marshal writes a pack, or a part of one, as it is published: compact JSON.
func Marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false) // tables hold such characters
	err := e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// Parts are the pieces of a pack as the package for JavaScript loads them, by
// the name of their module: of the clauses those that a text names, its own code.
func (p *Pack) Parts(code string) map[string]any {
	decides, known := Clauses{}, map[string]bool{}
	text, _ := json.Marshal(p.Core)
	more, _ := json.Marshal([]any{p.Rulings, p.Sports})
	for _, word := range regexp.MustCompile(`[a-z]+(-[a-z]+)*`).FindAllString(code+string(text)+string(more), -1) {
		known[word] = true
	}
	for id, spans := range p.Clauses {
		if known[id] {
			decides[id] = spans
		}
	}
	return map[string]any{"core": p.Core, "sports": p.Sports, "rulings": p.Rulings, "clauses": decides}
}

func editions() []format.Edition {
	var out []format.Edition
	for _, d := range format.Documents() {
		out = append(out, format.Editions(d)...)
	}
	return out
}

type builder struct {
	editions []format.Edition
	sport    int // the first edition of which only scoring is known
}

// number returns the place of an edition in the list.
func (b *builder) number(e format.Edition) int { return slices.Index(b.editions, e) }

// words are the texts of a list with spaces between.
func words[T fmt.Stringer](list []T) string {
	texts := make([]string, len(list))
	for i, x := range list {
		texts[i] = x.String()
	}
	return strings.Join(texts, " ")
}
