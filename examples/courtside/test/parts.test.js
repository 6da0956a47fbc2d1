// Parts without a browser: the clock, and what is read of a damaged record, beside what Go reads of it.
import test from 'node:test';
import assert from 'node:assert/strict';
import {execFileSync, spawnSync} from 'node:child_process';
import {mkdtempSync, readFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {Clock} from '../page/clock.js';
import * as record from '../page/record.js';
import {match} from '../../web/whole.js';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');

test('a clock', async t => {
  let wall = 1_000_000, steady = 50;
  const clock = (began, last) => new Clock(began, last, () => wall, () => steady);
  const pass = (day, ran = day) => { wall += day; steady += ran; };
  await t.test('runs', () => { const c = clock(wall, 0); pass(5000); assert.equal(c.now(), 5000); assert.ok(!c.wasSetBack()); });
  await t.test('goes on in sleep', () => { const c = clock(wall, 0); pass(60000, 10); assert.equal(c.now(), 60000); });
  await t.test('set back while it runs', () => {
    const c = clock(wall, 0);
    pass(5000);
    c.now();
    pass(-3600000, 1000);
    assert.equal(c.now(), 6000);
    assert.ok(c.wasSetBack());
    assert.ok(!c.wasSetBack(), 'said once');
    pass(1000);
    assert.equal(c.now(), 7000);
  });
  await t.test('set back while the page was closed', () => { const c = clock(wall - 1000, 500000); assert.equal(c.now(), 500000); assert.ok(c.wasSetBack()); });
});

// A record with times.
function written(entries) {
  const engine = match('sideout-doubles-11@2026', {first: 'A'}), setup = {sides: [{players: [{name: 'Imani Okafor'}, {}]}, {players: [{}, {}]}], left: 'A', first: 'A'};
  const lines = [record.header(engine, setup)];
  entries.forEach((text, i) => {
    assert.ok(!engine.do(text).refused, text);
    lines.push(record.entry(engine, text, i * 1000, record.sumOf(lines.at(-1))));
  });
  return lines;
}

const entries = ['gA1B1', ...'AABABBABAABBA', 'tB', 'in', ...'BBAABAB'];

test('a whole record is read as it was written', () => {
  const lines = written(entries), read = record.read(lines.join('\n') + '\n');
  assert.deepEqual(read.lines, lines);
  assert.equal(read.times.at(-1), (entries.length - 1) * 1000);
});

const go = spawnSync('go', ['version']).status === 0;
test('of a damaged record the same is read as Go reads', {skip: !go && 'no Go here'}, () => {
  const whole = written(entries), program = join(mkdtempSync(join(tmpdir(), 'courtside-')), 'again');
  execFileSync('go', ['build', '-o', program, './test/again'], {cwd: here});
  const last = text => JSON.parse(text.trim().split('\n').at(-1)).line;
  let compared = 0;
  for (let n = 2; n < whole.length; n += 1) {
    for (const damage of [l => l.slice(0, 20), l => l.replace('"ms":', '"ns":'), () => undefined]) {
      const lines = whole.map((l, i) => i === n ? damage(l) : l).filter(l => l !== undefined), text = lines.join('\n') + '\n';
      const page = record.recover(text), own = String(execFileSync(program, ['-recover'], {input: text}));
      record.read(page.lines.join('\n') + '\n'); // what is kept is whole
      assert.equal(page.engine.line(), last(own), `line ${n + 1}`);
      compared++;
    }
  }
  assert.ok(compared > 50);
});

test('what is no record is refused', () => {
  for (const text of ['', 'x', '{}', '[]', '{"record":9}', 'null']) assert.throws(() => record.recover(text), SyntaxError);
});

test('the ladder match of officiate is read', () => {
  assert.ok(record.read(readFileSync(join(here, '../officiate/ladder-match.jsonl'), 'utf8')).lines.length > 100);
});
