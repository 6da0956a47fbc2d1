// Makes what npm packs besides the modules themselves: each part as one minified file (dist), for require too (cjs), and the browser
// builds where Go is: without inlining, which makes them smaller by 40 to 50 KB, and what they do waits for nobody.
import {execFileSync, spawnSync} from 'node:child_process';
import {copyFileSync, existsSync} from 'node:fs';
import {join} from 'node:path';
import {here, writeParts} from './bundle.js';

await writeParts();
copyFileSync(join(here, '../../LICENSE'), join(here, 'LICENSE'));

if (spawnSync('go', ['version']).status !== 0) console.error('no Go here: the browser builds are left out');
else {
  const go = (...args) => String(execFileSync('go', args, {cwd: here, env: {...process.env, GOOS: 'js', GOARCH: 'wasm'}}));
  for (const name of ['words', 'audit']) go('build', '-trimpath', '-gcflags=all=-l', '-ldflags=-s -w', '-o', `full/${name}.wasm`, `./full/${name}`);
  const support = join(go('env', 'GOROOT').trim(), 'lib/wasm/wasm_exec.js');
  if (existsSync(support)) copyFileSync(support, join(here, 'full/wasm_exec.js'));
}
