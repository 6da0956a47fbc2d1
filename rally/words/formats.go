package words

import "github.com/evencourt/evencourt/format"

// Format is what is played, without its edition: "Doubles, the serving side
// scores, to 11 by 2, two servers a turn, one in the first, best of 3".
func Format(f format.Format) Text {
	g := f.Last
	parts := []Text{New(Code("sides." + g.Sides.String())), New("format.either-side-scores")}
	if g.Scorer == format.ServingSide {
		parts[1].Code = "format.serving-side-scores"
	}
	add := func(c Code, args ...Arg) { parts = append(parts, New(c, args...)) }
	target, margin := Count("target", int(f.Game.Target)), Count("margin", int(g.WinBy))
	if g.Cap != 0 {
		add("format.to-cap", target, margin, Count("cap", int(g.Cap)))
	} else {
		add("format.to", target, margin)
	}
	switch {
	case g.Servers == 2 && g.FirstTurn == 1:
		add("format.two-servers-one-first")
	case g.Servers == 2:
		add("format.two-servers")
	}
	if g.Freeze != format.NoFreeze {
		add("format.freeze", Word("freeze", Code("freeze."+g.Freeze.String())))
	}
	games := Count("games", int(f.Match.Games))
	switch {
	case f.Match.Games == 1:
	case f.Match.PlayAll:
		add("format.all-played", games)
	default:
		add("format.best-of", games)
	}
	if f.Last.Target != f.Game.Target {
		add("format.last-to", Count("target", int(f.Last.Target)))
	}
	return New("format.played", Each("parts", parts...))
}
