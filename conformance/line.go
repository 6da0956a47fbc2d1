package conformance

import (
	"regexp"
	"strconv"
	"strings"
)

const lineVersion = "L2"

// lineField is one field of the line: what text it can hold. Whether the
// fields fit each other is for an engine to say.
type lineField struct {
	name  string
	value *regexp.Regexp
}

var lineFields = func() []lineField {
	const (
		number = `(0|[1-9][0-9]*)`
		pair   = number + `:` + number
		places = `(12|21|1-|-1|--)`
		person = `[AB][12]`
	)
	var out []lineField
	for _, f := range [...][2]string{
		{"game", number},
		{"won", pair},
		{"score", number + `-` + number},
		{"opens", pair},
		{"serve", `-|` + person + `@[RL-]#[12-]`},
		{"receive", `-|` + person},
		{"A", places},
		{"B", places},
		{"first", `-|[de]?[AB]`},
		{"start", `-|A[12]B[12]`},
		{"ends", `[01]m?`},
		{"due", `-|ep?x?|px?|x`},
		{"phase", `before|play|between|over|closed`},
		{"result", `-|[AB](ret|wd|mf|late|gf|gfab)?|tie|dmf|ab`},
		{"break", `-|t[AB]|m` + person + `|eq` + person + `|ref|blood|hazard|illness`},
		{"timeouts", pair},
		{"medical", `[-rug]{4}`},
		{"out", `[-xc]{4}`},
		{"vw", pair},
		{"tw", pair},
		{"tf", pair},
		{"gf", pair},
		{"wrong", pair},
		{"carry", `[-1-7abefk-nuv]{4}`},
	} {
		out = append(out, lineField{f[0], regexp.MustCompile(`^(` + f[1] + `)$`)})
	}
	return out
}()

// lineFault says what is wrong with the form of a line, or "".
func lineFault(line string) string {
	words := strings.Split(line, " ")
	if words[0] != lineVersion {
		return "does not begin with " + lineVersion
	}
	if len(words) != len(lineFields)+1 {
		return "has " + strconv.Itoa(len(words)-1) + " fields, not " + strconv.Itoa(len(lineFields))
	}
	for i, f := range lineFields {
		name, value, _ := strings.Cut(words[i+1], "=")
		if name != f.name {
			return "has field " + name + " where " + f.name + " belongs"
		}
		if !f.value.MatchString(value) {
			return "field " + name + " cannot be " + strconv.Quote(value)
		}
	}
	inPlay := fieldOf(line, "phase") == "play"
	serve, receives := fieldOf(line, "serve"), fieldOf(line, "receive") != "-"
	if (serve != "-") != inPlay {
		return "field serve does not go with the phase"
	}
	if receives && !inPlay {
		return "field receive does not go with the phase"
	}
	// Who has no court to serve from, or receives with his partner, stands nowhere.
	placed := receives && !strings.Contains(serve, "@-")
	for _, name := range [...]string{"A", "B"} {
		if (fieldOf(line, name) != "--") != placed {
			return "field " + name + " does not go with the phase"
		}
	}
	return ""
}

// fieldOf returns the value of a field of a line, or "".
func fieldOf(line, name string) string {
	for word := range strings.SplitSeq(line, " ") {
		if value, ok := strings.CutPrefix(word, name+"="); ok {
			return value
		}
	}
	return ""
}

// differences lists the fields in which two lines differ. What is no field of
// its place is named by what was expected there; a line that goes on too long
// differs at its end.
func differences(want, got string) []Field {
	w, g := strings.Split(want, " "), strings.Split(got, " ")
	var out []Field
	for i, word := range w {
		name, value, isField := strings.Cut(word, "=")
		if !isField {
			value = word
		}
		switch {
		case i >= len(g):
			out = append(out, Field{name, value, ""})
		case g[i] != word:
			out = append(out, Field{name, value, strings.TrimPrefix(g[i], name+"=")})
		}
	}
	switch extra := got[min(len(got), len(strings.Join(g[:min(len(g), len(w))], " "))):]; {
	case len(g) == len(w)+1 && g[len(w)] == "":
		out = append(out, Field{"end", "", "one space too many"})
	case len(g) > len(w):
		out = append(out, Field{"end", "", extra})
	}
	return out
}

// offset is where in the second line the first difference stands.
func offset(want, got string) int {
	w, g := strings.Split(want, " "), strings.Split(got, " ")
	at := 0
	for i := range w {
		if i >= len(g) || w[i] != g[i] {
			return min(at, len(got))
		}
		at += len(g[i]) + 1
	}
	return len(want)
}
