package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

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
	return rd.record(), nil
}

// record is what was read.
func (rd *reader) record() *Record {
	rd.out.Changed, rd.out.today = rd.changed, rd.today
	return rd.out
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
	return rd.record(), rd.problems, nil
}

// reader builds a record from lines.
type reader struct {
	*lines
	lenient  bool
	version  int
	out      *Record
	problems []*Error
	whole    int64          // bytes up to the end of the last whole line
	lineEnd  bool           // whether that line has its end
	before   string         // checksum of the line before; "" where it is not known
	branch   string         // checksum of the last line left out because another writer wrote it
	held     []int          // by number of the record, from 1: entry of the log, 0 if it was not taken
	setups   int            // later set-ups so far
	ms       int64          // elapsed time of the last entry that has one
	lost     bool           // an entry before is missing, and no line has agreed since
	instead  string         // the line of the entry before, if the log does not agree with it
	requests map[string]int // entries by the name of the request that made them
	changed  []*Error
	today    map[format.Format]format.Format // of stored rules, what their id means today
}

// unread is a line that was not written whole, or damaged since. Where nothing
// whole comes after it, that is what a crash left.
type unread struct {
	n    int
	at   int64
	line []byte
	how  string
	long *Error
}

// mostUnread is how many of them a crash can leave.
const mostUnread = 4

func (rd *reader) run() {
	var left []unread
	for {
		line, ended, err := rd.next()
		var fails *Error
		switch {
		case errors.Is(err, io.EOF):
			if rd.out == nil {
				rd.report(failure(noHeader, "", "the file holds no line"))
			}
			rd.torn(left)
			return
		case errors.As(err, &fails) && (fails.Code == unreadable || rd.out == nil):
			rd.report(fails)
			return
		}
		how := "is too long to be a line"
		if fails == nil {
			how = rd.broken(line)
		}
		if how != "" && (rd.out != nil || !ended) {
			left = append(left, unread{rd.n, rd.at, bytes.Clone(line), how, fails})
			if !ended && fails == nil {
				rd.torn(left)
				return
			}
			if len(left) <= mostUnread {
				continue
			}
		}
		if !rd.pass(left) {
			return
		}
		if left = nil; how != "" && rd.out != nil {
			continue
		}
		if !rd.take(line) {
			return
		}
		if rd.out != nil {
			rd.whole, rd.lineEnd = rd.end, ended
		}
		if !ended {
			rd.report(failure(torn, "", "the last line has no line end; it is whole otherwise"))
			return
		}
	}
}

// pass reads what can be read of lines after which another one is whole.
func (rd *reader) pass(left []unread) bool {
	n, at := rd.n, rd.at
	defer func() { rd.n, rd.at = n, at }()
	for _, u := range left {
		rd.n, rd.at = u.n, u.at
		if u.long == nil {
			if !rd.take(u.line) {
				return false
			}
			continue
		}
		rd.out.Torn, rd.out.Ended, rd.lost, rd.instead, rd.before = "", false, true, "", ""
		if !rd.report(u.long) {
			return false
		}
	}
	return true
}

// broken says in what way a line is not one that was written whole; "" for not.
func (rd *reader) broken(line []byte) string {
	if rd.lenient && len(bytes.TrimSpace(line)) == 0 {
		return ""
	}
	if !json.Valid(line) {
		return "breaks off after " + strconv.Itoa(len(line)) + " bytes"
	}
	if _, _, sound := unseal(line); rd.version > 1 && !sound {
		return "is damaged: it does not have its checksum"
	}
	return ""
}

// torn notes what a crash left after the last whole line.
func (rd *reader) torn(left []unread) {
	if len(left) == 0 {
		return
	}
	u := left[0]
	rd.n, rd.at = u.n, u.at
	e := failure(torn, "", u.how+"; the "+strconv.Itoa(len(rd.held))+" entries before it are whole")
	if rd.out == nil {
		e.Reason = "the header " + u.how
	} else {
		rd.out.Torn, rd.out.Ended = shorten(string(u.line)), false
		if u.line == nil || rd.out.Torn == "" {
			rd.out.Torn = u.how
		}
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
		rd.problems = append(rd.problems, rd.here(failure(tooMany, "", "too many problems: the rest was not read")))
		return false
	}
	return true
}

// take reads one line and says whether reading goes on.
func (rd *reader) take(line []byte) bool {
	if rd.lenient && len(bytes.TrimSpace(line)) == 0 {
		return true
	}
	const entry = `{"n":`
	if at := bytes.LastIndex(line, []byte(entry)); at > 1 && rd.lenient && rd.out != nil && !json.Valid(line) {
		return rd.report(failure(damaged, "", "two lines stand in one: the line end between them was damaged")) &&
			rd.take(line[:at-1]) && rd.take(line[at:])
	}
	fields, err := object(line)
	header := rd.out == nil
	if err == nil && header {
		err = rd.header(fields)
	}
	if header && err != nil {
		rd.out = nil
		rd.report(err)
		return false
	}
	before, left := rd.before, rd.branch
	if err == nil {
		err = rd.sealed(line, fields)
	}
	switch {
	case header:
	case err == nil:
		if err = rd.line(fields); err != nil && err.Code == collision {
			rd.before, rd.branch = before, rd.before
		}
	case rd.branch != left: // goes on with what was left out
	case err.Code == damaged && rd.lenient && rd.isNext(fields):
		// What it says is looked at all the same: the lines tell if it can be so.
		if more := rd.line(fields); more != nil && more.Code != disagrees {
			rd.lose(line)
		}
	case rd.lenient && rd.isNext(salvaged(line)):
		if more := rd.line(salvaged(line)); more != nil {
			rd.lose(line)
		}
		rd.before = ""
	default:
		rd.lose(line)
	}
	return err == nil || rd.report(err)
}

// beginning is how the line of an entry begins.
var beginning = regexp.MustCompile(`^\{"n":([0-9]{1,6}),"do":("(?:[^"\\]|\\.)*")`)

// salvaged returns what a line that is no JSON says of an entry in its
// beginning, where that is whole. Later lines tell whether it can be so.
func salvaged(line []byte) map[string]json.RawMessage {
	found := beginning.FindSubmatch(line)
	if found == nil || !json.Valid(found[2]) || !json.Valid(found[1]) {
		return nil
	}
	return map[string]json.RawMessage{"n": found[1], "do": found[2]}
}

// isNext reports whether a line says to be the next entry.
func (rd *reader) isNext(fields map[string]json.RawMessage) bool {
	var n int
	return need(fields, "n", &n) == nil && n == len(rd.held)+1
}

// sealed sees that a line is what was written, and follows the one before it.
func (rd *reader) sealed(line []byte, fields map[string]json.RawMessage) *Error {
	if rd.version == 1 {
		return nil
	}
	delete(fields, "sum")
	before, sum, sound := unseal(line)
	known := rd.before
	rd.before = sum
	switch {
	case !sound:
		rd.before = ""
		return failure(damaged, "sum", "the line is not what was written: its checksum is another")
	case before != known && before == rd.branch && before != "":
		rd.before, rd.branch = known, sum
		return failure(collision, "sum", "follows a line of another writer, which was left out")
	case known != "" && before != known && fields["n"] == nil:
		return failure(gap, "sum", "does not follow the line before it: lines are missing between them, or two programs have written")
	case known != "" && before != known:
		return rd.follows(fields)
	}
	return nil
}

// follows says what is wrong with an entry that does not follow the line
// before it: its number says more where it is not the next.
func (rd *reader) follows(fields map[string]json.RawMessage) *Error {
	if !rd.isNext(fields) {
		return nil
	}
	return failure(collision, "sum", "entry "+strconv.Itoa(len(rd.held)+1)+" follows another line than the one before it: two writers")
}

// lose notes that a line could not be read; what it says of the position may
// still be of use.
func (rd *reader) lose(line []byte) {
	rd.lost, rd.instead = true, ""
	const version = len(rally.LineVersion) // and a space: how a line begins
	if at := bytes.LastIndex(line, []byte(" game=")) - version; at >= 0 {
		rest := line[at:]
		if end := bytes.IndexAny(rest, `",}`); end >= 0 {
			rd.instead = string(rest[:end])
		}
	}
}

func (rd *reader) line(fields map[string]json.RawMessage) *Error {
	switch {
	case fields["record"] != nil:
		return failure(syntax, "record", "a second header")
	case fields["n"] != nil:
		rd.out.Ended = false
		return rd.entry(fields)
	case fields["setup"] != nil:
		rd.out.Ended = false
		return rd.names(fields)
	case fields["end"] != nil:
		return rd.close(fields)
	}
	return failure(syntax, "", "neither an entry nor a set-up nor a closing line")
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
		return failure(noHeader, "record", "the first line is not the header of a record")
	}
	var version int
	if err := need(fields, "record", &version); err != nil {
		return err
	}
	rd.version = version
	switch version {
	case 1:
		if err := rd.only(fields, "record", "format", "edition", "setup", "start"); err != nil {
			return err
		}
	case Version:
		rd.before = noSum
		if err := rd.only(fields, "record", "format", "edition", "rules", "setup", "start", "sum"); err != nil {
			return err
		}
	default:
		return failure(badVersion, "record", "version "+strconv.Itoa(version)+" is not known here, only 1 and "+strconv.Itoa(Version))
	}
	f, err := rd.format(fields)
	if err != nil {
		return err
	}
	rules, compileError := rally.Compile(f)
	if compileError != nil {
		return caused(badField, "format", compileError)
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
			return caused(badField, "start", err)
		}
		start = s
	}
	rd.out.Log = rally.NewLog(rules, start)
	return nil
}

func (rd *reader) format(fields map[string]json.RawMessage) (f format.Format, err *Error) {
	raw, ok := fields["format"]
	if !ok {
		return f, failure(badField, "format", "missing")
	}
	if raw[0] == '{' {
		if f, err = formatOf(raw); err != nil {
			return f, err.under("format")
		}
	} else {
		var id string
		if err := need(fields, "format", &id); err != nil {
			return f, err
		}
		if f, err = rd.played(id, fields["rules"]); err != nil {
			return f, err
		}
	}
	var edition format.Edition
	if err := need(fields, "edition", &edition); err != nil {
		return f, err
	}
	if edition != f.Edition {
		return f, failure(badField, "edition", "is "+edition.String()+", the format's is "+f.Edition.String())
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
	if err := validated(rules, *into); err != nil && err.Field != "setup" { // a longer one was written before there was a limit
		return err
	}
	return nil
}

// validated is what the rules say of a set-up, by the fields of a record.
func validated(rules *rally.Rules, u rally.Setup) *Error {
	err := rules.Validate(u)
	if err == nil {
		return nil
	}
	e := caused(badField, "setup", err)
	if of, ok := err.(*rally.SetupError); ok {
		if e.Field, e.Reason = join("setup", of.Field), of.Reason; of.Field == "" {
			e.Code, e.Field = tooLong, "setup"
		}
	}
	return e
}

// names takes a later set-up: names may be supplied or changed at any time.
func (rd *reader) names(fields map[string]json.RawMessage) *Error {
	if err := rd.only(fields, "setup"); err != nil {
		return err
	}
	if rd.setups++; rd.setups > MostSetups {
		return failure(tooMany, "setup", "more than "+strconv.Itoa(MostSetups)+" set-ups")
	}
	rules, _ := rd.out.Log.Initial()
	var u rally.Setup
	if err := rd.setup(rules, fields, &u); err != nil {
		return err
	}
	if !sameFirst(u, rd.out.Setup) {
		return failure(badField, "setup.first", "cannot change after the header")
	}
	rd.out.Setup = u
	return nil
}

func sameFirst(u, v rally.Setup) bool {
	return (u.First == nil) == (v.First == nil) && (u.First == nil || *u.First == *v.First)
}

// entry takes one numbered entry.
func (rd *reader) entry(fields map[string]json.RawMessage) *Error {
	if err := rd.only(fields, "n", "do", "rules", "ms", "request", "line"); err != nil {
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
	if err := rd.request(fields, n); err != nil {
		return err
	}
	said, err := saidLine(fields)
	if err != nil {
		return err
	}
	return rd.enter(what, said, ms, fields["rules"])
}

// enter adds an entry to the log, and sees that it leads to the line beside it.
func (rd *reader) enter(what, said string, ms int64, rules json.RawMessage) *Error {
	l := rd.out.Log
	e, unread := rd.parse(what, rules)
	err := unread
	if err == nil {
		err = rd.retarget(&e)
	}
	if strings.HasPrefix(said, firstVersion) {
		e = pairOnce(e, l.State())
	}
	before := *l
	if err == nil {
		if _, refused := l.Do(e); refused != nil {
			err = caused(entryRefused, "do", refused)
		} else if said != "" {
			err = differ(said, l.Rules().Line(l.State()))
		}
	}
	instead, taken := rd.instead, l.Len() > before.Len()
	rd.instead = ""
	if err != nil && rd.lenient {
		other := before
		switch {
		case unread == nil && rd.from(&other, instead) && rd.by(&other, e, said):
			// The entry before was another than the one that stands there.
			*l, taken, err = other, true, nil
			if n := len(rd.held); n > 0 {
				rd.held[n-1] = l.Len() - 1
			}
		case rd.lost || !taken:
			other = before
			if rd.from(&other, said) {
				*l, taken, rd.lost = other, true, false
				break
			}
			fallthrough
		default:
			if *l = before; taken {
				_, _ = l.Do(e) // what was tried instead stands in its place
			}
			rd.instead = said // the next entry tells which of the two is right
		}
	}
	if err == nil {
		rd.lost = false
	}
	if !taken {
		rd.lost = true
		rd.held = append(rd.held, 0)
		return err
	}
	rd.held = append(rd.held, l.Len())
	if ms >= 0 {
		l.Stamp(ms)
		if ms < rd.ms && err == nil {
			err = failure(timeBack, "ms", "is "+strconv.FormatInt(ms, 10)+", before that of an earlier entry, "+strconv.FormatInt(rd.ms, 10))
		}
		rd.ms = max(ms, rd.ms)
	}
	return err
}

// from states in a log the position that a line gives; false where it cannot.
func (rd *reader) from(l *rally.Log, line string) bool {
	if line == "" {
		return false
	}
	_, err := l.Do(rally.Entry{Kind: rally.SetPosition, Line: line})
	return err == nil
}

// by reports whether an entry leads a log to a line.
func (rd *reader) by(l *rally.Log, e rally.Entry, line string) bool {
	_, err := l.Do(e)
	return err == nil && differ(line, l.Rules().Line(l.State())) == nil
}

// parse reads the text of an entry. Notes of the first version could hold what
// no terminal should be shown.
func (rd *reader) parse(what string, rules json.RawMessage) (rally.Entry, *Error) {
	e, err := parseEntry(what)
	if id, names := changesTo(what); names && rules != nil {
		f, fault := rd.played(id, rules)
		if fault != nil {
			return e, fault
		}
		e, err = parseEntry(strings.Replace(what, id, noFormat, 1))
		e.Format = f
	}
	if err != nil {
		return e, caused(entryRefused, "do", err)
	}
	if rd.version == 1 && e.Kind == rally.Amend {
		e.Note = cleaned(e.Note)
	}
	return e, nil
}

func cleaned(note string) string {
	note = strings.Map(func(c rune) rune {
		if unicode.IsControl(c) || c == '\u2028' || c == '\u2029' {
			return ' '
		}
		return c
	}, note)
	for len(note) > rally.MostNote {
		_, size := utf8.DecodeLastRuneInString(note)
		note = note[:len(note)-size]
	}
	return strings.TrimRight(note, " ")
}

// request notes the name of the request by which entry n was made.
func (rd *reader) request(fields map[string]json.RawMessage, n int) *Error {
	if fields["request"] == nil {
		return nil
	}
	var id string
	if err := need(fields, "request", &id); err != nil {
		return err
	}
	switch other := rd.requests[id]; {
	case id == "" || len(id) > MostRequest:
		return failure(badField, "request", "must be 1 to "+strconv.Itoa(MostRequest)+" bytes")
	case other != 0:
		return failure(duplicate, "request", "is that of entry "+strconv.Itoa(other))
	case rd.requests == nil:
		rd.requests = map[string]int{}
	}
	rd.requests[id] = n
	return nil
}

// saidLine returns the line that stands beside an entry; "" for none.
func saidLine(fields map[string]json.RawMessage) (line string, _ *Error) {
	if fields["line"] == nil {
		return "", nil
	}
	err := need(fields, "line", &line)
	return line, err
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
		return 0, failure(badField, "ms", "must be elapsed milliseconds, 0 or more")
	}
	return ms, nil
}

// number sees that the entry is the next one.
func (rd *reader) number(n int, what string, ms int64) *Error {
	next := len(rd.held) + 1
	switch {
	case n < 1:
		return failure(badField, "n", "must be 1 or more")
	case n > MostEntries:
		return failure(tooMany, "n", "a record has at most "+strconv.Itoa(MostEntries)+" entries")
	case n == next:
		return nil
	case n < next:
		return rd.again(n, what, ms)
	}
	missing := "entry " + strconv.Itoa(next) + " is missing"
	if n > next+1 {
		missing = "entries " + strconv.Itoa(next) + " to " + strconv.Itoa(n-1) + " are missing"
	}
	gap := failure(gap, "n", "is "+strconv.Itoa(n)+": "+missing)
	if !rd.lenient {
		return gap
	}
	rd.report(gap)
	if !rd.lost || n > next+1 {
		rd.instead = ""
	}
	rd.lost = true
	for len(rd.held) < n-1 {
		rd.held = append(rd.held, 0)
	}
	return nil
}

// again says what a number that stands there already means.
func (rd *reader) again(n int, what string, ms int64) *Error {
	held := rd.held[n-1]
	if held == 0 {
		return failure(collision, "n", "entry "+strconv.Itoa(n)+" comes after later ones")
	}
	text, _ := textOf(rd.out.Log.Entry(held))
	was, stamped := rd.out.Log.Time(held)
	if !stamped {
		was = -1
	}
	if text == what && was == ms {
		return failure(duplicate, "n", "entry "+strconv.Itoa(n)+" stands there twice")
	}
	return failure(collision, "n", "two entries with the number "+strconv.Itoa(n)+": "+brief(text)+" and "+brief(what)+"; two writers")
}

// retarget turns the number that a correction names into that of the log,
// which differs where entries are missing.
func (rd *reader) retarget(e *rally.Entry) *Error {
	n := e.Target
	if !rd.lenient || n < 1 || n > len(rd.held) {
		return nil // the log says what is wrong with it
	}
	if rd.held[n-1] == 0 {
		return failure(entryRefused, "do", "corrects entry "+strconv.Itoa(n)+", which could not be read")
	}
	e.Target = rd.held[n-1]
	return nil
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
		return failure(duplicate, "end", "the record is closed already")
	case entries != len(rd.held):
		return failure(gap, "entries", "says "+strconv.Itoa(entries)+", but "+strconv.Itoa(len(rd.held))+" stand there")
	case phase != s.Phase():
		return failure(disagrees, "end", "says "+phase.String()+", but the entries lead to "+s.Phase().String())
	}
	said, err := saidLine(fields)
	if err != nil {
		return err
	}
	if said != "" {
		if err := differ(said, rd.out.Log.Rules().Line(s)); err != nil {
			return err
		}
	}
	rd.out.Ended = true
	return nil
}
