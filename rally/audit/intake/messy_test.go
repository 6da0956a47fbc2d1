package intake_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
)

// Seasons as clubs would write them down: in one of many layouts, spellings and
// encodings, chosen by a seed; and errors put into them, one a row.

// fixture is one match as it was.
type fixture struct {
	day, round int
	sides      [2][2]string
	games      []audit.Score
	winner     int
	date       string // written instead of the day; "" for the day
}

var (
	firstNames = []string{"Imani", "Tomasz", "Priya", "Lars", "Mei-Lin", "Rafael", "Noor", "Renée", "Jürgen", "Zoë", "Søren", "Ana", "Bo", "Inès", "Ola", "Åsa"}
	lastNames  = []string{"Okafor", "Zielinski", "Raman", "Nyberg", "Castellanos", "Oyelaran", "Haddad", "Lindqvist", "Müller", "García", "Moreau", "Rossi", "Silva", "de Vries", "Nowak", "Tan"}
)

// autumnOf makes the matches of a club: rounds in which everybody plays once.
func autumnOf(rng *rand.Rand, club, rounds int) []fixture {
	var people []string
	for i := range 40 {
		people = append(people, firstNames[(i+club)%16]+" "+lastNames[(i+5*(i/16)+club*3)%16])
	}
	slices.Sort(people)
	people = slices.Compact(people)
	people = people[:len(people)/4*4]
	var out []fixture
	for round := range rounds {
		rng.Shuffle(len(people), func(i, j int) { people[i], people[j] = people[j], people[i] })
		for i := 0; i+3 < len(people); i += 4 {
			m := fixture{day: 7 * round, round: round + 1, sides: [2][2]string{{people[i], people[i+1]}, {people[i+2], people[i+3]}}}
			for won := [2]int{}; max(won[0], won[1]) < 2; {
				high, low := 11, rng.IntN(10)
				if low == 9 && rng.IntN(2) == 0 {
					low += 1 + rng.IntN(4)
					high = low + 2
				}
				g := audit.Score{high, low}
				m.winner = rng.IntN(2)
				if m.winner == 1 {
					g = audit.Score{low, high}
				}
				won[m.winner]++
				m.games = append(m.games, g)
			}
			out = append(out, m)
		}
	}
	return out
}

// style is how a club writes.
type style struct {
	comma, date, sign, between, pair, encoding, layout int
	title, crlf, winner, told                          bool
	desk                                               bool // columns of time and umpire, and of a status in words
	named                                              bool // the winner by name
	counted                                            bool // games won stand before the games
	padded                                             bool // empty rows below
}

func styleOf(rng *rand.Rand) style {
	coin := func() bool { return rng.IntN(2) == 0 }
	return style{rng.IntN(4), rng.IntN(6), rng.IntN(5), rng.IntN(5), rng.IntN(3), rng.IntN(4), rng.IntN(7), coin(), coin(), coin(), rng.IntN(4) == 0, coin(), coin(), coin(), coin()}
}

func (s style) dateOf(day int) string {
	m, d := 9, 5+day
	for _, days := range []int{30, 31, 30} {
		if d > days {
			d, m = d-days, m+1
		}
	}
	return []string{fmt.Sprintf("2026-%02d-%02d", m, d), fmt.Sprintf("%02d/%02d/2026", d, m), fmt.Sprintf("%d/%d/2026", m, d), fmt.Sprintf("%d.%d.2026", d, m),
		fmt.Sprintf("%d %s 2026", d, []string{"Sep", "Oct", "Nov", "Dec"}[m-9]), fmt.Sprintf("2026-%02d-%02d 18:30", m, d)}[s.date]
}

func (s style) score(g audit.Score) string {
	return fmt.Sprint(g[0]) + []string{"-", ":", "–", " - ", "/"}[s.sign] + fmt.Sprint(g[1])
}

func (s style) all(games []audit.Score) string {
	var list []string
	for _, g := range games {
		list = append(list, s.score(g))
	}
	between := []string{" ", ", ", " / ", "; ", "\u00a0"}[s.between]
	if s.sign == 4 && s.between == 2 {
		between = " " // a slash cannot be both
	}
	text := strings.Join(list, between)
	if s.counted {
		won := [2]int{}
		for _, g := range games {
			if g[0] > g[1] {
				won[0]++
			} else {
				won[1]++
			}
		}
		text = fmt.Sprintf("%d-%d (%s)", won[0], won[1], text)
	}
	return text
}

func (s style) pairOf(p [2]string) string { return p[0] + []string{" / ", " & ", "/"}[s.pair] + p[1] }

// headers are those of the layouts; the fifth has the winners first.
var headers = [][]string{
	{"Date", "Round", "Home", "Away", "Score", "Winner"},
	{"Datum", "Runde", "Heim 1", "Heim 2", "Gast 1", "Gast 2", "Satz 1", "Satz 2", "Satz 3", "Sieger"},
	{"date", "round", "a1", "a2", "b1", "b2", "games", "winner"},
	{"Match Date", "Rd", "Pair A", "Pair B", "Game 1 A", "Game 1 B", "Game 2 A", "Game 2 B", "Game 3 A", "Game 3 B", "Winner"},
	{"Date", "Round", "Winners", "Losers", "Result", ""},
	{"Fecha", "Jornada", "Local", "Visitante", "G1", "G2", "G3", "Ganador"},
	{"Date", "Round", "Home 1", "Home 2", "Away 1", "Away 2", "Game 1", "Game 2", "Game 3", "Winner"},
}

var sideWords = [][2]string{{"Home", "Away"}, {"Heim", "Gast"}, {"A", "B"}, {"Pair A", "Pair B"}, {"", ""}, {"Local", "Visitante"}, {"Home", "Away"}}

const winnersFirst = 4

// row writes a match.
func (s style) row(m *fixture) []string {
	date := m.date
	if date == "" {
		date = s.dateOf(m.day)
	}
	row := []string{date, fmt.Sprint(m.round)}
	sides, games := m.sides, slices.Clone(m.games)
	if s.layout == winnersFirst && m.winner == 1 {
		sides[0], sides[1] = sides[1], sides[0]
		for i, g := range games {
			games[i] = audit.Score{g[1], g[0]}
		}
	}
	if s.layout == 1 || s.layout == 2 || s.layout == 6 {
		row = append(row, sides[0][0], sides[0][1], sides[1][0], sides[1][1])
	} else {
		row = append(row, s.pairOf(sides[0]), s.pairOf(sides[1]))
	}
	switch s.layout {
	case 0, 2, winnersFirst:
		row = append(row, s.all(games))
	default:
		for i := range 3 {
			switch {
			case i >= len(games) && s.layout == 3:
				row = append(row, "", "")
			case i >= len(games):
				row = append(row, "")
			case s.layout == 3:
				row = append(row, fmt.Sprint(games[i][0]), fmt.Sprint(games[i][1]))
			default:
				row = append(row, s.score(games[i]))
			}
		}
	}
	winner := ""
	if s.winner {
		winner = sideWords[s.layout][m.winner]
		if s.named && s.layout != winnersFirst {
			winner = s.pairOf(m.sides[m.winner])
		}
	}
	return append(row, winner)
}

// file writes the matches, and says in which row each stands.
func (s style) file(matches []fixture) (text string, first int) {
	comma := []string{",", ";", "\t", "|"}[s.comma]
	var lines []string
	line := func(cells []string) {
		for i, c := range cells {
			if strings.Contains(c, comma) {
				cells[i] = `"` + c + `"`
			}
		}
		lines = append(lines, strings.Join(cells, comma))
	}
	switch {
	case s.told && comma != "\t":
		lines = append(lines, "sep="+comma)
	case s.title:
		lines = append(lines, "Harbour Lane Courts autumn ladder", "")
	}
	header := append(slices.Clone(headers[s.layout]), "Court", "Comment")
	if s.desk {
		header = append(header, "Time", "Umpire", "Status")
	}
	line(header)
	first = len(lines) + 1
	for i := range matches {
		row := append(s.row(&matches[i]), fmt.Sprint(1+i%4), "")
		if s.desk {
			row = append(row, fmt.Sprintf("%d:%02d", 17+i%4, 10*(i%6)), "Noor Haddad", []string{"Completed", "Final", "played"}[i%3])
		}
		line(row)
	}
	for range 3 {
		if s.padded {
			line(make([]string, len(header)))
		}
	}
	end := "\n"
	if s.crlf {
		end = "\r\n"
	}
	text = strings.Join(lines, end) + end
	switch s.encoding {
	case 1:
		return "\ufeff" + text, first
	case 2:
		return utf16le(text), first
	case 3:
		return windows1252(text), first
	}
	return text, first
}

// checked reads a file and returns what is found, by row, notes aside.
func checked(t testing.TB, text string, finals *audit.Finals, season *audit.Season, name string) map[int][]audit.Finding {
	table, err := intake.New(strings.NewReader(text), intake.Options{Format: "sideout-doubles-11-of3"}, nil)
	require.NoError(t, err, name)
	out := map[int][]audit.Finding{}
	at := audit.Place{Source: name}
	for table.Next() == nil {
		at.Line = table.Row()
		m, ok, found := table.Match(at, nil)
		switch {
		case ok:
			found = season.Add(m, at, finals.Check(m, at, found))
		case m != nil:
			found = finals.CheckPart(m, at, found)
		}
		for _, f := range found {
			if f.Severity > audit.Note {
				out[at.Line] = append(out[at.Line], f)
			}
		}
	}
	for _, f := range season.Finish(nil) {
		if f.Severity > audit.Note {
			out[f.Line] = append(out[f.Line], f)
		}
	}
	return out
}

func doubles(t testing.TB) *audit.Finals {
	f, err := format.Parse("sideout-doubles-11-of3")
	require.NoError(t, err)
	finals, err := audit.NewFinals(f)
	require.NoError(t, err)
	return finals
}

// A hundred files of a hundred clean rows and more, each in a style of its own:
// nothing is called wrong.
func TestCleanFilesInAnyStyle(t *testing.T) {
	finals := doubles(t)
	rows := 0
	for club := range 100 {
		rng := rand.New(rand.NewPCG(uint64(club), 7))
		s, matches := styleOf(rng), autumnOf(rng, club, 12)
		text, _ := s.file(matches)
		var season audit.Season
		found := checked(t, text, finals, &season, fmt.Sprint("club", club))
		for line, list := range found {
			t.Errorf("club %d, %+v, row %d: %v %s", club, s, line, list, strings.Split(text, "\n")[min(line, strings.Count(text, "\n"))-1])
		}
		rows += len(matches)
	}
	require.GreaterOrEqual(t, rows, 10_000)
	t.Logf("%d rows", rows)
}

// An error and the codes that name it; false where the row or the style cannot
// have it.
type planted struct {
	name   string
	codes  []audit.FindingCode
	change func(rng *rand.Rand, s style, matches []fixture, i int) bool
}

var plantedErrors = []planted{
	{"a margin of one", []audit.FindingCode{"game-margin"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		g := &all[i].games[0]
		if g[0] > g[1] {
			*g = audit.Score{11, 10}
		} else {
			*g = audit.Score{10, 11}
		}
		return true
	}},
	{"a point too few", []audit.FindingCode{"game-unfinished", "retirement-unmarked", "target-other"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		g := &all[i].games[0]
		for k := range g {
			if g[k] == 11 && g[1-k] < 9 {
				g[k] = 10
				return true
			}
		}
		return false
	}},
	{"a digit doubled", []audit.FindingCode{"game-over-run", "field-unreadable", "game-penalty-only"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		g := &all[i].games[0]
		for k := range g {
			if g[k] == 11 {
				g[k] = 111
				return true
			}
		}
		return false
	}},
	{"a score beyond the end", []audit.FindingCode{"game-over-run", "game-penalty-only", "target-other"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		g := &all[i].games[0]
		for k := range g {
			if g[k] == 11 && g[1-k] < 9 {
				g[k] = 14
				return true
			}
		}
		return false
	}},
	{"another winner named", []audit.FindingCode{"winner-disagrees"}, func(_ *rand.Rand, s style, all []fixture, i int) bool {
		all[i].winner = 1 - all[i].winner
		return s.winner || s.layout == winnersFirst
	}},
	{"a game too many", []audit.FindingCode{"match-extra-game", "match-too-many-games"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		if len(all[i].games) == 3 {
			return false
		}
		all[i].games = append(all[i].games, audit.Score{11, 4})
		return true
	}},
	{"a game left out", []audit.FindingCode{"match-undecided", "winner-disagrees"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		all[i].games = all[i].games[:len(all[i].games)-1]
		return true
	}},
	{"one player on both sides", []audit.FindingCode{"player-both-sides"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		all[i].sides[1][0] = all[i].sides[0][0]
		return true
	}},
	{"one player twice on a side", []audit.FindingCode{"player-twice"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		all[i].sides[0][1] = all[i].sides[0][0]
		return true
	}},
	{"a player in two matches of a round", []audit.FindingCode{"player-two-matches"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		if i == 0 || all[i-1].round != all[i].round {
			return false
		}
		all[i].sides[0][0] = all[i-1].sides[0][0]
		return true
	}},
	{"a year back", []audit.FindingCode{"date-outside"}, func(_ *rand.Rand, s style, all []fixture, i int) bool {
		all[i].date = strings.Replace(s.dateOf(all[i].day), "2026", "2025", 1)
		return true
	}},
	{"a day that no month has", []audit.FindingCode{"field-unreadable"}, func(_ *rand.Rand, s style, all []fixture, i int) bool {
		all[i].date = []string{"2026-09-31", "31/09/2026", "9/31/2026", "31.9.2026", "31 Sep 2026", "2026-09-31 18:30"}[s.date]
		return true
	}},
	{"the same match twice", []audit.FindingCode{"same-pairing-twice"}, func(_ *rand.Rand, _ style, all []fixture, i int) bool {
		if i == 0 {
			return false
		}
		all[i] = all[i-1]
		return true
	}},
	{"the same match twice, sides exchanged", []audit.FindingCode{"same-pairing-twice"}, func(_ *rand.Rand, s style, all []fixture, i int) bool {
		if i == 0 || s.layout == winnersFirst {
			return false
		}
		m := all[i-1]
		m.sides[0], m.sides[1], m.winner = m.sides[1], m.sides[0], 1-m.winner
		m.games = slices.Clone(m.games)
		for k, g := range m.games {
			m.games[k] = audit.Score{g[1], g[0]}
		}
		all[i] = m
		return true
	}},
}

// Errors in files of any style: nearly all that can be seen are found, by a code
// that names them and in their row.
func TestPlantedErrorsInAnyStyle(t *testing.T) {
	finals := doubles(t)
	found, all := 0, 0
	missed := map[string]int{}
	clubs := 60
	if testing.Short() {
		clubs = 15
	}
	for club := range clubs {
		for k, p := range plantedErrors {
			rng := rand.New(rand.NewPCG(uint64(club), uint64(k)+100))
			s, matches := styleOf(rng), autumnOf(rng, club, 8)
			i := 1 + rng.IntN(len(matches)-1)
			matches[i].games = slices.Clone(matches[i].games)
			if !p.change(rng, s, matches, i) {
				continue
			}
			text, first := s.file(matches)
			var season audit.Season
			got := checked(t, text, finals, &season, "club")
			all++
			if slices.ContainsFunc(got[first+i], func(f audit.Finding) bool { return slices.Contains(p.codes, f.Code) }) {
				found++
			} else {
				missed[p.name]++
				t.Logf("%s, club %d, %+v: row %d: %v", p.name, club, s, first+i, got)
			}
		}
	}
	t.Logf("%d of %d found; missed %v", found, all, missed)
	require.Greater(t, all, 10*clubs)
	require.GreaterOrEqual(t, 100*found, 95*all)
}
