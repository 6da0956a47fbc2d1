package rally

// Did is what one entry does as a log reads.
type Did struct {
	Holds   bool    `json:"holds"`   // false: undone, struck or rewound past
	Effects Effects `json:"effects"` // where it was rewound past, what is on record all the same
	Score   [2]int  `json:"score"`   // after it, A and B
	Final   bool    `json:"final"`   // it ended a game at that score
}

// Change is what a correction changed of an earlier entry.
type Change struct {
	N      int `json:"n"` // number of the entry, from 1
	Before Did `json:"before"`
	After  Did `json:"after"`
}

// Changes returns what entry n changed of the entries before it, in their
// order: every one that holds no longer or again, that does something else, or
// that ended a game at a score which is withdrawn. Only a correction changes
// anything. It goes through the log twice.
func (l *Log) Changes(n int) []Change {
	if n < 1 || n > len(l.entries) || l.entries[n-1].Kind() < Undo {
		return nil
	}
	var out []Change
	before, after := l.read(n-1), l.read(n)
	for i := range before {
		c := Change{i + 1, before[i].did(), after[i].did()}
		if c.Before.Holds != c.After.Holds || c.Before.Effects != c.After.Effects || c.Before.Final != c.After.Final ||
			c.Before.Final && c.Before.Score != c.After.Score {
			out = append(out, c)
		}
	}
	return out
}

func (st *Step) did() Did {
	if !st.Holds {
		return Did{Effects: st.Effects}
	}
	return Did{true, st.Effects, [2]int{st.back.Score(A), st.back.Score(B)}, st.Final}
}
