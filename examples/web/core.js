// The rules of games and matches, played from the pack: formats, orders of service, freezes and words are data
// (pack/core.js), what an event does is code. No edition, target or rule number stands here.
//
// A state is an array of small numbers and never changes once it is handed out: handlers write on a copy. A handler returns
// nothing, or why: the refusal, or "-" where the event is accepted, and the clauses that decided, with spaces between.
import pack from './pack/core.js';

/** Where the fields of a state stand; of a pair that of A, of four that of A1. */
export const GAME = 0, WON = 1, SCORE = 3, OPENS = 5, ORDER = 7, FIRST = 8, KNOWN = 9, START = 10, STARTED = 12, ENDS = 13, MADE = 14,
  DUE = 15, PUT = 16, WALK = 17, PHASE = 18, CAUSE = 19, WINNER = 20, ABORTED = 21, BREAK = 22, OWNER = 23, USED = 24, MEDICAL = 26,
  OUT = 30, VERBAL = 34, WARNINGS = 36, FOULS = 38, FORFEITS = 40, WRONG = 42, CARRY = 44, CHOICE = 48, SHARED = 49,
  DID = 53; // of SHARED the warning and the foul of A, then of B: what both partners bring is of the same pair

export const BEFORE = 0, PLAY = 1, BETWEEN = 2, OVER = 3, CLOSED = 4;
export const PLAYED = 1, RETIRED = 2, WITHDREW = 3, FORFEITED = 4, BOTH_FORFEITED = 5, TIED = 6, ABANDONED = 7, LATE = 8;
export const TIME_OUT = 1, CARE = 2, REFEREE = 4, BLOOD = 5;

/** The effects as bits, in the order of the pack. */
export const [POINT, SECOND_SERVER, SIDE_OUT, AGAIN, WITHHELD, STANDS, OVERRULED, GAME_STARTED, GAME_WON, MATCH_WON, ENDS_DUE, ENDS_MADE,
  EXCHANGED, BREAK_BEGAN, BREAK_ENDED, CHARGED, LAST_TIME_OUT, MEDICAL_USED, WARNED, FOULED, WARNED_VERBALLY, PENALTY_POINT, GAME_FORFEITED,
  MATCH_FORFEITED, PLAYER_OUT, CALL_HELP, PUT_RIGHT, RECORDED, FIRST_CHOSEN, SHEET_CLOSED] = pack.effects.map((_, i) => 1 << i);

export const SIDES = ['A', 'B'], PERSONS = ['A1', 'A2', 'B1', 'B2'], MOST_POINTS = 255;
const COURTS = ['R', 'L', '-'], HANDS = ['left', 'right'];

/** What a part that is loaded adds: handlers of kinds of events, and what the core asks it. */
export const part = {
  handlers: Object.create(null), // by kind: (rules, state, event)
  corrections: Object.create(null), // by kind: what a log does, see log.js
  switches: [...pack.switches],
  accepted: {}, // by kind: "- CLAUSE", what an event is taken by
  ready() {}, // what stands between the players and the next serve
  absent() {}, // the same once the game is open
  parse: text => /[?:]/.test(text) ? {kind: 'later', text} : undefined, // events that no list holds
  counts: () => true, // whether counted points lead to an order: of who reads lines
  own() { throw new Skipped(); }, // what an id sets besides shape and edition
};

/** Says that a part which is not loaded would answer. */
export class Skipped extends Error {}

/** Lists the effects of a set by name, in their order. */
export const named = did => pack.effects.filter((_, i) => did >> i & 1);

// Events that can be written out: all but rallies with an incident, and lateness.
const events = new Map();
for (const [kind, before, after, form] of pack.kinds) {
  const add = (text, more) => events.set(before + text + after, {kind, text: before + text + after, ...more});
  const sides = each => SIDES.forEach((name, side) => each(name, side));
  if (!form) add('');
  else if (form === 'side') sides((name, side) => add(name, {side}));
  else if (form === 'person') PERSONS.forEach((name, person) => add(name, {side: person >> 1, person}));
  else if (form === 'start') {
    sides((name, side) => [0, 1, 2, 3].forEach(n => {
      const start = [n & 1, n >> 1];
      add(name + (start[side] + 1) + SIDES[1 - side] + (start[1 - side] + 1), {side, start});
    }));
  } else if (form === 'choice') sides((name, side) => pack.choices.forEach((choice, n) => n && add(name + ':' + choice, {side, choice})));
  else if (form === 'rally') sides((name, side) => pack.faults.forEach((fault, n) => add(name + (n ? ':' + fault : ''), {side, fault: n})));
}

/** Reads the word of an event; undefined if it is none. */
export const parseEvent = text => events.get(text) || part.parse(text, events);

// Formats

const camel = name => name.replace(/-(.)/g, (_, c) => c.toUpperCase());
const values = (fields, row, at = 0) => Object.fromEntries(fields.map((f, i) => [camel(f.name), row[at + i]]));

/** Refuses a format id. */
export const noFormat = reason => { throw new RangeError('evencourt: format: ' + reason); };

const compiled = new Map();

/** Returns the rules of a format id, SHAPE or SHAPE@EDITION; with own settings +NAME=VALUE where rulings are loaded. */
export function compile(id) {
  let rules = compiled.get(id);
  if (!rules) compiled.set(id, rules = new Rules(id));
  return rules;
}

/** A format made ready to play. */
export class Rules {
  constructor(id) {
    const [name, ...own] = String(id).split('+'), [shape, ...rest] = name.split('@');
    const spans = Object.hasOwn(pack.formats, shape) ? pack.formats[shape] : noFormat('no shape ' + shape);
    const width = 4 + pack.match.length, holds = n => {
      for (let at = 0; at < spans.length; at += width) if (spans[at] <= n && n <= spans[at + 1]) return at + 2;
    };
    this.edition = rest.length ? pack.editions.indexOf(rest.join('@')) : pack.editions.indexOf(pack.default);
    if (!rest.length && !holds(this.edition)) this.edition = spans[spans.length - width + 1];
    const at = holds(this.edition) || noFormat('no such edition of ' + shape);
    this.id = id;
    this.editionName = pack.editions[this.edition];
    this.value = {}; // by switch: the number of the reading, or the number
    this.rows = part.switches;
    for (const {name, takes} of this.rows) this.value[name] = takes ? takes[this.edition] : 0;
    this.games = [0, 1].map(i => values(pack.fields, pack.games[spans[at + i]]));
    this.match = values(pack.match, spans, at + 2);
    if (own.length) part.own(this, own);
    this.in = new Set(this.rows.map(row => this.clause(row.name)));
    this.needed = (this.match.games >> 1) + 1;
    for (const g of this.games) {
      const key = [g.order, g.sides, g.servers].join();
      g.masks = [...this.in].reduce((found, c) => pack.orders[key + ',' + c] || found, pack.orders[key]);
      g.is = new Set(g.masks.is);
      g.single = g.is.has('single') ? g.target - 1 : Infinity; // score of both from which on each point is a turn
    }
    this.doubles = this.games[0].sides === 2;
    this.scoring = pack.scoring.editions.includes(this.edition); // of the sport no more is known
    this.instead = Object.fromEntries(pack.instead.filter(([from, to]) => from <= this.edition && this.edition <= to).map(row => row.slice(2)));
  }

  /** Returns the clause that a switch goes by; undefined where there is no such rule. */
  clause(name) {
    const row = this.rows.find(row => row.name === name), n = this.value[name];
    return n && row.clauses ? row.numbers?.[n] || row.clauses[row.readings ? n - 1 : 0] : undefined;
  }

  /** Reports whether the rules go by a clause that is a reading of a switch. */
  takes(clause) { return this.in.has(clause); }

  /** Returns a match before its first game; first is the side that serves first, left out while nobody has chosen. */
  begin(first) {
    const s = new Array(DID + 1).fill(0);
    if (first !== undefined && first !== '-') {
      s[FIRST] = SIDES.indexOf(first);
      s[KNOWN] = 1;
    }
    return s;
  }

  /** Returns the state after an event and what it did, or why it was refused, with the clauses that decided. */
  apply(state, text) {
    const event = typeof text === 'string' ? parseEvent(text) : text, s = state.slice();
    s[DID] = 0;
    const [refused, ...by] = (this.decide(s, event) || part.accepted[event.kind] || '-').trim().split(' ');
    if (refused !== '-') return {state, did: 0, refused, clauses: by.map(c => this.instead[c] || c)};
    const did = s[DID];
    s[DID] = 0;
    return {state: s, did, clauses: by};
  }

  decide(s, e) {
    if (!e) return 'malformed event-words';
    const handler = part.handlers[e.kind], outside = e.kind === 'medical-request' ? 'medical-outside-play ' : '';
    if (!handler) return 'skipped';
    if (s[PHASE] === CLOSED) return 'closed sheet-final';
    if (s[PHASE] === OVER && !AFTER_THE_END.has(e.kind) && !(e.kind === 'late-arrival' && s[CAUSE] === LATE)) return `over ${outside}match-over`;
    if (s[ABORTED] && !['resume', 'sheet-returned', 'concussion'].includes(e.kind)) return `abandoned ${outside}resumed`;
    if (!this.doubles && (e.person & 1 || e.start && (e.start[0] || e.start[1]))) return 'no-such-player event-words';
    return this.unruled(e) ? 'not-in-edition scoring-only' : handler(this, s, e);
  }

  // Whether an event takes a rule of a sport of which only the scoring is known.
  unruled({kind, fault, incident}) {
    const given = kind === 'time-out' && this.games.some(g => g.timeOuts);
    return this.scoring && (fault || incident || pack.scoring.kinds.includes(kind) && !given);
  }

  /** Returns how the game in play, or the last one, is played. */
  game(s) { return this.games[s[GAME] >= this.match.games ? 1 : 0]; }

  /** Returns how the game in play is played; before the match and between games, the next one. */
  coming(s) { return this.games[s[GAME] + (s[PHASE] !== PLAY) >= this.match.games ? 1 : 0]; }

  /** Returns the side that serves first in the coming game; undefined where that has to be chosen. */
  nextFirst(s) {
    if (!s[STARTED]) return s[KNOWN] ? s[FIRST] : undefined;
    return [, 1 - s[FIRST], lastWinner(s), 1 - lastWinner(s)][this.match.nextServe];
  }

  /** Reports whether a side would be refused the point of a rally that it won as receivers. */
  frozen(s, side) { return s[PHASE] === PLAY && frozen(this.game(s), s[SCORE + side], s[SCORE + 1 - side]); }

  /** Says where everybody stands at the next serve: persons and courts by their numbers, court 2 where there is none. */
  places(s) {
    const {masks, is} = this.game(s), side = s[ORDER] & 1, of = (side, partner) => this.doubles ? side * 2 | s[START + side] ^ partner : side * 2;
    const [serves, takes, from, to] = read(masks.places, asked(s)), any = is.has('any-receives');
    const server = of(side, serves), receiver = of(1 - side, any ? 0 : takes), court = is.has('no-court') ? 2 : from, receives = any || court === 2 ? 2 : to;
    const stand = (person, court) => this.doubles && court === 1 ? [person ^ 1, person] : [person, this.doubles ? person ^ 1 : person];
    const own = stand(server, court), other = stand(receiver, receives), turned = side ? [other, own] : [own, other];
    return {server, receiver, court, receives, any, at: turned, standing: side ? [receives, court] : [court, receives],
      known: court < 2 && !any, number: +is.has('numbers') && 1 + (s[ORDER] >> 2 & 1)};
  }

  /** Returns the score call before the next serve; "" outside play. */
  call(s) {
    if (s[PHASE] !== PLAY) return '';
    const side = s[ORDER] & 1, {number} = this.places(s);
    return s[SCORE + side] + '-' + s[SCORE + 1 - side] + (number ? '-' + number : '');
  }

  /** Returns the court as the referee sees it, left being the side on his left at the first serve of the match. */
  view(s, left = 'A') {
    const hand = SIDES.indexOf(left) ^ s[ENDS], hands = [hand, 1 - hand], playing = s[PHASE] === PLAY;
    const view = {hands: hands.map(h => HANDS[h]), playing, spots: []};
    if (!playing) return view;
    const p = this.places(s), spot = (person, court) => {
      const hand = hands[person >> 1];
      return {person: PERSONS[person], court: COURTS[court], hand: HANDS[hand], depth: court === 2 ? '' : hand === 1 - court ? 'far' : 'near'};
    };
    const all = [0, 1, 2, 3].filter(p => this.doubles || !(p & 1)), unplaced = person => spot(person, person === p.server ? p.court : 2);
    const spots = !p.known ? all.map(unplaced) : this.doubles ? p.at.flatMap(at => at.map(spot)) : p.at.map((at, side) => spot(at[0], p.standing[side]));
    return {...view, serving: HANDS[hands[s[ORDER] & 1]], server: spot(p.server, p.court), receiver: p.any ? undefined : spot(p.receiver, p.receives), spots};
  }

  /** Lists the very events that may come; of rallies those without a fault and that of an absent player. */
  allowed(s) {
    return [...events.values(), ...part.more || []].filter(e => (!e.fault || e.fault === ABSENT) && !this.apply(s, e).refused).map(e => e.text);
  }

  /** Returns the canonical line of a state. */
  line(s) {
    const pair = (at, sep = ':') => s[at] + sep + s[at + 1], marks = (at, letters) => [0, 1, 2, 3].map(i => letters[s[at + i]]).join('');
    const playing = s[PHASE] === PLAY, p = playing ? this.places(s) : {}, c = s[CHOICE] - 1, b = s[BREAK];
    const courts = side => !p.known ? '--' : this.doubles ? `${(p.at[side][0] & 1) + 1}${(p.at[side][1] & 1) + 1}` : ['1-', '-1'][p.standing[side]];
    return `L2 game=${s[GAME]} won=${pair(WON)} score=${pair(SCORE, '-')} opens=${pair(OPENS)}` +
      ` serve=${playing ? `${PERSONS[p.server]}@${COURTS[p.court]}#${p.number || '-'}` : '-'} receive=${playing && !p.any ? PERSONS[p.receiver] : '-'}` +
      ` A=${courts(0)} B=${courts(1)} first=${c >= 0 ? 'de'[c >> 1] + SIDES[c & 1] : s[KNOWN] ? SIDES[s[FIRST]] : '-'}` +
      ` start=${s[STARTED] ? PERSONS[s[START]] + PERSONS[2 + s[START + 1]] : '-'} ends=${s[ENDS]}${s[MADE] ? 'm' : ''}` +
      ` due=${(s[DUE] ? 'e' : '') + (s[PUT] ? 'p' : '') + (s[WALK] ? 'x' : '') || '-'} phase=${pack.phases[s[PHASE]]} result=${outcome(s)}` +
      ` break=${pack.breaks[b]}${b === TIME_OUT ? SIDES[s[OWNER] >> 1] : b && b < REFEREE ? PERSONS[s[OWNER]] : ''} timeouts=${pair(USED)}` +
      ` medical=${marks(MEDICAL, '-rug')} out=${marks(OUT, '-xc')} vw=${pair(VERBAL)} tw=${pair(WARNINGS)} tf=${pair(FOULS)} gf=${pair(FORFEITS)}` +
      ` wrong=${pair(WRONG)} carry=${PERSONS.map((_, p) => CARRIED[s[CARRY + p] + said(s, p, 2) + said(s, p, 4)]).join('')}`;
  }
}

/** The fault of a player who is out. */
export const ABSENT = pack.faults.indexOf('absent');

const AFTER_THE_END = new Set(['sheet-returned', 'ejection', 'expulsion', 'verbal-warning', 'technical-warning', 'technical-foul',
  'challenge-lost', 'challenge-withdrawn', 'concussion']);

/** What follows the winner's letter in a result, by cause. */
export const OUTCOMES = [, '', 'ret', 'wd', 'mf', , , , 'late'], CARRIED = '-123456789abcdefghijklmnopqrstuv';

// What the line adds for a penalty of the same pair as the partner's, where the count of the side leaves that open.
const said = (s, p, what) => s[SHARED + (p & 2) + (what >> 2)] && s[(what === 2 ? WARNINGS : FOULS) + (p >> 1)] > 1 ? (s[CARRY + p] & what) * 4 : 0;

function outcome(s) {
  const w = s[WINNER];
  if (s[PHASE] === BETWEEN && w) return SIDES[w - 1] + (s[ABORTED] ? 'gfab' : 'gf');
  if (s[ABORTED] || s[CAUSE] === ABANDONED) return 'ab';
  if (s[CAUSE] === TIED) return 'tie';
  if (s[CAUSE] === BOTH_FORFEITED) return 'dmf';
  return w ? SIDES[w - 1] + OUTCOMES[s[CAUSE]] : '-';
}

// The order of service. Of it a state holds who serves, in the lowest bit, and four bits more; the pack says which they are, and
// what is asked of a mask: those, the parities of the scores, and whether something is so.
const asked = (s, so = (s[ORDER] ^ s[FIRST]) & 1) => {
  const side = s[ORDER] & 1;
  return s[ORDER] >> 1 | (s[SCORE + side] & 1) << 4 | (s[SCORE + 1 - side] & 1) << 5 | so << 6 | 128;
};

// Whether an odd number of bits is set.
function odd(n) {
  let bit = 0;
  for (; n; n &= n - 1) bit ^= 1;
  return bit;
}

// What masks answer to a question.
const read = (masks, x) => masks.map(mask => odd(mask & x));

// Brings the order to what masks say.
export const bring = (s, masks, x = asked(s)) => { s[ORDER] = read(masks, x).reduce((order, bit, i) => order | bit << i + 1, s[ORDER] & 1); };

/** The order of service after a penalty moved the score of a side. */
export const moved = (g, s, side) => bring(s, g.masks.foul, asked(s, +(side === (s[ORDER] & 1))));

/** Reports whether an order can be in its state at these scores. */
export const valid = (g, s) => !read(g.masks.valid, asked(s)).includes(1) && (!g.serves || part.counts(g, s));

/** Gives the serve to the other side. */
export const sideOut = (g, s) => {
  s[ORDER] ^= 1;
  bring(s, g.masks.out);
};

/** Reports whether a turn of a number of points ends when both sides together have made so many, the lower score being low. */
export const turnEnds = (g, points, low) => low >= g.single || points >= g.firstTurn && (points - g.firstTurn) % g.serves === 0;

/** Reports whether a side has won a game with a score against another. */
export const won = (g, own, other) => own > other && (g.cap && own >= g.cap || own >= g.target && own - other >= g.winBy);

function frozen(g, own, other) {
  const [clause, at, of, withOf] = pack.freezes[g.freeze];
  if (!clause) return false;
  if (at === undefined) return won(g, own + 1, other);
  return own >= g.target - at || of > 0 && other >= g.target - of && own >= g.target - withOf;
}

const lastWinner = s => s[PHASE] === BETWEEN && s[WINNER] ? s[WINNER] - 1 : +(s[SCORE + 1] > s[SCORE]);

// What a rally does to points and order in a game that goes on.
function step(g, s, winner, scored) {
  const before = s[ORDER];
  if (scored) {
    s[SCORE + winner]++;
    s[DID] |= POINT;
  }
  const own = s[SCORE + winner], other = s[SCORE + 1 - winner], {masks, is} = g, numbers = is.has('numbers');
  if (g.serves ? scored && turnEnds(g, own + other, Math.min(own, other)) : winner !== (before & 1) && !(numbers && !(before & 4))) {
    sideOut(g, s);
    s[DID] |= SIDE_OUT;
  } else if (!g.serves) {
    bring(s, winner === (before & 1) ? masks.kept : masks.first);
    if (winner !== (before & 1)) s[DID] |= SECOND_SERVER;
  }
  if (is.has('around') && scored && own === g.changeEndsAt && other < own) s[ORDER] ^= 4;
}

/** Gives a rally to a side: whether the point counts, and whether with it the game ends or the end change falls due. */
export function score(r, s, winner) {
  const g = r.game(s), own = s[SCORE + winner], other = s[SCORE + 1 - winner], serves = winner === (s[ORDER] & 1);
  if (!serves && g.scorer === 1) return step(g, s, winner, 0);
  if (!serves && frozen(g, own, other)) {
    step(g, s, winner, 0);
    s[DID] |= WITHHELD;
    return '- ' + pack.freezes[g.freeze][0];
  }
  if (own === MOST_POINTS) return 'most-points most-points';
  if (won(g, own + 1, other)) {
    s[SCORE + winner]++;
    s[DID] |= POINT | GAME_WON;
    endGame(r, s, winner);
    return '- game-won';
  }
  step(g, s, winner, 1);
  reach(r, s, winner);
}

/** Makes the mid-game end change due when a side has first reached it. */
export function reach(r, s, side) {
  const g = r.game(s), at = g.changeEndsAt, {changeEnds, games} = r.match;
  // It is left out of a last game that is not the last in turn, an earlier one having been forfeited unplayed.
  if (g.changeEndsEvery) {
    if ((s[SCORE] + s[SCORE + 1]) % g.changeEndsEvery) return;
    if (s[DUE] ^= 1) { // one more cancels one that was missed
      s[DID] |= ENDS_DUE;
      walk(g, s);
    }
    return;
  }
  const turn = !changeEnds || r.games[0].changeEndsAt || s[ENDS] === (games - 1 & 1);
  if (!at || s[SCORE + side] < at || s[DUE] || s[MADE] || !turn) return;
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
  const opens = [s[OPENS], s[OPENS + 1]];
  [s[SCORE], s[SCORE + 1]] = opens;
  if (start) [s[START], s[START + 1]] = start;
  clear(s, DUE, MADE, CHOICE, OPENS, OPENS + 1, CAUSE, WINNER);
  s[PHASE] = s[STARTED] = s[KNOWN] = 1;
  s[GAME]++;
  s[FIRST] = first;
  const g = r.game(s);
  s[ORDER] = first | (g.firstTurn < Math.max(g.servers, g.serves)) << 2;
  bring(s, g.masks.start);
  for (let n = 1; g.serves && n <= opens[0] + opens[1]; n++) if (turnEnds(g, n, 0)) sideOut(g, s); // points that nobody served for are counted too
  if ((opens[0] || opens[1]) && r.takes('penalty-end-change')) reach(r, s, opens[1] & 1);
}

/** Counts a game for its winner and ends the match if that decides it. */
export function endGame(r, s, winner) {
  const {playAll, games} = r.match;
  s[WON + winner]++;
  clear(s, ORDER, DUE, WALK, PUT, USED, USED + 1);
  if (r.takes('second-warning-game')) clear(s, WARNINGS, WARNINGS + 1);
  const lead = s[WON] - s[WON + 1];
  if (!playAll && s[WON + winner] >= r.needed) lastPoint(s, winner);
  else if (s[GAME] < games) s[PHASE] = BETWEEN;
  else if (!lead) endMatch(s, TIED, 3);
  else lastPoint(s, lead > 0 ? 0 : 1);
}

function lastPoint(s, winner) {
  s[DID] |= MATCH_WON;
  endMatch(s, PLAYED, winner + 1);
}

/** Uses up medical time that waits for something else to be dealt with. */
export function nothingWaits(s) {
  for (let p = 0; p < 4; p++) if (s[MEDICAL + p] === 3) s[MEDICAL + p] = 2;
}

/** Closes play; what cannot matter any more is cleared, so that equal outcomes are equal states. */
export function endMatch(s, cause, winner) {
  nothingWaits(s);
  endBreak(s);
  clear(s, ORDER, DUE, WALK, PUT, CHOICE, USED, USED + 1, OPENS, OPENS + 1);
  s[PHASE] = OVER;
  s[CAUSE] = cause;
  s[WINNER] = winner;
}

/** Ends a match that the other side of a loser wins without playing it out. */
export function loses(s, side, cause, did = MATCH_WON) {
  s[DID] |= did;
  endMatch(s, cause, 2 - side);
}

export const matchForfeit = (s, side) => loses(s, side, FORFEITED, MATCH_WON | MATCH_FORFEITED);

/** Forfeits the game in play, or the coming one, in which then nobody serves and for which ends do not change. */
export function forfeitGame(r, s, side) {
  if (s[PHASE] !== PLAY) {
    clear(s, SCORE, SCORE + 1, MADE, OPENS, OPENS + 1);
    s[GAME]++;
  }
  s[DID] |= GAME_FORFEITED;
  endGame(r, s, 1 - side);
  if (s[PHASE] === BETWEEN) {
    s[CAUSE] = FORFEITED;
    s[WINNER] = 2 - side;
  }
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
  s[BREAK] = kind;
  s[OWNER] = owner;
  s[DID] |= BREAK_BEGAN;
}

/** Refuses what can only come before the first game. */
export const pastStart = s => s[PHASE] === PLAY ? 'in-play one-moment' : s[PHASE] === OVER ? 'over match-over' : 'first-settled choice-final';

/** Returns the first player whose medical request is open; undefined if there is none. */
export const asking = s => [0, 1, 2, 3].find(p => s[MEDICAL + p] === 1);

/** Refuses what cannot begin or end now because of the break that is running. */
export const breakOf = s => s[BREAK] >= BLOOD ? 'undealt ' + (s[BREAK] === BLOOD ? 'blood' : 'referee-break') :
  asking(s) !== undefined ? 'awaiting-medical medical-who-says' : undefined;

function rally(r, s, e) {
  const first = s[PHASE] === PLAY || r.nextFirst(s);
  if (first === undefined) return 'no-first-server first-choice';
  const waits = part.ready(s);
  if (waits) return waits;
  if (s[PHASE] !== PLAY) open(r, s, first);
  endBreak(s);
  return part.absent(r, s, e) || played(r, s, e);
}

function played(r, s, e) {
  const {incident} = e, faulted = s[PUT];
  if (e.kind !== 'stop' || !incident.reach || incident.reach >= 3) clear(s, PUT, WALK); // the next serve has come
  if (incident) return part.ruled(r, s, e, faulted);
  if (e.kind === 'rally') return score(r, s, e.side);
  s[DID] |= AGAIN;
}

Object.assign(part.handlers, {
  rally, replay: rally,
  'start-game'(r, s, e) {
    const first = r.nextFirst(s), n = r.match.nextServe;
    if (s[PHASE] === PLAY) return e.start[0] === s[START] && e.start[1] === s[START + 1] ? 'in-play one-moment' : 'in-play starter-between-games';
    if (first !== undefined && first !== e.side) {
      return 'wrong-side-first ' + (s[STARTED] ? [, 'alternate', 'badminton-first-serve', 'local-rules'][n] : 'choice-final');
    }
    const other = [0, 1].filter(side => e.start[side] !== s[START + side]).length;
    if (s[STARTED] && other === 1 && r.coming(s).is.has('receiver-follows')) return 'not-its-choice table-tennis-receiver';
    const waits = part.ready(s);
    if (waits) return waits;
    open(r, s, e.side, e.start);
  },
  'ends-changed'(r, s) {
    if (s[PHASE] !== PLAY) return 'not-in-play one-moment';
    if (!s[DUE]) return 'not-due one-moment';
    s[DUE] = 0;
    s[MADE] = +!r.game(s).changeEndsEvery;
    s[ENDS] ^= 1;
    s[DID] |= ENDS_MADE;
    walk(r.game(s), s);
  },
  exchange(r, s, e) {
    if (s[PHASE] === BEFORE || !s[STARTED]) return 'not-started exchange-of-courts';
    if (!r.coming(s).is.has('exchange')) return 'not-fixed places-by-score';
    if (s[PHASE] === PLAY && s[BREAK] !== TIME_OUT && !s[WALK]) return 'not-now exchange-of-courts';
    s[START + e.side] ^= 1;
    s[DID] |= EXCHANGED;
  },
  'first-choice'(r, s, e) {
    const c = s[CHOICE], deferred = c > 0 && c < 3;
    if (e.choice === 'defer' && !r.takes('deferring')) return 'not-in-edition no-deferring';
    if (s[STARTED]) return pastStart(s);
    if (s[KNOWN]) return 'first-settled choice-final';
    if (c && ((c - 1 & 1) === e.side || e.choice === 'defer' || !deferred && e.choice === 'end')) return 'not-its-choice first-choice';
    s[DID] |= RECORDED;
    if (e.choice === 'defer' || e.choice === 'end') {
      s[CHOICE] = (e.choice === 'defer' ? 1 : 3) + e.side;
      return;
    }
    s[DID] |= FIRST_CHOSEN;
    s[CHOICE] = 0;
    s[KNOWN] = 1;
    s[FIRST] = e.choice === 'serve' ? e.side : 1 - e.side;
  },
  'time-out'(r, s, e) {
    const added = s[BREAK] === CARE && s[OWNER] >> 1 === e.side && !breakOf(s);
    if (s[PHASE] === BEFORE) return 'not-started time-out-before-match';
    if (s[PHASE] === BETWEEN && !r.takes('time-out-between')) return 'not-in-edition no-time-out-between';
    if (added && !r.takes('medical-with-time-outs')) return 'in-break medical-ends';
    const waits = added ? undefined : breakOf(s) || (s[BREAK] > TIME_OUT ? 'in-break one-moment' : undefined);
    if (waits) return waits;
    if (!charge(r, s, e.side)) {
      const {target} = r.coming(s), [, row] = pack.time_outs.filter(([from]) => from <= target).pop();
      return `none-left time-out-none-left ${r.clause(row) || ''}`;
    }
    begin(s, TIME_OUT, e.side * 2);
  },
  'time-in'(r, s) {
    if (breakOf(s)) return breakOf(s);
    if (!s[BREAK]) return 'no-break one-moment';
    endBreak(s);
  },
  'game-forfeit': (r, s, e) => gameForfeit(r, s, e.side),
  'match-forfeit': (r, s, e) => matchForfeit(s, e.side),
  'double-forfeit'(r, s) {
    s[DID] |= MATCH_FORFEITED;
    endMatch(s, BOTH_FORFEITED, 0);
  },
  retirement: (r, s, e) => s[STARTED] ? loses(s, e.side, RETIRED) : 'not-started retirement-when',
  withdrawal: (r, s, e) => s[STARTED] ? 'not-now withdrawal retirement-only' : loses(s, e.side, WITHDREW),
  abandon(r, s) {
    s[ABORTED] = 1;
    s[DID] |= RECORDED;
  },
  resume(r, s) {
    if (!s[ABORTED]) return 'not-now one-moment';
    s[ABORTED] = 0;
    s[DID] |= RECORDED;
  },
  'sheet-returned'(r, s) {
    if (s[PHASE] !== OVER && !s[ABORTED]) return 'not-now one-moment';
    s[DID] |= SHEET_CLOSED;
    if (s[ABORTED]) endMatch(s, ABANDONED, 0);
    s[ABORTED] = 0;
    if (s[CAUSE] === LATE) s[CAUSE] = FORFEITED; // it is no longer taken back
    clear(s, OPENS, OPENS + 1, CHOICE);
    s[PHASE] = CLOSED;
  },
});
