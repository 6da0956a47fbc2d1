package main

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

// gathered is what a report prints at its end: findings as text, by file, match
// and code. Beyond a bound they are only counted, so that memory stays flat.
type gathered struct {
	l     *words.Language
	files []*fileFindings
	rules map[audit.FindingCode][]string // that findings of a code rest on
	cited map[citation]bool              // those that are among them
	bytes int
	left  int // findings that were only counted
}

// mostGathered is how many bytes of text are kept.
const mostGathered = 12 << 20

// citation is what a finding rests on.
type citation struct {
	code    audit.FindingCode
	clause  format.Clause
	edition format.Edition
}

// fileFindings is what was found in one file, which mostly is one club's.
type fileFindings struct {
	Name     string
	Encoding string
	Header   int
	Taken    []words.Text // what columns are taken for, where they bear other names
	columns  headers
	counts   map[audit.FindingCode]int // of findings, those included that are only counted
	alike    map[alikeKey]*alike
	order    []*alike
	byLine   map[int]*matchFindings
	byRow    map[rowKey]*matchFindings
	matches  []*matchFindings
}

// headers are the names that a table has for the documented columns.
type headers map[string]string

func headersOf(t *intake.Reader) headers {
	out := headers{}
	for _, e := range t.Taken() {
		out[string(e.Means)] = e.Header
	}
	return out
}

// matchFindings is what was found of one match, or of a row that is none; of
// the whole file where it has no line.
type matchFindings struct {
	Line       int // of the first finding
	Match, Row string
	Found      []shown // worst first
}

// rowKey is what findings of one match have in common that stand in several
// rows: those of a log with a row a rally.
type rowKey struct{ match, row string }

// shown is a finding as it is printed.
type shown struct {
	Code                 audit.FindingCode
	Severity             audit.Severity
	Place, Sentence, Key string
	Match                string
	Line                 int
	Row                  string // where it is not that of the match
	More                 string // of findings alike, below the last that is shown
}

// alike is findings of many matches that say the same, such as a format that
// nobody knows, and cells of one column that cannot be read: a few are shown, and of the others the rows.
type alike struct {
	found []shown
	n     int
	more  []int // rows of those that are not shown, the first of them
}

type alikeKey struct {
	code            audit.FindingCode
	field, sentence string
}

// Of findings alike so many are shown, and so many rows named.
const (
	mostAlike = 3
	mostRows  = 8
)

func (p *gathered) file(name string) *fileFindings {
	if n := len(p.files); n > 0 && p.files[n-1].Name == name {
		return p.files[n-1]
	}
	for _, s := range p.files {
		if s.Name == name {
			return s
		}
	}
	s := &fileFindings{Name: name, counts: map[audit.FindingCode]int{}, alike: map[alikeKey]*alike{}, byLine: map[int]*matchFindings{}, byRow: map[rowKey]*matchFindings{}}
	p.files = append(p.files, s)
	return s
}

func (p *gathered) table(name string, t *intake.Reader) {
	s := p.file(name)
	s.Header, s.Encoding, s.columns = t.Header, t.Encoding.String(), headersOf(t)
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
	s := p.file(f.Source)
	s.counts[f.Code]++
	p.cite(f)
	sentence := p.l.Say(f.Text())
	if column := s.columns[f.Field]; column != "" {
		sentence = p.l.Say(words.New("check.in-column", words.Name("column", column), words.Name("said", sentence)))
	} else if f.Field != "" && f.Code == "row-unreadable" { // of JSON Lines
		sentence = p.l.Say(words.New("check.in-field", words.Name("field", f.Field), words.Name("said", sentence)))
	}
	var same *alike
	if f.Code == "field-unreadable" || f.Code == "format-unknown" || f.Match == "" && f.About == "" {
		k := alikeKey{f.Code, f.Field, sentence}
		if f.Code == "field-unreadable" {
			k.sentence = ""
		}
		if same = s.alike[k]; same != nil && same.n >= mostAlike {
			if same.n++; len(same.more) < mostRows {
				same.more = append(same.more, f.Line)
			}
			return
		}
		if same == nil {
			same = &alike{}
			s.alike[k] = same
			s.order = append(s.order, same)
		}
	}
	if p.bytes += len(sentence) + len(key) + len(row) + 150; p.bytes > mostGathered {
		p.left++
		return
	}
	place := f.Source
	if f.Line != 0 {
		place += ":" + strconv.Itoa(f.Line)
	}
	one := shown{Code: f.Code, Severity: f.Severity, Place: place, Sentence: sentence, Key: key, Match: strings.Clone(f.Match), Line: f.Line, Row: row}
	if same != nil {
		same.n++
		same.found = append(same.found, one)
		return
	}
	s.add(one)
}

// cite remembers what a finding rests on.
func (p *gathered) cite(f *audit.Finding) {
	if p.cited == nil {
		p.rules, p.cited = map[audit.FindingCode][]string{}, map[citation]bool{}
	}
	c := citation{f.Code, f.Clause, f.Edition}
	if p.cited[c] {
		return
	}
	p.cited[c] = true
	if text := p.l.Say(rule(f)); !slices.Contains(p.rules[f.Code], text) {
		p.rules[f.Code] = append(p.rules[f.Code], text)
	}
}

// add puts a finding to its match.
func (s *fileFindings) add(one shown) {
	row := rowKey{one.Match, one.Row}
	m := s.byLine[one.Line]
	if m == nil && row != (rowKey{}) {
		m = s.byRow[row]
	}
	if m == nil {
		m = &matchFindings{Line: one.Line, Match: one.Match, Row: one.Row}
		s.matches = append(s.matches, m)
		if one.Line != 0 || row == (rowKey{}) {
			s.byLine[one.Line] = m
		}
		if row != (rowKey{}) {
			s.byRow[row] = m
		}
	}
	if m.Row == "" && one.Row != "" {
		m.Match, m.Row, s.byRow[row] = one.Match, one.Row, m
	}
	one.Row = ""
	m.Found = append(m.Found, one)
}

// settle puts findings alike to their matches if they are few, else to those of
// the whole file, and returns all matches by row.
func (s *fileFindings) settle(l *words.Language) []*matchFindings {
	var many []shown
	for _, same := range s.order {
		if more := same.n - len(same.found); more > 0 && len(same.found) > 0 {
			same.found[len(same.found)-1].More = l.Say(words.New("check.alike", words.Count("more", more), words.Name("rows", same.rows())))
			many = append(many, same.found...)
			continue
		}
		for _, one := range same.found {
			s.add(one)
		}
	}
	s.order = nil
	if len(many) > 0 {
		m := s.byLine[0]
		if m == nil {
			m = &matchFindings{}
			s.byLine[0] = m
			s.matches = append(s.matches, m)
		}
		m.Found = append(m.Found, many...)
	}
	slices.SortStableFunc(s.matches, func(a, b *matchFindings) int { return cmp.Compare(a.Line, b.Line) })
	for _, m := range s.matches {
		slices.SortStableFunc(m.Found, func(a, b shown) int {
			return cmp.Or(cmp.Compare(b.Severity, a.Severity), cmp.Compare(a.Code, b.Code))
		})
	}
	return s.matches
}

// rows names the rows that are not shown, as far as they are known.
func (a *alike) rows() string {
	var list []string
	for _, n := range a.more {
		list = append(list, strconv.Itoa(n))
	}
	out := strings.Join(list, ", ")
	if a.n-len(a.found) > len(a.more) {
		out += ", …"
	}
	return out
}

// kinds are the codes of what was found, the worst first, of those the commonest.
func kinds(counts map[audit.FindingCode]int) []audit.FindingCode {
	var list []audit.FindingCode
	for code := range counts {
		list = append(list, code)
	}
	slices.SortFunc(list, func(a, b audit.FindingCode) int {
		return cmp.Or(cmp.Compare(b.Severity(), a.Severity()), cmp.Compare(counts[b], counts[a]), cmp.Compare(a, b))
	})
	return list
}

// text says how much was found in a file, and of what kinds.
func (s *fileFindings) text() words.Text {
	var n [audit.Error + 1]int
	var list []string
	for _, code := range kinds(s.counts) {
		n[code.Severity()] += s.counts[code]
		list = append(list, string(code)+" "+strconv.Itoa(s.counts[code]))
	}
	args := []words.Arg{words.Name("file", s.Name), words.Count("errors", n[audit.Error]), words.Count("warnings", n[audit.Warning]), words.Count("notes", n[audit.Note])}
	if len(list) == 0 {
		return words.New("check.file-clean", args[0])
	}
	return words.New("check.file", append(args, words.Name("kinds", strings.Join(list, ", ")))...)
}
