package pack

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
)

// asked are the switches that only some games ask, and what such a game has.
var asked = map[string]string{"fixed-court-foul": "order=fixed-courts", "swap-foul": "order=swap-on-serve", "opening-word": "servers=2"}

// fouls are the clauses of which one stands where an edition has penalties.
var fouls = []string{"foul-awards", "foul-removes"}

// needs are, by switch, the clauses of which one must be in force for a reading
// of one's own to be taken; a test asks the library.
var needs = map[string][]string{
	"order-window": {"order-fault"}, "receiver-fault": {"order-fault"}, "both-wrong": {"order-fault"}, "fault-again": {"order-fault"},
	"late-receiver": {"order-replay"}, "second-offence": {"order-stands-warned"}, "warning-scope": fouls, "made-foul-counts": fouls,
	"two-fouls": fouls, "fouls-between": fouls, "warning-between": {"no-fouls-between"}, "carried-penalties": fouls,
	"pre-match-penalties": fouls, "awarded-point-wins": fouls, "removed-point-wins": {"foul-removes"}, "penalty-end-change": fouls,
	"fixed-court-foul": fouls, "swap-foul": fouls,
}

// switches fills in what editions take. Of a switch that no line and no result
// turns on there is only the name.
func (b *builder) switches(p *Pack) error {
	p.Sports.Takes = map[string]string{}
	var idle []string
	for _, s := range format.Switches() {
		name := s.String()
		if moves := s.Moves().String(); moves != "line" && moves != "result" && asked[name] == "" {
			idle = append(idle, name)
			if most := b.most(s); most > 0 {
				p.Rulings.Own = append(p.Rulings.Own, fmt.Sprint(name, " ", most))
			} else {
				p.Rulings.Own = append(p.Rulings.Own, name+" "+strings.Join(s.Readings(), " "))
			}
			continue
		}
		values, clauses, err := b.values(s)
		if err != nil {
			return err
		}
		if most := b.most(s); most > 0 {
			p.Rulings.Own = append(p.Rulings.Own, fmt.Sprint(name, " ", most))
		}
		takes := ""
		for _, e := range b.editions {
			r := format.RulingsOf(e)
			takes += strconv.Itoa(1 + slices.Index(values, r.Text(s)))
		}
		if more := strings.TrimRight(takes[b.sport:], "0"); more != "" {
			p.Sports.Takes[name] = more
		}
		row := Switch{name, strings.TrimRight(takes[:b.sport], "0"), strings.Join(values, " "), strings.Join(clauses, " "), strings.Join(needs[name], " "), asked[name]}
		for row[len(row)-1] == "" {
			row = row[:len(row)-1]
		}
		if slices.Contains(core, name) {
			p.Core.Switches, p.Rulings.Clauses = append(p.Core.Switches, row[:3]), append(p.Rulings.Clauses, row[3])
		} else {
			p.Rulings.Switches = append(p.Rulings.Switches, row)
		}
	}
	p.Rulings.Idle = strings.Join(idle, " ")
	return nil
}

// most is the most that a switch can hold as a number; 0 where it holds none.
func (b *builder) most(s format.Switch) int {
	return sort.Search(math.MaxUint16+1, func(n int) bool {
		return new(format.Rulings).SetText(s, strconv.Itoa(n+1)) != nil
	})
}

// values lists the readings of a switch, or where it holds a number those that
// editions take, with the clause of each; the first is that of any number of
// one's own.
func (b *builder) values(s format.Switch) (values, clauses []string, err error) {
	values = s.Readings()
	if new(format.Rulings).SetText(s, values[0]) != nil { // it holds a number
		values = nil
		for _, e := range b.editions {
			if r := format.RulingsOf(e); r[s] != 0 && !slices.Contains(values, r.Text(s)) {
				values = append(values, r.Text(s))
			}
		}
	}
	for _, v := range values {
		var r format.Rulings
		if err := r.SetText(s, v); err != nil {
			return nil, nil, err
		}
		for _, e := range b.editions { // the clause of a number may be an edition's
			if of := format.RulingsOf(e); of[s] == r[s] {
				r = of
			}
		}
		clauses = append(clauses, r.Clause(s).String())
	}
	return values, clauses, nil
}

// sports fills in what is otherwise where more sports are told by one rule, and
// the kinds that a sport has no rule for.
func (b *builder) sports(p *Pack) error {
	for i, e := range b.editions {
		for _, x := range [][2]format.Clause{{clause.Alternate, clause.TableTennisFirst}, {clause.FirstChoice, clause.BeachFirst}} {
			if x[1].In(e) {
				p.Sports.Instead = append(p.Sports.Instead, []any{i, x[0].String(), x[1].String()})
			}
		}
	}
	r, s, err := opened("table-tennis-doubles-11")
	if err != nil {
		return err
	}
	var without []rally.Kind
	for _, k := range rally.Kinds() {
		e, err := sampleOf(k)
		if err != nil {
			return err
		}
		if _, _, _, by := r.Decide(s, e); by.First() == clause.ScoringOnly {
			without = append(without, k)
		}
	}
	p.Sports.Kinds = words(without)
	return nil
}

// sampleOf is an event of a kind, of side or player one.
func sampleOf(k rally.Kind) (rally.Event, error) {
	switch k {
	case rally.Stop:
		return rally.ParseEvent("stop?byref")
	case rally.FirstChoice:
		return rally.Choose(rally.A, rally.ChooseServe), nil
	}
	return rally.OfSide(k, rally.A), nil
}

// opened is a format, and a state of it in which a game has begun.
func opened(id string) (*rally.Rules, rally.State, error) {
	f, err := format.Parse(id)
	if err != nil {
		return nil, rally.State{}, err
	}
	r, err := rally.Compile(f)
	if err != nil {
		return nil, rally.State{}, err
	}
	s, _, _ := r.Apply(r.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	return r, s, nil
}

// ladder plays every rung.
func (b *builder) ladder(p *Pack) error {
	var cells strings.Builder
	for i := range 8 {
		made, two, foul := i>>2, i>>1&1, i&1
		id := "sideout-doubles-11-of3@" + format.Default.String()
		id += "+made-foul-counts=" + []string{"no", "yes"}[made] + "+two-fouls=" + []string{"match-forfeit", "game-forfeit"}[two]
		r, s, err := opened(id)
		if err != nil {
			return err
		}
		s, _ = r.WithScores(s, 5, 5)
		kind := []rally.Kind{rally.TechnicalWarning, rally.TechnicalFoul}[foul]
		line := func(tw, tf, gf int) string {
			return strings.NewReplacer("tw=0", fmt.Sprint("tw=", tw), "tf=0", fmt.Sprint("tf=", tf), "gf=0", fmt.Sprint("gf=", gf)).Replace(r.Line(s))
		}
		for n := range 8 * 8 * 4 {
			tw, tf, gf := n>>5, n>>2&7, n&3
			s, err := r.ParseLine(line(tw, tf, gf))
			if err != nil {
				return err
			}
			_, did, _, by := r.Decide(s, rally.OfSide(kind, rally.A))
			rung := [2]any{0, by.First().String()}
			switch {
			case did.Has(rally.MatchForfeited):
				rung[0] = 3
			case did.Has(rally.GameForfeited):
				rung[0] = 2
			case did.Has(rally.PenaltyPoint):
				rung[0] = 1
			}
			if slices.Contains(fouls, by.First().String()) {
				rung[1] = ""
			}
			at := slices.Index(p.Rulings.Rungs, rung)
			if at < 0 {
				at = len(p.Rulings.Rungs)
				p.Rulings.Rungs = append(p.Rulings.Rungs, rung)
			}
			cell := byte('0' + at)
			switch at := i*12 + min(tw, 2)*4 + min(tf, 1)*2 + min(gf, 1); {
			case cells.Len() == at:
				cells.WriteByte(cell)
			case at < cells.Len() && cells.String()[at] == cell:
			default:
				return fmt.Errorf("pack: the ladder has more rungs: %d warnings, %d fouls, %d games", tw, tf, gf)
			}
		}
	}
	p.Rulings.Ladder = cells.String()
	return nil
}

// taken are the clauses by which an event of a kind is taken, where no other
// decides; whoever plays the pack is compared with the library.
var taken = map[rally.Kind]format.Clause{
	rally.Replay: clause.ReplayChangesNothing, rally.StartGame: clause.StarterNamed, rally.EndsChanged: clause.EndChangeLatch,
	rally.Exchange: clause.ExchangeOfCourts, rally.FirstChoice: clause.FirstChoice, rally.TimeOut: clause.TimeOutPerGame,
	rally.TimeIn: clause.TimeOutKeeps, rally.EquipmentTimeOut: clause.Equipment, rally.RefereeTimeOut: clause.RefereeBreak,
	rally.BloodTimeOut: clause.Blood, rally.HazardTimeOut: clause.RefereeBreak, rally.IllnessTimeOut: clause.RefereeStopsForSafety,
	rally.MedicalRequest: clause.Medical, rally.MedicalValid: clause.MedicalOnce, rally.HelpArrived: clause.MedicalFromArrival,
	rally.PlayOnAlone: clause.OnePlayer, rally.Concussion: clause.Concussion, rally.VerbalWarning: clause.VerbalWarning,
	rally.CarryVerbal: clause.CarriedPenalties, rally.CarryWarning: clause.CarriedPenalties, rally.CarryFoul: clause.CarriedPenalties,
	rally.ChallengeWithdrawn: clause.ChallengeDropped, rally.Ejection: clause.Ejection,
	rally.Expulsion: clause.Ejection, rally.GameForfeit: clause.GameForfeit, rally.MatchForfeit: clause.ForfeitEndsMatch,
	rally.DoubleForfeit: clause.DoubleForfeit, rally.Retirement: clause.RetirementWhen, rally.Withdrawal: clause.Withdrawal,
	rally.LateArrival: clause.LateGame, rally.Abandon: clause.Resumed, rally.ResumePlay: clause.Resumed, rally.SheetReturned: clause.SheetFinal,
}

// later are the kinds of the rulings.
var later = []rally.Kind{rally.Stop, rally.EquipmentTimeOut, rally.RefereeTimeOut, rally.BloodTimeOut, rally.HazardTimeOut, rally.IllnessTimeOut, rally.Dealt,
	rally.MedicalRequest, rally.MedicalValid, rally.MedicalInvalid, rally.MedicalWithdrawn, rally.HelpArrived, rally.PlayOnAlone, rally.Concussion,
	rally.VerbalWarning, rally.TechnicalWarning, rally.TechnicalFoul, rally.CarryVerbal, rally.CarryWarning, rally.CarryFoul, rally.CarrySameVerbal,
	rally.CarrySameWarning, rally.CarrySameFoul, rally.Ejection, rally.Expulsion, rally.ChallengeLost, rally.ChallengeWithdrawn, rally.Substitution,
	rally.LateArrival}

// kinds fills in the kinds of events: how they are written, by which clause they
// are taken, and when they may come though play has ended.
func (b *builder) kinds(p *Pack) error {
	c, more := &p.Core, &p.Rulings
	r, s, err := opened("sideout-doubles-11")
	if err != nil {
		return err
	}
	ended, _, _ := r.Apply(s, rally.OfSide(rally.Retirement, rally.A))
	broken, _, _ := r.Apply(s, rally.EventOf(rally.Abandon))
	refused := func(s rally.State, e rally.Event, code rally.Refusal) bool {
		_, _, why := r.Apply(s, e)
		return why == code
	}
	var own, rest, texts, first, last []string
	lists := [2]struct{ kinds, after, broken []rally.Kind }{}
	for _, k := range rally.Kinds() {
		if k >= rally.Undo {
			break
		}
		e, err := sampleOf(k)
		if err != nil {
			return err
		}
		of, by := 0, byOf(k)
		if slices.Contains(later, k) {
			of = 1
		}
		text, ok := textOf(k)
		switch name := k.String(); {
		case of == 0 && name == text:
			own, first = append(own, name), append(first, by)
		case of == 0:
			own, first = append(own, name+":"+text), append(first, by)
		case ok:
			texts, rest, last = append(texts, text), append(rest, name), append(last, by)
		}
		list := &lists[of]
		if !refused(ended, e, rally.MatchOver) {
			list.after = append(list.after, k)
		}
		if !refused(broken, e, rally.MatchAbandoned) {
			list.broken = append(list.broken, k)
		}
	}
	c.Kinds, c.Later = strings.Join(own, " "), strings.Join(texts, " ")
	c.AfterEnd, c.Broken = words(lists[0].after), words(lists[0].broken)
	more.AfterEnd, more.Broken = words(lists[1].after), words(lists[1].broken)
	for _, k := range later {
		if _, ok := textOf(k); !ok {
			rest, last = append(rest, k.String()), append(last, byOf(k))
		}
	}
	more.Kinds = strings.Join(rest, " ")
	more.Accepted = strings.Join(append(first, last...), " ")
	return nil
}

// byOf is the clause by which an event of a kind is taken, where no other decides.
func byOf(k rally.Kind) string {
	if taken[k] == 0 {
		return "-"
	}
	return taken[k].String()
}

// textOf is how the events of a kind are written: a capital stands for what differs,
// R for a rally's side and fault, S for a side, P for a player, G for starting servers,
// C for a side and its choice. Not ok for words of an incident and for seconds.
func textOf(k rally.Kind) (string, bool) {
	word := rally.OfSide(k, rally.A).String()
	for _, form := range [][2]string{{"A1B1", "G"}, {"A1", "P"}, {"A:0", ""}, {"A", "S"}} {
		if before, after, found := strings.Cut(word, form[0]); found && k != rally.RallyWon && k != rally.FirstChoice {
			return before + form[1] + after, form[1] != ""
		}
	}
	switch k {
	case rally.RallyWon:
		return "R", true
	case rally.FirstChoice:
		before, _, _ := strings.Cut(rally.Choose(rally.A, rally.ChooseServe).String(), "A:serve")
		return before + "C", true
	}
	return rally.EventOf(k).String(), k != rally.Stop
}

// names fills in the words of the line and of events.
func (b *builder) names(p *Pack) error {
	c, more := &p.Core, &p.Rulings
	var effects []rally.Effects
	for n := rally.Effects(1); n.String() != "-"; n <<= 1 {
		effects = append(effects, n)
	}
	c.Effects = words(effects)
	c.Faults = names(func(n uint8) rally.Fault { return rally.Fault(n) })
	c.Choices = names(func(n uint8) rally.Choice { return rally.Choice(n) })
	c.Phases = names(func(n uint8) rally.Phase { return rally.Phase(n) })
	more.Breaks = names(func(n uint8) rally.Break { return rally.Break(n) })
	more.Causes = names(func(n uint8) rally.Cause { return rally.Cause(n) })
	more.Mistakes = names(func(n uint8) rally.Mistake { return rally.Mistake(n) })
	more.Reaches = names(func(n uint8) rally.Reach { return rally.Reach(n) })
	more.Sinces = names(func(n uint8) rally.Since { return rally.Since(n) })
	more.Stoppers = names(func(n uint8) rally.Stopper { return rally.Stopper(n) })
	var line []string
	for _, f := range rally.LineFields() {
		switch {
		case f.Most > 0:
			line = append(line, fmt.Sprint(f.Name, "=", f.Most))
		case f.Letters != "":
			line = append(line, f.Name+"="+f.Letters)
		default:
			line = append(line, f.Name)
		}
	}
	more.Line = strings.Join(line, " ")
	return b.outcomes(p)
}

// outcomes ends a match in every way, to read what stands for it behind the winner.
func (b *builder) outcomes(p *Pack) error {
	r, s, err := opened("sideout-doubles-11")
	if err != nil {
		return err
	}
	even, _, err := opened("sideout-doubles-11+play-all=yes+games=2")
	if err != nil {
		return err
	}
	out := []string{"-", "-"}
	for _, way := range []struct {
		r      *rally.Rules
		s      rally.State
		events string
	}{{r, s, "retB"}, {r, r.New(rally.A), "wdB"}, {r, s, "mfB"}, {r, s, "dmf"}, {even, even.New(rally.A), "gfA gfB"}, {r, s, "abandon sheet"}, {r, r.New(rally.A), "lateB:900"}} {
		s := way.s
		for _, text := range strings.Fields(way.events) {
			e, err := rally.ParseEvent(text)
			if err != nil {
				return err
			}
			s, _, _ = way.r.Apply(s, e)
		}
		_, text, _ := strings.Cut(way.r.Line(s), " result=")
		text, _, _ = strings.Cut(text, " ")
		if cause, _, _ := s.Outcome(); int(cause) != len(out) && len(out) < int(rally.ByAbandonment)+1 {
			return fmt.Errorf("pack: %q ends a match by %v", way.events, cause)
		}
		out = append(out, strings.TrimPrefix(text, "A"))
	}
	p.Core.Outcomes = strings.Join(out, " ")
	return nil
}

// clauses fills in what is known of each clause.
func (b *builder) clauses(p *Pack) error {
	p.Clauses = Clauses{}
	for _, c := range format.Clauses() {
		var spans []string
		before := "-"
		for i, e := range b.editions {
			if i > 0 && e.Document() != b.editions[i-1].Document() {
				before = "-"
			}
			now := "-"
			if source, stands := c.Source(e); stands {
				now = source.Rule + letter(source.Mark)
			}
			if now != before {
				spans = append(spans, strconv.FormatInt(int64(i), 36)+now)
			}
			before = now
		}
		p.Clauses[c.String()] = strings.Join(spans, " ")
	}
	return nil
}

// letter is the letter of a mark.
func letter(m format.Mark) string {
	name := m.String()
	if _, low, found := strings.Cut(name, "-l"); found && low == "ow" {
		return "l"
	}
	return name[:1]
}
