'use strict';
// A scoring engine of its own, on the protocol of conformance/PROTOCOL.md:
//
//     node examples/peer-js/engine.js
//
// It was written from conformance/LINE.md, conformance/PROTOCOL.md and the
// published rules (USA Pickleball rulebooks 2018 to 2026 as quoted in the
// clauses of the corpus; league rules for fixed courts), to have somebody else
// to agree with. It needs nothing but Node.
//
// Plays: side-out singles and doubles, the rally option of 2025 and of 2026,
// fixed courts with every freeze; games, ends, time-outs and the sheet. It does
// not play medical time, penalties, incidents or corrections, and says so.

const crypto = require('node:crypto');
const readline = require('node:readline');

// ---- formats ------------------------------------------------------------

const EDITIONS = ['1999', '2013', '2017', '2018', '2019', '2020', '2021', '2022', '2023', '2023-08', '2024', '2025', '2026'];
const FREEZES = ['win-on-serve', 'each-at-point', 'leader-and-trailer', 'both-at-point'];

// formatOf takes an id apart; null for a format that this engine does not play.
function formatOf(id) {
  const m = /^(sideout|rally|fixed)-(singles|doubles)-(7|11|15|21|25)(?:-([a-z-]+?))?(?:-of([35]))?@([0-9-]+)$/.exec(id);
  if (!m || !EDITIONS.includes(m[6])) return null;
  const [, kind, players, target, freeze, games, edition] = m;
  const f = {
    kind, edition, doubles: players === 'doubles', target: Number(target), games: Number(games || 1), freeze: freeze || 'none',
    timeOutsBetween: edition >= '2019', // 10.F as paraphrased for 2019; not before
  };
  switch (kind) {
    case 'sideout':
      if (f.freeze !== 'none' || ![11, 15, 21].includes(f.target)) return null;
      break;
    case 'rally': // 12.B.1 of 2025: the winning point on own serve only; 14.A.2 of 2026: any rally wins
      if (f.freeze !== 'none' || f.target === 25 || edition < '2025') return null;
      if (edition === '2025') f.freeze = 'win-on-serve';
      break;
    case 'fixed':
      if (!f.doubles || f.games !== 1 || f.target < 21) return null;
      if (f.freeze !== 'none' && !FREEZES.includes(f.freeze)) return null;
      if (f.target === 25 && f.freeze !== 'win-on-serve') return null;
      break;
  }
  f.numbers = kind === 'sideout' && f.doubles; // two servers a turn
  f.timeOuts = f.target >= 21 ? 3 : 2; // 10.A: 2 to 11 and 15, 3 to 21
  f.midpoint = Math.ceil(f.target / 2); // 5.B.3 of 2025: 6 of 11, 8 of 15, 11 of 21
  return f;
}

const wins = (f, own, other) => own >= f.target && own >= other + 2;

// frozen says whether a side that won the rally as receivers gets no point.
function frozen(f, own, other) {
  const last = f.target - 1;
  switch (f.freeze) {
    case 'win-on-serve': return wins(f, own + 1, other);
    case 'each-at-point': return own >= last;
    case 'leader-and-trailer': return own >= last || (other >= last && own >= f.target - 3);
    case 'both-at-point': return own >= last || other >= last;
  }
  return false;
}

// ---- the line -----------------------------------------------------------

const FIELDS = ['game', 'won', 'score', 'opens', 'serve', 'receive', 'A', 'B', 'first', 'start', 'ends', 'due', 'phase', 'result',
  'break', 'timeouts', 'medical', 'out', 'vw', 'tw', 'tf', 'gf', 'wrong', 'carry'];
const UNPLAYED = ['medical', 'out', 'vw', 'tw', 'tf', 'gf', 'wrong', 'carry']; // carried along as text

class Skip extends Error {}

const pair = (text, by) => text.split(by).map(Number);

// A match is a plain object:
//   phase, game, won[2], score[2], opens[2], first (0, 1 or null), choice (a
//   first field such as "dA", or null), starters[2] or null, ends, made, due,
//   walk (partners may exchange until the next rally),
//   result, pause, used[2] and rest (fields carried along). In play also
//   right[2]: which partner stands right; court: 'R' or 'L' of the server;
//   side: who serves; turn: 1 or 2.
function readLine(f, line) {
  const words = line.split(' ');
  if (words.shift() !== 'L2' || words.length !== FIELDS.length) throw new Error('not a line L2');
  const v = {};
  words.forEach((w, i) => {
    const at = w.indexOf('=');
    if (w.slice(0, at) !== FIELDS[i]) throw new Error(`field ${FIELDS[i]} is missing`);
    v[FIELDS[i]] = w.slice(at + 1);
  });
  const unplayed = /[rxcg]/;
  if (unplayed.test(v.medical) || unplayed.test(v.out) || /^[me]/.test(v.break) || v.due.includes('p') || /ab|gf/.test(v.result)) {
    throw new Skip('the line has medical time, penalties or incidents in it');
  }
  const m = {
    phase: v.phase, game: Number(v.game), won: pair(v.won, ':'), score: pair(v.score, '-'), opens: pair(v.opens, ':'),
    first: 'AB'.indexOf(v.first), choice: null, starters: null, ends: Number(v.ends[0]), made: v.ends.endsWith('m'),
    due: v.due.includes('e'), walk: v.due.includes('x'), result: v.result, pause: v.break, used: pair(v.timeouts, ':'),
    rest: UNPLAYED.map((name) => `${name}=${v[name]}`).join(' '),
  };
  if (m.first < 0 || v.first === '-') {
    m.first = null;
    if (v.first !== '-') m.choice = v.first;
  }
  if (v.start !== '-') m.starters = [Number(v.start[1]), Number(v.start[3])];
  if (m.phase === 'play') {
    m.side = 'AB'.indexOf(v.serve[0]);
    m.court = v.serve[3];
    m.turn = v.serve[5] === '2' ? 2 : 1;
    m.right = [v.A, v.B].map((p) => (p[0] === '2' || p[0] === '-' ? 2 : 1));
    if (!f.doubles) m.right = [1, 1];
  }
  if (lineOf(f, m) !== line) throw new Error('the line cannot be of this format');
  return m;
}

// playerAt is the number of the partner of a side who stands in a court.
const playerAt = (m, side, court) => (court === 'R' ? m.right[side] : 3 - m.right[side]);

function lineOf(f, m) {
  const letters = 'AB';
  let serve = '-', receive = '-', places = ['--', '--'];
  if (m.phase === 'play') {
    const other = 1 - m.side;
    const number = f.numbers ? m.turn : '-';
    if (f.doubles) {
      serve = `${letters[m.side]}${playerAt(m, m.side, m.court)}@${m.court}#${number}`;
      receive = `${letters[other]}${playerAt(m, other, m.court)}`; // diagonal: the court of the same letter
      places = m.right.map((r) => (r === 1 ? '12' : '21'));
    } else {
      serve = `${letters[m.side]}1@${m.court}#-`;
      receive = `${letters[other]}1`;
      places = m.court === 'R' ? ['1-', '1-'] : ['-1', '-1'];
    }
  }
  const first = m.first === null ? m.choice || '-' : letters[m.first];
  const start = m.starters ? `A${m.starters[0]}B${m.starters[1]}` : '-';
  return `L2 game=${m.game} won=${m.won.join(':')} score=${m.score.join('-')} opens=${m.opens.join(':')} serve=${serve} receive=${receive} ` +
    `A=${places[0]} B=${places[1]} first=${first} start=${start} ends=${m.ends}${m.made ? 'm' : ''} due=${(m.due ? 'e' : '') + (m.walk ? 'x' : '') || '-'} phase=${m.phase} ` +
    `result=${m.result} break=${m.pause} timeouts=${m.used.join(':')} ${m.rest}`;
}

function callOf(f, m) {
  if (m.phase !== 'play') return '';
  const call = `${m.score[m.side]}-${m.score[1 - m.side]}`;
  return f.numbers ? `${call}-${m.turn}` : call;
}

// ---- the game -----------------------------------------------------------

const courtOf = (score) => (score % 2 === 0 ? 'R' : 'L');

function begin(f, start) {
  if (start.from) return readLine(f, start.from);
  const m = {
    phase: 'before', game: 0, won: [0, 0], score: [0, 0], opens: [0, 0], first: null, choice: null, starters: null, ends: 0,
    made: false, due: false, walk: false, result: '-', pause: '-', used: [0, 0],
    rest: 'medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----',
  };
  if (start.first !== '-') m.first = 'AB'.indexOf(start.first);
  if (start.servers) open(f, m, m.first, [Number(start.servers[1]), Number(start.servers[3])], new Set());
  return m;
}

// open starts the next game. Its opening turn has one server, number 2
// (4.B.6), who stands where his side's score puts him (4.B.2 of 2022).
function open(f, m, first, starters, did) {
  if (m.phase === 'between') m.ends = 1 - m.ends;
  endBreak(m, did);
  m.phase = 'play';
  m.game++;
  m.made = m.due = m.walk = false;
  m.score = m.opens;
  m.opens = [0, 0];
  m.result = '-';
  m.first = m.side = first;
  m.choice = null;
  m.starters = starters;
  m.turn = f.numbers ? 2 : 1;
  m.right = [0, 1].map((s) => (f.kind !== 'fixed' && m.score[s] % 2 === 1 ? 3 - starters[s] : starters[s]));
  if (!f.doubles) m.right = [1, 1];
  m.court = courtOf(m.score[first]);
  did.add('game-started');
}

function endBreak(m, did) {
  if (m.pause === '-') return;
  m.pause = '-';
  did.add('time-in');
}

// nextFirst is the side that serves first in the coming game; null if open.
const nextFirst = (m) => (m.phase === 'between' ? 1 - m.first : m.first);

function rally(f, m, winner, did) {
  const served = winner === m.side;
  let scored = served || f.kind !== 'sideout';
  if (!served && f.kind !== 'sideout' && frozen(f, m.score[winner], m.score[1 - winner])) {
    scored = false;
    did.add('withheld');
  }
  if (scored) {
    if (m.score[winner] === 255) return 'most-points';
    m.score = m.score.slice();
    m.score[winner]++;
    did.add('point');
    if (wins(f, m.score[winner], m.score[1 - winner])) {
      endGame(f, m, winner, did);
      return '';
    }
    // Partners change courts with a point of their own, but on fixed courts.
    if (f.doubles && f.kind !== 'fixed') m.right = m.right.map((r, s) => (s === winner ? 3 - r : r));
  }
  if (served) {
    // The same player serves on from the other court; on fixed courts the
    // court of the score decides who serves.
    m.court = f.kind === 'fixed' || !f.doubles ? courtOf(m.score[m.side]) : (m.court === 'R' ? 'L' : 'R');
  } else if (f.numbers && m.turn === 1) {
    m.turn = 2; // 4.B.6.d: the partner, from where he stands
    m.court = m.court === 'R' ? 'L' : 'R';
    did.add('second-server');
  } else {
    m.side = winner;
    m.turn = 1;
    // From the right in doubles (4.B.6.a: places follow the score, so whoever
    // stands there is due); under rally scoring, on fixed courts and in
    // singles from the court of the score.
    m.court = f.numbers || (f.kind === 'rally' && f.doubles) ? 'R' : courtOf(m.score[winner]);
    did.add('side-out');
  }
  // At the score or past it: a position may be given in which the change was missed.
  if (scored && m.game === f.games && m.score[winner] >= f.midpoint && !m.due && !m.made) {
    m.due = true;
    m.walk = f.kind === 'fixed';
    did.add('ends-due');
  }
  return '';
}

function endGame(f, m, winner, did) {
  m.won = m.won.slice();
  m.won[winner]++;
  m.used = [0, 0];
  m.due = m.walk = false;
  did.add('game-won');
  if (m.won[winner] * 2 > f.games) {
    m.phase = 'over';
    m.result = 'AB'[winner];
    m.opens = [0, 0];
    did.add('match-won');
    return;
  }
  m.phase = 'between';
}

// ---- events -------------------------------------------------------------

const EFFECTS = ['point', 'second-server', 'side-out', 'replay', 'withheld', 'game-started', 'game-won', 'match-won', 'ends-due',
  'ends-changed', 'exchanged', 'break', 'time-in', 'time-out-charged', 'last-time-out', 'help', 'recorded', 'first-chosen', 'closed'];
const FAULTS = new Set(['foot', 'serve', 'short', 'early', 'ten', 'net', 'out', 'bounce', 'nvz', 'twice', 'body', 'touch', 'plane',
  'receiver', 'stopped', 'timeout', 'absent', 'distract', 'other']);
const UNDEALT = ['blood', 'hazard', 'illness'];
// What LINE.md knows and this engine does not play.
const ELSEWHERE = /^(stop\?|[AB](:[a-z]+)?\?|m[AB][12][+\-w]?$|eq[AB][12]$|(ref|blood|hazard|illness|dealt)$|out[AB][12]$|c[AB][12]$|(vw|tw|tf)[AB]$|c[vwf][AB][12]=?$|gf[AB]$|mf[AB]$|dmf$|(ej|ex)[AB][12]$|late[AB]:|(lost|back)[AB]$|(ret|wd)[AB]$|(abandon|resume)$|sub[AB][12]$|(undo|redo)$|(amend|rule|rewind|set|format) )/;

// play returns the match after an event, or why it is refused. The match
// given is left as it was.
function play(f, match, event) {
  const m = { ...match };
  const did = new Set();
  const refused = change(f, m, event, did);
  if (refused) return { match, refused, effects: [] };
  return { match: m, refused: '', effects: EFFECTS.filter((e) => did.has(e)) };
}

function change(f, m, event, did) {
  const won = /^([AB])(?::([a-z]+))?$/.exec(event);
  const start = /^g([AB])([12])([AB])([12])$/.exec(event);
  const choice = /^fc([AB]):(serve|receive|end|defer)$/.exec(event);
  const timeOut = /^t([AB])$/.exec(event), exchange = /^x([AB])$/.exec(event);
  const known = (won && (!won[2] || FAULTS.has(won[2]))) || (start && start[1] !== start[3]) || choice || timeOut || exchange ||
    ['replay', 'ends', 'in', 'sheet'].includes(event);
  if (!known && !ELSEWHERE.test(event)) return 'malformed';
  if (m.phase === 'closed') return 'closed';
  if (m.phase === 'over' && event !== 'sheet') return 'over';
  if (!f.doubles && (start ? [start[2], start[4]].includes('2') : /^(m|eq|out|c|cv|cw|cf|ej|ex|sub)[AB]2/.test(event))) return 'no-such-player';
  if (!known) throw new Skip(`does not play ${event}`);
  const undealt = UNDEALT.includes(m.pause);
  if (won || event === 'replay') {
    if (m.phase !== 'play' && nextFirst(m) === null) return 'no-first-server';
    if (undealt) return 'undealt';
    endBreak(m, did);
    if (m.phase !== 'play') open(f, m, nextFirst(m), m.starters || [1, 1], did);
    m.walk = false;
    if (won) return rally(f, m, 'AB'.indexOf(won[1]), did);
    did.add('replay');
    return '';
  }
  if (start) {
    const side = 'AB'.indexOf(start[1]);
    if (m.phase === 'play') return 'in-play';
    if (nextFirst(m) !== null && nextFirst(m) !== side) return 'wrong-side-first';
    if (undealt) return 'undealt';
    const two = [Number(start[2]), Number(start[4])];
    open(f, m, side, side === 0 ? two : two.reverse(), did);
    return '';
  }
  if (choice) return choose(f, m, choice[1], choice[2], did);
  if (timeOut) {
    const side = 'AB'.indexOf(timeOut[1]);
    if (m.phase === 'between' && !f.timeOutsBetween) return 'not-in-edition';
    if (m.phase === 'before') return 'not-started';
    if (undealt) return 'undealt';
    if (m.pause !== '-' && m.pause[0] !== 't') return 'in-break';
    if (m.used[side] >= f.timeOuts) return 'none-left';
    m.used = m.used.slice();
    m.used[side]++;
    m.pause = event;
    did.add('break').add('time-out-charged');
    if (m.used[side] === f.timeOuts) did.add('last-time-out');
    return '';
  }
  if (exchange) {
    const side = 'AB'.indexOf(exchange[1]);
    if (m.phase === 'before') return 'not-started';
    if (f.kind !== 'fixed') return 'not-fixed';
    if (m.phase === 'play' && m.pause[0] !== 't' && !m.walk) return 'not-now';
    m.starters = m.starters.map((p, s) => (s === side ? 3 - p : p));
    if (m.phase === 'play') m.right = m.right.map((p, s) => (s === side ? 3 - p : p));
    did.add('exchanged');
    return '';
  }
  switch (event) {
    case 'in':
      if (undealt) return 'undealt';
      if (m.pause === '-') return 'no-break';
      endBreak(m, did);
      return '';
    case 'ends':
      if (m.phase !== 'play') return 'not-in-play';
      if (!m.due) return 'not-due';
      m.due = false;
      m.walk = f.kind === 'fixed';
      m.made = true;
      m.ends = 1 - m.ends;
      did.add('ends-changed');
      return '';
  }
  if (m.phase !== 'over') return 'not-now'; // the sheet
  m.phase = 'closed';
  did.add('closed');
  return '';
}

// choose takes a step of the first choice (5.A.1): who is left to choose
// serve or receive stands in the field first of the line.
function choose(f, m, letter, what, did) {
  if (m.phase === 'play') return 'in-play';
  if (m.phase !== 'before') return 'first-settled';
  if (what === 'defer' && f.edition < '2019') return 'not-in-edition';
  if (m.first !== null) return 'first-settled';
  if (m.choice && m.choice[1] === letter) return 'not-its-choice';
  if (m.choice && (what === 'defer' || (what === 'end' && m.choice[0] === 'e'))) return 'not-its-choice';
  did.add('recorded');
  if (what === 'defer' || what === 'end') {
    m.choice = (what === 'defer' ? 'd' : 'e') + letter;
    return '';
  }
  const side = 'AB'.indexOf(letter);
  m.first = what === 'serve' ? side : 1 - side;
  m.choice = null;
  did.add('first-chosen');
  return '';
}

// ---- the tree digest ----------------------------------------------------

// treeOf is the TREE digest of conformance/DIGESTS.md; equal lines are the
// same state, so every line is expanded once a depth.
function treeOf(f, match, alphabet, depth, known) {
  const line = lineOf(f, match);
  const key = `${depth} ${line}`;
  let digest = known.get(key);
  if (digest) return digest;
  let text = `${line}\n`;
  for (const event of depth > 0 ? alphabet : []) {
    const next = play(f, match, event);
    text += next.refused ? `${event} !\n` : `${event} ${treeOf(f, next.match, alphabet, depth - 1, known)}\n`;
  }
  digest = crypto.createHash('sha256').update(text).digest('hex');
  known.set(key, digest);
  return digest;
}

// ---- the protocol -------------------------------------------------------

const PROFILES = ['plumbing', 'sideout-singles', 'sideout-doubles', 'rally-2025', 'rally-2026', 'fixed-courts', 'match', 'time-outs'];

function answer(q) {
  if (q.cmd === 'start') {
    if (q.version !== 1) throw new Error(`speaks version 1 of the protocol, not ${q.version}`);
    return {
      version: 1,
      engine: { name: 'peer-js', version: '1.0.0', language: 'JavaScript' },
      commands: ['case', 'line', 'tree'],
    };
  }
  if (q.cmd === 'profile') {
    const formats = PROFILES.includes(q.profile) ? q.formats.filter(formatOf) : [];
    if (formats.length === 0) throw new Skip('not played');
    return { formats };
  }
  if (q.cmd === 'stop') return {};
  if (!['case', 'line', 'tree'].includes(q.cmd)) throw new Error(`unknown command ${q.cmd}`);
  const f = formatOf(q.format);
  if (!f) throw new Skip(`does not play ${q.format}`);
  let match = begin(f, q.start);
  const answers = [{ line: lineOf(f, match), call: callOf(f, match), effects: [] }];
  let at = 0;
  for (const event of q.events || []) {
    at++;
    const next = play(f, match, event);
    match = next.match;
    if (q.cmd !== 'case' && next.refused) {
      if (q.cmd === 'tree') throw new Error(`event ${at} is refused: ${next.refused}`);
      return { refused: next.refused, at };
    }
    const a = { line: lineOf(f, match), call: callOf(f, match), effects: next.effects };
    if (next.refused) a.refused = next.refused;
    answers.push(a);
  }
  if (q.cmd === 'case') return { answers };
  if (q.cmd === 'line') return { line: lineOf(f, match) };
  return { digest: treeOf(f, match, q.alphabet, q.depth, new Map()) };
}

if (require.main === module) {
  readline.createInterface({ input: process.stdin }).on('line', (text) => {
    if (text.trim() === '') return;
    let q = { seq: 0 }, reply;
    try {
      q = JSON.parse(text);
      reply = { seq: q.seq, result: answer(q) };
    } catch (e) {
      const message = String(e.message);
      reply = e instanceof Skip ? { seq: q.seq, skipped: { reason: message } } : { seq: q.seq || 0, errored: { message } };
    }
    process.stdout.write(`${JSON.stringify(reply)}\n`);
    if (q.cmd === 'stop') process.exit(0);
  });
}

module.exports = { formatOf, begin, play, lineOf, callOf, treeOf };
