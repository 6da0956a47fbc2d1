package referee

import "strconv"

// NameError reports a text that names no value of an enum.
type NameError struct{ Kind, Text string }

// Error implements error.
func (e *NameError) Error() string {
	return "referee: " + e.Kind + ": unknown value " + strconv.Quote(e.Text)
}

func nameOf[E ~uint8](names []string, v E) string {
	if int(v) < len(names) && names[v] != "" {
		return names[v]
	}
	return "?"
}

func unmarshal[E ~uint8](names []string, kind string, text []byte, v *E) error {
	for i, name := range names {
		if name != "" && name == string(text) {
			*v = E(i)
			return nil
		}
	}
	return &NameError{kind, string(text)}
}
