package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
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
		if _, err := explore.NewMatch(s.Format, explore.Opening{}); err != nil {
			return nil, fmt.Errorf("%s: %w", program.Shorten(arg), reason(err))
		}
		out = append(out, s)
	}
	return out, nil
}

// mostPositions is how many positions the games of a match may have together:
// some ten times those of the longest named format.
const mostPositions = 20_000

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
		f, err := parseFormat(arg)
		return subject{arg, f}, err
	}
	in, name := stdin, "standard input"
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
		// A format that was written and then changed is one of its own, not the
		// shape whose name still stands in it.
		var all map[string]json.RawMessage
		if json.Unmarshal(text, &all) != nil || all["shape"] == nil {
			return subject{}, err
		}
		all["shape"] = json.RawMessage(`""`)
		own, _ := json.Marshal(all)
		if f, err = record.UnmarshalFormat(own); err != nil {
			return subject{}, err
		}
	}
	if id := f.ID(); id != "" {
		name = id
	}
	return subject{name, f}, nil
}

// parseFormat reads an id. What is appended and no switch of the rulings
// changes a field of the game or the match.
func parseFormat(text string) (format.Format, error) {
	words := strings.Split(text, "+")
	id := words[0]
	var fields [][2]string
	for _, word := range words[1:] {
		name, value, ok := strings.Cut(word, "=")
		var s format.Switch
		if ok && s.UnmarshalText([]byte(name)) != nil {
			fields = append(fields, [2]string{name, value})
			continue
		}
		id += "+" + word
	}
	f, err := format.Parse(id)
	if err != nil || len(fields) == 0 {
		return f, err
	}
	return changed(f, fields)
}

// changed returns a format of one's own: another one with fields changed. A
// new target moves the mid-game change of ends and the number of time-outs, if
// they are not named themselves.
func changed(f format.Format, fields [][2]string) (format.Format, error) {
	f.Shape = ""
	named := map[string]bool{}
	games := f.Match.Games
	for _, field := range fields {
		path, value := field[0], field[1]
		which, name, dotted := strings.Cut(path, ".")
		if !dotted {
			which, name = "", path
		}
		one := f.Match.Games == 1 // then game and last are the same game
		known := false
		var err error
		if which == "" || which == "game" || which == "last" && one {
			known, err = setField(&f.Game, name, value)
		}
		if err == nil && (which == "" && known || which == "last" || which == "game" && one) {
			known, err = setField(&f.Last, name, value)
		}
		if err == nil && !known && (which == "" || which == "match") {
			known, err = setField(&f.Match, name, value)
		}
		switch {
		case err != nil:
			return f, fmt.Errorf("+%s=%s: %w", program.Shorten(path), program.Shorten(value), err)
		case !known:
			return f, fmt.Errorf("+%s=%s: no such switch, and no such field; fields are %s", program.Shorten(path), program.Shorten(value), fieldNames())
		}
		named[name] = true
	}
	if named["target"] {
		for _, g := range []*format.Game{&f.Game, &f.Last} {
			if g.ChangeEndsAt != 0 && !named["change_ends_at"] {
				g.ChangeEndsAt = format.Midpoint(g.Target)
			}
			if !named["time_outs"] {
				g.TimeOuts = format.TimeOutsFor(f.Edition, g.Target)
			}
		}
	}
	if games == 1 && f.Match.Games > 1 { // ends change between games now
		f.Game.ChangeEndsAt, f.Match.ChangeEnds = 0, true
	}
	return f, f.Validate()
}

// setField sets a field of a game or a match by its JSON name.
func setField(into any, name, value string) (known bool, err error) {
	if _, number := strconv.Atoi(value); number != nil && value != "true" && value != "false" {
		value = strconv.Quote(value)
	}
	before, _ := json.Marshal(into)
	var all map[string]json.RawMessage
	_ = json.Unmarshal(before, &all)
	if _, known = all[name]; !known {
		return false, nil
	}
	text, err := json.Marshal(map[string]json.RawMessage{name: json.RawMessage(value)})
	if err != nil {
		return true, errors.New("no value of that field")
	}
	d := json.NewDecoder(bytes.NewReader(text))
	if d.Decode(into) != nil {
		return true, fmt.Errorf("no value of that field; now it is %s", all[name])
	}
	return true, nil
}

func fieldNames() string {
	return "sides, scorer, servers, first_turn, order, target, win_by, cap, freeze, change_ends_at, time_outs (of every game, or game.… and last.…), games, play_all, next_serve, change_ends"
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
func describe(f format.Format) string {
	g := f.Last
	words := g.Sides.String() + ", "
	if g.Scorer == format.ServingSide {
		words += "the serving side scores"
	} else {
		words += "either side scores"
	}
	words += ", to " + count(int(f.Game.Target)) + " by " + count(int(g.WinBy))
	if g.Cap != 0 {
		words += " or at " + count(int(g.Cap))
	}
	if g.Servers == 2 {
		words += ", two servers a turn"
		if g.FirstTurn == 1 {
			words += ", one in the first"
		}
	}
	if g.Freeze != format.NoFreeze {
		words += ", freeze " + g.Freeze.String()
	}
	switch games := count(int(f.Match.Games)); {
	case f.Match.Games == 1:
		return words
	case f.Match.PlayAll:
		words += ", " + games + " games, all played"
	default:
		words += ", best of " + games
	}
	if f.Last.Target != f.Game.Target {
		words += ", the last to " + count(int(f.Last.Target))
	}
	return words
}

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
