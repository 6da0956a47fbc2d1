package referee

import (
	"strconv"
	"strings"
)

// English is the complete English table.
func English() *Language { return english }

var english = func() *Language {
	l, err := NewLanguage("en", EnglishTable(), EnglishNumber)
	if err != nil {
		panic(err) // a test renders every code
	}
	return l
}()

// EnglishTable returns a copy of the English texts, for a program that adds
// its own or starts another language from it.
func EnglishTable() map[Code]string {
	out := make(map[Code]string, len(englishTexts))
	for line := range strings.Lines(englishTexts) {
		if code, text, ok := strings.Cut(strings.TrimSpace(line), " "); ok {
			out[Code(code)] = strings.TrimSpace(text)
		}
	}
	return out
}

var ones = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
	"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}

var tens = []string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

// EnglishNumber spells 0 to 999 as a score is called; other numbers stay in
// digits.
func EnglishNumber(n int) string {
	switch {
	case n < 0 || n > 999:
		return strconv.Itoa(n)
	case n < 20:
		return ones[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + ones[n%10]
	case n%100 == 0:
		return ones[n/100] + " hundred"
	}
	return ones[n/100] + " hundred " + EnglishNumber(n%100)
}

// englishTexts holds one text a line: the code, a space, the text.
const englishTexts = `
person.marked {name} ({mark})
court.right right
court.left left
parity.even even
parity.odd odd
hand.left left
hand.right right
depth.near near
depth.far far
clause.rule rule {rule} of {edition}, {mark}
clause.edition the {edition} edition, {mark}
clause.practice common practice
clause.procedure officiating procedure, {mark}
mark.read read in the text
mark.paraphrase read in a paraphrase
mark.paraphrase-low read in an uncertain summary
mark.common-practice common practice
mark.derived derived
mark.memory from memory
mark.open no text settles it

call.two {serving:word}, {receiving:word}
call.three {serving:word}, {receiving:word}, {number:word}
call.start {serving:word}, {receiving:word}, start
call.none no score is called now
result.point point
result.second-server second server
result.side-out side out
result.replay replay
result.none nothing

said.fault "fault, {fault}"
said.short "short"
said.out "out"
said.nothing nothing: the ball is dead and the result is called
when.struck as soon as the serve is struck
when.lands as soon as the ball lands
when.early as soon as a serve is struck before the whole score has been called
when.early.motion as soon as a service motion begins before the whole score has been called
when.count when {seconds} seconds have passed since the score was called
when.dead when the ball is dead
when.seen as soon as it is seen, while the ball is live
when.returned when the wrong player returns the serve
when.due before the score is called, when that player is due to serve or receive
fault.foot service foot fault
fault.serve illegal serve
fault.short short serve
fault.early serve before the score was called
fault.ten ten seconds
fault.net ball into the net
fault.out ball out
fault.bounce volley before two bounces
fault.nvz volley fault at the non-volley zone
fault.twice second bounce, or ball struck twice
fault.body ball touched a player
fault.touch net or post touched
fault.plane net crossed before the strike
fault.receiver wrong receiver
fault.stopped play stopped without right
fault.timeout time-out called too late
fault.absent player not on court
fault.distract distraction
fault.other other fault
caller.referee the referee
caller.line-judge the line judge of that line
caller.end-players the players at whose end the ball landed
caller.serving-side the serving side
caller.receiving-side the receiving side
caller.either-side any player; where they disagree the rally is replayed
caller.offender the side that committed it
loser.serving-side the serving side
loser.receiving-side the receiving side
loser.offender the side that committed it

duty.help First of all, call qualified help: medical staff on site, emergency services where needed.
duty.safety Keep play stopped and the court clear for as long as care needs.
duty.qualified Leave it to qualified people what the condition is, how long care takes and who may go on.
duty.medical-clock.arrival The medical clock runs {minutes} minutes from the arrival of medical staff or the director; it never cuts care short.
duty.medical-clock.request The medical clock runs {minutes} minutes from the request; it never cuts care short.
duty.note-medical Write down for {player} only that medical time was asked for, whether qualified people granted it, and how long it took.
duty.medical-answer Wait for the answer of qualified people, or for the request to be withdrawn, and enter it.
duty.medical-penalty Only at the very end: if qualified people found no valid condition, enter that, and the edition's penalty follows.
duty.await-dealt This break ends only when its cause has been dealt with.
duty.out-of-match {player} takes no further part in this match: a concussion is suspected.
duty.what-remains What remains is a referee's time-out, retirement or forfeit; a mistaken entry is repaired with a stated reason.
duty.plays-alone {player} is out and {partner} plays on alone; order and places stay as if both were there.
duty.know-format Know the format: games at most {games}, target {target}, margin {margin}, time-outs a side in a game: {time-outs}.
duty.check-court Check the court: safety, lines, net height, posts.
duty.check-paddles Look at the paddles.
duty.brief Brief the players: format, time-outs, ends, who calls what, how to appeal.
duty.ask-starters Ask each side for its starting server, see that the mark of the starting server is worn, and write it down.
duty.ask-places Ask each side who stands in the right court, and write it down.
duty.first-choice Hold a fair draw for the first choice: serve, receive, end, or defer where the edition lets one.
duty.note-choice Write down that {side} serves first.
duty.opening-point {side} opens the coming game with one point, for a penalty of the opponents.
duty.orient Turn the record so that its sides lie as the sides stand, seen from your post.
duty.first-call Write the starting time down and go to the first call.
duty.say-result Say "{result}".
duty.mark-point Mark the point of {side}: {score} now.
duty.mark-point-server Mark the point of {side} under server {number}: {score} now.
duty.marker-two Set the marker to server 2: {server}.
duty.mark-turn-end Mark the end of the turn of {side}.
duty.turn-record Turn the record to {side}.
duty.read-score Read the score of {side}: {score}, {parity}.
duty.set-marker Set the marker by it: {parity}, so {server}.
duty.set-court Set the marker by it: {parity}, so the {court} court.
duty.then-look Only now look whether {server} stands in the {court} court: score before people.
duty.rehearse Rehearse the next call while the ball comes back: "{call}".
duty.say-replay Say that the rally is replayed, and why.
duty.note-replay Note the replay if a correction caused it; score, server and places stay.
duty.withheld {side} won the rally, but at this score it scores on its own serve only: it stays at {score}.
duty.say-ruling Give the ruling. {ruling}
duty.say-end-change Say that ends change now; the score and the server stay.
duty.say-game Say "game": {own} to {other} for {side}.
duty.say-time-in Say "time in".
duty.call-absence Call the fault of {side}: the player due to serve or receive is out of the match.
duty.put-right You faulted {side} just now: see that it is right before you call, {server} serving from the {court} court.
duty.check-order Check before the call, and put right unasked: {server} has the ball in the {court} court, {receiver} receives, partners in their places.
duty.check-order.singles Check before the call, and put right unasked: {server} has the ball in the {court} court, {receiver} receives.
duty.correct-nobody Correct nobody unasked: who serves and who stands where is for the players to know.
duty.receiver-ready Look whether {receiver} is ready to receive, not the partner.
duty.receiver-ready.singles Look whether {receiver} is ready to receive.
duty.server Look at the server: {server}, {court} court.
duty.feet Look at the feet of {server}.
duty.call Call the score: "{call}".
duty.count Count {seconds} seconds from the end of the call.
duty.watch-serve Watch the serve of {server}: motion, feet, and whether it lands short.
duty.watch-zone Watch the feet at the non-volley line, not the ball.
duty.stop.stands-warned If the wrong player serves, let the rally be played: it stands, and a warning follows.
duty.stop.fault If the wrong player serves or returns, or serves from the wrong court, stop at once and name the fault.
duty.stop.replay-if-stopped If the wrong player serves or receives, or from the wrong court, stop: the rally is replayed. Once it is played to its end it stands.
duty.stop.corrected If a mistake of server or court is found, correct it; the score stands.
duty.note-time-out Write down: time-out of {side}, used {used}, left {left}, the call stands at "{call}".
duty.note-time-out.between Write down: time-out of {side} before game {game}, used {used}, left {left}.
duty.note-equipment Write down: equipment time-out for {player}.
duty.note-stop Write down when and why play stopped, and the score.
duty.clock Start the clock: {seconds} seconds.
duty.clock-equipment Start the clock: at most {seconds} seconds.
duty.reasonable The break may last a reasonable time; no number is given.
duty.paddles Have the players lay their paddles where they will stand, that of {server} with the ball beneath it.
duty.notice Give notice {seconds} seconds before the end.
duty.compare Compare who comes back with the record: {server} serves from the {court} court to {receiver}.
duty.last-time-out Tell {side} that this was its last time-out of the game.
duty.note-number Note the call before anybody moves: "{call}".
duty.clock-ends Start the clock: at most {seconds} seconds to change ends.
duty.same-server The same player serves on: {server}.
duty.write-final Write the final of game {game} down and read it back: {a} to {b}, in the order of entry.
duty.write-forfeit Write down that game {game} was forfeited, at {a} to {b} in the order of entry; its final is reported by the edition's convention.
duty.clock-games Start the clock: at most {seconds} seconds between games.
duty.change-ends Have the sides change ends.
duty.keep-ends The sides keep their ends.
duty.next-first {side} serves first in the next game.
duty.ask-first Ask who serves first in the next game.
duty.new-starters Ask each side whether its starting server changes, and see that the mark of the starting server is handed on.
duty.new-places Ask each side whether its partners exchange courts.
duty.time-outs-coming Time-outs are new: each side has {allowed} in the coming game, and one asked for now is charged to it.
duty.time-outs-none Time-outs are new in the coming game; none can be called before it begins.
duty.say-match Announce the match: {side}, {own} to {other} in games.
duty.say-outcome.tied Announce that the match is tied.
duty.say-outcome.retired Announce that {side} has retired.
duty.say-outcome.withdrew Announce that {side} has withdrawn.
duty.say-outcome.forfeited Announce that {side} has forfeited the match.
duty.say-outcome.double-forfeit Announce that both sides have forfeited the match.
duty.sign Have the sheet signed by the winning side.
duty.note-incidents Note penalties and incidents on the sheet: time, score, server, what was ruled.
duty.correctable The last rally can still be ruled on until the sheet is returned.
duty.final The result is final with the last point.
duty.carry Report a penalty given now to the director: it is carried into the next match.
duty.return-sheet Return the sheet to the desk.
duty.free Hand the kit in and report yourself free.
duty.suspended The match is abandoned: it is resumed where it stood, or the sheet is returned.
duty.say-verbal Say "verbal warning" to {side}.
duty.say-warning Say "technical warning" to {side}.
duty.say-foul Say "technical foul" to {side}.
duty.note-penalty Note the penalty on the sheet with its reason.
duty.penalty-point Say the score as it is now: {a} to {b}, in the order of entry.
duty.penalty-places See that {side} moves to the places of its new score; {server} is the server.
duty.say-forfeit-game Say that {side} has forfeited the game.
duty.exchanged Note that the partners of {side} have exchanged courts.
duty.ends-made Note that ends have been changed.
duty.note Note it with the time and the score.

question.score "What is the score?"
question.server "Is that the correct server?"
question.server-court "Is the server in the correct court?"
question.receiver "Is that the correct receiver?"
question.own-places "Are we in the correct places?"
question.opponent-places "Are they in the correct places?"
response.refuse Do not answer it.
response.score-only Say the score and nothing else.
response.confirm Answer yes or no and nothing else.
response.put-in-order Put all players in order.
response.unruled The edition says nothing: the event's officials decide.
answer.refuse "I cannot answer that."
answer.score "{call}"
answer.own-score "You have {score} points."
answer.no-score "There is no score to call now."
answer.yes "Yes."
answer.no "No."
answer.order "{server} serves from the {court} court, {receiver} receives; please take your places."
answer.unruled "Let me ask the director."
reading.place-questions.any any player may ask about server and places before the serve
reading.place-questions.server-by-servers the serving side may ask for its server and the score, the receiving side for the score only, and nobody for places
reading.place-questions.score-only players may ask for the score only
reading.place-questions.own-score players may ask for the score, and a question about places is met with the own score
reading.place-questions.opponents-too any player may ask about server, receiver and places of both sides before the serve
reading.place-questions.- the edition says nothing about questions
unsaid.server Do not volunteer who serves.
unsaid.court Do not volunteer from which court.
unsaid.receiver Do not volunteer who receives.
unsaid.places Do not volunteer who stands where.
unsaid.line Do not volunteer a line call that is the players' and was not appealed.

server.none Nobody serves now.
server.why {who}, {where}, {whom}.
who.opening {server} serves because the opening turn of the game belongs to the starting server of {side}
who.first {server} serves as first server because the score of {side} was {parity} when the serve came over, which puts the {role} in the right court
who.second {server} serves as second server because {partner} has lost the serve
who.second-open {server} serves as second server, as the starting server does in the opening turn and after the partner
who.turn.starter {server} serves as the starting server because {side} opened the game or won the serve at an even score
who.turn.partner {server} serves as the partner of the starting server because {side} won the serve at an odd score
who.singles {server} serves because the serve stays with the player who won it
who.fixed {server} serves because {side} has {score}, which is {parity}, and stands in the {court} court
who.fixed-penalty {server} serves on because a penalty moves the score but not the server
who.swap {server} serves because the player in the court of the score of {side} opens its turn and keeps the serve
role.starter starting server
role.partner partner of the starting server
where.parity {side} has {score} now, which is {parity}, so {starter}, its starting server, stands in the {starts} court and the serve comes from the {court} court
where.singles the server's own score is {score}, which is {parity}, so the serve comes from the {court} court
where.fixed partners keep their courts, so the serve comes from the {court} court
where.swap partners trade courts after a point on their own serve, so the serve comes from the {court} court
whom.diagonal and {receiver} stands in the court diagonal to it
whom.singles and {receiver} receives diagonal to it
whom.half and {receiver} receives in the {court} court, having {score}, which is {parity}

ruling.none There is nothing to rule on.
ruling.one {verdict}: {reason} ({clause}).
ruling.two {verdict}: {reason} ({clause}); {reason2} ({clause2}).
ruling.warned {ruling} A technical warning goes with it.
ruling.fouled {ruling} A technical foul goes with it.
verdict.unaffected Nothing changes
verdict.stands The rally stands
verdict.replay The rally is replayed
verdict.servers-lose The serving side loses the rally
verdict.receivers-lose The receiving side loses the rally
verdict.ignored The rally does not count
reading.order-error.stands-warned a wrong server's rally stands and costs a technical warning, the second time a technical foul
reading.order-error.fault a wrong server, court or receiver is a fault of the side that is wrong, from the moment it serves or returns; a player who stops play without right is faulted
reading.order-error.replay-if-stopped a rally stopped for a real mistake of server, court or receiver is replayed, a player who stops it without one loses it, and a rally played to its end stands
reading.order-error.corrected a mistake of server or court is corrected when it is found, and the score stands
reading.order-error.- the edition says nothing about mistakes of server or court
reading.order-window.none nothing is faulted once the rally is over
reading.order-window.overtaken it can be faulted until another point is scored or the opponents have served
reading.order-window.next-serve it can be faulted until the next serve
reading.order-window.sheet it can be faulted until the next serve and, after the last rally, until the sheet is returned
reading.order-window.- the edition gives no limit
reading.score-stop.before-serve for a wrong score call play can be stopped before the serve only; who stops it later, or for a right call, is faulted
reading.score-stop.before-return for a wrong score call play can be stopped until the return of serve; who stops it later, or for a right call, is faulted
reading.score-stop.before-third-shot for a wrong score call play can be stopped until the third shot; who stops it later, or for a right call, is faulted
reading.score-stop.- the edition says nothing about stopping for a score call
reading.misled.no being misled by a wrong call excuses no late stop
reading.misled.yes a player whom a wrong call led to see a wrong server is not faulted for stopping
reading.misled.- the edition says nothing about a player misled by a call
reading.receiver-fault.struck a wrong receiver is at fault as soon as the serve is struck
reading.receiver-fault.returned a wrong receiver is at fault only once he returns the serve
reading.receiver-fault.- the edition does not say from when on a wrong receiver is at fault
reading.late-receiver.stands a rally that a wrong receiver played to its end stands
reading.late-receiver.fault a wrong receiver is still a fault after the rally, until the next serve
reading.late-receiver.- the edition has no rule of its own for a wrong receiver found late
reading.late-side.annulled a rally served by the wrong side is replayed if that is noticed before the next serve
reading.late-side.stands a rally that the wrong side served and that was played to its end stands
reading.late-side.- the edition says nothing about a rally served by the wrong side
reading.both-wrong.serving-side where both sides are wrong, the serving side's mistake counts
reading.both-wrong.receiving-side where both sides are wrong, the receiving side's mistake counts
reading.both-wrong.- the edition says nothing about mistakes of both sides
reading.second-offence.ignored the rally of a second wrong server is ignored
reading.second-offence.counts the rally of a second wrong server counts all the same
reading.second-offence.- the edition knows no second offence
reading.fault-again.faulted a side that nobody put right after a called fault is faulted again
reading.fault-again.excused a side that nobody put right after a called fault is not faulted again
reading.fault-again.- the edition says nothing about a second fault for the same lapse
reading.starter-notice.note a change of starting server without notice is noted and costs nothing
reading.starter-notice.fault a change of starting server without notice is a fault
reading.starter-notice.- the edition says nothing about a change of starting server

refusal.sentence Refused, {event}: {reason}.
refusal.clause {reason} ({clause})
refusal.accepted That would be accepted.
refusal.instead Instead: {kinds}.
refusal.allowed What may come now: {kinds}.
refusal.nothing Nothing can follow.
kinds.one {kind}
kinds.more {kind}, {rest}
refusal.malformed there is no such event, or its parts contradict each other
refusal.log-only a correction is carried out by the log
refusal.closed the sheet has been returned
refusal.over the match is over
refusal.abandoned the match is abandoned; it must be resumed first, or the sheet returned
refusal.no-such-player singles has no second player
refusal.not-in-edition the edition has no such rule
refusal.local-rule only a local rule could allow it
refusal.not-started it cannot come before the match has begun
refusal.not-in-play it can come only while a game is in play
refusal.in-play it can come only before the match or between games
refusal.no-first-server nobody has chosen who serves first
refusal.first-settled the first choice has been made and is final
refusal.wrong-side-first the other side serves first in this game
refusal.not-its-choice the choice is the other side's, or that was not left to choose
refusal.undealt the cause of the break has not been dealt with
refusal.awaiting-medical qualified people must first say whether the condition is valid, or the request be withdrawn
refusal.in-break another break is running
refusal.no-break no break is running
refusal.none-left no time-out is left in this game
refusal.medical-used the player's medical time is used up, but play may be stopped for safety and help called at any time
refusal.no-request the player has not asked for medical time
refusal.player-out a player who is needed is out of this match
refusal.nobody-left no partner is left who could play on alone
refusal.absent-due a player who is out is due to serve or receive, and that fault comes first
refusal.not-due no mid-game end change is due
refusal.not-fixed partners exchange courts only where the courts are fixed
refusal.not-now it cannot come at this moment
refusal.second-verbal a side gets one verbal warning in a match; a technical warning is next
refusal.out-of-window it is too late, or too early, for that ruling
refusal.most-points a score can hold no more points
kind.rally rally won
kind.replay replay
kind.stop stopped rally
kind.start-game start of a game
kind.ends-changed ends changed
kind.exchange partners exchange courts
kind.time-out time-out
kind.time-in time in
kind.equipment equipment time-out
kind.referee referee's time-out
kind.blood referee's time-out for blood
kind.hazard referee's time-out for a hazard
kind.illness referee's time-out for illness
kind.dealt cause of the break dealt with
kind.medical-request request for medical time
kind.medical-valid valid condition found by qualified people
kind.medical-invalid no valid condition found by qualified people
kind.medical-withdrawn medical request withdrawn
kind.play-on-alone one player plays on alone
kind.concussion suspected concussion
kind.verbal-warning verbal warning
kind.technical-warning technical warning
kind.technical-foul technical foul
kind.carried-warning warning from the last match
kind.carried-foul foul from the last match
kind.game-forfeit game forfeit
kind.match-forfeit match forfeit
kind.double-forfeit forfeit of both sides
kind.ejection ejection
kind.expulsion expulsion
kind.late-arrival late arrival
kind.challenge-lost challenge lost
kind.challenge-withdrawn challenge withdrawn
kind.first-choice first choice
kind.retirement retirement
kind.withdrawal withdrawal
kind.abandon match abandoned
kind.resume match resumed
kind.substitution substitution
kind.sheet-returned sheet returned
kind.undo undo
kind.redo redo
kind.amend entry repaired
kind.rule ruled correction
kind.rewind rewind
kind.set position set
kind.format change of format

choice.serve {side} serves first; {other} takes an end
choice.receive {side} receives first; {other} takes an end
choice.end {side} takes an end; {other} serves or receives
choice.defer {side} leaves the choice to {other}
plan.game Game {game}: {side} serves first; {left} on the left of the referee, {right} on the right.
plan.open Game {game}: who serves first is chosen; {left} on the left of the referee, {right} on the right.
plan.winner Game {game}: the winner of the game before serves first; {left} on the left of the referee, {right} on the right.
plan.loser Game {game}: the loser of the game before serves first; {left} on the left of the referee, {right} on the right.
plan.mid Ends change in it when a side first has {score}.
plan.mid-none Ends do not change in it.

hand-over.match Match {match}, court {court}, referee so far {referee}.
hand-over.format Format {format}: games at most {games}, this one to {target}, margin {margin}.
hand-over.before The match has not begun.
hand-over.game Game {game}; games won: {a} {won-a}, {b} {won-b}.
hand-over.final Game {game} was {a} {score-a}, {b} {score-b}.
hand-over.final-forfeit Game {game} was forfeited, to be reported {a} {score-a}, {b} {score-b}.
hand-over.score Score: {a} {score-a}, {b} {score-b}.
hand-over.call Next call "{call}": {server} serves from the {court} court to {receiver}.
hand-over.starters Starting servers of this game: {a} and {b}.
hand-over.rights In the right courts of this game: {a} and {b}.
hand-over.stands {player} stands in the {court} court, on your {hand}, {depth}.
hand-over.ends {left} on your left, {right} on your right.
hand-over.ends-due The mid-game end change is due now.
hand-over.ends-made The mid-game end change has been made.
hand-over.ends-not-made The mid-game end change is still to come.
hand-over.ends-none There is no mid-game end change in this game.
hand-over.put-right {side} was faulted just now and must be put right before the call.
hand-over.break A break is running: {kind}.
hand-over.time-outs Time-outs of {side}: used {used}, left {left}.
hand-over.time-out {side} took one at the call {call}.
hand-over.time-out.between {side} took one before the game.
hand-over.medical Medical time of {player} is used up.
hand-over.medical-open {player} has asked for medical time; the answer of qualified people is awaited.
hand-over.medical-none No medical time has been used.
hand-over.out {player} is out of this match; the partner plays alone.
hand-over.concussed {player} takes no further part in this match.
hand-over.penalties Penalties of {side}: verbal warnings {verbal}, technical warnings {warnings}, technical fouls {fouls}, games forfeited {forfeits}.
hand-over.carried {player} brought a penalty from the last match.
hand-over.opens {side} opens the coming game with one point.
hand-over.replay Entry {entry} was a replay, the call then {call}.
hand-over.over The match is over.
break.t time-out
break.m medical time-out
break.eq equipment time-out
break.ref referee's time-out
break.blood referee's time-out for blood
break.hazard referee's time-out for a hazard
break.illness referee's time-out for illness
rebuild.opening The opening turn is the starting server's; with {score} points now in the {court} court.
rebuild.starter The turn began at {own}, which is {parity}: server {number} is the starting server, with {score} points now in the {court} court.
rebuild.partner The turn began at {own}, which is {parity}: server {number} is the partner, with {score} points now in the {court} court.
`
