package main

import (
	"encoding/json"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// What a referee's phone asks besides: what other devices have entered, and the next
// match.

// entries lists what has been entered, by whichever device.
func entries(c *court, _ *json.Decoder) (fields, *refusal) {
	m, _ := c.now()
	list := []string{}
	m.Read(func(l *rally.Log) {
		for n := 1; n <= l.Len(); n++ {
			list = append(list, l.Entry(n).String())
		}
	})
	return fields{"log": list}, nil
}

// next begins the next match of a court.
func next(c *court, read *json.Decoder) (fields, *refusal) {
	ask := struct {
		Match  int         `json:"match"`
		Format string      `json:"format"`
		Setup  rally.Setup `json:"setup"`
	}{Format: c.rules.Format().ID()}
	err := read.Decode(&ask)
	f, unknown := format.Parse(ask.Format)
	if err != nil || unknown != nil {
		return nil, unread
	}
	rules := rally.MustCompile(f)
	if rules.Validate(ask.Setup) != nil {
		return nil, unread
	}
	return fields{}, c.next(ask.Match, rules, ask.Setup)
}
