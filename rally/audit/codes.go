package audit

import (
	"slices"

	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/format/clause"
	"github.com/evencourt/evencourt/rally/words"
)

// Code is a stable name of one kind of finding. CODES.md lists them all.
type Code uint8

// The codes.
const (
	NoCode Code = iota

	// Readers.
	RowUnreadable
	FieldUnreadable
	ScoreAsDate
	MissingSpelled
	FormatUnknown

	// One game.
	GameLevel
	GameUnfinished
	GameMargin
	GameOverRun
	GamePenaltyOnly
	GameNothing
	TimeOutsTooMany

	// One match.
	MatchEmpty
	MatchTooManyGames
	MatchExtraGame
	MatchUndecided
	MatchTied
	MatchGameMissing
	WinnerDisagrees
	WinnerMissing
	SidesMirrored
	TargetOther
	PlayerBothSides
	PlayerTwice
	SidePlayers
	SingleGameEvent

	// Matches that were not played out.
	StatusGames
	StatusWinner
	RetirementConvention
	RetirementComplete
	RetirementBeforePlay
	RetirementUnmarked
	ForfeitConvention
	ForfeitFullScore
	ByeOpponent
	ReferenceMissing

	// Partial finals.
	PartialChecked
	GamesWonImpossible
	TotalsImpossible
	TotalsDisagree

	// A match of teams.
	RoleMissing
	RoleUnknown
	RoleTwice
	RolePlayerTooOften
	TieBreakerMissing
	TieBreakerNeedless
	TeamWinnerDisagrees
	TeamScoreDisagrees
	TeamUndecided
	TeamPartUnfinished

	// Matches against each other.
	SameMatchAgrees
	SameMatchDiffers
	SamePairingTwice
	PlayerTwoMatches
	DateOutside
	NameNear
	NameTwoIDs
	PairingMissing
	PairingTooOften
	IndexFull

	// Logs.
	LogDiverges
	OtherMatchRow
	OutOfOrder
	DuplicateRow
	UndoRow
	UndoImplied
	WinnerInferred
	WinnerBlank
	WinnerWrong
	ServerWrong
	ReceiverWrong
	CallWrong
	CallReversed
	ScoreWrong
	ScoreShifted
	RallyMissing
	TailMissing
	RowExtra
	AfterEnd
	OrderSlipped
	FoulMissing
	FinalDiffers
	LogUnfinished
	EventRefused
	StartDiffers
	EndChangeMissing
	GameNumberWrong
	OtherScoring
	Unexplained
	TimeWrong
	WholeConvention
	ScoresMirrored

	// Sheets.
	SheetImpossible
	SheetSeveral
	SheetTurns
	SheetTimeOutScore

	codeCount
)

// codes is all that a code is, but its words, which stand in the catalog as
// "finding.NAME" and "means.NAME": its name, how much it matters, and the clauses
// of which the first that stands in a match's edition is the one it rests on.
var codes = [codeCount]struct {
	name     string
	severity Severity
	clauses  []format.Clause
}{
	RowUnreadable:        {"row-unreadable", Error, []format.Clause{clause.FileForm}},
	FieldUnreadable:      {"field-unreadable", Error, []format.Clause{clause.FileForm}},
	ScoreAsDate:          {"score-as-date", Error, []format.Clause{clause.DeskErrors}},
	MissingSpelled:       {"missing-spelled", Note, []format.Clause{clause.DeskErrors}},
	FormatUnknown:        {"format-unknown", Error, []format.Clause{clause.FileForm}},
	GameLevel:            {"game-level", Error, []format.Clause{clause.GameWon}},
	GameUnfinished:       {"game-unfinished", Error, []format.Clause{clause.GameWon}},
	GameMargin:           {"game-margin", Error, []format.Clause{clause.GameWon}},
	GameOverRun:          {"game-over-run", Error, []format.Clause{clause.MatchOver}},
	GamePenaltyOnly:      {"game-penalty-only", Warning, []format.Clause{clause.FoulRemoves, clause.RemovedPointEndsNot}},
	GameNothing:          {"game-nothing", Error, []format.Clause{clause.Arithmetic}},
	TimeOutsTooMany:      {"time-outs-too-many", Error, []format.Clause{clause.TimeOutsTo7, clause.TimeOutsTo11, clause.TimeOutsTo15, clause.TimeOutsTo21}},
	MatchEmpty:           {"match-empty", Error, []format.Clause{clause.Arithmetic}},
	MatchTooManyGames:    {"match-too-many-games", Error, []format.Clause{clause.MatchFormats}},
	MatchExtraGame:       {"match-extra-game", Error, []format.Clause{clause.MatchOver}},
	MatchUndecided:       {"match-undecided", Error, []format.Clause{clause.MostGamesWin}},
	MatchTied:            {"match-tied", Warning, []format.Clause{clause.LocalRules}},
	MatchGameMissing:     {"match-game-missing", Error, []format.Clause{clause.Arithmetic}},
	WinnerDisagrees:      {"winner-disagrees", Error, []format.Clause{clause.MostGamesWin}},
	WinnerMissing:        {"winner-missing", Warning, []format.Clause{clause.MostGamesWin}},
	SidesMirrored:        {"sides-mirrored", Error, []format.Clause{clause.DeskErrors}},
	TargetOther:          {"target-other", Error, []format.Clause{clause.MatchFormats}},
	PlayerBothSides:      {"player-both-sides", Error, []format.Clause{clause.Arithmetic}},
	PlayerTwice:          {"player-twice", Error, []format.Clause{clause.Arithmetic}},
	SidePlayers:          {"side-players", Error, []format.Clause{clause.Arithmetic}},
	SingleGameEvent:      {"single-game-event", Warning, []format.Clause{clause.SingleGameEvents}},
	StatusGames:          {"status-games", Error, []format.Clause{clause.Withdrawal}},
	StatusWinner:         {"status-winner", Error, []format.Clause{clause.Withdrawal}},
	RetirementConvention: {"retirement-convention", Warning, []format.Clause{clause.RetirementNil, clause.RetirementKept}},
	RetirementComplete:   {"retirement-complete", Error, []format.Clause{clause.ForfeitEndsMatch}},
	RetirementBeforePlay: {"retirement-before-play", Error, []format.Clause{clause.RetirementWhen}},
	RetirementUnmarked:   {"retirement-unmarked", Warning, []format.Clause{clause.RetirementKept}},
	ForfeitConvention:    {"forfeit-convention", Warning, []format.Clause{clause.ForfeitNil, clause.ForfeitKept}},
	ForfeitFullScore:     {"forfeit-full-score", Warning, []format.Clause{clause.ForfeitNil, clause.ForfeitKept}},
	ByeOpponent:          {"bye-opponent", Error, []format.Clause{clause.Bye}},
	ReferenceMissing:     {"reference-missing", Error, []format.Clause{clause.DeskErrors}},
	PartialChecked:       {"partial-checked", Note, []format.Clause{clause.Arithmetic}},
	GamesWonImpossible:   {"games-won-impossible", Error, []format.Clause{clause.MostGamesWin}},
	TotalsImpossible:     {"totals-impossible", Error, []format.Clause{clause.Arithmetic}},
	TotalsDisagree:       {"totals-disagree", Error, []format.Clause{clause.Arithmetic}},
	RoleMissing:          {"role-missing", Error, []format.Clause{clause.TeamMatch}},
	RoleUnknown:          {"role-unknown", Error, []format.Clause{clause.TeamMatch}},
	RoleTwice:            {"role-twice", Error, []format.Clause{clause.TeamMatch}},
	RolePlayerTooOften:   {"role-player-too-often", Error, []format.Clause{clause.TeamMatch}},
	TieBreakerMissing:    {"tie-breaker-missing", Error, []format.Clause{clause.TeamMatch}},
	TieBreakerNeedless:   {"tie-breaker-needless", Warning, []format.Clause{clause.TeamMatch}},
	TeamWinnerDisagrees:  {"team-winner-disagrees", Error, []format.Clause{clause.TeamMatch}},
	TeamScoreDisagrees:   {"team-score-disagrees", Error, []format.Clause{clause.Arithmetic}},
	TeamUndecided:        {"team-undecided", Error, []format.Clause{clause.TeamMatch}},
	TeamPartUnfinished:   {"team-part-unfinished", Error, []format.Clause{clause.TeamMatch}},
	SameMatchAgrees:      {"same-match-agrees", Note, []format.Clause{clause.DeskErrors}},
	SameMatchDiffers:     {"same-match-differs", Error, []format.Clause{clause.DeskErrors}},
	SamePairingTwice:     {"same-pairing-twice", Warning, []format.Clause{clause.DeskErrors}},
	PlayerTwoMatches:     {"player-two-matches", Warning, []format.Clause{clause.DeskErrors}},
	DateOutside:          {"date-outside", Warning, []format.Clause{clause.DeskErrors}},
	NameNear:             {"name-near", Note, []format.Clause{clause.Identity}},
	NameTwoIDs:           {"name-two-ids", Warning, []format.Clause{clause.Identity}},
	PairingMissing:       {"pairing-missing", Warning, []format.Clause{clause.Standings}},
	PairingTooOften:      {"pairing-too-often", Warning, []format.Clause{clause.Standings}},
	IndexFull:            {"index-full", Note, []format.Clause{clause.FileForm}},
	LogDiverges:          {"log-diverges", Error, []format.Clause{clause.Arithmetic}},
	OtherMatchRow:        {"log-other-match", Error, []format.Clause{clause.DeskErrors}},
	OutOfOrder:           {"log-out-of-order", Warning, []format.Clause{clause.DeskErrors}},
	DuplicateRow:         {"log-duplicate", Warning, []format.Clause{clause.DeskErrors}},
	UndoRow:              {"log-undo", Note, []format.Clause{clause.DeskErrors}},
	UndoImplied:          {"log-undo-implied", Warning, []format.Clause{clause.DeskErrors}},
	WinnerInferred:       {"log-winner-inferred", Note, []format.Clause{clause.Arithmetic}},
	WinnerBlank:          {"log-winner-blank", Warning, []format.Clause{clause.Arithmetic}},
	WinnerWrong:          {"log-winner-wrong", Error, []format.Clause{clause.Arithmetic}},
	ServerWrong:          {"log-server-wrong", Error, []format.Clause{clause.PlacesByScore}},
	ReceiverWrong:        {"log-receiver-wrong", Error, []format.Clause{clause.ReceiversStay}},
	CallWrong:            {"log-call-wrong", Error, []format.Clause{clause.CallDoubles, clause.CallSingles, clause.CallRally}},
	CallReversed:         {"log-call-reversed", Error, []format.Clause{clause.CallDoubles, clause.CallSingles, clause.CallRally}},
	ScoreWrong:           {"log-score-wrong", Error, []format.Clause{clause.Arithmetic}},
	ScoreShifted:         {"log-score-shifted", Error, []format.Clause{clause.DeskErrors}},
	RallyMissing:         {"log-rally-missing", Error, []format.Clause{clause.Arithmetic}},
	TailMissing:          {"log-tail-missing", Error, []format.Clause{clause.Arithmetic}},
	RowExtra:             {"log-row-extra", Error, []format.Clause{clause.Arithmetic}},
	AfterEnd:             {"log-after-end", Error, []format.Clause{clause.MatchOver}},
	OrderSlipped:         {"log-order-slipped", Error, []format.Clause{clause.PlacesByScore}},
	FoulMissing:          {"log-foul-missing", Error, []format.Clause{clause.FoulRemoves}},
	FinalDiffers:         {"log-final-differs", Error, []format.Clause{clause.Arithmetic}},
	LogUnfinished:        {"log-unfinished", Error, []format.Clause{clause.GameWon}},
	EventRefused:         {"log-event-refused", Error, []format.Clause{clause.OneMoment}},
	StartDiffers:         {"log-start-differs", Error, []format.Clause{clause.StartPlace}},
	EndChangeMissing:     {"log-end-change-missing", Warning, []format.Clause{clause.EndChangeSingle, clause.EndChangeLast}},
	GameNumberWrong:      {"log-game-number", Error, []format.Clause{clause.Arithmetic}},
	OtherScoring:         {"log-other-scoring", Error, []format.Clause{clause.Arithmetic}},
	Unexplained:          {"log-unexplained", Error, []format.Clause{clause.Arithmetic}},
	TimeWrong:            {"log-time-wrong", Warning, []format.Clause{clause.DeskErrors}},
	WholeConvention:      {"log-convention", Warning, []format.Clause{clause.DeskErrors}},
	ScoresMirrored:       {"log-scores-mirrored", Error, []format.Clause{clause.DeskErrors}},
	SheetImpossible:      {"sheet-impossible", Error, []format.Clause{clause.PlacesByScore}},
	SheetSeveral:         {"sheet-several", Warning, []format.Clause{clause.Rebuild}},
	SheetTurns:           {"sheet-turns", Note, []format.Clause{clause.PracticeMarks}},
	SheetTimeOutScore:    {"sheet-time-out-score", Error, []format.Clause{clause.PracticeMarks}},
}

// String returns the text of the code.
func (c Code) String() string {
	if c >= codeCount {
		return "?"
	}
	return codes[c].name
}

// MarshalText implements encoding.TextMarshaler.
func (c Code) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (c *Code) UnmarshalText(text []byte) error {
	for i := Code(1); i < codeCount; i++ {
		if codes[i].name == string(text) {
			*c = i
			return nil
		}
	}
	return &InputError{Field: "code", Reason: "unknown value " + quote(text)}
}

// Codes lists every code.
func Codes() []Code {
	out := make([]Code, 0, codeCount-1)
	for c := Code(1); c < codeCount; c++ {
		out = append(out, c)
	}
	return out
}

// Severity returns how much findings of this code matter.
func (c Code) Severity() Severity {
	if c >= codeCount {
		return 0
	}
	return codes[c].severity
}

// Clauses lists the rules that findings of this code rest on; in one edition
// the first that stands there.
func (c Code) Clauses() []format.Clause {
	if c >= codeCount {
		return nil
	}
	return slices.Clone(codes[c].clauses)
}

// Clause returns the rule that findings of this code rest on in an edition; of
// no edition, the first.
func (c Code) Clause(e format.Edition) format.Clause {
	if c == NoCode || c >= codeCount {
		return clause.None
	}
	for _, rule := range codes[c].clauses {
		if rule.In(e) {
			return rule
		}
	}
	return codes[c].clauses[0]
}

// Meaning is what findings of this code mean and what to do about them.
func (c Code) Meaning() words.Text { return words.New(words.Code("means." + c.String())) }

// NewFinding makes a finding of a code: with its severity and the clause that it
// rests on in the edition of the place. The arguments are those of its sentence.
func NewFinding(c Code, p Place, args ...words.Arg) Finding {
	return Finding{Code: c, Severity: codes[c].severity, Clause: c.Clause(p.Edition), Place: p, Args: args}
}
