package main

import (
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// court draws the players as the referee sees them from the post at the net:
// left and right hand as they are, the near court at the bottom, the server
// and the receiver named as such. Players face the net, so that the near court
// is the right one of the end on the left and the left one of the other.
func (d *desk) court(s rally.State) []string {
	v := d.log.Rules().View(s, d.setup.Left)
	if !v.Playing {
		return nil
	}
	at := map[[2]uint8]string{}
	var loose [2][]string // by hand: those who have no service court
	width := 0            // the same for the whole match, so that the net stands still
	for _, spot := range v.Spots {
		player := words.Arg{Name: "player", Value: d.guide.Person(spot.Person)}
		serves, receives := d.tell("officiate.serves", player), d.tell("officiate.receives", player)
		width = max(width, len([]rune(serves)), len([]rune(receives)))
		text := d.say(words.New("name.of", player))
		switch {
		case spot.Person == v.Server.Person:
			text = serves
		case v.Receiver != nil && spot.Person == v.Receiver.Person:
			text = receives
		}
		if spot.Depth > rally.Far {
			loose[spot.Hand] = append(loose[spot.Hand], text)
			continue
		}
		at[[2]uint8{uint8(spot.Hand), uint8(spot.Depth)}] = text
	}
	var out []string
	named := map[rally.Depth]string{}
	wide := 0
	for _, depth := range []rally.Depth{rally.Far, rally.Near} {
		named[depth] = d.tell(words.Code("depth." + depth.String()))
		wide = max(wide, len([]rune(named[depth])))
	}
	row := func(name, left, right string) {
		row := fmt.Sprintf("%-*s  %s%s | %s", wide, name, left, strings.Repeat(" ", width-len([]rune(left))), right)
		out = append(out, strings.TrimRight(row, " "))
	}
	for _, depth := range []rally.Depth{rally.Far, rally.Near} {
		if len(at) == 0 {
			break
		}
		left := at[[2]uint8{uint8(rally.LeftHand), uint8(depth)}]
		right := at[[2]uint8{uint8(rally.RightHand), uint8(depth)}]
		row(named[depth], left, right)
	}
	for i := range max(len(loose[0]), len(loose[1])) {
		of := func(hand []string) string {
			if i < len(hand) {
				return hand[i]
			}
			return ""
		}
		row("", of(loose[rally.LeftHand]), of(loose[rally.RightHand]))
	}
	return out
}
