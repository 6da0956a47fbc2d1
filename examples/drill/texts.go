package main

import (
	"maps"
	"slices"
	"strings"

	"github.com/evencourt/evencourt/rally/referee"
)

func say(c referee.Code, args ...referee.Arg) referee.Text { return referee.Text{Code: c, Args: args} }

func plain(name, v string) referee.Arg             { return referee.Arg{Name: name, Value: referee.Plain(v)} }
func number(name string, n int) referee.Arg        { return referee.Arg{Name: name, Value: referee.Number(n)} }
func text(name string, t referee.Text) referee.Arg { return referee.Arg{Name: name, Value: t} }

// languages are the tables that this program has, by tag. A second one is a
// copy of englishTexts in other words beside a table of package referee.
var languages = map[string]*referee.Language{"en": english()}

func languageTags() string { return strings.Join(slices.Sorted(maps.Keys(languages)), ", ") }

func english() *referee.Language {
	table := referee.EnglishTable()
	maps.Copy(table, ownTable())
	l, err := referee.NewLanguage("en", table, referee.EnglishNumber, ownEntries()...)
	if err != nil {
		panic(err) // a test makes it
	}
	return l
}

// ownTable is this program's part of the English table.
func ownTable() map[referee.Code]string {
	out := map[referee.Code]string{}
	for line := range strings.Lines(englishTexts) {
		if code, words, ok := strings.Cut(strings.TrimSpace(line), " "); ok {
			out[referee.Code("drill."+code)] = words
		}
	}
	return out
}

// ownEntries lists the codes of this program with the arguments that its
// English texts use; a test compares them with what exercises give.
func ownEntries() []referee.Entry {
	var out []referee.Entry
	for code, words := range ownTable() {
		e := referee.Entry{Code: code}
		for _, piece := range strings.Split(words, "{")[1:] {
			name, _, _ := strings.Cut(piece, "}")
			name, _, _ = strings.Cut(name, ":")
			e.Args = append(e.Args, name)
		}
		out = append(out, e)
	}
	slices.SortFunc(out, func(a, b referee.Entry) int { return strings.Compare(string(a.Code), string(b.Code)) })
	return out
}

// englishTexts holds one text a line: the code without "drill.", a space, the
// text.
const englishTexts = `
welcome Drill for referees: level {level}, edition {edition}, exercises {n}, seed {seed}.
no-qualification This drill is practice only. It confers no qualification; the event's officials and the rulebook in force prevail.
how Answer with the number of an option, or with a score call such as 4-2-1. The end of the input ends the drill.
nothing-changed No ruling that this drill asks about, and that texts settle, changed between {since} and {edition}.
exercise Exercise {i} of {n}: {topic}.
option {i}. {option}
want-number Answer with a number from 1 to {n}.
want-call Answer with a score call, such as 4-2-1 or four, two, one.
right Right.
wrong Not right. The answer is: {key}
key-option {i}. {option}
call {call}
start start
stopped The input has ended.
results Results by topic.
result {topic}: {right} of {asked} right.
total All together: {right} of {asked} right.
practise Practise {topic}: {how}
practise-nothing Nothing stands out to practise; try the next level.

topic-result the result call
topic-score the score call
topic-server server and court
topic-view the view from the post
topic-fault who calls a fault
topic-duty what comes first
topic-question questions of players
topic-rebuild the server from marks
topic-ruling the ruling
topic-sheet the sheet
how-result after each rally say aloud which of the words fits before you mark anything.
how-score count aloud: serving side first, receiving side second, server number last.
how-server at every side-out read the score first, even or odd, and name the player from it.
how-view draw the court from the post and put the right courts in: far on your right hand, near on your left.
how-fault read the list of faults with who calls each, with a referee and without.
how-duty say the duties in their order: word, mark, next call; at a side-out score before people; help before everything.
how-question learn what the edition lets you answer, and say nothing else.
how-rebuild take a finished sheet and name the server at random marks.
how-ruling for each mistake learn three things: until when it can be stopped, what a stop costs, what a played-out rally is worth.
how-sheet read a sheet turn by turn: numbers 2, then 1 2, 1 2; points without a gap; sides in turn.

match Harbour Lane Courts autumn ladder, {format}, game {game}.
starters Starting servers of this game: {a} and {b}.
rights In the right courts: {a} and {b}.
served The call was {call}: {server} serves from the {court} court to {receiver}.
servers-win The serving side wins the rally.
receivers-win The receiving side wins the rally.
ask-result What do you say?
ask-score What is the next score call?
ask-server Who serves next, and from which court?
serves-from {player} from the {court} court
stands-left On your left, seen from the post, stands the side of {side}.
ask-view Where does the server stand, seen from the post?
hand-depth on your {hand}, {depth}
clause Clause: {clause}.
then The next call is {call}.
why-point The serving side won the rally and scores.
why-second The first server's side lost the rally, so the serve passes to the second server.
why-side-out The second server's side lost the rally, so the serve passes to the other side.
why-side-out-opening The side that opens a game has one server in its first turn, so the serve passes to the other side.
why-side-out-one The side has one server a turn and lost the rally, so the serve passes to the other side.
why-side-out-rally The receiving side won the rally, so the serve passes to it.
why-score The serving side's score comes first, then the receiving side's, then the server number where there are two servers a turn.
why-view The {court} court of a side on your {hand} is {depth}: the right court is far on your right hand and near on your left.
why-view-receiver The receiver stands on the other hand and at the other depth.

ask-caller Who calls it where there is a referee: {fault}?
ask-caller-without Who calls it where there is no referee: {fault}?
why-caller It is said {when}: {said}; the rally is lost by {loser}.
time-out {side} asks for a time-out, and it is granted.
asks-medical {player} asks for medical time.
blood You stop play for blood.
before-call The players are coming back for the next serve.
ask-first Which of these comes first?
all-duties All of them in their order:
servers-ask A player of the serving side asks before the serve: {question}
receivers-ask A player of the receiving side asks before the serve: {question}
ask-answer What do you do by the edition {edition}?
why-answer In this edition {why}. You say: {said}
volunteer-nothing Beyond that nothing about server or places is volunteered.

wrong-server The partner of the player due to serve has the ball.
wrong-court The player due serves from the wrong court.
wrong-receiver The partner of the player due receives the serve.
wrong-rcourt The receivers stand in each other's courts.
wrong-call The score was called wrong.
right-server Everybody stands where the score says, but a player believes that the wrong player serves.
right-call The score was called right, but a player believes that it was wrong.
reach-called The score has been called and the serve not yet struck.
reach-struck The serve has been struck and not yet returned.
reach-returned The serve has been returned.
reach-third The third shot has been struck.
stop-servers A player of the serving side stops play because of it.
stop-receivers A player of the receiving side stops play because of it.
stop-referee The referee stops play because of it.
won-by-servers The rally is played to its end and the serving side wins it.
won-by-receivers The rally is played to its end and the receiving side wins it.
since-rallyover The mistake is noticed before the next serve.
since-served The mistake is noticed when the next serve has been struck.
ask-ruling What becomes of the rally by the edition {edition}?
ruling-then Edition {edition}: {ruling}
ruling-now Edition {edition}: {ruling}

turn Turn {n}, {side}: {marks}; {ended}.
server-blank server {number} without a point
server-points server {number} points {points}
both {one}, {two}
turn-ended end of turn
turn-open still serving
time-out-at Time-out of {side} at {call}.
sheet-now The last turn was begun by {server}. The next call is written as {call}.
ask-sheet What is wrong on this sheet?
defect-none Nothing is wrong.
defect-opening The opening turn has two servers.
defect-turn A turn is missing: two turns of one side follow each other.
defect-point A point is missing in a turn.
defect-server The last turn was begun by the wrong partner.
defect-call The call has the receiving side's score first.
defect-break More time-outs are marked than a side has.
why-defect-none Numbers, points, sides, server and call all agree.
why-defect-opening The side that opens a game has one server, with number 2, in its first turn.
why-defect-turn Turns alternate; one without a point leaves its mark all the same.
why-defect-point The points of a side run without a gap from turn to turn.
why-defect-server At the side-out an even score puts the starting server in the right court, an odd one the partner, and the right court begins.
why-defect-call The serving side's score is called first.
why-defect-break A side has two time-outs in a game to 11.
no-turn-ended {side} serves and no side-out has been marked in this game.
began-at {side} serves. At its last side-out mark, where this turn began, it had {own}.
now It has {score} now, and the server number is {number}.
ask-rebuild Who serves, and from which court?

page-title Exercises for referees
page-about Level {level}, edition {edition}, seed {seed}. The answer key is on the last pages.
page-key Answer key
page-answer Answer
page-item Exercise {i}: {topic}
`
