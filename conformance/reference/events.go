package reference

import (
	"slices"
	"strconv"
	"strings"
)

// An order to the match: the parts of an event's text.
type order struct {
	word    string // what kind of event it is, in the words of the tables
	text    string // the whole event
	side    side   // who won the rally, or whom the event concerns
	person  person
	starts  [2]int // of a start
	fault   string // by which the rally was lost
	seconds int    // of lateness
	choice  string // what is chosen first
	trouble *trouble
}

// Words of events without parts.
var plain = strings.Fields("replay ends in ref blood hazard illness dealt dmf abandon resume sheet")

// Words that a side follows, and those that a person follows.
var (
	ofSides   = strings.Fields("x t vw tw tf gf mf lost back ret wd")
	ofPersons = strings.Fields("eq m out cv cw cf c ej ex sub aid")
)

// corrections are the entries that only a log can carry out.
var corrections = strings.Fields("undo redo amend rule rewind set format")

var (
	faults  = strings.Fields("foot serve short early ten net out bounce nvz twice body touch plane receiver stopped timeout absent distract other")
	choices = strings.Fields("serve receive end defer")
)

// read takes an event's text apart; false if it is none.
func read(text string) (order, bool) {
	o := order{text: text, side: noSide}
	if slices.Contains(plain, text) {
		o.word = text
		return o, true
	}
	if head, tail, ok := strings.Cut(text, "?"); ok {
		return readTroubled(o, head, tail)
	}
	if head, tail, ok := strings.Cut(text, ":"); ok {
		switch {
		case sideIn(head) != noSide:
			o.word, o.side, o.fault = "rally", sideIn(head), tail
			return o, slices.Contains(faults, tail)
		case strings.HasPrefix(head, "fc"):
			o.word, o.side, o.choice = "fc", sideIn(head[2:]), tail
			return o, o.side != noSide && slices.Contains(choices, tail)
		case strings.HasPrefix(head, "late"):
			n, err := strconv.ParseUint(tail, 10, 16)
			o.word, o.side, o.seconds = "late", sideIn(head[4:]), int(n)
			return o, o.side != noSide && err == nil && strconv.FormatUint(n, 10) == tail
		}
		return o, false
	}
	if s := sideIn(text); s != noSide {
		o.word, o.side = "rally", s
		return o, true
	}
	if len(text) == 5 && text[0] == 'g' {
		one, two := personIn(text[1:3]), personIn(text[3:])
		if one == nobody || two == nobody || one.side() == two.side() {
			return o, false
		}
		o.word, o.side = "g", one.side()
		o.starts[one.side()], o.starts[two.side()] = one.number(), two.number()
		return o, true
	}
	for _, word := range ofSides {
		if s, ok := strings.CutPrefix(text, word); ok && sideIn(s) != noSide {
			o.word, o.side = word, sideIn(s)
			return o, true
		}
	}
	for _, word := range ofPersons {
		p, ok := strings.CutPrefix(text, word)
		if !ok || len(p) < 2 || personIn(p[:2]) == nobody {
			continue
		}
		o.word, o.person = word, personIn(p[:2])
		o.side = o.person.side()
		switch more := p[2:]; {
		case more == "":
			return o, true
		case word == "m" && (more == "+" || more == "-" || more == "w"),
			word[0] == 'c' && len(word) == 2 && more == "=":
			o.word += more
			return o, true
		}
		return o, false
	}
	return o, false
}

func sideIn(text string) side {
	switch text {
	case "A":
		return sideA
	case "B":
		return sideB
	}
	return noSide
}

func personIn(text string) person {
	switch text {
	case "A1":
		return a1
	case "A2":
		return a2
	case "B1":
		return b1
	case "B2":
		return b2
	}
	return nobody
}

// A trouble is what was wrong with a rally, and what became of it.
type trouble struct {
	errors  []string // what was wrong
	claim   string   // what the claim was about, if not that
	misled  bool     // a wrong call made a player see a wrong server
	reach   string   // how far the rally got; "end" if it was played out
	since   string   // what is over since; "live" if nothing
	by      string   // who stopped it or claims; "nobody"
	asked   bool     // the referee had been asked before the serve
	stopped bool     // nobody won the rally
}

// The words after the question mark, in the order in which they stand.
var (
	errorWords = strings.Fields("side server court receiver rcourt call starter rstarter")
	claimWords = strings.Fields("~side ~server ~court ~receiver ~rcourt ~call")
	reachWords = strings.Fields("uncalled called struck returned third")
	sinceWords = strings.Fields("rallyover served overtaken gameover sheet")
	byWords    = strings.Fields("byA byB byref")
)

// readTroubled reads a rally with something wrong.
func readTroubled(o order, head, tail string) (order, bool) {
	t := &trouble{reach: "end", since: "live", by: "nobody", stopped: head == "stop"}
	o.trouble = t
	winner, fault, faulted := strings.Cut(head, ":")
	switch {
	case t.stopped:
		o.word = "stop"
	case sideIn(winner) != noSide && (!faulted || slices.Contains(faults, fault)):
		o.word, o.side, o.fault = "rally", sideIn(winner), fault
	default:
		return o, false
	}
	words := strings.Split(tail, ",")
	for _, w := range errorWords {
		if len(words) > 0 && words[0] == w {
			t.errors, words = append(t.errors, w), words[1:]
		}
	}
	take := func(from []string, into *string) {
		if len(words) > 0 && slices.Contains(from, words[0]) {
			*into, words = words[0], words[1:]
		}
	}
	var misled, asked string
	take(claimWords, &t.claim)
	take([]string{"misled"}, &misled)
	take(reachWords, &t.reach)
	take(sinceWords, &t.since)
	take(byWords, &t.by)
	take([]string{"asked"}, &asked)
	t.claim = strings.TrimPrefix(t.claim, "~")
	t.misled, t.asked = misled != "", asked != ""
	switch {
	case len(words) > 0:
		return o, false
	case t.stopped && t.since != "live":
		return o, false // what was stopped was not over
	case !t.stopped && len(t.errors) == 0 && t.claim == "":
		return o, false // a rally that somebody won without anything wrong is a plain one
	}
	return o, true
}
