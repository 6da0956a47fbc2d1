package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance"
)

// The page shows every engine by feature and edition, names what an engine says
// of itself harmlessly, and an engine that fails is not shown as one that passes.
func TestPageOfTwoEngines(t *testing.T) {
	files, err := conformance.Load()
	require.NoError(t, err)
	profiles, err := conformance.Profiles()
	require.NoError(t, err)
	chosen, err := conformance.Choose(profiles, []string{"rally-2026"})
	require.NoError(t, err)
	dir := t.TempDir()
	var names []string
	for i, e := range []struct {
		name   string
		engine conformance.Engine
	}{{"ours", new(conformance.Builtin)}, {"<script>theirs", mute{}}} {
		r, err := conformance.Check(conformance.InProcess(e.engine, conformance.Identity{Name: e.name}), conformance.Options{Files: files, Profiles: chosen})
		require.NoError(t, err)
		name := filepath.Join(dir, string(rune('a'+i))+".json")
		f, err := os.Create(name)
		require.NoError(t, err)
		require.NoError(t, r.WriteJSON(f))
		require.NoError(t, f.Close())
		names = append(names, name)
	}
	dir = filepath.Join(dir, "page") // which is made
	require.NoError(t, run(dir, names))
	page, err := os.ReadFile(filepath.Join(dir, "index.html"))
	require.NoError(t, err)
	require.Contains(t, string(page), `<th class="left">all editions</th><th>ours</th><th>&lt;script&gt;theirs</th>`)
	require.Contains(t, string(page), `<th class="left">rally-singles</th><td class="all">`)
	require.Contains(t, string(page), `<details><summary>2026</summary>`)
	require.NotContains(t, string(page), `<summary>2025</summary>`, "nobody plays anything of it")
	require.Contains(t, string(page), `<td class="all">`)
	require.Contains(t, string(page), `<td class="some">0 of `)
	require.NotContains(t, string(page), "<script>")
	for name, want := range map[string]string{"badge-1.svg": "conformant, profiles: 1", "badge-2.svg": "not conformant"} {
		badge, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		require.Contains(t, string(badge), ">"+want+"</text>")
	}
	require.Error(t, run(dir, nil))
	require.Error(t, run(dir, []string{filepath.Join(dir, "index.html")}))
	other := filepath.Join(dir, "other.json")
	require.NoError(t, os.WriteFile(other, []byte(`{"engine": {"name": "ours"}}`), 0o600))
	require.EqualError(t, run(dir, []string{other}), other+": is no report of checkengine")
}

// Who played a part of his choice is conformant in nothing.
func TestBadgeOfASelection(t *testing.T) {
	b := newBadge(&conformance.Report{Corpus: "3.0.0", Verdict: conformance.Conformant, Selected: "cases c0139", Profiles: []conformance.ProfileReport{{Claimed: true}}})
	require.Equal(t, badge{Label: "corpus 3.0.0", Verdict: "a selection alone"}, b)
}

// Engines of one name are told apart.
func TestEnginesOfOneName(t *testing.T) {
	var reports []conformance.Report
	for _, e := range []conformance.Identity{{Name: "ours", Language: "Go", Version: "1"}, {Name: "ours", Language: "C", Version: "1"}, {Name: "ours", Language: "C", Version: "2"}, {Name: "theirs", Language: "C"}, {Name: "ours", Language: "C", Version: "2"}} {
		reports = append(reports, conformance.Report{Engine: e})
	}
	require.Equal(t, []string{"ours, Go", "ours, C, 1", "ours, C, 2, report 3", "theirs", "ours, C, 2, report 5"}, engines(reports))
}

// mute answers nothing.
type mute struct{}

func (mute) Begin(string, conformance.Start) (conformance.Answer, error) {
	return conformance.Answer{}, nil
}
func (mute) Do(string) conformance.Answer { return conformance.Answer{} }
