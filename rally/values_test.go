package rally_test

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/referee"
	spoken "github.com/evencourt/evencourt/rally/words"
	"github.com/evencourt/evencourt/serviceorder"
)

// handles are what a program holds and asks, and does not print.
var handles = strings.Fields(`serviceorder.Service rally.Board record.Match record.Writer walk.Graph walk.Table words.Language
	referee.Guide referee.Hidden audit.Columns audit.Effort audit.Finals audit.RowReader audit.Season intake.Reader
	explore.GameModel explore.MatchModel explore.TimeLaw`)

// plain are structs with something of their own besides what they show, which is
// printed as well as any struct is.
var plain = strings.Fields(`record.Record audit.Edit audit.Repair audit.Rerun`)

// TestEveryValueHasAString finds types whose values would be printed as numbers that
// mean nothing, or as fields that nobody can see.
func TestEveryValueHasAString(t *testing.T) {
	excused := map[string]bool{}
	for _, name := range append(append([]string{}, handles...), plain...) {
		excused[name] = true
	}
	for _, dir := range library {
		own, _ := page(t, dir)
		for _, typ := range own.Types {
			name, says := path.Base(own.Name)+"."+typ.Name, false
			for _, m := range typ.Methods {
				says = says || m.Name == "String" || m.Name == "Error"
			}
			opaque := false
			for _, s := range typ.Decl.Specs {
				if spec := s.(*ast.TypeSpec); spec.Name.Name == typ.Name && !spec.Assign.IsValid() {
					switch under := spec.Type.(type) {
					case *ast.Ident:
						opaque = strings.HasPrefix(under.Name, "uint")
					case *ast.StructType:
						opaque = under.Incomplete
					}
				}
			}
			require.Equal(t, opaque && !says, excused[name], name)
		}
	}
}

// TestZeroValuesAreDocumented asks the page of every type that is more than its fields
// what its zero value is, or what makes one.
func TestZeroValuesAreDocumented(t *testing.T) {
	says := regexp.MustCompile(`(?i)\bzero\b|\bmakes? (one|it|them)\b`)
	asked := 0
	for _, dir := range library {
		own, _ := page(t, dir)
		for _, typ := range own.Types {
			for _, s := range typ.Decl.Specs {
				spec := s.(*ast.TypeSpec)
				if under, is := spec.Type.(*ast.StructType); !is || !under.Incomplete || slices.Contains(plain, own.Name+"."+typ.Name) {
					continue
				}
				asked++
				if !says.MatchString(strings.Join(strings.Fields(typ.Doc), " ")) {
					t.Errorf("%s.%s: what is its zero value, and what makes one?", own.Name, typ.Name)
				}
			}
		}
	}
	require.GreaterOrEqual(t, asked, len(handles))
}

// TestValuesArePrinted prints values as a log of a program would.
func TestValuesArePrinted(t *testing.T) {
	rules := rally.MustCompile(mustParse("sideout-doubles-11-of3@2026"))
	l := rally.NewLog(rules, rules.New(rally.A))
	enter(t, l, "A", "B", "tB")
	_, did, _, by := rules.Decide(l.State(), rally.OfSide(rally.TimeOut, rally.A))
	called, _ := rules.Call(l.State())
	over := rally.NewLog(rules, rules.New(rally.A))
	enter(t, over, "A", "retB")
	var steps []rally.Step
	for st := range l.Each {
		steps = append(steps, st)
	}
	guide := referee.New(rules, harbour)
	incident := rally.Incident{Mistakes: rally.Mistakes(0).With(rally.WrongServer), Reach: rally.Struck, Stopper: rally.ByReferee}
	singles := rally.MustCompile(mustParse("sideout-singles-11@2026"))
	single, _, _ := singles.Apply(singles.New(rally.B), rally.RallyTo(rally.B))
	for _, c := range []struct {
		value any
		want  string
	}{
		{l.State(), "game=1 won=0:0 score=1-0 phase=play"},
		{rally.State{}, "game=0 won=0:0 score=0-0 phase=before"},
		{l, "sideout-doubles-11-of3@2026 entries=3 game=1 won=0:0 score=1-0 phase=play"},
		{rally.NewLog(rules, rally.State{}), "sideout-doubles-11-of3@2026 entries=0 game=0 won=0:0 score=0-0 phase=before"},
		{rules, "sideout-doubles-11-of3@2026"},
		{rules.Format(), "sideout-doubles-11-of3@2026"},
		{rules.Places(l.State()), "B1@R#1 to A2"},
		{singles.Places(single), "B1@L to A1"},
		{serviceorder.Places{}, "-"},
		{l.State().Order(), "B#1"},
		{called, "0-1-1"},
		{rally.Call{}, "0-0"},
		{steps[1], "2 B side-out"},
		{steps[2], "3 tB break,time-out-charged"},
		{rally.Starters{rally.A1, rally.B2}, "A1B2"},
		{incident, "server,struck,byref"},
		{rally.Incident{}, "-"},
		{rally.EventOf(rally.Stop).WithIncident(incident), "stop?server,struck,byref"},
		{rally.Event(0), "?"},
		{rally.Entry{}, "?"},
		{did, "break,time-out-charged"},
		{rally.Effects(0), "-"},
		{by, "time-out-again"},
		{rally.Grounds(0), "-"},
		{rally.Grounds(clause.OrderFault) | rally.Grounds(clause.WindowNextServe)<<16, "order-fault,window-next-serve"},
		{rules.View(l.State(), rally.A), "A left, B right: B1 R right far to A2 R left near"},
		{rally.View{}, "A left, B left"},
		{l.Result(), "- 0:0, 1-0 unfinished"},
		{over.Result(), "retired A 0:0, 11-0 broken-off 11-0 unplayed"},
		{rally.MatchResult{}, "- 0:0"},
		{over.Result().Games[0], "1: 11-0 broken-off"},
		{harbour, `Harbour "Lane" <ladder>: Quay - Priya Raman`},
		{rally.Setup{}, "A - B"},
		{rally.NewBoard(rally.NewLog(rules, rally.State{}), rally.Setup{}).Snapshot(-1), "sideout-doubles-11-of3@2026 " + rules.Line(rally.State{})},
		{rally.KindSet(0), "-"},
		{rally.Side(7), "?"},
		{rally.Person(9), "?"},
	} {
		require.Equal(t, c.want, fmt.Sprint(c.value), "%T", c.value)
	}
	for _, v := range []any{rules.Why(l.State(), rally.EventOf(rally.TimeIn)), l.Changes(1), guide.HandOver(l), guide.Duties(l.State(), referee.BeforeCall),
		rules.Format().Rulings, rules.Format().Game, rules.Format().Match, record.Request{}, record.Done{}, spoken.New("event.none"), format.Source{}} {
		require.NotRegexp(t, `0x[0-9a-f]{6}|%!`, fmt.Sprint(v), "%T prints an address", v)
	}
}

func TestGroundsReadBack(t *testing.T) {
	for _, want := range []rally.Grounds{0, clause.OrderFault, rally.Grounds(clause.OrderFault) | rally.Grounds(clause.WindowNextServe)<<16} {
		raw, err := json.Marshal(want)
		require.NoError(t, err)
		var got rally.Grounds
		require.NoError(t, json.Unmarshal(raw, &got))
		require.Equal(t, want, got)
	}
	var got rally.Grounds
	for _, bad := range []string{"", "?", "order-fault,", "order-fault,order-fault,order-fault"} {
		require.Error(t, got.UnmarshalText([]byte(bad)), bad)
	}
}

// TestWhatWasMeant asks for a hint for every text that a newcomer tries.
func TestWhatWasMeant(t *testing.T) {
	for text, want := range map[string]string{
		"a":       `did you mean "A"?`,
		"TB":      `did you mean "tB"?`,
		"gA1b1":   `did you mean "gA1B1"?`,
		"Ends":    `did you mean "ends"?`,
		"Undo":    `did you mean "undo"?`,
		"timeout": `time-out is written as "tA"`,
		"stop":    `stop is written as "stop?byref"`,
		"tC":      `time-out is written as "tA"`,
		"mA3":     `medical-request is written as "mA1"`,
		"lateA":   `late-arrival is written as "lateA:0"`,
		"point":   `events are written as "A", "tB", "mA1", "gA1B1", "ends"`,
	} {
		_, err := rally.ParseEvent(text)
		var bad *rally.EventError
		require.ErrorAs(t, err, &bad, text)
		require.Equal(t, "no such event; "+want, bad.Reason, text)
	}
	_, err := rally.ParseEvent(strings.Repeat("Time-out", 1<<16))
	require.Less(t, len(err.Error()), 200)
}
