package serve

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"strings"
	"sync"
	"time"
)

// Apart adds the headers that keep pages to what they came with: scripts, styles and
// addresses of their own, in no frame, never stored. Pages from elsewhere may ask
// too: what lets them enter anything is a secret in the address, and nothing that a
// browser would send of itself.
func Apart(next http.Handler) http.Handler {
	headers := map[string]string{
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "no-referrer",
		"Cache-Control":                "no-store",
		"Content-Security-Policy":      "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; frame-ancestors 'none'",
		"Access-Control-Allow-Origin":  "*",
		"Access-Control-Allow-Methods": "*",
		"Access-Control-Allow-Headers": "Content-Type",
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		for name, value := range headers {
			w.Header().Set(name, value)
		}
		if r.Method == http.MethodOptions {
			w.WriteHeader(http.StatusNoContent)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// Secret is a text that nobody guesses, kept in a file from the first time on.
func Secret(path string) (string, error) {
	const least = 20
	text, _ := os.ReadFile(path)
	if secret := strings.TrimSpace(string(text)); len(secret) >= least {
		return secret, nil
	}
	secret := rand.Text()
	return secret, os.WriteFile(path, []byte(secret+"\n"), 0o600)
}

// Same compares secrets without telling by the time that it takes how far they agree.
func Same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// Pace lets so many pass a second, and as many at once.
type Pace struct {
	Second int

	mu   sync.Mutex
	next time.Time // when all that passed would have been taken one by one
}

// Takes reports whether one more may pass.
func (p *Pace) Takes(now time.Time) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.next.Before(now) {
		p.next = now
	}
	if p.next.Sub(now) > time.Second {
		return false
	}
	p.next = p.next.Add(time.Second / time.Duration(p.Second))
	return true
}

// Answer sends a value as JSON.
func Answer(w http.ResponseWriter, status int, value any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	_ = json.NewEncoder(w).Encode(value) // whoever asked may have gone
}

// Stream is a stream of server-sent events.
type Stream struct {
	w   http.ResponseWriter
	out *http.ResponseController
}

// NewStream begins a stream.
func NewStream(w http.ResponseWriter) Stream {
	w.Header().Set("Content-Type", "text/event-stream")
	return Stream{w, http.NewResponseController(w)}
}

// Send sends an event with data in one line. Whoever reads no more for ten seconds is
// left behind.
func (s Stream) Send(event string, data []byte) error {
	_ = s.out.SetWriteDeadline(time.Now().Add(10 * time.Second)) // some writers have none
	if _, err := fmt.Fprintf(s.w, "event: %s\ndata: %s\n\n", event, data); err != nil {
		return err
	}
	return s.out.Flush()
}
