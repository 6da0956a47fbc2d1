package format

import "github.com/evencourt/evencourt/format/clause"

// Switch is one matter on which editions or readings differ. [Switches] lists
// them, [Clause.Switch] is the one that a clause is a reading of;
// [Switch.About] says what each decides, [Switch.Readings] what values it
// takes. EDITIONS.md shows them by edition.
type Switch uint8

// The switches.
const (
	orderError Switch = iota + 1
	orderWindow
	orderStop
	receiverFault
	corrects
	placeQuestions
	scoreStop
	misled
	lateScore
	lateReceiver
	lateSide
	bothWrong
	secondOffence
	faultAgain
	starterNotice
	openingWord
	deferral
	earlyServe
	timeOuts7
	timeOuts11
	timeOuts15
	timeOuts21
	timeOutDeadline
	timeOutBetween
	timeOutSeconds
	noticeSeconds
	restart
	serveSeconds
	betweenGamesSeconds
	betweenMatchesSeconds
	endChangeSeconds
	medicalSeconds
	medicalClock
	medicalInvalid
	medicalWithdrawn
	medicalTimeOuts
	equipmentSeconds
	foulValue
	warningScope
	madeFoulCounts
	twoFouls
	foulsBetween
	warningBetween
	carriedPenalties
	preMatchPenalties
	awardedPointWins
	removedPointWins
	penaltyEndChange
	fixedCourtFoul
	swapFoul
	challengeLost
	challengeWithdrawn
	challengeLast
	retirementScore
	forfeitScore
	lateGameSeconds
	lateMatchSeconds
	correctable
	tieRestart
	switchCount
)

// abouts stand apart from the table, so that who asks for no prose links none.
var abouts = [switchCount]string{
	orderError:            "What a wrong server, receiver or place costs when it is found in time.",
	orderWindow:           "How long after a completed rally such an error can still be faulted.",
	orderStop:             "Who may stop a live rally for such an error.",
	receiverFault:         "When a wrong receiver is at fault: once the serve is struck, or only once he returns it.",
	corrects:              "Whether the referee puts servers and places right before the call without being asked.",
	placeQuestions:        "What a player may ask the referee about server, receiver and places before the serve.",
	scoreStop:             "The last moment to stop for a wrong score call.",
	misled:                "Whether a stop by a player whom a wrong score call led to see a wrong server is replayed after the window.",
	lateScore:             "What becomes of a rally that was over before a wrong score call was claimed.",
	lateReceiver:          "Whether a wrong receiver found after the rally, before the next serve, is still a fault in the 2026 text.",
	lateSide:              "What becomes of a completed rally that the wrong side served, noticed before the next serve.",
	bothWrong:             "Whose error counts when both sides are wrong on one serve.",
	secondOffence:         "Whether the rally of a second wrong server counts in the 1999 text.",
	faultAgain:            "Whether a side is faulted again when nobody put it right after a called fault on server 1.",
	starterNotice:         "What a change of starting server without notice costs.",
	openingWord:           "Whether a game of side-out doubles opens with the number two or with the word start in its place.",
	deferral:              "Whether the winner of the first choice may defer it.",
	earlyServe:            "What counts as serving before the score has been called.",
	timeOuts7:             "Standard time-outs a side has in a game to 7.",
	timeOuts11:            "Standard time-outs a side has in a game to 11, and to other targets below 21.",
	timeOuts15:            "Standard time-outs a side has in a game to 15.",
	timeOuts21:            "Standard time-outs a side has in a game to 21 or more.",
	timeOutDeadline:       "Until when a time-out can be called before a serve.",
	timeOutBetween:        "Whether a time-out can be called between games; it is charged to the coming game.",
	timeOutSeconds:        "Length of a standard time-out.",
	noticeSeconds:         "How long before the end of a break the referee gives notice.",
	restart:               "What follows when players are not ready after a break.",
	serveSeconds:          "Seconds from the score call within which the serve must be struck.",
	betweenGamesSeconds:   "Most seconds between two games of a match.",
	betweenMatchesSeconds: "Seconds between two matches of the same players.",
	endChangeSeconds:      "Most seconds for the end change in mid-game; none before 2018.",
	medicalSeconds:        "Most seconds of a medical time-out.",
	medicalClock:          "When the medical clock starts: at the arrival of medical staff or the director, or at the request.",
	medicalInvalid:        "What a medical request without a valid condition costs.",
	medicalWithdrawn:      "What it costs to withdraw a medical request after help was called.",
	medicalTimeOuts:       "Whether what is left of the side's time-outs may be added to the medical time.",
	equipmentSeconds:      "Most seconds of an equipment time-out; from 2023 a reasonable duration.",
	foulValue:             "What a technical foul does to the score: a point to the opponents, or one off the offender and at zero one to the opponents.",
	warningScope:          "Whether a second technical warning becomes a foul within the match or only within the game.",
	madeFoulCounts:        "Whether a foul made of two warnings counts as the first when a technical foul follows.",
	twoFouls:              "What a second technical foul of a side forfeits.",
	foulsBetween:          "Whether a technical foul can be called between games.",
	warningBetween:        "Whether a second warning can be given between games where a foul cannot; the foul that it makes opens the next game.",
	carriedPenalties:      "Whether a penalty after the last point is carried into the next match.",
	preMatchPenalties:     "Whether a penalty can be given before the match.",
	awardedPointWins:      "Whether a point awarded as a penalty can win the game.",
	removedPointWins:      "Whether a point taken off as a penalty ends a game in which target and margin are then met.",
	penaltyEndChange:      "Whether a penalty point can make the end change due.",
	fixedCourtFoul:        "Who serves next on fixed courts after a penalty point of the serving side.",
	swapFoul:              "Whether partners who swap only on own serve swap places when a penalty moves their score.",
	challengeLost:         "What a lost challenge to a ruling costs.",
	challengeWithdrawn:    "What it costs to withdraw a challenge that the referee has accepted.",
	challengeLast:         "Whether the last rally of a match can be challenged until the sheet is returned.",
	retirementScore:       "Whether the side that retires keeps the points of the game in play.",
	forfeitScore:          "Whether the side that forfeits a game keeps its points of that game.",
	lateGameSeconds:       "Lateness that forfeits the first game.",
	lateMatchSeconds:      "Lateness that forfeits the match.",
	correctable:           "Until when the last rally of a match can still be ruled on.",
	tieRestart:            "Whether a tie of several teams reduced by a tie-break starts again at the first one.",
}

// The switches and their readings, each with the clause that it goes by. Which
// of them an edition takes is not said here: it is the reading whose clause
// stands.
var table = [switchCount]switchRow{
	orderError:            {id: "order-error", moves: movesLine, readings: []reading{{"stands-warned", clause.OrderStandsWarned}, {"fault", clause.OrderFault}, {"replay-if-stopped", clause.OrderReplay}, {"corrected", clause.OrderCorrected}}},
	orderWindow:           {id: "order-window", moves: movesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"none", clause.OrderStands}, {"overtaken", clause.WindowOvertaken}, {"next-serve", clause.WindowNextServe}, {"sheet", clause.WindowSheet}}},
	orderStop:             {id: "order-stop", moves: movesWords, readings: []reading{{"referee", clause.StopByReferee}, {"anyone", clause.StopByAnyone}}},
	receiverFault:         {id: "receiver-fault", moves: movesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"struck", clause.ReceiverAtStrike}, {"returned", clause.ReceiverAtReturn}}},
	corrects:              {id: "referee-corrects", moves: movesWords, readings: []reading{{"no", clause.NoVolunteering}, {"yes", clause.RefereeCorrects}}},
	placeQuestions:        {id: "place-questions", moves: movesLine, readings: []reading{{"any", clause.AskAnything}, {"server-by-servers", clause.AskServer}, {"score-only", clause.AskScore}, {"own-score", clause.AskOwnScore}, {"opponents-too", clause.AskOpponents}}},
	scoreStop:             {id: "score-stop", moves: movesLine, readings: []reading{{"before-serve", clause.ScoreBeforeServe}, {"before-return", clause.ScoreBeforeReturn}, {"before-third-shot", clause.ScoreBeforeThird}}},
	misled:                {id: "misled", moves: movesLine, readings: []reading{{"no", clause.NotMisled}, {"yes", clause.Misled}}},
	lateScore:             {id: "late-score", moves: movesLine, readings: []reading{{"replay", clause.LateScoreReplay}, {"stands", clause.LateScoreStands}}},
	lateReceiver:          {id: "late-receiver", moves: movesLine, needs: []Clause{clause.OrderReplay}, readings: []reading{{"stands", clause.LateReceiverStands}, {"fault", clause.LateReceiverFault}}},
	lateSide:              {id: "late-side", moves: movesLine, readings: []reading{{"annulled", clause.LateSideAnnulled}, {"stands", clause.LateSideStands}}},
	bothWrong:             {id: "both-wrong", moves: movesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"serving-side", clause.BothWrongServers}, {"receiving-side", clause.BothWrongReceivers}}},
	secondOffence:         {id: "second-offence", moves: movesLine, needs: []Clause{clause.OrderStandsWarned}, readings: []reading{{"ignored", clause.SecondOffenceIgnored}, {"counts", clause.SecondOffenceCounts}}},
	faultAgain:            {id: "fault-again", moves: movesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"faulted", clause.FaultAgain}, {"excused", clause.FaultAgainExcused}}},
	starterNotice:         {id: "starter-notice", moves: movesLine, readings: []reading{{"note", clause.StarterNoted}, {"fault", clause.StarterFault}}},
	openingWord:           {id: "opening-word", moves: movesWords, readings: []reading{{"number", clause.OpeningCall}, {"start", clause.OpeningStart}}},
	deferral:              {id: "defer", moves: movesLine, readings: []reading{{"no", clause.NoDeferring}, {"yes", clause.Deferring}}},
	earlyServe:            {id: "early-serve", moves: movesWords, readings: []reading{{"motion", clause.ServeAtMotion}, {"strike", clause.ServeAtStrike}}},
	timeOuts7:             {id: "time-outs-7", moves: movesLine, unit: "time-outs", most: 15, numbers: []number{{2, clause.TimeOutsTo7}}},
	timeOuts11:            {id: "time-outs-11", moves: movesLine, unit: "time-outs", most: 15, numbers: []number{{2, clause.TimeOutsTo11}}},
	timeOuts15:            {id: "time-outs-15", moves: movesLine, unit: "time-outs", most: 15, numbers: []number{{2, clause.TimeOutsTo15}, {1, clause.BeachTimeOutsLast}}},
	timeOuts21:            {id: "time-outs-21", moves: movesLine, unit: "time-outs", most: 15, numbers: []number{{3, clause.TimeOutsTo21}, {1, clause.BeachTimeOuts}}},
	timeOutDeadline:       {id: "time-out-deadline", moves: movesWords, readings: []reading{{"motion", clause.TimeOutBeforeMotion}, {"strike", clause.TimeOutBeforeStrike}}},
	timeOutBetween:        {id: "time-out-between", moves: movesLine, readings: []reading{{"no", clause.NoTimeOutBetween}, {"yes", clause.TimeOutBetween}}},
	timeOutSeconds:        {id: "time-out-seconds", moves: movesClock, unit: "seconds", most: 3600, numbers: []number{{60, clause.TimeOutClock}, {30, clause.BeachTimeOutClock}}},
	noticeSeconds:         {id: "notice-seconds", moves: movesClock, unit: "seconds", most: 3600, numbers: []number{{15, clause.NoticeClock}}},
	restart:               {id: "restart", moves: movesWords, readings: []reading{{"penalty", clause.RestartPenalty}, {"ten-seconds", clause.RestartCount}, {"when-ready", clause.RestartWhenReady}}},
	serveSeconds:          {id: "serve-seconds", moves: movesWords, unit: "seconds", most: 3600, numbers: []number{{10, clause.TenSeconds}}},
	betweenGamesSeconds:   {id: "between-games-seconds", moves: movesClock, unit: "seconds", most: 3600, numbers: []number{{120, clause.BetweenGamesClock}}},
	betweenMatchesSeconds: {id: "between-matches-seconds", moves: movesWords, unit: "seconds", most: 7200, numbers: []number{{600, clause.BetweenMatchesClock}}},
	endChangeSeconds:      {id: "end-change-seconds", moves: movesClock, unit: "seconds", most: 3600, numbers: []number{{60, clause.EndChangeClock}}},
	medicalSeconds:        {id: "medical-seconds", moves: movesClock, unit: "seconds", most: 7200, numbers: []number{{900, clause.Medical}}},
	medicalClock:          {id: "medical-clock", moves: movesClock, readings: []reading{{"arrival", clause.MedicalFromArrival}, {"request", clause.MedicalFromRequest}}},
	medicalInvalid:        {id: "medical-invalid", moves: movesLine, readings: []reading{{"nothing", clause.MedicalInvalidFree}, {"warning", clause.MedicalInvalidWarned}, {"time-out-and-warning", clause.MedicalInvalidCharged}}},
	medicalWithdrawn:      {id: "medical-withdrawn", moves: movesLine, readings: []reading{{"nothing", clause.MedicalKept}, {"time-out-or-foul", clause.MedicalRescinded}}},
	medicalTimeOuts:       {id: "medical-time-outs", moves: movesLine, readings: []reading{{"no", clause.MedicalEnds}, {"yes", clause.MedicalWithTimeOuts}}},
	equipmentSeconds:      {id: "equipment-seconds", moves: movesClock, unit: "seconds", most: 3600, numbers: []number{{120, clause.EquipmentClock}}},
	foulValue:             {id: "foul-value", moves: movesLine, readings: []reading{{"award", clause.FoulAwards}, {"remove", clause.FoulRemoves}}},
	warningScope:          {id: "warning-scope", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"match", clause.SecondWarning}, {"game", clause.SecondWarningGame}}},
	madeFoulCounts:        {id: "made-foul-counts", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.MadeFoulApart}, {"yes", clause.MadeFoulCounts}}},
	twoFouls:              {id: "two-fouls", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"match-forfeit", clause.TwoFoulsMatch}, {"game-forfeit", clause.TwoFoulsGame}}},
	foulsBetween:          {id: "fouls-between", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.NoFoulsBetween}, {"yes", clause.FoulsBetween}}},
	warningBetween:        {id: "warning-between", moves: movesLine, needs: []Clause{clause.NoFoulsBetween}, readings: []reading{{"no", clause.NoWarningBetween}, {"yes", clause.WarningBetween}}},
	carriedPenalties:      {id: "carried-penalties", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.NothingCarried}, {"yes", clause.CarriedPenalties}}},
	preMatchPenalties:     {id: "pre-match-penalties", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.NoPenaltyBefore}, {"yes", clause.PenaltyBefore}}},
	awardedPointWins:      {id: "awarded-point-wins", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.AwardedPointWinsNot}, {"yes", clause.AwardedPointWins}}},
	removedPointWins:      {id: "removed-point-wins", moves: movesLine, needs: []Clause{clause.FoulRemoves}, readings: []reading{{"no", clause.RemovedPointEndsNot}, {"yes", clause.RemovedPointEnds}}},
	penaltyEndChange:      {id: "penalty-end-change", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.PenaltyNoEndChange}, {"yes", clause.PenaltyEndChange}}},
	fixedCourtFoul:        {id: "fixed-court-foul", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"parity", clause.FixedCourtFoulParity}, {"same-server", clause.FixedCourtFoulSame}}},
	swapFoul:              {id: "swap-foul", moves: movesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"swap", clause.SwapFoulSwaps}, {"stay", clause.SwapFoulStays}}},
	challengeLost:         {id: "challenge-lost", moves: movesLine, readings: []reading{{"nothing", clause.ChallengeFree}, {"time-out-and-warning", clause.ChallengeLost}}},
	challengeWithdrawn:    {id: "challenge-withdrawn", moves: movesLine, readings: []reading{{"nothing", clause.ChallengeDroppedFree}, {"time-out-or-foul", clause.ChallengeDropped}}},
	challengeLast:         {id: "challenge-last-rally", moves: movesLine, readings: []reading{{"no", clause.NoChallengeLastRally}, {"yes", clause.ChallengeLastRally}}},
	retirementScore:       {id: "retirement-score", moves: movesResult, readings: []reading{{"lost", clause.RetirementNil}, {"kept", clause.RetirementKept}}},
	forfeitScore:          {id: "forfeit-score", moves: movesResult, readings: []reading{{"lost", clause.ForfeitNil}, {"kept", clause.ForfeitKept}}},
	lateGameSeconds:       {id: "late-game-seconds", moves: movesLine, unit: "seconds", most: 7200, numbers: []number{{600, clause.LateGame}}},
	lateMatchSeconds:      {id: "late-match-seconds", moves: movesLine, unit: "seconds", most: 7200, numbers: []number{{900, clause.LateMatch}}},
	correctable:           {id: "correctable", moves: movesLine, readings: []reading{{"sheet", clause.SheetFinal}, {"last-point", clause.LastPointFinal}}},
	tieRestart:            {id: "tie-restart", moves: movesResult, readings: []reading{{"no", clause.TieGoesOn}, {"yes", clause.TieRestarts}}},
}
