package reference_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
)

// TestSeveralErrorsAgree rules on rallies with up to three errors at once, whatever
// was claimed, by whomever and however late, drawn at random.
func TestSeveralErrorsAgree(t *testing.T) {
	each := 3000
	if testing.Short() {
		each = 300
	}
	r := rand.New(rand.NewPCG(1, 2))
	differ, asked := newTally(t), 0
	for _, id := range everyFormat() {
		if !strings.HasPrefix(id, "sideout-doubles-11@") && !strings.HasPrefix(id, "rally-doubles-11@") {
			continue
		}
		begin := func(e conformance.Engine) (a conformance.Answer) {
			if _, err := e.Begin(id, conformance.Start{First: "A"}); err != nil {
				t.Fatal(err)
			}
			for _, event := range []string{"gA1B1", "A"} {
				a = e.Do(event)
			}
			return a
		}
		engine, model := new(conformance.Builtin), new(twin)
		at := begin(engine)
		begin(model)
		there := *model.log.Match()
		for n := range each {
			if n%16 == 15 {
				begin(engine) // what is undone stays in the log, and a long one is slow
			}
			event := severalErrors(r)
			model.log = reference.NewLog(there.Clone())
			a := engine.Do(event)
			if d := compare(id, event, at.Line, a, model.Do(event)); d != nil {
				differ.add(d)
			}
			if a.Refused == "" {
				engine.Do("undo")
			}
			asked++
		}
	}
	differ.report(fmt.Sprintf("%d rulings compared", asked))
}

// severalErrors draws a rally with one to three errors on it, in the words of LINE.md.
func severalErrors(r *rand.Rand) string {
	errors := strings.Fields("side server court receiver rcourt call starter rstarter")
	one := func(words ...string) string { return words[r.IntN(len(words))] }
	wrong := []string{one(errors...), one(errors...), one(errors...)}
	said := slices.DeleteFunc(slices.Clone(errors), func(e string) bool { return !slices.Contains(wrong, e) })
	rally := one("A", "B", "stop", "stop")
	said = append(said, one("", "", "~"+one(errors[:6]...)), one("", "", "", "misled"), one("", "uncalled", "called", "struck", "returned", "third"))
	if rally != "stop" {
		said = append(said, one("", "rallyover", "served", "overtaken", "gameover", "sheet"))
	}
	said = append(said, one("", "byA", "byB", "byref"), one("", "", "", "asked"))
	return rally + "?" + strings.Join(slices.DeleteFunc(said, func(w string) bool { return w == "" }), ",")
}
