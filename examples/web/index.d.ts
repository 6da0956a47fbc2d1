import type {Court, Effect, Edition, Mark, Person, Refusal, Shape, Side} from './names.js';
export * from './names.js';

/** The id of a format: SHAPE, SHAPE@EDITION, and what an event has of its own as +NAME=VALUE. */
export type Format = Shape | `${Shape}@${Edition}` | `${Shape}@${Edition}+${string}`;

/** The word of an event, or a correction with what it carries: 'A', 'B:net', 'tA', 'amend 3 B'. */
export type Entry = string;

/** A match at one moment. It never changes; keep it as it is. */
export type State = readonly number[] & {readonly state?: unique symbol};

/** What an entry did, or why it was refused and changed nothing. */
export interface Answer {
  effects: Effect[];
  refused?: Refusal;
  /** Number of the entry that stands against a correction; 0 for the new one. */
  at?: number;
  /** Clauses behind the refusal; of the whole only. */
  clauses?: string[];
}

/** Where everybody stands at the next serve. */
export interface Places {
  server: Person;
  /** Left out where either partner may receive. */
  receiver?: Person;
  /** '-' where the sport has no service courts. */
  court: Court | '-';
  receives: Court | '-';
  /** By side: who stands right and left; in singles the one player twice. */
  at: [[Person, Person], [Person, Person]];
  standing: [Court | '-', Court | '-'];
  /** Server number, 0 where the order has none. */
  number: 0 | 1 | 2;
}

/** Where one player stands, seen from the referee's post. */
export interface Spot { person: Person; court: Court | '-'; hand: 'left' | 'right'; depth: 'near' | 'far' | '' }

/** The court as the referee sees it. */
export interface View {
  hands: ['left' | 'right', 'left' | 'right'];
  playing: boolean;
  spots: Spot[];
  serving?: 'left' | 'right';
  server?: Spot;
  receiver?: Spot;
}

/** A reason, and what is known of it in the edition. */
export interface Ground { clause: string; rule?: string; mark?: Mark; setting?: true }

/** Why an event is refused, and what may come instead. */
export interface Explanation {
  event: Entry;
  refused?: Refusal;
  grounds: Ground[];
  allowed: Entry[];
  instead: Entry[];
  /** Call qualified help first. */
  help: boolean;
  effects?: Effect[];
}

/** A format made ready to play. */
export class Rules {
  readonly id: string;
  readonly editionName: Edition;
  readonly doubles: boolean;
  begin(first?: Side | '-'): State;
  /** With the clauses that decided; those only the whole has. */
  apply(state: State, event: Entry): {state: State; did: number; refused?: Refusal; clauses: string[]};
  /** Whether a clause is in force that is the reading of a switch; of the whole only. */
  takes(clause: string): boolean;
  call(state: State): string;
  line(state: State): string;
  view(state: State, left?: Side): View;
  allowed(state: State): Entry[];
  frozen(state: State, side: 0 | 1): boolean;
  /** Only where the rulings are loaded. */
  why(state: State, event: Entry): Explanation;
}

/** How a match begins. */
export interface Start {
  /** The side that serves first; left out while nobody has chosen. */
  first?: Side | '-';
  /** Starting servers, to open the first game with: 'A1B1'. */
  servers?: string;
  /** A canonical line at which the match is taken up; only where lines are loaded. */
  from?: string;
}

/** A match as the list of its entries. */
export class Match {
  readonly state: State;
  readonly rules: Rules;
  readonly length: number;
  do(entry: Entry): Answer;
  undo(): Answer;
  redo(): Answer;
  /** Says that entry n did not happen and event did; '-' strikes it. */
  amend(n: number, event: Entry, reason?: string): Answer;
  undoable(): number;
  redoable(): number;
  holds(): {n: number; event: Entry; effects: Effect[]}[];
  call(): string;
  line(): string;
  places(): Places | undefined;
  view(left?: Side): View;
  allowed(): Entry[];
  save(setup?: object): string;
  /** Only where the rulings are loaded. */
  why(event: Entry): Explanation;
  /** Only where results are loaded. */
  result(): {cause: string; winner?: Side; games: {score: [number, number]; how: string}[]};
}

/** Begins a match in a format. */
export function match(format: Format | Rules, start?: Start): Match;
/** Reads the record of a match; throws a SyntaxError with the line at fault. */
export function load(text: string): Match;
/** Makes a format ready; throws a RangeError for an id that is none. */
export function compile(id: Format): Rules;
/** Reads a line as a state of a format; undefined if it is none that the format can be in. Of the whole only. */
export function parseLine(rules: Rules, line: string): State | undefined;
