// Package conformance holds the corpus: worked cases of scoring, tied to the
// clause that decides each, and the runner that plays them against any engine.
//
// A case starts a match, or takes one up from a stated line, and says what an
// engine must answer to each event: the line, the score call and the effects,
// or the exact refusal. What lines, events, effects and refusals are is in
// LINE.md ([LinePage]); [Load] returns the cases, [Lint] checks their form,
// [Run] and [RunAll] play them, and [Test] does so from any test:
//
//	func TestCorpus(t *testing.T) { conformance.Test(t, myEngine{}) }
//
// Conformant means agreeing with this corpus and nothing else: the rulebook in
// force and the officials of an event decide what is right on court.
package conformance

import (
	"embed"
	"strings"
)

//go:embed cases schema LINE.md PROTOCOL.md README.md CHANGELOG.md VERSION profiles.json
var content embed.FS

// LinePage returns the text of LINE.md, which defines the canonical line, the
// events, the effects and the refusals.
func LinePage() string {
	page, err := content.ReadFile("LINE.md")
	if err != nil {
		return "" // cannot happen: the file is embedded
	}
	return string(page)
}

// Version returns the version of the corpus: major when an expectation or the
// protocol changes, minor when cases are added, patch for wording.
func Version() string {
	version, err := content.ReadFile("VERSION")
	if err != nil {
		return "" // cannot happen: the file is embedded
	}
	return strings.TrimSpace(string(version))
}

// File is one feature: the cases that an engine runs together or not at all.
type File struct {
	Path    string    `json:"-"`                  // where it was read from
	Feature string    `json:"feature"`            // equals the name of the file
	About   string    `json:"about"`              // one sentence
	LeftOut []LeftOut `json:"left_out,omitempty"` // rulings of this feature that no case asserts
	Cases   []Case    `json:"cases"`
}

// LeftOut is a published ruling that the corpus cannot assert, with the reason.
type LeftOut struct {
	Claim  string `json:"claim"`
	Source string `json:"source"`
	Why    string `json:"why"`
}

// Case is one worked example. Its id is never renamed, moved or used again.
type Case struct {
	ID        string   `json:"id"`
	Title     string   `json:"title"`
	Formats   []string `json:"formats"` // see [Expand]; every one gives the same answers
	Clause    Clause   `json:"clause"`
	Origin    string   `json:"origin"` // one of [Origins]
	Why       []string `json:"why"`    // words of [Whys]
	Note      string   `json:"note,omitempty"`
	Generated bool     `json:"generated,omitempty"` // the steps were made by a program
	Start     *Start   `json:"start,omitempty"`     // either this
	From      string   `json:"from,omitempty"`      // or this: the line that the case takes up
	Call      string   `json:"call,omitempty"`      // the call before the first step
	Steps     []Step   `json:"steps"`
}

// Clause says which rule decides a case, in own words, and how well it is
// known. The document is pickleball, badminton, or club for a local rule; the
// numbers of rules move between editions, so a number without one means nothing.
type Clause struct {
	Document string `json:"document"`
	Edition  string `json:"edition"` // for a club rule a year, or "-"
	Rule     string `json:"rule"`
	Mark     string `json:"mark"`
	Claim    string `json:"claim"`
	Source   string `json:"source"`
}

// Start is how a match begins. With First alone it stands before the first
// game. With Servers too the first game has been opened, as by the start
// event, with these starting servers. With From it is taken up from that line.
type Start struct {
	First   string `json:"first"`             // side that serves first, or "-" while nobody has chosen
	Servers string `json:"servers,omitempty"` // starting servers of A and B, such as A1B2
	Line    string `json:"line,omitempty"`    // the line that results; never told to the engine
	From    string `json:"-"`
}

// Step is what happens and what an engine must answer. Several events stand
// in Do with single spaces between them; the rest is then asserted after the
// last one.
type Step struct {
	Do      string   `json:"do,omitempty"`
	Entry   string   `json:"entry,omitempty"` // instead: one log entry whose payload holds spaces, such as amend 3 B
	Name    string   `json:"name,omitempty"`  // of a checkpoint
	Line    string   `json:"line,omitempty"`
	Call    string   `json:"call,omitempty"` // only in play is there a call
	Effects []string `json:"effects,omitempty"`
	Refused string   `json:"refused,omitempty"` // the event is refused and changes nothing
}

// begin is what an engine is told: never the line it has to answer.
func (c *Case) begin() Start {
	if c.Start == nil {
		return Start{From: c.From}
	}
	return Start{First: c.Start.First, Servers: c.Start.Servers}
}

// opening is the line that the case stands at before its first step.
func (c *Case) opening() string {
	if c.Start == nil {
		return c.From
	}
	return c.Start.Line
}

// long is the number of events from which a case may assert checkpoints only.
const long = 21

// events counts the events of all steps.
func (c *Case) events() int {
	n := 0
	for _, s := range c.Steps {
		n += len(s.events())
	}
	return n
}
