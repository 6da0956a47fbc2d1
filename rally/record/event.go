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
		return nil, failure(syntax, "", "not a JSON array")
	}
	out := []rally.Event{}
	for dec.More() {
		at := strconv.Itoa(len(out))
		if len(out) == MostEntries {
			return nil, failure(tooMany, at, "more than "+strconv.Itoa(MostEntries)+" events")
		}
		token, err := dec.Token()
		word, ok := token.(string)
		if err != nil || !ok {
			return nil, failure(syntax, at, "not the word of an event")
		}
		e, err := rally.ParseEvent(word)
		if err != nil {
			return nil, caused(badField, at, err)
		}
		out = append(out, e)
	}
	if _, err := dec.Token(); err != nil {
		return nil, failure(syntax, "", "the array breaks off")
	}
	if dec.More() {
		return nil, failure(syntax, "", "more text after the JSON value")
	}
	return out, nil
}

// textOf returns the text of an entry: that of [rally.Entry.String], with a
// format that has no id in full. The error is that of a format that cannot be
// written.
func textOf(e rally.Entry) (string, error) {
	text := e.String()
	if e.Kind != rally.ChangeFormat || e.Format.ID() != "" {
		return text, nil
	}
	full, err := MarshalFormat(e.Format)
	return changeTo + string(full) + strings.TrimPrefix(text, changeTo+noFormat), err
}

// changeTo is how the text of a change of format begins, noFormat what stands
// for a format that is given beside.
const (
	changeTo = "format "
	noFormat = "-"
)

// changesTo returns the id that the text of an entry changes to, if it does.
func changesTo(text string) (id string, ok bool) {
	rest, ok := strings.CutPrefix(text, changeTo)
	id, _, more := strings.Cut(rest, " ")
	return id, ok && more && id != noFormat && id[:min(1, len(id))] != "{"
}

// parseEntry reads what textOf writes.
func parseEntry(text string) (rally.Entry, error) {
	rest, inFull := strings.CutPrefix(text, changeTo+"{")
	end := strings.LastIndexByte(rest, '}')
	if !inFull || end < 0 {
		return rally.ParseEntry(text)
	}
	f, fault := formatOf([]byte("{" + rest[:end+1]))
	if fault != nil {
		return rally.Entry{}, fault
	}
	e, err := rally.ParseEntry(changeTo + noFormat + rest[end+1:])
	e.Format = f
	return e, err
}

// brief is outside text for a message.
func brief(s string) string { return format.Quote(s) }
