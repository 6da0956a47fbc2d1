package main

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// The questions that a record answers: what stood at a time-out, and who served
// at a score.
var (
	atTimeOut = regexp.MustCompile(`(?i)\b([ab])\b(?:'s)?\s+(?:(first|second|third|1st|2nd|3rd|1|2|3|last)\s+)?time-?\s?out`)
	atScore   = regexp.MustCompile(`\b(\d{1,3})\s*[-:]\s*(\d{1,3})\b`)
	inGame    = regexp.MustCompile(`(?i)\bgame\s+(\d+)\b`)
)

var ordinals = map[string]int{"": 0, "first": 1, "1st": 1, "1": 1, "second": 2, "2nd": 2, "2": 2, "third": 3, "3rd": 3, "3": 3, "last": -1}

// asked answers a question to a record.
func (o *options) asked(in io.Reader, out io.Writer) error {
	rec, err := o.open(in)
	if err != nil {
		return err
	}
	p := &page{newDesk(rec.Log, rec.Setup, o.language), out}
	game := 0
	question := o.ask
	if found := inGame.FindStringSubmatch(question); found != nil {
		game, _ = strconv.Atoi(found[1])
		question = inGame.ReplaceAllString(question, "")
	}
	if found := atTimeOut.FindStringSubmatch(question); found != nil {
		p.timeOut(rally.Side(strings.ToUpper(found[1])[0]-'A'), ordinals[strings.ToLower(found[2])], game)
		return nil
	}
	if found := atScore.FindStringSubmatch(question); found != nil {
		a, _ := strconv.Atoi(found[1])
		b, _ := strconv.Atoi(found[2])
		p.servedAt(a, b, game)
		return nil
	}
	return fmt.Errorf("-ask knows two questions: \"score at B's second time-out\" and \"who served at 7-5\" (A first), both with \"in game 2\" where that matters; this is %q", o.ask)
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
