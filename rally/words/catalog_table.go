package words

// catalogTable holds the codes of the library with their arguments, as [Signatures] reads them.
const catalogTable = `# Words that others are made of
person.marked name=name mark=name
person.side side=name
person.pair a=name b=name
name.of player=name
list.and
list.or
court.right
court.left
court.none
parity.even
parity.odd
hand.left
hand.right
depth.near
depth.far
depth.none
score.of score=score
likely.mistyped scores=list
likely.unknown
certain.yes
certain.no

# Rules: where a clause stands, and how well that is known
clause.rule rule=name edition=name mark=mark.
clause.edition edition=name mark=mark.
clause.practice
clause.procedure mark=mark.
clause.own mark=mark.
clause.club mark=mark.
clause.event
mark.read
mark.paraphrase
mark.paraphrase-low
mark.common-practice
mark.derived
mark.memory
mark.open

# What is played
format.played parts=list
format.serving-side-scores
format.either-side-scores
format.to target=number margin=number
format.to-cap target=number margin=number cap=number
format.two-servers
format.two-servers-one-first
format.freeze freeze=freeze.
format.best-of games=number
format.all-played games=number
format.last-to target=number
freeze.win-on-serve
freeze.each-at-point
freeze.leader-and-trailer
freeze.both-at-point
sides.singles
sides.doubles

# What happened: events, their parts, effects, phases, breaks
event.plain kind=kind.
event.side kind=kind. side=name
event.person kind=kind. player=name
event.fault kind=kind. side=name fault=fault.
event.start kind=kind. side=name a=name b=name
event.choice kind=kind. side=name chosen=chosen.
event.late kind=kind. side=name seconds=number
event.incident event=event. claim=claim.
event.stop stopper=stopper. reach=reach. claim=claim.
event.none
entry.amend entry=number event=event.
entry.strike entry=number
entry.rule entry=number event=event.
entry.rewind entry=number
entry.set line=name
entry.now format=text
entry.next format=text
entry.stated entry=entry. reason=name
entry.decided entry=entry. by=name
kind.rally
kind.replay
kind.stop
kind.start-game
kind.ends-changed
kind.exchange
kind.time-out
kind.time-in
kind.equipment
kind.referee
kind.blood
kind.hazard
kind.illness
kind.dealt
kind.medical-request
kind.medical-valid
kind.medical-invalid
kind.medical-withdrawn
kind.help-arrived
kind.play-on-alone
kind.concussion
kind.verbal-warning
kind.technical-warning
kind.technical-foul
kind.carried-verbal
kind.carried-warning
kind.carried-foul
kind.same-verbal
kind.same-warning
kind.same-foul
kind.game-forfeit
kind.match-forfeit
kind.double-forfeit
kind.ejection
kind.expulsion
kind.late-arrival
kind.challenge-lost
kind.challenge-withdrawn
kind.first-choice
kind.retirement
kind.withdrawal
kind.abandon
kind.resume
kind.substitution
kind.sheet-returned
kind.undo
kind.redo
kind.amend
kind.rule
kind.rewind
kind.set
kind.format
fault.foot
fault.serve
fault.short
fault.early
fault.ten
fault.net
fault.out
fault.bounce
fault.nvz
fault.twice
fault.body
fault.touch
fault.plane
fault.receiver
fault.stopped
fault.timeout
fault.absent
fault.distract
fault.other
chosen.serve
chosen.receive
chosen.end
chosen.defer
claim.mistakes mistakes=list
claim.mistaken mistake=mistake.
claim.raised claim=claim. since=since. stopper=stopper.
claim.misled claim=claim.
claim.confirmed claim=claim.
mistake.side
mistake.server
mistake.court
mistake.receiver
mistake.rcourt
mistake.call
mistake.starter
mistake.rstarter
reach.ended
reach.uncalled
reach.called
reach.struck
reach.returned
reach.third
since.live
since.rallyover
since.served
since.overtaken
since.gameover
since.sheet
stopper.nobody
stopper.byA
stopper.byB
stopper.byref
effect.point
effect.second-server
effect.side-out
effect.replay
effect.withheld
effect.stands
effect.overruled
effect.game-started
effect.game-won
effect.match-won
effect.ends-due
effect.ends-changed
effect.exchanged
effect.break
effect.time-in
effect.time-out-charged
effect.last-time-out
effect.medical-used
effect.warning
effect.foul
effect.verbal-warning
effect.penalty-point
effect.game-forfeit
effect.match-forfeit
effect.player-out
effect.help
effect.put-right
effect.recorded
effect.first-chosen
effect.closed
phase.before
phase.play
phase.between
phase.over
phase.closed
break.t
break.m
break.eq
break.ref
break.blood
break.hazard
break.illness
how.played
how.forfeited
how.broken-off
how.unplayed
how.unfinished
how.unknown

# Why an event is refused
refusal.sentence event=text reason=refusal.
refusal.clause event=text reason=refusal. clause=clause.
refusal.open event=text reason=refusal. clause=clause.
refusal.accepted
refusal.instead kinds=list
refusal.allowed kinds=list
refusal.nothing
refusal.malformed
refusal.log-only
refusal.closed
refusal.over
refusal.abandoned
refusal.no-such-player
refusal.not-in-edition
refusal.local-rule
refusal.not-started
refusal.not-in-play
refusal.in-play
refusal.no-first-server
refusal.first-settled
refusal.wrong-side-first
refusal.not-its-choice
refusal.undealt
refusal.awaiting-medical
refusal.in-break
refusal.no-break
refusal.none-left
refusal.medical-used
refusal.no-request
refusal.player-out
refusal.nobody-left
refusal.absent-due
refusal.not-due
refusal.not-fixed
refusal.not-now
refusal.second-verbal
refusal.out-of-window
refusal.most-points
refusal.rule event=text rule=rule. clause=clause.

# Calls
call.two serving=number receiving=number
call.three serving=number receiving=number number=number
call.start serving=number receiving=number
call.none
result.point
result.second-server
result.side-out
result.with-point result=result.
result.service-over
result.hand-out
result.replay
result.none
said.foot
said.nvz
said.ten
said.other
said.fault fault=fault.
said.short
said.out
said.nothing
when.struck
when.lands
when.early
when.early.motion
when.count seconds=number
when.dead
when.seen
when.late.motion
when.late.strike
when.returned
when.due
caller.referee
caller.line-judge
caller.end-players
caller.serving-side
caller.receiving-side
caller.either-side
caller.offender
loser.serving-side
loser.receiving-side
loser.offender

# Duties
duty.help
duty.safety
duty.qualified
duty.medical-clock.arrival minutes=number
duty.medical-clock.request minutes=number
duty.note-medical player=name
duty.medical-answer
duty.medical-penalty
duty.await-dealt
duty.out-of-match player=name
duty.what-remains
duty.plays-alone player=name partner=name
duty.know-format played=format. time-outs=number
duty.check-court
duty.check-paddles
duty.brief
duty.ask-starters
duty.ask-places
duty.first-choice
duty.note-choice side=name
duty.opening-point side=name
duty.orient
duty.first-call
duty.say-result result=result.
duty.mark-point side=name score=number
duty.mark-point-server side=name score=number number=number
duty.marker-two server=name
duty.mark-turn-end side=name
duty.turn-record side=name
duty.read-score side=name score=number parity=parity.
duty.set-marker parity=parity. server=name
duty.set-court parity=parity. court=court.
duty.then-look server=name court=court.
duty.rehearse call=call.
duty.say-replay
duty.note-replay
duty.withheld side=name score=number
duty.say-ruling ruling=ruling.
duty.say-end-change
duty.say-game side=name own=number other=number
duty.say-time-in
duty.call-absence side=name
duty.put-right side=name server=name court=court.
duty.check-order server=name court=court. receiver=name
duty.check-order.singles server=name court=court. receiver=name
duty.correct-nobody
duty.receiver-ready receiver=name
duty.receiver-ready.singles receiver=name
duty.server server=name court=court.
duty.feet server=name
duty.call call=call.
duty.count seconds=number
duty.watch-serve server=name
duty.watch-zone
duty.line-appeal
duty.stop.stands-warned
duty.stop.fault
duty.stop.replay-if-stopped
duty.stop.corrected
duty.say-time-out side=name
duty.coaching
duty.no-coaching
duty.note-time-out side=name used=number left=number call=call.
duty.note-time-out.between side=name used=number left=number game=number
duty.note-equipment player=name
duty.note-stop
duty.clock seconds=number
duty.clock-equipment seconds=number
duty.reasonable
duty.paddles server=name
duty.notice seconds=number
duty.compare server=name court=court. receiver=name
duty.not-ready.penalty
duty.not-ready.ten-seconds
duty.not-ready.when-ready
duty.last-time-out side=name
duty.note-number call=call.
duty.clock-ends seconds=number
duty.same-server server=name
duty.write-final game=number a=number b=number
duty.write-forfeit game=number a=number b=number
duty.clock-games seconds=number
duty.change-ends
duty.keep-ends
duty.next-first side=name
duty.ask-first
duty.new-starters
duty.new-places
duty.time-outs-coming allowed=number
duty.time-outs-none
duty.say-match.single side=name own=number other=number
duty.say-match side=name own=number other=number
duty.say-outcome.tied
duty.say-outcome.retired side=name
duty.say-outcome.withdrew side=name
duty.say-outcome.forfeited side=name
duty.say-outcome.double-forfeit
duty.sign
duty.note-incidents
duty.correctable
duty.final
duty.carry
duty.between-matches seconds=number
duty.return-sheet
duty.free
duty.suspended
duty.say-verbal side=name
duty.say-warning side=name
duty.say-foul side=name
duty.note-penalty
duty.penalty-point call=call.
duty.penalty-places side=name server=name
duty.say-forfeit-game side=name
duty.exchanged side=name
duty.ends-made
duty.note

# Questions of players
question.score
question.server
question.server-court
question.receiver
question.own-places
question.opponent-places
response.refuse
response.score-only
response.confirm
response.put-in-order
response.unruled
answer.refuse
answer.score call=call.
answer.own-score score=number
answer.no-score
answer.yes
answer.no
answer.order server=name court=court. receiver=name
answer.unruled
unsaid.server
unsaid.court
unsaid.receiver
unsaid.places
unsaid.line

# Why this player serves
server.none
server.why who=who. where=where. whom=whom.
who.opening server=name side=name
who.first server=name side=name parity=parity. role=role.
who.second server=name partner=name
who.second-open server=name
who.turn.starter server=name side=name
who.turn.partner server=name side=name
who.singles-first server=name
who.singles server=name
who.fixed server=name side=name parity=parity. score=number court=court.
who.fixed-penalty server=name
who.swap server=name side=name
role.starter
role.partner
where.parity side=name score=number parity=parity. starter=name starts=court. court=court.
where.singles score=number parity=parity. court=court.
where.fixed court=court.
where.swap court=court.
whom.diagonal receiver=name
whom.singles receiver=name
whom.half receiver=name court=court. score=number parity=parity.
rebuild.opening court=court. score=number
rebuild.starter own=number parity=parity. number=number court=court. score=number
rebuild.partner own=number parity=parity. number=number court=court. score=number

# Rulings
ruling.none
ruling.one verdict=verdict. rule=rule. clause=clause.
ruling.two verdict=verdict. rule=rule. clause=clause. second=rule. also=clause.
ruling.warned ruling=ruling.
ruling.fouled ruling=ruling.
ruling.unsettled ruling=ruling.
ruling.ground rule=rule. clause=clause.
verdict.unaffected
verdict.stands
verdict.replay
verdict.servers-lose
verdict.receivers-lose
verdict.ignored

# The first choice, and how games open
choice.serve side=name other=name
choice.receive side=name other=name
choice.end side=name other=name
choice.defer side=name other=name
plan.game game=number side=name left=name right=name
plan.open game=number left=name right=name
plan.winner game=number left=name right=name
plan.loser game=number left=name right=name
plan.mid score=number
plan.mid-none

# For the next referee
hand-over.match match=name court=name referee=name
hand-over.format format=name played=format. edition=name
hand-over.before
hand-over.game game=number a=name won-a=number b=name won-b=number
hand-over.final game=number a=name score-a=number b=name score-b=number
hand-over.final-forfeit game=number a=name score-a=number b=name score-b=number
hand-over.score a=name score-a=number b=name score-b=number
hand-over.call call=call. server=name court=court. receiver=name
hand-over.starters a=name b=name
hand-over.rights a=name b=name
hand-over.stands player=name court=court. hand=hand. depth=depth.
hand-over.ends left=name right=name
hand-over.ends-due
hand-over.ends-made
hand-over.ends-not-made
hand-over.ends-none
hand-over.put-right side=name
hand-over.break kind=break.
hand-over.time-outs side=name used=number left=number
hand-over.time-out side=name call=name
hand-over.time-out.between side=name
hand-over.medical player=name
hand-over.medical-open player=name
hand-over.medical-none
hand-over.out player=name
hand-over.concussed player=name
hand-over.penalties side=name verbal=number warnings=number fouls=number forfeits=number
hand-over.penalties-none
hand-over.carried.foul player=name
hand-over.carried.verbal player=name
hand-over.carried.warning player=name
hand-over.opens side=name
hand-over.replay entry=number call=name
hand-over.over

# Findings of an audit: {game} and {rally} are where one is, {certain} how sure a repair is
severity.note
severity.warning
severity.error
status.played
status.retired
status.forfeited
status.withdrawn
status.double-forfeit
status.not-played
status.bye
status.postponed
status.abandoned
status.awarded
status.annulled
status.resumed
status.amended
reason.said reason=name
reason.fields want=number have=number
reason.long most=number
reason.quote
want.scores
want.date
want.side
want.status names=name
want.time-outs
want.numbers
want.fewer
want.starters
want.player
want.number
want.time
want.event
want.call
taken.part
taken.ignored
unclear.by
unclear.winner
unclear.none
part.games-won
part.totals
part.winner
field.a
field.b
field.games
field.winner
field.status
field.date
field.format
field.round
again.resync
again.no-resync
undone.nothing
position.at server=name court=court. receiver=name
marks.no-format
marks.too-long
marks.past-score
marks.no-game
settles.more-than-one
settles.side
settles.court
settles.number
settles.server
settles.receiver
settles.right-of-a
settles.right-of-b
settles.starter-a
settles.starter-b
settles.first
finding.row-unreadable reason=reason.
finding.field-unreadable read=name want=want. taken=taken.
finding.score-as-date read=name proposed=list
finding.missing-spelled n=number spellings=name
finding.format-unknown format=name
finding.game-level game=number score=score likely=likely.
finding.game-unfinished game=number score=score target=number likely=likely.
finding.game-margin game=number score=score margin=number likely=likely.
finding.game-over-run game=number score=score target=number margin=number likely=likely.
finding.game-penalty-only game=number score=score likely=likely.
finding.game-nothing game=number score=score
finding.time-outs-too-many game=number side=name used=number allowed=number
finding.match-empty
finding.match-too-many-games games=number most=number
finding.match-extra-game games=number decided=number
finding.match-undecided won=score needed=number
finding.match-tied won=score
finding.match-game-missing game=number
finding.winner-disagrees named=name won=score leads=name
finding.winner-missing
finding.sides-mirrored games=name earlier=name at=place.
finding.target-other target=number fits=number
finding.player-both-sides player=name
finding.player-twice player=name
finding.side-players side=name sides=sides.
finding.single-game-event sides=number fewest=number
finding.status-games status=status. games=number
finding.status-winner status=status. unclear=unclear.
finding.retirement-convention side=name score=score games=name
finding.retirement-complete side=name won=score
finding.retirement-before-play games=name
finding.retirement-unmarked side=name score=score games=name
finding.forfeit-convention score=score games=name
finding.forfeit-full-score side=name won=score
finding.bye-opponent
finding.reference-missing status=status.
finding.partial-checked parts=list
finding.games-won-impossible won=score most=number
finding.totals-impossible totals=score
finding.totals-disagree given=score sum=score
finding.role-missing role=name
finding.role-unknown role=name
finding.role-twice role=name times=number
finding.role-player-too-often player=name plays=number allowed=number
finding.tie-breaker-missing score=score role=name
finding.tie-breaker-needless score=score role=name
finding.team-winner-disagrees named=name leads=name score=score
finding.team-score-disagrees given=score sum=score
finding.team-undecided score=score
finding.team-part-unfinished role=name
finding.same-match-agrees at=place.
finding.same-match-differs field=field. earlier=name later=name at=place.
finding.same-pairing-twice at=place.
finding.name-near name=name other=name
finding.name-two-ids name=name first=name second=name
finding.pairing-missing a=name b=name met=number due=number
finding.pairing-too-often a=name b=name met=number due=number
finding.index-full most=number
finding.log-diverges rally=number disagree=number rows=number again=again.
finding.log-other-match rows=number match=name
finding.log-out-of-order rally=number
finding.log-duplicate rally=number certain=certain.
finding.log-undo rally=number undone=number
finding.log-undo-implied rally=number certain=certain.
finding.log-winner-inferred rally=number side=name
finding.log-winner-blank rally=number
finding.log-winner-wrong rally=number named=name side=name certain=certain.
finding.log-server-wrong rally=number named=name due=name certain=certain.
finding.log-receiver-wrong rally=number named=name due=name certain=certain.
finding.log-call-wrong rally=number called=name due=name certain=certain.
finding.log-call-reversed rally=number called=name due=name certain=certain.
finding.log-score-wrong rally=number recorded=score due=score certain=certain.
finding.log-score-shifted rally=number recorded=score due=score certain=certain.
finding.log-rally-missing rally=number rallies=number events=name certain=certain.
finding.log-tail-missing rallies=number
finding.log-row-extra rally=number rows=number certain=certain.
finding.log-after-end rally=number rows=number
finding.log-order-slipped rally=number recorded=position. due=position. certain=certain.
finding.log-foul-missing rally=number side=name certain=certain.
finding.log-final-differs game=number given=score reached=score certain=certain.
finding.log-unfinished game=number score=score
finding.log-event-refused rally=number event=event. reason=text
finding.log-start-differs started=name stated=name certain=certain.
finding.log-end-change-missing game=number
finding.log-game-number rally=number named=number played=number certain=certain.
finding.log-other-scoring fits=name format=name
finding.log-unexplained rows=number
finding.sheet-impossible marks=marks.
finding.sheet-several states=number settles=settles.
finding.sheet-turns
finding.sheet-time-out-score side=name score=score
means.row-unreadable
means.field-unreadable
means.score-as-date
means.missing-spelled
means.format-unknown
means.game-level
means.game-unfinished
means.game-margin
means.game-over-run
means.game-penalty-only
means.game-nothing
means.time-outs-too-many
means.match-empty
means.match-too-many-games
means.match-extra-game
means.match-undecided
means.match-tied
means.match-game-missing
means.winner-disagrees
means.winner-missing
means.sides-mirrored
means.target-other
means.player-both-sides
means.player-twice
means.side-players
means.single-game-event
means.status-games
means.status-winner
means.retirement-convention
means.retirement-complete
means.retirement-before-play
means.retirement-unmarked
means.forfeit-convention
means.forfeit-full-score
means.bye-opponent
means.reference-missing
means.partial-checked
means.games-won-impossible
means.totals-impossible
means.totals-disagree
means.role-missing
means.role-unknown
means.role-twice
means.role-player-too-often
means.tie-breaker-missing
means.tie-breaker-needless
means.team-winner-disagrees
means.team-score-disagrees
means.team-undecided
means.team-part-unfinished
means.same-match-agrees
means.same-match-differs
means.same-pairing-twice
finding.player-two-matches player=name round=name at=place.
means.player-two-matches
finding.date-outside date=name first=name last=name
means.date-outside
place.row line=number
place.file file=name line=number
means.name-near
means.name-two-ids
means.pairing-missing
means.pairing-too-often
means.index-full
means.log-diverges
means.log-other-match
means.log-out-of-order
means.log-duplicate
means.log-undo
means.log-undo-implied
means.log-winner-inferred
means.log-winner-blank
means.log-winner-wrong
means.log-server-wrong
means.log-receiver-wrong
means.log-call-wrong
means.log-call-reversed
means.log-score-wrong
means.log-score-shifted
means.log-rally-missing
means.log-tail-missing
means.log-row-extra
means.log-after-end
means.log-order-slipped
means.log-foul-missing
means.log-final-differs
means.log-unfinished
means.log-event-refused
means.log-start-differs
means.log-end-change-missing
means.log-game-number
means.log-other-scoring
means.log-unexplained
finding.log-time-wrong rally=number
means.log-time-wrong
finding.log-convention convention=convention.
means.log-convention
finding.log-scores-mirrored rally=number to=number
means.log-scores-mirrored
convention.mirrored
convention.reversed
convention.mirrored-reversed
convention.before
convention.before-reversed
means.sheet-impossible
means.sheet-several
means.sheet-turns
means.sheet-time-out-score

# What to do instead of what was refused
instead.malformed
instead.log-only
instead.closed
instead.over
instead.abandoned
instead.no-such-player
instead.not-in-edition
instead.local-rule
instead.not-started
instead.not-in-play
instead.in-play
instead.no-first-server
instead.first-settled
instead.wrong-side-first
instead.not-its-choice
instead.undealt
instead.awaiting-medical
instead.in-break
instead.no-break
instead.none-left
instead.medical-used
instead.no-request
instead.player-out
instead.nobody-left
instead.absent-due
instead.not-due
instead.not-fixed
instead.not-now
instead.second-verbal
instead.out-of-window
instead.most-points
refusal.not-now.exchange
instead.not-now.exchange
refusal.not-now.withdrawal
instead.not-now.withdrawal
refusal.not-now.resume
instead.not-now.resume
refusal.not-now.sheet-returned
instead.not-now.sheet-returned
refusal.not-now.carried-verbal
instead.not-now.carried-verbal
refusal.not-now.same-verbal
instead.not-now.same-verbal
refusal.not-now.same-warning
instead.not-now.same-warning
refusal.not-now.same-foul
instead.not-now.same-foul
refusal.not-now.carried-warning
instead.not-now.carried-warning
refusal.not-now.carried-foul
instead.not-now.carried-foul
refusal.in-play.start-game
instead.in-play.start-game
refusal.in-play.late-arrival
instead.in-play.late-arrival
refusal.first-settled.late-arrival
instead.first-settled.late-arrival
instead.over.late-arrival
refusal.not-started.time-out
instead.not-started.time-out
refusal.no-break.time-in
instead.no-break.time-in
refusal.not-in-play.ends-changed
instead.not-in-play.ends-changed

# What is still open
reminder.help player=name
reminder.medical player=name
reminder.medical-waits player=name
reminder.concussion player=name
reminder.abandoned
reminder.dealt break=break.
reminder.time-in break=break.
reminder.first-choice
reminder.who-first game=number
reminder.opening-point side=name game=number
reminder.ends-between game=number
reminder.starters game=number side=name
reminder.places game=number side=name
reminder.absent side=name
reminder.starters-assumed game=number a=name b=name entry=number
reminder.places-assumed game=number a=name b=name entry=number
reminder.ends
reminder.put-right server=name court=court.
reminder.frozen side=name score=number
reminder.last-time-out side=name
reminder.notice interval=interval. seconds=number
reminder.clock-over interval=interval. seconds=number
reminder.sheet
interval.time-out
interval.medical
interval.equipment
interval.end-change
interval.between-games

# Entry by questions and short answers
guided.what
guided.how
guided.who-stopped
guided.who-raised
guided.how-far
guided.since
guided.was-so
guided.was-it-so mistake=mistake.
guided.misled
guided.asked
guided.medical
guided.player
guided.penalty
guided.side
guided.which-entry
guided.instead entry=number was=name
guided.reason
reply.yes
reply.no
reply.side side=name
reply.player player=name
reply.referee
reply.none
reply.nothing
reply.stopped
reply.won side=name
reply.last entry=number

# What a correction changed
changed.entry entry=number was=text is=text
changed.nothing
changed.typed entry=name
changed.final game=number entry=number score=score
changed.withdrawn entry=number was=score
changed.later entries=number
changed.score game=number score=score old=number was=score
changed.same game=number score=score
changed.games games=score was=score

# Why a log did not take a correction
correction.parts
correction.no-event
correction.decider
correction.note
correction.line detail=name
correction.format detail=name
correction.pending
correction.players
correction.no-next
correction.no-game
correction.decided
correction.time-outs
correction.game-over
correction.places
correction.no-final
correction.no-position
correction.want-number
correction.last-point
correction.stands
correction.too-late
correction.below-zero
correction.not-held
correction.reopen
correction.no-entry
correction.want-rally
correction.want-format
correction.no-text
correction.no-undo
correction.no-redo
correction.game-ended
correction.ruled-then
correction.ruled
correction.elsewhere
correction.nothing-after
correction.want-event
correction.point-only
correction.across
correction.other-winner
correction.ruled-since
correction.sheet-stated
correction.rewind-game
correction.rewind-stated
correction.rewind-format
correction.penalty-opens
correction.penalty-moved
correction.beside
correction.forfeit-since
correction.struck-only
correction.concussion
`
