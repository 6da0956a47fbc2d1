package intake_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

// read reads a table whole: its matches, and what is said of its cells.
func read(t testing.TB, in io.Reader, o intake.Options) (*intake.Reader, []audit.ReportedMatch, []audit.Finding) {
	if o.Format == "" {
		o.Format = "sideout-doubles-11-of3"
	}
	var found []audit.Finding
	table, err := intake.New(in, o, func(row int, reason words.Text) {
		found = append(found, audit.Finding{Code: "row-unreadable", Place: audit.Place{Line: row}})
	})
	require.NoError(t, err)
	return rest(t, table, found)
}

func rest(t testing.TB, table *intake.Reader, found []audit.Finding) (*intake.Reader, []audit.ReportedMatch, []audit.Finding) {
	var all []audit.ReportedMatch
	for {
		err := table.Next()
		if err == io.EOF {
			return table, all, found
		}
		require.NoError(t, err)
		m, _, more := table.Match(audit.Place{}, nil)
		found = append(found, more...)
		if m != nil {
			c := *m
			c.Games = append([]audit.Score(nil), m.Games...)
			if m.Won != nil {
				won := *m.Won
				c.Won = &won
			}
			all = append(all, c)
		}
	}
}

// utf16le writes a text as spreadsheets save "Unicode text".
func utf16le(s string) string {
	out := []byte{0xff, 0xfe}
	for _, u := range utf16.Encode([]rune(s)) {
		out = binary.LittleEndian.AppendUint16(out, u)
	}
	return string(out)
}

func windows1252(s string) string {
	var out []byte
	for _, r := range s {
		switch r {
		case '–':
			r = 0x96
		case '’':
			r = 0x92
		}
		out = append(out, byte(r))
	}
	return string(out)
}

// The layouts of twenty clubs. Each holds the same two matches, of which the
// second has a game that ended 11-10: Imani Okafor and Tomasz Zielinski beat
// Priya Raman and Lars Nyberg 11-8 9-11 11-5, then Mei-Lin Castellanos and
// Rafael Oyelaran lost to Ana Ruiz and Bo Lind 11-10 5-11 4-11.
var layouts = map[string]string{
	"as documented": "match,date,a1,a2,b1,b2,games,winner\n1,2026-09-12,Imani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg,11-8 9-11 11-5,A\n" +
		"2,2026-09-13,Mei-Lin Castellanos,Rafael Oyelaran,Ana Ruiz,Bo Lind,11-10 5-11 4-11,B\n",
	"home and away, players numbered": "Date,Home 1,Home 2,Away 1,Away 2,Game 1,Game 2,Game 3,Winner\n12/09/2026,Imani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg,11-8,9-11,11-5,Home\n" +
		"13/09/2026,Mei-Lin Castellanos,Rafael Oyelaran,Ana Ruiz,Bo Lind,11-10,5-11,4-11,Away\n",
	"winners and losers": "Date;Winners;Losers;Score\n12.09.2026;Imani Okafor / Tomasz Zielinski;Priya Raman / Lars Nyberg;11-8 9-11 11-5\n" +
		"13.09.2026;Ana Ruiz / Bo Lind;Mei-Lin Castellanos / Rafael Oyelaran;10-11, 11-5, 11-4\n",
	"letters for games":                "Home,Away,G1,G2,G3\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,11-8,9-11,11-5\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,11-10,5-11,4-11\n",
	"points of each side a game":       "Pair A,Pair B,Game 1 A,Game 1 B,Game 2 A,Game 2 B,Game 3 A,Game 3 B\nImani Okafor/Tomasz Zielinski,Priya Raman/Lars Nyberg,11,8,9,11,11,5\nMei-Lin Castellanos/Rafael Oyelaran,Ana Ruiz/Bo Lind,11,10,5,11,4,11\n",
	"a title above":                    "Harbour Lane Courts autumn ladder,,,\n,,,\nDate,Home,Away,Score\n2026-09-12,Imani Okafor / Tomasz Zielinski,Priya Raman / Lars Nyberg,11-8 9-11 11-5\n2026-09-13,Mei-Lin Castellanos / Rafael Oyelaran,Ana Ruiz / Bo Lind,11-10 5-11 4-11\n,,,\n",
	"UTF-16 with tabs":                 utf16le("Date\tHome\tAway\tResult\n2026-09-12\tImani Okafor / Tomasz Zielinski\tPriya Raman / Lars Nyberg\t11–8 9–11 11–5\n2026-09-13\tMei-Lin Castellanos / Rafael Oyelaran\tAna Ruiz / Bo Lind\t11–10 5–11 4–11\n"),
	"Windows-1252":                     windows1252("Datum;Heim;Gast;Sätze\n12.09.2026;Imani Okafor / Tomasz Zielinski;Priya Raman / Lars Nyberg;11–8 9–11 11–5\n13.09.2026;Mei-Lin Castellanos / Rafael Oyelaran;Ana Ruiz / Bo Lind;11–10 5–11 4–11\n"),
	"a line sep=":                      "sep=;\r\nDate;Home;Away;Score\r\n12.09.2026;Imani Okafor / Tomasz Zielinski;Priya Raman / Lars Nyberg;11:8 9:11 11:5\r\n13.09.2026;Mei-Lin Castellanos / Rafael Oyelaran;Ana Ruiz / Bo Lind;11:10 5:11 4:11\r\n",
	"court, umpire, time, remark":      "Court,Time,Umpire,Home,Away,Score,Remarks\n1,18:30,Noor Haddad,Imani Okafor / Tomasz Zielinski,Priya Raman / Lars Nyberg,11-8 9-11 11-5,\n2,19:10,Noor Haddad,Mei-Lin Castellanos / Rafael Oyelaran,Ana Ruiz / Bo Lind,11-10 5-11 4-11,late start\n",
	"American dates":                   "Match Date,Team 1,Team 2,Scores\n9/12/2026,Imani Okafor / Tomasz Zielinski,Priya Raman / Lars Nyberg,\"11-8, 9-11, 11-5\"\n9/13/2026,Mei-Lin Castellanos / Rafael Oyelaran,Ana Ruiz / Bo Lind,\"11-10, 5-11, 4-11\"\n",
	"lines that end in a return alone": "Date;Home;Away;Score\r12.09.2026;Imani Okafor / Tomasz Zielinski;Priya Raman / Lars Nyberg;11-8 9-11 11-5\r13.09.2026;Mei-Lin Castellanos / Rafael Oyelaran;Ana Ruiz / Bo Lind;11-10 5-11 4-11\r",
	"months in capitals":               "date,a1,a2,b1,b2,games\n12 SEPT 2026,Imani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg,11-8 9-11 11-5\n13 SEPTEMBER 2026,Mei-Lin Castellanos,Rafael Oyelaran,Ana Ruiz,Bo Lind,11-10 5-11 4-11\n",
	"dates with a time":                "date,a1,a2,b1,b2,games\n2026-09-12 18:30,Imani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg,11-8 9-11 11-5\n2026-09-13T19:10:00,Mei-Lin Castellanos,Rafael Oyelaran,Ana Ruiz,Bo Lind,11-10 5-11 4-11\n",
	"slashes":                          "Home,Away,Score\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,11/8 9/11 11/5\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,11/10 5/11 4/11\n",
	"the winner by name": "Player 1,Player 2,Player 3,Player 4,Score,Winner\nImani Okafor,Tomasz Zielinski,Priya Raman,Lars Nyberg,11-8 9-11 11-5,Imani Okafor / Tomasz Zielinski\n" +
		"Mei-Lin Castellanos,Rafael Oyelaran,Ana Ruiz,Bo Lind,11-10 5-11 4-11,Ruiz\n",
	"a status in other words":                     "Home,Away,Score,Status\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,11-8 9-11 11-5,Completed\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,11-10 5-11 4-11,Final\n",
	"odd spaces and hyphens":                      "Home,Away,Score\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,11\u20118\u00a09\u201111\u00a011\u20115\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,11\u201110\u00a05\u201111\u00a04\u201111\n",
	"games won, then the games":                   "Home,Away,Result\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,\"2-1 (11-8, 9-11, 11-5)\"\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,\"1-2 (11-10, 5-11, 4-11)\"\n",
	"games won in columns":                        "Home,Away,Home Games,Away Games,Set 1,Set 2,Set 3\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,2,1,11-8,9-11,11-5\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,1,2,11-10,5-11,4-11\n",
	"texts kept texts":                            "Home,Away,Game 1,Game 2,Game 3\nImani Okafor & Tomasz Zielinski,Priya Raman & Lars Nyberg,'11-8,\"=\"\"9-11\"\"\",'11-5\nMei-Lin Castellanos & Rafael Oyelaran,Ana Ruiz & Bo Lind,'11-10,\"=\"\"5-11\"\"\",'4-11\n",
	"Spanish":                                     "Fecha;Local;Visitante;Set 1;Set 2;Set 3;Ganador;Observaciones\n12/09/2026;Imani Okafor y Tomasz Zielinski;Priya Raman y Lars Nyberg;11-8;9-11;11-5;Local;\n13/09/2026;Mei-Lin Castellanos y Rafael Oyelaran;Ana Ruiz y Bo Lind;11-10;5-11;4-11;Visitante;\n",
	"JSON with the names of the file, as a table": "date|home|away|score\n2026-09-12|Imani Okafor / Tomasz Zielinski|Priya Raman / Lars Nyberg|11-8 9-11 11-5\n2026-09-13|Mei-Lin Castellanos / Rafael Oyelaran|Ana Ruiz / Bo Lind|11-10 5-11 4-11\n",
}

func TestLayoutsOfClubs(t *testing.T) {
	f, err := format.Parse("sideout-doubles-11-of3")
	require.NoError(t, err)
	finals, err := audit.NewFinals(f)
	require.NoError(t, err)
	for name, text := range layouts {
		t.Run(name, func(t *testing.T) {
			table, matches, found := read(t, strings.NewReader(text), intake.Options{})
			require.Empty(t, found, "%+v", found)
			require.Len(t, matches, 2, "%+v", table.Taken())
			require.Empty(t, finals.Check(&matches[0], audit.Place{}, nil))
			for _, m := range matches {
				for s := range m.Sides {
					require.NotEmpty(t, m.Sides[s].Players[0], "%+v", table.Taken())
					require.NotEmpty(t, m.Sides[s].Players[1], "%+v", table.Taken())
				}
				require.Len(t, m.Games, 3)
			}
			wrong := finals.Check(&matches[1], audit.Place{}, nil)
			require.Len(t, wrong, 1, "%+v", wrong)
			require.Equal(t, audit.FindingCode("game-margin"), wrong[0].Code)
			require.Equal(t, 1, wrong[0].Game)
			if matches[0].Date != "" {
				require.Equal(t, []string{"2026-09-12", "2026-09-13"}, []string{matches[0].Date, matches[1].Date})
			}
		})
	}
}

func TestEncodings(t *testing.T) {
	text := "home,away,score\nRenée Ruiz,Bo Lind,11–8\n"
	for name, c := range map[string]struct {
		in   string
		want string
	}{
		"UTF-8":                    {text, "UTF-8"},
		"with a mark":              {"\ufeff" + text, "UTF-8 with a mark"},
		"UTF-16":                   {utf16le(text), "UTF-16, little end first"},
		"UTF-16 without a mark":    {utf16le(text)[2:], "UTF-16, little end first"},
		"Windows-1252":             {windows1252(text), "Windows-1252"},
		"UTF-16, an odd byte more": {utf16le(text) + "x", "UTF-16, little end first"},
	} {
		t.Run(name, func(t *testing.T) {
			table, matches, found := read(t, strings.NewReader(c.in), intake.Options{Format: "sideout-singles-11"})
			require.Empty(t, found)
			require.Equal(t, c.want, table.Encoding.String())
			require.Equal(t, "Renée Ruiz", matches[0].Sides[0].Players[0])
			require.Equal(t, []audit.Score{{11, 8}}, matches[0].Games)
		})
	}
}

func TestWhatIsNoTableIsNamed(t *testing.T) {
	for begins, kind := range map[string]string{"PK\x03\x04xx": "workbook", "%PDF-1.7": "PDF", "\xd0\xcf\x11\xe0": ".xls", "<!DOCTYPE html><table>": "HTML"} {
		_, err := intake.New(strings.NewReader(begins), intake.Options{}, nil)
		var k *intake.KindError
		require.ErrorAs(t, err, &k)
		require.ErrorContains(t, err, kind)
		require.ErrorContains(t, err, "save it as CSV UTF-8")
	}
}

// One order of day and month holds for a file; it is found from the dates that
// tell it, and said.
func TestOrderOfDayAndMonth(t *testing.T) {
	for name, c := range map[string]struct {
		dates []string
		want  []string
		how   string
	}{
		"a day above twelve":     {[]string{"3/4/2026", "25/4/2026"}, []string{"2026-04-03", "2026-04-25"}, "day before month"},
		"the other way":          {[]string{"3/4/2026", "4/25/2026"}, []string{"2026-03-04", "2026-04-25"}, "month before day"},
		"dots":                   {[]string{"3.4.2026", "5.4.26"}, []string{"2026-04-03", "2026-04-05"}, "day before month"},
		"close together":         {[]string{"9/1/2026", "9/8/2026", "9/12/2026", "9/5/2026"}, []string{"2026-09-01", "2026-09-08", "2026-09-12", "2026-09-05"}, "month before day"},
		"open":                   {[]string{"3/4/2026"}, []string{"2026-04-03"}, "leaves it open"},
		"words":                  {[]string{"12 Sep 2026", "Sept. 13, 2026", "Sat 19 September 2026", "20. Okt. 2026"}, []string{"2026-09-12", "2026-09-13", "2026-09-19", "2026-10-20"}, ""},
		"the days of a workbook": {[]string{"46277", "46277.75", "20260913"}, []string{"2026-09-12", "2026-09-12", "2026-09-13"}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := "date;home;away;score\n"
			for i, d := range c.dates {
				text += fmt.Sprintf("%s;p%d;q%d;11-8\n", d, i, i)
			}
			table, matches, found := read(t, strings.NewReader(text), intake.Options{Format: "sideout-singles-11"})
			require.Empty(t, found)
			var got []string
			for _, m := range matches {
				got = append(got, m.Date)
			}
			require.Equal(t, c.want, got)
			require.Contains(t, table.Taken()[0].How, c.how)
		})
	}
	no := false
	_, matches, _ := read(t, strings.NewReader("date,home,away,score\n3/4/2026,p,q,11-8\n"), intake.Options{Format: "sideout-singles-11", DayFirst: &no})
	require.Equal(t, "2026-03-04", matches[0].Date)
}

// What a cell says, whatever it is spelt like.
func TestSpellings(t *testing.T) {
	one := func(t *testing.T, column, cell string) (audit.ReportedMatch, []audit.Finding) {
		header, row := "a1,b1,"+column+",games\n", "Imani Okafor,Priya Raman,\""+strings.ReplaceAll(cell, `"`, `""`)+"\",11-8 11-9\n"
		if column == "games" {
			header, row = "a1,b1,games\n", "Imani Okafor,Priya Raman,\""+strings.ReplaceAll(cell, `"`, `""`)+"\"\n"
		}
		_, matches, found := read(t, strings.NewReader(header+row), intake.Options{Format: "sideout-singles-11-of3"})
		require.Len(t, matches, 1)
		return matches[0], found
	}
	for _, cell := range []string{"11-8 9-11", "11-8, 9-11", "11-8; 9-11", "11-8/9-11", "11-8 / 9-11", "11-8 | 9-11", "11:8 9:11", "11/8 9/11", "11/8, 9/11", "11 - 8, 9 - 11",
		"11–8 9–11", "11—8, 9—11", "11−8 9−11", "11\u20118 9\u201111", "11\u20108 9\u201011", "11-8\u00a09-11", "(11-8) (9-11)", "(11-8, 9-11)", "[11-8] [9-11]", "'11-8 9-11", `="11-8 9-11"`,
		"11 to 8, 9 to 11", "1-1 (11-8, 9-11)", "1-1 (11-8 9-11)", "11-8\n9-11", "11-8  9-11 ", "11-8 and 9-11", "11-8,9-11", "11 8, 9 11", "11-8. 9-11"} {
		m, found := one(t, "games", cell)
		require.Empty(t, found, cell)
		require.Equal(t, []audit.Score{{11, 8}, {9, 11}}, m.Games, cell)
	}
	for _, cell := range []string{"11-8-9-11", "2024-11-09", "11.8", "11-8 x", "9-Nov", "eleven-eight", "11-8 9", "1111-8"} {
		_, found := one(t, "games", cell)
		require.NotEmpty(t, found, cell)
	}
	for want, cells := range map[audit.MaybeSide][]string{
		audit.SideA: {"A", "a", "Home", "HOME", "home team", "Team 1", "1", "Side A", "Imani Okafor", "imani okafor", "Okafor", "Heim", "Team A", "player 1", "Local"},
		audit.SideB: {"B", "b", "Away", "Visitors", "Team 2", "2", "Priya Raman", "PRIYA RAMAN", "Raman", "Gast", "Side B", "away team", "Visitante"},
	} {
		for _, cell := range cells {
			m, found := one(t, "winner", cell)
			require.Empty(t, found, cell)
			require.Equal(t, want, m.Winner, cell)
		}
	}
	for _, cell := range []string{"C", "Lars Nyberg", "both", "3"} {
		_, found := one(t, "winner", cell)
		require.Len(t, found, 1, cell)
	}
	for want, cells := range map[audit.Status][]string{
		audit.Played:    {"played", "Played", "completed", "Final", "finished", "done", "F", "OK", "gespielt", "jugado"},
		audit.Retired:   {"retired", "RET", "ret.", "Ret'd", "retired hurt", "Injury", "Aufgabe", "retirado", "abandon"},
		audit.Forfeited: {"W/O", "w.o.", "walkover", "Walk-over", "forfeit", "FF", "no show", "No-Show", "DEF", "default", "kampflos"},
		audit.Withdrawn: {"W/D", "withdrawn", "withdrew", "WD"},
		audit.NotPlayed: {"cancelled", "canceled", "not played", "unplayed", "abgesagt"},
		audit.Postponed: {"postponed", "PPD", "rescheduled", "verschoben", "aplazado"},
		audit.Abandoned: {"abandoned", "suspended", "abgebrochen"},
		audit.Bye:       {"BYE", "Freilos"},
	} {
		for _, cell := range cells {
			m, found := one(t, "status", cell)
			require.Empty(t, found, cell)
			require.Equal(t, want, m.Status, cell)
		}
	}
	for cell, want := range map[string]string{"Sideout-Singles-11-Of3": "sideout-singles-11-of3", "singles": "", "Singles": "", "MS": "", "doubles": "sideout-doubles-11-of3", "Mixed Doubles": "sideout-doubles-11-of3", "triples": "triples"} {
		m, found := one(t, "format", cell)
		require.Empty(t, found, cell)
		require.Equal(t, want, m.Format, cell)
	}
	// How a match ended may stand beside its scores; whoever did not win stopped.
	m, found := one(t, "games", "11-8 4-2 ret.")
	require.Empty(t, found)
	require.Equal(t, audit.Retired, m.Status)
	_, matches, found := read(t, strings.NewReader("home,away,score,winner,status\nann,bea,11-8 4-2,Home,Retired\nann,bea,,Away,W/O\nann,bea,11-8,,Retired (away)\n"), intake.Options{Format: "sideout-singles-11-of3"})
	require.Empty(t, found)
	require.Equal(t, []audit.MaybeSide{audit.SideB, audit.SideA, audit.SideB}, []audit.MaybeSide{matches[0].By, matches[1].By, matches[2].By})
}

// A cell that mixes a date, scores, a word of status and whom it is about says all of
// that; what cannot be read costs only what it holds.
func TestMixedCells(t *testing.T) {
	two, broken := []audit.Score{{11, 7}, {11, 9}}, []audit.Score{{11, 7}, {3, 2}}
	for cell, want := range map[string]audit.ReportedMatch{
		"3.5.2026 11:7 11:9":       {Date: "2026-05-03", Games: two},
		"2026-05-03: 11-7, 11-9":   {Date: "2026-05-03", Games: two},
		"11-7 11-9 (3 May 2026)":   {Date: "2026-05-03", Games: two},
		"03.05.2026 11:7 3:2 ret.": {Date: "2026-05-03", Games: broken, Status: audit.Retired},
		"11-7 3-2 ret. (Raman)":    {Games: broken, Status: audit.Retired, By: audit.SideB},
		"ret. Raman 11-7 3-2":      {Games: broken, Status: audit.Retired, By: audit.SideB},
		"11-7 3-2 injury B":        {Games: broken, Status: audit.Retired, By: audit.SideB},
		"Okafor wins 11-7 3-2 ret": {Games: broken, Status: audit.Retired, By: audit.SideB, Winner: audit.SideA},
		"11-7 11-9 Okafor":         {Games: two, Winner: audit.SideA},
		"no show":                  {Status: audit.Forfeited},
	} {
		_, matches, found := read(t, strings.NewReader("home;away;result\nImani Okafor;Priya Raman;"+cell+"\n"), intake.Options{Format: "sideout-singles-11-of3"})
		require.Empty(t, found, cell)
		want.Sides, want.TimeOuts, want.Games = matches[0].Sides, matches[0].TimeOuts, append([]audit.Score(nil), want.Games...)
		require.Equal(t, want, matches[0], cell)
	}
	for cell, games := range map[string][]audit.Score{
		"11-7 9-11 late":               two[:1], // the last may not have been played out
		"late 11/7 9/11":               two[:1],
		"11-7 11-9 Okafor Raman":       two[:1],
		"11-7 11-9 9":                  two[:1],
		"19.30 h 11-7 11-9 11-10":      nil,
		"2-1 (11-7, 11-9)":             nil,
		"11-7 11-9 (2-0)":              two[:1],
		"3.5.2026 11-7 11-9 Zielinski": two[:1],
	} {
		_, matches, found := read(t, strings.NewReader("home;away;result\nImani Okafor;Priya Raman;"+cell+"\n"), intake.Options{Format: "sideout-singles-11-of3"})
		require.Len(t, found, 1, cell)
		require.Equal(t, append([]audit.Score(nil), games...), matches[0].Games, cell)
	}
	// What two cells say otherwise is not settled here.
	_, matches, found := read(t, strings.NewReader("date;home;away;result;winner\n2026-05-04;ann;bea;2026-05-03 11-7 11-9 ann;bea\n"), intake.Options{Format: "sideout-singles-11-of3"})
	require.Len(t, found, 2)
	require.Equal(t, two, matches[0].Games)
}

// Letters H and A name home and away where a file uses H; alone, A is side A.
func TestLettersOfSides(t *testing.T) {
	_, matches, _ := read(t, strings.NewReader("home,away,score,winner\nann,bea,11-8,H\ncid,dot,8-11,A\n"), intake.Options{Format: "sideout-singles-11"})
	require.Equal(t, []audit.MaybeSide{audit.SideA, audit.SideB}, []audit.MaybeSide{matches[0].Winner, matches[1].Winner})
	_, matches, _ = read(t, strings.NewReader("a1,b1,score,winner\nann,bea,11-8,A\ncid,dot,8-11,B\n"), intake.Options{Format: "sideout-singles-11"})
	require.Equal(t, []audit.MaybeSide{audit.SideA, audit.SideB}, []audit.MaybeSide{matches[0].Winner, matches[1].Winner})
}

// Some clubs write the winner's points first, whoever is named first.
func TestWinnerFirst(t *testing.T) {
	text := "home,away,score,winner\n"
	for i := range 8 {
		text += fmt.Sprintf("p%d,q%d,11-%d 11-4,%s\n", i, i, i, []string{"Home", "Away"}[i%2])
	}
	table, matches, found := read(t, strings.NewReader(text), intake.Options{Format: "sideout-singles-11-of3"})
	require.Empty(t, found)
	require.Equal(t, []audit.Score{{1, 11}, {4, 11}}, matches[1].Games)
	require.Equal(t, []audit.Score{{11, 2}, {11, 4}}, matches[2].Games)
	require.Contains(t, table.Taken()[3].How, "the winner's points stand first")
}

// All columns that may hold results and are not known stand in one message, each
// with the nearest known name; a mapping settles them.
func TestUnknownColumns(t *testing.T) {
	text := "home,away,Gmae 1,Qualtity,zweite\nann,bea,11-8,x,11-9\n"
	o := intake.Options{Format: "sideout-singles-11-of3"}
	_, err := intake.New(strings.NewReader(text), o, nil)
	require.EqualError(t, err, `row 1: unknown columns that may hold results: "Gmae 1" (game1?), "zweite"; a mapping of columns settles it`)
	o.Mapping = intake.Mapping{}
	for _, line := range []string{"gmae 1 = game1", "ZWEITE=game2", "qualtity="} {
		require.NoError(t, o.Mapping.Add(line))
	}
	table, matches, found := read(t, strings.NewReader(text), o)
	require.Empty(t, found)
	require.Equal(t, []audit.Score{{11, 8}, {11, 9}}, matches[0].Games)
	// What is proposed can be read again.
	var out bytes.Buffer
	require.NoError(t, table.WriteMapping(&out))
	again, err := intake.ReadMapping(&out)
	require.NoError(t, err)
	require.Equal(t, intake.Meaning("game1"), again["gmae 1"])
	require.Equal(t, intake.Meaning("-"), again["qualtity"])
	_, err = intake.ReadMapping(strings.NewReader("# comment\nhome = a1\naway = c1\n"))
	require.ErrorContains(t, err, `line 3: columns: "c1" is nothing that a column can hold`)
	require.Error(t, intake.Mapping{}.Add("home"))
	require.Error(t, intake.Mapping{}.Add("=a1"))
	for text, want := range map[string]string{
		"":                                   "is empty",
		"x;y\n1;2\n":                         "no row has names of columns",
		"home,away,date\nann,bea,2026-1-1\n": "no column of scores",
		"home,away,game 1,G1\nann,bea,11-8,11-9\n": "mean what another one means",
	} {
		_, err := intake.New(strings.NewReader(text), intake.Options{Format: "sideout-singles-11"}, nil)
		require.ErrorContains(t, err, want, text)
	}
}

// Rows are counted as a spreadsheet does: cells that hold line ends, empty rows
// and titles make no difference.
func TestRowsAreCountedAsASpreadsheetDoes(t *testing.T) {
	text := "League\n\nhome,away,score\n\"an\nn\",bea,11-8\n\n\"c\r\n\r\nid\",dot,\"11-8\n11-9\"\ne,f,x-y\n"
	_, matches, found := read(t, strings.NewReader(text), intake.Options{Format: "sideout-singles-11-of3"})
	require.Len(t, matches, 3)
	require.Len(t, found, 1)
	require.Equal(t, 7, found[0].Line)
}

// Rows that are cells already, as a workbook has them, are read alike.
func TestRowsOfAWorkbook(t *testing.T) {
	rows := [][]string{{"Ladder"}, {}, {"Date", "Home", "Away", "Score", "Notes"}, {"46277", "ann", "bea", "11-8"}, {"46278", "cid", "dot", "11-9", "late"}}
	table, err := intake.NewRows(func() ([]string, error) {
		if len(rows) == 0 {
			return nil, io.EOF
		}
		row := rows[0]
		rows = rows[1:]
		return row, nil
	}, intake.Options{Format: "sideout-singles-11"})
	require.NoError(t, err)
	_, matches, found := rest(t, table, nil)
	require.Empty(t, found)
	require.Len(t, matches, 2)
	require.Equal(t, "2026-09-13", matches[1].Date)
}

// FuzzTable: nothing that a file can hold makes the reading panic or grow.
func FuzzTable(f *testing.F) {
	for _, text := range layouts {
		f.Add([]byte(text))
	}
	f.Add([]byte("\"\"\"\n\"a,b\n\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, err := intake.New(bytes.NewReader(data), intake.Options{Format: "sideout-doubles-11-of3"}, func(int, words.Text) {})
		if err != nil {
			return
		}
		for table.Next() == nil {
			m, _, _ := table.Match(audit.Place{}, nil)
			if m != nil && len(m.Games) > 9 {
				t.Fatal("more games than there are columns for")
			}
		}
		table.Finish(audit.Place{}, nil)
		table.Taken()
	})
}
