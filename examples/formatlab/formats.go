package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

// subject is a format as it was asked for.
type subject struct {
	Name   string
	Format format.Format
}

// subjects reads the formats of a question, least to most of them, and sees
// that each can be worked on.
func (q *question) subjects(least, most int) ([]subject, error) {
	switch n := len(q.args); {
	case n < least && least == most:
		return nil, fmt.Errorf("want %d formats, not %d", least, n)
	case n < least:
		return nil, fmt.Errorf("want at least %d formats, not %d", least, n)
	case n > most:
		return nil, fmt.Errorf("want at most %d formats, not %d", most, n)
	}
	var out []subject
	for i, arg := range q.args {
		if arg == "-" && slices.Contains(q.args[:i], "-") {
			return nil, errors.New("standard input holds one format only")
		}
	}
	for _, arg := range q.args {
		s, err := readFormat(arg, q.stdin)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", program.Shorten(arg), reason(err))
		}
		if err := small(s.Format); err != nil {
			return nil, fmt.Errorf("%s: %w", program.Shorten(arg), err)
		}
		// A game that cannot be played to its end is found out here.
		if _, err := explore.NewMatchModel(s.Format, explore.Opening{}); err != nil {
			return nil, fmt.Errorf("%s: %w", program.Shorten(arg), reason(err))
		}
		out = append(out, s)
	}
	return out, nil
}

// mostPositions is how many positions the games of a match may have together:
// one game to 150, or best of five to 70. A game to 101 takes a quarter of a minute.
const mostPositions = 100_000

// small refuses formats on which every answer would take minutes. Positions of
// a game are at most about four for each pair of scores.
func small(f format.Format) error {
	n := 0
	for i := 1; i <= int(f.Match.Games); i++ {
		top := int(max(f.Of(i).Target, f.Of(i).Cap))
		n += 4 * top * top
	}
	if n > mostPositions {
		return fmt.Errorf("too large: its games have about %d positions, and formatlab explores %d", n, mostPositions)
	}
	return nil
}

// readFormat reads one format: an id with changes, a file, or standard input.
func readFormat(arg string, stdin io.Reader) (subject, error) {
	if arg != "-" && !strings.HasSuffix(arg, ".json") {
		f, err := format.Parse(arg)
		return subject{arg, f}, err
	}
	in, name := stdin, tell("lab.standard-input")
	if arg != "-" {
		file, err := os.Open(arg)
		if err != nil {
			return subject{}, err
		}
		defer file.Close()
		in, name = file, filepath.Base(arg)
	}
	text, err := io.ReadAll(io.LimitReader(in, record.MostLine+1))
	if err != nil {
		return subject{}, err
	}
	f, err := record.UnmarshalFormat(text)
	if err != nil {
		return subject{}, err
	}
	if id := f.ID(); id != "" {
		name = id
	}
	return subject{name, f}, nil
}

// reason drops what a reader of one line does not need: the package that a
// message comes from.
func reason(err error) error {
	var missing *fs.PathError
	if errors.As(err, &missing) {
		return missing.Err
	}
	var endless *explore.EndlessError
	if errors.As(err, &endless) {
		_, score, _ := strings.Cut(endless.Line, " score=")
		score, _, _ = strings.Cut(score, " ")
		return fmt.Errorf("endless: %s, at %s", endless.Reason, score)
	}
	text := err.Error()
	for _, from := range []string{"format: ", "record: ", "explore: ", "audit: "} {
		text = strings.TrimPrefix(text, from)
	}
	return errors.New(text)
}

// describe says in words what is played.
func describe(f format.Format) string { return language.Say(words.Format(f)) }

// doubles reports whether a format is one of doubles.
func doubles(f format.Format) bool { return f.Game.Sides == format.Doubles }

var writeCommand = command{
	name: "write", takes: "FORMAT",
	about: "prints a format as JSON, to be changed and given to the other commands as FILE.json",
	answer: func(q *question) (*answer, error) {
		s, err := q.subjects(1, 1)
		if err != nil {
			return nil, err
		}
		text, err := record.MarshalFormat(s[0].Format)
		if err != nil {
			return nil, err
		}
		q.json = true
		return &answer{figures: json.RawMessage(text)}, nil
	},
}
