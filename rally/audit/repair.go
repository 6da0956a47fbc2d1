package audit

import (
	"hash/maphash"
	"math"
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
	"github.com/evencourt/evencourt/serviceorder"
)

func parseFormat(shape string, like format.Format) (format.Format, error) {
	f, err := format.Named(shape, like.Edition)
	if err != nil {
		f, err = format.Parse(shape)
	}
	return f, err
}

// costTable is what each edit of an explanation costs.
type costTable struct {
	Winner, Serving, Server, Receiver, Call, Score, Game   int
	Missing, MissingMore, MissingNumbered, NumberSkipped   int
	Tail, TailMore, Extra, ExtraMore, Duplicate, Undone    int
	Swapped, Slip, SlipMore, Shift, ShiftMore, Foul        int
	AfterEnd, AfterEndMore, Unfinished, Final, FinalOver   int
	Refused, Start, MissingGame, Whole                     int
	FirstBand, SecondBand                                  int
	LongestUnmotivated, LongestShift, MostNodes, MostEdges int
	CertainWithin                                          int
}

// costs are the costs of the edits. Any plain error of a scorer costs 30,
// whichever it is: nothing here knows how often people make which. What comes in
// blocks is cheap to continue, and what the rows' own numbers show is cheap to
// believe. The numbers are choices of this package, stated so that ties mean
// something. What is called certain every explanation shares that costs at most
// CertainWithin more than the cheapest: less than what one error costs, so that it
// is so unless an error more was made.
var costs = costTable{
	Winner: 30, Serving: 30, Server: 30, Receiver: 30, Call: 30, Score: 30, Game: 30,
	Missing: 30, MissingMore: 2, MissingNumbered: 10, NumberSkipped: 15,
	Tail: 30, TailMore: 2, Extra: 30, ExtraMore: 6, Duplicate: 30, Undone: 30,
	Swapped: 30, Slip: 30, SlipMore: 5, Shift: 30, ShiftMore: 10, Foul: 30,
	AfterEnd: 30, AfterEndMore: 1, Unfinished: 30, Final: 30, FinalOver: 5,
	Refused: 30, Start: 30, MissingGame: 30, Whole: 30,
	FirstBand: 45, SecondBand: 140,
	LongestUnmotivated: 2, LongestShift: 3, MostNodes: 6000, MostEdges: 450_000,
	CertainWithin: 29,
}

// editKind is a kind of edit.
type editKind uint8

// The kinds of edits. Match is a row taken as it is, or with the columns
// changed that do not fit.
const (
	matchEdit     editKind = iota
	extraEdit              // the row did not happen or did not count
	duplicateEdit          // it repeats the row before it
	undoneEdit             // it was taken back by the row after it
	swappedEdit            // it changed places with the row after it
	missingEdit            // a rally is missing before it
	tailEdit               // a rally is missing at the end
	foulEdit               // a penalty point is missing before it
	slipEdit               // from it on the order of service is another
	shiftEdit              // from it on the recorded score is off
	afterEndEdit           // it was played after the end
	breakOffEdit           // the game before it was broken off
	openEdit               // a game was opened
	refusedEdit            // an event that the rules refuse
)

// Repair is the cheapest explanation of a log. Where several tie, [Repair.Edits]
// is one of them, and what all of them share is marked certain.
type Repair struct {
	Cost  int           // sum of what its edits cost, 30 for a plain error; 0 if nothing is wrong; -1 if there is none
	Exact bool          // no cheaper or equal explanation of these edits was left out
	Ties  uint64        // how many explanations are equally cheap; MaxUint64 for "more"
	Edits []Edit        // of one of them
	Truth []rally.Event // what happened, by that one; game starts included
	Ends  []rally.State // where the cheapest explanations end

	lattice *lattice
}

// Edit is one edit of an explanation.
type Edit struct {
	Code    FindingCode
	Row     int        // row that it changes, or before which it inserts, from 1; one past the last at the end
	Certain bool       // every explanation that takes less than one error more than the cheapest has it; never where the search was not exact
	Args    words.Args // what its sentence is about
	Count   int        // rows or rallies that it stands for; 0 for what takes none
	Game    int
	kind    editKind
	columns seen
	layer   int
	parts   []part
	shared  bool // every cheapest explanation that was found has it
}

// part is one rally of an edit, and what the edits before it were.
type part struct {
	event rally.Event
	mode  mode
}

// node is a hypothesis between two rows: the state, how far the recorded
// score is off, and what the last edit was.
type node struct {
	state  rally.State
	da, db int8
	mode   mode
}

type mode uint8

const (
	plain  mode = iota
	gap1        // one rally has just been inserted
	gapN        // more than one
	skip        // rows are being skipped
	pinned      // the next row must be taken as it is
	after       // rows after the end are being skipped
	tail        // the missing end is being inserted
)

type nodeRec struct {
	node
	cost  int32
	layer int32
	next  int32 // another one of its layer, reached before it; -1 for none
	done  bool
}

// edge is a step from one hypothesis to the next. There are hundreds of thousands,
// so what happened by it is kept as a number.
type edge struct {
	from, to int32
	event    uint16 // in the events of the lattice
	cost     int16
	columns  seen
	kind     editKind
	rows     uint8 // rows consumed
}

// lattice is the graph of all hypotheses within a band of the cheapest.
type lattice struct {
	log   *RallyLog
	rules *rally.Rules
	rows  []kept
	band  int32 // how far above its layer's least a hypothesis may cost
	most  int32 // what an explanation is known to cost: a dearer hypothesis is of no use
	limit int   // of edges

	nodes  []nodeRec
	edges  []edge
	events []rally.Event // that edges are by
	number map[rally.Event]uint16
	latest []int32 // by row: the hypothesis reached last; -1 for none
	least  []int32 // by row: the least cost so far
	slots  []int32 // hypotheses by the sum of layer and node: one more than their numbers, 0 where none is
	seed   maphash.Seed
	ends   map[int32]int32 // terminal cost by node
	blocks []int           // edges from one layer stand together: where each layer's begin
	back   []int32
	best   int32
	capped bool

	queue   [][]int32 // by cost above the layer's least
	people  bool      // some row names a person
	singles bool
	orders  map[rally.State][]rally.State
}

const never = math.MaxInt32 / 2

// repair searches a narrow band first. What it finds there bounds the cost of
// the cheapest, so that a band as wide as that leaves nothing cheaper out. It is
// open where the rows can be read otherwise as a whole: then nothing is certain.
func (l *RallyLog) repair(rows []kept, open bool) *Repair {
	effort := l.Effort
	if effort == nil {
		effort = NewEffort()
	}
	x := l.search(rows, int32(costs.FirstBand), never, effort)
	if most := x.best + int32(costs.CertainWithin); most > int32(costs.FirstBand) && !x.capped {
		if y := l.search(rows, min(most, int32(costs.SecondBand)), most, effort); y.best < x.best || y.best == x.best && !y.capped {
			x = y
		}
	}
	return x.explain(effort, open)
}

func (l *RallyLog) search(rows []kept, band, most int32, effort *Effort) *lattice {
	x := &lattice{log: l, rules: l.Rules, rows: rows, band: band, most: most, limit: min(costs.MostEdges, effort.left), ends: map[int32]int32{},
		singles: l.Rules.Format().Game.Sides == format.Singles, orders: map[rally.State][]rally.State{}, number: map[rally.Event]uint16{}}
	for i := range rows {
		x.people = x.people || rows[i].Server != Unknown || rows[i].Receiver != Unknown
	}
	x.seed, x.slots = maphash.MakeSeed(), make([]int32, 1<<10)
	x.latest = slices.Repeat([]int32{-1}, len(rows)+1)
	x.least = slices.Repeat([]int32{never}, len(rows)+1)
	x.queue = make([][]int32, band+1)
	x.begin()
	for i := range x.latest {
		x.blocks = append(x.blocks, len(x.edges))
		x.expandLayer(i)
	}
	x.blocks = append(x.blocks, len(x.edges))
	effort.spend(len(x.edges) + len(rows))
	x.slots = nil // a second search needs the room
	x.backward()
	return x
}

// begin enters the hypotheses about the first serve.
func (x *lattice) begin() {
	if x.log.Start != nil {
		x.reach(0, node{state: *x.log.Start}, 0)
		return
	}
	known, isKnown := x.log.First.Side()
	first, _ := x.log.guess(x.rows)
	for side := rally.A; side <= rally.B; side++ {
		cost := 0
		if isKnown && side != known {
			cost = costs.Start
		}
		if !isKnown && side != first && !x.firstMatters() {
			continue
		}
		x.reach(0, node{state: x.rules.New(side)}, int32(cost))
	}
}

// firstMatters reports whether who served first leaves a trace in the log.
func (x *lattice) firstMatters() bool {
	if x.rules.Format().Game.Scorer == format.ServingSide {
		return true
	}
	for i := range x.rows {
		r := &x.rows[i]
		if r.Server != Unknown || r.Receiver != Unknown || r.Serving != Nobody || r.Call != nil {
			return true
		}
	}
	return x.rules.Format().Game.Freeze != format.NoFreeze
}

// layered is a hypothesis with its layer, as it is looked for.
type layered struct {
	layer int32
	node  node
}

// slot is where a hypothesis of a layer stands in the table, or can be put.
func (x *lattice) slot(layer int, n node) *int32 {
	mask := uint64(len(x.slots) - 1)
	for at := maphash.Comparable(x.seed, layered{int32(layer), n}) & mask; ; at = (at + 1) & mask {
		i := x.slots[at] - 1
		if i < 0 || x.nodes[i].layer == int32(layer) && x.nodes[i].node == n {
			return &x.slots[at]
		}
	}
}

// reach enters a hypothesis into a layer, or makes it cheaper, and tells its
// number and what it cost before.
func (x *lattice) reach(layer int, n node, cost int32) (number, before int32) {
	x.least[layer] = min(x.least[layer], cost)
	at := x.slot(layer, n)
	if i := *at - 1; i >= 0 {
		before = x.nodes[i].cost
		x.nodes[i].cost = min(before, cost)
		return i, before
	}
	i := int32(len(x.nodes))
	x.nodes = append(x.nodes, nodeRec{node: n, cost: cost, layer: int32(layer), next: x.latest[layer]})
	*at, x.latest[layer] = i+1, i
	if 2*len(x.nodes) > len(x.slots) {
		x.slots = make([]int32, 2*len(x.slots))
		for i := range x.nodes {
			*x.slot(int(x.nodes[i].layer), x.nodes[i].node) = int32(i + 1)
		}
	}
	return i, never
}

// join adds an edge. Within a layer the new hypothesis is queued at once.
func (x *lattice) join(from int32, rows int, n node, cost int, kind editKind, e rally.Event, off seen, least int32) {
	at := x.nodes[from].cost + int32(cost)
	layer := int(x.nodes[from].layer) + rows
	if layer >= len(x.latest) || at > min(x.most, x.least[layer]+x.band) {
		return
	}
	to, before := x.reach(layer, n, at)
	x.edges = append(x.edges, edge{from, to, x.numberOf(e), int16(cost), off, kind, uint8(rows)})
	if rows == 0 && at < before {
		x.queue[at-least] = append(x.queue[at-least], to)
	}
}

// numberOf is the number of an event among those of edges.
func (x *lattice) numberOf(e rally.Event) uint16 {
	n, known := x.number[e]
	if !known {
		n = uint16(len(x.events))
		x.events, x.number[e] = append(x.events, e), n
	}
	return n
}

func (x *lattice) eventOf(e *edge) rally.Event { return x.events[e.event] }

// expandLayer expands the hypotheses before row i in the order of their cost,
// so that each is expanded once.
func (x *lattice) expandLayer(i int) {
	least := x.least[i]
	if least == never {
		return
	}
	for k := range x.queue {
		x.queue[k] = x.queue[k][:0]
	}
	// In the order in which they were reached: the same log gives the same
	// explanation every time.
	var members []int32
	for n := x.latest[i]; n >= 0; n = x.nodes[n].next {
		members = append(members, n)
	}
	for _, n := range slices.Backward(members) {
		if d := x.nodes[n].cost - least; d <= x.band {
			x.queue[d] = append(x.queue[d], n)
		}
	}
	expanded := 0
	for d := int32(0); d <= x.band; d++ {
		for k := 0; k < len(x.queue[d]); k++ {
			n := x.queue[d][k]
			if x.nodes[n].done || x.nodes[n].cost != least+d {
				continue
			}
			x.nodes[n].done = true
			if expanded++; expanded > costs.MostNodes || len(x.edges) >= x.limit {
				x.capped = true
				return
			}
			if i == len(x.rows) {
				x.finish(n, least)
			} else {
				x.expand(n, i, least)
			}
		}
	}
}

// expand adds every way on from a hypothesis before row i.
func (x *lattice) expand(n int32, i int, least int32) {
	h := x.nodes[n].node
	row := &x.rows[i]
	phase := h.state.Phase()
	rallying := isRally(row.Event)
	if row.Event.Kind() >= rally.Undo {
		x.join(n, 1, node{h.state, h.da, h.db, plain}, costs.Refused, refusedEdit, row.Event, 0, least)
		return
	}
	if !rallying {
		x.event(n, h, row, least)
		return
	}
	if phase == rally.Over || phase == rally.Closed ||
		phase == rally.Between && (row.Game == h.state.Game() || row.Game == 0) {
		x.afterEnd(n, h, row, least)
		if phase != rally.Between || row.Game != 0 {
			return
		}
	}
	if phase == rally.Before || phase == rally.Between {
		if h.mode == plain || h.mode == after {
			x.openGame(n, h, row, least)
		}
		return
	}
	fits := x.take(n, h, row, least)
	if h.mode == pinned {
		return
	}
	x.insert(n, h, i, fits, least)
	x.leaveOut(n, h, i, least)
	x.pairs(n, h, i, least)
	if fits {
		return
	}
	if h.mode == plain || h.mode == gap1 {
		x.slip(n, h, row, least)
		x.shift(n, h, row, least)
		x.foul(n, h, row, least)
	}
	if row.Game == h.state.Game()+1 && h.mode == plain {
		x.breakOff(n, h, least)
	}
}

// event takes a row that is no rally.
func (x *lattice) event(n int32, h node, row *kept, least int32) {
	next, _, refusal := x.rules.Apply(h.state, row.Event)
	if refusal != rally.NotRefused {
		x.join(n, 1, node{h.state, h.da, h.db, plain}, costs.Refused, refusedEdit, row.Event, refusedOff, least)
		return
	}
	off := seen(0)
	if row.Score != nil && next.Phase() == rally.Playing {
		off = observe(x.rules, &Row{Score: row.Score}, h.state, next, int(h.da), int(h.db))
	}
	da, db := h.da, h.db
	x.join(n, 1, node{next, da, db, plain}, off.cost(), matchEdit, row.Event, off, least)
}

// cost prices the columns of a row that do not fit.
func (s seen) cost() int {
	sum := 0
	for _, c := range [...]struct {
		bit  seen
		cost int
	}{{winnerOff, costs.Winner}, {servingOff, costs.Serving}, {serverOff, costs.Server}, {receiverOff, costs.Receiver},
		{callOff, costs.Call}, {scoreOff, costs.Score}, {gameOff, costs.Game}, {finalOff, costs.Final}, {finalOver, costs.FinalOver}} {
		if s&c.bit != 0 {
			sum += c.cost
		}
	}
	return sum
}

// step plays a rally and compares the row with it.
func (x *lattice) step(h node, row *kept, winner rally.Side) (node, seen, bool) {
	next, did, refusal := x.rules.Apply(h.state, rally.RallyTo(winner))
	if refusal != rally.NotRefused {
		return node{}, 0, false
	}
	off := observe(x.rules, row.Row, h.state, next, int(h.da), int(h.db))
	if row.Event != 0 && row.Event.Side() != winner {
		off |= winnerOff
	}
	to := node{next, h.da, h.db, plain}
	if did.Has(rally.GameWon) {
		off |= x.final(next, h.da, h.db, row)
		to.da, to.db = 0, 0
	}
	return to, off, true
}

// final compares the end of a game with its recorded final.
func (x *lattice) final(s rally.State, da, db int8, row *kept) seen {
	want := x.log.finalOf(s.Game())
	if want == nil {
		return 0
	}
	a, b := want[0]-s.Score(rally.A)-int(da), want[1]-s.Score(rally.B)-int(db)
	if a == 0 && b == 0 {
		return 0
	}
	if row != nil && a >= 0 && b >= 0 && a+b <= x.rowsLeft(row, s.Game()) {
		return finalOver
	}
	return finalOff
}

// rowsLeft counts the rallies that follow a row in the same game, by the
// column of the game, or to the end of a single game.
func (x *lattice) rowsLeft(row *kept, game int) int {
	left, past := 0, false
	for i := range x.rows {
		switch {
		case x.rows[i].number == row.number:
			past = true
		case past && isRally(x.rows[i].Event) && (x.rows[i].Game == game || x.rows[i].Game == 0 && game == len(x.log.Finals)):
			left++
		}
	}
	return left
}

// take takes the row for a rally that either side won. It reports whether one
// of them fits in every column.
func (x *lattice) take(n int32, h node, row *kept, least int32) bool {
	fits := false
	if k := row.Event.Kind(); k == rally.Replay || k == rally.Stop {
		next, _, refusal := x.rules.Apply(h.state, row.Event)
		if refusal == rally.NotRefused {
			off := observe(x.rules, row.Row, h.state, next, int(h.da), int(h.db))
			x.join(n, 1, node{next, h.da, h.db, plain}, off.cost(), matchEdit, row.Event, off, least)
			fits = off == 0
		}
		return fits
	}
	skipped := 0
	if row.gap > 0 && h.mode != gap1 && h.mode != gapN {
		skipped = costs.NumberSkipped
	}
	for winner := rally.A; winner <= rally.B; winner++ {
		to, off, ok := x.step(h, row, winner)
		if !ok {
			continue
		}
		fits = fits || off == 0
		x.join(n, 1, to, off.cost()+skipped, matchEdit, rally.RallyTo(winner), off, least)
	}
	return fits && skipped == 0
}

// insert supposes that a rally is missing before row i.
func (x *lattice) insert(n int32, h node, i int, fits bool, least int32) {
	row := &x.rows[i]
	cost, to := costs.Missing, gap1
	switch {
	case h.mode == gap1 || h.mode == gapN:
		cost, to = costs.MissingMore, gapN
		if fits && h.mode == gapN && !row.tells() {
			return // as well after a row that anything fits
		}
	case h.mode != plain:
		return
	case row.gap > 0:
		cost = costs.MissingNumbered
	}
	x.insertRally(n, h, cost, to, missingEdit, least)
}

// tells reports whether a row tells anything of the score or of who serves.
func (r *Row) tells() bool {
	return r.Score != nil || r.Call != nil || r.Serving != Nobody || r.Server != Unknown || r.Receiver != Unknown
}

func (x *lattice) insertRally(n int32, h node, cost int, m mode, kind editKind, least int32) {
	for winner := rally.A; winner <= rally.B; winner++ {
		next, did, refusal := x.rules.Apply(h.state, rally.RallyTo(winner))
		if refusal != rally.NotRefused {
			continue
		}
		to, off := node{next, h.da, h.db, m}, seen(0)
		if did.Has(rally.GameWon) {
			off = x.final(next, h.da, h.db, nil)
			to = node{state: next, mode: plain}
		}
		if kind == tailEdit {
			if want := x.log.finalOf(h.state.Game()); want != nil &&
				(next.Score(rally.A)+int(h.da) > want[0] || next.Score(rally.B)+int(h.db) > want[1]) {
				continue
			}
			if did.Has(rally.GameWon) {
				to.mode = tail
			}
		}
		x.join(n, 0, to, cost+off.cost(), kind, rally.RallyTo(winner), off, least)
	}
}

// leaveOut supposes that row i did not happen or did not count.
func (x *lattice) leaveOut(n int32, h node, i int, least int32) {
	row := &x.rows[i]
	to := node{h.state, h.da, h.db, skip}
	switch {
	case row.same && h.mode == plain:
		to.mode = plain
		x.join(n, 1, to, costs.Duplicate, duplicateEdit, row.Event, 0, least)
	case h.mode == skip:
		x.join(n, 1, to, costs.ExtraMore, extraEdit, row.Event, 0, least)
	case h.mode == plain:
		x.join(n, 1, to, costs.Extra, extraEdit, row.Event, 0, least)
	}
}

// afterEnd supposes that a row was played after the end.
func (x *lattice) afterEnd(n int32, h node, row *kept, least int32) {
	cost := costs.AfterEnd
	switch {
	case h.mode == after:
		cost = costs.AfterEndMore
	case row.Score != nil && (row.Score[0] < h.state.Score(rally.A) || row.Score[1] < h.state.Score(rally.B)):
		cost += costs.Score // what is played on counts on
	}
	x.join(n, 1, node{h.state, 0, 0, after}, cost, afterEndEdit, row.Event, 0, least)
}

// openGame starts a game, with whatever starting servers the log can show.
func (x *lattice) openGame(n int32, h node, row *kept, least int32) {
	firsts := []rally.Side{rally.A, rally.B}
	if first, known := x.rules.NextFirst(h.state); known {
		firsts = []rally.Side{first}
	}
	st, _ := h.state.Starters()
	opening := h.state.Phase() == rally.Before
	if opening {
		st = rally.Starters{rally.A1, rally.B1}
		if x.log.Starters != nil {
			st = *x.log.Starters
		}
	}
	for _, first := range firsts {
		for v := 0; v < 4; v++ {
			if v > 0 && (x.singles || !x.people) {
				break
			}
			these := rally.Starters{st[rally.A] ^ rally.Person(v&1), st[rally.B] ^ rally.Person(v>>1)}
			next, _, refusal := x.rules.Apply(h.state, rally.Start(first, these))
			if refusal != rally.NotRefused {
				continue
			}
			cost := 0
			if v > 0 && opening && x.log.Starters != nil {
				cost = costs.Start
			}
			x.join(n, 0, node{state: next}, cost, openEdit, rally.Start(first, these), 0, least)
		}
	}
}

// slip supposes that from here on the order of service is another one that
// fits the row.
func (x *lattice) slip(n int32, h node, row *kept, least int32) {
	if row.Server == Unknown && row.Receiver == Unknown && row.Serving == Nobody && (row.Call == nil || row.Call.Number == 0) {
		return
	}
	const order = servingOff | serverOff | receiverOff | callOff
	if observe(x.rules, row.Row, h.state, h.state, int(h.da), int(h.db))&order == 0 {
		return
	}
	for _, s := range x.ordersOf(h.state) {
		if observe(x.rules, row.Row, s, s, int(h.da), int(h.db))&order != 0 {
			continue
		}
		bits := 0
		for d := s.Order() ^ h.state.Order(); d != 0; d &= d - 1 {
			bits++
		}
		x.join(n, 0, node{s, h.da, h.db, pinned}, costs.Slip+costs.SlipMore*(bits-1), slipEdit, 0, 0, least)
	}
}

// ordersOf returns the states that differ from s in the order of service only,
// with the same side serving first.
func (x *lattice) ordersOf(s rally.State) []rally.State {
	if out, ok := x.orders[s]; ok {
		return out
	}
	var out []rally.State
	first := s.Order().First()
	for o := 0; o < 256; o++ {
		if serviceorder.Turn(o).First() != first || serviceorder.Turn(o) == s.Order() {
			continue
		}
		if next, ok := x.rules.WithOrder(s, serviceorder.Turn(o)); ok {
			out = append(out, next)
		}
	}
	x.orders[s] = out
	return out
}

// shift supposes that from this row on the recorded score is off. The call of
// the row still has what was recorded before.
func (x *lattice) shift(n int32, h node, row *kept, least int32) {
	if row.Score == nil {
		return
	}
	for winner := rally.A; winner <= rally.B; winner++ {
		to, off, ok := x.step(h, row, winner)
		if !ok || off&scoreOff == 0 {
			continue
		}
		da, db := row.Score[0]-to.state.Score(rally.A), row.Score[1]-to.state.Score(rally.B)
		by := max(abs(da-int(h.da)), abs(db-int(h.db)))
		if most := costs.LongestShift; abs(da) > most || abs(db) > most {
			continue
		}
		off &^= scoreOff | finalOff | finalOver
		if to.state.Phase() == rally.Playing {
			to.da, to.db = int8(da), int8(db)
		} else {
			off |= x.final(to.state, int8(da), int8(db), row)
		}
		x.join(n, 1, to, costs.Shift+costs.ShiftMore*(by-1)+off.cost(), shiftEdit, rally.RallyTo(winner), off, least)
	}
}

func abs(n int) int { return max(n, -n) }

// foul supposes an unrecorded penalty point.
func (x *lattice) foul(n int32, h node, row *kept, least int32) {
	if row.Score == nil && row.Call == nil {
		return
	}
	for side := rally.A; side <= rally.B; side++ {
		e := rally.OfSide(rally.TechnicalFoul, side)
		next, did, refusal := x.rules.Apply(h.state, e)
		if refusal != rally.NotRefused || !did.Has(rally.PenaltyPoint) {
			continue
		}
		to := node{next, h.da, h.db, pinned}
		if next.Phase() != rally.Playing {
			to = node{state: next}
		}
		x.join(n, 0, to, costs.Foul, foulEdit, e, 0, least)
	}
}

// breakOff supposes that the game ended before it was won. It goes to the side
// that its recorded final favours, or that leads.
func (x *lattice) breakOff(n int32, h node, least int32) {
	loser := rally.B
	a, b := h.state.Score(rally.A), h.state.Score(rally.B)
	if want := x.log.finalOf(h.state.Game()); want != nil && want[0] != want[1] {
		a, b = want[0], want[1]
	}
	if b > a {
		loser = rally.A
	}
	next, _, refusal := x.rules.Apply(h.state, rally.OfSide(rally.GameForfeit, loser))
	if refusal != rally.NotRefused {
		return
	}
	off := x.final(h.state, h.da, h.db, nil)
	x.join(n, 0, node{state: next}, costs.Unfinished+off.cost(), breakOffEdit, 0, off, least)
}

// pairs supposes that row i was taken back by the row after it, or that the
// two changed places.
func (x *lattice) pairs(n int32, h node, i int, least int32) {
	if i+1 >= len(x.rows) || h.mode != plain {
		return
	}
	row, next := &x.rows[i], &x.rows[i+1]
	if !isRally(next.Event) {
		return
	}
	a, b := h.state.Score(rally.A)+int(h.da), h.state.Score(rally.B)+int(h.db)
	if row.Score != nil && next.Score != nil && *next.Score == (Score{a, b}) && *row.Score != *next.Score {
		x.join(n, 2, h, costs.Undone, undoneEdit, row.Event, 0, least)
	}
	if sameRow(row.Row, next.Row) {
		return
	}
	for first := rally.A; first <= rally.B; first++ {
		mid, off, ok := x.step(h, next, first)
		if !ok || off != 0 || mid.state.Phase() != rally.Playing {
			continue
		}
		for second := rally.A; second <= rally.B; second++ {
			to, off, ok := x.step(mid, row, second)
			if ok && off == 0 {
				e := rally.RallyTo(first)
				if second == rally.B {
					e |= swappedSecond
				}
				x.join(n, 2, to, costs.Swapped, swappedEdit, e, 0, least)
			}
		}
	}
}

// swappedSecond marks, in the event of a swapped pair, that B won the second.
const swappedSecond = rally.Event(1) << 62

// finish prices the end of the log for a hypothesis, and supposes a missing
// end where there is a final to be reached.
func (x *lattice) finish(n int32, least int32) {
	h := x.nodes[n].node
	if h.mode == pinned || h.mode == gap1 || h.mode == gapN {
		return
	}
	s := h.state
	cost := int32(0)
	want := x.log.finalOf(s.Game())
	games := len(x.log.Finals)
	switch {
	case s.Phase() == rally.Playing && want != nil:
		cost = int32(costs.Unfinished)
		same := want[0] == s.Score(rally.A)+int(h.da) && want[1] == s.Score(rally.B)+int(h.db)
		if !same {
			cost += int32(costs.Final)
			tailCost := costs.Tail
			if h.mode == tail {
				tailCost = costs.TailMore
			}
			x.insertRally(n, h, tailCost, tail, tailEdit, least)
		}
		if h.mode == tail {
			return // a missing end ends with the game
		}
	case s.Phase() == rally.Playing && x.log.Complete:
		cost = int32(costs.Unfinished)
	case s.Phase() == rally.Between && x.log.Complete && games == 0:
		cost = int32(costs.Unfinished)
	}
	if games > s.Game() {
		cost += int32(costs.MissingGame)
	}
	x.ends[n] = cost
}

// backward computes the cheapest way to the end from every hypothesis.
func (x *lattice) backward() {
	x.back = make([]int32, len(x.nodes))
	for i := range x.back {
		x.back[i] = never
	}
	for n, cost := range x.ends {
		x.back[n] = cost
	}
	for k := len(x.blocks) - 2; k >= 0; k-- {
		// Within a layer an edge may lead to a hypothesis that was expanded before.
		for changed := true; changed; {
			changed = false
			for i := x.blocks[k+1] - 1; i >= x.blocks[k]; i-- {
				e := &x.edges[i]
				if d := x.back[e.to] + int32(e.cost); d < x.back[e.from] {
					x.back[e.from], changed = d, changed || e.rows == 0
				}
			}
		}
	}
	x.best = never
	for i := range x.nodes {
		if x.nodes[i].layer == 0 && x.isStart(int32(i)) {
			x.best = min(x.best, x.nodes[i].cost+x.back[i])
		}
	}
}

// isStart reports whether a hypothesis of layer 0 was entered by begin.
func (x *lattice) isStart(n int32) bool {
	s := x.nodes[n].state
	return x.nodes[n].mode == plain && (x.log.Start != nil && s == *x.log.Start || x.log.Start == nil && s.Phase() == rally.Before)
}

// cheap reports whether an edge lies on a cheapest explanation.
func (x *lattice) cheap(e *edge) bool {
	return x.nodes[e.from].cost+int32(e.cost)+x.back[e.to] == x.best &&
		x.nodes[e.from].cost+x.back[e.from] == x.best
}
