// A match as the list of its entries: what was entered, in order, and every correction. Nothing is erased; the state is a fold
// over the entries that hold.
import {Rules, Skipped, compile, parseEvent, part, named, SIDES, PERSONS, BEFORE, PLAY, BETWEEN, CLOSED, OUT, PHASE, GAME, USED,
  LAST_TIME_OUT, CHARGED, GAME_WON, GAME_FORFEITED, MATCH_FORFEITED} from './core.js';

const MOST_TARGET = 99999, MOST_NOTE = 400, MOST_LINE = 32768, MOST_ENTRIES = 20000, NO_CONTROL = /^[^\0-\x1f\x7f-\x9f\u2028\u2029]*$/;

/** A refused entry: the code, the number of the entry that stands against it (0 for the new one), and the clauses. */
class Refusal extends Error {
  constructor(refused, at = 0, clauses = []) {
    super(refused);
    Object.assign(this, {refused, at, clauses});
  }
}

export const refuse = (code, at, clauses) => { throw new Refusal(code, at, clauses); };
const malformed = () => refuse('malformed', 0, ['event-words']);

/** Reads the number of an entry. */
const target = text => /^(0|[1-9]\d{0,4})$/.test(text) && +text <= MOST_TARGET ? +text : malformed();

const isFix = kind => kind === 'undo' || kind === 'redo' || kind === 'amend';

/** Reads the text of an entry: an event, or a correction with what it carries. */
function parseEntry(text) {
  const [word, ...rest] = String(text).split(' '), bare = !rest.length;
  if (word === 'undo' || word === 'redo') return bare ? {kind: word, text} : malformed();
  if (word === 'amend' || word === 'rule') {
    const [n, what, ...notes] = rest, note = notes.join(' ');
    const e = {kind: word, text, target: target(n), note};
    if (what !== '-' || word === 'rule') e.event = parseEvent(what) || malformed();
    const noted = notes.length > 0;
    if (noted && (word === 'rule' || !note) || note.endsWith(' ') || !NO_CONTROL.test(note) || bytes(note) > MOST_NOTE) malformed();
    return ready(e);
  }
  if (word === 'rewind') return ready({kind: word, text, target: target(rest.join(' '))});
  if (word === 'set') return ready({kind: word, text, line: rest.join(' ')});
  if (word === 'format') {
    if (rest.length !== 3 || rest[1] !== 'now' && rest[1] !== 'next' || !rest[2] || !NO_CONTROL.test(rest[2]) || bytes(rest[2]) > MOST_NOTE) malformed();
    const e = ready({kind: word, text, next: rest[1] === 'next', note: rest[2]});
    try {
      e.rules = compile(rest[0]);
    } catch (error) {
      if (error instanceof Skipped) throw error;
      malformed();
    }
    return e;
  }
  const event = parseEvent(text) || malformed();
  return {kind: event.kind, text, event};
}

/** The corrections that a fold carries out belong to a part of their own. */
const ready = e => e.kind === 'amend' || part.corrections[e.kind] ? e : refuse('skipped');

const bytes = text => new TextEncoder().encode(text).length;

/** A match: its rules, its entries, and what they leave. */
export class Match {
  /** Begins a match in a format at a state of it; times and names are its caller's to keep. */
  constructor(rules, state) {
    this.versions = [{state, rules}]; // that the log began with, and that each entry left when it was entered
    this.entries = [];
  }

  get now() { return this.versions[this.versions.length - 1]; }
  /** The state now. */
  get state() { return this.now.state; }
  /** The rules in force now. */
  get rules() { return this.now.rules; }
  /** The number of entries, corrections included. */
  get length() { return this.entries.length; }

  /** Adds an entry given as text; returns what it did, or why it was refused and changed nothing. */
  do(text) {
    try {
      return {effects: named(this.enter(parseEntry(text)))};
    } catch (error) {
      if (error instanceof Skipped) return {effects: [], refused: 'skipped', at: 0, clauses: []};
      if (!(error instanceof Refusal)) throw error;
      const {refused, at, clauses} = error;
      return {effects: [], refused, at, clauses};
    }
  }

  /** Takes back the last entry that was not taken back. */
  undo() { return this.do('undo'); }
  /** Takes the last undo back, unless something was entered since. */
  redo() { return this.do('redo'); }
  /** Says that entry n did not happen and event did; an event of "-" strikes it. */
  amend(n, event, reason) { return this.do(`amend ${n} ${event}${reason ? ' ' + reason : ''}`); }

  enter(e) {
    if (e.event && !isFix(e.kind) && !part.corrections[e.kind]) {
      const {to, did, refused, clauses} = after(this.now, e.event);
      if (refused) refuse(refused, 0, clauses);
      this.add(e, to);
      return did;
    }
    const reopens = e.kind === 'amend' || e.kind === 'redo' && this.redoable();
    if (this.state[PHASE] === CLOSED && !reopens) refuse('closed');
    if (e.kind === 'undo') return this.takeBack();
    if (e.kind === 'redo') return this.bringBack();
    if (e.kind === 'amend') return this.repair(e);
    const fold = new Fold(this, this.now, e.kind === 'format' || e.kind === 'set' ? [] : this.read());
    fold.steps.push(undefined);
    const {to, did} = part.corrections[e.kind](fold, e);
    this.correct(e, to);
    return did || 0;
  }

  add(e, to) {
    this.entries.push(e);
    this.versions.push(to);
  }

  // Adds a correction that leads to a version.
  correct(e, to) {
    if (lifts(this.state, to.state) && !(e.kind === 'amend' && e.note)) refuse('not-now');
    this.add(e, to);
    return 0;
  }

  // The last of the first n entries that is itself no undo or redo and was not taken back by one.
  top(n) { return this.entries[n - 1]?.top ?? n; }

  /** Returns the number of the entry that an undo would take back; 0 if there is none. */
  undoable() {
    const n = this.top(this.length);
    return n && this.state[PHASE] !== CLOSED && !lifts(this.state, this.versions[n - 1].state) ? n : 0;
  }

  takeBack() {
    const n = this.top(this.length), to = n && this.versions[n - 1];
    if (!n) refuse('not-now');
    if (lifts(this.state, to.state)) refuse('not-now', n);
    this.add({kind: 'undo', text: 'undo', target: n, top: this.top(n - 1), redo: this.length + 1}, to);
    return 0;
  }

  /** Returns the number of the entry that a redo would bring back; 0 if there is none. */
  redoable() {
    const undo = this.entries[this.length - 1]?.redo, n = undo ? this.entries[undo - 1].target : 0;
    return this.state[PHASE] === CLOSED && n && this.entries[n - 1].kind !== 'amend' ? 0 : n;
  }

  bringBack() {
    const undo = this.entries[this.length - 1]?.redo || refuse('not-now'), n = this.entries[undo - 1].target;
    this.add({kind: 'redo', text: 'redo', target: undo, top: n, redo: this.entries[undo - 2]?.redo}, this.versions[n]);
    return 0;
  }

  // Repairs the record: later entries are folded again.
  repair(e) {
    const n = e.target, was = this.entries[n - 1] || malformed();
    if (this.state[PHASE] === CLOSED && !e.note) refuse('closed');
    if (e.event && (isFix(was.kind) || part.corrections[was.kind])) refuse('log-only', n);
    const old = this.read();
    if (!old[n - 1]?.holds) refuse('not-now', n);
    const trial = new Match();
    Object.assign(trial, {versions: this.versions, entries: [...this.entries, e]});
    const fold = new Fold(trial, this.versions[0], []);
    let elsewhere = 0; // the first entry that would belong elsewhere
    trial.live().forEach((now, i) => {
      try {
        fold.take(now);
      } catch (error) {
        if (error instanceof Refusal) error.at = i + 1;
        throw error;
      }
      if (!elsewhere && strayed(old[i], fold.steps[i])) elsewhere = i + 1;
    });
    if (elsewhere) refuse('not-now', elsewhere);
    return this.correct(e, fold.now);
  }

  // What stands in the place of each entry: its own, what an amendment put there, or nothing if it was undone or struck. The
  // latest correction of an entry that is itself live decides.
  live() {
    const out = [...this.entries], decided = new Set();
    for (let i = out.length - 1; i >= 0; i--) {
      const e = this.entries[i];
      if (!isFix(e.kind) || !out[i] || decided.has(e.target)) continue;
      decided.add(e.target);
      out[e.target - 1] = e.event && {kind: e.event.kind, text: e.event.text, event: e.event};
    }
    return out;
  }

  // The entries as they read now.
  read() {
    const fold = new Fold(this, this.versions[0], []);
    for (const e of this.live()) fold.take(e);
    return fold.steps;
  }

  /** Lists what holds: events in their order, as entered or as amended, with number and effects. */
  holds() {
    return this.read().filter(st => st?.holds && st.event).map(({n, event, did}) => ({n, event: event.text, effects: named(did)}));
  }

  call() { return this.rules.call(this.state); }
  line() { return this.rules.line(this.state); }
  view(left) { return this.rules.view(this.state, left); }
  allowed() { return this.rules.allowed(this.state); }

  /** Says where everybody stands at the next serve, by the ids of players; undefined outside play. */
  places() {
    if (this.state[PHASE] !== PLAY) return undefined;
    const p = this.rules.places(this.state), id = person => PERSONS[person], court = n => 'RL-'[n];
    return {server: id(p.server), receiver: p.any ? undefined : id(p.receiver), court: court(p.court), receives: court(p.receives),
      at: p.at.map(side => side.map(id)), standing: p.standing.map(court), number: p.number};
  }

  /** Writes the record of the match, in the text of the library's record files. */
  save(setup = {}) {
    const [{state, rules}] = this.versions, first = SIDES.find(side => same(rules.begin(side), state));
    const shape = rules.id.split('+')[0];
    const header = {record: 2, format: rules.id.includes('@') ? rules.id : rules.id.replace(shape, `${shape}@${rules.editionName}`),
      edition: rules.editionName, setup: {sides: [{players: [{}, {}]}, {players: [{}, {}]}], left: 'A', ...setup, first}};
    if (!first && !same(rules.begin(), state)) header.start = rules.line(state);
    const lines = [header, ...this.entries.map((e, i) => {
      const {state, rules} = this.versions[i + 1];
      return {n: i + 1, do: e.text, line: rules.line(state)};
    })];
    let sum = '00000000';
    return lines.map(line => {
      const text = JSON.stringify(line).slice(0, -1), own = crc(sum + text);
      const out = `${text},"sum":"${sum}${own}"}\n`;
      sum = own;
      return out;
    }).join('');
  }
}

/** Begins a match in a format: {first: 'A'} where it is settled who serves first, {servers: 'A1B1'} to open the first game. */
export function match(format, {first, servers, from} = {}) {
  const rules = format instanceof Rules ? format : compile(format);
  const m = new Match(rules, from ? part.parseLine?.(rules, from) || refuse('skipped') : rules.begin(first));
  if (!servers) return m;
  const start = servers.startsWith(first) ? servers : servers.slice(2) + servers.slice(0, 2);
  const {to, refused} = after(m.now, parseEvent('g' + start));
  return refused ? refuse(refused) : new Match(rules, to.state);
}

/** Reads the record of a match. Text that is none, or that was changed, is refused with the number of its line. */
export function load(text) {
  const lines = String(text).split('\n'), bad = (n, reason) => { throw new SyntaxError(`evencourt: record: line ${n}: ${reason}`); };
  if (lines.pop() !== '' || !lines.length) bad(lines.length + 1, 'breaks off');
  if (lines.length > MOST_ENTRIES) bad(MOST_ENTRIES + 1, 'too many lines');
  let m, sum = '00000000';
  lines.forEach((line, i) => {
    const n = i + 1;
    if (bytes(line) > MOST_LINE) bad(n, 'too long');
    let row;
    try {
      row = JSON.parse(line);
    } catch {
      bad(n, 'is no JSON');
    }
    if (!row || typeof row !== 'object') bad(n, 'is no object');
    if (i === 0) {
      if (row.record !== 1 && row.record !== 2 || typeof row.format !== 'string') bad(n, 'is no header');
      m = match(row.format, {first: row.start ? undefined : row.setup?.first, from: row.start});
      m.version = row.record;
    }
    if (m.version === 2) {
      const [, body, before, own] = line.match(/^(.*),"sum":"([0-9a-f]{8})([0-9a-f]{8})"\}$/s) || bad(n, 'has no checksum');
      if (before !== sum || own !== crc(before + body)) bad(n, 'is not what was written');
      sum = own;
    }
    if (i === 0 || row.setup) return;
    if (row.end === undefined) {
      if (row.n !== m.length + 1) bad(n, 'is not the next entry');
      const {refused} = m.do(row.do);
      if (refused) bad(n, refused);
    } else if (row.entries !== m.length) bad(n, 'counts other entries');
    if (row.line !== undefined && row.line !== m.line() && !(part.parseLine && same(part.parseLine(m.rules, row.line), m.state))) bad(n, 'is not what the entries lead to');
  });
  return m;
}

const same = (a, b) => a.every((v, i) => v === b[i]);

/** The CRC-32 (IEEE) of a text as eight hexadecimal digits. */
export function crc(text) {
  let c = -1;
  for (const byte of new TextEncoder().encode(text)) {
    c ^= byte;
    for (let k = 0; k < 8; k++) c = c >>> 1 ^ (c & 1 ? 0xedb88320 : 0);
  }
  return (~c >>> 0).toString(16).padStart(8, '0');
}

// Whether a suspected concussion would silently be lifted.
export const lifts = (from, to) => [0, 1, 2, 3].some(p => from[OUT + p] === 2 && to[OUT + p] !== 2);

/** Returns the version after an event. The entry that opens the coming game is the first under a format that waits. */
export function after(v, e) {
  let {state, rules, pending} = v, got = rules.apply(state, e);
  if (pending && state[PHASE] !== PLAY) {
    if (got.did & CHARGED) got = charged(rules, pending, state, e, got);
    const opens = e && (['rally', 'replay', 'stop', 'start-game'].includes(e.kind) ||
      (e.kind === 'late-arrival' ? got.did & (GAME_FORFEITED | MATCH_FORFEITED) : got.did & GAME_FORFEITED && got.state[GAME] > state[GAME]));
    if (opens) {
      state = part.opening(pending, state);
      rules = pending;
      pending = undefined;
      got = rules.apply(state, e);
    }
  }
  return {to: {state: got.state, rules, pending}, did: got.did, refused: got.refused, clauses: got.clauses};
}

// Counts a time-out for the coming game, which gives as many as the format has that comes into force with it.
function charged(rules, pending, state, e, got) {
  const at = USED + e.side, left = pending.coming(state).timeOuts - state[at] - 1;
  if (left >= 0) return {...got, did: left ? got.did & ~LAST_TIME_OUT : got.did | LAST_TIME_OUT};
  const none = state.slice();
  none[at] = rules.coming(state).timeOuts;
  const {state: next, ...rest} = rules.apply(none, e);
  if (next[PHASE] !== state[PHASE] || next[GAME] !== state[GAME]) return {...rest, state: next};
  const kept = next.slice();
  kept[at] = state[at];
  return {...rest, state: kept};
}

/** A log being read from its beginning. */
export class Fold {
  constructor(log, now, steps) { Object.assign(this, {log, now, steps}); }

  // Reads the next entry, of which e is what stands in its place.
  take(e) {
    const n = this.steps.length + 1, before = this.now;
    this.steps.push(undefined);
    if (!e) return;
    let to = before, did = 0;
    if (part.corrections[e.kind] && before.state[PHASE] === CLOSED) refuse('closed'); // as the log reads now
    if (part.corrections[e.kind]) ({to, did = 0} = part.corrections[e.kind](this, e));
    else if (!isFix(e.kind)) {
      const got = after(before, e.event);
      if (got.refused) refuse(got.refused, 0, got.clauses);
      ({to, did} = got);
    }
    this.now = to;
    this.steps[n - 1] = {n, kind: e.kind, entry: e, event: isFix(e.kind) || part.corrections[e.kind] ? undefined : e.event, before: before.state,
      after: to.state, back: to.state, rules: to.rules, did, holds: true, final: !part.corrections[e.kind] && (did & (GAME_WON | GAME_FORFEITED)) !== 0};
  }
}

// Whether an entry has come to belong to another game or to another phase of it. What is repaired may, and a stated position
// or a repair belongs to none.
function strayed(was, is) {
  if (!was || !is || was.entry.text !== is.entry.text || was.kind === 'set' || isFix(was.kind)) return false;
  return phaseOf(was) !== phaseOf(is) || gameOf(was) !== gameOf(is);
}

const phaseOf = st => ['rally', 'replay', 'stop'].includes(st.kind) ? PLAY : st.before[PHASE];
const gameOf = st => st.before[GAME] + (st.before[PHASE] === BEFORE || st.before[PHASE] === BETWEEN);
