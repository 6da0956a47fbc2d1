package conformance

import (
	"fmt"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/format"
)

// Selection says which runs are played. The zero value means all.
type Selection struct {
	Features []string
	Cases    []string      // ids; with a derivation, as in c0139/mirrored, that run alone
	Formats  []string      // ids
	Marks    []format.Mark // how well it is known that the case is right in the format
	Written  bool          // no derived runs
}

// String says what is selected, or nothing if all is.
func (s *Selection) String() string {
	var out, marks []string
	for _, m := range s.Marks {
		marks = append(marks, m.String())
	}
	for _, of := range []struct {
		kind  string
		names []string
	}{{"features ", s.Features}, {"cases ", s.Cases}, {"formats ", s.Formats}, {"marks ", marks}} {
		if len(of.names) > 0 {
			out = append(out, of.kind+strings.Join(of.names, ", "))
		}
	}
	if s.Written {
		out = append(out, "no derived runs")
	}
	return strings.Join(out, "; ")
}

// has reports whether a run is selected.
func (s *Selection) has(feature string, c *Case, derivation, formatID string, f *format.Format) bool {
	id := c.ID
	if derivation != "" {
		id += "/" + derivation
	}
	return !(s.Written && derivation != "") &&
		(len(s.Features) == 0 || slices.Contains(s.Features, feature)) &&
		(len(s.Cases) == 0 || slices.Contains(s.Cases, c.ID) || slices.Contains(s.Cases, id)) &&
		(len(s.Formats) == 0 || slices.Contains(s.Formats, formatID)) &&
		(len(s.Marks) == 0 || slices.Contains(s.Marks, c.Mark(f)))
}

// job is a run: a case, written or derived, in a format, and the profiles that
// it is run for.
type job struct {
	file       *File
	c          *Case
	derivation string
	format     string
	parsed     *format.Format
	deriver    *deriver
	profiles   []int
}

func (j *job) id() string {
	if j.derivation == "" {
		return j.c.ID
	}
	return j.c.ID + "/" + j.derivation
}

// play has a subject play the run.
func (j *job) play(s Subject) *Failure {
	c := j.c
	if j.derivation != "" {
		c = j.deriver.derive(j.c, j.derivation, j.parsed)
	}
	return play(s, c, j.format)
}

// deriver keeps the derived forms of one case at a time: most of its formats
// share them.
type deriver struct {
	of   *Case
	made map[form]*Case
}

// form is all that a derived case depends on besides the written one.
type form struct {
	derivation string
	singles    bool
	match      format.Series
	ends       uint8
	same       bool
}

func (d *deriver) derive(c *Case, derivation string, f *format.Format) *Case {
	if d.of != c {
		d.of, d.made = c, map[form]*Case{}
	}
	key := form{derivation: derivation, singles: f.Game.Sides == format.Singles}
	if derivation == inGame2 || derivation == inLastGame {
		key.match, key.ends, key.same = f.Match, f.Last.ChangeEndsAt, sameButEnds(f) && f.Game.ChangeEndsAt == 0
	}
	out, known := d.made[key]
	if !known {
		out = c.Derive(derivation, f)
		d.made[key] = out
	}
	return out
}

// jobs lists what the profiles hold and the selection leaves, every run once.
func jobs(files []File, profiles []Profile, only Selection) ([]job, error) {
	var out []job
	expanded := map[string][]string{}
	parsed := map[string]*format.Format{}
	made := new(deriver)
	features, ids, played := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for i := range files {
		features[files[i].Feature] = true
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			ids[c.ID] = true
			for _, entry := range c.Formats {
				formats, known := expanded[entry]
				if !known {
					var err error
					if formats, err = Expand(entry); err != nil {
						return nil, fmt.Errorf("case %s: %w", c.ID, err)
					}
					expanded[entry] = formats
				}
				for _, id := range formats {
					if parsed[id] == nil {
						f, err := format.Parse(id)
						if err != nil {
							return nil, fmt.Errorf("case %s: %w", c.ID, err)
						}
						parsed[id] = &f
					}
					played[id] = true
					one := job{file: &files[i], c: c, format: id, parsed: parsed[id], deriver: made}
					for p := range profiles {
						if profiles[p].Has(files[i].Feature, c.ID, id) {
							one.profiles = append(one.profiles, p)
						}
					}
					if one.profiles == nil {
						continue
					}
					for _, d := range append([]string{""}, Derivations()...) {
						if !only.has(files[i].Feature, c, d, id, one.parsed) || d != "" && made.derive(c, d, one.parsed) == nil {
							continue
						}
						one.derivation = d
						out = append(out, one)
					}
				}
			}
		}
	}
	for _, name := range only.Features {
		if !features[name] {
			return nil, fmt.Errorf("unknown feature %q", Printable(name))
		}
	}
	for _, id := range only.Cases {
		if _, d, derived := strings.Cut(id, "/"); !ids[base(id)] || derived && !slices.Contains(Derivations(), d) {
			return nil, fmt.Errorf("no case %q in corpus %s", Printable(id), Version())
		}
	}
	for _, id := range only.Formats {
		if !played[id] {
			return nil, fmt.Errorf("no case is played in format %q", Printable(id))
		}
	}
	if len(out) == 0 && only.String() != "" {
		return nil, fmt.Errorf("nothing to play: %s", only.String())
	}
	return out, nil
}
