package record

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// headerLine, entryLine, setupLine and endLine are the lines of a record, their
// fields in the order in which they are written.
type headerLine struct {
	Record  int            `json:"record"`
	Format  any            `json:"format"`
	Edition format.Edition `json:"edition"`
	Rules   rawJSON        `json:"rules,omitempty"`
	Setup   rally.Setup    `json:"setup"`
	Start   string         `json:"start,omitempty"`
}

type entryLine struct {
	N       int     `json:"n"`
	Do      string  `json:"do"`
	Rules   rawJSON `json:"rules,omitempty"`
	MS      *int64  `json:"ms,omitempty"`
	Request string  `json:"request,omitempty"`
	Line    string  `json:"line"`
}

type setupLine struct {
	Setup rally.Setup `json:"setup"`
}

type endLine struct {
	End     rally.Phase `json:"end"`
	Entries int         `json:"entries"`
	Line    string      `json:"line"`
}

// Writer appends a log to a record, each line in one write, so that what was
// written stays readable whatever happens next. It reads back to itself every
// entry before it writes it: what a Writer took, [Read] takes. An error is
// final: after one the Writer writes nothing more. Make one with [NewWriter],
// [Create] or [Resume]; the zero Writer cannot write. A Writer is not safe for use
// by several goroutines; a [Match] is.
type Writer struct {
	out   io.Writer
	file  *os.File // out, where it is a file that this package opened
	size  int64    // bytes that the file has by our own hand
	log   *rally.Log
	check reader // what a reader has by now
	err   error
}

// NewWriter writes the header of a record of a log, and every entry that the
// log holds already. Later entries are written by [Writer.Append].
func NewWriter(out io.Writer, u rally.Setup, l *rally.Log) (*Writer, error) {
	w := &Writer{out: out, log: l}
	return w, w.begin(u)
}

func (w *Writer) begin(u rally.Setup) error {
	rules, start := w.log.Initial()
	if err := validated(rules, u); err != nil {
		return w.fail(err)
	}
	w.check.version, w.check.before = Version, noSum
	h := headerLine{Record: Version, Edition: rules.Format().Edition, Setup: u}
	var err error
	if id := rules.Format().ID(); id != "" {
		h.Format = id
		h.Rules, err = pin(rules.Format())
	} else {
		var full rawJSON
		full, err = MarshalFormat(rules.Format())
		h.Format = full
	}
	if err != nil {
		return w.fail(err)
	}
	if start != rules.Begin(u) {
		h.Start = rules.Line(start)
	}
	if err := w.line(h); err != nil {
		return err
	}
	return w.Append()
}

// rawJSON is JSON as it stands.
type rawJSON []byte

// MarshalJSON implements json.Marshaler.
func (r rawJSON) MarshalJSON() ([]byte, error) { return r, nil }

// Append writes the entries that the log has and the record does not. A time
// that is earlier than one before it is left out.
func (w *Writer) Append() error {
	for n := len(w.check.held) + 1; n <= w.log.Len() && w.err == nil; n++ {
		// The line is that of the log when the entry was the last one.
		e := w.log.Entry(n)
		line, err := w.ahead(e)
		if err != nil {
			return w.fail(err)
		}
		ms, stamped := w.log.Time(n)
		if !stamped {
			ms = -1
		}
		if err := w.entry(e, ms, line, ""); err != nil {
			return err
		}
	}
	return w.err
}

// entry writes the next entry with the line to which it leads, its time if it is
// no less than one before, and the name of the request that it was made by.
func (w *Writer) entry(e rally.Entry, ms int64, line, request string) error {
	what, err := textOf(e)
	if err != nil {
		return w.fail(err)
	}
	if !utf8.ValidString(what) || !utf8.ValidString(request) {
		return w.fail(failure(badField, "do", "holds bytes that are not UTF-8")) // JSON would change them
	}
	out := entryLine{N: len(w.check.held) + 1, Do: what, Request: request, Line: line}
	if _, names := changesTo(what); names {
		if out.Rules, err = pin(e.Format); err != nil {
			return w.fail(err)
		}
	}
	// A clock that was set back must not cost the rest of the match: the
	// entry is written without a time.
	if ms >= max(w.check.ms, 0) {
		out.MS = &ms
	}
	return w.line(out)
}

// ahead returns the line to which an entry will lead.
func (w *Writer) ahead(e rally.Entry) (string, error) {
	last := w.check.out.Log
	if len(w.check.held) == w.log.Len()-1 {
		last = w.log // nothing comes after it yet
		return last.Rules().Line(last.State()), nil
	}
	scratch := *last
	if _, err := scratch.Do(e); err != nil {
		return "", err
	}
	return scratch.Rules().Line(scratch.State()), nil
}

// Setup writes a set-up that replaces the one before: names supplied or
// changed. The side that serves first cannot change.
func (w *Writer) Setup(u rally.Setup) error {
	if err := validated(w.log.Rules(), u); err != nil {
		return err // nothing was written: the record is as good as before
	}
	return w.line(setupLine{u})
}

// End writes what is not written yet and closes the record with a line that
// counts its entries, so that a reader sees that nothing is missing. A match
// that goes on after all may be appended to all the same.
func (w *Writer) End() error {
	if err := w.Append(); err != nil || w.check.out.Ended {
		return err
	}
	s := w.log.State()
	return w.line(endLine{s.Phase(), w.log.Len(), w.log.Rules().Line(s)})
}

// line writes one line after a reader has taken it.
func (w *Writer) line(v any) error {
	if w.err != nil {
		return w.err
	}
	line, err := text(v)
	if err != nil {
		return w.fail(err)
	}
	if w.check.version > 1 {
		line = seal(line, w.check.before)
	}
	if len(line) >= MostLine {
		return w.fail(failure(tooLong, "", "longer than a line of a record can be"))
	}
	if w.check.lines == nil {
		w.check.lines = &lines{}
	}
	w.check.n++
	if !w.check.take(line) {
		return w.fail(w.check.problems[0])
	}
	if err := w.alone(); err != nil {
		return w.fail(err)
	}
	line = append(line, '\n')
	wrote, err := w.out.Write(line)
	w.size += int64(wrote)
	w.check.at, w.check.end = w.check.end, w.check.end+int64(len(line))
	if err != nil {
		return w.fail(caused(unreadable, "", err))
	}
	return nil
}

// alone sees that nobody else has written to the file.
func (w *Writer) alone() *Error {
	if w.file == nil {
		return nil
	}
	switch info, err := w.file.Stat(); {
	case err != nil:
		return caused(unreadable, "", err)
	case info.Size() != w.size:
		return failure(otherWriter, "", "the file has "+strconv.FormatInt(info.Size(), 10)+" bytes where "+
			strconv.FormatInt(w.size, 10)+" were written: another program writes to it")
	}
	return nil
}

func (w *Writer) fail(err error) error {
	w.err = err
	return err
}

// Sync makes what was written survive a loss of power, where the record is a
// file or anything else that can do so.
func (w *Writer) Sync() error {
	if s, ok := w.out.(interface{ Sync() error }); ok && w.err == nil {
		if err := s.Sync(); err != nil {
			return w.fail(caused(unreadable, "", err))
		}
	}
	return w.err
}

// Close closes the file of a record that [Create] or [Resume] opened. It does
// not close the record: see [Writer.End].
func (w *Writer) Close() error {
	if w.file == nil {
		return nil
	}
	err := w.file.Close()
	w.fail(caused(unreadable, "", fs.ErrClosed))
	return err
}

// Write writes a whole record, its closing line included.
func Write(out io.Writer, u rally.Setup, l *rally.Log) error {
	w, err := NewWriter(out, u, l)
	if err != nil {
		return err
	}
	return w.End()
}

// Create begins a record in a new file; one that exists is never overwritten.
// The header is safe on the disk before the file has its name, so that a
// creation that fails or is killed blocks nothing.
func Create(path string, u rally.Setup, l *rally.Log) (*Writer, error) {
	sweep(path)
	if _, err := os.Lstat(path); err == nil {
		return nil, &fs.PathError{Op: "create", Path: path, Err: fs.ErrExist}
	}
	file, err := os.CreateTemp(filepath.Dir(path), unfinished(path))
	if err != nil {
		return nil, err
	}
	w := &Writer{out: file, file: file, log: l}
	err = w.begin(u)
	if err == nil {
		err = w.Sync()
	}
	if err == nil {
		err = file.Chmod(0o644)
	}
	if err = errors.Join(err, file.Close()); err == nil {
		err = named(file.Name(), path)
	}
	if err = errors.Join(err, removed(file.Name())); err != nil {
		return nil, err
	}
	if w.file, err = os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0); err != nil {
		return nil, err
	}
	w.out = w.file
	if err := lock(w.file); err != nil {
		return nil, errors.Join(err, w.file.Close())
	}
	if dir, err := os.Open(filepath.Dir(path)); err == nil {
		_ = dir.Sync() // not every system can; the file itself is safe
		_ = dir.Close()
	}
	return w, nil
}

// unfinished is the pattern of names under which a record is begun.
func unfinished(path string) string { return "." + filepath.Base(path) + ".*.new" }

// sweep removes what killed creations of the same record have left: what is
// older than a creation can take.
func sweep(path string) {
	const creation = time.Minute
	entries, _ := os.ReadDir(filepath.Dir(path))
	for _, e := range entries {
		if left, _ := filepath.Match(unfinished(path), e.Name()); !left {
			continue
		}
		if info, err := e.Info(); err == nil && time.Since(info.ModTime()) > creation {
			_ = os.Remove(filepath.Join(filepath.Dir(path), e.Name()))
		}
	}
}

// named gives a file a second name, which nothing else must have. Where no
// file can have two names, as on some sticks, the file is moved.
func named(file, path string) error {
	err := os.Link(file, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	taken, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	if err := taken.Close(); err != nil {
		return err
	}
	if err := os.Rename(file, path); err != nil {
		return errors.Join(err, removed(path))
	}
	return nil
}

func removed(file string) error {
	if err := os.Remove(file); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// Resume opens a record to go on with its match. A last line that a crash tore
// or damaged is cut off, its text in [Record.Torn]; anything else that is wrong
// with the record is returned as an [*Error], and the file stays as it is. While
// another program has it open, it is "other-writer", where the system can tell.
func Resume(path string) (*Record, *Writer, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		return nil, nil, err
	}
	if err := lock(file); err != nil {
		return nil, nil, errors.Join(err, file.Close())
	}
	rec, w, err := resume(file)
	if err != nil {
		return nil, nil, errors.Join(err, file.Close())
	}
	return rec, w, nil
}

func resume(file *os.File) (*Record, *Writer, error) {
	found := reader{lines: newLines(file), lenient: true}
	found.run()
	for _, e := range found.problems {
		if e.Code != torn || found.out == nil {
			return nil, nil, e
		}
	}
	rec, end := found.record(), ""
	if !found.lineEnd {
		end = "\n"
	}
	check := reader{lines: newLines(io.MultiReader(io.NewSectionReader(file, 0, found.whole), strings.NewReader(end)))}
	if check.run(); len(check.problems) > 0 {
		return nil, nil, check.problems[0]
	}
	check.n-- // run counted the end of the file
	if rec.Torn != "" {
		if err := file.Truncate(found.whole); err != nil {
			return nil, nil, caused(unreadable, "", err)
		}
	}
	if _, err := file.WriteString(end); err != nil {
		return nil, nil, caused(unreadable, "", err)
	}
	return rec, &Writer{out: file, file: file, log: rec.Log, size: check.end, check: check}, nil
}
