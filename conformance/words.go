package conformance

import "slices"

// The words stand here once more, beside LINE.md, so that the linter needs no
// engine; a test holds the two against each other.

var effects = []string{
	"point", "second-server", "side-out", "replay", "withheld", "stands", "overruled",
	"game-started", "game-won", "match-won", "ends-due", "ends-changed", "exchanged", "break", "time-in",
	"time-out-charged", "last-time-out", "medical-used", "warning", "foul", "verbal-warning", "penalty-point",
	"game-forfeit", "match-forfeit", "player-out", "help", "put-right", "recorded", "first-chosen", "closed",
}

var refusals = []string{
	"malformed", "log-only", "closed", "over", "abandoned", "no-such-player", "not-in-edition", "local-rule",
	"not-started", "not-in-play", "in-play", "no-first-server", "first-settled", "wrong-side-first", "not-its-choice",
	"undealt", "awaiting-medical", "in-break", "no-break", "none-left", "medical-used", "no-request", "player-out",
	"nobody-left", "absent-due", "not-due", "not-fixed", "not-now", "second-verbal", "out-of-window", "most-points",
}

// Effects lists the effects an accepted event can have, in the order in which
// cases name them.
func Effects() []string { return slices.Clone(effects) }

// Refusals lists the refusals, in the order in which they take precedence.
func Refusals() []string { return slices.Clone(refusals) }
