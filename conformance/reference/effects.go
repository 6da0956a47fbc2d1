package reference

// An effect is one thing an event did; the constants stand in the order in
// which effects are listed.
type effect uint

const (
	point effect = iota
	secondServer
	sideOut
	replayed
	withheld
	stands
	overruled
	gameStarted
	gameWon
	matchWon
	endsDue
	endsChanged
	exchanged
	breakBegan
	timeIn
	timeOutCharged
	lastTimeOut
	medicalUsed
	warning
	foul
	verbalWarning
	penaltyPoint
	gameForfeit
	matchForfeit
	playerOut
	help
	putRight
	recorded
	firstChosen
	sheetClosed
)

var effectNames = []string{"point", "second-server", "side-out", "replay", "withheld", "stands", "overruled",
	"game-started", "game-won", "match-won", "ends-due", "ends-changed", "exchanged", "break", "time-in",
	"time-out-charged", "last-time-out", "medical-used", "warning", "foul", "verbal-warning", "penalty-point",
	"game-forfeit", "match-forfeit", "player-out", "help", "put-right", "recorded", "first-chosen", "closed"}

// effects is a set of them.
type effects uint32

func (e *effects) add(which ...effect) {
	for _, w := range which {
		*e |= 1 << w
	}
}

func (e effects) has(w effect) bool { return e&(1<<w) != 0 }

func (e effects) names() []string {
	var out []string
	for i, name := range effectNames {
		if e.has(effect(i)) {
			out = append(out, name)
		}
	}
	return out
}
