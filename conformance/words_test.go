package conformance_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/rally"
)

// neverAccepted are words that every edition refuses: two cases refuse them.
var neverAccepted = map[string]string{"event substitution": "local-rule"}

// Every word of LINE.md is used by two cases at least that are in different
// shapes: events, faults, errors and corrections where they are accepted, every
// effect and every refusal.
func TestEveryWordIsUsedTwice(t *testing.T) {
	uses := map[string][][]string{} // of a word: the shapes of each case that uses it
	for _, k := range rally.Kinds() {
		uses["event "+k.String()] = nil
	}
	for _, f := range rally.Faults() {
		uses["fault "+f.String()] = nil
	}
	for _, w := range conformance.Effects() {
		uses["effect "+w] = nil
	}
	for _, w := range conformance.Refusals() {
		uses["refusal "+w] = nil
	}
	for _, w := range wordsOfErrors(t) {
		uses["error "+w] = nil
	}
	files, err := conformance.Load()
	require.NoError(t, err)
	for _, f := range files {
		for i := range f.Cases {
			c := &f.Cases[i]
			var shapes []string
			for _, entry := range c.Formats {
				shape, _, _ := strings.Cut(entry, "@")
				shapes = append(shapes, shape)
			}
			for word := range wordsOf(c) {
				uses[word] = append(uses[word], shapes)
			}
		}
	}
	for word, cases := range uses {
		differ := slices.ContainsFunc(cases, func(shapes []string) bool { return !slices.Equal(shapes, cases[0]) })
		assert.True(t, differ, "%s: %d cases, all in %v", word, len(cases), slices.Concat(cases...)[:min(1, len(cases))])
	}
	t.Logf("%d words", len(uses))
}

// wordsOf are the words that a case asserts something of.
func wordsOf(c *conformance.Case) map[string]bool {
	words := map[string]bool{}
	for _, s := range c.Steps {
		if s.Refused != "" {
			words["refusal "+s.Refused] = true
		}
		for _, e := range s.Effects {
			words["effect "+e] = true
		}
		for _, text := range strings.Fields(s.Do) {
			e, err := rally.ParseEvent(text)
			kind := "event " + e.Kind().String()
			if err != nil || s.Refused != neverAccepted[kind] {
				continue
			}
			words[kind] = true
			if fault := e.Fault(); fault != rally.NoFault {
				words["fault "+fault.String()] = true
			}
			if _, errors, found := strings.Cut(text, "?"); found && errors != "" {
				for _, w := range strings.Split(errors, ",") {
					words["error "+w] = true
				}
			}
		}
		correction, _, _ := strings.Cut(s.Do+s.Entry, " ")
		if s.Refused == "" && slices.ContainsFunc(rally.Kinds(), func(k rally.Kind) bool { return k.String() == correction }) {
			words["event "+correction] = true // no event, since the log carries it out, but a kind of entry
		}
	}
	return words
}

// wordsOfErrors reads the table of section 4 of LINE.md.
func wordsOfErrors(t *testing.T) []string {
	_, section, found := strings.Cut(conformance.LinePage(), "## 4.")
	require.True(t, found)
	section, _, _ = strings.Cut(section, "## 5.")
	var words []string
	for _, row := range regexp.MustCompile(`(?m)^\| (.*?) \|`).FindAllStringSubmatch(section, -1) {
		for _, w := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(row[1], -1) {
			words = append(words, w[1])
		}
	}
	words = append(words, "~server", "~court", "~receiver", "~rcourt") // between `~side` and `~call`
	require.Greater(t, len(words), 20)
	return words
}
