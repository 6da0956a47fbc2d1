package words

import (
	"strconv"
	"unicode/utf8"

	"github.com/evencourt/evencourt/rally/internal/jsontext"
)

// MarshalJSON implements json.Marshaler: an object with the names of the
// arguments, a plain value as a string, a number as a number, a score as two
// numbers, a text as an object, a list as an array of them.
func (a Args) MarshalJSON() ([]byte, error) { return a.append(nil), nil }

// append never fails: what cannot be UTF-8 is replaced.
func (a Args) append(dst []byte) []byte {
	dst = append(dst, '{')
	for i, arg := range a {
		if i > 0 {
			dst = append(dst, ',')
		}
		dst = append(quote(dst, arg.Name), ':')
		switch v := arg.Value.(type) {
		case Plain:
			dst = quote(dst, string(v))
		case Number:
			dst = strconv.AppendInt(dst, int64(v), 10)
		case Score:
			dst = append(strconv.AppendInt(append(dst, '['), int64(v[0]), 10), ',')
			dst = append(strconv.AppendInt(dst, int64(v[1]), 10), ']')
		case Text:
			dst = v.append(dst)
		case List:
			dst = append(dst, '[')
			for i, t := range v {
				if i > 0 {
					dst = append(dst, ',')
				}
				dst = t.append(dst)
			}
			dst = append(dst, ']')
		default:
			dst = append(dst, "null"...)
		}
	}
	return append(dst, '}')
}

func (t Text) append(dst []byte) []byte {
	dst = quote(append(dst, `{"code":`...), string(t.Code))
	if len(t.Args) > 0 {
		dst = t.Args.append(append(dst, `,"args":`...))
	}
	return append(dst, '}')
}

// quote writes a string as JSON does.
func quote(dst []byte, s string) []byte {
	const hex = "0123456789abcdef"
	dst = append(dst, '"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			dst = append(dst, '\\', byte(r))
		case r < ' ':
			dst = append(dst, '\\', 'u', '0', '0', hex[r>>4], hex[r&15])
		default:
			dst = utf8.AppendRune(dst, r)
		}
	}
	return append(dst, '"')
}

// UnmarshalJSON implements json.Unmarshaler: it reads what [Args.MarshalJSON]
// writes. The error is an [*Error] that names the byte.
func (a *Args) UnmarshalJSON(data []byte) error {
	var r reader
	v, rest, err := jsontext.Read(data)
	switch {
	case err != nil:
		r.refuse(err.(*jsontext.Error).At)
	case len(rest) > 0:
		r.refuse(len(data) - len(rest))
	case !utf8.Valid(data): // which would not come back as it was
		r.refuse(0)
	default:
		if args := r.args(v, 0); !r.bad {
			*a = args
		}
	}
	if r.bad {
		return &Error{Reason: "no arguments of a text, at byte " + strconv.Itoa(r.at)}
	}
	return nil
}

// reader makes arguments of JSON, and knows where the first thing is that cannot
// be one.
type reader struct {
	bad bool
	at  int
}

func (r *reader) refuse(at int) {
	if !r.bad {
		r.bad, r.at = true, at
	}
}

// want refuses a value of another kind.
func (r *reader) want(k jsontext.Kind, v jsontext.Value, depth int) {
	if v.Kind() != k || depth > deepest {
		r.refuse(v.At())
	}
}

func (r *reader) args(v jsontext.Value, depth int) Args {
	var out Args
	r.want(jsontext.Object, v, depth)
	for _, f := range v.Fields() {
		if out.Of(f.Name) != nil {
			r.refuse(f.Value.At())
		}
		out = append(out, Arg{f.Name, r.value(f.Value, depth)})
		if r.bad {
			break
		}
	}
	return out
}

func (r *reader) value(v jsontext.Value, depth int) Value {
	switch v.Kind() {
	case jsontext.String:
		return Plain(v.Text())
	case jsontext.Object:
		return r.said(v, depth)
	case jsontext.Array:
		return r.array(v, depth)
	}
	return Number(r.number(v))
}

// said reads a text: its code, then its arguments if it has any.
func (r *reader) said(v jsontext.Value, depth int) Text {
	var t Text
	r.want(jsontext.Object, v, depth)
	for _, f := range v.Fields() {
		switch {
		case f.Name == "code" && t.Code == "":
			r.want(jsontext.String, f.Value, depth)
			t.Code = Code(f.Value.Text())
		case f.Name == "args" && t.Args == nil:
			t.Args = r.args(f.Value, depth+1)
		default:
			r.refuse(f.Value.At())
		}
	}
	return t
}

// array reads a score or a list.
func (r *reader) array(v jsontext.Value, depth int) Value {
	var points []int
	list := List{}
	for _, item := range v.Items() {
		if item.Kind() == jsontext.Object {
			list = append(list, r.said(item, depth))
		} else {
			points = append(points, r.number(item))
		}
	}
	if len(points) == 2 && len(list) == 0 {
		return Score{points[0], points[1]}
	}
	if len(points) > 0 {
		r.refuse(v.At())
	}
	return list
}

func (r *reader) number(v jsontext.Value) int {
	n, err := strconv.Atoi(v.Raw())
	if err != nil {
		r.refuse(v.At())
	}
	return n
}
