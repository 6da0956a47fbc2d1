// A match as the list of its entries: what was entered, in order, and every correction. Nothing is erased; the state is a fold
// over the entries that hold.
import {Rules, refuse, compile, parseEvent, part, named, SIDES, BEFORE, PLAY, BETWEEN, CLOSED, PHASE, GAME, GAME_WON,
  GAME_FORFEITED} from './core.js';

const MOST_NOTE = 400, MOST_LINE = 32768, MOST_ENTRIES = 20000, NO_CONTROL = /^[^\0-\x1f\x7f-\x9f\u2028\u2029]*$/;

export const malformed = () => refuse('malformed', 0, ['event-words']);

/** Reads the number of an entry. */
export const target = text => /^(0|[1-9]\d{0,4})$/.test(text) ? +text : malformed();

/** Reports whether a note can stand in an entry. */
export const isNote = note => NO_CONTROL.test(note) && bytes(note) <= MOST_NOTE;

// What a part that is loaded adds: corrections that the fold carries out, the readers of their entries, and the formats that wait.
Object.assign(part, {
  corrections: Object.create(null), // by kind: (fold, entry)
  entries: Object.create(null), // by word: (rest, text)
  after({state, ...v}, e) { // the version after an event, and what became of it
    const got = v.rules.apply(state, e);
    return {...got, to: {...v, state: got.state}};
  },
});
const later = ['rule', 'rewind', 'set', 'format'];

/** Reads the text of an entry: an event, or a correction with what it carries. */
function parseEntry(text) {
  const [word, ...rest] = String(text).split(' '), read = part.entries[word];
  if (read) return {kind: word, text, ...read(rest)};
  if (later.includes(word)) refuse('skipped');
  if ((word === 'undo' || word === 'redo') && !rest.length) return {kind: word, text};
  const event = parseEvent(text) || malformed();
  return {kind: event.kind, text, event};
}

part.entries.amend = ([n, what, ...notes]) => {
  const note = notes.join(' '), e = {target: target(n), note};
  if (what !== '-') e.event = parseEvent(what) || malformed();
  return notes.at(-1) === '' || !isNote(note) ? malformed() : e;
};

const bytes = text => new TextEncoder().encode(text).length;

/** A match: its rules, its entries, and what they leave. */
export class Match {
  /** Begins a match in a format at a state of it; times and names are its caller's to keep. */
  constructor(rules, state) {
    this.versions = [{state, rules}]; // that the log began with, and that each entry left when it was entered
    this.entries = [];
  }

  get now() { return this.versions.at(-1); }
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
      const {refused, at, clauses} = error;
      if (!refused) throw error;
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
    const correct = part.corrections[e.kind];
    if (!correct && !fixes[e.kind]) {
      const {to, did, refused, clauses} = part.after(this.now, e.event);
      if (refused) refuse(refused, 0, clauses);
      this.add(e, to);
      return did;
    }
    if (this.state[PHASE] === CLOSED && e.kind !== 'amend' && !(e.kind === 'redo' && this.redoable())) refuse('closed');
    if (!correct) return fixes[e.kind](this, e);
    const fold = new Fold(this, this.now, e.kind === 'format' || e.kind === 'set' ? [] : this.read());
    fold.steps.push(undefined);
    const {to, did = 0} = correct(fold, e);
    this.correct(e, to);
    return did;
  }

  add(e, to) {
    this.entries.push(e);
    this.versions.push(to);
  }

  // Adds a correction that leads to a version.
  correct(e, to) {
    if (part.lifts?.(this.state, to.state) && !(e.kind === 'amend' && e.note)) refuse('not-now');
    this.add(e, to);
  }

  // The last of the first n entries that is itself no undo or redo and was not taken back by one.
  top(n) { return this.entries[n - 1]?.top ?? n; }

  /** Returns the number of the entry that an undo would take back; 0 if there is none. */
  undoable() {
    const n = this.top(this.length);
    return n && this.state[PHASE] !== CLOSED && !part.lifts?.(this.state, this.versions[n - 1].state) ? n : 0;
  }

  /** Returns the number of the entry that a redo would bring back; 0 if there is none. */
  redoable() {
    const undo = this.entries.at(-1)?.redo, n = undo ? this.entries[undo - 1].target : 0;
    return this.state[PHASE] === CLOSED && n && this.entries[n - 1].kind !== 'amend' ? 0 : n;
  }

  // The entries as they read then, folded.
  fold(entries = this.entries) {
    const fold = new Fold(this, this.versions[0], []);
    live(entries).forEach((e, i) => {
      try {
        fold.take(e);
      } catch (error) {
        error.at = i + 1;
        throw error;
      }
    });
    return fold;
  }
  read() { return this.fold().steps; }

  /** Lists what holds: events in their order, as entered or as amended, with number and effects. */
  holds() {
    return this.read().filter(st => st?.holds && st.event).map(({n, event, did}) => ({n, event: event.text, effects: named(did)}));
  }

  call() { return this.rules.call(this.state); }
  line() { return this.rules.line(this.state); }
  view(left) { return this.rules.view(this.state, left); }
  allowed() { return this.rules.allowed(this.state); }

  /** Says where everybody stands at the next serve; undefined outside play. */
  places() { return this.state[PHASE] === PLAY ? this.rules.places(this.state) : undefined; }

  /** Writes the record of the match, in the text of the library's record files. */
  save(setup = {}) {
    const [{state, rules}] = this.versions, first = SIDES.find(side => same(rules.begin(side), state)), [shape, ...own] = rules.id.split('+');
    const header = {record: 2, format: [shape.includes('@') ? shape : `${shape}@${rules.editionName}`, ...own].join('+'),
      edition: rules.editionName, setup: {sides: [{players: [{}, {}]}, {players: [{}, {}]}], left: 'A', ...setup, first}};
    if (!first && !same(rules.begin(), state)) header.start = rules.line(state);
    const rows = [header, ...this.entries.map(({text}, i) => ({n: i + 1, do: text, line: this.versions[i + 1].rules.line(this.versions[i + 1].state)}))];
    let sum = none, text = '';
    for (const row of rows) {
      const line = sealed(JSON.stringify(row).slice(0, -1), sum);
      sum = sumOf(line);
      text += line + '\n';
    }
    return text;
  }
}

// Corrections that are told from the list of entries.
const fixes = {
  undo(m, e) {
    const n = m.top(m.length);
    if (!m.undoable()) refuse('not-now', n);
    m.add({...e, target: n, top: m.top(n - 1), redo: m.length + 1}, m.versions[n - 1]);
  },
  redo(m, e) {
    const n = m.redoable() || refuse('not-now'), undo = m.entries.at(-1).redo;
    m.add({...e, target: undo, top: n, redo: m.entries[undo - 2]?.redo}, m.versions[n]);
  },
  amend(m, e) { // later entries are folded again
    const n = e.target, was = m.entries[n - 1] || malformed();
    if (m.state[PHASE] === CLOSED && !e.note) refuse('closed');
    if (e.event && (fixes[was.kind] || part.corrections[was.kind])) refuse('log-only', n);
    const old = m.read();
    if (!old[n - 1]?.holds) refuse('not-now', n);
    const fold = m.fold([...m.entries, e]), elsewhere = fold.steps.findIndex((st, i) => strayed(old[i], st)) + 1;
    if (elsewhere) refuse('not-now', elsewhere);
    m.correct(e, fold.now);
  },
};

// What stands in the place of each entry: its own, what an amendment put there, or nothing if it was undone or struck. The
// latest correction of an entry that is itself live decides.
function live(entries) {
  const out = [...entries], decided = new Set();
  for (let i = out.length; i--;) {
    const {kind, target, event} = entries[i];
    if (!fixes[kind] || !out[i] || decided.has(target)) continue;
    decided.add(target);
    out[target - 1] = event && {...event, event};
  }
  return out;
}

/** Begins a match in a format: {first: 'A'} where it is settled who serves first, {servers: 'A1B1'} to open the first game. */
export function match(format, {first, servers, from} = {}) {
  const rules = format instanceof Rules ? format : compile(format);
  const m = new Match(rules, from ? part.parseLine ? part.parseLine(rules, from) || malformed() : refuse('skipped') : rules.begin(first));
  if (!servers) return m;
  const start = servers.startsWith(first) ? servers : servers.slice(2) + servers.slice(0, 2);
  const {to, refused} = part.after(m.now, parseEvent('g' + start));
  return refused ? refuse(refused) : new Match(rules, to.state);
}

/** Reads the record of a match. Text that is none, or that was changed, is refused with the number of its line. */
export function load(text) {
  const lines = String(text).split('\n'), bad = (n, reason) => { throw new SyntaxError(`evencourt: record: line ${n}: ${reason}`); };
  if (lines.pop() !== '' || !lines.length) bad(lines.length + 1, 'breaks off');
  if (lines.length > MOST_ENTRIES) bad(MOST_ENTRIES + 1, 'too many lines');
  let m, version, sum = none;
  lines.forEach((line, i) => {
    const n = i + 1;
    if (bytes(line) > MOST_LINE) bad(n, 'too long');
    let row;
    try {
      row = JSON.parse(line);
    } catch {}
    if (!row || typeof row !== 'object') bad(n, 'is no object');
    if (i === 0) {
      if (row.record !== 1 && row.record !== 2 || typeof row.format !== 'string') bad(n, 'is no header');
      m = match(row.format, {first: row.start ? undefined : row.setup?.first, from: row.start});
      version = row.record;
    }
    if (version === 2) {
      if (line !== sealed(line.slice(0, line.lastIndexOf(',"sum"')), sum)) bad(n, 'is not what was written');
      sum = sumOf(line);
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

// The sum of a line holds that of the line before.
const none = '00000000', sumOf = line => line.slice(-10, -2), sealed = (text, sum) => `${text},"sum":"${sum}${crc(sum + text)}"}`;

/** The CRC-32 (IEEE) of a text as eight hexadecimal digits. */
export function crc(text) {
  let c = -1;
  for (const byte of new TextEncoder().encode(text)) {
    c ^= byte;
    for (let k = 0; k < 8; k++) c = c >>> 1 ^ (c & 1 ? 0xedb88320 : 0);
  }
  return (~c >>> 0).toString(16).padStart(8, '0');
}

/** A log being read from its beginning. */
class Fold {
  constructor(log, now, steps) { Object.assign(this, {log, now, steps}); }

  // Reads the next entry, of which e is what stands in its place.
  take(e) {
    const n = this.steps.length + 1, before = this.now, correct = part.corrections[e?.kind];
    this.steps.push(undefined);
    if (!e) return;
    let got = {to: before};
    if (correct && before.state[PHASE] === CLOSED) refuse('closed'); // as the log reads now
    if (correct) got = correct(this, e);
    else if (!fixes[e.kind]) got = part.after(before, e.event);
    const {to, did = 0, refused, clauses} = got;
    if (refused) refuse(refused, 0, clauses);
    this.now = to;
    this.steps[n - 1] = {n, kind: e.kind, entry: e, event: correct || fixes[e.kind] ? undefined : e.event, before: before.state, after: to.state, back: to.state,
      rules: to.rules, did, holds: true, final: !correct && (did & (GAME_WON | GAME_FORFEITED)) !== 0};
  }
}

// Whether an entry has come to belong to another game or to another phase of it. What is repaired may, and a stated position
// or a repair belongs to none.
function strayed(was, is) {
  if (!was || !is || was.entry.text !== is.entry.text || was.kind === 'set' || fixes[was.kind]) return false;
  return phaseOf(was) !== phaseOf(is) || gameOf(was) !== gameOf(is);
}

const phaseOf = st => ['rally', 'replay', 'stop'].includes(st.kind) ? PLAY : st.before[PHASE];
const gameOf = st => st.before[GAME] + (st.before[PHASE] === BEFORE || st.before[PHASE] === BETWEEN);
