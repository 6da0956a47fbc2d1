// Errors that can be sown and are none, since the package behaves the same with them: where they stand, and why. A test holds each to
// the code: the text stands there once, and it is an error that is sown.
import {readFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');

/** File, text, text with the error, reason. */
export const equal = [
  ['core.js', 'changeEndsAt: target + 1 >> 1', 'changeEndsAt: target + 2 >> 1', 'every target of these families is odd'],
  ['core.js', 'new Array(DID + 1)', 'new Array(DID + 2)', 'nothing reads a field more'],
  ['core.js', '+(s[SCORE + 1] > s[SCORE])', '+(s[SCORE + 1] >= s[SCORE])', 'a game that was played has a winner'],
  ['sports.js', 'other < at && other <= low', 'other <= at && other <= low', 'one total more leads to no other order, at any score to 16'],
  ['sports.js', 'n !== s[START + side]).length', 'n === s[START + side]).length', 'of two one differs if one is the same'],
  ['log.js', "e.kind === 'format' || e.kind === 'set' ? [] : this.read()", "e.kind === 'format' && e.kind === 'set' ? [] : this.read()", 'reads what is not needed'],
];

const source = file => readFileSync(join(here, file), 'utf8');

/** Says why a file with an error is as good as without; undefined where it is not said to be. */
export const equalTo = (file, text) => equal.find(([of, before, after]) => of === file && source(file).replace(before, after) === text)?.[3];
