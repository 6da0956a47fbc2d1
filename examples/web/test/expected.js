// What is right, by the library's answers: random logs of any format; of every edition of pickleball logs of the orders that it has,
// since what is rare is rare in each; every shape to the end of its match, in the first and the last edition of each span; and positions
// stated.
import {spawnSync} from 'node:child_process';
import rulings from '../pack/rulings.js';
import pack from '../pack/core.js';
import {part, shapes, words} from '../core.js';
import {answers, sumOf} from './compare.js';
import {walk} from './digests.js';
import {generator, anyEntry, anyFormat, incident, ownFormat, stated} from './random.js';

const orders = ['sideout-doubles-11-of3', 'fixed-doubles-21', 'swap-doubles-11', 'rally-doubles-11-of3', 'sideout-singles-11', 'half-court-singles-11'];
const walked = ['sideout-doubles-11', 'rally-doubles-11', 'fixed-doubles-21', 'swap-doubles-11', 'half-court-singles-11'];

/** Lists logs and walks with a name and the sum of what is right, by the program that compares. */
export function expected(program) {
  const next = generator(99), logs = [], known = words(pack.editions).length, spansOf = shape => shapes.get(shape);
  const add = (format, length, draw) => {
    const first = 'AB'[next(2)], entries = [];
    answers(format, first, '', Array.from({length}, () => m => {
      const text = draw(m);
      entries.push(text);
      return text;
    }));
    logs.push([format, first, '', ...entries]);
  };
  for (let n = 0; n < 1500; n++) {
    add(anyFormat(next), 30 + next(60), m => anyEntry(next, m));
    add(anyFormat(next), 40, m => next(2) ? 'set ' + stated(next, m) : anyEntry(next, m));
    for (let i = 0; i < 4; i++) add(ownFormat(next), 12, m => next(3) ? ['A', 'B', 'tA', 'tB', 'gfA', 'in', 'tfA', 'gfB'][next(8)] : anyEntry(next, m));
  }
  // Caps and ends of games that a penalty has moved the score past, and the breaks of a last game of its own.
  for (let n = 0; n < 300; n++) {
    const format = ['rally-doubles-11@2026', 'sideout-doubles-11@2024', 'fixed-doubles-21@2026'][n % 3] + `+target=4+cap=${4 + next(2)}${next(2) ? '+awarded-point-wins=no' : ''}`;
    add(format, 40, m => next(8) ? next(4) ? 'AB'[next(2)] : ['tfA', 'tfB'][next(2)] : 'set ' + (next(2) ? m.line() : stated(next, m)));
  }
  for (let n = 0; n < 200; n++) add(['sideout-doubles-11-of3@2026+last-target=15', 'sideout-doubles-21-of3@2026+last-target=11'][n % 2], 30, () => ['tA', 'tB', 'in', 'A', 'gfA', 'gfB', 'undo'][next(7)]);
  part.editions.forEach((edition, n) => {
    const has = shape => spansOf(shape).some(({from, to}) => from <= n && n <= to);
    for (const shape of orders) if (has(shape)) for (let i = 0; i < 60; i++) add(`${shape}@${edition}`, 40 + next(60), m => anyEntry(next, m));
    for (let i = 0; i < 12; i++) { // lateness, and rallies with an incident one after the other
      const shape = orders[i % 4];
      if (!has(shape)) continue;
      for (let k = 0; k < 3; k++) add(`${shape}@${edition}`, 4, () => `late${'AB'[next(2)]}:${[599, 600, 601, 899, 900, 901][next(6)]}`);
      add(`${shape}@${edition}`, 60, () => next(3) ? `${next(4) ? 'AB'[next(2)] : 'stop'}?${incident(next)}` : 'AB'[next(2)]);
    }
    for (const target of [7, 11, 15, 21]) add(`sideout-doubles-11@${n >= known || /badminton/.test(edition) ? part.editions[pack.default] : edition}+target=${target}`, 40, () => ['A', 'tA', 'tB'][next(3)]);
  });
  for (const shape of shapes.keys()) {
    for (const {from, to} of spansOf(shape)) {
      for (const edition of new Set([from, to])) {
        add(`${shape}@${part.editions[edition]}`, 330, m => { // whoever is behind wins, so that the score climbs to any cap
          const [, a, b] = / score=(\d+)-(\d+)/.exec(m.line());
          return a === b ? 'AB'[next(2)] : 'AB'[+(+a > +b)];
        });
        for (const lead of [2, 2, 2, 2, 9, 20]) add(`${shape}@${part.editions[edition]}`, 330, () => next(9) ? 'AB'[+!next(lead)] : ['tA', 'tB', 'ends', 'xA', 'A', 'B', 'gA1B2', 'gB2A1'][next(8)]);
      }
    }
  }
  for (const own of ['', '+made-foul-counts=no', '+two-fouls=game-forfeit', '+made-foul-counts=no+two-fouls=game-forfeit']) { // every rung of the ladder
    for (let i = 0; i < 60; i++) add(`sideout-doubles-11-of3@2026${own}`, 16, () => ['twA', 'tfA', 'gfA', 'tfA', 'twA', 'A', 'B'][next(7)]);
  }
  const sums = String(spawnSync(program, {input: logs.map(log => JSON.stringify(['log', ...log]) + '\n').join(''), maxBuffer: 1 << 28}).stdout).trim().split('\n');
  const right = logs.map((log, i) => ({name: `log ${i} in ${log[0]}`, log, sum: sums[i]}));
  for (const {name, log, sum} of right) if (sumOf(answers(...log.slice(0, 3), log.slice(3))) !== sum) throw new Error(`${name} differs from the library without any error`);
  return [...walked.map(shape => ({name: `WALK of ${shape}`, format: shape + '@2026', depth: 7, sum: sumOf([walk(shape + '@2026', ['A', 'B'], 7)])})), ...right];
}
