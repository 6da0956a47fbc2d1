package record

import (
	"encoding/json"
	"errors"
	"io"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Read reads a record strictly: the first thing that is wrong with it is
// returned as an [*Error], and nothing else is. A record without a closing
// line is not wrong: its match goes on.
func Read(src io.Reader) (*Record, error) {
	rd := &reader{lines: newLines(src)}
	rd.run()
	if len(rd.problems) > 0 {
		return nil, rd.problems[0]
	}
	return rd.out, nil
}

// Recover reads what can be read of a record that is torn, edited or written
// by two hands: every entry that the log takes, in the order of its number,
// the first of two with one number. Everything else is a problem, in the order
// of the lines. Corrections keep their targets where entries are missing. The
// error is that of a file without a header, of which nothing can be read.
func Recover(src io.Reader) (*Record, []*Error, error) {
	rd := &reader{lines: newLines(src), lenient: true}
	rd.run()
	if rd.out == nil {
		return nil, nil, rd.problems[0]
	}
	return rd.out, rd.problems, nil
}

// reader builds a record from lines.
type reader struct {
	*lines
	lenient  bool
	out      *Record
	problems []*Error
	whole    int64 // bytes up to the end of the last whole line
	lineEnd  bool  // whether that line has its end
	held     []int // by number of the record, from 1: entry of the log, 0 if it was not taken
	ms       int64 // elapsed time of the last entry that has one
}

func (rd *reader) run() {
	for {
		line, ended, err := rd.next()
		var long *Error
		switch {
		case errors.Is(err, io.EOF):
			if rd.out == nil {
				rd.report(fault(NoHeader, "", "the file holds no line"))
			}
			return
		case errors.As(err, &long):
			if !rd.report(long) || long.Code == Unreadable || rd.out == nil {
				return
			}
			rd.out.Torn, rd.out.Ended = "", false
			continue
		}
		if !ended && !json.Valid(line) {
			rd.torn(string(line))
			return
		}
		if !rd.take(line) {
			return
		}
		if rd.out != nil {
			rd.whole, rd.lineEnd = rd.end, ended
		}
		if !ended {
			rd.report(fault(Torn, "", "the last line has no line end; it is whole otherwise"))
			return
		}
	}
}

// torn notes a last line that breaks off.
func (rd *reader) torn(rest string) {
	entries := len(rd.held)
	e := fault(Torn, "", "breaks off after "+strconv.Itoa(len(rest))+" bytes; the "+strconv.Itoa(entries)+" entries before it are whole")
	if rd.out == nil {
		e.Reason = "the header breaks off after " + strconv.Itoa(len(rest)) + " bytes"
	} else {
		rd.out.Torn, rd.out.Ended = shorten(rest), false
	}
	rd.report(e)
}

func shorten(s string) string {
	const most = 60
	if len(s) > most {
		return strings.ToValidUTF8(s[:most], "") + "..."
	}
	return s
}

// report notes a problem and says whether reading goes on.
func (rd *reader) report(e *Error) bool {
	rd.problems = append(rd.problems, rd.here(e))
	switch {
	case !rd.lenient:
		return false
	case len(rd.problems) == MostProblems:
		rd.problems = append(rd.problems, rd.here(fault(TooMany, "", "too many problems: the rest was not read")))
		return false
	}
	return true
}

// take reads one line and says whether reading goes on.
func (rd *reader) take(line []byte) bool {
	if rd.lenient && len(strings.TrimSpace(string(line))) == 0 {
		return true
	}
	fields, err := object(line)
	if rd.out == nil {
		if err == nil {
			err = rd.header(fields)
		}
		if err != nil {
			rd.out = nil
			rd.report(err)
		}
		return err == nil
	}
	if err == nil {
		err = rd.line(fields)
	}
	return err == nil || rd.report(err)
}

func (rd *reader) line(fields map[string]json.RawMessage) *Error {
	switch {
	case fields["record"] != nil:
		return fault(Syntax, "record", "a second header")
	case fields["n"] != nil:
		rd.out.Ended = false
		return rd.entry(fields)
	case fields["setup"] != nil:
		rd.out.Ended = false
		return rd.names(fields)
	case fields["end"] != nil:
		return rd.close(fields)
	}
	return fault(Syntax, "", "neither an entry nor a set-up nor a closing line")
}

// only sees that a line has no others; reading leniently passes over them.
func (rd *reader) only(fields map[string]json.RawMessage, known ...string) *Error {
	if rd.lenient {
		return nil
	}
	return only(fields, known...)
}

func (rd *reader) header(fields map[string]json.RawMessage) *Error {
	if fields["record"] == nil {
		return fault(NoHeader, "record", "the first line is not the header of a record")
	}
	var version int
	if err := need(fields, "record", &version); err != nil {
		return err
	}
	if version != Version {
		return fault(BadVersion, "record", "version "+strconv.Itoa(version)+" is not known here, only "+strconv.Itoa(Version))
	}
	if err := rd.only(fields, "record", "format", "edition", "setup", "start"); err != nil {
		return err
	}
	f, err := formatField(fields)
	if err != nil {
		return err
	}
	rules, compileError := rally.Compile(f)
	if compileError != nil {
		return caused(BadField, "format", compileError)
	}
	rd.out = &Record{}
	if err := rd.setup(rules, fields, &rd.out.Setup); err != nil {
		return err
	}
	start := rules.Begin(rd.out.Setup)
	if fields["start"] != nil {
		var line string
		if err := need(fields, "start", &line); err != nil {
			return err
		}
		s, err := rules.ParseLine(line)
		if err != nil {
			return caused(BadField, "start", err)
		}
		start = s
	}
	rd.out.Log = rally.NewLog(rules, start)
	return nil
}

func formatField(fields map[string]json.RawMessage) (f format.Format, _ *Error) {
	raw, ok := fields["format"]
	if !ok {
		return f, fault(BadField, "format", "missing")
	}
	if raw[0] == '{' {
		var err *Error
		if f, err = formatOf(raw); err != nil {
			return f, err.under("format")
		}
	} else {
		var id string
		if err := need(fields, "format", &id); err != nil {
			return f, err
		}
		var err error
		if f, err = format.Parse(id); err != nil {
			return f, caused(BadField, "format", err)
		}
	}
	var edition format.Edition
	if err := need(fields, "edition", &edition); err != nil {
		return f, err
	}
	if edition != f.Edition {
		return f, fault(BadField, "edition", "is "+edition.String()+", the format's is "+f.Edition.String())
	}
	return f, nil
}

func (rd *reader) setup(rules *rally.Rules, fields map[string]json.RawMessage, into *rally.Setup) *Error {
	if rd.lenient && json.Unmarshal(fields["setup"], into) == nil {
		if err := rules.Validate(*into); err == nil {
			return nil
		}
	}
	*into = rally.Setup{}
	if err := need(fields, "setup", into); err != nil {
		return err
	}
	if err := rules.Validate(*into); err != nil {
		e := caused(BadField, "setup", err)
		if of, ok := err.(*rally.SetupError); ok {
			e.Field, e.Reason = join("setup", of.Field), of.Reason
		}
		return e
	}
	return nil
}

// names takes a later set-up: names may be supplied or changed at any time.
func (rd *reader) names(fields map[string]json.RawMessage) *Error {
	if err := rd.only(fields, "setup"); err != nil {
		return err
	}
	rules, _ := rd.out.Log.Begin()
	var u rally.Setup
	if err := rd.setup(rules, fields, &u); err != nil {
		return err
	}
	if !sameFirst(u, rd.out.Setup) {
		return fault(BadField, "setup.first", "cannot change after the header")
	}
	rd.out.Setup = u
	return nil
}

func sameFirst(u, v rally.Setup) bool {
	return (u.First == nil) == (v.First == nil) && (u.First == nil || *u.First == *v.First)
}

// entry takes one numbered entry.
func (rd *reader) entry(fields map[string]json.RawMessage) *Error {
	if err := rd.only(fields, "n", "do", "ms", "line"); err != nil {
		return err
	}
	var n int
	var what string
	if err := need(fields, "n", &n); err != nil {
		return err
	}
	if err := need(fields, "do", &what); err != nil {
		return err
	}
	ms, err := elapsed(fields)
	if err != nil {
		return err
	}
	if err := rd.number(n, what, ms); err != nil {
		return err
	}
	l := rd.out.Log
	e, parsed := parseEntry(what)
	if parsed == nil {
		err = rd.retarget(&e)
	}
	if err == nil && parsed == nil {
		_, parsed = l.Do(e)
	}
	if err == nil && parsed != nil {
		err = caused(Refused, "do", parsed)
	}
	if err != nil {
		rd.held = append(rd.held, 0)
		return err
	}
	rd.held = append(rd.held, l.Len())
	if ms >= 0 {
		l.Stamp(ms)
		if ms < rd.ms {
			return fault(TimeBack, "ms", "is "+strconv.FormatInt(ms, 10)+", before that of an earlier entry, "+strconv.FormatInt(rd.ms, 10))
		}
		rd.ms = ms
	}
	return rd.compare(fields)
}

// elapsed reads the time of an entry; -1 where it has none.
func elapsed(fields map[string]json.RawMessage) (ms int64, _ *Error) {
	const most = 1 << 53 // what every reader of JSON keeps exactly
	if fields["ms"] == nil {
		return -1, nil
	}
	if err := need(fields, "ms", &ms); err != nil {
		return 0, err
	}
	if ms < 0 || ms > most {
		return 0, fault(BadField, "ms", "must be elapsed milliseconds, 0 or more")
	}
	return ms, nil
}

// number sees that the entry is the next one.
func (rd *reader) number(n int, what string, ms int64) *Error {
	next := len(rd.held) + 1
	switch {
	case n < 1:
		return fault(BadField, "n", "must be 1 or more")
	case n > MostEntries:
		return fault(TooMany, "n", "a record has at most "+strconv.Itoa(MostEntries)+" entries")
	case n == next:
		return nil
	case n < next:
		return rd.again(n, what, ms)
	}
	missing := "entry " + strconv.Itoa(next) + " is missing"
	if n > next+1 {
		missing = "entries " + strconv.Itoa(next) + " to " + strconv.Itoa(n-1) + " are missing"
	}
	gap := fault(Gap, "n", "is "+strconv.Itoa(n)+": "+missing)
	if !rd.lenient {
		return gap
	}
	rd.report(gap)
	for len(rd.held) < n-1 {
		rd.held = append(rd.held, 0)
	}
	return nil
}

// again says what a number that stands there already means.
func (rd *reader) again(n int, what string, ms int64) *Error {
	held := rd.held[n-1]
	if held == 0 {
		return fault(Collision, "n", "entry "+strconv.Itoa(n)+" comes after later ones")
	}
	text, _ := textOf(rd.out.Log.Entry(held))
	was, stamped := rd.out.Log.Time(held)
	if !stamped {
		was = -1
	}
	if text == what && was == ms {
		return fault(Duplicate, "n", "entry "+strconv.Itoa(n)+" stands there twice")
	}
	return fault(Collision, "n", "two entries with the number "+strconv.Itoa(n)+": "+brief(text)+" and "+brief(what)+"; two writers")
}

// retarget turns the number that a correction names into that of the log,
// which differs where entries are missing.
func (rd *reader) retarget(e *rally.Entry) *Error {
	n := e.Target
	if !rd.lenient || n < 1 || n > len(rd.held) {
		return nil // the log says what is wrong with it
	}
	if rd.held[n-1] == 0 {
		return fault(Refused, "do", "corrects entry "+strconv.Itoa(n)+", which could not be read")
	}
	e.Target = rd.held[n-1]
	return nil
}

// compare sees that the line beside an entry is that of the log.
func (rd *reader) compare(fields map[string]json.RawMessage) *Error {
	if fields["line"] == nil {
		return nil
	}
	var said string
	if err := need(fields, "line", &said); err != nil {
		return err
	}
	l := rd.out.Log
	return differ(said, l.Rules().Line(l.State()))
}

// differ names the first field in which two lines differ.
func differ(said, found string) *Error {
	if said == found {
		return nil
	}
	a, b := strings.Split(said, " "), strings.Split(found, " ")
	for i := range min(len(a), len(b)) {
		if a[i] == b[i] {
			continue
		}
		name, want, _ := strings.Cut(b[i], "=")
		_, have, _ := strings.Cut(a[i], "=")
		return fault(Disagrees, join("line", name), "says "+brief(have)+", but the entries lead to "+brief(want)+": this line or one before it was changed")
	}
	return fault(Disagrees, "line", "is not the line that the entries lead to")
}

// close takes a closing line.
func (rd *reader) close(fields map[string]json.RawMessage) *Error {
	if err := rd.only(fields, "end", "entries", "line"); err != nil {
		return err
	}
	var phase rally.Phase
	var entries int
	if err := need(fields, "end", &phase); err != nil {
		return err
	}
	if err := need(fields, "entries", &entries); err != nil {
		return err
	}
	s := rd.out.Log.State()
	switch {
	case rd.out.Ended:
		return fault(Duplicate, "end", "the record is closed already")
	case entries != len(rd.held):
		return fault(Gap, "entries", "says "+strconv.Itoa(entries)+", but "+strconv.Itoa(len(rd.held))+" stand there")
	case phase != s.Phase():
		return fault(Disagrees, "end", "says "+phase.String()+", but the entries lead to "+s.Phase().String())
	}
	if err := rd.compare(fields); err != nil {
		return err
	}
	rd.out.Ended = true
	return nil
}
