package record

import (
	"bytes"
	"encoding/json"
	"strconv"

	"github.com/evencourt/evencourt/format"
)

// formatFields are the fields of a format in full; all are required.
var formatFields = []string{"shape", "edition", "game", "last", "match", "rulings"}

var gameFields = []string{"sides", "scorer", "servers", "first_turn", "order", "target", "win_by", "cap", "freeze",
	"change_ends_at", "time_outs"}

var matchFields = []string{"games", "play_all", "next_serve", "change_ends"}

// MarshalFormat returns a format in full as JSON: every field, the rulings as
// an object from switch to reading. An invalid format is a [*format.Error].
func MarshalFormat(f format.Format) ([]byte, error) {
	if err := f.Validate(); err != nil {
		return nil, err
	}
	return text(struct {
		Shape   string         `json:"shape"`
		Edition format.Edition `json:"edition"`
		Game    format.Game    `json:"game"`
		Last    format.Game    `json:"last"`
		Match   format.Series  `json:"match"`
		Rulings format.Rulings `json:"rulings"`
	}{f.Shape, f.Edition, f.Game, f.Last, f.Match, f.Rulings})
}

// UnmarshalFormat reads what [MarshalFormat] writes. Every field must be
// there, none twice and none besides; the format must be valid. The error is
// an [*Error] with the field.
func UnmarshalFormat(data []byte) (format.Format, error) {
	f, err := formatOf(data)
	if err != nil {
		return format.Format{}, err
	}
	return f, nil
}

func formatOf(data []byte) (f format.Format, _ *Error) {
	if len(data) > MostLine {
		return f, failure(tooLong, "", "longer than "+strconv.Itoa(MostLine)+" bytes")
	}
	fields, err := object(data)
	if err != nil {
		return f, err
	}
	if f, err = formatFrom(fields); err != nil {
		return f, err
	}
	return f, valid(f)
}

// formatFrom takes a format from its fields, whether it is valid or not.
func formatFrom(fields map[string]json.RawMessage) (f format.Format, _ *Error) {
	if err := only(fields, formatFields...); err != nil {
		return f, err
	}
	for _, part := range []struct {
		name string
		into any
		all  []string
	}{
		{"shape", &f.Shape, nil},
		{"edition", &f.Edition, nil},
		{"game", &f.Game, gameFields},
		{"last", &f.Last, gameFields},
		{"match", &f.Match, matchFields},
	} {
		if err := whole(fields, part.name, part.all); err != nil {
			return f, err
		}
		if err := need(fields, part.name, part.into); err != nil {
			return f, err
		}
	}
	return f, readRulings(fields, &f)
}

// whole sees that an object has all its fields, and that none is null.
func whole(fields map[string]json.RawMessage, name string, all []string) *Error {
	if all == nil {
		return nil
	}
	raw, ok := fields[name]
	if !ok {
		return failure(badField, name, "missing")
	}
	var inner map[string]json.RawMessage
	if json.Unmarshal(raw, &inner) != nil || inner == nil {
		return failure(badField, name, "must be an object")
	}
	for _, field := range all {
		switch raw, ok := inner[field]; {
		case !ok:
			return failure(badField, join(name, field), "missing")
		case bytes.Equal(raw, []byte("null")):
			return failure(badField, join(name, field), "must not be null")
		}
	}
	return nil
}

// readRulings reads the rulings into those of the edition, which answer for a
// switch that did not exist when the format was written.
func readRulings(fields map[string]json.RawMessage, f *format.Format) *Error {
	raw, ok := fields["rulings"]
	if !ok {
		return failure(badField, "rulings", "missing")
	}
	f.Rulings = format.RulingsOf(f.Edition)
	err := f.Rulings.UnmarshalJSON(raw)
	if of, ok := err.(*format.Error); ok {
		return failure(badField, of.Field, of.Reason)
	}
	return nil
}
