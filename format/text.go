package format

import "strconv"

// An Error names the field of a format that is at fault, and why.
type Error struct {
	Field  string // dotted path of the field, such as "game.target"
	Reason string // what is wrong with it, lower-case and without a full stop
}

// Error implements error.
func (e *Error) Error() string { return "format: " + e.Field + ": " + e.Reason }

// An enum's names stand in a slice indexed by its value; an empty name marks
// a value that has no text.

func nameOf[E ~uint8](names []string, v E) string {
	if int(v) < len(names) && names[v] != "" {
		return names[v]
	}
	return "?" + strconv.Itoa(int(v))
}

func marshal[E ~uint8](kind string, names []string, v E) ([]byte, error) {
	if int(v) < len(names) && names[v] != "" {
		return []byte(names[v]), nil
	}
	return nil, &Error{kind, "value " + strconv.Itoa(int(v)) + " has no name"}
}

func unmarshal[E ~uint8](kind string, names []string, text []byte, v *E) error {
	for i, name := range names {
		if name != "" && name == string(text) {
			*v = E(i)
			return nil
		}
	}
	return &Error{kind, "unknown value " + quote(text) + ", want " + list(names)}
}

// list joins the names that exist, for error messages.
func list(names []string) string {
	out := ""
	for _, n := range names {
		if n == "" {
			continue
		}
		if out != "" {
			out += ", "
		}
		out += n
	}
	return out
}

// quote keeps an error message short and printable whatever was read.
func quote[T ~string | ~[]byte](text T) string {
	const most = 40
	if len(text) > most {
		return strconv.Quote(string(text[:most])) + "…"
	}
	return strconv.Quote(string(text))
}
