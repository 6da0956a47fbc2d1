package audit_test

import (
	"fmt"
	"math/rand"
	"os"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
)

// hostile are logs that cost as much as they can for their length.
func hostile(kind string, rng *rand.Rand) string {
	var rows []string
	for range 100 {
		switch kind {
		case "empty rows":
			rows = append(rows, "{}")
		case "wild scores":
			rows = append(rows, fmt.Sprintf(`{"score":[%d,%d]}`, rng.Intn(12), rng.Intn(12)))
		case "wild everything":
			rows = append(rows, fmt.Sprintf(`{"event":"%s","score":[%d,%d],"server":"%s"}`, []string{"A", "B"}[rng.Intn(2)], rng.Intn(12), rng.Intn(12), []string{"A1", "A2", "B1", "B2"}[rng.Intn(4)]))
		}
	}
	return `{"format":"sideout-doubles-11-of3@2026","rows":[` + strings.Join(rows, ",") + `],"complete":true}`
}

// A file of hostile logs costs no more than its length allows; what was left
// out is said. That needs files as long as those of .ci/deep; of short ones
// every log is audited.
func TestCostOfHostileLogs(t *testing.T) {
	most := 6_000
	if n, err := strconv.Atoi(os.Getenv("EVENCOURT_HOSTILE_BYTES")); err == nil {
		most = n
	}
	for _, kind := range []string{"empty rows", "wild scores", "wild everything"} {
		rng := rand.New(rand.NewSource(4))
		effort := audit.NewEffort()
		read, logs, left, began, worst := 0, 0, 0, time.Now(), uint64(0)
		runtime.GC()
		var m runtime.MemStats
		for read < most {
			text := hostile(kind, rng)
			read += len(text)
			effort.Read(len(text))
			_, l, err := audit.ReadLine([]byte(text), 1)
			require.NoError(t, err)
			l.Effort = effort
			out := l.Audit(audit.Place{})
			if logs++; out.Repair != nil && !out.Repair.Exact {
				left++
			}
			runtime.ReadMemStats(&m)
			worst = max(worst, m.HeapInuse)
		}
		t.Logf("%s: %d bytes, %d logs, %d not to the end, %.1f s, %d MB of heap", kind, read, logs, left, time.Since(began).Seconds(), worst>>20)
		if most < 100_000 {
			continue // too short to need the limit
		}
		require.LessOrEqual(t, worst>>20, uint64(64))
		require.NotZero(t, left, "nothing was stopped: the test shows nothing")
	}
}
