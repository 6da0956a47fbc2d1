// Seeded errors: one cell of the pack, or one operator of the code, at a time; and by what each is noticed: answers to random
// logs and published digests, as the library gave them before. "node test/mutants.js pack 60" or "code 60" sows so many.
import {spawnSync} from 'node:child_process';
import {cpSync, mkdtempSync, readFileSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const [what, count = '60', seed = '1'] = process.argv.slice(2);

if (what === 'notice') { // within a copy: say what is noticed first
  const {answers} = await import(pathToFileURL(join(count, 'test/compare.js')));
  const {walk} = await import(pathToFileURL(join(count, 'test/digests.js')));
  const {createHash} = await import('node:crypto');
  for (const {name, log, told, format, sum} of JSON.parse(readFileSync(join(here, 'expected.json')))) {
    let now;
    try {
      now = log ? JSON.stringify(answers(...log.slice(0, 3), log.slice(3))) : createHash('sha256').update(walk(format, ['A', 'B'], 7)).digest('hex');
    } catch (error) {
      now = String(error);
    }
    if (now !== (log ? JSON.stringify(told) : sum)) {
      console.log(name);
      process.exit(1);
    }
  }
  process.exit(0);
}

const {generator, anyEntry, anyFormat} = await import('./random.js');
const {comparing, library} = await import('./library.js');
const {answers} = await import('./compare.js');
const {walk} = await import('./digests.js');
const {createHash} = await import('node:crypto');
if (library.skip) {
  console.log('SKIPPED: ' + library.skip);
  process.exit(0);
}

// What is right, by the library's answers.
const next = generator(99), logs = [], pack = (await import('../pack/core.js')).default;
for (let n = 0; n < 1500; n++) {
  const format = anyFormat(next), first = 'AB'[next(2)], entries = [], length = 30 + next(60);
  answers(format, first, '', Array.from({length}, () => m => {
    const text = anyEntry(next, m);
    entries.push(text);
    return text;
  }));
  logs.push([format, first, '', ...entries]);
}
for (const shape of Object.keys(pack.formats)) { // every shape to the end of its match, in its first and its last edition
  const spans = pack.formats[shape], width = 4 + pack.match.length, log = edition => [`${shape}@${pack.editions[edition]}`, 'A', '', ...Array.from({length: 230}, () => next(9) ? 'AB'[next(2)] : ['tA', 'tB', 'ends', 'xA'][next(4)])];
  for (let at = 0; at < spans.length; at += width) logs.push(log(spans[at]), log(spans[at + 1]));
}
const told = String(spawnSync(comparing(), {input: logs.map(log => JSON.stringify(['tell', ...log]) + '\n').join(''), maxBuffer: 1 << 30}).stdout).trim().split('\n');
const expected = logs.map((log, i) => ({name: `log ${i} in ${log[0]}`, log, told: JSON.parse(told[i])}));
for (const shape of ['sideout-doubles-11', 'rally-doubles-11', 'fixed-doubles-21', 'swap-doubles-11', 'half-court-singles-11']) {
  expected.unshift({name: `WALK of ${shape}`, format: shape + '@2026', sum: createHash('sha256').update(walk(shape + '@2026', ['A', 'B'], 7)).digest('hex')});
}
const work = mkdtempSync(join(tmpdir(), 'evencourt-mutants-'));
for (const name of ['pack', 'test', 'package.json']) cpSync(join(here, name), join(work, name), {recursive: true});
writeFileSync(join(work, 'expected.json'), JSON.stringify(expected));
const files = ['core', 'log', 'lines', 'readings', 'breaks', 'penalties', 'incidents', 'corrections', 'settings', 'index', 'whole', 'why', 'results'];
for (const name of files) cpSync(join(here, name + '.js'), join(work, name + '.js'));

const draw = generator(+seed), swaps = [[' >= ', ' > '], [' > ', ' >= '], [' === ', ' !== '], [' !== ', ' === '], [' && ', ' || '], [' || ', ' && '], [' + 1', ' + 2'], ['1 - ', ''], [' |= ', ' = '], [' < ', ' <= ']];

function codeError() {
  const name = ['core', 'log', 'breaks', 'penalties', 'incidents', 'corrections', 'lines'][draw(7)], text = readFileSync(join(here, name + '.js'), 'utf8'), [from, to] = swaps[draw(swaps.length)];
  const lines = text.split('\n'), at = lines.map((line, i) => line.includes(from) && !/^\s*(\/\/|\*|\/\*\*|import)/.test(line) ? i : -1).filter(i => i >= 0);
  if (!at.length) return codeError();
  const i = at[draw(at.length)];
  lines[i] = lines[i].replace(from, to);
  return [name + '.js', lines.join('\n'), `${name}.js:${i + 1} ${from.trim()} -> ${to.trim()}`];
}

function packError() {
  const part = ['core', 'core', 'rulings'][draw(3)], text = readFileSync(join(here, `pack/${part}.js`), 'utf8'), at = text.indexOf('{'), data = JSON.parse(text.slice(at, text.lastIndexOf('}') + 1));
  let what;
  const bump = (list, i) => { list[i] += list[i] > 0 && draw(2) ? -1 : 1; };
  const letter = (text, i, to) => text.slice(0, i) + to + text.slice(i + 1);
  if (part === 'rulings') {
    const rows = data.switches.filter(row => row.takes && row.readings), row = rows[draw(rows.length)], i = draw(13);
    if (draw(5)) {
      row.takes[i] = 1 + row.takes[i] % row.readings.length;
      what = `${row.name} in edition ${i}`;
    } else {
      const cell = draw(data.ladder.length);
      data.ladder = letter(data.ladder, cell, (+data.ladder[cell] + 1) % 4);
      what = `ladder cell ${cell}`;
    }
  } else if (draw(2)) {
    const i = draw(data.games.length), f = 5 + draw(6);
    bump(data.games[i], f);
    what = `game ${i}, ${data.fields[f].name}`;
  } else if (draw(3)) {
    const keys = Object.keys(data.orders), key = keys[draw(keys.length)], name = ['start', 'kept', 'first', 'out', 'foul', 'places'][draw(6)], i = draw(4);
    data.orders[key][name][i] ^= 1 << draw(8);
    what = `order ${key}, ${name} ${i} is ${data.orders[key][name][i]}`;
  } else {
    const names = Object.keys(data.formats), name = names[draw(names.length)], i = 4 + draw(4);
    data.formats[name][i] ^= 1;
    what = `format ${name}, ${data.match[i - 4].name}`;
  }
  return [`pack/${part}.js`, `export default ${JSON.stringify(data)};\n`, what];
}

let noticed = 0;
const seen = new Set(), missed = [];
for (let n = 0; noticed < +count && n < 4 * count; n++) {
  const [file, text, name] = what === 'pack' ? packError() : codeError();
  if (seen.has(name)) continue;
  seen.add(name);
  const right = readFileSync(join(work, file));
  writeFileSync(join(work, file), text);
  const {status, stdout, stderr} = spawnSync('node', [join(work, 'test/mutants.js'), 'notice', work], {encoding: 'utf8', timeout: 60000});
  writeFileSync(join(work, file), right);
  if (status === 0) missed.push(name);
  else {
    noticed++;
    console.log(`${name}: ${stdout.trim() || (status === null ? 'never ends' : 'does not load: ' + stderr.split('\n').find(line => /Error/.test(line)))}`);
  }
}
console.log(`${noticed} of ${seen.size} errors in the ${what} noticed; not noticed: ${missed.join('; ') || 'none'}`);
process.exitCode = noticed >= +count ? 0 : 1;
