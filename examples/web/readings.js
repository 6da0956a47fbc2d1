// What the pack holds besides, for breaks, penalties and incidents: switches that they turn on, kinds of events, and by which
// clause the core decides.
import pack from './pack/core.js';
import rulings from './pack/rulings.js';
import {BETWEEN, PHASE, STARTED, START, WINNER, BREAK, CARE, POINT, WITHHELD, GAME_WON, ENDS_DUE, BREAK_ENDED, part, words, addKinds, faults,
  timeOutsOf, Rules} from './core.js';
import {instead} from './sports.js';

/** Returns the clause that a switch goes by; undefined where there is no such rule. */
Rules.prototype.clause = function (name) {
  const row = part.switches.find(row => row[0] === name);
  return row && words(row[3])[this.taken[name] - 1];
};

/** Reports whether the rules go by a clause that is a reading of a switch. */
Rules.prototype.takes = function (clause) { return this.in.has(clause); };
part.settled = r => { r.in = new Set(part.switches.map(([name]) => r.clause(name))); };

// Masks of penalties and of lines, and those of orders that a reading changes.
const masks = part.masks;
part.masks = (r, key) => {
  const by = [...r.in].find(c => rulings.orders[key + ',' + c]);
  return by ? rulings.orders[key + ',' + by] : {...masks(r, key), ...rulings.orders[key]};
};

const kinds = words(rulings.kinds), accepted = words(rulings.accepted), freezes = words(rulings.freezes);
part.switches = [...part.switches.map((row, i) => [...row, rulings.clauses[i]]), ...rulings.switches, ...words(rulings.idle).map(name => [name, ''])];
part.afterEnd.push(...words(rulings.after_end));
part.broken.push(...words(rulings.broken));
addKinds(words(pack.later).map((text, i) => kinds[i] + ':' + text));
const taken = Object.fromEntries([...words(pack.kinds).map(row => row.split(':')[0]), ...kinds].map((kind, i) => [kind, accepted[i].replace(/^-$/, '')]));

// Clauses behind a refusal that names none itself, by kind and code, or by code.
const refusals = {
  malformed: 'event-words', closed: 'sheet-final', 'no-such-player': 'event-words', over: 'match-over', abandoned: 'resumed', 'first-settled': 'choice-final',
  'no-first-server': 'first-choice', 'most-points': 'most-points', 'awaiting-medical': 'medical-who-says', 'not-fixed': 'places-by-score', 'exchange not-started': 'exchange-of-courts',
  'exchange not-now': 'exchange-of-courts', 'time-out not-started': 'time-out-before-match', 'time-out not-in-edition': 'no-time-out-between',
  'start-game not-its-choice': 'table-tennis-receiver', 'first-choice not-its-choice': 'first-choice', 'first-choice not-in-edition': 'no-deferring',
  'retirement not-started': 'retirement-when', 'withdrawal not-now': 'withdrawal retirement-only',
};

function refusedBy(r, s, e, code) {
  const by = refusals[`${e?.kind} ${code}`] || refusals[code] || 'one-moment', of = r.clause(timeOutsOf(r.coming(s).target)) || '';
  if (code === 'none-left') return 'time-out-none-left ' + of;
  if (code === 'wrong-side-first') return s[STARTED] ? [, 'alternate', 'badminton-first-serve', 'local-rules'][r.match.nextServe] : 'choice-final';
  if (code === 'in-play' && e.start && (e.start[0] !== s[START] || e.start[1] !== s[START + 1])) return 'starter-between-games';
  return e?.kind === 'medical-request' && (code === 'over' || code === 'abandoned') ? 'medical-outside-play ' + by : by;
}

const lost = {ten: 'ten-seconds lost-rally', absent: 'absent-due lost-rally', stopped: 'stopped-wrongly lost-rally', timeout: 'time-out-late lost-rally'};

// What decides where an event is taken otherwise than is usual for its kind.
function takenBy(r, s, e, did) {
  const between = s[PHASE] === BETWEEN;
  switch (e.kind) {
    case 'rally': case 'stop':
      if (did & WITHHELD) return freezes[r.coming(s).freeze];
      if (did & GAME_WON) return 'game-won';
      if (!e.incident && did & POINT && did & ENDS_DUE) return r.coming(s).changeEndsEvery ? 'ends-by-total' : r.match.games === 1 ? 'end-change-single' : 'end-change-last';
      return !e.incident && e.fault ? lost[faults[e.fault]] || 'lost-rally' : did & BREAK_ENDED && 'time-out-over';
    case 'time-out': return s[BREAK] === CARE ? 'medical-with-time-outs' : s[BREAK] ? 'time-out-again' : between && 'time-out-between';
    case 'start-game': return between && s[WINNER] && 'starter-named after-game-forfeit';
    case 'first-choice': return e.choice === 'defer' && 'deferring';
    case 'ends-changed': return r.game(s).changeEndsEvery && 'ends-by-total-missed';
  }
}

part.reasons = (r, s, e, code, by, did) => {
  const clauses = by.length ? by : words(code !== '-' ? refusedBy(r, s, e, code) : takenBy(r, s, e, did) || taken[e.kind]);
  return e?.kind === 'first-choice' ? clauses : clauses.map(c => instead(r.edition, c));
};
