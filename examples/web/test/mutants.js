// Seeded errors: one cell of the pack, or one operator of the code, at a time; and by what each is noticed: answers to random
// logs and published digests, as the library gave them before. "node test/mutants.js pack 60" or "code 60" sows so many, "all"
// of the pack every one; a part of their names after it only those.
import {spawnSync} from 'node:child_process';
import {cpSync, mkdtempSync, readFileSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const [what, count = '60', only = ''] = process.argv.slice(2);

if (what === 'notice') { // within a copy: say what is noticed first
  const [, , , folder, within] = process.argv, {answers, sumOf} = await import(pathToFileURL(join(folder, 'test/compare.js')));
  const {walk} = await import(pathToFileURL(join(folder, 'test/digests.js'))), matters = RegExp(within || '');
  for (const {name, log, format, depth, sum} of JSON.parse(readFileSync(join(folder, 'expected.json')))) {
    if (!matters.test(name)) continue;
    let now;
    try {
      now = log ? sumOf(answers(...log.slice(0, 3), log.slice(3))) : sumOf([walk(format, ['A', 'B'], depth)]);
    } catch (error) {
      now = String(error);
    }
    if (now !== sum) {
      console.log(name);
      process.exit(1);
    }
  }
  process.exit(0);
}

const {generator, anyEntry, anyFormat, incident} = await import('./random.js');
const {comparing, library} = await import('./library.js');
const {answers, sumOf} = await import('./compare.js');
const {walk} = await import('./digests.js');
if (library.skip) {
  console.log('SKIPPED: ' + library.skip);
  process.exit(0);
}

// What is right, by the library's answers: random logs of any format; of every edition of pickleball logs of the orders that it has,
// since what is rare is rare in each; every shape to the end of its match, in the first and the last edition of each span.
const next = generator(99), logs = [], pack = (await import('../pack/core.js')).default, rulings = (await import('../pack/rulings.js')).default;
const width = 4 + pack.match.length, spansOf = shape => Array.from({length: pack.formats[shape].length / width}, (_, n) => pack.formats[shape].slice(n * width, (n + 1) * width));
const add = (format, length, draw) => {
  const first = 'AB'[next(2)], entries = [];
  answers(format, first, '', Array.from({length}, () => m => {
    const text = draw(m);
    entries.push(text);
    return text;
  }));
  logs.push([format, first, '', ...entries]);
};
for (let n = 0; n < 1500; n++) add(anyFormat(next), 30 + next(60), m => anyEntry(next, m));
const orders = ['sideout-doubles-11-of3', 'fixed-doubles-21', 'swap-doubles-11', 'rally-doubles-11-of3', 'sideout-singles-11', 'half-court-singles-11'];
pack.editions.forEach((edition, n) => {
  for (const shape of orders) if (spansOf(shape).some(([from, to]) => from <= n && n <= to)) for (let i = 0; i < 60; i++) add(`${shape}@${edition}`, 40 + next(60), m => anyEntry(next, m));
  for (let i = 0; i < 12; i++) { // lateness, and rallies with an incident one after the other
    const shape = orders[i % 4];
    if (!spansOf(shape).some(([from, to]) => from <= n && n <= to)) continue;
    for (let k = 0; k < 3; k++) add(`${shape}@${edition}`, 4, () => `late${'AB'[next(2)]}:${[599, 600, 601, 899, 900, 901][next(6)]}`);
    add(`${shape}@${edition}`, 60, () => next(3) ? `${next(4) ? 'AB'[next(2)] : 'stop'}?${incident(next)}` : 'AB'[next(2)]);
  }
  for (const target of [7, 11, 15, 21]) add(`sideout-doubles-11@${pack.scoring.editions.includes(n) || /badminton/.test(edition) ? pack.default : edition}+target=${target}`, 40, () => ['A', 'tA', 'tB'][next(3)]);
});
for (const shape of Object.keys(pack.formats)) {
  for (const [from, to] of spansOf(shape)) {
    for (const edition of new Set([from, to])) {
      for (const lead of [2, 2, 2, 2, 9, 20]) add(`${shape}@${pack.editions[edition]}`, 330, () => next(9) ? 'AB'[+!next(lead)] : ['tA', 'tB', 'ends', 'xA', 'A', 'B', 'gA1B2', 'gB2A1'][next(8)]);
    }
  }
}
const sums = String(spawnSync(comparing(), {input: logs.map(log => JSON.stringify(['log', ...log]) + '\n').join(''), maxBuffer: 1 << 28}).stdout).trim().split('\n');
const expected = logs.map((log, i) => ({name: `log ${i} in ${log[0]}`, log, sum: sums[i]}));
for (const {name, log, sum} of expected) if (sumOf(answers(...log.slice(0, 3), log.slice(3))) !== sum) throw new Error(`${name} differs from the library without any error`);
for (const shape of ['sideout-doubles-11', 'rally-doubles-11', 'fixed-doubles-21', 'swap-doubles-11', 'half-court-singles-11']) {
  expected.unshift({name: `WALK of ${shape}`, format: shape + '@2026', depth: 7, sum: sumOf([walk(shape + '@2026', ['A', 'B'], 7)])});
}
const work = mkdtempSync(join(tmpdir(), 'evencourt-mutants-'));
for (const name of ['pack', 'test', 'package.json']) cpSync(join(here, name), join(work, name), {recursive: true});
writeFileSync(join(work, 'expected.json'), JSON.stringify(expected));
const files = ['core', 'log', 'lines', 'readings', 'breaks', 'penalties', 'incidents', 'corrections', 'settings', 'index', 'whole', 'why', 'results'];
for (const name of files) cpSync(join(here, name + '.js'), join(work, name + '.js'));

const draw = generator(7), swaps = [[' >= ', ' > '], [' > ', ' >= '], [' === ', ' !== '], [' !== ', ' === '], [' && ', ' || '], [' || ', ' && '], [' + 1', ' + 2'], ['1 - ', ''], [' |= ', ' = '], [' < ', ' <= ']];

/** Every error of the code that is sown: one operator of one line for another. */
function codeErrors() {
  const out = [];
  for (const name of ['core', 'log', 'breaks', 'penalties', 'incidents', 'corrections', 'lines']) {
    const lines = readFileSync(join(here, name + '.js'), 'utf8').split('\n');
    lines.forEach((line, i) => swaps.forEach(([from, to]) => {
      if (!line.includes(from) || /^\s*(\/\/|\*|\/\*\*|import)/.test(line)) return;
      out.push({file: name + '.js', name: `${name}.js:${i + 1} ${from.trim()} -> ${to.trim()}`, text: () => lines.with(i, line.replace(from, to)).join('\n')});
    }));
  }
  return out;
}

/** Every error of the pack that is sown: one cell with another value that it could have. */
function packErrors() {
  const out = [], copy = data => JSON.parse(JSON.stringify(data));
  const sow = (part, data, name, within, change) => out.push({file: `pack/${part}.js`, name, within, text: () => {
    const changed = copy(data);
    change(changed);
    return `export default ${JSON.stringify(changed)};\n`;
  }});
  const used = shape => spansOf(shape).flatMap(([, , game, last]) => [game, last]);
  pack.games.forEach((row, g) => pack.fields.forEach((field, f) => {
    if (field.names && field.name !== 'freeze') return; // another order or number of players has no masks, or is another sport
    if (field.name === 'first-turn' && row[2] === 1 && !row[4]) return; // of one server a turn cannot be short
    const within = Object.keys(pack.formats).filter(shape => used(shape).includes(g)).join('|');
    sow('core', pack, `game ${g}, ${field.name}`, `in (${within})|WALK`, data => { data.games[g][f] += row[f] && !field.names ? -1 : 1; });
  }));
  for (const shape of Object.keys(pack.formats)) {
    spansOf(shape).forEach((span, n) => pack.match.forEach((field, f) => {
      if (span[4] === 1 && field.name !== 'games') return; // there is no next game
      sow('core', pack, `format ${shape}, span ${n}, ${field.name}`, `in ${shape}[@+]`, data => {
        const at = n * width + 4 + f, is = span[4 + f];
        data.formats[shape][at] = field.name === 'games' ? is + 2 : field.name === 'next-serve' ? is % 4 + 1 : 1 - is;
      });
    }));
  }
  for (const [key, masks] of Object.entries(pack.orders)) {
    const [order, sides, servers] = key.split(',').map(Number), is = g => pack.games[g][5] === order && pack.games[g][0] === sides && pack.games[g][2] === servers;
    const within = Object.keys(pack.formats).filter(shape => used(shape).some(is)).join('|');
    if (!within) continue; // of formats of one's own only
    const zero = masks.valid.filter(mask => [1, 2, 4, 8].includes(mask)), at = {start: 2 | 16 | 32 | 128}; // bits of a state that are never set; what a start asks
    for (const [name, list] of Object.entries(masks)) {
      // Never asked: bits that no state has, a first server where there is one, who kept the serve where turns are counted, a foul
      // where a sport has no penalties. What says that a bit is never set only keeps one line from being read as two states.
      if (name === 'is' || name === 'valid' || name === 'first' && servers === 1 || name === 'kept' && masks.is?.includes('turns') || name === 'foul' && order > 4) continue;
      list.forEach((mask, i) => {
        if (name !== 'places' && zero.includes(1 << i)) return;
        if (name === 'places' && (i < 2 && sides === 1 || i > 1 && masks.is?.includes('no-court') || i % 2 && masks.is?.includes('any-receives'))) return;
        for (let bit = 1; bit < 256; bit *= 2) if ((at[name] ?? 255) & bit && !zero.includes(bit)) sow('core', pack, `order ${key}, ${name} ${i}, bit ${bit}`, `in (${within})[@+]|WALK`, data => { data.orders[key][name][i] ^= bit; });
      });
    }
  }
  // How equal standings are parted is asked by no match.
  const switches = [...pack.switches, ...rulings.switches], inForce = (clause, e) => switches.some(row => row.takes?.[e] && row.clauses[row.readings ? row.takes[e] - 1 : 0] === clause);
  for (const [part, data] of [['core', pack], ['rulings', rulings]]) {
    data.switches.forEach((row, n) => row.takes?.forEach((taken, e) => {
      if (!taken || row.readings?.length === 1 || row.name === 'tie-restart' || row.needs && !row.needs.some(clause => inForce(clause, e))) return; // there is no such question
      const to = row.readings ? 1 + taken % row.readings.length : taken + 1;
      sow(part, data, `${row.name} of ${pack.editions[e]}`, `@${pack.editions[e]}(\\+|$)`, changed => { changed.switches[n].takes[e] = to; });
    }));
  }
  [...rulings.ladder].forEach((cell, i) => sow('rulings', rulings, `ladder cell ${i}`, 'in (sideout|fixed|swap).*-(11-of3|11|21)[@+]', data => {
    data.ladder = data.ladder.slice(0, i) + (+cell + 1) % rulings.rungs.length + data.ladder.slice(i + 1);
  }));
  return out;
}

const sown = (what === 'pack' ? packErrors() : codeErrors()).filter(({name}) => name.includes(only));
if (count !== 'all') for (let i = sown.length - 1; i > 0; i--) { // in an order drawn at random
  const j = draw(i + 1);
  [sown[i], sown[j]] = [sown[j], sown[i]];
}
const some = count === 'all' ? sown : sown.slice(0, +count), missed = [];
for (const {file, name, within = '', text} of some) {
  const right = readFileSync(join(work, file));
  writeFileSync(join(work, file), text());
  const {status, stdout, stderr} = spawnSync('node', [join(work, 'test/mutants.js'), 'notice', work, within], {encoding: 'utf8', timeout: 60000});
  writeFileSync(join(work, file), right);
  if (status === 0) missed.push(name);
  console.log(`${name}: ${status === 0 ? 'NOT NOTICED' : stdout.trim() || (status === null ? 'never ends' : 'does not load: ' + stderr.split('\n').find(line => /Error/.test(line)))}`);
}
console.log(`${some.length - missed.length} of ${some.length} errors in the ${what} noticed, of ${sown.length} that there are; not noticed: ${missed.join('; ') || 'none'}`);
process.exitCode = missed.length ? 1 : 0;
