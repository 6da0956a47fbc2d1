// Package protocol lets an engine in any language play the corpus: JSON Lines
// over the standard input and output of one long-lived process. PROTOCOL.md
// in folder conformance describes it with a full dialogue.
//
// [Serve] is the engine's end for engines in Go; [Dial] is the runner's end,
// a [conformance.Subject] that also answers for package digests.
package protocol

import (
	"encoding/json"

	"github.com/evencourt/evencourt/conformance"
)

// Version is the version of the protocol, an integer. Within a version
// messages may gain fields, which both ends ignore if they do not know them.
const Version = 1

// The commands.
const (
	StartCommand   = "start"
	ProfileCommand = "profile"
	CaseCommand    = "case"
	ResultCommand  = "result"
	LineCommand    = "line"
	TreeCommand    = "tree"
	StopCommand    = "stop"
)

// Request is what the runner asks; which fields stand depends on Cmd.
type Request struct {
	Cmd      string   `json:"cmd"`
	Seq      int      `json:"seq"`
	Version  int      `json:"version,omitempty"`  // start
	Corpus   string   `json:"corpus,omitempty"`   // start: version of the corpus
	Profile  string   `json:"profile,omitempty"`  // profile: its name
	Features []string `json:"features,omitempty"` // profile
	Formats  []string `json:"formats,omitempty"`  // profile: ids that can be claimed
	Case     string   `json:"case,omitempty"`     // case: its id, for logs only
	Format   string   `json:"format,omitempty"`   // case, line, tree: id
	Start    *Start   `json:"start,omitempty"`    // case, line, tree
	Events   []string `json:"events,omitzero"`    // case; line and tree: the path, nil for none
	Alphabet []string `json:"alphabet,omitempty"` // tree
	Depth    int      `json:"depth,omitempty"`    // tree
}

// Start is where a match begins: From takes it up from a line; else First is
// the side that serves first, "-" while nobody has chosen, and Servers, if it
// stands, opens the first game with these starting servers.
type Start struct {
	First   string `json:"first,omitempty"`
	Servers string `json:"servers,omitempty"`
	From    string `json:"from,omitempty"`
}

func startOf(s conformance.Start) *Start { return &Start{s.First, s.Servers, s.From} }

func (s *Start) start() conformance.Start {
	if s == nil {
		return conformance.Start{}
	}
	return conformance.Start{First: s.First, Servers: s.Servers, From: s.From}
}

// Reply is what the engine answers: exactly one of Result, Skipped, Errored.
type Reply struct {
	Seq     int             `json:"seq"` // that of the request
	Result  json.RawMessage `json:"result,omitempty"`
	Skipped *Skipped        `json:"skipped,omitempty"`
	Errored *Errored        `json:"errored,omitempty"`
}

// Skipped says that the engine does not play this, and why.
type Skipped struct {
	Reason string `json:"reason"`
	URL    string `json:"url,omitempty"`
}

// Errored says that the engine failed.
type Errored struct {
	Message string `json:"message"`
}

// StartResult answers start.
type StartResult struct {
	Version  int                  `json:"version"`
	Engine   conformance.Identity `json:"engine"`
	Commands []string             `json:"commands"` // of case, result, line and tree those that it answers
}

// ProfileResult answers profile: which of the formats the engine plays.
type ProfileResult struct {
	Formats []string `json:"formats"`
}

// CaseResult answers case: one answer to the start and one to each event.
type CaseResult struct {
	Answers []conformance.Answer `json:"answers"`
}

// ReportedResult answers result: what is reported of the match after the events.
type ReportedResult = conformance.Reported

// LineResult answers line: the line after the path, or the number of the event,
// from 1, that was refused, and the code.
type LineResult struct {
	Line    string `json:"line,omitempty"`
	Refused string `json:"refused,omitempty"`
	At      int    `json:"at,omitempty"`
}

// TreeResult answers tree: the TREE digest, 64 lower-case hexadecimal digits.
type TreeResult struct {
	Digest string `json:"digest"`
}

// MostLine is the longest message in bytes, its end of line included. A longer
// one is unreadable and ends the dialogue.
const MostLine = 1 << 20
