package conformance

import (
	"encoding/xml"
	"fmt"
	"io"
)

// WriteJUnit writes the report in the XML form that build servers read: a
// suite a feature, a test a case and format.
func (r *Report) WriteJUnit(w io.Writer) error {
	type text struct {
		Message string `xml:"message,attr"`
		Type    string `xml:"type,attr,omitempty"`
		Body    string `xml:",chardata"`
	}
	type testCase struct {
		Name    string `xml:"name,attr"`
		Class   string `xml:"classname,attr"`
		Failure *text  `xml:"failure,omitempty"`
		Error   *text  `xml:"error,omitempty"`
		Skipped *text  `xml:"skipped,omitempty"`
	}
	type suite struct {
		Name     string     `xml:"name,attr"`
		Tests    int        `xml:"tests,attr"`
		Failures int        `xml:"failures,attr"`
		Errors   int        `xml:"errors,attr"`
		Skipped  int        `xml:"skipped,attr"`
		Cases    []testCase `xml:"testcase"`
	}
	var all struct {
		XMLName xml.Name `xml:"testsuites"`
		Name    string   `xml:"name,attr"`
		Suites  []suite  `xml:"testsuite"`
	}
	all.Name = fmt.Sprintf("%s %s against corpus %s", r.Engine.Name, r.Engine.Version, r.Corpus)
	for _, n := range r.runs {
		if len(all.Suites) == 0 || all.Suites[len(all.Suites)-1].Name != n.feature {
			all.Suites = append(all.Suites, suite{Name: n.feature})
		}
		s := &all.Suites[len(all.Suites)-1]
		s.Tests++
		c := testCase{Name: n.id + " " + n.format, Class: n.feature}
		switch f := n.failure; {
		case f == nil:
		case f.Outcome == Skipped:
			s.Skipped++
			c.Skipped = &text{Message: f.Got}
		case f.Foreseen:
			s.Skipped++
			c.Skipped = &text{Message: "foreseen: " + string(f.Outcome), Body: f.String()}
		case f.Outcome == Wrong:
			s.Failures++
			c.Failure = &text{Message: f.What + " differs", Type: string(f.Outcome), Body: f.String()}
		default:
			s.Errors++
			c.Error = &text{Message: f.Got, Type: string(f.Outcome), Body: f.String()}
		}
		s.Cases = append(s.Cases, c)
	}
	stale := suite{Name: "manifest of expected failures", Tests: len(r.Stale), Failures: len(r.Stale)}
	for _, line := range r.Stale {
		stale.Cases = append(stale.Cases, testCase{Name: line, Class: "manifest", Failure: &text{Message: line, Type: "unexpected"}})
	}
	if len(r.Stale) > 0 {
		all.Suites = append(all.Suites, stale)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	e := xml.NewEncoder(w)
	e.Indent("", " ")
	if err := e.Encode(all); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}
