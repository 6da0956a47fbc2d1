package audit

import (
	"math"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

// explain turns the cheapest ways through the lattice into a repair.
func (x *lattice) explain(effort *Effort, open bool) *Repair {
	if x.best >= never {
		return &Repair{Cost: -1, lattice: x}
	}
	out := &Repair{Cost: int(x.best), Exact: x.best <= x.band && !x.capped, lattice: x}
	out.Ties = x.count()
	path := x.path()
	for _, i := range path {
		e := &x.edges[i]
		out.Truth = append(out.Truth, e.truth(x)...)
		out.Edits = append(out.Edits, x.edits(e)...)
	}
	out.Edits = append(out.Edits, x.endEdits(path)...)
	out.Edits = fold(out.Edits)
	within := int32(costs.CertainWithin)
	work, sure := 0, !open && out.Exact && x.best+within <= x.band
	for i := range out.Edits {
		e := &out.Edits[i]
		if !out.Exact && e.Code != winnerInferred || work > min(mostWork, looksPerStep*effort.left) {
			continue
		}
		work += 2 * len(x.edges)
		e.shared = x.certain(e, 0)
		e.Certain = e.shared && sure && x.certain(e, within)
	}
	for i := range out.Edits {
		out.Edits[i].Args = out.Edits[i].args()
	}
	effort.spend(work / looksPerStep)
	out.Ends = x.endStates()
	return out
}

// mostWork bounds how many edges are looked at for what is certain; beyond it
// nothing is said to be.
const mostWork = 300_000_000

// count returns the number of cheapest explanations, up to MaxUint64.
func (x *lattice) count() uint64 {
	ways := make([]uint64, len(x.nodes))
	for i := range x.nodes {
		if x.nodes[i].layer == 0 && x.isStart(int32(i)) && x.nodes[i].cost+x.back[i] == x.best {
			ways[i] = 1
		}
	}
	for i := range x.edges {
		if e := &x.edges[i]; x.cheap(e) {
			if ways[e.to] += ways[e.from]; ways[e.to] < ways[e.from] {
				ways[e.to] = math.MaxUint64
			}
		}
	}
	sum := uint64(0)
	for n := range x.ends {
		if x.nodes[n].cost+x.ends[n] == x.best {
			if sum += ways[n]; sum < ways[n] {
				return math.MaxUint64
			}
		}
	}
	return sum
}

// path returns the edges of one cheapest explanation: at each step the edge
// that was found first.
func (x *lattice) path() []int {
	at := int32(-1)
	for i := range x.nodes {
		if x.nodes[i].layer == 0 && x.isStart(int32(i)) && x.nodes[i].cost+x.back[i] == x.best {
			at = int32(i)
			break
		}
	}
	var out []int
	for i := 0; i < len(x.edges); i++ {
		if e := &x.edges[i]; e.from == at && x.cheap(e) && !(x.back[at] == x.terminal(at)) {
			out = append(out, i)
			at = e.to
		}
	}
	return out
}

// terminal returns the cost of ending at a hypothesis.
func (x *lattice) terminal(n int32) int32 {
	if cost, ok := x.ends[n]; ok {
		return cost
	}
	return never
}

// truth returns what happened by an edge.
func (e *edge) truth(x *lattice) []rally.Event {
	switch e.kind {
	case matchEdit, shiftEdit, missingEdit, tailEdit, foulEdit, openEdit:
		return []rally.Event{x.eventOf(e)}
	case swappedEdit:
		second := rally.A
		if x.eventOf(e)&swappedSecond != 0 {
			second = rally.B
		}
		return []rally.Event{x.eventOf(e) &^ swappedSecond, rally.RallyTo(second)}
	}
	return nil
}

// edits describes an edge: nothing for a row that fits.
func (x *lattice) edits(e *edge) []Edit {
	from, to := &x.nodes[e.from], &x.nodes[e.to]
	layer := int(from.layer)
	edit := Edit{kind: e.kind, layer: layer, Row: len(x.log.Rows) + 1, Game: from.state.Game(), parts: []part{{x.eventOf(e), from.mode}}}
	var row *Row
	if layer < len(x.rows) {
		row = x.rows[layer].Row
		edit.Row = x.rows[layer].number
	}
	one := func(c FindingCode, args ...words.Arg) []Edit {
		edit.Code, edit.Count, edit.Args = c, 1, args
		return []Edit{edit}
	}
	switch e.kind {
	case matchEdit:
		return x.columnEdits(e, row, edit)
	case extraEdit:
		if x.stepsBack(layer) {
			return one(undoImplied)
		}
		return one(rowExtra)
	case duplicateEdit:
		return one(duplicateRow)
	case undoneEdit:
		return one(undoImplied)
	case swappedEdit:
		return one(outOfOrder)
	case missingEdit:
		out := one(rallyMissing)
		return append(out, x.finalEdit(e, edit)...)
	case tailEdit:
		out := one(tailMissing)
		return append(out, x.finalEdit(e, edit)...)
	case foulEdit:
		return one(foulMissing, words.Name("side", x.eventOf(e).Side().String()))
	case slipEdit:
		was, is := x.rules.Places(from.state), x.rules.Places(to.state)
		return one(orderSlipped, words.Within("recorded", position(is)), words.Within("due", position(was)))
	case shiftEdit:
		out := one(scoreShifted, row.Score.as("recorded"), scoreOf(to.state).as("due"))
		return append(out, x.columnEdits(e, row, edit)...)
	case afterEndEdit:
		return one(afterEnd)
	case breakOffEdit:
		out := one(logUnfinished, scoreOf(from.state).as("score"))
		return append(out, x.finalEdit(e, edit)...)
	case openEdit:
		if stated := x.otherStart(e); stated != "" {
			return one(startDiffers, words.Name("started", strings.TrimPrefix(x.eventOf(e).String(), "g")), words.Name("stated", stated))
		}
	case refusedEdit:
		_, _, refusal := x.rules.Apply(from.state, x.eventOf(e))
		return one(eventRefused, words.Within("event", words.Event(x.eventOf(e), nil)), words.Within("reason", words.For(refusal)))
	}
	return nil
}

// otherStart returns what the log states of the first serve of the match, if
// an edge opens the match otherwise: "" if not.
func (x *lattice) otherStart(e *edge) string {
	if e.kind != openEdit || x.nodes[e.from].state.Phase() != rally.Before {
		return ""
	}
	stated := ""
	if first, known := x.log.First.Side(); known && first != x.eventOf(e).Side() {
		stated = x.log.First.String()
	}
	if st := x.log.Starters; st != nil && e.cost > 0 {
		if stated != "" {
			stated += " "
		}
		stated += st.String()
	}
	return stated
}

// position says who serves to whom from where.
func position(p rally.Places) words.Text {
	return words.New("position.at", words.Name("server", p.Server.String()), words.Word("court", words.OfCourt(p.Court)), words.Name("receiver", p.Receiver.String()))
}

func scoreOf(s rally.State) Score { return Score{s.Score(rally.A), s.Score(rally.B)} }

// args are what the sentence of an edit is about; of what comes in blocks, how
// many there are.
func (e *Edit) args() words.Args {
	switch e.Code {
	case rallyMissing:
		return words.Args{words.Count("rallies", e.Count), words.Name("events", e.events())}
	case tailMissing:
		return words.Args{words.Count("rallies", e.Count)}
	case rowExtra, afterEnd:
		return words.Args{words.Count("rows", e.Count)}
	}
	return e.Args
}

// events writes the rallies that an edit inserts as a log does.
func (e *Edit) events() string {
	out := ""
	for i, p := range e.parts {
		if i > 0 {
			out += " "
		}
		out += p.event.String()
	}
	return out
}

// found makes a finding about the log, of the clause for how its match is played.
func (l *RallyLog) found(c FindingCode, p Place, args ...words.Arg) Finding {
	out := NewFinding(c, p, args...)
	f := l.Rules.Format()
	switch {
	case c == endChangeMissing && f.Match.Games > 1:
		out.Clause = clause.EndChangeLast
	case c != callWrong && c != callReversed:
	case f.Game.Servers == 1 && f.Game.Scorer == format.EitherSide:
		out.Clause = clause.CallRally
	case f.Game.Sides == format.Singles:
		out.Clause = clause.CallSingles
	}
	return out
}

// stepsBack reports whether the score recorded after a row is lower, for some
// side, than in it.
func (x *lattice) stepsBack(layer int) bool {
	row := x.rows[layer].Row
	if row.Score == nil || layer+1 >= len(x.rows) || x.rows[layer+1].Score == nil {
		return false
	}
	next := x.rows[layer+1].Score
	return next[0] < row.Score[0] || next[1] < row.Score[1]
}

func (x *lattice) columnEdits(e *edge, row *Row, edit Edit) []Edit {
	var out []Edit
	from, to := &x.nodes[e.from], &x.nodes[e.to]
	add := func(c FindingCode, bit seen, args ...words.Arg) {
		edit.Code, edit.columns, edit.Args = c, bit, args
		out = append(out, edit)
	}
	if row.Event == 0 {
		add(winnerInferred, 0, words.Name("side", x.eventOf(e).Side().String()))
	}
	if e.columns&winnerOff != 0 {
		add(winnerWrong, winnerOff, words.Name("named", row.Event.Side().String()), words.Name("side", x.eventOf(e).Side().String()))
	}
	p := x.rules.Places(from.state)
	if e.columns&serverOff != 0 {
		add(serverWrong, serverOff, words.Name("named", row.Server.String()), words.Name("due", p.Server.String()))
	}
	if e.columns&servingOff != 0 {
		add(serverWrong, servingOff, words.Name("named", row.Serving.String()), words.Name("due", p.Server.Side().String()))
	}
	if e.columns&receiverOff != 0 {
		add(receiverWrong, receiverOff, words.Name("named", row.Receiver.String()), words.Name("due", p.Receiver.String()))
	}
	if e.columns&callOff != 0 {
		due := callOf(x.rules, from.state, int(from.da), int(from.db))
		code := callWrong
		if row.Call.Serving == due.Receiving && row.Call.Receiving == due.Serving && due.Serving != due.Receiving {
			code = callReversed
		}
		add(code, callOff, words.Name("called", row.Call.String()), words.Name("due", due.String()))
	}
	if e.columns&scoreOff != 0 {
		add(scoreWrong, scoreOff, row.Score.as("recorded"),
			words.Points("due", to.state.Score(rally.A)+int(from.da), to.state.Score(rally.B)+int(from.db)))
	}
	if e.columns&gameOff != 0 {
		add(gameNumberWrong, gameOff, words.Count("named", row.Game), words.Count("played", to.state.Game()))
	}
	return append(out, x.finalEdit(e, edit)...)
}

// finalEdit describes a recorded final that a game did not end at.
func (x *lattice) finalEdit(e *edge, edit Edit) []Edit {
	if e.columns&(finalOff|finalOver) == 0 {
		return nil
	}
	s := x.nodes[e.to].state
	if e.kind == breakOffEdit {
		s = x.nodes[e.from].state
	}
	want := x.log.finalOf(s.Game())
	edit.Code, edit.columns, edit.Game = finalDiffers, e.columns&(finalOff|finalOver), s.Game()
	edit.Args = words.Args{want.as("given"), scoreOf(s).as("reached")}
	return []Edit{edit}
}

// endEdits describes what the end of the log cost after these edges.
func (x *lattice) endEdits(path []int) []Edit {
	n := int32(0)
	if len(path) > 0 {
		n = x.edges[path[len(path)-1]].to
	}
	return x.endEditsAt(n)
}

func (x *lattice) endEditsAt(n int32) []Edit {
	s, cost := x.nodes[n].state, x.terminal(n)
	if cost == 0 || cost >= never {
		return nil
	}
	edit := Edit{Row: len(x.log.Rows) + 1, layer: len(x.rows), Game: s.Game(), kind: matchEdit}
	var out []Edit
	score := scoreOf(s)
	if s.Phase() == rally.Playing || s.Phase() == rally.Between && len(x.log.Finals) == 0 {
		edit.Code, edit.Args = logUnfinished, words.Args{score.as("score")}
		out = append(out, edit)
	}
	if want := x.log.finalOf(s.Game()); s.Phase() == rally.Playing && want != nil && !sameScore(*want, s) {
		edit.Code, edit.Args = finalDiffers, words.Args{want.as("given"), score.as("reached")}
		out = append(out, edit)
	}
	if len(x.log.Finals) > s.Game() {
		edit.Code, edit.Game, edit.Args = tailMissing, s.Game()+1, nil
		out = append(out, edit)
	}
	return out
}

// fold joins what came in blocks into one edit each.
func fold(edits []Edit) []Edit {
	out := edits[:0]
	for _, e := range edits {
		if n := len(out); n > 0 {
			last := &out[n-1]
			same := last.Code == e.Code && last.kind == e.kind && last.Game == e.Game
			switch {
			case same && (e.Code == rallyMissing || e.Code == tailMissing) && last.layer == e.layer && e.Count > 0:
				last.Count++
				last.parts = append(last.parts, e.parts...)
				continue
			case same && (e.Code == afterEnd || e.Code == rowExtra):
				last.Count++
				continue
			}
		}
		out = append(out, e)
	}
	return out
}

// certain reports whether every explanation that costs at most so much more than
// the cheapest has an edit, with each rally that it inserts.
func (x *lattice) certain(edit *Edit, within int32) bool {
	if edit.layer == len(x.rows) && edit.kind == matchEdit {
		return x.certainEnd(edit, within)
	}
	for _, p := range edit.parts {
		if x.without(edit, p, within) {
			return false
		}
	}
	return true
}

// certainEnd reports whether all these explanations end so.
func (x *lattice) certainEnd(edit *Edit, within int32) bool {
	for n, cost := range x.ends {
		if x.nodes[n].cost+cost <= x.best+within && !slices.ContainsFunc(x.endEditsAt(n), func(e Edit) bool { return e.Code == edit.Code && e.Args.Equal(edit.Args) }) {
			return false
		}
	}
	return true
}

// without reports whether an explanation that costs at most so much more than the
// cheapest does without one rally of an edit.
func (x *lattice) without(edit *Edit, p part, within int32) bool {
	cost, most := make([]int32, len(x.nodes)), x.best+within
	for i := range x.nodes {
		cost[i] = never
		if x.nodes[i].layer == 0 && x.isStart(int32(i)) {
			cost[i] = x.nodes[i].cost
		}
	}
	for k := range len(x.blocks) - 1 {
		for changed := true; changed; {
			changed = false
			for i := x.blocks[k]; i < x.blocks[k+1]; i++ {
				e := &x.edges[i]
				c := cost[e.from] + int32(e.cost)
				if c < cost[e.to] && c+x.back[e.to] <= most && !x.sameEdit(e, edit, p) {
					cost[e.to], changed = c, changed || e.rows == 0
				}
			}
		}
	}
	for n, end := range x.ends {
		if cost[n]+end <= most {
			return true
		}
	}
	return false
}

func (x *lattice) sameEdit(e *edge, edit *Edit, p part) bool {
	if e.kind != edit.kind || int(x.nodes[e.from].layer) != edit.layer {
		return false
	}
	switch edit.Code {
	case startDiffers:
		return x.otherStart(e) != ""
	case rallyMissing, tailMissing, foulMissing:
		return x.eventOf(e) == p.event && x.nodes[e.from].mode == p.mode
	case winnerInferred, winnerWrong:
		return (edit.columns == 0 || e.columns&edit.columns != 0) && x.eventOf(e) == p.event
	}
	return edit.columns == 0 || e.columns&edit.columns != 0
}

// endStates returns where the cheapest explanations end.
func (x *lattice) endStates() []rally.State {
	var order []int32
	for n := range x.ends {
		if x.nodes[n].cost+x.ends[n] == x.best {
			order = append(order, n)
		}
	}
	slices.Sort(order)
	var out []rally.State
	for _, n := range order {
		if s := x.nodes[n].state; !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// Has reports whether some cheapest explanation makes these events what
// happened: the rallies, in order, and the events that rows record. Starts of
// games may be left out.
func (r *Repair) Has(truth []rally.Event) bool {
	x := r.lattice
	if x == nil || r.Cost < 0 {
		return false
	}
	truth = slices.DeleteFunc(slices.Clone(truth), func(e rally.Event) bool { return e.Kind() == rally.StartGame })
	at := make([]map[int]bool, len(x.nodes)) // positions in truth, by node
	put := func(n int32, k int) {
		if at[n] == nil {
			at[n] = map[int]bool{}
		}
		at[n][k] = true
	}
	for i := range x.nodes {
		if x.nodes[i].layer == 0 && x.isStart(int32(i)) && x.nodes[i].cost+x.back[i] == x.best {
			put(int32(i), 0)
		}
	}
	for i := range x.edges {
		e := &x.edges[i]
		if at[e.from] == nil || !x.cheap(e) {
			continue
		}
		var events []rally.Event
		if e.kind != openEdit && x.eventOf(e).Kind() != rally.StartGame {
			events = e.truth(x)
		}
		for k := range at[e.from] {
			if k+len(events) <= len(truth) && slices.Equal(truth[k:k+len(events)], events) {
				put(e.to, k+len(events))
			}
		}
	}
	for n, cost := range x.ends {
		if x.nodes[n].cost+cost == x.best && at[n][len(truth)] {
			return true
		}
	}
	return false
}

// HasEdit reports whether some cheapest explanation has an edit of this code
// at most near rows away from row; every explanation is looked at.
func (r *Repair) HasEdit(c FindingCode, row, near int) bool {
	x := r.lattice
	if x == nil || r.Cost < 0 {
		return false
	}
	hit := func(e *Edit) bool {
		return e.Code == c && (row == 0 || e.Row >= row-near && e.Row <= row+near)
	}
	for i := range r.Edits {
		if hit(&r.Edits[i]) {
			return true
		}
	}
	for i := range x.edges {
		if e := &x.edges[i]; (e.kind != matchEdit || e.columns != 0) && x.cheap(e) {
			for _, edit := range x.edits(e) {
				if hit(&edit) {
					return true
				}
			}
		}
	}
	return false
}

// leftOut counts the rows that an explanation leaves out. To leave out most of
// them explains nothing, nor, where a better one may not have been found, does
// it to leave out more than disagree.
func (r *Repair) leftOut() int {
	n := 0
	for i := range r.Edits {
		if k := r.Edits[i].kind; k == extraEdit || k == undoneEdit {
			n += r.Edits[i].Count
		}
	}
	return n
}

// findings turns the edits into findings. So many rows disagree with a literal
// replay.
func (r *Repair) findings(l *RallyLog, rows []kept, disagree int, at Place) []Finding {
	if left := r.leftOut(); r.Cost < 0 || 2*left > len(rows) || !r.Exact && left > disagree {
		return []Finding{NewFinding(unexplained, at, words.Count("rows", len(rows)))}
	}
	var out []Finding
	for _, e := range r.Edits {
		p := at
		if e.Row <= len(l.Rows) && e.Row > 0 {
			p.Rally, p.Line = e.Row, l.Rows[e.Row-1].Line
		}
		if e.Game != 0 {
			p.Game = e.Game
		}
		code, args := e.Code, e.Args
		if code == winnerInferred && !e.shared {
			code, args = winnerBlank, nil
		}
		if code == finalDiffers || code == logUnfinished || code == tailMissing {
			p.Rally = 0
		}
		f := l.found(code, p, args...)
		f.Certain = e.Certain
		out = append(out, f)
	}
	return out
}
