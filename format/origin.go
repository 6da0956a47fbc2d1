package format

import "github.com/evencourt/evencourt/format/clause"

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
	Field    string   `json:"field"`    // the switch, the field of a game, or the clause where nothing sets it
	Clause   Clause   `json:"clause"`   // what the reading taken goes by
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
		point := OpenPoint{s.String(), clause.None, "", "", s.Readings(), abouts[s]}
		out = append(out, point.inEditions(func(e Edition) (Clause, string) {
			r := RulingsOf(e)
			return r.Clause(s), r.Text(s)
		})...)
	}
	for _, point := range otherPoints {
		if clauses[point.Clause].stands[0].from == clubs {
			out = append(out, point)
			continue
		}
		out = append(out, point.inEditions(func(Edition) (Clause, string) { return point.Clause, point.Default })...)
	}
	return out
}

// inEditions returns the point once for each run of editions in which it is
// open at the same default.
func (p OpenPoint) inEditions(taken func(Edition) (Clause, string)) []OpenPoint {
	var out []OpenPoint
	for _, document := range Documents() {
		running := false
		for _, e := range Editions(document) {
			was := running
			c, reading := taken(e)
			source, stands := c.Source(e)
			if running = stands && source.Mark == Open; !running {
				continue
			}
			if was && p.Clause == c {
				last := &out[len(out)-1]
				first, _, _ := Cut(last.Editions, ' ')
				last.Editions = first + " to " + e.String()
				continue
			}
			p.Clause, p.Default, p.Editions = c, reading, e.String()
			out = append(out, p)
		}
	}
	return out
}

// otherPoints are open and have no switch: a format of one's own sets what is a
// field of a game, and nothing sets the rest.
var otherPoints = []OpenPoint{
	{"game.target", clause.RallyTo7, "", "7 allowed", []string{"7 allowed", "7 refused"}, "Whether the rally option may still be shortened to 7 for weather."},
	{"game.win_by", clause.ClubMargins, "fixed courts, partners swap", "2", []string{"1", "2"}, "Margin of the club shapes."},
	{"game.target", clause.ClubMargins, "partners swap, half-court", "11", []string{"any"}, "Target of the club shapes; half-court singles is side-out."},
	{"end-change-latch", clause.EndChangeLatch, "", "latched", []string{"latched"}, "Whether a point taken off after the end change fell due cancels or repeats it."},
	{"wrong-side-stopped", clause.WrongSideStopped, "", "replay", []string{"replay"}, "What becomes of a stopped rally that the wrong side served."},
	{"double-forfeit", clause.DoubleForfeit, "", "no winner", []string{"no winner"}, "Who wins where both sides forfeit."},
	{"game.target", clause.BadmintonGame, "", "15 by two, 21 the last", []string{"15", "21"}, "Whether badminton goes over to games to 15 as proposed for 2027."},
}
