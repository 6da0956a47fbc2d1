package rally

import (
	"strconv"
	"unicode/utf8"
)

// Snapshot is all that a scoreboard, a screen reader or a second device draws, as
// one value; [Board] makes it from a log. As JSON sides and players are their
// letters A, B, A1, A2, B1, B2, events their words and enums their names;
// snapshot.schema.json and snapshot.d.ts beside this file say the same to other
// languages. What does not exist is left out: before play nobody serves.
type Snapshot struct {
	Format     string           `json:"format"`              // id, or "" for a format that has none
	Doubles    bool             `json:"doubles"`             // or singles
	Target     int              `json:"target"`              // points that win the game in play, or the last one
	WinBy      int              `json:"win_by"`              // the margin that they need
	Cap        int              `json:"cap"`                 // points that win by any margin; 0 for none
	Games      int              `json:"games"`               // most games that can be played
	Setup      Setup            `json:"setup"`               // names and marks
	At         int64            `json:"at"`                  // elapsed milliseconds at which this holds; negative if nobody keeps time
	Entries    int              `json:"entries"`             // of the log: the next one has this number and one more
	Line       string           `json:"line"`                // canonical line, from which a second device takes the match over
	Phase      Phase            `json:"phase"`               //
	Game       int              `json:"game"`                // number of the game in play, or of the last one; 0 before the first
	Won        [2]int           `json:"won"`                 // games, A and B
	Score      [2]int           `json:"score"`               // points, A and B
	Call       string           `json:"call"`                // score call; "" outside play
	Result     ResultWord       `json:"result"`              // word for the last rally
	Did        Effects          `json:"did"`                 // what the last entry that holds did
	Finals     []GameScore      `json:"finals"`              // of games that have ended, in their order
	Serving    *Side            `json:"serving,omitempty"`   // in play only, as the four that follow
	Server     *Person          `json:"server,omitempty"`    //
	Number     int              `json:"number,omitempty"`    // of the server, where servers are numbered
	Court      *Court           `json:"court,omitempty"`     // from which he serves, where there are service courts
	Receiver   *Person          `json:"receiver,omitempty"`  // unless either partner may
	View       View             `json:"view"`                // ends, and who stands where
	GamePoint  [2]bool          `json:"game_point"`          // the next rally won wins the game
	MatchPoint [2]bool          `json:"match_point"`         // and with it the match
	Frozen     [2]bool          `json:"frozen"`              // scores on own serve only, at this score
	EndsDue    bool             `json:"ends_due"`            // the players have to change ends
	PutRight   bool             `json:"put_right"`           // the referee sees that the side is right before the next call
	AbsentDue  Event            `json:"absent_due,omitzero"` // to be entered first: a player who is out is due
	Break      Break            `json:"break"`               //
	BreakOf    *Person          `json:"break_of,omitempty"`  // whose break; for a time-out any player of the side
	Clock      *Clock           `json:"clock,omitempty"`     // that is running
	Undo       string           `json:"undo"`                // the entry that an undo would take back; "" for none
	Redo       string           `json:"redo"`                // the entry that a redo would bring again
	TimeOuts   [2]TimeOuts      `json:"time_outs"`           //
	Medical    [4]Medical       `json:"medical"`             // A1 A2 B1 B2
	Absent     [4]Absence       `json:"absent"`              // A1 A2 B1 B2
	Penalties  [2]PenaltyCounts `json:"penalties"`           //
	Outcome    Cause            `json:"outcome"`             // how the match ended
	Winner     *Side            `json:"winner,omitempty"`    //
	Allowed    []Event          `json:"allowed"`             // the very events that may come: see [Rules.Events]
	Refused    []Greyed         `json:"refused"`             // the others that there is a button for, with the reason
}

// Greyed is an event that may not come now, and why.
type Greyed struct {
	Event Event   `json:"event"`
	Why   Refusal `json:"why"`
}

// TimeOuts is what a side has used of its standard time-outs, and what is left.
type TimeOuts struct {
	Used int `json:"used"`
	Left int `json:"left"`
}

// PenaltyCounts are what a side has been given in the match.
type PenaltyCounts struct {
	Verbal   int `json:"verbal"`
	Warnings int `json:"warnings"`
	Fouls    int `json:"fouls"`
	Forfeits int `json:"forfeits"`
}

// Frozen reports whether a side would be refused the point of a rally that it
// won as receivers, at the present score.
func (r *Rules) Frozen(s State, side Side) bool {
	if s.Phase() != Playing {
		return false
	}
	return r.game(s).Frozen(uint8(s.Score(side)), uint8(s.Score(side.Other())))
}

// AppendJSON appends the snapshot as JSON, as encoding/json would write it but
// without that package, which a browser build would carry.
func (v *Snapshot) AppendJSON(dst []byte) []byte {
	return appendSnapshot(dst, v, appendSetup(nil, &v.Setup), appendSteady(nil, v, v.menu()), &texts[string]{v.Line, v.Call, v.Undo, v.Redo})
}

// texts are what a board makes anew for every snapshot.
type texts[T string | []byte] struct{ line, call, undo, redo T }

// appendSnapshot appends a snapshot whose names and steady part have been written.
func appendSnapshot[T string | []byte](dst []byte, v *Snapshot, people, steady []byte, t *texts[T]) []byte {
	w := writer(append(dst, `{"format":`...))
	w.text(v.Format)
	w.yes("doubles", v.Doubles)
	w.number("target", v.Target)
	w.number("win_by", v.WinBy)
	w.number("cap", v.Cap)
	w.number("games", v.Games)
	w.name("setup")
	w = append(w, people...)
	w.time("at", v.At)
	w.number("entries", v.Entries)
	w.name("line")
	quoted(&w, t.line)
	w.word("phase", v.Phase.String())
	w.number("game", v.Game)
	w.pair("won", v.Won)
	w.pair("score", v.Score)
	w.name("call")
	quoted(&w, t.call)
	w.word("result", v.Result.String())
	w.name("did")
	w = append(appendSet(append(w, '"'), uint64(v.Did), effectNames), '"')
	w.finals(v.Finals)
	if v.Serving != nil {
		w.word("serving", v.Serving.String())
		w.word("server", v.Server.String())
		if v.Number != 0 {
			w.number("number", v.Number)
		}
		if v.Court != nil {
			w.word("court", v.Court.String())
		}
		if v.Receiver != nil {
			w.word("receiver", v.Receiver.String())
		}
	}
	w.view(&v.View)
	w.both("game_point", v.GamePoint)
	w.both("match_point", v.MatchPoint)
	w.both("frozen", v.Frozen)
	w.yes("ends_due", v.EndsDue)
	w.yes("put_right", v.PutRight)
	if v.AbsentDue != 0 {
		w.name("absent_due")
		w.event(v.AbsentDue)
	}
	w.word("break", v.Break.String())
	if v.BreakOf != nil {
		w.word("break_of", v.BreakOf.String())
	}
	if v.Clock != nil {
		w.clock(v.Clock)
	}
	w.name("undo")
	quoted(&w, t.undo)
	w.name("redo")
	quoted(&w, t.redo)
	return append(append(w, steady...), '}')
}

// appendSteady appends what most rallies leave as it was: what has been used and
// given, how the match ended, which events may come, and why others may not.
func appendSteady(dst []byte, v *Snapshot, m menu) []byte {
	w := writer(dst)
	w.account(v)
	w.word("outcome", v.Outcome.String())
	if v.Winner != nil {
		w.word("winner", v.Winner.String())
	}
	w.name("allowed")
	w = append(append(w, '['), m.allowed...)
	w.close(']')
	w.name("refused")
	w = append(append(w, '['), m.refused...)
	w.close(']')
	return w
}

// menu is which events may come, and why others may not, as the values of two lists.
type menu struct{ allowed, refused writer }

func (v *Snapshot) menu() (m menu) {
	for _, e := range v.Allowed {
		m.allowed = append(m.allowed, asAllowed(e)...)
	}
	for _, no := range v.Refused {
		m.refuse(asRefused(no.Event), no.Why)
	}
	return m
}

func asAllowed(e Event) string { return `"` + e.String() + `",` }

// asRefused is what stands before the reason.
func asRefused(e Event) string { return `{"event":"` + e.String() + `","why":"` }

func (m *menu) refuse(event string, why Refusal) {
	m.refused = append(append(append(m.refused, event...), why.String()...), `"},`...)
}

// writer is JSON being written. What it writes under a name begins with a comma.
type writer []byte

func (w *writer) name(n string) { *w = append(append(append(*w, `,"`...), n...), `":`...) }

// word writes a value that needs no escapes.
func (w *writer) word(n, v string) {
	w.name(n)
	*w = append(append(append(*w, '"'), v...), '"')
}

func (w *writer) number(n string, v int) { w.time(n, int64(v)) }

func (w *writer) time(n string, ms int64) {
	w.name(n)
	*w = strconv.AppendInt(*w, ms, 10)
}

func (w *writer) yes(n string, v bool) {
	w.name(n)
	*w = strconv.AppendBool(*w, v)
}

func (w *writer) pair(n string, v [2]int) {
	w.name(n)
	*w = append(strconv.AppendInt(append(*w, '['), int64(v[A]), 10), ',')
	*w = append(strconv.AppendInt(*w, int64(v[B]), 10), ']')
}

func (w *writer) both(n string, v [2]bool) {
	w.name(n)
	*w = append(strconv.AppendBool(append(*w, '['), v[A]), ',')
	*w = append(strconv.AppendBool(*w, v[B]), ']')
}

func (w *writer) event(e Event) { *w = append(e.appendWord(append(*w, '"')), '"') }

// first takes away the comma with which an object or a list would begin.
func (w *writer) first(at int) { *w = append((*w)[:at], (*w)[at+1:]...) }

// close ends what has a comma after each of its values.
func (w *writer) close(with byte) {
	if last := len(*w) - 1; (*w)[last] == ',' {
		(*w)[last] = with
		return
	}
	*w = append(*w, with)
}

func (w *writer) finals(games []GameScore) {
	w.name("finals")
	*w = append(*w, '[')
	for i := range games {
		g := &games[i]
		*w = append(*w, `{"number":`...)
		*w = strconv.AppendInt(*w, int64(g.Number), 10)
		w.pair("score", g.Score)
		w.word("how", g.How.String())
		if g.Winner != nil {
			w.word("winner", g.Winner.String())
		}
		if g.ByPenalty {
			w.yes("by_penalty", true)
		}
		*w = append(*w, "},"...)
	}
	w.close(']')
}

func (w *writer) view(v *View) {
	w.name("view")
	*w = append(*w, `{"hands":["`...)
	*w = append(append(*w, v.Hands[A].String()...), `","`...)
	*w = append(append(*w, v.Hands[B].String()...), `"]`...)
	w.yes("playing", v.Playing)
	if v.Playing {
		w.name("server")
		w.spot(v.Server)
		if v.Receiver != nil {
			w.name("receiver")
			w.spot(v.Receiver)
		}
		w.name("spots")
		*w = append(*w, '[')
		for i := range v.Spots {
			w.spot(&v.Spots[i])
			*w = append(*w, ',')
		}
		w.close(']')
	}
	*w = append(*w, '}')
}

func (w *writer) spot(s *Spot) {
	*w = append(append(*w, `{"person":"`...), s.Person.String()...)
	*w = append(*w, '"')
	w.word("court", s.Court.String())
	w.word("hand", s.Hand.String())
	w.word("depth", s.Depth.String())
	*w = append(*w, '}')
}

func (w *writer) clock(c *Clock) {
	w.name("clock")
	*w = append(append(*w, `{"interval":"`...), c.Interval.String()...)
	*w = append(*w, '"')
	w.number("entry", c.Entry)
	w.time("since", c.Since)
	w.time("limit", c.Limit)
	w.time("remaining", c.Remaining)
	w.time("notice_at", c.NoticeAt)
	w.name("asks")
	*w = append(appendSet(append(*w, '"'), uint64(c.Asks), kindNames), '"')
	w.word("clause", c.Clause.String())
	*w = append(*w, '}')
}

// account writes what has been used and given.
func (w *writer) account(v *Snapshot) {
	w.name("time_outs")
	*w = append(*w, '[')
	for i := range v.TimeOuts {
		*w = strconv.AppendInt(append(*w, `{"used":`...), int64(v.TimeOuts[i].Used), 10)
		w.number("left", v.TimeOuts[i].Left)
		*w = append(*w, "},"...)
	}
	w.close(']')
	w.name("medical")
	*w = append(*w, '[')
	for _, m := range v.Medical {
		*w = append(append(append(*w, '"'), m.String()...), `",`...)
	}
	w.close(']')
	w.name("absent")
	*w = append(*w, '[')
	for _, a := range v.Absent {
		*w = append(append(append(*w, '"'), a.String()...), `",`...)
	}
	w.close(']')
	w.name("penalties")
	*w = append(*w, '[')
	for i := range v.Penalties {
		p := &v.Penalties[i]
		*w = strconv.AppendInt(append(*w, `{"verbal":`...), int64(p.Verbal), 10)
		w.number("warnings", p.Warnings)
		w.number("fouls", p.Fouls)
		w.number("forfeits", p.Forfeits)
		*w = append(*w, "},"...)
	}
	w.close(']')
}

func (w *writer) text(s string) { quoted(w, s) }

// known writes a text under a name, if there is one.
func (w *writer) known(n, s string) {
	if s != "" {
		w.name(n)
		w.text(s)
	}
}

// quoted writes any text: what would end a line or a script is escaped, bytes that
// are no UTF-8 become the sign for such.
func quoted[T string | []byte](w *writer, s T) {
	const hex = "0123456789abcdef"
	b, plain := append(*w, '"'), 0 // from where on nothing had to be escaped
	for i := 0; i < len(s); {
		c := s[i]
		if c < utf8.RuneSelf && !escaped[c] {
			i++
			continue
		}
		b = append(b, s[plain:i]...)
		switch {
		case c == '"' || c == '\\':
			b = append(b, '\\', c)
		case c < utf8.RuneSelf:
			b = append(b, '\\', 'u', '0', '0', hex[c>>4], hex[c&15])
		default:
			r, size := utf8.DecodeRuneInString(string(s[i:min(i+utf8.UTFMax, len(s))]))
			i += size - 1
			if r == '\u2028' || r == '\u2029' {
				b = append(b, '\\', 'u', '2', '0', '2', hex[r&15])
			} else {
				b = utf8.AppendRune(b, r)
			}
		}
		i++
		plain = i
	}
	*w = append(append(b, s[plain:]...), '"')
}

// escaped are the ASCII characters that no text of JSON holds as they are.
var escaped = func() (e [utf8.RuneSelf]bool) {
	for c := range e {
		e[c] = c < ' ' || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&'
	}
	return e
}()

// appendSetup appends a set-up as JSON.
func appendSetup(dst []byte, u *Setup) []byte {
	w := writer(append(dst, '{'))
	at := len(w)
	w.known("match", u.Match)
	w.known("court", u.Court)
	w.known("referee", u.Referee)
	w.known("began", u.Began)
	w.name("sides")
	w = append(w, '[')
	for i := range u.Sides {
		team := &u.Sides[i]
		w = append(w, '{')
		at := len(w)
		w.known("name", team.Name)
		w.name("players")
		w = append(w, '[')
		for j := range team.Players {
			p := &team.Players[j]
			w = append(w, '{')
			at := len(w)
			w.known("id", p.ID)
			w.known("name", p.Name)
			w.known("mark", p.Mark)
			if len(w) > at {
				w.first(at)
			}
			w = append(w, "},"...)
		}
		w.close(']')
		w.first(at)
		w = append(w, "},"...)
	}
	w.close(']')
	w.word("left", u.Left.String())
	if u.First != nil {
		w.word("first", u.First.String())
	}
	w.first(at)
	return append(w, '}')
}
