package audit_test

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// Every finding is as the catalog has it, is said in the toy language without a
// word of English, and reads back from JSON with the same sentence.
func TestEveryFindingInASecondLanguage(t *testing.T) {
	other := words.Bare()
	said := 0
	for _, c := range audit.FindingCodes() {
		require.NoError(t, c.Meaning().Check())
		if emitted[c] == nil {
			continue
		}
		for _, f := range emitted[c](t) {
			text := f.Text()
			require.NoError(t, text.Check())
			got := other.Say(text)
			require.True(t, strings.HasPrefix(got, "<finding."+string(f.Code)), got)
			for _, english := range []string{" is ", " the ", "want ", " or ", " to ", "which "} {
				require.NotContains(t, got, english, "a word of English")
			}
			data, err := json.Marshal(f)
			require.NoError(t, err)
			var back audit.Finding
			require.NoError(t, json.Unmarshal(data, &back), string(data))
			require.Equal(t, words.English().Say(text), words.English().Say(back.Text()))
			require.Equal(t, f.Key(), back.Key())
			said++
		}
	}
	t.Logf("%d findings said", said)
	require.Greater(t, said, 90)
}

// A finding carries the number of its match's own edition, and none where that
// edition's is not known.
func TestFindingsCiteTheirOwnEdition(t *testing.T) {
	for _, c := range []struct {
		edition format.Edition
		find    string
		code    audit.FindingCode
		clause  format.Clause
		rule    string
	}{
		{format.E2022, "5-2", "retirement-convention", clause.RetirementKept, "12.F.6.a"},
		{format.E2026, "5-2", "retirement-convention", clause.RetirementKept, ""},
		{format.E2025, "9-9", "game-level", clause.GameWon, "12.B"},
		{format.E2026, "9-9", "game-level", clause.GameWon, ""},
	} {
		t.Run(c.edition.String()+" "+string(c.code), func(t *testing.T) {
			m := audit.ReportedMatch{Games: games(t, c.find)}
			if c.code == "retirement-convention" {
				m.Status, m.By = audit.Retired, audit.SideB
			}
			found := newFinals(t, "sideout-doubles-11@"+c.edition.String()).Check(&m, audit.Place{}, nil)
			require.True(t, audit.Has(found, c.code), "%v", brief(found))
			for _, f := range found {
				if f.Code != c.code {
					continue
				}
				require.Equal(t, c.edition, f.Edition)
				require.Equal(t, c.clause, f.Clause)
				source, ok := f.Cited()
				require.True(t, ok)
				require.Equal(t, c.rule, source.Rule)
			}
		})
	}
}

// The clause of time-outs is that of the game's target.
func TestTimeOutsCiteTheirTarget(t *testing.T) {
	for id, want := range map[string]format.Clause{"rally-doubles-7": clause.TimeOutsTo7, "sideout-doubles-11": clause.TimeOutsTo11,
		"sideout-doubles-15": clause.TimeOutsTo15, "sideout-doubles-21": clause.TimeOutsTo21} {
		m := audit.ReportedMatch{Games: games(t, "30-28"), TimeOuts: []audit.Score{{9, 0}}}
		for _, f := range newFinals(t, id).Check(&m, audit.Place{}, nil) {
			if f.Code == "time-outs-too-many" {
				require.Equal(t, want, f.Clause, id)
			}
		}
	}
}

func itoa(n int) string { return strconv.Itoa(n) }
