package audit

import (
	"slices"
	"sort"

	"github.com/evencourt/evencourt/rally/words"
)

// What a source does with all rows alike is tried as a whole, before any row is
// suspected: a score column the other way round, rows newest first, scores of the
// moment before. Each is one literal replay.

// ordered prepares the rows in the order in which they follow from each other:
// by their numbers, or by their times unless the order of the file replays without
// a single disagreement. A time that is out of order is named.
func (l *RallyLog) ordered(at Place) ([]kept, []Finding) {
	rows, findings := l.prepare(at, false)
	if !timed(rows) {
		return rows, findings
	}
	if !reordered(findings) {
		if rp := l.replay(rows); rp.First != 0 || rp.Compared == 0 {
			if sorted, more := l.prepare(at, true); reordered(more) {
				if better := l.replay(sorted); better.Disagree < rp.Disagree {
					return sorted, more
				}
			}
		}
	}
	for _, i := range early(rows) {
		p := at
		p.Rally, p.Line = rows[i].number, rows[i].Line
		findings = append(findings, NewFinding(timeWrong, p))
	}
	return rows, findings
}

// reordered reports whether rows were put into another order than the file's.
func reordered(findings []Finding) bool {
	return Has(findings, outOfOrder) || Has(findings, wholeConvention)
}

func timed(rows []kept) bool {
	for i := range rows {
		if rows[i].Elapsed <= 0 {
			return false
		}
	}
	return len(rows) > 1
}

// mostEarly is how many times can be out of order before the clock is no clock.
const mostEarly = 5

// early returns the fewest rows without whose times all others are in order;
// none if there are too many.
func early(rows []kept) []int {
	// The longest sequence of times that never falls, by patience sorting.
	var ends, before []int
	before = make([]int, len(rows))
	for i := range rows {
		k := sort.Search(len(ends), func(k int) bool { return rows[ends[k]].Elapsed > rows[i].Elapsed })
		before[i] = -1
		if k > 0 {
			before[i] = ends[k-1]
		}
		if k == len(ends) {
			ends = append(ends, i)
		} else {
			ends[k] = i
		}
	}
	if len(ends) == 0 || len(rows)-len(ends) > mostEarly {
		return nil
	}
	in := make([]bool, len(rows))
	for i := ends[len(ends)-1]; i >= 0; i = before[i] {
		in[i] = true
	}
	var out []int
	for i := range rows {
		if !in[i] {
			out = append(out, i)
		}
	}
	return out
}

// whole is a log as it reads under a convention.
type whole struct {
	rows    []kept
	finding Finding // that it was read so
	open    bool    // as they stand the rows take hardly more errors
}

// fewestWhole is how many rows have to agree for a convention to be believed.
const fewestWhole = 6

// asWhole finds a convention under which the rows replay without a disagreement,
// or a stretch of them with the sides of the score exchanged. Where more is left to
// explain, the end of the log, that takes fewer errors than the rows as they stand.
func (l *RallyLog) asWhole(rows []kept, rp *Rerun, at Place) (w whole, ok bool) {
	read := func(changed []kept, f Finding) bool {
		got := l.replay(changed)
		if got.First != 0 || got.Collapsed && got.Compared < len(rows)-1 || got.Compared < fewestWhole {
			return false
		}
		w = whole{changed, f, w.open}
		if l.ends(got.State) {
			return true
		}
		so, plain := costs.Whole+l.repair(changed, true).Cost, l.repair(rows, true).Cost
		w.open = w.open || plain >= 0 && plain <= so+costs.CertainWithin
		return plain < 0 || plain > so
	}
	for _, c := range []struct {
		name   words.Code
		change func([]kept) []kept
	}{
		{"convention.mirrored", func(r []kept) []kept { return mirroredScores(r, 0, len(r)) }},
		{"convention.reversed", reversedRows},
		{"convention.mirrored-reversed", func(r []kept) []kept { return mirroredScores(reversedRows(r), 0, len(r)) }},
		{"convention.before", scoresBefore},
		{"convention.before-reversed", func(r []kept) []kept { return scoresBefore(reversedRows(r)) }},
	} {
		if read(c.change(rows), NewFinding(wholeConvention, at, words.Word("convention", c.name))) {
			return w, true
		}
	}
	// From the first disagreement to the last.
	last := rp.last
	first := slices.IndexFunc(rows, func(k kept) bool { return k.number == rp.First })
	if first >= 0 && last-first >= 2 {
		p := at
		p.Rally, p.Line = rows[first].number, rows[first].Line
		if read(mirroredScores(rows, first, last+1), NewFinding(scoresMirrored, p, words.Count("to", rows[last].number))) {
			return w, true
		}
	}
	return w, false
}

func copied(rows []kept) []kept {
	out := slices.Clone(rows)
	for i := range out {
		r := *out[i].Row
		out[i].Row = &r
	}
	return out
}

// mirroredScores exchanges the sides of the recorded scores of a stretch.
func mirroredScores(rows []kept, from, to int) []kept {
	out := copied(rows)
	for i := from; i < to; i++ {
		if s := out[i].Score; s != nil {
			m := s.mirrored()
			out[i].Score = &m
		}
	}
	return out
}

func reversedRows(rows []kept) []kept {
	out := copied(rows)
	slices.Reverse(out)
	return out
}

// scoresBefore takes the scores to be those before each row. That of the last
// row is not known then.
func scoresBefore(rows []kept) []kept {
	out := copied(rows)
	for i := range out {
		out[i].Score = nil
		if i+1 < len(rows) && rows[i+1].Game == rows[i].Game {
			out[i].Score = rows[i+1].Score
		}
	}
	return out
}
