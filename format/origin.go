package format

// Mark says how well a value is known.
type Mark uint8

// The marks, from the best known to the least.
const (
	Read           Mark = iota + 1 // read in the text of the rule, or in a ruling that quotes it
	Paraphrase                     // read in somebody's paraphrase
	ParaphraseLow                  // read in a summary of low reliability
	CommonPractice                 // a fact of the trade, no source
	Derived                        // follows by logic from values that are known
	Memory                         // from memory; verify before relying on it
	Open                           // no text settles it: a switch with a default
)

var markNames = []string{"", "read", "paraphrase", "paraphrase-low", "common-practice", "derived", "memory", "open"}

// Source says where a clause, or a value of an edition, comes from.
type Source struct {
	Document Document `json:"document"`
	Edition  Edition  `json:"edition,omitzero"` // 0 for a document without editions
	Rule     string   `json:"rule"`             // rule number in that edition, or "" if none is known
	Mark     Mark     `json:"mark"`
	Text     string   `json:"source,omitempty"` // what was read, or "" if nobody wrote it down
}

// Origin returns the source of a switch's value in an edition: that of the
// clause it goes by. It is false if the edition has no such rule.
func Origin(e Edition, s Switch) (Source, bool) {
	r := RulingsOf(e)
	if s == 0 || s >= switchCount || r[s] == 0 {
		return Source{}, false
	}
	return r.Clause(s).Source(e)
}

// OpenPoint is a matter that no text settles, with the reading taken.
type OpenPoint struct {
	Field    string   `json:"field"`    // the switch, or the field of a game
	Editions string   `json:"editions"` // first to last edition in which it is open
	Default  string   `json:"default"`  // the reading taken if nobody sets another
	Readings []string `json:"readings"` // all readings that can be set
	Matter   string   `json:"matter"`   // the question in one sentence
}

// OpenPoints lists every open matter with its default, in a stable order:
// first the switches, then what no switch steers. A matter that stays open from
// one edition to the next at the same default is one point.
func OpenPoints() []OpenPoint {
	var out []OpenPoint
	for s := Switch(1); s < switchCount; s++ {
		for _, document := range []Document{Pickleball, Badminton} {
			var value uint16
			open := false
			for _, e := range Editions(document) {
				r := RulingsOf(e)
				source, ok := Origin(e, s)
				was := open && value == r[s]
				if open = ok && source.Mark == Open; !open {
					continue
				}
				if !was {
					value = r[s]
					out = append(out, OpenPoint{s.String(), e.String(), table[s].text(value), s.Readings(), abouts[s]})
					continue
				}
				last := &out[len(out)-1]
				first, _, _ := Cut(last.Editions, ' ')
				last.Editions = first + " to " + e.String()
			}
		}
	}
	return append(out, formatPoints...)
}

// formatPoints are parameters of named formats that no text gives.
var formatPoints = []OpenPoint{
	{"game.target", "2026", "7 allowed", []string{"7 allowed", "7 refused"}, "whether the rally option may still be shortened to 7 for weather in 2026"},
	{"game.win_by", "fixed courts, partners swap", "2", []string{"1", "2"}, "margin of the club shapes"},
	{"game.target", "partners swap, half-court", "11", []string{"any"}, "target of the club shapes; half-court singles is side-out"},
	{"game.time_outs", "target 7", "2", []string{"any"}, "time-outs in a game to 7: no text gives a number"},
}
