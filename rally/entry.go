package rally

import (
	"strconv"
	"unicode/utf8"

	"github.com/evencourt/evencourt/format"
)

// Entry is one entry of a log: an event, or a correction of what was entered.
// Make that of an event with [Event.Entry]; corrections are written out:
//
//	Entry{Kind: Amend, Target: 3, Event: RallyTo(B), Note: "second referee"}
//
// Its text form is one: [ParseEntry] reads what [Entry.String] writes.
type Entry struct {
	Kind   Kind          // of the event, or of the correction
	Event  Event         // the event; of an amendment or ruling what is put in the place of the target, 0 to strike it
	Target int           // number of the entry that is amended, ruled on or rewound to, from 1
	Note   string        // the stated reason of an amendment; who decided on a format, in one word
	Line   string        // the position that is stated, as a canonical line
	Format format.Format // that is changed to
	Next   bool          // whether it is in force only from the next game
}

// Entry returns the entry that says that an event happened.
func (e Event) Entry() Entry { return Entry{Kind: e.Kind(), Event: e} }

// MostNote is the most bytes that the note of an entry can have.
const MostNote = 400

// noFormat stands in the text of a change of format for a format without an
// id, which has no text here: whoever keeps such entries gives it beside.
const noFormat = "-"

// String returns the text of the entry; "?" stands for a malformed event. Of a
// change to a format without an id it has "-" in its place.
func (e Entry) String() string { return string(e.appendText(nil)) }

func (e *Entry) appendText(dst []byte) []byte {
	if e.Kind < Undo {
		return e.Event.appendWord(dst)
	}
	words := func(w ...string) {
		for _, w := range w {
			dst = append(append(dst, ' '), w...)
		}
	}
	if e.Kind >= kindCount {
		return append(dst, '?')
	}
	dst = append(dst, forms[e.Kind].prefix...)
	switch e.Kind {
	case Amend, RuleOn:
		words(strconv.Itoa(e.Target))
		if e.Event == 0 {
			words("-")
		} else {
			words(e.Event.String())
		}
		if e.Note != "" {
			words(e.Note)
		}
	case Rewind:
		words(strconv.Itoa(e.Target))
	case SetPosition:
		words(e.Line)
	case ChangeFormat:
		id, when := e.Format.ID(), "now"
		if id == "" {
			id = noFormat
		}
		if e.Next {
			when = "next"
		}
		words(id, when, e.Note)
	}
	return dst
}

// MarshalText implements encoding.TextMarshaler. An entry that has no text is
// an error.
func (e Entry) MarshalText() ([]byte, error) { return e.AppendText(nil) }

// AppendText implements encoding.TextAppender. An entry that has no text is an
// [*EntryError].
func (e Entry) AppendText(dst []byte) ([]byte, error) {
	text := e.String()
	if back, err := ParseEntry(text); err != nil || back.Format != e.Format {
		return dst, &EntryError{Text: shorten(text), Refusal: Malformed, Reason: "no-text"}
	}
	return append(dst, text...), nil
}

// UnmarshalText implements encoding.TextUnmarshaler.
func (e *Entry) UnmarshalText(text []byte) error {
	got, err := ParseEntry(string(text))
	if err == nil {
		*e = got
	}
	return err
}

// ParseEntry reads the text of an entry: an event, or a correction with what
// it carries. There is one text for each entry; only of a format any id is
// taken that means it. The error is an [*EventError] for what is no event, a
// [*format.Error] for what is no format, an [*EntryError] otherwise.
func ParseEntry(text string) (Entry, error) {
	word, rest, more := format.Cut(text, ' ')
	e := Entry{Kind: correctionNamed(word)}
	refuse := func(reason EntryReason) (Entry, error) {
		return Entry{}, &EntryError{Text: shorten(text), Refusal: Malformed, Reason: reason}
	}
	switch e.Kind {
	case NoKind:
		event, err := ParseEvent(text)
		return event.Entry(), err
	case Undo, Redo:
		if more {
			return refuse("nothing-after")
		}
	case Rewind:
		var ok bool
		if e.Target, ok = format.Natural(rest, mostTarget); !ok {
			return refuse("want-number")
		}
	case Amend, RuleOn:
		number, rest, _ := format.Cut(rest, ' ')
		what, note, noted := format.Cut(rest, ' ')
		var ok bool
		if e.Target, ok = format.Natural(number, mostTarget); !ok {
			return refuse("want-number")
		}
		if what != "-" || e.Kind == RuleOn {
			var err error
			if e.Event, err = ParseEvent(what); err != nil {
				return Entry{}, err
			}
		}
		if noted && (e.Kind == RuleOn || note == "") {
			return refuse("want-event")
		}
		e.Note = note
	case SetPosition:
		e.Line = rest
	case ChangeFormat:
		words := split(rest)
		if len(words) != 3 || words[1] != "now" && words[1] != "next" || words[2] == "" {
			return refuse("want-format")
		}
		if words[0] != noFormat {
			var err error
			if e.Format, err = format.Parse(words[0]); err != nil {
				return Entry{}, err
			}
		}
		e.Next, e.Note = words[1] == "next", words[2]
	}
	return e, nil
}

// mostTarget is the highest number of an entry that can be named.
const mostTarget = 99999

// correctionNamed returns the kind of correction that a word begins, or NoKind.
func correctionNamed(word string) Kind {
	for k := Undo; k < kindCount; k++ {
		if forms[k].prefix == word {
			return k
		}
	}
	return NoKind
}

// Corrects reports whether the entry corrects earlier ones or says how they
// are to be read, rather than that something happened.
func (e Entry) Corrects() bool { return e.Kind >= Undo }

// malformed says what is wrong with an entry by itself; "" for nothing.
func (e Entry) malformed() EntryReason {
	bare := Entry{Kind: e.Kind}
	switch e.Kind {
	case Amend:
		bare.Target, bare.Event, bare.Note = e.Target, e.Event, e.Note
	case RuleOn:
		bare.Target, bare.Event = e.Target, e.Event
	case Rewind:
		bare.Target = e.Target
	case SetPosition:
		bare.Line = e.Line
	case ChangeFormat:
		bare.Format, bare.Next, bare.Note = e.Format, e.Next, e.Note
	default:
		bare.Event = e.Event
	}
	switch {
	case e != bare, e.Kind < Undo && e.Kind != e.Event.Kind(), e.Kind >= kindCount:
		return "parts"
	case e.Kind < Undo, e.Kind == Amend && e.Event != 0, e.Kind == RuleOn:
		if !e.Event.wellFormed() {
			return "no-event"
		}
	case e.Kind == ChangeFormat && (e.Note == "" || len(split(e.Note)) != 1):
		return "decider"
	}
	if len(e.Note) > MostNote || !readable(e.Note) || e.Note != "" && e.Note[len(e.Note)-1] == ' ' {
		return "note"
	}
	return ""
}

// readable reports whether a text is UTF-8 without control characters and
// without what some program takes for the end of a line.
func readable(s string) bool {
	for _, c := range s {
		if c < ' ' || c >= 0x7f && c < 0xa0 || c == '\u2028' || c == '\u2029' {
			return false
		}
	}
	return utf8.ValidString(s)
}

// EntryError reports an entry that the log did not take, and why. Where an
// earlier entry was to be corrected, N is the entry that stands against it.
type EntryError struct {
	Text    string      // the entry, shortened
	N       int         // number of the entry at fault, from 1; 0 for the new one
	Refusal Refusal     // the code
	By      Grounds     // the clauses that decide, of an event as [Rules.Decide] says; none for a text that is no entry
	Reason  EntryReason // more about it; may be empty
	Detail  string      // what is wrong with a line or a format, where that is the reason
}

// Error implements error.
func (e *EntryError) Error() string {
	out := "rally: entry " + format.Quote(e.Text) + ": " + e.Refusal.String()
	if e.N != 0 {
		out += " at entry " + strconv.Itoa(e.N)
	}
	if e.Reason != "" {
		out += ": " + string(e.Reason)
	}
	if e.Detail != "" {
		out += ": " + e.Detail
	}
	return out
}

// EntryReason is a code that says more than a refusal about why an entry was not taken;
// package words has its sentence.
type EntryReason string
