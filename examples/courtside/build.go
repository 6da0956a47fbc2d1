package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// site is the finished page: its files by name.
type site map[string][]byte

// build makes the page of what stands in the source tree: the modules of page
// and of the JavaScript package in one file, the texts of both languages, the
// library as a browser build, and a service worker that knows them all.
func build() (site, error) {
	dir, err := sources()
	if err != nil {
		return nil, err
	}
	s := site{}
	if s["desk.wasm"], err = browserBuild(dir); err != nil {
		return nil, err
	}
	for _, name := range []string{"index.html", "page.css", "manifest.webmanifest", "icon.svg"} {
		if s[name], err = os.ReadFile(filepath.Join(dir, "page", name)); err != nil {
			return nil, err
		}
	}
	for _, size := range iconSizes {
		s[fmt.Sprintf("icon-%d.png", size)] = icon(size)
	}
	said, err := json.Marshal(pageTexts())
	if err != nil {
		return nil, err
	}
	if s["page.js"], err = bundle(dir, "app.js", map[string]string{"TEXTS": string(said)}); err != nil {
		return nil, err
	}
	if s["desk.js"], err = bundle(dir, "desk/worker.js", nil); err != nil {
		return nil, err
	}
	files, _ := json.Marshal(slices.Sorted(maps.Keys(s)))
	s["worker.js"], err = bundle(dir, "worker.js", map[string]string{"FILES": string(files), "VERSION": `"` + s.version() + `"`})
	return s, err
}

// sources is the folder that this program is built from.
func sources() (string, error) {
	out, err := goTool("list", "-f", "{{.Dir}}", "github.com/evencourt/evencourt/examples/courtside")
	if err != nil {
		return "", fmt.Errorf("the page is built from the source tree, so start this program in it: %w", err)
	}
	return strings.TrimSpace(string(out)), nil
}

// browserBuild compiles the library. Without inlining it is smaller, and what it
// does waits for nobody.
func browserBuild(dir string) ([]byte, error) {
	work, err := os.MkdirTemp("", "courtside")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(work)
	overlay, err := spared(filepath.Join(dir, "..", ".."), work)
	if err != nil {
		return nil, err
	}
	out := filepath.Join(work, "desk.wasm")
	if _, err := goTool("build", "-C", filepath.Join(dir, "desk"), "-overlay", overlay, "-trimpath", "-gcflags=all=-l", "-ldflags=-s -w", "-o", out, "."); err != nil {
		return nil, err
	}
	return os.ReadFile(out)
}

// unsaid are texts that the library never says behind this page: by their first
// word and dot, with what of it is said all the same.
var unsaid = []struct {
	family string
	but    []string
}{
	{"courtside.", []string{"courtside.entry-"}}, {"officiate.", []string{"officiate.outcome.", "officiate.caution", "officiate.not-over"}},
	{"lab.", nil}, {"check.", nil}, {"season.", nil}, {"board.", nil}, {"move.", nil}, {"propose.", nil}, {"program.", nil}, {"wrong.", nil}, {"drill.option-", nil}, {"drill.page-", nil}, {"finding.", nil},
}

// spares reports whether a text is left out of the browser build.
func spares(code string) bool {
	for _, u := range unsaid {
		if strings.HasPrefix(code, u.family) {
			return !slices.ContainsFunc(u.but, func(said string) bool { return strings.HasPrefix(code, said) })
		}
	}
	return false
}

// spared writes the tables of texts without what is never said, and an overlay
// for the go command that puts them in the place of the whole ones.
func spared(root, work string) (overlay string, err error) {
	replace := map[string]string{}
	for folder, ending := range map[string]string{"rally/words": "_table.go", "examples/texts": ".txt"} {
		for _, name := range []string{"catalog", "english", "german"} {
			whole := filepath.Join(root, folder, name+ending)
			text, err := os.ReadFile(whole)
			if err != nil {
				return "", err
			}
			replace[whole] = filepath.Join(work, strings.ReplaceAll(folder, "/", "-")+"-"+name+ending)
			if err := os.WriteFile(replace[whole], []byte(sparing(string(text))), 0o600); err != nil {
				return "", err
			}
		}
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay = filepath.Join(work, "overlay.json")
	return overlay, os.WriteFile(overlay, text, 0o600)
}

// sparing is a table without what is never said, whatever file it stands in. A line
// that begins with a blank belongs to the text before it.
func sparing(table string) string {
	var out strings.Builder
	skip := false
	for line := range strings.Lines(table) {
		if line[0] != ' ' && line[0] != '\t' {
			skip = spares(line)
		}
		if !skip && line[0] != '#' {
			out.WriteString(line)
		}
	}
	return out.String()
}

// goTool runs the go command for a browser.
func goTool(args ...string) ([]byte, error) {
	c := exec.Command("go", args...)
	c.Env = append(c.Environ(), "GOOS=js", "GOARCH=wasm")
	if args[0] == "list" {
		c.Env = c.Environ()
	}
	var errs bytes.Buffer
	c.Stderr = &errs
	out, err := c.Output()
	if err != nil {
		return nil, fmt.Errorf("go %s: %w: %s", args[0], err, errs.String())
	}
	return out, nil
}

// bundle joins a module of the page with all that it imports.
func bundle(dir, entry string, define map[string]string) ([]byte, error) {
	root, err := goTool("env", "GOROOT")
	if err != nil {
		return nil, err
	}
	r := api.Build(api.BuildOptions{
		EntryPoints: []string{filepath.Join(dir, "page", filepath.FromSlash(entry))}, Bundle: true, Format: api.FormatESModule, Target: api.ES2022,
		MinifyWhitespace: true, MinifyIdentifiers: true, MinifySyntax: true, LegalComments: api.LegalCommentsNone, Define: define,
		Alias: map[string]string{"wasm_exec": filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js")},
	})
	if len(r.Errors) > 0 {
		e, at := r.Errors[0], ""
		if e.Location != nil {
			at = fmt.Sprintf("%s:%d: ", e.Location.File, e.Location.Line)
		}
		return nil, fmt.Errorf("%s%s", at, e.Text)
	}
	return r.OutputFiles[0].Contents, nil
}

// version is a digest of all files, so that a page that changed is fetched anew,
// whole.
func (s site) version() string {
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(s)) {
		sum := sha256.Sum256(s[name])
		fmt.Fprintln(h, name, hex.EncodeToString(sum[:]))
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}
