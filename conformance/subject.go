package conformance

import (
	"fmt"
	"strings"
)

// Outcome is what became of one case in one format.
type Outcome string

// The outcomes. They are never taken for each other: an engine that dies has
// not refused an event, and one that stays silent has not skipped the case.
const (
	Passed     Outcome = "passed"
	Wrong      Outcome = "wrong"      // an answer that the case does not allow
	Skipped    Outcome = "skipped"    // the engine says that it does not play the case, and why
	Errored    Outcome = "errored"    // the engine says that it failed
	Crashed    Outcome = "crashed"    // the engine ended or broke off
	TimedOut   Outcome = "timed-out"  // no answer in time
	Unreadable Outcome = "unreadable" // an answer that is none: no JSON, too long, to another question
	NotReached Outcome = "not-reached"
)

// Identity says which engine it is.
type Identity struct {
	Name     string `json:"name"`
	Version  string `json:"version"`
	Language string `json:"language,omitempty"`
	URL      string `json:"url,omitempty"`
}

// Played is what a subject did with a case: all its answers, the first to the
// start and one to each event, or why there are none.
type Played struct {
	Outcome Outcome // Passed if there are answers to judge
	Answers []Answer
	Reason  string
	URL     string // of a skip: where the matter is followed up
}

// Subject is an engine under test: in this process ([InProcess]) or at the
// other end of the protocol.
type Subject interface {
	Identity() Identity
	// Claim asks which of the formats the engine plays in a profile. A reason
	// means that it does not claim the profile. After an error no more can be
	// asked of the subject.
	Claim(p Profile, formats []string) (claimed []string, reason string, err error)
	// Play plays the events of a case. It never blocks for ever.
	Play(formatID string, start Start, events []string) Played
}

// InProcess makes a subject of an engine that is called directly. It claims
// every profile, in the formats in which a match can begin. A panic counts as
// a crash. An engine that hangs hangs the run: only a process can be given up.
func InProcess(engine Engine, id Identity) Subject { return &inProcess{engine, id} }

type inProcess struct {
	engine Engine
	id     Identity
}

func (s *inProcess) Identity() Identity { return s.id }

func (s *inProcess) Claim(_ Profile, formats []string) ([]string, string, error) {
	var out []string
	for _, id := range formats {
		if s.begins(id) {
			out = append(out, id)
		}
	}
	if len(out) == 0 {
		return nil, "no format of it", nil
	}
	return out, "", nil
}

func (s *inProcess) begins(formatID string) (ok bool) {
	defer func() {
		if recover() != nil {
			ok = true // a crash is for the cases to show
		}
	}()
	_, err := s.engine.Begin(formatID, Start{First: "A"})
	return err == nil
}

func (s *inProcess) Play(formatID string, start Start, events []string) (p Played) {
	defer func() {
		if r := recover(); r != nil {
			p = Played{Outcome: Crashed, Reason: Printable(fmt.Sprint(r))}
		}
	}()
	a, err := s.engine.Begin(formatID, start)
	if err != nil {
		return Played{Outcome: Errored, Reason: Printable(err.Error())}
	}
	answers := make([]Answer, 1, len(events)+1)
	answers[0] = a
	for _, e := range events {
		answers = append(answers, s.engine.Do(e))
	}
	return Played{Outcome: Passed, Answers: answers}
}

// Report plays a case again and asks for the final.
func (s *inProcess) Report(formatID string, start Start, events []string) (r Reported, p Played) {
	reporter, ok := s.engine.(Reporter)
	if !ok {
		return r, Played{Outcome: Skipped, Reason: "does not say what is reported of a match"}
	}
	if p = s.Play(formatID, start, events); p.Outcome == Passed {
		r = reporter.Report()
	}
	return r, p
}

// Printable is what a report repeats of an engine's own words: at most 500
// bytes of them, on one line of printable ASCII.
func Printable(text string) string {
	const most = 500
	more := len(text) > most
	if more {
		text = text[:most]
	}
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		if c := text[i]; c < ' ' || c > '~' {
			fmt.Fprintf(&b, "\\x%02x", c)
		} else {
			b.WriteByte(c)
		}
	}
	if more {
		b.WriteString("...")
	}
	return b.String()
}
