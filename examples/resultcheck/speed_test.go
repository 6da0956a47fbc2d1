package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

// league writes a table of legal matches between so many players, as a league
// exports it.
func league(rows, players int) []byte {
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
		second, third := score(a), ""
		if rng.Intn(3) == 0 {
			second, third = score(!a), score(a)
		}
		player := func(n int) string { return fmt.Sprint("p", 4*rng.Intn(players/4)+n) }
		fmt.Fprintf(&out, "m%d,autumn ladder,%d,2026-10-%02d,%s,%s,%s,%s,%s,%s,%s,%s,played\n", i, 1+rng.Intn(9), 1+rng.Intn(28),
			player(0), player(1), player(2), player(3), score(a), second, third, map[bool]string{true: "A", false: "B"}[a])
	}
	return out.Bytes()
}

// habits are layouts in which clubs keep the same matches: header and what is
// written of each row.
var habits = []struct {
	name, header string
	comma        rune
	times        time.Duration             // what encoding/csv takes, at most
	row          func(c []string) []string // by the columns of league
}{
	{"scores in one cell, semicolons, days with dots", "Datum;Runde;Heim 1;Heim 2;Gast 1;Gast 2;Ergebnis;Sieger", ';', 5, func(c []string) []string {
		day := strings.Split(c[3], "-")
		return []string{day[2] + "." + day[1] + "." + day[0], c[2], c[4], c[5], c[6], c[7], strings.TrimSpace(strings.Join(c[8:11], " ")), map[string]string{"A": "Heim", "B": "Gast"}[c[11]]}
	}},
	{"pairs by name in one cell, the winner too, days with slashes, titles, Windows-1252", "Harbour Lane Courts\n\nDate,Home,Away,Result,Winner", ',', 7, func(c []string) []string {
		day := strings.Split(c[3], "-")
		a, b := "Ren\xe9e Okafor "+c[4]+" / Tomasz Zielinski "+c[5], "Priya Raman "+c[6]+" / Lars Nyberg "+c[7]
		return []string{day[1] + "/" + day[2] + "/" + day[0], a, b, strings.TrimSpace(strings.ReplaceAll(strings.Join(c[8:11], " "), "-", "/")), map[string]string{"A": a, "B": b}[c[11]]}
	}},
}

// asClub writes the matches of a table of league in a layout of a club.
func asClub(table []byte, club int) []byte {
	var out bytes.Buffer
	l := habits[club]
	out.WriteString(l.header + "\n")
	lines := strings.Split(strings.TrimSpace(string(table)), "\n")
	for _, line := range lines[1:] {
		out.WriteString(strings.Join(l.row(strings.Split(line, ",")), string(l.comma)) + "\n")
	}
	return out.Bytes()
}

// A check from end to end takes at most three times what encoding/csv takes to
// read the same file, where the columns are the documented ones, in least times of
// passes that take turns, on one processor, so that what the collector does is
// among them. On a busy machine more passes have to be made until both were left
// alone for one. Columns of a club's own have to be translated besides, and their
// rows are shorter. Of few players the cells repeat, of many they do not.
func TestThreeTimesCSV(t *testing.T) {
	if os.Getenv("EVENCOURT_DEEP") == "" {
		t.Skip("a machine that does nothing else is needed: .ci/deep")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(memory))
	const rows, fewest, most = 300_000, 3, 20
	type measured struct {
		name, file string
		comma      rune
		times      time.Duration
	}
	var layouts []measured
	for _, players := range []int{200, 4_000_000} {
		table := league(rows, players)
		add := func(name string, text []byte, comma rune, times time.Duration) {
			file := filepath.Join(t.TempDir(), "season.csv")
			require.NoError(t, os.WriteFile(file, text, 0o600))
			layouts = append(layouts, measured{fmt.Sprint(name, ", ", players, " players"), file, comma, times})
		}
		add("the documented columns", table, ',', 3)
		for i, l := range habits {
			add(l.name, asClub(table, i), l.comma, l.times)
		}
	}
	for _, c := range layouts {
		took := func(do func()) time.Duration {
			began := time.Now()
			do()
			return time.Since(began)
		}
		alone, whole := time.Hour, time.Hour
		for pass := 1; pass <= most && (pass <= fewest || whole >= c.times*alone); pass++ {
			alone = min(alone, took(func() {
				in, err := os.Open(c.file)
				require.NoError(t, err)
				defer in.Close()
				table := csv.NewReader(in)
				table.Comma, table.ReuseRecord, table.FieldsPerRecord = c.comma, true, -1
				for {
					if _, err := table.Read(); err == io.EOF {
						return
					}
				}
			}))
			whole = min(whole, took(func() {
				require.Less(t, run([]string{c.file}, nil, io.Discard, io.Discard), program.Failed)
			}))
		}
		t.Logf("%s: %v a row, %.2f times encoding/csv", c.name, whole/rows, float64(whole)/float64(alone))
		require.Less(t, whole, c.times*alone)
	}
}
