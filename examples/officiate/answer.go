package main

import (
	"errors"
	"strings"

	"github.com/evencourt/evencourt/examples/texts/problems"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// command is a word that is no entry: a view, or what belongs to the desk.
type command struct {
	names []string
	do    func(v *live, rest string)
}

// commands are made late, since some of them list all of them.
var commands []command

func init() {
	commands = []command{
		{[]string{"repeat"}, func(v *live, _ string) { v.put("", orElse(v.next(v.log.State()), v.tell("officiate.nothing-to-call"))) }},
		{[]string{"?"}, func(v *live, _ string) { v.remind(); v.allowed(false) }},
		{[]string{"??"}, func(v *live, _ string) { v.allowed(true) }},
		{[]string{"help"}, func(v *live, _ string) { v.helpWords() }},
		{[]string{"ten"}, func(v *live, _ string) { v.counts() }},
		{[]string{"faults"}, func(v *live, _ string) { v.faults() }},
		{[]string{"wrong", "medical", "penalty", "correct"}, nil}, // guided entries, by their topic
		{[]string{"score"}, func(v *live, _ string) { v.score() }},
		{[]string{"court"}, (*live).courtOf},
		{[]string{"why"}, func(v *live, _ string) { v.reasons() }},
		{[]string{"now"}, func(v *live, _ string) { v.now() }},
		{[]string{"over"}, func(v *live, _ string) { v.handOver() }},
		{[]string{"log"}, func(v *live, rest string) { v.list(rest) }},
		{[]string{"ask"}, (*live).question},
		{[]string{"names"}, func(v *live, _ string) { v.names() }},
		{[]string{"name", "mark", "id", "team", "match", "referee", "left"}, nil}, // what is known of the match
		{[]string{"save"}, (*live).saveAs},
		{[]string{"q", "quit"}, nil},
	}
}

// answer answers one line that was typed, and says whether the match is to be
// left. Commands are taken in any case of letters.
func (v *live) answer(text string) (done bool) {
	if v.asks != nil {
		v.reply(text)
		return false
	}
	word, rest, _ := strings.Cut(text, " ")
	word, rest = strings.ToLower(word), strings.TrimSpace(rest)
	switch word {
	case "":
		word = "repeat"
	case "q", "quit":
		return true
	case "name", "mark", "id", "team", "match", "referee", "left":
		v.change(word, rest)
		return false
	}
	var topic referee.Topic
	if rest == "" && topic.UnmarshalText([]byte(word)) == nil {
		v.begins(topic)
		return false
	}
	for _, c := range commands {
		for _, name := range c.names {
			if name == word && c.do != nil {
				c.do(v, rest)
				return false
			}
		}
	}
	v.entry(text)
	return false
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// entry enters an event or a correction and says what follows.
func (v *live) entry(typed string) {
	text, ok := v.meant(typed)
	if !ok {
		v.unknown(typed)
		return
	}
	what, err := rally.ParseEntry(text)
	if err == nil && !what.Corrects() && v.held(what.Event) {
		return
	}
	v.sure = ""
	v.make(text, what, err)
}

// held keeps back what is more likely a slip than meant: a rally that would begin
// a game whose starting servers nobody named, and a second time-out of a side in
// one break. The second is made if it is typed again.
func (v *live) held(e rally.Event) bool {
	s, rules := v.log.State(), v.log.Rules()
	if _, _, refusal := rules.Apply(s, e); refusal != rally.NotRefused {
		return false
	}
	switch k := e.Kind(); {
	case (k == rally.RallyWon || k == rally.Replay || k == rally.Stop) && s.Phase() != rally.Playing && v.doubles():
		v.print("officiate.name-starters", words.Count("game", s.Game()+1))
		v.remind()
		return true
	case k == rally.TimeOut && v.sure != e.String():
		if b, owner := s.Break(); b == rally.TimeOutBreak && owner.Side() == e.Side() {
			v.sure = e.String()
			v.print("officiate.second-time-out", v.side("side", e.Side()), words.Name("typed", e.String()))
			return true
		}
	}
	return false
}

// make makes an entry, if it is one.
func (v *live) make(text string, what rally.Entry, err error) {
	var e entered
	v.no = words.Text{}
	if err == nil {
		e, err = v.enter(what)
	}
	if err != nil {
		v.refused(text, err)
		return
	}
	v.log.Stamp(v.at)
	v.serve = 0
	v.keep(v.saved.Append)
	if needsHelp(e) {
		v.put("", v.desk.help())
	}
	v.put("", v.told(e))
	if needsHelp(e) {
		for _, duty := range v.duties(e) {
			v.put("", duty)
		}
	}
	if e.event.Kind() == rally.FirstChoice && e.event.Choice() == rally.ChooseEnd {
		v.print("officiate.which-end")
	}
	if e.did.Has(rally.EndsDue) || e.did.Has(rally.GameWon) {
		v.ring()
	}
	v.remind()
}

// told is an entry in one line: the word and the next call first, then what
// decided it and the news, last the number of the entry.
func (v *live) told(e entered) string {
	var parts []string
	next := v.next(e.after)
	p := v.log.Rules().Places(e.after)
	args := []words.Arg{words.Within("call", v.guide.Call(e.after)), v.player("server", p.Server), courtWord(p.Court), v.player("receiver", p.Receiver)}
	_, absent := v.log.Rules().AbsentFault(e.after)
	result := v.guide.ResultWord(e.did)
	switch k := e.event.Kind(); {
	case k == rally.NoKind:
		parts = append(parts, v.word(e)+".")
	case k != rally.RallyWon && k != rally.Replay && k != rally.Stop, e.after.Phase() != rally.Playing, absent, next == "":
		parts = append(parts, v.word(e)+".")
	case result.Code == "result.none":
		parts, next = append(parts, v.tell("officiate.live-call", args...)), ""
	default:
		parts, next = append(parts, v.tell("officiate.live", append(args, words.Within("result", result))...)), ""
	}
	if _, rides := e.event.Incident(); rides {
		parts = append(parts, v.why(e))
	}
	if e.event.Kind() == rally.NoKind {
		if ruling, ok := v.ruled(); ok {
			parts = append(parts, v.say(ruling.Text))
		}
		if k := v.log.Entry(v.log.Len()).Kind; k != rally.Undo && k != rally.Redo {
			for _, text := range v.guide.Changed(v.log, e.before) {
				parts = append(parts, v.say(text))
			}
		}
	}
	if e.did.Has(rally.GameStarted) && e.event.Kind() != rally.StartGame {
		parts = append(parts, v.tell("officiate.game-begins", words.Count("game", e.after.Game()))+".")
	}
	parts = append(parts, v.news(e)...)
	if s := e.after; e.did.Has(rally.TimeOutCharged) && s.Phase() == e.before.Phase() {
		used, allowed := s.TimeOutsUsed(e.event.Side()), v.log.Rules().TimeOutsAllowed(s)
		parts = append(parts, v.tell("officiate.time-outs", words.Count("used", used), words.Count("left", allowed-used)))
	}
	if c, running := rally.ClockAt(v.log, v.at); running && c.Entry == e.n && c.Limit > 0 {
		parts = append(parts, v.tell("officiate.clock", words.Word("interval", words.Code("interval."+c.Interval.String())), words.Count("seconds", int(c.Limit/1000))))
		if c.Clause == clause.MedicalFromFinding {
			parts = append(parts, v.say(words.For(c.Clause)))
		}
	}
	if next != "" {
		parts = append(parts, next)
	}
	if !v.terse {
		parts = append(parts, v.tell("officiate.number", words.Count("entry", e.n)))
	}
	return strings.Join(parts, " ")
}

// reasons says by which rule the last line was refused, or the last entry ruled on,
// and how well it is known, then why this player serves.
func (v *live) reasons() {
	if v.no.Code != "" {
		v.put("", v.language.Say(v.no)) // in full: it was asked for
	} else if ruling, ok := v.ruled(); ok {
		for _, ground := range ruling.Why() {
			v.put("", v.language.Say(ground)) // in full: it was asked for
		}
	}
	v.put("", v.say(v.guide.WhyServer(v.log.State())))
}

// ruled is the ruling that the last entry gave, a rally with something wrong or a
// ruled correction.
func (v *live) ruled() (ruling referee.Ruling, ok bool) {
	what, at := v.log.Entry(v.log.Len()), v.log.Len()
	if what.Kind == rally.RuleOn {
		at = what.Target
	}
	if _, ok = what.Event.Incident(); !ok {
		return ruling, false
	}
	v.log.Each(func(st rally.Step) bool {
		if st.N == at {
			ruling = v.guide.Ruling(st.Before, what.Event)
		}
		return st.N < at
	})
	return ruling, true
}

// remind lists what is still open, each with what settles it.
func (v *live) remind() {
	for _, r := range v.guide.Reminders(v.log, v.at) {
		text := v.say(r.Text)
		var typed []words.Text
		for i, e := range r.Settles {
			if i < 4 && r.Text.Code != "reminder.ends-between" { // which the start of the game settles
				typed = append(typed, words.New("officiate.typed", words.Name("typed", short(e))))
			}
		}
		if len(typed) > 0 {
			text += " " + v.tell("officiate.type", words.Each("typed", typed...))
		}
		v.put("  ", text)
	}
}

// refused says in one line why nothing was entered and what to do instead;
// where somebody may need care, help comes before it.
func (v *live) refused(text string, err error) {
	if no := (*rally.EntryError)(nil); errors.As(err, &no) {
		if by, ok := v.guide.Rule(no.By); ok {
			v.no = by.Said()
		}
	}
	event, notEvent := rally.ParseEvent(text)
	if notEvent == nil {
		lines := v.guide.Refusal(v.log.State(), event)
		care := v.log.Rules().Why(v.log.State(), event).Help
		if k := event.Kind(); !care && (k == rally.MedicalRequest || k == rally.PlayOnAlone || k == rally.Concussion) {
			v.put("", v.desk.help())
		}
		said := v.language.SayAll(lines[:max(1, len(lines)-1)])
		if !care {
			said = []string{strings.Join(said, " ")}
		}
		for _, line := range said {
			v.put("", line)
		}
		if e, due := v.log.Rules().AbsentFault(v.log.State()); due && v.log.Rules().Why(v.log.State(), event).Refusal == rally.AbsentDue {
			v.print("officiate.enter-fault", words.Name("event", e.String()))
		}
		return
	}
	v.print("officiate.refused", words.Name("typed", format.Quote(text)), words.Within("reason", v.reason(err)))
	if held, _ := v.log.Holds(v.log.Len()); held.Kind() == rally.Concussion && text == "undo" {
		v.print("officiate.lift", words.Count("entry", v.log.Len()))
	}
}

// reason says why the log did not take a correction.
func (v *live) reason(err error) words.Text {
	var entry *rally.EntryError
	if errors.As(err, &entry) && entry.N > 0 && entry.Reason == "" && entry.Refusal != rally.LogOnly {
		later := v.log.Entry(entry.N)
		kind := later.Event.Kind()
		return words.New("officiate.then-refused", words.Count("entry", entry.N), words.Name("typed", later.String()), words.Within("reason", words.Because("refusal.", entry.Refusal, kind)))
	}
	return problems.Of(err)
}

// questionWords are short names of questions beside those of the library.
var questionWords = map[string]referee.Question{
	"place": referee.AskOwnPlaces, "places": referee.AskOwnPlaces, "us": referee.AskOwnPlaces, "them": referee.AskOpponentPlaces,
	"court": referee.AskServerCourt, "receiving": referee.AskReceiver, "serving": referee.AskServer,
}

// question says what the edition lets the referee answer to a player: the
// asking side, the question, and whether the players are right in it.
func (v *live) question(text string) {
	typed := strings.Fields(strings.ToLower(text))
	var names []string
	for _, q := range referee.Questions() {
		names = append(names, q.String())
		if len(typed) < 2 || typed[0] != "a" && typed[0] != "b" || typed[1] != q.String() && questionWords[typed[1]] != q {
			continue
		}
		if q != referee.AskScore && (len(typed) != 3 || typed[2] != "right" && typed[2] != "wrong") {
			continue
		}
		a := v.guide.Answer(v.log.State(), rally.Side(typed[0][0]-'a'), q, typed[len(typed)-1] == "right")
		v.print("officiate.answer", words.Within("question", q.Text()), words.Within("done", a.Done.Text()), words.Within("said", a.Said),
			words.Within("why", a.Why), words.Within("clause", referee.Cite(a.Clause, a.Source)))
		return
	}
	v.print("officiate.want-question", words.Name("questions", strings.Join(names, ", ")))
}

func (v *live) now() {
	for _, duty := range v.guide.Now(v.log.State()) {
		v.put("", v.say(duty.Text))
	}
	v.remind()
}

func (v *live) handOver() {
	for _, line := range v.guide.HandOver(v.log).Lines {
		v.put("", v.say(line))
	}
}

// courtOf says where everybody stands in sentences, which can be listened to;
// with a name it says which court is played on.
func (v *live) courtOf(rest string) {
	if rest != "" {
		v.change("court", rest)
		return
	}
	for _, line := range v.guide.HandOver(v.log).Lines {
		if line.Code == "hand-over.stands" || line.Code == "hand-over.ends" {
			v.put("", v.say(line))
		}
	}
}

// list lists the entries, one a line with its number and time, the last ones
// where a number is given; "notation" prints the match in one line.
func (v *live) list(rest string) {
	if strings.ToLower(rest) == "notation" {
		text, err := record.Notation(v.log)
		if err != nil {
			text = v.say(problems.Of(err))
		}
		v.put("", text)
		return
	}
	v.entries(rest)
}

func (v *live) score() {
	s := v.log.State()
	if s.Phase() == rally.Before {
		v.print("officiate.not-begun")
		return
	}
	text := v.tell("officiate.score", words.Count("game", s.Game()), v.side("side-a", rally.A), words.Count("a", s.Score(rally.A)),
		v.side("side-b", rally.B), words.Count("b", s.Score(rally.B)), words.Count("won-a", s.Won(rally.A)), words.Count("won-b", s.Won(rally.B)))
	v.put("", strings.TrimSpace(text+" "+orElse(v.outcome(s), v.next(s))))
}

// faults lists the faults with their words and who may call them.
func (v *live) faults() {
	for _, f := range rally.Faults() {
		fault, ok := v.guide.Fault(f)
		if !ok {
			continue
		}
		var callers []words.Text
		for _, c := range fault.Officiated {
			callers = append(callers, c.Text())
		}
		v.print("officiate.fault-word", words.Name("typed", f.String()), words.Within("fault", words.For(f)), words.Each("callers", callers...))
	}
}

func (v *live) helpWords() {
	for _, about := range []words.Code{"rally", "breaks", "first", "guided", "medical", "penalties", "corrections", "views", "ask", "names"} {
		v.print("officiate.help-" + about)
	}
}
