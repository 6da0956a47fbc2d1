package reference

import (
	_ "embed"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// What the shapes are and what the editions answer, typed a second time.
var (
	//go:embed shapes.txt
	shapesText string
	//go:embed editions.txt
	editionsText string
)

// editions are the texts that the tables speak of, oldest first.
var editions = []string{"1999", "2013", "2017", "2018", "2019", "2020", "2021", "2022", "2023", "2023-08",
	"2024", "2025", "2026", "badminton-2005", "badminton-2006", "badminton-2027",
	"table-tennis-2000", "table-tennis-2001", "tennis-2025", "beach-2025", "squash-doubles-2010"}

// Taught reports whether the model knows an edition: somebody has typed what it
// answers. One that the library has before the model is taught it is not played.
func Taught(e format.Edition) bool { return slices.Contains(editions, e.String()) }

// scoringOnly are those of which only score, order and ends are here.
var scoringOnly = editions[len(editions)-5:]

// A book is all that a match is played by: its games, and the answers of an
// edition to everything else, by the name of the switch; a missing answer
// means that the edition has no such rule.
type book struct {
	game, last format.Game // every game but the last possible one; that one
	match      format.Series
	answers    map[string]string
	// scoringOnly: there are no other rules than those of score, order and ends.
	scoringOnly bool
}

// of returns how game number n of the match is played.
func (b *book) of(n int) *format.Game {
	if n >= int(b.match.Games) {
		return &b.last
	}
	return &b.game
}

// needed is how many games win the match.
func (b *book) needed() int { return int(b.match.Games)/2 + 1 }

// decides says whether the match is over after that many games won.
func (b *book) decides(won [2]int) bool {
	decided := !b.match.PlayAll && max(won[sideA], won[sideB]) >= b.needed()
	return decided || won[sideA]+won[sideB] >= int(b.match.Games)
}

// number is the answer that is a number, 0 where there is none.
func (b *book) number(name string) int {
	n, _ := strconv.Atoi(b.answers[name])
	return n
}

// open looks a format up in the tables of this package. Only what somebody
// changed in it is taken from the format itself: the reading of a switch, a
// field of its games, and all of a format that has no name.
func open(f *format.Format) *book {
	edition := f.Edition.String()
	b := &book{game: f.Game, last: f.Last, match: f.Match, answers: answersOf[edition],
		scoringOnly: slices.Contains(scoringOnly, edition)}
	if usual := format.RulingsOf(f.Edition); f.Rulings != usual {
		b.answers = maps.Clone(b.answers)
		for _, s := range format.Switches() {
			if f.Rulings[s] != usual[s] {
				b.answers[s.String()] = f.Rulings.Text(s)
			}
		}
	}
	typed, ok := shapes[f.Shape+"@"+edition]
	named, err := format.Named(f.Shape, f.Edition)
	if !ok || err != nil {
		return b
	}
	b.game, b.last, b.match = typed.game, typed.last, typed.match
	changed(&b.game, f.Game, named.Game)
	changed(&b.last, f.Last, named.Last)
	changed(&b.match, f.Match, named.Match)
	return b
}

// changed takes over the fields in which a format differs from its shape.
func changed[T any](typed *T, is, usual T) {
	to, from, was := reflect.ValueOf(typed).Elem(), reflect.ValueOf(is), reflect.ValueOf(usual)
	for i := range to.NumField() {
		if !from.Field(i).Equal(was.Field(i)) {
			to.Field(i).Set(from.Field(i))
		}
	}
}

var (
	answersOf = readEditions(editionsText) // edition, switch: answer
	shapes    = readShapes(shapesText)     // SHAPE@EDITION; without answers
)

// lines are those of a table that say something.
func lines(text string) []string {
	var out []string
	for line := range strings.Lines(text) {
		if line = strings.TrimRight(line, "\n"); line != "" && line[0] != '#' {
			out = append(out, line)
		}
	}
	return out
}

// span lists the editions from one to another, both included.
func span(text string) []string {
	if text == "badminton" {
		text = "badminton-2005..badminton-2027"
	}
	from, to, ranged := strings.Cut(text, "..")
	if !ranged {
		to = from
	}
	var out []string
	in := false
	for _, e := range editions {
		in = in || e == from
		if in {
			out = append(out, e)
		}
		if in && e == to {
			return out
		}
	}
	panic("reference: no such editions: " + text)
}

func readEditions(text string) map[string]map[string]string {
	out := map[string]map[string]string{}
	for _, e := range editions {
		out[e] = map[string]string{}
	}
	name := ""
	for _, line := range lines(text) {
		words := strings.Fields(line)
		if line[0] != ' ' {
			name = words[0]
			continue
		}
		for _, e := range span(words[0]) {
			if out[e][name] != "" {
				panic("reference: two answers to " + name + " in " + e)
			}
			out[e][name] = words[1]
		}
	}
	return out
}

// has adds what a shape of another sport has of its own.
func (b *book) has(own string) {
	word, value, _ := strings.Cut(own, "=")
	value, last, _ := strings.Cut(value, "/")
	switch word {
	case "serves": // points of a turn / of the first
		b.game.Serves, b.game.FirstTurn = small(value), small(last)
		b.last.Serves, b.last.FirstTurn = small(value), small(last)
	case "every": // points of both after which ends change / in the last game
		b.game.ChangeEndsEvery, b.last.ChangeEndsEvery = small(value), small(last)
	case "last":
		b.last.Target = small(value)
	case "ends": // chosen, or never changed, after a game
		b.match.ChangeEnds = false
	default:
		panic("reference: no such word in shapes.txt: " + own)
	}
}

func readShapes(text string) map[string]*book {
	out := map[string]*book{}
	for _, line := range lines(text) {
		w := strings.Fields(line)
		var g format.Game
		servers, first, _ := strings.Cut(w[4], "/")
		named(&g.Sides, w[2])
		named(&g.Scorer, w[3])
		named(&g.Order, w[5])
		named(&g.Freeze, w[9])
		g.Servers, g.FirstTurn = small(servers), small(first)
		g.Target, g.WinBy, g.Cap, g.TimeOuts = small(w[6]), small(w[7]), small(w[8]), small(w[11])
		for most := range strings.SplitSeq(w[12], ",") {
			b := &book{game: g, last: g}
			b.last.ChangeEndsAt = small(w[10])
			b.match.Games = small(most)
			b.match.ChangeEnds = most != "1"
			for _, own := range w[14:] {
				b.has(own)
			}
			named(&b.match.NextServe, w[13])
			id := w[0]
			if most == "1" {
				b.game = b.last
			} else {
				id += "-of" + most
			}
			for _, e := range span(w[1]) {
				out[id+"@"+e] = b
			}
		}
	}
	return out
}

func small(text string) uint8 {
	n, err := strconv.ParseUint(text, 10, 8)
	if err != nil {
		panic("reference: no number: " + text)
	}
	return uint8(n)
}

// named reads a word of the formats.
func named(v interface{ UnmarshalText([]byte) error }, text string) {
	if err := v.UnmarshalText([]byte(text)); err != nil {
		panic(fmt.Sprint("reference: ", err))
	}
}
