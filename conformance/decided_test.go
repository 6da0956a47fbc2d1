package conformance_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// decisions plays a case as the library does and returns the clauses on which
// its decisions about single events rest.
func decisions(t *testing.T, c *conformance.Case, id string) []format.Clause {
	f, err := format.Parse(id)
	require.NoError(t, err)
	rules, err := rally.Compile(f)
	require.NoError(t, err)
	start := conformance.Start{From: c.From}
	if c.Start != nil {
		start = conformance.Start{First: c.Start.First, Servers: c.Start.Servers}
	}
	var engine conformance.Builtin
	_, err = engine.BeginBy(rules, start)
	require.NoError(t, err, c.ID)
	var out []format.Clause
	for i := range c.Steps {
		if c.Steps[i].Entry != "" {
			engine.Do(c.Steps[i].Entry)
			continue
		}
		for _, text := range strings.Fields(c.Steps[i].Do) {
			now, state := engine.State()
			if event, err := rally.ParseEvent(text); err == nil {
				_, _, _, by := now.Decide(state, event)
				for _, decided := range []format.Clause{by.First(), by.Second()} {
					if decided != 0 && !slices.Contains(out, decided) {
						out = append(out, decided)
					}
				}
			}
			engine.Do(text)
		}
	}
	return out
}

// Where the library says which clause decided, the case names one of those that
// did: a case and a decision that rest on different rules are one of them wrong.
func TestDecidedClauseIsNamedByTheCase(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	compared := 0
	for i := range files {
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			if slices.ContainsFunc(c.Steps, func(s conformance.Step) bool { return s.Entry != "" }) {
				continue // the log decides
			}
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				require.NoError(t, err)
				for _, id := range ids {
					decided := decisions(t, c, id)
					if len(decided) == 0 {
						continue
					}
					compared++
					if !slices.ContainsFunc(decided, func(d format.Clause) bool { return slices.Contains(c.Clauses, d) }) {
						t.Errorf("%s in %s: decided by %v, names %v", c.ID, id, decided, c.Clauses)
					}
				}
			}
		}
	}
	t.Logf("%d runs compared", compared)
	require.Greater(t, compared, 4000)
}

// Every clause that code decides has a case.
func TestEveryEngineClauseHasACase(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	named := map[format.Clause]bool{}
	for i := range files {
		for _, c := range files[i].Cases {
			for _, n := range c.Clauses {
				named[n] = true
			}
		}
	}
	for _, c := range format.Clauses() {
		require.True(t, named[c] || c.Status().String() != "engine", "no case names %s", c)
	}
}
