package walk

import (
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// reserve is how many points can be taken from a side's score in one game by
// penalties, with some to spare: one foul and one made of two warnings. Scores
// fold only where so many can be taken and every threshold is still behind.
const reserve = 4

// Step is how far scores are folded at once: by two, so that parity, and with
// it every court, stays.
const Step = 2

// folder replaces a score beyond level one short of the target by one two
// points lower for both sides. Whether a game ends, freezes or changes ends
// depends on the difference, and on whether scores have passed thresholds that
// none of these can fall below again; parity, which places depend on, is kept.
type folder struct {
	rules *rally.Rules
	floor [2]int // every game but the last, the last: scores of both sides stay at or above it; 0 for no folding
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
		floor: [2]int{Floor(f.Game, spare), Floor(f.Last, spare)}}
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

// Floor returns the lowest score to which either side's may be folded: level
// one short of the target, and higher by what penalties could still take. It
// is 0 for a game with a cap, where no two scores behave alike.
func Floor(g format.Game, spare int) int {
	if g.Cap != 0 {
		return 0
	}
	return int(g.Target) - 1 + spare
}

// state returns the state that s folds into: s itself nearly always.
func (f *folder) state(s rally.State) rally.State {
	if f.off || s.Game() == 0 {
		return s
	}
	floor := f.floor[0]
	if s.Game() >= f.last {
		floor = f.floor[1]
	}
	low := min(s.Score(rally.A), s.Score(rally.B))
	if floor == 0 || low-Step < floor {
		return s
	}
	if to, known := f.cache[s]; known {
		return to
	}
	to, ok := Lower(f.rules, s, (low-floor)/Step*Step)
	if !ok {
		to = s // a position that only penalties reach is kept as it is
	}
	f.cache[s] = to
	return to
}

// Lower returns a state with both scores lower by some points; false if that
// is no state of the format.
func Lower(r *rally.Rules, s rally.State, by int) (rally.State, bool) {
	if min(s.Score(rally.A), s.Score(rally.B)) < by {
		return s, false
	}
	to, err := r.ParseLine(lower(r.Line(s), by))
	return to, err == nil
}

// lower takes by points from both sides in a canonical line.
func lower(line string, by int) string {
	const field = " score="
	from := strings.Index(line, field) + len(field)
	to := from + strings.IndexByte(line[from:], ' ')
	a, b, _ := strings.Cut(line[from:to], "-")
	return line[:from] + less(a, by) + "-" + less(b, by) + line[to:]
}

func less(digits string, by int) string {
	n, _ := strconv.Atoi(digits)
	return strconv.Itoa(n - by)
}
