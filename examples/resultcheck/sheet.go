package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// The marks of a game on a referee's sheet, written off as text, a line a matter:
//
//	format sideout-doubles-11@2026
//	first A                 who served first
//	starters A1 B1          the starting servers
//	A 1 1 2 / 2 /           a point by the server number that scored, / where a turn ended
//	B / . .                 a dot where points are not split by server
//	serving B               whom the sheet is turned to
//	number 1                what the marker shows
//	stands A right          where a starting server stands
//	time-out A 3-0 2        noted at a score, with the server number
//
// Nothing but the points has to be known.

func (o *options) sheetCommand(ready func() error, stdin io.Reader, stdout io.Writer) *cli.Command {
	return &cli.Command{Name: "sheet", Usage: "says what the marks of a game on a referee's sheet allow: the score, who serves, from where, to whom", ArgsUsage: "FILE…",
		Flags: []cli.Flag{&cli.StringFlag{Name: "format", Destination: &o.format, Value: "sideout-doubles-11-of3", Usage: "`FORMAT` of a sheet that names none"}},
		Action: func(_ context.Context, c *cli.Command) error {
			if err := ready(); err != nil {
				return err
			}
			if !c.Args().Present() {
				return errors.New("want at least one FILE; -h shows how")
			}
			found := false
			for _, name := range c.Args().Slice() {
				in := stdin
				if name != "-" {
					file, err := os.Open(name)
					if err != nil {
						return err
					}
					defer file.Close()
					in = file
				}
				s, err := readSheet(io.LimitReader(in, mostSheet), o.format)
				if err != nil {
					return fmt.Errorf("%s: %w", name, err)
				}
				found = o.say(name, s, stdout) || found
			}
			if found {
				return program.ErrFound
			}
			return nil
		}}
}

// mostSheet is how many bytes a sheet has at most.
const mostSheet = 1 << 16

// say prints what a sheet allows; true if nothing is, or too much.
func (o *options) say(name string, s *audit.Sheet, out io.Writer) bool {
	reading := s.Read(audit.Place{Source: name})
	print := func(t words.Text) { fmt.Fprintln(out, name+": "+program.Printable(o.language.Say(t))) }
	for _, state := range reading.States {
		score := words.Name("score", fmt.Sprintf("%d-%d", state.Score(rally.A), state.Score(rally.B)))
		if state.Phase() != rally.Playing {
			print(words.New("sheet.over", score))
			continue
		}
		p, court := s.Rules.Places(state), words.Code("court.left")
		if p.Court == rally.Right {
			court = "court.right"
		}
		print(words.New("sheet.state", score, words.Name("call", string(s.Rules.AppendCall(nil, state))), words.Name("server", p.Server.String()),
			words.Word("court", court), words.Name("receiver", p.Receiver.String())))
	}
	found := false
	for _, f := range reading.Findings {
		found = found || f.Severity > audit.Note
		print(words.New("season.of", words.Name("event", o.language.Say(words.New(words.Code("severity."+f.Severity.String())))), words.Name("said", o.language.Say(f.Text()))))
	}
	return found
}

// readSheet reads the marks of a game. The error names the line.
func readSheet(in io.Reader, id string) (*audit.Sheet, error) {
	s := &audit.Sheet{}
	turns := false
	scan := bufio.NewScanner(in)
	for n := 1; scan.Scan(); n++ {
		text, _, _ := strings.Cut(scan.Text(), "#")
		list := strings.Fields(strings.TrimPrefix(text, "\ufeff"))
		if len(list) == 0 {
			continue
		}
		key, rest := strings.TrimSuffix(strings.ToLower(list[0]), ":"), list[1:]
		var err error
		if key == "format" && len(rest) == 1 {
			id = rest[0]
		} else {
			err = sheetLine(s, key, rest)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
		turns = turns || (key == "a" || key == "b") && strings.Contains(text, "/")
	}
	if err := scan.Err(); err != nil {
		return nil, err
	}
	f, err := format.Parse(id)
	if err != nil {
		return nil, err
	}
	if s.Rules, err = rally.Compile(f); err != nil {
		return nil, err
	}
	for i := range s.Sides {
		if m := &s.Sides[i]; turns && m.Ends == nil {
			m.Ends = []int{} // ends of turns are marked, and this side had none
		}
	}
	return s, nil
}

// sheetLine takes in one line.
func sheetLine(s *audit.Sheet, key string, rest []string) error {
	one := strings.ToUpper(strings.Join(rest, ""))
	wrong := func(why error) error { return fmt.Errorf("%s: %w", key, why) }
	switch key {
	case "a", "b":
		return readMarks(&s.Sides[key[0]-'a'], rest)
	case "first", "serving":
		var who audit.MaybeSide
		if who.UnmarshalText([]byte(one)) != nil || who == audit.Nobody {
			return wrong(errors.New("want A or B"))
		}
		*map[string]*audit.MaybeSide{"first": &s.First, "serving": &s.Serving}[key] = who
	case "starters":
		e, err := rally.ParseEvent("g" + one)
		if err != nil || e.Kind() != rally.StartGame {
			return wrong(errors.New("want the starting servers, such as A1 B1"))
		}
		st := e.Starters()
		s.Starters = &st
	case "number", "game":
		n, err := strconv.Atoi(one)
		if err != nil || n < 1 || n > 9 {
			return wrong(errors.New("want a number"))
		}
		*map[string]*int{"number": &s.Number, "game": &s.Game}[key] = n
	case "stands":
		var who audit.MaybeSide
		var court rally.Court
		if len(rest) == 2 && who.UnmarshalText([]byte(strings.ToUpper(rest[0]))) == nil && court.UnmarshalText([]byte(strings.ToUpper(rest[1][:1]))) == nil {
			if side, ok := who.Side(); ok {
				s.Stands[side] = &court
				return nil
			}
		}
		return wrong(errors.New("want a side and where its starting server stands, such as A right"))
	case "time-out":
		note := audit.TimeOutNote{}
		var who audit.MaybeSide
		if len(rest) < 2 || len(rest) > 3 || who.UnmarshalText([]byte(strings.ToUpper(rest[0]))) != nil {
			return wrong(errors.New("want a side, the score A-B, and the server number if it is noted"))
		}
		side, _ := who.Side()
		a, b, _ := strings.Cut(rest[1], "-")
		x, err1 := strconv.Atoi(a)
		y, err2 := strconv.Atoi(b)
		note.Side, note.Score = side, audit.Score{x, y}
		if len(rest) == 3 {
			n, err := strconv.Atoi(rest[2])
			if note.Number = n; err != nil {
				err1 = err
			}
		}
		if err := errors.Join(err1, err2); err != nil || who == audit.Nobody {
			return wrong(errors.New("want a side, the score A-B, and the server number if it is noted"))
		}
		s.TimeOuts = append(s.TimeOuts, note)
	default:
		return fmt.Errorf("%q is no matter of a sheet; there are format, game, first, starters, A, B, serving, number, stands, time-out", program.Shorten(key))
	}
	return nil
}

// readMarks reads a line of points: a server number or a dot each, a stroke where
// a turn ended.
func readMarks(m *audit.SideMarks, rest []string) error {
	for _, mark := range strings.Join(rest, "") {
		switch mark {
		case '1', '2':
			m.Servers = append(m.Servers, uint8(mark-'0'))
		case '.':
			m.Servers = append(m.Servers, 0)
		case '/':
			m.Ends = append(m.Ends, len(m.Servers))
		default:
			return fmt.Errorf("%q is no mark: want 1 or 2 for a point by that server, a dot for one by either, / where a turn ended", mark)
		}
	}
	return nil
}
