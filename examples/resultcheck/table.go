package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/xuri/excelize/v2"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/audit/intake"
	"github.com/evencourt/evencourt/rally/words"
)

// table audits a table in text.
func (c *checker) table(src *source) error {
	at := audit.Place{Source: src.name}
	t, err := intake.New(src.read, c.options, func(row int, reason words.Text) {
		at.Line = row
		c.emit(unreadable(at, reason), "")
	})
	if err != nil {
		return c.refused(t, err)
	}
	return c.rows(src, src.name, t)
}

// mostUnpacked is how large the sheets of a workbook may be.
const mostUnpacked = 256 << 20

// workbook audits every sheet of a workbook that has a header; if none has, the
// first says why.
func (c *checker) workbook(src *source) error {
	book, err := excelize.OpenReader(src.read, excelize.Options{RawCellValue: true, UnzipSizeLimit: mostUnpacked, UnzipXMLSizeLimit: mostUnpacked})
	if err != nil {
		return fmt.Errorf("is a packed file that is no workbook (%w): save it as CSV UTF-8", err)
	}
	defer book.Close()
	var failed error
	read := 0
	for _, sheet := range book.GetSheetList() {
		rows, err := book.Rows(sheet)
		if err != nil {
			return err
		}
		t, err := intake.NewRows(func() ([]string, error) {
			if !rows.Next() {
				if err := rows.Error(); err != nil {
					return nil, err
				}
				return nil, io.EOF
			}
			return rows.Columns()
		}, c.options)
		if err == nil {
			read++
			err = c.rows(src, src.name+" "+sheet, t)
			if err != nil {
				rows.Close()
				return err
			}
		} else if failed == nil {
			failed = c.refused(t, err)
		}
		rows.Close()
	}
	if read == 0 {
		return failed
	}
	return nil
}

// refused says what settles the columns of a table that was refused for them; or
// writes what may settle them, where that is wanted.
func (c *checker) refused(t *intake.Reader, err error) error {
	var columns *intake.ColumnError
	if !errors.As(err, &columns) || len(columns.Unknown) == 0 {
		return err
	}
	if c.propose {
		return t.WriteMapping(c.stdout)
	}
	named := 0
	for _, name := range t.Names() {
		if name == columns.Unknown[0].Column {
			named++
		}
	}
	if named > 1 {
		return fmt.Errorf("%w: rename one of them first", err)
	}
	u := columns.Unknown[0]
	return fmt.Errorf("%w: -columns %q says what one holds, %q passes it over; -propose-columns writes a file of all", err, u.Column+"="+cmp.Or(u.Nearest, "games"), u.Column+"=")
}

// unmapped says which columns were mapped that no table has.
func (c *checker) unmapped() error {
	missing := c.options.Mapping.Missing(c.headers)
	if len(missing) == 0 {
		return nil
	}
	return fmt.Errorf("-columns: no table has a column %q", strings.Join(missing, ", "))
}

// rows audits the rows of a table.
func (c *checker) rows(src *source, name string, t *intake.Reader) error {
	if len(c.options.Mapping) > 0 {
		c.headers = append(c.headers, t.Names()...)
	}
	if c.propose {
		return t.WriteMapping(c.stdout)
	}
	c.printer.table(name, t)
	if t.Rallies() {
		return c.rallies(name, t)
	}
	if err := c.proposals.header(t); err != nil {
		return err
	}
	at := audit.Place{Source: name}
	for {
		err := t.Next()
		if err == io.EOF {
			break
		} else if err != nil {
			return err
		}
		c.count.Rows++
		at.Line = t.Row()
		m, ok, found := t.Match(at, c.buffer[:0])
		switch {
		case ok:
			found = c.match(m, at, found)
		case m != nil:
			found = c.part(m, at, found)
		}
		c.buffer = found
		if len(found) > 0 {
			row := content(m)
			for i := range found {
				c.emit(found[i], row)
			}
		}
		if err := c.proposals.row(t.Raw(), found); err != nil {
			return err
		}
		c.step(src)
	}
	for _, f := range t.Finish(at, nil) {
		c.emit(f, "")
	}
	return nil
}

// rallies audits the logs of a table with a row a rally.
func (c *checker) rallies(name string, t *intake.Reader) error {
	if c.proposals != nil {
		return errors.New("-out wants a table of results; -repaired writes logs")
	}
	at := audit.Place{Source: name}
	logs, matches, found, err := t.Logs(at)
	if err != nil {
		return err
	}
	for _, f := range found {
		c.emit(f, "")
	}
	for i, l := range logs {
		c.count.Rows += len(l.Rows)
		c.effort.Read(bytesOfRally * len(l.Rows))
		if l.Rules == nil {
			continue // its format is unknown, which has been said
		}
		if err := c.log(l, matches[i], at); err != nil {
			return err
		}
	}
	return nil
}

// bytesOfRally is what a row of a table counts for effort.
const bytesOfRally = 30

// log audits a log, and writes it as it probably was where that is wanted.
func (c *checker) log(l *audit.RallyLog, m *audit.ReportedMatch, at audit.Place) error {
	c.count.Logs++
	l.Effort = c.effort
	report := l.Audit(at)
	for _, f := range report.Findings {
		if f.Line == 0 {
			f.Line = at.Line
		}
		c.emit(f, content(m))
	}
	return c.repaired.add(l, m, &report)
}

// match audits a match by its own format and against those before it.
func (c *checker) match(m *audit.ReportedMatch, at audit.Place, found []audit.Finding) []audit.Finding {
	c.count.Matches++
	if m.Date == "" {
		c.count.Undated++
	}
	finals, err := c.formats.get(m.Format)
	if err != nil {
		c.count.Unchecked++
		return append(found, unknownFormat(m, at))
	}
	found = finals.Check(m, at, found)
	c.kept(m, at, found)
	return c.season.Add(m, at, found)
}

// part audits what is there of a match of which something could not be read.
func (c *checker) part(m *audit.ReportedMatch, at audit.Place, found []audit.Finding) []audit.Finding {
	c.count.Matches++
	finals, err := c.formats.get(m.Format)
	if err != nil {
		c.count.Unchecked++
		return append(found, unknownFormat(m, at))
	}
	c.count.InPart++
	return finals.CheckPart(m, at, found)
}

func unknownFormat(m *audit.ReportedMatch, at audit.Place) audit.Finding {
	at.Match, at.About, at.Field = m.ID, m.About(), "format"
	return audit.NewFinding("format-unknown", at, words.Name("format", m.Format))
}

// who is a side in short: a name is shown where there is one, else the id.
func who(e *audit.Entrant) string {
	var list []string
	for i, id := range e.Players {
		if name := e.Names[i]; name != "" {
			id = name
		}
		if id != "" {
			list = append(list, id)
		}
	}
	if len(list) == 0 && e.Team != "" {
		list = append(list, e.Team)
	}
	return strings.Join(list, " / ")
}

// content is what a row says, in short: who played and with what result.
func content(m *audit.ReportedMatch) string {
	if m == nil {
		return ""
	}
	var sides [2]string
	for s := range m.Sides {
		sides[s] = who(&m.Sides[s])
	}
	out := m.Date
	if sides[0] != "" || sides[1] != "" {
		out += " " + sides[0] + " - " + sides[1]
	}
	if len(m.Games) > 0 {
		out += " " + audit.GamesText(m.Games)
	}
	if m.Status != audit.Played {
		out += " " + m.Status.String()
	}
	return strings.TrimSpace(out)
}

var errNoText = errors.New("-out wants a table in text, not a workbook")
