package rally

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// EntryError reports an entry that the log did not take, and why. Where an
// earlier entry was to be corrected, N is the later entry that would then be
// refused.
type EntryError struct {
	Text    string  // the entry, shortened
	N       int     // number of the entry at fault, from 1; 0 for the new one
	Refusal Refusal // the code
	Reason  string  // more about it; may be empty
}

// Error implements error.
func (e *EntryError) Error() string {
	out := "rally: entry " + format.Quote(e.Text) + ": " + e.Refusal.String()
	if e.N != 0 {
		out += " at entry " + strconv.Itoa(e.N)
	}
	if e.Reason != "" {
		out += ": " + e.Reason
	}
	return out
}

// Do adds an entry given as text: an event, or a correction with its payload.
// The error is an [*EventError] for text that is no entry, an [*EntryError]
// for one that is refused.
func (l *Log) Do(text string) (Effects, error) {
	word, rest, _ := format.Cut(text, ' ')
	refuse := func(refusal Refusal, reason string) (Effects, error) {
		return 0, &EntryError{shorten(text), 0, refusal, reason}
	}
	switch word {
	case "undo", "redo":
		if rest != "" || word != text {
			return refuse(Malformed, "takes nothing after it")
		}
		if word == "undo" {
			return 0, l.Undo()
		}
		return 0, l.Redo()
	case "amend", "rule", "rewind":
		number, rest, _ := format.Cut(rest, ' ')
		n, ok := parseNumber(number, 99999)
		if !ok {
			return refuse(Malformed, "want the number of an entry")
		}
		if word == "rewind" {
			if rest != "" {
				return refuse(Malformed, "takes one number")
			}
			return 0, l.Rewind(n)
		}
		what, note, _ := format.Cut(rest, ' ')
		var e Event
		if what != "-" || word == "rule" {
			var err error
			if e, err = ParseEvent(what); err != nil {
				return 0, err
			}
		}
		if word == "rule" {
			if note != "" {
				return refuse(Malformed, "takes a number and an event")
			}
			return l.RuleOn(n, e)
		}
		return 0, l.Amend(n, e, note)
	case "set":
		return 0, l.SetLine(rest)
	case "format":
		words := split(rest)
		if len(words) != 3 || words[1] != "now" && words[1] != "next" || words[2] == "" {
			return refuse(Malformed, "want a format id, now or next, and who decided")
		}
		f, err := format.Parse(words[0])
		if err != nil {
			return 0, err
		}
		return 0, l.ChangeFormat(f, words[1] == "next", words[2])
	}
	e, err := ParseEvent(text)
	if err != nil {
		return 0, err
	}
	did, refusal := l.Apply(e)
	if refusal != NotRefused {
		return refuse(refusal, "")
	}
	return did, nil
}

// Text returns entry n as text, as [Log.Do] takes it.
func (l *Log) Text(n int) string {
	if n < 1 || n > len(l.entries) {
		return ""
	}
	return l.textOf(n, l.entries[n-1])
}

func (l *Log) textOf(n int, e Event) string {
	k := e.Kind()
	if k < Undo {
		return e.String()
	}
	p := l.payload(n)
	word := forms[k].prefix
	switch k {
	case Amend:
		word += " " + strconv.Itoa(p.target) + " "
		if p.event == 0 {
			word += "-"
		} else {
			word += p.event.String()
		}
		if p.note != "" {
			word += " " + p.note
		}
	case Rule:
		word += " " + strconv.Itoa(p.target) + " " + p.event.String()
	case Rewind:
		word += " " + strconv.Itoa(p.target)
	case SetPosition:
		word += " " + p.text
	case ChangeFormat:
		when := " now "
		if p.next {
			when = " next "
		}
		word += " " + p.text + when + p.note
	}
	return word
}

// FormatAt returns the format that entry n, a change of format, brings in. It
// is for formats without an id, whose entry has no text that [Log.Do] takes.
func (l *Log) FormatAt(n int) (f format.Format, next bool, authority string, ok bool) {
	if n < 1 || n > len(l.entries) || l.entries[n-1].Kind() != ChangeFormat {
		return format.Format{}, false, "", false
	}
	p := l.payload(n)
	return p.rules.format, p.next, p.note, true
}
