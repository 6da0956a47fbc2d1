package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"time"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/protocol"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// The hostile engines are this test program itself, started again with
// EVENCOURT_HOSTILE set to one of these names.
var hostile = map[string]func(in *bufio.Scanner, out *bufio.Writer){
	"accepts all": func(in *bufio.Scanner, out *bufio.Writer) {
		answering(in, out, func(q *protocol.Request) any {
			answers := []conformance.Answer{opening(q)}
			for range q.Events {
				answers = append(answers, answers[0])
			}
			return protocol.CaseResult{Answers: answers}
		})
	},
	"refuses all": func(in *bufio.Scanner, out *bufio.Writer) {
		answering(in, out, func(q *protocol.Request) any {
			answers := []conformance.Answer{opening(q)}
			for range q.Events {
				refused := answers[0]
				refused.Refused = "malformed"
				answers = append(answers, refused)
			}
			return protocol.CaseResult{Answers: answers}
		})
	},
	"echoes its input": func(in *bufio.Scanner, out *bufio.Writer) {
		for in.Scan() {
			fmt.Fprintf(out, "%s\n", in.Bytes())
			out.Flush()
		}
	},
	"echoes the events": func(in *bufio.Scanner, out *bufio.Writer) {
		answering(in, out, func(q *protocol.Request) any {
			answers := []conformance.Answer{opening(q)}
			for _, e := range q.Events {
				answers = append(answers, conformance.Answer{Line: e, Call: e})
			}
			return protocol.CaseResult{Answers: answers}
		})
	},
	"repeats the last answer": func(in *bufio.Scanner, out *bufio.Writer) {
		var last []byte
		n := 0
		honest(in, out, func(_ *protocol.Request, reply []byte) []byte {
			if n++; n > 25 {
				return last
			}
			last = reply
			return reply
		})
	},
	"noise on stderr and exit 0": func(*bufio.Scanner, *bufio.Writer) {
		fmt.Fprintln(os.Stderr, "all tests passed")
	},
	"noise after the start": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				fmt.Fprintln(os.Stderr, "all tests passed")
				os.Exit(0)
			}
			return reply
		})
	},
	"crashes at case 30": func(in *bufio.Scanner, out *bufio.Writer) {
		n := 0
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				if n++; n == 30 {
					panic("case 30")
				}
			}
			return reply
		})
	},
	"hangs": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				time.Sleep(time.Hour)
			}
			return reply
		})
	},
	"hangs at once": func(*bufio.Scanner, *bufio.Writer) { time.Sleep(time.Hour) },
	"floods its output": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			for q.Cmd == protocol.CaseCommand {
				if _, err := os.Stdout.WriteString("{\"seq\":1,\"result\":{}}\n"); err != nil {
					os.Exit(0)
				}
			}
			return reply
		})
	},
	"floods stderr": func(in *bufio.Scanner, out *bufio.Writer) {
		noise := strings.Repeat("noise ", 10_000)
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			for i := 0; q.Cmd == protocol.CaseCommand && i < 1000; i++ {
				fmt.Fprintln(os.Stderr, noise)
			}
			if q.Cmd == protocol.CaseCommand {
				os.Exit(3)
			}
			return reply
		})
	},
	"right score, wrong places": func(in *bufio.Scanner, out *bufio.Writer) {
		swapped := strings.NewReplacer(" A=12 ", " A=21 ", " A=21 ", " A=12 ", " A=1- ", " A=-1 ", " A=-1 ", " A=1- ")
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				return []byte(swapped.Replace(string(reply)))
			}
			return reply
		})
	},
	"answers out of order": func(in *bufio.Scanner, out *bufio.Writer) {
		var held []byte
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd != protocol.CaseCommand {
				return reply
			}
			if held == nil {
				held = reply
				return []byte(fmt.Sprintf(`{"seq":%d,"result":{"answers":[]}}`, q.Seq+1))
			}
			return held
		})
	},
	"invalid UTF-8": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				return []byte(strings.Replace(string(reply), "phase=play", "phase=\xff\xfelay", 1))
			}
			return reply
		})
	},
	"a line of 100 MB": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				part := strings.Repeat(" ", 1<<20)
				for i := 0; i < 100; i++ {
					if _, err := os.Stdout.WriteString(part); err != nil {
						os.Exit(0)
					}
				}
			}
			return reply
		})
	},
	"half an answer": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				_, _ = os.Stdout.Write(reply[:len(reply)/2])
				os.Exit(0)
			}
			return reply
		})
	},
	"deep nesting": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				return []byte(strings.Repeat("[", 900_000))
			}
			return reply
		})
	},
	"one answer too few": func(in *bufio.Scanner, out *bufio.Writer) {
		answering(in, out, func(q *protocol.Request) any {
			return protocol.CaseResult{Answers: []conformance.Answer{opening(q)}}
		})
	},
	"skips everything": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				return []byte(fmt.Sprintf(`{"seq":%d,"skipped":{"reason":"not today"}}`, q.Seq))
			}
			return reply
		})
	},
	"errs on everything": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				return []byte(fmt.Sprintf(`{"seq":%d,"errored":{"message":"no"}}`, q.Seq))
			}
			return reply
		})
	},
	"knows the command case alone": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			switch q.Cmd {
			case protocol.StartCommand:
				return []byte(strings.Replace(string(reply), `["case","result","line","tree"]`, `["case"]`, 1))
			case protocol.LineCommand, protocol.TreeCommand, protocol.ResultCommand:
				return []byte(fmt.Sprintf(`{"seq":%d,"errored":{"message":"unknown command"}}`, q.Seq))
			}
			return reply
		})
	},
	"errs at length": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				return []byte(fmt.Sprintf(`{"seq":%d,"errored":{"message":"%d %s"}}`, q.Seq, q.Seq, strings.Repeat("woe ", 500)))
			}
			return reply
		})
	},
	"names fields in capitals": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			return []byte(strings.ReplaceAll(string(reply), `"line":`, `"LINE":`))
		})
	},
	"draws on the screen": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			const paint = `\u001b[2J\u0007\nconformant, claiming everything`
			switch q.Cmd {
			case protocol.StartCommand:
				return []byte(strings.Replace(string(reply), `"hostile"`, `"hostile`+paint+`"`, 1))
			case protocol.CaseCommand:
				return []byte(fmt.Sprintf(`{"seq":%d,"skipped":{"reason":"no%s","url":"here%s"}}`, q.Seq, paint, paint))
			}
			return reply
		})
	},
	"leaves a child behind": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand {
				child := exec.Command("sleep", "600")
				child.Stdout = os.Stdout // which stays open
				leaveGroup(child)
				if err := child.Start(); err != nil {
					panic(err)
				}
				os.Exit(4)
			}
			return reply
		})
	},
	"claims nothing": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.ProfileCommand {
				return []byte(fmt.Sprintf(`{"seq":%d,"result":{"formats":[]}}`, q.Seq))
			}
			return reply
		})
	},
	"claims what was not offered": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.ProfileCommand {
				return []byte(fmt.Sprintf(`{"seq":%d,"result":{"formats":["chess"]}}`, q.Seq))
			}
			return reply
		})
	},
	"another version": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			return []byte(strings.Replace(string(reply), `"version":1,`, `"version":2,`, 1))
		})
	},
	"unknown fields": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			return []byte(strings.Replace(string(reply), `"seq":`, `"mood":"good","seq":`, 1))
		})
	},
	"turns the call round": func(in *bufio.Scanner, out *bufio.Writer) {
		call := regexp.MustCompile(`"call":"([0-9]+)-([0-9]+)`)
		honest(in, out, func(_ *protocol.Request, reply []byte) []byte {
			return call.ReplaceAll(reply, []byte(`"call":"$2-$1`))
		})
	},
	"a lead of one wins": func(in *bufio.Scanner, out *bufio.Writer) {
		serving(new(byOne), in, out, func(_ *protocol.Request, reply []byte) []byte { return reply })
	},
	"honest": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(_ *protocol.Request, reply []byte) []byte { return reply })
	},
	"fails one case": func(in *bufio.Scanner, out *bufio.Writer) {
		honest(in, out, func(q *protocol.Request, reply []byte) []byte {
			if q.Cmd == protocol.CaseCommand && q.Start.From == "" && q.Format == "rally-doubles-11@2025" {
				return []byte(strings.Replace(string(reply), "score=0-0", "score=0-1", 1))
			}
			return reply
		})
	},
}

// opening is how even a naive engine can answer a start.
func opening(q *protocol.Request) conformance.Answer {
	var own conformance.Builtin
	a, err := own.Begin(q.Format, conformance.Start{First: q.Start.First, Servers: q.Start.Servers, From: q.Start.From})
	if err != nil {
		panic(err)
	}
	return a
}

// honest answers as the library does and lets bend change each reply.
func honest(in *bufio.Scanner, out *bufio.Writer, bend func(*protocol.Request, []byte) []byte) {
	serving(new(conformance.Builtin), in, out, bend)
}

// byOne has the library's rules but for the lead of two.
type byOne struct{ conformance.Builtin }

func (e *byOne) Begin(id string, start conformance.Start) (conformance.Answer, error) {
	f, err := format.Parse(id)
	if err != nil {
		return conformance.Answer{}, err
	}
	f.Shape, f.Game.WinBy, f.Last.WinBy = "", 1, 1
	r, err := rally.Compile(f)
	if err != nil {
		return conformance.Answer{}, err
	}
	return e.BeginBy(r, start)
}

// serving has an engine answer and lets bend change each reply.
func serving(engine conformance.Engine, in *bufio.Scanner, out *bufio.Writer, bend func(*protocol.Request, []byte) []byte) {
	server := protocol.Server{Identity: conformance.Identity{Name: "hostile", Version: "1"}, Engine: engine}
	for in.Scan() {
		var q protocol.Request
		if err := json.Unmarshal(in.Bytes(), &q); err != nil {
			continue
		}
		var reply strings.Builder
		if err := server.Serve(strings.NewReader(in.Text()+"\n"), &reply); err != nil {
			panic(err)
		}
		out.Write(bend(&q, []byte(strings.TrimSuffix(reply.String(), "\n"))))
		out.WriteByte('\n')
		out.Flush()
	}
}

// answering answers cases by itself and the rest honestly.
func answering(in *bufio.Scanner, out *bufio.Writer, answer func(*protocol.Request) any) {
	honest(in, out, func(q *protocol.Request, reply []byte) []byte {
		if q.Cmd != protocol.CaseCommand {
			return reply
		}
		result, err := json.Marshal(answer(q))
		if err != nil {
			panic(err)
		}
		text, err := json.Marshal(protocol.Reply{Seq: q.Seq, Result: result})
		if err != nil {
			panic(err)
		}
		return text
	})
}

func playHostile(name string) {
	in := bufio.NewScanner(os.Stdin)
	in.Buffer(nil, protocol.MostLine)
	play := hostile[name]
	if play == nil {
		panic("no hostile engine " + name)
	}
	play(in, bufio.NewWriter(os.Stdout))
}
