package main

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
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
	served   []serve
	finished bool
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
			finished[g.Format] = append(finished[g.Format], len(g.served))
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
	out.Serve = explore.NewShare(tell("lab.all-rallies"), out.Report.Serve[0].Won+out.Report.Serve[1].Won, out.Report.Serve[0].From+out.Report.Serve[1].From)
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
		return tell("lab.there-is-none")
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
		return rd.table(name, r)
	}
	found := false
	var buf []byte
	for n := 1; ; n++ {
		line, long, err := intake.NextLine(r, buf[:0])
		if buf = line; long {
			return fmt.Errorf("line %d: longer than %d bytes", n, intake.LongestLine)
		} else if err != nil && err != io.EOF {
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

// table reads a table of rallies, however it is laid out. A match of which a cell
// cannot be read is set aside.
func (rd *reading) table(name string, r io.Reader) error {
	var unread error
	t, err := intake.New(r, intake.Options{Format: rd.format, Rallies: true}, func(row int, reason words.Text) {
		if unread == nil {
			unread = fmt.Errorf("row %d: %s", row, language.Say(reason))
		}
	})
	switch {
	case unread != nil:
		return unread
	case err != nil:
		return err
	case !t.Rallies():
		return errors.New("is a table of results: want a row a rally, with columns such as match, server, winner")
	}
	logs, matches, found, err := t.Logs(audit.Place{})
	switch {
	case unread != nil:
		return unread
	case err != nil:
		return err
	case len(logs) == 0:
		return errors.New("holds no row")
	}
	wrong := map[string]*audit.Finding{}
	for i := range found {
		if f := &found[i]; wrong[f.Match] == nil {
			wrong[f.Match] = f
		}
	}
	for i, l := range logs {
		place := matches[i].ID
		if place == "" {
			place = name
		}
		if f := wrong[l.Match]; f != nil {
			rd.setAside(place, tell("lab.row-wrong", words.Count("row", f.Line), words.Name("reason", language.Say(f.Text()))))
		} else if err := rd.whole(place, matches[i], l); err != nil {
			return err
		}
	}
	return nil
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
	if m.ID != "" {
		place = m.ID
	}
	return rd.whole(place, m, l)
}

// whole replays a log.
func (rd *reading) whole(place string, m *audit.ReportedMatch, l *audit.RallyLog) error {
	first, known := l.First.Side()
	if !known && len(l.Rows) > 0 {
		row := l.Rows[0]
		if first, known = row.Serving.Side(); !known {
			if p, ok := row.Server.Person(); ok {
				first, known = p.Side(), true
			}
		}
	}
	if !known {
		rd.setAside(place, tell("lab.who-served-first-is"))
		return nil
	}
	start := rally.Starters{rally.A1, rally.B1}
	if l.Starters != nil {
		start = *l.Starters
	}
	log := rally.NewLog(l.Rules, l.Rules.New(first))
	if _, refusal := log.Apply(rally.Start(first, start)); refusal != rally.NotRefused {
		rd.setAside(place, tell("lab.start-refused", words.Within("refusal", words.For(refusal))))
		return nil
	}
	for i, row := range l.Rows {
		if row.Undo {
			if _, err := log.Do(rally.Entry{Kind: rally.Undo}); err != nil {
				rd.setAside(place, tell("lab.row-wrong", words.Count("row", i+1), words.Name("reason", reason(err).Error())))
				return nil
			}
			continue
		}
		if row.Event == 0 {
			rd.setAside(place, tell("lab.row-who-won-is", words.Count("value", i+1)))
			return nil
		}
		if _, refusal := log.Apply(row.Event); refusal != rally.NotRefused {
			rd.setAside(place, tell("lab.row-is-refused", words.Count("row", i+1), words.Name("event", row.Event.String()), words.Within("refusal", words.For(refusal))))
			return nil
		}
		if s := log.State(); row.Score != nil && *row.Score != (audit.Score{s.Score(rally.A), s.Score(rally.B)}) {
			rd.setAside(place, tell("lab.row-the-score-is", words.Count("value", i+1), words.Count("score", row.Score[0]), words.Count("score2", row.Score[1]), words.Count("rally", s.Score(rally.A)), words.Count("rally2", s.Score(rally.B))))
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
	l.Each(func(s rally.Step) bool {
		n := s.After.Game()
		if n == 0 {
			return true
		}
		g := games[n]
		if g == nil {
			g = &recorded{Sample: explore.Sample{Name: tell("lab.game", words.Name("name", name), words.Count("value", n)), Format: explore.SingleGame(s.Rules.Format(), n)}}
			games[n] = g
			rd.games = append(rd.games, g)
			if s.Before.Phase() == rally.Playing || s.After.Score(rally.A)+s.After.Score(rally.B) > 1 {
				g.problem = tell("lab.taken-up-after-its")
			}
		}
		g.take(n, &s)
		return true
	})
	if len(rd.games) > mostGames {
		return fmt.Errorf("more than %d games", mostGames)
	}
	if len(games) == 0 {
		return errors.New("no rally is played")
	}
	for _, n := range slices.Sorted(maps.Keys(games)) {
		g := games[n]
		if g.problem == "" && len(g.served) == 0 {
			g.problem = tell("lab.no-rally-is-played")
		}
		if g.problem != "" {
			continue // what is served counts only if its game is used
		}
		for _, s := range g.served {
			rd.serves(nameOf(who(s.by), name, s.by), s.won)
		}
	}
	return nil
}

// serve is a rally, by whoever served it.
type serve struct {
	by  rally.Person
	won bool
}

// take adds a step of game n.
func (g *recorded) take(n int, s *rally.Step) {
	if s.Event.Kind() != rally.RallyWon {
		if s.Before.Game() == n && s.Before.Phase() == rally.Playing && moved(s.Before, s.After) {
			g.problem = tell("lab.no-rally", words.Name("event", s.Event.String()))
		}
		return
	}
	if _, rides := s.Event.Incident(); rides {
		g.problem = tell("lab.holds-ruling", words.Name("event", s.Event.String()))
	}
	winner := s.Event.Side()
	first, _ := s.After.First()
	start, _ := s.After.Starters()
	server := start[first]
	if s.Before.Phase() == rally.Playing {
		server = s.Rules.Places(s.Before).Server
	}
	g.served = append(g.served, serve{server, winner == server.Side()})
	if first == rally.B {
		winner = winner.Other()
	}
	g.Events = append(g.Events, rally.RallyTo(winner))

	g.finished = s.Effects.Has(rally.GameWon)
}

// serves counts a rally that somebody served.
func (rd *reading) serves(who string, won bool) {
	p := rd.players[who]
	if p == nil {
		p = new([2]int)
		rd.players[who] = p
		rd.order = append(rd.order, who)
	}
	p[0]++
	if won {
		p[1]++
	}
}

func nameOf(known, file string, p rally.Person) string {
	if known != "" {
		return known
	}
	return tell("lab.player-of", words.Name("player", p.String()), words.Name("file", file))
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
		g, err := explore.NewGameModel(s.Format, 1, explore.Opening{})
		if err != nil {
			return err
		}
		law, err := g.Length(f.Report.Rates)
		if err != nil {
			return reason(err)
		}
		o := observed{Format: s.Format.ID(), Predicted: lengthsOf(law.All), Rallies: finished[s.Format], law: law.All}
		if o.Format == "" {
			o.Format = tell("lab.game-of", words.Name("format", describe(s.Format)))
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
	d := document{Title: tell("lab.what-recorded-rallies-say"), Lead: []string{
		tell("lab.a-is-whoever-served", words.Count("games", f.Games), words.Count("rallies", f.Report.Rallies)),
		tell("lab.intervals-hold-the-true")}}
	if len(f.Aside) > 0 || f.Report.Unfinished > 0 {
		p := part{Name: "games", Title: tell("lab.games-left-out")}
		for _, a := range f.Aside {
			p.Then = append(p.Then, a.Game+": "+a.Reason+".")
		}
		if f.Report.Unfinished > 0 {
			p.Then = append(p.Then, tell("lab.without-an-end-counted", words.Count("games", f.Report.Unfinished)))
		}
		d.Parts = append(d.Parts, p)
	}
	t := shareTable(tell("lab.rallies-won-on-serve"))
	for _, s := range append([]explore.Share{f.Serve}, f.Report.Serve...) {
		shareRow(t, s.Of, s)
	}
	roles := []string{tell("lab.starting-server-of-the"), tell("lab.its-partner"), tell("lab.starting-server-of-the-other"), tell("lab.its-partner")}
	for _, s := range f.Report.Players {
		var p rally.Person
		if p.UnmarshalText([]byte(s.Of)) == nil {
			shareRow(t, "  "+roles[p&3], s)
		}
	}
	d.Parts = append(d.Parts, part{Name: "serve", Title: tell("lab.how-often-the-server"), Table: t,
		Then: []string{tell("lab.for-sides-that-are", words.Name("rate", fmt.Sprintf("%.2f", f.Serve.Rate)), words.Name("rate2", fmt.Sprintf("%.2f", 1-f.Serve.Rate)))}})
	t = shareTable(tell("lab.server-2"))
	for _, s := range f.Players {
		shareRow(t, s.Of, s)
	}
	players := part{Name: "players", Title: tell("lab.the-same-by-server"), Table: t, Charts: f.playersChart()}
	t = &table{Head: []string{tell("lab.the-model-says"), tell("lab.chi-square"), tell("lab.degrees"), "p", tell("lab.would-see")}, Left: 1}
	for _, x := range f.Report.Tests {
		sees := "-"
		if x.Sees > 0 {
			sees = decimal(100*x.Sees, 1)
		}
		t.add(x.Name, decimal(x.Statistic, 2), count(x.Freedom), decimal(x.P, 4), sees)
	}
	d.Parts = append(d.Parts, part{Name: "tests", Title: tell("lab.whether-the-model-fits"), Table: t,
		Notes: []string{tell("lab.p-is-how-often")}})
	if len(f.Lengths) > 0 {
		d.Parts = append(d.Parts, f.lengthsPart())
	}
	d.Parts = append(d.Parts, players)
	return d
}

func shareTable(first string) *table {
	return &table{Head: []string{first, tell("lab.won"), tell("lab.of"), tell("lab.share"), tell("lab.from"), tell("lab.to")}, Left: 1}
}

func shareRow(t *table, name string, s explore.Share) {
	t.add(name, count(s.Won), count(s.From), percent(s.Rate), percent(s.Low), percent(s.High))
}

func (f *fitted) lengthsPart() part {
	t := &table{Head: []string{tell("lab.format"), tell("lab.finished-games"), tell("lab.predicted"), tell("lab.observed"), "z", "p", tell("lab.predicted-5"), tell("lab.predicted-95"), tell("lab.games-outside")}, Left: 1}
	p := part{Name: "lengths", Title: tell("lab.how-long-games-were"), Table: t}
	for i, o := range f.Lengths {
		r := f.Report.Lengths[i]
		t.add(o.Format, count(len(o.Rallies)), decimal(r.Predicted, 1), decimal(r.Observed, 1), decimal(r.Z, 2), decimal(r.P, 4),
			count(o.Predicted.P05), count(o.Predicted.P95), count(o.Outside))
		if len(o.Rallies) >= 5 {
			p.Charts = append(p.Charts, o.chart())
		}
	}
	p.Then = []string{tell("lab.rallies-a-game-if")}
	return p
}

// chart shows how many games had at most so many rallies, observed and
// predicted.
func (o *observed) chart() chart {
	predicted, seen := series{Name: "predicted"}, series{Name: tell("lab.observed-games", words.Count("rallies", len(o.Rallies)))}
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
	return lines{Title: tell("lab.games-with-at-most") + " " + o.Format,
		About:  tell("lab.the-share-of-games"),
		XLabel: tell("lab.rallies-of-a-game"), YLabel: tell("lab.share-of-games"), Series: []series{predicted, seen}, FromZero: true}
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
	return []chart{lines{Title: tell("lab.rallies-won-on-serve-by"),
		About:  tell("lab.the-share-of-rallies") + " " + playersWords(f.Players),
		XLabel: tell("lab.server-2"), YLabel: tell("lab.own-serves-won-2"), Series: []series{s}, XNames: names}}
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
