// In Chromium: the page of the README as printed, a plain module script, the published digests and the rulings of an edition.
// Where there is no Chromium (or no playwright-core) it says so and ends well.
import assert from 'node:assert/strict';
import {createServer} from 'node:http';
import {existsSync, readFileSync} from 'node:fs';
import {dirname, extname, join, normalize} from 'node:path';
import {fileURLToPath} from 'node:url';
import {rows} from './digests.js';
import {writeParts} from './bundle.js';
import {root} from './library.js';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const browser = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome', '/usr/bin/chromium-headless-shell']
  .find(path => path && existsSync(path));
const playwright = await import('playwright-core').catch(() => undefined);
if (!browser || !playwright) {
  console.log(`SKIPPED, nothing was tested in a browser: ${playwright ? 'no Chromium found; name it in CHROMIUM' : 'run npm ci for playwright-core'}`);
  process.exit(0);
}

await writeParts();
const page = readFileSync(join(here, 'README.md'), 'utf8').split('```html\n')[1].split('```')[0];
const bare = `<!doctype html><script type="module">import {match} from './dist/index.js'; const m = match('sideout-doubles-11@2026', {first: 'A'}); m.do('A'); document.title = m.call();</script>`;
const types = {'.js': 'text/javascript', '.html': 'text/html', '.wasm': 'application/wasm'};
const server = createServer((request, response) => {
  const path = normalize(new URL(request.url, 'http://localhost').pathname), made = {'/board.html': page, '/bare.html': bare}[path];
  const file = join(here, path);
  if (!made && (!file.startsWith(here) || !existsSync(file))) return response.writeHead(404).end();
  response.writeHead(200, {'content-type': types[extname(path)] || 'text/plain'}).end(made || readFileSync(file));
}).listen(0, '127.0.0.1');
await new Promise(done => server.once('listening', done));
const at = `http://127.0.0.1:${server.address().port}`;
const chromium = await playwright.chromium.launch({executablePath: browser, args: ['--no-sandbox']});
const context = await chromium.newContext();
context.setDefaultTimeout(300000); // a guard against waiting for ever, on any machine

async function step(name, run) {
  const tab = await context.newPage(), errors = [], began = Date.now();
  tab.on('pageerror', error => errors.push(String(error)));
  await run(tab);
  assert.deepEqual(errors, []);
  await tab.close();
  console.log(`ok ${name} (${Date.now() - began} ms)`);
}

try {
  await step('a plain module script', async tab => {
    await tab.goto(at + '/bare.html');
    await tab.waitForFunction(() => document.title === '1-0-2');
  });

  await step("the README's page", async tab => {
    assert.ok(page.trim().split('\n').length <= 60, 'the page is longer than 60 lines');
    const text = id => tab.locator('#' + id).textContent();
    await tab.goto(at + '/board.html');
    assert.equal(await text('call'), '0-0-2');
    await tab.click('#A');
    assert.equal(await text('call'), '1-0-2');
    await tab.click('#B');
    assert.equal(await text('call'), '0-1-1');
    assert.equal(await text('said'), 'side-out');
    assert.equal(await tab.locator('.serves').textContent(), 'Priya Raman');
    assert.ok(await tab.locator('#ends').isDisabled());
    await tab.click('#tA');
    assert.equal(await text('said'), 'break, time-out-charged');
    await tab.click('#undo');
    assert.ok(await tab.locator('#in').isDisabled());
    await tab.click('#redo');
    assert.ok(await tab.locator('#in').isEnabled());
    await tab.reload();
    assert.equal(await text('call'), '0-1-1', 'the match is kept');
    assert.ok(await tab.locator('#in').isEnabled());
  });

  const published = join(root, 'conformance/digests/published.json');
  if (existsSync(published)) {
    await step('published digests', async tab => {
      await tab.goto(at + '/bare.html');
      const seen = new Set(), some = rows(JSON.parse(readFileSync(published))).filter(({format, alphabet}) => {
        const key = format.replace(/-\d+.*/, '') + alphabet, first = !seen.has(key);
        seen.add(key);
        return first;
      });
      assert.ok(some.length >= 10);
      for (const row of some) {
        const got = await tab.evaluate(async ({format, alphabet, walk_depth, table_bound}) => {
          const {walk, table} = await import('/test/digests.js');
          const sha = async text => [...new Uint8Array(await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text)))].map(b => b.toString(16).padStart(2, '0')).join('');
          return [await sha(walk(format, alphabet, walk_depth)), await sha(table(format, alphabet, table_bound))];
        }, row);
        assert.deepEqual(got, [row.walk.sha256, row.table.sha256], row.format);
      }
    });
    await step('the rulings of 2022', async tab => {
      await tab.goto(at + '/bare.html');
      const [row] = JSON.parse(readFileSync(join(root, 'conformance/digests/rulings.json'))).filter(row => row.edition === '2022');
      assert.equal(await tab.evaluate(async () => {
        const {rulingsText} = await import('/test/rulings.js'), pieces = [];
        rulingsText('2022', piece => pieces.push(new TextEncoder().encode(piece)));
        const all = new Uint8Array(await new Blob(pieces).arrayBuffer());
        return [...new Uint8Array(await crypto.subtle.digest('SHA-256', all))].map(b => b.toString(16).padStart(2, '0')).join('');
      }), row.rulings.sha256);
    });
  }

  const build = join(here, 'full/words.wasm');
  if (existsSync(build)) {
    await step('the browser build', async tab => {
      await tab.goto(at + '/bare.html');
      await tab.addScriptTag({url: at + '/full/wasm_exec.js'});
      const told = await tab.evaluate(async () => {
        const {words, audit} = await import('/full.js'), bytes = async name => (await fetch(`/full/${name}.wasm`)).arrayBuffer();
        const m = await words(await bytes('words'), 'sideout-doubles-11@2026', {first: 'A'}), check = await audit(await bytes('audit'));
        m.do('gA1B1');
        return {call: m.call(), duties: m.duties(), refusal: m.refusal('ends'), none: m.refusal('A'), step: m.guided('wrong'), line: m.line(),
          bad: check({match: 'm1', format: 'sideout-doubles-11@2026', sides: [{players: ['imani', 'tomasz']}, {players: ['priya', 'lars']}], games: [[11, 10]]})};
      });
      assert.match(told.line, /score=0-0/);
      assert.ok(told.duties.length > 0 && told.refusal.length > 0 && told.none.length === 0 && told.step.question && told.step.replies.length > 1, JSON.stringify(told));
      assert.ok(told.bad.length > 0, 'eleven to ten is no final');
    });
  } else console.log('SKIPPED the browser build: node test/build.js makes it where Go is');
} finally {
  await chromium.close();
  server.close();
}
