package main

import (
	"crypto/subtle"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

//go:embed page.html page.css page.js
var files embed.FS

const (
	mostStreams = 500     // pages that watch at once
	mostBody    = 1 << 12 // bytes of what is entered
	mostASecond = 10      // entries a court
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
	mux.Handle("GET /page.css", http.FileServerFS(files))
	mux.Handle("GET /page.js", http.FileServerFS(files))
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range map[string]string{"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-store",
			"Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-ancestors 'none'"} {
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
		b.refuse(w, http.StatusServiceUnavailable, words.New("board.busy"))
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	send := func(event string, data []byte) bool {
		_ = out.SetWriteDeadline(time.Now().Add(10 * time.Second))
		_, err := fmt.Fprintf(w, "event: %s\ndata: %s\n\n", event, data)
		return err == nil && out.Flush() == nil
	}
	var named rally.Setup
	var board []byte
	for first := true; ; first = false {
		changed := c.match.Changed()
		if u := c.match.Setup(); first || u != named {
			named = u
			if !send("words", b.dictionary(c)) {
				return
			}
		}
		board = c.match.AppendJSON(board[:0])
		if !send("board", board) {
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

// dictionary says in words what a board holds as codes.
func (b *club) dictionary(c *court) []byte {
	guide := referee.New(c.match.Rules(), c.match.Setup())
	var drawn rally.Snapshot
	if err := json.Unmarshal(c.match.AppendJSON(nil), &drawn); err != nil {
		panic(err) // what the library writes, it reads
	}
	say := func(t words.Text) string { return b.language.Say(t) }
	out := map[string]string{"lang": b.language.Tag(), "help": say(words.Effects(rally.CallHelp)[0])}
	event := func(e rally.Event) { out["event "+e.String()] = say(guide.Event(e)) }
	for _, e := range drawn.Allowed {
		event(e)
	}
	for _, no := range drawn.Refused {
		event(no.Event)
		out["refusal "+no.Why.String()] = say(words.For(no.Why))
	}
	for k := range rally.KindSet(1<<rally.Undo | 1<<rally.Redo).All() {
		out["event "+k.String()] = say(words.For(k))
	}
	for r := rally.NotRefused + 1; r <= rally.NoMorePoints; r++ {
		out["refusal "+r.String()] = say(words.For(r))
	}
	for p := rally.Before; p <= rally.Closed; p++ {
		out["phase "+p.String()] = say(words.For(p))
	}
	for k := rally.TimeOutBreak; k <= rally.IllnessBreak; k++ {
		out["break "+k.String()] = say(words.For(k))
	}
	for _, did := range words.Effects(rally.Point | rally.SecondServer | rally.SideOut) {
		out["result "+string(did.Code[len("effect."):])] = say(did)
	}
	for _, i := range []string{"time-out", "medical", "equipment", "end-change", "between-games"} {
		out["interval "+i] = say(words.New(words.Code("interval." + i)))
	}
	text, _ := json.Marshal(out) // a map of texts
	return text
}

// enter takes one entry: {"id": NAME, "n": NUMBER, "do": WORD}. Sent again under the
// same name it is taken once; with a number that is taken it is refused.
func (b *club) enter(w http.ResponseWriter, r *http.Request, c *court) {
	var ask struct {
		ID string `json:"id"`
		N  int    `json:"n"`
		Do string `json:"do"`
	}
	if !b.read(w, r, c, &ask) {
		return
	}
	e, err := rally.ParseEntry(ask.Do)
	switch {
	case err != nil:
		b.refuse(w, http.StatusBadRequest, words.New("board.unread"))
		return
	case e.Corrects() && e.Kind != rally.Undo && e.Kind != rally.Redo:
		b.refuse(w, http.StatusForbidden, words.New("board.not-here"))
		return
	}
	got, err := c.match.Do(record.Request{ID: ask.ID, N: ask.N, Entry: e})
	var no *rally.EntryError
	var wrong *record.Error
	switch {
	case err == nil:
		b.answer(w, http.StatusOK, map[string]any{"n": got.N, "did": got.Effects, "again": got.Again})
	case errors.As(err, &no):
		b.refuse(w, http.StatusConflict, words.For(no.Refusal))
	case errors.As(err, &wrong) && wrong.Code == "stale":
		b.refuse(w, http.StatusConflict, words.New("board.stale"))
	case errors.As(err, &wrong) && wrong.Field == "request":
		b.refuse(w, http.StatusBadRequest, words.New("board.unread"))
	default:
		b.refuse(w, http.StatusInternalServerError, words.New("board.disk"))
	}
}

// name takes a set-up: names supplied or changed.
func (b *club) name(w http.ResponseWriter, r *http.Request, c *court) {
	var u rally.Setup
	if !b.read(w, r, c, &u) {
		return
	}
	if c.match.Rules().Validate(u) != nil || c.match.Name(u) != nil {
		b.refuse(w, http.StatusBadRequest, words.New("board.unread"))
		return
	}
	b.answer(w, http.StatusOK, map[string]any{})
}

// read reads what is asked of a court, no faster than anybody can tap.
func (b *club) read(w http.ResponseWriter, r *http.Request, c *court, into any) bool {
	if !c.pace.takes(time.Now()) {
		b.refuse(w, http.StatusTooManyRequests, words.New("board.busy"))
		return false
	}
	dec := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostBody))
	dec.DisallowUnknownFields()
	if dec.Decode(into) != nil || dec.More() {
		b.refuse(w, http.StatusBadRequest, words.New("board.unread"))
		return false
	}
	return true
}

func (b *club) refuse(w http.ResponseWriter, status int, why words.Text) {
	b.answer(w, status, map[string]any{"error": b.language.Say(why)})
}

func (b *club) answer(w http.ResponseWriter, status int, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(v) // whoever asked may have gone
}

// pace lets so many pass a second.
type pace struct {
	mu   sync.Mutex
	next time.Time // when all that passed would have been taken one by one
}

func (p *pace) takes(now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.next.Before(now) {
		p.next = now
	}
	if p.next.Sub(now) > time.Second {
		return false
	}
	p.next = p.next.Add(time.Second / mostASecond)
	return true
}
