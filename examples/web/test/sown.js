// Errors to be sown: in the code one operator for another, in the pack one cell with another value that it could have.
import {readFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {words} from '../core.js';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');

/** The modules in which errors are sown: all that decide. */
export const modules = ['core', 'log', 'lines', 'sports', 'readings', 'breaks', 'penalties', 'incidents', 'corrections', 'settings', 'why', 'results'];

const swaps = [[' >= ', ' > '], [' > ', ' >= '], [' === ', ' !== '], [' !== ', ' === '], [' && ', ' || '], [' || ', ' && '], [' + 1', ' + 2'], ['1 - ', ''], [' |= ', ' = '], [' < ', ' <= ']];

/** Every error of the code that can be sown: an operator, wherever it stands, for another. */
export function codeErrors() {
  const out = [];
  for (const module of modules) {
    const file = module + '.js', whole = readFileSync(join(here, file), 'utf8');
    let at = 0;
    whole.split('\n').forEach((line, i) => {
      const code = /^\s*(\/\/|\*|\/\*\*|import)/.test(line) ? '' : line.split(/ \/\/ | \/\*\* /)[0];
      for (const [from, to] of swaps) {
        for (let n = 1, column = code.indexOf(from); column >= 0; column = code.indexOf(from, column + 1), n++) {
          const start = at + column;
          out.push({file, name: `${file}:${i + 1}${n > 1 ? '.' + n : ''} ${from.trim()} -> ${to.trim()}`, text: () => whole.slice(0, start) + to + whole.slice(start + from.length)});
        }
      }
      at += line.length + 1;
    });
  }
  return out;
}

/** Every error of the pack that is sown: one cell with another value that it could have. */
export async function packErrors() {
  const [pack, sports, rulings] = await Promise.all(['core', 'sports', 'rulings'].map(async name => (await import(`../pack/${name}.js`)).default));
  const out = [], parts = {core: pack, sports, rulings}, copy = data => JSON.parse(JSON.stringify(data));
  const sow = (part, name, within, change) => out.push({file: `pack/${part}.js`, name: `${part}, ${name}`, within, text: () => {
    const changed = copy(parts[part]);
    change(changed);
    return `export default ${JSON.stringify(changed)};\n`;
  }});
  const idsOf = ([id, targets, lengths]) => words(targets).flatMap(target => words(lengths).map(n => id.replace('*', target) + (n > 1 ? '-of' + n : '')));
  const columns = ['id', 'targets', 'lengths', 'from', 'to', 'sides', 'scorer', 'servers', 'order', 'win-by', 'cap', 'freeze', 'next-serve', 'half', 'serves', 'first-turn', 'every', 'last-every', 'last-target', 'keeps'];
  const other = {scorer: v => 3 - v, 'win-by': v => 3 - v, cap: v => v ? v - 1 : 22, freeze: v => (v + 1) % 5, 'next-serve': v => v % 4 + 1, half: v => (v + 1) % 3, serves: v => v + 1, 'first-turn': v => v + 1,
    every: v => v + 1, 'last-every': v => v + 1, 'last-target': v => v - 1, keeps: v => 1 - v};
  for (const part of ['core', 'sports']) {
    parts[part].formats.forEach((row, n) => row.forEach((value, at) => {
      const name = columns[at], change = other[name], several = row[2] !== '1', within = `in (${idsOf(row).join('|')})[@+]`;
      if (name === 'targets') words(value).forEach((target, i) => sow(part, `family ${n}, target ${target}`, within, data => {
        data.formats[n][1] = words(value).with(i, String(+target + 1)).join(' ');
      }));
      if (name === 'to') sow(part, `family ${n}, to`, within, data => { data.formats[n][4]--; });
      // An order of its own, or sides, are another sport; one game has no next; what is 0 where it says nothing, and a first turn of no turn.
      if (!change || name === 'next-serve' && !several || ['keeps', 'last-target'].includes(name) && !(several && value) || name === 'first-turn' && !row[14]) return;
      if (['serves', 'every', 'last-every'].includes(name) && !value || name === 'every' && !several || name === 'half' && !value || name === 'freeze' && row[6] === 1) return;
      sow(part, `family ${n}, ${name}`, within, data => { data.formats[n][at] = change(value); });
    }));
  }
  const rows = [...pack.formats, ...sports.formats], masksOf = {core: pack.orders, sports: sports.orders, rulings: rulings.orders};
  for (const [part, orders] of Object.entries(masksOf)) {
    for (const [key, masks] of Object.entries(orders)) {
      const [order, sides, servers, reading] = key.split(',').map((x, i) => i < 3 ? +x : x), of = rows.filter(row => row[8] === order && row[5] === sides && row[7] === servers);
      if (!of.length) continue; // of formats of one's own only
      const ids = of.flatMap(idsOf).join('|'), {is = '', valid} = {...rulings.orders[key], ...masks}, zero = (valid || []).filter(mask => [1, 2, 4, 8].includes(mask));
      const within = reading ? `in (${ids})@.*${reading.startsWith('swap') ? 'swap-foul=stay' : 'fixed-court-foul=same'}` : `in (${ids})[@+]|WALK`;
      for (const [name, list] of Object.entries(masks)) {
        // Never asked: bits that no state has, who kept the serve where turns are counted, a foul where a sport has no penalties. What says that
        // a bit is never set only keeps one line from being read as two states.
        if (name === 'is' || name === 'valid' || reading && name !== 'foul' || name === 'kept' && /turns/.test(is) || name === 'foul' && order > 4) continue;
        list.forEach((mask, i) => {
          if (name !== 'places' && zero.includes(1 << i)) return;
          if (name === 'places' && (i < 2 && sides === 1 || i > 1 && /no-court/.test(is) || i % 2 && /any-receives/.test(is))) return;
          const asked = name === 'start' ? 2 | 16 | 32 | 128 : 255; // what a start is asked
          for (let bit = 1; bit < 256; bit *= 2) if (asked & bit && !zero.includes(bit)) sow(part, `order ${key}, ${name} ${i}, bit ${bit}`, within, data => { data.orders[key][name][i] ^= bit; });
        });
      }
    }
  }
  pack.freezes.forEach((row, n) => row.forEach((value, at) => {
    if (value < 255) sow('core', `freeze ${n}, ${at}`, 'in fixed', data => { data.freezes[n][at]++; });
  }));
  // How equal standings are parted is asked by no match.
  const switches = [...pack.switches.map((row, i) => [...row, rulings.clauses[i]]), ...rulings.switches];
  const inForce = (clause, e) => switches.some(([, takes, , clauses]) => words(clauses)[takes[e] - 1] === clause);
  for (const part of ['core', 'rulings']) {
    parts[part].switches.forEach(([name, takes, values, , needs], n) => [...takes].forEach((taken, e) => {
      const all = words(values), number = /^\d/.test(values);
      if (taken === '0' || all.length === 1 && !number || ['tie-restart', 'opening-word'].includes(name) || needs && !words(needs).some(clause => inForce(clause, e))) return; // there is no such question
      sow(part, `${name} of ${words(pack.editions)[e]}`, `@${words(pack.editions)[e]}(\\+|$)`, data => {
        const row = data.switches[n];
        if (number) row[2] = words(row[2]).with(taken - 1, String(+all[taken - 1] + 1)).join(' ');
        else row[1] = takes.slice(0, e) + (1 + taken % all.length) + takes.slice(e + 1);
      });
    }));
  }
  [...rulings.ladder].forEach((cell, i) => sow('rulings', `ladder cell ${i}`, 'in (sideout|fixed|swap).*-(11-of3|11|21)[@+]', data => {
    data.ladder = data.ladder.slice(0, i) + (+cell + 1) % rulings.rungs.length + data.ladder.slice(i + 1);
  }));
  // Lists of words: two neighbours change places, or one is gone.
  for (const [part, name] of [['core', 'effects'], ['core', 'phases'], ['core', 'outcomes'], ['rulings', 'breaks'], ['rulings', 'mistakes'], ['rulings', 'reaches'],
    ['rulings', 'sinces'], ['rulings', 'stoppers'], ['rulings', 'accepted'], ['rulings', 'freezes'], ['core', 'kinds'], ['core', 'later']]) {
    const list = words(parts[part][name]);
    list.forEach((word, i) => {
      if (i && word !== list[i - 1] && word !== '-' && list[i - 1] !== '-') sow(part, `${name}: ${list[i - 1]} and ${word}`, '', data => { data[name] = list.with(i, list[i - 1]).with(i - 1, word).join(' '); });
    });
  }
  for (const [part, name] of [['core', 'faults'], ['core', 'after_end'], ['core', 'broken'], ['rulings', 'after_end'], ['rulings', 'broken'], ['sports', 'kinds']]) {
    const list = words(parts[part][name]);
    list.forEach((word, i) => sow(part, `${name} without ${word}`, '', data => { data[name] = list.toSpliced(i, 1).join(' '); }));
  }
  return out;
}
