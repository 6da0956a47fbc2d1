package rally

import (
	"iter"

	"github.com/evencourt/evencourt/format"
)

// A set is a word of bits whose names stand in a slice by the bit. Its text is the
// names in their order, joined by commas; "-" for none.

func appendSet(dst []byte, set uint64, names []string) []byte {
	start := len(dst)
	for i, name := range names {
		if set>>i&1 == 0 || name == "" {
			continue
		}
		if len(dst) > start {
			dst = append(dst, ',')
		}
		dst = append(dst, name...)
	}
	if len(dst) == start {
		dst = append(dst, '-')
	}
	return dst
}

func parseSet(kind string, text []byte, names []string) (set uint64, err error) {
	rest, more := string(text), string(text) != "-"
	for more {
		var name string
		name, rest, more = format.Cut(rest, ',')
		n := index(names, name)
		if n < 0 || name == "" {
			return 0, &NameError{kind, shorten(name)}
		}
		set |= 1 << n
	}
	return set, nil
}

// members yields what a set holds, lowest first.
func members[T ~uint8 | ~uint64](set uint64, of func(bit int) T) iter.Seq[T] {
	return func(yield func(T) bool) {
		for bit := 0; set != 0; bit, set = bit+1, set>>1 {
			if set&1 != 0 && !yield(of(bit)) {
				return
			}
		}
	}
}

// KindSet is a set of event kinds. The zero set is empty.
type KindSet uint64

// Has reports whether the set holds k.
func (s KindSet) Has(k Kind) bool { return s>>k&1 != 0 }

// All yields the kinds in their order.
func (s KindSet) All() iter.Seq[Kind] {
	return members(uint64(s), func(bit int) Kind { return Kind(bit) })
}

// Names lists the kinds by name.
func (s KindSet) Names() []string {
	var out []string
	for k := range s.All() {
		out = append(out, k.String())
	}
	return out
}

// String joins the names by commas; "-" for none.
func (s KindSet) String() string { return string(appendSet(nil, uint64(s), kindNames)) }

// MarshalText implements encoding.TextMarshaler.
func (s KindSet) MarshalText() ([]byte, error) { return appendSet(nil, uint64(s), kindNames), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *KindSet) UnmarshalText(text []byte) error {
	set, err := parseSet("kind", text, kindNames)
	if err == nil {
		*s = KindSet(set)
	}
	return err
}

// All yields the mistakes in their order.
func (s Mistakes) All() iter.Seq[Mistake] {
	return members(uint64(s), func(bit int) Mistake { return Mistake(bit) })
}

// String joins the names by commas; "-" for none.
func (s Mistakes) String() string { return string(appendSet(nil, uint64(s), mistakeNames)) }

// MarshalText implements encoding.TextMarshaler.
func (s Mistakes) MarshalText() ([]byte, error) { return appendSet(nil, uint64(s), mistakeNames), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *Mistakes) UnmarshalText(text []byte) error {
	set, err := parseSet("mistake", text, mistakeNames)
	if err == nil {
		*s = Mistakes(set)
	}
	return err
}

// All yields the effects one by one, in their order.
func (e Effects) All() iter.Seq[Effects] {
	return members(uint64(e), func(bit int) Effects { return 1 << bit })
}

// Names lists the effects by name, in their order.
func (e Effects) Names() []string {
	var out []string
	for one := range e.All() {
		out = append(out, one.String())
	}
	return out
}

// String joins the names by commas; "-" for none.
func (e Effects) String() string { return string(appendSet(nil, uint64(e), effectNames)) }

// MarshalText implements encoding.TextMarshaler.
func (e Effects) MarshalText() ([]byte, error) { return appendSet(nil, uint64(e), effectNames), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (e *Effects) UnmarshalText(text []byte) error {
	set, err := parseSet("effect", text, effectNames)
	if err == nil {
		*e = Effects(set)
	}
	return err
}

// All yields the penalties one by one, in their order.
func (c Carry) All() iter.Seq[Carry] {
	return members(uint64(c), func(bit int) Carry { return 1 << bit })
}
