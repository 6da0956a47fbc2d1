package pack

import (
	"fmt"
	"math"
	"slices"
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
	for _, s := range format.Switches() {
		row := Switch{Name: s.String(), Asked: asked[s.String()]}
		readings := s.Readings()
		plays := s.Moves().String() == "line" || s.Moves().String() == "result"
		number := new(format.Rulings).SetText(s, readings[0]) != nil
		if plays {
			if !number {
				row.Readings = readings
			}
			row.Needs = needs[row.Name]
			clauses := make([]string, max(1, len(row.Readings)))
			for i := range row.Readings {
				var r format.Rulings
				if err := r.SetText(s, readings[i]); err != nil {
					return err
				}
				clauses[i] = r.Clause(s).String()
			}
			for _, e := range b.editions {
				r := format.RulingsOf(e)
				row.Takes = append(row.Takes, int(r[s]))
			}
			if number {
				row.numbers(s, b.editions, clauses)
			}
			row.Clauses = clauses
		}
		if slices.Contains(core, row.Name) {
			p.Core.Switches = append(p.Core.Switches, row)
		} else {
			p.Rulings.Switches = append(p.Rulings.Switches, row)
		}
	}
	return nil
}

// numbers fills in the clauses of a switch that holds a number: that of a number of
// one's own, and those of the numbers of editions that go by another.
func (row *Switch) numbers(s format.Switch, editions []format.Edition, clauses []string) {
	own := format.Rulings{}
	own[s] = math.MaxUint16
	clauses[0] = own.Clause(s).String()
	for _, e := range editions {
		r := format.RulingsOf(e)
		if c := r.Clause(s).String(); r[s] != 0 && c != clauses[0] {
			if row.Numbers == nil {
				row.Numbers = map[int]string{}
			}
			row.Numbers[int(r[s])] = c
		}
	}
}

// sports fills in what is otherwise where more sports are told by one rule, and
// the kinds that a sport has no rule for.
func (b *builder) sports(p *Pack) error {
	for i, e := range b.editions {
		for _, x := range [][2]format.Clause{{clause.Alternate, clause.TableTennisFirst}, {clause.FirstChoice, clause.BeachFirst}} {
			if n := len(p.Core.Instead); x[1].In(e) && n > 0 && p.Core.Instead[n-1][1] == i-1 && p.Core.Instead[n-1][3] == x[1].String() {
				p.Core.Instead[n-1][1] = i
			} else if x[1].In(e) {
				p.Core.Instead = append(p.Core.Instead, []any{i, i, x[0].String(), x[1].String()})
			}
		}
		if format.Clause(clause.ScoringOnly).In(e) {
			p.Core.Scoring.Editions = append(p.Core.Scoring.Editions, i)
		}
	}
	f, err := format.Parse("table-tennis-doubles-11")
	if err != nil {
		return err
	}
	r, err := rally.Compile(f)
	if err != nil {
		return err
	}
	s, _, _ := r.Apply(r.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	for _, k := range rally.Kinds() {
		e := rally.OfSide(k, rally.A)
		if k == rally.Stop {
			if e, err = rally.ParseEvent("stop?byref"); err != nil {
				return err
			}
		}
		if _, _, _, by := r.Decide(s, e); by.First() == clause.ScoringOnly {
			p.Core.Scoring.Kinds = append(p.Core.Scoring.Kinds, k.String())
		}
	}
	return nil
}

// ladder plays every rung.
func (b *builder) ladder(p *Pack) error {
	var cells strings.Builder
	for i := range 8 {
		made, two, foul := i>>2, i>>1&1, i&1
		id := "sideout-doubles-11-of3@" + format.Default.String()
		id += "+made-foul-counts=" + []string{"no", "yes"}[made] + "+two-fouls=" + []string{"match-forfeit", "game-forfeit"}[two]
		f, err := format.Parse(id)
		if err != nil {
			return err
		}
		r, err := rally.Compile(f)
		if err != nil {
			return err
		}
		kind := []rally.Kind{rally.TechnicalWarning, rally.TechnicalFoul}[foul]
		line := func(tw, tf, gf int) string {
			s, _, _ := r.Apply(r.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
			s, _ = r.WithScores(s, 5, 5)
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
	rally.CarrySameVerbal: clause.CarriedPenalties, rally.CarrySameWarning: clause.CarriedPenalties, rally.CarrySameFoul: clause.CarriedPenalties, rally.ChallengeWithdrawn: clause.ChallengeDropped, rally.Ejection: clause.Ejection,
	rally.Expulsion: clause.Ejection, rally.GameForfeit: clause.GameForfeit, rally.MatchForfeit: clause.ForfeitEndsMatch,
	rally.DoubleForfeit: clause.DoubleForfeit, rally.Retirement: clause.RetirementWhen, rally.Withdrawal: clause.Withdrawal,
	rally.LateArrival: clause.LateGame, rally.Abandon: clause.Resumed, rally.ResumePlay: clause.Resumed, rally.SheetReturned: clause.SheetFinal,
}

func (b *builder) accepted(p *Pack) error {
	p.Rulings.Accepted = map[string]string{}
	for k, c := range taken {
		p.Rulings.Accepted[k.String()] = c.String()
	}
	return nil
}

// names fills in the words of the line and of events.
func (b *builder) names(p *Pack) error {
	c := &p.Core
	for _, k := range rally.Kinds() {
		c.Kinds = append(c.Kinds, kind(k))
	}
	for n := rally.Effects(1); n.String() != "-"; n <<= 1 {
		c.Effects = append(c.Effects, n.String())
	}
	c.Faults = names(func(n uint8) rally.Fault { return rally.Fault(n) })
	c.Choices = names(func(n uint8) rally.Choice { return rally.Choice(n) })
	c.Phases = names(func(n uint8) rally.Phase { return rally.Phase(n) })
	c.Breaks = names(func(n uint8) rally.Break { return rally.Break(n) })
	c.Causes = names(func(n uint8) rally.Cause { return rally.Cause(n) })
	p.Rulings.Mistakes = names(func(n uint8) rally.Mistake { return rally.Mistake(n) })
	p.Rulings.Reaches = names(func(n uint8) rally.Reach { return rally.Reach(n) })
	p.Rulings.Sinces = names(func(n uint8) rally.Since { return rally.Since(n) })
	p.Rulings.Stoppers = names(func(n uint8) rally.Stopper { return rally.Stopper(n) })
	return nil
}

// kind reads the form of a kind's words from a sample of them.
func kind(k rally.Kind) [4]string {
	out := [4]string{k.String(), "", "", ""}
	form := func(sample, what, between string) bool {
		before, after, found := strings.Cut(sample, what)
		if found {
			out[1], out[2], out[3] = before, after, between
		}
		return found
	}
	word := rally.OfSide(k, rally.A).String()
	switch {
	case k >= rally.Undo:
		out[1], out[3] = rally.Entry{Kind: k}.String(), "entry"
		out[1], _, _ = strings.Cut(out[1], " ")
	case k == rally.RallyWon:
		out[3] = "rally"
	case k == rally.Stop:
		out[1], out[3] = k.String(), "stop"
	case k == rally.FirstChoice:
		form(rally.Choose(rally.A, rally.ChooseServe).String(), "A:serve", "choice")
	case form(word, "A1B1", "start"), form(word, "A1", "person"), form(word, "A:0", "seconds"), form(word, "A", "side"):
	default:
		out[1] = rally.EventOf(k).String()
	}
	return out
}

// clauses fills in what is known of each clause.
func (b *builder) clauses(p *Pack) error {
	p.Clauses = Clauses{}
	for _, c := range format.Clauses() {
		spans := []any{}
		for i, e := range b.editions {
			source, stands := c.Source(e)
			if !stands {
				continue
			}
			mark := source.Mark.String()
			if n := len(spans); n > 0 && spans[n-3] == i-1 && spans[n-2] == source.Rule && spans[n-1] == mark {
				spans[n-3] = i
				continue
			}
			spans = append(spans, i, i, source.Rule, mark)
		}
		p.Clauses[c.String()] = spans
	}
	return nil
}
