package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// pin is a format as a record keeps it beside its id: in full, with the version
// of the data that gave the id its meaning and the digest of what it meant. So a
// later correction of a table changes no stored match.
func pin(f format.Format) (rawJSON, error) {
	full, err := MarshalFormat(f)
	if err != nil {
		return nil, err
	}
	return append(fmt.Appendf(nil, `{"data":%d,"digest":"%016x",`, format.DataVersion, f.Digest()), full[1:]...), nil
}

// pinned reads what pin writes.
func pinned(raw json.RawMessage) (format.Format, *Error) {
	fields, err := object(raw)
	if err != nil {
		return format.Format{}, err
	}
	var data int
	var digest string
	if err := need(fields, "data", &data); err != nil {
		return format.Format{}, err
	}
	if err := need(fields, "digest", &digest); err != nil {
		return format.Format{}, err
	}
	delete(fields, "data")
	delete(fields, "digest")
	f, err := formatFrom(fields)
	if err != nil {
		return f, err
	}
	// Under other data a switch may have been added since, which the digest did
	// not hold.
	if data == format.DataVersion && digest != fmt.Sprintf("%016x", f.Digest()) {
		return f, failure(badField, "digest", "is not that of the rules beside it")
	}
	f.Settle()
	if f.Validate() != nil {
		f.Shape = "" // a shape that was named otherwise then; the rules are whole without
	}
	return f, valid(f)
}

// played returns the rules that an id stands for in this record: those stored
// beside it, and today's where none are. What the id means otherwise today is noted.
func (rd *reader) played(id string, rules json.RawMessage) (format.Format, *Error) {
	today, unknown := format.Parse(id)
	if rules == nil {
		if unknown != nil {
			return today, caused(badField, "format", unknown)
		}
		return today, nil
	}
	f, err := pinned(rules)
	switch {
	case err != nil && rd.lenient && unknown == nil:
		rd.report(err.under("rules"))
		return today, nil
	case err != nil:
		return f, err.under("rules")
	}
	if rd.today == nil {
		rd.today = map[format.Format]format.Format{}
	}
	changed := failure(rulesChanged, "format", "")
	if unknown != nil {
		changed.Cause, changed.Reason = unknown, brief(id)+" is the name of no format today; the rules that were stored hold"
	} else {
		rd.today[f] = today
		var which []string
		for _, d := range f.Deviations(today) {
			which = append(which, d.Field+" was "+d.Was+" and is "+d.Is)
		}
		if len(which) == 0 {
			return f, nil
		}
		changed.Reason = brief(id) + " means something else today: " + strings.Join(which, ", ") + "; the rules that were stored hold"
	}
	rd.changed = append(rd.changed, rd.here(changed))
	return f, nil
}

// Departure is where a record first leads elsewhere under today's rules.
type Departure struct {
	Entry int    // number of the entry, from 1; 0 where the match cannot even begin
	Field string // of the line: the first that differs after the entry; "" where that is refused
	Was   string // its value by the rules that were stored
	Is    string // its value by today's
	// Refused says why the entry is not taken today, and that the rest was not
	// tried; nil where the lines differ.
	Refused error
}

// Today plays the entries of a record again by what the ids of its formats mean
// today. It returns the log of that, as far as the entries are taken, and where it
// first leads elsewhere; nil where every entry leads where it led.
func (r *Record) Today() (*rally.Log, *Departure) {
	now := func(f format.Format) format.Format {
		if today, known := r.today[f]; known {
			return today
		}
		return f
	}
	stored, start := r.Log.Initial()
	rules, err := rally.Compile(now(stored.Format()))
	if err != nil {
		return nil, &Departure{Refused: err}
	}
	begin := start
	if start != (rally.State{}) {
		if begin, err = rules.ParseLine(stored.Line(start)); err != nil {
			return nil, &Departure{Refused: err}
		}
	}
	then, today := rally.NewLog(stored, start), rally.NewLog(rules, begin)
	var first *Departure
	for n := 1; n <= r.Log.Len(); n++ {
		e := r.Log.Entry(n)
		_, _ = then.Do(e) // it is in the log
		if e.Kind == rally.ChangeFormat {
			e.Format = now(e.Format)
		}
		if _, err := today.Do(e); err != nil {
			if first == nil {
				first = &Departure{Entry: n, Refused: err}
			}
			break
		}
		if ms, stamped := r.Log.Time(n); stamped {
			today.Stamp(ms)
		}
		if first != nil {
			continue
		}
		was, is := then.Rules().Line(then.State()), today.Rules().Line(today.State())
		if was != is {
			field, a, b := difference(was, is)
			first = &Departure{Entry: n, Field: field, Was: a, Is: b}
		}
	}
	return today, first
}

// difference returns the first field in which two lines differ, and its values.
func difference(was, is string) (field, a, b string) {
	left, right := strings.Split(was, " "), strings.Split(is, " ")
	for i := range min(len(left), len(right)) {
		if left[i] != right[i] {
			_, a, _ = strings.Cut(left[i], "=")
			field, b, _ = strings.Cut(right[i], "=")
			return field, a, b
		}
	}
	return "", "", ""
}

// valid makes what is wrong with a format a problem with its field.
func valid(f format.Format) *Error {
	err := f.Validate()
	if err == nil {
		return nil
	}
	e := caused(badField, "", err)
	var of *format.Error
	if errors.As(err, &of) {
		e.Field, e.Reason = of.Field, of.Reason
	}
	return e
}
