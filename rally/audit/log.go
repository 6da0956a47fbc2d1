package audit

import (
	"sort"
	"strings"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// Row is one row of a log. Zero fields are unknown: a source has whatever
// columns it has.
type Row struct {
	Line    int         // line of the source
	Match   string      // match that the row names
	Game    int         // number of the game, from 1
	N       int         // the row's own number
	Elapsed int64       // milliseconds from any fixed moment; 0 if unknown
	Event   rally.Event // what happened; 0 for a rally whose winner is not given
	Undo    bool        // the row takes the last row that holds back

	Serving  MaybeSide    // side that served
	Server   MaybePerson  // who served
	Receiver MaybePerson  // who received
	Score    *Score       // score after the row
	Call     *CalledScore // score called before the row
}

// MaybePerson is a person of the match, or unknown.
type MaybePerson uint8

// Unknown is the person nobody has named.
const Unknown MaybePerson = 0

// KnownPerson returns the player that is a person.
func KnownPerson(p rally.Person) MaybePerson { return MaybePerson(p&3) + 1 }

// Person returns the person; false for [Unknown].
func (p MaybePerson) Person() (rally.Person, bool) {
	return rally.Person((p - 1) & 3), p >= 1 && p <= 4
}

// String returns "A1" and so on, or "".
func (p MaybePerson) String() string {
	if who, ok := p.Person(); ok {
		return who.String()
	}
	return ""
}

// CalledScore is a score call. Number is 0 where two numbers are called.
type CalledScore struct{ Serving, Receiving, Number int }

// String returns the call as it is spoken, such as "4-2-1".
func (c CalledScore) String() string {
	out := itoa(c.Serving) + "-" + itoa(c.Receiving)
	if c.Number != 0 {
		out += "-" + itoa(c.Number)
	}
	return out
}

// RallyLog is a match, or a part of it, rally by rally.
type RallyLog struct {
	Rules    *rally.Rules
	Match    string          // id; rows that name another are left out
	Start    *rally.State    // position it begins from; nil for the start of a match
	First    MaybeSide       // who served first, if that is known
	Starters *rally.Starters // the starting servers of the first game, if they are known
	Rows     []Row
	Finals   []Score // recorded finals of the games, if there are any
	Complete bool    // the log claims to reach the end of the match even without finals
	// EndChanges says that the source records end changes at the midpoint, so
	// that a missing one is noticed. One such row says it too.
	EndChanges bool
	Effort     *Effort // shared with other logs of the input; nil for one of its own
}

// Report is what an audit of a log found.
type Report struct {
	Findings []Finding
	Rerun    Rerun   // the rows taken literally
	Repair   *Repair // nil if the log needs none
}

// Rerun is what became of the rows taken literally.
type Rerun struct {
	State     rally.State // where it led
	First     int         // row of the first divergence, from 1; 0 if there is none
	Disagree  int         // rows that disagree
	Resync    int         // row from which all agree again; 0 if none do
	Blank     int         // rows without a winner
	Compared  int         // rows that were compared
	Collapsed bool        // a winner was not given and not to be inferred, and the rows were followed no further
	last      int         // index of the last row that disagrees
}

// MostRows is the longest log that is audited.
const MostRows = 20000

// kept is a row that takes part, with its number in the log.
type kept struct {
	*Row
	number int // from 1
	gap    int // rows missing before it by its own number
	same   bool
}

// Audit checks a log: what can be seen from the rows alone, the first
// divergence of a literal replay, and the cheapest explanation of the whole.
// A log that is too long, or has no rules, is one finding.
func (l *RallyLog) Audit(at Place) Report {
	at.Match = l.Match
	var out Report
	if l.Rules == nil || len(l.Rows) > MostRows {
		out.Findings = append(out.Findings, NewFinding(unexplained, at, words.Count("rows", len(l.Rows))))
		return out
	}
	at.Edition = l.Rules.Format().Edition
	rows, findings := l.ordered(at)
	out.Findings = findings
	out.Rerun = l.replay(rows)
	rp := &out.Rerun
	var whole whole
	if rp.First != 0 || rp.Collapsed {
		var ok bool
		if whole, ok = l.asWhole(rows, rp, at); ok {
			rows = whole.rows
			out.Findings = append(out.Findings, whole.finding)
			out.Rerun = l.replay(rows)
		}
	}
	if rp.First != 0 {
		if other := l.otherScoring(rows, rp.Disagree, rp.Compared); other != "" {
			out.Findings = append(out.Findings, NewFinding(otherScoring, at, words.Name("fits", other), words.Name("format", l.Rules.Format().ID())))
			return out
		}
		again := words.Code("again.resync")
		if rp.Resync == 0 {
			again = "again.no-resync"
		}
		p := at
		p.Rally, p.Line = rp.First, l.Rows[rp.First-1].Line
		out.Findings = append(out.Findings, NewFinding(logDiverges, p, words.Count("disagree", rp.Disagree), words.Count("rows", rp.Compared), words.Word("again", again)))
	}
	if rp.First == 0 && rp.Blank == 0 && !rp.Collapsed && l.ends(rp.State) && !hasGap(rows) {
		out.Findings = l.missedEnds(rows, nil, at, out.Findings)
		return out
	}
	out.Repair = l.repair(rows, whole.open)
	out.Findings = append(out.Findings, out.Repair.findings(l, rows, rp.Disagree, at)...)
	out.Findings = l.missedEnds(rows, out.Repair, at, out.Findings)
	return out
}

// Repair returns the cheapest explanation of the log.
func (l *RallyLog) Repair() *Repair {
	if l.Rules == nil || len(l.Rows) > MostRows {
		return &Repair{Cost: -1}
	}
	rows, _ := l.ordered(Place{})
	if rp := l.replay(rows); rp.First != 0 || rp.Collapsed {
		whole, ok := l.asWhole(rows, &rp, Place{})
		if ok {
			rows = whole.rows
		}
		return l.repair(rows, whole.open)
	}
	return l.repair(rows, false)
}

func hasGap(rows []kept) bool {
	for i := range rows {
		if rows[i].gap > 0 {
			return true
		}
	}
	return false
}

// prepare leaves out rows of other matches, puts rows into the order of their
// own numbers or times, drops rows delivered twice under one number, and
// carries out explicit undos.
func (l *RallyLog) prepare(at Place, byTime bool) ([]kept, []Finding) {
	p := preparing{log: l, at: at}
	rows := p.ofOneMatch()
	p.order(rows, byTime)
	return p.withoutUndone(rows), p.findings
}

// preparing is a log being prepared, with what was found on the way.
type preparing struct {
	log      *RallyLog
	at       Place
	findings []Finding
}

// note adds a finding about a row; 0 for none of them.
func (p *preparing) note(c FindingCode, number int, args ...words.Arg) {
	at := p.at
	if number > 0 {
		at.Rally, at.Line = number, p.log.Rows[number-1].Line
	}
	p.findings = append(p.findings, NewFinding(c, at, args...))
}

// ofOneMatch are the rows without those of other matches, which are counted.
func (p *preparing) ofOneMatch() []kept {
	match := p.log.Match
	if match == "" {
		match = commonest(p.log.Rows)
	}
	rows := make([]kept, 0, len(p.log.Rows))
	foreign := map[string]int{}
	var foreigners []string
	for i := range p.log.Rows {
		r := &p.log.Rows[i]
		if r.Match != "" && match != "" && r.Match != match {
			if foreign[r.Match] == 0 {
				foreigners = append(foreigners, r.Match)
			}
			foreign[r.Match]++
			continue
		}
		rows = append(rows, kept{Row: r, number: i + 1})
	}
	for _, id := range foreigners {
		p.note(otherMatchRow, 0, words.Count("rows", foreign[id]), words.Name("match", id))
	}
	return rows
}

// order puts rows into the order of their own numbers, or of their times where that
// is asked for.
func (p *preparing) order(rows []kept, byTime bool) {
	key, time := orderKey(rows)
	if key == nil || time && !byTime {
		return
	}
	newestFirst := newestFirst(rows, key)
	if newestFirst {
		p.note(wholeConvention, 0, words.Word("convention", "convention.reversed"))
	}
	for i := 1; i < len(rows); i++ {
		if before, now := key(&rows[i-1]), key(&rows[i]); now < before && !newestFirst || now > before && newestFirst {
			p.note(outOfOrder, rows[i].number)
		}
	}
	sort.SliceStable(rows, func(i, j int) bool { return key(&rows[i]) < key(&rows[j]) })
}

// withoutUndone drops rows that were delivered twice and those that were undone, and
// says how many are missing before each of the others.
func (p *preparing) withoutUndone(rows []kept) []kept {
	out, undone := rows[:0], false
	for _, r := range rows {
		if n := len(out); n > 0 {
			last := &out[n-1]
			if r.N != 0 && r.N == last.N && r.Game == last.Game && sameRow(r.Row, last.Row) {
				p.note(duplicateRow, r.number)
				p.findings[len(p.findings)-1].Certain = true
				continue
			}
			if r.N > last.N+1 && last.N != 0 && r.Game == last.Game {
				r.gap = r.N - last.N - 1
			}
			r.same = sameRow(r.Row, last.Row)
		}
		switch n := len(out); {
		case !r.Undo:
			out = append(out, r)
		case n > 0:
			p.note(undoRow, r.number, words.Count("undone", out[n-1].number))
			out, undone = out[:n-1], true
		default:
			p.note(eventRefused, r.number, words.Within("event", words.Event(rally.EventOf(rally.Undo), nil)), words.Word("reason", "undone.nothing"))
		}
	}
	if undone { // which leaves no gap in the numbers
		for i := range out {
			out[i].gap = 0
		}
	}
	return out
}

// newestFirst reports whether most rows stand above those before them: a habit of
// the source.
func newestFirst(rows []kept, key func(*kept) int64) bool {
	fallen := 0
	for i := 1; i < len(rows); i++ {
		if key(&rows[i]) < key(&rows[i-1]) {
			fallen++
		}
	}
	return len(rows) >= fewestWhole && 2*fallen > len(rows)
}

// commonest returns the match that most rows name.
func commonest(rows []Row) string {
	count := map[string]int{}
	best := ""
	for i := range rows {
		id := rows[i].Match
		if id == "" {
			continue
		}
		count[id]++
		if count[id] > count[best] {
			best = id
		}
	}
	return best
}

// orderKey returns what rows can be ordered by: numbers within games, numbers,
// or times, whichever every row has; nil if there is nothing.
func orderKey(rows []kept) (key func(*kept) int64, byTime bool) {
	numbered, games, timed, restarts := len(rows) > 0, true, len(rows) > 0, 0
	for i := range rows {
		numbered = numbered && rows[i].N > 0 && rows[i].N < 1<<20
		games = games && rows[i].Game > 0
		timed = timed && rows[i].Elapsed > 0
		if i > 0 && rows[i].N == 1 && rows[i-1].N > 2 {
			restarts++
		}
	}
	switch {
	case numbered && games && gamesInTurn(rows):
		return func(k *kept) int64 { return int64(k.Game)<<20 | int64(k.N) }, false
	case numbered && restarts == 0:
		return func(k *kept) int64 { return int64(k.N) }, false
	case timed:
		return func(k *kept) int64 { return k.Elapsed }, true
	}
	return nil, false
}

// gamesInTurn reports whether games follow each other with at most a few rows
// astray, so that sorting by game is safe.
func gamesInTurn(rows []kept) bool {
	changes := 0
	for i := 1; i < len(rows); i++ {
		if rows[i].Game != rows[i-1].Game {
			changes++
		}
	}
	return changes <= 20
}

func sameRow(a, b *Row) bool {
	return a.Event == b.Event && a.Undo == b.Undo && a.Serving == b.Serving && a.Server == b.Server &&
		a.Receiver == b.Receiver && a.Game == b.Game && a.N == b.N && a.Elapsed == b.Elapsed &&
		samePtr(a.Score, b.Score) && samePtr(a.Call, b.Call)
}

func samePtr[T comparable](a, b *T) bool { return a == b || a != nil && b != nil && *a == *b }

// ends reports whether a state agrees with what the log says of its end.
func (l *RallyLog) ends(s rally.State) bool {
	if len(l.Finals) == 0 {
		return !l.Complete || s.Phase() == rally.Over || s.Phase() == rally.Closed
	}
	if s.Phase() == rally.Playing || s.Game() != len(l.Finals) {
		return false
	}
	last := l.Finals[len(l.Finals)-1]
	return last.missing() || s.Score(rally.A) == last[0] && s.Score(rally.B) == last[1]
}

// seen is a set of columns in which a row disagrees with a state.
type seen uint16

const (
	winnerOff seen = 1 << iota
	servingOff
	serverOff
	receiverOff
	callOff
	scoreOff
	gameOff
	finalOff
	finalOver // the final counts rallies after the end
	refusedOff
)

// observe compares a row with the state before and after it, the recorded
// score being off by (da, db). It leaves the winner out.
func observe(r *rally.Rules, row *Row, before, after rally.State, da, db int) seen {
	var off seen
	if before.Phase() == rally.Playing {
		if row.Serving|MaybeSide(row.Server)|MaybeSide(row.Receiver) != 0 {
			p := r.Places(before)
			if who, ok := row.Server.Person(); ok && who != p.Server {
				off |= serverOff
			} else if side, ok := row.Serving.Side(); ok && side != p.Server.Side() {
				off |= servingOff
			}
			if who, ok := row.Receiver.Person(); ok && who != p.Receiver {
				off |= receiverOff
			}
		}
		if row.Call != nil && *row.Call != callOf(r, before, da, db) {
			off |= callOff
		}
	}
	if row.Score != nil && (row.Score[0] != after.Score(rally.A)+da || row.Score[1] != after.Score(rally.B)+db) {
		off |= scoreOff
	}
	if row.Game != 0 && row.Game != after.Game() {
		off |= gameOff
	}
	return off
}

func callOf(r *rally.Rules, s rally.State, da, db int) CalledScore {
	c, _ := r.Call(s)
	if side, _ := s.Serving(); side == rally.B {
		da, db = db, da
	}
	return CalledScore{c.Serving + da, c.Receiving + db, c.Number}
}

// begin returns the position from which a literal replay begins: before the
// game, if a row starts it.
func (l *RallyLog) begin(rows []kept) rally.State {
	if l.Start != nil {
		return *l.Start
	}
	first, st := l.guess(rows)
	s := l.Rules.New(first)
	for i := range rows {
		if rows[i].Event.Kind() == rally.StartGame {
			return s
		}
		if isRally(rows[i].Event) {
			break
		}
	}
	next, _, refusal := l.Rules.Apply(s, rally.Start(first, st))
	if refusal != rally.NotRefused {
		return s
	}
	return next
}

// guess returns who seems to have served first, from the first row that tells.
func (l *RallyLog) guess(rows []kept) (rally.Side, rally.Starters) {
	first, known := l.First.Side()
	st := rally.Starters{rally.A1, rally.B1}
	if l.Starters != nil {
		st = *l.Starters
	}
	for i := range rows {
		r := rows[i].Row
		if k := r.Event.Kind(); k == rally.StartGame {
			return r.Event.Side(), r.Event.Starters()
		}
		if who, ok := r.Server.Person(); ok {
			if !known {
				first = who.Side()
			}
			if l.Starters == nil && (!known || who.Side() == first) {
				st[who.Side()] = who
				if to, ok := r.Receiver.Person(); ok && to.Side() != who.Side() {
					st[to.Side()] = to
				}
			}
			return first, st
		}
		if side, ok := r.Serving.Side(); ok {
			if !known {
				first = side
			}
			return first, st
		}
		if r.Score != nil && !known && l.Rules.Format().Game.Scorer == 1 && r.Score[0]+r.Score[1] == 1 {
			if r.Score[1] == 1 {
				return rally.B, st
			}
			return rally.A, st
		}
	}
	return first, st
}

// replay takes the rows literally.
func (l *RallyLog) replay(rows []kept) Rerun {
	s := l.begin(rows)
	var out Rerun
	lastOff := 0
	for i := range rows {
		row := rows[i].Row
		out.Compared++
		event := row.Event
		if event == 0 {
			out.Blank++
			if event = l.inferred(s, row); event == 0 {
				out.Collapsed = true
				out.Compared--
				break
			}
		}
		if s.Phase() == rally.Between && isRally(event) {
			s = l.open(s, row)
		}
		next, did, refusal := l.Rules.Apply(s, event)
		off := seen(0)
		if refusal != rally.NotRefused {
			off, next = refusedOff, s
		} else {
			off = observe(l.Rules, row, s, next, 0, 0)
			if did.Has(rally.GameWon) && l.finalOf(next.Game()) != nil && !sameScore(*l.finalOf(next.Game()), next) {
				off |= finalOff
			}
		}
		if off != 0 {
			out.Disagree++
			lastOff, out.last = i+1, i
			if out.First == 0 {
				out.First = rows[i].number
			}
		}
		s = next
	}
	if out.First != 0 && lastOff < out.Compared {
		out.Resync = rows[lastOff].number
	}
	out.State = s
	return out
}

func sameScore(want Score, s rally.State) bool {
	return want.missing() || want[0] == s.Score(rally.A) && want[1] == s.Score(rally.B)
}

// finalOf returns the recorded final of a game, if there is one.
func (l *RallyLog) finalOf(game int) *Score {
	if game < 1 || game > len(l.Finals) || l.Finals[game-1].missing() {
		return nil
	}
	return &l.Finals[game-1]
}

func isRally(e rally.Event) bool {
	k := e.Kind()
	return k == rally.RallyWon || k == rally.Replay || k == rally.Stop || k == rally.NoKind
}

// open starts the next game with the starting servers that a row shows, those
// of the game before it if it shows none.
func (l *RallyLog) open(s rally.State, row *Row) rally.State {
	firsts := []rally.Side{rally.A, rally.B}
	if first, known := l.Rules.NextFirst(s); known {
		firsts = firsts[first : first+1]
	}
	st, _ := s.Starters()
	best, least := s, seen(1<<15)
	for _, first := range firsts {
		for v := range rally.Person(4) {
			next, _, refusal := l.Rules.Apply(s, rally.Start(first, rally.Starters{st[rally.A] ^ v&1, st[rally.B] ^ v>>1}))
			if refusal != rally.NotRefused {
				continue
			}
			off := observe(l.Rules, &Row{Serving: row.Serving, Server: row.Server, Receiver: row.Receiver}, next, next, 0, 0)
			if off < least {
				best, least = next, off
			}
		}
	}
	return best
}

// inferred returns the rally that alone fits a row without a winner, or 0.
func (l *RallyLog) inferred(s rally.State, row *Row) rally.Event {
	out := rally.Event(0)
	for side := rally.A; side <= rally.B; side++ {
		next, _, refusal := l.Rules.Apply(s, rally.RallyTo(side))
		if refusal != rally.NotRefused || observe(l.Rules, row, s, next, 0, 0)&(scoreOff) != 0 {
			continue
		}
		if out != 0 {
			return 0
		}
		out = rally.RallyTo(side)
	}
	return out
}

// otherScoring tries the same target under the other scoring, if the rows
// disagree too often with this one, and returns the format that fits far
// better.
func (l *RallyLog) otherScoring(rows []kept, disagree, compared int) string {
	if len(rows) < 8 || disagree*3 < len(rows) || l.Start != nil {
		return ""
	}
	f := l.Rules.Format()
	best, bestID := disagree/4, ""
	for _, shape := range otherShapes(f.Shape) {
		other, err := parseFormat(shape, f)
		if err != nil {
			continue
		}
		r, err := rally.Compile(other)
		if err != nil {
			continue
		}
		try := *l
		try.Rules = r
		if got := try.replay(rows); got.Disagree < best && got.Compared >= compared {
			best, bestID = got.Disagree, other.ID()
		}
	}
	return bestID
}

// otherShapes names shapes of the same sides: other targets, and the same
// target under the other scoring. Those that do not exist are not found.
func otherShapes(shape string) []string {
	var out []string
	for _, from := range []string{"-7", "-11", "-15", "-21", "-25"} {
		for _, to := range []string{"-7", "-11", "-15", "-21", "-25"} {
			if other := strings.Replace(shape, from, to, 1); other != shape {
				out = append(out, other)
			}
		}
	}
	if rest, ok := strings.CutPrefix(shape, "sideout-"); ok {
		out = append(out, "rally-"+rest)
		if rest, ok := strings.CutPrefix(rest, "doubles-"); ok {
			out = append(out, "fixed-doubles-"+rest, "swap-doubles-"+rest)
		}
	}
	for _, prefix := range []string{"rally-", "fixed-", "swap-"} {
		if rest, ok := strings.CutPrefix(shape, prefix); ok {
			out = append(out, "sideout-"+strings.TrimSuffix(rest, "-win-on-serve"))
		}
	}
	return out
}
