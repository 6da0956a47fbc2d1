package main

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/explore"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

var explainCommand = command{
	name: "explain", takes: "FORMAT",
	about: "one format whole: figures, scores, dead rules, proofs, incentives, choices",
	parts: []string{"format", "winning", "length", "time", "referee", "finals", "scores", "moments", "at", "comeback", "penalty", "bell", "proof",
		"incentives", "ends", "servers"},
	flags: func(o *options) []cli.Flag {
		o.wind, o.servers = 0.05, 0.10
		return slices.Concat(strengthFlags(o), sharesFlag(o), paceFlags(o), slotFlags(o), []cli.Flag{
			numberFlag("wind", &o.wind, "`SHARE` that the better end adds to a rally between equals (a shift in log-odds for others)"),
			numberFlag("servers", &o.servers, "`SHARE` of serves that the stronger server of each side wins more than the partner, for incentives and starting servers"),
			&cli.StringFlag{Name: "at", Destination: &o.atText, Usage: "a `POSITION` of the first game, such as 4-9,other,2: points of the better side and of the other, who serves (better or other), and by which server where they have numbers"},
			numberFlag("bell", &o.bell, "`MINUTES` of play after which a bell ends the game; 0 for none")})
	},
	answer: explainFormat,
}

// explanation are the figures of explain.
type explanation struct {
	Strength      strength                  `json:"strength"`
	Is            json.RawMessage           `json:"format"` // in full, as write prints it
	Figures       *figures                  `json:"figures"`
	Finals        []final                   `json:"finals"` // of the first game, over who serves first
	LevelBy       []explore.LevelChance     `json:"level_by,omitempty"`
	Positions     []explore.PositionFigures `json:"positions"` // of the first game, the better side serving first
	At            *asked                    `json:"at,omitempty"`
	Penalties     []explore.Penalty         `json:"penalties"`
	EvenPenalties []explore.Penalty         `json:"even_penalties"` // between equal sides
	Bell          *rung                     `json:"bell,omitempty"`
	Comebacks     []comeback                `json:"comebacks"`
	Proof         explore.Proof             `json:"proof"`
	Incentives    explore.IncentiveReport   `json:"incentives"`
	Unlike        *explore.IncentiveReport  `json:"unlike_partners,omitempty"` // incentives where partners serve unlike
	Ends          ends                      `json:"ends"`
	Servers       *serverChoice             `json:"servers,omitempty"`
}

// final is a final score with its chances.
type final struct {
	Score  string  `json:"score"` // the better side's points first; + where it stands for all beyond
	Chance float64 `json:"chance"`
	Even   float64 `json:"even"` // between equal sides
}

// comeback is the chance of the better side, and of an equal one, of winning the
// game after all, the other side being one short of the target, by who serves.
type comeback struct {
	explore.Position
	Better float64 `json:"better"`
	Even   float64 `json:"even"`
}

// ends says what the first choice is worth where one end is better.
type ends struct {
	Wind   float64       `json:"wind"`
	Better explore.Worth `json:"better"` // to the better side
	Even   explore.Worth `json:"even"`   // between equals
}

// serverChoice says which starting servers are best where partners differ.
type serverChoice struct {
	Gap     float64         `json:"gap"`
	Lineups explore.Lineups `json:"lineups"`
}

func explainFormat(q *question) (*answer, error) {
	all, err := q.subjects(1, 1)
	if err != nil {
		return nil, err
	}
	labs, err := ready(q.options, all)
	if err != nil {
		return nil, err
	}
	l, f := labs[0], all[0].Format
	if doubles(f) && q.servers > q.widestGap() {
		if q.given("servers") {
			return nil, fmt.Errorf("-servers: at most %g at these strengths, or a server would win less than none or more than all of the serves", q.widestGap())
		}
		q.servers = q.widestGap()
	}
	switch {
	case slices.Contains(q.only, "at") && q.at == nil:
		return nil, errors.New("-only at: -at says at which position")
	case slices.Contains(q.only, "bell") && q.bell == 0:
		return nil, errors.New("-only bell: -bell says after how many minutes")
	}
	x := &explanation{Strength: q.strength}
	if x.Is, err = record.MarshalFormat(f); err != nil {
		return nil, err
	}
	// The figures are most of the work, the rest comes in about as many steps.
	if x.Figures, err = l.whole(q.options, func(done, all int) { q.bar.Step(done, 2*all, l.Name) }); err != nil {
		return nil, err
	}
	work := []func() error{x.finals(l), x.positions(l), x.penalties(l), x.at(l, q.options), x.bell(l, q.options), x.comebacks(l), x.prove(f), x.incentives(f, q.options), x.ends(l, q.options), x.lineups(f, q.options)}
	for i, do := range work {
		q.bar.Step(len(work)+i, 2*len(work), l.Name)
		if err := do(); err != nil {
			return nil, err
		}
	}
	d, err := x.document(l, q.options)
	return &answer{document: d, figures: x}, err
}

func (x *explanation) finals(l *lab) func() error {
	return func() error {
		index := map[explore.Final]int{}
		for _, g := range l.game {
			for n, r := range []explore.Rates{x.Strength.rates(), explore.Equal(x.Strength.share())} {
				fig, err := g.Figures(r)
				if err != nil {
					return err
				}
				for _, e := range fig.Finals {
					at, ok := index[e.Final]
					if !ok {
						at = len(x.Finals)
						index[e.Final] = at
						x.Finals = append(x.Finals, final{Score: finalWords(e.Final)})
					}
					if n == 0 {
						x.Finals[at].Chance += e.Chance / 2
					} else {
						x.Finals[at].Even += e.Chance / 2
					}
				}
			}
		}
		var err error
		x.LevelBy, err = l.game[0].LevelBy(x.Strength.rates())
		return err
	}
}

func finalWords(f explore.Final) string {
	s := fmt.Sprintf("%d-%d", f.Score[0], f.Score[1])
	if f.Beyond {
		s += "+"
	}
	return s
}

func (x *explanation) positions(l *lab) func() error {
	return func() (err error) {
		x.Positions, err = l.game[0].Positions(x.Strength.rates())
		return err
	}
}

func (x *explanation) comebacks(l *lab) func() error {
	return func() error {
		g := l.game[0]
		target := int(g.Rules().Format().Last.Target)
		even := map[explore.Position]float64{}
		equal, err := g.Positions(explore.Equal(x.Strength.share()))
		if err != nil {
			return err
		}
		for _, p := range equal {
			even[p.Position] = p.Win
		}
		for _, p := range x.Positions {
			if p.Score[1] == target-1 && p.Score[0] < target-1 {
				x.Comebacks = append(x.Comebacks, comeback{p.Position, p.Win, even[p.Position]})
			}
		}
		slices.SortStableFunc(x.Comebacks, func(a, b comeback) int {
			return cmp.Or(a.Score[0]-b.Score[0], int(b.Serving)-int(a.Serving), int(a.Number)-int(b.Number))
		})
		return nil
	}
}

func (x *explanation) prove(f format.Format) func() error {
	return func() (err error) {
		x.Proof, err = explore.Prove(f, 0)
		return err
	}
}

func (x *explanation) incentives(f format.Format, o *options) func() error {
	return func() (err error) {
		if x.Incentives, err = explore.Incentives(f, pairs(o)); err != nil || !doubles(f) || o.servers == 0 {
			return err
		}
		rates := unlike(o, o.servers)
		if len(rates) == 0 {
			return errNoGap
		}
		report, err := explore.Incentives(f, rates)
		x.Unlike = &report
		return err
	}
}

// pairs are the strengths at which incentives are looked for: every pair of
// shares, and the one asked for.
func pairs(o *options) []explore.Rates {
	out := []explore.Rates{o.strength.rates()}
	for _, a := range o.shares {
		for _, b := range o.shares {
			out = append(out, explore.Rates{Serve: [2]float64{a, b}})
		}
	}
	return out
}

func (x *explanation) ends(l *lab, o *options) func() error {
	return func() (err error) {
		x.Ends.Wind = o.wind
		r := x.Strength.rates()
		r.End = math.Log((0.5 + o.wind) / (0.5 - o.wind))
		if x.Ends.Better, err = l.match[0].WorthOf(r); err != nil {
			return err
		}
		even := explore.Equal(x.Strength.share())
		even.End = r.End
		x.Ends.Even, err = l.match[0].WorthOf(even)
		return err
	}
}

// widestGap is how far apart the servers of each side can be.
func (o *options) widestGap() float64 {
	gap := 1.0
	for _, p := range o.strength.rates().Serve {
		gap = min(gap, 2*p, 2*(1-p))
	}
	return math.Round(gap*1e9) / 1e9
}

func (x *explanation) lineups(f format.Format, o *options) func() error {
	return func() error {
		if !doubles(f) {
			return nil
		}
		rates, possible := withGap(o.strength.rates(), o.servers)
		if !possible {
			return errNoGap
		}
		l, err := explore.BestLineup(f, 1, explore.Opening{}, rates)
		x.Servers = &serverChoice{o.servers, l}
		return err
	}
}

func (x *explanation) document(l *lab, o *options) (document, error) {
	one := comparison{Strength: x.Strength, Formats: []*figures{x.Figures}}
	d := document{Title: l.Name, Lead: []string{describe(l.Format) + ".", x.Strength.about(), tell("lab.model")}}
	winning := one.winning()
	heat, err := l.heat(x.Strength)
	if err != nil {
		return d, err
	}
	winning.Charts = append(winning.Charts, heat)
	d.Parts = []part{x.formatPart(l.Format), winning, one.length(), one.time(o), one.referee(), x.finalsPart(), x.scoresPart(l),
		x.momentsPart()}
	if x.At != nil {
		d.Parts = append(d.Parts, x.atPart())
	}
	d.Parts = append(d.Parts, x.comebackPart())
	if len(x.Penalties) > 0 {
		d.Parts = append(d.Parts, x.penaltyPart(l))
	}
	if x.Bell != nil {
		bell, err := x.bellPart(l)
		if err != nil {
			return d, err
		}
		d.Parts = append(d.Parts, bell)
	}
	incentives := incentivesPart([]explore.IncentiveReport{x.Incentives}, []string{l.Name}, tell("lab.alike"))
	if x.Unlike != nil {
		more := incentivesPart([]explore.IncentiveReport{*x.Unlike}, []string{l.Name}, tell("lab.partners-who-serve-unlike", words.Name("servers", percent(o.servers))))
		incentives.Then = append(incentives.Then, more.Then...)
	}
	d.Parts = append(d.Parts, x.proofPart(), incentives, x.endsPart())
	if x.Servers != nil {
		d.Parts = append(d.Parts, x.serversPart())
	}
	for i := range d.Parts { // one format needs no number
		if t := d.Parts[i].Table; t != nil {
			for k, cell := range t.Head {
				if cell == number(0) {
					t.Head[k] = ""
				}
			}
		}
		for k, line := range d.Parts[i].Then {
			d.Parts[i].Then[k] = strings.TrimPrefix(line, number(0)+" ")
		}
	}
	return d, nil
}

func (x *explanation) formatPart(f format.Format) part {
	t := &table{Head: []string{tell("lab.field"), tell("lab.every-game-but-the"), tell("lab.last-game")}, Left: 3}
	if f.Match.Games == 1 {
		t.Head = []string{tell("lab.field"), tell("lab.value")}
		t.Left = 2
	}
	game, last := fieldsInWords(f.Game), fieldsInWords(f.Last)
	for i, field := range last {
		if f.Match.Games > 1 {
			t.add(field[0], game[i][1], field[1])
		} else {
			t.add(field[0], field[1])
		}
	}
	p := part{Name: "format", Title: tell("lab.what-the-format-says"), Table: t}
	m := f.Match
	p.Then = append(p.Then, tell("lab.edition-games-the-next", words.Name("edition", f.Edition.String()), words.Count("games", int(m.Games)), words.Name("next-serve", value(m.NextServe)), words.Name("change-ends", yes(m.ChangeEnds)), words.Name("play-all", yes(m.PlayAll))))
	p.Then = append(p.Then, tell("lab.a-game-has-positions", words.Count("states", x.Figures.States), words.Count("states2", x.Proof.States), words.Count("bound", int(x.Proof.Bound))))
	return p
}

// fieldsInWords says each field of a game and what it holds.
func fieldsInWords(g format.Game) (said [][2]string) {
	say := func(field words.Code, held string) { said = append(said, [2]string{tell(field), held}) }
	orNone := func(n uint8) string {
		if n == 0 {
			return tell("lab.none")
		}
		return count(int(n))
	}
	say("lab.format.sides", value(g.Sides))
	say("lab.format.scorer", value(g.Scorer))
	say("lab.format.order", value(g.Order))
	say("lab.format.servers", count(int(g.Servers)))
	if g.Serves == 0 {
		say("lab.format.first-turn", tell("lab.format.of-servers", words.Count("n", int(g.FirstTurn))))
		say("lab.format.serves", tell("lab.format.until-lost"))
	} else {
		say("lab.format.first-turn", tell("lab.format.of-points", words.Count("n", int(g.FirstTurn))))
		say("lab.format.serves", tell("lab.format.of-points", words.Count("n", int(g.Serves))))
	}
	say("lab.format.target", count(int(g.Target)))
	say("lab.format.win-by", count(int(g.WinBy)))
	say("lab.format.cap", orNone(g.Cap))
	say("lab.format.freeze", value(g.Freeze))
	say("lab.format.change-ends-at", orNone(g.ChangeEndsAt))
	say("lab.format.change-ends-every", orNone(g.ChangeEndsEvery))
	say("lab.format.time-outs", count(int(g.TimeOuts)))
	return said
}

// value says what a field holds that has names.
func value(v fmt.Stringer) string { return tell(words.Code("lab.value." + v.String())) }

func yes(b bool) string {
	if b {
		return tell("lab.yes")
	}
	return tell("lab.no")
}

func (x *explanation) finalsPart() part {
	t := &table{Head: []string{tell("lab.better-other"), tell("lab.chance"), tell("lab.between-equals")}, Left: 1}
	for _, f := range x.Finals {
		t.add(f.Score, percent(f.Chance), percent(f.Even))
	}
	p := part{Name: "finals", Title: tell("lab.final-scores-of-the"), Table: t, Notes: []string{tell("lab.over-who-serves-first")}}
	if slices.ContainsFunc(x.Finals, func(f final) bool { return strings.HasSuffix(f.Score, "+") }) {
		p.Notes[0] += " " + tell("lab.a-final-with-stands")
	}
	for _, l := range x.LevelBy {
		who := tell("lab.the-better-side")
		if l.Serving == explore.B {
			who = tell("lab.the-other-side")
		}
		if l.Number != 0 {
			who = tell("lab.with-number", words.Name("who", who), words.Count("number", int(l.Number)))
		}
		p.Then = append(p.Then, tell("lab.first-level-one-short", words.Name("who", who), words.Name("chance", percent(l.Chance))))
	}
	return p
}

func (x *explanation) scoresPart(l *lab) part {
	win, worth := l.byScore(x.Positions)
	t := &table{Head: []string{tell("lab.better-other-2")}, Left: 1}
	for b := range win {
		t.Head = append(t.Head, count(b))
	}
	most := 0.0
	for a := range win {
		cells := []string{count(a)}
		for b := range win {
			if math.IsNaN(win[a][b]) {
				cells = append(cells, "")
				continue
			}
			most = max(most, worth[a][b])
			cells = append(cells, decimal(win[a][b], 0))
		}
		t.add(cells...)
	}
	return part{Name: "scores", Title: tell("lab.chance-of-the-better-side-at"), Table: t,
		Notes: []string{tell("lab.in-per-cent-of")},
		Charts: []chart{heatMap{Title: tell("lab.what-the-next-rally-is"),
			About:  tell("lab.the-chance-of-the"),
			XLabel: tell("lab.points-of-the-better"), YLabel: tell("lab.points-of-the-other"), Legend: tell("lab.worth-of-the-rally"),
			Cells: worth, Min: 0, Max: max(10, math.Ceil(most/10)*10), Scale: oneSided}}}
}

// mostMoments is how many positions are listed.
const mostMoments = 12

func (x *explanation) momentsPart() part {
	list := slices.Clone(x.Positions)
	sort.SliceStable(list, func(i, j int) bool { return list[i].Importance > list[j].Importance })
	t := &table{Head: []string{tell("lab.better-other"), tell("lab.serving"), tell("lab.chance"), tell("lab.if-won"), tell("lab.if-lost"), tell("lab.worth"), tell("lab.times-a-game"), tell("lab.rallies-left")}, Left: 2}
	for _, p := range list[:min(len(list), mostMoments)] {
		t.add(fmt.Sprintf("%d-%d", p.Score[0], p.Score[1]), servingWords(p.Position), percent(p.Win), percent(p.IfA), percent(p.IfB),
			decimal(100*p.Importance, 1), decimal(p.Reached, 3), decimal(p.Rallies, 1))
	}
	return part{Name: "moments", Title: tell("lab.the-rallies-that-matter"), Table: t,
		Notes: []string{tell("lab.positions-of-the-first")}}
}

func servingWords(p explore.Position) string {
	who := "better"
	if p.Serving == explore.B {
		who = "other"
	}
	if p.Number != 0 {
		who += " #" + count(int(p.Number))
	}
	return who
}

func (x *explanation) comebackPart() part {
	t := &table{Head: []string{tell("lab.behind-by"), tell("lab.serving"), tell("lab.better-side"), tell("lab.equal-side")}, Left: 2}
	for _, c := range x.Comebacks {
		who := tell("lab.the-side-ahead")
		if c.Serving == explore.A {
			who = tell("lab.the-side-behind")
		}
		if c.Number != 0 {
			who = tell("lab.with-number", words.Name("who", who), words.Count("number", int(c.Number)))
		}
		t.add(fmt.Sprintf("%d-%d", c.Score[0], c.Score[1]), who, tiny(c.Better), tiny(c.Even))
	}
	return part{Name: "comeback", Title: tell("lab.coming-back"), Table: t,
		Notes: []string{tell("lab.chance-of-the-side")}}
}

// tiny writes a chance that may be very small.
func tiny(p float64) string {
	if p > 0 && p < 0.0005 {
		return tell("lab.1-in", words.Name("value", fmt.Sprintf("%.0f", 1/p)))
	}
	return percent(p)
}

func (x *explanation) proofPart() part {
	t := &table{Head: []string{tell("lab.holds-in-every-case"), tell("lab.cases")}, Left: 1}
	for _, c := range x.Proof.Checked {
		t.add(c.Name, count(c.Cases))
	}
	p := part{Name: "proof", Title: tell("lab.proved-by-visiting-every"), Table: t}
	for _, b := range x.Proof.Broken {
		p.Then = append(p.Then, tell("lab.broken-after-at", words.Name("invariant", b.Invariant), words.Name("path", eventWords(b.Path)), words.Name("line", b.Line)))
	}
	if len(x.Proof.Dead) == 0 {
		p.Then = append(p.Then, tell("lab.every-rule-of-the"))
	}
	for _, dead := range x.Proof.Dead {
		p.Then = append(p.Then, tell("lab.dead-rule")+" "+dead+".")
	}
	for _, unseen := range x.Proof.Unseen {
		p.Then = append(p.Then, tell("lab.never-seen")+" "+unseen+".")
	}
	return p
}

// incentivesPart says where doing badly would pay, under an assumption.
func incentivesPart(reports []explore.IncentiveReport, names []string, assumed string) part {
	p := part{Name: "incentives", Title: tell("lab.whether-doing-badly-can")}
	for i, r := range reports {
		if len(r.Found) == 0 {
			p.Then = append(p.Then, tell("lab.with-never-at-pairs", words.Name("names", names[i]), words.Name("assumed", assumed), words.Count("rates", r.Rates), words.Count("moments", r.Moments), words.Name("acts", orList(r.Acts))))
		}
		for _, f := range r.Found {
			p.Then = append(p.Then, tell("lab.with-by-side-raises", words.Name("names", names[i]), words.Name("assumed", assumed), words.Name("act", actWords(f.Act)), words.Name("actor", f.Actor.String()), words.Name("stay", percent(f.Stay)), words.Name("after", percent(f.After)), words.Name("serve", percent(f.Rates.Serve[0])), words.Name("serve2", percent(f.Rates.Serve[1])), words.Name("path", eventWords(f.Path))))
		}
	}
	return p
}

func actWords(e rally.Event) string {
	switch e.Kind() {
	case rally.RallyWon:
		return tell("lab.losing-the-next-rally")
	case rally.TimeOut:
		return tell("lab.a-time-out")
	case rally.TechnicalFoul:
		return tell("lab.a-technical-foul")
	}
	return inWords(e)
}

func orList(acts []string) string {
	if len(acts) < 2 {
		return strings.Join(acts, "")
	}
	return tell("lab.either", words.Name("one", strings.Join(acts[:len(acts)-1], ", ")), words.Name("other", acts[len(acts)-1]))
}

func (x *explanation) endsPart() part {
	t := &table{Head: []string{tell("lab.worth-in-percentage-points"), tell("lab.to-the-better-side"), tell("lab.between-equals")}, Left: 1}
	b, e := x.Ends.Better, x.Ends.Even
	t.add(tell("lab.serving-first-instead-of"), points(b.ServeFirst), points(e.ServeFirst))
	t.add(tell("lab.starting-at-the-better"), points(b.BetterEnd), points(e.BetterEnd))
	t.add(tell("lab.what-the-mid-game"), points(b.MidChange), points(e.MidChange))
	p := part{Name: "ends", Title: tell("lab.ends-wind-and-the"), Table: t,
		Notes: []string{tell("lab.the-better-end-adds", words.Name("wind", percent(x.Ends.Wind)))}}
	first, end := e.ServeFirst, e.BetterEnd
	switch {
	case x.Ends.Wind == 0:
		p.Then = []string{tell("lab.no-end-is-better")}
	case math.Abs(end) > math.Abs(first) && end > 0:
		p.Then = []string{tell("lab.between-equals-the-end")}
	case math.Abs(end) > math.Abs(first):
		p.Then = []string{tell("lab.between-equals-the-end-is")}
	case first > 0:
		p.Then = []string{tell("lab.between-equals-the-serve")}
	default:
		p.Then = []string{tell("lab.between-equals-the-serve-is")}
	}
	return p
}

func (x *explanation) serversPart() part {
	t := &table{Head: []string{tell("lab.better-side-starts-with"), tell("lab.other-side-starts-with"), tell("lab.chance-of-the-game-2")}, Left: 2}
	names := map[rally.Person]string{rally.A1: tell("lab.its-stronger-server"), rally.A2: tell("lab.its-weaker-server"), rally.B1: tell("lab.its-stronger-server"), rally.B2: tell("lab.its-weaker-server")}
	for _, c := range x.Servers.Lineups.All {
		t.add(names[c.Starters[0]], names[c.Starters[1]], fmt.Sprintf("%.2f %%", 100*c.Win))
	}
	best := x.Servers.Lineups.Best
	p := part{Name: "servers", Title: tell("lab.which-player-should-be"), Table: t,
		Notes: []string{tell("lab.the-stronger-server-of", words.Name("gap", percent(x.Servers.Gap)))}}
	lineup := tell("lab.the-better-side-with", words.Name("starters", names[best.Starters[0]]), words.Name("starters2", names[best.Starters[1]]))
	switch {
	case x.Servers.Lineups.Worth < 1e-9:
		p.Then = []string{tell("lab.it-makes-no-difference")}
	case x.Servers.Lineups.Settled:
		p.Then = []string{tell("lab.best-neither-side-gains", words.Name("lineup", lineup), words.Name("worth", fmt.Sprintf("%.2f", 100*x.Servers.Lineups.Worth)))}
	default:
		p.Then = []string{tell("lab.each-side-s-best", words.Name("lineup", lineup), words.Name("worth", fmt.Sprintf("%.2f", 100*x.Servers.Lineups.Worth)))}
	}
	return p
}
