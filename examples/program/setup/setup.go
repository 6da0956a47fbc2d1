// Package setup fills in what is known of a match field by field, as it is typed
// or comes from a page, and has one for examples. It links nothing but the core, so that a browser build
// carries no more.
package setup

import "github.com/evencourt/evencourt/rally"

// Set fills in one field of a set-up and reports whether there is such a field,
// and it can hold the value: "match", "court", "referee", "began"; "left" and
// "first" with a side; "A" and "B", what a side is called; of a player "A1" (or
// "A1.name"), "A1.mark" and "A1.id".
func Set(u *rally.Setup, field, value string) bool {
	switch field {
	case "match":
		u.Match = value
	case "court":
		u.Court = value
	case "referee":
		u.Referee = value
	case "began":
		u.Began = value
	case "left":
		return u.Left.UnmarshalText([]byte(value)) == nil
	case "first":
		var first rally.Side
		if first.UnmarshalText([]byte(value)) != nil {
			return false
		}
		u.First = &first
	default:
		return setSide(u, field, value)
	}
	return true
}

func setSide(u *rally.Setup, field, value string) bool {
	var side rally.Side
	if side.UnmarshalText([]byte(field)) == nil {
		u.Sides[side].Name = value
		return true
	}
	var p rally.Person
	if len(field) < 2 || p.UnmarshalText([]byte(field[:2])) != nil {
		return false
	}
	switch player := &u.Sides[p.Side()].Players[p.Player()-1]; field[2:] {
	case "", ".name":
		player.Name = value
	case ".mark":
		player.Mark = value
	case ".id":
		player.ID = value
	default:
		return false
	}
	return true
}
