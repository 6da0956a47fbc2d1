package referee_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/referee"
	"github.com/evencourt/evencourt/rally/words"
)

// What to say and do after a rally, in order.
func Example() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	rules := rally.MustCompile(f)
	g := referee.New(rules, harbour)

	s, _, _ := rules.Apply(rules.New(rally.A), rally.Start(rally.A, rally.Starters{rally.A1, rally.B1}))
	s, _, _ = rules.Apply(s, rally.RallyTo(rally.A))
	duties, s := g.After(s, rally.RallyTo(rally.B))
	for _, d := range duties {
		fmt.Println(words.English().Say(d.Text))
	}
	fmt.Println(words.English().Say(g.WhyServer(s)))
	// Output:
	// Say "side out".
	// Mark the end of the turn of Imani Okafor and Tomasz Zielinski.
	// Turn the sheet to Priya Raman and Lars Nyberg.
	// Read the score of Priya Raman and Lars Nyberg: 0, even.
	// Set the server clip by it: even, so Priya Raman.
	// Only now look whether Priya Raman stands in the right court: score before people.
	// Rehearse the next call while the ball comes back: "zero, one, one".
	// Priya Raman serves as first server because the score of Priya Raman and Lars Nyberg was even when the serve came over, which puts the starting server in the right court. The score of Priya Raman and Lars Nyberg is 0 now, which is even, so Priya Raman, its starting server, stands in the right court and the serve comes from the right court. Tomasz Zielinski receives in the court diagonal to it.
}

// Why a ruling fell, with its clause.
func ExampleGuide_Ruling() {
	f, _ := format.Parse("sideout-doubles-11@2024")
	rules := rally.MustCompile(f)
	g := referee.New(rules, harbour)
	s, _, _ := rules.Apply(rules.New(rally.A), rally.RallyTo(rally.A))
	e, _ := rally.ParseEvent("A?server,rallyover")
	fmt.Println(words.English().Say(g.Ruling(s, e).Text))
	// Output:
	// The rally stands. A rally that was played out stands, whoever served or received. (rule 4.B.9.b of 2024)
}

// What may be answered when receivers ask whether they stand right, and do not.
func ExampleGuide_Answer() {
	for _, edition := range []string{"2019", "2020", "2022", "2025"} {
		f, _ := format.Parse("sideout-doubles-11@" + edition)
		rules := rally.MustCompile(f)
		s, _, _ := rules.Apply(rules.New(rally.A), rally.RallyTo(rally.A))
		a := referee.New(rules, harbour).Answer(s, rally.B, referee.AskOwnPlaces, false)
		fmt.Println(edition, a.Done, words.English().Say(a.Said))
	}
	// Output:
	// 2019 refuse "I cannot answer that."
	// 2020 score-only "You have 0 points."
	// 2022 confirm "No."
	// 2025 put-in-order "Imani Okafor (band) serves from the left court, Lars Nyberg (green cap) receives; please take your places."
}

// A second need of medical time is refused, but help comes first.
func ExampleGuide_Refusal() {
	f, _ := format.Parse("sideout-doubles-11@2025")
	rules := rally.MustCompile(f)
	log := rally.NewLog(rules, rules.New(rally.A))
	for _, text := range []string{"A", "mA1", "mA1+", "in"} {
		log.Enter(text)
	}
	e, _ := rally.ParseEvent("mA1")
	for _, line := range referee.New(rules, harbour).Refusal(log.State(), e)[:4] {
		fmt.Println(words.English().Say(line))
	}
	// Output:
	// First of all, call qualified help: medical staff on site, emergency services where needed.
	// Keep play stopped and the court clear for as long as care needs.
	// Refused, request for medical time: the player's medical time is used up, but play may be stopped for safety and help called at any time (the 2025 edition).
	// Instead: referee's time-out, referee's time-out for blood, referee's time-out for illness.
}

// Who serves first in which game, and from which end.
func ExampleGuide_Plan() {
	f, _ := format.Parse("sideout-doubles-11-of3@2025")
	g := referee.New(rally.MustCompile(f), rally.Setup{Sides: [2]rally.Team{{Name: "Okafor/Zielinski"}, {Name: "Raman/Nyberg"}}})
	for _, p := range g.Plan(rally.A) {
		fmt.Println(words.English().Say(p.Text), words.English().Say(p.Mid))
	}
	// Output:
	// Game 1: first serve Okafor/Zielinski; Okafor/Zielinski on the left of the referee, Raman/Nyberg on the right. Ends do not change in it.
	// Game 2: first serve Raman/Nyberg; Raman/Nyberg on the left of the referee, Okafor/Zielinski on the right. Ends do not change in it.
	// Game 3: first serve Okafor/Zielinski; Okafor/Zielinski on the left of the referee, Raman/Nyberg on the right. Ends change in it when a side first has 6.
}

// BenchmarkRuling times a ruling with its clauses and words, and a refusal
// explained: at their least, in rounds of a hundred, each is to take at most two
// microseconds.
func BenchmarkRuling(b *testing.B) {
	f, _ := format.Parse("sideout-doubles-11@2026")
	rules := rally.MustCompile(f)
	g := referee.New(rules, harbour)
	s, _, _ := rules.Apply(rules.New(rally.A), rally.RallyTo(rally.A))
	stop, _ := rally.ParseEvent("stop?server,struck,byA")
	english := words.English()
	for name, answer := range map[string]func(){
		"ruling": func() { english.Say(g.Ruling(s, stop).Text) },
		"why":    func() { rules.Why(s, rally.EventOf(rally.EndsChanged)) },
	} {
		b.Run(name, func(b *testing.B) {
			least := time.Hour
			for b.Loop() {
				began := time.Now()
				for range 100 {
					answer()
				}
				least = min(least, time.Since(began))
			}
			b.ReportMetric(float64(least.Nanoseconds())/100, "least-ns")
		})
	}
}

// What a page shows in place of the codes of a board, in German.
func ExampleGuide_Captions() {
	f, _ := format.Parse("sideout-doubles-11@2026")
	rules := rally.MustCompile(f)
	u := rally.Setup{Sides: [2]rally.Team{{Players: [2]rally.Player{{Name: "Imani Okafor"}, {Name: "Tomasz Zielinski"}}}}}
	log := rally.NewLog(rules, rules.New(rally.A))
	log.Enter("A")
	log.Enter("tA")
	v := rally.NewBoard(log, u).Snapshot(-1)
	german, _ := words.ByTag("de")
	said := referee.New(rules, u).Captions(&v, german)
	for _, code := range []string{"phase.play", "break.t", "event.tB", "refusal.no-request", "undo"} {
		fmt.Println(code, "=", said[code])
	}
	// Output:
	// phase.play = im Spiel
	// break.t = Auszeit
	// event.tB = Auszeit, B1 und B2
	// refusal.no-request = der Spieler hat nicht um medizinische Auszeit gebeten
	// undo = Auszeit, Imani Okafor und Tomasz Zielinski
}
