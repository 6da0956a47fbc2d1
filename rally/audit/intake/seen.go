package intake

import (
	"strings"

	"github.com/evencourt/evencourt/rally/audit"
)

// seen keeps what texts said, so that what stands in many cells is read once.
type seen[V any] map[string]V

// How many texts are kept before all are forgotten, and of how many bytes.
const (
	mostSeen    = 4096
	longestSeen = 64
)

// of is what a text says; read reads one that is not kept.
func (s *seen[V]) of(text string, read func(string) V) V {
	v, known := (*s)[text]
	if known {
		return v
	}
	v = read(text)
	if len(text) <= longestSeen {
		if *s == nil {
			*s = make(seen[V])
		} else if len(*s) >= mostSeen {
			clear(*s)
		}
		(*s)[strings.Clone(text)] = v
	}
	return v
}

// told is what is kept of the cells of a table.
type told struct {
	folded   seen[string]
	dates    seen[string] // as civil dates; what is none stays as it is
	results  seen[readAs]
	statuses seen[ending]
	sides    seen[audit.MaybeSide] // by words, not by names
}

// readAs is a cell of scores, and how it reads.
type readAs struct {
	result
	text string
	ok   bool
}

// ending is a cell of status, and how it reads.
type ending struct {
	status string
	by     audit.MaybeSide
	ok     bool
}
