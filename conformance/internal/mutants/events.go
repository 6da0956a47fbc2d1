package mutants

import (
	"regexp"
	"slices"
	"strings"
)

// ofRefusals are engines that take what is refused.
func ofRefusals() []Mutant {
	return []Mutant{
		wrapped("refusal-changes-state", "a refused event moves the serve all the same", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused != "" && value(a.Line, "phase") == "play" {
				b := w.play("A")
				a.Line, a.Call = b.Line, b.Call
			}
			return a
		}),
		wrapped("accepts-after-the-end", "events after the end are accepted and ignored", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "over" || a.Refused == "closed" {
				a.Refused = ""
			}
			return a
		}),
	}
}

// ofBreaks get time-outs and medical time wrong.
func ofBreaks() []Mutant {
	medical := regexp.MustCompile(`^m[AB][12]$`)
	return []Mutant{
		wrapped("time-out-with-none-left", "a time-out is granted when none is left", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "none-left" {
				return answer{Line: with(a.Line, "break", event), Call: a.Call, Effects: []string{"break"}}
			}
			return a
		}),
		wrapped("medical-as-time-out", "a medical time-out is charged as a time-out", func(w *wrapper, event string) answer {
			a := w.play(event)
			t := value(a.Line, "timeouts")
			if a.Refused == "" && medical.MatchString(event) && len(t) == 3 {
				if event[1] == 'A' {
					return w.set(a, with(a.Line, "timeouts", string(t[0]+1)+t[1:]))
				}
				return w.set(a, with(a.Line, "timeouts", t[:2]+string(t[2]+1)))
			}
			return a
		}),
		wrapped("medical-twice", "a player gets a second medical time-out", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "medical-used" {
				return answer{Line: with(a.Line, "break", event), Call: a.Call, Effects: []string{"break", "help"}}
			}
			return a
		}),
		wrapped("medical-unused", "medical time stays unused after it was taken", func(w *wrapper, event string) answer {
			a := w.play(event)
			return withLine(a, with(a.Line, "medical", strings.ReplaceAll(value(a.Line, "medical"), "u", "-")))
		}),
		wrapped("break-goes-on", "a rally does not end a break", func(w *wrapper, event string) answer {
			before := value(w.last.Line, "break")
			a := w.play(event)
			if a.Refused == "" && before != "-" && slices.Contains(a.Effects, "time-in") && event != "in" && event != "dealt" && value(a.Line, "phase") == "play" {
				a.Effects = without(a.Effects, "time-in")
				return w.set(a, with(a.Line, "break", before))
			}
			return a
		}),
		wrapped("time-out-moves-serve", "a time-out gives the serve to the second server", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "" && (event == "tA" || event == "tB") {
				if s := value(a.Line, "serve"); strings.HasSuffix(s, "#1") {
					return withLine(a, with(a.Line, "serve", strings.TrimSuffix(s, "1")+"2"))
				}
			}
			return a
		}),
	}
}

// ofOpenings get wrong how a rally is played again, a game opened, ends and courts changed.
func ofOpenings() []Mutant {
	return []Mutant{
		wrapped("replay-is-lost", "a replayed rally is lost by the serving side", func(w *wrapper, event string) answer {
			if event == "replay" && value(w.last.Line, "phase") == "play" {
				winner := "A"
				if strings.HasPrefix(value(w.last.Line, "serve"), "A") {
					winner = "B"
				}
				return w.play(winner)
			}
			return w.play(event)
		}),
		wrapped("faults-ignored", "a fault is noted and the rally is played again", func(w *wrapper, event string) answer {
			if len(event) > 2 && (event[:2] == "A:" || event[:2] == "B:") && !strings.Contains(event, "?") {
				if b := w.play(event); b.Refused != "" {
					return b
				}
				w.play("undo")
				return w.play("replay")
			}
			return w.play(event)
		}),
		wrapped("starters-forgotten", "a game that is started keeps the starting servers of the last one", func(w *wrapper, event string) answer {
			if old := value(w.last.Line, "start"); len(event) == 5 && event[0] == 'g' && len(old) == 4 && !strings.Contains(event, "?") {
				if event[1] == 'A' {
					return w.play("g" + old)
				}
				return w.play("g" + old[2:] + old[:2])
			}
			return w.play(event)
		}),
		wrapped("end-change-blocks", "a rally is refused while an end change is due", func(w *wrapper, event string) answer {
			if strings.Contains(value(w.last.Line, "due"), "e") && (event == "A" || event == "B") {
				return answer{Line: w.last.Line, Call: w.last.Call, Refused: "not-now"}
			}
			return w.play(event)
		}),
		wrapped("end-change-swaps-serve", "an end change gives the serve away", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "" && event == "ends" {
				s := value(a.Line, "serve")
				return withLine(a, with(a.Line, "serve", map[byte]string{'A': "B", 'B': "A"}[s[0]]+s[1:]))
			}
			return a
		}),
		wrapped("exchange-any-time", "partners exchange fixed courts between any two rallies", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "not-now" && (event == "xA" || event == "xB") {
				return answer{Line: a.Line, Call: a.Call, Effects: []string{"exchanged"}}
			}
			return a
		}),
		wrapped("rally-before-the-choice", "a rally opens the match though nobody has chosen who serves", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "no-first-server" {
				w.play("gA1B1")
				return w.play(event)
			}
			return a
		}),
	}
}

// ofCare play on where somebody must be cared for first.
func ofCare() []Mutant {
	return []Mutant{
		wrapped("concussion-plays-on", "a player with a suspected concussion plays on", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "absent-due" {
				return answer{Line: a.Line, Call: a.Call, Effects: []string{"point"}}
			}
			return a
		}),
		wrapped("blood-ends-by-time-in", "play goes on though the cause of the stop is not dealt with", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "undealt" {
				w.play("dealt")
				return w.play(event)
			}
			return a
		}),
	}
}

// ofPenalties forget penalties, or count what does not count.
func ofPenalties() []Mutant {
	return []Mutant{
		wrapped("warnings-forgotten", "warnings are not counted", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "" && strings.HasPrefix(event, "tw") {
				return w.set(a, with(a.Line, "tw", "0:0"))
			}
			return a
		}),
		wrapped("fouls-forgotten", "technical fouls are not counted", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "" && strings.HasPrefix(event, "tf") {
				return w.set(a, with(a.Line, "tf", "0:0"))
			}
			return a
		}),
		wrapped("verbal-counts", "a verbal warning counts as a technical one", func(w *wrapper, event string) answer {
			if strings.HasPrefix(event, "vw") {
				return w.play("tw" + event[2:])
			}
			return w.play(event)
		}),
	}
}

// ofDecisions decide otherwise than the officials: retirements, rulings, the sheet.
func ofDecisions() []Mutant {
	return []Mutant{
		wrapped("retired-wins", "the side that retires wins", func(w *wrapper, event string) answer {
			if len(event) == 4 && event[:3] == "ret" {
				return w.play("ret" + map[string]string{"A": "B", "B": "A"}[event[3:]])
			}
			return w.play(event)
		}),
		wrapped("incidents-ignored", "errors on a rally change nothing", func(w *wrapper, event string) answer {
			if winner, _, rides := strings.Cut(event, "?"); rides && winner != "stop" {
				return w.play(winner)
			}
			return w.play(event)
		}),
		wrapped("stops-replayed", "every rally that was stopped is played again", func(w *wrapper, event string) answer {
			if strings.HasPrefix(event, "stop?") {
				return w.play("replay")
			}
			return w.play(event)
		}),
		wrapped("sheet-any-time", "the sheet can be returned in mid-match", func(w *wrapper, event string) answer {
			a := w.play(event)
			if event == "sheet" && a.Refused == "not-now" {
				return answer{Line: with(a.Line, "phase", "closed"), Effects: []string{"closed"}}
			}
			return a
		}),
	}
}
