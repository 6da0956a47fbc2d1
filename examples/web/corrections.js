// Corrections with a place of their own in the fold: ruled corrections, rewind, stated positions, a change of format.
import {GAME, WON, SCORE, OPENS, ORDER, FIRST, KNOWN, START, STARTED, ENDS, MADE, DUE, PUT, WALK, PHASE, CAUSE, WINNER, ABORTED, BREAK,
  OWNER, USED, MEDICAL, OUT, VERBAL, WARNINGS, FOULS, FORFEITS, WRONG, CARRY, SHARED, CHOICE, DID, PLAY, BETWEEN, OVER, CLOSED, RETIRED, POINT,
  SECOND_SERVER, SIDE_OUT, AGAIN, WITHHELD, STANDS, OVERRULED, GAME_STARTED, GAME_WON, MATCH_WON, ENDS_DUE, EXCHANGED, CHARGED,
  LAST_TIME_OUT, WARNED, FOULED, PENALTY_POINT, GAME_FORFEITED, MATCH_FORFEITED, PUT_RIGHT, MOST_POINTS, part, clear, won, compile,
  parseEvent, refuse} from './core.js';
import {malformed, target, isNote} from './log.js';
import {penalized, moved} from './penalties.js';
import {GAME_OVER, NEXT_SERVED, OVERTAKEN, STRUCK, pastServe} from './incidents.js';
import {parseLine, valid} from './lines.js';


const holding = (f, n) => {
  const st = f.steps[n - 1];
  if (n < 1 || n >= f.steps.length) refuse('malformed');
  return st?.holds ? st : refuse('not-now', n);
};

const counts = st => st && !['undo', 'redo', 'amend'].includes(st.kind);
const since = (f, n) => f.steps.slice(n, -1).filter(st => counts(st) && st.holds);
const copy = (to, from, ...fields) => { for (const at of fields) to[at] = from[at]; };
const BREAKS = [OUT, OUT + 1, OUT + 2, OUT + 3, BREAK, OWNER, ABORTED], CARES = [MEDICAL, MEDICAL + 1, MEDICAL + 2, MEDICAL + 3];
// What a rewind takes back with the game: all but what is on record, a break, and ends that were changed.
const IN_GAME = POINT | SECOND_SERVER | SIDE_OUT | AGAIN | WITHHELD | STANDS | OVERRULED | GAME_STARTED | GAME_WON | MATCH_WON | ENDS_DUE | EXCHANGED | PUT_RIGHT;
const has = (st, did) => (st.did & did) !== 0;

part.corrections.rewind = (f, {target: n}) => {
  const st = holding(f, n), now = f.now.state, between = now[PHASE] === BETWEEN;
  let back = n;
  while (back && !counts(f.steps[back - 1])) back--;
  const then = back ? f.steps[back - 1].back : f.log.versions[0].state;
  if (then[PHASE] !== PLAY || now[PHASE] !== PLAY && !between || now[GAME] !== then[GAME]) refuse('not-now');
  let end;
  for (const later of since(f, n)) {
    if (later.kind === 'rewind' && later.entry.target < n) refuse('not-now', n); // a repair that holds, but what it left is gone
    if (later.kind === 'format' || later.rules !== st.rules || later.kind === 'set' || later.kind !== 'rule' && has(later, PENALTY_POINT | GAME_FORFEITED)) refuse('not-now', later.n);
    if (later.final) end = later.before;
  }
  const s = then.slice();
  copy(s, now, ...BREAKS, ENDS, MADE, USED, USED + 1, ...CARES, VERBAL, VERBAL + 1, WARNINGS, WARNINGS + 1, FOULS, FOULS + 1, FORFEITS, FORFEITS + 1,
    WRONG, WRONG + 1, ...CARRIED, CAUSE, WINNER);
  clear(s, OPENS, OPENS + 1);
  if (s[MADE]) s[DUE] = 0;
  else if (st.rules.game(s).changeEndsEvery) s[DUE] ^= then[ENDS] ^ now[ENDS]; // who has changed since changes back
  if (between) resume(st.rules, s, end, now);
  f.steps.slice(n, -1).forEach(later => {
    if (!counts(later) || later.kind === 'rule' && later.entry.target <= n) return;
    later.holds = later.final = false;
    later.did &= ~IN_GAME;
  });
  return {to: {...f.now, state: s}};
};

// Gives a game that goes on after all what its end had closed.
function resume(r, s, end, now) {
  clear(s, CAUSE, WINNER);
  const allowed = r.coming(s).timeOuts;
  for (const side of [0, 1]) {
    s[USED + side] = Math.min(end[USED + side] + now[USED + side], allowed);
    if (r.takes('second-warning-game')) s[WARNINGS + side] = Math.min(end[WARNINGS + side] + s[WARNINGS + side], 7);
  }
}

part.corrections.set = (f, {line}) => {
  const {rules, pending, state} = f.now, s = parseLine(rules, line) || refuse('malformed');
  if (s[PHASE] === CLOSED || part.lifts(state, s) || pending && s[PHASE] <= BETWEEN && canFollow(pending, s, rules)) refuse('not-now');
  for (const st of f.steps) {
    const restated = st?.final && st.back[GAME] === s[GAME] && s[PHASE] > PLAY && st.back[SCORE] === s[SCORE] && st.back[SCORE + 1] === s[SCORE + 1];
    if (st?.final && st.back[GAME] >= s[GAME] && !restated) st.final = false;
  }
  return {to: {rules, pending, state: s}};
};

part.corrections.format = (f, {rules: r, next}) => {
  const {state, rules} = f.now;
  if (state[PHASE] > BETWEEN) refuse('over');
  if (!next) return {to: {state: takeOver(r, state, rules) || refuse('not-now'), rules: r}};
  if (canFollow(r, state, rules)) refuse('not-now');
  return {to: {state, rules, pending: r}};
};

const noGame = (r, n, a, b) => n > r.match.games || !r.match.playAll && Math.max(a, b) >= r.needed;
const noTimeOuts = (r, s) => Math.max(s[USED], s[USED + 1]) > r.coming(s).timeOuts;

// Whether the next game cannot be played under r, whoever wins the game in play.
function canFollow(r, s, old) {
  if (r.doubles !== old.doubles) return true;
  if (s[PHASE] !== PLAY) return noGame(r, s[GAME] + 1, s[WON], s[WON + 1]) || noTimeOuts(r, s);
  const next = [[s[WON] + 1, s[WON + 1]], [s[WON], s[WON + 1] + 1]].filter(won => !noGame(old, s[GAME] + 1, ...won));
  return !next.length || next.some(won => noGame(r, s[GAME] + 1, ...won));
}

// Turns a state under old rules into one under r; undefined if that cannot be.
function takeOver(r, state, old) {
  const s = state.slice(), playing = s[PHASE] === PLAY, g = r.game(s);
  if (r.doubles !== old.doubles || noGame(r, s[GAME] + !playing, s[WON], s[WON + 1]) || noTimeOuts(r, s)) return;
  forget(r, s);
  if (playing) {
    const p = old.places(s), a = s[SCORE], b = s[SCORE + 1];
    if (won(g, Math.max(a, b), Math.min(a, b))) return;
    if (g.order !== old.game(s).order && (g.is.has('turns') || old.game(s).is.has('turns'))) return;
    const stand = () => {
      const q = r.places(s);
      return q.server === p.server && q.at.flat().join() === p.at.flat().join() && (q.number === p.number || !q.number || !p.number) && valid(g, s);
    };
    for (s[ORDER] = 0; !stand();) if (++s[ORDER] === 32) return;
    if (!g.changeEndsAt) s[MADE] = 0;
    if (!g.changeEndsAt && !g.changeEndsEvery) s[DUE] = 0;
    if (r.places(s).number !== 2) s[PUT] = 0; // no fault has brought this server
    if (!g.is.has('exchange') || !g.changeEndsAt) s[WALK] = 0;
  }
  return parseLine(r, r.line(s)); // what the new rules cannot tell apart is gone
}

// Drops what these rules do not know.
function forget(r, s) {
  if (!r.takes('order-stands-warned')) clear(s, WRONG, WRONG + 1);
  if (!r.takes('order-fault')) s[PUT] = 0;
  if (!r.takes('carried-penalties')) clear(s, ...CARRIED);
}

// A format that waits comes into force with the entry that opens the coming game.
part.after = ({state, rules, pending}, e) => {
  let got = rules.apply(state, e);
  if (pending && state[PHASE] !== PLAY) {
    if (got.did & CHARGED) got = charged(rules, pending, state, e, got);
    const opens = e && (['rally', 'replay', 'stop', 'start-game'].includes(e.kind) ||
      (e.kind === 'late-arrival' ? got.did & (GAME_FORFEITED | MATCH_FORFEITED) : got.did & GAME_FORFEITED && got.state[GAME] > state[GAME]));
    if (opens) {
      const s = state.slice();
      forget(pending, s);
      for (const side of [0, 1]) s[USED + side] = Math.min(s[USED + side], pending.coming(s).timeOuts);
      [rules, pending] = [pending, undefined];
      got = rules.apply(s, e);
    }
  }
  return {...got, to: {state: got.state, rules, pending}};
};

// Counts a time-out for the coming game, which gives as many as the format has that comes into force with it.
function charged(rules, pending, state, e, got) {
  const at = USED + e.side, left = pending.coming(state).timeOuts - state[at] - 1;
  if (left >= 0) return {...got, did: left ? got.did & ~LAST_TIME_OUT : got.did | LAST_TIME_OUT};
  const none = state.slice();
  none[at] = rules.coming(state).timeOuts;
  const {state: next, ...rest} = rules.apply(none, e), kept = next.slice();
  if (next[PHASE] === state[PHASE] && next[GAME] === state[GAME]) kept[at] = state[at];
  return {...rest, state: kept};
}

// The entries of these corrections.
Object.assign(part.entries, {
  rule([n, what, ...rest]) {
    const event = parseEvent(what) || malformed();
    return rest.length ? malformed() : {target: target(n), event};
  },
  rewind: rest => ({target: target(rest.join(' '))}),
  set: rest => ({line: rest.join(' ')}),
  format([id, when, note, ...more]) {
    if (more.length || when !== 'now' && when !== 'next' || !note || !isNote(note)) malformed();
    try {
      return {next: when === 'next', rules: compile(id)};
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      malformed();
    }
  },
});

// A ruled correction: the ruled result stands in the place of the rally's; what happened since stays as it was judged then.
part.corrections.rule = (f, {target: n, event}) => {
  const st = holding(f, n), later = since(f, n), {rules: r} = st;
  if (st.kind !== 'rally' || event.kind !== 'rally' || !event.incident || event.side !== st.event.side || st.ruled ||
    st.event.incident && (st.did & (STANDS | WARNED | FOULED)) !== STANDS) refuse('not-now', n);
  for (const x of later) if (['set', 'format', 'rule'].includes(x.kind) || has(x, GAME_FORFEITED | MATCH_FORFEITED)) refuse('not-now', x.n);
  if (f.now.state[PHASE] === OVER && r.takes('last-point-final')) refuse('out-of-window');
  const over = overSince(st, later), passed = pastServe(over);
  let bound = Math.max(event.incident.since, over);
  if (passed && bound === GAME_OVER) bound = over; // a next serve has come after the game
  const {state: s, did, refused} = r.apply(ruledFrom(f, st), {...event, incident: {...event.incident, since: bound}});
  if (refused) refuse(refused);
  if (did & STANDS && !(did & (WARNED | FOULED)) || passed && r.takes('order-stands-warned')) refuse('out-of-window');
  const g = {f, st, later, then: [], retired: undefined}, to = passed ? pointOff(g, did) : inPlace(g, s, did);
  st.ruled = true;
  [st, ...later].forEach((x, i) => {
    Object.assign(x, g.then[i], {holds: !g.then[i].gone});
    x.final = x.holds && has(x, GAME_WON | GAME_FORFEITED);
  });
  return {to, did: g.then[0].did};
};

// Whether a serve was struck with an entry, or its rally has a winner all the same.
const served = ({kind, event}) => kind === 'rally' || kind === 'replay' || kind === 'stop' && (!event.incident.reach || event.incident.reach >= STRUCK);
const servedBy = st => st.before[PHASE] === PLAY ? st.before[ORDER] & 1 : st.after[FIRST]; // or the rally opened the game

function overSince(rally, later) {
  let over = has(rally, GAME_WON) ? GAME_OVER : 1;
  for (const st of later.filter(served)) {
    if (st.after[GAME] !== rally.after[GAME] || st.before[PHASE] !== PLAY || has(st, POINT) || servedBy(st) !== servedBy(rally)) return OVERTAKEN;
    over = NEXT_SERVED;
  }
  return over;
}

const gameEnded = ({f, st}) => f.now.state[PHASE] !== PLAY || f.now.state[GAME] !== st.after[GAME];
const RECORD = [VERBAL, VERBAL + 1, WARNINGS, WARNINGS + 1, FOULS, FOULS + 1, FORFEITS, FORFEITS + 1, WRONG, WRONG + 1];
const CARRIED = [CARRY, CARRY + 1, CARRY + 2, CARRY + 3, SHARED, SHARED + 1, SHARED + 2, SHARED + 3];

// The state in which the rally is ruled on: the game as it was before it, and on record what is on record now.
function ruledFrom(f, st) {
  const s = st.before.slice(), now = f.now.state;
  copy(s, now, ...RECORD, ...CARRIED);
  if (gameEnded({f, st}) && st.rules.takes('second-warning-game')) {
    for (const at of [WARNINGS, WARNINGS + 1]) s[at] = Math.min(st.before[at] + now[at], 7);
  }
  return s;
}

const PLAY_FIELDS = [GAME, WON, WON + 1, SCORE, SCORE + 1, ORDER, FIRST, KNOWN, START, START + 1, STARTED, ENDS, MADE, DUE, PUT, WALK, PHASE, ABORTED,
  BREAK, OWNER, CHOICE];

// Puts the ruled result in the place of the rally's, no rally having been decided since.
function inPlace(g, s, did) {
  const {f, st, later, then} = g, r = st.rules, now = f.now.state;
  then.push({back: s, did});
  if (PLAY_FIELDS.every(at => s[at] === st.after[at]) && (did & GAME_WON) === (st.did & GAME_WON)) { // only what is on record can be more
    for (const x of later) then.push({back: x.back, did: x.did});
    const state = now.slice();
    copy(state, s, ...RECORD);
    return {...f.now, state};
  }
  const used = [s[USED], s[USED + 1]];
  let game = s.slice();
  for (const x of later) {
    const t = {did: x.did};
    if (has(x, PENALTY_POINT)) {
      if (x.before[PHASE] !== PLAY || game[PHASE] !== PLAY) refuse('not-now', x.n);
      t.did = x.did & ~(GAME_WON | MATCH_WON | ENDS_DUE) | (movedBy(r, game, [0, 1].map(i => x.after[SCORE + i] - x.before[SCORE + i])) ?? refuse('not-now', x.n));
    } else if (x.kind === 'start-game') Object.assign(t, {gone: true, did: 0});
    else if (x.kind === 'stop') t.did &= ~GAME_STARTED;
    else if (x.kind === 'exchange' && x.before[PHASE] === PLAY && game[PHASE] === PLAY && r.game(game).is.has('exchange')) game[START + x.event.side] ^= 1;
    else if (x.kind === 'retirement') g.retired = x.event;
    if (has(x, CHARGED)) {
      const side = x.event.side, allowed = r.coming(game).timeOuts;
      t.did &= ~(CHARGED | LAST_TIME_OUT);
      if (used[side] < allowed) t.did |= ++used[side] === allowed ? CHARGED | LAST_TIME_OUT : CHARGED;
    }
    t.back = game.slice();
    then.push(t);
  }
  return settled(g, game, used, s[PHASE] === PLAY);
}

// The version in which the game is as ruled; breaks, absences, medical time and ends that were changed are as they are now.
function settled(g, s, used, playing) {
  const {f, st, later} = g, r = st.rules, now = f.now.state;
  let last = st.after; // the latest state of the rally's own game
  for (const x of later) if (x.after[GAME] === last[GAME]) last = x.after;
  if (now[GAME] === last[GAME]) last = now;
  copy(s, now, ...BREAKS, ...CARES);
  copy(s, last, ENDS, MADE);
  if (s[MADE]) s[DUE] = 0;
  clear(s, USED, USED + 1);
  if (s[PHASE] === PLAY || s[PHASE] === BETWEEN) {
    if (!gameEnded(g) && playing) used = [now[USED], now[USED + 1]];
    for (const side of [0, 1]) s[USED + side] = Math.min(used[side], r.coming(s).timeOuts);
  } else clear(s, BREAK, OWNER, ABORTED); // what the ruling decides is not broken off
  const state = g.retired && s[PHASE] !== OVER ? r.apply(s, g.retired).state : s;
  return {state, rules: r, pending: f.now.rules !== r ? f.now.rules : f.now.pending}; // what took effect with the end of the game is pending again
}

// Takes the point off that the rally gave: the window is open though others were served since.
function pointOff(g, did) {
  const {f, st, later, then} = g, side = st.event.side, at = r => r.game(st.after).changeEndsAt, r = st.rules, now = f.now.state;
  if (!has(st, POINT) || !(did & OVERRULED)) refuse('out-of-window');
  if (gameEnded(g) && !(!now[ABORTED] && (now[PHASE] === OVER || now[PHASE] === CLOSED) && now[CAUSE] === RETIRED && now[GAME] === st.after[GAME])) refuse('not-now');
  const off = state => {
    if (!state[SCORE + side]) return;
    const s = state.slice();
    s[SCORE + side]--;
    if (s[PHASE] !== PLAY) return s;
    moved(r.game(s), s, side);
    if (!st.before[DUE] && s[SCORE] < at(r) && s[SCORE + 1] < at(r)) clear(s, DUE, WALK);
    return s;
  };
  const back = off(st.back) || st.back;
  then.push({back, did: (st.did & ~(POINT | STANDS) | OVERRULED) & ~(back[DUE] ? 0 : ENDS_DUE)});
  for (const x of later) then.push({back: off(x.back) || refuse('not-now', x.n), did: x.did});
  return {...f.now, state: off(now) || refuse('not-now')};
}

// Adds to a score what a penalty once moved; undefined where it would fall below zero.
function movedBy(r, s, by) {
  const side = by[1] ? 1 : 0, own = s[SCORE + side] + by[side], off = by[side] < 0;
  if (own < 0 || own > MOST_POINTS) return;
  s[SCORE + side] = own;
  s[DID] = 0;
  penalized(r, s, side, off ? 1 - side : side, off, r.game(s));
  const did = s[DID];
  s[DID] = 0;
  return did;
}
