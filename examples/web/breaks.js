// Breaks of the referee, equipment and medical time, and players who are out.
import {PHASE, BREAK, OWNER, MEDICAL, OUT, DID, BEFORE, TIME_OUT, CARE, EQUIPMENT, REFEREE, BLOOD, MEDICAL_USED, PLAYER_OUT, CALL_HELP, PLAY, faults, EACH, PERSONS,
  part, endBreak, begin, recorded, CHARGED} from './core.js';
import {chargeOr, warn, joined} from './penalties.js';

const partner = p => p ^ 1;

/** Returns the first player whose medical request is open; undefined if there is none. */
export const asking = s => EACH.find(p => s[MEDICAL + p] === 1);

// Refuses what cannot begin or end now because of the break that is running.
part.busy = s => s[BREAK] >= BLOOD ? 'undealt ' + (s[BREAK] === BLOOD ? 'blood' : 'referee-break') : asking(s) !== undefined ? 'awaiting-medical' : undefined;
const running = s => part.busy(s) || (s[BREAK] > TIME_OUT ? 'in-break' : undefined);

// Medical time may have the side's time-outs added to it.
part.breaks = (r, s, side) => {
  if (s[BREAK] !== CARE || s[OWNER] >> 1 !== side || part.busy(s)) return running(s);
  return r.takes('medical-with-time-outs') ? undefined : 'in-break medical-ends';
};

// Uses up medical time that waits for something else to be dealt with.
part.settle = s => { for (const p of EACH) if (s[MEDICAL + p] === 3) s[MEDICAL + p] = 2; };

part.lifts = (from, to) => EACH.some(p => from[OUT + p] === 2 && to[OUT + p] !== 2);
part.ready = s => part.busy(s) || (EACH.some(p => s[OUT + p] === 2) ? 'player-out concussion' : undefined);

// The side whose absent player is due to serve or receive; the server's fault comes first.
export function absentDue(r, s) {
  if (!EACH.some(p => s[OUT + p])) return;
  const {server, receiver} = r.places(s), due = [server, receiver].filter(Boolean).map(person => PERSONS.indexOf(person)).find(p => s[OUT + p]);
  return due === undefined ? undefined : due >> 1;
}

const ABSENT = faults.indexOf('absent'); // the fault of a player who is out
part.owed = (r, s, e) => e.fault === ABSENT && s[PHASE] === PLAY && absentDue(r, s) === 1 - e.side;

/** Refuses what a player who is due cannot do. */
export const absent = (r, s, e) => {
  const side = absentDue(r, s);
  if (side !== undefined && (e.kind !== 'rally' || e.side === side || e.fault !== ABSENT)) return 'absent-due absent-due';
};

function refereeBreak(kind) {
  return (r, s) => {
    if (s[PHASE] === BEFORE) return 'not-started referee-break';
    if (kind === REFEREE && s[BREAK] >= BLOOD) return part.busy(s); // it would end with time in, and the cause be forgotten
    begin(s, kind);
    if (kind === BLOOD || kind === BLOOD + 2) s[DID] |= CALL_HELP;
  };
}

function medicalAnswer(r, s, {kind, person, side}) {
  if (s[MEDICAL + person] !== 1) return 'no-request';
  if (kind === 'medical-valid') {
    s[DID] |= MEDICAL_USED;
    s[MEDICAL + person] = s[BREAK] >= BLOOD ? 3 : 2; // what must be dealt with stays; the break that was granted follows it
    if (s[BREAK] >= BLOOD) return '- medical-once medical-in-break';
    [s[BREAK], s[OWNER]] = [CARE, person];
    return;
  }
  s[MEDICAL + person] = 0;
  endCare(s, person);
  const trial = s.slice(), why = requestCosts(r, trial, kind, side);
  if (why.startsWith('not-in-edition')) {
    recorded(s); // no penalty that can be given now; it is on record all the same
    return why.replace('not-in-edition', '-');
  }
  Object.assign(s, trial);
  return why;
}

// Ends the medical break of a player, unless another waits for his; false if it was not running.
function endCare(s, person) {
  if (s[BREAK] !== CARE || s[OWNER] !== person) return false;
  const other = asking(s);
  if (other === undefined) endBreak(s);
  else s[OWNER] = other;
  return other === undefined;
}

function requestCosts(r, s, kind, side) {
  const by = kind === 'medical-withdrawn' ? r.takes('medical-rescinded') ? 'medical-rescinded' : 'medical-kept' : r.clause('medical-invalid') || 'medical-invalid-free';
  const costs = {
    'medical-rescinded': () => chargeOr(r, s, side, () => recorded(s)),
    'medical-invalid-warned': () => warn(r, s, side),
    'medical-invalid-charged': () => chargeOr(r, s, side, () => warn(r, s, side)),
  }[by];
  if (!costs) recorded(s);
  const why = costs?.() || '-';
  return joined(by === 'medical-invalid-charged' && !(s[DID] & CHARGED) ? 'medical-invalid-foul' : by, why);
}

const outBy = (s, p) => 'player-out ' + (s[OUT + p] === 2 ? 'concussion' : 'one-player');

function goesOut(s, person, why) {
  s[OUT + person] = why;
  s[DID] |= PLAYER_OUT | CALL_HELP;
  if (s[MEDICAL + person] !== 1) return;
  s[MEDICAL + person] = 0; // there is nothing left to grant
  const did = s[DID];
  if (endCare(s, person)) [s[BREAK], s[OWNER]] = [REFEREE, 0]; // play waits for the referee
  s[DID] = did;
}

const noted = (r, s) => recorded(s);

Object.assign(part.handlers, {
  equipment(r, s, e) {
    if (s[PHASE] === BEFORE) return 'not-started equipment';
    return running(s) || begin(s, EQUIPMENT, e.person);
  },
  referee: refereeBreak(REFEREE), blood: refereeBreak(BLOOD), hazard: refereeBreak(BLOOD + 1), illness: refereeBreak(BLOOD + 2),
  dealt(r, s) {
    if (s[BREAK] < BLOOD) return 'no-break';
    const by = s[BREAK] === BLOOD ? '- blood' : '- referee-break';
    endBreak(s);
    const waits = [3, 1].map(m => EACH.find(p => s[MEDICAL + p] === m)).find(p => p !== undefined); // granted goes before asked
    part.settle(s);
    if (waits === undefined) return by;
    begin(s, CARE, waits);
    return by + ' medical-in-break';
  },
  'medical-request'(r, s, {person}) {
    const m = s[MEDICAL + person];
    if (s[PHASE] === BEFORE) return 'not-started medical-outside-play';
    if (m) return m === 1 ? 'awaiting-medical' : 'medical-used medical-once';
    if (s[OUT + person]) return outBy(s, person);
    s[MEDICAL + person] = 1;
    s[DID] |= CALL_HELP;
    if (s[BREAK] >= BLOOD) return '- medical-in-break';
    if (s[BREAK] === CARE) return '- medical-two';
    begin(s, CARE, person);
    return s[MEDICAL + partner(person)] === 2 ? '- medical medical-partner' : undefined;
  },
  'medical-valid': medicalAnswer, 'medical-invalid': medicalAnswer, 'medical-withdrawn': medicalAnswer,
  'help-arrived'(r, s, {person}) {
    const m = s[MEDICAL + person];
    return m === 1 || m === 3 || s[BREAK] === CARE && s[OWNER] === person ? recorded(s) : 'no-request';
  },
  'play-on-alone'(r, s, {person}) {
    if (s[PHASE] === BEFORE) return 'not-started both-present';
    if (s[OUT + person]) return outBy(s, person);
    return !r.doubles || s[OUT + partner(person)] ? 'nobody-left one-player' : goesOut(s, person, 1);
  },
  concussion: (r, s, {person}) => s[OUT + person] === 2 ? 'player-out concussion' : goesOut(s, person, 2),
  ejection: noted, expulsion: noted,
  substitution: () => 'local-rule no-substitution',
});
