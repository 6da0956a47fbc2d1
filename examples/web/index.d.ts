import type {Court, Effect, Edition, Kind, Person, Refusal, Shape, Side} from './names.js';
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
  /** Clauses behind the refusal; none in the small part. */
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

/** An event as read from its word. */
export interface Event {
  /** Empty where the part that plays it is not loaded. */
  readonly kind: Kind | '';
  readonly text: Entry;
  readonly side?: 0 | 1;
  /** From A1 to B2. */
  readonly person?: 0 | 1 | 2 | 3;
}

/** A format made ready to play. */
export class Rules {
  readonly id: string;
  readonly editionName: Edition;
  readonly doubles: boolean;
  constructor(id: Format);
  begin(first?: Side | '-'): State;
  /** What did is a set of bits, in the order of Effect; clauses are those that decided, none in the small part. */
  apply(state: State, event: Entry | Event): {state: State; did: number; refused?: Refusal; clauses: string[]};
  call(state: State): string;
  line(state: State): string;
  view(state: State, left?: Side): View;
  allowed(state: State): Entry[];
  /** Whether a side would be refused the point of a rally that it won as receivers. */
  frozen(state: State, side: 0 | 1): boolean;
  /** Where everybody stands at the next serve; of a state in play. */
  places(state: State): Places;
}

/** How a match begins. */
export interface Start {
  /** The side that serves first; left out while nobody has chosen. */
  first?: Side | '-';
  /** Starting servers, to open the first game with: 'A1B1'. */
  servers?: string;
  /** A canonical line at which the match is taken up; the small part reads none. */
  from?: string;
}

/** A match as the list of its entries. */
export class Match {
  readonly state: State;
  readonly rules: Rules;
  readonly length: number;
  constructor(rules: Rules, state: State);
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
}

/** Begins a match in a format. */
export function match(format: Format | Rules, start?: Start): Match;
/** Reads the record of a match; throws a SyntaxError with the line at fault. */
export function load(text: string): Match;
/** Makes a format ready; throws a RangeError for an id that is none. */
export function compile(id: Format): Rules;
/** Reads the word of an event; undefined if it is none. */
export function parseEvent(text: Entry): Event | undefined;
