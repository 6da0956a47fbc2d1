package walk

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// reserve is how many points can be taken from a side's score in one game by
// penalties, with some to spare: one foul and one made of two warnings. Scores
// fold only where so many can be taken and every threshold is still behind.
const reserve = 4

// FoldBy is how far scores are folded at once: by two, so that parity, and with
// it every court, stays. Where points count turns or end changes it is more.
const FoldBy = 2

// Fold says which scores beyond level one short of the target play on like
// lower ones: those that are lower by the same for both sides.
type Fold struct {
	Floor int // scores that neither side's falls below; 0 where nothing is folded
	Step  int // by how many points at once
}

// FoldOf returns how far the scores of a game fold: to level one short of the
// target, and higher by what penalties could still take. In a game with a cap no
// two scores behave alike.
func FoldOf(g format.Game, spare int) Fold {
	if g.Cap != 0 {
		return Fold{}
	}
	return Fold{int(g.Target) - 1 + spare, stepOf(g)}
}

// stepOf is how far the scores of a game fold at once: so far that the turns that
// its points count and the end changes that they bring come round again, and an
// even number of changes with them.
func stepOf(g format.Game) int {
	step := FoldBy
	if g.Order == format.TieBreak {
		step = int(g.Serves) * int(g.Sides) // a side that has two serves by each
	}
	if every := int(g.ChangeEndsEvery); every != 0 {
		by := step
		for by%every != 0 {
			by += step
		}
		step = by
	}
	return step
}

// Scores returns the scores that a and b fold to: themselves nearly always.
func (f Fold) Scores(a, b int) (int, int) {
	low := min(a, b)
	if f.Floor == 0 || low-f.Step < f.Floor {
		return a, b
	}
	by := (low - f.Floor) / f.Step * f.Step
	return a - by, b - by
}

// State returns the state that s folds into; false if the format has none there,
// as at a score that only penalties reach.
func (f Fold) State(r *rally.Rules, s rally.State) (rally.State, bool) {
	a, b := s.Score(rally.A), s.Score(rally.B)
	if x, y := f.Scores(a, b); x != a {
		return r.WithScores(s, x, y)
	}
	return s, true
}

// folder folds the states of a walk. Whether a game ends, freezes or changes ends
// depends on the difference of the scores, and on whether they have passed
// thresholds that none of these can fall below again; parity, which places
// depend on, is kept.
type folder struct {
	rules *rally.Rules
	folds [2]Fold // every game but the last, the last
	last  int
	off   bool
	cache map[rally.State]rally.State
}

func newFolder(r *rally.Rules, alphabet []rally.Event) folder {
	f := r.Format()
	spare := 0
	if takesPoints(alphabet) {
		spare = reserve
	}
	return folder{rules: r, last: int(f.Match.Games), cache: map[rally.State]rally.State{},
		folds: [2]Fold{FoldOf(f.Game, spare), FoldOf(f.Last, spare)}}
}

// takesPoints reports whether any letter can lower a score.
func takesPoints(alphabet []rally.Event) bool {
	for _, e := range alphabet {
		switch e.Kind() {
		case rally.RallyWon, rally.Replay, rally.Stop:
			if _, rides := e.Incident(); rides {
				return true // the 1999 text makes fouls of wrong servers
			}
		case rally.StartGame, rally.EndsChanged, rally.Exchange, rally.TimeOut, rally.TimeIn, rally.EquipmentTimeOut,
			rally.RefereeTimeOut, rally.BloodTimeOut, rally.HazardTimeOut, rally.IllnessTimeOut, rally.Dealt:
		default:
			return true
		}
	}
	return false
}

// state returns the state that s folds into: s itself nearly always.
func (f *folder) state(s rally.State) rally.State {
	if f.off || s.Game() == 0 {
		return s
	}
	fold := f.folds[0]
	if s.Game() >= f.last {
		fold = f.folds[1]
	}
	if a, _ := fold.Scores(s.Score(rally.A), s.Score(rally.B)); a == s.Score(rally.A) {
		return s
	}
	if to, known := f.cache[s]; known {
		return to
	}
	to, ok := fold.State(f.rules, s)
	if !ok {
		to = s // a position that only penalties reach is kept as it is
	}
	f.cache[s] = to
	return to
}
