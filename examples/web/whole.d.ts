import type {Cause, Effect, Mark, Refusal, Side} from './names.js';
import * as small from './index.js';
import type {Entry, Format, Start, State} from './index.js';
export * from './index.js';

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

/** The reportable result: the games played, and for what was forfeited or not played the conventional score. */
export interface Result {
  cause: Cause;
  winner?: Side;
  games: {score: [number, number]; how: 'played' | 'forfeited' | 'broken-off' | 'unfinished' | 'unplayed' | 'unknown'}[];
}

/** A format made ready to play. */
export class Rules extends small.Rules {
  /** Whether a clause is in force that is the reading of a switch. */
  takes(clause: string): boolean;
  why(state: State, event: Entry): Explanation;
}

/** A match as the list of its entries. */
export class Match extends small.Match {
  readonly rules: Rules;
  constructor(rules: Rules, state: State);
  why(event: Entry): Explanation;
  result(): Result;
}

/** Begins a match in a format. */
export function match(format: Format | Rules, start?: Start): Match;
/** Reads the record of a match; throws a SyntaxError with the line at fault. */
export function load(text: string): Match;
/** Makes a format ready; throws a RangeError for an id that is none. */
export function compile(id: Format): Rules;
/** Reads a line as a state of a format; undefined if it is none that the format can be in. */
export function parseLine(rules: Rules, line: string): State | undefined;
