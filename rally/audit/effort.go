package audit

// Effort is what may be spent on explaining the logs of one input: steps from
// one hypothesis to the next. A search that has spent it stops and says so:
// see [Repair.Exact]. Many logs share one, so that a file of hostile ones
// costs no more than its length allows: 1 MB of anything takes ten seconds at
// most on the machine this was measured on. Make one with [NewEffort]; the zero
// Effort is spent.
type Effort struct{ left int }

const (
	effortAtStart = 2_000_000 // so that a few logs that are hard are explained to the end
	effortPerByte = 4         // an easy log of a thousand bytes takes some two thousand
	// What is certain is asked of every step of a search again: that many
	// looks count as one step.
	looksPerStep = 100
)

// NewEffort returns the effort that an input begins with.
func NewEffort() *Effort { return &Effort{effortAtStart} }

// Read adds what so many more bytes of the input earn.
func (e *Effort) Read(bytes int) { e.left += effortPerByte * max(bytes, 0) }

func (e *Effort) spend(steps int) { e.left = max(e.left-steps, 0) }
