package audit

import (
	"bytes"
	"encoding/binary"
	"hash/fnv"
	"hash/maphash"
	"iter"
	"math/bits"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/audit/internal/letters"
	"github.com/evencourt/evencourt/rally/words"
)

// reports are the latest matches of a season, and where each of them is found.
// Nothing in it but the blocks of texts points anywhere, so that a million rows
// cost the collector nothing.
type reports struct {
	list   []report  // a ring
	most   int       // how many it has when it is full
	added  int       // so far, forgotten ones included; the number of the latest
	texts  [][]byte  // of so many reports each; a ring with a block more than is needed
	heads  [2][]head // by some bits of a key of each kind
	seed   maphash.Seed
	salt   [2]uint64
	folded []byte
}

// report is what is remembered of a match beside its texts.
type report struct {
	keys     [2]uint64 // by id, by sides; 0 for those it has not
	before   [2]uint32 // numbers of those whose keys end alike
	line     int
	from     uint32             // where its texts begin in their block
	ends     [fieldCount]uint16 // where each of them ends, from there
	winner   MaybeSide
	status   Status
	replaced bool // by what amends it, or by what was put off and is played now
}

// head is where the reports begin whose keys are alike in some bits.
type head struct {
	latest uint32 // its number
	marks  uint32 // a bit for each of them, by other bits of its key
}

type keyKind uint8

const (
	byID keyKind = iota
	bySides
)

type reportField uint8

const (
	fieldA reportField = iota
	fieldB
	fieldID
	fieldDate
	fieldFormat
	fieldRound
	fieldEvent
	fieldSource
	fieldGames
	fieldCount
)

// What is kept of a match, at most: bytes of a text as they are, and games. So
// many matches are looked at for those of the same sides, the latest first.
const (
	longestKept  = 200
	mostKept     = 25
	mostLookedAt = 200
	inBlock      = 256 // reports whose texts stand in one block
)

func (s *reports) begin(most int) {
	s.most, s.seed = most, maphash.MakeSeed()
	s.texts = make([][]byte, (most+inBlock-1)/inBlock+1)
	for i := range s.salt {
		s.heads[i] = make([]head, 1<<bits.Len(uint(most)))
		s.salt[i] = maphash.Bytes(s.seed, []byte{byte(i)}) | 1
	}
}

// keysOf returns the keys of a match; no key where it has no id, or a side is not
// named.
func (s *reports) keysOf(m *ReportedMatch, source string) (keys [2]uint64) {
	if m.ID != "" {
		keys[byID] = s.mixed(s.mixed(s.sum(source))+s.mixed(s.sum(m.Event)+1)+s.sum(m.ID)) | 1
	}
	if !m.Sides[0].Empty() && !m.Sides[1].Empty() {
		keys[bySides] = s.mixed(s.sideKey(&m.Sides[0])+s.sideKey(&m.Sides[1])) | 1 // mirrored reports meet
	}
	return keys
}

// sideKey sums what a side is known by: its players in any order, or its team.
func (s *reports) sideKey(e *Entrant) uint64 {
	a, b := e.Players[0], e.Players[1]
	switch {
	case a == "" && b == "":
		a = e.Team
	case a == "":
		a, b = b, a
	}
	key := s.foldedSum(a)
	if b != "" {
		key += s.foldedSum(b)
	}
	return s.mixed(key)
}

// sum is a number that nobody who writes a file can foresee; mixed makes another
// one of it, so that sums of them tell what was summed apart.
func (s *reports) sum(text string) uint64      { return maphash.String(s.seed, text) }
func (s *reports) sumBytes(text []byte) uint64 { return maphash.Bytes(s.seed, text) }

func (s *reports) mixed(key uint64) uint64 {
	high, low := bits.Mul64(key^s.salt[0], s.salt[1])
	return high ^ low
}

// foldedSum sums a name without regard to case and marks, which do not make
// another person of somebody who plays the same opponents on the same day.
func (s *reports) foldedSum(name string) uint64 {
	for i := range len(name) {
		if c := name[i]; c >= 'A' && c <= 'Z' || c >= 0x80 {
			s.folded = appendFolded(s.folded[:0], name)
			return s.sumBytes(s.folded)
		}
	}
	return s.sum(name)
}

func appendFolded(out []byte, text string) []byte {
	from := len(out)
	for i := range len(text) {
		c := text[i]
		switch {
		case c >= 0x80:
			return letters.AppendFolded(out[:from], text)
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		}
		out = append(out, c)
	}
	return out
}

// remembered is a report with its texts.
type remembered struct {
	*report
	number int
	text   []byte
}

// at returns the report of a number that is not forgotten.
func (s *reports) at(n int) remembered {
	r := &s.list[(n-1)%s.most]
	return remembered{r, n, s.texts[n/inBlock%len(s.texts)][r.from:]}
}

// all are the reports that count, the oldest first.
func (s *reports) all() iter.Seq[remembered] {
	return func(yield func(remembered) bool) {
		for n := s.added - len(s.list) + 1; n <= s.added; n++ {
			if r := s.at(n); !r.replaced && !yield(r) {
				return
			}
		}
	}
}

func (s *reports) head(kind keyKind, key uint64) *head {
	return &s.heads[kind][uint32(key>>32)&uint32(len(s.heads[kind])-1)]
}

func markOf(key uint64) uint32 { return 1 << (key >> 1 & 31) }

func (s *reports) remembers(n int) bool { return n > s.added-len(s.list) }

// with are the reports with a key that count, the latest first.
func (s *reports) with(kind keyKind, key uint64) iter.Seq[remembered] {
	return func(yield func(remembered) bool) {
		if key == 0 {
			return
		}
		h := s.head(kind, key)
		if h.marks&markOf(key) == 0 {
			return // most keys are new: that is known without a look at the reports
		}
		n := int(h.latest)
		for looked := 0; n > 0 && s.remembers(n) && looked < mostLookedAt; looked++ {
			r := &s.list[(n-1)%s.most]
			if r.keys[kind] == key && !r.replaced && !yield(s.at(n)) {
				return
			}
			n = int(r.before[kind])
		}
	}
}

// latest is the first of them.
func (s *reports) latest(kind keyKind, key uint64) (latest remembered, ok bool) {
	s.with(kind, key)(func(r remembered) bool {
		latest, ok = r, true
		return false
	})
	return latest, ok
}

// remember adds a match, and forgets the oldest if there are too many.
func (s *reports) remember(keys [2]uint64, m *ReportedMatch, at Place) {
	if len(s.list) < s.most {
		s.list = append(s.list, report{})
	}
	s.added++
	block := &s.texts[s.added/inBlock%len(s.texts)]
	if s.added%inBlock == 0 {
		*block = (*block)[:0] // what it had is forgotten
	}
	r := &s.list[(s.added-1)%s.most]
	*r = report{keys: keys, line: at.Line, winner: m.Winner, status: m.Status, from: uint32(len(*block))}
	*block = r.write(*block, m, at.Source)
	for kind, key := range keys {
		if key != 0 {
			h := s.head(keyKind(kind), key)
			if !s.remembers(int(h.latest)) {
				*h = head{}
			}
			r.before[kind], h.latest, h.marks = h.latest, uint32(s.added), h.marks|markOf(key)
		}
	}
}

// write appends the texts of a match to those of others.
func (r *report) write(out []byte, m *ReportedMatch, source string) []byte {
	from := len(out)
	for i := range m.Sides {
		e := &m.Sides[i]
		if a, b := e.Players[0], e.Players[1]; a != "" && b != "" && len(a)+len(b) < longestKept {
			if b < a {
				a, b = b, a
			}
			out = append(append(append(out, a...), '+'), b...)
		} else {
			out = appendKept(out, entryID(e, ByPair))
		}
		r.ends[fieldA+reportField(i)] = uint16(len(out) - from)
	}
	for f, text := range [...]string{m.ID, m.Date, m.Format, m.Round, m.Event, source} {
		out = appendKept(out, text)
		r.ends[fieldID+reportField(f)] = uint16(len(out) - from)
	}
	for _, g := range keptGames(m.Games) {
		out = binary.AppendVarint(binary.AppendVarint(out, int64(g[0])), int64(g[1]))
	}
	r.ends[fieldGames] = uint16(len(out) - from)
	return out
}

func keptGames(games []Score) []Score { return games[:min(len(games), mostKept)] }

func appendKept(out []byte, text string) []byte {
	if len(text) > longestKept {
		text = shortened(text)
	}
	return append(out, text...)
}

func (r remembered) bytes(f reportField) []byte {
	from := uint16(0)
	if f > 0 {
		from = r.ends[f-1]
	}
	return r.text[from:r.ends[f]]
}

func (r remembered) field(f reportField) string { return string(r.bytes(f)) }

// has reports whether a field has a text, differs whether both say something, and
// not the same.
func (r remembered) has(f reportField, text string) bool {
	if len(text) > longestKept {
		text = shortened(text)
	}
	return string(r.bytes(f)) == text
}

func (r remembered) differs(f reportField, text string) bool {
	return len(r.bytes(f)) > 0 && text != "" && !r.has(f, text)
}

func (r remembered) games() (games []Score) {
	for text := r.bytes(fieldGames); len(text) > 0; {
		a, n := binary.Varint(text)
		b, k := binary.Varint(text[n:])
		games, text = append(games, Score{int(a), int(b)}), text[n+k:]
	}
	return games
}

// sameSides reports whether two reports have the same sides, either first.
func (r remembered) sameSides(other remembered) bool {
	a, b, x, y := r.bytes(fieldA), r.bytes(fieldB), other.bytes(fieldA), other.bytes(fieldB)
	return bytes.Equal(a, x) && bytes.Equal(b, y) || bytes.Equal(a, y) && bytes.Equal(b, x)
}

// place says where the report stands, to a reader of another source or the same.
func (r remembered) place(source string) words.Arg {
	if !r.has(fieldSource, source) {
		return words.Within("at", words.New("place.file", words.Name("file", r.field(fieldSource)), words.Count("line", r.line)))
	}
	return words.Within("at", words.New("place.row", words.Count("line", r.line)))
}

// shortened returns a copy of a text for keeping. Of one that is too long to
// be kept it keeps the beginning and a sum of the whole, which tells it from
// others as well.
func shortened(text string) string {
	const begins = 100
	if len(text) <= longestKept {
		return strings.Clone(text)
	}
	sum := fnv.New64a()
	_, _ = sum.Write([]byte(text)) // which never fails
	return text[:begins] + "…" + strconv.FormatUint(sum.Sum64(), 16)
}
