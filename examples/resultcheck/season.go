package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

// The commands that make something of results: standings, who has to play whom
// yet, moves on a ladder, matches of teams. They read what a check reads; what is
// wrong with the results a check says.

// seasonOptions are what their options say.
type seasonOptions struct {
	*options
	by     string
	times  int
	ladder string
	reach  int
	swap   bool
	enter  string
	roles  string
	decide string
}

func (o *options) seasonCommands(tag *string, ready func() error, stdin io.Reader, stdout, stderr io.Writer) []*cli.Command {
	s := &seasonOptions{options: o}
	by := func() cli.Flag {
		return &cli.StringFlag{Name: "by", Destination: &s.by, Value: "pair", Usage: "`WHOM` to rank: pair, player or team"}
	}
	tables := func() []cli.Flag {
		return []cli.Flag{
			&cli.StringFlag{Name: "format", Destination: &o.format, Value: "sideout-doubles-11-of3", Usage: "`FORMAT` of rows that name none"},
			&cli.StringFlag{Name: "columns", Destination: &o.columns, Usage: "what columns hold: a `FILE`, or HEADER=MEANING with commas between"},
			&cli.StringFlag{Name: "dates", Destination: &o.dates, Usage: "`ORDER` of dates that a file leaves open: day or month first"},
		}
	}
	command := func(about cli.Command, do func([]audit.ReportedMatch, io.Writer) error, flags ...cli.Flag) *cli.Command {
		return &cli.Command{Name: about.Name, Usage: about.Usage, ArgsUsage: "FILE…", Flags: append(tables(), flags...), Action: func(_ context.Context, c *cli.Command) error {
			if err := ready(); err != nil {
				return err
			}
			read, err := o.read(c.Args().Slice(), stdin, stderr)
			if err != nil {
				return err
			}
			err = do(read.all, stdout)
			if read.left > 0 {
				s.say(stdout, words.New("season.left", words.Count("rows", read.left)))
			}
			if read.faulty > 0 {
				s.say(stdout, words.New("season.faulty", words.Count("matches", read.faulty)))
			}
			return err
		}}
	}
	return []*cli.Command{
		o.sheetCommand(ready, stdin, stdout),
		command(cli.Command{Name: "standings", Usage: "ranks the sides of each event, with the reason for every place"}, s.standings, by()),
		command(cli.Command{Name: "meetings", Usage: "says who has to play whom yet, and who has met too often"}, s.meetings, by(),
			&cli.IntFlag{Name: "times", Destination: &s.times, Value: 1, Usage: "how often everybody should meet"},
			&cli.StringFlag{Name: "entries", Destination: &s.enter, Usage: "`FILE` with whoever is entered, a line a side, players joined by +; without it, those who stand in the results"}),
		command(cli.Command{Name: "ladder", Usage: "moves places by the matches in the order of their dates"}, s.moves,
			&cli.StringFlag{Name: "start", Destination: &s.ladder, Usage: "`FILE` with the ladder before, a line a side, best first; players joined by +"},
			&cli.IntFlag{Name: "reach", Destination: &s.reach, Usage: "how many places up a side may challenge; 0 for any"},
			&cli.BoolFlag{Name: "swap", Destination: &s.swap, Usage: "the two exchange places; otherwise those between move down"}),
		command(cli.Command{Name: "teams", Usage: "adds up matches of teams: rows of one date, round and pair of teams, the event being the part"}, s.teams,
			&cli.StringFlag{Name: "parts", Destination: &s.roles, Usage: "`LIST` of the parts, with commas between"},
			&cli.StringFlag{Name: "tie-breaker", Destination: &s.decide, Usage: "the `PART` that level teams play"}),
	}
}

// mostKept is how many matches these commands take.
const mostKept = 100_000

// matches are the results of files that can be read whole, and what has to be
// said of the others.
type matches struct {
	all    []audit.ReportedMatch
	left   int // rows that cannot be read whole
	faulty int // matches that cannot be so; they count as they stand
}

// read reads what a check reads, and prints none of its findings.
func (o *options) read(names []string, stdin io.Reader, stderr io.Writer) (*matches, error) {
	if len(names) == 0 {
		return nil, errors.New("want at least one FILE; -h shows how")
	}
	tables, err := o.tables()
	if err != nil {
		return nil, err
	}
	out := &matches{}
	c := &checker{formats: newFormats(o.format), options: tables, effort: audit.NewEffort(), printer: silent{}, stderr: stderr}
	if _, err := c.formats.get(""); err != nil {
		return nil, err
	}
	c.keep = func(m *audit.ReportedMatch, at audit.Place, faulty bool) {
		if faulty {
			out.faulty++
		}
		if len(out.all) <= mostKept {
			out.all = append(out.all, cloned(m, at))
		}
	}
	for _, name := range names {
		if err := c.file(name, stdin); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	if err := c.unmapped(); err != nil {
		return nil, err
	}
	if len(out.all) > mostKept {
		return nil, fmt.Errorf("more than %d matches", mostKept)
	}
	out.left = c.count.Rows + c.count.Logs - len(out.all)
	return out, nil
}

// silent prints nothing.
type silent struct{}

func (silent) table(string, *intake.Reader)           {}
func (silent) finding(*audit.Finding, string, string) {}
func (silent) finish(counts) error                    { return nil }

// cloned is a match that stays as it is; one without an id has that of its row.
func cloned(m *audit.ReportedMatch, at audit.Place) audit.ReportedMatch {
	c := *m
	c.Games = slices.Clone(m.Games)
	for _, p := range []**audit.Score{&c.Won, &c.Totals} {
		if *p != nil {
			v := **p
			*p = &v
		}
	}
	if c.ID == "" {
		c.ID = fmt.Sprintf("%s:%d", at.Source, at.Line)
	}
	return c
}

// say prints a line.
func (s *seasonOptions) say(out io.Writer, t words.Text) {
	fmt.Fprintln(out, program.Printable(s.language.Say(t)))
}

// below prints what belongs to the line above.
func (s *seasonOptions) below(out io.Writer, text string) {
	fmt.Fprintln(out, "    "+program.Printable(text))
}

// events splits matches by their events, in the order in which they come.
func events(matches []audit.ReportedMatch) (names []string, by map[string][]audit.ReportedMatch) {
	by = map[string][]audit.ReportedMatch{}
	for _, m := range matches {
		if by[m.Event] == nil {
			names = append(names, m.Event)
		}
		by[m.Event] = append(by[m.Event], m)
	}
	return names, by
}

func (s *seasonOptions) rules() (audit.TableRules, error) {
	rulings := format.RulingsOf(format.Default)
	if f, err := format.Parse(s.format); err == nil {
		rulings = f.Rulings
	}
	rules := audit.RoundRobin(rulings)
	if err := rules.By.UnmarshalText([]byte(s.by)); err != nil {
		return rules, fmt.Errorf("-by: want pair, player or team, not %q", program.Shorten(s.by))
	}
	rules.Meeting = s.times
	return rules, nil
}

func (s *seasonOptions) standings(matches []audit.ReportedMatch, out io.Writer) error {
	rules, err := s.rules()
	if err != nil {
		return err
	}
	names, by := events(matches)
	for _, event := range names {
		lines, err := audit.Standings(rules, by[event])
		if err != nil {
			return err
		}
		if event != "" {
			s.say(out, words.New("season.event", words.Name("event", event)))
		}
		for i := range lines {
			l := &lines[i]
			s.say(out, words.New("season.standing", words.Count("rank", l.Rank), words.Name("who", l.ID), words.Count("won", l.Won), words.Count("lost", l.Lost),
				words.Count("tied", l.Tied), words.Name("games", fmt.Sprintf("%d-%d", l.Games[0], l.Games[1])), words.Name("points", fmt.Sprintf("%d-%d", l.For[0], l.For[1]))))
			for _, r := range l.Decided {
				s.below(out, s.language.Say(reason(r, len(lines))))
			}
			if len(l.Together) > 0 {
				s.below(out, s.language.Say(words.New("season.shared", words.Name("with", several(l.Together, l.ID)))))
			}
		}
	}
	return nil
}

// several lists the first of some sides, but for one.
func several(sides []string, but string) string {
	const most = 12
	var named []string
	for _, side := range sides {
		if side == but {
			continue
		}
		if len(named) == most {
			return strings.Join(named, ", ") + ", …"
		}
		named = append(named, side)
	}
	return strings.Join(named, ", ")
}

// reason says what told a line from the others of so many.
func reason(r audit.Reason, of int) words.Text {
	value := strconv.Itoa(r.Value)
	if r.Of != 0 {
		value += "/" + strconv.Itoa(r.Of)
	}
	args := []words.Arg{words.Word("by", words.Code("ranked."+r.By.String())), words.Name("value", value), words.Name("other", strconv.Itoa(r.Other))}
	if len(r.From) == of {
		return words.New("season.reason-all", args...)
	}
	return words.New("season.reason", append(args, words.Name("among", several(r.From, "")))...)
}

func (s *seasonOptions) meetings(matches []audit.ReportedMatch, out io.Writer) error {
	rules, err := s.rules()
	if err != nil {
		return err
	}
	entries, err := sidesOf(s.enter)
	if err != nil {
		return err
	}
	found := 0
	names, by := events(matches)
	if len(entries) > 0 && len(names) > 1 {
		return errors.New("-entries is for the results of one event; these are of " + strings.Join(names, ", "))
	} else if len(names) == 0 {
		names = []string{""}
	}
	for _, event := range names {
		for _, id := range entries {
			by[event] = append(by[event], entered(id, rules.By))
		}
		for _, f := range audit.CheckMeetings(rules, by[event], audit.Place{}, nil) {
			if found++; event != "" {
				s.say(out, words.New("season.of", words.Name("event", event), words.Name("said", s.language.Say(f.Text()))))
				continue
			}
			s.say(out, f.Text())
		}
	}
	if found > 0 {
		return program.ErrFound
	}
	return nil
}

// entered is a bye of a side, so that it is known before it has played.
func entered(id string, by audit.By) audit.ReportedMatch {
	m := audit.ReportedMatch{Status: audit.Bye}
	if by == audit.ByTeam {
		m.Sides[0].Team = id
	} else {
		a, b, _ := strings.Cut(id, "+")
		m.Sides[0].Players = [2]string{a, b}
	}
	return m
}

// sidesOf reads a file with a side a line, players joined by + in any order; none
// if no file is named.
func sidesOf(name string) ([]string, error) {
	if name == "" {
		return nil, nil
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var out []string
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(strings.TrimPrefix(line, "\ufeff")); line == "" || line[0] == '#' {
			continue
		}
		players := strings.Split(line, "+")
		for i := range players {
			players[i] = strings.TrimSpace(players[i])
		}
		slices.Sort(players)
		out = append(out, strings.Join(players, "+"))
	}
	return out, nil
}

func (s *seasonOptions) moves(matches []audit.ReportedMatch, out io.Writer) error {
	if s.ladder == "" {
		return errors.New("-start says how the ladder stands before")
	}
	ladder, err := sidesOf(s.ladder)
	if err != nil {
		return err
	}
	slices.SortStableFunc(matches, func(a, b audit.ReportedMatch) int { return strings.Compare(a.Date, b.Date) })
	rules := audit.LadderRules{Swap: s.swap, Reach: s.reach}
	for i := range matches {
		var move audit.Move
		ladder, move = audit.Ladder(ladder).Apply(rules, &matches[i])
		if move.Winner == "" {
			a, b := &matches[i].Sides[0], &matches[i].Sides[1]
			s.say(out, words.New("season.unmoved", words.Name("date", matches[i].Date), words.Name("a", who(a)), words.Name("b", who(b)), words.Word("why", words.Code("move."+move.Why))))
			continue
		}
		s.say(out, words.New("season.move", words.Name("date", matches[i].Date), words.Name("winner", move.Winner), words.Name("loser", move.Loser),
			words.Word("why", words.Code("move."+move.Why)), words.Count("from", move.From), words.Count("to", move.To)))
	}
	for i, id := range ladder {
		s.say(out, words.New("season.place", words.Count("place", i+1), words.Name("who", id)))
	}
	return nil
}

func (s *seasonOptions) teams(matches []audit.ReportedMatch, out io.Writer) error {
	if s.roles == "" {
		return errors.New("-parts says what a match of teams is made of")
	}
	rule := audit.TeamRule{TieBreaker: s.decide}
	for role := range strings.SplitSeq(s.roles, ",") {
		rule.Roles = append(rule.Roles, strings.TrimSpace(role))
	}
	type key struct{ date, round, a, b string }
	all := map[key]*audit.TeamMatch{}
	var order []key
	for _, m := range matches {
		k := key{m.Date, m.Round, m.Sides[0].Team, m.Sides[1].Team}
		if k.a == "" || k.b == "" {
			return fmt.Errorf("match %s names no teams", program.Shorten(m.ID))
		}
		if all[k] == nil {
			all[k] = &audit.TeamMatch{ID: strings.Join([]string{m.Date, m.Round}, " "), Teams: [2]string{k.a, k.b}}
			order = append(order, k)
		}
		all[k].Parts = append(all[k].Parts, audit.Part{Role: m.Event, ReportedMatch: m})
	}
	found := false
	for _, k := range order {
		score, winner, findings := rule.Check(all[k], audit.Place{}, nil)
		who := ""
		if side, ok := winner.Side(); ok {
			who = all[k].Teams[side]
		}
		line := words.New("season.team", words.Name("date", k.date), words.Name("a", k.a), words.Name("b", k.b), words.Name("score", fmt.Sprintf("%d-%d", score[0], score[1])), words.Name("winner", who))
		if who == "" {
			line = words.New("season.team-open", words.Name("date", k.date), words.Name("a", k.a), words.Name("b", k.b), words.Name("score", fmt.Sprintf("%d-%d", score[0], score[1])))
		}
		s.say(out, line)
		for _, f := range findings {
			found = found || f.Severity > audit.Note
			s.below(out, s.language.Say(f.Text()))
		}
	}
	if found {
		return program.ErrFound
	}
	return nil
}
