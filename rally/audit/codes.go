package audit

import (
	"slices"
	"sync"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally/words"
)

// Code is the stable name of one kind of finding, such as "game-level". [Codes]
// and CODES.md list them all.
type Code string

// The codes. That of none is the only one with a name for other packages: what
// they know of the others is their text.
const (
	NoCode Code = ""

	// Readers.
	rowUnreadable   Code = "row-unreadable"
	fieldUnreadable Code = "field-unreadable"
	scoreAsDate     Code = "score-as-date"
	missingSpelled  Code = "missing-spelled"
	formatUnknown   Code = "format-unknown"

	// One game.
	gameLevel       Code = "game-level"
	gameUnfinished  Code = "game-unfinished"
	gameMargin      Code = "game-margin"
	gameOverRun     Code = "game-over-run"
	gamePenaltyOnly Code = "game-penalty-only"
	gameNothing     Code = "game-nothing"
	timeOutsTooMany Code = "time-outs-too-many"

	// One match.
	matchEmpty        Code = "match-empty"
	matchTooManyGames Code = "match-too-many-games"
	matchExtraGame    Code = "match-extra-game"
	matchUndecided    Code = "match-undecided"
	matchTied         Code = "match-tied"
	matchGameMissing  Code = "match-game-missing"
	winnerDisagrees   Code = "winner-disagrees"
	winnerMissing     Code = "winner-missing"
	sidesMirrored     Code = "sides-mirrored"
	targetOther       Code = "target-other"
	playerBothSides   Code = "player-both-sides"
	playerTwice       Code = "player-twice"
	sidePlayers       Code = "side-players"
	singleGameEvent   Code = "single-game-event"

	// Matches that were not played out.
	statusGames          Code = "status-games"
	statusWinner         Code = "status-winner"
	retirementConvention Code = "retirement-convention"
	retirementComplete   Code = "retirement-complete"
	retirementBeforePlay Code = "retirement-before-play"
	retirementUnmarked   Code = "retirement-unmarked"
	forfeitConvention    Code = "forfeit-convention"
	forfeitFullScore     Code = "forfeit-full-score"
	byeOpponent          Code = "bye-opponent"
	referenceMissing     Code = "reference-missing"

	// Partial finals.
	partialChecked     Code = "partial-checked"
	gamesWonImpossible Code = "games-won-impossible"
	totalsImpossible   Code = "totals-impossible"
	totalsDisagree     Code = "totals-disagree"

	// A match of teams.
	roleMissing         Code = "role-missing"
	roleUnknown         Code = "role-unknown"
	roleTwice           Code = "role-twice"
	rolePlayerTooOften  Code = "role-player-too-often"
	tieBreakerMissing   Code = "tie-breaker-missing"
	tieBreakerNeedless  Code = "tie-breaker-needless"
	teamWinnerDisagrees Code = "team-winner-disagrees"
	teamScoreDisagrees  Code = "team-score-disagrees"
	teamUndecided       Code = "team-undecided"
	teamPartUnfinished  Code = "team-part-unfinished"

	// Matches against each other.
	sameMatchAgrees  Code = "same-match-agrees"
	sameMatchDiffers Code = "same-match-differs"
	samePairingTwice Code = "same-pairing-twice"
	playerTwoMatches Code = "player-two-matches"
	dateOutside      Code = "date-outside"
	nameNear         Code = "name-near"
	nameTwoIDs       Code = "name-two-ids"
	pairingMissing   Code = "pairing-missing"
	pairingTooOften  Code = "pairing-too-often"
	indexFull        Code = "index-full"

	// Logs.
	logDiverges      Code = "log-diverges"
	otherMatchRow    Code = "log-other-match"
	outOfOrder       Code = "log-out-of-order"
	duplicateRow     Code = "log-duplicate"
	undoRow          Code = "log-undo"
	undoImplied      Code = "log-undo-implied"
	winnerInferred   Code = "log-winner-inferred"
	winnerBlank      Code = "log-winner-blank"
	winnerWrong      Code = "log-winner-wrong"
	serverWrong      Code = "log-server-wrong"
	receiverWrong    Code = "log-receiver-wrong"
	callWrong        Code = "log-call-wrong"
	callReversed     Code = "log-call-reversed"
	scoreWrong       Code = "log-score-wrong"
	scoreShifted     Code = "log-score-shifted"
	rallyMissing     Code = "log-rally-missing"
	tailMissing      Code = "log-tail-missing"
	rowExtra         Code = "log-row-extra"
	afterEnd         Code = "log-after-end"
	orderSlipped     Code = "log-order-slipped"
	foulMissing      Code = "log-foul-missing"
	finalDiffers     Code = "log-final-differs"
	logUnfinished    Code = "log-unfinished"
	eventRefused     Code = "log-event-refused"
	startDiffers     Code = "log-start-differs"
	endChangeMissing Code = "log-end-change-missing"
	gameNumberWrong  Code = "log-game-number"
	otherScoring     Code = "log-other-scoring"
	unexplained      Code = "log-unexplained"
	timeWrong        Code = "log-time-wrong"
	wholeConvention  Code = "log-convention"
	scoresMirrored   Code = "log-scores-mirrored"

	// Sheets.
	sheetImpossible   Code = "sheet-impossible"
	sheetSeveral      Code = "sheet-several"
	sheetTurns        Code = "sheet-turns"
	sheetTimeOutScore Code = "sheet-time-out-score"
)

// codes is all that a code is, but its words, which stand in the catalog as
// "finding.NAME" and "means.NAME": its name, how much it matters, and the clauses
// of which the first that stands in a match's edition is the one it rests on.
var codes = []codeRow{
	{rowUnreadable, Error, []format.Clause{clause.FileForm}},
	{fieldUnreadable, Error, []format.Clause{clause.FileForm}},
	{scoreAsDate, Error, []format.Clause{clause.DeskErrors}},
	{missingSpelled, Note, []format.Clause{clause.DeskErrors}},
	{formatUnknown, Error, []format.Clause{clause.FileForm}},
	{gameLevel, Error, []format.Clause{clause.GameWon}},
	{gameUnfinished, Error, []format.Clause{clause.GameWon}},
	{gameMargin, Error, []format.Clause{clause.GameWon}},
	{gameOverRun, Error, []format.Clause{clause.MatchOver}},
	{gamePenaltyOnly, Warning, []format.Clause{clause.FoulRemoves, clause.RemovedPointEndsNot}},
	{gameNothing, Error, []format.Clause{clause.Arithmetic}},
	{timeOutsTooMany, Error, []format.Clause{clause.TimeOutsTo7, clause.TimeOutsTo11, clause.TimeOutsTo15, clause.TimeOutsTo21}},
	{matchEmpty, Error, []format.Clause{clause.Arithmetic}},
	{matchTooManyGames, Error, []format.Clause{clause.MatchFormats}},
	{matchExtraGame, Error, []format.Clause{clause.MatchOver}},
	{matchUndecided, Error, []format.Clause{clause.MostGamesWin}},
	{matchTied, Warning, []format.Clause{clause.LocalRules}},
	{matchGameMissing, Error, []format.Clause{clause.Arithmetic}},
	{winnerDisagrees, Error, []format.Clause{clause.MostGamesWin}},
	{winnerMissing, Warning, []format.Clause{clause.MostGamesWin}},
	{sidesMirrored, Error, []format.Clause{clause.DeskErrors}},
	{targetOther, Error, []format.Clause{clause.MatchFormats}},
	{playerBothSides, Error, []format.Clause{clause.Arithmetic}},
	{playerTwice, Error, []format.Clause{clause.Arithmetic}},
	{sidePlayers, Error, []format.Clause{clause.Arithmetic}},
	{singleGameEvent, Warning, []format.Clause{clause.SingleGameEvents}},
	{statusGames, Error, []format.Clause{clause.Withdrawal}},
	{statusWinner, Error, []format.Clause{clause.Withdrawal}},
	{retirementConvention, Warning, []format.Clause{clause.RetirementNil, clause.RetirementKept}},
	{retirementComplete, Error, []format.Clause{clause.ForfeitEndsMatch}},
	{retirementBeforePlay, Error, []format.Clause{clause.RetirementWhen}},
	{retirementUnmarked, Warning, []format.Clause{clause.RetirementKept}},
	{forfeitConvention, Warning, []format.Clause{clause.ForfeitNil, clause.ForfeitKept}},
	{forfeitFullScore, Warning, []format.Clause{clause.ForfeitNil, clause.ForfeitKept}},
	{byeOpponent, Error, []format.Clause{clause.Bye}},
	{referenceMissing, Error, []format.Clause{clause.DeskErrors}},
	{partialChecked, Note, []format.Clause{clause.Arithmetic}},
	{gamesWonImpossible, Error, []format.Clause{clause.MostGamesWin}},
	{totalsImpossible, Error, []format.Clause{clause.Arithmetic}},
	{totalsDisagree, Error, []format.Clause{clause.Arithmetic}},
	{roleMissing, Error, []format.Clause{clause.TeamMatch}},
	{roleUnknown, Error, []format.Clause{clause.TeamMatch}},
	{roleTwice, Error, []format.Clause{clause.TeamMatch}},
	{rolePlayerTooOften, Error, []format.Clause{clause.TeamMatch}},
	{tieBreakerMissing, Error, []format.Clause{clause.TeamMatch}},
	{tieBreakerNeedless, Warning, []format.Clause{clause.TeamMatch}},
	{teamWinnerDisagrees, Error, []format.Clause{clause.TeamMatch}},
	{teamScoreDisagrees, Error, []format.Clause{clause.Arithmetic}},
	{teamUndecided, Error, []format.Clause{clause.TeamMatch}},
	{teamPartUnfinished, Error, []format.Clause{clause.TeamMatch}},
	{sameMatchAgrees, Note, []format.Clause{clause.DeskErrors}},
	{sameMatchDiffers, Error, []format.Clause{clause.DeskErrors}},
	{samePairingTwice, Warning, []format.Clause{clause.DeskErrors}},
	{playerTwoMatches, Warning, []format.Clause{clause.DeskErrors}},
	{dateOutside, Warning, []format.Clause{clause.DeskErrors}},
	{nameNear, Note, []format.Clause{clause.Identity}},
	{nameTwoIDs, Warning, []format.Clause{clause.Identity}},
	{pairingMissing, Warning, []format.Clause{clause.Standings}},
	{pairingTooOften, Warning, []format.Clause{clause.Standings}},
	{indexFull, Note, []format.Clause{clause.FileForm}},
	{logDiverges, Error, []format.Clause{clause.Arithmetic}},
	{otherMatchRow, Error, []format.Clause{clause.DeskErrors}},
	{outOfOrder, Warning, []format.Clause{clause.DeskErrors}},
	{duplicateRow, Warning, []format.Clause{clause.DeskErrors}},
	{undoRow, Note, []format.Clause{clause.DeskErrors}},
	{undoImplied, Warning, []format.Clause{clause.DeskErrors}},
	{winnerInferred, Note, []format.Clause{clause.Arithmetic}},
	{winnerBlank, Warning, []format.Clause{clause.Arithmetic}},
	{winnerWrong, Error, []format.Clause{clause.Arithmetic}},
	{serverWrong, Error, []format.Clause{clause.PlacesByScore}},
	{receiverWrong, Error, []format.Clause{clause.ReceiversStay}},
	{callWrong, Error, []format.Clause{clause.CallDoubles, clause.CallSingles, clause.CallRally}},
	{callReversed, Error, []format.Clause{clause.CallDoubles, clause.CallSingles, clause.CallRally}},
	{scoreWrong, Error, []format.Clause{clause.Arithmetic}},
	{scoreShifted, Error, []format.Clause{clause.DeskErrors}},
	{rallyMissing, Error, []format.Clause{clause.Arithmetic}},
	{tailMissing, Error, []format.Clause{clause.Arithmetic}},
	{rowExtra, Error, []format.Clause{clause.Arithmetic}},
	{afterEnd, Error, []format.Clause{clause.MatchOver}},
	{orderSlipped, Error, []format.Clause{clause.PlacesByScore}},
	{foulMissing, Error, []format.Clause{clause.FoulRemoves}},
	{finalDiffers, Error, []format.Clause{clause.Arithmetic}},
	{logUnfinished, Error, []format.Clause{clause.GameWon}},
	{eventRefused, Error, []format.Clause{clause.OneMoment}},
	{startDiffers, Error, []format.Clause{clause.StartPlace}},
	{endChangeMissing, Warning, []format.Clause{clause.EndChangeSingle, clause.EndChangeLast}},
	{gameNumberWrong, Error, []format.Clause{clause.Arithmetic}},
	{otherScoring, Error, []format.Clause{clause.Arithmetic}},
	{unexplained, Error, []format.Clause{clause.Arithmetic}},
	{timeWrong, Warning, []format.Clause{clause.DeskErrors}},
	{wholeConvention, Warning, []format.Clause{clause.DeskErrors}},
	{scoresMirrored, Error, []format.Clause{clause.DeskErrors}},
	{sheetImpossible, Error, []format.Clause{clause.PlacesByScore}},
	{sheetSeveral, Warning, []format.Clause{clause.Rebuild}},
	{sheetTurns, Note, []format.Clause{clause.PracticeMarks}},
	{sheetTimeOutScore, Error, []format.Clause{clause.PracticeMarks}},
}

type codeRow struct {
	code     Code
	severity Severity
	clauses  []format.Clause
}

// byCode finds the row of a code.
var byCode = sync.OnceValue(func() map[Code]*codeRow {
	out := make(map[Code]*codeRow, len(codes))
	for i := range codes {
		out[codes[i].code] = &codes[i]
	}
	return out
})

// row returns what a code is; of an unknown one nothing.
func (c Code) row() codeRow {
	if row := byCode()[c]; row != nil {
		return *row
	}
	return codeRow{}
}

// Codes lists every code.
func Codes() []Code {
	out := make([]Code, len(codes))
	for i := range codes {
		out[i] = codes[i].code
	}
	return out
}

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown codes.
func (c *Code) UnmarshalText(text []byte) error {
	row := byCode()[Code(text)]
	if row == nil {
		return &InputError{Field: "code", Reason: "unknown value " + quote(string(text))}
	}
	*c = row.code
	return nil
}

// Severity returns how much findings of this code matter; 0 for an unknown one.
func (c Code) Severity() Severity { return c.row().severity }

// Clauses lists the rules that findings of this code rest on; in one edition
// the first that stands there.
func (c Code) Clauses() []format.Clause { return slices.Clone(c.row().clauses) }

// Clause returns the rule that findings of this code rest on in an edition; of
// no edition, the first.
func (c Code) Clause(e format.Edition) format.Clause {
	rules := c.row().clauses
	for _, rule := range rules {
		if rule.In(e) {
			return rule
		}
	}
	if len(rules) == 0 {
		return clause.None
	}
	return rules[0]
}

// Meaning is what findings of this code mean and what to do about them.
func (c Code) Meaning() words.Text { return words.New(words.Code("means." + c)) }

// NewFinding makes a finding of a code: with its severity and the clause that it
// rests on in the edition of the place. The arguments are those of its sentence.
func NewFinding(c Code, p Place, args ...words.Arg) Finding {
	return Finding{Code: c, Severity: c.Severity(), Clause: c.Clause(p.Edition), Place: p, Args: args}
}
