package exercise

import (
	"slices"

	"github.com/evencourt/evencourt/rally/words"
)

// Topic is one thing that is trained.
type Topic string

// The topics, in the order of the results.
const (
	resultCall Topic = "result"   // the word after the rally
	scoreCall  Topic = "score"    // the next score call
	nextServer Topic = "server"   // who serves next, from which court
	fromPost   Topic = "view"     // on which hand, near or far
	whoCalls   Topic = "fault"    // who calls a fault, and what follows it
	firstDuty  Topic = "duty"     // what comes first
	mayAnswer  Topic = "question" // which question may be answered
	rebuilding Topic = "rebuild"  // the server from marks
	situation  Topic = "ruling"   // the ruling in a situation
	wrongSheet Topic = "sheet"    // what is wrong on a sheet

	firstChoice Topic = "toss"      // who chooses what at the first choice
	firstServe  Topic = "opening"   // who serves first in which game
	allFour     Topic = "places"    // where all four stand
	changeEnds  Topic = "ends"      // when ends change, and what stays
	lineCalls   Topic = "lines"     // whose a line call is
	timeOuts    Topic = "time-out"  // time-outs left and refused
	penalties   Topic = "penalty"   // what a penalty costs
	inBook      Topic = "book"      // which reading stands: lengths, limits, scores of forfeits, what may be said
	reports     Topic = "report"    // what is reported of a match that was given up
	markSheet   Topic = "marking"   // the marks of rallies that are read out
	afterFouls  Topic = "foul"      // the call and the places after a technical foul
	playsAlone  Topic = "alone"     // a player whose partner cannot go on
	takesOver   Topic = "hand-over" // what the next referee must be told
)

// topics are all of them.
var topics = []Topic{resultCall, scoreCall, nextServer, fromPost, whoCalls, firstDuty, mayAnswer, rebuilding, situation, wrongSheet,
	firstChoice, firstServe, allFour, changeEnds, lineCalls, timeOuts, penalties, inBook, reports, markSheet, afterFouls, playsAlone, takesOver}

// Topics lists every topic, in the order of results.
func Topics() []Topic { return slices.Clone(topics) }

// Text names a topic.
func (t Topic) Text() words.Text { return say(words.Code("drill.topic-" + string(t))) }

// Advice says how to practise a topic.
func (t Topic) Advice() words.Text { return say(words.Code("drill.how-" + string(t))) }

// Level is how far a trainee has come: the topics he is asked about and the
// shapes of match they come from.
type Level struct {
	Name   string
	Topics []Topic
	shapes []string
}

// Text names a level in words; its name is what is typed.
func (l Level) Text() words.Text { return say(words.Code("drill.level-" + l.Name)) }

// Retraining is the name of the level that asks about what changed since an
// edition.
const Retraining = "retraining"

var (
	doublesOnly = []string{"sideout-doubles-11"}
	wholeMatch  = []string{"sideout-doubles-11", "sideout-doubles-11-of3"}
	everything  = []string{"sideout-doubles-11", "sideout-doubles-11-of3", "sideout-singles-11", "sideout-doubles-15",
		"rally-doubles-11", "rally-singles-11", "fixed-doubles-21"}
)

// Levels go from the first clinic to the whole job. Their names are this
// program's own and stand for no body's grades.
func Levels() []Level {
	return []Level{
		{"first-clinic", topics[:2], doublesOnly},
		{"practice-court", append([]Topic{allFour, lineCalls}, topics[:5]...), doublesOnly},
		{"club-night", append([]Topic{firstServe, changeEnds, allFour, lineCalls, timeOuts}, topics[:8]...), wholeMatch},
		{"ladder-match", append([]Topic{firstChoice, firstServe, changeEnds, timeOuts, penalties, afterFouls, inBook}, topics[:9]...), everything},
		{"whole-job", topics, everything},
		{Retraining, []Topic{situation, inBook}, doublesOnly},
	}
}

// LevelNamed returns a level by its name.
func LevelNamed(name string) (Level, bool) {
	for _, l := range Levels() {
		if l.Name == name {
			return l, true
		}
	}
	return Level{}, false
}
