package intake_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
)

// rallyTables hold one game, A A B A, as different sources write it down.
var rallyTables = map[string]string{
	"as documented":      "match,first,n,winner,server,receiver,call,score,ms\nL1,A,1,A,A1,B1,0-0-2,1-0,1000\nL1,A,2,A,A1,B2,1-0-2,2-0,2000\nL1,A,3,B,A1,B1,2-0-2,2-0,3000\nL1,A,4,A,B1,A1,0-2-1,2-0,4000\n",
	"sides and points":   "Match ID;Rally;Serving team;Point to;Home score;Away score;Court;Time\nL1;1;home;home;1;0;3;0:01\nL1;2;Home;Home;2;0;3;0:02\nL1;3;home;away;2;0;3;0:03\nL1;4;away;home;2;0;3;0:04\n",
	"names":              "match\ta1\ta2\tb1\tb2\tserver\treceiver\twinner\nL1\tImani Okafor\tTomasz Zielinski\tPriya Raman\tLars Nyberg\tImani Okafor\tPriya Raman\tHome\nL1\tImani Okafor\tTomasz Zielinski\tPriya Raman\tLars Nyberg\tOkafor\tLars Nyberg\tOkafor\nL1\tImani Okafor\tTomasz Zielinski\tPriya Raman\tLars Nyberg\timani okafor\tPRIYA RAMAN\tRaman\nL1\tImani Okafor\tTomasz Zielinski\tPriya Raman\tLars Nyberg\tPriya Raman\tImani Okafor\tHome\n",
	"a title, and calls": "Court 3\n\nrally no,served by,called,won by\n1,A1,0 - 0 - 2,a\n2,A1,1-0-2,a\n3,A1,2 0 2,b\n4,B1,0-2-1,a\n",
	"taken back":         "match,n,serving,winner,undo,timestamp\nL1,1,A,A,,2026-09-12T18:30:00Z\nL1,2,A,B,,2026-09-12T18:30:20Z\nL1,3,,,yes,2026-09-12T18:30:21Z\nL1,4,A,A,,2026-09-12 18:30:40\nL1,5,A,B,no,2026-09-12T18:31:00\nL1,6,B,A,,2026-09-12T18:31:20Z\n",
}

func TestTablesOfRallies(t *testing.T) {
	for name, text := range rallyTables {
		t.Run(name, func(t *testing.T) {
			table, err := intake.New(strings.NewReader(text), intake.Options{Format: "sideout-doubles-11"}, nil)
			require.NoError(t, err)
			require.True(t, table.Rallies())
			logs, matches, found, err := table.Logs(audit.Place{})
			require.NoError(t, err)
			require.Empty(t, found)
			require.Len(t, logs, 1)
			require.Len(t, matches, 1)
			report := logs[0].Audit(audit.Place{})
			if name == "taken back" {
				require.Len(t, report.Findings, 1)
				require.Equal(t, audit.FindingCode("log-undo"), report.Findings[0].Code)
			} else {
				require.Empty(t, report.Findings, "%+v", report.Findings)
			}
			s := report.Rerun.State
			require.Equal(t, [2]int{2, 0}, [2]int{s.Score(rally.A), s.Score(rally.B)})
			side, _ := s.Serving()
			require.Equal(t, rally.B, side)
		})
	}
	// A table of results is none, whatever its columns are called.
	for name, text := range layouts {
		table, err := intake.New(strings.NewReader(text), intake.Options{Format: "sideout-doubles-11-of3"}, nil)
		require.NoError(t, err, name)
		require.False(t, table.Rallies(), name)
	}
}

// A cell that cannot be read costs only what it holds; matches that are mixed are
// told apart; a column can be mapped.
func TestCellsOfRallies(t *testing.T) {
	text := "match,rally,server,winner,score,call,ms,receiver,event,game\nL1,1,A1,A,1-0,,,,,\nL2,1,B1,B,0-1,,,,,\nL1,2,A1,A,2,,,,,\nL1,x,A9,C,,1-2-3-4,soon,A7,what,99\nL2,2,B1,B,0-2,,,,,\n"
	table, err := intake.New(strings.NewReader(text), intake.Options{Format: "sideout-doubles-11"}, nil)
	require.NoError(t, err)
	logs, _, found, err := table.Logs(audit.Place{})
	require.NoError(t, err)
	require.Len(t, logs, 2)
	require.Len(t, logs[0].Rows, 3)
	require.Len(t, logs[1].Rows, 2)
	fields := map[string]int{}
	for _, f := range found {
		require.Equal(t, audit.FindingCode("field-unreadable"), f.Code)
		fields[f.Field] = f.Line
	}
	require.Equal(t, map[string]int{"score": 4, "n": 5, "server": 5, "winner": 5, "call": 5, "ms": 5, "receiver": 5, "event": 5, "game": 5}, fields)

	mapping := intake.Mapping{}
	require.NoError(t, mapping.Add("who = server"))
	require.NoError(t, mapping.Add("gets it = winner"))
	table, err = intake.New(strings.NewReader("who,gets it\nA1,A\nA1,A\n"), intake.Options{Format: "sideout-doubles-11", Mapping: mapping}, nil)
	require.NoError(t, err)
	logs, _, found, err = table.Logs(audit.Place{})
	require.NoError(t, err)
	require.Empty(t, found)
	require.Empty(t, logs[0].Audit(audit.Place{}).Findings)
	_, _, found, err = func() ([]*audit.RallyLog, []*audit.ReportedMatch, []audit.Finding, error) {
		table, err := intake.New(strings.NewReader("match,server,winner\nL1,A1,A,1\nL1,A1\n"), intake.Options{Format: "triples"}, nil)
		require.NoError(t, err)
		return table.Logs(audit.Place{})
	}()
	require.NoError(t, err)
	var codes []audit.FindingCode
	for _, f := range found {
		codes = append(codes, f.Code)
	}
	require.Equal(t, []audit.FindingCode{"format-unknown", "row-unreadable", "row-unreadable"}, codes)
}
