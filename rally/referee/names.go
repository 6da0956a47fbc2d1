package referee

import (
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/internal/names"
)

func unmarshal[E ~uint8](list []string, kind string, text []byte, v *E) error {
	found, ok := names.Find[E](list, string(text))
	if !ok || len(text) == 0 {
		return &rally.NameError{Kind: kind, Text: string(text)}
	}
	*v = found
	return nil
}
