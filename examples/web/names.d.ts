// Generated from the library's names by go run ./conformance/cmd/publish; do not edit.

/** A team or player. */
export type Side = 'A' | 'B';

/** A player as entered for the whole match. */
export type Person = 'A1' | 'A2' | 'B1' | 'B2';

/** The right, even court or the left, odd one. */
export type Court = 'R' | 'L';

/** What is played. */
export type Shape = 'sideout-singles-11' | 'sideout-singles-11-of3' | 'sideout-singles-11-of5' | 'sideout-singles-15' | 'sideout-singles-15-of3' | 'sideout-singles-15-of5' | 'sideout-singles-21' | 'sideout-singles-21-of3' | 'sideout-singles-21-of5' | 'sideout-doubles-11' | 'sideout-doubles-11-of3' | 'sideout-doubles-11-of5' | 'sideout-doubles-15' | 'sideout-doubles-15-of3' | 'sideout-doubles-15-of5' | 'sideout-doubles-21' | 'sideout-doubles-21-of3' | 'sideout-doubles-21-of5' | 'rally-singles-7' | 'rally-singles-7-of3' | 'rally-singles-7-of5' | 'rally-singles-11' | 'rally-singles-11-of3' | 'rally-singles-11-of5' | 'rally-singles-15' | 'rally-singles-15-of3' | 'rally-singles-15-of5' | 'rally-singles-21' | 'rally-singles-21-of3' | 'rally-singles-21-of5' | 'rally-doubles-7' | 'rally-doubles-7-of3' | 'rally-doubles-7-of5' | 'rally-doubles-11' | 'rally-doubles-11-of3' | 'rally-doubles-11-of5' | 'rally-doubles-15' | 'rally-doubles-15-of3' | 'rally-doubles-15-of5' | 'rally-doubles-21' | 'rally-doubles-21-of3' | 'rally-doubles-21-of5' | 'fixed-doubles-21' | 'fixed-doubles-21-win-on-serve' | 'fixed-doubles-21-each-at-point' | 'fixed-doubles-21-leader-and-trailer' | 'fixed-doubles-21-both-at-point' | 'fixed-doubles-15-each-at-point' | 'fixed-doubles-25-win-on-serve' | 'swap-doubles-11' | 'half-court-singles-11' | 'badminton-singles-21-of3' | 'badminton-doubles-21-of3' | 'badminton-singles-15-of3' | 'badminton-doubles-15-of3' | 'table-tennis-singles-11' | 'table-tennis-singles-11-of3' | 'table-tennis-singles-11-of5' | 'table-tennis-singles-11-of7' | 'table-tennis-doubles-11' | 'table-tennis-doubles-11-of3' | 'table-tennis-doubles-11-of5' | 'table-tennis-doubles-11-of7' | 'table-tennis-singles-21' | 'table-tennis-singles-21-of3' | 'table-tennis-singles-21-of5' | 'tie-break-7' | 'tie-break-10' | 'tie-break-doubles-7' | 'tie-break-doubles-10' | 'beach-doubles-21-of3' | 'squash-doubles-11';

/** A rulebook in force. */
export type Edition = '1999' | '2013' | '2017' | '2018' | '2019' | '2020' | '2021' | '2022' | '2023' | '2023-08' | '2024' | '2025' | '2026' | 'badminton-2005' | 'badminton-2006' | 'badminton-2027' | 'table-tennis-2000' | 'table-tennis-2001' | 'tennis-2025' | 'beach-2025' | 'squash-doubles-2010';

/** A matter on which editions or readings differ. */
export type Switch = 'order-error' | 'order-window' | 'order-stop' | 'receiver-fault' | 'referee-corrects' | 'place-questions' | 'score-stop' | 'misled' | 'late-score' | 'late-receiver' | 'late-side' | 'both-wrong' | 'second-offence' | 'fault-again' | 'starter-notice' | 'opening-word' | 'defer' | 'early-serve' | 'time-outs-7' | 'time-outs-11' | 'time-outs-15' | 'time-outs-21' | 'time-out-deadline' | 'time-out-between' | 'time-out-seconds' | 'notice-seconds' | 'restart' | 'serve-seconds' | 'between-games-seconds' | 'between-matches-seconds' | 'end-change-seconds' | 'medical-seconds' | 'medical-clock' | 'medical-invalid' | 'medical-withdrawn' | 'medical-time-outs' | 'equipment-seconds' | 'foul-value' | 'warning-scope' | 'made-foul-counts' | 'two-fouls' | 'fouls-between' | 'warning-between' | 'carried-penalties' | 'pre-match-penalties' | 'awarded-point-wins' | 'removed-point-wins' | 'penalty-end-change' | 'fixed-court-foul' | 'swap-foul' | 'challenge-lost' | 'challenge-withdrawn' | 'challenge-last-rally' | 'retirement-score' | 'forfeit-score' | 'late-game-seconds' | 'late-match-seconds' | 'correctable' | 'tie-restart';

/** What sort of thing an event is. */
export type Kind = 'rally' | 'replay' | 'stop' | 'start-game' | 'ends-changed' | 'exchange' | 'time-out' | 'time-in' | 'equipment' | 'referee' | 'blood' | 'hazard' | 'illness' | 'dealt' | 'medical-request' | 'medical-valid' | 'medical-invalid' | 'medical-withdrawn' | 'help-arrived' | 'play-on-alone' | 'concussion' | 'verbal-warning' | 'technical-warning' | 'technical-foul' | 'carried-verbal' | 'carried-warning' | 'carried-foul' | 'same-verbal' | 'same-warning' | 'same-foul' | 'game-forfeit' | 'match-forfeit' | 'double-forfeit' | 'ejection' | 'expulsion' | 'late-arrival' | 'challenge-lost' | 'challenge-withdrawn' | 'first-choice' | 'retirement' | 'withdrawal' | 'abandon' | 'resume' | 'substitution' | 'sheet-returned' | 'undo' | 'redo' | 'amend' | 'rule' | 'rewind' | 'set' | 'format';

/** What an event did. */
export type Effect = 'point' | 'second-server' | 'side-out' | 'replay' | 'withheld' | 'stands' | 'overruled' | 'game-started' | 'game-won' | 'match-won' | 'ends-due' | 'ends-changed' | 'exchanged' | 'break' | 'time-in' | 'time-out-charged' | 'last-time-out' | 'medical-used' | 'warning' | 'foul' | 'verbal-warning' | 'penalty-point' | 'game-forfeit' | 'match-forfeit' | 'player-out' | 'help' | 'put-right' | 'recorded' | 'first-chosen' | 'closed';

/** Why an event was refused; skipped: by a part that is not loaded. */
export type Refusal = 'malformed' | 'log-only' | 'closed' | 'over' | 'abandoned' | 'no-such-player' | 'not-in-edition' | 'local-rule' | 'not-started' | 'not-in-play' | 'in-play' | 'no-first-server' | 'first-settled' | 'wrong-side-first' | 'not-its-choice' | 'undealt' | 'awaiting-medical' | 'in-break' | 'no-break' | 'none-left' | 'medical-used' | 'no-request' | 'player-out' | 'nobody-left' | 'absent-due' | 'not-due' | 'not-fixed' | 'not-now' | 'second-verbal' | 'out-of-window' | 'most-points' | 'skipped';

/** A fault that can be called. */
export type Fault = 'foot' | 'serve' | 'short' | 'early' | 'ten' | 'net' | 'out' | 'bounce' | 'nvz' | 'twice' | 'body' | 'touch' | 'plane' | 'receiver' | 'stopped' | 'timeout' | 'absent' | 'distract' | 'other';

/** How a match ended. */
export type Cause = '-' | 'played' | 'retired' | 'withdrew' | 'forfeited' | 'double-forfeit' | 'tied' | 'abandoned';

/** How well a clause is known. */
export type Mark = 'read' | 'paraphrase' | 'paraphrase-low' | 'common-practice' | 'derived' | 'memory' | 'open';
