package record_test

import (
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

func column[T any](t *testing.T, v T) {
	t.Helper()
	var in driver.Valuer = record.Column[T]{V: v}
	text, err := in.Value()
	require.NoError(t, err)
	require.True(t, driver.IsValue(text))
	for _, src := range []any{text, []byte(text.(string))} {
		var out record.Column[T]
		require.NoError(t, sql.Scanner(&out).Scan(src))
		require.Equal(t, v, out.V)
	}
	var out record.Column[T]
	require.Error(t, out.Scan("no such thing"))
	require.Error(t, out.Scan(7))
	require.Zero(t, out.V)
}

func TestColumns(t *testing.T) {
	column(t, rally.OfPerson(rally.MedicalRequest, rally.B2))
	column(t, rally.Entry{Kind: rally.Amend, Target: 3, Event: rally.RallyTo(rally.B), Note: "as called"})
	column(t, rally.Point|rally.GameWon)
	column(t, rally.KindSet(1<<rally.TimeOut))
	column(t, rally.B)
	column(t, rally.Between)
	column(t, format.E2025)
	column(t, mustParse(t, "sideout-doubles-11@2026+target=13+cap=15"))
}

// What has no text says what to keep in its place, to a database and as JSON.
func TestValuesWithoutAText(t *testing.T) {
	rules := compile(t, "sideout-doubles-11@2026")
	l := rally.NewLog(rules, rules.New(rally.A))
	own := own(t)
	own.Shape = ""
	for name, c := range map[string]struct {
		column driver.Valuer
		value  any
		says   string
	}{
		"a state": {record.Column[rally.State]{V: l.State()}, l.State(), "keep Rules.Line"},
		"a log":   {record.Column[*rally.Log]{V: l}, l, "keep record.Notation"},
		"rules":   {record.Column[*rally.Rules]{V: rules}, rules, "keep Rules.Format"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := c.column.Value()
			require.ErrorContains(t, err, c.says)
			_, err = json.Marshal(c.value)
			require.ErrorContains(t, err, c.says)
		})
	}
	_, err := record.Column[format.Format]{V: own}.Value()
	require.ErrorContains(t, err, "keep MarshalFormat")
	_, err = record.Column[int]{}.Value()
	require.Error(t, err)
	require.Error(t, new(record.Column[int]).Scan("1"))
}
