// Lines read: a line is that of a state, or is refused.
import rulings from './pack/rulings.js';
import {GAME, WON, SCORE, OPENS, ORDER, FIRST, KNOWN, START, STARTED, ENDS, MADE, DUE, PUT, WALK, PHASE, CAUSE, WINNER, ABORTED, BREAK,
  OWNER, USED, MEDICAL, OUT, VERBAL, WARNINGS, FOULS, FORFEITS, WRONG, CARRY, CHOICE, BEFORE, PLAY, BETWEEN, OVER, CLOSED, PLAYED,
  FORFEITED, TIED, ABANDONED, TIME_OUT, CARE, REFEREE, BLOOD, SIDES, PERSONS, EACH, MOST_POINTS, SHARED, LATE,
  part, words, won, asked, read, pair, phases, outcomes} from './core.js';
import {asking} from './breaks.js';

const partner = p => p ^ 1;

// Fields of the line with the most that each counts to, or its letters; and where the state has them.
const FIELDS = words(rulings.line).map(row => row.split('=')), CARRIED = FIELDS.at(-1)[1];
const COUNTS = {won: WON, timeouts: USED, vw: VERBAL, tw: WARNINGS, tf: FOULS, gf: FORFEITS, wrong: WRONG}, LETTERS = {medical: MEDICAL, out: OUT, carry: CARRY};

// What the line adds for a penalty of the same pair as the partner's, where the count of the side leaves that open.
const said = (s, p, what) => s[SHARED + (p & 2) + (what >> 2)] && s[(what === 2 ? WARNINGS : FOULS) + (p >> 1)] > 1 ? (s[CARRY + p] & what) * 4 : 0;

const breaks = words(rulings.breaks);
part.pause = s => breaks[s[BREAK]] + (s[BREAK] === TIME_OUT ? SIDES[s[OWNER] >> 1] : s[BREAK] && s[BREAK] < REFEREE ? PERSONS[s[OWNER]] : '');
part.record = s => FIELDS.slice(16).map(([name, most]) => ` ${name}=` + (name in COUNTS ? pair(s, COUNTS[name]) :
  EACH.map(p => most[s[LETTERS[name] + p] + (name === 'carry' ? said(s, p, 2) + said(s, p, 4) : 0)]).join(''))).join('');

/** Reports whether an order can be in its state at these scores. */
export const valid = (g, s) => !read(g.masks.valid, asked(s)).includes(1) && (!g.serves || part.counts(g, s));

/** Reads a number up to the most that it can be. */
export const number = (text, most) => /^(0|[1-9]\d{0,4})$/.test(text) && +text <= most ? +text : undefined;
const person = text => PERSONS.indexOf(text);

/** Reads a line as a state of a format; undefined if it is none that this format can be in. */
export function parseLine(r, text) {
  const [version, ...told] = String(text).split(' '), first = version === 'L1', v = Object.create(null), s = r.begin();
  if (!first && version !== 'L2' || told.length !== FIELDS.length) return;
  for (const [i, [name]] of FIELDS.entries()) {
    if (!told[i].startsWith(name + '=')) return;
    v[name] = told[i].slice(name.length + 1);
  }
  if (first) { // a player brought one warning or one foul; partners on fixed courts could exchange while the change was due
    if (v.due.endsWith('x') || /[^-wf]/.test(v.carry)) return;
    if (/^ep?$/.test(v.due) && r.games[0].is.has('exchange')) v.due += 'x';
    v.carry = v.carry.replace(/w/g, '2').replace(/f/g, '4');
  }
  const counts = (text, at, most, sep = ':') => { [s[at], s[at + 1]] = text.split(sep).map(n => number(n, most)); };
  s[GAME] = number(v.game, 9);
  counts(v.score, SCORE, MOST_POINTS, '-');
  counts(v.opens, OPENS, 2);
  for (const [name, most] of FIELDS) {
    if (name in COUNTS) counts(v[name], COUNTS[name], most);
    else if (name in LETTERS) for (const p of EACH) s[LETTERS[name] + p] = most.indexOf(v[name][p]);
  }
  for (let p = 0; p < 4; p++) { // above the three that may be brought: that they are of the same pair as the partner's
    const of = CARRIED.indexOf(v.carry[p]), at = CARRY + (p & 2), side = p >> 1;
    s[CARRY + p] = of < 0 ? undefined : of & 7;
    [2, 4].forEach((what, n) => {
      const both = s[at] & s[at + 1] & what && p & 1;
      if (of & what * 4 || both && s[(n ? FOULS : WARNINGS) + side] < 2) s[SHARED + side * 2 + n] = 1;
    });
  }
  const [a, b] = v.first;
  if (v.first.length === 1 && SIDES.includes(a)) [s[KNOWN], s[FIRST]] = [1, SIDES.indexOf(a)];
  else if (v.first !== '-') s[CHOICE] = 1 + 2 * 'de'.indexOf(a) + SIDES.indexOf(b);
  if (v.start !== '-') [s[STARTED], s[START], s[START + 1]] = [1, person(v.start.slice(0, 2)), person(v.start.slice(2)) - 2];
  s[ENDS] = +(v.ends[0] === '1');
  s[MADE] = +v.ends.endsWith('m');
  [[DUE, 'e'], [PUT, 'p'], [WALK, 'x']].forEach(([at, c]) => { s[at] = +v.due.includes(c); });
  s[PHASE] = phases.indexOf(v.phase);
  outcome(s, v.result);
  const n = breaks.findLastIndex((name, n) => n && v.break.startsWith(name));
  s[BREAK] = Math.max(n, 0);
  if (n > 0 && n < REFEREE) s[OWNER] = n === TIME_OUT ? SIDES.indexOf(v.break[1]) * 2 : person(v.break.slice(breaks[n].length));
  if (s.some(n => n === undefined || !(n >= 0)) || s[START] > 1) return;
  for (s[ORDER] = 0; s[ORDER] < (s[PHASE] === PLAY ? 32 : 1); s[ORDER]++) { // the order is found from the places
    if (s[PHASE] === PLAY && !valid(r.game(s), s) || r.line(s) !== 'L2 ' + FIELDS.map(([f]) => f + '=' + v[f]).join(' ')) continue;
    return impossible(r, s) ? undefined : s;
  }
}

part.parseLine = parseLine;

function outcome(s, text) {
  const [, winner, how] = /^([AB]?)(.*)$/.exec(text), forfeit = how === 'gf' || how === 'gfab', cause = forfeit ? FORFEITED : how ? outcomes.indexOf(how) : PLAYED;
  if (text === '-') return;
  s[WINNER] = cause === TIED ? 3 : SIDES.indexOf(winner) + 1;
  s[ABORTED] = +(how === 'gfab' || cause === ABANDONED && s[PHASE] !== CLOSED);
  s[CAUSE] = cause === ABANDONED && s[ABORTED] ? 0 : cause;
}

// Whether no event can bring a state about in this format.
function impossible(r, s) {
  const {games, playAll} = r.match, p = s[PHASE], n = s[GAME], g = r.game(s), a = s[SCORE], b = s[SCORE + 1], tally = s[WON] + s[WON + 1];
  const t = clause => r.takes(clause), most = Math.max(s[WON], s[WON + 1]), decided = !playAll && most >= r.needed || tally >= games;
  const done = p === OVER || p === CLOSED, cause = s[ABORTED] ? ABANDONED : done ? s[CAUSE] : 0, forfeited = p === BETWEEN && s[WINNER] > 0;
  const fouled = side => s[FOULS + side] > 0 || s[WARNINGS + side] > 1, own = Math.max(a, b), other = Math.min(a, b), due = s[DUE], made = s[MADE];
  const ended = won(g, own, other), final = ended && !(g.cap && own > g.cap || g.winBy === 1 && own > g.target) && !won(g, own - 1, other);
  // A score that no rallies lead to needs a penalty of the side that is behind.
  const penalties = fouled(1) && a >= b || fouled(0) && b >= a || p !== PLAY && t('second-warning-game');
  const played = p === BETWEEN && !forfeited || cause === PLAYED && !s[FORFEITS] && !s[FORFEITS + 1];
  // Whether a side has won the game in play, whatever penalties of the other took off it since, or gave the side where no game is won so.
  const had = side => {
    const own = s[SCORE + side], other = s[SCORE + 1 - side], moved = s[FOULS + 1 - side] + (s[WARNINGS + 1 - side] > 1);
    return t('awarded-point-wins-not') ? won(g, Math.max(own - moved, 0), other) : won(g, own, Math.min(other + moved, MOST_POINTS));
  };
  const before = g.cap && own >= g.cap || g.winBy === 1 && own >= g.target, each = EACH;
  return n > games || p === BEFORE && n || (p === PLAY || p === BETWEEN) && !n ||
    p === PLAY && tally !== n - 1 || p === BETWEEN && tally !== n || tally > n || p === OVER && cause === PLAYED && tally !== n ||
    (p === PLAY || p === BETWEEN) && decided || cause === PLAYED && !decided || !playAll && most > r.needed ||
    cause === PLAYED && s[WON + s[WINNER] - 1] <= s[WON + 2 - s[WINNER]] || cause === TIED && s[WON] !== s[WON + 1] ||
    p === PLAY && (had(0) || had(1)) || [0, 1].some(side => s[OPENS + side] && !fouled(1 - side) || s[OPENS + side] > 1 && (p === BETWEEN || !r.doubles || s[FOULS + 1 - side] < 2)) ||
    p === BEFORE && (s[ENDS] || made) || s[BREAK] === TIME_OUT && p === PLAY && !s[USED + (s[OWNER] >> 1)] || s[BREAK] === CARE && !s[MEDICAL + s[OWNER]] ||
    p !== PLAY && !s[STARTED] && a + b || p === PLAY && (ended || before) && !penalties || played && (!final && !penalties || !ended) ||
    cause === LATE && (p !== OVER || n) || p !== BEFORE && p !== BETWEEN && cause !== LATE && s[OPENS] + s[OPENS + 1] || (p === PLAY || s[STARTED]) && !s[KNOWN] || s[CHOICE] && (s[KNOWN] || s[STARTED] || done && cause !== LATE) ||
    p === PLAY && !s[STARTED] || s[STARTED] && !n || !r.doubles && s[START] + s[START + 1] ||
    due && (p !== PLAY || !g.changeEndsAt && !g.changeEndsEvery || made) || s[WALK] && (p !== PLAY || !due && !made && !g.changeEndsEvery || !g.is.has('exchange')) ||
    made && (!g.changeEndsAt || !s[STARTED]) || games === 1 && !g.changeEndsEvery && s[ENDS] !== made ||
    games === 1 && p === PLAY && g.changeEndsEvery && !fouled(0) && !fouled(1) && due !== (Math.floor((a + b) / g.changeEndsEvery) + s[ENDS] & 1) ||
    s[PUT] && (p !== PLAY || !t('order-fault') || r.places(s).number !== 2) || done && !cause || !done && s[CAUSE] && !forfeited ||
    done && (cause > FORFEITED && cause < LATE) === s[WINNER] % 3 > 0 || // whether somebody won
    p === OVER && cause === ABANDONED || s[BREAK] && (p === BEFORE || done) ||
    !s[BREAK] && asking(s) !== undefined && (p === PLAY || p === BETWEEN) || !r.doubles && s[OWNER] & 1 ||
    [0, 1].some(side => s[USED + side] > r.coming(s).timeOuts || (done || p === BEFORE) && s[USED + side]) ||
    each.some(p => {
      const second = !r.doubles && p & 1, m = s[MEDICAL + p], out = s[OUT + p];
      return (second || s[PHASE] === BEFORE) && m || m === 3 && s[BREAK] < BLOOD || second && out || !r.doubles && out === 1 ||
        out === 1 && s[OUT + partner(p)] === 1 || s[CARRY + p] && (second || !t('carried-penalties'));
    }) || s[WRONG] + s[WRONG + 1] && !t('order-stands-warned');
}
