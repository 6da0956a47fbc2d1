import assert from 'node:assert/strict';
import {createHash} from 'node:crypto';
import {existsSync, readFileSync} from 'node:fs';
import {spawnSync} from 'node:child_process';
import {join} from 'node:path';
import {test} from 'node:test';
import {compare, firstDifference} from './compare.js';
import {rows, table, walk} from './digests.js';
import {comparing, library, program, root} from './library.js';
import {writeParts} from './bundle.js';

const published = join(root, 'conformance/digests/published.json');
const corpus = existsSync(published) ? {} : {skip: 'needs the corpus of the repository'};
const sha = text => createHash('sha256').update(text).digest('hex');

/** One row of each family and alphabet, and every row with time-outs: all of them take an hour. */
export function sample(all) {
  const seen = new Set();
  return all.filter(row => {
    const key = row.format.replace(/-\d+.*/, '') + row.alphabet, first = !seen.has(key);
    seen.add(key);
    return first;
  });
}

test('published digests', corpus, () => {
  const some = sample(rows(JSON.parse(readFileSync(published))));
  assert.ok(some.length >= 10, `${some.length} rows`);
  for (const row of some) {
    assert.equal(sha(walk(row.format, row.alphabet, row.walk_depth)), row.walk.sha256, `WALK of ${row.format}`);
    assert.equal(sha(table(row.format, row.alphabet, row.table_bound)), row.table.sha256, `TABLE of ${row.format}`);
  }
});

for (const [name, part, all] of [['everything', [], true], ['the small part', ['small'], false]]) {
  test(`the corpus over the protocol: ${name}`, library, async () => {
    await writeParts();
    const check = program('conformance/cmd/checkengine'), {stdout, status} = spawnSync(check, ['-quiet', '-strict', '-timeout', '60s', '--', 'node', 'test/peer.js', ...part],
      {cwd: join(root, 'examples/web'), maxBuffer: 1 << 28, encoding: 'utf8'});
    assert.equal(status, 0, stdout.slice(-3000));
    const unclaimed = [...stdout.matchAll(/profile (\S+) +not claimed:/g)].map(([, profile]) => profile);
    if (all) assert.deepEqual(unclaimed, []);
    else assert.ok(unclaimed.length > 1, 'the small part claims too much');
    assert.match(stdout, /profile small +conformant/);
  });
}

test('200,000 random events in formats of any readings, against the library', library, () => {
  const {played, differ, kinds} = compare(comparing(), 200000, 7);
  assert.ok(played >= 200000);
  assert.deepEqual(differ.slice(0, 1).map(log => firstDifference(comparing(), log)), []);
  assert.ok(Object.keys(kinds).length >= 35, `only ${Object.keys(kinds)} were taken`);
});
