package words

// englishTable holds the English texts, as [NewLanguage] reads them.
const englishTable = `# Words that others are made of
person.marked {name} ({mark})
person.side side {side}
person.pair {a} and {b}
name.of {player}
list.and and
list.or or
court.right right
court.left left
court.none undivided
parity.even even
parity.odd odd
hand.left left
hand.right right
depth.near near
depth.far far
depth.none anywhere
score.of {score}
likely.mistyped : probably {scores:or}
likely.unknown : compare with the sheet
certain.yes certain, unless an error more was made than this takes
certain.no by the fewest changes; others come near

# Rules: where a clause stands, and how well that is known
clause.rule rule {rule} of {edition}, {mark}
  rule {rule} of {edition}
clause.edition the {edition} edition, {mark}
  the {edition} edition
clause.practice common practice
clause.procedure officiating procedure, {mark}
  officiating procedure
clause.own a rule of this library, {mark}
  a rule of this library
clause.club club practice, {mark}
  club practice
clause.event by the rules of this event
mark.read read in the text
  read
mark.paraphrase read in a paraphrase
  paraphrase
mark.paraphrase-low read in an uncertain summary
  uncertain paraphrase
mark.common-practice common practice
  common practice
mark.derived derived
  derived
mark.memory from memory
  memory
mark.open no text settles it
  open

# What is played
format.played {parts}
format.serving-side-scores the serving side scores
format.either-side-scores either side scores
format.to to {target} by {margin}
format.to-cap to {target} by {margin} or at {cap}
format.two-servers two servers a turn
format.two-servers-one-first two servers a turn, one in the first
format.freeze {freeze}
format.best-of best of {games}
format.all-played {games} games, all played
format.last-to the last to {target}
freeze.win-on-serve the winning point only on own serve
freeze.each-at-point each side frozen one short of the target
freeze.leader-and-trailer the leader frozen one short of the target, the trailer from three short
freeze.both-at-point all points on own serve only once a side is one short of the target
sides.singles singles
sides.doubles doubles

# What happened: events, their parts, effects, phases, breaks
event.plain {kind}
event.side {kind}, {side}
event.person {kind}, {player}
event.fault {kind}, {side}: {fault}
event.start {kind}: {side} first, starting servers {a} and {b}
event.choice {kind}, {side}: {chosen}
event.late {kind}, {side}: {seconds} {seconds|second|seconds}
event.incident {event}; {claim}
event.stop {stopper} stops the rally {reach}: {claim}
event.none no such event
entry.amend entry {entry} repaired: {event}
entry.strike entry {entry} struck
entry.rule entry {entry} ruled on: {event}
entry.rewind game taken back to entry {entry}
entry.set position set: {line}
entry.now format changed now: {format}
entry.next format changed from the next game: {format}
entry.stated {entry} (reason: {reason})
entry.decided {entry} (decided by {by})
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
kind.help-arrived arrival of help
kind.play-on-alone one player plays on alone
kind.concussion suspected concussion
kind.verbal-warning verbal warning
kind.technical-warning technical warning
kind.technical-foul technical foul
kind.carried-verbal verbal warning from the last match
kind.carried-warning warning from the last match
kind.carried-foul foul from the last match
kind.same-verbal the partner's verbal warning from the last match, brought by both
kind.same-warning the partner's warning from the last match, brought by both
kind.same-foul the partner's foul from the last match, brought by both
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
kind.abandon match stopped, to be resumed
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
fault.foot foot fault
fault.serve illegal serve
fault.short short serve
fault.early serve before the score was called
fault.ten ten-second fault
fault.net ball into the net
fault.out ball out
fault.bounce volley before two bounces
fault.nvz non-volley zone fault
fault.twice second bounce, or ball struck twice
fault.body ball touched a player
fault.touch touching the net or a post
fault.plane net crossed before the strike
fault.receiver wrong receiver
fault.stopped stopping play without right
fault.timeout time-out called too late
fault.absent player not on court
fault.distract distraction
fault.other other fault
chosen.serve to serve
chosen.receive to receive
chosen.end an end
chosen.defer to leave the choice to the other side
claim.mistakes {mistakes:and}
claim.mistaken claimed, but not so: {mistake}
claim.raised {claim}, raised {since} by {stopper}
claim.misled {claim}, which misled the player who stopped
claim.confirmed {claim}, though the referee had been asked and had confirmed
mistake.side the wrong side served
mistake.server the wrong player served
mistake.court the serve came from the wrong court
mistake.receiver the wrong player received
mistake.rcourt the receivers stood in the wrong courts
mistake.call the score was called wrong
mistake.starter the serving side had changed its starting server without notice
mistake.rstarter the receiving side had changed its starting server without notice
reach.ended at its end
reach.uncalled before the score is called
reach.called after the call, before the serve
reach.struck after the serve is struck
reach.returned after the return
reach.third after the third shot
since.live in the rally
since.rallyover after the rally
since.served once the next serve is struck
since.overtaken after a further point, or once the opponents have served
since.gameover after the game
since.sheet after the sheet is returned
stopper.nobody somebody
stopper.byA side A
stopper.byB side B
stopper.byref the referee
effect.point point
effect.second-server second server
effect.side-out side out
effect.replay the rally is played again
effect.withheld no point: the winner scores on its own serve only at this score
effect.stands the rally stands
effect.overruled the ruling changed the result
effect.game-started a game begins
effect.game-won game won
effect.match-won match won
effect.ends-due ends change now
effect.ends-changed ends have been changed
effect.exchanged partners have exchanged courts
effect.break a break begins
effect.time-in play goes on
effect.time-out-charged a time-out is charged
effect.last-time-out last time-out of the game used
effect.medical-used medical time used up
effect.warning technical warning
effect.foul technical foul
effect.verbal-warning verbal warning
effect.penalty-point a penalty moves the score
effect.game-forfeit game forfeited
effect.match-forfeit match forfeited
effect.player-out a player is out of the match
effect.help call qualified help
effect.put-right a side must be put right before the call
effect.recorded recorded
effect.first-chosen who serves first is settled
effect.closed the sheet is returned
phase.before before the match
phase.play in play
phase.between between games
phase.over over, the sheet not yet returned
phase.closed closed, the sheet is returned
break.t time-out
break.m medical time-out
break.eq equipment time-out
break.ref referee's time-out
break.blood referee's time-out for blood
break.hazard referee's time-out for a hazard
break.illness referee's time-out for illness
how.played played
how.forfeited forfeited
how.broken-off broken off
how.unplayed not played
how.unfinished unfinished
how.unknown not known

# Why an event is refused
refusal.sentence Refused, {event}: {reason}.
  Refused: {reason}.
refusal.clause Refused, {event}: {reason} ({clause:short}).
  Refused: {reason}.
refusal.open Refused, {event}: {reason} ({clause}).
  Refused: {reason}, by default: no text settles it.
refusal.accepted That would be accepted.
refusal.instead Instead: {kinds}.
refusal.allowed What may come now: {kinds}.
refusal.nothing Nothing can follow.
refusal.malformed there is no such event, or its parts contradict each other
refusal.log-only a correction is carried out by the log
refusal.closed the sheet has been returned
refusal.over the match is over
refusal.abandoned the match is stopped; it must be resumed first, or the sheet returned
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
refusal.rule Refused, {event}. {rule} ({clause})
  Refused. {rule}

# Calls
call.two {serving:word}, {receiving:word}
call.three {serving:word}, {receiving:word}, {number:word}
call.start {serving:word}, {receiving:word}, start
call.none no score is called now
result.point point
result.second-server second server
result.side-out side out
result.with-point point, {result}
result.service-over service over
result.hand-out hand-out
result.replay replay
result.none nothing
said.foot "foot fault"
said.nvz "fault, non-volley zone"
said.ten "fault, ten seconds"
said.other "fault"
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
when.late.motion as soon as a time-out is called after the motion of the serve has begun
when.late.strike as soon as a time-out is called after the serve has been struck
when.returned when the wrong player returns the serve
when.due before the score is called, when that player is due to serve or receive
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

# Duties
duty.help First of all, call qualified help: medical staff on site, emergency services where needed.
  Call qualified help.
duty.safety Keep play stopped and the court clear for as long as care needs.
  Keep the court clear.
duty.qualified Leave it to qualified people what the condition is, how long care takes and who may go on.
  Qualified people decide.
duty.medical-clock.arrival The medical clock runs {minutes} minutes from the arrival of medical staff or the director; it never cuts care short.
  {minutes} minutes from the arrival of help; care is never cut short.
duty.medical-clock.request The medical clock runs {minutes} minutes from the request; it never cuts care short.
  {minutes} minutes from the request; care is never cut short.
duty.note-medical Write down for {player} only that medical time was asked for, whether qualified people granted it, and how long it took.
  Note for {player}: asked, granted or not, how long.
duty.medical-answer Wait for the answer of qualified people, or for the request to be withdrawn, and enter it.
  Wait for qualified people; enter their answer.
duty.medical-penalty Only at the very end: if qualified people found no valid condition, enter that, and the edition's penalty follows.
  At the very end: no valid condition, penalty.
duty.await-dealt This break ends only when its cause has been dealt with.
  The break lasts until it is dealt with.
duty.out-of-match {player} takes no further part in this match: a concussion is suspected.
  {player}: out of the match.
duty.what-remains What remains is a referee's time-out, retirement or forfeit; a mistaken entry is repaired with a stated reason.
  What remains: referee's time-out, retirement, forfeit, repair.
duty.plays-alone {player} is out and {partner} plays on alone; order and places stay as if both were there.
  {player} is out, {partner} plays alone; order and places stay.
duty.know-format Know the format: {played}; {time-outs} {time-outs|time-out|time-outs} a side in a game.
  {played}; {time-outs} {time-outs|time-out|time-outs} a side.
duty.check-court Check the court: safety, lines, net height, posts.
  Check court, net, posts.
duty.check-paddles Look at the paddles.
  Paddles.
duty.brief Brief the players: format, time-outs, ends, who calls what, how to appeal.
  Brief the players.
duty.ask-starters Ask each side for its starting server, see that the band of the starting server is worn, and write it down.
  Starting servers: ask, see the bands, write down.
duty.ask-places Ask each side who stands in the right court, and write it down.
  Who stands right: ask, write down.
duty.first-choice Hold a fair draw for the first choice: serve, receive, end, or defer where the edition lets one.
  Draw for the first choice.
duty.note-choice Write down the first serve of the match: {side}.
  First serve: {side}.
duty.opening-point The coming game opens with one point for {side}, for a penalty of the opponents.
  {side}: one point to open.
duty.orient Turn the sheet so that its sides lie as the sides stand, seen from your post.
  Turn the sheet to the sides.
duty.first-call Write the starting time down and go to the first call.
  Starting time, first call.
duty.say-result Say "{result}".
  {result:capital}.
duty.mark-point Tick the point of {side}: {score} now.
  {side}: {score}.
duty.mark-point-server Tick the point of {side} under server {number}: {score} now.
  {side}: {score}, server {number}.
duty.marker-two Set the server clip to 2: {server}.
  Clip to 2: {server}.
duty.mark-turn-end Mark the end of the turn of {side}.
  End of turn: {side}.
duty.turn-record Turn the sheet to {side}.
  Sheet to {side}.
duty.read-score Read the score of {side}: {score}, {parity}.
  {side}: {score}, {parity}.
duty.set-marker Set the server clip by it: {parity}, so {server}.
  {parity:capital}: {server}.
duty.set-court Set the server clip by it: {parity}, so the {court} court.
  {parity:capital}: {court} court.
duty.then-look Only now look whether {server} stands in the {court} court: score before people.
  {server}, {court} court.
duty.rehearse Rehearse the next call while the ball comes back: "{call}".
  {call:capital}.
duty.say-replay Say that the rally is replayed, and why.
  Replay, and why.
duty.note-replay Note the replay if a correction caused it; score, server and places stay.
  Note the replay if a correction caused it.
duty.withheld At this score {side} can score on its own serve only: no point, it stays at {score}.
  No point: {side} stays at {score}.
duty.say-ruling Give the ruling. {ruling}
  {ruling}
duty.say-end-change Say that ends change now; the score and the server stay.
  Ends change now.
duty.say-game Say "game": {own} to {other} for {side}.
  Game, {own} to {other}, {side}.
duty.say-time-in Say "time in".
  Time in.
duty.call-absence Call the fault of {side}: the player due to serve or receive is out of the match.
  Fault, {side}: the player is out.
duty.put-right A fault of {side} has just been called: see that it is right before you call, {server} serving from the {court} court.
  Put {side} right: {server}, {court} court.
duty.check-order Check before the call, and put right unasked: {server} has the ball in the {court} court, {receiver} receives, partners in their places.
  {server}, {court} court; {receiver} receives.
duty.check-order.singles Check before the call, and put right unasked: {server} has the ball in the {court} court, {receiver} receives.
  {server}, {court} court; {receiver} receives.
duty.correct-nobody Correct nobody unasked: who serves and who stands where is for the players to know.
  Correct nobody unasked.
duty.receiver-ready Look whether {receiver} is ready to receive, not the partner.
  {receiver} ready?
duty.receiver-ready.singles Look whether {receiver} is ready to receive.
  {receiver} ready?
duty.server Look at the server: {server}, {court} court.
  {server}, {court} court.
duty.feet Look at the feet of {server}.
  Feet of {server}.
duty.call Call the score: "{call}".
  {call:capital}.
duty.count Count {seconds} seconds from the end of the call.
  {seconds} seconds from the call.
duty.watch-serve Watch the serve of {server}: motion, feet, and whether it lands short.
  Watch the serve.
duty.watch-zone Watch the feet at the non-volley line, not the ball.
  Feet at the non-volley line.
duty.line-appeal Leave lines to the players of that end; if they appeal, call only what you saw.
  Lines only on appeal.
duty.stop.stands-warned If the wrong player serves, let the rally be played: it stands, and a warning follows.
  Wrong server: play on, then warn.
duty.stop.fault If the wrong player serves or returns, or serves from the wrong court, stop at once and name the fault.
  Wrong server, court or receiver: stop, name the fault.
duty.stop.replay-if-stopped If the wrong player serves or receives, or from the wrong court, stop: the rally is replayed. Once it is played to its end it stands.
  Wrong server, court or receiver: stop, replay; played out it stands.
duty.stop.corrected If a mistake of server or court is found, correct it; the score stands.
  Wrong server or court: correct it; the score stands.
duty.say-time-out Say "time-out" and tell the other side: {side}.
  Time-out, {side}.
duty.coaching Others than the partner may coach until time is called in.
  Coaching is allowed.
duty.no-coaching Partners may talk while ends are changed; nobody else coaches.
  No coaching.
duty.note-time-out Write down: time-out of {side}, used {used}, left {left}, the call stands at "{call}".
  Time-out, {side}: used {used}, left {left}; "{call}".
duty.note-time-out.between Write down: time-out of {side} before game {game}, used {used}, left {left}.
  Time-out, {side}, for game {game}: used {used}, left {left}.
duty.note-equipment Write down: equipment time-out for {player}.
  Equipment time-out, {player}.
duty.note-stop Write down when and why play stopped, and the score.
  Note when, why, score.
duty.clock Start the clock: {seconds} seconds.
  {seconds} seconds.
duty.clock-equipment Start the clock: at most {seconds} seconds.
  At most {seconds} seconds.
duty.reasonable The break may last a reasonable time; no number is given.
  A reasonable time.
duty.paddles Have the players lay their paddles where they will stand, that of {server} with the ball beneath it.
  Paddles down, the ball under that of {server}.
duty.notice Give notice {seconds} seconds before the end.
  Notice at {seconds} seconds.
duty.compare Compare who comes back with the sheet: {server} serves from the {court} court to {receiver}.
  {server}, {court} court, to {receiver}.
duty.not-ready.penalty A side that is not back ten seconds later is fouled; the second time it forfeits the match.
  Not back in ten seconds: foul.
duty.not-ready.ten-seconds Call the score even if players are absent: the ten seconds run.
  Call the score; ten seconds run.
duty.not-ready.when-ready Call the score when players are ready or should be; warn who delays.
  Call when they are ready or should be.
duty.last-time-out Tell {side} that this was the last time-out of the game.
  {side}: that was the last time-out.
duty.note-number Note the call before anybody moves: "{call}".
  Note the call: "{call}".
duty.clock-ends Start the clock: at most {seconds} seconds to change ends.
  At most {seconds} seconds, ends.
duty.same-server The same player serves on: {server}.
  {server} serves on.
duty.write-final Write the final of game {game} down and read it back: {a} to {b}, in the order of entry.
  Game {game}: {a} to {b}, write and read back.
duty.write-forfeit Write down that game {game} was forfeited, at {a} to {b} in the order of entry; its final is reported by the edition's convention.
  Game {game} forfeited, {a} to {b}.
duty.clock-games Start the clock: at most {seconds} seconds between games.
  At most {seconds} seconds.
duty.change-ends Have the sides change ends.
  Ends change.
duty.keep-ends The sides keep their ends.
  Ends stay.
duty.next-first First serve of the next game: {side}.
  {side} serves first.
duty.ask-first Ask who serves first in the next game.
  Who serves first?
duty.new-starters Ask each side whether its starting server changes, and see that the band of the starting server is handed on.
  Starting servers: new ones? Hand the bands on.
duty.new-places Ask each side whether its partners exchange courts.
  Do partners exchange?
duty.time-outs-coming Time-outs are new: each side has {allowed} in the coming game, and one asked for now is charged to it.
  {allowed} time-outs each, new.
duty.time-outs-none Time-outs are new in the coming game; none can be called before it begins.
  No time-outs before the game begins.
duty.say-match.single Announce the match: {side}, {own} to {other}.
  Match, {side}, {own} to {other}.
duty.say-match Announce the match: {side}, {own} to {other} in games.
  Match, {side}, {own} to {other}.
duty.say-outcome.tied Announce that the match is tied.
  The match is tied.
duty.say-outcome.retired Announce the retirement of {side}.
  {side}: retired.
duty.say-outcome.withdrew Announce the withdrawal of {side}.
  {side}: withdrawn.
duty.say-outcome.forfeited Announce that the match is forfeited by {side}.
  {side}: match forfeited.
duty.say-outcome.double-forfeit Announce that both sides have forfeited the match.
  Both sides: forfeited.
duty.sign Have the sheet signed by the winning side.
  Signature of the winners.
duty.note-incidents Note penalties and incidents on the sheet: time, score, server, what was ruled.
  Note penalties and incidents.
duty.correctable The last rally can still be ruled on until the sheet is returned.
  The last rally is open until the sheet is returned.
duty.final The result is final with the last point.
  The result is final.
duty.carry Report a penalty given now to the director: it is carried into the next match.
  Penalties now: to the director.
duty.between-matches Note the time: between two matches of the same players lie {seconds} seconds.
  Note the time: {seconds} seconds between matches.
duty.return-sheet Return the sheet to the desk.
  Return the sheet.
duty.free Hand the kit in and report yourself free.
  Kit in, report free.
duty.suspended Say that play is stopped, and why: rain, say. The match is resumed where it stood, or the sheet is returned.
  Play is stopped: resume, or return the sheet.
duty.say-verbal Say "verbal warning" to {side}.
  Verbal warning, {side}.
duty.say-warning Say "technical warning" to {side}.
  Technical warning, {side}.
duty.say-foul Say "technical foul" to {side}.
  Technical foul, {side}.
duty.note-penalty Note the penalty on the sheet with its reason.
  Note penalty and reason.
duty.penalty-point Say the score as it is now: "{call}".
  "{call}".
duty.penalty-places See that {side} moves to the places of its new score; {server} is the server.
  {side}: places of the new score; {server} is the server.
duty.say-forfeit-game Say that the game is forfeited by {side}.
  Game forfeited by {side}.
duty.exchanged Note that the partners of {side} have exchanged courts.
  Partners exchanged: {side}.
duty.ends-made Note that ends have been changed.
  Ends changed: note it.
duty.note Note it with the time and the score.
  Note it.

# Questions of players
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
unsaid.server Do not volunteer who serves.
unsaid.court Do not volunteer from which court.
unsaid.receiver Do not volunteer who receives.
unsaid.places Do not volunteer who stands where.
unsaid.line Do not volunteer a line call that is the players' and was not appealed.

# Why this player serves
server.none Nobody serves now.
server.why {who:capital}. {where:capital}. {whom:capital}.
  {who}.
who.opening {server} serves because the opening turn of the game belongs to the starting server of {side}
who.first {server} serves as first server because the score of {side} was {parity} when the serve came over, which puts the {role} in the right court
who.second {server} serves as second server because {partner} has lost the serve
who.second-open {server} serves as second server, as the starting server does in the opening turn and after the partner
who.turn.starter {server} serves as the starting server because the turn of {side} opened the game or began at an even score
who.turn.partner {server} serves as the partner of the starting server because the turn of {side} began at an odd score
who.singles-first {server} serves as the side that serves first, or that won the last rally
who.singles {server} serves because that side won the last rally
who.fixed {server} serves because the score of {side} is {score}, which is {parity}, and that is the {court} court
who.fixed-penalty {server} serves on because a penalty moves the score but not the server
who.swap {server} serves because the player in the court of the score of {side} opens its turn and keeps the serve
role.starter starting server
role.partner partner of the starting server
where.parity the score of {side} is {score} now, which is {parity}, so {starter}, its starting server, stands in the {starts} court and the serve comes from the {court} court
where.singles the server's own score is {score}, which is {parity}, so the serve comes from the {court} court
where.fixed partners keep their courts, so the serve comes from the {court} court
where.swap partners trade courts after a point on their own serve, so the serve comes from the {court} court
whom.diagonal {receiver} receives in the court diagonal to it
whom.singles {receiver} receives diagonal to it
whom.half {receiver} receives in the {court} court, having {score}, which is {parity}
rebuild.opening The opening turn is the starting server's; with {score} points now in the {court} court.
rebuild.starter The turn began at {own}, which is {parity}: server {number} is the starting server, with {score} points now in the {court} court.
rebuild.partner The turn began at {own}, which is {parity}: server {number} is the partner, with {score} points now in the {court} court.

# Rulings
ruling.none There is nothing to rule on.
ruling.one {verdict}. {rule} ({clause:short})
  {verdict}.
ruling.two {verdict}. {rule} ({clause:short}) {second} ({also:short})
  {verdict}.
ruling.warned {ruling} A technical warning goes with it.
ruling.fouled {ruling} A technical foul goes with it.
ruling.unsettled {ruling} No text settles this: it is the library's default.
  {ruling} No text settles this.
ruling.ground {rule} ({clause})
verdict.unaffected Nothing changes
verdict.stands The rally stands
verdict.replay The rally is replayed
verdict.servers-lose The serving side loses the rally
verdict.receivers-lose The receiving side loses the rally
verdict.ignored The rally does not count

# The first choice, and how games open
choice.serve first serve for {side}; an end for {other}
choice.receive first receive for {side}; an end for {other}
choice.end an end for {side}; serve or receive for {other}
choice.defer the choice is left by {side} to {other}
plan.game Game {game}: first serve {side}; {left} on the left of the referee, {right} on the right.
plan.open Game {game}: who serves first is chosen; {left} on the left of the referee, {right} on the right.
plan.winner Game {game}: the winner of the game before serves first; {left} on the left of the referee, {right} on the right.
plan.loser Game {game}: the loser of the game before serves first; {left} on the left of the referee, {right} on the right.
plan.mid Ends change in it when a side first has {score}.
plan.mid-none Ends do not change in it.

# For the next referee
hand-over.match Match {match}, court {court}, referee so far {referee}.
hand-over.format {played:capital}, rules of {edition} ({format}).
  {played:capital}, rules of {edition}.
hand-over.before The match has not begun.
hand-over.game Game {game}; games won: {a} {won-a}, {b} {won-b}.
hand-over.final Game {game} was {a} {score-a}, {b} {score-b}.
hand-over.final-forfeit Game {game} was forfeited, to be reported {a} {score-a}, {b} {score-b}.
hand-over.score Score: {a} {score-a}, {b} {score-b}.
hand-over.call Next call "{call}": {server} serves from the {court} court to {receiver}.
hand-over.starters Starting servers of this game: {a} and {b}.
hand-over.rights In the right courts of this game: {a} and {b}.
hand-over.stands {player} stands in the {court} court, on your {hand}, {depth}.
  {player}: {court} court.
hand-over.ends {left} on your left, {right} on your right.
hand-over.ends-due The mid-game end change is due now.
hand-over.ends-made The mid-game end change has been made.
hand-over.ends-not-made The mid-game end change is still to come.
hand-over.ends-none There is no mid-game end change in this game.
hand-over.put-right A fault of {side} has just been called: see that it is put right before the call.
hand-over.break A break is running: {kind}.
hand-over.time-outs Time-outs of {side}: used {used}, left {left}.
hand-over.time-out Time-out of {side} at the call {call}.
hand-over.time-out.between Time-out of {side} before the game.
hand-over.medical Medical time of {player} is used up.
hand-over.medical-open {player} has asked for medical time; the answer of qualified people is awaited.
hand-over.medical-none No medical time has been used.
hand-over.out {player} is out of this match; the partner plays alone.
hand-over.concussed {player} takes no further part in this match.
hand-over.penalties Penalties of {side}: verbal warnings {verbal}, technical warnings {warnings}, technical fouls {fouls}, games forfeited {forfeits}.
hand-over.penalties-none No penalties.
hand-over.carried.foul {player} brought a technical foul from the last match.
hand-over.carried.verbal {player} brought a verbal warning from the last match.
hand-over.carried.warning {player} brought a technical warning from the last match.
hand-over.opens The coming game opens with one point for {side}.
hand-over.replay Entry {entry} was a replay, the call then {call}.
hand-over.over The match is over.

# Findings of an audit: {game} and {rally} are where one is, {certain} how sure a repair is
severity.note note
severity.warning warning
severity.error error
status.played played
status.retired retired
status.forfeited forfeited
status.withdrawn withdrawn
status.double-forfeit forfeited by both
status.not-played not played
status.bye a bye
status.postponed postponed
status.abandoned abandoned
status.awarded awarded
status.annulled annulled
status.resumed resumed
status.amended amended
reason.said {reason}
reason.fields want {want} {want|field|fields}, have {have}
reason.long longer than {most} bytes
reason.quote a quote is opened and not closed
want.scores want scores such as 11-8
want.date want a date, YYYY-MM-DD
want.side want A or B
want.status want one of {names}
want.time-outs want time-outs used, such as 1-0
want.numbers want two numbers up to 999
want.fewer there are more than nine games
want.starters want the starting servers, such as A1B1
want.player want A1, A2, B1 or B2, or a name of the match
want.number want a number from 1
want.time want milliseconds, 1:02:03, or a date with a time
want.event want an event as a line of a log has it, such as tA
want.call want a score call, such as 4-3-1
taken.part only what could be read of the row was checked
taken.ignored the field was left out, the row was checked without it
unclear.by which side that was is not said, or it is named the winner
unclear.winner a winner is named, and there can be none
unclear.none the winner is not said
part.games-won games won
part.totals totals
part.winner winner
field.a side A
field.b side B
field.games games
field.winner winner
field.status status
field.date date
field.format format
field.round round
again.resync and the last ones agree again
again.no-resync up to the last one
undone.nothing there is nothing to take back
position.at {server} from the {court} court to {receiver}
marks.no-format no format is given
marks.too-long there are more than a game can have
marks.past-score a side-out is marked at a score that was not reached
marks.no-game no sequence of rallies does
settles.more-than-one no single question
settles.side which side serves?
settles.court from which court is the next serve?
settles.number which server number?
settles.server who serves?
settles.receiver who receives?
settles.right-of-a which of A stands right?
settles.right-of-b which of B stands right?
settles.starter-a who is the starting server of A?
settles.starter-b who is the starting server of B?
settles.first who served first in this game?
finding.row-unreadable this row cannot be read: {reason}
finding.field-unreadable {read} cannot be read here: {want}; {taken}
finding.score-as-date {read} looks like a score that a spreadsheet turned into a date: {proposed:or}
finding.missing-spelled missing values are spelt in {n} {n|way|ways}: {spellings}
finding.format-unknown no such format: {format}; not checked. Write an id such as sideout-doubles-11-of3, or pass the column over and name the format yourself
finding.game-level game {game}: {score} is level, so nobody has won it{likely}
finding.game-unfinished game {game}: {score} is unfinished, the target is {target}{likely}
finding.game-margin game {game}: {score} lacks the margin of {margin}: mistyped, unfinished, or an event won by one point{likely}
finding.game-over-run game {game}: {score} goes past the end of a game to {target}, won by {margin}{likely}
finding.game-penalty-only game {game}: {score} is no final of rallies alone{likely}; only with a technical foul on record can it stand
finding.game-nothing game {game}: {score} is not a result
finding.time-outs-too-many game {game}: side {side} used {used} {used|time-out|time-outs}, {allowed} {allowed|is|are} allowed
finding.match-empty no games, no games won and no totals are given
finding.match-too-many-games {games} {games|game is|games are} given, the match has at most {most}
finding.match-extra-game the match was decided after game {decided}, but {games} games are given
finding.match-undecided {won} in games: nobody has won {needed}
finding.match-tied {won} in games: the match is tied
finding.match-game-missing game {game} has no score, but a later one has
finding.winner-disagrees side {named} is named the winner, but the games stand {won}: the winner or the order of the scores is wrong
finding.winner-missing no winner is named, and nothing that is given tells who won
finding.sides-mirrored the two reports have their sides exchanged: {earlier} and {games} ({at})
finding.target-other no game fits the target of {target}, but every game fits {fits}: wrong format?
finding.player-both-sides player {player} is on both sides
finding.player-twice player {player} is listed twice on one side
finding.side-players side {side} has not the number of players of {sides}
finding.single-game-event one game to 11 is for round robins of {fewest:word} or more, here {sides|is|are} {sides}
finding.status-games a match that is {status} has {games} {games|game|games}
finding.status-winner a match that is {status}: {unclear}
finding.retirement-convention side {side} retired at {score}; the convention reports {games}
finding.retirement-complete side {side} is said to have retired, but {won} in games had decided the match
finding.retirement-before-play a retirement before any score is a withdrawal; the convention reports {games}
finding.retirement-unmarked did side {side} retire at {score}? Then the convention reports {games}
finding.forfeit-convention the match was not finished at {score}; the convention reports {games}
finding.forfeit-full-score side {side} is said to have forfeited, but the games look played out ({won} in games)
finding.bye-opponent a bye has two sides
finding.reference-missing a match that is {status} does not say of which match
finding.partial-checked no scores of games are given; checked: {parts}
finding.games-won-impossible {won} in games is not possible in a match of {most}
finding.totals-impossible no legal games add up to {totals} points
finding.totals-disagree {given} is given, the games add up to {sum}
finding.role-missing {role} is missing
finding.role-unknown {role} is no part of this team match
finding.role-twice {role} is given {times} times
finding.role-player-too-often player {player} plays {plays} parts, {allowed} {allowed|is|are} allowed
finding.tie-breaker-missing the teams are level at {score}, and {role} is missing
finding.tie-breaker-needless {role} was played though the teams were not level ({score})
finding.team-winner-disagrees team {named} is named the winner, but the parts make it {leads} ({score})
finding.team-score-disagrees {given} is given, the parts add up to {sum}
finding.team-undecided the teams are level at {score}
finding.team-part-unfinished {role} has no winner
finding.same-match-agrees reported twice, and the reports agree ({at})
finding.same-match-differs reported twice, and {field} differs: {earlier} / {later} ({at})
finding.same-pairing-twice the same sides meet twice in one round, or on one day ({at})
finding.name-near {name} and {other} are spelt almost alike
finding.name-two-ids {name} has two ids: {first}, {second}
finding.pairing-missing {a} and {b} have met {met} {met|time|times}, {due} {due|is|are} due
finding.pairing-too-often {a} and {b} have met {met} {met|time|times}, {due} {due|is|are} due
finding.index-full only the latest {most} matches are compared with each other
finding.log-diverges row {rally} is the first that does not follow from those before it; {disagree} of {rows} rows disagree, {again}
finding.log-other-match {rows} {rows|row belongs|rows belong} to match {match}
finding.log-out-of-order row {rally} is out of order
finding.log-duplicate row {rally} was delivered twice: {certain}
finding.log-undo row {rally} takes row {undone} back
finding.log-undo-implied row {rally} was taken back: the score steps back after it: {certain}
finding.log-winner-inferred row {rally} has no winner; it was side {side}
finding.log-winner-blank row {rally} has no winner, and either side fits
finding.log-winner-wrong row {rally} names side {named} as winner; it was side {side}: {certain}
finding.log-server-wrong row {rally} names {named} as server, {due} was due: {certain}
finding.log-receiver-wrong row {rally} names {named} as receiver, {due} was due: {certain}
finding.log-call-wrong row {rally}: the score called was {called}, due was {due}: {certain}
finding.log-call-reversed row {rally}: the score called was {called}, the sides exchanged; due was {due}: {certain}
finding.log-score-wrong row {rally}: {recorded} is recorded, it was {due}: {certain}
finding.log-score-shifted from row {rally} on the recorded score is off: {recorded} for {due}: {certain}
finding.log-rally-missing at least {rallies} {rallies|rally is|rallies are} missing before row {rally} ({events}): {certain}
finding.log-tail-missing at least the last {rallies} {rallies|rally is|rallies are} missing
finding.log-row-extra from row {rally} on {rows} {rows|row|rows} did not happen or did not count: {certain}
finding.log-after-end from row {rally} on {rows} {rows|rally was|rallies were} played after the game or match was over
finding.log-order-slipped from row {rally} on the order is another: {recorded}, due was {due}: {certain}
finding.log-foul-missing before row {rally} a point moved without a rally: a technical foul of side {side}? {certain}
finding.log-final-differs game {game}: the final says {given}, the rallies end at {reached}: {certain}
finding.log-unfinished game {game}: the rows end at {score}, before anybody has won
finding.log-event-refused row {rally}: {event} is not possible there: {reason}
finding.log-start-differs the game did not start as stated: {started} for {stated}: {certain}
finding.log-end-change-missing game {game}: no end change is recorded at the midpoint
finding.log-game-number row {rally} names game {named}, game {played} was in play: {certain}
finding.log-other-scoring the rows fit {fits}, not {format}
finding.log-unexplained the {rows} rows are not explained: whatever explains them leaves out too many
finding.sheet-impossible no game leaves these marks: {marks}
finding.sheet-several {states} states agree with the marks; what settles it: {settles}
finding.sheet-turns turns without a point leave no trace; their number is unknown, who serves is not
finding.sheet-time-out-score the time-out of side {side} is noted at {score}, which no moment of the game has
means.row-unreadable The line is not valid CSV or JSON. It was skipped, the rest was read. Correct the line.
means.field-unreadable The field does not hold what its column is for. Without a date or time-outs the rest of the row is checked; without anything else the row is not.
means.score-as-date Spreadsheets read 11-9 as a day and store it as a date or a number of days. The score is proposed, never taken silently. Format score columns as text.
means.missing-spelled Several spellings of a missing value (such as n/a, - and an empty cell) are in use. All were read as missing.
means.format-unknown The format column names no format of the registry, or an edition in which it does not exist. The row was not checked.
means.game-level A level score is no final. Either the game was not finished or a number is wrong.
means.game-unfinished No side has reached the target. The match may have been broken off; then it needs a status.
means.game-margin The winner has the target but not the margin. The likeliest cause is a mistyped digit: compare with the sheet. Else the game was not finished, or the event is won by one point.
means.game-over-run The game had ended before. Usually the target is another, a number is wrong, or rallies were played after the end.
means.game-penalty-only The likeliest cause is a mistyped digit: compare with the sheet. No sequence of rallies ends so; with one technical foul it can, and then the foul is recorded.
means.game-nothing A game at 0-0 has not been played. Leave it empty.
means.time-outs-too-many More standard time-outs than the format allows. Referee's and medical time-outs do not count.
means.match-empty A match that was played needs games, or at least games won or totals.
means.match-too-many-games More games than the format can have.
means.match-extra-game A game was entered after one side had won. It does not count; it may belong to another match.
means.match-undecided Every game is legal, but nobody has won enough of them.
means.match-tied Where all games are played, both sides can win equally many. The event must allow it.
means.match-game-missing A game in the middle has no score.
means.winner-disagrees The winner of a match owns more games. Either the winner or the order A-B of the scores is wrong.
means.winner-missing Only totals are given, and the side with more points need not have won.
means.sides-mirrored Two reports of one match are equal once the sides of one are exchanged, but its players are not exchanged.
means.target-other All games together are legal at another target. The format of the row is probably wrong.
means.player-both-sides One id stands on both sides.
means.player-twice One id stands twice on the same side.
means.side-players Singles has one player a side, doubles two.
means.single-game-event The rulebook allows one game to 11 in round robins of six or more.
means.status-games What was not played has no games; what is abandoned is undecided.
means.status-winner The status and the winner, or the side that stopped, contradict each other or are not given.
means.retirement-convention The edition reports a retirement by a convention. The conventional games are proposed; completed games stand.
means.retirement-complete The games had decided the match, so there was nothing to retire from, or a score is wrong.
means.retirement-before-play Before the first score call a side withdraws. The status should say so.
means.retirement-unmarked An unfinished last game with a winner is usually a retirement entered as a normal result.
means.forfeit-convention The edition reports a forfeit by a convention. The conventional games are proposed; completed games stand.
means.forfeit-full-score A forfeit leaves a conventional score; these games look as if they had been played.
means.bye-opponent A bye means that there was no opponent.
means.reference-missing What is amended or resumed must name the earlier report.
means.partial-checked Only what is named was checked; the rest cannot be.
means.games-won-impossible No match of this format ends with these games won.
means.totals-impossible No legal games have these totals.
means.totals-disagree What is given beside the games contradicts them.
means.role-missing A part of the team match has no result.
means.role-unknown A part is reported that the rules of the team match do not have.
means.role-twice A part is reported more than once.
means.role-player-too-often A player takes part in more than the rules allow.
means.tie-breaker-missing Level teams play a tie-breaker, and it has no result.
means.tie-breaker-needless The tie-breaker is played only by level teams.
means.team-winner-disagrees The parts make the other team the winner.
means.team-score-disagrees What is given contradicts the parts.
means.team-undecided By these rules nobody has won.
means.team-part-unfinished A part without a winner cannot count.
means.same-match-agrees The match was reported twice with the same result. One report counts.
means.same-match-differs The match was reported twice, and the reports differ in the field named. The first counts until somebody decides.
means.same-pairing-twice The same sides stand twice in one round of one event, or one list has their match of a day twice. If it is one match, strike one row: both would count.
finding.player-two-matches player {player} is in two matches of round {round} ({at})
means.player-two-matches Everybody else plays one match in the round. Either the round or the player of one of the two is wrong.
finding.date-outside {date} lies outside the season: nearly all other matches are from {first} to {last}
means.date-outside The date lies months before or after the others. Usually the year or the order of day and month is mistyped. Correct the date.
place.row row {line}
place.file {file}, row {line}
means.name-near Two names are almost alike. They stay two people; perhaps one is misspelt.
means.name-two-ids One name has two ids. They stay two people; perhaps it is one.
means.pairing-missing In a round robin everybody meets as often as the rules say.
means.pairing-too-often In a round robin everybody meets as often as the rules say.
means.index-full Earlier matches were forgotten, so duplicates among them are not seen.
means.log-diverges The score does not follow from the rows. The findings of the repair say what most cheaply explains it.
means.log-other-match Rows that name another match were left out.
means.log-out-of-order The row's number or time, or the score, shows that it belongs elsewhere.
means.log-duplicate A row repeats the one before it.
means.log-undo The scorer took a row back.
means.log-undo-implied The score steps back to what it was, without a row that says so.
means.log-winner-inferred The winner is not given but follows from the rest.
means.log-winner-blank The winner is not given and does not follow from the rest.
means.log-winner-wrong The winner contradicts the score and the servers that follow.
means.log-server-wrong One row names a server who was not due, and the rows after it are right again.
means.log-receiver-wrong One row names a receiver who was not due.
means.log-call-wrong The score called is not the score.
means.log-call-reversed The receiving side's score was called first.
means.log-score-wrong The score recorded in one row is not the score.
means.log-score-shifted A point went to the wrong line and the sum was carried on.
means.log-rally-missing Rallies are missing here. In side-out scoring one missing second serve shows as every later server being wrong.
means.log-tail-missing The rows stop before the final score.
means.log-row-extra Rows are too many, or a rally was replayed or a third server was given.
means.log-after-end Rallies were played after the game was won.
means.log-order-slipped From here on other people serve or stand there than the order of service has it. One slip explains all the rows after it.
means.log-foul-missing A score moved in a way that only a penalty explains. Ask for the recorded foul.
means.log-final-differs The final does not follow from the rallies: a typing error, or the final of another game.
means.log-unfinished The game is not over where the rows end.
means.log-event-refused The event is not possible at that moment, such as a time-out with none left.
means.log-start-differs Another side or player served first than is stated.
means.log-end-change-missing The log records end changes, but not this one.
means.log-game-number The row is filed under another game.
means.log-other-scoring The format of the log is probably wrong: it was scored by the other system.
means.log-unexplained The rows are too far from any match of this format: what explains them leaves most of them out, or there are too many of them.
finding.log-time-wrong the time of row {rally} is out of order with the rows around it
means.log-time-wrong The rows follow from each other as they stand, so the time is wrong and not the order. The order was kept.
finding.log-convention the log as a whole is read so: {convention}
means.log-convention A whole log that is wrong in one and the same way is a habit of its source. It was read by that habit; the other findings are about what is left.
finding.log-scores-mirrored from row {rally} to row {to} the sides of the score are exchanged
means.log-scores-mirrored With the sides of the score exchanged in these rows the whole log replays without a disagreement.
convention.mirrored every score has the points of B first
convention.reversed the newest row stands first
convention.mirrored-reversed the newest row stands first, and every score has the points of B first
convention.before every score is the one before the rally
convention.before-reversed the newest row stands first, and every score is the one before the rally
means.sheet-impossible No sequence of rallies leaves these marks.
means.sheet-several The marks allow more than one state. The question named is the easiest that settles it.
means.sheet-turns Side-outs without a point between them leave marks on one spot; how many there were does not change who serves.
means.sheet-time-out-score A time-out is noted with the score of its moment, and the game never stood so.

# What to do instead of what was refused
instead.malformed Look up what may come now.
instead.log-only Enter it as a correction of the log.
instead.closed Only an amendment with a stated reason opens the sheet again.
instead.over Repair an entry if one is wrong, else return the sheet: sheet.
instead.abandoned Go on with resume, or return the sheet: sheet.
instead.no-such-player Name A1 or B1.
instead.not-in-edition Go on by what the edition has; where that is not enough, ask the director.
instead.local-rule Ask the director whether the event has such a rule.
instead.not-started Begin the game first.
instead.not-in-play Wait until the game has begun.
instead.in-play Play on. If the game should not have begun, take back the entry that began it: undo.
instead.no-first-server Hold the draw and enter who chose: fcA:serve where side A serves first.
instead.first-settled If it was entered wrong, take it back: undo.
instead.wrong-side-first Let the other side serve first. If the first choice was entered wrong, repair that entry.
instead.not-its-choice Enter what the other side chooses.
instead.undealt First enter that the cause has been dealt with: dealt.
instead.awaiting-medical First enter what qualified people say, or that the request is withdrawn.
instead.in-break First end the break: in.
instead.no-break Play on.
instead.none-left Play on: asking costs nothing.
instead.medical-used Stop play for safety as long as care needs.
instead.no-request First enter the request, if there was one.
instead.player-out Go on without that player where the rules allow it; else enter a retirement.
instead.nobody-left Enter a retirement.
instead.absent-due Enter that fault.
instead.not-due Play on.
instead.not-fixed Play on: places follow the score.
instead.not-now Wait for its moment.
instead.second-verbal Give a technical warning.
instead.out-of-window Play on: the result stands.
instead.most-points Check the score, and state the right position: set.
refusal.not-now.exchange partners may exchange courts only at a time-out, when ends change or between games
instead.not-now.exchange Play on. At one of those moments enter it again.
refusal.not-now.withdrawal a score has been called, so a side can only retire
instead.not-now.withdrawal Enter a retirement: retA or retB.
refusal.not-now.resume the match has not been stopped
instead.not-now.resume Play on.
refusal.not-now.sheet-returned the match is not over
instead.not-now.sheet-returned Play on. If it is stopped for good, first enter that: abandon.
refusal.not-now.carried-verbal that player has brought a penalty already
instead.not-now.carried-verbal If that entry was wrong, take it back: undo.
refusal.not-now.same-verbal the partner has not brought that penalty
instead.not-now.same-verbal First enter it for the partner, as cwA1 does; then it counts once for both.
refusal.not-now.same-warning the partner has not brought that penalty
instead.not-now.same-warning First enter it for the partner, as cwA1 does; then it counts once for both.
refusal.not-now.same-foul the partner has not brought that penalty
instead.not-now.same-foul First enter it for the partner, as cwA1 does; then it counts once for both.
refusal.not-now.carried-warning that player has brought a penalty already
instead.not-now.carried-warning If that entry was wrong, take it back: undo.
refusal.not-now.carried-foul that player has brought a penalty already
instead.not-now.carried-foul If that entry was wrong, take it back: undo.
refusal.in-play.start-game this game has begun
instead.in-play.start-game Play on. If its starting servers are wrong, take back the entry that began it (undo) and name them.
refusal.in-play.late-arrival play has begun, so nobody can come late any more
instead.in-play.late-arrival Play on.
refusal.first-settled.late-arrival the match has begun, so nobody can come late any more
instead.first-settled.late-arrival Go on; ask the director where a side is missing.
instead.over.late-arrival If the match ended by a wrong entry, take that back (undo); of two sides late past the limit the other one is entered, and its entry takes the forfeit back.
refusal.not-started.time-out no time-out can be called before the match
instead.not-started.time-out Go on to the first call.
refusal.no-break.time-in play has not been stopped
instead.no-break.time-in Play on: call the score.
refusal.not-in-play.ends-changed ends are changed within a game only; between games they change with the start of the next
instead.not-in-play.ends-changed Name the starting servers of the next game.

# What is still open
reminder.help Help is not yet with {player}.
reminder.medical The answer of qualified people about {player} is awaited.
reminder.medical-waits The medical time of {player} waits until what stopped play has been dealt with.
reminder.concussion A concussion of {player} is suspected: qualified help sees to {player}, and the match cannot be played on.
reminder.abandoned The match is stopped: it is resumed where it stood, or the sheet is returned.
reminder.dealt Play is stopped, {break}: it goes on when the cause has been dealt with.
reminder.time-in Play is stopped, {break}.
reminder.first-choice The first choice is open: who serves, who receives, which end.
reminder.who-first Who serves first in game {game} is open.
reminder.opening-point Game {game} opens with one point for {side}.
reminder.ends-between Ends change before game {game}.
reminder.starters Ask the starting servers of game {game}; first serve: {side}.
reminder.places Ask who stands in the right courts in game {game}; first serve: {side}.
reminder.absent The player of {side} who is due is out of the match: that fault comes first.
reminder.starters-assumed Game {game} began with entry {entry}, and nobody had named its starting servers: {a} and {b} are assumed.
reminder.places-assumed Game {game} began with entry {entry}, and nobody had said who stands in the right courts: {a} and {b} are assumed.
reminder.ends Ends still to change.
reminder.put-right See that the side is right before the call: {server} serves from the {court} court.
reminder.frozen Frozen at {score}: {side}, points on own serve only.
reminder.last-time-out {side}: no time-out left.
reminder.notice {interval:capital}: {seconds} {seconds|second|seconds} left. Give notice.
reminder.clock-over {interval:capital}: the time has been over for {seconds} {seconds|second|seconds}.
reminder.sheet The match is over: have the sheet signed and return it.
interval.time-out time-out
interval.medical medical time
interval.equipment equipment time-out
interval.end-change end change
interval.between-games time between games

# Entry by questions and short answers
guided.what What was wrong?
guided.how How did the rally end?
guided.who-stopped Who stopped play?
guided.who-raised Who raised it?
guided.how-far How far had the rally got?
guided.since What has come since?
guided.was-so Was it so?
guided.was-it-so Was this so: {mistake}?
guided.misled Did the wrong call lead that player to see a wrong server?
guided.asked Had the referee been asked, and said that it was right?
guided.medical What is to be recorded?
guided.player Which player?
guided.penalty Which penalty?
guided.side Which side?
guided.which-entry Which entry is wrong? Give its number.
guided.instead Entry {entry} says {was}. What happened instead?
guided.reason State the reason in a few words.
reply.yes yes
reply.no no
reply.side {side}
reply.player {player}
reply.referee the referee
reply.none nothing, or something else
reply.nothing nothing happened
reply.stopped it was stopped
reply.won won by {side}
reply.last it is the one in entry {entry}

# What a correction changed
changed.entry Entry {entry} was: {was}. It is: {is}.
changed.nothing nothing
changed.typed {entry}
changed.final Game {game} now ends {score}, at entry {entry}.
changed.withdrawn The end of a game at entry {entry}, {was}, is withdrawn.
changed.later {entries} later {entries|entry does|entries do} something else now.
changed.score Score now: game {game}, {score} (was game {old}, {was}).
changed.same The score stays: game {game}, {score}.
changed.games Games now {games} (were {was}).

# Why a log did not take a correction
correction.parts its parts contradict each other
correction.no-event no such event
correction.decider one word says who decided
correction.note a note is at most 400 bytes of text in one line, without a space at its end
correction.line the line cannot be read: {detail}
correction.format that format cannot be played: {detail}
correction.pending the format of the next game could not come into force
correction.players singles and doubles cannot change into each other
correction.no-next no game follows this one
correction.no-game that match has no such game
correction.decided the games won would decide that match
correction.time-outs more time-outs are used than that game gives
correction.game-over at this score the game would be over
correction.places the order of service of that format puts the players elsewhere
correction.no-final the game just ended cannot be one of that format: enter the change for the next game
correction.no-position that format has no position like this one
correction.last-point in this edition nothing is ruled on after the last point
correction.stands by this edition that rally stands as it was played
correction.too-late it is too late for that ruling
correction.want-number want the number of an entry
correction.below-zero the score would fall below zero: state the position with set
correction.not-held that entry no longer holds
correction.reopen only an amendment with a stated reason opens it again
correction.no-entry no such entry
correction.want-rally want a rally that was won, with what was wrong with it
correction.want-format want a format id, now or next, and who decided
correction.no-text this entry has no text
correction.no-undo there is nothing to undo
correction.no-redo there is nothing to redo
correction.game-ended the game has ended since: state the position with set
correction.ruled-then that rally was ruled on when it was entered: amend it
correction.ruled that rally has been ruled on already
correction.elsewhere that entry would belong to another game, or to another phase of it
correction.nothing-after takes nothing after it
correction.want-event takes a number and an event, an amendment a reason besides
correction.point-only since the next serve only a point that the rally gave can go
correction.across no ruling reaches back across a stated position or a change of format: state the position with set
correction.other-winner another side won that rally: amend it
correction.ruled-since another rally has been ruled on since: state the position with set
correction.sheet-stated a stated position does not return the sheet
correction.rewind-game a rewind stays within the game in play, or between games goes back into the one just won
correction.rewind-stated a rewind does not go back across a stated position
correction.rewind-format a rewind does not go back across a change of format
correction.penalty-opens a penalty since opens the next game: state the position with set
correction.penalty-moved a penalty moved the score since: state the position with set
correction.beside a format without an id has no text and is given beside it
correction.forfeit-since a forfeit since: state the position with set
correction.struck-only a correction can only be struck
correction.concussion a suspected concussion is lifted only by an amendment with a stated reason
`
