package audit

import (
	"slices"

	"github.com/evencourt/evencourt/rally/words"
)

// unread is a score that a spreadsheet made a date, and what it can have been.
type unread struct {
	finding *Finding
	game    int // from 0
	can     []Score
	fits    []Score // of them, those with which the rest of the row holds together
}

// mostReadings bounds how many readings of a row are tried.
const mostReadings = 256

// narrow leaves of the scores that a date can have been those that go with the
// rest of the row: games that can end so, the match decided in its last one, the
// winner that is named. Where none does, all stay.
func (f *Finals) narrow(m *ReportedMatch, at Place, found []Finding) {
	var dates []unread
	readings := 1
	for i := range found {
		d := &found[i]
		if d.Line != at.Line || d.Match != m.ID {
			continue
		}
		if d.Code == fieldUnreadable && len(d.Field) >= len("game1") && d.Field[:4] == "game" {
			return // another game is not known
		}
		if d.Code != scoreAsDate {
			continue
		}
		u := unread{finding: d}
		switch {
		case d.Field == "games":
		case len(d.Field) == len("game1") && d.Field[:4] == "game":
			u.game = int(d.Field[4] - '1')
		default:
			return
		}
		proposed, _ := d.Args.Of("proposed").(words.List)
		for _, p := range proposed {
			u.can = append(u.can, p.Args.Score("score"))
		}
		readings *= max(len(u.can), 1)
		dates = append(dates, u)
	}
	if len(dates) == 0 || readings > mostReadings {
		return
	}
	f.readings(m, dates, 0)
	for _, u := range dates {
		if n := len(u.fits); n > 0 && n < len(u.can) {
			args := slices.Clone(u.finding.Args)
			for i := range args {
				if args[i].Name == "proposed" {
					args[i] = words.Each("proposed", proposalTexts(u.fits)...)
				}
			}
			u.finding.Args = args
		}
	}
}

// readings tries what the dates from one on can have been, those before it being
// chosen. It reports whether some choice holds together.
func (f *Finals) readings(m *ReportedMatch, dates []unread, from int) bool {
	if from == len(dates) {
		return Worst(f.Check(m, Place{}, nil)) < Warning
	}
	u, any := &dates[from], false
	for _, s := range u.can {
		try := *m
		try.Games = slices.Clone(m.Games)
		for len(try.Games) <= u.game {
			try.Games = append(try.Games, noScore)
		}
		try.Games[u.game] = s
		if f.readings(&try, dates, from+1) {
			any = true
			if !slices.Contains(u.fits, s) {
				u.fits = append(u.fits, s)
			}
		}
	}
	return any
}
