package protocol

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
)

// Server is an engine's end of the protocol.
type Server struct {
	Identity conformance.Identity
	Engine   conformance.Engine
	// Claims says which of the formats the engine plays in a profile; none
	// means that it does not claim the profile. Nil claims those in which a
	// match can begin.
	Claims func(profile string, features, formats []string) []string
	// Position gives the tree command something faster than playing every
	// sequence from the start; nil does that.
	Position func(formatID string, start conformance.Start) (digests.Position, error)
}

// Serve answers requests until stop or the end of the input. The error is about
// reading and writing only: a bad request is answered with errored.
func (s *Server) Serve(in io.Reader, out io.Writer) error {
	r := bufio.NewReader(in)
	w := bufio.NewWriter(out)
	for {
		line, err := readLine(r)
		switch {
		case err == io.EOF && len(line) == 0:
			return nil
		case err != nil && err != io.EOF:
			return err
		case len(bytes.TrimSpace(line)) == 0:
			continue
		}
		reply, stop := s.answer(line)
		text, err := json.Marshal(reply)
		if err != nil {
			return err
		}
		if _, err = w.Write(append(text, '\n')); err == nil {
			err = w.Flush()
		}
		if err != nil || stop {
			return err
		}
	}
}

var errTooLong = errors.New("protocol: a message is longer than a megabyte")

// readLine reads up to the end of a line and no more than MostLine bytes.
func readLine(r *bufio.Reader) ([]byte, error) {
	var line []byte
	for {
		part, err := r.ReadSlice('\n')
		if len(line)+len(part) > MostLine {
			return nil, errTooLong
		}
		line = append(line, part...)
		if err != bufio.ErrBufferFull {
			return line, err
		}
	}
}

func (s *Server) answer(line []byte) (reply Reply, stop bool) {
	var q Request
	if err := json.Unmarshal(line, &q); err != nil {
		return failed(0, err), false
	}
	reply.Seq = q.Seq
	result, err := s.result(&q)
	var skipped *Skipped
	if s, ok := result.(*Skipped); ok && err == nil {
		skipped = s
	}
	switch {
	case err != nil:
		return failed(q.Seq, err), false
	case skipped != nil:
		reply.Skipped = skipped
	default:
		text, err := json.Marshal(result)
		if err != nil {
			return failed(q.Seq, err), false
		}
		reply.Result = text
	}
	return reply, q.Cmd == StopCommand
}

func failed(seq int, err error) Reply { return Reply{Seq: seq, Errored: &Errored{err.Error()}} }

func (s *Server) result(q *Request) (any, error) {
	switch q.Cmd {
	case StartCommand:
		if q.Version != Version {
			return nil, fmt.Errorf("speaks version %d of the protocol, not %d", Version, q.Version)
		}
		return StartResult{Version, s.Identity, []string{CaseCommand, ResultCommand, LineCommand, TreeCommand}}, nil
	case ProfileCommand:
		formats := s.claims(q)
		if len(formats) == 0 {
			return &Skipped{Reason: "not claimed"}, nil
		}
		return ProfileResult{formats}, nil
	case CaseCommand:
		return s.play(q)
	case ResultCommand:
		reporter, ok := s.Engine.(conformance.Reporter)
		if !ok {
			return &Skipped{Reason: "does not say what is reported of a match"}, nil
		}
		if _, err := s.play(q); err != nil {
			return nil, err
		}
		return reporter.Report(), nil
	case LineCommand:
		return s.line(q)
	case TreeCommand:
		return s.tree(q)
	case StopCommand:
		return struct{}{}, nil
	}
	return nil, fmt.Errorf("unknown command %.40q", q.Cmd)
}

func (s *Server) claims(q *Request) []string {
	if s.Claims != nil {
		return s.Claims(q.Profile, q.Features, q.Formats)
	}
	var out []string
	for _, id := range q.Formats {
		if _, err := s.Engine.Begin(id, conformance.Start{First: "A"}); err == nil {
			out = append(out, id)
		}
	}
	return out
}

func (s *Server) play(q *Request) (any, error) {
	a, err := s.Engine.Begin(q.Format, q.Start.start())
	if err != nil {
		return nil, err
	}
	answers := []conformance.Answer{a}
	for _, e := range q.Events {
		answers = append(answers, s.Engine.Do(e))
	}
	return CaseResult{answers}, nil
}

func (s *Server) line(q *Request) (any, error) {
	a, err := s.Engine.Begin(q.Format, q.Start.start())
	if err != nil {
		return nil, err
	}
	for i, e := range q.Events {
		if a = s.Engine.Do(e); a.Refused != "" {
			return LineResult{Refused: a.Refused, At: i + 1}, nil
		}
	}
	return LineResult{Line: a.Line}, nil
}

func (s *Server) tree(q *Request) (any, error) {
	position := s.Position
	if position == nil {
		position = func(id string, start conformance.Start) (digests.Position, error) {
			return digests.Replay(s.Engine, id, start)
		}
	}
	p, err := position(q.Format, q.Start.start())
	if err != nil {
		return nil, err
	}
	for i, e := range q.Events {
		next, refused, err := p.Play(e)
		if err != nil {
			return nil, err
		}
		if refused != "" {
			return nil, fmt.Errorf("event %d of the path is refused: %s", i+1, refused)
		}
		p = next
	}
	g, err := digests.NewGraph(p, q.Alphabet)
	if err != nil {
		return nil, err
	}
	digest, err := g.Tree(q.Depth)
	return TreeResult{digest}, err
}
