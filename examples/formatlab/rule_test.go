package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

func TestRuleFindsClauses(t *testing.T) {
	for _, test := range []struct {
		name, line string
		holds      []string
		lacks      []string
	}{
		{"a clause by its id", "rule order-replay", []string{"order-replay\n", "2023-08", "4.B.9.a", "2026", "order-error=replay-if-stopped", "c1103"}, []string{"1 clauses"}},
		{"of one edition", "rule 2025 order-replay", []string{"2025 ", "rule-change submission 1017"}, []string{"2023-08"}},
		{"words of the sentence, in any case", "rule Referee UNASKED", []string{"referee-corrects"}, []string{"order-replay"}},
		{"what clubs play", "rule freeze-each", []string{"every edition"}, []string{"1999 to"}},
		{"a number as a reading", "rule serve-seconds ten-seconds", []string{"serve-seconds=10"}, nil},
		{"what an audit finds by it", "rule receivers-stay", []string{"log-receiver-wrong"}, nil},
		{"only what a setting brings", "rule late-side-stands", []string{"It stands in no edition by itself"}, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			text := ask(t, test.line)
			for _, want := range test.holds {
				require.Contains(t, text, want)
			}
			for _, other := range test.lacks {
				require.NotContains(t, text, other)
			}
		})
	}
}

// What rule prints as JSON is the table of clauses, edition by edition.
func TestRuleAsJSON(t *testing.T) {
	all := asJSON[[]knownClause](t, "rule -json")
	require.Len(t, all, len(format.Clauses()))
	for _, k := range all {
		require.NotEmpty(t, k.Sentence, "%s", k.Clause)
		for _, e := range format.Editions(format.Pickleball) {
			want, stands := k.Clause.Source(e)
			said := format.Source{}
			for _, s := range k.Stands {
				if s.From == 0 || s.From <= e && e <= s.To {
					said = s.Source
				}
			}
			want.Edition, said.Edition = 0, 0
			require.Equal(t, stands, said.Document != 0, "%s in %s", k.Clause, e)
			require.Equal(t, want, said, "%s in %s", k.Clause, e)
		}
	}
}
