package audit_test

import (
	"fmt"
	"math/rand"
	"testing"

	"github.com/evencourt/evencourt/rally/audit"
)

// One whole match with one error, every column or winners only: the budget is
// 50 ms.
func BenchmarkRepair(b *testing.B) {
	for _, shape := range []string{"sideout-doubles-11-of3", "sideout-doubles-21-of5", "sideout-singles-21-of5", "rally-singles-21-of3", "badminton-singles-21-of3"} {
		for name, c := range map[string]columns{"every-column": everyColumn, "winners": {winner: true, game: true}} {
			for errors := 1; errors <= 2; errors++ {
				b.Run(fmt.Sprintf("%s/%s/%d", shape, name, errors), func(b *testing.B) {
					rng := rand.New(rand.NewSource(1))
					var logs []*audit.RallyLog
					rows := 0
					for range 20 {
						w := play(rules(b, shape), rng, c, 0, nil)
						for range errors {
							i := rng.Intn(len(w.Rows))
							w.Rows[i].Event = flip(w.Rows[i].Event)
						}
						logs = append(logs, w.RallyLog)
						rows += len(w.Rows)
					}
					b.ResetTimer()
					for i := range b.N {
						logs[i%len(logs)].Repair()
					}
					b.ReportMetric(float64(rows)/20, "rows/match")
				})
			}
		}
	}
}

// The literal replay of a clean match.
func BenchmarkAuditClean(b *testing.B) {
	w := play(rules(b, "sideout-doubles-11-of3"), rand.New(rand.NewSource(1)), everyColumn, 0, nil)
	for range b.N {
		if rep := w.Audit(audit.Place{}); len(rep.Findings) != 0 {
			b.Fatal(rep.Findings)
		}
	}
}
