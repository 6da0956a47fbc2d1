package mutants

import (
	"regexp"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/format"
)

type answer = conformance.Answer

// All lists the mutants.
func All() []Mutant {
	return slices.Concat(ofGames(), ofMatches(), ofRulings(), ofPlaces(), ofAnswers(),
		ofRefusals(), ofBreaks(), ofOpenings(), ofCare(), ofPenalties(), ofDecisions(), ofCorrections())
}

func ofGames() []Mutant {
	freeze := func(f format.Freeze) func(*format.Game) {
		return func(g *format.Game) {
			if g.Scorer == format.EitherSide {
				g.Freeze = f
			}
		}
	}
	return []Mutant{
		games("target-1", "a game ends a point too early", func(g *format.Game) { g.Target-- }),
		games("target+1", "a game ends a point too late", func(g *format.Game) { g.Target++ }),
		games("win-by-1", "a lead of one wins", func(g *format.Game) { g.WinBy = 1 }),
		games("win-by-3", "a lead of three is needed", func(g *format.Game) { g.WinBy = 3 }),
		games("cap", "a score of target plus four wins by any margin", func(g *format.Game) {
			if g.Cap == 0 {
				g.Cap = g.Target + 4
			}
		}),
		games("no-cap", "there is no score that wins by any margin", func(g *format.Game) { g.Cap = 0 }),
		games("no-first-turn-exception", "both partners serve in the first turn of a game", func(g *format.Game) { g.FirstTurn = g.Servers }),
		games("one-server", "there is no second server", func(g *format.Game) { g.Servers, g.FirstTurn = 1, 1 }),
		games("either-scores", "the receivers score too", func(g *format.Game) { g.Scorer = format.EitherSide }),
		games("server-scores", "only the serving side scores", func(g *format.Game) {
			g.Scorer, g.Freeze = format.ServingSide, format.NoFreeze
		}),
		games("order-swap-on-serve", "partners swap only after a point on their own serve", func(g *format.Game) {
			if g.Sides == format.Doubles {
				g.Order = format.SwapOnServe
			}
		}),
		games("order-parity", "places follow the score everywhere", func(g *format.Game) { g.Order = format.ByParity }),
		games("order-fixed", "partners never move", func(g *format.Game) {
			if g.Sides == format.Doubles && g.Servers == 1 {
				g.Order = format.FixedCourts
			}
		}),
		games("order-half-court", "each player of singles stands by his own score", func(g *format.Game) {
			if g.Sides == format.Singles {
				g.Order = format.HalfCourt
			}
		}),
		games("no-freeze", "receivers score to the end", freeze(format.NoFreeze)),
		games("freeze-win-on-serve", "only the winning point must be won on serve", freeze(format.WinOnServe)),
		games("freeze-each-at-point", "a side one short of the target scores on serve only", freeze(format.EachAtPoint)),
		games("freeze-leader-and-trailer", "leader frozen one short, trailer three short", freeze(format.LeaderAndTrailer)),
		games("freeze-both-at-point", "both are frozen once a side is one short", freeze(format.BothAtPoint)),
		games("end-change-early", "ends change a point too early", func(g *format.Game) {
			if g.ChangeEndsAt > 0 {
				g.ChangeEndsAt--
			}
		}),
		games("end-change-late", "ends change a point too late", func(g *format.Game) {
			if g.ChangeEndsAt > 0 {
				g.ChangeEndsAt++
			}
		}),
		games("end-change-never", "ends never change in mid-game", func(g *format.Game) { g.ChangeEndsAt = 0 }),
		games("end-change-every-game", "ends change in mid-game of every game", func(g *format.Game) { g.ChangeEndsAt = format.Midpoint(g.Target) }),
		games("time-outs+1", "one time-out too many", func(g *format.Game) { g.TimeOuts++ }),
		games("time-outs-1", "one time-out too few", func(g *format.Game) {
			if g.TimeOuts > 0 {
				g.TimeOuts--
			}
		}),
	}
}

func ofMatches() []Mutant {
	return []Mutant{
		data("play-all", "all games are played, though the match is decided", func(f *format.Format) { f.Match.PlayAll = true }),
		data("best-of-5", "a match of three games needs three", func(f *format.Format) {
			if f.Match.Games == 3 {
				f.Match.Games = 5
			}
		}),
		data("best-of-3", "a match of five games needs two", func(f *format.Format) {
			if f.Match.Games == 5 {
				f.Match.Games = 3
			}
		}),
		data("winner-serves-first", "the winner of a game serves first in the next", func(f *format.Format) { f.Match.NextServe = format.Winner }),
		data("loser-serves-first", "the loser of a game serves first in the next", func(f *format.Format) { f.Match.NextServe = format.Loser }),
		data("other-side-serves-first", "first serve alternates where the winner has it", func(f *format.Format) { f.Match.NextServe = format.OtherSide }),
		data("anybody-serves-first", "who serves first in the next game is open", func(f *format.Format) { f.Match.NextServe = format.Chosen }),
		data("ends-stay", "ends do not change between games", func(f *format.Format) { f.Match.ChangeEnds = false }),
	}
}

// ofRulings reads every switch that an event can show otherwise. Those left
// out concern clocks, questions to the referee, who may stop a rally, or how a
// result is written, which no line shows.
func ofRulings() []Mutant {
	var out []Mutant
	for _, r := range []struct {
		name   string
		values []string
	}{
		{"order-error", []string{"stands-warned", "fault", "replay-if-stopped", "corrected"}},
		{"order-window", []string{"none", "overtaken", "next-serve"}},
		{"place-questions", []string{"any", "server-by-servers", "own-score"}},
		{"score-stop", []string{"before-serve", "before-return", "before-third-shot"}},
		{"misled", []string{"no", "yes"}},
		{"receiver-fault", []string{"struck", "returned"}},
		{"late-receiver", []string{"stands", "fault"}},
		{"late-side", []string{"annulled", "stands"}},
		{"both-wrong", []string{"serving-side", "receiving-side"}},
		{"second-offence", []string{"ignored", "counts"}},
		{"fault-again", []string{"faulted", "excused"}},
		{"starter-notice", []string{"note", "fault"}},
		{"defer", []string{"no", "yes"}},
		{"time-out-between", []string{"no", "yes"}},
		{"medical-invalid", []string{"nothing", "warning", "time-out-and-warning"}},
		{"medical-withdrawn", []string{"nothing", "time-out-or-foul"}},
		{"foul-value", []string{"award", "remove"}},
		{"warning-scope", []string{"match", "game"}},
		{"made-foul-counts", []string{"no", "yes"}},
		{"fouls-between", []string{"no", "yes"}},
		{"carried-penalties", []string{"no", "yes"}},
		{"pre-match-penalties", []string{"no", "yes"}},
		{"awarded-point-wins", []string{"no", "yes"}},
		{"removed-point-wins", []string{"no", "yes"}},
		{"penalty-end-change", []string{"no", "yes"}},
		{"fixed-court-foul", []string{"parity", "same-server"}},
		{"swap-foul", []string{"swap", "stay"}},
		{"challenge-lost", []string{"nothing", "time-out-and-warning"}},
		{"challenge-withdrawn", []string{"nothing", "time-out-or-foul"}},
		{"late-game-seconds", []string{"500"}},
		{"late-match-seconds", []string{"800"}},
		{"correctable", []string{"sheet", "last-point"}},
	} {
		for _, v := range r.values {
			out = append(out, reading(r.name, v))
		}
	}
	return out
}

// value returns a field of a line.
func value(line, name string) string {
	_, rest, _ := strings.Cut(line, " "+name+"=")
	v, _, _ := strings.Cut(rest, " ")
	return v
}

// with returns a line with another value of a field.
func with(line, name, v string) string {
	return strings.Replace(line, " "+name+"="+value(line, name)+" ", " "+name+"="+v+" ", 1)
}

func without(effects []string, drop ...string) []string {
	return slices.DeleteFunc(slices.Clone(effects), func(e string) bool { return slices.Contains(drop, e) })
}

func ofAnswers() []Mutant {
	reverse := strings.NewReplacer("12", "21", "21", "12", "1-", "-1", "-1", "1-")
	return []Mutant{
		answered("call-receivers-first", "calls the receivers' score first", func(a answer) answer {
			parts := strings.SplitN(a.Call, "-", 3)
			if len(parts) >= 2 {
				parts[0], parts[1] = parts[1], parts[0]
				a.Call = strings.Join(parts, "-")
			}
			return a
		}),
		answered("call-without-number", "leaves the server number out of the call", func(a answer) answer {
			if parts := strings.Split(a.Call, "-"); len(parts) == 3 {
				a.Call = parts[0] + "-" + parts[1]
			}
			return a
		}),
		answered("call-with-number", "calls a server number where there is none", func(a answer) answer {
			if strings.Count(a.Call, "-") == 1 {
				a.Call += "-1"
			}
			return a
		}),
		answered("call-a-first", "calls A's score first whoever serves", func(a answer) answer {
			if parts := strings.SplitN(a.Call, "-", 3); len(parts) >= 2 && strings.HasPrefix(value(a.Line, "serve"), "B") {
				parts[0], parts[1] = parts[1], parts[0]
				a.Call = strings.Join(parts, "-")
			}
			return a
		}),
		answered("places-mirrored", "right and left are mixed up for both sides", func(a answer) answer {
			a.Line = with(with(a.Line, "A", reverse.Replace(value(a.Line, "A"))), "B", reverse.Replace(value(a.Line, "B")))
			return a
		}),
		answered("receiver-straight", "the player straight across receives", func(a answer) answer {
			r := value(a.Line, "receive")
			if len(r) == 2 && !strings.Contains(value(a.Line, "A"), "-") {
				a.Line = with(a.Line, "receive", r[:1]+map[string]string{"1": "2", "2": "1"}[r[1:]])
			}
			return a
		}),
		answered("court-right-always", "every serve comes from the right", func(a answer) answer {
			a.Line = with(a.Line, "serve", strings.Replace(value(a.Line, "serve"), "@L", "@R", 1))
			return a
		}),
		answered("final-wiped", "the final score is wiped out between games", func(a answer) answer {
			if p := value(a.Line, "phase"); p == "between" || p == "over" {
				a.Line = with(a.Line, "score", "0-0")
			}
			return a
		}),
		answered("winner-swapped", "the match is given to the other side", func(a answer) answer {
			r := value(a.Line, "result")
			if strings.HasPrefix(r, "A") {
				a.Line = with(a.Line, "result", "B"+r[1:])
			} else if strings.HasPrefix(r, "B") {
				a.Line = with(a.Line, "result", "A"+r[1:])
			}
			return a
		}),
		answered("time-outs-left", "counts time-outs left instead of used", func(a answer) answer {
			t := value(a.Line, "timeouts")
			if len(t) == 3 && value(a.Line, "phase") == "play" {
				a.Line = with(a.Line, "timeouts", string('2'-t[0]+'0')+":"+string('2'-t[2]+'0'))
			}
			return a
		}),
		answered("no-help-first", "does not say that help comes first", func(a answer) answer {
			a.Effects = without(a.Effects, "help")
			return a
		}),
		answered("side-out-for-second-server", "announces a side-out where the second server is due", func(a answer) answer {
			for i, e := range a.Effects {
				if e == "second-server" {
					a.Effects = slices.Clone(a.Effects)
					a.Effects[i] = "side-out"
				}
			}
			return a
		}),
		answered("last-time-out-unsaid", "does not say that a time-out was the last", func(a answer) answer {
			a.Effects = without(a.Effects, "last-time-out")
			return a
		}),
		answered("withheld-unsaid", "does not say that a point was withheld", func(a answer) answer {
			a.Effects = without(a.Effects, "withheld")
			return a
		}),
	}
}

func ofCorrections() []Mutant {
	correction := regexp.MustCompile(`^(undo|redo|amend |rule |rewind )`)
	return []Mutant{
		wrapped("rebuilt-without-first-turn-exception", "the opening-turn exception is forgotten when the state is rebuilt from the marks", func(w *wrapper, event string) answer {
			a := w.play(event)
			s := value(a.Line, "serve")
			score := value(a.Line, "score")
			// As it looks from marks: the side that served first has the serve
			// and the others have no point.
			opening := strings.HasPrefix(s, "A") && strings.HasSuffix(score, "-0") || strings.HasPrefix(s, "B") && strings.HasPrefix(score, "0-")
			if a.Refused == "" && correction.MatchString(event) && strings.HasSuffix(s, "#2") && s[:1] == value(a.Line, "first") && opening {
				return withLine(a, with(a.Line, "serve", strings.TrimSuffix(s, "2")+"1"))
			}
			return a
		}),
		wrapped("undo-loses-number", "an undo forgets which server it was", func(w *wrapper, event string) answer {
			a := w.play(event)
			if s := value(a.Line, "serve"); a.Refused == "" && event == "undo" && strings.HasSuffix(s, "#2") {
				return withLine(a, with(a.Line, "serve", strings.TrimSuffix(s, "2")+"1"))
			}
			return a
		}),
		wrapped("undo-does-nothing", "an undo is accepted and changes nothing", func(w *wrapper, event string) answer {
			if event == "undo" {
				a := w.play("undo")
				if a.Refused != "" {
					return a
				}
				return w.play("redo")
			}
			return w.play(event)
		}),
		wrapped("redo-does-nothing", "a redo is accepted and changes nothing", func(w *wrapper, event string) answer {
			if event == "redo" {
				a := w.play("redo")
				if a.Refused != "" {
					return a
				}
				return w.play("undo")
			}
			return w.play(event)
		}),
		wrapped("amend-strikes", "an amended entry is struck instead", func(w *wrapper, event string) answer {
			if parts := strings.Split(event, " "); len(parts) > 2 && parts[0] == "amend" {
				return w.play("amend " + parts[1] + " -")
			}
			return w.play(event)
		}),
		wrapped("rewind-restores-ledger", "a rewind gives time-outs back", func(w *wrapper, event string) answer {
			a := w.play(event)
			if a.Refused == "" && strings.HasPrefix(event, "rewind ") {
				return withLine(a, with(a.Line, "timeouts", "0:0"))
			}
			return a
		}),
		wrapped("ruled-as-repair", "a ruled correction repairs the record without regard to its window", func(w *wrapper, event string) answer {
			if rest, ok := strings.CutPrefix(event, "rule "); ok {
				a := w.play(event)
				if a.Refused == "out-of-window" {
					return w.play("amend " + rest)
				}
				return a
			}
			return w.play(event)
		}),
		wrapped("concussion-undone", "an undo lifts a suspected concussion", func(w *wrapper, event string) answer {
			a := w.play(event)
			if event == "undo" && a.Refused == "not-now" && strings.Contains(value(a.Line, "out"), "c") {
				return answer{Line: with(a.Line, "out", "----"), Call: a.Call}
			}
			return a
		}),
		wrapped("set-keeps-score", "a position that is stated keeps the old score", func(w *wrapper, event string) answer {
			a := w.play(event)
			if strings.HasPrefix(event, "set ") && a.Refused == "" {
				a.Line = with(a.Line, "score", value(w.last.Line, "score"))
			}
			return a
		}),
	}
}

// withLine answers with another line without being there, where the engine would
// refuse to be.
func withLine(a conformance.Answer, line string) conformance.Answer {
	a.Line = line
	return a
}
