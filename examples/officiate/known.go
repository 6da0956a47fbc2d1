package main

import (
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/paper"
	"github.com/evencourt/evencourt/examples/program/setup"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// change supplies or changes what is known of the match: a name, a mark or an id
// of a player, the name of a side, what the match, its court and its referee are
// called, and which side is on the referee's left now.
func (v *live) change(word, rest string) {
	u := v.setup
	id, value, _ := strings.Cut(rest, " ")
	id, value = strings.ToUpper(id), strings.TrimSpace(value)
	switch word {
	case "match", "court", "referee":
		setup.Set(&u, word, rest)
	case "left", "team":
		side := rally.Side(strings.Index("AB", id) & 1)
		if id != "A" && id != "B" || word == "team" && value == "" {
			v.print("officiate.want-side", words.Name("word", word))
			return
		}
		if word == "team" {
			setup.Set(&u, id, value)
			break
		}
		if v.log.State().EndsSwapped() { // the set-up says who was there at the first serve
			side = side.Other()
		}
		u.Left = side
	default:
		var p rally.Person
		if err := p.UnmarshalText([]byte(id)); err != nil || value == "" || !v.doubles() && p.Player() == 2 {
			v.print("officiate.want-name", words.Name("word", word))
			return
		}
		setup.Set(&u, id+"."+word, value)
	}
	if err := v.log.Rules().Validate(u); err != nil {
		v.print("officiate.refused", words.Name("typed", word), words.Within("reason", v.reason(err)))
		return
	}
	v.keep(func() error { return v.saved.Setup(u) })
	v.setup = u
	v.guide = referee.New(v.log.Rules(), u)
	v.known(word, id)
}

// known says what has just been supplied.
func (v *live) known(word, id string) {
	switch word {
	case "left":
		v.print("officiate.stands-left", v.side("left", rally.Side(strings.Index("AB", id))), v.side("right", rally.Side(strings.Index("BA", id))))
	case "match", "court", "referee":
		v.whole()
	case "team":
		v.print("officiate.is-called", words.Name("player", id), v.side("name", rally.Side(strings.Index("AB", id))))
	default:
		var p rally.Person
		_ = p.UnmarshalText([]byte(id)) // it was read before
		v.who(p)
	}
}

// whole says what the match is called, where it is played and who officiates.
func (v *live) whole() {
	if v.setup.Match != "" {
		v.put("", v.setup.Match)
	}
	if v.setup.Referee != "" || v.setup.Court != "" {
		v.print("officiate.where", words.Name("referee", dash(v.setup.Referee)), words.Name("court", dash(v.setup.Court)))
	}
}

// who says who a player is: name, mark and id as far as they are known.
func (v *live) who(p rally.Person) {
	is := v.setup.Sides[p.Side()].Players[p.Player()-1]
	player := words.Name("player", p.String())
	if is.Name == "" {
		v.print("officiate.no-name", player)
	} else {
		v.print("officiate.is-called", player, words.Arg{Name: "name", Value: v.guide.Person(p)})
	}
	if is.Mark != "" {
		v.print("officiate.has-mark", player, words.Name("mark", is.Mark))
	}
	if is.ID != "" {
		v.print("officiate.has-id", player, words.Name("id", is.ID))
	}
}

// names says what is known of the match and who is who.
func (v *live) names() {
	v.whole()
	for side := rally.A; side <= rally.B; side++ {
		v.print("officiate.is-called", words.Name("player", side.String()), v.side("name", side))
	}
	for p := rally.A1; p <= rally.B2; p++ {
		if v.doubles() || p.Player() == 1 {
			v.who(p)
		}
	}
}

// when is the time of an entry: of day where the record says when it began, else
// since then; "" where the entry has none.
func (d *desk) when(n int) string { return paper.When(d.log, d.setup, n) }

// entries lists the entries, the last few where a number is given: number, time,
// what was entered, and whether it holds no longer.
func (v *live) entries(last string) {
	from := 1
	if n, err := strconv.Atoi(last); err == nil && n > 0 {
		from = max(1, v.log.Len()-n+1)
	}
	holds := v.holding()
	for n := from; n <= v.log.Len(); n++ {
		code := words.Code("officiate.entry")
		if !holds[n] && !v.log.Entry(n).Corrects() {
			code = "officiate.entry-undone"
		}
		v.print(code, words.Count("entry", n), words.Name("time", dash(v.when(n))), words.Name("typed", v.log.Entry(n).String()))
	}
}

// holding says which entries hold as the log stands.
func (d *desk) holding() map[int]bool {
	out := map[int]bool{}
	d.log.Each(func(st rally.Step) bool {
		out[st.N] = st.Holds
		return true
	})
	return out
}
