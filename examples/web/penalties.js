// Warnings, fouls and challenges, what is carried from the last match, and lateness.
import rulings from './pack/rulings.js';
import {GAME, WON, SCORE, OPENS, ORDER, STARTED, PHASE, CAUSE, WINNER, USED, MEDICAL, VERBAL, WARNINGS, FOULS, FORFEITS, CARRY, SHARED, LATE, DID, BEFORE, BETWEEN,
  OVER, GAME_WON, WARNED, FOULED, WARNED_VERBALLY, PENALTY_POINT, GAME_FORFEITED, MATCH_FORFEITED, MATCH_WON, MOST_POINTS, part, words, asked, bring, reach,
  clear, endBreak, charge, count, gameForfeit, forfeitGame, matchForfeit, endGame, won, pastStart, recorded} from './core.js';

const partner = p => p ^ 1;

/** The order of service after a penalty moved the score of a side. */
export const moved = (g, s, side) => bring(s, g.masks.foul, asked(s, +(side === (s[ORDER] & 1))));

part.opened.push((r, s) => { if (s[SCORE] + s[SCORE + 1] && r.takes('penalty-end-change')) reach(r, s, s[SCORE + 1] & 1); });

part.gameOver = (r, s) => { if (r.takes('second-warning-game')) clear(s, WARNINGS, WARNINGS + 1); };

// What the ladder makes of a warning or a foul, by what the side has been given before.
function rung(r, s, side, foul) {
  const at = (foul + 2 * r.takes('two-fouls-game') + 4 * r.takes('made-foul-counts')) * 12;
  return rulings.rungs[rulings.ladder[at + Math.min(s[WARNINGS + side], 2) * 4 + Math.min(s[FOULS + side], 1) * 2 + Math.min(s[FORFEITS + side], 1)]];
}

// The reading that stands in the place of a clause; of one that is no reading itself, and "" where the edition has none.
function standing(r, clause) {
  const row = part.switches.find(([, , , clauses]) => words(clauses).includes(clause));
  return row ? r.clause(row[0]) || '' : clause;
}

const noFoulNow = (r, s) => s[PHASE] !== BETWEEN || r.takes('fouls-between') || r.takes('warning-between') ? undefined :
  'not-in-edition no-warning-between no-fouls-between';

function climb(r, s, side, foul) {
  const [to, clause] = rung(r, s, side, foul), waits = foul || to === 1 ? noFoulNow(r, s) : undefined;
  if (waits) return waits;
  count(s, (foul ? FOULS : WARNINGS) + side, 7);
  s[DID] |= foul ? FOULED : WARNED;
  if (to === 3) matchForfeit(s, side);
  else if (to === 2) gameForfeit(r, s, side);
  else if (to === 1) {
    s[DID] |= FOULED;
    return movePoint(r, s, side, clause);
  }
  return '- ' + (to === 2 ? clause : standing(r, clause)); // a forfeited game goes by the same clause whatever is read
}

export const warn = (r, s, side) => climb(r, s, side, 0), foul = (r, s, side) => climb(r, s, side, 1);

// The clause by which a foul moves people, where an order has one of its own.
const orders = words(rulings.fields.find(row => row.startsWith('order '))).slice(1), placed = Object.fromEntries(rulings.switches.filter(row => /^order=/.test(row[5])).map(row => [orders.indexOf(row[5].slice(6)), words(row[3])[0]]));

// Carries out the point of a foul. A penalty is no rally: freezes and last-point rules never hold it back.
export function movePoint(r, s, offender, clause = '') {
  const value = standing(r, 'foul-awards') || 'foul-awards', own = standing(r, clause), by = `- ${own || value} `, opening = s[PHASE] === BEFORE ? ['penalty-before', 'carried-penalties'] : ['fouls-between', 'warning-between'];
  s[DID] |= PENALTY_POINT;
  if (s[PHASE] === BEFORE || s[PHASE] === BETWEEN) {
    chargeOpening(s, offender);
    return by + opening[+!r.takes(opening[0])];
  }
  const gains = 1 - offender, off = s[SCORE + offender] > 0 && r.takes('foul-removes'), side = off ? offender : gains, g = r.game(s);
  if (!off && s[SCORE + side] === MOST_POINTS) return 'most-points';
  s[SCORE + side] += off ? -1 : 1;
  const also = penalized(r, s, side, gains, off, g);
  return by + (also || own && value || standing(r, placed[g.order]) || placed[g.order] || 'foul-places');
}

// What follows once a penalty has moved the score of a side; returns the clause that decides more than the foul.
export function penalized(r, s, side, gains, off, g) {
  const ends = off ? 'removed-point-ends' : 'awarded-point-wins', over = won(g, s[SCORE + gains], s[SCORE + 1 - gains]);
  if (over && r.takes(ends)) {
    s[DID] |= GAME_WON;
    endGame(r, s, gains);
    return ends;
  }
  moved(g, s, side);
  const due = s.slice();
  if (!off) reach(r, due, gains);
  if (due[DID] === s[DID]) return over && standing(r, ends);
  if (r.takes('penalty-end-change')) Object.assign(s, due);
  return standing(r, 'penalty-end-change') || ' ';
}

// Charges a foul to the coming game: the opponents open it with a point, or the offenders lose the one they would have had.
function chargeOpening(s, offender) {
  if (s[OPENS + offender]) s[OPENS + offender]--;
  else s[OPENS + 1 - offender]++;
}

function penalty(r, s, e) {
  const p = s[PHASE], side = e.side, verbal = e.kind === 'verbal-warning', warning = e.kind === 'technical-warning';
  if (!r.clause('foul-value')) return 'not-in-edition badminton-misconduct';
  if (p === BEFORE && !r.takes('penalty-before')) return 'not-in-edition no-penalty-before';
  if (p === OVER && !r.takes('carried-penalties')) return 'not-in-edition nothing-carried';
  if (verbal && s[VERBAL + side]) return 'second-verbal verbal-warning';
  if (p === OVER) return afterTheEnd(s, side, verbal ? VERBAL : warning ? WARNINGS : FOULS);
  if (verbal) return give(s, side, VERBAL);
  if (warning) return warn(r, s, side);
  return p === BETWEEN && !r.takes('fouls-between') ? 'not-in-edition no-fouls-between' : foul(r, s, side);
}

// Counts a penalty of a side and says so.
function give(s, side, what) {
  count(s, what + side, what === VERBAL ? 1 : 7);
  s[DID] |= what === VERBAL ? WARNED_VERBALLY : what === WARNINGS ? WARNED : FOULED;
}

// Records a penalty that is carried into the next match.
function afterTheEnd(s, side, what) {
  recorded(s);
  give(s, side, what);
  return '- carried-penalties';
}

// Brings a penalty from a player's last match: it never climbs among what is brought, but what was given before the match climbs
// on all of it, in whatever order it was entered. What partners bring from the same pair counts once.
function carry(what, same) {
  return (r, s, {person, side}) => {
    const has = (p, what) => s[CARRY + p] & what, by = same ? 'carried-from-pair' : 'carried-penalties';
    if (!r.takes('carried-penalties')) return 'not-in-edition nothing-carried';
    if (s[PHASE] !== BEFORE) return pastStart(s);
    if (has(person, what) || same && !has(partner(person), what)) return 'not-now ' + by;
    const [warnings, fouls] = given(s, side);
    s[CARRY + person] |= what;
    if (what === 1) {
      give(s, side, VERBAL);
      return '- ' + by;
    }
    s[DID] |= what === 2 ? WARNED : FOULED;
    if (same) {
      s[SHARED + side * 2 + (what >> 2)] = 1;
      return '- ' + by;
    }
    count(s, (what === 2 ? WARNINGS : FOULS) + side, 7);
    if (what === 4) {
      chargeOpening(s, side);
      s[DID] |= PENALTY_POINT;
    }
    const [came, why] = climbing(r, s, side, warnings, fouls);
    if (came & MATCH_FORFEITED) matchForfeit(s, side);
    else if (came & GAME_FORFEITED) gameForfeit(r, s, side);
    else if (came & PENALTY_POINT && what === 2) {
      chargeOpening(s, side);
      s[DID] |= FOULED | PENALTY_POINT;
    } else return;
    return why;
  };
}

// Gives a side once more what it was given before the match, now that it has brought more; returns all that comes of it, and the
// clauses of what came last.
function climbing(r, s, side, warnings, fouls) {
  const trial = s.slice();
  trial[DID] = 0;
  trial[WARNINGS + side] -= warnings;
  trial[FOULS + side] -= fouls;
  let why;
  for (let n = 0; n < fouls; n++) why = foul(r, trial, side);
  for (let n = 0; n < warnings; n++) why = warn(r, trial, side);
  return [trial[DID], why];
}

// The warnings and fouls that a side was given before the match, what it brought left out.
function given(s, side) {
  const left = (at, what, n) => Math.max(s[at + side] - [0, 1].filter(n => s[CARRY + side * 2 + n] & what).length + s[SHARED + side * 2 + n], 0);
  return [left(WARNINGS, 2, 0), left(FOULS, 4, 1)];
}

// Charges a time-out; with none left it is a technical foul.
export const chargeOr = (r, s, side, then) => charge(r, s, side) ? then && then() : foul(r, s, side);

function challenge(r, s, {kind, side}) {
  const p = s[PHASE], lost = kind === 'challenge-lost';
  if (p === OVER && !r.takes('challenge-last-rally')) return 'over no-challenge-last-rally';
  if (lost && !r.takes('challenge-lost')) return 'not-in-edition challenge-free';
  if (!lost && !r.takes('challenge-dropped')) return 'not-in-edition challenge-dropped-free';
  if (p === BEFORE) return 'not-started one-moment';
  if (p === OVER) {
    recorded(s);
    if (!lost) return '- challenge-last-rally';
    if (!r.takes('carried-penalties')) return '- challenge-last-rally nothing-carried';
    give(s, side, WARNINGS); // there is no time-out left to lose
    return '- challenge-last-rally carried-penalties';
  }
  const why = lost ? chargeOr(r, s, side, () => warn(r, s, side)) : chargeOr(r, s, side);
  return joined(lost ? 'challenge-lost' : 'challenge-dropped', why);
}

// An answer with a clause before its own; only the first two are told.
export const joined = (clause, why) => why && why.split(' ').toSpliced(1, 0, clause).slice(0, 3).join(' ');

Object.assign(part.handlers, {
  'verbal-warning': penalty, 'technical-warning': penalty, 'technical-foul': penalty,
  'carried-verbal': carry(1), 'carried-warning': carry(2), 'carried-foul': carry(4),
  'same-verbal': carry(1, true), 'same-warning': carry(2, true), 'same-foul': carry(4, true),
  'challenge-lost': challenge, 'challenge-withdrawn': challenge,
  // Enough lateness forfeits the first game, more of it the match; where both are late over the same limit the clock forfeits
  // nothing, and what the first of them forfeited is taken back.
  'late-arrival'(r, s, {side, seconds}) {
    const game = +r.value['late-game-seconds'], match = +r.value['late-match-seconds'], ended = s[CAUSE] === LATE && s[PHASE] === OVER;
    const by = ended || s[PHASE] === BETWEEN && s[WINNER] && !s[STARTED] && s[GAME] === 1 && !s[FORFEITS] && !s[FORFEITS + 1] ? 2 - s[WINNER] : undefined;
    if (!game || !match) return 'not-in-edition late-game';
    if (s[PHASE] !== BEFORE && (by === undefined || by === side)) return pastStart(s);
    const whole = seconds >= match || seconds >= game && r.match.games === 1;
    if (ended && !whole || seconds < game && !whole) recorded(s);
    else if (by === undefined && !whole) forfeitGame(r, s, side);
    else {
      if (by !== undefined) {
        endBreak(s);
        clear(s, USED, USED + 1, MEDICAL, MEDICAL + 1, MEDICAL + 2, MEDICAL + 3, PHASE, GAME, WON, WON + 1, CAUSE, WINNER);
      }
      if (ended || !whole) {
        recorded(s);
        return '- late-both';
      } else { // all that was before the match is kept, since it may be taken back
        [s[PHASE], s[CAUSE], s[WINNER]] = [OVER, LATE, 2 - side];
        s[DID] |= MATCH_FORFEITED | MATCH_WON;
        return '- late-match';
      }
    }
  },
});
