package referee_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

func logOf(t *testing.T, rules *rally.Rules, texts ...string) *rally.Log {
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, text := range texts {
		_, err := log.Enter(text)
		require.NoError(t, err, text)
	}
	return log
}

// Answers that end in the entry that a referee means.
func TestGuidedEntryEndsInTheEntry(t *testing.T) {
	for _, c := range []struct {
		name, id string
		topic    referee.Topic
		answers  []string
		want     string
	}{
		{"wrong server stopped by the referee", "sideout-doubles-11@2026", referee.SomethingWrong, []string{"server", "stopped", "ref", "struck"}, "stop?server,struck,byref"},
		{"a claim that was not so", "sideout-doubles-11@2025", referee.SomethingWrong, []string{"call", "stopped", "B", "returned", "no"}, "stop?~call,returned,byB"},
		{"a wrong call that misled nobody", "sideout-doubles-11@2025", referee.SomethingWrong, []string{"call", "stopped", "A", "struck", "yes", "no"}, "stop?call,struck,byA"},
		{"a plain stop", "sideout-doubles-11@2026", referee.SomethingWrong, []string{"none", "stopped", "ref", "called"}, "stop?called,byref"},
		{"played to its end", "sideout-doubles-11@2019", referee.SomethingWrong, []string{"receiver", "A", "B", "yes"}, "A?receiver,rallyover,byB"},
		{"the rally entered last", "sideout-doubles-11@2017", referee.SomethingWrong, []string{"server", "last", "B", "overtaken", "yes", "no"}, "rule 2 A?server,overtaken,byB"},
		{"server, court and receiver at once", "sideout-doubles-11@2026", referee.SomethingWrong, []string{"server+court+receiver", "stopped", "ref", "returned"}, "stop?server,court,receiver,returned,byref"},
		{"two claims, one of them so", "sideout-doubles-11@2026", referee.SomethingWrong, []string{"Server, court", "stopped", "B", "struck", "no", "yes"}, "stop?court,struck,byB"},
		{"two claims, none of them so", "sideout-doubles-11@2026", referee.SomethingWrong, []string{"server court", "stopped", "B", "struck", "no", "no"}, "stop?~server,struck,byB"},
		{"medical", "sideout-doubles-11@2026", referee.MedicalNeed, []string{"medical-request", "A2"}, "mA2"},
		{"penalty", "sideout-doubles-11@2026", referee.PenaltyGiven, []string{"technical-warning", "B"}, "twB"},
		{"repair", "sideout-doubles-11@2026", referee.WrongEntry, []string{"2", "B"}, "amend 2 B"},
		{"strike", "sideout-doubles-11@2026", referee.WrongEntry, []string{"2", "-"}, "amend 2 -"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g, rules := guide(t, c.id)
			log := logOf(t, rules, "gA1B1", "A")
			for n := range c.answers {
				step, err := g.Guided(log, c.topic, c.answers[:n]...)
				require.NoError(t, err)
				require.False(t, step.Done)
				require.NoError(t, step.Question.Check())
				require.Equal(t, c.topic == referee.MedicalNeed, step.Help)
			}
			step, err := g.Guided(log, c.topic, c.answers...)
			require.Equal(t, c.want, step.Entry.String())
			if step.Entry.Kind != rally.RuleOn { // whose window the edition closes
				require.NoError(t, err)
				require.NotEmpty(t, step.Changes)
			}
			require.Equal(t, 2, log.Len(), "nothing is entered")
		})
	}
}

// Whatever is wrong at once, in every edition, ends in one event that the engine
// takes, or in the refusal that it would meet typed as well.
func TestSeveralMistakesAtOnce(t *testing.T) {
	kinds := []string{"server", "court", "receiver", "rcourt", "call"}
	taken := 0
	for _, e := range format.Editions(format.Pickleball) {
		g, rules := guide(t, "sideout-doubles-11@"+e.String())
		for set := 1; set < 1<<len(kinds); set++ {
			var wrong []string
			for i, kind := range kinds {
				if set>>i&1 != 0 {
					wrong = append(wrong, kind)
				}
			}
			log := logOf(t, rules, "gA1B1", "A")
			answers := []string{strings.Join(wrong, "+"), "stopped", "ref", "returned"}
			step, err := g.Guided(log, referee.SomethingWrong, answers...)
			if step.Question.Code == "guided.asked" {
				step, err = g.Guided(log, referee.SomethingWrong, append(answers, "no")...)
			}
			require.NoError(t, err, "%s %v", e, wrong)
			require.True(t, step.Done)
			require.Equal(t, "stop?"+strings.Join(wrong, ",")+",returned,byref", step.Entry.String())
			_, err = log.Enter(step.Entry.String())
			require.NoError(t, err)
			taken++
		}
	}
	require.Equal(t, 31*len(format.Editions(format.Pickleball)), taken)
	g, rules := guide(t, "sideout-doubles-11@2026")
	for _, answer := range []string{"none+server", "server+nonsense", "+"} {
		step, err := g.Guided(logOf(t, rules, "gA1B1"), referee.SomethingWrong, answer, "stopped")
		require.Error(t, err, answer)
		require.False(t, step.Done)
	}
}

// However questions are answered, every dialogue ends, in an entry of one text.
func TestGuidedEntryAlwaysEnds(t *testing.T) {
	rng := rand.New(rand.NewPCG(14, 27))
	done := map[rally.Kind]int{}
	for n := range 3000 {
		g, rules := guide(t, []string{"sideout-doubles-11-of3@2019", "sideout-singles-11@2022", "rally-doubles-21@2026", "sideout-doubles-11@2026"}[n%4])
		log := rally.NewLog(rules, rules.New(rally.A))
		for range rng.IntN(40) {
			_, _ = log.Apply(somethingRandom(rng))
			_, _ = log.Apply(rally.RallyTo(rally.Side(rng.IntN(2))))
		}
		topic := referee.Topics()[rng.IntN(4)]
		var answers []string
		for {
			step, err := g.Guided(log, topic, answers...)
			if err != nil || step.Done {
				if step.Done {
					done[step.Entry.Kind]++
					back, err := rally.ParseEntry(step.Entry.String())
					require.NoError(t, err)
					require.Equal(t, step.Entry, back)
				}
				break
			}
			require.NoError(t, step.Question.Check())
			require.Less(t, len(answers), 8)
			if len(step.Replies) == 0 && !step.Free {
				break // nothing of the sort may come now
			}
			answer := "1"
			if len(step.Replies) > 0 {
				answer = step.Replies[rng.IntN(len(step.Replies))].Key
			}
			answers = append(answers, answer)
		}
	}
	for _, k := range []rally.Kind{rally.Stop, rally.RallyWon, rally.RuleOn, rally.Amend, rally.MedicalRequest, rally.TechnicalFoul} {
		require.Positive(t, done[k], k)
	}
	_, err := (&referee.Guide{}).Guided(nil, 0)
	require.Error(t, err)
}

// A repair says which entry it changes, which game now ends otherwise, and the
// score: entry 40 of a game won 11-5 goes to the other side.
func TestWhatARepairChanges(t *testing.T) {
	g, rules := guide(t, "rally-singles-11-of3@2026")
	texts := []string{"gA1B1"}
	for range 10 {
		texts = append(texts, "A")
	}
	log := logOf(t, rules, append(texts, "B", "B", "A")...)
	changes, err := g.WouldChange(log, rally.Entry{Kind: rally.Amend, Target: 3, Event: rally.RallyTo(rally.B)})
	require.NoError(t, err)
	require.Contains(t, words.English().SayAll(changes), "The end of a game at entry 14, 11-2, is withdrawn.")
	require.Contains(t, words.English().SayAll(changes), "Games now 0-0 (were 1-0).")
	log = logOf(t, rules, append(texts, "B", "B")...)
	changes, err = g.WouldChange(log, rally.Entry{Kind: rally.Amend, Target: 3, Event: rally.RallyTo(rally.B)})
	require.NoError(t, err)
	require.Equal(t, []string{"Entry 3 was: rally won, Mei-Lin Castellanos. It is: rally won, Rafael Oyelaran.", "Score now: game 1, 9-3 (was game 1, 10-2)."},
		[]string{words.English().Say(changes[0]), words.English().Say(changes[len(changes)-1])})
}
