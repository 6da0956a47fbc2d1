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
	"slices"

	"github.com/evencourt/evencourt/format"
)

// Schema is the version of the layout of a pack. It changes when an old
// interpreter would misunderstand.
const Schema = 1

// Version is the version of the data: it grows whenever any of them does.
const Version = "1.0.0"

// Pack is the rules as data.
type Pack struct {
	Schema  int     `json:"schema"`
	Data    string  `json:"data"`   // Version
	Digest  string  `json:"digest"` // SHA-256 of the rest, as canonical JSON
	Core    Core    `json:"core"`
	Rulings Rulings `json:"rulings"`
	Clauses Clauses `json:"clauses"`
}

// Core is what games and matches need.
type Core struct {
	Editions []string `json:"editions"` // documents one after the other, oldest first
	Default  string   `json:"default"`  // edition of an id that names none
	// Fields are the names of the entries of a game in Games, as an id sets them;
	// with a list of names where its values have names.
	Fields   []Field          `json:"fields"`
	Match    []Field          `json:"match"`     // the same of what makes games a match
	Games    [][]int          `json:"games"`     // rows of values
	Formats  map[string][]int `json:"formats"`   // by shape: from edition, to edition, game, last game, values of the match; once for each span
	TimeOuts [][]any          `json:"time_outs"` // from target, switch that holds the number of time-outs
	Orders   map[string]Order `json:"orders"`    // by ORDER,SIDES,SERVERS, and readings that move people otherwise
	// Scoring are the editions of which only score, order and ends are here, and the
	// kinds that they have no rule for; a time-out only where a game gives none.
	Scoring Scoring `json:"scoring"`
	// Instead are from edition, to edition, a clause, and that which stands in its place.
	Instead  [][]any     `json:"instead"`
	Freezes  [][]any     `json:"freezes"` // by freeze: see README.md
	Switches []Switch    `json:"switches"`
	Kinds    [][4]string `json:"kinds"` // name, text before, text after, what stands between
	Effects  []string    `json:"effects"`
	Faults   []string    `json:"faults"`
	Choices  []string    `json:"choices"`
	Phases   []string    `json:"phases"`
	Breaks   []string    `json:"breaks"`
	Causes   []string    `json:"causes"`
}

// Scoring says where no more than scoring is known of a sport.
type Scoring struct {
	Editions []int    `json:"editions"`
	Kinds    []string `json:"kinds"`
}

// Field is a value of a game or a match.
type Field struct {
	Name  string   `json:"name"`
	Names []string `json:"names,omitempty"` // of its values; none for a number
}

// Switch is a matter on which editions differ, as far as play turns on it.
type Switch struct {
	Name string `json:"name"`
	// Readings are their names, and Clauses the ids of the clauses that they go
	// by; a switch that holds a number has one clause and no name.
	Readings []string `json:"readings,omitempty"`
	Clauses  []string `json:"clauses"`
	// Numbers are the clauses of single numbers, where they go by another.
	Numbers map[int]string `json:"numbers,omitempty"`
	Takes   []int          `json:"takes"`           // by edition: the number of the reading, from 1, or the number; 0 for no such rule
	Needs   []string       `json:"needs,omitempty"` // clauses of which one must be in force for the question to be asked
	Asked   string         `json:"asked,omitempty"` // FIELD=VALUE that one of the games must have
}

// Rulings is what penalties and incidents need besides.
type Rulings struct {
	Switches []Switch `json:"switches"`
	// Ladder has a digit a cell, the place in Rungs of what a warning or a foul
	// comes to: 0 nothing more, 1 a point, 2 the game, 3 the match, and by which
	// clause, or by that which stands in its place; "" by the value of a foul.
	Ladder string   `json:"ladder"`
	Rungs  [][2]any `json:"rungs"`
	// Accepted is the clause by which an event of a kind is taken, where no other
	// decides.
	Accepted map[string]string `json:"accepted"`
	Mistakes []string          `json:"mistakes"`
	Reaches  []string          `json:"reaches"`
	Sinces   []string          `json:"sinces"`
	Stoppers []string          `json:"stoppers"`
}

// Clauses is what is known of each clause, by id: from edition, to edition,
// rule number, mark; once for each span.
type Clauses map[string][]any

// core are the switches that games and matches turn on; all others belong to
// the rulings.
var core = []string{"defer", "time-out-between", "time-outs-7", "time-outs-11", "time-outs-15", "time-outs-21"}

// New makes the pack.
func New() (*Pack, error) {
	p := &Pack{Schema: Schema, Data: Version}
	b := builder{editions: editions()}
	for _, e := range b.editions {
		p.Core.Editions = append(p.Core.Editions, e.String())
	}
	p.Core.Default = format.Default.String()
	for _, step := range []func(*Pack) error{b.formats, b.orders, b.freezes, b.switches, b.sports, b.ladder, b.accepted, b.names, b.clauses} {
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
// the name of their module: of the clauses those that code goes by.
func (p *Pack) Parts() map[string]any {
	decides := Clauses{}
	for _, c := range format.Clauses() {
		if s := c.Status().String(); s == "engine" || s == "own" {
			decides[c.String()] = p.Clauses[c.String()]
		}
	}
	return map[string]any{"core": p.Core, "rulings": p.Rulings, "clauses": decides}
}

func editions() []format.Edition {
	var out []format.Edition
	for _, d := range format.Documents() {
		out = append(out, format.Editions(d)...)
	}
	return out
}

type builder struct{ editions []format.Edition }

// number returns the place of an edition in the list.
func (b *builder) number(e format.Edition) int { return slices.Index(b.editions, e) }
