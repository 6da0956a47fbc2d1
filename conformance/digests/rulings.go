package digests

import (
	_ "embed" // the published digests of rulings
	"encoding/json"
	"fmt"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

//go:embed rulings.json
var publishedRulings []byte

// RulingsRow is what is published of the rulings of an edition.
type RulingsRow struct {
	Edition   format.Edition `json:"edition"`
	Rulings   Sum            `json:"rulings"`
	Computed  []string       `json:"computed_by"`
	Confirmed []string       `json:"confirmed_by"`
}

// PublishedRulings returns the published digests of rulings, an edition each.
func PublishedRulings() ([]RulingsRow, error) {
	var out []RulingsRow
	if err := json.Unmarshal(publishedRulings, &out); err != nil {
		return nil, fmt.Errorf("digests: rulings.json: %w", err)
	}
	return out, nil
}

// EditionsWithRulings lists the editions in the order of the published digests. An
// edition of pickleball later than the default is published when it becomes it.
func EditionsWithRulings() []format.Edition {
	var out []format.Edition
	for _, d := range []format.Document{format.Pickleball, format.Badminton} {
		for _, e := range format.Editions(d) {
			if d != format.Pickleball || !format.Default.Before(e) {
				out = append(out, e)
			}
		}
	}
	return out
}

// Rulings computes the RULINGS digest of an edition: what comes of every incident
// that can be written down. DIGESTS.md says in which order.
func Rulings(e format.Edition) (Sum, error) {
	shape := "sideout-doubles-11"
	if e.Document() == format.Badminton {
		shape = "badminton-doubles-21-of3"
		if _, err := format.Named(shape, e); err != nil {
			shape = "badminton-doubles-15-of3"
		}
	}
	f, err := format.Named(shape, e)
	if err != nil {
		return Sum{}, err
	}
	return RulingsBy(f)
}

// RulingsBy computes the same by the rules of a format of doubles.
func RulingsBy(f format.Format) (Sum, error) {
	r, err := rally.Compile(f)
	if err != nil {
		return Sum{}, err
	}
	s := r.New(rally.A)
	for _, text := range []string{"gA1B1", "B", "A", "A"} {
		if s, err = played(r, s, text); err != nil {
			return Sum{}, err
		}
	}
	again, err := played(r, s, "B?server")
	if err != nil {
		return Sum{}, err
	}
	sum := newSummer()
	stop, lost, won := rally.EventOf(rally.Stop), rally.RallyTo(rally.B), rally.RallyTo(rally.A)
	for _, e := range []rally.Event{stop, won, lost} {
		sum.incidents(r, s, e, rally.ThirdShot)
	}
	for _, e := range []rally.Event{rally.FaultTo(rally.A, rally.TenSeconds), rally.FaultTo(rally.B, rally.FootFault)} {
		sum.incidents(r, s, e, rally.ToItsEnd)
	}
	for _, e := range []rally.Event{stop, lost} {
		sum.incidents(r, again, e, rally.ThirdShot)
	}
	return sum.sum(), nil
}

func played(r *rally.Rules, s rally.State, text string) (rally.State, error) {
	e, err := rally.ParseEvent(text)
	if err != nil {
		return s, err
	}
	s, _, refusal := r.Apply(s, e)
	if refusal != rally.NotRefused {
		return s, fmt.Errorf("digests: %s is refused: %v", text, refusal)
	}
	return s, nil
}

// incidents adds a line for every incident on an event that is well formed.
func (sum *summer) incidents(r *rally.Rules, s rally.State, e rally.Event, reaches rally.Reach) {
	type answer struct {
		did     rally.Effects
		refusal rally.Refusal
	}
	lines := map[answer][]byte{}
	for mistakes := range 256 {
		for claim := range 9 {
			for n := range 2 * (int(reaches) + 1) * 6 * 4 * 2 {
				i := rally.Incident{Mistakes: rally.Mistakes(mistakes), Claimed: claim > 0, Asked: n&1 == 1, Stopper: rally.Stopper(n >> 1 & 3)}
				if claim > 0 {
					i.Claim = rally.Mistake(claim - 1)
				}
				n >>= 3
				i.Since = rally.Since(n % 6)
				n /= 6
				i.Reach = rally.Reach(n % (int(reaches) + 1))
				i.Misled = n > int(reaches)
				_, did, refusal := r.Apply(s, e.WithIncident(i))
				if refusal == rally.Malformed {
					continue
				}
				line := lines[answer{did, refusal}]
				if line == nil {
					text := did.String()
					if refusal != rally.NotRefused {
						text = "!" + refusal.String()
					}
					line = []byte(text + "\n")
					lines[answer{did, refusal}] = line
				}
				sum.add(line)
			}
		}
	}
}
