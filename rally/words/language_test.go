package words_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// one is the grammar of a language whose nouns never change.
var one = words.Grammar{Spell: func(n int) string { return "<" + strconv.Itoa(n) + ">" }, Forms: 1, Form: func(int) int { return 0 }}

func toyTable(codes []words.Signature) string {
	var out strings.Builder
	for _, e := range codes {
		fmt.Fprintf(&out, "%s %s", e.Code, strings.ToUpper(string(e.Code)))
		for _, p := range e.Params {
			fmt.Fprintf(&out, " %s={%s}", p.Name, p.Name)
		}
		out.WriteString("\n")
	}
	return out.String()
}

// sample is a text of a code with arguments of every form that they can have:
// the names that start from a seed, texts as deep as it says.
func sample(t testing.TB, code words.Code, seed, depth int) words.Text {
	e, ok := words.Lookup(code)
	require.True(t, ok, code)
	out := words.New(code)
	for i, p := range e.Params {
		n := seed + i
		var v words.Value
		switch p.Kind {
		case "name":
			v = words.Plain("Imani Okafor")
			if n%2 == 1 {
				v = words.New("person.marked", words.Name("name", "Lars Nyberg"), words.Name("mark", "green cap"))
			}
		case "number":
			v = words.Number(n % 3)
		case "score":
			v = words.Score{n % 12, 11}
		case "text":
			v = sample(t, []words.Code{"parity.even", "refusal.none-left", "kind.time-out"}[n%3], seed, 0)
		case "list":
			list := words.List{}
			for k := range 1 + n%3 {
				list = append(list, words.New([]words.Code{"kind.rally", "kind.time-out", "kind.replay"}[k]))
			}
			v = list
		default:
			v = member(t, p.Kind, n, depth)
		}
		out.Args = append(out.Args, words.Arg{Name: p.Name, Value: v})
	}
	return out
}

// member is a text of a family of codes, one without texts within it where it
// is deep enough.
func member(t testing.TB, family string, n, depth int) words.Text {
	var all []words.Code
	for _, e := range words.Codes() {
		flat := !slices.ContainsFunc(e.Params, func(p words.Param) bool { return strings.HasSuffix(p.Kind, ".") })
		if strings.HasPrefix(string(e.Code), family) && (flat || depth > 0) {
			all = append(all, e.Code)
		}
	}
	require.NotEmpty(t, all, "no code of %q", family)
	return sample(t, all[n%len(all)], n, depth-1)
}

// Every code is said in every language with every form of its arguments, in
// full and short, with nothing left open; and reads back from JSON.
func TestEveryCodeInEveryLanguage(t *testing.T) {
	languages := []*words.Language{words.Bare()}
	for _, tag := range words.Tags() {
		l, ok := words.ByTag(tag)
		require.True(t, ok)
		require.Equal(t, tag, l.Tag())
		languages = append(languages, l)
	}
	said := 0
	for _, e := range words.Codes() {
		for seed := range 12 {
			text := sample(t, e.Code, seed, 2)
			require.NoError(t, text.Check())
			for _, l := range languages {
				for _, out := range []string{l.Say(text), l.Short(text)} {
					require.NotEmpty(t, out)
					require.NotContains(t, out, "[", "%s: %s", l.Tag(), e.Code)
					require.False(t, strings.ContainsAny(out, "{}|"), out)
					require.NotContains(t, out, "  ")
					said++
				}
			}
			data, err := json.Marshal(text)
			require.NoError(t, err)
			var back words.Text
			require.NoError(t, json.Unmarshal(data, &back), string(data))
			require.True(t, text.Equal(back), string(data))
		}
	}
	t.Logf("%d codes, %d texts said", len(words.Codes()), said)
}

// A language says all that it is given: no text drops an argument, but a number
// of which only the noun is shown.
func TestNoTextDropsAnArgument(t *testing.T) {
	for _, tag := range words.Tags() {
		l, _ := words.ByTag(tag)
		for _, e := range words.Codes() {
			text := words.New(e.Code)
			for _, p := range e.Params {
				text.Args = append(text.Args, words.Arg{Name: p.Name, Value: words.Plain("«" + p.Name + "»")})
			}
			out := strings.ToLower(l.Say(text))
			for _, p := range e.Params {
				if silent[string(e.Code)+" "+p.Name] {
					continue
				}
				require.Contains(t, out, "«"+p.Name+"»", "%s: %s", tag, e.Code)
			}
		}
	}
}

// silent are arguments that no language needs to show; a program reads them.
var silent = map[string]bool{
	"finding.match-extra-game won": true, "finding.winner-disagrees leads": true,
}

// What the core has a name for has a word: everything that can be shown of a
// match, and every clause.
func TestEverythingShownHasAWord(t *testing.T) {
	var texts []words.Text
	for _, k := range rally.Kinds() {
		texts = append(texts, words.For(k))
	}
	for _, f := range rally.Faults() {
		texts = append(texts, words.For(f))
	}
	for r := rally.Malformed; r.String() != "?"; r++ {
		texts = append(texts, words.For(r))
	}
	for b := rally.NoBreak + 1; b.String() != "?"; b++ {
		texts = append(texts, words.For(b))
	}
	for p := rally.Before; p.String() != "?"; p++ {
		texts = append(texts, words.For(p))
	}
	for m := rally.WrongSideServed; m.String() != "?"; m++ {
		texts = append(texts, words.For(m))
	}
	for bit := range 64 {
		if one := rally.Effects(1) << bit; one != 0 && one.String() != "?" && one.String() != "-" && one.String() != "" {
			texts = append(texts, words.Effects(one)...)
		}
	}
	for _, c := range format.Clauses() {
		texts = append(texts, words.For(c))
	}
	for _, text := range texts {
		require.NoError(t, text.Check())
	}
	require.Greater(t, len(texts), 400)
}

// The words of an event name its kind and whose it is.
func TestEventsInWords(t *testing.T) {
	say := words.English().Say
	for event, want := range map[string]string{
		"A":                        "rally won, side A",
		"B:net":                    "rally won, side B: ball into the net",
		"tB":                       "time-out, side B",
		"mA1+":                     "valid condition found by qualified people, A1",
		"ends":                     "ends changed",
		"gB2A1":                    "start of a game: side B first, starting servers A1 and B2",
		"fcA:serve":                "first choice, side A: to serve",
		"lateA:1":                  "late arrival, side A: 1 second",
		"stop?server,struck,byA":   "side A stops the rally after the serve is struck: the wrong player served",
		"stop?~call,struck,byref":  "the referee stops the rally after the serve is struck: claimed, but not so: the score was called wrong",
		"A?server,court,rallyover": "rally won, side A; the wrong player served and the serve came from the wrong court, raised after the rally by somebody",
	} {
		e, err := rally.ParseEvent(event)
		require.NoError(t, err, event)
		text := words.Event(e, nil)
		require.NoError(t, text.Check())
		require.Equal(t, want, say(text), event)
	}
	require.Equal(t, "no such event", say(words.Event(0, nil)))
	// Every kind has words, with whatever it carries.
	for _, k := range rally.Kinds() {
		for _, e := range []rally.Event{rally.EventOf(k), rally.OfSide(k, rally.B), rally.OfPerson(k, rally.B2)} {
			if back, err := rally.ParseEvent(e.String()); err == nil && back == e {
				text := words.Event(e, nil)
				require.NoError(t, text.Check())
				require.Equal(t, k != rally.EquipmentTimeOut && strings.HasSuffix(e.String(), "B"), strings.HasSuffix(say(text), "side B"), e.String())
				if strings.Contains(e.String(), "B2") && k != rally.StartGame {
					require.Contains(t, say(text), "B2", e.String())
				}
			}
		}
	}
}

func TestLanguageRefusesGaps(t *testing.T) {
	whole := toyTable(words.Codes())
	without := func(code string) string {
		return regexp.MustCompile(`(?m)^`+regexp.QuoteMeta(code)+` .*\n`).ReplaceAllString(whole, "")
	}
	for _, c := range []struct {
		name, table string
		code        words.Code
		reason      string
	}{
		{"code without a text", without("duty.help"), "duty.help", "has no text"},
		{"code with an empty text", without("duty.help") + "duty.help \n", "duty.help", "has no text"},
		{"text without a code", whole + "duty.dance dance\n", "duty.dance", "no such code"},
		{"two texts", whole + "duty.help help\n", "duty.help", "has two texts"},
		{"unknown argument", without("duty.call") + "duty.call {score}\n", "duty.call", `has no argument "score"`},
		{"no argument", without("duty.call") + "duty.call {}\n", "duty.call", `has no argument ""`},
		{"unknown form", without("call.two") + "call.two {serving:roman}\n", "call.two", `no such form of an argument: "roman"`},
		{"a name in words", without("duty.turn-record") + "duty.turn-record {side:word}\n", "duty.turn-record", `the argument "side" is a name`},
		{"a name that is counted", without("duty.turn-record") + "duty.turn-record {side|x}\n", "duty.turn-record", `the argument "side" is a name`},
		{"too many forms", without("duty.clock") + "duty.clock {seconds|a|b}\n", "duty.clock", "a counted noun has 1 forms"},
		{"open brace", without("duty.call") + "duty.call {call\n", "duty.call", "a brace is not closed"},
		{"short form of nothing", "  x\n" + whole, "", "no such code"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := words.NewLanguage("x", one, c.table)
			var at *words.Error
			require.ErrorAs(t, err, &at)
			require.Equal(t, c.code, at.Code)
			require.Equal(t, c.reason, at.Reason)
		})
	}
	_, err := words.NewLanguage("x", words.Grammar{}, whole)
	require.ErrorContains(t, err, "no grammar of numbers")
}

// A program's own codes join those of the library.
func TestWithOwnCodes(t *testing.T) {
	own := words.Signatures("# a program\nmine.hello who=name rows=number\n")
	l, err := words.English().With(own, "mine.hello Hello, {who:capital}: {rows} {rows|row|rows}.\n  {who}!")
	require.NoError(t, err)
	hello := words.New("mine.hello", words.Name("who", "élan"), words.Count("rows", 1))
	require.NoError(t, l.Check(hello))
	require.Error(t, hello.Check(), "not one of the library's")
	require.Equal(t, "Hello, Élan: 1 row.", l.Say(hello))
	require.Equal(t, "élan!", l.Short(hello))
	require.Equal(t, "Hello, -: - -.", l.Say(words.New("mine.hello")), "total")
	require.Equal(t, "[mine.hello]", words.English().Say(hello), "the library's language is as it was")
	_, err = l.With(own, "mine.hello again")
	require.ErrorContains(t, err, "is a code already")
	_, err = words.English().With(own, "")
	require.ErrorContains(t, err, "has no text")
	_, err = words.English().With(nil, "duty.help mine")
	require.ErrorContains(t, err, "no such code", "nothing of the library is replaced")
}

func TestRowsAndNumbers(t *testing.T) {
	l, err := words.English().With(words.Signatures("t.and l=list\nt.or l=list\nt.plain l=list\nt.n n=number"),
		"t.and {l:and}\nt.or {l:or}\nt.plain {l}\nt.n {n:word}, {n} {n|row|rows}")
	require.NoError(t, err)
	a, b, c := words.New("parity.even"), words.New("parity.odd"), words.New("court.left")
	require.Equal(t, "even", l.Say(words.New("t.and", words.Each("l", a))))
	require.Equal(t, "even and odd", l.Say(words.New("t.and", words.Each("l", a, b))))
	require.Equal(t, "even, odd or left", l.Say(words.New("t.or", words.Each("l", a, b, c))))
	require.Equal(t, "even, odd, left", l.Say(words.New("t.plain", words.Each("l", a, b, c))))
	require.Equal(t, "twenty-one, 21 rows", l.Say(words.New("t.n", words.Count("n", 21))))
	for n, want := range map[int]string{0: "zero", 11: "eleven", 20: "twenty", 21: "twenty-one", 99: "ninety-nine", 100: "one hundred",
		115: "one hundred fifteen", 255: "two hundred fifty-five", -1: "-1", 1000: "1000"} {
		require.Equal(t, want, l.Spell(n))
	}
}

func TestSayIsTotal(t *testing.T) {
	say := words.English().Say
	require.Equal(t, "[no.such]", say(words.New("no.such")))
	require.Equal(t, `Say "-".`, say(words.New("duty.say-result")))
	deep := words.New("claim.mistakes")
	for range 100 {
		deep = words.New("claim.misled", words.Within("claim", deep))
	}
	require.Contains(t, say(deep), "[claim.misled], which misled")
	require.ErrorContains(t, deep.Check(), "nest too deeply")
	args := []words.Arg{{Name: "claim"}}
	args[0].Value = words.New("claim.misled", args...) // a text within itself
	require.Contains(t, say(words.New("claim.misled", args...)), "[claim.misled]")
}

func TestCheckNamesTheFault(t *testing.T) {
	call := words.New("call.two", words.Count("serving", 4), words.Count("receiving", 2))
	for _, c := range []struct {
		name   string
		text   words.Text
		code   words.Code
		reason string
	}{
		{"unknown code", words.New("duty.dance"), "duty.dance", "no such code"},
		{"missing argument", words.New("duty.call"), "duty.call", `lacks the argument "call"`},
		{"too many", words.New("duty.help", words.Count("n", 1)), "duty.help", "has 1 arguments for 0"},
		{"wrong kind", words.New("duty.call", words.Name("call", "4-2")), "duty.call", `the argument "call" is no call.`},
		{"wrong family", words.New("duty.call", words.Word("call", "court.left")), "duty.call", `the argument "call" is no call.`},
		{"within", words.New("duty.call", words.Word("call", "call.two")), "call.two", `lacks the argument "serving"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var at *words.Error
			require.ErrorAs(t, c.text.Check(), &at)
			require.Equal(t, c.code, at.Code)
			require.Equal(t, c.reason, at.Reason)
		})
	}
	require.NoError(t, words.New("duty.call", words.Within("call", call)).Check())
}

func TestJSONOfArguments(t *testing.T) {
	text := words.New("finding.game-level", words.Count("game", 2), words.Points("score", 0, 0))
	data, err := json.Marshal(text)
	require.NoError(t, err)
	require.Equal(t, `{"code":"finding.game-level","args":{"game":2,"score":[0,0]}}`, string(data))
	for _, in := range []string{`{"a":"\u00e9\ud83d\ude00\/\n"}`, ` { "a" : [ 1 , 2 ] , "b" : [ ] , "c" : [ { "code" : "x" } ] } `, `{}`} {
		var args words.Args
		require.NoError(t, json.Unmarshal([]byte(in), &args), in)
	}
	var args words.Args
	require.NoError(t, json.Unmarshal([]byte(`{"a":"\u00e9\ud83d\ude00\/\ud800"}`), &args))
	require.Equal(t, "é😀/\ufffd", args.Plain("a"))
	for _, in := range []string{`{"a":1.5}`, `{"a":true}`, `{"a":[1]}`, `{"a":[1,2,3]}`, `{"a":[1,{"code":"x"}]}`, `{"a":{"cod":"x"}}`, `{"a":1,"a":2}`,
		`{"a":null}`, `[]`, `"x"`, `{"a":99999999999999999999}`} {
		require.Error(t, json.Unmarshal([]byte(in), &args), in)
	}
}

// Whatever stands where arguments should, it is read or refused without a
// panic, and what is read is written as it was.
func FuzzArgs(f *testing.F) {
	f.Add(`{"a":"x","b":1,"c":[1,2],"d":[{"code":"x"}],"e":{"code":"y","args":{"z":2}}}`)
	f.Add(`{"a":"\ud83d`)
	f.Add("{\"\xe2\":1}")
	f.Add(`{"a":{"code":"x","args":{"a":{"code":"x","args":{`)
	f.Fuzz(func(t *testing.T, in string) {
		var args, back words.Args
		if args.UnmarshalJSON([]byte(in)) != nil {
			return
		}
		data, err := args.MarshalJSON()
		require.NoError(t, err)
		require.True(t, json.Valid(data), string(data))
		require.NoError(t, back.UnmarshalJSON(data))
		require.True(t, args.Equal(back))
	})
}

// Any text in a table is either refused with its code or said without a panic.
func FuzzLanguage(f *testing.F) {
	f.Add("Call {call}")
	f.Add("{serving:word}{receiving}{{number}")
	f.Add("}{:word}{|")
	own := words.Signatures("t.x call=text n=number l=list")
	f.Fuzz(func(t *testing.T, text string) {
		l, err := words.English().With(own, "t.x "+strings.Join(strings.Fields(text), " "))
		if err != nil {
			var at *words.Error
			require.ErrorAs(t, err, &at)
			return
		}
		l.Say(words.New("t.x", words.Count("n", 1), words.Word("call", "court.left"), words.Each("l", words.New("court.left"))))
	})
}

// A program's texts are a table of their own; a gap in it is an error that
// names the code.
func ExampleLanguage_With() {
	own := words.Signatures("board.welcome court=name rows=number")
	l, err := words.English().With(own, "board.welcome Court {court}: {rows} {rows|match|matches}.")
	fmt.Println(err, l.Say(words.New("board.welcome", words.Name("court", "2"), words.Count("rows", 1))))
	_, err = words.English().With(own, "")
	fmt.Println(err)
	// Output:
	// <nil> Court 2: 1 match.
	// words: language "en": "board.welcome": has no text
}

func TestFormatsInWords(t *testing.T) {
	for id, want := range map[string]string{
		"sideout-doubles-11-of3":   "doubles, the serving side scores, to 11 by 2, two servers a turn, one in the first, best of 3",
		"sideout-singles-11":       "singles, the serving side scores, to 11 by 2",
		"badminton-singles-21-of3": "singles, either side scores, to 21 by 2 or at 30, best of 3",
	} {
		f, err := format.Parse(id)
		require.NoError(t, err)
		require.Equal(t, want, words.English().Say(words.Format(f)))
	}
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			f, err := format.Named(shape, e)
			require.NoError(t, err)
			require.NoError(t, words.Format(f).Check())
		}
	}
}

// What undo and redo would take is said whole, corrections too.
func TestEntriesInWords(t *testing.T) {
	german, _ := words.ByTag("de")
	for _, c := range []struct{ entry, english, german string }{
		{"tB", "time-out, side B", "Auszeit, Team B"},
		{"amend 3 B", "entry 3 repaired: rally won, side B", "Eintrag 3 berichtigt: Ballwechsel gewonnen, Team B"},
		{"amend 3 B second referee", "entry 3 repaired: rally won, side B (reason: second referee)", "Eintrag 3 berichtigt: Ballwechsel gewonnen, Team B (Grund: second referee)"},
		{"amend 3 -", "entry 3 struck", "Eintrag 3 gestrichen"},
		{"rule 4 replay", "entry 4 ruled on: replay", "über Eintrag 4 entschieden: Wiederholung"},
		{"rewind 12", "game taken back to entry 12", "Spiel auf Eintrag 12 zurückgesetzt"},
		{"set L2 play", "position set: L2 play", "Stand gesetzt: L2 play"},
		{"format sideout-doubles-15@2026 next TD", "format changed from the next game: doubles, the serving side scores, to 15 by 2, two servers a turn, one in the first (decided by TD)", ""},
		{"undo", "undo", "zurücknehmen"},
	} {
		t.Run(c.entry, func(t *testing.T) {
			e, err := rally.ParseEntry(c.entry)
			require.NoError(t, err)
			require.Equal(t, c.english, words.English().Say(words.Entry(e, nil)))
			if c.german != "" {
				require.Equal(t, c.german, german.Say(words.Entry(e, nil)))
			}
		})
	}
}

// Who listens hears every duty in a few words: it has a short form, which says
// no more than the long one, and of which the arguments are the larger part or
// the rest is short.
func TestEveryDutyHasAShortForm(t *testing.T) {
	for _, tag := range words.Tags() {
		l, ok := words.ByTag(tag)
		require.True(t, ok)
		duties := 0
		for _, code := range words.Codes() {
			if !strings.HasPrefix(string(code.Code), "duty.") {
				continue
			}
			duties++
			text := words.New(code.Code)
			for _, p := range code.Params {
				v := words.Value(words.Plain("x"))
				if p.Kind == "number" {
					v = words.Number(2)
				}
				text.Args = append(text.Args, words.Arg{Name: p.Name, Value: v})
			}
			long, short := l.Say(text), l.Short(text)
			require.LessOrEqual(t, len(short), len(long), "%s, %s", tag, code.Code)
			require.LessOrEqual(t, len(strings.Fields(short)), 15, "%s, %s: %s", tag, code.Code, short)
			if len(strings.Fields(long)) > 8 {
				require.Less(t, len(short), len(long), "%s, %s has no short form", tag, code.Code)
			}
		}
		require.Greater(t, duties, 100)
	}
}
