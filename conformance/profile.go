package conformance

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// Profile is something that an engine can claim: every case of its features in
// every format of its shapes and editions that the engine plays.
type Profile struct {
	Name     string   `json:"name"`
	About    string   `json:"about"`
	Features []string `json:"features"` // features, * standing for any text
	Shapes   []string `json:"shapes"`   // shapes of formats, likewise
	Editions string   `json:"editions"` // FROM..TO, both included; empty for all
	Cases    []string `json:"cases"`    // of these features and formats only these cases; empty for all
}

// Profiles returns the profiles that there are.
func Profiles() ([]Profile, error) {
	data, err := content.ReadFile("profiles.json")
	if err != nil {
		return nil, err
	}
	var out []Profile
	if err := strict(data, &out); err != nil {
		return nil, fmt.Errorf("conformance: profiles.json: %w", err)
	}
	for i := range out {
		if err := out[i].wrong(); err != nil {
			return nil, fmt.Errorf("conformance: profiles.json: profile %s: %w", out[i].Name, err)
		}
	}
	return out, nil
}

// Choose returns the profiles with these names in the order of the list; all
// of them if no name is given.
func Choose(profiles []Profile, names []string) ([]Profile, error) {
	if len(names) == 0 {
		return profiles, nil
	}
	wanted := map[string]bool{}
	for _, name := range names {
		wanted[name] = true
	}
	var out []Profile
	for _, p := range profiles {
		if wanted[p.Name] {
			out = append(out, p)
			delete(wanted, p.Name)
		}
	}
	for _, name := range names {
		if wanted[name] {
			var known []string
			for _, p := range profiles {
				known = append(known, p.Name)
			}
			return nil, fmt.Errorf("unknown profile %q, want %s", name, strings.Join(known, ", "))
		}
	}
	return out, nil
}

func (p *Profile) wrong() error {
	for _, pattern := range append(append([]string(nil), p.Features...), p.Shapes...) {
		if _, err := path.Match(pattern, ""); err != nil {
			return fmt.Errorf("pattern %q: %w", pattern, err)
		}
	}
	if p.Editions == "" {
		return nil
	}
	_, _, err := p.span()
	return err
}

func (p *Profile) span() (from, to format.Edition, err error) {
	first, last, _ := strings.Cut(p.Editions, "..")
	if err = from.UnmarshalText([]byte(first)); err == nil {
		err = to.UnmarshalText([]byte(last))
	}
	return from, to, err
}

// Has reports whether a case of that feature belongs to the profile when it is
// played in that format.
func (p *Profile) Has(feature, caseID, formatID string) bool {
	shape, rest, _ := strings.Cut(formatID, "@")
	if len(p.Cases) > 0 && !slices.Contains(p.Cases, caseID) || !anyMatch(p.Features, feature) || !anyMatch(p.Shapes, shape) {
		return false
	}
	if p.Editions == "" {
		return true
	}
	edition, _, _ := strings.Cut(rest, "+")
	var e format.Edition
	from, to, err := p.span()
	return err == nil && e.UnmarshalText([]byte(edition)) == nil && from <= e && e <= to
}

func anyMatch(patterns []string, name string) bool {
	for _, pattern := range patterns {
		if ok, _ := path.Match(pattern, name); ok {
			return true
		}
	}
	return false
}
