package protocol

import (
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
)

// Root is the start of all digests: game 1 opened by side A, A1 and B1
// starting.
var Root = conformance.Start{First: "A", Servers: "A1B1"}

// Position returns the engine at the root of a format, asked by the command line
// or, where it does not know that one, by case.
func (c *Client) Position(formatID string) (digests.Position, error) {
	return c.root(remote{c: c, format: formatID, start: Root})
}

func (c *Client) root(p remote) (digests.Position, error) {
	refused, err := p.ask(nil)
	if err == nil && refused != "" {
		err = c.fail("it refuses to begin format %s: %s", p.format, refused)
	}
	return p, err
}

// remote is an engine at one moment.
type remote struct {
	c      *Client
	format string
	start  conformance.Start
	path   []string
	line   string
	tells  bool   // by the command case alone
	said   string // then: of the last event
}

// Merged implements [digests.Mergeable].
func (p remote) Merged() digests.Position {
	p.start, p.path, p.said = conformance.Start{From: p.line}, nil, ""
	return p
}

// Told implements [digests.Teller].
func (p remote) Told() string { return p.said }

func (p remote) Line() string { return p.line }

func (p remote) Play(event string) (digests.Position, string, error) {
	p.path = append(p.path[:len(p.path):len(p.path)], event)
	if refused, err := p.ask(p.path); err != nil || refused != "" {
		return nil, refused, err
	}
	return p, "", nil
}

// ask goes to a path, of which only the last event can be refused.
func (p *remote) ask(path []string) (refused string, err error) {
	if p.tells || !p.c.Answers(LineCommand) {
		return p.askCase(path)
	}
	var result LineResult
	got := p.c.try(&Request{Cmd: LineCommand, Format: p.format, Start: startOf(p.start), Events: path}, &result)
	switch {
	case got.err() != nil:
		return "", p.c.fail("line of format %s: %w", p.format, got.err())
	case result.Refused != "" && result.At != len(path):
		return "", p.c.fail("line of format %s: event %d of %d is refused (%s), though it was accepted before", p.format, result.At, len(path), result.Refused)
	case result.Refused == "" && result.Line == "":
		return "", p.c.fail("line of format %s: an answer without line", p.format)
	}
	p.line = result.Line
	return result.Refused, nil
}

func (p *remote) askCase(path []string) (refused string, err error) {
	played := p.c.Play(p.format, p.start, path)
	if err := (answer{outcome: played.Outcome, reason: played.Reason}).err(); err != nil {
		return "", p.c.fail("case of format %s: %w", p.format, err)
	}
	last := played.Answers[len(played.Answers)-1]
	p.line = last.Line
	if p.tells {
		p.said = "effects=" + strings.Join(last.Effects, ",")
		if strings.Contains(last.Line, " phase=play ") {
			p.said += " call=" + last.Call
		}
	}
	return last.Refused, nil
}

// fail is an error that names the engine by its command: there may be two.
func (c *Client) fail(message string, args ...any) error {
	return fmt.Errorf("%s: "+message, append([]any{strings.Join(c.command, " ")}, args...)...)
}

// Answerer returns the engine as package digests asks it: by its own tree command
// if it has one, else by computing the trees from its lines.
func (c *Client) Answerer(formatID string, alphabet []string) (digests.Answerer, error) {
	root, err := c.Position(formatID)
	if err != nil {
		return nil, err
	}
	answerer := digests.Answering(root, alphabet)
	if c.Answers(TreeCommand) {
		return treeAnswerer{answerer, c, formatID, alphabet}, nil
	}
	return answerer, nil
}

// Telling returns the engine as package digests asks it by the command case, so
// that calls and effects are compared too.
func (c *Client) Telling(formatID string, alphabet []string) (digests.Answerer, error) {
	root, err := c.root(remote{c: c, format: formatID, start: Root, tells: true})
	if err != nil {
		return nil, err
	}
	return digests.Answering(root, alphabet), nil
}

type treeAnswerer struct {
	digests.Answerer
	c        *Client
	format   string
	alphabet []string
}

// Tree implements [digests.Answerer].
func (a treeAnswerer) Tree(path []string, depth int) (string, error) {
	var result TreeResult
	got := a.c.try(&Request{Cmd: TreeCommand, Format: a.format, Start: startOf(Root), Events: path, Alphabet: a.alphabet, Depth: depth}, &result)
	if err := got.err(); err != nil {
		return "", a.c.fail("tree of format %s: %w", a.format, err)
	}
	return result.Digest, nil
}
