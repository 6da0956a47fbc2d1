package format

import "strconv"

// String returns the text name of v.
func (v Sides) String() string { return nameOf(sidesNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Sides) MarshalText() ([]byte, error) { return marshal("sides", sidesNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Sides) UnmarshalText(text []byte) error { return unmarshal("sides", sidesNames, text, v) }

// String returns the text name of v.
func (v Scorer) String() string { return nameOf(scorerNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Scorer) MarshalText() ([]byte, error) { return marshal("scorer", scorerNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Scorer) UnmarshalText(text []byte) error { return unmarshal("scorer", scorerNames, text, v) }

// String returns the text name of v.
func (v Order) String() string { return nameOf(orderNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Order) MarshalText() ([]byte, error) { return marshal("order", orderNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Order) UnmarshalText(text []byte) error { return unmarshal("order", orderNames, text, v) }

// String returns the text name of v.
func (v Freeze) String() string { return nameOf(freezeNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Freeze) MarshalText() ([]byte, error) { return marshal("freeze", freezeNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Freeze) UnmarshalText(text []byte) error { return unmarshal("freeze", freezeNames, text, v) }

// String returns the text name of v.
func (v NextServe) String() string { return nameOf(nextServeNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v NextServe) MarshalText() ([]byte, error) { return marshal("next_serve", nextServeNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *NextServe) UnmarshalText(text []byte) error {
	return unmarshal("next_serve", nextServeNames, text, v)
}

// String returns the text name of v.
func (v Edition) String() string {
	if name := v.row().name; name != "" {
		return name
	}
	return "?" + strconv.Itoa(int(v))
}

// MarshalText implements encoding.TextMarshaler.
func (v Edition) MarshalText() ([]byte, error) {
	if v.Document() == 0 {
		return nil, &Error{"edition", "value " + strconv.Itoa(int(v)) + " has no name"}
	}
	return []byte(v.row().name), nil
}

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Edition) UnmarshalText(text []byte) error {
	for i := range editions {
		if editions[i].name == string(text) && i > 0 {
			*v = Edition(i)
			return nil
		}
	}
	return &Error{"edition", "unknown value " + Quote(string(text)) + ", want " + list(editionNames())}
}

// String returns the text name of v.
func (v Document) String() string { return nameOf(documentNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Document) MarshalText() ([]byte, error) { return marshal("document", documentNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Document) UnmarshalText(text []byte) error {
	return unmarshal("document", documentNames, text, v)
}

// String returns the text name of v.
func (v Mark) String() string { return nameOf(markNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Mark) MarshalText() ([]byte, error) { return marshal("mark", markNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Mark) UnmarshalText(text []byte) error { return unmarshal("mark", markNames, text, v) }

// String returns the text name of v.
func (v Keeper) String() string { return nameOf(statusNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Keeper) MarshalText() ([]byte, error) { return marshal("status", statusNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Keeper) UnmarshalText(text []byte) error { return unmarshal("status", statusNames, text, v) }

// String returns the text name of v.
func (v Moves) String() string { return nameOf(movesNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Moves) MarshalText() ([]byte, error) { return marshal("moves", movesNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Moves) UnmarshalText(text []byte) error { return unmarshal("moves", movesNames, text, v) }
