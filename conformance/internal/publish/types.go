package publish

import (
	"fmt"
	"strings"

	"github.com/evencourt/evencourt/conformance/pack"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// types writes the names that the library has for everything as the types of
// the package for JavaScript.
func types(p *pack.Pack) File {
	var b strings.Builder
	b.WriteString("// Generated from the library's names by go run ./conformance/cmd/publish; do not edit.\n")
	union := func(name, about string, values []string) {
		var quoted []string
		for _, v := range values {
			if v != "" {
				quoted = append(quoted, "'"+v+"'")
			}
		}
		line := fmt.Sprintf("export type %s = %s;", name, strings.Join(quoted, " | "))
		fmt.Fprintf(&b, "\n/** %s */\n%s\n", about, line)
	}
	var refusals, kinds, switches []string
	for n := rally.Malformed; n.String() != "?"; n++ {
		refusals = append(refusals, n.String())
	}
	for _, k := range rally.Kinds() {
		kinds = append(kinds, k.String())
	}
	for _, s := range format.Switches() {
		switches = append(switches, s.String())
	}
	var marks []string
	for m := format.Read; !strings.HasPrefix(m.String(), "?"); m++ {
		marks = append(marks, m.String())
	}
	c := &p.Core
	union("Side", "A team or player.", []string{"A", "B"})
	union("Person", "A player as entered for the whole match.", []string{"A1", "A2", "B1", "B2"})
	union("Court", "The right, even court or the left, odd one.", []string{"R", "L"})
	union("Shape", "What is played.", format.Shapes())
	union("Edition", "A rulebook in force.", strings.Fields(c.Editions+" "+p.Sports.Editions))
	union("Switch", "A matter on which editions or readings differ.", switches)
	union("Kind", "What sort of thing an event is.", kinds)
	union("Effect", "What an event did.", strings.Fields(c.Effects))
	union("Refusal", "Why an event was refused; skipped: by a part that is not loaded.", append(refusals, "skipped"))
	union("Fault", "A fault that can be called.", strings.Fields(c.Faults)[1:])
	union("Cause", "How a match ended.", strings.Fields(p.Rulings.Causes))
	union("Mark", "How well a clause is known.", marks)
	return File{"../examples/web/names.d.ts", []byte(b.String())}
}
