package conformance

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/evencourt/evencourt/format"
)

func loadAll(t *testing.T) []File {
	t.Helper()
	files, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestLoad(t *testing.T) {
	cases, refused, long := 0, 0, 0
	for _, f := range loadAll(t) {
		cases += len(f.Cases)
		for i := range f.Cases {
			if f.Cases[i].Generated {
				long++
			}
			for _, s := range f.Cases[i].Steps {
				if s.Refused != "" {
					refused++
				}
			}
		}
	}
	// Cases are only ever added or retired one by one, so a fall below these
	// numbers means that files went missing.
	if cases < 150 || refused < 30 || long < 8 {
		t.Errorf("corpus has %d cases, %d refusals, %d whole matches", cases, refused, long)
	}
}

func TestExpand(t *testing.T) {
	open := "sideout-doubles-11@2024"
	for _, e := range format.Editions(format.Pickleball) {
		if format.E2024.Before(e) {
			open += " sideout-doubles-11@" + e.String()
		}
	}
	for _, c := range []struct {
		entry string
		want  string // ids, or the error after the entry
	}{
		{"rally-doubles-11@2025..2026", "rally-doubles-11@2025 rally-doubles-11@2026"},
		{"sideout-doubles-11@2023..2024", "sideout-doubles-11@2023 sideout-doubles-11@2023-08 sideout-doubles-11@2024"},
		{"sideout-singles-15@2026", "sideout-singles-15@2026"},
		{"sideout-singles-15@2025..2026+correctable=last-point", "sideout-singles-15@2025+correctable=last-point sideout-singles-15@2026+correctable=last-point"},
		{"badminton-doubles-15-of3@badminton-2005", "badminton-doubles-15-of3@badminton-2005"},
		{"rally-doubles-11@2024..2026", "no edition 2024 to begin with"},
		{"rally-doubles-11@2026..2025", "no edition 2025 after 2026"},
		{"sideout-doubles-11@2016", "no edition 2016 to begin with"},
		{"sideout-doubles-11@2024..", open},
		{"sideout-doubles-11@..2020", "no edition  to begin with"},
		{"sideout-doubles-12@2020", "no such shape"},
		{"sideout-doubles-11", "names no edition"},
		{"sideout-doubles-11@2026+correctable=never", "unknown reading"},
	} {
		ids, err := Expand(c.entry)
		got := strings.Join(ids, " ")
		if err != nil {
			if !strings.Contains(err.Error(), c.entry) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("Expand(%q): error %v, want %q", c.entry, err, c.want)
			}
		} else if got != c.want {
			t.Errorf("Expand(%q) = %s, want %s", c.entry, got, c.want)
		}
	}
}

// The words in Go and in LINE.md are the same, in the same order.
func TestWordsAgreeWithLinePage(t *testing.T) {
	section := func(number string) string {
		_, rest, ok := strings.Cut(LinePage(), "\n## "+number+". ")
		if !ok {
			t.Fatalf("LINE.md has no section %s", number)
		}
		text, _, _ := strings.Cut(rest, "\n## ")
		return text
	}
	words := func(text string) []string {
		var out []string
		for _, row := range regexp.MustCompile("(?m)^\\| (`[^|]*`) \\|").FindAllStringSubmatch(text, -1) {
			for _, w := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(row[1], -1) {
				out = append(out, w[1])
			}
		}
		return out
	}
	if got := words(section("5")); !slices.Equal(got, Effects()) {
		t.Errorf("effects of LINE.md: %v\nof this package:    %v", got, Effects())
	}
	if got := words(section("6")); !slices.Equal(got, Refusals()) {
		t.Errorf("refusals of LINE.md: %v\nof this package:     %v", got, Refusals())
	}
	// Its example shows every field.
	_, rest, _ := strings.Cut(LinePage(), "\n    L2 ")
	example, _, _ := strings.Cut(rest, "\n")
	if fault := lineFault("L2 " + example); fault != "" {
		t.Errorf("the example of LINE.md %s", fault)
	}
}

func TestWhysSayWhatBreaks(t *testing.T) {
	whys, err := Vocabulary()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, w := range whys {
		if w.Word == "" || w.Kind == "" || w.Breaks == "" || seen[w.Word] {
			t.Errorf("incomplete, or a second time: %+v", w)
		}
		seen[w.Word] = true
	}
}
