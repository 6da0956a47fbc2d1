package pack

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// formats fills in games and matches as rows of numbers.
func (b *builder) formats(p *Pack) error {
	p.Core.Fields, p.Core.Match = fieldsOf(format.Game{}), fieldsOf(format.Series{})
	p.Core.Formats = map[string][]int{}
	games := map[format.Game]int{}
	row := func(g format.Game) int {
		n, known := games[g]
		if !known {
			n = len(p.Core.Games)
			games[g] = n
			p.Core.Games = append(p.Core.Games, valuesOf(g))
		}
		return n
	}
	for _, shape := range format.Shapes() {
		var spans []int
		var last []int // what the last span holds after its editions
		for _, e := range format.EditionsOf(shape) {
			f, err := format.Named(shape, e)
			if err != nil {
				return err
			}
			values := append([]int{row(f.Game), row(f.Last)}, valuesOf(f.Match)...)
			if at := b.number(e); slices.Equal(values, last) && spans[len(spans)-len(values)-1] == at-1 {
				spans[len(spans)-len(values)-1] = at
			} else {
				spans = append(append(spans, at, at), values...)
			}
			last = values
		}
		if spans != nil {
			p.Core.Formats[shape] = spans
		}
	}
	for target, before := 1, format.Switch(0); target <= 250; target++ {
		if s := format.TimeOutSwitch(uint8(target)); s != before {
			p.Core.TimeOuts = append(p.Core.TimeOuts, []any{target, s.String()})
			before = s
		}
	}
	return nil
}

// fieldsOf lists the fields of a game or a match with the names of their values.
func fieldsOf(v any) []Field {
	var out []Field
	for i, t := 0, reflect.TypeOf(v); i < t.NumField(); i++ {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		f := Field{Name: strings.ReplaceAll(name, "_", "-")}
		if t.Field(i).Type.Kind() == reflect.Bool {
			f.Names = []string{"no", "yes"}
		} else if t.Field(i).Type != reflect.TypeFor[uint8]() {
			f.Names = names(func(n uint8) fmt.Stringer {
				x := reflect.New(t.Field(i).Type).Elem()
				x.SetUint(uint64(n))
				return x.Interface().(fmt.Stringer)
			})
		}
		out = append(out, f)
	}
	return out
}

// names lists the names of an enum; a value without one, below those that have
// one, is an empty text.
func names[T fmt.Stringer](of func(uint8) T) []string {
	var out []string
	for n := range uint8(64) {
		switch name := of(n).String(); {
		case !strings.HasPrefix(name, "?"):
			out = append(out, name)
		case n > 0:
			return out
		default:
			out = append(out, "")
		}
	}
	return out
}

func valuesOf(v any) []int {
	var out []int
	for i, r := 0, reflect.ValueOf(v); i < r.NumField(); i++ {
		switch f := r.Field(i); {
		case f.Kind() == reflect.Bool && f.Bool():
			out = append(out, 1)
		case f.Kind() == reflect.Bool:
			out = append(out, 0)
		default:
			out = append(out, int(f.Uint()))
		}
	}
	return out
}
