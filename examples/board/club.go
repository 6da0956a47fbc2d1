package main

import (
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"time"

	"github.com/evencourt/evencourt/examples/program/serve"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

//go:embed page.html page.css page.js
var files embed.FS

const (
	mostStreams = 500     // pages that watch at once
	mostBody    = 1 << 16 // bytes that are sent at once: some six hundred entries
	mostASecond = 10      // requests a court
)

// club answers for all courts.
type club struct {
	courts   []*court
	language *words.Language
	streams  chan struct{}
}

func (b *club) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", func(w http.ResponseWriter, _ *http.Request) {
		for _, c := range b.courts {
			fmt.Fprintf(w, "<p><a href=\"/court/%d\">%d</a></p>\n", c.n, c.n)
		}
	})
	page := func(w http.ResponseWriter, r *http.Request, _ *court) { http.ServeFileFS(w, r, files, "page.html") }
	mux.HandleFunc("GET /court/{n}", b.on(page))
	mux.HandleFunc("GET /court/{n}/{secret}", b.on(page))
	mux.HandleFunc("GET /live/{n}", b.on(b.live))
	mux.HandleFunc("POST /court/{n}/{secret}", b.asked(enter))
	mux.HandleFunc("PUT /court/{n}/{secret}", b.asked(name))
	mux.HandleFunc("POST /court/{n}/{secret}/next", b.asked(next))
	mux.HandleFunc("GET /court/{n}/{secret}/log", b.asked(entries))
	mux.Handle("GET /page.css", http.FileServerFS(files))
	mux.Handle("GET /page.js", http.FileServerFS(files))
	return serve.Apart(mux)
}

// on finds the court of a request, and lets nobody pass who gives a wrong secret.
func (b *club) on(f func(http.ResponseWriter, *http.Request, *court)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		n, err := strconv.Atoi(r.PathValue("n"))
		if err != nil || n < 1 || n > len(b.courts) {
			http.NotFound(w, r)
			return
		}
		c, secret := b.courts[n-1], r.PathValue("secret")
		if secret != "" && !serve.Same(secret, c.secret) {
			http.NotFound(w, r)
			return
		}
		f(w, r, c)
	}
}

// refusal is what is answered in place of what was asked for.
type refusal struct {
	status int
	code   string
	why    words.Text
}

var (
	unread       = &refusal{http.StatusBadRequest, "unread", words.New("board.unread")}
	otherMatch   = &refusal{http.StatusConflict, "other-match", words.New("board.stale")}
	stillPlaying = &refusal{http.StatusConflict, "playing", words.New("board.playing")}
	tooBusy      = &refusal{http.StatusTooManyRequests, "busy", words.New("board.busy")}
	notWritten   = &refusal{http.StatusInternalServerError, "disk", words.New("board.disk")}
)

// fields are what an answer holds.
type fields map[string]any

// asked answers what is asked of a court, no faster than anybody can tap. Every answer
// says which match is on the court, and how many entries it has.
func (b *club) asked(f func(*court, *json.Decoder) (fields, *refusal)) http.HandlerFunc {
	return b.on(func(w http.ResponseWriter, r *http.Request, c *court) {
		status, out, no := http.StatusOK, fields{}, tooBusy
		if r.Method == http.MethodGet || c.pace.Takes(time.Now()) {
			read := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostBody))
			read.DisallowUnknownFields()
			out, no = f(c, read)
		}
		if no != nil {
			status, out = no.status, fields{"code": no.code, "error": b.language.Say(no.why)}
		}
		m, number := c.now()
		out["match"] = number
		m.Read(func(l *rally.Log) { out["entries"] = l.Len() })
		serve.Answer(w, status, out)
	})
}

// live sends the words of a court, and its board, after every change.
func (b *club) live(w http.ResponseWriter, r *http.Request, c *court) {
	select {
	case b.streams <- struct{}{}:
		defer func() { <-b.streams }()
	default:
		serve.Answer(w, http.StatusServiceUnavailable, fields{"code": tooBusy.code, "error": b.language.Say(tooBusy.why)})
		return
	}
	out, said := serve.NewStream(w), map[string]string{}
	for {
		m, _ := c.now()
		changed, drawn := m.Changed(), m.Snapshot()
		fresh := referee.New(m.Rules(), m.Setup()).Captions(&drawn, b.language)
		fresh["lang"], fresh["help"] = b.language.Tag(), b.language.Say(words.Effects(rally.CallHelp)[0])
		for code, text := range fresh { // no word twice
			if said[code] == text {
				delete(fresh, code)
			}
			said[code] = text
		}
		text, _ := json.Marshal(fresh) // a map of texts
		if out.Send("words", text) != nil || out.Send("board", drawn.AppendJSON(nil)) != nil {
			return
		}
		select {
		case <-changed:
		case <-time.After(20 * time.Second): // so that a page that has gone is noticed
		case <-r.Context().Done():
			return
		}
	}
}

// enter takes entries until one is refused.
func enter(c *court, read *json.Decoder) (fields, *refusal) {
	m, no := c.now()
	var got record.Done
	for taken := 0; ; taken++ {
		var ask struct {
			record.Request
			Match int `json:"match"`
		}
		err := read.Decode(&ask)
		switch {
		case errors.Is(err, io.EOF) && taken > 0:
			return fields{"n": got.N, "did": got.Effects, "again": got.Again}, nil
		case err != nil || ask.Entry.Kind == rally.NoKind:
			return nil, unread
		case ask.Match != 0 && ask.Match != no:
			return nil, otherMatch
		}
		if got, err = m.Do(ask.Request); err != nil {
			return nil, refused(err)
		}
	}
}

// refused says why a match did not take an entry.
func refused(err error) *refusal {
	var no *rally.EntryError
	var wrong *record.Error
	switch {
	case errors.As(err, &no):
		return &refusal{http.StatusConflict, no.Refusal.String(), words.Correction(no)}
	case errors.As(err, &wrong) && wrong.Code == "stale":
		return &refusal{http.StatusConflict, "stale", words.New("board.stale")}
	case errors.As(err, &wrong) && wrong.Field == "request":
		return &refusal{http.StatusBadRequest, "other-request", words.New("board.unread")}
	}
	return notWritten
}

// name takes a set-up: names supplied or changed.
func name(c *court, read *json.Decoder) (fields, *refusal) {
	var u rally.Setup
	m, _ := c.now()
	if read.Decode(&u) != nil || m.Rules().Validate(u) != nil || m.Name(u) != nil {
		return nil, unread
	}
	return fields{}, nil
}
