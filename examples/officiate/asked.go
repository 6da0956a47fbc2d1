package main

import (
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// asking is how a language asks what a record answers: what stood at a time-out,
// and who served at a score. Its words stand in the catalog.
type asking struct {
	timeOut, game []string
	nth           map[string]int // which time-out of a game; -1 for the last
}

// asks adds the words of a language.
func (a *asking) asks(l *words.Language) {
	list := func(c words.Code) []string {
		return strings.Split(strings.ToLower(l.Say(words.New(c))), ", ")
	}
	a.timeOut = append(a.timeOut, list("officiate.asked-time-out")...)
	a.game = append(a.game, list("officiate.asked-game")...)
	for n, code := range map[int]words.Code{1: "officiate.asked-first", 2: "officiate.asked-second", 3: "officiate.asked-third", -1: "officiate.asked-last"} {
		for _, word := range list(code) {
			a.nth[word] = n
		}
	}
}

// newAsking takes the words of a language, and those of English beside it.
func newAsking(l *words.Language) *asking {
	a := &asking{nth: map[string]int{"1": 1, "2": 2, "3": 3}}
	if english, err := texts.Language("en"); err == nil {
		a.asks(english)
	}
	a.asks(l)
	return a
}

// question is what is asked of a record.
type question struct {
	timeOut bool
	side    rally.Side
	nth     int    // of the time-out in its game; 0 for each
	score   [2]int // A first, where no time-out is meant
	game    int    // 0 for any
}

// parse reads a question; it is false for one that no record answers.
func (a *asking) parse(text string) (q question, ok bool) {
	lower := strings.ToLower(text)
	q.timeOut = slices.ContainsFunc(a.timeOut, func(word string) bool { return strings.Contains(lower, word) })
	tokens := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '-' && r != ':' })
	sided := ""
	for i, token := range tokens {
		word := strings.ToLower(token)
		if n, err := strconv.Atoi(word); err == nil && i > 0 && slices.Contains(a.game, strings.ToLower(tokens[i-1])) {
			q.game = n
			continue
		}
		if n, known := a.nth[word]; known {
			q.nth = n
		}
		switch first, second, _ := strings.Cut(strings.ReplaceAll(word, ":", "-"), "-"); {
		case word == "a" || word == "b" || token == "As" || token == "Bs":
			if side := strings.ToUpper(word[:1]); sided == "" || token[0] < 'a' { // a small one may be an article
				sided = side
			}
		case !q.timeOut && second != "":
			var errs [2]error
			q.score[0], errs[0] = strconv.Atoi(first)
			q.score[1], errs[1] = strconv.Atoi(second)
			ok = ok || errs == [2]error{}
		}
	}
	if sided == "B" {
		q.side = rally.B
	}
	return q, ok || q.timeOut && sided != ""
}

// asked answers a question to a record.
func (o *options) asked(in io.Reader, out io.Writer) error {
	rec, err := o.open(in)
	if err != nil {
		return err
	}
	p := &page{newDesk(rec.Log, rec.Setup, o.language), out}
	q, ok := newAsking(o.language).parse(o.ask)
	switch {
	case !ok:
		return texts.Wrong("officiate.asked-what", words.Name("question", format.Quote(program.Shorten(o.ask))))
	case q.timeOut:
		p.timeOut(q.side, q.nth, q.game)
	default:
		p.servedAt(q.score[0], q.score[1], q.game)
	}
	return nil
}

// timeOut says what stood at a time-out of a side: the n-th of a game, the last
// one for -1, all for 0.
func (p *page) timeOut(side rally.Side, n, game int) {
	var found []rally.Step
	count := map[int]int{}
	p.log.Each(func(st rally.Step) bool {
		if st.Event == rally.OfSide(rally.TimeOut, side) && st.Holds {
			at := st.After.Game()
			if st.After.Phase() != rally.Playing {
				at++ // it is of the coming game
			}
			count[at]++
			if (game == 0 || at == game) && (n <= 0 || count[at] == n) {
				found = append(found, st)
			}
		}
		return true
	})
	if n < 0 && len(found) > 0 {
		found = found[len(found)-1:]
	}
	p.stood(found)
}

// servedAt says who served at a score, A first, each time that it stood.
func (p *page) servedAt(a, b, game int) {
	var found []rally.Step
	p.log.Each(func(st rally.Step) bool {
		s := st.After
		moved := st.Before.Phase() != rally.Playing || st.Before.Score(rally.A) != a || st.Before.Score(rally.B) != b || st.Effects&(rally.SideOut|rally.SecondServer) != 0
		if st.Holds && s.Phase() == rally.Playing && s.Score(rally.A) == a && s.Score(rally.B) == b && moved && (game == 0 || s.Game() == game) {
			found = append(found, st)
		}
		return true
	})
	p.stood(found)
}

func (p *page) stood(found []rally.Step) {
	for _, st := range found {
		s := st.After
		args := []words.Arg{words.Count("game", s.Game()), words.Points("score", s.Score(rally.A), s.Score(rally.B)), words.Count("entry", st.N), words.Name("time", dash(p.when(st.N)))}
		if s.Phase() != rally.Playing {
			p.print("officiate.stood-between", args...)
			continue
		}
		at := st.Rules.Places(s)
		p.print("officiate.stood", append(args, words.Within("call", p.guide.Call(s)), p.player("server", at.Server), courtWord(at.Court), p.player("receiver", at.Receiver))...)
	}
	if len(found) == 0 {
		p.print("officiate.stood-never")
	}
}
