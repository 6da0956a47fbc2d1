// What a board draws. Made from the Go types: go test ./rally -run SnapshotTypes -update


export interface Player {
  id?: string;
  name?: string;
  mark?: string;
}

export interface Team {
  name?: string;
  players: [Player, Player]; // the second is empty in singles
}
export type Side = "A" | "B";

export interface Setup {
  match?: string; // what the match is called
  court?: string; // where it is played
  referee?: string; // who officiates
  began?: string; // RFC 3339: from when the times of the log are counted
  sides: [Team, Team]; // A and B
  left: Side;
  first?: Side;
}
export type Phase = "before" | "play" | "between" | "over" | "closed";
export type ResultWord = "-" | "point" | "second-server" | "side-out";
export type Effects = string;
export type How = "played" | "forfeited" | "broken-off" | "unplayed" | "unfinished" | "unknown";

export interface GameScore {
  number: number;
  score: [number, number]; // A and B, in the order of entry, never winner first
  how: How;
  winner?: Side;
  by_penalty?: boolean;
}
export type Person = "A1" | "A2" | "B1" | "B2";
export type Court = "R" | "L" | "-";
export type Hand = "left" | "right";
export type Depth = "near" | "far" | "none";

export interface Spot {
  person: Person;
  court: Court;
  hand: Hand;
  depth: Depth;
}

export interface View {
  hands: [Hand, Hand]; // by side: on which hand it stands
  playing: boolean; // whether a serve is next; there is nothing more if not
  server?: Spot;
  receiver?: Spot; // nobody where either partner may
  spots?: Spot[]; // everybody, A first, right court first; by number where nobody has a court
}
export type Event = string;
export type Break = "-" | "t" | "m" | "eq" | "ref" | "blood" | "hazard" | "illness";
export type Interval = "none" | "time-out" | "medical" | "equipment" | "end-change" | "between-games";
export type KindSet = string;
export type Clause = string;

export interface Clock {
  interval: Interval;
  entry: number; // number of the entry that began it
  since: number; // elapsed milliseconds at which it began
  limit: number; // milliseconds allowed; 0 for a reasonable time
  remaining: number; // milliseconds left; negative when over
  notice_at: number; // elapsed milliseconds of the next notice; -1 for none
  asks: KindSet; // when it is over: kinds of events that say what follows
  clause: Clause;
}

export interface TimeOuts {
  used: number;
  left: number;
}
export type Medical = "unused" | "requested" | "used" | "granted";
export type Absence = "present" | "cannot-go-on" | "concussed";

export interface PenaltyCounts {
  verbal: number;
  warnings: number;
  fouls: number;
  forfeits: number;
}
export type Cause = "-" | "played" | "retired" | "withdrew" | "forfeited" | "double-forfeit" | "tied" | "abandoned";
export type Refusal = "-" | "malformed" | "log-only" | "closed" | "over" | "abandoned" | "no-such-player" | "not-in-edition" | "local-rule" | "not-started" | "not-in-play" | "in-play" | "no-first-server" | "first-settled" | "wrong-side-first" | "not-its-choice" | "undealt" | "awaiting-medical" | "in-break" | "no-break" | "none-left" | "medical-used" | "no-request" | "player-out" | "nobody-left" | "absent-due" | "not-due" | "not-fixed" | "not-now" | "second-verbal" | "out-of-window" | "most-points";

export interface Greyed {
  event: Event;
  why: Refusal;
}

export interface Snapshot {
  format: string; // id, or "" for a format that has none
  doubles: boolean; // or singles
  target: number; // points that win the game in play, or the last one
  win_by: number; // the margin that they need
  cap: number; // points that win by any margin; 0 for none
  games: number; // most games that can be played
  setup: Setup; // names and marks
  at: number; // elapsed milliseconds at which this holds; negative if nobody keeps time
  entries: number; // of the log: the next one has this number and one more
  line: string; // canonical line, from which a second device takes the match over
  phase: Phase;
  game: number; // number of the game in play, or of the last one; 0 before the first
  won: [number, number]; // games, A and B
  score: [number, number]; // points, A and B
  call: string; // score call; "" outside play
  result: ResultWord; // word for the last rally
  did: Effects; // what the last entry that holds did
  finals: GameScore[]; // of games that have ended, in their order
  serving?: Side; // in play only, as the four that follow
  server?: Person;
  number?: number; // of the server, where servers are numbered
  court?: Court; // from which he serves, where there are service courts
  receiver?: Person; // unless either partner may
  view: View; // ends, and who stands where
  game_point: [boolean, boolean]; // the next rally won wins the game
  match_point: [boolean, boolean]; // and with it the match
  frozen: [boolean, boolean]; // scores on own serve only, at this score
  ends_due: boolean; // the players have to change ends
  put_right: boolean; // the referee sees that the side is right before the next call
  absent_due?: Event; // to be entered first: a player who is out is due
  break: Break;
  break_of?: Person; // whose break; for a time-out any player of the side
  clock?: Clock; // that is running
  undo: string; // the entry that an undo would take back; "" for none
  redo: string; // the entry that a redo would bring again
  time_outs: [TimeOuts, TimeOuts];
  medical: [Medical, Medical, Medical, Medical]; // A1 A2 B1 B2
  absent: [Absence, Absence, Absence, Absence]; // A1 A2 B1 B2
  penalties: [PenaltyCounts, PenaltyCounts];
  outcome: Cause; // how the match ended
  winner?: Side;
  allowed: Event[]; // the very events that may come: see [Rules.Events]
  refused: Greyed[]; // the others that there is a button for, with the reason
}
