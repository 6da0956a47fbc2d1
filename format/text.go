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
	return &Error{kind, "unknown value " + Quote(string(text)) + ", want " + list(names)}
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

// Quote returns outside text for an error message: in quotes, in printable
// ASCII, and short whatever was read.
func Quote(text string) string {
	const most, hex = 60, "0123456789abcdef"
	out := []byte{'"'}
	for i := 0; i < len(text) && i < most; i++ {
		switch c := text[i]; {
		case c == '"' || c == '\\':
			out = append(out, '\\', c)
		case c < ' ' || c > '~':
			out = append(out, '\\', 'x', hex[c>>4], hex[c&15])
		default:
			out = append(out, c)
		}
	}
	out = append(out, '"')
	if len(text) > most {
		out = append(out, "..."...)
	}
	return string(out)
}

// Natural reads a decimal number up to most, without leading zeros. It stands here so
// that the core does without what package strconv reads with, whose errors a browser
// build would carry.
func Natural(text string, most int) (n int, ok bool) {
	for i := range len(text) {
		digit := text[i] - '0'
		if digit > 9 || i > 0 && n == 0 {
			return 0, false
		}
		if n = 10*n + int(digit); n > most {
			return 0, false
		}
	}
	return n, text != ""
}

// Cut splits text at the first sep; found is false, and after empty, if there
// is none. It stands here so that the core does without package strings, whose
// tables a browser build would carry.
func Cut(text string, sep byte) (before, after string, found bool) {
	for i := 0; i < len(text); i++ {
		if text[i] == sep {
			return text[:i], text[i+1:], true
		}
	}
	return text, "", false
}
