// Rallies with an incident: the words after "?", and the ruling, from the state before the rally.
import rulings from './pack/rulings.js';
import {PHASE, ORDER, PUT, WARNINGS, FOULS, WRONG, DID, OVER, SECOND_SERVER, AGAIN, STANDS, OVERRULED, WARNED, FOULED, PUT_RIGHT, RECORDED,
  SIDES, part, parseEvent, score, count, clear, words, faults, WALK} from './core.js';
import {absent} from './breaks.js';
import {movePoint, warn} from './penalties.js';


const mistakes = words(rulings.mistakes), [reaches, sinces, stoppers] = [rulings.reaches, rulings.sinces, rulings.stoppers].map(words);
const [SIDE, SERVER, COURT, RECEIVER, RCOURT, CALL, STARTER, RSTARTER] = mistakes.map((_, i) => 1 << i);
export const STRUCK = 3, NEXT_SERVED = 2, OVERTAKEN = 3, GAME_OVER = 4;
const CALLED = 2, RETURNED = 4, THIRD = 5, AFTER_SHEET = 5, BY_REFEREE = 3;
const ORDER_MISTAKES = SERVER | COURT | RECEIVER | RCOURT | STARTER | RSTARTER;

// What each word says of an incident, in their order; of a sort each comes once.
const sorts = [...mistakes.map((w, n) => [w, i => { i.mistakes |= 1 << n; }, n]), ...mistakes.map((w, n) => ['~' + w, i => { i.claim = n; }, 20]),
  ['misled', i => { i.misled = true; }, 30], ...reaches.map((w, n) => [w, i => { i.reach = n; }, 40]), ...sinces.map((w, n) => [w, i => { i.since = n; }, 41]),
  ...stoppers.map((w, n) => [w, i => { i.stopper = n; }, 42]), ['asked', i => { i.asked = true; }, 50]].filter(([w]) => w !== '-');
const sortOf = new Map(sorts.map(sort => [sort[0], sort]));

// Reads the words of an incident.
function incidentOf(words) {
  const i = {mistakes: 0, claim: undefined, misled: false, reach: 0, since: 0, stopper: 0, asked: false};
  let at = -1;
  for (const word of words) {
    const [, says, n] = sortOf.get(word) || [];
    if (!says || n <= at) return;
    at = n;
    says(i);
  }
  return i;
}

part.parse = (text, events) => {
  const late = /^late([AB]):(0|[1-9]\d{0,4})$/.exec(text), at = String(text).indexOf('?');
  if (late && +late[2] <= 65535) return {kind: 'late-arrival', text, side: SIDES.indexOf(late[1]), seconds: +late[2]};
  if (at < 0) return;
  const base = text.slice(0, at), rally = events.get(base), incident = incidentOf(text.slice(at + 1).split(','));
  if (!incident) return;
  if (base === 'stop') return incident.since ? undefined : {kind: 'stop', text, incident};
  if (rally?.kind === 'rally' && (incident.mistakes || incident.claim !== undefined)) return {...rally, text, incident};
};

part.handlers.stop = part.handlers.rally;

part.more = ['stop?byref', 'lateA:0', 'lateB:0'].map(parseEvent);

const STAND = 0, REPLAY = 1, SERVERS = 2, RECEIVERS = 3;
export const pastServe = since => since === NEXT_SERVED || since === OVERTAKEN || since === AFTER_SHEET;

// How far a rally got for certain: one that ended by a fault of the serve never saw a return.
function reached(e) {
  const {reach} = e.incident, fault = faults[e.fault || 0];
  return reach || (fault === 'ten' || fault === 'absent' ? CALLED : ['foot', 'serve', 'short', 'early'].includes(fault) ? STRUCK : THIRD);
}

const {played} = part;
part.played = (r, s, e) => {
  const {incident} = e, faulted = s[PUT], no = absent(r, s, e);
  if (no || !incident) return no || played(r, s, e);
  if (e.kind === 'rally' || !incident.reach || incident.reach >= STRUCK) clear(s, PUT, WALK); // the next serve has come
  return ruled(r, s, e, faulted);
};

const ruled = (r, s, e, faulted) => {
  const i = e.incident, ended = e.kind === 'rally', serving = s[ORDER] & 1, reach = reached(e);
  const c = {r, i, serving, ended, reach, faulted, byPlayer: i.stopper > 0 && i.stopper < BY_REFEREE};
  if (r.takes('order-stands-warned') && ended && !pastServe(i.since) && (i.mistakes & (SERVER | SIDE)) === SERVER && reach >= STRUCK) return warned1999(r, s, e.side, serving);
  if (ended && i.since === GAME_OVER && r.takes('last-point-final')) {
    const trial = s.slice();
    trial[DID] |= STANDS;
    if (!refusedBy(score(r, trial, e.side)) && trial[PHASE] === OVER) {
      Object.assign(s, trial);
      return '- last-point-final';
    }
  }
  const [v, ...by] = verdict(c), why = '- ' + by.join(' '), gives = side => {
    const w = score(r, s, side);
    return refusedBy(w) ? w : why;
  };
  if (v === REPLAY || v === STAND && !ended) {
    s[DID] |= ended ? OVERRULED | AGAIN : AGAIN;
    return why;
  }
  if (v === STAND) {
    s[DID] |= STANDS;
    return gives(e.side);
  }
  const loser = v === SERVERS ? serving : 1 - serving;
  if (ended && e.side === loser) s[DID] |= OVERRULED;
  const out = gives(1 - loser);
  if (s[DID] & SECOND_SERVER && i.mistakes & (SERVER | COURT) && r.takes('order-fault')) {
    s[PUT] = 1;
    s[DID] |= PUT_RIGHT;
  }
  return out;
};

export const refusedBy = why => why && why[0] !== '-';

// 1999: a wrong server is counted, the rally stands and a warning is given; the second time a foul, whatever warnings stand.
// A match that the rally has won stays won.
function warned1999(r, s, winner, serving) {
  count(s, WRONG + serving, 3);
  const second = s[WRONG + serving] > 1;
  const played = s.slice();
  played[DID] |= STANDS;
  const why = score(r, played, winner), over = played[PHASE] === OVER;
  if (second && !over && !r.takes('second-offence-counts')) s[DID] |= OVERRULED;
  else if (refusedBy(why)) return why;
  else Object.assign(s, played);
  if (over) {
    s[DID] |= RECORDED | (second ? FOULED : WARNED);
    count(s, (second ? FOULS : WARNINGS) + serving, 7);
    return (second ? '- order-second-offence' : '- order-stands-warned') + ' won-stays-won';
  }
  if (second) {
    count(s, FOULS + serving, 7);
    s[DID] |= FOULED;
  }
  const cost = second ? movePoint(r, s, serving) : warn(r, s, serving);
  return refusedBy(cost) ? cost : second ? '- order-second-offence ' + (r.clause('second-offence') || '') : '- order-stands-warned';
}

// The verdict on a claim, and the clauses that decided.
function verdict(c) {
  const {r, i, ended} = c, t = clause => r.takes(clause);
  if (i.mistakes & SIDE) {
    if (!ended) return [REPLAY, 'wrong-side-stopped'];
    if (!t('late-side-annulled')) return [STAND, 'late-side-stands'];
    return [pastServe(i.since) ? STAND : REPLAY, 'late-side-annulled'];
  }
  if (aboutCall(c)) return wrongCall(c);
  if (t('order-fault')) return fault(c);
  const changed = starterFault(c);
  if (changed !== undefined) return [changed, 'starter-fault'];
  return t('order-replay') ? replayIfStopped(c) : corrected(c);
}

// Whether the ruling is about the score call: it misled the player who stopped, where the edition asks that, or nothing else was wrong.
function aboutCall({r, i, ended}) {
  if (i.misled && i.mistakes & CALL && !ended && r.takes('misled')) return true;
  if (i.mistakes & ORDER_MISTAKES) return false;
  const claimed = i.claim !== undefined && 1 << i.claim === CALL;
  return i.claim !== undefined && (ended || r.takes('order-replay')) ? claimed : i.mistakes & CALL || claimed;
}

// Where other errors of order are no faults, a starting server changed without notice still is one if the rules of an event say
// so: alone, until the next serve, and not where a stop is judged by what it claims.
function starterFault(c) {
  const {r, i, ended, reach} = c, wrong = i.mistakes & ~confirmed(c), judged = i.claim !== undefined && !ended && r.takes('order-replay');
  if (!r.takes('starter-fault') || i.mistakes & (SERVER | COURT | RECEIVER | RCOURT) || pastServe(i.since) || judged) return;
  if (wrong & STARTER && reach >= STRUCK) return SERVERS;
  if (wrong & RSTARTER && reach >= RETURNED) return RECEIVERS;
}

const stopperLoses = (c, ...by) => [c.i.stopper - 1 === c.serving ? SERVERS : RECEIVERS, ...by];

// 1999, but for a wrong server whose rally went to its end, and badminton: an error is put right when found.
function corrected(c) {
  const {r, i, ended, reach} = c, wrong = i.mistakes & ORDER_MISTAKES & ~(STARTER | RSTARTER);
  if (ended) return [STAND, i.mistakes & ORDER_MISTAKES ? 'order-stands' : 'nothing-wrong'];
  if (reach <= CALLED) return [REPLAY, 'before-strike'];
  if (wrong && r.takes('order-corrected')) return [REPLAY, 'order-corrected'];
  if (confirmed(c)) return [REPLAY, 'confirmed-mistake'];
  if (!c.byPlayer) return [REPLAY, 'referee-stopped-wrongly'];
  if (wrong) return [REPLAY, 'order-stands-warned'];
  const [window, inTime] = callInTime(c);
  return inTime ? [REPLAY, window] : stopperLoses(c, 'stopped-wrongly');
}

// A rally may be stopped for a wrong score until the edition's moment, and a wrong challenge is a fault.
function wrongCall(c) {
  const {r, i, ended, reach} = c, wrong = i.mistakes & CALL, [window, inTime] = callInTime(c), late = r.clause('late-score');
  if (ended) {
    if (!wrong) return [STAND, 'nothing-wrong'];
    if (late !== 'late-score-replay') return [STAND, late || 'late-score-stands'];
    if (!inTime) return [STAND, 'late-score-closed', window];
    return c.byPlayer ? [REPLAY, late, window] : [STAND, late]; // or nobody claims it
  }
  if (!c.byPlayer) return [REPLAY, 'score-call-by-referee'];
  if (reach <= CALLED) return [REPLAY, 'before-strike'];
  if (inTime) return [REPLAY, window];
  if (!wrong) return stopperLoses(c, 'score-was-right');
  if (!i.misled) return stopperLoses(c, 'score-was-right', window);
  return r.takes('misled') ? [REPLAY, 'misled'] : stopperLoses(c, 'not-misled', window);
}

// What closes the edition's window for a wrong call, and whether the call was wrong and that had not come.
function callInTime({r, i, reach}) {
  const window = r.clause('score-stop') || 'score-before-serve', last = {'score-before-return': STRUCK, 'score-before-third': RETURNED}[window] || CALLED;
  return [window, i.mistakes & CALL && reach <= last && !pastServe(i.since)];
}

// From about 2013 to mid-2023: the serving side's mistake ripens when the serve is struck, the receiving side's when the wrong
// player returns it, or by the edition already when it is struck.
function fault(c) {
  const {r, i, ended, reach} = c, t = clause => r.takes(clause), sure = confirmed(c), wrong = i.mistakes & ~sure;
  const starter = t('starter-fault'), servers = SERVER | COURT | (starter ? STARTER : 0), receivers = RECEIVER | RCOURT | (starter ? RSTARTER : 0);
  const lapse = wrong & servers && reach >= STRUCK, excused = lapse && c.faulted && t('fault-again-excused'), byServers = lapse && !excused;
  const struck = wrong & RECEIVER && reach >= STRUCK && t('receiver-at-strike'), byReceivers = wrong & receivers && reach >= RETURNED || struck;
  const [open, ...window] = windowOf(c), unlessEnded = v => ended ? STAND : v, of = mistakes => mistakes ? 'order-fault' : 'starter-fault';
  if (open && byServers && byReceivers) {
    return t('both-wrong-receivers') ? [RECEIVERS, 'both-wrong-receivers', ...window] : [SERVERS, 'both-wrong-servers', ...window];
  }
  if (open && byServers) return [SERVERS, c.faulted ? 'fault-again' : of(wrong & (SERVER | COURT)), ...window];
  if (open && byReceivers) {
    const by = struck ? 'receiver-at-strike' : wrong & RECEIVER ? 'receiver-at-return' : of(wrong & RCOURT);
    return [RECEIVERS, by, ...window];
  }
  if (excused) return [unlessEnded(REPLAY), 'fault-again-excused'];
  if (sure) return [unlessEnded(REPLAY), 'confirmed-mistake'];
  if (!ended && c.byPlayer && reach >= STRUCK) {
    const [score, inTime] = callInTime(c);
    return inTime ? [REPLAY, score] : stopperLoses(c, 'stopped-wrongly');
  }
  if (byServers || byReceivers) return [unlessEnded(REPLAY), ...window, 'order-fault']; // but the window has closed
  if (!ended) return [REPLAY, reach <= CALLED ? 'before-strike' : 'referee-stopped-wrongly'];
  const m = i.mistakes, starters = m & (STARTER | RSTARTER), order = m & ORDER_MISTAKES;
  if (reach <= CALLED && order) return [STAND, 'before-strike'];
  if (m & RECEIVER) return [STAND, 'receiver-at-return']; // which never came
  return [STAND, starters && starters === order ? r.clause('starter-notice') : 'nothing-wrong'];
}

// What was wrong though the referee had confirmed it when he was asked, as the edition let him: that mistake is his.
function confirmed({r, i}) {
  if (!i.asked) return 0;
  return r.takes('ask-anything') ? i.mistakes & ORDER_MISTAKES : r.takes('ask-server') ? i.mistakes & (SERVER | STARTER) : 0;
}

// Whether the edition still faults a mistake, by what is over since, and by which clause.
function windowOf({r, i}) {
  const by = r.clause('order-window') || 'order-stands';
  if (!i.since) return [true];
  if (by === 'window-overtaken') return [i.since !== OVERTAKEN && i.since !== AFTER_SHEET, by];
  return [by !== 'order-stands' && !pastServe(i.since), by];
}

// From mid-2023: a rally stopped for a real mistake is replayed, a player who stops without one loses it, and a rally that
// went to its end stands.
function replayIfStopped(c) {
  const {r, i, ended, reach} = c, real = i.mistakes & ORDER_MISTAKES;
  if (ended && i.mistakes & RECEIVER && reach >= RETURNED) {
    if (r.takes('late-receiver-fault')) return [pastServe(i.since) ? STAND : RECEIVERS, 'late-receiver-fault'];
    return r.takes('late-receiver-stands') ? [STAND, 'late-receiver-stands', 'order-stands'] : [STAND, 'order-stands'];
  }
  if (ended) return [STAND, real ? 'order-stands' : 'nothing-wrong'];
  if (reach <= CALLED) return [REPLAY, 'before-strike'];
  if (i.claim === undefined ? real : i.mistakes >> i.claim & 1) return [REPLAY, 'order-replay'];
  return c.byPlayer ? stopperLoses(c, 'stopped-wrongly') : [REPLAY, 'referee-stopped-wrongly'];
}
