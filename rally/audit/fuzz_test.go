package audit_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/audit"
	"github.com/evencourt/evencourt/rally/words"
)

// bounded requires that an error is typed, names a place and stays short,
// whatever was read.
func bounded(t *testing.T, err error) {
	t.Helper()
	var input *audit.InputError
	if !errors.As(err, &input) {
		t.Fatalf("%T: %v", err, err)
	}
	if text := err.Error(); len(text) > 700 || strings.ContainsAny(text, "\n\x00\x1b") {
		t.Fatalf("%d bytes: %.200q", len(text), text)
	}
}

// says requires that findings are known, placed and said shortly.
func says(t *testing.T, found []audit.Finding) {
	t.Helper()
	for i := range found {
		f := &found[i]
		if f.Code == audit.NoCode || f.Severity != f.Code.Severity() {
			t.Fatalf("%+v", f)
		}
		if err := f.Text().Check(); err != nil || words.English().Say(f.Text()) == "" {
			t.Fatalf("%+v: %v", f, err)
		}
	}
}

func FuzzReadHeader(f *testing.F) {
	for _, seed := range []string{"match,date,round,event,format,a1,a1_name,game1,game2,game3,winner,status,by,time_outs1", "games", "game1_a,game1_b", "\ufeffMatch, A1 name ,scores",
		"match,court", "games,games", "note,proposed,won", ""} {
		f.Add(seed)
	}
	known := audit.ColumnNames()
	f.Fuzz(func(t *testing.T, text string) {
		header := strings.Split(text, ",")
		columns, err := audit.ReadHeader(header)
		if err != nil {
			if columns != nil {
				t.Fatal("half-read")
			}
			bounded(t, err)
			return
		}
		// A row of a header that was read is read too, whatever it says.
		r := audit.RowReader{Columns: columns}
		if _, ok, found := r.Read(make([]string, len(header)), audit.Place{Line: 2}, nil); !ok || len(found) > 0 {
			t.Fatalf("an empty row: %v", brief(found))
		}
		// Every name is one that is documented, another name for it, or passed over.
		for _, h := range header {
			name := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))), " ", "_")
			if !slices.Contains(known, name) && !slices.Contains([]string{"", "id", "score", "scores"}, name) && !strings.HasPrefix(name, "note") && !strings.HasPrefix(name, "proposed") {
				t.Fatalf("%q was taken", h)
			}
		}
	})
}

// Every cell is accounted for: a row either becomes a match whose numbers are
// those of the cells, or a finding names the field.
func FuzzReadRow(f *testing.F) {
	columns, err := audit.ReadHeader(strings.Split("match,date,a1,a1_name,b1,game1,game2_a,game2_b,games,won,totals,winner,status,by,time_outs1", ","))
	require.NoError(f, err)
	for _, seed := range []string{"m|2026-09-12|p1|Imani Okafor|p3|11-8|7|11||||A|||1-0", "m||||||||11-8 7-11 11-9|2-1|29-28|A|played||", "m|||||9-Nov||||||||| ",
		"||||||||||||||", "m|x|-|n/a|–|11–8|?|9|1-2-3|2|3|C|retired|B|9", strings.Repeat("|", 13), "m|||1|||||1-8|UU2-1|29-28|A|played||"} {
		f.Add(seed)
	}
	finals := newFinals(f, "sideout-doubles-11-of3")
	f.Fuzz(func(t *testing.T, text string) {
		cells := strings.Split(text, "|")
		r := audit.RowReader{Columns: columns}
		m, ok, found := r.Read(cells, audit.Place{Line: 3}, nil)
		says(t, found)
		if len(cells) != 15 {
			if ok || len(found) != 1 || found[0].Code != "row-unreadable" {
				t.Fatalf("%d cells: %v", len(cells), brief(found))
			}
			return
		}
		// Without a score, status or who it was by, a row is read in part; sums
		// are missed only where they are all that there is.
		lost := slices.ContainsFunc(found, func(f audit.Finding) bool {
			return strings.HasPrefix(f.Field, "game") || f.Field == "status" || f.Field == "by" ||
				len(m.Games) == 0 && (f.Field == "won" || f.Field == "totals")
		})
		if ok == lost {
			t.Fatalf("ok %v with %v", ok, brief(found))
		}
		for _, f := range found {
			if f.Line != 3 || f.Field == "" || len(words.English().Say(f.Text())) > 400 {
				t.Fatalf("%+v", f)
			}
		}
		if !ok {
			return
		}
		for i, g := range m.Games {
			if g != audit.NoScore() && (min(g[0], g[1]) < 0 || max(g[0], g[1]) > 999) {
				t.Fatalf("game %d: %v", i+1, g)
			}
		}
		says(t, finals.Check(m, audit.Place{Line: 3}, nil))
		// Written and read again it is the same.
		if len(m.Games) > 0 && !slices.Contains(m.Games, audit.NoScore()) {
			again := make([]string, 15)
			again[8] = audit.GamesText(m.Games)
			games := slices.Clone(m.Games)
			if m, ok, _ := r.Read(again, audit.Place{}, nil); !ok || !slices.Equal(games, m.Games) {
				t.Fatalf("%v became %v", games, m.Games)
			}
		}
	})
}

// A line is read whole or not at all; what was read can be audited, and its
// findings are within its rows.
func FuzzReadLine(f *testing.F) {
	for _, seed := range []string{
		`{"match":"L1","format":"sideout-doubles-11-of3","sides":[{"players":["p1","p2"],"names":["Imani Okafor","Tomasz Zielinski"]},{"players":["p3","p4"]}],"games":[[11,8],[7,11],[11,9]],"winner":"A","time_outs":[[1,0]]}`,
		`{"match":"L2","status":"retired","by":"B","games":[[11,9],[5,10],null],"won":[2,0],"totals":[22,9]}`,
		`{"match":"L3","format":"sideout-doubles-11","first":"A","starters":"A1B1","finals":[[11,0]],"rows":[{"n":1,"winner":"A","server":"A1","receiver":"B1","call":"0-0-2","score":[1,0]},{"n":2,"winner":"B"},{"n":3,"undo":true},{"event":"tA","ms":5},{"serving":"B"}]}`,
		`{"match":"L4","format":"rally-doubles-11","end_changes":true,"complete":true,"rows":[{"game":1,"winner":"B"},{"game":1},{"game":2,"server":"B"}]}`,
		`{"games":[[11]]}`, `null`, `[1]`, `{"match":"m"}{}`, `{"rows":[{"event":"undo"}],"format":"sideout-doubles-11"}`,
	} {
		f.Add([]byte(seed))
	}
	finals := newFinals(f, "sideout-doubles-11-of3")
	f.Fuzz(func(t *testing.T, line []byte) {
		m, l, err := audit.ReadLine(line, 9)
		if err != nil {
			if m != nil || l != nil {
				t.Fatal("half-read")
			}
			bounded(t, err)
			return
		}
		for _, list := range [][]audit.Score{m.Games, m.TimeOuts} {
			for _, g := range list {
				if g != audit.NoScore() && (min(g[0], g[1]) < 0 || max(g[0], g[1]) > 999) {
					t.Fatalf("%v", g)
				}
			}
		}
		says(t, finals.Check(m, audit.Place{Line: 9}, nil))
		if l == nil {
			// Numbers of the text and of the match are the same: written and
			// read again nothing changes.
			text, err := json.Marshal(m)
			if err != nil {
				t.Fatal(err)
			}
			again, _, err := audit.ReadLine(text, 9)
			if err != nil || !cmp.Equal(m, again) {
				t.Fatalf("%s: %v %s", text, err, cmp.Diff(m, again))
			}
			return
		}
		if len(l.Rows) > 6 {
			return // a longer search is slow, and others measure it
		}
		rep := l.Audit(audit.Place{Line: 9})
		says(t, rep.Findings)
		for _, f := range rep.Findings {
			if f.Rally < 0 || f.Rally > len(l.Rows) || f.Line != 9 {
				t.Fatalf("%+v of %d rows", f, len(l.Rows))
			}
		}
		// Every row is accounted for: compared (unless a winner that nothing
		// tells ended that), of another match, delivered twice, or taken back
		// with the row that does so.
		left := len(l.Rows) - rep.Rerun.Compared
		for _, f := range rep.Findings {
			switch {
			case f.Code == "log-other-match":
				left -= f.Args.Number("rows")
			case f.Code == "log-undo":
				left -= 2
			case f.Code == "log-event-refused" && f.Args.Of("reason").(words.Text).Code == "undone.nothing":
				left--
			}
		}
		if left < 0 || left > count(rep.Findings)["log-duplicate"] && !rep.Rerun.Collapsed {
			t.Fatalf("%d rows, %d unaccounted for: %v", len(l.Rows), left, brief(rep.Findings))
		}
	})
}

// A scoring that is read is one by which finals can be audited, and is read
// again from what it writes.
func FuzzReadScoring(f *testing.F) {
	for _, seed := range []string{`{"target":11,"win_by":2,"games":3}`, `{"target":25,"win_by":2,"games":5,"last":{"target":15,"win_by":2}}`,
		`{"target":21,"win_by":2,"cap":30,"games":3,"time_outs":0}`, `{"target":11,"win_by":2,"games":4,"play_all":true}`, `{}`, `[]`, ``, `{"target":1e3}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := audit.ReadScoring(text)
		if err != nil {
			bounded(t, err)
			return
		}
		finals, err := audit.NewFinalsOf(s)
		if err != nil {
			t.Fatal(err)
		}
		if code := finals.Game(1, audit.Score{s.Target, s.Target - s.WinBy}); code != audit.NoCode && s.Games > 1 {
			t.Fatalf("%+v: the target by the margin is %v", s, code)
		}
		again, err := json.Marshal(s)
		if err != nil {
			t.Fatal(err)
		}
		if twice, err := audit.ReadScoring(again); err != nil || !cmp.Equal(s, twice) {
			t.Fatalf("%s: %v", again, err)
		}
	})
}

// A date is read as the two scores that its day and month can be, and never
// as anything past a day of a month.
func FuzzScoresOfDate(f *testing.F) {
	for _, seed := range []string{"9-Nov", "11/9/2026", "45239", "2026-11-09T00:00:00", "09.11.24", "Nov-15", "11-Nov", "x", "9-Nov-Dec", "2026-11-09 10:00", "Nov--151", "2000-11-01"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := audit.ScoresOfDate(text)
		if len(got) > 4 {
			t.Fatalf("%q: %v", text, got)
		}
		for _, s := range got {
			if !slices.Contains(got, audit.Score{s[1], s[0]}) {
				t.Fatalf("%q: %v in one order only", text, s)
			}
			if low, high := min(s[0], s[1]), max(s[0], s[1]); low > 12 || low < 0 || high > 31 {
				t.Fatalf("%q: %v is no month and day", text, s)
			}
		}
	})
}

// The texts of enums are read back from what they write, and everything else
// is an error.
func FuzzTexts(f *testing.F) {
	for _, c := range audit.FindingCodes() {
		f.Add(string(c))
	}
	for _, seed := range []string{"A", "B", "", "retired", "error", "league-points", "pair", "games", "x"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		var code audit.FindingCode
		if err := code.UnmarshalText([]byte(text)); err != nil {
			bounded(t, err)
		} else if string(code) != text || code.Severity() == 0 {
			t.Fatalf("%q became %q", text, code)
		}
		var (
			severity audit.Severity
			who      audit.MaybeSide
			status   audit.Status
			what     audit.Criterion
			by       audit.By
			unit     audit.Unit
		)
		for _, into := range []interface {
			UnmarshalText([]byte) error
			MarshalText() ([]byte, error)
		}{&severity, &who, &status, &what, &by, &unit} {
			if err := into.UnmarshalText([]byte(text)); err != nil {
				bounded(t, err)
			} else if back, err := into.MarshalText(); err != nil || string(back) != text {
				t.Fatalf("%q became %q", text, back)
			}
		}
	})
}

// Names and ids of any bytes: noticed or not, they are never merged, and what
// is said of them is what was given.
func FuzzSeason(f *testing.F) {
	for _, seed := range []string{"Imani Okafor|Imani Okafur|p1|p9", "Mei-Lin Castellanos|mei lin castellanos|p5|p5", "Zieliński|Zielinski|p2|p2", "\xff\xfeab|\xff\xfea|1|2", "|||"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		parts := strings.SplitN(text+"|||", "|", 4)
		s := audit.Season{Most: 2}
		var found []audit.Finding
		for i := range 4 {
			m := audit.ReportedMatch{ID: parts[2+i&1], Round: parts[3], Sides: [2]audit.Entrant{{Players: [2]string{parts[2]}, Names: [2]string{parts[0]}}, {Players: [2]string{parts[3]}, Names: [2]string{parts[1]}}}}
			found = s.Add(&m, audit.Place{Line: i + 1}, found)
		}
		says(t, found)
		for _, f := range found {
			switch f.Code {
			case "name-near":
				if a, b := f.Args.Plain("name"), f.Args.Plain("other"); a == b || a != parts[0] && a != parts[1] {
					t.Fatalf("%+v", f)
				}
			case "same-match-differs", "same-match-agrees", "same-pairing-twice", "sides-mirrored":
				if n := lineOf(&f); n < 1 || n >= f.Line {
					t.Fatalf("%+v", f)
				}
			case "name-two-ids":
				if parts[2] == parts[3] {
					t.Fatalf("%+v", f)
				}
			}
		}
	})
}

// SideMarks of any kind are read within bounds, and every state that they allow
// has the points and the notes that are marked.
func FuzzSheet(f *testing.F) {
	for _, seed := range [][]byte{{2, 2, 0xff, 1, 1, 1, 2, 0xff, 2, 0xff, 4}, {0xff, 0xff, 0xff}, {1, 2, 0xff, 0xff, 0, 0xff, 1}, {2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 0xff, 0xff}, {2, 0xff, 1, 0xff, 1, 1, 0xff, 1, 0xff, 1, 1, 1}} {
		f.Add(seed, byte(len(seed)))
	}
	r := rules(f, "sideout-doubles-11")
	f.Fuzz(func(t *testing.T, marks []byte, known byte) {
		parts := bytes.SplitN(marks, []byte{0xff}, 5)
		for len(parts) < 5 {
			parts = append(parts, nil)
		}
		if len(parts[0])+len(parts[1]) > 12 {
			return // longer ones are as many states, and slower
		}
		s := audit.Sheet{Rules: r}
		for side := range s.Sides {
			s.Sides[side].Servers = parts[side]
			if known&1 != 0 {
				s.Sides[side].Ends = []int{}
			}
			for _, own := range parts[2+side] {
				s.Sides[side].Ends = append(s.Sides[side].Ends, int(int8(own)))
			}
		}
		for i := 0; i+2 < len(parts[4]); i += 3 {
			s.TimeOuts = append(s.TimeOuts, audit.TimeOutNote{Score: audit.Score{int(parts[4][i]), int(parts[4][i+1])}, Number: int(parts[4][i+2])})
		}
		s.First, s.Serving, s.Number = audit.MaybeSide(known>>1&3), audit.MaybeSide(known>>3&3), int(known>>5&3)
		got := s.Read(audit.Place{})
		says(t, got.Findings)
		if (len(got.States) == 0) != audit.Has(got.Findings, "sheet-impossible") || (len(got.States) > 1) != (got.Question != 0) {
			t.Fatalf("%d states, question %v: %v", len(got.States), got.Question, brief(got.Findings))
		}
		for i, state := range got.States {
			if state.Score(0) != len(parts[0]) || state.Score(1) != len(parts[1]) || slices.Contains(got.States[:i], state) {
				t.Fatalf("%s", r.Line(state))
			}
			if side, ok := s.Serving.Side(); ok {
				if serving, playing := state.Serving(); !playing || serving != side {
					t.Fatalf("%s", r.Line(state))
				}
			}
		}
	})
}
