package audit

import (
	"slices"
	"strconv"
	"sync"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Finals audits final scores under one format. It is immutable but for caches
// of its own and safe for use by several goroutines. A legal match costs no
// allocation. Make one with [NewFinals] or [NewFinalsOf].
type Finals struct {
	games    [2]format.Game // every game but the last possible one; the last
	match    format.Series
	timeOuts [2]int // a side's in a game; -1 if that is not checked
	rules    *rally.Rules
	format   format.Format
	finals   [2][usual]uint64 // by kind of game: whether the usual score a-b is a final, bit b of a

	once    sync.Once
	penalty [2]map[[2]uint8]bool // finals that only a penalty point makes possible

	mu     sync.Mutex
	totals map[Score]*totalsSet
}

// NewFinals returns the audit of a format's finals. The error is that of
// [rally.Compile].
func NewFinals(f format.Format) (*Finals, error) {
	r, err := rally.Compile(f)
	if err != nil {
		return nil, err
	}
	finals := &Finals{games: [2]format.Game{f.Game, f.Last}, match: f.Match, rules: r, format: f,
		timeOuts: [2]int{int(f.Game.TimeOuts), int(f.Last.TimeOuts)}}
	finals.findUsual()
	return finals, nil
}

// NewFinalsOf returns the audit of a [Scoring]. The error is an [*InputError].
func NewFinalsOf(s Scoring) (*Finals, error) {
	g, err := GameEnd{s.Target, s.WinBy, s.Cap}.game("")
	if err != nil {
		return nil, err
	}
	last := g
	if s.Last != nil {
		if last, err = s.Last.game("last."); err != nil {
			return nil, err
		}
	}
	switch {
	case s.Games < 1 || s.Games > 9:
		return nil, &InputError{Field: "games", Reason: "must be 1 to 9"}
	case s.Games%2 == 0 && !s.PlayAll:
		return nil, &InputError{Field: "games", Reason: "an even number needs play_all"}
	case s.Games == 1 && g != last:
		return nil, &InputError{Field: "last", Reason: "a single game has no other last game"}
	case s.TimeOuts != nil && (*s.TimeOuts < 0 || *s.TimeOuts > 15):
		return nil, &InputError{Field: "time_outs", Reason: "must be 0 to 15"}
	}
	f := &Finals{games: [2]format.Game{g, last}, match: format.Series{Games: uint8(s.Games), PlayAll: s.PlayAll}, timeOuts: [2]int{-1, -1}}
	if s.TimeOuts != nil {
		f.timeOuts = [2]int{*s.TimeOuts, *s.TimeOuts}
	}
	f.findUsual()
	return f, nil
}

// Rules returns the compiled format; nil for a [Scoring].
func (f *Finals) Rules() *rally.Rules { return f.rules }

func (f *Finals) kind(n int) int {
	if n >= int(f.match.Games) {
		return 1
	}
	return 0
}

// Game says what is wrong with the final score of game n (from 1), winner's
// points first or not; [NoCode] if it is legal.
func (f *Finals) Game(n int, s Score) FindingCode {
	k := f.kind(n)
	g := &f.games[k]
	high, low := max(s[0], s[1]), min(s[0], s[1])
	switch {
	case low < 0:
		return matchGameMissing
	case f.legal(k, s):
		return NoCode
	case high == 0:
		return gameNothing
	case high == low:
		return gameLevel
	case high < int(g.Target):
		return gameUnfinished
	case high-low < int(g.WinBy) && (g.Cap == 0 || high < int(g.Cap)):
		return gameMargin
	case f.byPenalty(k, high, low):
		return gamePenaltyOnly
	}
	return gameOverRun
}

// needed is how many games win the match; more than can be played where all
// are.
func (f *Finals) needed() int {
	if f.match.PlayAll {
		return int(f.match.Games) + 1
	}
	return int(f.match.Needed())
}

// Check audits a match and appends what it finds to out. Sides, names and
// other matches are the business of [Season]; ids within the match are checked
// here. Only findings cost anything.
func (f *Finals) Check(m *ReportedMatch, at Place, out []Finding) []Finding {
	at.Match, at.Edition = m.ID, f.format.Edition
	status := m.Status
	if status >= statusCount {
		status = Played
	}
	if status == Played && f.plain(m) {
		return out
	}
	at.About = m.About()
	rules := &statusRules[status]
	out = f.people(m, &at, out)
	if rules.of && m.Of == "" {
		out = append(out, NewFinding(referenceMissing, at, status.word()))
	}
	if rules.by && m.By == Nobody {
		out = append(out, NewFinding(statusWinner, at, status.word(), words.Word("unclear", "unclear.by")))
	}
	if !rules.games && (len(m.Games) > 0 || m.Won != nil) {
		out = append(out, NewFinding(statusGames, at, status.word(), words.Count("games", len(m.Games))))
	}
	if rules.none && m.Winner != Nobody {
		out = append(out, NewFinding(statusWinner, at, status.word(), words.Word("unclear", "unclear.winner")))
	}
	switch status {
	case Played, Resumed, Amended:
		out = f.played(m, &at, out)
	case Retired, Forfeited, Withdrawn:
		if m.By != Nobody {
			out = f.broken(m, at, out)
		}
	case Awarded:
		if m.Winner == Nobody && m.Victor() == Nobody {
			out = append(out, NewFinding(statusWinner, at, status.word(), words.Word("unclear", "unclear.none")))
		}
	case Bye:
		if !m.Sides[0].Empty() && !m.Sides[1].Empty() {
			out = append(out, NewFinding(byeOpponent, at))
		}
	case Abandoned:
		out = f.abandoned(m, at, out)
	}
	if status != Annulled && len(m.TimeOuts) > 0 {
		out = f.breaks(m, at, out)
	}
	return out
}

// CheckPart audits what is there of a match of which the scores or the status
// could not all be read: its people, and each game by itself. Of the scores that
// a date among out can have been it leaves those that go with the rest.
func (f *Finals) CheckPart(m *ReportedMatch, at Place, out []Finding) []Finding {
	at.Match, at.About = m.ID, m.About()
	f.narrow(m, at, out)
	out = f.people(m, &at, out)
	for i, s := range m.Games {
		if code := f.Game(i+1, s); code != NoCode && code != matchGameMissing {
			g := at
			g.Game = i + 1
			out = append(out, f.gameFinding(code, i+1, s, g))
		}
	}
	return out
}

// plain reports whether there is nothing about a match that was played that a
// check below could find: four people, legal games that decide it in the last
// one, and nothing else given than the winner that they make. So are nearly all.
func (f *Finals) plain(m *ReportedMatch) bool {
	a, b := &m.Sides[0].Players, &m.Sides[1].Players
	if same(a[0], b[0]) || same(a[0], b[1]) || same(a[1], b[0]) || same(a[1], b[1]) || same(a[0], a[1]) || same(b[0], b[1]) {
		return false
	}
	if f.rules != nil {
		singles := f.format.Game.Sides == format.Singles
		if (a[1] == "") != (singles || a[0] == "") || (b[1] == "") != (singles || b[0] == "") {
			return false
		}
	}
	n := len(m.Games)
	if m.Won != nil || m.Totals != nil || len(m.TimeOuts) > 0 || n == 0 || n > int(f.match.Games) {
		return false
	}
	needed, won := f.needed(), Score{}
	for i, g := range m.Games {
		if max(won[0], won[1]) >= needed || !f.legal(f.kind(i+1), g) {
			return false
		}
		a := more(g[0], g[1])
		won[0], won[1] = won[0]+a, won[1]+1-a
	}
	return max(won[0], won[1]) >= needed && (m.Winner == Nobody || m.Winner == leader(won))
}

// same reports whether two ids are one. Ids mostly differ in their last byte.
func same(a, b string) bool {
	return len(a) == len(b) && a != "" && a[len(a)-1] == b[len(b)-1] && a == b
}

// people checks that four people are four.
func (f *Finals) people(m *ReportedMatch, at *Place, out []Finding) []Finding {
	a, b := &m.Sides[0].Players, &m.Sides[1].Players
	for _, id := range a {
		if id != "" && (id == b[0] || id == b[1]) {
			out = append(out, ofSides(playerBothSides, *at, words.Name("player", id)))
		}
	}
	for i := range m.Sides {
		side := &m.Sides[i].Players
		if side[0] != "" && side[0] == side[1] {
			out = append(out, ofSides(playerTwice, *at, words.Name("player", side[0])))
		}
	}
	if f.rules == nil {
		return out
	}
	sides := f.format.Game.Sides
	for i := range m.Sides {
		side := &m.Sides[i].Players
		if sides == format.Singles && side[1] != "" || sides != format.Singles && side[0] != "" && side[1] == "" {
			out = append(out, ofSides(sidePlayers, *at, words.Name("side", whoNames[i+1]), words.Word("sides", words.Code("sides."+sides.String()))))
		}
	}
	return out
}

func ofSides(c FindingCode, at Place, args ...words.Arg) Finding {
	at.Field = "sides"
	return NewFinding(c, at, args...)
}

// played checks a match that was played to its end.
func (f *Finals) played(m *ReportedMatch, at *Place, out []Finding) []Finding {
	if len(m.Games) == 0 {
		return f.partial(m, *at, out)
	}
	n := len(m.Games)
	for n > 1 && m.Games[n-1].missing() {
		n-- // empty columns after the last game
	}
	games := m.Games[:n]
	if m.Games[0].missing() && n == 1 {
		return f.partial(m, *at, out)
	}
	t := f.tally(games)
	if !t.legal {
		if other := f.otherTarget(games); other != 0 {
			out = append(out, NewFinding(targetOther, *at, words.Count("target", int(f.games[0].Target)), words.Count("fits", other)))
			if m.Winner != Nobody && m.Winner != leader(t.won) {
				out = append(out, disagrees(m, t.won, *at))
			}
			return out
		}
		out = f.illegal(games, *at, out)
	}
	switch {
	case n > int(f.match.Games):
		out = append(out, NewFinding(matchTooManyGames, *at, words.Count("games", n), words.Count("most", int(f.match.Games))))
	case t.decided != 0 && t.decided < n:
		out = append(out, NewFinding(matchExtraGame, *at, words.Count("games", n), words.Count("decided", t.decided)))
	case f.match.PlayAll && n == int(f.match.Games) && t.won[0] == t.won[1] && t.legal:
		out = append(out, NewFinding(matchTied, *at, t.won.as("won")))
	case t.decided == 0 && t.legal && (!f.match.PlayAll || n < int(f.match.Games)):
		out = append(out, NewFinding(matchUndecided, *at, t.won.as("won"), words.Count("needed", int(f.match.Needed()))))
	}
	if !t.legal && f.Game(n, games[n-1]) == gameUnfinished {
		g := *at
		g.Game = n
		out = append(out, f.unmarkedRetirement(m, games, g))
	}
	if m.Winner != Nobody && m.Winner != leader(t.won) {
		out = append(out, disagrees(m, t.won, *at))
	}
	if m.Won != nil || m.Totals != nil {
		out = sums(m, games, *at, out)
	}
	return out
}

// tally is what games add up to.
type tally struct {
	won     Score // games
	decided int   // number of the game that decided the match; 0 for none
	legal   bool  // every game is
}

func (f *Finals) tally(games []Score) tally {
	t := tally{legal: true}
	needed := f.needed()
	for i, s := range games {
		t.legal = f.legal(f.kind(i+1), s) && t.legal
		t.won[0] += more(s[0], s[1])
		t.won[1] += more(s[1], s[0])
		if t.decided == 0 && max(t.won[0], t.won[1]) >= needed {
			t.decided = i + 1
		}
	}
	return t
}

// more is 1 if a is more than b, else 0. Who wins a game is as good as random,
// so that a branch would be guessed wrong half the time.
func more(a, b int) int {
	n := 0
	if a > b {
		n = 1
	}
	return n
}

// usual bounds the scores whose legality is looked up: a game to 25 and long
// beyond.
const usual = 64

// legal reports whether a game of this kind can end so.
func (f *Finals) legal(kind int, s Score) bool {
	if uint(s[0]) < usual && uint(s[1]) < usual {
		return f.finals[kind][s[0]]>>uint(s[1])&1 != 0
	}
	return f.final(kind, s)
}

func (f *Finals) final(kind int, s Score) bool {
	high, low := max(s[0], s[1]), min(s[0], s[1])
	return low >= 0 && high <= format.MostPoints && f.games[kind].Final(uint8(high), uint8(low))
}

func (f *Finals) findUsual() {
	for kind := range f.finals {
		for a := range usual {
			for b := range usual {
				if f.final(kind, Score{a, b}) {
					f.finals[kind][a] |= 1 << b
				}
			}
		}
	}
}

// illegal says what is wrong with each game that cannot be.
func (f *Finals) illegal(games []Score, at Place, out []Finding) []Finding {
	for i, s := range games {
		if code := f.Game(i+1, s); code != NoCode {
			at.Game = i + 1
			out = append(out, f.gameFinding(code, i+1, s, at))
		}
	}
	return out
}

// unmarkedRetirement asks whether the loser of an unfinished game retired and
// proposes the conventional score.
func (f *Finals) unmarkedRetirement(m *ReportedMatch, games []Score, at Place) Finding {
	s := games[len(games)-1]
	winner := m.Winner
	if winner == Nobody {
		winner = SideA
		if s[1] > s[0] {
			winner = SideB
		}
	}
	proposal := f.convention(games, winner, clause.RetirementKept)
	return NewFinding(retirementUnmarked, at, words.Name("side", winner.Other().String()), s.as("score"), words.Name("games", GamesText(proposal)))
}

func (f *Finals) gameFinding(code FindingCode, n int, s Score, at Place) Finding {
	g := &f.games[f.kind(n)]
	if code == matchGameMissing {
		return NewFinding(code, at)
	}
	out := NewFinding(code, at, s.as("score"))
	if code == gameUnfinished || code == gameOverRun {
		out.Args = append(out.Args, words.Count("target", int(g.Target)))
	}
	if code == gameMargin || code == gameOverRun {
		out.Args = append(out.Args, words.Count("margin", int(g.WinBy)))
	}
	if code != gameNothing {
		out.Args = append(out.Args, f.likely(n, s))
	}
	return out
}

// mostLikely is how many scores are proposed for one that cannot be.
const mostLikely = 3

// likely says for which finals a score may have been mistaken: those of which
// one number differs in a digit, changed, left out or put in, or in two exchanged,
// or was miscounted by one or two.
func (f *Finals) likely(n int, s Score) words.Arg {
	var list []Score
	for side := range s {
		text := itoa(s[side])
		for _, other := range append(mistyped(text), s[side]-1, s[side]+1, s[side]-2, s[side]+2) {
			t := s
			t[side] = other
			if f.legal(f.kind(n), t) && !slices.Contains(list, t) {
				list = append(list, t)
			}
		}
	}
	// The smaller the slip the likelier it is.
	off := func(t Score) int { return max(s[0]-t[0], t[0]-s[0]) + max(s[1]-t[1], t[1]-s[1]) }
	slices.SortStableFunc(list, func(a, b Score) int { return off(a) - off(b) })
	if len(list) == 0 {
		return words.Within("likely", words.New("likely.unknown"))
	}
	return words.Within("likely", words.New("likely.mistyped", words.Each("scores", proposalTexts(list[:min(len(list), mostLikely)])...)))
}

// mistyped lists the numbers up to two digits that one slip of the fingers turns
// into a text.
func mistyped(text string) []int {
	var out []int
	add := func(s string) {
		if n, err := strconv.Atoi(s); err == nil && len(s) <= 2 && (s[0] != '0' || s == "0") && s != text {
			out = append(out, n)
		}
	}
	for i := range text {
		add(text[:i] + text[i+1:])
		if i+1 < len(text) {
			add(text[:i] + text[i+1:i+2] + text[i:i+1] + text[i+2:])
		}
		for d := range 10 {
			add(text[:i] + itoa(d) + text[i+1:])
		}
	}
	for i := 0; i <= len(text); i++ {
		for d := range 10 {
			add(text[:i] + itoa(d) + text[i:])
		}
	}
	return out
}

// leader returns the side with more games, or nobody.
func leader(won Score) MaybeSide {
	switch {
	case won[0] > won[1]:
		return SideA
	case won[1] > won[0]:
		return SideB
	}
	return Nobody
}

// disagrees is the finding about a winner who did not win more games.
func disagrees(m *ReportedMatch, won Score, at Place) Finding {
	at.Field = "winner"
	return NewFinding(winnerDisagrees, at, words.Name("named", m.Winner.String()), won.as("won"), words.Name("leads", leader(won).String()))
}

// sums compares games won and totals with the games, where both are given.
func sums(m *ReportedMatch, games []Score, at Place, out []Finding) []Finding {
	played := ReportedMatch{Games: games}
	if won := played.GamesWon(); m.Won != nil && *m.Won != won {
		at.Field = "won"
		out = append(out, NewFinding(totalsDisagree, at, m.Won.as("given"), won.as("sum")))
	}
	if sum := played.Points(); m.Totals != nil && *m.Totals != sum {
		at.Field = "totals"
		out = append(out, NewFinding(totalsDisagree, at, m.Totals.as("given"), sum.as("sum")))
	}
	return out
}

// commonTargets are targets that are played somewhere.
var commonTargets = [...]int{7, 11, 15, 21, 25}

// otherTarget returns a target at which every game would be legal, if they are
// not at the format's; 0 if there is none. A lower one is believed only of
// several games: a single low score is rather unfinished.
func (f *Finals) otherTarget(games []Score) int {
	bad := false
	for i, s := range games {
		if code := f.Game(i+1, s); code == gameOverRun || code == gamePenaltyOnly || code == gameUnfinished {
			bad = true
		}
	}
	if !bad || f.games[0].Target != f.games[1].Target {
		return 0
	}
	for _, target := range commonTargets {
		g := f.games[0]
		if target == int(g.Target) || target < int(g.Target) && len(games) < 2 {
			continue
		}
		g.Target = uint8(target)
		g.Cap = 0
		all := true
		for _, s := range games {
			high, low := max(s[0], s[1]), min(s[0], s[1])
			all = all && low >= 0 && high <= format.MostPoints && g.Final(uint8(high), uint8(low))
		}
		// A game won with just the points of a target says that it is the right
		// one; then another game is only mistyped or unfinished.
		if all && wonAt(games, target) > wonAt(games, int(f.games[0].Target)) {
			return target
		}
	}
	return 0
}

// wonAt counts the games that were won with just so many points.
func wonAt(games []Score, points int) int {
	n := 0
	for _, s := range games {
		if max(s[0], s[1]) == points {
			n++
		}
	}
	return n
}

// breaks checks the time-outs used.
func (f *Finals) breaks(m *ReportedMatch, at Place, out []Finding) []Finding {
	for i, used := range m.TimeOuts {
		most := f.timeOuts[f.kind(i+1)]
		if most < 0 {
			break
		}
		for side, n := range used {
			if n > most {
				g := at
				g.Game, g.Field = i+1, "time_outs"
				found := NewFinding(timeOutsTooMany, g, words.Name("side", whoNames[side+1]), words.Count("used", n), words.Count("allowed", most))
				found.Clause = timeOutsTo(int(f.games[f.kind(i+1)].Target))
				out = append(out, found)
			}
		}
	}
	return out
}

// timeOutsTo is the clause that gives the time-outs of a game by its target.
func timeOutsTo(target int) format.Clause {
	switch {
	case target >= 21:
		return clause.TimeOutsTo21
	case target >= 15:
		return clause.TimeOutsTo15
	case target >= 11:
		return clause.TimeOutsTo11
	}
	return clause.TimeOutsTo7
}

// abandoned checks that what was played of an abandoned match is possible and
// did not decide it.
func (f *Finals) abandoned(m *ReportedMatch, at Place, out []Finding) []Finding {
	won, _, out := f.brokenOff(m.Games, at, out)
	if max(won[0], won[1]) >= f.needed() {
		out = append(out, NewFinding(statusGames, at, Abandoned.word(), words.Count("games", len(m.Games))))
	}
	return out
}

// brokenOff checks games of which the last may be unfinished. It returns the
// games won of those that are complete, and whether all of them are.
func (f *Finals) brokenOff(games []Score, at Place, out []Finding) (won Score, complete bool, _ []Finding) {
	complete = true
	for i, g := range games {
		code := f.Game(i+1, g)
		open := code == gameUnfinished || code == gameLevel || code == gameMargin || code == gameNothing
		complete = complete && code == NoCode
		switch {
		case code == NoCode && g[0] > g[1]:
			won[0]++
		case code == NoCode:
			won[1]++
		case !open || i < len(games)-1:
			p := at
			p.Game = i + 1
			out = append(out, f.gameFinding(code, i+1, g, p))
		}
	}
	return won, complete, out
}

// byPenalty reports whether a game can end high-low only because a penalty
// moved a score. The set is computed from the step function: every game in
// which each side is given at most what the edition's ladder allows.
func (f *Finals) byPenalty(kind, high, low int) bool {
	if f.rules == nil {
		return false
	}
	f.once.Do(f.findPenaltyFinals)
	// Beyond the target the endgame repeats: level scores are all alike.
	if over := high - (int(f.games[kind].Target) + 4); over > 0 && f.games[kind].Cap == 0 {
		high, low = high-over, low-over
	}
	return low >= 0 && high <= format.MostPoints && f.penalty[kind][[2]uint8{uint8(high), uint8(low)}]
}

func (f *Finals) findPenaltyFinals() {
	for kind := range f.penalty {
		f.penalty[kind] = map[[2]uint8]bool{}
		if f.format.Rulings.Of(clause.FoulAwards) == clause.None {
			continue
		}
		g := f.games[kind]
		// One game of this kind as a match of its own: fouls of earlier games
		// would only leave fewer for this one.
		own := f.format
		own.Shape, own.Game, own.Last, own.Match = "", g, g, format.Series{Games: 1, NextServe: format.OtherSide}
		r, err := rally.Compile(own)
		if err != nil {
			continue
		}
		most := int(g.Target) + 5
		seen := map[rally.State]bool{}
		queue := []rally.State{r.New(rally.A), r.New(rally.B)}
		events := []rally.Event{rally.RallyTo(rally.A), rally.RallyTo(rally.B),
			rally.OfSide(rally.TechnicalFoul, rally.A), rally.OfSide(rally.TechnicalFoul, rally.B)}
		for len(queue) > 0 {
			s := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			for _, e := range events {
				next, did, refusal := r.Apply(s, e)
				if refusal != rally.NotRefused {
					continue
				}
				a, b := next.Score(rally.A), next.Score(rally.B)
				if did.Has(rally.GameWon) {
					high, low := uint8(max(a, b)), uint8(min(a, b))
					if !g.Final(high, low) {
						f.penalty[kind][[2]uint8{high, low}] = true
					}
					continue
				}
				if next.Phase() != rally.Playing && next.Phase() != rally.Before || max(a, b) > most || seen[next] {
					continue
				}
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
}
