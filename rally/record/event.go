package record

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// MarshalEvents returns events as a JSON array of their words. An event that
// has no text is a [*rally.EventError].
func MarshalEvents(events []rally.Event) ([]byte, error) {
	words := make([]string, len(events))
	for i, e := range events {
		word, err := e.MarshalText()
		if err != nil {
			return nil, err
		}
		words[i] = string(word)
	}
	return text(words)
}

// UnmarshalEvents reads what [MarshalEvents] writes; at most [MostEntries] of
// them. The error is an [*Error] whose field is the place in the array, from 0.
func UnmarshalEvents(data []byte) ([]rally.Event, error) {
	dec := json.NewDecoder(bytes.NewReader(data))
	if open, err := dec.Token(); err != nil || open != json.Delim('[') {
		return nil, fault(Syntax, "", "not a JSON array")
	}
	out := []rally.Event{}
	for dec.More() {
		at := strconv.Itoa(len(out))
		if len(out) == MostEntries {
			return nil, fault(TooMany, at, "more than "+strconv.Itoa(MostEntries)+" events")
		}
		token, err := dec.Token()
		word, ok := token.(string)
		if err != nil || !ok {
			return nil, fault(Syntax, at, "not the word of an event")
		}
		e, err := rally.ParseEvent(word)
		if err != nil {
			return nil, caused(BadField, at, err)
		}
		out = append(out, e)
	}
	if _, err := dec.Token(); err != nil {
		return nil, fault(Syntax, "", "the array breaks off")
	}
	if dec.More() {
		return nil, fault(Syntax, "", "more text after the JSON value")
	}
	return out, nil
}

// Text is entry n of a log as [Do] takes it. It is that of [rally.Log.Text]
// but for a change to a format without an id, which stands there in full. The
// error is that of a format that cannot be written.
func Text(l *rally.Log, n int) (string, error) {
	f, next, authority, ok := l.FormatAt(n)
	if !ok || f.ID() != "" {
		return l.Text(n), nil
	}
	full, err := MarshalFormat(f)
	when := " now "
	if next {
		when = " next "
	}
	return "format " + string(full) + when + authority, err
}

// Do adds an entry to a log as [rally.Log.Do] does, and takes a change to a
// format in full as well. A refused entry changes nothing.
func Do(l *rally.Log, entry string) (rally.Effects, error) {
	rest, ok := strings.CutPrefix(entry, "format {")
	end := strings.LastIndexByte(rest, '}')
	if !ok || end < 0 {
		return l.Do(entry)
	}
	f, err := formatOf([]byte("{" + rest[:end+1]))
	if err != nil {
		return 0, err
	}
	when := strings.Split(rest[end+1:], " ")
	if len(when) != 3 || when[0] != "" || when[1] != "now" && when[1] != "next" {
		return 0, &rally.EntryError{Text: "format", Refusal: rally.Malformed, Reason: "want a format, now or next, and who decided"}
	}
	return 0, l.ChangeFormat(f, when[1] == "next", when[2])
}

// corrects reports whether an entry is a correction, after which a log folds
// all its entries again.
func corrects(entry string) bool {
	switch word, _, _ := strings.Cut(entry, " "); word {
	case "undo", "redo", "amend", "rule", "rewind", "set", "format":
		return true
	}
	return false
}

// tooMany is the fault of a record or notation with too many corrections.
func tooMany(field string) *Error {
	return fault(TooMany, field, "more than "+strconv.Itoa(MostCorrections)+" corrections")
}

// brief is outside text for a message.
func brief(s string) string { return format.Quote(s) }
