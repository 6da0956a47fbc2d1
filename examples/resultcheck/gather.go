package main

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

// gathered is what a report prints at its end: findings as text, file by file.
// Beyond a bound they are only counted, so that memory stays flat.
type gathered struct {
	l       *words.Language
	sources []*sourceFindings
	bytes   int
	left    int // findings that were only counted
}

// mostGathered is how many bytes of text are kept.
const mostGathered = 12 << 20

// sourceFindings is what was found in one file.
type sourceFindings struct {
	Name     string
	Encoding string
	Header   int
	Taken    []words.Text // what columns are taken for, where they bear other names
	groups   map[groupKey]*group
	order    []*group
	counts   map[audit.FindingCode]int // of findings, those included that are only counted
}

// groupKey is what findings have in common that are shown together: those that
// say the same, and cells of one column that cannot be read.
type groupKey struct {
	code     audit.FindingCode
	field    string
	sentence string
}

// group is some findings alike, of which a few are shown.
type group struct {
	Code  audit.FindingCode
	Shown []shown
	N     int
	more  []int // rows of those that are not shown, the first of them
}

type shown struct {
	Place, Match, Sentence, Key, Row string
	Line                             int
	Severity                         audit.Severity
	Rule                             string
}

// Of cells alike that cannot be read so many are shown, and so many rows named.
const (
	mostAlike = 3
	mostRows  = 8
)

func (p *gathered) source(name string) *sourceFindings {
	if n := len(p.sources); n > 0 && p.sources[n-1].Name == name {
		return p.sources[n-1]
	}
	for _, s := range p.sources {
		if s.Name == name {
			return s
		}
	}
	s := &sourceFindings{Name: name, groups: map[groupKey]*group{}, counts: map[audit.FindingCode]int{}}
	p.sources = append(p.sources, s)
	return s
}

func (p *gathered) table(name string, t *intake.Reader) {
	s := p.source(name)
	s.Header, s.Encoding = t.Header, t.Encoding.String()
	if t.Documented() {
		return
	}
	for _, e := range t.Taken() {
		if strings.TrimSpace(e.Header) == "" {
			continue
		}
		line := words.New("check.column", words.Name("header", e.Header), words.Name("means", string(e.Means)))
		if e.How != "" {
			line = words.New("check.column-how", words.Name("header", e.Header), words.Name("means", string(e.Means)), words.Name("how", e.How))
		}
		s.Taken = append(s.Taken, line)
	}
}

func (p *gathered) finding(f *audit.Finding, key, row string) {
	sentence := p.l.Say(f.Text())
	s := p.source(f.Source)
	s.counts[f.Code]++
	k := groupKey{f.Code, f.Field, sentence}
	if f.Code == "field-unreadable" {
		k.sentence = ""
	} else if f.Match != "" || f.About != "" {
		k.sentence += key // each match by itself
	}
	g := s.groups[k]
	if g != nil && g.N >= mostAlike {
		if g.N++; len(g.more) < mostRows {
			g.more = append(g.more, f.Line)
		}
		return
	}
	if p.bytes += len(sentence) + 2*len(key) + len(row) + 200; p.bytes > mostGathered {
		p.left++
		return
	}
	if g == nil {
		g = &group{Code: f.Code}
		s.groups[k] = g
		s.order = append(s.order, g)
	}
	g.N++
	place := f.Source
	if f.Line != 0 {
		place += ":" + strconv.Itoa(f.Line)
	}
	g.Shown = append(g.Shown, shown{Place: place, Match: strings.Clone(f.Match), Sentence: sentence, Key: key, Row: row, Line: f.Line, Severity: f.Severity, Rule: p.l.Say(rule(f))})
}

// sorted are the groups by the first row that each is about.
func (s *sourceFindings) sorted() []*group {
	slices.SortStableFunc(s.order, func(a, b *group) int { return cmp.Compare(a.Shown[0].Line, b.Shown[0].Line) })
	return s.order
}

// rows names the rows that are not shown, as far as they are known.
func (g *group) rows() string {
	var list []string
	for _, n := range g.more {
		list = append(list, strconv.Itoa(n))
	}
	out := strings.Join(list, ", ")
	if g.N-len(g.Shown) > len(g.more) {
		out += ", …"
	}
	return out
}

// fileOnPage is a file as the page shows it: kind by kind, and of each kind so
// many findings at a time that a phone can open them.
type fileOnPage struct {
	Name, Taken string
	Columns     []string
	Kinds       []*kindOnPage
}

type kindOnPage struct {
	Code     audit.FindingCode
	Severity audit.Severity
	Says     string
	Meaning  string
	N        int
	Pieces   []pieceOnPage
	Open     bool
}

type pieceOnPage struct {
	First, Last string // places
	Groups      []groupOnPage
}

type groupOnPage struct {
	Shown []shown
	More  string
}

// mostInPiece is how many groups of findings are opened at once.
const mostInPiece = 100

func (p *gathered) onPage(s *sourceFindings) fileOnPage {
	out := fileOnPage{Name: s.Name}
	if len(s.Taken) > 0 {
		out.Taken = p.l.Say(words.New("check.taken", words.Name("file", s.Name), words.Count("row", s.Header), words.Name("encoding", s.Encoding)))
		for _, t := range s.Taken {
			out.Columns = append(out.Columns, p.l.Say(t))
		}
	}
	kinds := map[audit.FindingCode]*kindOnPage{}
	for code, n := range s.counts {
		k := &kindOnPage{Code: code, Severity: code.Severity(), N: n, Open: n <= 20, Says: p.l.Say(words.New(words.Code("severity." + code.Severity().String()))), Meaning: p.l.Say(code.Meaning())}
		kinds[code] = k
		out.Kinds = append(out.Kinds, k)
	}
	slices.SortFunc(out.Kinds, func(a, b *kindOnPage) int {
		return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(b.N, a.N), cmp.Compare(a.Code, b.Code))
	})
	for _, g := range s.sorted() {
		k := kinds[g.Code]
		if n := len(k.Pieces); n == 0 || len(k.Pieces[n-1].Groups) == mostInPiece {
			k.Pieces = append(k.Pieces, pieceOnPage{First: g.Shown[0].Place})
		}
		piece := &k.Pieces[len(k.Pieces)-1]
		piece.Last = g.Shown[len(g.Shown)-1].Place
		one := groupOnPage{Shown: g.Shown}
		if more := g.N - len(g.Shown); more > 0 {
			one.More = p.l.Say(words.New("check.alike", words.Count("more", more), words.Name("rows", g.rows())))
		}
		piece.Groups = append(piece.Groups, one)
	}
	return out
}
