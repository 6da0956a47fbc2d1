package main

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/examples/program"
)

// A table of rallies is read as the lines of logs that it could have been: one
// row a rally, with the names that rows have in those lines, and what they say
// of a match in columns of its own.
var (
	matchColumns = []string{"match", "format", "first", "starters"}
	rowColumns   = []string{"game", "n", "ms", "winner", "event", "undo", "serving", "server", "receiver", "score", "call"}
	nameColumns  = []string{"a1_name", "a2_name", "b1_name", "b2_name"}
)

// logOf is a match as a line of logs has it.
type logOf struct {
	Match    string                       `json:"match"`
	Format   string                       `json:"format"`
	First    string                       `json:"first,omitempty"`
	Starters string                       `json:"starters,omitempty"`
	Sides    [2]logSide                   `json:"sides"`
	Rows     []map[string]json.RawMessage `json:"rows"`
	line     int                          // of its first row
}

type logSide struct {
	Names [2]string `json:"names"`
}

// table reads a table of rallies; rows of a match stand together. Rows that
// name no format have the one given.
func (rd *reading) table(name string, in *bufio.Reader, format string) error {
	r := csv.NewReader(in)
	head, _ := in.Peek(4096)
	first, _, _ := strings.Cut(string(head), "\n")
	for _, comma := range ",;\t" {
		if strings.Count(first, string(comma)) > strings.Count(first, string(r.Comma)) {
			r.Comma = comma
		}
	}
	header, err := r.Read()
	if err != nil {
		return csvError(err)
	}
	header[0] = strings.TrimPrefix(header[0], "\ufeff")
	known := slices.Concat(matchColumns, rowColumns, nameColumns)
	for i, column := range header {
		header[i] = strings.ToLower(strings.TrimSpace(column))
		if !slices.Contains(known, header[i]) {
			return fmt.Errorf("line 1: no column is called %q; columns are %s", program.Shorten(column), strings.Join(known, ", "))
		}
	}
	var match *logOf
	seen := map[string]bool{}
	flush := func() error {
		if match == nil {
			return nil
		}
		text, err := json.Marshal(match)
		if err != nil {
			return err
		}
		return rd.line(fmt.Sprintf("%s:%d", name, match.line), text, match.line)
	}
	for {
		cells, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			return csvError(err)
		}
		line, _ := r.FieldPos(0)
		of := logOf{Format: format, line: line}
		row := map[string]json.RawMessage{}
		for i, cell := range cells {
			if err := of.cell(row, header[i], strings.TrimSpace(cell)); err != nil {
				return fmt.Errorf("line %d: %s: %w", line, header[i], err)
			}
		}
		if match == nil || of.Match != match.Match {
			if seen[of.Match] {
				return fmt.Errorf("line %d: match %q again: the rows of a match must stand together", line, program.Shorten(of.Match))
			}
			seen[of.Match] = true
			if err := flush(); err != nil {
				return err
			}
			match = &of
		}
		match.Rows = append(match.Rows, row)
	}
	if match == nil {
		return errors.New("holds no row")
	}
	return flush()
}

// cell takes in one cell; what it means is for the reader of lines to say.
func (l *logOf) cell(row map[string]json.RawMessage, column, text string) error {
	if text == "" {
		return nil
	}
	switch column {
	case "match":
		l.Match = text
	case "format":
		l.Format = text
	case "first":
		l.First = text
	case "starters":
		l.Starters = text
	case "a1_name", "a2_name", "b1_name", "b2_name":
		l.Sides[column[0]-'a'].Names[column[1]-'1'] = text
	case "game", "n", "ms", "undo":
		if _, number := strconv.ParseUint(text, 10, 62); number != nil && text != "true" && text != "false" {
			return fmt.Errorf("%q is no number", program.Shorten(text))
		}
		row[column] = json.RawMessage(text)
	case "score":
		a, b, _ := strings.Cut(text, "-")
		score := make([]uint64, 2)
		for i, points := range []string{a, b} {
			var err error
			if score[i], err = strconv.ParseUint(strings.TrimSpace(points), 10, 16); err != nil {
				return fmt.Errorf("%q is no score such as 4-3", program.Shorten(text))
			}
		}
		row[column], _ = json.Marshal(score)
	default:
		row[column], _ = json.Marshal(text)
	}
	return nil
}

// csvError says where a table cannot be read.
func csvError(err error) error {
	var parse *csv.ParseError
	switch {
	case errors.As(err, &parse):
		return fmt.Errorf("line %d: %w", parse.Line, parse.Err)
	case err == io.EOF:
		return errors.New("holds no line")
	}
	return err
}
