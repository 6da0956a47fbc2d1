package conformance

import (
	"os"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/format"
)

func TestCorpusIsClean(t *testing.T) {
	findings, err := Lint(loadAll(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range findings {
		t.Error(f)
	}
}

// Every fixture is a good file but for one fault and is named after the rule
// that has to catch it.
func TestLintCatchesEveryFixture(t *testing.T) {
	files, err := Read(os.DirFS("testdata/lint"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 30 {
		t.Errorf("only %d fixtures", len(files))
	}
	v := vocabulary{why: map[string]bool{"basic": true}, retired: map[string]bool{"c9999": true}}
	for _, f := range files {
		want := strings.TrimSuffix(f.Path, ".json")
		findings := lint([]File{f}, v)
		if len(findings) != 1 || findings[0].Rule != want {
			t.Errorf("%s: found %v", f.Path, findings)
		}
	}
}

func TestLintSeesFeaturesTwice(t *testing.T) {
	files, err := Read(os.DirFS("testdata/lint"))
	if err != nil {
		t.Fatal(err)
	}
	f := files[0]
	n := 0
	for _, finding := range lint([]File{f, f}, vocabulary{}) {
		if finding.Rule == "feature-twice" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("a feature that stands twice was found %d times", n)
	}
}

// Every named shape is played to the end of a game, and into the next where
// there is one.
func TestEveryShapeIsCovered(t *testing.T) {
	type cover struct{ won, next bool }
	covered := map[string]*cover{}
	for _, f := range loadAll(t) {
		for _, c := range f.Cases {
			var seen cover
			for _, s := range c.Steps {
				for _, e := range s.Effects {
					seen.won = seen.won || e == "game-won"
					seen.next = seen.next || e == "game-started" && fieldOf(s.Line, "game") != "1"
				}
				seen.next = seen.next || fieldOf(s.Line, "game") > "1"
			}
			for _, entry := range c.Formats {
				shape, _, _ := strings.Cut(entry, "@")
				if covered[shape] == nil {
					covered[shape] = &cover{}
				}
				covered[shape].won = covered[shape].won || seen.won
				covered[shape].next = covered[shape].next || seen.next
			}
		}
	}
	for _, shape := range format.Shapes() {
		games := strings.Contains(shape, "-of")
		if c := covered[shape]; c == nil || !c.won || games && !c.next {
			t.Errorf("%s: %+v", shape, c)
		}
	}
}

func TestLineFault(t *testing.T) {
	good := "L1 game=1 won=0:0 score=4-3 opens=0:0 serve=A1@R#1 receive=B2 A=12 B=21 first=A start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:1 medical=---- out=---- vw=0:0 tw=1:0 tf=0:0 gf=0:0 wrong=0:0 carry=----"
	if fault := lineFault(good); fault != "" {
		t.Fatal(fault)
	}
	for _, c := range [][3]string{
		{"L1", "L2", "L1"},
		{" game=1", "", "fields"},
		{"game=1", "game=01", "game"},
		{"serve=A1@R#1", "serve=A1@R", "serve"},
		{"serve=A1@R#1", "serve=-", "phase"},
		{"A=12", "A=--", "phase"},
		{"phase=play", "phase=playing", "phase"},
		{"won=0:0 score=4-3", "score=4-3 won=0:0", "score"},
		{"carry=----", "carry=---- ", "fields"},
		{"ends=0", "ends=2", "ends"},
	} {
		bad := strings.Replace(good, c[0], c[1], 1)
		if fault := lineFault(bad); !strings.Contains(fault, c[2]) {
			t.Errorf("%s: got %q, want something about %s", bad, fault, c[2])
		}
	}
}
