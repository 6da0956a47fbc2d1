package reference_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/walk"
)

// everyFormat lists every named shape under every edition that it goes with.
func everyFormat() []string {
	var out []string
	for _, shape := range format.Shapes() {
		for _, e := range format.EditionsOf(shape) {
			if reference.Taught(e) {
				out = append(out, shape+"@"+e.String())
			}
		}
	}
	return out
}

// moments are ways into the positions at which incidents are ruled on.
var moments = []struct{ name, way string }{
	{"before the match", ""},
	{"opening turn", "gA1B1"},
	{"first server", "gA1B1 B A A A"},
	{"side B, second server", "gA2B1 B A B B A B A A A B"},
	{"in a time-out", "gA1B1 B A tB"},
	{"after a called fault", "gA1B1 B A stop?server,struck,byref"},
	{"game point", "gA1B1 A A A A A A A A A A"},
	{"second game", "gA1B1 A A A A A A A A A A A gB1A2 A A B"},
}

// readings are formats in which another answer is taken than the edition's own.
var readings = []string{
	"sideout-doubles-11@2022+fault-again=excused", "sideout-doubles-11@2019+both-wrong=receiving-side", "sideout-doubles-11@2026+late-receiver=fault",
	"sideout-doubles-11@2022+late-side=stands", "sideout-doubles-11@1999+second-offence=counts", "sideout-doubles-11@2021+starter-notice=fault",
	"sideout-doubles-11@2022+starter-notice=fault", "sideout-doubles-11@2025+starter-notice=fault", "sideout-doubles-11@1999+starter-notice=fault",
	"sideout-doubles-11@2018+order-window=overtaken", "sideout-doubles-11@2018+correctable=last-point", "sideout-doubles-11@2024+score-stop=before-third-shot",
	"sideout-doubles-11@2024+score-stop=before-serve", "sideout-doubles-11@2021+misled=yes", "sideout-doubles-11@2018+receiver-fault=returned",
}

// TestIncidentsAgree rules on every incident at every moment in every edition.
func TestIncidentsAgree(t *testing.T) {
	ids := readings
	for _, id := range everyFormat() {
		if strings.HasPrefix(id, "sideout-doubles-11-of3@") {
			ids = append(ids, id)
		}
	}
	if !testing.Short() {
		ids = append(ids, "sideout-singles-11@2019", "sideout-singles-11@2026", "rally-doubles-11@2025", "rally-doubles-15-of3@2026", "rally-singles-7@2025",
			"fixed-doubles-21-each-at-point@2022", "fixed-doubles-21@1999", "swap-doubles-11@2019", "half-court-singles-11@2020", "badminton-doubles-21-of3@badminton-2006")
	}
	var incidents []string
	for _, e := range walk.Incidents() {
		incidents = append(incidents, e.String())
	}
	differ := newTally(t)
	asked := 0
	every := 1
	if testing.Short() {
		every = 5 // of the incidents, others at other moments
	}
	for _, id := range ids {
		for _, moment := range moments {
			begin := func(e conformance.Engine) (a conformance.Answer) {
				a, err := e.Begin(id, conformance.Start{First: "A"})
				if err != nil {
					t.Fatal(err)
				}
				for _, event := range strings.Fields(moment.way) {
					if singles := fieldOf(a.Line, "B") != "--" && strings.Contains(fieldOf(a.Line, "B"), "-"); singles {
						event = strings.ReplaceAll(event, "2", "1")
					}
					a = e.Do(event)
				}
				return a
			}
			engine, model := new(conformance.Builtin), new(twin)
			at, also := begin(engine), begin(model)
			if at.Line != also.Line {
				t.Fatalf("%s, %s:\nengine %s\nmodel  %s", id, moment.name, at.Line, also.Line)
			}
			there := *model.log.Match()
			for i := asked % every; i < len(incidents); i += every {
				if asked%16 == 0 {
					begin(engine) // what is undone stays in the log, and a long one is slow
				}
				incident := incidents[i]
				model.log = reference.NewLog(there.Clone())
				a := engine.Do(incident)
				if d := compare(id, incident, at.Line, a, model.Do(incident)); d != nil {
					differ.add(d)
				}
				if a.Refused == "" && engine.Do("undo").Line != at.Line {
					t.Fatalf("%s, %s: %s is not undone", id, moment.name, incident)
				}
				asked++
			}
		}
	}
	differ.report(fmt.Sprintf("%d rulings compared", asked))
}

// events is the whole alphabet, and texts that are none. Of incidents a
// sample: they have a test of their own.
var events = strings.Fields(`A B A:foot B:net A:absent B:absent A:ten B:ten replay
	gA1B1 gA2B1 gB1A2 gB2A2 gA1B2 ends xA xB
	tA tB in eqA1 eqA2 eqB1 eqB2 ref blood hazard illness dealt
	mA1 mA2 mB1 mB2 mA1+ mA2+ mB1+ mB2+ mA1- mA2- mB1- mB2- mA1w mA2w mB1w mB2w outA1 outA2 outB1 outB2 cA1 cB2
	vwA vwB twA twB tfA tfB cvA1 cvB2 cvA2= cwA1 cwA2 cwA2= cwB2 cwB1= cfA2 cfA1= cfB1 gfA gfB mfA mfB dmf ejA1 exB2
	lateA:5 lateA:600 lateB:600 lateA:900 lateB:899 lostA lostB backA backB
	fcA:serve fcB:serve fcA:receive fcB:receive fcA:end fcB:end fcA:defer fcB:defer
	retA retB wdA wdB abandon resume subA1 subB2 sheet
	stop?server,struck,byA stop?server,struck,byref stop?call,struck,byA stop?call,called,byB stop?~receiver,returned,byB stop?receiver,returned,byref
	A?server,rallyover B?server,rallyover A?receiver,rallyover B?receiver,gameover A?court,served B?rcourt,overtaken A?side,rallyover B?side,sheet
	A?server,sheet B:net?call,struck,rallyover,byA A:short?receiver,rallyover
	undoX late A? stop? stop?struck A?asked lateA:0600 mA3 x tfC A:ball`)

// corrections of a log, N standing for one of its entries.
var corrections = []string{"undo", "undo", "redo", "amend N A", "amend N B", "amend N -", "amend N tA", "amend N - by-mistake", "rewind N",
	"rule N A?server", "rule N B?server", "rule N B?receiver", "rule N A?side", "set LINE", "format FORMAT now director", "format FORMAT next director"}

// TestLogsAgree plays random logs over all events and corrections. Some are
// mostly rallies, some mostly everything else.
func TestLogsAgree(t *testing.T) {
	logs := 4000
	if testing.Short() {
		logs = 800
	}
	if n, err := strconv.Atoi(os.Getenv("EVENCOURT_LOGS")); err == nil {
		logs = n // .ci/deep plays a million
	}
	ids := everyFormat()
	r := rand.New(rand.NewPCG(uint64(logs), 7))
	differ := newTally(t)
	played := 0
	for range logs {
		id := ids[r.IntN(len(ids))]
		engine, model := new(conformance.Builtin), new(twin)
		start := conformance.Start{First: []string{"A", "B", "-"}[r.IntN(3)]}
		at, err := engine.Begin(id, start)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := model.Begin(id, start); err != nil {
			t.Fatal(err)
		}
		rallies, skew, mending, entries, log := r.IntN(4), r.IntN(10), r.IntN(2) > 0, 0, []string(nil)
		for range 40 {
			event := events[r.IntN(len(events))]
			switch {
			case mending && entries > 0 && r.IntN(8) == 0:
				event = corrections[r.IntN(len(corrections))]
				event = strings.Replace(event, "N", strconv.Itoa(1+r.IntN(entries)), 1)
				event = strings.Replace(event, "LINE", at.Line, 1)
				other := id
				if r.IntN(2) == 0 {
					other = ids[r.IntN(len(ids))]
				}
				event = strings.Replace(event, "FORMAT", other, 1)
			case r.IntN(4) < rallies && r.IntN(10) < skew:
				event = "A"
			case r.IntN(4) < rallies:
				event = "B"
			}
			a, b := engine.Do(event), model.Do(event)
			played++
			if d := compare(id, event, at.Line, a, b); d != nil {
				d.log = log
				differ.add(d)
				if a.Refused != "" && b.Refused != "" {
					continue // for another reason; both stand where they stood
				}
				break
			}
			if a.Refused == "" {
				entries++
				log = append(log, strings.Replace(event, at.Line, "LINE", 1))
			}
			at = a
		}
	}
	differ.report(fmt.Sprintf("%d logs, %d events compared", logs, played))
}
