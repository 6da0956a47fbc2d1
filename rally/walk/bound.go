package walk

import (
	"math"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// Bound returns a number of states that a walk cannot exceed, by counting the
// values that each field of a state can take under the alphabet. It costs
// nothing and is said before a walk begins; the walk itself is far smaller.
// It saturates.
func (p Plan) Bound() uint64 {
	f := p.Rules.Format()
	var n uint64 = 1
	times := func(m uint64) {
		if m != 0 && n > math.MaxUint64/m {
			n = math.MaxUint64
			return
		}
		n *= m
	}
	fold := newFolder(p.Rules, p.Alphabet)
	fold.off = p.Unfolded
	times(max(fold.scores(0, f.Game), fold.scores(1, f.Last)))
	times(orders(f.Game))
	games := uint64(f.Match.Games)
	times((games + 1) * (games + 2) / 2) // tallies of games
	if games > 1 {
		times(4) // ends, and who served first
	}
	times(3) // in play, with the mid-game change open, due or made
	times(2) // whether partners may exchange at it
	times(2) // in play or not
	kinds := rally.KindSet(0)
	for _, e := range p.Alphabet {
		kinds |= 1 << e.Kind()
		if _, rides := e.Incident(); rides {
			kinds |= 1 << rally.Stop
		}
	}
	for _, field := range fields {
		for _, k := range field.kinds {
			if kinds.Has(k) {
				times(field.values(f))
				break
			}
		}
	}
	return n
}

func (f *folder) scores(which int, g format.Game) uint64 {
	top := uint64(format.MostPoints + 1)
	switch {
	case g.Cap != 0:
		top = uint64(g.Cap) + 1
	case !f.off:
		top = min(top, uint64(f.folds[which].Floor+f.folds[which].Step)+uint64(g.WinBy)+1)
	}
	return top * top
}

func orders(g format.Game) uint64 {
	n := uint64(2) // serving side
	if g.Sides == format.Doubles {
		n *= 2 // which of two partners serves
	}
	if g.Servers == 2 {
		n *= 2
	}
	switch g.Order {
	case format.SwapOnServe, format.InTurn:
		n *= 4
	case format.CountedTurns:
		n *= 2 // which way round
	}
	return n
}

// A field is a part of the state that only some kinds of events move.
type field struct {
	kinds  []rally.Kind
	values func(format.Format) uint64
}

func always(n uint64) func(format.Format) uint64 { return func(format.Format) uint64 { return n } }

var fields = []field{
	{[]rally.Kind{rally.StartGame, rally.Exchange}, always(4)},
	{[]rally.Kind{rally.FirstChoice, rally.StartGame}, always(12)},
	{[]rally.Kind{rally.TimeOut, rally.MedicalInvalid, rally.MedicalWithdrawn, rally.ChallengeLost, rally.ChallengeWithdrawn},
		func(f format.Format) uint64 {
			most := uint64(max(f.Game.TimeOuts, f.Last.TimeOuts)) + 1
			return most * most
		}},
	{[]rally.Kind{rally.TimeOut, rally.EquipmentTimeOut, rally.MedicalRequest, rally.RefereeTimeOut, rally.BloodTimeOut,
		rally.HazardTimeOut, rally.IllnessTimeOut}, always(15)},
	{[]rally.Kind{rally.MedicalRequest}, always(81)},
	{[]rally.Kind{rally.PlayOnAlone, rally.Concussion}, always(81)},
	{[]rally.Kind{rally.VerbalWarning, rally.CarryVerbal}, always(4)},
	{[]rally.Kind{rally.TechnicalWarning, rally.CarryWarning, rally.MedicalInvalid, rally.ChallengeLost}, always(64)},
	{[]rally.Kind{rally.TechnicalFoul, rally.CarryFoul, rally.TechnicalWarning, rally.Stop, rally.MedicalInvalid,
		rally.MedicalWithdrawn, rally.ChallengeLost, rally.ChallengeWithdrawn}, always(64 * 9)},
	{[]rally.Kind{rally.GameForfeit, rally.TechnicalWarning, rally.TechnicalFoul}, always(16)},
	{[]rally.Kind{rally.CarryVerbal, rally.CarryWarning, rally.CarryFoul}, always(1 << 12)},
	{[]rally.Kind{rally.Stop}, always(2 * 16)}, // put right, 1999's count
	{[]rally.Kind{rally.Abandon}, always(2)},
	{[]rally.Kind{rally.Retirement, rally.Withdrawal, rally.MatchForfeit, rally.DoubleForfeit, rally.LateArrival,
		rally.Abandon, rally.TechnicalFoul, rally.TechnicalWarning, rally.GameForfeit}, always(21)},
	{[]rally.Kind{rally.SheetReturned}, always(2)},
}
