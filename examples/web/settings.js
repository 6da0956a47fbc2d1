// What an id sets besides shape and edition: readings of switches, and fields of games and match.
import pack from './pack/core.js';
import {number} from './lines.js';
import {MOST_POINTS, part, noFormat} from './core.js';

const camel = name => name.replace(/-(.)/g, (_, c) => c.toUpperCase());

part.own = (rules, own) => {
  const set = [], fields = (list, name) => list.find(f => f.name === name);
  for (const text of own) {
    const at = text.indexOf('='), name = text.slice(0, at), value = text.slice(at + 1), last = name.startsWith('last-');
    if (at < 0) noFormat('want +NAME=VALUE');
    const game = fields(pack.fields, last ? name.slice(5) : name), of = fields(pack.match, name), row = fields(rules.rows, name), f = game || of;
    if (f) {
      const v = f.names ? value ? f.names.indexOf(value) : -1 : number(value, 255) ?? -1;
      if (v < 0 || set.some(x => x.name === name)) noFormat(name);
      set.push({name, field: camel(f.name), last, of: !game, v});
    } else if (row) {
      const v = value === '-' ? 0 : !row.clauses ? 1 : row.readings ? row.readings.indexOf(value) + 1 || noFormat(name) : number(value, 9999) ?? noFormat(name);
      rules.value[name] = v;
    } else noFormat(name);
  }
  const [game, last] = rules.games, {match} = rules, of = (name, or) => set.find(x => x.name === name)?.v ?? or;
  const timeOuts = g => { g.timeOuts = rules.value[pack.time_outs.filter(([from]) => from <= g.target).pop()?.[1]] || 0; };
  const was = {...last}, {games} = match, keeps = games > 1 ? !match.changeEnds : !was.changeEndsAt && !was.changeEndsEvery, before = game.target;
  game.target = of('target', game.target);
  match.games = of('games', match.games);
  const target = of('last-target', game.target === before && match.games === games ? was.target : game.target);
  Object.assign(last, game, {target, changeEndsAt: 0});
  if (was.changeEndsAt) last.changeEndsAt = Math[2 * was.changeEndsAt < was.target ? 'floor' : 'ceil'](target / 2);
  if (match.games > 1 && target === was.target) last.changeEndsEvery = was.changeEndsEvery;
  game.changeEndsAt = 0;
  match.changeEnds = +(match.games > 1 && !keeps);
  for (const g of [game, last]) timeOuts(g);
  if (match.games === 1) Object.assign(game, last);
  for (const late of [false, true]) {
    for (const x of set) {
      if (x.of) match[x.field] = x.v;
      else if (x.last === late && x.field !== 'target') for (const g of late && match.games > 1 ? [last] : [game, last]) g[x.field] = x.v;
    }
  }
  validate(rules, game, last, match);
};

const COUNTED = pack.fields.find(f => f.name === 'order').names.indexOf('counted-turns'), counted = g => g.order === COUNTED || g.order === COUNTED + 1;

function validate(rules, game, last, match) {
  const bad = g => g.servers < 1 || g.servers > 2 || g.sides === 1 && g.servers !== 1 || g.order === 2 && g.servers !== 1 ||
    g.firstTurn < 1 || g.firstTurn > Math.max(g.servers, g.serves) || g.order > 4 && g.servers !== 1 || counted(g) !== g.serves > 0 ||
    counted(g) && (g.scorer === 1 || g.freeze || g.winBy > 2) || g.changeEndsAt && g.changeEndsEvery || g.order < 1 || g.sides === 1 && (g.order === 2 || g.order === 3) || g.sides === 2 && g.order === 4 ||
    g.target < 1 || g.target > 250 || g.winBy < 1 || g.winBy > g.target || g.cap && g.cap < g.target || g.freeze && g.scorer === 1 ||
    pack.freezes[g.freeze][3] > 0 && pack.freezes[g.freeze][3] < MOST_POINTS && g.target <= pack.freezes[g.freeze][3] ||
    g.changeEndsAt && g.changeEndsAt >= g.target || g.timeOuts > 15;
  if ([game, last].some(counted) && (rules.value['foul-value'] ||
    [game, last].some(g => g.order === COUNTED) && game.sides === 2 && match.games > 1 && match.nextServe !== 1)) noFormat('impossible');
  const {games, playAll} = match, differs = pack.fields.some(f => game[camel(f.name)] !== last[camel(f.name)]);
  if (games < 1 || games > 9 || !playAll && games % 2 === 0 || bad(game) || bad(last) || game.sides !== last.sides || games === 1 && differs) noFormat('impossible');
  const taken = new Set(rules.rows.map(row => rules.clause(row.name)));
  for (const row of rules.rows) {
    if (!row.takes || rules.value[row.name] === row.takes[rules.edition]) continue;
    if (row.needs && !row.needs.some(c => taken.has(c))) noFormat(row.name + ' is never asked');
    const [field, value] = (row.asked || '').split('='), f = pack.fields.find(f => f.name === field);
    if (f && ![game, last].some(g => (f.names ? f.names[g[camel(field)]] : String(g[camel(field)])) === value)) noFormat(row.name + ' is never asked');
    const ofTarget = g => pack.time_outs.filter(([from]) => from <= g.target).pop()[1];
    if (row.name.startsWith('time-outs-') && ![game, last].some(g => ofTarget(g) === row.name)) noFormat(row.name + ' is never asked');
  }
}
