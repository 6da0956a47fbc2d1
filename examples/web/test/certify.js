// The long certificate: ten million random events against the library with formats and readings drawn at random, a million
// random rallies of each family, and the rulings of every edition. "node test/certify.js EVENTS RALLIES" takes less.
import {createHash} from 'node:crypto';
import {readFileSync} from 'node:fs';
import {spawnSync} from 'node:child_process';
import {join} from 'node:path';
import {part, shapes as named} from '../core.js';
import {answers, compare, firstDifference, sumOf} from './compare.js';
import {generator} from './random.js';
import {rulingsText} from './rulings.js';
import {comparing, library, root} from './library.js';

if (library.skip) {
  console.log('SKIPPED: ' + library.skip);
  process.exit(0);
}
const [events = 1e7, rallies = 1e6, rulings = 'all'] = process.argv.slice(2), program = comparing();
let failed = false;
const report = (ok, text) => {
  failed ||= !ok;
  console.log((ok ? 'ok ' : 'NOT OK ') + text);
};

for (let seed = 1, left = +events; left > 0; seed++) {
  const {played, differ, kinds} = compare(program, Math.min(left, 1e6), 1000 + seed);
  left -= played;
  const taken = Object.values(kinds).reduce((a, b) => a + b, 0);
  report(!differ.length, `${played} events from seed ${1000 + seed}, ${taken} taken, ${Object.keys(kinds).length} kinds, rarest ${Object.entries(kinds).sort((a, b) => a[1] - b[1])[0].join(' ')}`);
  for (const log of differ.slice(0, 3)) console.log(firstDifference(program, log));
}

// Rallies only, of every family in every edition: logs of one match each.
const families = new Map();
for (const shape of named.keys()) {
  const family = shape.replace(/-\d+.*/, '');
  families.set(family, [...families.get(family) || [], shape]);
}
for (const [family, shapes] of families) {
  const next = generator(family.length), logs = [], sums = [];
  let played = 0, differ = 0;
  const settle = () => {
    if (!logs.length) return;
    const {stdout} = spawnSync(program, {input: logs.map(log => JSON.stringify(['log', ...log]) + '\n').join(''), maxBuffer: 1 << 28});
    String(stdout).trim().split('\n').forEach((sum, i) => { differ += sum !== sums[i]; });
    logs.length = sums.length = 0;
  };
  while (played < +rallies) {
    const shape = shapes[next(shapes.length)], spans = named.get(shape), {from, to} = spans[next(spans.length)];
    const format = `${shape}@${part.editions[from + next(to - from + 1)]}`, entries = Array.from({length: 120}, () => 'AB'[next(2)]);
    const told = answers(format, 'AB'[next(2)], '', entries), first = /first=(.)/.exec(told[0])[1];
    logs.push([format, first, '', ...entries]);
    sums.push(sumOf(told));
    played += told.filter(text => !text.includes('\t!')).length - 3;
    if (logs.length === 500) settle();
  }
  settle();
  report(!differ, `${played} rallies of ${family}, ${shapes.length} shapes`);
}

const done = new Map();
for (const row of JSON.parse(readFileSync(join(root, 'conformance/digests/rulings.json'))).filter(row => rulings === 'all' || rulings.split(',').includes(row.edition))) {
  const hash = createHash('sha256'), lines = rulingsText(row.edition, piece => hash.update(piece)), sum = hash.digest('hex');
  done.set(sum, row.edition);
  report(sum === row.rulings.sha256 && lines === row.rulings.lines, `rulings of ${row.edition}: ${lines} lines`);
}
process.exitCode = failed ? 1 : 0;
