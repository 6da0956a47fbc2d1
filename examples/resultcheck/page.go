package main

import (
	"bufio"
	_ "embed"
	"html/template"
	"regexp"
	"strconv"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

//go:embed page.html
var pageText string

var pages = template.Must(template.New("page").Funcs(sayIn(nil)).Parse(pageText))

// pagePrinter writes a page that needs nothing else: the summary, how much was
// found in which file and of which kind, then file by file and match by match
// what was found, folded so that a phone can open it.
type pagePrinter struct {
	gathered
	page *template.Template
	out  *bufio.Writer
}

func newPagePrinter(l *words.Language, out *bufio.Writer) (*pagePrinter, error) {
	page, err := pages.Clone()
	if err != nil {
		return nil, err
	}
	page.Funcs(sayIn(l))
	return &pagePrinter{gathered: gathered{l: l}, page: page, out: out}, nil
}

// betweenDigits is a hyphen at which no line of a page should end: 11-9.
var betweenDigits = regexp.MustCompile(`(\d)-\b`)

// sayIn is what the page says in a language.
func sayIn(l *words.Language) template.FuncMap {
	return template.FuncMap{
		"unbroken": func(text string) string { return betweenDigits.ReplaceAllString(text, "$1\u2011") },
		"say":      func(c words.Code) string { return l.Say(words.New(c)) },
		"one":      func(s audit.Severity) string { return l.Say(words.New(words.Code("severity." + s.String()))) },
		"several":  func(s audit.Severity) string { return l.Say(words.New(words.Code("check.several-" + s.String()))) },
		"row":      func(line int) string { return l.Say(words.New("check.row", words.Count("row", line))) },
	}
}

// kindOnPage is a code as the page lists it: what it means, and in which files
// it was found how often.
type kindOnPage struct {
	Code     audit.FindingCode
	Severity audit.Severity
	N        int
	Meaning  string
	Rules    []string
	In       []kindInFile
}

type kindInFile struct {
	File  string
	N     int
	Match string // the name on the page of the first match that has it; empty where none is shown
}

type fileOnPage struct {
	ID, Name string
	Counts   [audit.Error + 1]int // by severity
	Taken    string
	Columns  []string
	Pieces   []pieceOnPage
	Folded   bool // there is too much to open all of it
}

// pieceOnPage is so many matches that a phone can open them at once.
type pieceOnPage struct {
	Says    string
	Matches []matchOnPage
}

const mostInPiece = 100

type matchOnPage struct {
	ID, Says string
	Worst    audit.Severity
	*matchFindings
}

func (p *pagePrinter) finish(c counts) error {
	var page struct {
		Language   string
		Summary    []string
		Severities []audit.Severity
		Files      []*fileOnPage
		Kinds      []*kindOnPage
	}
	page.Language, page.Severities = p.l.Tag(), []audit.Severity{audit.Error, audit.Warning, audit.Note}
	for _, t := range p.summary(c) {
		page.Summary = append(page.Summary, p.l.Say(t))
	}
	total := map[audit.FindingCode]int{}
	for _, s := range p.files {
		for code, n := range s.counts {
			total[code] += n
		}
	}
	of := map[audit.FindingCode]*kindOnPage{}
	for _, code := range kinds(total) {
		of[code] = &kindOnPage{Code: code, Severity: code.Severity(), N: total[code], Meaning: p.l.Say(code.Meaning()), Rules: p.rules[code]}
		page.Kinds = append(page.Kinds, of[code])
	}
	for i, s := range p.files {
		page.Files = append(page.Files, p.onPage(s, "f"+strconv.Itoa(i+1), of))
	}
	if err := p.page.ExecuteTemplate(p.out, "page", page); err != nil {
		return err
	}
	return p.out.Flush()
}

// onPage lays out a file, and enters into its kinds where each is found first.
func (p *pagePrinter) onPage(s *fileFindings, id string, of map[audit.FindingCode]*kindOnPage) *fileOnPage {
	out := &fileOnPage{ID: id, Name: s.Name}
	if len(s.Taken) > 0 {
		out.Taken = p.l.Say(words.New("check.taken", words.Name("file", s.Name), words.Count("row", s.Header), words.Name("encoding", s.Encoding)))
		for _, t := range s.Taken {
			out.Columns = append(out.Columns, p.l.Say(t))
		}
	}
	first := map[audit.FindingCode]string{}
	matches := s.settle(p.l)
	for from := 0; from < len(matches); from += mostInPiece {
		of := matches[from:min(from+mostInPiece, len(matches))]
		piece := pieceOnPage{Says: p.l.Say(words.New("check.piece", words.Count("matches", len(of)), words.Count("first", max(1, of[0].Line)), words.Count("last", of[len(of)-1].Line)))}
		for i, m := range of {
			one := matchOnPage{ID: id + "m" + strconv.Itoa(from+i+1), matchFindings: m, Worst: m.Found[0].Severity, Says: p.l.Say(m.text())}
			for _, e := range m.Found {
				if first[e.Code] == "" {
					first[e.Code] = one.ID
				}
			}
			piece.Matches = append(piece.Matches, one)
		}
		out.Pieces = append(out.Pieces, piece)
	}
	out.Folded = len(out.Pieces) > 1
	for _, code := range kinds(s.counts) {
		out.Counts[code.Severity()] += s.counts[code]
		of[code].In = append(of[code].In, kindInFile{s.Name, s.counts[code], first[code]})
	}
	return out
}

// text says what match, and where it stands.
func (m *matchFindings) text() words.Text {
	row, id := words.Count("row", m.Line), words.Name("match", m.Match)
	switch {
	case m.Line == 0 && m.Match == "":
		return words.New("check.whole")
	case m.Match == "":
		return words.New("check.row", row)
	case m.Line == 0:
		return words.New("check.match", id)
	}
	return words.New("check.row-match", row, id)
}
