package referee_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// A hand-over carries everything that a record holds, and its line alone takes the
// match over: playing on from it gives the same as playing on in the log.
func TestHandOver(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11-of3@2025")
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, text := range strings.Split("gA1B2 A A B B tA in B twB A A A mA2 mA2+ in stop?server,struck,byref B tB", " ") {
		_, err := log.Enter(text)
		require.NoError(t, err, text)
	}
	h := g.HandOver(log)
	require.Equal(t, "sideout-doubles-11-of3@2025", h.Format)
	require.Equal(t, [2]int{log.State().Score(rally.A), log.State().Score(rally.B)}, h.Snapshot.Score)
	require.Len(t, h.TimeOuts, 2)
	require.Equal(t, "1-2-1", h.TimeOuts[0].Call)
	require.Len(t, h.Replays, 1)
	require.Equal(t, rally.MedicalUsed, h.Snapshot.Medical[rally.A2])
	require.Equal(t, 1, h.Snapshot.Penalties[rally.B].Warnings)
	require.Equal(t, "Imani Okafor", h.Players["A1"])

	text := strings.Join(words.English().SayAll(h.Lines), "\n")
	for _, want := range []string{"Noor Haddad", "Starting servers of this game: Imani Okafor (band) and Lars Nyberg (green cap).",
		"Time-out of Imani Okafor and Tomasz Zielinski at the call 1-2-1", "Medical time of Tomasz Zielinski is used up.", "technical warnings 1", "A break is running: time-out."} {
		require.Contains(t, text, want)
	}

	data, err := json.Marshal(h)
	require.NoError(t, err)
	require.NotContains(t, string(data), "null")

	taken, err := rules.ParseLine(h.Snapshot.Line)
	require.NoError(t, err)
	require.Equal(t, log.State(), taken)
}

// Finals of games played stay when the next game begins; its time-outs are new.
func TestHandOverInTheSecondGame(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11-of3@2025")
	log := rally.NewLog(rules, rules.New(rally.A))
	do := func(texts ...string) {
		for _, text := range texts {
			_, err := log.Enter(text)
			require.NoError(t, err, text)
		}
	}
	do("gA1B1", "tA", "in")
	do(strings.Split(strings.Repeat("A ", 10)+"A", " ")...)
	do("gB1A2", "B")
	h := g.HandOver(log)
	require.Equal(t, [][2]int{{11, 0}}, h.Scores)
	require.Empty(t, h.TimeOuts)
	require.Equal(t, 2, h.Snapshot.Game)
}

// A time-out between games has no score call: it belongs to the coming game.
func TestTimeOutBetweenGames(t *testing.T) {
	g, rules := guide(t, "sideout-singles-11-of3@2025")
	s := play(t, rules, rules.New(rally.A), strings.Split(strings.Repeat("A ", 10)+"A", " ")...)
	say := words.English().SayAll
	s = play(t, rules, s, "tB")
	require.Equal(t, "Write down: time-out of Rafael Oyelaran before game 2, used 1, left 1.", say([]words.Text{g.Now(s)[1].Text})[0])

	log := rally.NewLog(rules, rules.New(rally.A))
	for _, text := range append(strings.Split(strings.Repeat("A ", 10)+"A", " "), "tB", "in", "gB1A1") {
		_, err := log.Enter(text)
		require.NoError(t, err, text)
	}
	require.Contains(t, say(g.HandOver(log).Lines), "Time-out of Rafael Oyelaran before the game.")
}

// A forfeited game is written down as one, and its final is the one that the
// edition reports (N-0 in 2026; to 2025 by the retirement rule, points kept).
func TestForfeitedGameIsNoFinal(t *testing.T) {
	for edition, final := range map[string]string{
		"2026": "Game 1 was forfeited, to be reported Imani Okafor and Tomasz Zielinski 11, Priya Raman and Lars Nyberg 0.",
		"2025": "Game 1 was forfeited, to be reported Imani Okafor and Tomasz Zielinski 11, Priya Raman and Lars Nyberg 1.",
	} {
		t.Run(edition, func(t *testing.T) {
			g, rules := guide(t, "sideout-doubles-11-of3@"+edition)
			log := rally.NewLog(rules, rules.New(rally.B))
			for _, text := range strings.Split("gB1A1 B A gfB", " ") {
				_, err := log.Enter(text)
				require.NoError(t, err, text)
			}
			require.Equal(t, words.Code("duty.write-forfeit"), g.Now(log.State())[0].Text.Code)
			lines := strings.Join(words.English().SayAll(g.HandOver(log).Lines), "\n")
			require.Contains(t, lines, final)
		})
	}
}

// The same where the forfeit decides the match, and not where the last game
// was played to its end.
func TestForfeitThatEndsTheMatchIsNoFinal(t *testing.T) {
	for _, c := range []struct {
		name, format, events string
		code                 words.Code
	}{
		{"forfeited", "sideout-singles-11@2026", "A A gfA", "duty.write-forfeit"},
		{"forfeited between games", "sideout-singles-11-of3@2026", "A A A A A A A A A A A gfB", "duty.write-forfeit"},
		{"played", "sideout-singles-11@2026", "A A A A A A A A A A A", "duty.write-final"},
	} {
		t.Run(c.name, func(t *testing.T) {
			g, rules := guide(t, c.format)
			s := play(t, rules, rules.New(rally.A), strings.Split(c.events, " ")...)
			require.Equal(t, rally.Over, s.Phase())
			require.Equal(t, c.code, g.Now(s)[1].Text.Code)
		})
	}
}

// A log that begins in game 2 knows nothing of game 1, and says so of no other.
func TestHandOverOfALogThatBeginsInTheSecondGame(t *testing.T) {
	g, rules := guide(t, "sideout-singles-11-of3@2025")
	s := play(t, rules, rules.New(rally.A), strings.Split(strings.Repeat("A ", 10)+"A", " ")...)
	log := rally.NewLog(rules, s)
	for range 11 {
		_, err := log.Enter("B")
		require.NoError(t, err)
	}
	said := strings.Join(words.English().SayAll(g.HandOver(log).Lines), "\n")
	require.NotContains(t, said, "Game 1 was")
	require.Contains(t, said, "Game 2 was Mei-Lin Castellanos 0, Rafael Oyelaran 11.")
}

// What the next referee is told can be sent to another device: all of it reads
// back from JSON as it was.
func TestHandOverReadsBack(t *testing.T) {
	for _, events := range [][]string{nil, {"gA1B1", "A", "B", "tA", "in", "twB", "A?server,rallyover", "replay", "mA2"}} {
		g, rules := guide(t, "sideout-doubles-11-of3@2025")
		log := rally.NewLog(rules, rules.New(rally.A))
		for _, e := range events {
			_, refusal := log.Apply(event(t, e))
			require.Equal(t, rally.NotRefused, refusal, e)
		}
		want := g.HandOver(log)
		data, err := json.Marshal(want)
		require.NoError(t, err)
		var got referee.HandOver
		require.NoError(t, json.Unmarshal(data, &got), string(data))
		require.Empty(t, cmp.Diff(want, got))
		for i, line := range got.Lines {
			require.Equal(t, words.English().Say(want.Lines[i]), words.English().Say(line))
		}
	}
}

// So does everything else that a guide answers.
func TestAnswersReadBack(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11-of3@2025")
	s := play(t, rules, rules.New(rally.A), "gA1B1", "A")
	duties, _ := g.After(s, event(t, "B"))
	readsBack(t, duties)
	readsBack(t, g.Moments(s))
	readsBack(t, g.Ruling(s, event(t, "stop?server,returned,byB")))
	readsBack(t, g.Ruling(s, event(t, "A?server,rallyover")))
	readsBack(t, g.Answer(s, rally.A, referee.AskServer, true))
	readsBack(t, g.Refusal(s, event(t, "ends")))
	readsBack(t, g.Plan(rally.A))
	readsBack(t, g.Options(rally.State{}, rally.A))
	readsBack(t, g.Faults())
}

func readsBack[T any](t *testing.T, want T) {
	t.Helper()
	data, err := json.Marshal(want)
	require.NoError(t, err)
	var got T
	require.NoError(t, json.Unmarshal(data, &got), string(data))
	require.Empty(t, cmp.Diff(want, got))
}
