package reference

import (
	_ "embed"
	"slices"
	"strings"
)

//go:embed troubles.txt
var troublesText string

// A row of the table of what becomes of a rally with something wrong.
type row struct {
	verdict, clause string
	fits            [][]string // of each of these one word must fit
}

var troubles = readTroubles(troublesText)

func readTroubles(text string) []row {
	var out []row
	for _, line := range lines(text) {
		words := strings.Fields(line)
		r := row{verdict: words[0], clause: words[1]}
		for _, w := range words[2:] {
			r.fits = append(r.fits, strings.Split(w, "/"))
		}
		out = append(out, r)
	}
	return out
}

// A ruling says what becomes of a rally.
type ruling struct {
	verdict string // a verdict of the table, or "played"
	clause  string
	struck  bool // the serve was struck, or the rally was lost without one
}

// rule looks up what becomes of a rally.
func (m *Match) rule(o order) ruling {
	t := o.trouble
	if t == nil {
		return ruling{"played", "", true}
	}
	said := m.situation(o)
	holds := func(word string) bool {
		switch {
		case strings.Contains(word, "="):
			return m.answers(word)
		case word[0] == '!':
			return !said[word[1:]]
		}
		return said[word]
	}
	for _, r := range troubles {
		if !slices.ContainsFunc(r.fits, func(either []string) bool { return !slices.ContainsFunc(either, holds) }) {
			return ruling{r.verdict, r.clause, !t.stopped || !said["uncalled"] && !said["called"]}
		}
	}
	panic("reference: no ruling on " + o.text)
}

// serveFaults end a rally before anybody can return the serve; unstruck are
// those without a serve.
var (
	serveFaults = strings.Fields("foot serve short early ten absent")
	unstruck    = strings.Fields("ten absent")
)

// situation is all that the table can ask of a rally.
func (m *Match) situation(o order) map[string]bool {
	t := o.trouble
	said := map[string]bool{t.reach: true, t.since: true, t.by: true}
	for _, w := range t.errors {
		said[w] = true
	}
	said["stopped"], said["completed"] = t.stopped, !t.stopped
	said["order"] = said["server"] || said["court"] || said["receiver"] || said["rcourt"]
	said["mistaken"] = t.claim != "" && !said[t.claim] || len(t.errors) == 0
	said["misled"] = t.misled
	said["player"] = said["byA"] || said["byB"]
	said["claimed"] = said["player"] && (t.claim == "" || t.claim == "call")
	said["open"] = said["live"] || said["rallyover"] || said["gameover"]

	said["no-serve"] = said["uncalled"] || said["called"] || slices.Contains(unstruck, o.fault)
	said["no-return"] = said["no-serve"] || said["struck"] || slices.Contains(serveFaults, o.fault)
	said["no-third"] = said["no-return"] || said["returned"]

	confirmed := func(error string) bool { return t.asked && m.mayConfirm(error) && said[error] }
	said["confirmed"] = slices.ContainsFunc(errorWords, confirmed)
	erred := func(error string) bool { return said[error] && !confirmed(error) }
	said["starter-erred"] = erred("starter") && !said["no-serve"]
	said["rstarter-erred"] = erred("rstarter") && !said["no-return"]
	said["servers-erred"] = !said["no-serve"] && (erred("server") || erred("court"))
	atStrike := m.is("receiver-fault", "struck") && !said["no-serve"] // of a wrong receiver, not of a wrong court
	said["receivers-erred"] = erred("receiver") && (atStrike || !said["no-return"]) || erred("rcourt") && !said["no-return"]

	if m.is("order-error", "fault") && m.is("starter-notice", "fault") { // one more error of order
		said["servers-erred"] = said["servers-erred"] || said["starter-erred"]
		said["receivers-erred"] = said["receivers-erred"] || said["rstarter-erred"]
	}

	said["excused"] = m.right && m.is("fault-again", "excused")
	said["second"] = m.wrong[m.server.side()] > 0
	if !t.stopped {
		as := m.Clone()
		as.rally(o.side)
		said["won-match"] = as.phase == over
	}
	return said
}

// mayConfirm says whether the referee may answer the question whether that was
// right before the serve.
func (m *Match) mayConfirm(error string) bool {
	return m.is("place-questions", "any") || m.is("place-questions", "server-by-servers") && (error == "server" || error == "starter")
}

// enforce carries a ruling out.
func (m *Match) enforce(o order, r ruling) {
	serving := m.server.side()
	loser := noSide
	switch r.verdict {
	case "played":
		if o.side != noSide {
			m.rally(o.side)
			return
		}
		m.did.add(replayed)
	case "replay":
		m.did.add(replayed)
	case "annulled":
		m.did.add(replayed, overruled)
	case "stands":
		m.rally(o.side)
		m.did.add(stands)
	case "warned", "second":
		m.wrongServer(o, serving, r.verdict == "second")
	case "servers":
		loser = serving
	case "receivers":
		loser = serving.other()
	case "stopper":
		loser = sideIn(o.trouble.by[2:])
	}
	if loser == noSide {
		return
	}
	if o.side == loser {
		m.did.add(overruled)
	}
	m.rally(loser.other())
	if r.clause == "order-fault" && m.did.has(secondServer) && (slices.Contains(o.trouble.errors, "server") || slices.Contains(o.trouble.errors, "court")) {
		m.right = true
		m.did.add(putRight)
	}
}

// wrongServer enters a wrong server by the text of 1999 (5.B.5): the rally
// stands and the side is warned; the second time it is a technical foul and a
// point whatever else stands against the side, and the rally does not count
// unless it is read so. A match that is won stays won.
func (m *Match) wrongServer(o order, serving side, again bool) {
	as := m.Clone()
	as.rally(o.side)
	if !again || m.is("second-offence", "counts") || as.phase == over {
		m.rally(o.side)
		m.did.add(stands)
	} else {
		m.did.add(overruled)
	}
	count(&m.wrong[serving], mostWrong)
	if !again {
		m.warn(serving)
		return
	}
	count(&m.fouls[serving], mostFouls)
	m.did.add(foul)
	if m.phase == over {
		m.did.add(recorded)
		return
	}
	m.penaltyPoint(serving)
}
