import type {Format, Entry, Side} from './index.js';

/** A question with its short answers, or the entry that the answers come to. */
export type Step =
  | {done: false; question: string; replies: {key: string; text: string}[]}
  | {done: true; entry: Entry; changes: string[]};

/** A match in words. */
export interface Words {
  do(entry: Entry): string[];
  call(): string;
  server(): string;
  line(): string;
  duties(): string[];
  event(text: Entry): string;
  refusal(text: Entry): string[];
  guided(topic: 'wrong' | 'medical' | 'penalty' | 'correct', ...answers: string[]): Step;
}

/** Begins a match in words: bytes are words.wasm, with Go's wasm_exec.js loaded before. */
export function words(bytes: BufferSource, format: Format, start?: {first?: Side | '-'}): Promise<Words>;
/** Returns what checks a reported result: bytes are audit.wasm. */
export function audit(bytes: BufferSource): Promise<(result: object) => {code: string; text: string}[]>;
