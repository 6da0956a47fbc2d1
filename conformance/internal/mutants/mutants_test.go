package mutants

import (
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

// Every mutant dies by hand-written cases of two files at least, by the first of
// each file in the matrix: a case that lost its strength shows here.
func TestEveryMutantDies(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	byID, fileOf := map[string]*conformance.Case{}, FileOf(files)
	for i := range files {
		for j := range files[i].Cases {
			byID[files[i].Cases[j].ID] = &files[i].Cases[j]
		}
	}
	rows, err := Matrix()
	require.NoError(t, err)
	all := All()
	require.GreaterOrEqual(t, len(all), 60)
	require.Len(t, rows, len(all), "run go run ./conformance/cmd/mutants")
	seen := map[string]bool{}
	kills := 0
	for i := range all {
		m, row := &all[i], rows[i]
		require.Equal(t, m.Name, row.Mutant, "run go run ./conformance/cmd/mutants")
		require.False(t, seen[m.Name], "%s stands twice", m.Name)
		seen[m.Name] = true
		require.NotEmpty(t, row.Kills, "%s survives: it %s", m.Name, m.Wrong)
		from := map[string]bool{}
		for _, id := range row.Kills {
			if from[fileOf[id]] || len(from) == 3 {
				continue
			}
			from[fileOf[id]] = true
			c := byID[id]
			require.NotNil(t, c, "case %s is gone: run go run ./conformance/cmd/mutants", id)
			require.False(t, c.Generated, id)
			require.NotEmpty(t, m.Kill(c), "%s no longer kills %s", id, m.Name)
			kills++
		}
		require.GreaterOrEqual(t, len(from), 2, "only cases of one file find out %s", m.Name)
	}
	t.Logf("%d mutants, %d kills played again", len(all), kills)
}

func TestPageIsCurrent(t *testing.T) {
	rows, err := Matrix()
	require.NoError(t, err)
	page, err := os.ReadFile("../../MUTANTS.md")
	require.NoError(t, err)
	measured, err := LastMeasured()
	require.NoError(t, err)
	require.True(t, Page(rows, measured) == string(page), "the page is out of date: run go run ./conformance/cmd/mutants")
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	require.Contains(t, string(readme), measured.Summary(), "the table in README.md is another")
	date, err := time.Parse(time.DateOnly, measured.Date)
	require.NoError(t, err)
	require.Contains(t, string(readme), date.Format("measured on 2 January 2006"))
}

// An engine that only dies kills no one: an unbroken one survives all, and so
// does one that panics.
func TestSoundAndDeadEnginesAreNotKilled(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	sound := wrapped("sound", "nothing", func(w *wrapper, event string) conformance.Answer { return w.play(event) })
	dead := wrapped("dead", "everything", func(*wrapper, string) conformance.Answer { panic("dead") })
	model := Mutant{Name: "model", New: func() (conformance.Engine, conformance.Engine) { return &model{}, &model{} }}
	played := 0
	for i := range files {
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			for _, m := range []*Mutant{&sound, &dead, &model} {
				require.Empty(t, m.Kill(c), "%s: %s", m.Name, c.ID)
				played++
			}
			if testing.Short() && j > 10 {
				break
			}
		}
	}
	require.Greater(t, played, 300)
}

// The profile core has at most 100 cases and finds out every named mutant.
func TestCoreKillsEveryMutant(t *testing.T) {
	profiles, err := conformance.Profiles()
	require.NoError(t, err)
	core, err := conformance.Choose(profiles, []string{"core"})
	require.NoError(t, err)
	require.LessOrEqual(t, len(core[0].Cases), 100)
	rows, err := Matrix() // which TestEveryMutantDies holds to the cases
	require.NoError(t, err)
	for _, row := range rows {
		require.True(t, slices.ContainsFunc(row.Kills, func(id string) bool { return slices.Contains(core[0].Cases, id) }), row.Mutant)
	}
}

// What the cases killed of the systematic mutants they still kill.
func TestSystematicMutants(t *testing.T) {
	if testing.Short() {
		t.Skip("plays every case by some hundred broken rules")
	}
	files, err := conformance.Load()
	require.NoError(t, err)
	s := NewSystematic()
	require.NoError(t, s.Play(files))
	measured, err := LastMeasured()
	require.NoError(t, err)
	now, _ := s.Table()
	require.Len(t, now, len(measured.Table), "run go run ./conformance/cmd/mutants -systematic 3000")
	for i, before := range measured.Table {
		require.Equal(t, before.Where, now[i].Where)
		require.GreaterOrEqual(t, now[i].Killed, before.Killed, "%s, broken for %s", before.Kind, before.Where)
	}
}

// A derived case is sound: whatever model passes the written one passes it too.
// The library's engine passes all of them in TestOwnEngine; this is the model
// that shares no code with it.
func TestDerivedCasesAreSound(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	played := map[string]int{}
	for i := range files {
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				require.NoError(t, err)
				id := ids[len(ids)-1]
				if conformance.Run(&model{}, *c, id) != nil {
					continue // it does not play this case
				}
				f, err := format.Parse(id)
				require.NoError(t, err)
				for _, d := range conformance.Derivations() {
					if derived := c.Derive(d, &f); derived != nil {
						if failure := conformance.Run(&model{}, *derived, id); failure != nil {
							t.Fatal(failure)
						}
						played[d]++
					}
				}
			}
		}
	}
	t.Log(played)
	for _, d := range conformance.Derivations() {
		require.Greater(t, played[d], 200, d)
	}
}
