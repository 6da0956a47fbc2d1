package pack

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// A family of shapes differs in target and number of games only.
type family struct {
	id               string // "*" stands for the target
	from, to         int    // editions
	row              string // what a game and a match have besides
	values           []any
	targets, lengths []string
}

// formats fills in the families of shapes.
func (b *builder) formats(p *Pack) error {
	p.Rulings.Fields, p.Rulings.Match = fieldsOf(format.Game{}), fieldsOf(format.Series{})
	var families []*family
	for _, shape := range format.Shapes() {
		var last *family
		for _, e := range format.EditionsOf(shape) {
			f, err := format.Named(shape, e)
			if err != nil {
				return err
			}
			at, values := b.number(e), rowOf(f)
			target, length := strconv.Itoa(int(f.Game.Target)), strconv.Itoa(int(f.Match.Games))
			id := strings.Replace(strings.TrimSuffix(shape, "-of"+length), "-"+target, "-*", 1)
			row := fmt.Sprint(values)
			if last != nil && last.row == row && last.to == at-1 {
				last.to = at
				continue
			}
			last = &family{id, at, at, row, values, []string{target}, []string{length}}
			families = append(families, last)
		}
	}
	for i, f := range families {
		if f == nil {
			continue
		}
		for j, other := range families[i+1:] {
			if other != nil && f.id == other.id && f.from == other.from && f.to == other.to && f.row == other.row {
				f.targets, f.lengths = with(f.targets, other.targets[0]), with(f.lengths, other.lengths[0])
				families[i+1+j] = nil
			}
		}
		row := append([]any{f.id, strings.Join(f.targets, " "), strings.Join(f.lengths, " "), f.from, f.to}, f.values...)
		if f.from < b.sport {
			p.Core.Formats = append(p.Core.Formats, row)
		} else {
			p.Sports.Formats = append(p.Sports.Formats, row)
		}
	}
	for target, before := 1, format.Switch(0); target <= 250; target++ {
		if s := format.TimeOutSwitch(uint8(target)); s != before {
			p.Core.TimeOuts = append(p.Core.TimeOuts, [2]any{target, s.String()})
			before = s
		}
	}
	return nil
}

// rowOf is what a format has besides target and number of games; what is as in
// pickleball at the end of it is left out.
func rowOf(f format.Format) []any {
	g, last := f.Game, f.Last
	half := 0 // where ends change in mid-game of the last game: nowhere, at half the target rounded up, or down
	switch last.ChangeEndsAt {
	case 0:
	case (last.Target + 1) / 2:
		half = 1
	default:
		half = 2
	}
	keeps, lastTarget := 0, 0
	if f.Match.Games > 1 && !f.Match.ChangeEnds {
		keeps = 1
	}
	if last.Target != g.Target {
		lastTarget = int(last.Target)
	}
	values := []int{int(g.Sides), int(g.Scorer), int(g.Servers), int(g.Order), int(g.WinBy), int(g.Cap), int(g.Freeze), int(f.Match.NextServe),
		half, int(g.Serves), int(g.FirstTurn), int(g.ChangeEndsEvery), int(last.ChangeEndsEvery), lastTarget, keeps}
	if slices.Equal(values[8:], []int{1, 0, 1, 0, 0, 0, 0}) {
		values = values[:8]
	}
	row := make([]any, len(values))
	for i, v := range values {
		row[i] = v
	}
	return row
}

func with(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// fieldsOf lists the fields of a game or a match with the names of their values.
func fieldsOf(v any) []string {
	var out []string
	for i, t := 0, reflect.TypeOf(v); i < t.NumField(); i++ {
		name, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		f := strings.ReplaceAll(name, "_", "-")
		if t.Field(i).Type.Kind() == reflect.Bool {
			f += " no yes"
		} else if t.Field(i).Type != reflect.TypeFor[uint8]() {
			f += " " + names(func(n uint8) fmt.Stringer {
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
// one, is "-".
func names[T fmt.Stringer](of func(uint8) T) string {
	var out []string
	for n := range uint8(64) {
		switch name := of(n).String(); {
		case name != "" && !strings.HasPrefix(name, "?"):
			out = append(out, name)
		case n > 0:
			return strings.Join(out, " ")
		default:
			out = append(out, "-")
		}
	}
	return ""
}
