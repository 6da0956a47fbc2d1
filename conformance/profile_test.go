package conformance

import (
	"testing"

	"github.com/evencourt/evencourt/format"
)

// Every case in every format belongs to a profile, and every profile has cases.
func TestProfilesCoverTheCorpus(t *testing.T) {
	profiles, err := Profiles()
	if err != nil {
		t.Fatal(err)
	}
	files := loadAll(t)
	held := make([]int, len(profiles))
	runs := 0
	for i := range files {
		for _, c := range files[i].Cases {
			for _, entry := range c.Formats {
				ids, err := Expand(entry)
				if err != nil {
					t.Fatal(err)
				}
				for _, id := range ids {
					runs++
					in := 0
					for p := range profiles {
						if profiles[p].Has(files[i].Feature, c.ID, id) {
							held[p]++
							in++
						}
					}
					if f, err := format.Parse(id); err != nil || f.Edition.Document() == format.Pickleball && format.Default.Before(f.Edition) {
						continue // a later edition is in a profile when it becomes the default
					}
					if in == 0 {
						t.Errorf("%s in %s of %s belongs to no profile", c.ID, id, files[i].Feature)
					}
				}
			}
		}
	}
	for p := range profiles {
		if held[p] == 0 {
			t.Errorf("profile %s has no case", profiles[p].Name)
		}
	}
	t.Logf("%d runs in %d profiles", runs, len(profiles))
}

func TestChoose(t *testing.T) {
	profiles, err := Profiles()
	if err != nil {
		t.Fatal(err)
	}
	got, err := Choose(profiles, []string{"rally-2026", "plumbing"})
	if err != nil || len(got) != 2 || got[0].Name != "plumbing" || got[1].Name != "rally-2026" {
		t.Errorf("got %v, %v", got, err)
	}
	if _, err := Choose(profiles, []string{"chess"}); err == nil {
		t.Error("an unknown profile was chosen")
	}
}

// skipper plays all but one format.
type skipper struct{ Subject }

func (s skipper) Play(id string, start Start, events []string) Played {
	if id == "rally-singles-11@2026" {
		return Played{Outcome: Skipped, Reason: "not yet"}
	}
	return s.Subject.Play(id, start, events)
}

// The verdicts: a skip in a claimed profile is partial, an undeclared format is
// not run and does not count, and an engine that plays nothing is not conformant.
func TestVerdicts(t *testing.T) {
	profiles, err := Profiles()
	if err != nil {
		t.Fatal(err)
	}
	chosen, err := Choose(profiles, []string{"rally-2026", "rally-2025"})
	if err != nil {
		t.Fatal(err)
	}
	own := InProcess(new(Builtin), Identity{Name: "own"})
	for _, test := range []struct {
		name    string
		subject Subject
		want    Verdict
		of2025  Verdict
	}{
		{"all", own, Conformant, Conformant},
		{"a skip", skipper{own}, Partial, Conformant},
		{"nothing", claims{own, nil}, NotConformant, ""},
		{"one format", claims{own, []string{"rally-doubles-11@2025"}}, Conformant, Conformant},
		{"a crash", InProcess(crasher{}, Identity{}), NotConformant, NotConformant},
	} {
		r, err := Check(test.subject, Options{Profiles: chosen})
		if err != nil {
			t.Fatal(err)
		}
		if r.Verdict != test.want || r.Profiles[0].Verdict != test.of2025 {
			t.Errorf("%s: %s, of 2025 %q", test.name, r.Verdict, r.Profiles[0].Verdict)
		}
		for _, f := range r.Failures {
			if f.Outcome != Crashed {
				t.Errorf("%s: %s", test.name, f.String())
			}
		}
	}
}

// claims plays only the formats named.
type claims struct {
	Subject
	only []string
}

func (c claims) Claim(p Profile, formats []string) ([]string, string, error) {
	var out []string
	for _, id := range formats {
		for _, one := range c.only {
			if id == one {
				out = append(out, id)
			}
		}
	}
	return out, "", nil
}

// crasher panics at every event.
type crasher struct{ Builtin }

func (crasher) Do(string) Answer { panic("crash") }

func (crasher) Begin(string, Start) (Answer, error) { return Answer{}, nil }

func FuzzReadExpected(f *testing.F) {
	f.Add([]byte(`{"corpus":"1.0.0","engine":"e","expected":[{"case":"c0001","formats":["a"],"outcome":"wrong","reason":"r"}]}`))
	f.Add([]byte(`{"expected":[`))
	f.Fuzz(func(t *testing.T, data []byte) {
		e, err := ReadExpected(data)
		if (e == nil) == (err == nil) {
			t.Errorf("%v and %v", e, err)
		}
		if err == nil {
			_ = e.check(nil)
		}
	})
}

func FuzzReadFile(f *testing.F) {
	for _, name := range []string{"plumbing.json", "corrections.json"} {
		data, err := content.ReadFile("cases/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data[:min(len(data), 3000)])
	}
	f.Add([]byte(`{"feature":"x","about":"y","cases":[{"id":"c0001","steps":[{"do":"A"}]}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		file, err := readFile("x.json", data)
		if err != nil {
			return
		}
		for i := range file.Cases {
			_ = file.Cases[i].entries()
		}
		lint([]File{file}, vocabulary{})
	})
}
