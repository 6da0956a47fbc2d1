package audit

import (
	"maps"
	"slices"
	"sort"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally/internal/names"
	"github.com/evencourt/evencourt/rally/words"
)

// Criterion is one step of a ranking.
type Criterion uint8

// The criteria. Differences use all points, forfeits as they are reported.
const (
	LeaguePoints   Criterion = iota + 1 // by [PointRules]
	MatchesWon                          // number, or share where [TableRules.Share]
	MatchDiff                           // matches won less matches lost
	GameDiff                            // games won less games lost
	PointDiff                           // points for less points against, all games
	PointsFor                           // points for
	HeadToHead                          // matches won among those tied
	HeadToHeadDiff                      // point difference among those tied
	NextHighest                         // point difference against the highest side outside the tie
	TwoMet                              // head-to-head, only if exactly two are tied and they met
	criterionCount
)

var criterionNames = []string{"", "league-points", "matches-won", "match-difference", "game-difference", "point-difference",
	"points-for", "head-to-head", "head-to-head-difference", "next-highest", "two-met"}

// String returns the text of the criterion.
func (c Criterion) String() string { return names.Of(criterionNames, c) }

// MarshalText implements encoding.TextMarshaler.
func (c Criterion) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (c *Criterion) UnmarshalText(text []byte) error {
	return unmarshal(criterionNames, "criterion", text, c)
}

// PointRules are the league points of one match.
type PointRules struct {
	Win     int `json:"win"`
	Tie     int `json:"tie"`
	Loss    int `json:"loss"`
	Forfeit int `json:"forfeit"` // of the side that forfeited or withdrew
	PerGame int `json:"per_game,omitempty"`
}

// By says whom a table ranks.
type By uint8

// Whom a table ranks.
const (
	ByPair   By = iota // the players of a side, in any order
	ByTeam             // the team
	ByPlayer           // every player, whoever partners him
)

var byNames = []string{"pair", "team", "player"}

// String returns "pair", "team" or "player".
func (b By) String() string { return names.Of(byNames, b) }

// MarshalText implements encoding.TextMarshaler.
func (b By) MarshalText() ([]byte, error) { return []byte(b.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (b *By) UnmarshalText(text []byte) error { return unmarshal(byNames, "by", text, b) }

// TableRules say how a table ranks, as data.
type TableRules struct {
	By      By          `json:"by"`
	Points  PointRules  `json:"points"`
	Order   []Criterion `json:"order"`
	Restart bool        `json:"restart"`           // a tie that got smaller starts again at the first criterion: switch tie-restart
	Share   bool        `json:"share,omitempty"`   // rank by share of matches, where their numbers differ
	Meeting int         `json:"meeting,omitempty"` // how often everybody should meet; 0 unchecked
}

// RoundRobin is the published order of a round robin: matches won, head-to-head
// among the tied, point difference over all games, head-to-head point
// difference, difference against the next-highest side ([clause.Standings]). Whether
// a reduced tie starts again is open: the rulings say it, by default yes.
func RoundRobin(r format.Rulings) TableRules {
	return TableRules{Points: PointRules{Win: 1}, Restart: r.Takes(clause.TieRestarts),
		Order: []Criterion{MatchesWon, HeadToHead, PointDiff, HeadToHeadDiff, NextHighest}}
}

// Standing is one line of a table.
type Standing struct {
	ID       string   `json:"id"`
	Rank     int      `json:"rank"` // from 1; those that nothing separates share it
	Played   int      `json:"played"`
	Won      int      `json:"won"`
	Lost     int      `json:"lost"`
	Tied     int      `json:"tied"`
	Games    Score    `json:"games"`  // won and lost
	For      Score    `json:"points"` // for and against
	League   int      `json:"league"`
	Decided  []Reason `json:"decided"`          // what placed this line, in order
	Together []string `json:"with,omitempty"`   // who share the rank, this one among them; none if nobody else does
	Matches  []string `json:"matches"`          // that it is made of
	Sums     []int    `json:"differences"`      // point difference of each match, in the order of Matches
	Left     []string `json:"ignored,omitzero"` // its matches that do not count
}

// Reason is one step that told a line from others.
type Reason struct {
	By    Criterion `json:"by"`
	Value int       `json:"value"`          // of this line
	Other int       `json:"other"`          // best of the others in the tie that it was told from
	From  []string  `json:"from"`           // those who were tied until then
	Of    int       `json:"of,omitempty"`   // of how many matches, where Share
	Above string    `json:"than,omitempty"` // for next-highest: against whom
}

// meeting is a counted match between two sides of ids.
type meeting struct {
	id     string
	sides  [2][]string
	winner MaybeSide
	tied   bool
	games  Score
	points Score
	league [2]int
}

// Standings ranks sides by their matches and explains every line. Matches that
// were not played, postponed, abandoned, annulled or byes do not count; of
// several reports of one match the first counts, of an amended one the last
// amendment. The error is an [*InputError].
func Standings(rules TableRules, matches []ReportedMatch) ([]Standing, error) {
	if len(rules.Order) == 0 {
		return nil, &InputError{Field: "order", Reason: "no criterion"}
	}
	for _, c := range rules.Order {
		if c == 0 || c >= criterionCount {
			return nil, &InputError{Field: "order", Reason: "unknown criterion"}
		}
	}
	t := newTable(rules, matches)
	ids := make([]string, 0, len(t.lines))
	for id := range t.lines {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	t.rank(ids, 0, 1)
	out := make([]Standing, 0, len(ids))
	for _, id := range ids {
		out = append(out, *t.lines[id])
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Rank < out[j].Rank })
	return out, nil
}

type table struct {
	rules    TableRules
	lines    map[string]*Standing
	meetings []meeting
	seats    map[string][]seat // of every id
}

// seat is a side of a meeting.
type seat struct{ meeting, side int }

func newTable(rules TableRules, matches []ReportedMatch) *table {
	t := &table{rules: rules, lines: map[string]*Standing{}, seats: map[string][]seat{}}
	t.collect(matches)
	return t
}

// entryID is the id by which a table knows a side: its team, or its players in
// alphabetical order joined by "+".
func entryID(e *Entrant, by By) string {
	if by == ByTeam && e.Team != "" {
		return e.Team
	}
	a, b := e.Players[0], e.Players[1]
	if a == "" && b == "" {
		return e.Team
	}
	if b == "" {
		return a
	}
	if b < a {
		a, b = b, a
	}
	return a + "+" + b
}

func (t *table) idsOf(e *Entrant) []string {
	if t.rules.By != ByPlayer {
		return []string{entryID(e, t.rules.By)}
	}
	var out []string
	for _, p := range e.Players {
		if p != "" {
			out = append(out, p)
		}
	}
	return out
}

// counts reports whether a match counts for a table. One of which nothing is
// reported yet is to be played.
func counts(m *ReportedMatch) bool {
	switch m.Status {
	case Played:
		return len(m.Games) > 0 || m.Won != nil || m.Totals != nil || m.Winner != Nobody
	case NotPlayed, Bye, Postponed, Abandoned, Annulled:
		return false
	}
	return true
}

func (t *table) collect(matches []ReportedMatch) {
	standing := lastReports(matches)
	for i := range matches {
		m := &matches[i]
		for s := range m.Sides {
			for _, id := range t.idsOf(&m.Sides[s]) {
				if id != "" && t.lines[id] == nil {
					t.lines[id] = &Standing{ID: id}
				}
			}
		}
		if !counts(m) || !standing[i] {
			for s := range m.Sides {
				for _, id := range t.idsOf(&m.Sides[s]) {
					if line := t.lines[id]; line != nil {
						line.Left = append(line.Left, m.ID)
					}
				}
			}
			continue
		}
		t.count(m)
	}
}

// lastReports says of each match that counts whether it is the report of it
// that stands: the first, or the last that amends or resumes it, however long the chain of
// amendments is.
func lastReports(matches []ReportedMatch) []bool {
	of := map[string]string{}
	for i := range matches {
		if m := &matches[i]; m.replaces() && m.ID != m.Of && m.ID != "" {
			of[m.ID] = m.Of
		}
	}
	roots := map[string]string{}
	root := func(id string) string {
		first := id
		seen := map[string]bool{}
		for !seen[id] && roots[id] == "" && of[id] != "" {
			seen[id] = true
			id = of[id]
		}
		if roots[id] != "" {
			id = roots[id]
		} else if seen[id] { // a circle of amendments is one match
			id = slices.Min(slices.Collect(maps.Keys(seen)))
		}
		roots[first] = id
		for passed := range seen {
			roots[passed] = id
		}
		return id
	}
	stands, at := make([]bool, len(matches)), map[string]int{}
	for i := range matches {
		m := &matches[i]
		if !counts(m) {
			continue
		}
		id := m.ID
		if m.replaces() {
			id = m.Of
		}
		if id == "" {
			stands[i] = true
			continue
		}
		before, known := at[root(id)]
		switch {
		case !known:
		case m.replaces():
			stands[before] = false
		default:
			continue
		}
		stands[i], at[root(id)] = true, i
	}
	return stands
}

// replaces reports whether a match takes the place of an earlier report.
func (m *ReportedMatch) replaces() bool {
	return (m.Status == Amended || m.Status == Resumed) && m.Of != ""
}

func (t *table) count(m *ReportedMatch) {
	games, points := m.GamesWon(), m.Points()
	if len(m.Games) == 0 && m.Won != nil {
		games = *m.Won
	}
	if len(m.Games) == 0 && m.Totals != nil {
		points = *m.Totals
	}
	winner := m.Victor()
	mt := meeting{id: m.ID, winner: winner, games: games, points: points, tied: winner == Nobody && m.Status != DoubleForfeit}
	for s := range m.Sides {
		mt.sides[s] = t.idsOf(&m.Sides[s])
		r := t.rules.Points
		league := r.Loss
		switch {
		case winner == KnownSide(sideOf(s)):
			league = r.Win
		case m.Status == DoubleForfeit, (m.Status == Forfeited || m.Status == Withdrawn) && m.By == KnownSide(sideOf(s)):
			league = r.Forfeit
		case mt.tied:
			league = r.Tie
		}
		mt.league[s] = league + r.PerGame*games[s]
		for _, id := range mt.sides[s] {
			line := t.lines[id]
			if line == nil {
				continue
			}
			line.Played++
			switch {
			case winner == KnownSide(sideOf(s)):
				line.Won++
			case mt.tied:
				line.Tied++
			default:
				line.Lost++
			}
			line.Games[0] += games[s]
			line.Games[1] += games[1-s]
			line.For[0] += points[s]
			line.For[1] += points[1-s]
			line.League += mt.league[s]
			line.Matches = append(line.Matches, m.ID)
			line.Sums = append(line.Sums, points[s]-points[1-s])
		}
	}
	for s, side := range mt.sides {
		for i, id := range side {
			if !slices.Contains(side[:i], id) {
				t.seats[id] = append(t.seats[id], seat{len(t.meetings), s})
			}
		}
	}
	t.meetings = append(t.meetings, mt)
}

// value is what a criterion gives a line among those tied. For shares the
// value is over of.
func (t *table) value(c Criterion, id string, tied map[string]bool, above string) (value, of int) {
	line := t.lines[id]
	switch c {
	case LeaguePoints:
		return line.League, line.Played
	case MatchesWon:
		return line.Won, line.Played
	case MatchDiff:
		return line.Won - line.Lost, line.Played
	case GameDiff:
		return line.Games[0] - line.Games[1], 0
	case PointDiff:
		return line.For[0] - line.For[1], 0
	case PointsFor:
		return line.For[0], 0
	case HeadToHead, TwoMet:
		if c == TwoMet && len(tied) != 2 {
			return 0, 0
		}
		return t.against(id, tied, func(mt *meeting, s int) int {
			if mt.winner == KnownSide(sideOf(s)) {
				return 1
			}
			return 0
		}), 0
	case HeadToHeadDiff:
		return t.against(id, tied, func(mt *meeting, s int) int { return mt.points[s] - mt.points[1-s] }), 0
	case NextHighest:
		if above == "" {
			return 0, 0
		}
		return t.against(id, map[string]bool{above: true}, func(mt *meeting, s int) int { return mt.points[s] - mt.points[1-s] }), 0
	}
	return 0, 0
}

// against sums over the matches of a line against others of a group.
func (t *table) against(id string, group map[string]bool, of func(*meeting, int) int) int {
	sum := 0
	for _, at := range t.seats[id] {
		mt := &t.meetings[at.meeting]
		if slices.ContainsFunc(mt.sides[1-at.side], func(other string) bool { return group[other] }) {
			sum += of(mt, at.side)
		}
	}
	return sum
}

// rank places a tied group from a rank on, beginning with a criterion.
func (t *table) rank(group []string, from, rank int) {
	switch len(group) {
	case 0:
		return
	case 1:
		t.lines[group[0]].Rank = rank
		return
	}
	for c := from; c < len(t.rules.Order); c++ {
		if split := t.compare(group, t.rules.Order[c]); split.tells() {
			t.place(&split, c, rank)
			return
		}
	}
	for _, id := range group {
		t.lines[id].Rank, t.lines[id].Together = rank, group
	}
}

// comparison is a tied group by what a criterion gives each line, best first.
type comparison struct {
	by      Criterion
	group   []string
	above   string // the highest side outside the group, for NextHighest
	share   bool   // values are shares
	entries []compared
}

type compared struct {
	id        string
	value, of int
}

func (t *table) compare(group []string, by Criterion) comparison {
	x := comparison{by: by, group: group, share: t.rules.Share && (by == LeaguePoints || by == MatchesWon || by == MatchDiff)}
	tied := make(map[string]bool, len(group))
	for _, id := range group {
		tied[id] = true
	}
	if by == NextHighest {
		x.above = t.nextHighest(tied)
	}
	for _, id := range group {
		v, of := t.value(by, id, tied, x.above)
		x.entries = append(x.entries, compared{id, v, of})
	}
	slices.SortStableFunc(x.entries, x.order)
	return x
}

// order is negative if a is better than b.
func (x *comparison) order(a, b compared) int {
	if !x.share {
		return b.value - a.value
	}
	p, q := a.value*max(b.of, 1), b.value*max(a.of, 1)
	if a.of == 0 || b.of == 0 { // nothing played is no share
		p, q = boolInt(a.of != 0), boolInt(b.of != 0)
	}
	return q - p
}

// tells reports whether the criterion separates anybody.
func (x *comparison) tells() bool { return x.order(x.entries[0], x.entries[len(x.entries)-1]) != 0 }

// place ranks those that a criterion, the nth, separates, and goes on with those
// that it leaves level.
func (t *table) place(x *comparison, nth, rank int) {
	next := nth + 1
	if t.rules.Restart {
		next = 0
	}
	for i := 0; i < len(x.entries); {
		k := i
		var block []string
		for ; k < len(x.entries) && x.order(x.entries[i], x.entries[k]) == 0; k++ {
			block = append(block, x.entries[k].id)
		}
		for _, e := range x.entries[i:k] {
			t.lines[e.id].Decided = append(t.lines[e.id].Decided, x.reason(e, i, k))
		}
		t.rank(block, next, rank+i)
		i = k
	}
}

// reason says what placed a line among those from i to k, which are level.
func (x *comparison) reason(e compared, i, k int) Reason {
	r := Reason{By: x.by, Value: e.value, From: x.group}
	switch {
	case i > 0:
		r.Other = x.entries[i-1].value
	case k < len(x.entries):
		r.Other = x.entries[k].value
	}
	if x.share {
		r.Of = e.of
	}
	if x.by == NextHighest {
		r.Above = x.above
	}
	return r
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// nextHighest returns the best line outside a tied group by the first
// criterion: one placed above the group if there is one, else the best below.
func (t *table) nextHighest(group map[string]bool) string {
	best, bestRank := "", 0
	for id, line := range t.lines {
		if group[id] || line.Rank == 0 {
			continue
		}
		if line.Rank > bestRank || line.Rank == bestRank && id < best {
			best, bestRank = id, line.Rank // the lowest of those placed already is next above
		}
	}
	if best != "" {
		return best
	}
	first := t.rules.Order[0]
	value := 0
	for id := range t.lines {
		if group[id] {
			continue
		}
		v, _ := t.value(first, id, nil, "")
		if best == "" || v > value || v == value && id < best {
			best, value = id, v
		}
	}
	return best
}

// CheckMeetings reports pairs that have not met as often as a round robin
// wants, among the lines of a table, and a round robin of too few for the
// single games to 11 that it plays.
func CheckMeetings(rules TableRules, matches []ReportedMatch, at Place, out []Finding) []Finding {
	if rules.Meeting <= 0 {
		return out
	}
	t := newTable(rules, matches)
	ids := make([]string, 0, len(t.lines))
	for id := range t.lines {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	if len(ids) < fewestForSingleGames && rules.By != ByPlayer && slices.ContainsFunc(matches, singleGame) {
		out = append(out, NewFinding(singleGameEvent, at, words.Count("sides", len(ids)), words.Count("fewest", fewestForSingleGames)))
	}
	for i, a := range ids {
		met := map[string]int{}
		for _, at := range t.seats[a] {
			for k, other := range t.meetings[at.meeting].sides[1-at.side] {
				if !slices.Contains(t.meetings[at.meeting].sides[1-at.side][:k], other) {
					met[other]++
				}
			}
		}
		for _, b := range ids[i+1:] {
			switch n := met[b]; {
			case n < rules.Meeting:
				out = append(out, NewFinding(pairingMissing, at, words.Name("a", a), words.Name("b", b), words.Count("met", n), words.Count("due", rules.Meeting)))
			case n > rules.Meeting:
				out = append(out, NewFinding(pairingTooOften, at, words.Name("a", a), words.Name("b", b), words.Count("met", n), words.Count("due", rules.Meeting)))
			}
		}
	}
	return out
}

// fewestForSingleGames is how many sides a round robin needs for single games
// to 11 ([clause.SingleGameEvents]).
const fewestForSingleGames = 6

// singleGame reports whether a match is one game to 11 by the editions of 2024
// or 2025.
func singleGame(m ReportedMatch) bool {
	f, err := format.Parse(m.Format)
	return err == nil && counts(&m) && f.Match.Games == 1 && f.Game.Target == 11 && (f.Edition == format.E2024 || f.Edition == format.E2025)
}

// Explain writes the reasons of a line, one a string, as codes with their
// numbers: "matches-won 2 (next 1) of a, b, c".
func (s *Standing) Explain() []string {
	var out []string
	for i, id := range s.Matches {
		out = append(out, "match "+id+" "+signed(s.Sums[i]))
	}
	out = append(out, "total "+signed(s.For[0]-s.For[1]))
	for _, r := range s.Decided {
		line := r.By.String() + " " + itoa(r.Value)
		if r.Of != 0 {
			line += "/" + itoa(r.Of)
		}
		line += " against " + itoa(r.Other) + " among"
		for _, id := range r.From {
			line += " " + id
		}
		if r.Above != "" {
			line += " over " + r.Above
		}
		out = append(out, line)
	}
	if len(s.Together) > 0 {
		out = append(out, "shared by "+strings.Join(s.Together, " "))
	}
	return out
}

func signed(n int) string {
	if n > 0 {
		return "+" + itoa(n)
	}
	return itoa(n)
}
