package mutants

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// current reads a file of the core as it is now.
func current(t *testing.T, file string) *source {
	t.Helper()
	s, err := readSource(filepath.Join("..", "..", filepath.FromSlash(file)))
	require.NoError(t, err, "%s is gone: run .ci/mutants.sh", file)
	return s
}

// has reports whether a line stands in a function.
func (s *source) has(function, line string) bool {
	for n := 1; n <= len(s.lines); n++ {
		if text, _ := s.line(n); text == line && s.function(n) == function {
			return true
		}
	}
	return false
}

// Every mutant that lived has a reason, and every reason is of one that lived
// and of a line that still stands: what has gone stale fails.
func TestEverySurvivorHasAReason(t *testing.T) {
	m, r, err := Stored()
	require.NoError(t, err)
	require.NotEmpty(t, m.Packages)
	used := map[string]bool{}
	for _, s := range m.Lived {
		x := r.Of(s)
		require.NotNil(t, x, "%s:%d %s %d: no reason why it lives: %s", s.File, s.Line, s.Type, s.Column, s.Source)
		used[key(s.File, s.Function, s.Source, s.mutant())] = true
	}
	seen := map[string]bool{}
	for _, x := range r.Lived {
		require.Contains(t, Kinds, x.Kind, "%s: %s", x.File, x.Source)
		require.NotEmpty(t, x.Why, "%s: %s", x.File, x.Source)
		require.True(t, current(t, x.File).has(x.Function, x.Source),
			"%s no longer has the line %q in %s: run .ci/mutants.sh", x.File, x.Source, x.Function)
		for _, name := range x.Mutants {
			k := key(x.File, x.Function, x.Source, name)
			require.False(t, seen[k], "two reasons for %s", k)
			require.True(t, used[k], "a reason for what did not live: %s", k)
			seen[k] = true
		}
	}
	t.Logf("%d mutants lived", len(m.Lived))
}

func key(file, function, source, mutant string) string {
	return strings.Join([]string{file, function, source, mutant}, " ")
}

// What is left out, and what no case comes to, are functions that exist.
func TestFunctionsOutsideTheMeasureExist(t *testing.T) {
	m, r, err := Stored()
	require.NoError(t, err)
	exists := func(file, function string) bool {
		return function == "" || slices.ContainsFunc(current(t, file).funcs, func(f fun) bool { return f.name == function })
	}
	for _, o := range append(slices.Clone(r.NoRule), r.Unseen...) {
		require.True(t, exists(o.File, o.Function), "%s has no %s", o.File, o.Function)
		require.NotEmpty(t, o.Why, "%s %s", o.File, o.Function)
	}
	for _, o := range r.Unseen {
		require.True(t, slices.ContainsFunc(m.Unseen, func(u Unseen) bool { return u.File == o.File && u.Function == o.Function }),
			"%s %s is reached", o.File, o.Function)
	}
	for _, u := range m.Unseen {
		require.NotContains(t, r.unseen(u), "no reason", "%s %s", u.File, u.Function)
	}
}

func TestMachinePageIsCurrent(t *testing.T) {
	m, r, err := Stored()
	require.NoError(t, err)
	page, err := os.ReadFile("../MACHINE.md")
	require.NoError(t, err)
	require.True(t, MachinePage(m, r) == string(page), "the page is out of date: run go run ./conformance/cmd/mutants -page")
}

const report = `{"go_module":"example.org/m","files":[{"file_name":"%[1]s/p.go","mutations":[
 {"type":"CONDITIONALS_BOUNDARY","status":"KILLED","line":7,"column":9},
 {"type":"CONDITIONALS_NEGATION","status":"LIVED","line":7,"column":9},
 {"type":"INVERT_BITWISE","status":"TIMED OUT","line":3,"column":17},
 {"type":"CONDITIONALS_NEGATION","status":"NOT VIABLE","line":9,"column":9},
 {"type":"CONDITIONALS_NEGATION","status":"NOT COVERED","line":16,"column":9}]}]}`

// folder writes what .ci/mutants.sh leaves of three small packages.
func folder(t *testing.T, report string) string {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"serviceorder", "rally", "format"} {
		require.NoError(t, os.MkdirAll(filepath.Join(dir, "source", name), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "source", name, "p.go"), []byte(switchSource), 0o666))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".json"), []byte(strings.ReplaceAll(report, "%[1]s", name)), 0o666))
	}
	return dir
}

func TestReadMachine(t *testing.T) {
	r := Reasons{NoRule: []Outside{{"format/p.go", "f", "no rule"}}}
	m, err := ReadMachine(folder(t, report), "2026-01-02", r)
	require.NoError(t, err)
	require.Equal(t, Measured{Package: "rally", Files: []string{"p.go"}, Killed: 1, Lived: 1, TimedOut: 1, Unseen: 1, NoBuild: 1}, m.Packages[1])
	require.Equal(t, Measured{Package: "format", Files: []string{"p.go"}, TimedOut: 1, Unseen: 1, NoRule: 3}, m.Packages[2])
	require.Equal(t, []Survivor{
		{"rally/p.go", 3, "", "const limit = 1 << 3", 17, "INVERT_BITWISE", true},
		{"rally/p.go", 7, "f", "case a > b, a == limit:", 8, "CONDITIONALS_NEGATION", false},
	}, m.Lived[2:4])
	require.Equal(t, Unseen{"rally/p.go", "g", 1}, m.Unseen[1])

	page := MachinePage(m, r)
	require.Contains(t, page, "| rally | p.go | 1 | 1 | 0 | 0 | 0 | 2 | 1 | 33.3 % | 33.3 % | 1 | 0 |")
	require.Contains(t, page, "| rally/p.go:7 | `case a > b, a == limit:` | CONDITIONALS_NEGATION 8 | **no reason yet** |")
	r.Lived = []Reason{{"rally/p.go", "f", "case a > b, a == limit:", []string{"CONDITIONALS_NEGATION 8"}, "equivalent", "it is so"}}
	page = MachinePage(m, r)
	require.Contains(t, page, "| rally | p.go | 1 | 1 | 1 | 0 | 0 | 1 | 1 | 50.0 % | 50.0 % | 1 | 0 |")
	require.Contains(t, page, "| *equivalent*: it is so |")
}

func TestReadMachineRefuses(t *testing.T) {
	for name, text := range map[string]string{
		"no JSON":             `nonsense`,
		"an unknown status":   `{"files":[{"file_name":"p.go","mutations":[{"type":"X","status":"ASLEEP","line":1,"column":1}]}]}`,
		"a file that is gone": `{"files":[{"file_name":"q.go","mutations":[]}]}`,
		"a line past the end": `{"files":[{"file_name":"p.go","mutations":[{"type":"X","status":"LIVED","line":900,"column":1}]}]}`,
	} {
		_, err := ReadMachine(folder(t, text), "2026-01-02", Reasons{})
		require.Error(t, err, name)
	}
	_, err := ReadMachine(t.TempDir(), "2026-01-02", Reasons{})
	require.Error(t, err, "an empty folder")
}
