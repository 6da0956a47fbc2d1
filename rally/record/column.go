package record

import (
	"database/sql/driver"
	"encoding"
	"fmt"

	"github.com/evencourt/evencourt/format"
)

// Column keeps a value that has a text in a text column of a database: an event, an
// entry, effects, a side, an edition, or a format, whose text is its id. A match goes
// into a column as [Notation], a state as [rally.Rules.Line]; both are texts already.
// It stands here since the packages of the game do without database/sql/driver,
// which a browser build would carry. The zero Column holds the zero value.
type Column[T any] struct{ V T }

// Value implements driver.Valuer.
func (c Column[T]) Value() (driver.Value, error) {
	switch v := any(c.V).(type) {
	case format.Format:
		if id := v.ID(); id != "" {
			return id, nil
		}
		return nil, failure(badField, "format", "has no id: keep MarshalFormat")
	case encoding.TextMarshaler:
		text, err := v.MarshalText()
		return string(text), err
	}
	return nil, failure(badField, "", fmt.Sprintf("%T has no text", c.V))
}

// Scan implements sql.Scanner.
func (c *Column[T]) Scan(src any) error {
	var text string
	switch src := src.(type) {
	case string:
		text = src
	case []byte:
		text = string(src)
	default:
		return failure(badField, "", fmt.Sprintf("want a text, not %T", src))
	}
	switch v := any(&c.V).(type) {
	case *format.Format:
		f, err := format.Parse(text)
		if err == nil {
			*v = f
		}
		return err
	case encoding.TextUnmarshaler:
		return v.UnmarshalText([]byte(text))
	}
	return failure(badField, "", fmt.Sprintf("%T does not read back", c.V))
}
