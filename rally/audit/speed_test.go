package audit_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
)

// table is a table of legal matches, best of three to 11, the way a league
// exports it.
func table(rows int) []byte {
	rng := rand.New(rand.NewSource(1))
	score := func(aWins bool) string {
		high, low := 11, rng.Intn(10)
		if rng.Intn(8) == 0 {
			low = 10 + rng.Intn(4)
			high = low + 2
		}
		if aWins {
			return fmt.Sprintf("%d-%d", high, low)
		}
		return fmt.Sprintf("%d-%d", low, high)
	}
	var out bytes.Buffer
	out.WriteString("match,event,round,date,a1,a2,b1,b2,game1,game2,game3,winner,status\n")
	for i := range rows {
		a := rng.Intn(2) == 0
		winner := "B"
		if a {
			winner = "A"
		}
		third := ""
		second := score(a)
		if rng.Intn(3) == 0 {
			second, third = score(!a), score(a)
		}
		fmt.Fprintf(&out, "m%d,autumn ladder,%d,2026-10-%02d,p%d,p%d,p%d,p%d,%s,%s,%s,%s,played\n", i, 1+rng.Intn(9), 1+rng.Intn(28),
			4*rng.Intn(50), 4*rng.Intn(50)+1, 4*rng.Intn(50)+2, 4*rng.Intn(50)+3, score(a), second, third, winner)
	}
	return out.Bytes()
}

// readTable reads a table with encoding/csv and, unless finals is nil, audits it.
func readTable(tb testing.TB, text []byte, finals *audit.Finals) (rows int) {
	r := csv.NewReader(bytes.NewReader(text))
	r.ReuseRecord = true
	header, err := r.Read()
	require.NoError(tb, err)
	columns, err := audit.ReadHeader(header)
	require.NoError(tb, err)
	reader := audit.RowReader{Columns: columns}
	var found []audit.Finding
	for {
		row, err := r.Read()
		if err == io.EOF {
			return rows
		}
		if err != nil {
			tb.Fatal(err)
		}
		rows++
		if finals == nil {
			continue
		}
		m, ok, out := reader.Read(row, audit.Place{Line: rows + 1}, found[:0])
		if !ok {
			tb.Fatal(out)
		}
		if found = finals.Check(m, audit.Place{Line: rows + 1}, out); len(found) != 0 {
			tb.Fatal(found)
		}
	}
}

// What auditing adds to reading the same rows: at most half, and no
// allocation.
func BenchmarkFinals(b *testing.B) {
	rows := 1_000_000
	if testing.Short() {
		rows = 20_000
	}
	text := table(rows)
	f, err := format.Parse("sideout-doubles-11-of3")
	require.NoError(b, err)
	finals, err := audit.NewFinals(f)
	require.NoError(b, err)
	for _, c := range []struct {
		name   string
		finals *audit.Finals
	}{{"csv-alone", nil}, {"audited", finals}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				require.Equal(b, rows, readTable(b, text, c.finals))
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(rows), "ns/row")
		})
	}
}

// A legal row costs no allocation of its own, read and audited.
func TestLegalRowsDoNotAllocate(t *testing.T) {
	rows, err := csv.NewReader(bytes.NewReader(table(500))).ReadAll()
	require.NoError(t, err)
	f, err := format.Parse("sideout-doubles-11-of3")
	require.NoError(t, err)
	finals, err := audit.NewFinals(f)
	require.NoError(t, err)
	columns, err := audit.ReadHeader(rows[0])
	require.NoError(t, err)
	reader := audit.RowReader{Columns: columns}
	var found []audit.Finding
	pass := func() {
		for i, row := range rows[1:] {
			m, ok, out := reader.Read(row, audit.Place{Line: i + 2}, found[:0])
			found = finals.Check(m, audit.Place{Line: i + 2}, out)
			if !ok || len(found) != 0 {
				t.Fatal(found)
			}
		}
	}
	require.Zero(t, testing.AllocsPerRun(10, pass))
}
