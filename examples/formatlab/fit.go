package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
)

var fitCommand = command{
	name: "fit", takes: "FILE…",
	about: "how often rallies are won on serve in recorded matches, and whether the model fits them; a FILE is a record of one match, JSON Lines of logs as resultcheck reads them, or a table (CSV) with a row a rally",
	parts: []string{"games", "serve", "players", "tests", "lengths"},
	flags: func(o *options) []cli.Flag {
		return []cli.Flag{&cli.StringFlag{Name: "format", Destination: &o.format, Value: "sideout-doubles-11-of3", Usage: "`FORMAT` of rows of a table that name none"}}
	},
	answer: fitLogs,
}

// fitted are the figures of fit.
type fitted struct {
	Games   int               `json:"games"`
	Aside   []aside           `json:"set_aside,omitempty"`
	Serve   explore.Share     `json:"serve"`   // all rallies
	Players []explore.Share   `json:"players"` // by name
	Report  explore.FitReport `json:"report"`
	Lengths []observed        `json:"lengths"`
}

// aside is a game that was left out, and why.
type aside struct {
	Game   string `json:"game"`
	Reason string `json:"reason"`
}

// observed are the lengths of finished games of one format against the law
// that the fitted chances give.
type observed struct {
	Format    string  `json:"format"`
	Predicted lengths `json:"predicted"`
	Rallies   []int   `json:"rallies"` // of each finished game
	Outside   int     `json:"outside"` // games outside the predicted middle nine tenths

	law explore.Law
}

// recorded is one game taken from a log, turned so that A served first and
// player 1 of each side started.
type recorded struct {
	explore.Sample
	problem  string
	finished bool
	rallies  int
}

// mostGames bounds what the files of one question may hold.
const mostGames = 100_000

// reading gathers games and players from files.
type reading struct {
	format  string // of tables that name none
	games   []*recorded
	players map[string]*[2]int // by name: served, won
	order   []string
}

func fitLogs(q *question) (*answer, error) {
	if len(q.args) == 0 {
		return nil, errors.New("want at least one file with a record or with logs")
	}
	if _, err := format.Parse(q.format); err != nil {
		return nil, fmt.Errorf("-format: %w", reason(err))
	}
	rd := &reading{format: q.format, players: map[string]*[2]int{}}
	for i, name := range q.args {
		q.bar.Step(i, len(q.args), name)
		if err := rd.file(name, q.stdin); err != nil {
			return nil, fmt.Errorf("%s: %w", name, reason(err))
		}
	}
	out := fitted{}
	var samples []explore.Sample
	finished := map[format.Format][]int{}
	for _, g := range rd.games {
		if g.problem != "" {
			out.Aside = append(out.Aside, aside{g.Name, g.problem})
			continue
		}
		samples = append(samples, g.Sample)
		if g.finished {
			finished[g.Format] = append(finished[g.Format], g.rallies)
		}
	}
	if len(samples) == 0 {
		return nil, fmt.Errorf("no game can be used; of %d, the first was set aside: %s", len(out.Aside), firstReason(out.Aside))
	}
	var err error
	if out.Report, err = explore.Fit(samples); err != nil {
		return nil, reason(err)
	}
	out.Games = out.Report.Games
	out.Serve = explore.NewShare("all rallies", out.Report.Serve[0].Won+out.Report.Serve[1].Won, out.Report.Serve[0].From+out.Report.Serve[1].From)
	for _, name := range rd.order {
		if p := rd.players[name]; p[0] > 0 {
			out.Players = append(out.Players, explore.NewShare(name, p[1], p[0]))
		}
	}
	sort.SliceStable(out.Players, func(i, j int) bool { return out.Players[i].Rate > out.Players[j].Rate })
	if err := out.predict(samples, finished); err != nil {
		return nil, err
	}
	return &answer{document: out.document(), figures: out}, nil
}

func firstReason(list []aside) string {
	if len(list) == 0 {
		return "there is none"
	}
	return list[0].Game + " (" + list[0].Reason + ")"
}

// file reads one file: a record, lines of logs, or a table.
func (rd *reading) file(name string, stdin io.Reader) error {
	in := stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return err
		}
		defer f.Close()
		in = f
	}
	return rd.read(filepath.Base(name), in)
}

// read finds out what a file is, and reads it.
func (rd *reading) read(name string, in io.Reader) error {
	r := bufio.NewReaderSize(in, 1<<16)
	if head, _ := r.Peek(len(`{"record":`)); string(head) == `{"record":` {
		rec, err := record.Read(r)
		if err != nil {
			return err
		}
		return rd.log(name, rec.Log, func(p rally.Person) string { return rec.Setup.Sides[p.Side()].Players[p&1].Name })
	}
	if head, _ := r.Peek(4); !bytes.HasPrefix(bytes.TrimLeft(bytes.TrimPrefix(head, []byte("\ufeff")), " \t\r\n"), []byte("{")) && len(head) > 0 {
		return rd.table(name, r, rd.format)
	}
	found := false
	for n := 1; ; n++ {
		line, err := readLine(r)
		if err != nil && err != io.EOF {
			return fmt.Errorf("line %d: %w", n, err)
		}
		if text := bytes.TrimSpace(line); len(text) > 0 {
			found = true
			if err := rd.line(fmt.Sprintf("%s:%d", name, n), text, n); err != nil {
				return err
			}
		}
		if err == io.EOF {
			break
		}
	}
	if !found {
		return errors.New("holds no line")
	}
	return nil
}

// readLine reads a line, or says that it is too long.
func readLine(r *bufio.Reader) ([]byte, error) {
	var line []byte
	for {
		part, err := r.ReadSlice('\n')
		line = append(line, part...)
		if len(line) > audit.MostLine {
			return nil, fmt.Errorf("longer than %d bytes", audit.MostLine)
		}
		if err != bufio.ErrBufferFull {
			return line, err
		}
	}
}

// line reads one line of logs and replays it.
func (rd *reading) line(place string, text []byte, number int) error {
	m, l, err := audit.ReadLine(text, number)
	if err != nil {
		return err
	}
	if l == nil {
		return fmt.Errorf("line %d: a result, not a log: it has no rows", number)
	}
	first, known := l.First.Side()
	if !known && len(l.Rows) > 0 {
		row := l.Rows[0]
		if first, known = row.Serving.Side(); !known {
			if p, ok := row.Server.Person(); ok {
				first, known = p.Side(), true
			}
		}
	}
	if m.ID != "" {
		place = m.ID
	}
	if !known {
		rd.setAside(place, "who served first is not said")
		return nil
	}
	start := rally.Starters{rally.A1, rally.B1}
	if l.Starters != nil {
		start = *l.Starters
	}
	log := rally.NewLog(l.Rules, l.Rules.New(first))
	if _, refusal := log.Apply(rally.Start(first, start)); refusal != rally.NotRefused {
		rd.setAside(place, "the start is refused: "+refusal.String())
		return nil
	}
	for i, row := range l.Rows {
		if row.Undo {
			if _, err := log.Do(rally.Entry{Kind: rally.Undo}); err != nil {
				rd.setAside(place, fmt.Sprintf("row %d: %s", i+1, reason(err)))
				return nil
			}
			continue
		}
		if row.Event == 0 {
			rd.setAside(place, fmt.Sprintf("row %d: who won is not said; resultcheck proposes it", i+1))
			return nil
		}
		if _, refusal := log.Apply(row.Event); refusal != rally.NotRefused {
			rd.setAside(place, fmt.Sprintf("row %d: %s is refused: %s", i+1, row.Event, refusal))
			return nil
		}
		if s := log.State(); row.Score != nil && *row.Score != (audit.Score{s.Score(rally.A), s.Score(rally.B)}) {
			rd.setAside(place, fmt.Sprintf("row %d: the score is %d-%d where the rallies make it %d-%d; resultcheck says what explains it", i+1, row.Score[0], row.Score[1], s.Score(rally.A), s.Score(rally.B)))
			return nil
		}
	}
	return rd.log(place, log, func(p rally.Person) string {
		side := m.Sides[p.Side()]
		if side.Names[p&1] != "" {
			return side.Names[p&1]
		}
		return side.Players[p&1]
	})
}

// setAside notes a log that cannot be used.
func (rd *reading) setAside(name, problem string) {
	rd.games = append(rd.games, &recorded{Sample: explore.Sample{Name: name}, problem: problem})
}

// log takes the games out of a log. What is no plain rally and moves the score
// or the serve sets its game aside.
func (rd *reading) log(name string, l *rally.Log, who func(rally.Person) string) error {
	games := map[int]*recorded{}
	// What is served counts only if its game is used.
	type tally struct {
		game *recorded
		who  string
		won  bool
	}
	var served []tally
	l.Each(func(s rally.Step) bool {
		n := s.After.Game()
		if n == 0 {
			return true
		}
		g := games[n]
		if g == nil {
			g = &recorded{Sample: explore.Sample{Name: fmt.Sprintf("%s game %d", name, n), Format: explore.Solo(s.Rules.Format(), n)}}
			games[n] = g
			rd.games = append(rd.games, g)
			if s.Before.Phase() == rally.Playing || s.After.Score(rally.A)+s.After.Score(rally.B) > 1 {
				g.problem = "taken up after its start"
			}
		}
		first, _ := s.After.First()
		start, _ := s.After.Starters()
		if s.Event.Kind() != rally.RallyWon {
			if s.Before.Game() == n && s.Before.Phase() == rally.Playing && moved(s.Before, s.After) {
				g.problem = "holds " + s.Event.String() + ", which is no rally"
			}
			return true
		}
		if _, rides := s.Event.Incident(); rides {
			g.problem = "holds " + s.Event.String() + ", a ruling"
		}
		winner := s.Event.Side()
		server := start[first]
		if s.Before.Phase() == rally.Playing {
			server = s.Rules.Places(s.Before).Server
		}
		served = append(served, tally{g, nameOf(who(server), name, server), winner == server.Side()})
		if first == rally.B {
			winner = winner.Other()
		}
		g.Events = append(g.Events, rally.RallyTo(winner))
		g.rallies++
		g.finished = s.Effects.Has(rally.GameWon)
		return true
	})
	if len(rd.games) > mostGames {
		return fmt.Errorf("more than %d games", mostGames)
	}
	if len(games) == 0 {
		return errors.New("no rally is played")
	}
	for _, g := range games {
		if g.problem == "" && g.rallies == 0 {
			g.problem = "no rally is played"
		}
	}
	for _, t := range served {
		if t.game.problem != "" {
			continue
		}
		p := rd.players[t.who]
		if p == nil {
			p = new([2]int)
			rd.players[t.who] = p
			rd.order = append(rd.order, t.who)
		}
		p[0]++
		if t.won {
			p[1]++
		}
	}
	return nil
}

func nameOf(known, file string, p rally.Person) string {
	if known != "" {
		return known
	}
	return p.String() + " of " + file
}

// moved reports whether score or serve differ.
func moved(before, after rally.State) bool {
	x, _ := before.Serving()
	y, playing := after.Serving()
	return before.Score(rally.A) != after.Score(rally.A) || before.Score(rally.B) != after.Score(rally.B) || !playing || x != y ||
		before.Order() != after.Order()
}

// predict computes the laws of the lengths of finished games.
func (f *fitted) predict(samples []explore.Sample, finished map[format.Format][]int) error {
	done := map[format.Format]bool{}
	for _, s := range samples {
		if done[s.Format] || len(finished[s.Format]) == 0 {
			continue
		}
		done[s.Format] = true
		g, err := explore.NewGame(s.Format, 1, explore.Opening{})
		if err != nil {
			return err
		}
		law, err := g.Length(f.Report.Rates)
		if err != nil {
			return reason(err)
		}
		o := observed{Format: s.Format.ID(), Predicted: lengthsOf(law.All), Rallies: finished[s.Format], law: law.All}
		if o.Format == "" {
			o.Format = "game: " + describe(s.Format)
		}
		for _, n := range o.Rallies {
			if n < o.Predicted.P05 || n > o.Predicted.P95 {
				o.Outside++
			}
		}
		f.Lengths = append(f.Lengths, o)
	}
	return nil
}

func (f *fitted) document() document {
	d := document{Title: "What recorded rallies say", Lead: []string{
		fmt.Sprintf("%s, %s; A is whoever served first in a game.", plural(f.Games, "game"), plural(f.Report.Rallies, "rally")),
		"Intervals hold the true share in 95 of 100 such samples (Wilson 1927)."}}
	if len(f.Aside) > 0 || f.Report.Unfinished > 0 {
		p := part{Name: "games", Title: "Games left out"}
		for _, a := range f.Aside {
			p.Then = append(p.Then, a.Game+": "+a.Reason+".")
		}
		if f.Report.Unfinished > 0 {
			p.Then = append(p.Then, fmt.Sprintf("%s without an end: counted for the serve, not for lengths.", plural(f.Report.Unfinished, "game")))
		}
		d.Parts = append(d.Parts, p)
	}
	t := shareTable("rallies won on serve")
	for _, s := range append([]explore.Share{f.Serve}, f.Report.Serve...) {
		shareRow(t, s.Of, s)
	}
	roles := []string{"starting server of the side serving first", "its partner", "starting server of the other side", "its partner"}
	for _, s := range f.Report.Players {
		var p rally.Person
		if p.UnmarshalText([]byte(s.Of)) == nil {
			shareRow(t, "  "+roles[p&3], s)
		}
	}
	d.Parts = append(d.Parts, part{Name: "serve", Title: "How often the server's side wins the rally", Table: t,
		Then: []string{fmt.Sprintf("For sides that are equal and serve like this, the other commands take -p %.2f,%.2f.", f.Serve.Rate, 1-f.Serve.Rate)}})
	t = shareTable("server")
	for _, s := range f.Players {
		shareRow(t, s.Of, s)
	}
	players := part{Name: "players", Title: "The same by server", Table: t, Charts: f.playersChart()}
	t = &table{Head: []string{"the model says", "chi-square", "degrees", "p", "would see"}, Left: 1}
	for _, x := range f.Report.Tests {
		sees := "-"
		if x.Sees > 0 {
			sees = decimal(100*x.Sees, 1)
		}
		t.add(x.Name, decimal(x.Statistic, 2), count(x.Freedom), decimal(x.P, 4), sees)
	}
	d.Parts = append(d.Parts, part{Name: "tests", Title: "Whether the model fits", Table: t,
		Notes: []string{"p is how often chance alone would deviate as much: below 0.05 speaks against the model, above it nothing is proved. Would see: the difference between the two groups, in rallies of a hundred, that so many rallies show four times in five; a smaller one mostly stays hidden. The end of a game is near when a side is within two points of the target. Who plays whom, tiredness over a day and strengths that differ from game to game are not told apart."}})
	if len(f.Lengths) > 0 {
		d.Parts = append(d.Parts, f.lengthsPart())
	}
	d.Parts = append(d.Parts, players)
	return d
}

func shareTable(first string) *table {
	return &table{Head: []string{first, "won", "of", "share", "from", "to"}, Left: 1}
}

func shareRow(t *table, name string, s explore.Share) {
	t.add(name, count(s.Won), count(s.From), percent(s.Rate), percent(s.Low), percent(s.High))
}

func (f *fitted) lengthsPart() part {
	t := &table{Head: []string{"format", "finished games", "predicted", "observed", "z", "p", "predicted 5 %", "predicted 95 %", "games outside"}, Left: 1}
	p := part{Name: "lengths", Title: "How long games were, and should have been", Table: t}
	for i, o := range f.Lengths {
		r := f.Report.Lengths[i]
		t.add(o.Format, count(len(o.Rallies)), decimal(r.Predicted, 1), decimal(r.Observed, 1), decimal(r.Z, 2), decimal(r.P, 4),
			count(o.Predicted.P05), count(o.Predicted.P95), count(o.Outside))
		if len(o.Rallies) >= 5 {
			p.Charts = append(p.Charts, o.chart())
		}
	}
	p.Then = []string{"Rallies a game. If the model is right, about one game in ten lies outside the middle nine tenths."}
	return p
}

// chart shows how many games had at most so many rallies, observed and
// predicted.
func (o *observed) chart() chart {
	predicted, seen := series{Name: "predicted"}, series{Name: fmt.Sprintf("observed, %d games", len(o.Rallies))}
	sum := 0.0
	for n := range o.law {
		sum += o.law[n]
		if n < o.law.Quantile(0.001) || n > o.law.Quantile(0.999) {
			continue
		}
		had := 0
		for _, r := range o.Rallies {
			if r <= n {
				had++
			}
		}
		x := float64(n)
		predicted.X, predicted.Y = append(predicted.X, x), append(predicted.Y, 100*sum)
		seen.X, seen.Y = append(seen.X, x), append(seen.Y, 100*float64(had)/float64(len(o.Rallies)))
	}
	return lines{Title: "Games with at most so many rallies: " + o.Format,
		About:  "The share of games that had at most each number of rallies, as predicted from the fitted chances and as observed.",
		XLabel: "rallies of a game", YLabel: "share of games (%)", Series: []series{predicted, seen}, FromZero: true}
}

// mostNamed is how many players a chart can name.
const mostNamed = 8

func (f *fitted) playersChart() []chart {
	if len(f.Players) == 0 || len(f.Players) > mostNamed {
		return nil
	}
	s := series{Dots: true}
	var names []string
	for i, p := range f.Players {
		s.X, s.Y = append(s.X, float64(i)), append(s.Y, 100*p.Rate)
		s.Low, s.High = append(s.Low, 100*p.Low), append(s.High, 100*p.High)
		names = append(names, initials(p.Of))
	}
	return []chart{lines{Title: "Rallies won on serve, by server",
		About:  "The share of rallies that the server's side won, by server, with the interval that holds the true share in 95 of 100 such samples: " + playersWords(f.Players),
		XLabel: "server", YLabel: "own serves won (%)", Series: []series{s}, XNames: names}}
}

func playersWords(list []explore.Share) string {
	var words []string
	for _, p := range list {
		words = append(words, p.Of+" "+percent(p.Rate))
	}
	return strings.Join(words, ", ") + "."
}

// initials shortens a name for an axis.
func initials(name string) string {
	out := ""
	for word := range strings.FieldsSeq(name) {
		r := []rune(word)
		out += string(r[0])
	}
	if r := []rune(out); len(r) > 4 {
		out = string(r[:4])
	}
	return out
}
