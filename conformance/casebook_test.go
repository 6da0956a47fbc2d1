package conformance_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/openrecords"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// A covered ruling names the cases that assert it. Why says what no case can
// assert of it; without cases, why none does.
type covered struct {
	Cases []string `json:"cases"`
	Why   string   `json:"why"`
}

// casebook.json ties a casebook of published rulings, by their ids there, to
// the cases of this corpus.
func coverage(t *testing.T) map[string]covered {
	data, err := os.ReadFile("casebook.json")
	require.NoError(t, err)
	var out map[string]covered
	require.NoError(t, json.Unmarshal(data, &out))
	require.NotEmpty(t, out)
	return out
}

func casesByID(t *testing.T) map[string]conformance.Case {
	files, err := conformance.Load()
	require.NoError(t, err)
	out := map[string]conformance.Case{}
	for _, f := range files {
		for _, c := range f.Cases {
			out[c.ID] = c
		}
	}
	return out
}

func TestEveryCoveredRulingHasItsCases(t *testing.T) {
	cases := casesByID(t)
	for id, c := range coverage(t) {
		require.Truef(t, len(c.Cases) > 0 || c.Why != "", "%s has neither cases nor a reason", id)
		for _, name := range c.Cases {
			require.Containsf(t, cases, name, "%s names a case that does not exist", id)
		}
	}
}

// A ruling as the casebook has it. Positions are written from the serving
// side, as in "A 4-3-1; A1@R→B2@R".
type ruling struct {
	ID            string
	Before, After string
	From, To      string // first and last edition; empty for a local rule
}

// rulings reads the casebook, which is not part of this module.
func rulings(t *testing.T) []ruling {
	var out []ruling
	require.NoError(t, json.Unmarshal(openrecords.Read(t, "facts/casebook.json"), &out))
	t.Logf("%d rulings read", len(out))
	return out
}

// casebookEditions are the editions by their codes in the casebook. E16 has no
// text of its own here: the oldest text of its family stands for it.
var casebookEditions = map[string]format.Edition{
	"E99": format.E1999, "E13": format.E2013, "E16": format.E2017, "E17": format.E2017, "E18": format.E2018,
	"E19": format.E2019, "E20": format.E2020, "E21": format.E2021, "E22": format.E2022, "E23a": format.E2023,
	"E23b": format.E2023Aug, "E24": format.E2024, "E25": format.E2025, "E26": format.E2026,
}

func TestCasebookIsCovered(t *testing.T) {
	book := rulings(t)
	table, cases := coverage(t), casesByID(t)
	listed, positions, editions, scores := map[string]bool{}, 0, 0, 0
	for _, r := range book {
		c, ok := table[r.ID]
		require.Truef(t, ok, "%s is not listed", r.ID)
		listed[r.ID] = true
		if len(c.Cases) == 0 {
			continue
		}
		seen := map[format.Edition]bool{}
		var lines []string
		for _, name := range c.Cases {
			for _, entry := range cases[name].Formats {
				ids, err := conformance.Expand(entry)
				require.NoError(t, err)
				for _, id := range ids {
					f, err := format.Parse(id)
					require.NoError(t, err)
					seen[f.Edition] = true
				}
			}
			lines = append(lines, linesOf(cases[name])...)
		}
		if r.From != "" {
			for e := casebookEditions[r.From]; e <= casebookEditions[r.To]; e++ {
				require.Truef(t, seen[e], "%s: no case under %s", r.ID, e)
				editions++
			}
		}
		if c.Why != "" {
			continue
		}
		if m := reportedScores.FindStringSubmatch(r.After); m != nil {
			require.Equal(t, m[1], reported(t, cases[c.Cases[0]], "sideout-doubles-11-of3@"+casebookEditions[r.From].String(), 1), r.ID)
			scores++
		}
		for _, p := range published(r.Before + " | " + r.After) {
			require.Truef(t, slices.ContainsFunc(lines, func(l string) bool { return p.MatchString(l) }),
				"%s: no case stands at %s", r.ID, p)
			positions++
		}
	}
	require.Len(t, listed, len(table), "the table lists rulings that the casebook does not have")
	t.Logf("%d published positions, %d editions and %d reported scores of rulings compared", positions, editions, scores)
	require.NotZero(t, positions)
	require.NotZero(t, scores)
}

// linesOf returns every line that a case states.
func linesOf(c conformance.Case) []string {
	out := []string{c.From}
	if c.Start != nil {
		out[0] = c.Start.Line
	}
	for _, s := range c.Steps {
		if s.Line != "" {
			out = append(out, s.Line)
		}
	}
	return out
}

var position = regexp.MustCompile(`([AB]) (\d+)-(\d+)(?:-([12]))?; ([AB][12lr]?)@([RL])(?:→([AB][12lr]?))?`)

// published finds the positions in a text of the casebook; each becomes a
// pattern for lines. On fixed courts r and l name the players, in singles a
// side does.
func published(text string) []*regexp.Regexp {
	person := func(s string) string {
		switch {
		case s == "":
			return "[AB][12]"
		case strings.HasSuffix(s, "l"):
			return s[:1] + "2"
		case strings.HasSuffix(s, "2"):
			return s
		}
		return s[:1] + "1"
	}
	var out []*regexp.Regexp
	for _, m := range position.FindAllStringSubmatch(text, -1) {
		a, b, number := m[2], m[3], m[4]
		if m[1] == "B" {
			a, b = b, a
		}
		if number == "" {
			number = "-"
		}
		out = append(out, regexp.MustCompile(fmt.Sprintf(` score=%s-%s .* serve=%s@%s#%s receive=%s `,
			a, b, person(m[5]), m[6], number, person(m[7]))))
	}
	return out
}

// The line keeps the points that were played. What is reported of a match that
// was not played out is a convention of the edition; here it is compared with
// the figures that were published.
func TestReportedScores(t *testing.T) {
	cases := casesByID(t)
	for _, tt := range []struct {
		name, id, format string
		steps            int
		want, source     string
	}{
		{"retires leading", "c1494", "sideout-doubles-11-of3@2024", 1, "10-12, 0-11", "12.F.6.a (2024), published example"},
		{"retires trailing", "c1495", "sideout-doubles-11-of3@2024", 1, "3-11, 0-11", "12.F.6.a (2024), derived"},
		{"retires level", "c1496", "sideout-doubles-11-of3@2024", 1, "11-13, 0-11", "12.F.6.a (2024), derived"},
		{"retires to 2021", "c1497", "sideout-doubles-11-of3@2021", 1, "0-11, 0-11", "12.F.6.a before 2022"},
		{"game forfeit of 2026", "c1482", "sideout-doubles-11-of3@2026", 1, "11-0", "22.K (2026)"},
		{"game forfeit of 2024", "c1483", "sideout-doubles-11-of3@2024", 1, "11-4", "12.F.4 (2024)"},
		{"game forfeit, then match forfeit", "c1482", "sideout-doubles-11-of3@2026", 3, "11-0, 11-0", "22.K (2026)"},
		{"late by ten minutes", "c1476", "sideout-doubles-11-of3@2024", 1, "0-11", "event instructions 2024"},
		{"late by fifteen minutes", "c3622", "sideout-doubles-11-of3@2024", 1, "11-0, 11-0", "event instructions 2024"},
		{"withdraws", "c1499", "sideout-doubles-11-of3@2024", 1, "0-11, 0-11", "12.G (2024)"},
		{"both forfeit", "c1493", "sideout-doubles-11-of3@2024", 1, "", "no text; no winner, no games"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			require.Containsf(t, cases, tt.id, "%s", tt.source)
			require.Equalf(t, tt.want, reported(t, cases[tt.id], tt.format, tt.steps), "%s", tt.source)
		})
	}
}

// reported plays the first steps of a case and returns the games as they are
// reported, A-B.
func reported(t *testing.T, c conformance.Case, formatID string, steps int) string {
	f, err := format.Parse(formatID)
	require.NoError(t, err)
	rules, err := rally.Compile(f)
	require.NoError(t, err)
	state, err := rules.ParseLine(linesOf(c)[0])
	require.NoError(t, err)
	log := rally.NewLog(rules, state)
	for _, s := range c.Steps[:steps] {
		_, err := log.Enter(s.Do + s.Entry)
		require.NoError(t, err)
	}
	var games []string
	for _, g := range log.Result().Games {
		games = append(games, fmt.Sprintf("%d-%d", g.Score[rally.A], g.Score[rally.B]))
	}
	return strings.Join(games, ", ")
}

var reportedScores = regexp.MustCompile(`(\d+-\d+(?:, \d+-\d+)*) \(A-B\)`)
