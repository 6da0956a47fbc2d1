// What an id sets besides shape and edition: readings of switches, and fields of games and match.
import rulings from './pack/rulings.js';
import {number} from './lines.js';
import {MOST_POINTS, part, noFormat, words, freezes, timeOutsOf} from './core.js';

const fields = rows => new Map(rows.map(words).map(([name, ...values]) => [name, {field: name.replace(/-(.)/g, (_, c) => c.toUpperCase()), values}]));
const ofGame = fields(rulings.fields), ofMatch = fields(rulings.match);

// The number of a field's value.
function valueOf({values}, value, name) {
  const v = values.length ? value === '-' ? -1 : values.indexOf(value) : number(value, 255) ?? -1;
  return v < 0 ? noFormat(name) : v;
}

const limits = new Map(rulings.own.map(words).map(([name, ...values]) => [name, values]));

// Lets a switch take a reading or number of the event's own.
function take(rules, [name, , readings], value) {
  const values = limits.get(name) || words(readings), most = +values[0], v = most && number(value, most);
  if (value === '-' || v === 0) rules.take(name, 0, values);
  else if (v) [rules.taken[name], rules.value[name]] = [words(readings).indexOf(value) + 1 || 1, value];
  else rules.take(name, !most && values.indexOf(value) + 1 || noFormat(name), values);
}

part.own = (rules, own) => {
  const set = new Map(), of = (name, or) => set.get(name)?.v ?? or;
  for (const text of own) {
    const [, name, value] = /^([^=]*)=(.*)$/s.exec(text) || noFormat('want +NAME=VALUE'), last = name.startsWith('last-');
    const f = ofGame.get(last ? name.slice(5) : name) || ofMatch.get(name);
    if (set.has(name)) noFormat(name);
    if (f) set.set(name, {field: f.field, last, v: valueOf(f, value, name)});
    else take(rules, part.switches.find(row => row[0] === name) || noFormat(name), value);
  }
  const [game, last] = rules.games, {match} = rules, was = {...last}, {games} = match, before = game.target;
  const keeps = games > 1 ? !match.changeEnds : !was.changeEndsAt && !was.changeEndsEvery;
  game.target = of('target', game.target);
  match.games = of('games', games);
  const target = of('last-target', game.target === before && match.games === games ? was.target : game.target), more = match.games > 1;
  Object.assign(last, game, {target, changeEndsAt: 0});
  if (was.changeEndsAt) last.changeEndsAt = Math[2 * was.changeEndsAt < was.target ? 'floor' : 'ceil'](target / 2);
  if (more && target === was.target) last.changeEndsEvery = was.changeEndsEvery;
  game.changeEndsAt = 0;
  match.changeEnds = +(more && !keeps);
  for (const g of [game, last]) g.timeOuts = +(rules.value[timeOutsOf(g.target)] || 0);
  if (!more) Object.assign(game, last);
  for (const [name, {field, v}] of set) if (ofMatch.has(name)) match[field] = v;
  for (const late of [false, true]) { // what is of the last game alone comes after
    for (const x of set.values()) if (x.field in game && x.last === late && x.field !== 'target') for (const g of late && more ? [last] : [game, last]) g[x.field] = x.v;
  }
  validate(rules, game, last, match);
};

const [PARITY, FIXED, SWAP, HALF, COUNTED, TIE_BREAK] = ofGame.get('order').values.map((_, i) => i).slice(1), counted = g => g.order === COUNTED || g.order === TIE_BREAK;

// Whether no game can be so.
function badGame(g) {
  const singles = g.sides === 1, [, , withOf] = freezes[g.freeze];
  return g.servers < 1 || g.servers > 2 || g.servers !== 1 && (singles || g.order === FIXED || g.order > HALF) || g.order < PARITY ||
    (singles ? g.order === FIXED || g.order === SWAP : g.order === HALF) || g.firstTurn < 1 || g.firstTurn > Math.max(g.servers, g.serves) ||
    counted(g) !== g.serves > 0 || counted(g) && (g.scorer === 1 || g.freeze || g.winBy > 2) || g.freeze && g.scorer === 1 ||
    g.target < 1 || g.target > 250 || g.winBy < 1 || g.winBy > g.target || g.cap && g.cap < g.target ||
    withOf > 0 && withOf < MOST_POINTS && g.target <= withOf || g.changeEndsAt && (g.changeEndsEvery || g.changeEndsAt >= g.target) || g.timeOuts > 15;
}

function validate(rules, game, last, {games, playAll, nextServe}) {
  const both = [game, last], differs = Object.keys(game).some(f => game[f] !== last[f]);
  if (games < 1 || games > 9 || !playAll && games % 2 === 0 || both.some(badGame) || game.sides !== last.sides || games === 1 && differs ||
    both.some(counted) && rules.taken['foul-value'] || both.some(g => g.order === COUNTED) && game.sides === 2 && games > 1 && nextServe !== 1) noFormat('impossible');
  const taken = new Set(part.switches.map(([name]) => rules.clause(name)));
  for (const [name, takes, readings, , needs, asked] of part.switches) {
    if (!takes || rules.value[name] === words(readings)[takes[rules.edition] - 1]) continue;
    const [field, value] = (asked || '').split('='), {values} = ofGame.get(field) || {}, has = g => !asked || g[field] === (values.length ? values.indexOf(value) : +value);
    if (needs && !words(needs).some(c => taken.has(c)) || !both.some(has) || name.startsWith('time-outs-') && !both.some(g => timeOutsOf(g.target) === name)) noFormat(name + ' is never asked');
  }
}
