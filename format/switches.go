package format

import "github.com/evencourt/evencourt/format/clause"

// Switch names one matter on which editions or readings differ.
type Switch uint8

// The switches. [Switch.About] says what each decides, [Switch.Readings] what
// values it takes; EDITIONS.md shows them by edition.
const (
	OrderError Switch = iota + 1
	OrderWindow
	OrderStop
	ReceiverFault
	Corrects
	Questions
	ScoreStop
	Misled
	LateScore
	LateReceiver
	LateSide
	BothWrong
	SecondOffence
	FaultAgain
	StarterNotice
	OpeningWord
	Defer
	EarlyServe
	TimeOuts7
	TimeOuts11
	TimeOuts15
	TimeOuts21
	TimeOutDeadline
	TimeOutBetween
	TimeOutSeconds
	NoticeSeconds
	Restart
	ServeSeconds
	BetweenGamesSeconds
	BetweenMatchesSeconds
	EndChangeSeconds
	MedicalSeconds
	MedicalClock
	MedicalInvalid
	MedicalWithdrawn
	MedicalTimeOuts
	EquipmentSeconds
	FoulValue
	WarningScope
	MadeFoulCounts
	TwoFouls
	FoulsBetween
	WarningBetween
	CarriedPenalties
	PreMatchPenalties
	AwardedPointWins
	RemovedPointWins
	PenaltyEndChange
	FixedCourtFoul
	SwapFoul
	ChallengeLost
	ChallengeWithdrawn
	ChallengeLast
	RetirementScore
	ForfeitScore
	LateGameSeconds
	LateMatchSeconds
	Correctable
	TieRestart
	switchCount
)

// abouts stand apart from the table, so that who asks for no prose links none.
var abouts = [switchCount]string{
	OrderError:            "What a wrong server, receiver or place costs when it is found in time.",
	OrderWindow:           "How long after a completed rally such an error can still be faulted.",
	OrderStop:             "Who may stop a live rally for such an error.",
	ReceiverFault:         "When a wrong receiver is at fault: once the serve is struck, or only once he returns it.",
	Corrects:              "Whether the referee puts servers and places right before the call without being asked.",
	Questions:             "What a player may ask the referee about server, receiver and places before the serve.",
	ScoreStop:             "The last moment to stop for a wrong score call.",
	Misled:                "Whether a stop by a player whom a wrong score call led to see a wrong server is replayed after the window.",
	LateScore:             "What becomes of a rally that was over before a wrong score call was claimed.",
	LateReceiver:          "Whether a wrong receiver found after the rally, before the next serve, is still a fault in the 2026 text.",
	LateSide:              "What becomes of a completed rally that the wrong side served, noticed before the next serve.",
	BothWrong:             "Whose error counts when both sides are wrong on one serve.",
	SecondOffence:         "Whether the rally of a second wrong server counts in the 1999 text.",
	FaultAgain:            "Whether a side is faulted again when nobody put it right after a called fault on server 1.",
	StarterNotice:         "What a change of starting server without notice costs.",
	OpeningWord:           "Whether a game of side-out doubles opens with the number two or with the word start in its place.",
	Defer:                 "Whether the winner of the first choice may defer it.",
	EarlyServe:            "What counts as serving before the score has been called.",
	TimeOuts7:             "Standard time-outs a side has in a game to 7.",
	TimeOuts11:            "Standard time-outs a side has in a game to 11, and to other targets below 21.",
	TimeOuts15:            "Standard time-outs a side has in a game to 15.",
	TimeOuts21:            "Standard time-outs a side has in a game to 21 or more.",
	TimeOutDeadline:       "Until when a time-out can be called before a serve.",
	TimeOutBetween:        "Whether a time-out can be called between games; it is charged to the coming game.",
	TimeOutSeconds:        "Length of a standard time-out.",
	NoticeSeconds:         "How long before the end of a break the referee gives notice.",
	Restart:               "What follows when players are not ready after a break.",
	ServeSeconds:          "Seconds from the score call within which the serve must be struck.",
	BetweenGamesSeconds:   "Most seconds between two games of a match.",
	BetweenMatchesSeconds: "Seconds between two matches of the same players.",
	EndChangeSeconds:      "Most seconds for the end change in mid-game; none before 2018.",
	MedicalSeconds:        "Most seconds of a medical time-out.",
	MedicalClock:          "When the medical clock starts: at the arrival of medical staff or the director, or at the request.",
	MedicalInvalid:        "What a medical request without a valid condition costs.",
	MedicalWithdrawn:      "What it costs to withdraw a medical request after help was called.",
	MedicalTimeOuts:       "Whether what is left of the side's time-outs may be added to the medical time.",
	EquipmentSeconds:      "Most seconds of an equipment time-out; from 2023 a reasonable duration.",
	FoulValue:             "What a technical foul does to the score: a point to the opponents, or one off the offender and at zero one to the opponents.",
	WarningScope:          "Whether a second technical warning becomes a foul within the match or only within the game.",
	MadeFoulCounts:        "Whether a foul made of two warnings counts as the first when a technical foul follows.",
	TwoFouls:              "What a second technical foul of a side forfeits.",
	FoulsBetween:          "Whether a technical foul can be called between games.",
	WarningBetween:        "Whether a second warning can be given between games where a foul cannot; the foul that it makes opens the next game.",
	CarriedPenalties:      "Whether a penalty after the last point is carried into the next match.",
	PreMatchPenalties:     "Whether a penalty can be given before the match.",
	AwardedPointWins:      "Whether a point awarded as a penalty can win the game.",
	RemovedPointWins:      "Whether a point taken off as a penalty ends a game in which target and margin are then met.",
	PenaltyEndChange:      "Whether a penalty point can make the end change due.",
	FixedCourtFoul:        "Who serves next on fixed courts after a penalty point of the serving side.",
	SwapFoul:              "Whether partners who swap only on own serve swap places when a penalty moves their score.",
	ChallengeLost:         "What a lost challenge to a ruling costs.",
	ChallengeWithdrawn:    "What it costs to withdraw a challenge that the referee has accepted.",
	ChallengeLast:         "Whether the last rally of a match can be challenged until the sheet is returned.",
	RetirementScore:       "Whether the side that retires keeps the points of the game in play.",
	ForfeitScore:          "Whether the side that forfeits a game keeps its points of that game.",
	LateGameSeconds:       "Lateness that forfeits the first game.",
	LateMatchSeconds:      "Lateness that forfeits the match.",
	Correctable:           "Until when the last rally of a match can still be ruled on.",
	TieRestart:            "Whether a tie of several teams reduced by a tie-break starts again at the first one.",
}

// The switches and their readings, each with the clause that it goes by. Which
// of them an edition takes is not said here: it is the reading whose clause
// stands.
var table = [switchCount]switchRow{
	OrderError:            {id: "order-error", moves: MovesLine, readings: []reading{{"stands-warned", clause.OrderStandsWarned}, {"fault", clause.OrderFault}, {"replay-if-stopped", clause.OrderReplay}, {"corrected", clause.OrderCorrected}}},
	OrderWindow:           {id: "order-window", moves: MovesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"none", clause.OrderStands}, {"overtaken", clause.WindowOvertaken}, {"next-serve", clause.WindowNextServe}, {"sheet", clause.WindowSheet}}},
	OrderStop:             {id: "order-stop", moves: MovesWords, readings: []reading{{"referee", clause.StopByReferee}, {"anyone", clause.StopByAnyone}}},
	ReceiverFault:         {id: "receiver-fault", moves: MovesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"struck", clause.ReceiverAtStrike}, {"returned", clause.ReceiverAtReturn}}},
	Corrects:              {id: "referee-corrects", moves: MovesWords, readings: []reading{{"no", clause.NoVolunteering}, {"yes", clause.RefereeCorrects}}},
	Questions:             {id: "place-questions", moves: MovesLine, readings: []reading{{"any", clause.AskAnything}, {"server-by-servers", clause.AskServer}, {"score-only", clause.AskScore}, {"own-score", clause.AskOwnScore}, {"opponents-too", clause.AskOpponents}}},
	ScoreStop:             {id: "score-stop", moves: MovesLine, readings: []reading{{"before-serve", clause.ScoreBeforeServe}, {"before-return", clause.ScoreBeforeReturn}, {"before-third-shot", clause.ScoreBeforeThird}}},
	Misled:                {id: "misled", moves: MovesLine, readings: []reading{{"no", clause.NotMisled}, {"yes", clause.Misled}}},
	LateScore:             {id: "late-score", moves: MovesLine, readings: []reading{{"replay", clause.LateScoreReplay}, {"stands", clause.LateScoreStands}}},
	LateReceiver:          {id: "late-receiver", moves: MovesLine, needs: []Clause{clause.OrderReplay}, readings: []reading{{"stands", clause.LateReceiverStands}, {"fault", clause.LateReceiverFault}}},
	LateSide:              {id: "late-side", moves: MovesLine, readings: []reading{{"annulled", clause.LateSideAnnulled}, {"stands", clause.LateSideStands}}},
	BothWrong:             {id: "both-wrong", moves: MovesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"serving-side", clause.BothWrongServers}, {"receiving-side", clause.BothWrongReceivers}}},
	SecondOffence:         {id: "second-offence", moves: MovesLine, needs: []Clause{clause.OrderStandsWarned}, readings: []reading{{"ignored", clause.SecondOffenceIgnored}, {"counts", clause.SecondOffenceCounts}}},
	FaultAgain:            {id: "fault-again", moves: MovesLine, needs: []Clause{clause.OrderFault}, readings: []reading{{"faulted", clause.FaultAgain}, {"excused", clause.FaultAgainExcused}}},
	StarterNotice:         {id: "starter-notice", moves: MovesLine, readings: []reading{{"note", clause.StarterNoted}, {"fault", clause.StarterFault}}},
	OpeningWord:           {id: "opening-word", moves: MovesWords, readings: []reading{{"number", clause.OpeningCall}, {"start", clause.OpeningStart}}},
	Defer:                 {id: "defer", moves: MovesLine, readings: []reading{{"no", clause.NoDeferring}, {"yes", clause.Deferring}}},
	EarlyServe:            {id: "early-serve", moves: MovesWords, readings: []reading{{"motion", clause.ServeAtMotion}, {"strike", clause.ServeAtStrike}}},
	TimeOuts7:             {id: "time-outs-7", moves: MovesLine, unit: "time-outs", most: 15, numbers: []number{{2, clause.TimeOutsTo7}}},
	TimeOuts11:            {id: "time-outs-11", moves: MovesLine, unit: "time-outs", most: 15, numbers: []number{{2, clause.TimeOutsTo11}}},
	TimeOuts15:            {id: "time-outs-15", moves: MovesLine, unit: "time-outs", most: 15, numbers: []number{{2, clause.TimeOutsTo15}}},
	TimeOuts21:            {id: "time-outs-21", moves: MovesLine, unit: "time-outs", most: 15, numbers: []number{{3, clause.TimeOutsTo21}}},
	TimeOutDeadline:       {id: "time-out-deadline", moves: MovesWords, readings: []reading{{"motion", clause.TimeOutBeforeMotion}, {"strike", clause.TimeOutBeforeStrike}}},
	TimeOutBetween:        {id: "time-out-between", moves: MovesLine, readings: []reading{{"no", clause.NoTimeOutBetween}, {"yes", clause.TimeOutBetween}}},
	TimeOutSeconds:        {id: "time-out-seconds", moves: MovesClock, unit: "seconds", most: 3600, numbers: []number{{60, clause.TimeOutClock}}},
	NoticeSeconds:         {id: "notice-seconds", moves: MovesClock, unit: "seconds", most: 3600, numbers: []number{{15, clause.NoticeClock}}},
	Restart:               {id: "restart", moves: MovesWords, readings: []reading{{"penalty", clause.RestartPenalty}, {"ten-seconds", clause.RestartCount}, {"when-ready", clause.RestartWhenReady}}},
	ServeSeconds:          {id: "serve-seconds", moves: MovesWords, unit: "seconds", most: 3600, numbers: []number{{10, clause.TenSeconds}}},
	BetweenGamesSeconds:   {id: "between-games-seconds", moves: MovesClock, unit: "seconds", most: 3600, numbers: []number{{120, clause.BetweenGamesClock}}},
	BetweenMatchesSeconds: {id: "between-matches-seconds", moves: MovesWords, unit: "seconds", most: 7200, numbers: []number{{600, clause.BetweenMatchesClock}}},
	EndChangeSeconds:      {id: "end-change-seconds", moves: MovesClock, unit: "seconds", most: 3600, numbers: []number{{60, clause.EndChangeClock}}},
	MedicalSeconds:        {id: "medical-seconds", moves: MovesClock, unit: "seconds", most: 7200, numbers: []number{{900, clause.Medical}}},
	MedicalClock:          {id: "medical-clock", moves: MovesClock, readings: []reading{{"arrival", clause.MedicalFromArrival}, {"request", clause.MedicalFromRequest}}},
	MedicalInvalid:        {id: "medical-invalid", moves: MovesLine, readings: []reading{{"nothing", clause.MedicalInvalidFree}, {"warning", clause.MedicalInvalidWarned}, {"time-out-and-warning", clause.MedicalInvalidCharged}}},
	MedicalWithdrawn:      {id: "medical-withdrawn", moves: MovesLine, readings: []reading{{"nothing", clause.MedicalKept}, {"time-out-or-foul", clause.MedicalRescinded}}},
	MedicalTimeOuts:       {id: "medical-time-outs", moves: MovesLine, readings: []reading{{"no", clause.MedicalEnds}, {"yes", clause.MedicalWithTimeOuts}}},
	EquipmentSeconds:      {id: "equipment-seconds", moves: MovesClock, unit: "seconds", most: 3600, numbers: []number{{120, clause.EquipmentClock}}},
	FoulValue:             {id: "foul-value", moves: MovesLine, readings: []reading{{"award", clause.FoulAwards}, {"remove", clause.FoulRemoves}}},
	WarningScope:          {id: "warning-scope", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"match", clause.SecondWarning}, {"game", clause.SecondWarningGame}}},
	MadeFoulCounts:        {id: "made-foul-counts", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.MadeFoulApart}, {"yes", clause.MadeFoulCounts}}},
	TwoFouls:              {id: "two-fouls", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"match-forfeit", clause.TwoFoulsMatch}, {"game-forfeit", clause.TwoFoulsGame}}},
	FoulsBetween:          {id: "fouls-between", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.NoFoulsBetween}, {"yes", clause.FoulsBetween}}},
	WarningBetween:        {id: "warning-between", moves: MovesLine, needs: []Clause{clause.NoFoulsBetween}, readings: []reading{{"no", clause.NoWarningBetween}, {"yes", clause.WarningBetween}}},
	CarriedPenalties:      {id: "carried-penalties", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.NothingCarried}, {"yes", clause.CarriedPenalties}}},
	PreMatchPenalties:     {id: "pre-match-penalties", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.NoPenaltyBefore}, {"yes", clause.PenaltyBefore}}},
	AwardedPointWins:      {id: "awarded-point-wins", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.AwardedPointWinsNot}, {"yes", clause.AwardedPointWins}}},
	RemovedPointWins:      {id: "removed-point-wins", moves: MovesLine, needs: []Clause{clause.FoulRemoves}, readings: []reading{{"no", clause.RemovedPointEndsNot}, {"yes", clause.RemovedPointEnds}}},
	PenaltyEndChange:      {id: "penalty-end-change", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"no", clause.PenaltyNoEndChange}, {"yes", clause.PenaltyEndChange}}},
	FixedCourtFoul:        {id: "fixed-court-foul", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"parity", clause.FixedCourtFoulParity}, {"same-server", clause.FixedCourtFoulSame}}},
	SwapFoul:              {id: "swap-foul", moves: MovesLine, needs: []Clause{clause.FoulAwards, clause.FoulRemoves}, readings: []reading{{"swap", clause.SwapFoulSwaps}, {"stay", clause.SwapFoulStays}}},
	ChallengeLost:         {id: "challenge-lost", moves: MovesLine, readings: []reading{{"nothing", clause.ChallengeFree}, {"time-out-and-warning", clause.ChallengeLost}}},
	ChallengeWithdrawn:    {id: "challenge-withdrawn", moves: MovesLine, readings: []reading{{"nothing", clause.ChallengeDroppedFree}, {"time-out-or-foul", clause.ChallengeDropped}}},
	ChallengeLast:         {id: "challenge-last-rally", moves: MovesLine, readings: []reading{{"no", clause.NoChallengeLastRally}, {"yes", clause.ChallengeLastRally}}},
	RetirementScore:       {id: "retirement-score", moves: MovesResult, readings: []reading{{"lost", clause.RetirementNil}, {"kept", clause.RetirementKept}}},
	ForfeitScore:          {id: "forfeit-score", moves: MovesResult, readings: []reading{{"lost", clause.ForfeitNil}, {"kept", clause.ForfeitKept}}},
	LateGameSeconds:       {id: "late-game-seconds", moves: MovesLine, unit: "seconds", most: 7200, numbers: []number{{600, clause.LateGame}}},
	LateMatchSeconds:      {id: "late-match-seconds", moves: MovesLine, unit: "seconds", most: 7200, numbers: []number{{900, clause.LateMatch}}},
	Correctable:           {id: "correctable", moves: MovesLine, readings: []reading{{"sheet", clause.SheetFinal}, {"last-point", clause.LastPointFinal}}},
	TieRestart:            {id: "tie-restart", moves: MovesResult, readings: []reading{{"no", clause.TieGoesOn}, {"yes", clause.TieRestarts}}},
}
