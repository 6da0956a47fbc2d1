package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/require"
	"rsc.io/qr"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/words"
)

// built is the page, made once.
var built = func() func(t *testing.T) site {
	var s site
	return func(t *testing.T) site {
		if testing.Short() {
			t.Skip("compiles the library for a browser")
		}
		if s == nil {
			var err error
			s, err = build()
			require.NoError(t, err)
		}
		return s
	}
}()

// The modules of the page find all that they take from the JavaScript package.
func TestModulesFitTogether(t *testing.T) {
	dir, err := sources()
	require.NoError(t, err)
	for _, entry := range []string{"app.js", "desk/worker.js", "worker.js"} {
		text, err := bundle(dir, entry, map[string]string{"TEXTS": "{}", "FILES": "[]", "VERSION": `""`})
		require.NoError(t, err)
		require.NotEmpty(t, text)
	}
}

// The library behind the page is spared what triples a browser build.
func TestWhatTheBrowserBuildLinks(t *testing.T) {
	list := exec.Command("go", "list", "-deps", "./desk")
	list.Env = append(list.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := list.Output()
	require.NoError(t, err)
	packages := strings.Fields(string(out))
	require.Contains(t, packages, "github.com/evencourt/evencourt/rally/referee")
	for _, heavy := range []string{"fmt", "reflect", "encoding/json", "regexp", "github.com/evencourt/evencourt/rally/record"} {
		require.NotContains(t, packages, heavy)
	}
}

// Nothing that the build leaves out is named by what it is made of.
func TestWhatIsLeftOutIsNeverSaid(t *testing.T) {
	named := regexp.MustCompile(`"([a-z-]+\.[a-z0-9.-]*)"`)
	left := 0
	for _, e := range append(words.Codes(), texts.Codes()...) {
		if spares(string(e.Code)) {
			left++
		}
	}
	require.Greater(t, left, 300)
	for _, folder := range []string{"desk", "../paper", "../drill/exercise", "../../rally/referee", "../../rally/words"} {
		files, err := filepath.Glob(filepath.Join(folder, "*.go"))
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			for _, m := range named.FindAllStringSubmatch(string(text), -1) {
				require.False(t, spares(m[1]), "%s says %s", file, m[1])
			}
		}
	}
	table := "# a comment\nlab.one One\n  short one\nduty.two Two\n  short two\n"
	require.Equal(t, "duty.two Two\n  short two\n", sparing(table))
}

// Served or written, every file is there, in every form the same, and all of it
// is less than a megabyte as a browser takes it.
func TestServedAndWritten(t *testing.T) {
	files := packs(built(t))
	dir := t.TempDir()
	require.NoError(t, write(dir, files))
	total, gzipped := 0, 0
	for name, p := range files {
		t.Run(name, func(t *testing.T) {
			onDisk, err := os.ReadFile(filepath.Join(dir, name))
			require.NoError(t, err)
			require.Equal(t, p.plain, onDisk)
			for _, accepts := range []string{"", "gzip", "gzip, deflate, br"} {
				r := httptest.NewRequest(http.MethodGet, "/"+name, nil)
				r.Header.Set("Accept-Encoding", accepts)
				w := httptest.NewRecorder()
				handler(files).ServeHTTP(w, r)
				require.Equal(t, http.StatusOK, w.Code)
				require.NotEmpty(t, w.Header().Get("Content-Type"))
				require.Contains(t, w.Header().Get("Content-Security-Policy"), "default-src 'none'")
				var body io.Reader = w.Body
				switch w.Header().Get("Content-Encoding") {
				case "br":
					body = brotli.NewReader(w.Body)
				case "gzip":
					body, err = gzip.NewReader(w.Body)
					require.NoError(t, err)
				}
				text, err := io.ReadAll(body)
				require.NoError(t, err)
				require.True(t, bytes.Equal(p.plain, text), accepts)
			}
		})
		if len(p.br) > 0 {
			total += len(p.br)
			gzipped += len(p.gz)
		} else {
			total += len(p.plain)
			gzipped += len(p.plain)
		}
	}
	t.Logf("%d files, %d bytes with brotli, %d with gzip alone", len(files), total, gzipped)
	require.Less(t, total, 1_000_000)
}

func TestRequests(t *testing.T) {
	h := handler(packs(site{"index.html": []byte("<!doctype html>")}))
	for _, c := range []struct {
		name, method, path string
		status             int
	}{
		{"the page itself", "GET", "/", 200},
		{"only its head", "HEAD", "/index.html", 200},
		{"a file that is none", "GET", "/../main.go", 404},
		{"writing", "POST", "/", 405},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := httptest.NewRecorder()
			r := httptest.NewRequest(c.method, "http://x/", nil)
			r.URL.Path = c.path
			h.ServeHTTP(w, r)
			require.Equal(t, c.status, w.Code)
		})
	}
	first := httptest.NewRecorder()
	h.ServeHTTP(first, httptest.NewRequest("GET", "/", nil))
	again := httptest.NewRequest("GET", "/", nil)
	again.Header.Set("If-None-Match", first.Header().Get("ETag"))
	w := httptest.NewRecorder()
	h.ServeHTTP(w, again)
	require.Equal(t, http.StatusNotModified, w.Code)
}

// The squares of the terminal are those of the code, within a quiet zone of four.
func TestQRCode(t *testing.T) {
	const text = "http://192.168.178.20:8095/"
	code, err := qr.Encode(text, qr.M)
	require.NoError(t, err)
	drawn, err := qrCode(text)
	require.NoError(t, err)
	rows := strings.Split(strings.TrimSuffix(drawn, "\n"), "\n")
	require.Len(t, rows, (code.Size+8+1)/2)
	for y := -4; y < code.Size+4; y++ {
		for x := -4; x < code.Size+4; x++ {
			square := []rune(rows[(y+4)/2])[x+4]
			light := square == '█' || square == '▀' && y%2 == 0 || square == '▄' && y%2 != 0
			require.Equal(t, !code.Black(x, y), light, "%d %d", x, y)
		}
	}
}

// The page says what stands in the catalog, and everything there is said.
func TestTextsOfThePage(t *testing.T) {
	said := map[string]bool{}
	sources := ""
	require.NoError(t, filepath.WalkDir("page", func(path string, _ os.DirEntry, err error) error {
		if filepath.Ext(path) == ".js" {
			text, e := os.ReadFile(path)
			sources += string(text)
			return e
		}
		return err
	}))
	for _, m := range regexp.MustCompile("[`'](courtside\\.[a-z-]*)").FindAllStringSubmatch(sources, -1) {
		said[m[1]] = true
	}
	inGo := []string{"courtside.building", "courtside.written", "courtside.plain-http"}
	var codes []string
	for _, e := range texts.Codes() {
		code := string(e.Code)
		if !strings.HasPrefix(code, "courtside.") {
			continue
		}
		codes = append(codes, code)
		built := slices.ContainsFunc([]string{"courtside.set-", "courtside.light-", "courtside.hand-", "courtside.topic-", "courtside.trouble-", "courtside.choose-", "courtside.play-", "courtside.games-", "courtside.freeze-"},
			func(family string) bool { return strings.HasPrefix(code, family) && said[family] })
		require.True(t, built || said[code] || slices.Contains(inGo, code) || strings.HasPrefix(code, "courtside.entry-") || slices.Contains([]string{"courtside.serves", "courtside.receives", "courtside.in", "courtside.dealt"}, code), "%s is never said", code)
	}
	for code := range said {
		require.True(t, slices.Contains(codes, code) || strings.HasSuffix(code, "-") || code == "courtside.", "no text %s", code)
	}
	en, de := pageTexts()["en"], pageTexts()["de"]
	require.Equal(t, len(en), len(de))
}

func TestBadCommandLines(t *testing.T) {
	for name, args := range map[string][]string{
		"a word too many":         {"page"},
		"a certificate, no key":   {"-cert", "c.pem"},
		"files and an address":    {"-out", "x", "-addr", ":1"},
		"a language that is none": {"-language", "xx"},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs bytes.Buffer
			require.Equal(t, 2, run(args, nil, &out, &errs))
			require.Equal(t, 1, strings.Count(errs.String(), "\n"), errs.String())
			require.Empty(t, out.String())
		})
	}
}

// It prints an address under which the page is, and ends when it is told to.
func TestServes(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	l, err := texts.Language("en")
	require.NoError(t, err)
	r, w := io.Pipe()
	ended := make(chan error, 1)
	go func() {
		ended <- (&options{addr: "127.0.0.1:0"}).serve(ctx, packs(site{"index.html": []byte("here")}), l, w)
	}()
	var printed bytes.Buffer
	for !strings.Contains(printed.String(), "/\n") {
		_, err := io.CopyN(&printed, r, 1)
		require.NoError(t, err)
	}
	at := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(printed.String())
	answer, err := http.Get(at)
	require.NoError(t, err)
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	require.Equal(t, "here", string(text))
	require.NoError(t, answer.Body.Close())
	stop()
	require.NoError(t, <-ended)
}
