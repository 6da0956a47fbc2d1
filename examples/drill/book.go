package main

import (
	"math/rand/v2"
	"slices"
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/words"
)

// A matter is one switch of the rulebook as two editions answer it: by a
// reading, which is a clause with a sentence, or by a number.
type matter struct {
	of       format.Switch
	readings []format.Clause // that stand in some edition, each once
	numbers  []int           // in place of readings
}

// matters are all that editions of the sport answer differently, or answer by a
// number: what there is to know of a book besides how a point is scored.
var matters = func() []matter {
	var out []matter
	for _, s := range format.Switches() {
		m := matter{of: s}
		for _, e := range format.Editions(format.Pickleball) {
			r := format.RulingsOf(e)
			c := r.Clause(s)
			n, err := strconv.Atoi(r.Text(s))
			switch {
			case err == nil && c != 0 && !slices.Contains(m.numbers, n):
				m.numbers = append(m.numbers, n)
			case err != nil && c != 0 && !slices.Contains(m.readings, c):
				m.readings = append(m.readings, c)
			}
		}
		if len(m.readings) > 1 || len(m.numbers) > 0 && len(m.readings) == 0 {
			out = append(out, m)
		}
	}
	return out
}()

// known reports whether an edition answers a matter and a text settles how.
func (m *matter) known(e format.Edition) bool {
	r := format.RulingsOf(e)
	c := r.Clause(m.of)
	if c == 0 {
		return false
	}
	source, ok := c.Source(e)
	return ok && source.Mark != format.Open
}

// answer is how an edition answers a matter, as text.
func (m *matter) answer(e format.Edition) words.Text {
	r := format.RulingsOf(e)
	if len(m.numbers) > 0 {
		n, _ := strconv.Atoi(r.Text(m.of))
		return m.amount(n)
	}
	return words.For(r.Clause(m.of))
}

// amount is a number of a matter with what it counts.
func (m *matter) amount(n int) words.Text {
	switch name := m.of.String(); {
	case len(name) > 8 && name[len(name)-8:] == "-seconds" && n%60 == 0:
		return say("drill.minutes", number("n", n/60))
	case len(name) > 8 && name[len(name)-8:] == "-seconds":
		return say("drill.seconds", number("n", n))
	}
	return say("drill.times", number("n", n))
}

// changedMatters are those that the edition answers otherwise than the one
// before, where texts settle both.
func (o *options) changedMatters() []matter {
	var out []matter
	for _, m := range matters {
		if m.known(o.edition) && m.known(o.since) && !m.answer(o.edition).Equal(m.answer(o.since)) {
			out = append(out, m)
		}
	}
	return out
}

// changedClauses are the clauses that stand in one of the two editions only,
// where that is read in a text, and that no changed matter is about.
func (o *options) changedClauses() []format.Clause {
	var out []format.Clause
	for _, c := range format.Clauses() {
		in := o.since
		if c.In(o.edition) {
			in = o.edition
		}
		source, stands := c.Source(in)
		if c.In(o.edition) == c.In(o.since) || !stands || source.Mark == format.Open || source.Document != format.Pickleball {
			continue
		}
		if !slices.ContainsFunc(o.changedMatters(), func(m matter) bool { return m.of == c.Switch() }) {
			out = append(out, c)
		}
	}
	return out
}

// changedClause asks which of several clauses is new, or gone; the others stand
// in both editions.
func (m *maker) changedClause(rng *rand.Rand, c format.Clause) exercise {
	ask, in := words.Code("drill.ask-new"), m.edition
	if !c.In(m.edition) {
		ask, in = "drill.ask-gone", m.since
	}
	var both []format.Clause
	for _, other := range format.Clauses() {
		if s, ok := other.Source(m.edition); ok && s.Document == format.Pickleball && other.In(m.since) && other.In(m.edition) {
			both = append(both, other)
		}
	}
	clauses := []format.Clause{c}
	for _, i := range rng.Perm(len(both))[:3] {
		clauses = append(clauses, both[i])
	}
	source, _ := c.Source(in)
	x := exercise{topic: inBook, subject: c.String(), prompt: []words.Text{say(ask, plain("edition", m.edition.String()), plain("since", m.since.String()))},
		reason: []words.Text{words.For(c), cite(c, source)}}
	x.about.clause, x.about.since = c, m.since
	for _, i := range rng.Perm(len(clauses)) {
		x.options = append(x.options, words.For(clauses[i]))
		x.about.clauses = append(x.about.clauses, clauses[i])
		if i == 0 {
			x.key = strconv.Itoa(len(x.options))
		}
	}
	return x
}

// inTheBook asks which of several readings stands in the edition.
func (m *maker) inTheBook(rng *rand.Rand) exercise {
	var fit []matter
	for _, b := range matters {
		if b.known(m.edition) {
			fit = append(fit, b)
		}
	}
	return m.reading(rng, fit[rng.IntN(len(fit))])
}

// changedReading asks it of a matter that has changed, and shows both.
func (m *maker) changedReading(rng *rand.Rand) exercise {
	n := rng.IntN(len(m.changedBook) + len(m.gone))
	if n >= len(m.changedBook) {
		return m.changedClause(rng, m.gone[n-len(m.changedBook)])
	}
	b := m.changedBook[n]
	x := m.reading(rng, b)
	r := format.RulingsOf(m.since)
	source, _ := r.Clause(b.of).Source(m.since)
	x.reason = append([]words.Text{say("drill.ruling-then", plain("edition", m.since.String()), text("ruling", b.answer(m.since))), cite(r.Clause(b.of), source),
		say("drill.ruling-now", plain("edition", m.edition.String()), text("ruling", b.answer(m.edition)))}, x.reason...)
	return x
}

// reading asks how the edition answers a matter. The other options are how other
// editions answer it, and other lengths of time.
func (m *maker) reading(rng *rand.Rand, b matter) exercise {
	r := format.RulingsOf(m.edition)
	c := r.Clause(b.of)
	right := b.answer(m.edition)
	options := []words.Text{right}
	ask := say("drill.ask-book", plain("edition", m.edition.String()))
	if len(b.numbers) > 0 {
		ask = say("drill.ask-amount", text("matter", say(words.Code("drill.matter-"+b.of.String()))), plain("edition", m.edition.String()))
		n, _ := strconv.Atoi(r.Text(b.of))
		for _, other := range []int{n * 2, n / 2, n * 3, n + n/2, n + 1} {
			if text := b.amount(other); other > 0 && len(options) < 4 && !slices.ContainsFunc(options, text.Equal) {
				options = append(options, text)
			}
		}
	}
	for _, other := range b.readings {
		if text := words.For(other); !slices.ContainsFunc(options, text.Equal) && len(options) < 4 {
			options = append(options, text)
		}
	}
	source, _ := c.Source(m.edition)
	x := exercise{topic: inBook, subject: b.of.String(), prompt: []words.Text{ask}, reason: []words.Text{words.For(c), cite(c, source)}}
	x.about.matter = b.of
	x.about.clause = c
	for _, i := range rng.Perm(len(options)) {
		x.options = append(x.options, options[i])
		if i == 0 {
			x.key = strconv.Itoa(len(x.options))
		}
	}
	return x
}
