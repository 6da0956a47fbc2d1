package audit

// Code is a stable name of one kind of finding. CODES.md lists them all.
type Code uint8

// The codes of readers.
const (
	NoCode Code = iota
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

	// Sheets.
	SheetImpossible
	SheetSeveral
	SheetTurns
	SheetTimeOutScore

	codeCount
)

// codeNames are the texts of the codes, in the order of their values.
var codeNames = []string{"",
	"row-unreadable", "field-unreadable", "score-as-date", "missing-spelled", "format-unknown",
	"game-level", "game-unfinished", "game-margin", "game-over-run", "game-penalty-only", "game-nothing", "time-outs-too-many",
	"match-empty", "match-too-many-games", "match-extra-game", "match-undecided", "match-tied", "match-game-missing",
	"winner-disagrees", "winner-missing", "sides-mirrored", "target-other", "player-both-sides", "player-twice",
	"side-players", "single-game-event",
	"status-games", "status-winner", "retirement-convention", "retirement-complete", "retirement-before-play",
	"retirement-unmarked", "forfeit-convention", "forfeit-full-score", "bye-opponent", "reference-missing",
	"partial-checked", "games-won-impossible", "totals-impossible", "totals-disagree",
	"role-missing", "role-unknown", "role-twice", "role-player-too-often", "tie-breaker-missing", "tie-breaker-needless",
	"team-winner-disagrees", "team-score-disagrees", "team-undecided", "team-part-unfinished",
	"same-match-agrees", "same-match-differs", "same-pairing-twice", "name-near", "name-two-ids", "pairing-missing",
	"pairing-too-often", "index-full",
	"log-diverges", "log-other-match", "log-out-of-order", "log-duplicate", "log-undo", "log-undo-implied", "log-winner-inferred",
	"log-winner-blank", "log-winner-wrong", "log-server-wrong", "log-receiver-wrong", "log-call-wrong", "log-call-reversed",
	"log-score-wrong", "log-score-shifted", "log-rally-missing", "log-tail-missing", "log-row-extra", "log-after-end",
	"log-order-slipped", "log-foul-missing", "log-final-differs", "log-unfinished", "log-event-refused", "log-start-differs",
	"log-end-change-missing", "log-game-number", "log-other-scoring", "log-unexplained",
	"sheet-impossible", "sheet-several", "sheet-turns", "sheet-time-out-score",
}

// String returns the text of the code.
func (c Code) String() string { return nameOf(codeNames, c) }

// MarshalText implements encoding.TextMarshaler.
func (c Code) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (c *Code) UnmarshalText(text []byte) error { return unmarshal(codeNames, "code", text, c) }

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
	return about[c].severity
}

// Rule returns the clause or practice that a code rests on.
func (c Code) Rule() string {
	if c >= codeCount {
		return ""
	}
	return about[c].rule
}

// found makes a finding with the severity of its code.
func found(c Code, p Place, a Args) Finding { return Finding{c, about[c].severity, p, a} }
