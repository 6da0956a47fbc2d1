package format

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
	LateReceiver
	LateSide
	BothWrong
	SecondOffence
	FaultAgain
	StarterNotice
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
	EquipmentSeconds
	FoulValue
	WarningScope
	MadeFoulCounts
	FoulsBetween
	CarriedPenalties
	PreMatchPenalties
	AwardedPointWins
	RemovedPointWins
	PenaltyEndChange
	FixedCourtFoul
	SwapFoul
	ChallengeLost
	ChallengeWithdrawn
	RetirementScore
	ForfeitScore
	LateGameSeconds
	LateMatchSeconds
	Correctable
	TieRestart
	switchCount
)

// Readings of the switches, as values of [Rulings]. A reading has the same
// value wherever its switch is the same.
const (
	OrderErrorStandsWarned          = 1
	OrderErrorFault                 = 2
	OrderErrorReplayIfStopped       = 3
	OrderErrorCorrected             = 4
	OrderWindowNone                 = 1
	OrderWindowOvertaken            = 2
	OrderWindowNextServe            = 3
	OrderWindowSheet                = 4
	OrderStopReferee                = 1
	OrderStopAnyone                 = 2
	QuestionsAny                    = 1
	QuestionsServerByServers        = 2
	QuestionsScoreOnly              = 3
	QuestionsOwnScore               = 4
	QuestionsOpponentsToo           = 5
	ReceiverFaultStruck             = 1
	ReceiverFaultReturned           = 2
	ScoreStopBeforeServe            = 1
	ScoreStopBeforeReturn           = 2
	ScoreStopBeforeThirdShot        = 3
	LateReceiverStands              = 1
	LateReceiverFault               = 2
	LateSideAnnulled                = 1
	LateSideStands                  = 2
	BothWrongServingSide            = 1
	BothWrongReceivingSide          = 2
	SecondOffenceIgnored            = 1
	SecondOffenceCounts             = 2
	FaultAgainFaulted               = 1
	FaultAgainExcused               = 2
	StarterNoticeNote               = 1
	StarterNoticeFault              = 2
	EarlyServeMotion                = 1
	EarlyServeStrike                = 2
	TimeOutDeadlineMotion           = 1
	TimeOutDeadlineStrike           = 2
	RestartPenalty                  = 1
	RestartTenSeconds               = 2
	RestartWhenReady                = 3
	MedicalClockArrival             = 1
	MedicalClockRequest             = 2
	MedicalInvalidNothing           = 1
	MedicalInvalidWarning           = 2
	MedicalInvalidTimeOutAndWarning = 3
	MedicalWithdrawnNothing         = 1
	MedicalWithdrawnTimeOutOrFoul   = 2
	FoulValueAward                  = 1
	FoulValueRemove                 = 2
	WarningScopeMatch               = 1
	WarningScopeGame                = 2
	FixedCourtFoulParity            = 1
	FixedCourtFoulSameServer        = 2
	SwapFoulSwap                    = 1
	SwapFoulStay                    = 2
	ChallengeLostNothing            = 1
	ChallengeLostTimeOutAndWarning  = 2
	ChallengeWithdrawnNothing       = 1
	ChallengeWithdrawnTimeOutOrFoul = 2
	RetirementScoreLost             = 1
	RetirementScoreKept             = 2
	ForfeitScoreLost                = 1
	ForfeitScoreKept                = 2
	CorrectableSheet                = 1
	CorrectableLastPoint            = 2

	No  = 1 // of the switches that are answered by no or yes
	Yes = 2
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
	LateReceiver:          "Whether a wrong receiver found after the rally, before the next serve, is still a fault in the 2026 text.",
	LateSide:              "What becomes of a completed rally that the wrong side served, noticed before the next serve.",
	BothWrong:             "Whose error counts when both sides are wrong on one serve.",
	SecondOffence:         "Whether the rally of a second wrong server counts in the 1999 text.",
	FaultAgain:            "Whether a side is faulted again when nobody put it right after a called fault on server 1.",
	StarterNotice:         "What a change of starting server without notice costs.",
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
	EquipmentSeconds:      "Most seconds of an equipment time-out; from 2023 a reasonable duration.",
	FoulValue:             "What a technical foul does to the score: a point to the opponents, or one off the offender and at zero one to the opponents.",
	WarningScope:          "Whether a second technical warning becomes a foul within the match or only within the game.",
	MadeFoulCounts:        "Whether a foul made of two warnings counts as the first when a technical foul follows.",
	FoulsBetween:          "Whether a technical foul can be called between games.",
	CarriedPenalties:      "Whether a penalty after the last point is carried into the next match.",
	PreMatchPenalties:     "Whether a penalty can be given before the match.",
	AwardedPointWins:      "Whether a point awarded as a penalty can win the game.",
	RemovedPointWins:      "Whether a point taken off as a penalty ends a game in which target and margin are then met.",
	PenaltyEndChange:      "Whether a penalty point can make the end change due.",
	FixedCourtFoul:        "Who serves next on fixed courts after a penalty point of the serving side.",
	SwapFoul:              "Whether partners who swap only on own serve swap places when a penalty moves their score.",
	ChallengeLost:         "What a lost challenge to a ruling costs.",
	ChallengeWithdrawn:    "What it costs to withdraw a challenge that the referee has accepted.",
	RetirementScore:       "Whether the side that retires keeps the points of the game in play.",
	ForfeitScore:          "Whether the side that forfeits a game keeps its points of that game.",
	LateGameSeconds:       "Lateness that forfeits the first game.",
	LateMatchSeconds:      "Lateness that forfeits the match.",
	Correctable:           "Until when the last rally of a match can still be ruled on.",
	TieRestart:            "Whether a tie of several teams reduced by a tie-break starts again at the first one.",
}

var table = [switchCount]row{
	OrderError: {id: "order-error", values: []string{"stands-warned", "fault", "replay-if-stopped", "corrected"}, spans: []span{
		{E1999, E1999, OrderErrorStandsWarned, "5.B.5", Read},
		{E2013, E2013, OrderErrorFault, "5.B.6", Derived},
		{E2017, E2017, OrderErrorFault, "5.B.6", Read},
		{E2018, E2018, OrderErrorFault, "4.B.8", Read},
		{E2019, E2021, OrderErrorFault, "4.B.10", Read},
		{E2022, E2023, OrderErrorFault, "4.B.9", Read},
		{E2023Aug, E2025, OrderErrorReplayIfStopped, "4.B.9", Read},
		{E2026, E2026, OrderErrorReplayIfStopped, "5.C.1", Paraphrase},
		{BadmintonTo2005, BadmintonTo2005, OrderErrorCorrected, "12", Read},
		{Badminton2006, Badminton2006, OrderErrorCorrected, "12", Read},
	}},
	OrderWindow: {id: "order-window", values: []string{"none", "overtaken", "next-serve", "sheet"}, spans: []span{
		{E1999, E1999, OrderWindowNone, "5.B.5", Derived},
		{E2013, E2013, OrderWindowOvertaken, "5.B.6", Derived},
		{E2017, E2017, OrderWindowOvertaken, "5.B.6", Paraphrase},
		{E2018, E2018, OrderWindowNextServe, "4.B.9", Open},
		{E2019, E2021, OrderWindowNextServe, "4.B.11", Read},
		{E2022, E2023, OrderWindowSheet, "4.B.10", Read},
		{E2023Aug, E2025, OrderWindowNone, "4.B.9.b", Read},
		{E2026, E2026, OrderWindowNone, "5.C.2", Paraphrase},
		{BadmintonTo2005, Badminton2006, OrderWindowNone, "12", Read},
	}},
	OrderStop: {id: "order-stop", values: []string{"referee", "anyone"}, spans: []span{
		{E1999, E2013, OrderStopReferee, "", Derived},
		{E2017, E2017, OrderStopReferee, "5.B.6", Read},
		{E2018, E2023, OrderStopReferee, "4.B.9", Read},
		{E2023Aug, E2025, OrderStopAnyone, "4.B.9.a", Read},
		{E2026, E2026, OrderStopAnyone, "5.C.1", Paraphrase},
	}},
	ReceiverFault: {id: "receiver-fault", values: []string{"struck", "returned"}, spans: []span{
		{E2013, E2017, ReceiverFaultStruck, "5.B.6", Derived},
		{E2018, E2018, ReceiverFaultStruck, "4.B.8", Derived},
		{E2019, E2019, ReceiverFaultStruck, "4.B.10", Read},
		{E2020, E2023, ReceiverFaultReturned, "4.N", Read},
	}},
	Corrects: {id: "referee-corrects", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2013, No, "", Derived},
		{E2017, E2017, No, "14.K", Read},
		{E2018, E2018, No, "4.B.8", Read},
		{E2019, E2023, No, "4.B.10", Read},
		{E2023Aug, E2025, Yes, "4.B.9", Read},
		{E2026, E2026, Yes, "5.C", Derived},
	}},
	Questions: {id: "place-questions", values: []string{"any", "server-by-servers", "score-only", "own-score", "opponents-too"}, spans: []span{
		{E1999, E2013, QuestionsAny, "", Derived},
		{E2017, E2017, QuestionsAny, "5.B.6", Read},
		{E2018, E2018, QuestionsServerByServers, "4.B.8", Read},
		{E2019, E2019, QuestionsScoreOnly, "4.B.10", Read},
		{E2020, E2021, QuestionsOwnScore, "4.B.10", Read},
		{E2022, E2025, QuestionsAny, "4.B.8", Paraphrase},
		{E2026, E2026, QuestionsOpponentsToo, "5.C", Paraphrase},
	}},
	ScoreStop: {id: "score-stop", values: []string{"before-serve", "before-return", "before-third-shot"}, spans: []span{
		{E1999, E2013, ScoreStopBeforeReturn, "", Derived},
		{E2017, E2020, ScoreStopBeforeReturn, "4.K", Read},
		{E2021, E2021, ScoreStopBeforeThirdShot, "4.K", Read},
		{E2022, E2022, ScoreStopBeforeServe, "4.K", Read},
		{E2023, E2023Aug, ScoreStopBeforeServe, "4.K", Open},
		{E2024, E2024, ScoreStopBeforeReturn, "4.K", Paraphrase},
		{E2025, E2025, ScoreStopBeforeReturn, "4.K", Memory},
		{E2026, E2026, ScoreStopBeforeReturn, "5.C", ParaphraseLow},
	}},
	Misled: {id: "misled", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2021, No, "", Derived},
		{E2022, E2022, Yes, "4.K", Read},
		{E2023, E2026, Yes, "4.K", Derived},
	}},
	LateReceiver: {id: "late-receiver", values: []string{"stands", "fault"}, spans: []span{
		{E2026, E2026, LateReceiverStands, "5.C.2", Open},
	}},
	LateSide: {id: "late-side", values: []string{"annulled", "stands"}, spans: []span{
		{E1999, E2026, LateSideAnnulled, "", Open},
	}},
	BothWrong: {id: "both-wrong", values: []string{"serving-side", "receiving-side"}, spans: []span{
		{E1999, E2026, BothWrongServingSide, "", Open},
	}},
	SecondOffence: {id: "second-offence", values: []string{"ignored", "counts"}, spans: []span{
		{E1999, E1999, SecondOffenceIgnored, "5.B.5", Open},
	}},
	FaultAgain: {id: "fault-again", values: []string{"faulted", "excused"}, spans: []span{
		{E2013, E2023, FaultAgainFaulted, "4.B.9", Open},
	}},
	StarterNotice: {id: "starter-notice", values: []string{"note", "fault"}, spans: []span{
		{E1999, E2018, StarterNoticeNote, "5.A.3", Derived},
		{E2019, E2019, StarterNoticeNote, "5.A.3", Read},
		{E2020, E2020, StarterNoticeFault, "5.A.3", Paraphrase},
		{E2021, E2021, StarterNoticeNote, "5.A.2", Open},
		{E2022, E2025, StarterNoticeNote, "5.A.2", Read},
		{E2026, E2026, StarterNoticeNote, "", Paraphrase},
	}},
	Defer: {id: "defer", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2018, No, "5.A.1", Derived},
		{E2019, E2025, Yes, "5.A.1", Read},
		{E2026, E2026, Yes, "5.A.1", Derived},
	}},
	EarlyServe: {id: "early-serve", values: []string{"motion", "strike"}, spans: []span{
		{E1999, E2013, EarlyServeStrike, "", Derived},
		{E2017, E2017, EarlyServeStrike, "4.I", Read},
		{E2018, E2020, EarlyServeMotion, "4.A.1", Read},
		{E2021, E2025, EarlyServeStrike, "4.A.1", Read},
		{E2026, E2026, EarlyServeStrike, "", Derived},
	}},
	TimeOuts7: {id: "time-outs-7", unit: "time-outs", most: 15, spans: []span{
		{E1999, E2026, 2, "", Open},
	}},
	TimeOuts11: {id: "time-outs-11", unit: "time-outs", most: 15, spans: []span{
		{E1999, E2019, 2, "10.A", Derived},
		{E2020, E2025, 2, "10.A", Read},
		{E2026, E2026, 2, "", Derived},
	}},
	TimeOuts15: {id: "time-outs-15", unit: "time-outs", most: 15, spans: []span{
		{E1999, E2019, 2, "10.A", Derived},
		{E2020, E2025, 2, "10.A", Read},
		{E2026, E2026, 2, "", Open},
	}},
	TimeOuts21: {id: "time-outs-21", unit: "time-outs", most: 15, spans: []span{
		{E1999, E2019, 3, "10.A", Derived},
		{E2020, E2025, 3, "10.A", Read},
		{E2026, E2026, 3, "", Derived},
	}},
	TimeOutDeadline: {id: "time-out-deadline", values: []string{"motion", "strike"}, spans: []span{
		{E1999, E2017, TimeOutDeadlineMotion, "10.A", Derived},
		{E2018, E2020, TimeOutDeadlineMotion, "10.A", Read},
		{E2021, E2025, TimeOutDeadlineStrike, "10.A.3", Read},
		{E2026, E2026, TimeOutDeadlineStrike, "21.A", Derived},
	}},
	TimeOutBetween: {id: "time-out-between", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2018, No, "", Derived},
		{E2019, E2026, Yes, "10.F", Paraphrase},
	}},
	TimeOutSeconds: {id: "time-out-seconds", unit: "seconds", most: 3600, spans: []span{
		{E1999, E2017, 60, "10.A.1", Derived},
		{E2018, E2025, 60, "10.A.1", Read},
		{E2026, E2026, 60, "21.A", Derived},
	}},
	NoticeSeconds: {id: "notice-seconds", unit: "seconds", most: 3600, spans: []span{
		{E2018, E2025, 15, "10.A.5", Read},
		{E2026, E2026, 15, "", Derived},
	}},
	Restart: {id: "restart", values: []string{"penalty", "ten-seconds", "when-ready"}, spans: []span{
		{E1999, E2017, RestartPenalty, "11.F", Read},
		{E2018, E2021, RestartTenSeconds, "10.A.5", Read},
		{E2022, E2025, RestartWhenReady, "10.A.5", Read},
		{E2026, E2026, RestartWhenReady, "", Derived},
	}},
	ServeSeconds: {id: "serve-seconds", unit: "seconds", most: 3600, spans: []span{
		{E1999, E2017, 10, "4.E", Derived},
		{E2018, E2025, 10, "4.E", Paraphrase},
		{E2026, E2026, 10, "6.D", ParaphraseLow},
	}},
	BetweenGamesSeconds: {id: "between-games-seconds", unit: "seconds", most: 3600, spans: []span{
		{E1999, E2019, 120, "5.B.2", Derived},
		{E2020, E2025, 120, "5.B.2", Read},
		{E2026, E2026, 120, "", Derived},
	}},
	BetweenMatchesSeconds: {id: "between-matches-seconds", unit: "seconds", most: 7200, spans: []span{
		{E1999, E2023Aug, 600, "", Derived},
		{E2024, E2024, 600, "10.F", Paraphrase},
		{E2025, E2026, 600, "", Derived},
	}},
	EndChangeSeconds: {id: "end-change-seconds", unit: "seconds", most: 3600, spans: []span{
		{E2018, E2018, 60, "5.B.6", Read},
		{E2019, E2025, 60, "5.B.6", Memory},
		{E2026, E2026, 60, "21.B", Paraphrase},
	}},
	MedicalSeconds: {id: "medical-seconds", unit: "seconds", most: 7200, spans: []span{
		{E1999, E2017, 900, "", Derived},
		{E2018, E2021, 900, "10.B", Paraphrase},
		{E2022, E2025, 900, "10.B.2", Read},
		{E2026, E2026, 900, "21.C", Derived},
	}},
	MedicalClock: {id: "medical-clock", values: []string{"arrival", "request"}, spans: []span{
		{E1999, E2022, MedicalClockArrival, "10.B", Open},
		{E2023, E2025, MedicalClockArrival, "10.B.2", Read},
		{E2026, E2026, MedicalClockArrival, "21.C", Derived},
	}},
	MedicalInvalid: {id: "medical-invalid", values: []string{"nothing", "warning", "time-out-and-warning"}, spans: []span{
		{E1999, E2017, MedicalInvalidNothing, "", Derived},
		{E2018, E2018, MedicalInvalidWarning, "10.B", Paraphrase},
		{E2019, E2019, MedicalInvalidWarning, "10.B", Derived},
		{E2020, E2020, MedicalInvalidTimeOutAndWarning, "10.B.3.a", Read},
		{E2021, E2025, MedicalInvalidTimeOutAndWarning, "10.B.3", Read},
		{E2026, E2026, MedicalInvalidTimeOutAndWarning, "22.D.6", ParaphraseLow},
	}},
	MedicalWithdrawn: {id: "medical-withdrawn", values: []string{"nothing", "time-out-or-foul"}, spans: []span{
		{E1999, E2025, MedicalWithdrawnNothing, "", Derived},
		{E2026, E2026, MedicalWithdrawnTimeOutOrFoul, "21.C.4", ParaphraseLow},
	}},
	EquipmentSeconds: {id: "equipment-seconds", unit: "seconds", most: 3600, spans: []span{
		{E1999, E2019, 120, "10.D", Derived},
		{E2020, E2022, 120, "10.D", Read},
	}},
	FoulValue: {id: "foul-value", values: []string{"award", "remove"}, spans: []span{
		{E1999, E1999, FoulValueAward, "5.B.5", Read},
		{E2013, E2013, FoulValueAward, "12.L", Read},
		{E2017, E2021, FoulValueRemove, "13.G.3", Open},
		{E2022, E2022, FoulValueRemove, "13.G.3.c", Read},
		{E2023, E2025, FoulValueRemove, "13.G.3.c", Read},
		{E2026, E2026, FoulValueRemove, "22.E.1", ParaphraseLow},
	}},
	WarningScope: {id: "warning-scope", values: []string{"match", "game"}, spans: []span{
		{E1999, E2022, WarningScopeMatch, "13.G.3", Derived},
		{E2023, E2024, WarningScopeMatch, "13.G.3", Open},
		{E2025, E2025, WarningScopeMatch, "13.G.3", Read},
		{E2026, E2026, WarningScopeMatch, "22.D.7", Read},
	}},
	MadeFoulCounts: {id: "made-foul-counts", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2026, Yes, "13.H", Open},
	}},
	FoulsBetween: {id: "fouls-between", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2021, No, "", Derived},
		{E2022, E2026, Yes, "8.E", Derived},
	}},
	CarriedPenalties: {id: "carried-penalties", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2024, No, "", Derived},
		{E2025, E2025, Yes, "13.G.4", Read},
		{E2026, E2026, Yes, "22", Derived},
	}},
	PreMatchPenalties: {id: "pre-match-penalties", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2025, No, "", Derived},
		{E2026, E2026, Yes, "22", Paraphrase},
	}},
	AwardedPointWins: {id: "awarded-point-wins", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2025, Yes, "", Open},
		{E2026, E2026, Yes, "22.E", ParaphraseLow},
	}},
	RemovedPointWins: {id: "removed-point-wins", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2026, No, "", Open},
	}},
	PenaltyEndChange: {id: "penalty-end-change", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2026, Yes, "5.B.7", Open},
	}},
	FixedCourtFoul: {id: "fixed-court-foul", values: []string{"parity", "same-server"}, spans: []span{
		{E1999, E2026, FixedCourtFoulParity, "", Open},
	}},
	SwapFoul: {id: "swap-foul", values: []string{"swap", "stay"}, spans: []span{
		{E1999, E2026, SwapFoulSwap, "", Open},
	}},
	ChallengeLost: {id: "challenge-lost", values: []string{"nothing", "time-out-and-warning"}, spans: []span{
		{E1999, E2020, ChallengeLostNothing, "", Derived},
		{E2021, E2022, ChallengeLostTimeOutAndWarning, "13.G.1", Derived},
		{E2023, E2025, ChallengeLostTimeOutAndWarning, "13.G.1", Read},
		{E2026, E2026, ChallengeLostTimeOutAndWarning, "20.J.2", ParaphraseLow},
	}},
	ChallengeWithdrawn: {id: "challenge-withdrawn", values: []string{"nothing", "time-out-or-foul"}, spans: []span{
		{E1999, E2025, ChallengeWithdrawnNothing, "", Derived},
		{E2026, E2026, ChallengeWithdrawnTimeOutOrFoul, "20.J.1", ParaphraseLow},
	}},
	RetirementScore: {id: "retirement-score", values: []string{"lost", "kept"}, spans: []span{
		{E1999, E2021, RetirementScoreLost, "12.F.6.a", Read},
		{E2022, E2022, RetirementScoreKept, "12.F.6.a", Read},
		{E2023, E2023Aug, RetirementScoreKept, "12.F.6.a", Derived},
		{E2024, E2024, RetirementScoreKept, "12.F.6.a", Paraphrase},
		{E2025, E2026, RetirementScoreKept, "", Derived},
	}},
	ForfeitScore: {id: "forfeit-score", values: []string{"lost", "kept"}, spans: []span{
		{E1999, E2021, ForfeitScoreLost, "", Memory},
		{E2022, E2023Aug, ForfeitScoreLost, "", Open},
		{E2024, E2024, ForfeitScoreKept, "12.F.4", Derived},
		{E2025, E2025, ForfeitScoreKept, "12.F.4", Derived},
		{E2026, E2026, ForfeitScoreLost, "22.K", ParaphraseLow},
	}},
	LateGameSeconds: {id: "late-game-seconds", unit: "seconds", most: 7200, spans: []span{
		{E1999, E2023Aug, 600, "13.H", Memory},
		{E2024, E2024, 600, "13.H", Read},
		{E2025, E2026, 600, "", Derived},
	}},
	LateMatchSeconds: {id: "late-match-seconds", unit: "seconds", most: 7200, spans: []span{
		{E1999, E2023Aug, 900, "13.I", Memory},
		{E2024, E2024, 900, "13.I", Read},
		{E2025, E2026, 900, "", Derived},
	}},
	Correctable: {id: "correctable", values: []string{"sheet", "last-point"}, spans: []span{
		{E1999, E2021, CorrectableSheet, "", Open},
		{E2022, E2022, CorrectableSheet, "4.B.10", Read},
		{E2023, E2026, CorrectableSheet, "", Open},
	}},
	TieRestart: {id: "tie-restart", values: []string{"no", "yes"}, spans: []span{
		{E1999, E2026, Yes, "12.C.4", Open},
	}},
}
