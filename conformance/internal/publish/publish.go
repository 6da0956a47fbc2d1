// Package publish writes the files of folder conformance that are made of the
// library's data and of the cases, for readers who have no Go.
package publish

import (
	"bytes"
	"encoding/json"

	"github.com/evencourt/evencourt/conformance"
)

// A File is one generated file; the name is relative to folder conformance.
type File struct {
	Name    string
	Content []byte
}

// Files makes all of them; folder is folder conformance.
func Files(folder string) ([]File, error) {
	cases, err := conformance.Load()
	if err != nil {
		return nil, err
	}
	clauses := Clauses()
	data, err := lines(clauses)
	if err != nil {
		return nil, err
	}
	page, err := ClausesPage(clauses, cases)
	if err != nil {
		return nil, err
	}
	formats, err := Formats()
	if err != nil {
		return nil, err
	}
	out := []File{{"clauses.json", data}, {"formats.json", formats}, {"CLAUSES.md", page}}
	manifest, err := NewManifest(cases, out, folder)
	if err != nil {
		return nil, err
	}
	return append(out, File{"manifest.json", manifest}), nil
}

// lines writes a list as JSON, an item a line.
func lines[T any](list []T) ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("[\n")
	for i := range list {
		text, err := json.Marshal(&list[i])
		if err != nil {
			return nil, err
		}
		b.WriteString("  ")
		b.Write(text)
		if i < len(list)-1 {
			b.WriteByte(',')
		}
		b.WriteByte('\n')
	}
	b.WriteString("]\n")
	return b.Bytes(), nil
}
