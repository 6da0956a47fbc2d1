package referee_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
)

func TestLanguageRefusesGaps(t *testing.T) {
	number := referee.EnglishNumber
	for _, c := range []struct {
		name   string
		spoil  func(map[referee.Code]string)
		code   referee.Code
		reason string
	}{
		{"code without a text", func(m map[referee.Code]string) { delete(m, "duty.help") }, "duty.help", "has no text"},
		{"empty text", func(m map[referee.Code]string) { m["duty.help"] = " " }, "duty.help", "has no text"},
		{"text without a code", func(m map[referee.Code]string) { m["duty.dance"] = "dance" }, "duty.dance", "no such code"},
		{"unknown argument", func(m map[referee.Code]string) { m["duty.call"] = "{score}" }, "duty.call", `has no argument "score"`},
		{"unknown form", func(m map[referee.Code]string) { m["call.two"] = "{serving:roman}" }, "call.two", `no such form of an argument: "roman"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := referee.EnglishTable()
			c.spoil(table)
			_, err := referee.NewLanguage("en-x", table, number)
			var at *referee.LanguageError
			require.ErrorAs(t, err, &at)
			require.Equal(t, c.code, at.Code)
			require.Equal(t, c.reason, at.Reason)
		})
	}
	_, err := referee.NewLanguage("en-x", referee.EnglishTable(), nil)
	require.ErrorContains(t, err, "nothing spells its numbers")
}

func TestEveryCodeHasOneEntry(t *testing.T) {
	seen := map[referee.Code]bool{}
	for _, e := range referee.Codes() {
		require.False(t, seen[e.Code], "%s twice", e.Code)
		seen[e.Code] = true
		text := referee.EnglishTable()[e.Code]
		for _, name := range e.Args {
			require.Contains(t, text, "{"+name, "English drops an argument of %s", e.Code)
		}
	}
	require.Len(t, referee.EnglishTable(), len(seen))
	require.Equal(t, "x-toy", toy.Tag())
}

func TestSayIsTotal(t *testing.T) {
	say := referee.English().Say
	require.Equal(t, "[no.such]", say(referee.Text{Code: "no.such"}))
	require.Equal(t, `Say "-".`, say(referee.Text{Code: "duty.say-result"}))
	deep := referee.Text{Code: "result.point"}
	for range 100 {
		deep = referee.Text{Code: "kinds.one", Args: []referee.Arg{{Name: "kind", Value: deep}}}
	}
	require.Equal(t, "[kinds.one]", say(deep))
	args := []referee.Arg{{Name: "kind"}}
	args[0].Value = referee.Text{Code: "kinds.one", Args: args} // a text within itself
	require.Equal(t, "[kinds.one]", say(referee.Text{Code: "kinds.one", Args: args}))
}

func TestCallsInWords(t *testing.T) {
	say := referee.English().Say
	g, rules := guide(t, "sideout-doubles-21@2025")
	s := play(t, rules, rules.New(rally.A), "gA1B1")
	require.Equal(t, "zero, zero, two", say(g.Call(s)))
	require.Equal(t, "zero, zero, start", say(g.StartCall(s)))
	s = play(t, rules, s, "A", "A", "B", "B", "A")
	require.Equal(t, "one, two, two", say(g.Call(s)))
	require.Equal(t, "one, two, two", say(g.StartCall(s)))
	g, rules = guide(t, "sideout-singles-21@2025")
	s = play(t, rules, rules.New(rally.B), strings.Split(strings.Repeat("B,", 10)+"B", ",")...)
	require.Equal(t, "eleven, zero", say(g.Call(s)))
	require.Equal(t, "no score is called now", say(g.Call(rally.State{})))
}

func TestNumbersInWords(t *testing.T) {
	for n, want := range map[int]string{0: "zero", 11: "eleven", 20: "twenty", 21: "twenty-one", 99: "ninety-nine", 100: "one hundred",
		115: "one hundred fifteen", 255: "two hundred fifty-five", -1: "-1", 1000: "1000"} {
		require.Equal(t, want, referee.EnglishNumber(n))
	}
}

// Any text in a table is either refused with its code or said without a panic.
func FuzzLanguage(f *testing.F) {
	f.Add("duty.call", "Call {call}")
	f.Add("call.three", "{serving:word}{receiving}{{number}")
	f.Add("duty.help", "}{:word}{")
	f.Fuzz(func(t *testing.T, code, text string) {
		table := referee.EnglishTable()
		table[referee.Code(code)] = text
		l, err := referee.NewLanguage("x", table, referee.EnglishNumber)
		if err != nil {
			var at *referee.LanguageError
			require.ErrorAs(t, err, &at)
			require.Equal(t, referee.Code(code), at.Code)
			return
		}
		l.Say(referee.Text{Code: referee.Code(code), Args: []referee.Arg{{Name: "call", Value: referee.Number(1)}}})
	})
}
