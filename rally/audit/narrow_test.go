package audit_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// What a date can have been is told by the rest of the row, as far as it tells it.
func TestDatesGoWithTheRestOfTheRow(t *testing.T) {
	columns, err := audit.ReadHeader([]string{"a1", "b1", "game1", "game2", "game3", "winner"})
	require.NoError(t, err)
	finals, err := audit.NewFinals(mustParse("sideout-singles-11-of3"))
	require.NoError(t, err)
	for name, c := range map[string]struct{ row, want string }{
		"the winner tells":             {"9-Nov,11-7,,A", "11-9"},
		"the other winner":             {"9-Nov,7-11,,B", "9-11"},
		"two games without a winner":   {"9-Nov,7-11,,", "9-11"},
		"three games and no winner":    {"9-Nov,11-7,5-11,", "9-11"},
		"the last of three":            {"11-4,5-11,9-Nov,B", "9-11"},
		"two dates":                    {"9-Nov,4-Nov,,A", "11-9; 11-4"},
		"two dates and a game":         {"9-Nov,4-Nov,11-2,", "11-9 or 9-11; 11-4 or 4-11"},
		"two dates, a game, a winner":  {"9-Nov,11-5,4-Nov,B", "9-11; 4-11"},
		"the rest does not hold":       {"9-Nov,11-10,,A", "11-9 or 9-11"},
		"another game cannot be read":  {"9-Nov,x,,A", "11-9 or 9-11"},
		"a score that nothing ends at": {"9-Aug,11-4,,A", "8-9 or 9-8"},
	} {
		t.Run(name, func(t *testing.T) {
			reader := audit.RowReader{Columns: columns}
			m, ok, found := reader.Read(strings.Split("p,q,"+c.row, ","), audit.Place{}, nil)
			require.False(t, ok)
			var got []string
			for _, f := range finals.CheckPart(m, audit.Place{}, found) {
				if f.Code == "score-as-date" {
					_, said, _ := strings.Cut(words.English().Say(f.Text()), "a date: ")
					got = append(got, said)
				}
			}
			require.Equal(t, c.want, strings.Join(got, "; "))
		})
	}
}
