package rally_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
)

// positionEvents is how many events are tried on positions that a mutated line
// states: EVENCOURT_POSITION_EVENTS, else few.
func positionEvents() int {
	if n, err := strconv.Atoi(os.Getenv("EVENCOURT_POSITION_EVENTS")); err == nil {
		return n
	}
	if testing.Short() {
		return 20_000
	}
	return 200_000
}

// TestMutatedPositions: what is read as a position goes on as one. Lines of
// random logs are changed in a field or two, by what stands there in another
// line or by a letter; from those that are read, random events lead only to
// positions that are read again, with everything that has to hold between them.
func TestMutatedPositions(t *testing.T) {
	ids := everyEdition()
	lines, read, events, taken := 0, 0, 0, 0
	for seed := uint64(0); events < positionEvents(); seed++ {
		id := ids[int(seed*7919%uint64(len(ids)))]
		rules := rally.MustCompile(mustParse(id))
		w := &writer{Rand: rand.New(rand.NewPCG(seed, 5)), log: rally.NewLog(rules, rules.New(rally.A)), ids: ids}
		for range 60 {
			_, _ = w.log.Apply(w.event())
			w.lines = append(w.lines, rules.Line(w.log.State()))
		}
		for range 40 {
			lines++
			line := w.mutated()
			s, err := rules.ParseLine(line)
			if err != nil {
				continue
			}
			read++
			require.Equal(t, line, rules.Line(s), id)
			for range 30 {
				events++
				e := w.event()
				next, did, refusal := rules.Apply(s, e)
				if fault := follows(rules, s, next, did, refusal); fault != "" {
					require.FailNow(t, fault, "seed %d, %s, %s at\n%s\nto\n%s", seed, id, e, rules.Line(s), rules.Line(next))
				}
				if refusal == rally.NotRefused {
					taken++
				}
				s = next
			}
		}
	}
	t.Logf("%d lines, %d of them read, %d events, %d taken", lines, read, events, taken)
	require.Greater(t, read*10, lines, "hardly a mutated line is read")
}

// mutated is a line seen with one or two fields changed.
func (w *writer) mutated() string {
	words := strings.Split(w.pick(w.lines...), " ")
	other := strings.Split(w.pick(w.lines...), " ")
	for range 1 + w.IntN(2) {
		i := 1 + w.IntN(len(words)-1)
		if w.IntN(2) == 0 {
			words[i] = other[i]
			continue
		}
		const letters = "0123456789-ABRLmepxruwg:"
		value := []byte(words[i])
		value[strings.IndexByte(words[i], '=')+1+w.IntN(len(value)-strings.IndexByte(words[i], '=')-1)] = letters[w.IntN(len(letters))]
		words[i] = string(value)
	}
	return strings.Join(words, " ")
}

// follows says what is wrong with a position after an event.
func follows(rules *rally.Rules, s, next rally.State, did rally.Effects, refusal rally.Refusal) string {
	if refusal != rally.NotRefused {
		if next != s || did != 0 {
			return "a refused event changed something"
		}
		return ""
	}
	if as, err := rules.ParseLine(rules.Line(next)); err != nil || as != next {
		return fmt.Sprintf("it leads to no position of its rules: %v", err)
	}
	for side := rally.A; side <= rally.B; side++ {
		most := 1
		if did.Has(rally.Point | rally.PenaltyPoint) {
			most = 2 // by the 1999 text a rally can bring a point and a foul another
		}
		if d := next.Score(side) - s.Score(side); next.Game() == s.Game() && (d > most || d < -1) {
			return "the score has leapt"
		}
		tookBack := did&(rally.Recorded|rally.MatchForfeited) != 0 // where both sides are late the clock forfeits nothing
		if next.Won(side) < s.Won(side) && !tookBack || next.TechnicalFouls(side) < s.TechnicalFouls(side) {
			return "something won or on record is gone"
		}
	}
	if next.Phase() < s.Phase() && s.Phase() == rally.Closed {
		return "a match that is closed goes on"
	}
	return ""
}
