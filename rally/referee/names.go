package referee

import "github.com/evencourt/evencourt/rally"

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
	return &rally.NameError{Kind: kind, Text: string(text)}
}
