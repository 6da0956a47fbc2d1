package words

import (
	"strconv"
	"unicode/utf16"
	"unicode/utf8"
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
// writes. The error is an [*Error] that
// names the byte.
func (a *Args) UnmarshalJSON(data []byte) error {
	r := reader{data: data}
	args := r.args(0)
	if r.blank(); r.bad || r.at != len(data) {
		return &Error{Reason: "no arguments of a text, at byte " + strconv.Itoa(r.at)}
	}
	*a = args
	return nil
}

// reader reads arguments from JSON; once it is bad it reads nothing more.
type reader struct {
	data []byte
	at   int
	bad  bool
}

func (r *reader) blank() {
	for r.at < len(r.data) && (r.data[r.at] == ' ' || r.data[r.at] == '\n' || r.data[r.at] == '\t' || r.data[r.at] == '\r') {
		r.at++
	}
}

// next reports whether a character comes next, and reads it.
func (r *reader) next(c byte) bool {
	if r.blank(); r.bad || r.at >= len(r.data) || r.data[r.at] != c {
		return false
	}
	r.at++
	return true
}

// want reads a character that must come.
func (r *reader) want(c byte) { r.bad = !r.next(c) || r.bad }

// row reads what stands between two brackets, divided by commas.
func (r *reader) row(open, end byte, item func()) {
	if r.want(open); r.bad || r.next(end) {
		return
	}
	for item(); r.next(','); item() {
	}
	r.want(end)
}

func (r *reader) args(depth int) Args {
	var out Args
	r.row('{', '}', func() {
		name := r.text()
		r.want(':')
		v := r.value(depth)
		r.bad = r.bad || out.Of(name) != nil
		out = append(out, Arg{name, v})
	})
	return out
}

func (r *reader) value(depth int) Value {
	switch r.blank(); {
	case r.bad || r.at >= len(r.data) || depth > deepest:
		r.bad = true
	case r.data[r.at] == '"':
		return Plain(r.text())
	case r.data[r.at] == '{':
		return r.said(depth)
	case r.data[r.at] == '[':
		return r.array(depth)
	default:
		return Number(r.number())
	}
	return nil
}

// said reads a text: its code, then its arguments if it has any.
func (r *reader) said(depth int) Text {
	var t Text
	r.row('{', '}', func() {
		name := r.text()
		r.want(':')
		switch {
		case name == "code" && t.Code == "":
			t.Code = Code(r.text())
		case name == "args" && t.Args == nil:
			t.Args = r.args(depth + 1)
		default:
			r.bad = true
		}
	})
	return t
}

// array reads a score or a list.
func (r *reader) array(depth int) Value {
	var points []int
	list := List{}
	r.row('[', ']', func() {
		if r.blank(); r.at < len(r.data) && r.data[r.at] == '{' {
			list = append(list, r.said(depth))
		} else {
			points = append(points, r.number())
		}
	})
	if len(points) == 2 && len(list) == 0 {
		return Score{points[0], points[1]}
	}
	r.bad = r.bad || len(points) > 0
	return list
}

func (r *reader) number() int {
	r.blank()
	from := r.at
	for r.at < len(r.data) && (r.data[r.at] == '-' || r.data[r.at] >= '0' && r.data[r.at] <= '9') {
		r.at++
	}
	n, err := strconv.Atoi(string(r.data[from:r.at]))
	r.bad = r.bad || err != nil
	return n
}

// text reads a string; bytes that are no UTF-8 would not come back as they were.
func (r *reader) text() string {
	var out []byte
	for r.want('"'); !r.bad; {
		if r.at >= len(r.data) || r.data[r.at] < ' ' {
			r.bad = true
			break
		}
		c := r.data[r.at]
		r.at++
		switch c {
		case '"':
			r.bad = !utf8.Valid(out)
			return string(out)
		case '\\':
			out = r.escape(out)
		default:
			out = append(out, c)
		}
	}
	return ""
}

// escape reads what follows a backslash.
func (r *reader) escape(out []byte) []byte {
	if r.at >= len(r.data) {
		r.bad = true
		return out
	}
	c := r.data[r.at]
	r.at++
	switch c {
	case '"', '\\', '/':
		return append(out, c)
	case 'b':
		return append(out, '\b')
	case 'f':
		return append(out, '\f')
	case 'n':
		return append(out, '\n')
	case 'r':
		return append(out, '\r')
	case 't':
		return append(out, '\t')
	case 'u':
		u := r.hex()
		if utf16.IsSurrogate(u) && r.at+1 < len(r.data) && r.data[r.at] == '\\' && r.data[r.at+1] == 'u' {
			back := r.at
			r.at += 2
			if both := utf16.DecodeRune(u, r.hex()); both != utf8.RuneError {
				return utf8.AppendRune(out, both)
			}
			r.at = back
		}
		return utf8.AppendRune(out, u)
	}
	r.bad = true
	return out
}

func (r *reader) hex() rune {
	if r.at+4 > len(r.data) {
		r.bad = true
		return 0
	}
	u, err := strconv.ParseUint(string(r.data[r.at:r.at+4]), 16, 16)
	r.at += 4
	r.bad = r.bad || err != nil
	return rune(u)
}
