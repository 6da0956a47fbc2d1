package reference_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
)

// pairs notes which reasons stand against an event behind the one that is given.
func pairs(into map[string]string, m *reference.Match, event, where string) {
	word, reasons := m.Reasons(event)
	for _, second := range reasons[min(1, len(reasons)):] {
		if key := word + ": " + reasons[0] + " before " + second; into[key] == "" {
			into[key] = where + " | " + m.Line() + " | " + event
		}
	}
}

// Wherever two reasons stand against an event at once, some case says which of
// them is given: of each kind of event, and of each two reasons that random
// matches of every family come upon.
func TestOrderOfRefusalsHasCases(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	said := map[string]string{}
	for _, f := range files {
		for _, c := range f.Cases {
			if !slices.ContainsFunc(c.Steps, func(s conformance.Step) bool { return s.Refused != "" && s.Do != "" }) {
				continue
			}
			ids, err := conformance.Expand(c.Formats[0])
			require.NoError(t, err)
			start := conformance.Start{From: c.From}
			if c.Start != nil {
				start = *c.Start
			}
			e := new(twin)
			if _, err := e.Begin(ids[0], start); err != nil {
				continue // an edition that the model has not been taught
			}
			for _, s := range c.Steps {
				if s.Refused != "" && s.Do != "" {
					pairs(said, e.log.Match(), s.Do, c.ID)
				}
				for _, event := range strings.Fields(s.Do) {
					e.Do(event)
				}
				if s.Entry != "" {
					e.Do(s.Entry)
				}
			}
		}
	}

	matches := 60
	if testing.Short() {
		matches = 6
	}
	events := strings.Fields("A B A:net A:absent replay stop A?server,byB ends in ref blood hazard illness dealt dmf abandon resume sheet " +
		"gA1B1 gB1A1 gA2B2 gB2A1 fcA:serve fcB:end fcA:defer fcB:receive fcB:defer lateA:600 lateB:900 lateA:30")
	for _, side := range []string{"A", "B"} {
		for _, word := range strings.Fields("x t vw tw tf gf mf lost back ret wd") {
			events = append(events, word+side)
		}
		for _, number := range []string{"1", "2"} {
			for _, word := range strings.Fields("eq% m% m%+ m%- m%w out% cv% cv%= cw% cw%= cf% cf%= c% ej% ex% sub% aid%") {
				events = append(events, strings.Replace(word, "%", side+number, 1))
			}
		}
	}
	found, random := map[string]string{}, rand.New(rand.NewPCG(27, 11))
	for _, id := range strings.Fields("sideout-doubles-11-of3@1999 sideout-doubles-11-of3@2013 sideout-doubles-11-of3@2018 sideout-doubles-11-of3@2022 " +
		"sideout-doubles-11-of3@2024 sideout-doubles-11-of3@2026 sideout-singles-11-of3@2013 sideout-singles-11-of3@2026 fixed-doubles-21@2013 " +
		"fixed-doubles-21@2026 half-court-singles-11@2026 rally-doubles-11-of3@2025 badminton-doubles-21-of3@badminton-2006 " +
		"table-tennis-doubles-11-of5@table-tennis-2001 beach-doubles-21-of3@beach-2025") {
		f, err := parsed(id)
		require.NoError(t, err)
		for range matches {
			m, err := reference.New(f, []string{"", "A", "B"}[random.IntN(3)], [2]int{1, 1})
			require.NoError(t, err)
			for range 40 {
				for _, event := range events {
					pairs(found, m, event, id)
				}
				event := events[random.IntN(len(events))]
				if random.IntN(3) == 0 {
					event = []string{"A", "B"}[random.IntN(2)]
				}
				m.Do(event)
			}
		}
	}
	require.Greater(t, len(found), 150, "the matches come upon too little")
	missing := 0
	for key, where := range found {
		if said[key] == "" {
			missing++
			t.Errorf("no case says of %s", fmt.Sprintf("%s: %s", key, where))
		}
	}
	t.Logf("%d kinds of events with two reasons in cases, %d in random matches, %d of them without a case", len(said), len(found), missing)
}
