package reference_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
)

// twin is the slow model as an engine that plays cases.
type twin struct{ log *reference.Log }

func (e *twin) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	f, err := parsed(id)
	if err != nil {
		return conformance.Answer{}, err
	}
	var m *reference.Match
	if start.From != "" {
		m, err = reference.At(f, start.From)
	} else {
		m, err = reference.New(f, strings.Trim(start.First, "-"), [2]int{1, 1})
	}
	if err != nil {
		return conformance.Answer{}, err
	}
	e.log = reference.NewLog(m)
	if s := start.Servers; s != "" {
		servers := s[:2] + s[2:]
		if start.First == "B" {
			servers = s[2:] + s[:2]
		}
		e.log.Do("g" + servers)
	}
	return e.answer(nil, ""), nil
}

var formats sync.Map // by id

func parsed(id string) (format.Format, error) {
	if f, ok := formats.Load(id); ok {
		return f.(format.Format), nil
	}
	f, err := format.Parse(id)
	if err == nil {
		formats.Store(id, f)
	}
	return f, err
}

func (e *twin) Do(entry string) conformance.Answer {
	effects, refused := e.log.Do(entry)
	return e.answer(effects, refused)
}

func (e *twin) answer(effects []string, refused string) conformance.Answer {
	m := e.log.Match()
	return conformance.Answer{Line: m.Line(), Call: m.Call(), Effects: effects, Refused: refused}
}

// A difference is an event that the engine and the slow model answer otherwise.
type difference struct {
	format        string
	entry, line   string // the event, and where the match stood
	engine, model conformance.Answer
	log           []string // what was accepted before, if a correction was among it
}

// compare returns what differs, nil for nothing.
func compare(id, entry, line string, engine, model conformance.Answer) *difference {
	same := engine.Refused == model.Refused && engine.Line == model.Line && slices.Equal(engine.Effects, model.Effects)
	if same && (fieldOf(line, "phase") != "play" || engine.Call == model.Call) {
		return nil
	}
	return &difference{format: id, entry: entry, line: line, engine: engine, model: model}
}

func (d *difference) String() string {
	tell := func(a conformance.Answer) string {
		if a.Refused != "" {
			return "refused " + a.Refused
		}
		var out []string
		now := strings.Fields(d.line)
		for i, w := range strings.Fields(a.Line) {
			if i >= len(now) || now[i] != w {
				out = append(out, w)
			}
		}
		return strings.Join(out, " ") + " " + fmt.Sprint(a.Effects) + " " + a.Call
	}
	path := ""
	for i, e := range d.log {
		path += fmt.Sprintf(" %d:%s", i+1, e)
	}
	return fmt.Sprintf("%s,%s, %s at\n\t%s\n\tengine: %s\n\tmodel:  %s", d.format, path, d.entry, d.line, tell(d.engine), tell(d.model))
}

// fieldOf cuts one field out of a line.
func fieldOf(line, name string) string {
	for _, w := range strings.Fields(line) {
		if v, ok := strings.CutPrefix(w, name+"="); ok {
			return v
		}
	}
	return ""
}
