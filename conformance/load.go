package conformance

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"reflect"
	"strings"

	"github.com/evencourt/evencourt/conformance/internal/exact"
	"github.com/evencourt/evencourt/format"
)

// Load returns the cases of the corpus, one file a feature, in the order of
// their names.
func Load() ([]File, error) {
	sub, err := fs.Sub(content, "cases")
	if err != nil {
		return nil, err
	}
	return Read(sub)
}

// Read reads every case file at the root of a file system, strictly: an
// unknown field, text after the end, or a case that is no object is an error
// that names file, case and field. Whether the cases make sense is for [Lint].
func Read(fsys fs.FS) ([]File, error) {
	names, err := fs.Glob(fsys, "*.json")
	if err != nil {
		return nil, err
	}
	var out []File
	for _, name := range names {
		if name == whyFile {
			continue
		}
		data, err := fs.ReadFile(fsys, name)
		if err != nil {
			return nil, err
		}
		f, err := readFile(name, data)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

func readFile(name string, data []byte) (File, error) {
	whole := File{Path: name}
	if strict(data, &whole) == nil {
		return whole, nil
	}
	// Something is wrong. Cases are decoded one by one, so that the error can name the case.
	var shell struct {
		Feature string            `json:"feature"`
		About   string            `json:"about"`
		LeftOut []LeftOut         `json:"left_out"`
		Cases   []json.RawMessage `json:"cases"`
	}
	if err := strict(data, &shell); err != nil {
		return File{}, fmt.Errorf("conformance: %s: %w", name, err)
	}
	f := File{Path: name, Feature: shell.Feature, About: shell.About, LeftOut: shell.LeftOut}
	for i, raw := range shell.Cases {
		var c Case
		if err := strict(raw, &c); err != nil {
			return File{}, fmt.Errorf("conformance: %s: case %s: %w", name, nameOf(raw, i), err)
		}
		f.Cases = append(f.Cases, c)
	}
	return f, nil
}

func strict(data []byte, v any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		var kind *json.UnmarshalTypeError
		switch {
		case !errors.As(err, &kind):
			return errors.New(strings.TrimPrefix(err.Error(), "json: "))
		case kind.Field == "":
			return fmt.Errorf("want %s, not %s", inJSON(kind.Type), kind.Value)
		}
		return fmt.Errorf("field %s: want %s, not %s", kind.Field, inJSON(kind.Type), kind.Value)
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("text after the end")
	}
	return exact.Check(data, v)
}

// inJSON says what a value is read from.
func inJSON(t reflect.Type) string {
	switch t.Kind() {
	case reflect.Struct, reflect.Map:
		return "object"
	case reflect.Slice:
		return "array"
	}
	return t.Kind().String()
}

// nameOf finds what to call a case that could not be read: its id if it has
// one, else its place in the file.
func nameOf(raw json.RawMessage, i int) string {
	var c struct {
		ID string `json:"id"`
	}
	if json.Unmarshal(raw, &c) == nil && c.ID != "" {
		return c.ID
	}
	return fmt.Sprintf("number %d", i+1)
}

// Expand returns the format ids that one entry of a case's formats stands for:
// SHAPE@EDITION, SHAPE@FROM..TO for all editions from one to the other that
// the shape goes with, both included, or SHAPE@FROM.. for all from that one to
// the newest; each may be followed by +SWITCH=VALUE readings, as in
// [format.Parse].
func Expand(entry string) ([]string, error) {
	fault := func(why string) ([]string, error) {
		return nil, fmt.Errorf("conformance: format %q: %s", entry, why)
	}
	id, readings, _ := strings.Cut(entry, "+")
	if readings != "" {
		readings = "+" + readings
	}
	shape, span, named := strings.Cut(id, "@")
	if !named {
		return fault("names no edition")
	}
	from, to, ranged := strings.Cut(span, "..")
	if !ranged {
		to = from
	}
	var out []string
	in, ended := false, false
	for _, e := range format.EditionsOf(shape) {
		in = in || e.String() == from
		if in && !ended {
			out = append(out, shape+"@"+e.String()+readings)
			ended = e.String() == to
		}
	}
	switch {
	case format.EditionsOf(shape) == nil:
		return fault("no such shape")
	case !in:
		return fault("the shape has no edition " + from + " to begin with")
	case !ended && to != "":
		return fault("the shape has no edition " + to + " after " + from + " to end with")
	}
	for _, id := range out {
		if _, err := format.Parse(id); err != nil {
			return nil, fmt.Errorf("conformance: format %q: %w", entry, err)
		}
	}
	return out, nil
}

// A Why is a word of the closed vocabulary that says what a case is there for.
type Why struct {
	Word   string `json:"word"`
	Kind   string `json:"kind"`   // what kind of matter it is
	Breaks string `json:"breaks"` // what goes wrong in an engine that gets it wrong
}

const (
	whyFile     = "why.json"
	retiredFile = "retired.txt"
)

// Vocabulary returns the vocabulary of [Case.Why].
func Vocabulary() ([]Why, error) {
	data, err := content.ReadFile(path.Join("cases", whyFile))
	if err != nil {
		return nil, err
	}
	var out []Why
	if err := strict(data, &out); err != nil {
		return nil, fmt.Errorf("conformance: %s: %w", whyFile, err)
	}
	return out, nil
}

// retired returns the ids that no case may take again.
func retired() (map[string]bool, error) {
	data, err := content.ReadFile(path.Join("cases", retiredFile))
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for line := range strings.Lines(string(data)) {
		if words := strings.Fields(line); len(words) > 0 && !strings.HasPrefix(words[0], "#") {
			out[words[0]] = true
		}
	}
	return out, nil
}
