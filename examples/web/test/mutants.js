// Seeded errors: one cell of the pack, or one operator of the code, at a time; and by what each is noticed: answers to random
// logs and published digests, as the library gave them before. "node test/mutants.js pack 60" or "code 60" sows so many, "all"
// of the pack every one; a pattern after it only those whose name it matches.
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
const {comparing, library, program} = await import('./library.js');
const {part, shapes, words} = await import('../core.js');
const {answers, sumOf} = await import('./compare.js');
const {walk} = await import('./digests.js');
if (library.skip) {
  console.log('SKIPPED: ' + library.skip);
  process.exit(0);
}

// What is right, by the library's answers: random logs of any format; of every edition of pickleball logs of the orders that it has,
// since what is rare is rare in each; every shape to the end of its match, in the first and the last edition of each span.
const next = generator(99), logs = [], data = async name => (await import(`../pack/${name}.js`)).default;
const [pack, sports, rulings] = await Promise.all(['core', 'sports', 'rulings'].map(data)), spansOf = shape => shapes.get(shape), known = words(pack.editions).length;
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
part.editions.forEach((edition, n) => {
  for (const shape of orders) if (spansOf(shape).some(({from, to}) => from <= n && n <= to)) for (let i = 0; i < 60; i++) add(`${shape}@${edition}`, 40 + next(60), m => anyEntry(next, m));
  for (let i = 0; i < 12; i++) { // lateness, and rallies with an incident one after the other
    const shape = orders[i % 4];
    if (!spansOf(shape).some(({from, to}) => from <= n && n <= to)) continue;
    for (let k = 0; k < 3; k++) add(`${shape}@${edition}`, 4, () => `late${'AB'[next(2)]}:${[599, 600, 601, 899, 900, 901][next(6)]}`);
    add(`${shape}@${edition}`, 60, () => next(3) ? `${next(4) ? 'AB'[next(2)] : 'stop'}?${incident(next)}` : 'AB'[next(2)]);
  }
  for (const target of [7, 11, 15, 21]) add(`sideout-doubles-11@${n >= known || /badminton/.test(edition) ? part.editions[pack.default] : edition}+target=${target}`, 40, () => ['A', 'tA', 'tB'][next(3)]);
});
for (const shape of shapes.keys()) {
  for (const {from, to} of spansOf(shape)) {
    for (const edition of new Set([from, to])) {
      for (const lead of [2, 2, 2, 2, 9, 20]) add(`${shape}@${part.editions[edition]}`, 330, () => next(9) ? 'AB'[+!next(lead)] : ['tA', 'tB', 'ends', 'xA', 'A', 'B', 'gA1B2', 'gB2A1'][next(8)]);
    }
  }
}
for (const own of ['', '+made-foul-counts=no', '+two-fouls=game-forfeit', '+made-foul-counts=no+two-fouls=game-forfeit']) { // every rung of the ladder
  for (let i = 0; i < 60; i++) add(`sideout-doubles-11-of3@2026${own}`, 16, () => ['twA', 'tfA', 'gfA', 'tfA', 'twA', 'A', 'B'][next(7)]);
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
const files = ['core', 'log', 'lines', 'sports', 'readings', 'breaks', 'penalties', 'incidents', 'corrections', 'settings', 'index', 'whole', 'why', 'results'];
for (const name of files) cpSync(join(here, name + '.js'), join(work, name + '.js'));

const draw = generator(7), swaps = [[' >= ', ' > '], [' > ', ' >= '], [' === ', ' !== '], [' !== ', ' === '], [' && ', ' || '], [' || ', ' && '], [' + 1', ' + 2'], ['1 - ', ''], [' |= ', ' = '], [' < ', ' <= ']];

/** Every error of the code that is sown: one operator of one line for another. */
function codeErrors() {
  const out = [];
  for (const name of ['core', 'log', 'sports', 'readings', 'breaks', 'penalties', 'incidents', 'corrections', 'settings', 'lines']) {
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
  for (const [part, name] of [['core', 'effects'], ['core', 'faults'], ['core', 'phases'], ['core', 'outcomes'], ['rulings', 'breaks'], ['rulings', 'mistakes'], ['rulings', 'reaches'],
    ['rulings', 'sinces'], ['rulings', 'stoppers'], ['rulings', 'accepted'], ['rulings', 'freezes'], ['core', 'kinds'], ['core', 'later']]) {
    const list = words(parts[part][name]);
    list.forEach((word, i) => {
      if (i && word !== list[i - 1] && word !== '-' && list[i - 1] !== '-') sow(part, `${name}: ${list[i - 1]} and ${word}`, '', data => { data[name] = list.with(i, list[i - 1]).with(i - 1, word).join(' '); });
    });
  }
  for (const [part, name] of [['core', 'after_end'], ['core', 'broken'], ['rulings', 'after_end'], ['rulings', 'broken'], ['sports', 'kinds']]) {
    const list = words(parts[part][name]);
    list.forEach((word, i) => sow(part, `${name} without ${word}`, '', data => { data[name] = list.toSpliced(i, 1).join(' '); }));
  }
  return out;
}

const sown = (what === 'pack' ? packErrors() : codeErrors()).filter(({name}) => RegExp(only).test(name));
if (count !== 'all') for (let i = sown.length - 1; i > 0; i--) { // in an order drawn at random
  const j = draw(i + 1);
  [sown[i], sown[j]] = [sown[j], sown[i]];
}
// What no log notices, the package's own tests may, or the corpus: the test, or the case, that fails first.
const check = program('conformance/cmd/checkengine');
function failing() {
  const tests = spawnSync('node', ['--test', 'test/package.test.js'], {cwd: work, encoding: 'utf8', timeout: 60000}), named = /^not ok \d+ - (.*)$/m.exec(tests.stdout);
  if (named) return `test "${named[1]}"`;
  const {stdout, status} = spawnSync(check, ['-quiet', '-strict', '--', 'node', join(work, 'test/peer.js')], {cwd: work, maxBuffer: 1 << 28, encoding: 'utf8', timeout: 300000});
  return status === 0 ? '' : status === null ? 'never ends' : 'case ' + (/\bc\d{4}\b/.exec(stdout)?.[0] || 'of the corpus');
}

const some = count === 'all' ? sown : sown.slice(0, +count), missed = [];
for (const {file, name, within = '', text} of some) {
  const right = readFileSync(join(work, file));
  writeFileSync(join(work, file), text());
  const {status, stdout, stderr} = spawnSync('node', [join(work, 'test/mutants.js'), 'notice', work, within], {encoding: 'utf8', timeout: 200000});
  const by = status === 1 ? stdout.trim() || 'does not load: ' + stderr.split('\n').find(line => /Error/.test(line)) : failing();
  writeFileSync(join(work, file), right);
  if (!by) missed.push(name);
  console.log(`${name}: ${by || 'NOT NOTICED'}`);
}
console.log(`${some.length - missed.length} of ${some.length} errors in the ${what} noticed, of ${sown.length} that there are; not noticed: ${missed.join('; ') || 'none'}`);
process.exitCode = missed.length ? 1 : 0;
