// Plays random logs and compares every answer with the library: "node test/compare.js COMPARE EVENTS SEED", COMPARE being the
// program of folder compare. It says how often each kind of event was taken, so that nobody mistakes a quiet run for agreement.
import {spawnSync} from 'node:child_process';
import {fileURLToPath} from 'node:url';
import {anyEntry, anyFormat, generator, ownFormat} from './random.js';

// The modules, or where it is wanted the file that is published in their place.
const {match, parseEvent} = await import(process.env.EVENCOURT_PUBLISHED ? '../dist/whole.js' : '../whole.js');

const fnv = (sum, text) => {
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193);
  return sum;
};

/** The sum of the answers to a log. */
export const sumOf = told => (told.reduce((sum, text) => fnv(sum, text + '\n'), 0x811c9dc5) >>> 0).toString(16).padStart(8, '0');

/** Answers a log as the library's side does. */
export function answers(format, first, servers, entries) {
  let m;
  try {
    m = match(format, {first, servers: servers || undefined});
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return ['no format'];
  }
  const waits = {};
  return [m.line(), ...entries.map(text => answer(m, typeof text === 'function' ? text(m) : text, waits)), screen(m), held(m)];
}

// What a screen draws in the end: where everybody stands, and the events that may come.
function screen(m) {
  const {hands, server, receiver, spots} = m.view('B'), told = spot => spot && [spot.person, spot.court, spot.hand, spot.depth || 'none'].join(' ');
  return [hands.join(' '), told(server), told(receiver), ...spots.map(told), ...m.allowed().sort()].join(';');
}

// What holds in the end, what can be taken back, which side is frozen, and the result.
function held(m) {
  const {cause, winner, games} = m.result();
  return [[m.undoable(), m.redoable(), m.rules.frozen(m.state, 0), m.rules.frozen(m.state, 1)].join(' '), ...m.holds().map(({n, event, effects}) => `${n} ${event} ${effects.join(',')}`),
    `${cause} ${winner || '-'}`, ...games.map(({score, how}) => `${score.join('-')} ${how}`)].join(';');
}

function answer(m, text, waits) { // what waits for a format that is to come is told by the log alone
  const clauses = parseEvent(text) && !waits.format && m.rules.apply(m.state, text).clauses;
  const {effects, refused, at} = m.do(text), by = clauses ? ` ${clauses[0] || '-'} ${clauses[1] || '-'}` : '';
  waits.format ||= !refused && / next /.test(text);
  return `${m.line()}\t${m.call()}\t${refused ? '!' + refused + (at ? '@' + at : '') : effects.join(',')}${by}`;
}

/** Compares random logs of so many events; returns the logs that differ, and how many events of each kind were taken. */
export function compare(program, events, seed) {
  const next = generator(seed), differ = [], kinds = {};
  let played = 0;
  while (played < events) {
    const logs = [], sums = [];
    for (let batch = 0; batch < 20000 && played < events;) {
      const format = next(15) ? anyFormat(next) : ownFormat(next), first = 'ABABABA-'[next(8)], servers = first !== '-' && next(4) && !/singles|tie-break-\d/.test(format) ? `A${1 + next(2)}B1` : '', entries = [];
      const length = 5 + next(next(4) ? 40 : 120), start = servers && first === 'B' ? 'B1' + servers.slice(0, 2) : servers;
      const told = answers(format, first, start, Array.from({length}, () => m => {
        const text = anyEntry(next, m);
        entries.push(text);
        return text;
      }));
      told.slice(1, -2).forEach((t, i) => {
        const word = entries[i].split(/[ ?:]/)[0].replace(/[AB][12]?/g, '');
        if (!t.includes('\t!')) kinds[word] = (kinds[word] || 0) + 1;
      });
      logs.push([format, first, start, ...entries]);
      sums.push(sumOf(told));
      batch += length;
      if (told.length > 1) played += length; // else it was no format
    }
    const {stdout} = spawnSync(program, {input: logs.map(log => JSON.stringify(['log', ...log]) + '\n').join(''), maxBuffer: 1 << 28});
    String(stdout).trim().split('\n').forEach((sum, i) => { if (sum !== sums[i]) differ.push(logs[i]); });
  }
  return {played, differ, kinds};
}

/** Finds the first entry at which a log is told otherwise. */
export function firstDifference(program, log) {
  const theirs = JSON.parse(spawnSync(program, {input: JSON.stringify(['tell', ...log]) + '\n'}).stdout), [format, first, servers, ...entries] = log;
  const ours = answers(format, first, servers, entries), at = ours.findIndex((text, i) => text !== theirs[i]);
  return {format, first, servers, entries: entries.slice(0, at), ours: ours[at], theirs: theirs[at], before: ours[at - 1]};
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [program, events, seed = '1'] = process.argv.slice(2), {played, differ, kinds} = compare(program, +events, +seed);
  console.log(`${played} events, ${differ.length} logs differ; taken: ${Object.entries(kinds).sort((a, b) => a[1] - b[1]).map(k => k.join(' ')).join(', ')}`);
  for (const log of differ.slice(0, 5)) console.log(firstDifference(program, log));
  process.exitCode = differ.length ? 1 : 0;
}
