package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/andybalholm/brotli"
)

// types are the sorts of files that a page is made of.
var types = map[string]string{
	".html": "text/html;charset=utf-8", ".css": "text/css;charset=utf-8", ".js": "text/javascript;charset=utf-8", ".svg": "image/svg+xml",
	".png": "image/png", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json",
}

// policy lets the page load nothing but its own files; it may send to a board
// anywhere.
const policy = "default-src 'none';script-src 'self' 'wasm-unsafe-eval';worker-src 'self';style-src 'self';img-src 'self';manifest-src 'self';" +
	"connect-src *;base-uri 'none';form-action 'none';frame-ancestors 'none'"

// pack is a file in every form in which it is sent.
type pack struct {
	plain, gz, br []byte
	tag           string
}

// packs compresses every file that shrinks by it.
func packs(s site) map[string]pack {
	out := map[string]pack{}
	var mu sync.Mutex
	var all sync.WaitGroup
	for name, text := range s {
		all.Go(func() {
			sum := sha256.Sum256(text)
			p := pack{plain: text, tag: `"` + hex.EncodeToString(sum[:8]) + `"`}
			if !strings.HasSuffix(name, ".png") {
				p.gz, p.br = gzipped(text), brotlied(text)
			}
			mu.Lock()
			defer mu.Unlock()
			out[name] = p
		})
	}
	all.Wait()
	return out
}

func gzipped(text []byte) []byte {
	var out bytes.Buffer
	w, _ := gzip.NewWriterLevel(&out, gzip.BestCompression)
	_, _ = w.Write(text) // a buffer takes everything
	_ = w.Close()
	return out.Bytes()
}

// brotlied takes seconds for the browser build, so that it is kept.
func brotlied(text []byte) []byte {
	sum := sha256.Sum256(text)
	kept := ""
	if dir, err := os.UserCacheDir(); err == nil {
		kept = filepath.Join(dir, "evencourt", "courtside", hex.EncodeToString(sum[:])+".br")
		if br, err := os.ReadFile(kept); err == nil {
			return br
		}
	}
	var out bytes.Buffer
	w := brotli.NewWriterLevel(&out, brotli.BestCompression)
	_, _ = w.Write(text)
	_ = w.Close()
	if kept != "" && len(text) > 1<<20 && os.MkdirAll(filepath.Dir(kept), 0o700) == nil {
		part := fmt.Sprintf("%s.%d", kept, os.Getpid())
		if os.WriteFile(part, out.Bytes(), 0o600) == nil {
			_ = os.Rename(part, kept) // else it is made again next time
		}
	}
	return out.Bytes()
}

// handler serves the page.
func handler(files map[string]pack) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = "index.html"
		}
		p, ok := files[name]
		switch {
		case !ok:
			http.NotFound(w, r)
			return
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			w.Header().Set("Allow", "GET,HEAD")
			http.Error(w, http.StatusText(http.StatusMethodNotAllowed), http.StatusMethodNotAllowed)
			return
		}
		h := w.Header()
		for name, value := range map[string]string{"Content-Type": types[filepath.Ext(name)], "Content-Security-Policy": policy, "ETag": p.tag,
			"Cache-Control": "no-cache", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Vary": "Accept-Encoding"} {
			h.Set(name, value)
		}
		if r.Header.Get("If-None-Match") == p.tag {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		text := p.plain
		switch accepts := r.Header.Get("Accept-Encoding"); {
		case len(p.br) > 0 && strings.Contains(accepts, "br"):
			h.Set("Content-Encoding", "br")
			text = p.br
		case len(p.gz) > 0 && strings.Contains(accepts, "gzip"):
			h.Set("Content-Encoding", "gzip")
			text = p.gz
		}
		h.Set("Content-Length", fmt.Sprint(len(text)))
		if r.Method == http.MethodGet {
			_, _ = w.Write(text) // whoever asked may have gone
		}
	})
}

// write puts the page into a folder, each file beside itself compressed for
// servers that look for that. No file is there half.
func write(dir string, files map[string]pack) error {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	for name, p := range files {
		for ending, text := range map[string][]byte{"": p.plain, ".gz": p.gz, ".br": p.br} {
			if len(text) == 0 {
				continue
			}
			path := filepath.Join(dir, name+ending)
			if err := os.WriteFile(path+".part", text, 0o666); err != nil {
				return err
			}
			if err := os.Rename(path+".part", path); err != nil {
				return err
			}
		}
	}
	return nil
}
