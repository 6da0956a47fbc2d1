package rally

import "github.com/evencourt/evencourt/serviceorder"

// Hand is the referee's left or right hand, seen from the post at the net.
type Hand uint8

// The hands.
const (
	LeftHand Hand = iota
	RightHand
)

// Other returns the other hand.
func (h Hand) Other() Hand { return h ^ 1 }

var handNames = []string{"left", "right"}

// Depth is near to the referee's post or far from it, along the net.
type Depth uint8

// The depths.
const (
	Near Depth = iota
	Far
	NoDepth // the sport has no service courts, or nobody says in which one somebody is
)

var depthNames = []string{"near", "far", "none"}

// Spot is where one player stands, seen from the referee's post.
type Spot struct {
	Person Person `json:"person"`
	Court  Court  `json:"court"`
	Hand   Hand   `json:"hand"`
	Depth  Depth  `json:"depth"`
}

// View is the court as the referee sees it from the post.
type View struct {
	Hands    [2]Hand `json:"hands"`              // by side: on which hand it stands
	Playing  bool    `json:"playing"`            // whether a serve is next; there is nothing more if not
	Server   *Spot   `json:"server,omitempty"`   //
	Receiver *Spot   `json:"receiver,omitempty"` // nobody where either partner may
	Spots    []Spot  `json:"spots,omitempty"`    // everybody, A first, right court first; by number where nobody has a court
}

// Depth returns whether a court is near to the referee or far. Players face
// the net, so the right court is the far one for the side on the referee's
// right and the near one for the side on his left (common practice; it follows
// from the geometry).
func (h Hand) Depth(c Court) Depth {
	if c > Left {
		return NoDepth
	}
	if (h == RightHand) == (c == Right) {
		return Far
	}
	return Near
}

// unplaced are the spots where not everybody has a court of his own.
func (r *Rules) unplaced(spots []Spot, p *Places, hands [2]Hand) []Spot {
	for who := A1; who <= B2; who++ {
		court := serviceorder.NoCourt
		switch {
		case who == p.Server:
			court = p.Court
		case !r.doubles && who.Player() == 2:
			continue
		}
		h := hands[who.Side()]
		spots = append(spots, Spot{who, court, h, h.Depth(court)})
	}
	return spots
}

// View returns the court as seen from the referee's post, left being the side
// on his left at the first serve of the match. It is kept through side-outs
// and end changes.
func (r *Rules) View(s State, left Side) View { return r.viewInto(nil, new([2]Spot), s, left) }

// viewInto is View in memory that is given.
func (r *Rules) viewInto(spots []Spot, both *[2]Spot, s State, left Side) View {
	var v View
	hand := Hand(left)      // side A's hand at the start
	hand ^= Hand(s.swaps()) // every change of ends turns it
	v.Hands = [2]Hand{hand, hand.Other()}
	if s.Phase() != Playing {
		return v
	}
	p := r.Places(s)
	spot := func(who Person, c Court) Spot {
		h := v.Hands[who.Side()]
		return Spot{who, c, h, h.Depth(c)}
	}
	*both = [2]Spot{spot(p.Server, p.Court), spot(p.Receiver, p.Receives)}
	v.Playing, v.Server, v.Receiver = true, &both[0], &both[1]
	if p.AnyReceives {
		v.Receiver = nil
	}
	if !p.Known() {
		v.Spots = r.unplaced(spots, &p, v.Hands)
		return v
	}
	for side := A; side <= B; side++ {
		if !r.doubles {
			spots = append(spots, spot(p.At[side][0], p.Standing[side]))
			continue
		}
		spots = append(spots, spot(p.At[side][Right], Right), spot(p.At[side][Left], Left))
	}
	v.Spots = spots
	return v
}
