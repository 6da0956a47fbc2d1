package audit

import (
	"slices"
	"sync"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally/words"
)

// FindingCode is the stable name of one kind of finding, such as "game-level". [FindingCodes]
// and CODES.md list them all.
type FindingCode string

// The codes. That of none is the only one with a name for other packages: what
// they know of the others is their text.
const (
	NoCode FindingCode = ""

	// Readers.
	rowUnreadable   FindingCode = "row-unreadable"
	fieldUnreadable FindingCode = "field-unreadable"
	scoreAsDate     FindingCode = "score-as-date"
	missingSpelled  FindingCode = "missing-spelled"
	formatUnknown   FindingCode = "format-unknown"

	// One game.
	gameLevel       FindingCode = "game-level"
	gameUnfinished  FindingCode = "game-unfinished"
	gameMargin      FindingCode = "game-margin"
	gameOverRun     FindingCode = "game-over-run"
	gamePenaltyOnly FindingCode = "game-penalty-only"
	gameNothing     FindingCode = "game-nothing"
	timeOutsTooMany FindingCode = "time-outs-too-many"

	// One match.
	matchEmpty        FindingCode = "match-empty"
	matchTooManyGames FindingCode = "match-too-many-games"
	matchExtraGame    FindingCode = "match-extra-game"
	matchUndecided    FindingCode = "match-undecided"
	matchTied         FindingCode = "match-tied"
	matchGameMissing  FindingCode = "match-game-missing"
	winnerDisagrees   FindingCode = "winner-disagrees"
	winnerMissing     FindingCode = "winner-missing"
	sidesMirrored     FindingCode = "sides-mirrored"
	targetOther       FindingCode = "target-other"
	playerBothSides   FindingCode = "player-both-sides"
	playerTwice       FindingCode = "player-twice"
	sidePlayers       FindingCode = "side-players"
	singleGameEvent   FindingCode = "single-game-event"

	// Matches that were not played out.
	statusGames          FindingCode = "status-games"
	statusWinner         FindingCode = "status-winner"
	retirementConvention FindingCode = "retirement-convention"
	retirementComplete   FindingCode = "retirement-complete"
	retirementBeforePlay FindingCode = "retirement-before-play"
	retirementUnmarked   FindingCode = "retirement-unmarked"
	forfeitConvention    FindingCode = "forfeit-convention"
	forfeitFullScore     FindingCode = "forfeit-full-score"
	byeOpponent          FindingCode = "bye-opponent"
	referenceMissing     FindingCode = "reference-missing"

	// Partial finals.
	partialChecked     FindingCode = "partial-checked"
	gamesWonImpossible FindingCode = "games-won-impossible"
	totalsImpossible   FindingCode = "totals-impossible"
	totalsDisagree     FindingCode = "totals-disagree"

	// A match of teams.
	roleMissing         FindingCode = "role-missing"
	roleUnknown         FindingCode = "role-unknown"
	roleTwice           FindingCode = "role-twice"
	rolePlayerTooOften  FindingCode = "role-player-too-often"
	tieBreakerMissing   FindingCode = "tie-breaker-missing"
	tieBreakerNeedless  FindingCode = "tie-breaker-needless"
	teamWinnerDisagrees FindingCode = "team-winner-disagrees"
	teamScoreDisagrees  FindingCode = "team-score-disagrees"
	teamUndecided       FindingCode = "team-undecided"
	teamPartUnfinished  FindingCode = "team-part-unfinished"

	// Matches against each other.
	sameMatchAgrees  FindingCode = "same-match-agrees"
	sameMatchDiffers FindingCode = "same-match-differs"
	samePairingTwice FindingCode = "same-pairing-twice"
	playerTwoMatches FindingCode = "player-two-matches"
	dateOutside      FindingCode = "date-outside"
	nameNear         FindingCode = "name-near"
	nameTwoIDs       FindingCode = "name-two-ids"
	pairingMissing   FindingCode = "pairing-missing"
	pairingTooOften  FindingCode = "pairing-too-often"
	indexFull        FindingCode = "index-full"

	// Logs.
	logDiverges      FindingCode = "log-diverges"
	otherMatchRow    FindingCode = "log-other-match"
	outOfOrder       FindingCode = "log-out-of-order"
	duplicateRow     FindingCode = "log-duplicate"
	undoRow          FindingCode = "log-undo"
	undoImplied      FindingCode = "log-undo-implied"
	winnerInferred   FindingCode = "log-winner-inferred"
	winnerBlank      FindingCode = "log-winner-blank"
	winnerWrong      FindingCode = "log-winner-wrong"
	serverWrong      FindingCode = "log-server-wrong"
	receiverWrong    FindingCode = "log-receiver-wrong"
	callWrong        FindingCode = "log-call-wrong"
	callReversed     FindingCode = "log-call-reversed"
	scoreWrong       FindingCode = "log-score-wrong"
	scoreShifted     FindingCode = "log-score-shifted"
	rallyMissing     FindingCode = "log-rally-missing"
	tailMissing      FindingCode = "log-tail-missing"
	rowExtra         FindingCode = "log-row-extra"
	afterEnd         FindingCode = "log-after-end"
	orderSlipped     FindingCode = "log-order-slipped"
	foulMissing      FindingCode = "log-foul-missing"
	finalDiffers     FindingCode = "log-final-differs"
	logUnfinished    FindingCode = "log-unfinished"
	eventRefused     FindingCode = "log-event-refused"
	startDiffers     FindingCode = "log-start-differs"
	endChangeMissing FindingCode = "log-end-change-missing"
	gameNumberWrong  FindingCode = "log-game-number"
	otherScoring     FindingCode = "log-other-scoring"
	unexplained      FindingCode = "log-unexplained"
	timeWrong        FindingCode = "log-time-wrong"
	wholeConvention  FindingCode = "log-convention"
	scoresMirrored   FindingCode = "log-scores-mirrored"

	// Sheets.
	sheetImpossible   FindingCode = "sheet-impossible"
	sheetSeveral      FindingCode = "sheet-several"
	sheetTurns        FindingCode = "sheet-turns"
	sheetTimeOutScore FindingCode = "sheet-time-out-score"
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
	code     FindingCode
	severity Severity
	clauses  []format.Clause
}

// byCode finds the row of a code.
var byCode = sync.OnceValue(func() map[FindingCode]*codeRow {
	out := make(map[FindingCode]*codeRow, len(codes))
	for i := range codes {
		out[codes[i].code] = &codes[i]
	}
	return out
})

// row returns what a code is; of an unknown one nothing.
func (c FindingCode) row() codeRow {
	if row := byCode()[c]; row != nil {
		return *row
	}
	return codeRow{}
}

// FindingCodes lists every code.
func FindingCodes() []FindingCode {
	out := make([]FindingCode, len(codes))
	for i := range codes {
		out[i] = codes[i].code
	}
	return out
}

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown codes.
func (c *FindingCode) UnmarshalText(text []byte) error {
	row := byCode()[FindingCode(text)]
	if row == nil {
		return &InputError{Field: "code", Reason: "unknown value " + quote(string(text))}
	}
	*c = row.code
	return nil
}

// Severity returns how much findings of this code matter; 0 for an unknown one.
func (c FindingCode) Severity() Severity { return c.row().severity }

// Clauses lists the rules that findings of this code rest on; in one edition
// the first that stands there.
func (c FindingCode) Clauses() []format.Clause { return slices.Clone(c.row().clauses) }

// Clause returns the rule that findings of this code rest on in an edition; of
// no edition, the first.
func (c FindingCode) Clause(e format.Edition) format.Clause {
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
func (c FindingCode) Meaning() words.Text { return words.New(words.Code("means." + c)) }

// NewFinding makes a finding of a code: with its severity and the clause that it
// rests on in the edition of the place. The arguments are those of its sentence.
func NewFinding(c FindingCode, p Place, args ...words.Arg) Finding {
	return Finding{Code: c, Severity: c.Severity(), Clause: c.Clause(p.Edition), Place: p, Args: args}
}
