package reference

import "github.com/evencourt/evencourt/format"

// Stated says whether a line states a position that is refused.
func Stated(f format.Format, line string) (*Match, bool) {
	m := &Match{book: open(&f)}
	refused := m.state(line) == "malformed"
	return m, refused
}
