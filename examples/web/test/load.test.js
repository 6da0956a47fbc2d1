// The package as npm packs it, in a project of its own: imported in Node, required, and bundled.
import assert from 'node:assert/strict';
import {execFileSync, spawnSync} from 'node:child_process';
import {existsSync, mkdtempSync, readFileSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {test} from 'node:test';
import {comparing, library} from './library.js';
import {firstCall, AIM} from './speed.js';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const tools = existsSync(join(here, 'node_modules/terser')) ? {} : {skip: 'needs npm ci'};
const program = name => `import {match} from '${name}';\nconst m = match('sideout-doubles-11@2026', {first: 'A'});\nm.do('A');\nconsole.log(m.call());\n`;

test('a fresh project', tools, async () => {
  const project = mkdtempSync(join(tmpdir(), 'evencourt-project-')), run = (...args) => execFileSync('node', args, {cwd: project, encoding: 'utf8'}).trim();
  execFileSync('npm', ['pack', '--silent', '--pack-destination', project], {cwd: here, stdio: ['ignore', 'ignore', 'inherit']});
  writeFileSync(join(project, 'package.json'), '{"name": "project", "private": true}');
  execFileSync('npm', ['install', '--silent', '--no-audit', '--no-fund', '--offline', './evencourt-0.1.0.tgz'], {cwd: project});
  for (const name of ['evencourt', 'evencourt/whole']) {
    writeFileSync(join(project, 'a.mjs'), program(name));
    assert.equal(run('a.mjs'), '1-0-2');
    writeFileSync(join(project, 'a.cjs'), program(name).replace(/import (.*) from (.*);/, 'const $1 = require($2);'));
    assert.equal(run('a.cjs'), '1-0-2');
    const {build} = await import('esbuild');
    await build({entryPoints: [join(project, 'a.mjs')], bundle: true, minify: true, format: 'iife', outfile: join(project, 'bundle.js'), logLevel: 'error'});
    assert.equal(run('bundle.js'), '1-0-2');
  }
  writeFileSync(join(project, 'w.mjs'), "import {match} from 'evencourt/whole';\nconsole.log(match('sideout-doubles-11', {first: 'A'}).do('A?server,struck,byB').effects.join());\n");
  assert.equal(run('w.mjs'), 'point,stands,game-started');
  if (!library.skip) { // the published file, against the library
    const {stdout, status} = spawnSync('node', ['test/compare.js', comparing(), '20000', '3'], {cwd: here, encoding: 'utf8', env: {...process.env, EVENCOURT_PUBLISHED: '1'}});
    assert.equal(status, 0, stdout);
  }
  if (existsSync(join(here, '../../README.md'))) { // the lines of the project's page, and the first three of this one's
    const [code, first] = ['../../README.md', 'README.md'].map(file => readFileSync(join(here, file), 'utf8').split('```js\n')[1].split('```')[0]);
    writeFileSync(join(project, 'page.mjs'), code);
    assert.match(run('page.mjs'), /^\[ 'point', 'game-started' \] 1-0-2\nA1 false\nL2 game=1 .* score=0-0 /);
    assert.ok(code.trim().split('\n').length <= 10 && first.trim().split('\n').length === 3);
    writeFileSync(join(project, 'first.mjs'), first);
    assert.equal(run('first.mjs'), first.split('// ')[1].trim());
  }
  const list = spawnSync('npm', ['pack', '--dry-run', '--json', '--ignore-scripts'], {cwd: here, encoding: 'utf8'}).stdout;
  assert.ok(!/test\/|compare/.test(list), 'tests are not packed');
});

test('the first call, net of an empty import', tools, async () => {
  const {small, whole, empty, turns} = await firstCall();
  assert.ok(turns >= 15 && empty > 1, `${turns} processes, ${empty} ms`);
  for (const [part, ms] of Object.entries({small, whole})) assert.ok(ms <= 3 * AIM, `${part}: ${ms} ms`);
});
