package format_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
)

func named(t *testing.T, id string) format.Format {
	t.Helper()
	f, err := format.Parse(id)
	require.NoError(t, err)
	return f
}

// switchNamed returns the switch with a name.
func switchNamed(name string) (s format.Switch) {
	if err := s.UnmarshalText([]byte(name)); err != nil {
		panic(err)
	}
	return s
}

func TestEveryNamedFormatIsValidAndRoundTrips(t *testing.T) {
	n := 0
	for _, shape := range format.Shapes() {
		editions := format.EditionsOf(shape)
		require.NotEmpty(t, editions, shape)
		for _, e := range editions {
			f, err := format.Named(shape, e)
			require.NoError(t, err)
			require.NoError(t, f.Validate(), "%s@%s", shape, e)
			require.Equal(t, shape+"@"+e.String(), f.ID())
			got, err := format.Parse(f.ID())
			require.NoError(t, err)
			require.Empty(t, cmp.Diff(f, got))
			n++
		}
	}
	require.Greater(t, n, 300)
}

func TestValidateNamesTheField(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*format.Format)
		field string
	}{
		{"no sides", func(f *format.Format) { f.Game.Sides = 0 }, "game.sides"},
		{"unknown scorer", func(f *format.Format) { f.Game.Scorer = 9 }, "game.scorer"},
		{"unknown order", func(f *format.Format) { f.Game.Order = 0 }, "game.order"},
		{"three servers", func(f *format.Format) { f.Game.Servers = 3 }, "game.servers"},
		{"first turn longer than a turn", func(f *format.Format) { f.Game.FirstTurn = 3 }, "game.first_turn"},
		{"two servers in singles", func(f *format.Format) { f.Game.Sides = format.Singles }, "game.servers"},
		{"two servers on fixed courts", func(f *format.Format) { f.Game.Order = format.FixedCourts }, "game.servers"},
		{"half courts for four", func(f *format.Format) { f.Game.Order = format.HalfCourt }, "game.order"},
		{"no target", func(f *format.Format) { f.Game.Target = 0 }, "game.target"},
		{"target a state cannot hold", func(f *format.Format) { f.Game.Target = 251 }, "game.target"},
		{"no margin", func(f *format.Format) { f.Game.WinBy = 0 }, "game.win_by"},
		{"cap below target", func(f *format.Format) { f.Game.Cap = 10 }, "game.cap"},
		{"freeze that freezes nobody", func(f *format.Format) { f.Game.Freeze = format.EachAtPoint }, "game.freeze"},
		{"unknown freeze", func(f *format.Format) { f.Game.Freeze = 77 }, "game.freeze"},
		{"ends at the target", func(f *format.Format) { f.Game.ChangeEndsAt = 11 }, "game.change_ends_at"},
		{"too many time-outs", func(f *format.Format) { f.Game.TimeOuts = 16 }, "game.time_outs"},
		{"last game of other sides", func(f *format.Format) { f.Last.Sides, f.Last.Servers, f.Last.FirstTurn = format.Singles, 1, 1 }, "last.sides"},
		{"last game impossible", func(f *format.Format) { f.Last.Target = 0 }, "last.target"},
		{"no games", func(f *format.Format) { f.Match.Games = 0 }, "match.games"},
		{"even match nobody need win", func(f *format.Format) { f.Match.Games = 2 }, "match.games"},
		{"unknown next serve", func(f *format.Format) { f.Match.NextServe = 0 }, "match.next_serve"},
		{"single game unlike the last", func(f *format.Format) { f.Match.Games = 1 }, "last"},
		{"unknown edition", func(f *format.Format) { f.Edition = 99 }, "edition"},
		{"reading that does not exist", func(f *format.Format) { f.Rulings[switchNamed("order-error")] = 9 }, "rulings.order-error"},
		{"number out of range", func(f *format.Format) { f.Rulings[switchNamed("time-out-seconds")] = 4000 }, "rulings.time-out-seconds"},
		{"name of another game", func(f *format.Format) {
			*f = named(t, "sideout-doubles-15-of3@2025")
			f.Shape = "sideout-doubles-11-of3"
		}, "shape"},
		{"no rulings", func(f *format.Format) { f.Rulings = format.Rulings{} }, "rulings"},
		{"name that does not exist", func(f *format.Format) { f.Shape = "sideout-triples-11" }, "shape"},
		{"pair that never existed", func(f *format.Format) {
			*f = named(t, "rally-doubles-11-of3@2026")
			f.Edition = format.E2024
		}, "edition"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			f := named(t, "sideout-doubles-11-of3@2025")
			require.NoError(t, f.Validate())
			test.spoil(&f)
			var bad *format.Error
			require.ErrorAs(t, f.Validate(), &bad)
			require.Equal(t, test.field, bad.Field, bad.Error())
			require.NotEmpty(t, bad.Reason)
			require.Empty(t, f.ID(), "an invalid format has no id")
		})
	}
}

func TestParseRefuses(t *testing.T) {
	tests := []struct{ name, id, field string }{
		{"nothing", "", "shape"},
		{"unknown shape", "doubles", "shape"},
		{"unknown edition", "sideout-doubles-11@1066", "edition"},
		{"rally option before it existed", "rally-doubles-11@2024", "edition"},
		{"badminton under a pickleball edition", "badminton-doubles-21-of3@2025", "edition"},
		{"pickleball under badminton laws", "sideout-doubles-11@badminton-2006", "edition"},
		{"unknown switch", "sideout-doubles-11@2025+weather=fine", "switch"},
		{"unknown reading", "sideout-doubles-11@2025+foul-value=double", "rulings.foul-value"},
		{"reading without a value", "sideout-doubles-11@2025+foul-value", "foul-value"},
		{"target that is no number", "sideout-doubles-11@2025+target=many", "target"},
		{"target out of range", "sideout-doubles-11@2025+target=300", "target"},
		{"target that is none", "sideout-doubles-11@2025+target=0", "game.target"},
		{"field set twice", "sideout-doubles-11@2025+target=13+target=15", "target"},
		{"unknown order", "sideout-doubles-11@2025+order=random", "order"},
		{"number of a match for the last game", "sideout-doubles-11@2025+last-games=3", "switch"},
		{"number out of range", "sideout-doubles-11@2025+time-out-seconds=99999", "rulings.time-out-seconds"},
		{"window of a fault that is none", "sideout-doubles-11@2025+order-window=sheet", "rulings.order-window"},
		{"offence of another text", "sideout-doubles-11@2025+second-offence=counts", "rulings.second-offence"},
		{"fixed courts that are not there", "sideout-doubles-11@2025+fixed-court-foul=same-server", "rulings.fixed-court-foul"},
		{"partners who do not swap", "fixed-doubles-21@2025+swap-foul=stay", "rulings.swap-foul"},
		{"time-outs of another target", "sideout-doubles-11@2025+time-outs-15=3", "rulings.time-outs-15"},
		{"word for a number that is not called", "rally-doubles-15@2025+opening-word=start", "rulings.opening-word"},
		{"penalties where there are none", "badminton-doubles-21-of3+made-foul-counts=no", "rulings.made-foul-counts"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := format.Parse(test.id)
			var bad *format.Error
			require.ErrorAs(t, err, &bad)
			require.Equal(t, test.field, bad.Field, bad.Error())
		})
	}
}

func TestReadingsAreInTheID(t *testing.T) {
	f := named(t, "fixed-doubles-21@2025+fixed-court-foul=same-server+time-out-seconds=90")
	require.Equal(t, "fixed-doubles-21@2025+time-out-seconds=90+fixed-court-foul=same-server", f.ID())
	require.Equal(t, "same-server", f.Rulings.Text(switchNamed("fixed-court-foul")))
	require.Equal(t, "90", f.Rulings.Text(switchNamed("time-out-seconds")))
}

// A setting is asked for if what it needs is set with it.
func TestSettingsThatNeedAnother(t *testing.T) {
	f := named(t, "sideout-doubles-11@2025+order-error=fault+order-window=sheet")
	require.Equal(t, "sideout-doubles-11@2025+order-error=fault+order-window=sheet", f.ID())
	f.Rulings.Take(clause.OrderReplay)
	require.EqualError(t, f.Validate(), "format: rulings.order-window: is asked only under order-error=fault")
}

func TestReadingOfTheTimeOutTable(t *testing.T) {
	f := named(t, "sideout-doubles-15@2026+time-outs-15=3")
	require.Equal(t, uint8(3), f.Game.TimeOuts)
	require.NoError(t, f.Validate())
	require.Equal(t, "sideout-doubles-15@2026+time-outs-15=3", f.ID())
}

func TestDefaultEdition(t *testing.T) {
	require.Equal(t, format.E2026, format.Default)
	require.Equal(t, format.Default, named(t, "sideout-doubles-11").Edition)
	require.Equal(t, format.Badminton2006, named(t, "badminton-singles-21-of3").Edition)
}

// Rule 12.B.1.c of 2025 and 14.A.2 of 2026 (read): in 2025 the winning point
// counts only on own serve, from 2026 every rally ends with a point.
func TestRallyOptionByEdition(t *testing.T) {
	require.Equal(t, format.WinOnServe, named(t, "rally-singles-15@2025").Game.Freeze)
	require.Equal(t, format.NoFreeze, named(t, "rally-singles-15@2026").Game.Freeze)
	require.Equal(t, []format.Edition{format.E2025, format.E2026}, format.EditionsOf("rally-singles-15")[:2])
}

// Rules 5.B.3 and 12.B.1.a of 2025 (read): ends change at 6 of 11, 8 of 15,
// 11 of 21 and 4 of 7; rule 5.B.4: only in the last game of a match.
func TestMidpoints(t *testing.T) {
	for target, want := range map[uint8]uint8{7: 4, 11: 6, 15: 8, 21: 11, 25: 13} {
		require.Equal(t, want, format.Midpoint(target))
	}
	f := named(t, "sideout-doubles-15-of3@2025")
	require.Zero(t, f.Game.ChangeEndsAt)
	require.Equal(t, uint8(8), f.Last.ChangeEndsAt)
	require.Equal(t, uint8(8), f.Of(3).ChangeEndsAt)
	require.Zero(t, f.Of(2).ChangeEndsAt)
}

// Rule 10.A of 2020 to 2025 (read): two time-outs to 11 and 15, three to 21.
// Two to 7 is open, other targets are derived.
func TestTimeOutTable(t *testing.T) {
	for target, want := range map[uint8]uint8{7: 2, 9: 2, 11: 2, 15: 2, 18: 2, 21: 3, 25: 3} {
		r := format.RulingsOf(format.E2025)
		require.EqualValues(t, want, r[format.TimeOutSwitch(target)], "target %d", target)
	}
	require.Zero(t, format.RulingsOf(format.Badminton2006)[format.TimeOutSwitch(21)])
}

// Laws of Badminton 7.2, 7.4, 7.5 (read): 30 finals to 21 with a cap of 30;
// officiating texts give 11-0 … 11-9, 12-10, 13-11 … for 11 by two.
func TestFinals(t *testing.T) {
	badminton := named(t, "badminton-singles-21-of3").Game
	count := 0
	for a := 0; a < 256; a++ {
		for b := 0; b < 256; b++ {
			if badminton.Final(uint8(a), uint8(b)) {
				count++
			}
		}
	}
	require.Equal(t, 30, count)
	g := named(t, "sideout-doubles-11@2025").Game
	for _, legal := range [][2]uint8{{11, 0}, {11, 9}, {12, 10}, {15, 13}, {21, 19}} {
		require.True(t, g.Final(legal[0], legal[1]), "%v", legal)
	}
	for _, bad := range [][2]uint8{{11, 10}, {12, 9}, {13, 10}, {12, 11}, {14, 11}, {10, 8}, {9, 11}, {15, 12}, {11, 11}, {0, 0}} {
		require.False(t, g.Final(bad[0], bad[1]), "%v", bad)
	}
}

func TestFreezes(t *testing.T) {
	tests := []struct {
		id         string
		own, other uint8
		frozen     bool
	}{
		{"fixed-doubles-21", 20, 0, false},
		{"fixed-doubles-21-win-on-serve", 20, 19, true},
		{"fixed-doubles-21-win-on-serve", 20, 20, false},
		{"fixed-doubles-21-each-at-point", 20, 20, true},
		{"fixed-doubles-21-each-at-point", 19, 20, false},
		{"fixed-doubles-21-leader-and-trailer", 18, 20, true},
		{"fixed-doubles-21-leader-and-trailer", 17, 20, false},
		{"fixed-doubles-21-leader-and-trailer", 18, 19, false},
		{"fixed-doubles-21-both-at-point", 0, 20, true},
		{"fixed-doubles-21-both-at-point", 19, 19, false},
		{"fixed-doubles-25-win-on-serve", 24, 24, false},
		{"fixed-doubles-25-win-on-serve", 25, 24, true},
	}
	for _, test := range tests {
		g := named(t, test.id).Game
		require.Equal(t, test.frozen, g.Frozen(test.own, test.other), "%s %d-%d", test.id, test.own, test.other)
	}
}

func TestEditionOn(t *testing.T) {
	all := format.Editions(format.Pickleball)
	newest := all[len(all)-1]
	tests := []struct {
		document         format.Document
		year, month, day int
		want             format.Edition
	}{
		{format.Pickleball, 2023, 8, 13, format.E2023},
		{format.Pickleball, 2023, 8, 14, format.E2023Aug},
		{format.Pickleball, 2023, 12, 31, format.E2023Aug},
		{format.Pickleball, 2024, 1, 1, format.E2024},
		{format.Pickleball, 2024, 2, 29, format.E2024},
		{format.Pickleball, 2016, 6, 1, format.E2013},
		{format.Pickleball, 9999, 1, 1, newest},
		{format.Badminton, 2005, 12, 31, format.BadmintonTo2005},
		{format.Badminton, 2006, 8, 1, format.Badminton2006},
	}
	for _, test := range tests {
		got, err := format.EditionOn(test.document, test.year, test.month, test.day)
		require.NoError(t, err)
		require.Equal(t, test.want, got, "%d-%d-%d", test.year, test.month, test.day)
	}
	for _, bad := range [][3]int{{2023, 2, 29}, {2023, 13, 1}, {2023, 4, 31}, {1998, 12, 31}, {0, 1, 1}} {
		_, err := format.EditionOn(format.Pickleball, bad[0], bad[1], bad[2])
		var wrong *format.Error
		require.ErrorAs(t, err, &wrong, "%v", bad)
	}
	_, err := format.EditionOn(9, 2023, 1, 1)
	require.Error(t, err)
}

// Every switch has for every edition of a document at most one value, the
// value exists, and an origin goes with it.
func TestOrigins(t *testing.T) {
	for _, e := range format.Editions(format.Pickleball) {
		r := format.RulingsOf(e)
		for _, s := range format.Switches() {
			source, ok := format.Origin(e, s)
			require.Equal(t, r[s] != 0, ok, "%s %s", e, s)
			if ok {
				require.NotZero(t, source.Mark, "%s %s", e, s)
				require.Equal(t, e, source.Edition)
				if source.Mark == format.Read {
					require.NotEmpty(t, source.Rule, "%s %s was read, so it has a number", e, s)
				}
			}
			require.NotEmpty(t, s.About())
			require.NotEmpty(t, s.Readings())
		}
	}
}

func TestOpenPoints(t *testing.T) {
	points := format.OpenPoints()
	require.Greater(t, len(points), 20)
	seen := map[string]bool{}
	for _, p := range points {
		key := p.Field + p.Editions
		require.NotZero(t, p.Clause, p.Field)
		require.NotEmpty(t, p.Editions, p.Field)
		require.False(t, seen[key], key)
		seen[key] = true
		require.NotEmpty(t, p.Default, p.Field)
		require.NotEmpty(t, p.Matter, p.Field)
	}
}

// The window for stopping for a wrong score.
func TestScoreStopByEdition(t *testing.T) {
	want := map[format.Edition]string{format.E2017: "before-return", format.E2020: "before-return",
		format.E2021: "before-third-shot", format.E2022: "before-serve", format.E2023: "before-return", format.E2023Aug: "before-return",
		format.E2024: "before-return", format.E2025: "before-return", format.E2026: "before-return"}
	for e, text := range want {
		r := format.RulingsOf(e)
		require.Equal(t, text, r.Text(switchNamed("score-stop")), e.String())
	}
}

func TestEnumsRoundTripAsText(t *testing.T) {
	for _, e := range append(format.Editions(format.Pickleball), format.Editions(format.Badminton)...) {
		roundTrip(t, &e)
	}
	for _, s := range format.Switches() {
		roundTrip(t, &s)
	}
	for f := format.NoFreeze; f <= format.BothAtPoint; f++ {
		roundTrip(t, &f)
	}
	for o := format.ByParity; o <= format.HalfCourt; o++ {
		roundTrip(t, &o)
	}
	for n := format.OtherSide; n <= format.Chosen; n++ {
		roundTrip(t, &n)
	}
	for m := format.Read; m <= format.Open; m++ {
		roundTrip(t, &m)
	}
	var o format.Order
	err := o.UnmarshalText([]byte(strings.Repeat("x", 500)))
	var bad *format.Error
	require.True(t, errors.As(err, &bad))
	require.Less(t, len(bad.Error()), 200)
	_, err = format.Order(99).MarshalText()
	require.Error(t, err)
}

type text interface {
	MarshalText() ([]byte, error)
	UnmarshalText([]byte) error
}

func roundTrip[T comparable](t *testing.T, v *T) {
	t.Helper()
	enum := any(v).(text)
	want := *v
	b, err := enum.MarshalText()
	require.NoError(t, err)
	require.NoError(t, enum.UnmarshalText(b))
	require.Equal(t, want, *v)
}

func FuzzParse(f *testing.F) {
	for _, id := range format.Shapes() {
		f.Add(id)
	}
	f.Add("sideout-doubles-11@2025+foul-value=award")
	f.Add("rally-doubles-15@2025+target=13+win-by=1+cap=15+last-target=21+games=3")
	f.Add("half-court-singles-11@2019+order=parity+scorer=either+freeze=leader-and-trailer")
	f.Fuzz(func(t *testing.T, id string) {
		got, err := format.Parse(id)
		if err != nil {
			return
		}
		require.NoError(t, got.Validate())
		again, err := format.Parse(got.ID())
		require.NoError(t, err)
		require.Equal(t, got, again)
	})
}

// Every field of game and match can be set, alone and all together, in any
// order, and the id says so in one.
func TestFormatsOfOnesOwn(t *testing.T) {
	for _, c := range []struct{ id, canonical string }{
		{"rally-doubles-15@2025+target=13+win-by=1+cap=15", "rally-doubles-15@2025+target=13+win-by=1+cap=15"},
		{"rally-doubles-15@2025+cap=15+win-by=1+target=13", "rally-doubles-15@2025+target=13+win-by=1+cap=15"},
		{"rally-doubles-15@2025+freeze=none", "rally-doubles-15@2025+freeze=none"},
		{"sideout-doubles-11@2025+target=15+games=3", "sideout-doubles-15-of3@2025"},
		{"sideout-doubles-11-of3@2025+last-target=15", "sideout-doubles-11-of3@2025+last-target=15"},
		{"sideout-doubles-11-of3@2025+last-target=15+last-change-ends-at=7+time-outs=1", "sideout-doubles-11-of3@2025+last-target=15+last-change-ends-at=7+time-outs=1"},
		{"sideout-doubles-11@2024+scorer=either+servers=1+play-all=yes+games=4+next-serve=loser+change-ends=no+late-side=stands",
			"sideout-doubles-11@2024+scorer=either+servers=1+games=4+play-all=yes+next-serve=loser+change-ends=no+late-side=stands"},
		{"sideout-doubles-11@2025+last-target=15+last-win-by=1", "sideout-doubles-11@2025+target=15+win-by=1"}, // a single game is the last one
		{"fixed-doubles-21@2026+freeze=win-on-serve", "fixed-doubles-21-win-on-serve@2026"},
		{"sideout-doubles-11@2025+time-outs-11=1+time-outs=1", "sideout-doubles-11@2025+time-outs-11=1"},
	} {
		f := named(t, c.id)
		require.Equal(t, c.canonical, f.ID())
		require.Empty(t, cmp.Diff(f, named(t, c.canonical)))
	}
	f := named(t, "sideout-doubles-11-of3@2025+target=21")
	require.Equal(t, []uint8{3, 3, 0, 11}, []uint8{f.Game.TimeOuts, f.Last.TimeOuts, f.Game.ChangeEndsAt, f.Last.ChangeEndsAt})
}

// Rulings and time-outs are never zero by accident, and the whole has an id.
func TestCustom(t *testing.T) {
	f := format.Custom(format.E2024, format.Game{Sides: format.Doubles, Scorer: format.EitherSide, Order: format.ByParity, Servers: 1, Target: 13, WinBy: 1, Cap: 15},
		format.Series{Games: 3, NextServe: format.Winner, ChangeEnds: true})
	require.NoError(t, f.Validate())
	require.Equal(t, format.RulingsOf(format.E2024), f.Rulings)
	require.Equal(t, []uint8{2, 0, 7}, []uint8{f.Game.TimeOuts, f.Game.ChangeEndsAt, f.Last.ChangeEndsAt})
	require.NotEmpty(t, f.ID())
	require.Empty(t, cmp.Diff(f, named(t, f.ID())))
	same := format.Custom(format.E2025, format.Game{Sides: format.Singles, Scorer: format.ServingSide, Order: format.ByParity, Servers: 1, Target: 11, WinBy: 2},
		format.Series{Games: 1, NextServe: format.OtherSide})
	require.Equal(t, "sideout-singles-11@2025", same.ID())
}

// Where turns are counted the score says who serves, so nothing may keep points
// from being counted.
func TestValidateCountedTurns(t *testing.T) {
	tests := []struct {
		id     string
		change func(*format.Format)
		field  string
	}{
		{"table-tennis-singles-11", func(f *format.Format) { f.Game.Serves, f.Last.Serves = 0, 0 }, "game.serves"},
		{"sideout-singles-11", func(f *format.Format) { f.Game.Serves, f.Last.Serves = 2, 2 }, "game.serves"},
		{"table-tennis-singles-11-of3", func(f *format.Format) { f.Game.FirstTurn = 3 }, "game.first_turn"},
		{"table-tennis-singles-11-of3", func(f *format.Format) { f.Game.Scorer = format.ServingSide }, "game.scorer"},
		{"tie-break-7", func(f *format.Format) { f.Game.Freeze = format.EachAtPoint; f.Last = f.Game }, "game.freeze"},
		{"table-tennis-singles-11-of3", func(f *format.Format) { f.Game.WinBy = 3 }, "game.win_by"},
		{"tie-break-7", func(f *format.Format) { f.Game.ChangeEndsAt = 4; f.Last = f.Game }, "game.change_ends_every"},
		{"beach-doubles-21-of3", func(f *format.Format) { f.Game.Servers = 2 }, "game.servers"},
		{"table-tennis-doubles-11-of3", func(f *format.Format) { f.Match.NextServe = format.Winner }, "match.next_serve"},
		{"table-tennis-singles-11", func(f *format.Format) { f.Edition, f.Rulings = format.E2025, format.RulingsOf(format.E2025) }, "game.order"},
	}
	for _, test := range tests {
		f := named(t, test.id)
		f.Shape = ""
		test.change(&f)
		var bad *format.Error
		require.ErrorAs(t, f.Validate(), &bad, test.field)
		require.Equal(t, test.field, bad.Field)
	}
}

func TestValidateTellsAllFaults(t *testing.T) {
	f := format.Custom(format.E2025, format.Game{Sides: 7, Target: 251, TimeOuts: 99}, format.Series{Games: 2})
	err := f.Validate()
	for _, field := range []string{"game.sides", "game.scorer", "game.order", "game.servers", "game.target", "game.win_by", "game.time_outs", "last.sides", "match.games", "match.next_serve"} {
		require.ErrorContains(t, err, "format: "+field+": ")
	}
}

// A board asks for the id of its format after every rally.
func TestIDAndValidateAreCheap(t *testing.T) {
	f := named(t, "fixed-doubles-25-win-on-serve@2025+late-side=stands")
	require.LessOrEqual(t, testing.AllocsPerRun(100, func() { _ = f.ID() }), 1.0)
	require.Zero(t, testing.AllocsPerRun(100, func() { _ = f.Validate() }))
}
