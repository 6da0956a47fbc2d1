package main

import (
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var drawn = regexp.MustCompile(`(?s)<svg .*?</svg>`)

// Every page needs nothing else, and has the charts that belong to it, each
// with a title and a description.
func TestPages(t *testing.T) {
	for line, titles := range map[string][]string{
		"compare rally-doubles-7@2025 rally-doubles-7@2026": {
			"Chance of the better side, by how much better it is", "What serving first is worth between equal sides",
			"Chance of the better side, by score: rally-doubles-7@2025", "Chance of the better side, by score: rally-doubles-7@2026",
			"How many rallies a match has", "How many minutes a match takes"},
		"explain sideout-singles-11": {
			"Chance of the better side, by how much better it is", "What serving first is worth between equal sides",
			"Chance of the better side, by score", "How many rallies a match has", "How many minutes a match takes", "What the next rally is worth, by score",
			"What a point to the opponents costs, by score"},
		"diff rally-doubles-7@2025 rally-doubles-7@2026":    {"How many rallies a match has", "Chance of the better side, by score: [2] less [1]"},
		"diff rally-doubles-7@2026 rally-doubles-11@2026":   {"How many rallies a match has"},
		"table half-court swap":                             {"What the length of a match buys"},
		"fit ../officiate/ladder-match.jsonl -only players": {"Rallies won on serve, by server"},
	} {
		t.Run(line, func(t *testing.T) {
			page := ask(t, line+" -html -")
			require.True(t, strings.HasPrefix(page, "<!doctype html>"))
			for _, outside := range []string{"http:", "https:", "src=", "href", "url(", "@import", "<script", "<link", "NaN", "Inf"} {
				require.NotContains(t, page, outside)
			}
			svgs := drawn.FindAllString(page, -1)
			require.Len(t, svgs, len(titles))
			ids := map[string]bool{}
			for i, svg := range svgs {
				d := xml.NewDecoder(strings.NewReader(svg))
				var title, about string
				var ticks int
				for {
					token, err := d.Token()
					if err == io.EOF {
						break
					}
					require.NoError(t, err)
					e, ok := token.(xml.StartElement)
					if !ok {
						continue
					}
					for _, a := range e.Attr {
						if a.Name.Local == "id" {
							require.False(t, ids[a.Value], "an id stands twice")
							ids[a.Value] = true
						}
					}
					var text string
					switch e.Name.Local {
					case "title":
						require.NoError(t, d.DecodeElement(&title, &e))
					case "desc":
						require.NoError(t, d.DecodeElement(&about, &e))
					case "text":
						require.NoError(t, d.DecodeElement(&text, &e))
						if regexp.MustCompile(`^-?[\d.]+$`).MatchString(text) {
							ticks++
						}
					}
				}
				require.Equal(t, titles[i], title)
				require.NotEmpty(t, about)
				require.GreaterOrEqual(t, ticks, 3, title)
				require.Contains(t, svg, `role="img"`)
				require.NotContains(t, svg, "#000000", "ink is the page's")
				if strings.Contains(title, "by score") {
					require.Contains(t, svg, "fill:"+hex(nearlyBlack), "numbers on pale cells are dark on a dark page too")
				}
			}
			// The text of the page is the text of the terminal.
			for _, p := range strings.Split(ask(t, line), "\n\n")[1:] {
				heading, _, _ := strings.Cut(p, "\n")
				require.Contains(t, page, ">"+strings.ReplaceAll(heading, "'", "&#39;")+"</h2>")
			}
		})
	}
}

func TestPageIsWrittenBesideTheText(t *testing.T) {
	file := filepath.Join(t.TempDir(), "page.html")
	text := ask(t, "explain rally-doubles-7 -only length -html "+file)
	require.Equal(t, ask(t, "explain rally-doubles-7 -only length"), text)
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Len(t, drawn.FindAllString(string(page), -1), 1)
}

// Names come from outside and are only text.
func TestPageEscapesNames(t *testing.T) {
	file := filepath.Join(t.TempDir(), "<b>&mine.json")
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(ask(t, "write rally-doubles-7+target=9"), `"rally-doubles-7"`, `""`, 1)), 0o600))
	page := ask(t, "compare rally-doubles-7 "+file+" -html -")
	require.NotContains(t, page, "<b>")
	require.Contains(t, page, "&lt;b&gt;&amp;mine.json")
}

func TestTicksAreRoundAndEnough(t *testing.T) {
	for _, c := range []struct{ low, high float64 }{{0, 100}, {50, 99.1}, {-12.7, 13.4}, {0, 0.31}, {14, 82}, {-0.5, 6.5}, {0, 1e-6}, {3, 3}, {99.9, 99.9 + 1e-13}, {-1e-14, 1e-14}, {1e9, 1e9 + 1}} {
		got := ticks(6).Ticks(c.low, c.high)
		require.LessOrEqual(t, len(got), 8, c)
		if c.high > c.low+1e-6 && c.low < 1e6 {
			require.GreaterOrEqual(t, len(got), 3, c)
		}
		seen := map[string]bool{}
		for _, tick := range got {
			require.False(t, seen[tick.Label], "%v: %v", c, got)
			require.NotEqual(t, "-0", tick.Label)
			seen[tick.Label] = true
		}
	}
}
