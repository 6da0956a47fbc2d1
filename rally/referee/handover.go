package referee

import (
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// HandOver is everything a referee needs who takes a match over in its middle.
// No published text lists it: it is derived from what a record holds.
type HandOver struct {
	Format   string            `json:"format"` // id, or "" for a format of its own
	Match    string            `json:"match,omitempty"`
	Court    string            `json:"court,omitempty"`
	From     string            `json:"from,omitempty"` // the referee who hands over
	Snapshot rally.Snapshot    `json:"snapshot"`       // score, server, places, ends, breaks, penalties
	Starters *rally.Starters   `json:"starters,omitempty"`
	TimeOuts []NotedTimeOut    `json:"time_outs"` // of this game, with the call at that moment
	Replays  []Noted           `json:"replays"`   // of this game, with what was ruled
	Carried  [4]rally.Carry    `json:"carried"`   // penalties brought into the match: A1 A2 B1 B2
	Entries  int               `json:"entries"`   // entries of the log so far
	Scores   [][2]int          `json:"scores"`    // finals of the games played or forfeited as they are reported, A-B
	Next     []Duty            `json:"next"`      // duties now
	Lines    []words.Text      `json:"lines"`     // all of it as text, in the order in which it is told
	Players  map[string]string `json:"players"`   // names by id
}

// NotedTimeOut is a standard time-out with the moment at which it was taken.
type NotedTimeOut struct {
	Side  rally.Side `json:"side"`
	Entry int        `json:"entry"` // number in the log
	Call  string     `json:"call"`  // score call at that moment; "" between games
}

// Noted is an entry of the log that the next referee may be asked about.
type Noted struct {
	Entry int    `json:"entry"`
	Event string `json:"event"`
	Call  string `json:"call"` // score call after it
}

// HandOver returns what the next referee needs, from the log of the match. The
// log must be of the guide's format; names come from its set-up.
func (g *Guide) HandOver(log *rally.Log) HandOver {
	s := log.State()
	h := HandOver{Format: g.format.ID(), Match: g.setup.Match, Court: g.setup.Court, From: g.setup.Referee,
		Snapshot: rally.NewBoard(log, g.setup).Snapshot(-1), Entries: log.Len(), Next: g.Now(s), Players: map[string]string{},
		TimeOuts: []NotedTimeOut{}, Replays: []Noted{}, Scores: [][2]int{}}
	if st, known := s.Starters(); known {
		h.Starters = &st
	}
	for _, p := range persons {
		h.Carried[p] = s.Carried(p)
		if g.doubles || p.Player() == 1 {
			h.Players[p.String()] = g.setup.Name(p)
		}
	}
	log.Each(func(st rally.Step) bool {
		h.note(st)
		return true
	})
	var finals []rally.GameScore
	for _, game := range log.Result().Games {
		if game.How == rally.PlayedGame || game.How == rally.ForfeitedGame {
			finals = append(finals, game)
			h.Scores = append(h.Scores, game.Score)
		}
	}
	h.Lines = g.handOverLines(s, &h, finals)
	return h
}

// note reads one entry of the log. What belongs to a game is forgotten with it.
func (h *HandOver) note(st rally.Step) {
	if st.After.Phase() != st.Before.Phase() && st.After.Phase() != rally.Playing {
		h.TimeOuts, h.Replays = h.TimeOuts[:0], h.Replays[:0]
		return
	}
	call := string(st.Rules.AppendCall(nil, st.After))
	if st.Effects.Has(rally.TimeOutCharged) {
		h.TimeOuts = append(h.TimeOuts, NotedTimeOut{st.Event.Side(), st.N, call})
	}
	if st.Effects.Has(rally.PlayedAgain) {
		h.Replays = append(h.Replays, Noted{st.N, st.Event.String(), call})
	}
}

func (g *Guide) handOverLines(s rally.State, h *HandOver, finals []rally.GameScore) []words.Text {
	var out []words.Text
	add := func(c words.Code, args ...words.Arg) { out = append(out, say(c, args...)) }
	a, b := g.side("a", rally.A), g.side("b", rally.B)
	if h.Match != "" || h.Court != "" || h.From != "" {
		add("hand-over.match", plain("match", dash(h.Match)), plain("court", dash(h.Court)), plain("referee", dash(h.From)))
	}
	for _, p := range persons {
		if s.Absence(p) == rally.Concussed {
			add("duty.help")
			add("hand-over.concussed", g.person("player", p))
		}
	}
	if br, _ := s.Break(); br == rally.BloodBreak || br == rally.IllnessBreak || br == rally.MedicalBreak || pendingMedical(s) {
		add("duty.help")
	}
	add("hand-over.format", plain("format", dash(h.Format)), within("played", words.Format(g.format)), plain("edition", g.format.Edition.String()))
	for _, game := range finals {
		code := words.Code("hand-over.final")
		if game.How == rally.ForfeitedGame {
			code = "hand-over.final-forfeit"
		}
		add(code, count("game", game.Number), a, count("score-a", game.Score[rally.A]), b, count("score-b", game.Score[rally.B]))
	}
	if s.Phase() == rally.Before {
		add("hand-over.before")
	} else {
		add("hand-over.game", count("game", s.Game()), a, count("won-a", s.Won(rally.A)), b, count("won-b", s.Won(rally.B)))
		add("hand-over.score", a, count("score-a", s.Score(rally.A)), b, count("score-b", s.Score(rally.B)))
	}
	if s.Phase() >= rally.Over {
		add("hand-over.over")
	}
	g.placesLines(s, h, add)
	if br, _ := s.Break(); br != rally.NoBreak {
		add("hand-over.break", within("kind", words.For(br)))
	}
	g.ledgerLines(s, h, add)
	for _, r := range h.Replays {
		add("hand-over.replay", count("entry", r.Entry), plain("call", dash(r.Call)))
	}
	return out
}

func (g *Guide) placesLines(s rally.State, h *HandOver, add func(words.Code, ...words.Arg)) {
	if h.Starters != nil && g.doubles {
		code := g.startersCode("hand-over.starters", "hand-over.rights")
		add(code, g.person("a", h.Starters[rally.A]), g.person("b", h.Starters[rally.B]))
	}
	v := h.Snapshot.View
	left := rally.A
	if v.Hands[rally.B] == rally.LeftHand {
		left = rally.B
	}
	add("hand-over.ends", g.side("left", left), g.side("right", left.Other()))
	for _, side := range sides {
		if s.Opens(side) > 0 {
			add("hand-over.opens", g.side("side", side))
		}
	}
	if s.Phase() != rally.Playing {
		return
	}
	p := g.rules.Places(s)
	if !concussed(s) {
		add("hand-over.call", within("call", g.Call(s)), g.person("server", p.Server), court("court", p.Court), g.person("receiver", p.Receiver))
	}
	for _, spot := range v.Spots {
		add("hand-over.stands", g.person("player", spot.Person), court("court", spot.Court),
			word("hand", words.Code("hand."+spot.Hand.String())), word("depth", words.Code("depth."+spot.Depth.String())))
	}
	switch {
	case s.EndChangeDue():
		add("hand-over.ends-due")
	case s.EndChangeMade():
		add("hand-over.ends-made")
	case g.game(s).ChangeEndsAt > 0:
		add("hand-over.ends-not-made")
	default:
		add("hand-over.ends-none")
	}
	if s.PutRightDue() {
		add("hand-over.put-right", g.side("side", p.Server.Side()))
	}
}

func (g *Guide) ledgerLines(s rally.State, h *HandOver, add func(words.Code, ...words.Arg)) {
	for _, side := range sides {
		t := h.Snapshot.TimeOuts[side]
		add("hand-over.time-outs", g.side("side", side), count("used", t.Used), count("left", t.Left))
	}
	for _, t := range h.TimeOuts {
		if t.Call == "" {
			add("hand-over.time-out.between", g.side("side", t.Side))
			continue
		}
		add("hand-over.time-out", g.side("side", t.Side), plain("call", t.Call))
	}
	used := false
	for _, p := range persons {
		switch s.Medical(p) {
		case rally.MedicalUsed:
			used = true
			add("hand-over.medical", g.person("player", p))
		case rally.MedicalRequested:
			used = true
			add("hand-over.medical-open", g.person("player", p))
		}
		if s.Absence(p) == rally.CannotGoOn {
			add("hand-over.out", g.person("player", p))
		}
		for i, brought := range []words.Code{"hand-over.carried.verbal", "hand-over.carried.warning", "hand-over.carried.foul"} {
			if s.Carried(p).Has(rally.CarriedVerbal << i) {
				add(brought, g.person("player", p))
			}
		}
	}
	if !used {
		add("hand-over.medical-none")
	}
	none := true
	for _, side := range sides {
		x := h.Snapshot.Penalties[side]
		if x.Verbal+x.Warnings+x.Fouls+x.Forfeits == 0 {
			continue
		}
		none = false
		add("hand-over.penalties", g.side("side", side), count("verbal", x.Verbal), count("warnings", x.Warnings),
			count("fouls", x.Fouls), count("forfeits", x.Forfeits))
	}
	if none {
		add("hand-over.penalties-none")
	}
}

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
