package record

import (
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// MostNotation is the longest notation that is read, in bytes.
const MostNotation = 1 << 20

// Notation writes a log as one line: the format, how the log begins, a colon,
// and the entries. Plain rallies that follow one another are written together;
// everything else is the word that [rally.Event.String] gives it:
//
//	sideout-doubles-11@2026 A: gA1B1 AABAB tA in A:net BB undo B
//
// The grammar, in the notation of RFC 5234 (SP is one space):
//
//	notation = format SP start ":" *( SP entry )
//	format   = ID / "(" JSON ")"      ; in full where it has no id
//	start    = "A" / "B" / "-"        ; who serves first; "-": not yet chosen
//	         / "(" LINE ")"           ; a position, as a canonical line
//	entry    = ( run / WORD / "(" CORRECTION ")" ) [ "@" MS ]
//	run      = 1*( "A" / "B" )        ; rallies won by A and by B
//
// WORD is the word of an event, undo or redo; CORRECTION any other correction
// with its payload, such as "(amend 7 B)". Inside brackets a backslash stands
// before a bracket or a backslash, and \xHH for a byte that is not printable.
// MS is the elapsed time of an entry in milliseconds; a run with a time is one
// rally. Names are not written: they belong to a record.
//
// [ParseNotation] takes a run cut up by spaces as well; Notation joins it.
// The error of Notation is that of a format that cannot be written.
func Notation(l *rally.Log) (string, error) {
	rules, start := l.Initial()
	var b strings.Builder
	if id := rules.Format().ID(); id != "" {
		b.WriteString(id)
	} else {
		full, err := MarshalFormat(rules.Format())
		if err != nil {
			return "", err
		}
		bracket(&b, string(full))
	}
	b.WriteByte(' ')
	switch start {
	case rules.New(rally.A):
		b.WriteByte('A')
	case rules.New(rally.B):
		b.WriteByte('B')
	case rally.State{}:
		b.WriteByte('-')
	default:
		bracket(&b, rules.Line(start))
	}
	b.WriteByte(':')
	run := false // the last entry was a plain rally without a time
	for n := 1; n <= l.Len(); n++ {
		entry, err := textOf(l.Entry(n))
		if err != nil {
			return "", err
		}
		ms, stamped := l.Time(n)
		plain := (entry == "A" || entry == "B") && !stamped
		if !plain || !run {
			b.WriteByte(' ')
		}
		if strings.Contains(entry, " ") {
			bracket(&b, entry)
		} else {
			b.WriteString(entry)
		}
		if stamped {
			b.WriteString("@" + strconv.FormatInt(ms, 10))
		}
		run = plain
	}
	return b.String(), nil
}

// bracket writes text in brackets.
func bracket(b *strings.Builder, text string) {
	const hex = "0123456789abcdef"
	b.WriteByte('(')
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == '(' || c == ')' || c == '\\':
			b.WriteByte('\\')
			b.WriteByte(c)
		case c < ' ' || c > '~':
			b.WriteString(`\x`)
			b.WriteByte(hex[c>>4])
			b.WriteByte(hex[c&15])
		default:
			b.WriteByte(c)
		}
	}
	b.WriteByte(')')
}

// ParseNotation reads what [Notation] writes; at most [MostEntries] entries.
// The error is an [*Error] with the byte at which the word at fault begins, and
// the word as its field: "format", "start", or the number of the entry from 1.
func ParseNotation(text string) (*rally.Log, error) {
	p := &notation{rest: text}
	l, err := p.log()
	if err != nil {
		err.Byte += int64(p.at)
		return nil, err
	}
	return l, nil
}

// notation is the text that is still to be read.
type notation struct {
	rest string
	at   int // bytes before the word read last
	next int // bytes before rest
}

func (p *notation) log() (*rally.Log, *Error) {
	if len(p.rest) > MostNotation {
		return nil, failure(tooLong, "", "longer than "+strconv.Itoa(MostNotation)+" bytes")
	}
	rules, err := p.format()
	if err != nil {
		return nil, err.under("format")
	}
	start, err := p.start(rules)
	if err != nil {
		return nil, err.under("start")
	}
	l := rally.NewLog(rules, start)
	for p.rest != "" {
		if err := p.entry(l); err != nil {
			return nil, err.under(strconv.Itoa(l.Len() + 1))
		}
	}
	return l, nil
}

func (p *notation) format() (*rally.Rules, *Error) {
	w, err := p.word()
	if err != nil {
		return nil, err
	}
	var f format.Format
	if w.inside {
		if f, err = formatOf([]byte(w.text)); err != nil {
			return nil, err
		}
	} else {
		var e error
		if f, e = format.Parse(w.text); e != nil {
			return nil, caused(badField, "", e)
		}
	}
	if w.after != "" {
		return nil, failure(syntax, "", "want a space after it")
	}
	rules, e := rally.Compile(f)
	if e != nil {
		return nil, caused(badField, "", e)
	}
	return rules, nil
}

func (p *notation) start(rules *rally.Rules) (s rally.State, _ *Error) {
	w, err := p.word()
	if err != nil {
		return s, err
	}
	if !w.inside {
		switch w.text {
		case "A:":
			return rules.New(rally.A), nil
		case "B:":
			return rules.New(rally.B), nil
		case "-:":
			return s, nil
		}
		return s, failure(syntax, "", "want A, B, - or a line in brackets, and a colon")
	}
	if w.after != ":" {
		return s, failure(syntax, "", "want a colon after it")
	}
	s, e := rules.ParseLine(w.text)
	if e != nil {
		return s, caused(badField, "", e)
	}
	return s, nil
}

func (p *notation) entry(l *rally.Log) *Error {
	w, err := p.word()
	if err != nil {
		return err
	}
	ms, stamped := int64(0), false
	if at := strings.LastIndexByte(w.text, '@'); !w.inside && at >= 0 {
		w.text, w.after = w.text[:at], w.text[at:]
	}
	if w.after != "" {
		if ms, stamped = readTime(w.after); !stamped {
			return failure(syntax, "", "want @ and milliseconds, not "+brief(w.after))
		}
	}
	if !w.inside && isRun(w.text) {
		if stamped && len(w.text) > 1 {
			return failure(syntax, "", "a run with a time must be one rally")
		}
		for i := range w.text {
			if err := add(l, w.text[i:i+1]); err != nil {
				err.Byte += int64(i)
				return err
			}
		}
	} else {
		if w.inside != strings.Contains(w.text, " ") {
			return failure(syntax, "", "brackets are for a correction with a payload")
		}
		if err := add(l, w.text); err != nil {
			return err
		}
	}
	if stamped {
		l.Stamp(ms)
	}
	return nil
}

func add(l *rally.Log, entry string) *Error {
	if l.Len() == MostEntries {
		return failure(tooMany, "", "more than "+strconv.Itoa(MostEntries)+" entries")
	}
	e, err := parseEntry(entry)
	if err == nil {
		_, err = l.Do(e)
	}
	if err != nil {
		return caused(entryRefused, "", err)
	}
	return nil
}

func isRun(s string) bool { return s != "" && strings.Trim(s, "AB") == "" }

func readTime(s string) (int64, bool) {
	digits := strings.TrimPrefix(s, "@")
	if len(digits) == len(s) || len(digits) > 1 && digits[0] == '0' || strings.Trim(digits, "0123456789") != "" {
		return 0, false
	}
	ms, err := strconv.ParseInt(digits, 10, 64)
	return ms, err == nil
}

// word is one word of the notation: its text, without brackets if it stood
// inside them, and what follows a closing bracket.
type word struct {
	text   string
	inside bool
	after  string
}

// word takes the next word and the one space after it.
func (p *notation) word() (w word, _ *Error) {
	p.at = p.next
	end := 0
	if strings.HasPrefix(p.rest, "(") {
		text, n, ok := unbracket(p.rest)
		if !ok {
			return w, failure(syntax, "", "the bracket is not closed, or something in it is not written as it should be")
		}
		w.text, w.inside, end = text, true, n
	}
	body := end
	if n := strings.IndexByte(p.rest[end:], ' '); n >= 0 {
		end += n
	} else {
		end = len(p.rest)
	}
	if w.inside {
		w.after = p.rest[body:end]
	} else {
		w.text = p.rest[:end]
	}
	if end == 0 {
		return w, failure(syntax, "", "want a word here")
	}
	if p.rest = p.rest[end:]; p.rest != "" {
		p.rest = p.rest[1:]
		end++
		if p.rest == "" {
			return w, failure(syntax, "", "a space at the end")
		}
	}
	p.next += end
	return w, nil
}

// unbracket reads text in brackets and returns how many bytes it took.
func unbracket(s string) (text string, n int, ok bool) {
	var b strings.Builder
	for i := 1; i < len(s); i++ {
		switch c := s[i]; {
		case c == ')':
			return b.String(), i + 1, true
		case c == '(' || c < ' ' || c > '~':
			return "", 0, false
		case c != '\\':
			b.WriteByte(c)
		case i+1 < len(s) && strings.IndexByte(`()\`, s[i+1]) >= 0:
			i++
			b.WriteByte(s[i])
		case i+3 < len(s) && s[i+1] == 'x':
			v, err := strconv.ParseUint(s[i+2:i+4], 16, 8)
			if err != nil || v >= ' ' && v <= '~' || strings.ToLower(s[i+2:i+4]) != s[i+2:i+4] {
				return "", 0, false
			}
			b.WriteByte(byte(v))
			i += 3
		default:
			return "", 0, false
		}
	}
	return "", 0, false
}
