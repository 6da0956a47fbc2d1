package audit

import "strings"

// Language is a table of sentences: for each code what a finding says, with
// its arguments in braces, and what such findings mean and ask for.
//
// The arguments are {score} and {want} (scores A-B), {n}, {m}, {text},
// {other}, {game} and {rally}; {certain} stands for Certain or Likely.
type Language struct {
	Name      string
	Sentences [codeCount]string
	Meanings  [codeCount]string
	// Phrases are the words that arguments can have ([Phrases]); what a
	// language has no words for stands as it is.
	Phrases [codeCount]map[string]string
	Certain string // every cheapest explanation shares the repair
	Likely  string // some cheapest explanations have it
}

// Say renders a finding as one sentence.
func (l *Language) Say(f *Finding) string {
	if f.Code >= codeCount {
		return ""
	}
	return l.fill(l.Sentences[f.Code], f)
}

// Explain says what findings of a code mean and what to do about them.
func (l *Language) Explain(c Code) string {
	if c >= codeCount {
		return ""
	}
	return l.Meanings[c]
}

func (l *Language) fill(sentence string, f *Finding) string {
	var out strings.Builder
	for {
		before, rest, ok := strings.Cut(sentence, "{")
		out.WriteString(before)
		if !ok {
			return out.String()
		}
		name, after, ok := strings.Cut(rest, "}")
		if !ok {
			return out.String()
		}
		out.WriteString(l.argument(name, f))
		sentence = after
	}
}

func (l *Language) argument(name string, f *Finding) string {
	switch name {
	case "score":
		return string(appendScore(nil, Score(f.Score)))
	case "want":
		return string(appendScore(nil, Score(f.Want)))
	case "n":
		return itoa(f.N)
	case "m":
		return itoa(f.M)
	case "text":
		return l.phrase(f.Code, phrasesOf[f.Code].text, f.Text)
	case "other":
		return l.phrase(f.Code, phrasesOf[f.Code].other, f.Other)
	case "game":
		return itoa(f.Game)
	case "rally":
		return itoa(f.Rally)
	case "certain":
		if f.More {
			return l.Certain
		}
		return l.Likely
	}
	return "{" + name + "}"
}

// English is the table of English sentences.
var English = Language{
	Name: "en", Certain: "certain", Likely: "one of several equally likely repairs",
	Sentences: [codeCount]string{
		RowUnreadable:   "this row cannot be read: {text}",
		FieldUnreadable: "{text} cannot be read here: {other}",
		ScoreAsDate:     "{text} looks like a score that a spreadsheet turned into a date: {other}",
		MissingSpelled:  "missing values are spelt in {n} ways: {text}",
		FormatUnknown:   "no such format: {text}",

		GameLevel:       "game {game}: {score} is level, so nobody has won it",
		GameUnfinished:  "game {game}: {score} is unfinished, the target is {n}",
		GameMargin:      "game {game}: {score} lacks the margin of {m}: unfinished, or an event won by one point",
		GameOverRun:     "game {game}: {score} goes past the end of a game to {n}, won by {m}",
		GamePenaltyOnly: "game {game}: {score} can only come from a penalty point: is a technical foul recorded?",
		GameNothing:     "game {game}: 0-0 is not a result",
		TimeOutsTooMany: "game {game}: side {text} used {n} time-outs, {m} are allowed",

		MatchEmpty:        "no games, no games won and no totals are given",
		MatchTooManyGames: "{n} games are given, the match has at most {m}",
		MatchExtraGame:    "the match was decided after game {m}, but {n} games are given",
		MatchUndecided:    "{score} in games: nobody has won {m}",
		MatchTied:         "{score} in games: the match is tied",
		MatchGameMissing:  "game {game} has no score, but a later one has",
		WinnerDisagrees:   "side {text} is named the winner, but the games stand {score}: the winner or the order of the scores is wrong",
		WinnerMissing:     "no winner is named, and nothing that is given tells who won",
		SidesMirrored:     "the two reports have their sides exchanged: {text} and {other}",
		TargetOther:       "no game fits the target of {n}, but every game fits {m}: wrong format?",
		PlayerBothSides:   "player {text} is on both sides",
		PlayerTwice:       "player {text} is listed twice on one side",
		SidePlayers:       "side {other} has not the number of players of {text}",
		SingleGameEvent:   "one game to 11 is for round robins of six or more, here are {n}",

		StatusGames:          "a match that is {text} has {n} games",
		StatusWinner:         "a match that is {text}: {other}",
		RetirementConvention: "side {text} retired at {score}; the convention reports {other}",
		RetirementComplete:   "side {text} is said to have retired, but {score} in games had decided the match",
		RetirementBeforePlay: "a retirement before any score is a withdrawal; the convention reports {other}",
		RetirementUnmarked:   "did side {text} retire at {score}? Then the convention reports {other}",
		ForfeitConvention:    "the match was not finished at {score}; the convention reports {other}",
		ForfeitFullScore:     "side {text} is said to have forfeited, but the games look played out ({score} in games)",
		ByeOpponent:          "a bye has two sides",
		ReferenceMissing:     "a match that is {text} does not say of which match",

		PartialChecked:     "no scores of games are given; checked: {text}",
		GamesWonImpossible: "{score} in games is not possible in a match of {n}",
		TotalsImpossible:   "no legal games add up to {score} points",
		TotalsDisagree:     "{score} is given, the games add up to {want}",

		RoleMissing:         "{text} is missing",
		RoleUnknown:         "{text} is no part of this team match",
		RoleTwice:           "{text} is given {n} times",
		RolePlayerTooOften:  "player {text} plays {n} parts, {m} are allowed",
		TieBreakerMissing:   "the teams are level at {score}, and {text} is missing",
		TieBreakerNeedless:  "{text} was played though the teams were not level ({score})",
		TeamWinnerDisagrees: "team {text} is named the winner, but the parts make it {other} ({score})",
		TeamScoreDisagrees:  "{score} is given, the parts add up to {want}",
		TeamUndecided:       "the teams are level at {score}",
		TeamPartUnfinished:  "{text} has no winner",

		SameMatchAgrees:  "reported twice, and the reports agree (line {m})",
		SameMatchDiffers: "reported twice, and {text} differs: {other} (line {m})",
		SamePairingTwice: "the same sides meet twice in one round (line {m})",
		NameNear:         "{text} and {other} are spelt almost alike",
		NameTwoIDs:       "{text} has two ids: {other}",
		PairingMissing:   "{text} and {other} have met {n} times, {m} are due",
		PairingTooOften:  "{text} and {other} have met {n} times, {m} are due",
		IndexFull:        "only the latest {n} matches are compared with each other",

		LogDiverges:      "row {rally} is the first that does not follow from those before it; {n} of {m} rows disagree, {text}",
		OtherMatchRow:    "{n} rows belong to match {text}",
		OutOfOrder:       "row {rally} is out of order",
		DuplicateRow:     "row {rally} was delivered twice: {certain}",
		UndoRow:          "row {rally} takes row {m} back",
		UndoImplied:      "row {rally} was taken back: the score steps back after it: {certain}",
		WinnerInferred:   "row {rally} has no winner; it was side {text}",
		WinnerBlank:      "row {rally} has no winner, and either side fits",
		WinnerWrong:      "row {rally} names side {text} as winner; it was side {other}: {certain}",
		ServerWrong:      "row {rally} names {text} as server, {other} was due: {certain}",
		ReceiverWrong:    "row {rally} names {text} as receiver, {other} was due: {certain}",
		CallWrong:        "row {rally}: the score called was {text}, due was {other}: {certain}",
		CallReversed:     "row {rally}: the score called was {text}, the sides exchanged; due was {other}: {certain}",
		ScoreWrong:       "row {rally}: {score} is recorded, it was {want}: {certain}",
		ScoreShifted:     "from row {rally} on the recorded score is off: {score} for {want}: {certain}",
		RallyMissing:     "{n} rallies are missing before row {rally} ({text}): {certain}",
		TailMissing:      "the last {n} rallies are missing",
		RowExtra:         "from row {rally} on {n} rows did not happen or did not count: {certain}",
		AfterEnd:         "from row {rally} on {n} rallies were played after the game or match was over",
		OrderSlipped:     "from row {rally} on the order is another: {text} serves, {other} was due: {certain}",
		FoulMissing:      "before row {rally} a point moved without a rally: a technical foul of side {text}? {certain}",
		FinalDiffers:     "game {game}: the final says {score}, the rallies end at {want}: {certain}",
		LogUnfinished:    "game {game}: the rows end at {score}, before anybody has won",
		EventRefused:     "row {rally}: {text} is not possible there: {other}",
		StartDiffers:     "the game did not start as stated: {text} for {other}: {certain}",
		EndChangeMissing: "game {game}: no end change is recorded at the midpoint",
		GameNumberWrong:  "row {rally} names game {n}, game {m} was in play: {certain}",
		OtherScoring:     "the rows fit {text}, not {other}",
		Unexplained:      "the {n} rows are not explained: whatever explains them leaves out too many",

		SheetImpossible:   "no game leaves these marks: {text}",
		SheetSeveral:      "{n} states agree with the marks; what settles it: {text}",
		SheetTurns:        "turns without a point leave no trace; their number is unknown, who serves is not",
		SheetTimeOutScore: "the time-out of side {text} is noted at {score}, which no moment of the game has",
	},
	Phrases: [codeCount]map[string]string{
		StatusGames: {"not-played": "not played", "double-forfeit": "forfeited by both", "bye": "a bye"},
		StatusWinner: {
			"not-played": "not played", "double-forfeit": "forfeited by both", "bye": "a bye",
			"by":     "which side that was is not said, or it is named the winner",
			"winner": "a winner is named, and there can be none",
			"none":   "the winner is not said",
		},
		PartialChecked: {"games-won": "games won"},
		LogDiverges:    {"resync": "and the last ones agree again", "no-resync": "up to the last one"},
		SheetImpossible: {
			"no-format":       "no format is given",
			"too-long":        "there are more than a game can have",
			"mark-past-score": "a side-out is marked at a score that was not reached",
			"no-game":         "no sequence of rallies does",
		},
		SheetSeveral: {
			"court": "from which court is the next serve?", "server": "who serves?",
			"right-of-a": "which of A stands right?", "right-of-b": "which of B stands right?", "receiver": "who receives?",
			"side": "which side serves?", "number": "which server number?",
			"starter-a": "who is the starting server of A?", "starter-b": "who is the starting server of B?",
			"first": "who served first in this game?", "more-than-one": "no single question",
		},
	},
	Meanings: [codeCount]string{
		RowUnreadable:   "The line is not valid CSV or JSON. It was skipped, the rest was read. Correct the line.",
		FieldUnreadable: "The field does not hold what its column is for. The row was skipped or the field ignored, as the sentence says.",
		ScoreAsDate:     "Spreadsheets read 11-9 as a day and store it as a date or a number of days. The score is proposed, never taken silently. Format score columns as text.",
		MissingSpelled:  "Several spellings of a missing value (such as n/a, - and an empty cell) are in use. All were read as missing.",
		FormatUnknown:   "The format column names no format of the registry, or an edition in which it does not exist. The row was not checked.",

		GameLevel:       "A level score is no final. Either the game was not finished or a number is wrong.",
		GameUnfinished:  "No side has reached the target. The match may have been broken off; then it needs a status.",
		GameMargin:      "The winner has the target but not the margin. Either the game was not finished or the event is won by one point.",
		GameOverRun:     "The game had ended before. Usually the target is another, a number is wrong, or rallies were played after the end.",
		GamePenaltyOnly: "No sequence of rallies ends so, but with one technical foul it can. Ask for the recorded foul.",
		GameNothing:     "A game at 0-0 has not been played. Leave it empty.",
		TimeOutsTooMany: "More standard time-outs than the format allows. Referee's and medical time-outs do not count.",

		MatchEmpty:        "A match that was played needs games, or at least games won or totals.",
		MatchTooManyGames: "More games than the format can have.",
		MatchExtraGame:    "A game was entered after one side had won. It does not count; it may belong to another match.",
		MatchUndecided:    "Every game is legal, but nobody has won enough of them.",
		MatchTied:         "Where all games are played, both sides can win equally many. The event must allow it.",
		MatchGameMissing:  "A game in the middle has no score.",
		WinnerDisagrees:   "The winner of a match owns more games. Either the winner or the order A-B of the scores is wrong.",
		WinnerMissing:     "Only totals are given, and the side with more points need not have won.",
		SidesMirrored:     "Two reports of one match are equal once the sides of one are exchanged, but its players are not exchanged.",
		TargetOther:       "All games together are legal at another target. The format of the row is probably wrong.",
		PlayerBothSides:   "One id stands on both sides.",
		PlayerTwice:       "One id stands twice on the same side.",
		SidePlayers:       "Singles has one player a side, doubles two.",
		SingleGameEvent:   "The rulebook allows one game to 11 in round robins of six or more.",

		StatusGames:          "What was not played has no games; what is abandoned is undecided.",
		StatusWinner:         "The status and the winner, or the side that stopped, contradict each other or are not given.",
		RetirementConvention: "The edition reports a retirement by a convention. The conventional games are proposed; completed games stand.",
		RetirementComplete:   "The games had decided the match, so there was nothing to retire from, or a score is wrong.",
		RetirementBeforePlay: "Before the first score call a side withdraws. The status should say so.",
		RetirementUnmarked:   "An unfinished last game with a winner is usually a retirement entered as a normal result.",
		ForfeitConvention:    "The edition reports a forfeit by a convention. The conventional games are proposed; completed games stand.",
		ForfeitFullScore:     "A forfeit leaves a conventional score; these games look as if they had been played.",
		ByeOpponent:          "A bye means that there was no opponent.",
		ReferenceMissing:     "What is amended or resumed must name the earlier report.",

		PartialChecked:     "Only what is named was checked; the rest cannot be.",
		GamesWonImpossible: "No match of this format ends with these games won.",
		TotalsImpossible:   "No legal games have these totals.",
		TotalsDisagree:     "What is given beside the games contradicts them.",

		RoleMissing:         "A part of the team match has no result.",
		RoleUnknown:         "A part is reported that the rules of the team match do not have.",
		RoleTwice:           "A part is reported more than once.",
		RolePlayerTooOften:  "A player takes part in more than the rules allow.",
		TieBreakerMissing:   "Level teams play a tie-breaker, and it has no result.",
		TieBreakerNeedless:  "The tie-breaker is played only by level teams.",
		TeamWinnerDisagrees: "The parts make the other team the winner.",
		TeamScoreDisagrees:  "What is given contradicts the parts.",
		TeamUndecided:       "By these rules nobody has won.",
		TeamPartUnfinished:  "A part without a winner cannot count.",

		SameMatchAgrees:  "The match was reported twice with the same result. One report counts.",
		SameMatchDiffers: "The match was reported twice, and the reports differ in the field named. The first counts until somebody decides.",
		SamePairingTwice: "The same sides stand twice in one round of one event.",
		NameNear:         "Two names are almost alike. They stay two people; perhaps one is misspelt.",
		NameTwoIDs:       "One name has two ids. They stay two people; perhaps it is one.",
		PairingMissing:   "In a round robin everybody meets as often as the rules say.",
		PairingTooOften:  "In a round robin everybody meets as often as the rules say.",
		IndexFull:        "Earlier matches were forgotten, so duplicates among them are not seen.",

		LogDiverges:      "The score does not follow from the rows. The findings of the repair say what most cheaply explains it.",
		OtherMatchRow:    "Rows that name another match were left out.",
		OutOfOrder:       "The row's number or time, or the score, shows that it belongs elsewhere.",
		DuplicateRow:     "A row repeats the one before it.",
		UndoRow:          "The scorer took a row back.",
		UndoImplied:      "The score steps back to what it was, without a row that says so.",
		WinnerInferred:   "The winner is not given but follows from the rest.",
		WinnerBlank:      "The winner is not given and does not follow from the rest.",
		WinnerWrong:      "The winner contradicts the score and the servers that follow.",
		ServerWrong:      "One row names a server who was not due, and the rows after it are right again.",
		ReceiverWrong:    "One row names a receiver who was not due.",
		CallWrong:        "The score called is not the score.",
		CallReversed:     "The receiving side's score was called first.",
		ScoreWrong:       "The score recorded in one row is not the score.",
		ScoreShifted:     "A point went to the wrong line and the sum was carried on.",
		RallyMissing:     "Rallies are missing here. In side-out scoring one missing second serve shows as every later server being wrong.",
		TailMissing:      "The rows stop before the final score.",
		RowExtra:         "Rows are too many, or a rally was replayed or a third server was given.",
		AfterEnd:         "Rallies were played after the game was won.",
		OrderSlipped:     "From here on other people serve or stand there than the order of service has it. One slip explains all the rows after it.",
		FoulMissing:      "A score moved in a way that only a penalty explains. Ask for the recorded foul.",
		FinalDiffers:     "The final does not follow from the rallies: a typing error, or the final of another game.",
		LogUnfinished:    "The game is not over where the rows end.",
		EventRefused:     "The event is not possible at that moment, such as a time-out with none left.",
		StartDiffers:     "Another side or player served first than is stated.",
		EndChangeMissing: "The log records end changes, but not this one.",
		GameNumberWrong:  "The row is filed under another game.",
		OtherScoring:     "The format of the log is probably wrong: it was scored by the other system.",
		Unexplained:      "The rows are too far from any match of this format: what explains them leaves most of them out, or there are too many of them.",

		SheetImpossible:   "No sequence of rallies leaves these marks.",
		SheetSeveral:      "The marks allow more than one state. The question named is the easiest that settles it.",
		SheetTurns:        "Side-outs without a point between them leave marks on one spot; how many there were does not change who serves.",
		SheetTimeOutScore: "A time-out is noted with the score of its moment, and the game never stood so.",
	},
}
