// The library's side of the tests: programs of the repository, built where Go is; tests that need it say so and are skipped else.
import {execFileSync, spawnSync} from 'node:child_process';
import {existsSync, mkdtempSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {join} from 'node:path';

const root = new URL('../../..', import.meta.url).pathname, work = mkdtempSync(join(tmpdir(), 'evencourt-'));
const here = existsSync(join(root, 'go.work')) && spawnSync('go', ['version']).status === 0;

/** Why tests against the library are skipped; nothing where they run. */
export const library = here ? {} : {skip: 'needs Go and the repository of the library'};

/** Builds a program of the repository and returns its path. */
export function program(folder, env = {}) {
  const path = join(work, folder.replaceAll('/', '-'));
  execFileSync('go', ['build', '-ldflags=-s -w', '-o', path, './' + folder], {cwd: root, env: {...process.env, ...env}, stdio: 'inherit'});
  return path;
}

let compared;

/** Returns the program that answers for the library in tests. */
export const comparing = () => compared ||= program('examples/web/compare');

/** Asks the library one thing. */
export const ask = request => String(spawnSync(comparing(), {input: JSON.stringify(request) + '\n'}).stdout).trim();

export {root};
