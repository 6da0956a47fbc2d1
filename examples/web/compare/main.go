// Command compare is the library's side of the tests of the package for
// JavaScript. It reads lines, a JSON list each, and answers each with a line:
//
//	["log", FORMAT, FIRST, SERVERS, ENTRY, ...]   eight digits, FNV-1a of all answers
//	["tell", FORMAT, FIRST, SERVERS, ENTRY, ...]  the answers themselves, as a JSON list
//	["rulings", EDITION]                          the digest of the rulings
//	["record", TEXT]                              the line that a record leads to, or why it is none
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"github.com/evencourt/evencourt/conformance/digests"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

func main() { os.Exit(run(os.Stdin, os.Stdout, os.Stderr)) }

// run returns the exit code: 2 where lines could not be read or answers not be written.
func run(stdin io.Reader, stdout, stderr io.Writer) int {
	in := bufio.NewScanner(stdin)
	in.Buffer(nil, 1<<24)
	out := bufio.NewWriter(stdout)
	for in.Scan() {
		var words []string
		if err := json.Unmarshal(in.Bytes(), &words); err != nil || len(words) < 2 {
			fmt.Fprintln(out, "?")
			continue
		}
		fmt.Fprintln(out, answer(words[0], words[1:]))
	}
	if err := errors.Join(in.Err(), out.Flush()); err != nil {
		fmt.Fprintln(stderr, "compare:", err)
		return 2
	}
	return 0
}

func answer(cmd string, words []string) string {
	if cmd == "rulings" {
		var e format.Edition
		if err := e.UnmarshalText([]byte(words[0])); err != nil {
			return "?"
		}
		sum, err := digests.Rulings(e)
		if err != nil {
			return "?" + err.Error()
		}
		return fmt.Sprint(sum.SHA256, " ", sum.Lines)
	}
	if cmd == "record" {
		m, err := record.Read(strings.NewReader(words[0]))
		if err != nil {
			return "!" + err.Error()
		}
		return m.Log.Rules().Line(m.Log.State())
	}
	if len(words) < 3 {
		return "?"
	}
	answers := play(words[0], words[1], words[2], words[3:])
	if cmd == "tell" {
		text, _ := json.Marshal(answers)
		return string(text)
	}
	sum := fnv.New32a()
	for _, a := range answers {
		sum.Write([]byte(a + "\n"))
	}
	return fmt.Sprintf("%08x", sum.Sum32())
}

// play answers a log: to its beginning and to each entry the line, the effects,
// the refusal with the entry at fault, and the clauses that decided; in the end what a
// screen draws, and what the log holds.
func play(id, first, servers string, entries []string) []string {
	f, err := format.Parse(id)
	if err != nil {
		return []string{"no format"}
	}
	r, err := rally.Compile(f)
	if err != nil {
		return []string{"no format"}
	}
	s := rally.State{}
	if first != "-" {
		s = r.New(rally.Side(first[0] - 'A'))
	}
	if servers != "" {
		e, _ := rally.ParseEvent("g" + servers)
		s, _, _ = r.Apply(s, e)
	}
	l := rally.NewLog(r, s)
	out := []string{r.Line(s)}
	waits := false // a format that is to come
	for _, text := range entries {
		by := ""
		if e, bad := rally.ParseEvent(text); bad == nil && !waits {
			_, _, _, grounds := l.Rules().Decide(l.State(), e)
			by = " " + clauseOf(grounds.First()) + " " + clauseOf(grounds.Second())
		}
		did, err := l.Enter(text)
		told := strings.Join(did.Names(), ",")
		if err != nil {
			told = "!malformed"
			var refused *rally.EntryError
			if errors.As(err, &refused) {
				told = "!" + refused.Refusal.String()
				if refused.N != 0 {
					told += "@" + strconv.Itoa(refused.N)
				}
			}
		}
		told += by
		waits = waits || err == nil && strings.Contains(text, " next ")
		out = append(out, l.Rules().Line(l.State())+"\t"+string(l.Rules().AppendCall(nil, l.State()))+"\t"+told)
	}
	return append(out, screen(l.Rules(), l.State()), held(l))
}

// screen is what is drawn in the end: where everybody stands, and the events that
// may come.
func screen(r *rally.Rules, s rally.State) string {
	v := r.View(s, rally.B)
	told := func(spot *rally.Spot) string {
		if spot == nil {
			return ""
		}
		return fmt.Sprint(spot.Person, " ", spot.Court, " ", spot.Hand, " ", spot.Depth)
	}
	out := []string{fmt.Sprint(v.Hands[0], " ", v.Hands[1]), told(v.Server), told(v.Receiver)}
	for i := range v.Spots {
		out = append(out, told(&v.Spots[i]))
	}
	var events []string
	for e := range r.Events(s) {
		events = append(events, e.String())
	}
	slices.Sort(events)
	return strings.Join(append(out, events...), ";")
}

// held is what holds in the end, what can be taken back, which side is frozen, and
// the result.
func held(l *rally.Log) string {
	undo, _ := l.Undoable()
	redo, _ := l.Redoable()
	out := []string{fmt.Sprint(undo, " ", redo, " ", l.Rules().Frozen(l.State(), rally.A), " ", l.Rules().Frozen(l.State(), rally.B))}
	for st := range l.Each {
		if st.Holds && st.Event.Kind() < rally.Undo {
			out = append(out, fmt.Sprint(st.N, " ", st.Event, " ", strings.Join(st.Effects.Names(), ",")))
		}
	}
	r := l.Result()
	winner := "-"
	if r.Winner != nil {
		winner = r.Winner.String()
	}
	out = append(out, fmt.Sprint(r.Cause, " ", winner))
	for _, g := range r.Games {
		out = append(out, fmt.Sprint(g.Score[0], "-", g.Score[1], " ", g.How))
	}
	return strings.Join(out, ";")
}

func clauseOf(c format.Clause) string {
	if c == 0 {
		return "-"
	}
	return c.String()
}
