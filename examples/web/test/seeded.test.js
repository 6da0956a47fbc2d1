// What is said to be no error, held to the code; that errors are noticed is what npm run mutants tries.
import assert from 'node:assert/strict';
import {readFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {test} from 'node:test';
import pack from '../pack/core.js';
import {words} from '../core.js';
import {equal} from './equal.js';
import {codeErrors, packErrors} from './sown.js';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');

test('errors that are none stand in the code, once, and are sown', () => {
  const sown = codeErrors();
  assert.ok(sown.length > 1000, `${sown.length} errors`);
  for (const [file, before, after, why] of equal) {
    const text = readFileSync(join(here, file), 'utf8');
    assert.equal(text.split(before).length, 2, `${file}: ${before}`);
    assert.ok(why && sown.some(error => error.file === file && error.text() === text.replace(before, after)), `${file}: ${after} is not sown`);
  }
});

test('what makes them equal is so', () => {
  for (const [id, targets] of pack.formats) for (const target of words(targets)) assert.equal(target % 2, 1, id);
});

test('every error of the pack changes it', async () => {
  const sown = await packErrors();
  assert.ok(sown.length > 1000, `${sown.length} errors`);
  for (const {file, name, text} of sown) {
    const right = readFileSync(join(here, file), 'utf8').split('\n').find(line => line.startsWith('export default'));
    assert.notEqual(text().trim(), right, name);
  }
});
