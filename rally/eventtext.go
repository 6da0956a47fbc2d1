package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// shape is the grammar of an event's text.
type shape uint8

const (
	wordShape    shape = iota // a word alone: "ends"
	sideShape                 // prefix and side: "tA"
	personShape               // prefix, person and suffix: "mA1+"
	rallyShape                // side, fault, incident: "A:foot"
	stopShape                 // "stop?server,struck,byB"
	startShape                // "gA1B1"
	choiceShape               // "fcA:serve"
	secondsShape              // "lateA:600"
	payloadShape              // a correction: the word, then a payload
)

// form is the text of a kind of event.
type form struct {
	prefix, suffix string
	shape          shape
}

var forms = [kindCount]form{
	RallyWon:           {"", "", rallyShape},
	Replay:             {"replay", "", wordShape},
	Stop:               {"stop", "", stopShape},
	StartGame:          {"g", "", startShape},
	EndsChanged:        {"ends", "", wordShape},
	Exchange:           {"x", "", sideShape},
	TimeOut:            {"t", "", sideShape},
	TimeIn:             {"in", "", wordShape},
	EquipmentTimeOut:   {"eq", "", personShape},
	RefereeTimeOut:     {"ref", "", wordShape},
	BloodTimeOut:       {"blood", "", wordShape},
	HazardTimeOut:      {"hazard", "", wordShape},
	IllnessTimeOut:     {"illness", "", wordShape},
	Dealt:              {"dealt", "", wordShape},
	MedicalRequest:     {"m", "", personShape},
	MedicalValid:       {"m", "+", personShape},
	MedicalInvalid:     {"m", "-", personShape},
	MedicalWithdrawn:   {"m", "w", personShape},
	HelpArrived:        {"aid", "", personShape},
	PlayOnAlone:        {"out", "", personShape},
	Concussion:         {"c", "", personShape},
	VerbalWarning:      {"vw", "", sideShape},
	TechnicalWarning:   {"tw", "", sideShape},
	TechnicalFoul:      {"tf", "", sideShape},
	CarryVerbal:        {"cv", "", personShape},
	CarryWarning:       {"cw", "", personShape},
	CarryFoul:          {"cf", "", personShape},
	CarrySameVerbal:    {"cv", "=", personShape},
	CarrySameWarning:   {"cw", "=", personShape},
	CarrySameFoul:      {"cf", "=", personShape},
	GameForfeit:        {"gf", "", sideShape},
	MatchForfeit:       {"mf", "", sideShape},
	DoubleForfeit:      {"dmf", "", wordShape},
	Ejection:           {"ej", "", personShape},
	Expulsion:          {"ex", "", personShape},
	LateArrival:        {"late", "", secondsShape},
	ChallengeLost:      {"lost", "", sideShape},
	ChallengeWithdrawn: {"back", "", sideShape},
	FirstChoice:        {"fc", "", choiceShape},
	Retirement:         {"ret", "", sideShape},
	Withdrawal:         {"wd", "", sideShape},
	Abandon:            {"abandon", "", wordShape},
	ResumePlay:         {"resume", "", wordShape},
	Substitution:       {"sub", "", personShape},
	SheetReturned:      {"sheet", "", wordShape},
	Undo:               {"undo", "", payloadShape},
	Redo:               {"redo", "", payloadShape},
	Amend:              {"amend", "", payloadShape},
	RuleOn:             {"rule", "", payloadShape},
	Rewind:             {"rewind", "", payloadShape},
	SetPosition:        {"set", "", payloadShape},
	ChangeFormat:       {"format", "", payloadShape},
}

// shapeMasks are the bits that a kind with this text uses besides its kind.
var shapeMasks = [...]Event{
	wordShape:    0,
	sideShape:    sideFlag,
	personShape:  sideFlag | playerFlag,
	rallyShape:   sideFlag | 63<<argAt | incidents,
	stopShape:    incidents,
	startShape:   sideFlag | 63<<argAt,
	choiceShape:  sideFlag | 63<<argAt,
	secondsShape: sideFlag | 0xffff<<secondsAt,
	payloadShape: 0,
}

// String returns the text of the event; "?" for a malformed one.
func (e Event) String() string {
	var buf [48]byte
	return string(e.appendWord(buf[:0]))
}

// MarshalText implements encoding.TextMarshaler.
func (e Event) MarshalText() ([]byte, error) {
	return e.AppendText(nil)
}

// UnmarshalText implements encoding.TextUnmarshaler.
func (e *Event) UnmarshalText(text []byte) error {
	got, err := ParseEvent(string(text))
	if err == nil {
		*e = got
	}
	return err
}

// AppendText implements encoding.TextAppender. A malformed event is an [*EventError].
func (e Event) AppendText(dst []byte) ([]byte, error) {
	if !e.wellFormed() {
		return dst, &EventError{Reason: "no such event"}
	}
	return e.appendWord(dst), nil
}

// appendWord appends the text of the event; "?" for a malformed one.
func (e Event) appendWord(dst []byte) []byte {
	if !e.wellFormed() {
		return append(dst, '?')
	}
	f := forms[e.Kind()]
	dst = append(dst, f.prefix...)
	switch f.shape {
	case sideShape, rallyShape, choiceShape, secondsShape:
		dst = append(dst, e.Side().String()...)
	case personShape:
		dst = append(dst, e.Person().String()...)
	case startShape:
		st := e.Starters()
		dst = append(dst, st[e.Side()].String()...)
		dst = append(dst, st[e.Side().Other()].String()...)
	}
	dst = append(dst, f.suffix...)
	switch f.shape {
	case choiceShape:
		dst = append(dst, ':')
		dst = append(dst, choiceNames[e.Choice()]...)
	case secondsShape:
		dst = append(dst, ':')
		dst = strconv.AppendInt(dst, int64(e.Seconds()), 10)
	case rallyShape, stopShape:
		if fault := e.Fault(); fault != NoFault {
			dst = append(dst, ':')
			dst = append(dst, faultNames[fault]...)
		}
		if i, rides := e.Incident(); rides {
			dst = i.appendText(append(dst, '?'))
		}
	}
	return dst
}

func (i Incident) appendText(dst []byte) []byte {
	start := len(dst)
	word := func(prefix, w string) {
		if w == "" {
			return
		}
		if len(dst) > start {
			dst = append(dst, ',')
		}
		dst = append(append(dst, prefix...), w...)
	}
	for m := WrongSideServed; m < mistakeCount; m++ {
		if i.Mistakes.Has(m) {
			word("", mistakeNames[m])
		}
	}
	if i.Claimed {
		word("~", mistakeNames[i.Claim])
	}
	if i.Misled {
		word("", "misled")
	}
	word("", reachNames[i.Reach])
	word("", sinceNames[i.Since])
	word("", stopperNames[i.Stopper])
	if i.Asked {
		word("", "asked")
	}
	return dst
}

// EventError reports a text that is no event, and at which byte.
type EventError struct {
	Text   string // what was read, shortened
	At     int    // byte at which it goes wrong, from 0
	Reason string
}

// Error implements error.
func (e *EventError) Error() string {
	return "rally: event " + format.Quote(e.Text) + " at byte " + strconv.Itoa(e.At) + ": " + e.Reason
}

// ParseEvent reads the text of an event. There is one text for each event:
// ParseEvent(e.String()) == e, and whatever it accepts it writes back the same.
// Corrections are read by [ParseEntry]. The error is an [*EventError].
func ParseEvent(text string) (Event, error) {
	e, at, reason := parseEvent(text)
	switch {
	case reason == "" && !e.wellFormed():
		at, reason = 0, "its parts contradict each other"
	case reason == "" && e.String() != text:
		at, reason = len(text), "words are not in their order"
	}
	if reason != "" {
		return 0, &EventError{Text: shorten(text), At: at, Reason: reason}
	}
	return e, nil
}

func shorten(s string) string {
	if len(s) > 60 {
		return s[:60] + "..."
	}
	return s
}

// parseEvent returns the event, or where and why the text is not one.
func parseEvent(text string) (e Event, at int, reason string) {
	switch {
	case text == "":
		return 0, 0, "empty"
	case text[0] == 'A' || text[0] == 'B':
		return parseRally(text)
	case len(text) > 5 && text[:5] == "stop?":
		return parseIncident(simple(Stop), text, 5)
	}
	for k := Replay; k < kindCount; k++ {
		f := forms[k]
		if len(text) < len(f.prefix) || text[:len(f.prefix)] != f.prefix {
			continue
		}
		rest := text[len(f.prefix):]
		at = len(f.prefix)
		switch f.shape {
		case wordShape:
			if rest == "" {
				return simple(k), 0, ""
			}
		case sideShape:
			if len(rest) == 1 && isSide(rest[0]) {
				return sided(k, Side(rest[0]-'A')), 0, ""
			}
		case personShape:
			if len(rest) == 2+len(f.suffix) && isPerson(rest[:2]) && rest[2:] == f.suffix {
				return personal(k, person(rest)), 0, ""
			}
		case startShape:
			if len(rest) == 4 && isPerson(rest[:2]) && isPerson(rest[2:]) {
				p, q := person(rest), person(rest[2:])
				if p.Side() == q.Side() {
					return 0, at + 2, "names one starting server of each side"
				}
				var st Starters
				st[p.Side()], st[q.Side()] = p, q
				return Start(p.Side(), st), 0, ""
			}
		case choiceShape:
			if len(rest) > 2 && isSide(rest[0]) && rest[1] == ':' {
				for c := ChooseServe; c <= ChooseDefer; c++ {
					if choiceNames[c] == rest[2:] {
						return Choose(Side(rest[0]-'A'), c), 0, ""
					}
				}
				return 0, at + 2, "choices are serve, receive, end and defer"
			}
		case secondsShape:
			if len(rest) > 2 && isSide(rest[0]) && rest[1] == ':' {
				n, ok := format.Natural(rest[2:], 65535)
				if !ok {
					return 0, at + 2, "seconds are a number up to 65535"
				}
				return Late(Side(rest[0]-'A'), n), 0, ""
			}
		case payloadShape:
			if rest == "" || rest[0] == ' ' {
				return 0, 0, "is a correction, which only a log carries out"
			}
		}
	}
	return 0, 0, "no such event; " + hint(text)
}

func parseRally(text string) (e Event, at int, reason string) {
	e = RallyTo(Side(text[0] - 'A'))
	if len(text) == 1 {
		return e, 0, ""
	}
	at = 1
	if text[1] == ':' {
		end := 2
		for end < len(text) && text[end] != '?' {
			end++
		}
		found := false
		for f := FootFault; f < faultCount; f++ {
			if faultNames[f] == text[2:end] {
				e, found = FaultTo(e.Side(), f), true
			}
		}
		if !found {
			return 0, 2, "no such fault"
		}
		at = end
	}
	if at == len(text) {
		return e, 0, ""
	}
	if text[at] != '?' {
		return 0, at, "want ':' and a fault, or '?' and errors"
	}
	return parseIncident(e, text, at+1)
}

func parseIncident(e Event, text string, at int) (Event, int, string) {
	var i Incident
	for {
		end := at
		for end < len(text) && text[end] != ',' {
			end++
		}
		if !i.set(text[at:end]) {
			return 0, at, "no such word, or one too many of its sort"
		}
		if end == len(text) {
			return e.WithIncident(i), 0, ""
		}
		at = end + 1
	}
}

// set takes one word of an incident; false if it is none or contradicts one
// already taken.
func (i *Incident) set(word string) bool {
	if word == "" {
		return false
	}
	if word[0] == '~' {
		n := index(mistakeNames, word[1:])
		ok := n >= 0 && !i.Claimed
		i.Claim, i.Claimed = Mistake(n), true
		return ok
	}
	if n := index(mistakeNames, word); n >= 0 {
		ok := !i.Mistakes.Has(Mistake(n))
		i.Mistakes = i.Mistakes.With(Mistake(n))
		return ok
	}
	if n := index(reachNames, word); n > 0 && i.Reach == ToItsEnd {
		i.Reach = Reach(n)
		return true
	}
	if n := index(sinceNames, word); n > 0 && i.Since == StillLive {
		i.Since = Since(n)
		return true
	}
	if n := index(stopperNames, word); n > 0 && i.Stopper == Nobody {
		i.Stopper = Stopper(n)
		return true
	}
	switch word {
	case "misled":
		ok := !i.Misled
		i.Misled = true
		return ok
	case "asked":
		ok := !i.Asked
		i.Asked = true
		return ok
	}
	return false
}

func index(names []string, word string) int {
	for i, n := range names {
		if n == word {
			return i
		}
	}
	return -1
}

func isSide(c byte) bool { return c == 'A' || c == 'B' }

func isPerson(s string) bool {
	return len(s) >= 2 && isSide(s[0]) && (s[1] == '1' || s[1] == '2')
}

func person(s string) Person { return Person((s[0]-'A')<<1 | (s[1] - '1')) }
