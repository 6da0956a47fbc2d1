package referee_test

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// due is a second account of what is open, read from the canonical line and
// from the events that hold, none of it from what reminds: the codes, in order.
func due(rules *rally.Rules, start rally.State, held []rally.Event, s rally.State) []string {
	f := rules.Format()
	doubles := f.Game.Sides == format.Doubles
	line := map[string]string{}
	for _, field := range strings.Fields(rules.Line(s)) {
		name, value, _ := strings.Cut(field, "=")
		line[name] = value
	}
	var out []string
	add := func(yes bool, code string) {
		if yes {
			out = append(out, "reminder."+code)
		}
	}
	phase := line["phase"]
	if phase == "closed" {
		return nil
	}
	last := map[string]string{} // what was last said of the help for a player
	for _, e := range held {
		switch e.Kind() {
		case rally.MedicalRequest, rally.HelpArrived:
			last[e.Person().String()] = e.Kind().String()
		}
	}
	players := []string{"A1", "A2", "B1", "B2"}
	for i, p := range players {
		add(line["medical"][i] == 'r' && last[p] != "help-arrived", "help")
	}
	concussed := strings.Contains(line["out"], "c") && phase != "over"
	for i := range players {
		add(line["medical"][i] == 'r', "medical")
		add(line["medical"][i] == 'g', "medical-waits")
		add(line["out"][i] == 'c' && phase != "over", "concussion")
	}
	if strings.HasSuffix(line["result"], "ab") {
		add(true, "abandoned")
		return out
	}
	switch b := line["break"]; {
	case b == "blood" || b == "hazard" || b == "illness":
		add(true, "dealt")
	case b != "-":
		add(true, "time-in")
	}
	fixed := f.Game.Order == format.FixedCourts
	places := func(starters, places string) string {
		if fixed {
			return places
		}
		return starters
	}
	switch phase {
	case "over":
		add(true, "sheet")
		return out
	case "before", "between":
		if concussed {
			break
		}
		_, known := rules.NextFirst(s)
		choosable := false
		for c := rally.ChooseServe; c <= rally.ChooseDefer; c++ {
			for _, side := range []rally.Side{rally.A, rally.B} {
				_, _, refusal := rules.Apply(s, rally.Choose(side, c))
				choosable = choosable || refusal == rally.NotRefused
			}
		}
		add(!known && choosable, "first-choice")
		add(!known && !choosable, "who-first")
		add(line["opens"] != "0:0", "opening-point")
		add(phase == "between" && f.Match.ChangeEnds && line["start"] != "-", "ends-between")
		add(doubles && known, places("starters", "places"))
	case "play":
		absent := false
		for i, p := range players {
			absent = absent || line["out"][i] == 'x' && !concussed && (strings.HasPrefix(line["serve"], p) || line["receive"] == p)
		}
		add(absent, "absent")
		isRally := func(e rally.Event) bool { return e.Kind() <= rally.Stop }
		at, assumed := start, false
		for _, e := range held {
			next, did, _ := rules.Apply(at, e)
			if at = next; did.Has(rally.GameStarted) {
				assumed = isRally(e)
			} else if isRally(e) {
				assumed = false
			}
		}
		add(doubles && assumed, places("starters-assumed", "places-assumed"))
		add(strings.Contains(line["due"], "e"), "ends")
		add(strings.Contains(line["due"], "p"), "put-right")
		serves, _ := s.Serving()
		for _, side := range []rally.Side{rally.A, rally.B} {
			_, did, refusal := rules.Apply(s, rally.RallyTo(side))
			if side == serves || refusal != rally.NotRefused { // it is not put to the test now
				add(f.Of(s.Game()).Scorer == format.EitherSide && rules.Frozen(s, side), "frozen")
			} else {
				add(did.Has(rally.Withheld), "frozen")
			}
		}
	}
	used := strings.Split(line["timeouts"], ":")
	for _, n := range used {
		add(n != "0" && n == string(rune('0'+rules.TimeOutsAllowed(s))), "last-time-out")
	}
	return out
}

// Nothing due is ever missing and nothing is shown that is not due, in matches
// with breaks, penalties, medical needs and corrections. What settles a reminder
// is accepted, and settles it.
func TestRemindersInAnyMatch(t *testing.T) {
	matches := 1000
	switch {
	case os.Getenv("EVENCOURT_DEEP") != "":
		matches = 20_000
	case testing.Short():
		matches = 100
	}
	rng := rand.New(rand.NewPCG(20261127, 14))
	formats := ownFormats()
	for _, id := range everyFormat() {
		f, err := format.Parse(id)
		require.NoError(t, err)
		formats = append(formats, f)
	}
	seen := map[words.Code]bool{}
	codes := map[string]int{}
	entries := 0
	for m := range matches {
		rules := rally.MustCompile(formats[m%len(formats)])
		g := referee.New(rules, setupFor(rules.Format()))
		start := []rally.State{{}, rules.New(rally.A), rules.New(rally.B)}[rng.IntN(3)]
		log := rally.NewLog(rules, start)
		var held, undone []rally.Event
		for n := 0; n < 250 && log.State().Phase() != rally.Closed; n++ {
			reminders := g.Reminders(log, -1)
			var got []string
			for _, r := range reminders {
				whole(t, seen, r.Text)
				got = append(got, string(r.Text.Code))
				codes[string(r.Text.Code)]++
			}
			require.Equal(t, due(rules, start, held, log.State()), got, "%s after %v", rules.Line(log.State()), held)
			if len(reminders) > 0 && rng.IntN(4) == 0 {
				settle(t, g, log, reminders[rng.IntN(len(reminders))], rng)
			}
			switch {
			case rng.IntN(12) == 0:
				if at, ok := log.Undoable(); ok {
					e, _ := log.Holds(at)
					_, err := log.Do(rally.Entry{Kind: rally.Undo})
					require.NoError(t, err)
					held, undone = held[:len(held)-1], append(undone, e)
				}
				continue
			case rng.IntN(12) == 0 && len(undone) > 0:
				_, err := log.Do(rally.Entry{Kind: rally.Redo})
				require.NoError(t, err)
				held, undone = append(held, undone[len(undone)-1]), undone[:len(undone)-1]
				continue
			}
			e := rally.RallyTo(rally.Side(rng.IntN(2)))
			b, _ := log.State().Break()
			if rng.IntN(4) == 0 {
				e = somethingRandom(rng)
			} else if b >= rally.BloodBreak && rng.IntN(3) == 0 {
				e = rally.OfPerson(rally.MedicalRequest, rally.Person(rng.IntN(4)))
			} else if len(reminders) > 0 && rng.IntN(3) == 0 {
				if all := reminders[rng.IntN(len(reminders))].Settles; len(all) > 0 {
					if one := all[rng.IntN(len(all))]; !one.Corrects() {
						e = one.Event
					}
				}
			}
			if _, refusal := log.Apply(e); refusal == rally.NotRefused {
				held, undone = append(held, e), nil
				entries++
			}
		}
	}
	t.Logf("%d matches, %d entries, reminders %v", matches, entries, codes)
	for _, e := range words.Codes() {
		if code := string(e.Code); !testing.Short() && strings.HasPrefix(code, "reminder.") && !slices.Contains([]string{"reminder.notice", "reminder.clock-over"}, code) {
			require.Positive(t, codes[code], code)
		}
	}
}

// settle makes one of the entries that a reminder names in a copy of the log.
func settle(t *testing.T, g *referee.Guide, log *rally.Log, r referee.Reminder, rng *rand.Rand) {
	if len(r.Settles) == 0 {
		return
	}
	rules, start := log.Initial()
	trial := rally.NewLog(rules, start)
	for n := 1; n <= log.Len(); n++ {
		_, err := trial.Do(log.Entry(n))
		require.NoError(t, err)
	}
	by := r.Settles[rng.IntN(len(r.Settles))]
	_, err := trial.Do(by)
	require.NoError(t, err, by.String())
	if k := by.Event.Kind(); k == rally.FirstChoice && by.Event.Choice() >= rally.ChooseEnd || r.Text.Code == "reminder.absent" {
		return // the choice goes on with the other side; the next call may be due to the same player
	}
	for _, left := range g.Reminders(trial, -1) {
		require.False(t, left.Text.Equal(r.Text), "%s does not settle %s", by, words.English().Say(r.Text))
	}
}

// The clock reminds from the notice of the edition on (10.A of 2025: a time-out
// of 60 seconds, notice 15 seconds before its end), and says when it is over.
func TestReminderOfTheClock(t *testing.T) {
	g, rules := guide(t, "sideout-doubles-11@2025")
	log := rally.NewLog(rules, rules.New(rally.A))
	for ms, text := range []string{"gA1B1", "A", "tB"} {
		_, err := log.Enter(text)
		require.NoError(t, err)
		log.Stamp(int64(ms) * 1000)
	}
	for _, c := range []struct {
		ms   int64
		want string
	}{
		{2_000, ""}, {46_999, ""}, {47_000, "Time-out: 15 seconds left. Give notice."}, {61_500, "Time-out: 1 second left. Give notice."},
		{62_000, "Time-out: the time has been over for 0 seconds."}, {70_000, "Time-out: the time has been over for 8 seconds."},
	} {
		list := g.Reminders(log, c.ms)
		got := ""
		if last := list[len(list)-1]; strings.HasPrefix(words.English().Say(last.Text), "Time-out: ") {
			got = words.English().Say(last.Text)
			require.Equal(t, "in", last.Settles[0].String())
		}
		require.Equal(t, c.want, got, c.ms)
	}
}

// Every refusal says what to do instead.
func TestEveryRefusalSaysWhatToDo(t *testing.T) {
	for _, e := range words.Codes() {
		if name, ok := strings.CutPrefix(string(e.Code), "refusal."); ok && len(e.Params) == 0 && name != "accepted" && name != "nothing" {
			_, known := words.Lookup(words.Code("instead." + name))
			require.True(t, known, name)
		}
	}
	g, rules := guide(t, "sideout-doubles-11-of3@2026")
	log := rally.NewLog(rules, rules.New(rally.A))
	say := func(text string) string {
		e, err := rally.ParseEvent(text)
		require.NoError(t, err)
		lines := g.Refusal(log.State(), e)
		return strings.Join(words.English().SayAll(lines[:2]), " ")
	}
	for _, text := range []string{"gA1B1", "tA", "tA"} {
		_, err := log.Enter(text)
		require.NoError(t, err)
	}
	require.Contains(t, say("tA"), "Play on: asking costs nothing.")
	require.Contains(t, say("xA"), "Play on: places follow the score.")
	require.Contains(t, say("sheet"), "the match is not over")
	require.Contains(t, say("gA1B1"), "take back the entry that began it (undo)")
	log.Reset(rules.New(rally.A))
	_, err := log.Enter("lateA:900")
	require.NoError(t, err)
	require.Contains(t, say("lateA:900"), "the other one is entered, and its entry takes the forfeit back.")
	_, err = log.Enter("lateB:900")
	require.NoError(t, err)
	require.Equal(t, rally.Before, log.State().Phase())
}
