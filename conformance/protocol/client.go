package protocol

import (
	"bufio"
	"bytes"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/internal/exact"
)

// Options of a [Client]. The zero value gives the defaults.
type Options struct {
	Timeout  time.Duration // for each answer; default 5 s
	Restarts int           // how often an engine that broke off is started again; 0 for 10, negative for never
	Strict   bool          // a field that the protocol does not know is an error
	Record   io.Writer     // gets every message, as {"to":…} and {"from":…}; may be nil
}

// Client is the runner's end: it starts the engine and asks it.
type Client struct {
	command  []string
	options  Options
	about    StartResult
	process  *process
	seq      int
	restarts int
	dead     string // why no more is asked
	left     []string
}

// Dial starts an engine and greets it. The error says in one line why the
// engine cannot be asked anything: no such command, no or no readable answer,
// another version of the protocol.
func Dial(command []string, o Options) (*Client, error) {
	if len(command) == 0 {
		return nil, errors.New("no command that starts an engine")
	}
	if o.Timeout <= 0 {
		o.Timeout = 5 * time.Second
	}
	if o.Restarts == 0 {
		o.Restarts = 10
	}
	c := &Client{command: command, options: o}
	if err := c.begin(); err != nil {
		return nil, err
	}
	return c, nil
}

// begin starts the process and greets it.
func (c *Client) begin() error {
	p, err := startProcess(c.command)
	if err != nil {
		return fmt.Errorf("cannot start %s: %w", c.command[0], err)
	}
	c.process = p
	var about StartResult
	reply := c.ask(&Request{Cmd: StartCommand, Version: Version, Corpus: conformance.Version()}, &about)
	var why string
	switch {
	case reply.outcome != conformance.Passed:
		why = string(reply.outcome) + ": " + reply.reason
	case about.Version != Version:
		why = fmt.Sprintf("it speaks version %d of the protocol, this runner version %d", about.Version, Version)
	case about.Engine.Name == "":
		why = "its answer to start names no engine"
	default:
		for _, text := range []*string{&about.Engine.Name, &about.Engine.Version, &about.Engine.Language, &about.Engine.URL} {
			*text = conformance.Printable(*text)
		}
		c.about = about
		return nil
	}
	if said := p.stderr(); said != "" && reply.outcome != conformance.Crashed { // which has it already
		why += "; it says: " + said
	}
	c.kill()
	return fmt.Errorf("%s does not answer start: %s", strings.Join(c.command, " "), why)
}

// Close says stop and ends the process, which has a second to do so itself.
func (c *Client) Close() {
	if c.process == nil {
		return
	}
	var nothing struct{}
	timeout := c.options.Timeout
	c.options.Timeout = min(timeout, time.Second)
	c.ask(&Request{Cmd: StopCommand}, &nothing)
	c.options.Timeout = timeout
	if c.process != nil {
		c.process.leave(time.Second)
		c.bury()
	}
}

func (c *Client) kill() {
	if c.process != nil {
		c.process.kill()
		c.bury()
	}
}

// bury notes what a process that has ended leaves behind.
func (c *Client) bury() {
	if left := leftBehind(marker + "=" + c.process.mark); len(c.left)+len(left) <= mostLeft {
		c.left = append(c.left, left...)
	}
	c.process = nil
}

const mostLeft = 100

// Left lists the processes that the engine has started and left behind, each as
// its number and command. Where the system does not tell there are none.
func (c *Client) Left() []string { return c.left }

// Identity implements [conformance.Subject].
func (c *Client) Identity() conformance.Identity { return c.about.Engine }

// Answers reports whether the engine says that it knows a command.
func (c *Client) Answers(command string) bool {
	for _, known := range c.about.Commands {
		if known == command {
			return true
		}
	}
	return false
}

// Claim implements [conformance.Subject].
func (c *Client) Claim(p conformance.Profile, formats []string) ([]string, string, error) {
	var result ProfileResult
	reply := c.try(&Request{Cmd: ProfileCommand, Profile: p.Name, Features: p.Features, Formats: formats}, &result)
	switch reply.outcome {
	case conformance.Passed:
		return result.Formats, "", nil
	case conformance.Skipped:
		return nil, reply.reason, nil
	}
	return nil, "", fmt.Errorf("the engine does not say what it claims of profile %s: %s: %s", p.Name, reply.outcome, reply.reason)
}

// Play implements [conformance.Subject].
func (c *Client) Play(formatID string, start conformance.Start, events []string) conformance.Played {
	var result CaseResult
	reply := c.try(&Request{Cmd: CaseCommand, Format: formatID, Start: startOf(start), Events: append([]string{}, events...)}, &result)
	if reply.outcome == conformance.Passed && len(result.Answers) != len(events)+1 {
		reply.outcome = conformance.Unreadable
		reply.reason = fmt.Sprintf("%d answers to a start and %d events", len(result.Answers), len(events))
	}
	return conformance.Played{Outcome: reply.outcome, Answers: result.Answers, Reason: reply.reason, URL: reply.url}
}

// Report asks what is reported of the match after the events.
func (c *Client) Report(formatID string, start conformance.Start, events []string) (r conformance.Reported, p conformance.Played) {
	reply := c.try(&Request{Cmd: ResultCommand, Format: formatID, Start: startOf(start), Events: append([]string{}, events...)}, &r)
	return r, conformance.Played{Outcome: reply.outcome, Reason: reply.reason, URL: reply.url}
}

// answer is a reply, read.
type answer struct {
	outcome     conformance.Outcome
	reason, url string
}

// broken reports whether the process cannot be asked any more.
func (a answer) broken() bool {
	return a.outcome == conformance.Crashed || a.outcome == conformance.TimedOut || a.outcome == conformance.Unreadable
}

// try asks, and starts the engine again if it broke off before.
func (c *Client) try(q *Request, result any) answer {
	if c.dead != "" {
		return answer{outcome: conformance.NotReached, reason: c.dead}
	}
	if c.process == nil {
		if c.restarts++; c.restarts > c.options.Restarts {
			c.dead = fmt.Sprintf("the engine broke off %d times and is not started again", c.restarts)
			return answer{outcome: conformance.NotReached, reason: c.dead}
		}
		if err := c.begin(); err != nil {
			c.dead = "not started again: " + err.Error()
			return answer{outcome: conformance.NotReached, reason: c.dead}
		}
	}
	return c.ask(q, result)
}

// ask sends a request and reads the reply. A process whose answers cannot be
// told apart any more is ended.
func (c *Client) ask(q *Request, result any) answer {
	c.seq++
	q.Seq = c.seq
	text, err := json.Marshal(q)
	if err != nil {
		return answer{outcome: conformance.Unreadable, reason: err.Error()}
	}
	c.record("to", text)
	p := c.process
	line, got := p.exchange(append(text, '\n'), c.options.Timeout)
	if got.outcome == conformance.Passed {
		c.record("from", bytes.TrimSpace(line))
		got = read(line, q.Seq, result, c.options.Strict)
	}
	if got.broken() {
		c.kill()
	}
	return got
}

// read takes a reply apart.
func read(line []byte, seq int, result any, strict bool) answer {
	bad := func(format string, args ...any) answer {
		return answer{outcome: conformance.Unreadable, reason: fmt.Sprintf(format, args...)}
	}
	if !utf8.Valid(line) {
		return bad("the answer is not UTF-8: %.80q", line)
	}
	decode := func(text []byte, v any) error {
		d := json.NewDecoder(bytes.NewReader(text))
		if strict {
			d.DisallowUnknownFields()
		}
		if err := d.Decode(v); err != nil {
			return err
		}
		if _, err := d.Token(); err != io.EOF {
			return errors.New("text after the end")
		}
		return exact.Check(text, v)
	}
	var head struct {
		Seq *int `json:"seq"`
		Reply
	}
	if err := decode(line, &head); err != nil {
		return bad("the answer is not readable: %v: %.80q", err, line)
	}
	kinds := 0
	for _, stands := range []bool{head.Result != nil, head.Skipped != nil, head.Errored != nil} {
		if stands {
			kinds++
		}
	}
	switch {
	case head.Seq == nil:
		return bad("the answer has no seq: %.80q", line)
	case *head.Seq != seq:
		return bad("the answer is to request %d, not to %d", *head.Seq, seq)
	case kinds != 1:
		return bad("the answer has not exactly one of result, skipped and errored: %.80q", line)
	case head.Skipped != nil:
		return answer{conformance.Skipped, orNoReason(head.Skipped.Reason), conformance.Printable(head.Skipped.URL)}
	case head.Errored != nil:
		return answer{conformance.Errored, orNoReason(head.Errored.Message), ""}
	}
	if err := decode(head.Result, result); err != nil {
		return bad("the result is not readable: %v: %.80q", err, line)
	}
	return answer{outcome: conformance.Passed}
}

func orNoReason(text string) string {
	if text == "" {
		return "(no reason given)"
	}
	return conformance.Printable(text)
}

func (c *Client) record(direction string, text []byte) {
	if c.options.Record != nil {
		fmt.Fprintf(c.options.Record, "{%q:%s}\n", direction, text)
	}
}

// process is a started engine.
type process struct {
	cmd   *exec.Cmd
	in    io.WriteCloser
	lines chan line     // from its standard output
	gone  chan struct{} // closed when nobody reads lines any more
	ended chan struct{} // closed when the process has ended
	said  tail
	once  sync.Once
	mark  string // in the environment of the process and of what it starts
}

type line struct {
	text []byte
	err  error
}

func startProcess(command []string) (*process, error) {
	p := &process{cmd: exec.Command(command[0], command[1:]...), lines: make(chan line),
		gone: make(chan struct{}), ended: make(chan struct{}), mark: rand.Text()}
	group(p.cmd)
	p.cmd.Stderr = &p.said
	p.cmd.WaitDelay = time.Second
	in, err := p.cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	// A pipe of our own, so that the end of the process is seen even while
	// something that it started holds its output open.
	out, itsEnd, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	p.in, p.cmd.Stdout = in, itsEnd
	p.cmd.Env = append(os.Environ(), marker+"="+p.mark)
	if err := p.cmd.Start(); err != nil {
		return nil, errors.Join(err, out.Close(), itsEnd.Close())
	}
	_ = itsEnd.Close()
	go p.read(out)
	go func() {
		<-p.gone
		_ = out.Close()
	}()
	go func() {
		_ = p.cmd.Wait()
		close(p.ended)
	}()
	return p, nil
}

// marker is the variable by which processes are known that an engine leaves
// behind: they inherit it.
const marker = "EVENCOURT_ENGINE"

// read passes lines on one at a time, so that a flood fills the pipe and not
// the memory.
func (p *process) read(out io.Reader) {
	r := bufio.NewReader(out)
	for {
		text, err := readLine(r)
		if err == io.EOF && len(text) > 0 {
			err = nil // a last line without its end
		}
		select {
		case p.lines <- line{text, err}:
		case <-p.gone:
			return
		}
		if err != nil {
			if err == errTooLong {
				<-p.gone
			}
			return
		}
	}
}

// exchange writes a request and reads one line, both within the time.
func (p *process) exchange(request []byte, timeout time.Duration) ([]byte, answer) {
	timer := time.NewTimer(timeout)
	defer timer.Stop()
	written := make(chan error, 1)
	go func() {
		_, err := p.in.Write(request) // ends with the process at the latest
		written <- err
	}()
	var got line
	select {
	case got = <-p.lines:
	case <-p.ended:
		// What it wrote before it ended still counts.
		select {
		case got = <-p.lines:
		case <-time.After(200 * time.Millisecond):
			got.err = io.EOF
		}
	case <-timer.C:
		return nil, answer{outcome: conformance.TimedOut, reason: fmt.Sprintf("no answer within %v", timeout)}
	}
	switch {
	case got.err == errTooLong:
		return nil, answer{outcome: conformance.Unreadable, reason: fmt.Sprintf("the answer is longer than %d bytes", MostLine)}
	case got.err != nil:
		return nil, answer{outcome: conformance.Crashed, reason: p.ending()}
	}
	return got.text, answer{outcome: conformance.Passed}
}

// ending says how a process ended that closed its output.
func (p *process) ending() string {
	select {
	case <-p.ended:
	case <-time.After(time.Second):
		return "it closed its output"
	}
	why := "it ended: " + p.cmd.ProcessState.String()
	if said := p.stderr(); said != "" {
		why += "; it says: " + said
	}
	return why
}

func (p *process) stderr() string { return p.said.String() }

// leave closes the input and kills what has not ended after a while.
func (p *process) leave(patience time.Duration) {
	_ = p.in.Close()
	p.once.Do(func() { close(p.gone) })
	select {
	case <-p.ended:
	case <-time.After(patience):
	}
	p.kill()
}

func (p *process) kill() {
	p.once.Do(func() { close(p.gone) })
	killGroup(p.cmd)
	_ = p.in.Close()
	select {
	case <-p.ended:
	case <-time.After(2 * time.Second): // something it started has left its group
	}
}

// tail keeps the end of what is written to it.
type tail struct {
	mu   sync.Mutex
	text []byte
}

const mostTail = 4000

// Write implements io.Writer.
func (t *tail) Write(b []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	n := len(b)
	if n > mostTail {
		b = b[n-mostTail:]
	}
	t.text = append(t.text, b...)
	if len(t.text) > mostTail {
		t.text = append(t.text[:0], t.text[len(t.text)-mostTail:]...)
	}
	return n, nil
}

// String returns the line of it that says most, printable: the first that names
// an error, as a trace does above where it happened, else the last.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	lines := strings.Split(strings.TrimSpace(strings.ToValidUTF8(string(t.text), "?")), "\n")
	says := lines[len(lines)-1]
	for _, line := range lines {
		if namesError.MatchString(line) {
			says = strings.TrimSpace(line)
			break
		}
	}
	if says == "" {
		return ""
	}
	return fmt.Sprintf("%.200q", says)
}

var namesError = regexp.MustCompile(`(?i)\b\w*error\b|\bpanic|\bfatal\b|\bexception\b`)
