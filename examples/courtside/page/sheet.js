// The match on paper: what was played, game by game, with a row of marks for each side: under every own score the number of the server
// who made it, a stroke where a turn ended.
import {h} from './dom.js';
import {t} from './text.js';
import {sideName, nameOf} from './sitting.js';
import {match} from '../../web/whole.js';

/** The games as marks, read from the entries that hold. */
export function marks(sitting) {
  const {engine} = sitting, head = JSON.parse(sitting.lines[0]);
  const again = match(head.format, {first: head.start ? undefined : head.setup?.first, from: head.start}), games = [];
  for (const {event} of engine.holds()) {
    const before = again.places(), line = again.line(), {effects, refused} = again.do(event);
    if (refused) return undefined; // a correction moved the score besides: its entries say how
    const game = () => games.at(-1), side = event[0], serving = before?.server[0];
    if (effects.includes('game-started')) games.push({A: [{}], B: [{}], line});
    if (!game()) continue;
    if (effects.includes('point') && /^[AB](:|\?|$)/.test(event)) game()[side].push({mark: before?.number || '1'});
    if (effects.includes('side-out') && serving) game()[serving].at(-1).end = true;
    game().final = again.line().match(/score=(\S+)/)[1];
  }
  return games;
}

/** The sheet as elements; rows are the entries in words, where the library is there. */
export function sheet(sitting, rows) {
  const {setup, engine} = sitting, doubles = engine.rules.doubles, games = marks(sitting);
  const fact = (name, value) => value && h('div', {}, h('dt', {}, name), h('dd', {}, value));
  const row = (game, side) => h('div', {class: 'marks'}, h('b', {}, sideName(setup, side, doubles)),
    h('ol', {}, game[side].map(({mark, end}, own) => h('li', {class: end ? 'end' : ''}, h('small', {}, String(own)), h('span', {}, (mark || '') + (end ? '/' : ''))))));
  return [
    h('h2', {}, t('sheet.title')),
    h('dl', {}, fact(t('sheet.match'), setup.match), fact(t('sheet.court'), setup.court), fact(t('sheet.referee'), setup.referee), fact(t('sheet.began'), setup.began),
      fact(t('courtside.format'), engine.rules.id), ...['A', 'B'].map(side => fact(side, [1, 2].slice(0, doubles ? 2 : 1).map(n => nameOf(setup, side + n)).join(', ')))),
    ...games ? games.map((game, i) => h('section', {class: 'game'}, h('h3', {}, `${t('courtside.game', {n: i + 1})}: ${game.final || '0-0'}`), row(game, 'A'), row(game, 'B'))) : [h('p', {}, t('courtside.no-marks'))],
    ...rows.length ? [h('h3', {}, t('sheet.notes')), h('ol', {class: 'notes'}, rows.filter(([, , holds, entry]) => holds === 'true' && !/^[AB](:\w+)?$/.test(entry) && !/^(undo|redo)$/.test(entry)).map(([n, , , , text]) => h('li', {value: n}, text)))] : [],
    h('div', {class: 'sign'}, h('p', {}, t('sheet.sign-winner')), h('p', {}, t('sheet.sign-referee'))),
    h('p', {class: 'note'}, t('officiate.caution')),
  ];
}
