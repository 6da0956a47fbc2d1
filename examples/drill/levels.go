package main

import "strings"

// topic is one thing that is trained.
type topic string

// The topics, in the order of the results.
const (
	resultCall topic = "result"   // the word after the rally
	scoreCall  topic = "score"    // the next score call
	nextServer topic = "server"   // who serves next, from which court
	fromPost   topic = "view"     // on which hand, near or far
	whoCalls   topic = "fault"    // who calls a fault, and what follows it
	firstDuty  topic = "duty"     // what comes first
	mayAnswer  topic = "question" // which question may be answered
	rebuilding topic = "rebuild"  // the server from marks
	situation  topic = "ruling"   // the ruling in a situation
	wrongSheet topic = "sheet"    // what is wrong on a sheet

	firstChoice topic = "toss"     // who chooses what at the first choice
	firstServe  topic = "opening"  // who serves first in which game
	allFour     topic = "places"   // where all four stand
	changeEnds  topic = "ends"     // when ends change, and what stays
	lineCalls   topic = "lines"    // whose a line call is
	timeOuts    topic = "time-out" // time-outs left and refused
	penalties   topic = "penalty"  // what a penalty costs
	inBook      topic = "book"     // which reading stands: lengths, limits, scores of forfeits, what may be said
	reports     topic = "report"   // what is reported of a match that was given up
	markSheet   topic = "marking"  // the marks of rallies that are read out
	afterFouls  topic = "foul"     // the call and the places after a technical foul
	playsAlone  topic = "alone"    // a player whose partner cannot go on
)

var topics = []topic{resultCall, scoreCall, nextServer, fromPost, whoCalls, firstDuty, mayAnswer, rebuilding, situation, wrongSheet,
	firstChoice, firstServe, allFour, changeEnds, lineCalls, timeOuts, penalties, inBook, reports, markSheet, afterFouls, playsAlone}

// level is how far a trainee has come: the topics he is asked about and the
// shapes of match they come from.
type level struct {
	name   string
	topics []topic
	shapes []string
}

const retraining = "retraining"

var (
	doublesOnly = []string{"sideout-doubles-11"}
	wholeMatch  = []string{"sideout-doubles-11", "sideout-doubles-11-of3"}
	everything  = []string{"sideout-doubles-11", "sideout-doubles-11-of3", "sideout-singles-11", "sideout-doubles-15",
		"rally-doubles-11", "rally-singles-11", "fixed-doubles-21"}
)

// levels go from the first clinic to the whole job. Their names are this
// program's own and stand for no body's grades.
var levels = []level{
	{"first-clinic", topics[:2], doublesOnly},
	{"practice-court", append([]topic{allFour, lineCalls}, topics[:5]...), doublesOnly},
	{"club-night", append([]topic{firstServe, changeEnds, allFour, lineCalls, timeOuts}, topics[:8]...), wholeMatch},
	{"ladder-match", append([]topic{firstChoice, firstServe, changeEnds, timeOuts, penalties, afterFouls, inBook}, topics[:9]...), everything},
	{"whole-job", topics, everything},
	{retraining, []topic{situation, inBook}, doublesOnly},
}

func levelNamed(name string) (level, bool) {
	for _, l := range levels {
		if l.name == name {
			return l, true
		}
	}
	return level{}, false
}

func levelNames() string {
	var names []string
	for _, l := range levels {
		names = append(names, l.name)
	}
	return strings.Join(names, ", ")
}
