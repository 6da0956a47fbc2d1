package exercise

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
func (c *Course) changedMatters() []matter {
	var out []matter
	for _, m := range matters {
		if m.known(c.Edition) && m.known(c.Since) && !m.answer(c.Edition).Equal(m.answer(c.Since)) {
			out = append(out, m)
		}
	}
	return out
}

// changedClauses are the clauses that stand in one of the two editions only,
// where that is read in a text, and that no changed matter is about.
func (c *Course) changedClauses() []format.Clause {
	var out []format.Clause
	changed := c.changedMatters()
	for _, each := range format.Clauses() {
		in := c.Since
		if each.In(c.Edition) {
			in = c.Edition
		}
		source, stands := each.Source(in)
		if each.In(c.Edition) == each.In(c.Since) || !stands || source.Mark == format.Open || source.Document != format.Pickleball {
			continue
		}
		if !slices.ContainsFunc(changed, func(m matter) bool { return m.of == each.Switch() }) {
			out = append(out, each)
		}
	}
	return out
}

// changedClause asks which of several clauses is new, or gone; the others stand
// in both editions.
func (m *Maker) changedClause(rng *rand.Rand, c format.Clause) Exercise {
	ask, in := words.Code("drill.ask-new"), m.Edition
	if !c.In(m.Edition) {
		ask, in = "drill.ask-gone", m.Since
	}
	var both []format.Clause
	for _, other := range format.Clauses() {
		if s, ok := other.Source(m.Edition); ok && s.Document == format.Pickleball && other.In(m.Since) && other.In(m.Edition) {
			both = append(both, other)
		}
	}
	clauses := []format.Clause{c}
	for _, i := range rng.Perm(len(both))[:3] {
		clauses = append(clauses, both[i])
	}
	source, _ := c.Source(in)
	x := Exercise{Topic: inBook, Subject: c.String(), Prompt: []words.Text{say(ask, plain("edition", m.Edition.String()), plain("since", m.Since.String()))}}
	then, now := say("drill.no-rule"), words.For(c)
	if in == m.Since {
		then, now = now, then
	}
	x.Reason = []words.Text{say("drill.ruling-then", plain("edition", m.Since.String()), text("ruling", then)),
		say("drill.ruling-now", plain("edition", m.Edition.String()), text("ruling", now)), cite(c, source)}
	x.about.clause, x.about.since = c, m.Since
	for _, i := range rng.Perm(len(clauses)) {
		x.Options = append(x.Options, words.For(clauses[i]))
		x.about.clauses = append(x.about.clauses, clauses[i])
		if i == 0 {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	return x
}

// inTheBook asks which of several readings stands in the edition.
func (m *Maker) inTheBook(rng *rand.Rand) Exercise {
	var fit []matter
	for _, b := range matters {
		if b.known(m.Edition) {
			fit = append(fit, b)
		}
	}
	return m.reading(rng, fit[rng.IntN(len(fit))])
}

// changedReading asks it of a matter that has changed, and shows both.
func (m *Maker) changedReading(rng *rand.Rand) Exercise {
	n := rng.IntN(len(m.changedBook) + len(m.gone))
	if n >= len(m.changedBook) {
		return m.changedClause(rng, m.gone[n-len(m.changedBook)])
	}
	b := m.changedBook[n]
	x := m.reading(rng, b)
	r := format.RulingsOf(m.Since)
	source, _ := r.Clause(b.of).Source(m.Since)
	x.Reason = append([]words.Text{say("drill.ruling-then", plain("edition", m.Since.String()), text("ruling", b.answer(m.Since))), cite(r.Clause(b.of), source),
		say("drill.ruling-now", plain("edition", m.Edition.String()), text("ruling", b.answer(m.Edition)))}, x.Reason...)
	return x
}

// reading asks how the edition answers a matter. The other options are how other
// editions answer it, and other lengths of time.
func (m *Maker) reading(rng *rand.Rand, b matter) Exercise {
	r := format.RulingsOf(m.Edition)
	c := r.Clause(b.of)
	right := b.answer(m.Edition)
	options := []words.Text{right}
	ask := say("drill.ask-book", plain("edition", m.Edition.String()))
	if len(b.numbers) > 0 {
		ask = say("drill.ask-amount", text("matter", say(words.Code("drill.matter-"+b.of.String()))), plain("edition", m.Edition.String()))
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
	source, _ := c.Source(m.Edition)
	x := Exercise{Topic: inBook, Subject: b.of.String(), Prompt: []words.Text{ask}, Reason: []words.Text{words.For(c), cite(c, source)}}
	x.about.matter = b.of
	x.about.clause = c
	for _, i := range rng.Perm(len(options)) {
		x.Options = append(x.Options, options[i])
		if i == 0 {
			x.Key = strconv.Itoa(len(x.Options))
		}
	}
	return x
}
