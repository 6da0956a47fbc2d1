package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

// clubs are twenty layouts as they come out of a spreadsheet, one peculiarity at a
// time, each with the same two matches. 1 to 4 in braces are the pairs, with an s
// the players in cells of their own; {x} is what makes a game of the second match
// end 11-10.
var clubs = []struct{ name, row, text string }{
	{"the documented columns", "3", "match,date,a1,a2,b1,b2,games,winner\n1,2026-09-12,{1s},{2s},11-8 9-11 11-5,A\n2,2026-09-13,{3s},{4s},11-{x} 5-11 4-11,B\n"},
	{"the fewest columns, Windows line ends", "3", "a1,a2,b1,b2,games\r\n{1s},{2s},11-8 9-11 11-5\r\n{3s},{4s},11-{x} 5-11 4-11\r\n"},
	{"Home 1 and Away 1", "3", "Date,Home 1,Home 2,Away 1,Away 2,Score\n2026-09-12,{1s},{2s},11-8 9-11 11-5\n2026-09-13,{3s},{4s},11-{x} 5-11 4-11\n"},
	{"winners and losers", "3", "Date,Winners,Losers,Score\n2026-09-12,{1},{2},11-8 9-11 11-5\n2026-09-13,{4},{3},{x}-11 11-5 11-4\n"},
	{"G1, G2, G3", "3", "Home,Away,G1,G2,G3\n{1},{2},11-8,9-11,11-5\n{3},{4},11-{x},5-11,4-11\n"},
	{"Game 1 A and Game 1 B", "3", "Home,Away,Game 1 A,Game 1 B,Game 2 A,Game 2 B,Game 3 A,Game 3 B\n{1},{2},11,8,9,11,11,5\n{3},{4},11,{x},5,11,4,11\n"},
	{"a title above the header", "5", "Harbour Lane Courts autumn ladder,,,\n,,,\nDate,Home,Away,Score\n2026-09-12,{1},{2},11-8 9-11 11-5\n2026-09-13,{3},{4},11-{x} 5-11 4-11\n"},
	{"Unicode text: UTF-16 with tabs", "3", "Date\tHome\tAway\tScore\r\n2026-09-12\t{1}\t{2}\t11-8 9-11 11-5\r\n2026-09-13\t{3}\t{4}\t11-{x} 5-11 4-11\r\n"},
	{"a line sep=", "4", "sep=;\r\nDate;Home;Away;Score\r\n2026-09-12;{1};{2};11-8 9-11 11-5\r\n2026-09-13;{3};{4};11-{x} 5-11 4-11\r\n"},
	{"columns of court, umpire and time", "3", "Court,Umpire,Time,Date,Home,Away,Score\n1,Noor Haddad,18:30,2026-09-12,{1},{2},11-8 9-11 11-5\n2,Noor Haddad,19:10,2026-09-13,{3},{4},11-{x} 5-11 4-11\n"},
	{"columns of remarks", "3", "Date,Home,Away,Score,Remarks,Comment\n2026-09-12,{1},{2},11-8 9-11 11-5,,\n2026-09-13,{3},{4},11-{x} 5-11 4-11,late start,\"rain, 5 min\"\n"},
	{"dates with dots", "3", "Date,Home,Away,Score\n12.09.2026,{1},{2},11-8 9-11 11-5\n13.09.2026,{3},{4},11-{x} 5-11 4-11\n"},
	{"American dates", "3", "Date,Home,Away,Score\n9/12/2026,{1},{2},11-8 9-11 11-5\n9/13/2026,{3},{4},11-{x} 5-11 4-11\n"},
	{"dates with a time", "3", "Date,Home,Away,Score\n2026-09-12 18:30,{1},{2},11-8 9-11 11-5\n2026-09-13 19:10,{3},{4},11-{x} 5-11 4-11\n"},
	{"scores with a slash", "3", "Date,Home,Away,Score\n2026-09-12,{1},{2},11/8 9/11 11/5\n2026-09-13,{3},{4},11/{x} 5/11 4/11\n"},
	{"the winner by name", "3", "Date,Home,Away,Score,Winner\n2026-09-12,{1},{2},11-8 9-11 11-5,{1}\n2026-09-13,{3},{4},11-{x} 5-11 4-11,{4}\n"},
	{"a status in words", "3", "Date,Home,Away,Score,Status\n2026-09-12,{1},{2},11-8 9-11 11-5,Completed\n2026-09-13,{3},{4},11-{x} 5-11 4-11,Completed\n"},
	{"hard blanks between scores", "3", "Date,Home,Away,Score\n2026-09-12,{1},{2},11-8\u00a09-11\u00a011-5\n2026-09-13,{3},{4},11-{x}\u00a05-11\u00a04-11\n"},
	{"games won before the games", "3", "Date,Home,Away,Score\n2026-09-12,{1},{2},\"2-1 (11-8, 9-11, 11-5)\"\n2026-09-13,{3},{4},\"1-2 (11-{x}, 5-11, 4-11)\"\n"},
	{"empty rows below", "3", "Date,Home,Away,Score\n2026-09-12,{1},{2},11-8 9-11 11-5\n2026-09-13,{3},{4},11-{x} 5-11 4-11\n,,,\n,,,\n\n,,,\n"},
}

// Of each layout both matches are checked; the game that cannot be so is found in
// its row and told with its likeliest causes, and nothing else is called wrong.
func TestTwentyLayouts(t *testing.T) {
	require.Len(t, clubs, 20)
	pairs := []string{}
	for i, p := range []string{"Imani Okafor / Tomasz Zielinski", "Priya Raman / Lars Nyberg", "Mei-Lin Castellanos / Rafael Oyelaran", "Ana Ruiz / Bo Lind"} {
		n := string(rune('1' + i))
		pairs = append(pairs, "{"+n+"}", p, "{"+n+"s}", strings.Replace(p, " / ", ",", 1))
	}
	for _, c := range clubs {
		t.Run(c.name, func(t *testing.T) {
			with := func(points string) (status int, out string) {
				text := strings.NewReplacer(append(pairs, "{x}", points)...).Replace(c.text)
				if strings.Contains(c.name, "UTF-16") {
					text = utf16le(text)
				}
				status, out, stderr := check(text, "-")
				require.Empty(t, stderr)
				return status, out
			}
			status, out := with("10")
			require.Equal(t, program.Found, status)
			require.Contains(t, out, "2 rows, 2 matches, 0 logs: 1 error, 0 warnings, 0 notes, 0 waived\n")
			found := findingsOf(out)
			require.Len(t, found, 1)
			said := `11-10 lacks the margin of 2: mistyped, unfinished, or an event won by one point: probably 12-10, 11-9 or 11-8`
			if c.name == "winners and losers" {
				said = `10-11 lacks the margin of 2: mistyped, unfinished, or an event won by one point: probably 9-11, 10-12 or 8-11`
			}
			require.Regexp(t, `^-:`+c.row+`: error: (match 2: )?game 1: `+said+`$`, found[0])
			require.Contains(t, out, "Ana Ruiz / Bo Lind", "the row stands below")
			status, out = with("9")
			require.Equal(t, program.Nothing, status, out)
			require.Empty(t, findingsOf(out))
		})
	}
}
