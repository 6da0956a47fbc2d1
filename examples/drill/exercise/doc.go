// Package exercise makes seeded exercises for referees: a question with its
// options, its key, and the reason with the clause that decides.
//
// A [Course] says what is asked about; its [Maker] makes exercise after exercise,
// each from the course and its number alone. [Exercise.Read] takes an answer as
// people type it, and [Progress] tells what comes again and when. Nothing here
// reads a file, a clock or a terminal, so that a page in a browser asks the same
// as the command. What is asked is code and arguments; a language of examples/texts
// puts it into words.
//
// A drill confers no qualification, and never asks anybody to judge a condition
// or a return to play.
package exercise
