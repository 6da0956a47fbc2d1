// Package record keeps a match in a file: one line of JSON for what is known
// before the first serve, one for every entry of the log, and a last one that
// closes it. FORMAT.md beside this file describes the lines.
//
//	{"record":2,"format":"sideout-doubles-11@2026","edition":"2026","rules":{…},"setup":{…},"sum":"00000000f7d01e4c"}
//	{"n":1,"do":"gA1B1","ms":0,"line":"L2 game=1 …","sum":"f7d01e4c2b1d9a03"}
//	{"n":2,"do":"A","ms":21500,"line":"L2 game=1 …","sum":"2b1d9a03c8a4570e"}
//	{"end":"play","entries":2,"line":"L2 game=1 …","sum":"c8a4570e91be2f66"}
//
// A [Writer] appends whole lines, so that a crash costs at most the line being
// written; the checksum at the end of each shows what was changed, and whether
// it follows the line before it. [Read] is strict: a record is read as it stands or not at all.
// [Recover] is lenient: it returns every entry that can be had, and says of
// everything else where it stands and what is wrong with it. Both end in a
// [rally.Log], which proves the score again from the entries.
//
// For cases, logs and chat there is a notation of one game in one line; see
// [Notation]. Formats and events have JSON forms of their own; see
// [MarshalFormat] and [MarshalEvents].
//
// A record holds of a medical time-out that it was asked for, whether it was
// found valid, and when: never a diagnosis or a symptom.
package record

import (
	"strconv"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Version is the version of the record that this package writes. It reads the
// first one too, which has no checksums.
const Version = 2

// Bounds of what is read, so that no file can claim memory or time without end.
const (
	MostLine     = 1 << 15 // bytes in a line, its end included
	MostEntries  = 20_000  // entries in a record; a match of five long games has some two thousand
	MostSetups   = 1_000   // later set-ups in a record
	MostProblems = 1_000   // problems that Recover lists before it gives up
)

// Record is a match as it was read.
type Record struct {
	Setup rally.Setup
	Log   *rally.Log
	Ended bool   // the last line closes the record: nothing is missing at its end
	Torn  string // what stands after the last whole line, shortened; "" for nothing
	// Changed names every id of a format that means something else today, with
	// the code "rules-changed" and what differs. The log goes by the rules that were
	// stored; [Record.Today] says what comes out by today's.
	Changed []*Error

	today map[format.Format]format.Format // of stored rules, what their id means today
}

// ErrorCode says what sort of thing is wrong with a record: "torn" where its last
// line breaks off, "other-writer" where another program has it open, "unreadable"
// where the file itself cannot be read or written, "rules-changed" where the id of
// a format means something else today, "stale" where a request comes late. FORMAT.md lists the others.
type ErrorCode string

// The codes.
const (
	torn         ErrorCode = "torn"          // the last line breaks off, or is damaged
	damaged      ErrorCode = "damaged"       // a line is not what was written: its checksum is another
	tooLong      ErrorCode = "too-long"      // a line longer than MostLine
	tooMany      ErrorCode = "too-many"      // more than MostEntries, MostSetups or MostProblems
	syntax       ErrorCode = "syntax"        // not a line of a record
	badField     ErrorCode = "field"         // a field missing, unknown, twice, or with a value it cannot have
	badVersion   ErrorCode = "version"       // a version that this package does not know
	noHeader     ErrorCode = "no-header"     // the first line is no header
	duplicate    ErrorCode = "duplicate"     // an entry stands there twice, the same
	collision    ErrorCode = "collision"     // two different entries with one number: two writers
	gap          ErrorCode = "gap"           // numbers are missing
	entryRefused ErrorCode = "refused"       // the log does not take the entry
	disagrees    ErrorCode = "disagrees"     // the line beside an entry is not what the entries lead to: one was edited
	timeBack     ErrorCode = "time-back"     // an entry is earlier than the one before it
	unreadable   ErrorCode = "unreadable"    // the file itself cannot be read or written
	rulesChanged ErrorCode = "rules-changed" // the id of a format means something else today; the stored rules hold
	stale        ErrorCode = "stale"         // another device has made the entry with that number
	otherWriter  ErrorCode = "other-writer"  // another program has the record open, or has written to it
)

// Error is one thing that is wrong with a record, and where.
type Error struct {
	Line   int    // line, from 1; 0 where no line is meant
	Byte   int64  // bytes before the place
	Field  string // field at fault, such as "setup.left"; "" for the line as a whole
	Code   ErrorCode
	Reason string // lower-case, without a full stop
	Cause  error  // what the engine or the file system said; may be nil
}

// Error implements error.
func (e *Error) Error() string {
	out := "record: "
	if e.Line > 0 {
		out += "line " + strconv.Itoa(e.Line) + ": "
	}
	if e.Field != "" {
		out += e.Field + ": "
	}
	return out + e.Reason
}

// Unwrap returns what the engine or the file system said.
func (e *Error) Unwrap() error { return e.Cause }

func failure(c ErrorCode, field, reason string) *Error {
	return &Error{Code: c, Field: field, Reason: reason}
}

// under puts a field below another one.
func (e *Error) under(field string) *Error {
	if e.Field != "" {
		field += "." + e.Field
	}
	e.Field = field
	return e
}

// caused makes an engine's error a problem with a field.
func caused(c ErrorCode, field string, err error) *Error {
	return &Error{Code: c, Field: field, Reason: err.Error(), Cause: err}
}
