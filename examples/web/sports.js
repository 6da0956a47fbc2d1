// Other sports: turns that are counted in points, ends that change every so many points, and of which sports no more than the
// scoring is known.
import pack from './pack/sports.js';
import {SCORE, ORDER, FIRST, START, STARTED, DUE, DID, SIDE_OUT, part, words, bring, sideOut, endsDue, addFamilies} from './core.js';

const known = part.editions.length, without = words(pack.kinds);
part.editions = [...part.editions, ...words(pack.editions)];
const masks = part.masks;
part.masks = (r, key) => masks(r, key) || pack.orders[key];
part.switches = part.switches.map(([name, takes, ...rest]) => [name, takes.padEnd(known, '0') + (pack.takes[name] || ''), ...rest]);
addFamilies(pack.formats);

// Half the target at which ends change in the last game (0 for none, 1 rounded up, 2 down), the points of a turn and of the first,
// those after which ends change, in the last game too, its target if it has one of its own, and whether ends stay after a game.
part.sport = ([half, serves, firstTurn, every, lastEvery, lastTarget, keeps], game, last, match) => {
  for (const g of [game, last]) Object.assign(g, {serves, firstTurn, changeEndsEvery: every});
  Object.assign(last, {target: lastTarget || last.target, changeEndsAt: half && last.target + 2 - half >> 1, changeEndsEvery: lastEvery});
  if (keeps) match.changeEnds = 0;
};

part.unruled = (r, {kind, fault, incident}) => {
  const given = kind === 'time-out' && r.games.some(g => g.timeOuts);
  if (r.edition >= known && (fault || incident || without.includes(kind) && !given)) return 'not-in-edition scoring-only';
};

/** The clause that stands in the place of another in an edition. */
export const instead = (edition, clause) => pack.instead.find(([e, of]) => e === edition && of === clause)?.[2] || clause;

// Whether a turn ends when both sides together have made so many points, the lower score being low.
const turnEnds = (g, points, low) => low >= single(g) || points >= g.firstTurn && (points - g.firstTurn) % g.serves === 0;

// The score of both from which on each point is a turn.
const single = g => g.is.has('single') ? g.target - 1 : Infinity;

part.follows = (r, s, start) => {
  const other = start.filter((n, side) => n !== s[START + side]).length;
  if (s[STARTED] && other === 1 && r.coming(s).is.has('receiver-follows')) return 'not-its-choice';
};

part.turn = (g, s, winner, scored) => {
  const own = s[SCORE + winner], other = s[SCORE + 1 - winner];
  if (scored && turnEnds(g, own + other, Math.min(own, other))) {
    sideOut(g, s);
    s[DID] |= SIDE_OUT;
  }
  if (g.is.has('around') && scored && own === g.changeEndsAt && other < own) s[ORDER] ^= 4;
};

part.opened.push((r, s, g) => { // points that nobody served for are counted too
  for (let n = 1; g.serves && n <= s[SCORE] + s[SCORE + 1]; n++) if (turnEnds(g, n, 0)) sideOut(g, s);
});

part.every = (g, s) => {
  if ((s[SCORE] + s[SCORE + 1]) % g.changeEndsEvery) return;
  if (s[DUE]) s[DUE] = 0; // one more cancels one that was missed
  else endsDue(g, s);
};

// Whether the points of a game lead to its order: turn by turn, and where the order can have turned around, from one of the
// totals at which that can have been.
part.counts = (g, s) => {
  const [low, high] = [s[SCORE], s[SCORE + 1]].sort((a, b) => a - b), at = g.is.has('around') ? g.changeEndsAt : 0, played = turned => {
    const t = s.slice();
    t[ORDER] = t[FIRST] | (g.firstTurn < g.serves) << 2;
    bring(t, g.masks.start);
    for (let n = 1; n <= low + high; n++) {
      if (turnEnds(g, n, n < 2 * single(g) ? 0 : n >> 1)) sideOut(g, t);
      if (n === turned) t[ORDER] ^= 4;
    }
    return t[ORDER] === s[ORDER];
  };
  if (!at || high < at) return played(0);
  for (let other = 0; other < at && other <= low; other++) if (played(at + other)) return true;
  return false;
};
