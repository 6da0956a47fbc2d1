package main

import (
	"crypto/subtle"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"

	"github.com/evencourt/evencourt/format"
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
	mux.HandleFunc("GET /court/{n}", b.on(page))
	mux.HandleFunc("GET /court/{n}/{secret}", b.on(page))
	mux.HandleFunc("GET /live/{n}", b.on(b.live))
	mux.HandleFunc("POST /court/{n}/{secret}", b.on(b.enter))
	mux.HandleFunc("PUT /court/{n}/{secret}", b.on(b.name))
	mux.HandleFunc("GET /court/{n}/{secret}/log", b.on(b.log))
	mux.HandleFunc("POST /court/{n}/{secret}/next", b.on(b.next))
	mux.HandleFunc("OPTIONS /court/", func(w http.ResponseWriter, _ *http.Request) { w.WriteHeader(http.StatusNoContent) })
	mux.Handle("GET /page.css", http.FileServerFS(files))
	mux.Handle("GET /page.js", http.FileServerFS(files))
	headers := map[string]string{
		"X-Content-Type-Options":  "nosniff",
		"Referrer-Policy":         "no-referrer",
		"Cache-Control":           "no-store",
		"Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-ancestors 'none'",
		// A page from elsewhere, on a referee's phone, may ask too: what lets it
		// enter is the secret, and nothing that a browser would send of itself.
		"Access-Control-Allow-Origin":  "*",
		"Access-Control-Allow-Methods": "*",
		"Access-Control-Allow-Headers": "Content-Type",
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		mux.ServeHTTP(w, r)
	})
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
		if secret != "" && subtle.ConstantTimeCompare([]byte(secret), []byte(c.secret)) == 0 {
			http.NotFound(w, r)
			return
		}
		f(w, r, c)
	}
}

func page(w http.ResponseWriter, r *http.Request, _ *court) {
	http.ServeFileFS(w, r, files, "page.html")
}

// live sends the words of a court, and its board after every change.
func (b *club) live(w http.ResponseWriter, r *http.Request, c *court) {
	select {
	case b.streams <- struct{}{}:
		defer func() { <-b.streams }()
	default:
		b.refuse(w, c, http.StatusServiceUnavailable, "busy", words.New("board.busy"))
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	send := func(event string, data []byte) {
		_ = out.SetWriteDeadline(time.Now().Add(10 * time.Second)) // whoever reads no more is left behind
		fmt.Fprintf(w, "event: %s\ndata: %s\n\n", event, data)
	}
	send("words", b.plain())
	for {
		m, _ := c.now()
		changed := m.Changed()
		send("words", b.said(m))
		send("board", m.AppendJSON(nil))
		if out.Flush() != nil {
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

// plain are the words of a board that no match changes, by their codes.
func (b *club) plain() []byte {
	out := map[string]string{"lang": b.language.Tag(), "help": b.language.Say(words.Effects(rally.CallHelp)[0])}
	for _, s := range words.Codes() {
		switch family, _, _ := strings.Cut(string(s.Code), "."); family {
		case "phase", "refusal", "break", "effect", "interval", "kind":
			if len(s.Params) == 0 {
				out[string(s.Code)] = b.language.Say(words.New(s.Code))
			}
		}
	}
	text, _ := json.Marshal(out) // a map of texts
	return text
}

// said are the entries that a board offers or refuses now, by the names of the match.
func (b *club) said(m *record.Match) []byte {
	guide, drawn := referee.New(m.Rules(), m.Setup()), m.Snapshot()
	out := map[string]string{}
	for _, e := range drawn.Allowed {
		out["event."+e.String()] = b.language.Say(guide.Event(e))
	}
	for _, no := range drawn.Refused {
		out["event."+no.Event.String()] = b.language.Say(guide.Event(no.Event))
	}
	for name, entry := range map[string]string{"undo": drawn.Undo, "redo": drawn.Redo} {
		if e, err := rally.ParseEntry(entry); err == nil {
			out[name] = b.language.Say(guide.Entry(e))
		}
	}
	text, _ := json.Marshal(out)
	return text
}

// enter takes entries until one is refused.
func (b *club) enter(w http.ResponseWriter, r *http.Request, c *court) {
	read := b.reader(w, r, c)
	if read == nil {
		return
	}
	m, no := c.now()
	var got record.Done
	for taken := 0; ; taken++ {
		var ask struct {
			ID    string `json:"id"`
			Match int    `json:"match"`
			N     int    `json:"n"`
			Do    string `json:"do"`
			MS    int64  `json:"ms"`
		}
		err := read.Decode(&ask)
		if errors.Is(err, io.EOF) && taken > 0 {
			b.answer(w, c, http.StatusOK, map[string]any{"n": got.N, "did": got.Effects, "again": got.Again})
			return
		}
		e, unread := rally.ParseEntry(ask.Do)
		if err != nil || unread != nil {
			b.refuse(w, c, http.StatusBadRequest, "unread", words.New("board.unread"))
			return
		}
		if ask.Match != 0 && ask.Match != no {
			b.refuse(w, c, http.StatusConflict, "other-match", words.New("board.stale"))
			return
		}
		if got, err = m.Do(record.Request{ID: ask.ID, N: ask.N, Entry: e, Time: ask.MS}); err != nil {
			b.failed(w, c, err)
			return
		}
	}
}

// failed says why a match did not take an entry.
func (b *club) failed(w http.ResponseWriter, c *court, err error) {
	var no *rally.EntryError
	var wrong *record.Error
	switch {
	case errors.As(err, &no):
		b.refuse(w, c, http.StatusConflict, no.Refusal.String(), words.Correction(no))
	case errors.As(err, &wrong) && wrong.Code == "stale":
		b.refuse(w, c, http.StatusConflict, "stale", words.New("board.stale"))
	case errors.As(err, &wrong) && wrong.Field == "request":
		b.refuse(w, c, http.StatusBadRequest, "other-request", words.New("board.unread"))
	default:
		b.refuse(w, c, http.StatusInternalServerError, "disk", words.New("board.disk"))
	}
}

// name takes a set-up: names supplied or changed.
func (b *club) name(w http.ResponseWriter, r *http.Request, c *court) {
	var u rally.Setup
	m, _ := c.now()
	if read := b.reader(w, r, c); read == nil {
		return
	} else if read.Decode(&u) != nil || m.Rules().Validate(u) != nil || m.Name(u) != nil {
		b.refuse(w, c, http.StatusBadRequest, "unread", words.New("board.unread"))
		return
	}
	b.answer(w, c, http.StatusOK, nil)
}

// log lists what has been entered, by whichever device.
func (b *club) log(w http.ResponseWriter, _ *http.Request, c *court) {
	m, _ := c.now()
	entries := []string{}
	m.Read(func(l *rally.Log) {
		for n := 1; n <= l.Len(); n++ {
			entries = append(entries, l.Entry(n).String())
		}
	})
	b.answer(w, c, http.StatusOK, map[string]any{"log": entries})
}

// next begins the next match of a court.
func (b *club) next(w http.ResponseWriter, r *http.Request, c *court) {
	read := b.reader(w, r, c)
	if read == nil {
		return
	}
	ask := struct {
		Match  int         `json:"match"`
		Format string      `json:"format"`
		Setup  rally.Setup `json:"setup"`
	}{Format: c.rules.Format().ID()}
	err := read.Decode(&ask)
	f, unknown := format.Parse(ask.Format)
	if err != nil || unknown != nil {
		b.refuse(w, c, http.StatusBadRequest, "unread", words.New("board.unread"))
		return
	}
	rules := rally.MustCompile(f)
	if rules.Validate(ask.Setup) != nil {
		b.refuse(w, c, http.StatusBadRequest, "unread", words.New("board.unread"))
		return
	}
	switch err := c.next(ask.Match, rules, ask.Setup); err {
	case nil:
		b.answer(w, c, http.StatusOK, nil)
	case errPlaying:
		b.refuse(w, c, http.StatusConflict, "playing", words.New("board.playing"))
	case errStale:
		b.refuse(w, c, http.StatusConflict, "other-match", words.New("board.stale"))
	default:
		b.refuse(w, c, http.StatusInternalServerError, "disk", words.New("board.disk"))
	}
}

// reader reads what is sent to a court, no faster than anybody can tap; nil where
// that has been answered.
func (b *club) reader(w http.ResponseWriter, r *http.Request, c *court) *json.Decoder {
	if !c.pace.takes(time.Now()) {
		b.refuse(w, c, http.StatusTooManyRequests, "busy", words.New("board.busy"))
		return nil
	}
	read := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostBody))
	read.DisallowUnknownFields()
	return read
}

func (b *club) refuse(w http.ResponseWriter, c *court, status int, code string, why words.Text) {
	b.answer(w, c, status, map[string]any{"code": code, "error": b.language.Say(why)})
}

// answer says besides which match is on the court, and how many entries it has.
func (b *club) answer(w http.ResponseWriter, c *court, status int, fields map[string]any) {
	m, no := c.now()
	out := map[string]any{"match": no}
	m.Read(func(l *rally.Log) { out["entries"] = l.Len() })
	for name, value := range fields {
		out[name] = value
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(out) // whoever asked may have gone
}
