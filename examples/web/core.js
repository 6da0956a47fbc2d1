// The rules of games and matches, played from the pack: formats, orders of service, freezes and words are data
// (pack/core.js), what an event does is code. No edition, target or rule number stands here.
//
// A state is an array of small numbers and never changes once it is handed out: handlers write on a copy. A handler returns
// nothing, or the refusal; "-" where the event is accepted. Behind either may stand the clauses that decided, with spaces
// between; where none do, part.reasons knows them.
import pack from './pack/core.js';

/** Where the fields of a state stand; of a pair that of A, of four that of A1. */
export const GAME = 0, WON = 1, SCORE = 3, OPENS = 5, ORDER = 7, FIRST = 8, KNOWN = 9, START = 10, STARTED = 12, ENDS = 13, MADE = 14,
  DUE = 15, PUT = 16, WALK = 17, PHASE = 18, CAUSE = 19, WINNER = 20, ABORTED = 21, BREAK = 22, OWNER = 23, USED = 24, MEDICAL = 26,
  OUT = 30, VERBAL = 34, WARNINGS = 36, FOULS = 38, FORFEITS = 40, WRONG = 42, CARRY = 44, CHOICE = 48, SHARED = 49,
  DID = 53; // of SHARED the warning and the foul of A, then of B: what both partners bring is of the same pair

export const BEFORE = 0, PLAY = 1, BETWEEN = 2, OVER = 3, CLOSED = 4;
export const PLAYED = 1, RETIRED = 2, WITHDREW = 3, FORFEITED = 4, BOTH_FORFEITED = 5, TIED = 6, ABANDONED = 7, LATE = 8;
export const TIME_OUT = 1, CARE = 2, EQUIPMENT = 3, REFEREE = 4, BLOOD = 5;

/** Splits a text of the pack into its words. */
export const words = text => text ? text.split(' ') : [];

const effects = words(pack.effects), outcomes = words(pack.outcomes), phases = words(pack.phases);
export const faults = words(pack.faults), choices = words(pack.choices);
export {outcomes, phases};
export const {freezes} = pack;

/** The effects as bits, in the order of the pack. */
export const POINT = 1 << 0, SECOND_SERVER = 1 << 1, SIDE_OUT = 1 << 2, AGAIN = 1 << 3, WITHHELD = 1 << 4, STANDS = 1 << 5, OVERRULED = 1
  << 6, GAME_STARTED = 1 << 7, GAME_WON = 1 << 8, MATCH_WON = 1 << 9, ENDS_DUE = 1 << 10, ENDS_MADE = 1 << 11, EXCHANGED = 1 << 12,
  BREAK_BEGAN = 1 << 13, BREAK_ENDED = 1 << 14, CHARGED = 1 << 15, LAST_TIME_OUT = 1 << 16, MEDICAL_USED = 1 << 17, WARNED = 1 << 18,
  FOULED = 1 << 19, WARNED_VERBALLY = 1 << 20, PENALTY_POINT = 1 << 21, GAME_FORFEITED = 1 << 22, MATCH_FORFEITED = 1 << 23, PLAYER_OUT =
  1 << 24, CALL_HELP = 1 << 25, PUT_RIGHT = 1 << 26, RECORDED = 1 << 27, FIRST_CHOSEN = 1 << 28, SHEET_CLOSED = 1 << 29;

/** Lists the effects of a set by name, in their order. */
export const named = did => effects.filter((_, i) => did >> i & 1);

export const SIDES = ['A', 'B'], PERSONS = ['A1', 'A2', 'B1', 'B2'], COURTS = 'RL-', EACH = [0, 1, 2, 3], MOST_POINTS = 255;
const HANDS = ['left', 'right'];

/** Refuses an entry: the code, the number of the entry that stands against it (0 for the new one), and the clauses. */
export const refuse = (refused, at = 0, clauses = []) => { throw Object.assign(new Error(refused), {refused, at, clauses}); };

/** What a part that is loaded adds: handlers of kinds of events, what the core asks it, and of the pack what it holds more. */
export const part = {
  handlers: Object.create(null), // by kind: (rules, state, event)
  editions: words(pack.editions),
  switches: [...pack.switches],
  afterEnd: words(pack.after_end), // kinds that may follow the last point
  broken: words(pack.broken), // kinds that may come while a match is broken off
  opened: [], // what follows the opening of a game
  parse: text => /[?:]/.test(text) ? {text} : undefined, // events that no list holds
  own: () => refuse('skipped'), // what an id sets besides shape and edition
  masks: (r, key) => pack.orders[key], // the masks of an order
  played, // a rally once the game is open
  pause: s => s[BREAK] ? 't' + SIDES[s[OWNER] >> 1] : '-', // what the line says of the break that is running
  record: s => ' medical=---- out=----' + ['vw', 'tw', 'tf', 'gf', 'wrong'].map((name, i) => ` ${name}=` + pair(s, VERBAL + 2 * i)).join('') + ' carry=----', // what it says of that
  // And what is asked only where it is: sport, what a row of the pack has otherwise than pickleball; settled, what follows from the
  // settings of a format; unruled, whether an event takes a rule of a sport of which only the scoring is known; reasons, the clauses
  // behind an answer; follows, whether starting servers follow from those before; ready, what stands between the players and the next serve; busy, why no break can begin or end now; breaks,
  // why no time-out can begin; gameOver and settle, what the end of a game and of a match clears besides; turn and every, counted
  // turns and ends that change every so many points; owed, whether a rally with a fault is what an absent player loses; lifts, whether a suspected concussion would silently be lifted.
};

// Events that can be written out: all but rallies with an incident, and lateness.
const events = new Map();
const forms = {
  S: SIDES.map((name, side) => [name, {side}]),
  P: PERSONS.map((name, person) => [name, {side: person >> 1, person}]),
  G: SIDES.flatMap((_, side) => EACH.map(n => [PERSONS[side * 2 + (n & 1)] + PERSONS[2 - side * 2 + (n >> 1)], {side, start: side ? [n >> 1, n & 1] : [n & 1, n >> 1]}])),
  C: SIDES.flatMap((name, side) => choices.slice(1).map(choice => [`${name}:${choice}`, {side, choice}])),
  R: SIDES.flatMap((name, side) => faults.map((word, fault) => [fault ? `${name}:${word}` : name, {side, fault}])),
};

/** Adds kinds of events, each with what is written for it; a capital stands for what differs. */
export function addKinds(rows) {
  for (const [kind, text = kind] of rows.map(row => row.split(':'))) {
    const [form] = /[A-Z]/.exec(text) || [''];
    for (const [what, more] of forms[form] || [['']]) events.set(text.replace(form, what), {kind, text: text.replace(form, what), ...more});
  }
}
addKinds(words(pack.kinds));
addKinds(words(pack.later).map(text => ':' + text)); // of a part that is not loaded

/** Reads the word of an event; undefined if it is none. */
export const parseEvent = text => events.get(text) || part.parse(text, events);

// Formats

/** The named shapes: by id what it is in editions from one to another. */
export const shapes = new Map();

/** Adds families of shapes, which differ in target and number of games. */
export function addFamilies(families) {
  for (const [id, targets, lengths, from, to, ...row] of families) {
    for (const target of words(targets)) {
      for (const games of words(lengths)) {
        const shape = id.replace('*', target) + (games > 1 ? '-of' + games : '');
        shapes.set(shape, [...shapes.get(shape) || [], {from, to, target: +target, games: +games, row}]);
      }
    }
  }
}
addFamilies(pack.formats);

/** Refuses a format id. */
export const noFormat = reason => { throw new RangeError('evencourt: format: ' + reason); };

const compiled = new Map();

/** Returns the rules of a format id, SHAPE or SHAPE@EDITION; with own settings +NAME=VALUE where rulings are loaded. */
export function compile(id) {
  if (!compiled.has(id)) compiled.set(id, new Rules(id));
  return compiled.get(id);
}

/** The switch that holds how many time-outs a game to a target gives. */
export const timeOutsOf = target => pack.time_outs.findLast(([from]) => from <= target)?.[1];

/** A format made ready to play. */
export class Rules {
  constructor(id) {
    const [name, ...own] = String(id).split('+'), [shape, ...rest] = name.split('@'), spans = shapes.get(shape) || noFormat('no shape ' + shape);
    const holds = n => spans.find(({from, to}) => from <= n && n <= to);
    this.edition = rest.length ? part.editions.indexOf(rest.join('@')) : holds(pack.default) ? pack.default : spans.at(-1).to;
    const of = holds(this.edition) || noFormat('no such edition of ' + shape);
    this.id = id;
    this.editionName = part.editions[this.edition];
    this.taken = {}; // by switch: the number of the value, from 1, in its row
    this.value = {}; // by switch: its reading or number
    for (const [name, takes, values] of part.switches) this.take(name, +(takes[this.edition] || 0), words(values));
    this.build(of);
    if (own.length) part.own(this, own);
    part.settled?.(this);
    this.needed = (this.match.games >> 1) + 1;
    for (const g of this.games) {
      g.masks = part.masks(this, [g.order, g.sides, g.servers].join());
      g.is = new Set(words(g.masks.is));
    }
    this.doubles = this.games[0].sides === 2;
  }

  /** Lets a switch take a value. */
  take(name, n, values) { [this.taken[name], this.value[name]] = [n, values[n - 1]]; }

  // Makes games and match of a row of the pack.
  build({target, games, row: [sides, scorer, servers, order, winBy, cap, freeze, nextServe, ...sport]}) {
    const game = {sides, scorer, servers, firstTurn: 1, serves: 0, order, target, winBy, cap, freeze, changeEndsAt: 0, changeEndsEvery: 0};
    const last = {...game, changeEndsAt: target + 1 >> 1}, match = {games, playAll: 0, nextServe, changeEnds: 1};
    if (sport.length) part.sport(sport, game, last, match);
    for (const g of [game, last]) g.timeOuts = +(this.value[timeOutsOf(g.target)] || 0);
    Object.assign(this, {match, games: [game, last]}); // every game but the last, and that
  }

  /** Returns a match before its first game; first is the side that serves first, left out while nobody has chosen. */
  begin(first) {
    const s = new Array(DID + 1).fill(0), side = SIDES.indexOf(first);
    if (side >= 0) [s[FIRST], s[KNOWN]] = [side, 1];
    return s;
  }

  /** Returns the state after an event and what it did, or why it was refused, with the clauses that decided. */
  apply(state, text) {
    const event = typeof text === 'string' ? parseEvent(text) : text, s = state.slice();
    s[DID] = 0;
    const [code = '-', ...by] = words((this.decide(s, event) || '').trim()), did = s[DID], refused = code !== '-';
    s[DID] = 0;
    const clauses = part.reasons?.(this, state, event, code, by, did) || [];
    return refused ? {state, did: 0, refused: code, clauses} : {state: s, did, clauses};
  }

  decide(s, e) {
    if (!e) return 'malformed';
    const {kind, person, start} = e, handler = part.handlers[kind];
    if (!handler) return 'skipped';
    if (s[PHASE] === CLOSED) return 'closed';
    if (s[PHASE] === OVER && !part.afterEnd.includes(kind) && !(kind === 'late-arrival' && s[CAUSE] === LATE)) return 'over';
    if (s[ABORTED] && !part.broken.includes(kind)) return 'abandoned';
    if (!this.doubles && (person & 1 || start?.includes(1))) return 'no-such-player';
    return part.unruled?.(this, e) || handler(this, s, e);
  }

  /** Returns how the game in play, or the last one, is played. */
  game(s) { return this.games[+(s[GAME] >= this.match.games)]; }

  /** Returns how the game in play is played; before the match and between games, the next one. */
  coming(s) { return this.games[+(s[GAME] + (s[PHASE] !== PLAY) >= this.match.games)]; }

  /** Returns the side that serves first in the coming game; undefined where that has to be chosen. */
  nextFirst(s) {
    if (!s[STARTED]) return s[KNOWN] ? s[FIRST] : undefined;
    const winner = s[WINNER] ? s[WINNER] - 1 : +(s[SCORE + 1] > s[SCORE]);
    return [, 1 - s[FIRST], winner, 1 - winner][this.match.nextServe];
  }

  /** Reports whether a side would be refused the point of a rally that it won as receivers. */
  frozen(s, side) { return s[PHASE] === PLAY && frozen(this.game(s), s[SCORE + side], s[SCORE + 1 - side]); }

  /** Says where everybody stands at the next serve; court "-" where there is none, no receiver where either partner may receive. */
  places(s) {
    const {masks, is} = this.game(s), side = s[ORDER] & 1, [serves, takes, from, to] = read(masks.places, asked(s)), any = is.has('any-receives');
    const of = (side, partner) => side * 2 | (this.doubles && s[START + side] ^ partner), server = of(side, serves), receiver = of(1 - side, any ? 0 : takes);
    const court = is.has('no-court') ? '-' : COURTS[from], receives = any || court === '-' ? '-' : COURTS[to], turn = (own, other) => side ? [other, own] : [own, other];
    const pair = (person, court) => [court === 'L', court !== 'L'].map(partner => PERSONS[person ^ (this.doubles && partner)]); // who stands right and left
    return {server: PERSONS[server], receiver: any ? undefined : PERSONS[receiver], court, receives, at: turn(pair(server, court), pair(receiver, receives)),
      standing: turn(court, receives), number: +is.has('numbers') && 1 + (s[ORDER] >> 2 & 1)};
  }

  /** Returns the score call before the next serve; "" outside play. */
  call(s) {
    if (s[PHASE] !== PLAY) return '';
    const side = s[ORDER] & 1, {number} = this.places(s);
    return s[SCORE + side] + '-' + s[SCORE + 1 - side] + (number ? '-' + number : '');
  }

  /** Returns the court as the referee sees it, left being the side on his left at the first serve of the match. */
  view(s, left = 'A') {
    const first = SIDES.indexOf(left) ^ s[ENDS], of = side => first ^ side, playing = s[PHASE] === PLAY;
    const view = {hands: [0, 1].map(side => HANDS[of(side)]), playing, spots: []};
    if (!playing) return view;
    const p = this.places(s), known = p.receives !== '-', order = known ? [...new Set(p.at.flat())] : PERSONS.filter((_, i) => this.doubles || !(i & 1));
    const spot = (person, court) => {
      const hand = of(SIDES.indexOf(person[0]));
      return {person, court, hand: HANDS[hand], depth: court === '-' ? '' : hand === +(court === 'R') ? 'far' : 'near'};
    };
    const courtOf = (person, side) => !known ? person === p.server ? p.court : '-' : this.doubles ? COURTS[p.at[side].indexOf(person)] : p.standing[side];
    return {...view, serving: HANDS[of(s[ORDER] & 1)], server: spot(p.server, p.court), receiver: p.receiver && spot(p.receiver, p.receives),
      spots: order.map(person => spot(person, courtOf(person, SIDES.indexOf(person[0]))))};
  }

  /** Lists the very events that may come; of rallies those without a fault, or that which an absent player loses. */
  allowed(s) {
    return [...events.values(), ...part.more || []].filter(e => (!e.fault || part.owed?.(this, s, e)) && !this.apply(s, e).refused).map(e => e.text);
  }

  /** Returns the canonical line of a state. */
  line(s) {
    const playing = s[PHASE] === PLAY, p = playing ? this.places(s) : {receives: '-'}, c = s[CHOICE] - 1;
    const courts = side => p.receives === '-' ? '--' : this.doubles ? p.at[side].map(person => person[1]).join('') : p.standing[side] === 'R' ? '1-' : '-1';
    return `L2 game=${s[GAME]} won=${pair(s, WON)} score=${pair(s, SCORE, '-')} opens=${pair(s, OPENS)}` +
      ` serve=${playing ? `${p.server}@${p.court}#${p.number || '-'}` : '-'} receive=${p.receiver || '-'}` +
      ` A=${courts(0)} B=${courts(1)} first=${c >= 0 ? 'de'[c >> 1] + SIDES[c & 1] : s[KNOWN] ? SIDES[s[FIRST]] : '-'}` +
      ` start=${s[STARTED] ? PERSONS[s[START]] + PERSONS[2 + s[START + 1]] : '-'} ends=${s[ENDS]}${s[MADE] ? 'm' : ''}` +
      ` due=${(s[DUE] ? 'e' : '') + (s[PUT] ? 'p' : '') + (s[WALK] ? 'x' : '') || '-'} phase=${phases[s[PHASE]]} result=${outcome(s)} break=${part.pause(s)} timeouts=${pair(s, USED)}` + part.record(s);
  }
}

/** Writes the counts of both sides. */
export const pair = (s, at, sep = ':') => s[at] + sep + s[at + 1];

function outcome(s) {
  const winner = SIDES[s[WINNER] - 1], cause = s[CAUSE];
  if (s[PHASE] === BETWEEN && winner) return winner + (s[ABORTED] ? 'gfab' : 'gf');
  if (s[ABORTED]) return outcomes[ABANDONED];
  return cause ? (winner || '') + (cause > PLAYED ? outcomes[cause] : '') : '-';
}

// The order of service. Of it a state holds who serves, in the lowest bit, and four bits more; the pack says which they are, and
// what is asked of a mask: those, the parities of the scores, and whether something is so.
export const asked = (s, so = (s[ORDER] ^ s[FIRST]) & 1) => {
  const side = s[ORDER] & 1;
  return s[ORDER] >> 1 | (s[SCORE + side] & 1) << 4 | (s[SCORE + 1 - side] & 1) << 5 | so << 6 | 128;
};

// What masks answer to a question: whether an odd number of its bits is set in each.
const odd = n => n ? n & 1 ^ odd(n >> 1) : 0;
export const read = (masks = [], x) => EACH.map(i => odd(masks[i] & x));

/** Brings the order to what masks say. */
export const bring = (s, masks, x = asked(s)) => { s[ORDER] = read(masks, x).reduce((order, bit, i) => order | bit << i + 1, s[ORDER] & 1); };

/** Gives the serve to the other side. */
export const sideOut = (g, s) => {
  s[ORDER] ^= 1;
  bring(s, g.masks.out);
};

/** Reports whether a side has won a game with a score against another. */
export const won = (g, own, other) => own > other && (g.cap && own >= g.cap || own >= g.target && own - other >= g.winBy);

function frozen(g, own, other) {
  const [at, of, withOf] = pack.freezes[g.freeze];
  if (!g.freeze) return false;
  if (!at) return won(g, own + 1, other);
  return own >= g.target - at || other >= g.target - of && own >= g.target - withOf;
}

// What a rally does to points and order in a game that goes on.
function step(g, s, winner, scored) {
  const serves = winner === (s[ORDER] & 1);
  s[SCORE + winner] += scored;
  if (scored) s[DID] |= POINT;
  if (g.serves) return part.turn(g, s, winner, scored);
  if (!serves && !(g.is.has('numbers') && !(s[ORDER] & 4))) {
    sideOut(g, s);
    s[DID] |= SIDE_OUT;
    return;
  }
  bring(s, serves ? g.masks.kept : g.masks.first);
  if (!serves) s[DID] |= SECOND_SERVER;
}

/** Gives a rally to a side: whether the point counts, and whether with it the game ends or the end change falls due. */
export function score(r, s, winner) {
  const g = r.game(s), own = s[SCORE + winner], other = s[SCORE + 1 - winner], serves = winner === (s[ORDER] & 1);
  if (!serves && g.scorer === 1) return step(g, s, winner, 0);
  if (!serves && frozen(g, own, other)) {
    step(g, s, winner, 0);
    s[DID] |= WITHHELD;
    return;
  }
  if (own === MOST_POINTS) return 'most-points';
  if (won(g, own + 1, other)) {
    s[SCORE + winner]++;
    s[DID] |= POINT | GAME_WON;
    return endGame(r, s, winner);
  }
  step(g, s, winner, 1);
  reach(r, s, winner);
}

/** Makes the mid-game end change due when a side has first reached it. */
export function reach(r, s, side) {
  const g = r.game(s), at = g.changeEndsAt, {changeEnds, games} = r.match;
  if (g.changeEndsEvery) return part.every(g, s);
  // It is left out of a last game that is not the last in turn, an earlier one having been forfeited unplayed.
  if (!at || s[SCORE + side] < at || s[DUE] || s[MADE] || changeEnds && !r.games[0].changeEndsAt && s[ENDS] !== (games - 1 & 1)) return;
  endsDue(g, s);
}

/** Makes an end change due. */
export function endsDue(g, s) {
  s[DUE] = 1;
  s[DID] |= ENDS_DUE;
  walk(g, s);
}

// Lets partners exchange until the next rally, where their courts are left to them.
const walk = (g, s) => { if (g.is.has('exchange')) s[WALK] = 1; };

/** Clears fields of a state. */
export const clear = (s, ...fields) => { for (const f of fields) s[f] = 0; };

/** Ends the break that is running, if any. */
export function endBreak(s) {
  if (s[BREAK]) s[DID] |= BREAK_ENDED;
  clear(s, BREAK, OWNER);
}

function open(r, s, first, start) {
  if (s[STARTED] && r.match.changeEnds) s[ENDS] ^= 1;
  endBreak(s);
  s[DID] |= GAME_STARTED;
  [s[SCORE], s[SCORE + 1]] = [s[OPENS], s[OPENS + 1]];
  if (start) [s[START], s[START + 1]] = start;
  clear(s, DUE, MADE, CHOICE, OPENS, OPENS + 1, CAUSE, WINNER);
  s[PHASE] = s[STARTED] = s[KNOWN] = 1;
  s[GAME]++;
  s[FIRST] = first;
  const g = r.game(s);
  s[ORDER] = first | (g.firstTurn < Math.max(g.servers, g.serves)) << 2;
  bring(s, g.masks.start);
  for (const then of part.opened) then(r, s, g);
}

/** Counts a game for its winner and ends the match if that decides it. */
export function endGame(r, s, winner) {
  const {playAll, games} = r.match;
  s[WON + winner]++;
  clear(s, ORDER, DUE, WALK, PUT, USED, USED + 1);
  part.gameOver?.(r, s);
  const lead = s[WON] - s[WON + 1];
  if (s[GAME] < games && (playAll || s[WON + winner] < r.needed)) s[PHASE] = BETWEEN;
  else if (!lead) endMatch(s, TIED, 3);
  else loses(s, lead > 0 ? 1 : 0, PLAYED);
}

/** Closes play; what cannot matter any more is cleared, so that equal outcomes are equal states. */
function endMatch(s, cause, winner) {
  part.settle?.(s);
  endBreak(s);
  clear(s, ORDER, DUE, WALK, PUT, CHOICE, USED, USED + 1, OPENS, OPENS + 1);
  [s[PHASE], s[CAUSE], s[WINNER]] = [OVER, cause, winner];
}

/** Ends a match that a side loses. */
export function loses(s, side, cause, did = 0) {
  s[DID] |= MATCH_WON | did;
  endMatch(s, cause, 2 - side);
}

export const matchForfeit = (s, side) => loses(s, side, FORFEITED, MATCH_FORFEITED);

/** Forfeits the game in play, or the coming one, in which then nobody serves and for which ends do not change. */
export function forfeitGame(r, s, side) {
  if (s[PHASE] !== PLAY) {
    clear(s, SCORE, SCORE + 1, MADE, OPENS, OPENS + 1);
    s[GAME]++;
  }
  s[DID] |= GAME_FORFEITED;
  endGame(r, s, 1 - side);
  if (s[PHASE] === BETWEEN) [s[CAUSE], s[WINNER]] = [FORFEITED, 2 - side];
}

/** Adds one to a count that stops at most. */
export const count = (s, at, most) => { if (s[at] < most) s[at]++; };

export function gameForfeit(r, s, side) {
  count(s, FORFEITS + side, 3);
  forfeitGame(r, s, side);
}

/** Takes a time-out from a side; false if it has none left. */
export function charge(r, s, side) {
  const left = r.coming(s).timeOuts - s[USED + side];
  if (left <= 0) return false;
  s[USED + side]++;
  s[DID] |= left === 1 ? CHARGED | LAST_TIME_OUT : CHARGED;
  return true;
}

/** Begins a break. */
export function begin(s, kind, owner = 0) {
  [s[BREAK], s[OWNER]] = [kind, owner];
  s[DID] |= BREAK_BEGAN;
}

/** Refuses what can only come before the first game. */
export const pastStart = s => ['', 'in-play', 'first-settled', 'over'][s[PHASE]];

/** Says that something was put on record. */
export const recorded = s => { s[DID] |= RECORDED; };

function rally(r, s, e) {
  const first = s[PHASE] === PLAY || r.nextFirst(s), waits = first === undefined ? 'no-first-server' : part.ready?.(s);
  if (waits) return waits;
  if (s[PHASE] !== PLAY) open(r, s, first);
  endBreak(s);
  return part.played(r, s, e);
}

function played(r, s, {kind, side}) {
  clear(s, PUT, WALK); // the next serve has come
  if (kind === 'rally') return score(r, s, side);
  s[DID] |= AGAIN;
}

Object.assign(part.handlers, {
  rally, replay: rally,
  'start-game'(r, s, {side, start}) {
    if (s[PHASE] === PLAY) return 'in-play';
    const first = r.nextFirst(s);
    if (first !== undefined && first !== side) return 'wrong-side-first';
    return part.follows?.(r, s, start) || part.ready?.(s) || open(r, s, side, start);
  },
  'ends-changed'(r, s) {
    if (s[PHASE] !== PLAY) return 'not-in-play';
    if (!s[DUE]) return 'not-due';
    s[DUE] = 0;
    s[MADE] = +!r.game(s).changeEndsEvery;
    s[ENDS] ^= 1;
    s[DID] |= ENDS_MADE;
    walk(r.game(s), s);
  },
  exchange(r, s, {side}) {
    if (s[PHASE] === BEFORE || !s[STARTED]) return 'not-started';
    if (!r.coming(s).is.has('exchange')) return 'not-fixed';
    if (s[PHASE] === PLAY && s[BREAK] !== TIME_OUT && !s[WALK]) return 'not-now';
    s[START + side] ^= 1;
    s[DID] |= EXCHANGED;
  },
  'first-choice'(r, s, {side, choice}) {
    const c = s[CHOICE], deferred = c < 3, leaves = choice === 'defer' || choice === 'end';
    if (choice === 'defer' && r.value.defer !== 'yes') return 'not-in-edition';
    if (s[STARTED]) return pastStart(s);
    if (s[KNOWN]) return 'first-settled';
    if (c && ((c - 1 & 1) === side || leaves && !(deferred && choice === 'end'))) return 'not-its-choice';
    recorded(s);
    s[CHOICE] = leaves ? (choice === 'defer' ? 1 : 3) + side : 0;
    if (leaves) return;
    s[DID] |= FIRST_CHOSEN;
    [s[KNOWN], s[FIRST]] = [1, choice === 'serve' ? side : 1 - side];
  },
  'time-out'(r, s, {side}) {
    if (s[PHASE] === BEFORE) return 'not-started';
    if (s[PHASE] === BETWEEN && r.value['time-out-between'] !== 'yes') return 'not-in-edition';
    return part.breaks?.(r, s, side) || (charge(r, s, side) ? begin(s, TIME_OUT, side * 2) : 'none-left');
  },
  'time-in': (r, s) => part.busy?.(s) || (s[BREAK] ? endBreak(s) : 'no-break'),
  'game-forfeit': (r, s, {side}) => gameForfeit(r, s, side),
  'match-forfeit': (r, s, {side}) => matchForfeit(s, side),
  'double-forfeit'(r, s) {
    s[DID] |= MATCH_FORFEITED;
    endMatch(s, BOTH_FORFEITED, 0);
  },
  retirement: (r, s, {side}) => s[STARTED] ? loses(s, side, RETIRED) : 'not-started',
  withdrawal: (r, s, {side}) => s[STARTED] ? 'not-now' : loses(s, side, WITHDREW),
  abandon(r, s) {
    s[ABORTED] = 1;
    recorded(s);
  },
  resume(r, s) {
    if (!s[ABORTED]) return 'not-now';
    s[ABORTED] = 0;
    recorded(s);
  },
  'sheet-returned'(r, s) {
    if (s[PHASE] !== OVER && !s[ABORTED]) return 'not-now';
    s[DID] |= SHEET_CLOSED;
    if (s[ABORTED]) endMatch(s, ABANDONED, 0);
    if (s[CAUSE] === LATE) s[CAUSE] = FORFEITED; // it is no longer taken back
    clear(s, ABORTED, OPENS, OPENS + 1, CHOICE);
    s[PHASE] = CLOSED;
  },
});
