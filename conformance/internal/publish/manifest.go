package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

// Manifest is manifest.json: what belongs to the corpus, so that a copy can be
// checked, and which cases belong to whom, so that nobody has to expand ranges
// and patterns.
type Manifest struct {
	Corpus string       `json:"corpus"` // version
	Data   int          `json:"data"`   // version of the rules of shapes and editions
	Cases  int          `json:"cases"`
	Files  []Checked    `json:"files"`
	Of     []OfProfile  `json:"profiles"`
	Marks  []MarkedCase `json:"marks"`
}

// Checked is one file of the corpus.
type Checked struct {
	File   string `json:"file"`
	Bytes  int    `json:"bytes"`
	Cases  int    `json:"cases,omitempty"`
	SHA256 string `json:"sha256"`
}

// OfProfile are the cases of a profile in an edition; runs of ids stand as
// FIRST-LAST.
type OfProfile struct {
	Profile string `json:"profile"`
	Edition string `json:"edition"`
	Cases   string `json:"cases"`
}

// MarkedCase are the cases known so well in an edition, in every format of it
// that they name.
type MarkedCase struct {
	Mark    format.Mark `json:"mark"`
	Edition string      `json:"edition"`
	Cases   string      `json:"cases"`
}

// NewManifest makes the manifest of what the archive holds: the data, since the
// pages are for people. Made are the generated files, folder is folder conformance.
func NewManifest(files []conformance.File, made []File, folder string) ([]byte, error) {
	m := Manifest{Corpus: conformance.Version(), Data: format.DataVersion}
	if err := errors.Join(m.addFiles(files, made, folder), m.addCases(files)); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", " ")
	err := e.Encode(m)
	return b.Bytes(), err
}

// addFiles adds the files of the archive with their sums.
func (m *Manifest) addFiles(files []conformance.File, made []File, folder string) error {
	names, err := packed(folder)
	if err != nil {
		return err
	}
	for _, name := range names {
		if name == "manifest.json" || strings.HasSuffix(name, ".md") {
			continue
		}
		var text []byte
		if i := slices.IndexFunc(made, func(f File) bool { return f.Name == name }); i >= 0 {
			text = made[i].Content
		} else if text, err = os.ReadFile(filepath.Join(folder, filepath.FromSlash(name))); err != nil {
			return err
		}
		sum := sha256.Sum256(text)
		n := 0
		for i := range files {
			if "cases/"+files[i].Path == name {
				n = len(files[i].Cases)
			}
		}
		m.Files = append(m.Files, Checked{name, len(text), n, hex.EncodeToString(sum[:])})
	}
	return nil
}

// addCases adds which cases are in each profile, and how well known they are.
func (m *Manifest) addCases(files []conformance.File) error {
	profiles, err := conformance.Profiles()
	if err != nil {
		return err
	}
	var editions []format.Edition
	for _, d := range format.Documents() {
		editions = append(editions, format.Editions(d)...)
	}
	in := make([]map[format.Edition][]string, len(profiles))
	for p := range in {
		in[p] = map[format.Edition][]string{}
	}
	marked := map[format.Mark]map[format.Edition][]string{}
	for i := range files {
		for j := range files[i].Cases {
			c := &files[i].Cases[j]
			m.Cases++
			weakest := map[format.Edition]format.Mark{}
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				if err != nil {
					return err
				}
				for _, id := range ids {
					f, err := format.Parse(id)
					if err != nil {
						return err
					}
					weakest[f.Edition] = max(weakest[f.Edition], c.Mark(&f))
					for p := range profiles {
						if list := in[p][f.Edition]; profiles[p].Has(files[i].Feature, c.ID, id) && !slices.Contains(list, c.ID) {
							in[p][f.Edition] = append(list, c.ID)
						}
					}
				}
			}
			for e, mark := range weakest {
				if marked[mark] == nil {
					marked[mark] = map[format.Edition][]string{}
				}
				marked[mark][e] = append(marked[mark][e], c.ID)
			}
		}
	}
	for p := range profiles {
		for _, e := range editions {
			if ids := in[p][e]; ids != nil {
				m.Of = append(m.Of, OfProfile{profiles[p].Name, e.String(), ranges(ids)})
			}
		}
	}
	for mark := format.Read; mark <= format.Open; mark++ {
		for _, e := range editions {
			if ids := marked[mark][e]; ids != nil {
				m.Marks = append(m.Marks, MarkedCase{mark, e.String(), ranges(ids)})
			}
		}
	}
	return nil
}
