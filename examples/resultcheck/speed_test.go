package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/rand"
	"os"
	"runtime"
	"runtime/debug"
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

// A check from end to end takes at most three times what encoding/csv takes to
// read the same rows, in least times of passes that take turns, on one processor,
// so that what the collector does is among them. On a busy machine more passes have
// to be made until both were left alone for one.
func TestThreeTimesCSV(t *testing.T) {
	if os.Getenv("EVENCOURT_DEEP") == "" {
		t.Skip("a machine that does nothing else is needed: .ci/deep")
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(memory))
	const rows, fewest, most = 300_000, 3, 20
	for _, players := range []int{200, 4_000_000} {
		text := league(rows, players)
		took := func(do func()) time.Duration {
			began := time.Now()
			do()
			return time.Since(began)
		}
		alone, whole := time.Hour, time.Hour
		for pass := 1; pass <= most && (pass <= fewest || whole >= 3*alone); pass++ {
			alone = min(alone, took(func() {
				table := csv.NewReader(bytes.NewReader(text))
				table.ReuseRecord = true
				for {
					if _, err := table.Read(); err == io.EOF {
						return
					}
				}
			}))
			whole = min(whole, took(func() {
				require.Less(t, run([]string{"-"}, bytes.NewReader(text), io.Discard, io.Discard), program.Failed)
			}))
		}
		t.Logf("%d players: %v a row, %.2f times encoding/csv", players, whole/rows, float64(whole)/float64(alone))
		require.Less(t, whole, 3*alone)
	}
}
