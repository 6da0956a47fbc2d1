package format

import "strconv"

//go:generate go run ./internal/book

// Document is a line of rulebooks; its editions are read one against the other.
type Document uint8

// The documents.
const (
	// Pickleball is the rulebook of USA Pickleball and of the bodies that
	// share its text.
	Pickleball Document = iota + 1
	// Badminton is the Laws of Badminton, here as an outside check of the
	// orders that pickleball shares with it.
	Badminton
	// Club is what leagues and clubs play by. It has no editions: it goes with
	// every one of pickleball, which supplies the rulings.
	Club
	// Own is this library, for what it decides where no rulebook speaks. It
	// has no editions.
	Own
	// TableTennis is the Laws of Table Tennis, Tennis the Rules of Tennis, of which
	// only the tie-break game is here, BeachVolleyball and SquashDoubles the rules of
	// those games. Of all four the library holds score, order and ends only.
	TableTennis
	Tennis
	BeachVolleyball
	SquashDoubles
)

var documentNames = []string{"", "pickleball", "badminton", "club", "own", "table-tennis", "tennis", "beach-volleyball", "squash-doubles"}

// Documents lists the documents that have editions.
func Documents() []Document {
	return []Document{Pickleball, Badminton, TableTennis, Tennis, BeachVolleyball, SquashDoubles}
}

// Edition is one text of a rulebook, in force between two dates. The editions
// are rows of data: book.txt.
type Edition uint8

type edition struct {
	name     string
	document Document
	start    int // first day, as year*10000 + month*100 + day
}

// row returns the row of e; that of the zero value for an unknown edition.
func (e Edition) row() *edition {
	if int(e) >= len(editions) {
		e = 0
	}
	return &editions[e]
}

// Before reports whether e is older than f, by their first days.
func (e Edition) Before(f Edition) bool { return e.row().start < f.row().start }

// Editions lists the editions of a document, oldest first.
func Editions(d Document) []Edition {
	var out []Edition
	for i := range editions {
		if e := Edition(i); e > 0 && e.Document() == d {
			out = append(out, e)
			for j := len(out) - 1; j > 0 && out[j].Before(out[j-1]); j-- {
				out[j], out[j-1] = out[j-1], out[j]
			}
		}
	}
	return out
}

// Document returns the document that e is an edition of; 0 for an unknown e.
func (e Edition) Document() Document { return e.row().document }

func (e Edition) validate() error {
	if e.Document() == 0 {
		return &Error{"edition", "want " + list(editionNames())}
	}
	return nil
}

func editionNames() []string {
	names := make([]string, len(editions))
	for i := range editions {
		names[i] = editions[i].name
	}
	return names
}

// EditionOn returns the edition of a document in force on a civil date. It
// knows the mid-2023 revision. Years for which no text is stored (2000 to
// 2012, 2014 to 2016, after the newest) get the latest edition before them; a
// date before the first edition is an [*Error].
func EditionOn(d Document, year, month, day int) (Edition, error) {
	if month < 1 || month > 12 || day < 1 || day > daysIn(year, month) || year < 1 || year > 9999 {
		return 0, &Error{"date", "no such day: " + strconv.Itoa(year) + "-" + strconv.Itoa(month) + "-" + strconv.Itoa(day)}
	}
	on, found := year*10000+month*100+day, Edition(0)
	for _, e := range Editions(d) {
		if e.row().start <= on {
			found = e
		}
	}
	if found == 0 {
		return 0, &Error{"date", "no edition of " + d.String() + " is known for " + strconv.Itoa(year)}
	}
	return found, nil
}

func daysIn(year, month int) int {
	switch month {
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}
