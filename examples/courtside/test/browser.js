// In Chromium, at phone and tablet size: matches by taps compared with Go's record, offline, reloads at random moments, every screen
// with axe-core, bad days, the first load on a slow phone. Without Chromium it says so and ends well. SHOTS=DIR keeps pictures.
// RELOADS and KILLS say how many; WIDE=1 looks at full sun in every size, not on the phone alone. SLOW=8 is a phone eight times slower,
// on which the library answers late and an entry takes long to be safe. ONLY is a pattern of names of steps. Nothing is measured or tapped before the
// page shows that it is ready for it, and no limit of time is part of a check but that of the first load.
import assert from 'node:assert/strict';
import {execFileSync, spawn} from 'node:child_process';
import {createServer} from 'node:http';
import {existsSync, mkdirSync, readFileSync, rmSync, mkdtempSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const browser = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(path => path && existsSync(path));
const playwright = await import('playwright-core').catch(() => undefined);
if (!browser || !playwright) {
  console.log(`SKIPPED, the page was not tested in a browser: ${playwright ? 'no Chromium found; name it in CHROMIUM' : 'run npm ci for playwright-core'}`);
  process.exit(0);
}
const axe = readFileSync(join(here, 'node_modules/axe-core/axe.min.js'), 'utf8');
const work = mkdtempSync(join(tmpdir(), 'courtside-')), shots = process.env.SHOTS, only = process.env.ONLY, reloads = +(process.env.RELOADS || 40), kills = +(process.env.KILLS || 5), slow = +(process.env.SLOW || 1);
const LONG = 180000; // milliseconds after which nothing more is waited for, on any machine
if (shots) mkdirSync(shots, {recursive: true});
for (const [name, from] of [['courtside', '.'], ['again', './test/again'], ['officiate', '../officiate']]) execFileSync('go', ['build', '-o', join(work, name), from], {cwd: here});
const officiate = text => {
  writeFileSync(join(work, 'match.jsonl'), text);
  return String(execFileSync(join(work, 'officiate'), ['-file', join(work, 'match.jsonl'), '-brief']));
};
const again = text => String(execFileSync(join(work, 'again'), {input: text}));

const program = spawn(join(work, 'courtside'), ['-addr', '127.0.0.1:0']);
const at = await new Promise(done => {
  let printed = '';
  program.stdout.on('data', text => { const [found] = (printed += text).match(/http:\S+/) || []; if (found) done(found); });
  let errors = "";
  program.stderr.on("data", text => { errors += text; });
  program.on("exit", () => process.stderr.write(errors));
});
const chromium = await playwright.chromium.launch({executablePath: browser, args: ['--no-sandbox']});
const sizes = {phone: {width: 390, height: 844}, small: {width: 360, height: 640}, tablet: {width: 1180, height: 820}};
const people = {A1: 'Imani Okafor', 'A1.mark': 'band', A2: 'Tomasz Zielinski', B1: 'Priya Raman', B2: 'Lars Nyberg', 'B2.mark': 'green cap'};

// Makes what a page waits for come late: an answer of the library, and that an entry is safe.
function hinder(slow) {
  const {setTimeout} = globalThis, late = f => e => setTimeout(() => f(e), Math.random() * slow * 40);
  const delay = (on, name, event) => Object.defineProperty(on, name, {set(f) { this.addEventListener(event, late(f)); }});
  delay(Worker.prototype, 'onmessage', 'message');
  delay(IDBTransaction.prototype, 'oncomplete', 'complete');
}

async function step(name, run, options = {}) {
  if (only && !name.match(only)) return;
  const began = Date.now(), context = await chromium.newContext({viewport: sizes.phone, locale: 'en-GB', hasTouch: true, ...options}), errors = [];
  context.setDefaultTimeout(LONG);
  if (slow > 1) await context.addInitScript(hinder, slow);
  const tab = await context.newPage();
  if (slow > 1) await (await context.newCDPSession(tab)).send('Emulation.setCPUThrottlingRate', {rate: slow});
  tab.on('pageerror', error => errors.push(String(error.stack)));
  await run(tab, context);
  assert.deepEqual(errors, []);
  await context.close();
  console.log(`ok ${name} (${Date.now() - began} ms)`);
}

const count = tab => tab.evaluate(() => +document.getElementById('screen').dataset.entries || 0);
// Waits until an entry that something makes is answered.
async function entering(tab, make) {
  const n = await count(tab);
  await make();
  await tab.waitForFunction(n => +document.getElementById('screen').dataset.entries > n, n);
}
const press = (tab, what) => tab.locator(`[data-do="${what}"]`).first().tap();
// Waits for a screen that was asked for, and for nothing of the one before.
const arrived = (tab, name) => tab.waitForSelector(`#screen.${name}[aria-busy=false]`);
// Waits until nothing more is to come: the match stands in words too, a question is put.
const settled = tab => tab.waitForFunction(() => {
  const screen = document.getElementById('screen');
  return screen?.getAttribute('aria-busy') === 'false' && (!document.querySelector('.always') || screen.dataset.told === screen.dataset.entries) && !document.querySelector('dialog[aria-busy=true]');
});
const says = (tab, where, what) => tab.waitForFunction(([where, what, how]) => new RegExp(what, how).test(document.querySelector(where)?.textContent || ''), [where, what.source, what.flags]);
const installed = tab => tab.waitForFunction(async () => (await navigator.serviceWorker.ready).active?.state === 'activated');
// Asks again and again until something is so.
async function until(is, what) {
  for (const end = Date.now() + LONG; !await is();) {
    assert.ok(Date.now() < end, what);
    await new Promise(done => setTimeout(done, 100));
  }
}
const tap = (tab, what) => /^(more|time-out)$/.test(what) ? press(tab, what) : entering(tab, () => press(tab, what));
const entries = tab => tab.evaluate(async () => {
  const id = location.hash.split('/')[1], db = await new Promise(done => { const r = indexedDB.open('courtside'); r.onsuccess = () => done(r.result); });
  const rows = await new Promise(done => { const r = db.transaction('lines').objectStore('lines').getAll(IDBKeyRange.bound([id, 0], [id, Infinity])); r.onsuccess = () => done(r.result); });
  db.close();
  return rows.map(r => r.text);
});
async function begin(tab, {shape, names = people, first = 'A', left} = {}) {
  await tab.goto(at + '#new');
  await arrived(tab, 'new');
  if (shape) {
    const [, play, target, games = '1'] = shape.match(/^(.*?)-(\d+)(?:-of(\d))?$/);
    await tab.selectOption('select[name=play]', play);
    for (const [label, value] of [['Points to', target], ['Games', games]]) await tab.locator(`.pressed[aria-label="${label}"] [data-value="${value}"]`).tap();
  }
  for (const [name, value] of Object.entries(names)) if (await tab.locator(`input[name="${name}"]`).count()) await tab.fill(`input[name="${name}"]`, value);
  if (left) await tab.locator('.pressed[aria-label*="first serve"], .pressed[aria-label*="ersten Aufschlag"]').locator(`[data-value=${left}]`).tap();
  if (first) await tab.locator('.pressed[aria-label*="serves first"], .pressed[aria-label*="zuerst"]').locator(`[data-value=${first}]`).tap();
  await tab.locator('form .door.main').tap();
  await arrived(tab, 'match');
}

// Taps an answer of a dialogue after the other.
async function guided(tab, topic, ...keys) {
  await tap(tab, 'more');
  await tab.locator(`[data-topic="${topic}"]`).tap();
  for (const key of keys) await tab.locator(`dialog[open][aria-busy=false] [data-key="${key}"]`).tap();
  await entering(tab, () => tab.locator('dialog[open] [data-entry]').tap());
  await tab.waitForSelector('dialog', {state: 'detached'});
}

// Taps a match to its end: a wrong server, a time-out, a medical call, a warning, a wrong court, a correction and an undo on the way.
async function playOut(tab, hurt, mistake) {
  let seed = 7;
  const random = k => (seed = (seed * 1103515245 + 12345) % 2147483648) % k;
  const special = {
    5: () => guided(tab, 'wrong', ...mistake),
    9: async () => {
      await tap(tab, 'time-out');
      await entering(tab, () => tab.locator('dialog[open] .side.B').tap());
      await tab.waitForSelector('.clock:not([hidden])');
      await tap(tab, 'in');
    },
    11: () => guided(tab, 'correct', '3', 'B'),
    13: async () => {
      await guided(tab, 'medical', 'medical-request', hurt);
      await says(tab, '.open', /qualified help/i);
      await guided(tab, 'medical', 'medical-valid', hurt);
      await tab.locator('[data-do="in"]').first().waitFor();
      await tap(tab, 'in');
    },
    15: () => guided(tab, 'penalty', 'technical-warning', 'A'),
    19: () => guided(tab, 'wrong', 'court', 'stopped', 'ref', 'called'),
    21: () => tap(tab, 'undo'),
  };
  for (let n = 1; n < 400 && !await tab.locator('.final').count(); ) {
    if (await tab.locator('.opening').count()) { await entering(tab, () => tab.locator('.ending .door').tap()); continue; }
    if (await tab.locator('[data-do="ends"]').count()) await tap(tab, 'ends');
    await (special[n] || (() => tap(tab, random(9) < 6 ? 'A' : 'B')))();
    n++;
  }
  await tab.waitForSelector('.final');
  await settled(tab);
}

// Has side A win, as fast as entries are answered, until something stands there.
const winUntil = (tab, what) => tab.evaluate(async ([what, long]) => {
  const {dataset} = document.getElementById('screen'), end = performance.now() + long;
  while (!document.querySelector(what)) {
    const {entries} = dataset;
    (document.querySelector('[data-do=ends]') || document.querySelector('[data-do=A]')).click();
    while (dataset.entries === entries) {
      if (performance.now() > end) throw new Error(`no answer to entry ${+entries + 1}`);
      await new Promise(done => setTimeout(done, 1));
    }
  }
}, [what, LONG]);

// Whether a record says what Go's record of the same entries says.
function compare(text) {
  const rows = text => text.trim().split('\n').map(line => JSON.parse(line)), [head, ...page] = rows(text), [goHead, ...own] = rows(again(text));
  assert.deepEqual(page.map(({sum, ...row}) => row), own.map(({sum, ...row}) => row));
  assert.deepEqual(head.setup, goHead.setup);
  assert.equal(head.format, goHead.format);
  return page;
}

// Where the screen, or the dialogue on it, is longer than the glass, something is done with a glass as long.
async function whole(tab, run) {
  const {width, height} = tab.viewportSize(), long = await tab.evaluate(() => Math.max(document.querySelector('dialog[open]')?.scrollHeight + 24 || document.documentElement.scrollHeight, innerHeight));
  if (long > height) await tab.setViewportSize({width, height: long});
  await run(long > height);
  await tab.setViewportSize({width, height});
}

// A picture as it is seen, and one of the whole.
async function picture(tab, name) {
  if (!shots) return;
  await tab.screenshot({path: join(shots, name + '.png')});
  await whole(tab, longer => longer && tab.screenshot({path: join(shots, name + '-whole.png')}));
}

// What a thumb and an eye want: targets of 44 pixels, none over another, no text cut off, nothing beyond the sides.
const amiss = tab => tab.evaluate(() => {
  const top = document.querySelector('dialog[open]') || document.body, out = [];
  const seen = e => e.checkVisibility({visibilityProperty: true}) && !e.closest('.unseen') && !e.closest('details:not([open]) > :not(summary)');
  const name = e => `${e.localName}.${e.className} ${JSON.stringify(e.textContent.slice(0, 60))}`;
  const targets = [...top.querySelectorAll('button, a, summary, input, select')].filter(seen).map(e => [e, e.getBoundingClientRect()]);
  for (const [e, r] of targets) if (r.width < 44 || r.height < 44) out.push(`small: ${name(e)} ${r.width}x${r.height}`);
  targets.forEach(([a, r], i) => targets.slice(i + 1).forEach(([b, q]) => {
    if (a.closest('.dock, .leaving') === b.closest('.dock, .leaving') && !a.contains(b) && Math.min(r.right, q.right) - Math.max(r.left, q.left) > 1 && Math.min(r.bottom, q.bottom) - Math.max(r.top, q.top) > 1) out.push(`over another: ${name(a)}, ${name(b)}`);
  }));
  for (const e of top.querySelectorAll('*')) {
    if (!seen(e) || !e.clientWidth || /select|option|input/.test(e.localName)) continue;
    if (e.scrollWidth > e.clientWidth + 1 || (getComputedStyle(e).overflowY !== 'visible' && e.localName !== 'dialog' && e.scrollHeight > e.clientHeight + 1)) out.push(`cut off: ${name(e)}`);
  }
  if (document.documentElement.scrollWidth > innerWidth) out.push(`wider than the screen by ${document.documentElement.scrollWidth - innerWidth}`);
  return out;
});

async function checked(tab, name) {
  assert.deepEqual((await amiss(tab)).map(text => `${name}: ${text}`), []);
  if (!await tab.evaluate(() => 'axe' in globalThis)) await tab.evaluate(axe);
  // What can be scrolled from under the buttons that stay is not obscured by them.
  let violations;
  await whole(tab, async () => {
    ({violations} = await tab.evaluate(() => globalThis.axe.run(document, {runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice']})));
  });
  assert.deepEqual(violations.map(v => `${name}: ${v.id}: ${v.nodes.map(n => n.html + ' ' + n.failureSummary).join(' | ').slice(0, 600)}`), []);
}

try {
  // Two whole matches by thumb alone, without network and server, each with what goes wrong on a day. In singles no partner can
  // serve in another's place: the server at fault is one who serves from the wrong court.
  for (const [sport, given, start, hurt, mistake] of [
    ['doubles', {}, 'gA1B1', 'A2', ['server', 'stopped', 'ref', 'struck']],
    ['side-out singles', {shape: 'sideout-singles-11', names: {A1: 'Mei-Lin Castellanos', B1: 'Rafael Oyelaran'}, first: 'B', left: 'B'}, 'gB1A1', 'A1', ['side', 'stopped', 'ref', 'struck']],
  ]) await step(`a match of ${sport} by taps, offline, equals the record of Go`, async (tab, context) => {
    await begin(tab, given);
    await settled(tab);
    await installed(tab);
    await context.setOffline(true);
    program.kill('SIGSTOP'); // no server either
    try {
      await tab.reload();
      await arrived(tab, 'match');
      await tap(tab, start);
      await settled(tab);
      await playOut(tab, hurt, mistake);
    } finally {
      program.kill('SIGCONT');
    }
    const text = (await entries(tab)).map(line => line + '\n').join(''), page = compare(text), said = officiate(text);
    assert.ok(said.includes(await tab.locator('.middle h2').textContent()), 'officiate says who won as the page does');
    const points = await tab.locator('.final tbody tr').evaluateAll(rows => rows.map(row => [...row.querySelectorAll('td')].map(td => +td.textContent)));
    assert.deepEqual([...said.matchAll(/^ +game \d +A +(\d+) +B +(\d+)/gm)].map(m => [+m[1], +m[2]]), points[0].map((a, i) => [a, points[1][i]]), 'and the same points');
    assert.match(said, new RegExp(`${page.length} of ${page.length} lines agree`));
    for (const want of [RegExp(`^stop\\?${mistake[0]}`), /^tB$/, /^in$/, /^mA\d$/, /^mA\d\+$/, /^twA$/, /^stop\?court/, /^amend/, /^undo$/]) assert.ok(page.some(row => want.test(row.do)), `${want}: ${page.map(row => row.do).join(' ')}`);
    assert.match(page.at(-1).line, /phase=over/);
    console.log(`   ${page.length} entries: ${page.map(row => row.do).join(' ').slice(0, 400)}`);
  });

  await step(`${reloads} reloads at random moments lose no entry`, async tab => {
    await begin(tab);
    const open = () => entering(tab, () => tab.locator('.ending .door').tap());
    await open();
    let lost = 0, cut = 0;
    for (let i = 0; i < reloads; i++) {
      if (await tab.locator('.ending .door').count()) { await open(); continue; }
      if (await tab.locator('.final').count()) { await tap(tab, 'undo'); continue; }
      // A tap, a random wait, and a reload in the middle of whatever goes on; what was shown before it must be there after.
      const before = (await entries(tab)).length, anew = tab.waitForEvent('load');
      const told = "[...document.querySelectorAll('.call strong, .points')].map(e => e.textContent).join(' ')";
      const last = await tab.evaluate(`(async () => {
        document.querySelector('.win:not(:disabled)').click();
        await new Promise(done => setTimeout(done, ${(i * 7919) % 23}));
        setTimeout(() => location.reload(), 0);
        return ${told};
      })()`);
      await anew;
      await arrived(tab, 'match');
      const after = (await entries(tab)).length, now = await tab.evaluate(told);
      if (after < before) lost++;
      if (after === before) { cut++; if (now !== last) lost++; }
      compare((await entries(tab)).map(line => line + '\n').join(''));
    }
    assert.equal(lost, 0);
    console.log(`   ${reloads} reloads, ${cut} of them before the entry was answered, ${(await entries(tab)).length - 1} entries`);
  });

  await step(`the browser killed ${kills} times at random moments: every answered entry is there`, async () => {
    const profile = join(work, 'profile');
    let match, answered = 0, held = 0, ahead = 0;
    for (let i = -1; i <= kills; i++) {
      const chrome = spawn(browser, ['--headless', '--no-sandbox', '--remote-debugging-port=0', `--user-data-dir=${profile}`, '--window-size=390,844', 'about:blank'], {detached: true});
      const gone = new Promise(done => chrome.on('close', done));
      let ended = false;
      try {
        const endpoint = await new Promise((done, fail) => {
          let said = '';
          chrome.stderr.on('data', text => { const found = (said += text).match(/ws:\/\/\S+/); if (found) done(found[0]); });
          chrome.on('exit', () => fail(new Error(said)));
        });
        const there = await playwright.chromium.connectOverCDP(endpoint), [context] = there.contexts(), tab = await context.newPage();
        context.setDefaultTimeout(LONG);
        if (match) {
          await tab.goto(match);
          await tab.waitForSelector('#screen.match[aria-busy=false]');
          assert.ok(await tab.locator('.always').count(), `killed ${i} times: ${await tab.locator('body').innerText()}`);
          const lines = await entries(tab);
          assert.ok(lines.length - 1 >= answered, `killed ${i} times: ${answered} entries were answered, ${lines.length - 1} are there`);
          ahead += lines.length - 1 - answered;
          compare(lines.map(line => line + '\n').join(''));
          held = lines.length - 1;
        } else {
          await tab.goto(at + '#new');
          await tab.locator('form .door.main').click();
          await arrived(tab, 'match');
          match = tab.url();
          // A new profile is written down first, in an orderly end: before that Chromium begins anew, with nothing.
          await (await there.newBrowserCDPSession()).send('Browser.close').catch(() => {}); // the connection goes with it
          ended = true;
          continue;
        }
        if (i === kills) break;
        // What the page has answered is told as it is shown; it is killed while a hand goes on tapping.
        tab.on('console', message => { answered = Math.max(answered, +message.text().match(/^answered (\d+)/)?.[1] || 0); });
        await tab.evaluate(() => {
          const screen = document.getElementById('screen'), told = () => console.log('answered ' + screen.dataset.entries);
          new MutationObserver(told).observe(screen, {attributes: true});
          let n = 0;
          setInterval(() => (document.querySelector('.ending .door') || document.querySelector('.opening .answers button') || [...document.querySelectorAll('.win:not(:disabled)')][n++ % 3 ? 0 : 1] || document.querySelector('.undo'))?.click(), 12);
        });
        const before = answered;
        await until(() => answered > before + 1, 'entries are answered');
        await tab.waitForTimeout(60 + (i * 7919) % 331);
      } finally {
        if (!ended) process.kill(-chrome.pid, 'SIGKILL');
        await gone; // with all of its processes, which hold the profile
      }
    }
    assert.ok(held > kills, String(held));
    console.log(`   killed ${kills} times: ${held} entries, each that was answered among them; ${ahead} more were kept whose answer was not seen`);
  });

  const looks = Object.keys(sizes).flatMap(size => ['light', 'dark', 'sun'].map(light => [size, light])).filter(([size, light]) => light !== 'sun' || size === 'phone' || process.env.WIDE);
  // Two at a time, each in a profile of its own.
  await Promise.all([1, 2].map(async () => {
    for (let next; (next = looks.shift());) await everyScreen(...next);
  }));
  async function everyScreen(size, light) {
    const viewport = sizes[size];
    await step(`every screen, ${size}, ${light}, with axe-core`, async tab => {
      const look = async name => { await settled(tab); await picture(tab, `${size}-${light}-${name}`); await checked(tab, name); };
      await tab.addInitScript(light => localStorage.setItem('settings', JSON.stringify({light, sound: false})), light);
      await tab.goto(at);
      await arrived(tab, 'home');
      await look('home');
      await tab.goto(at + '#settings');
      await arrived(tab, 'settings');
      await look('settings');
      await tab.goto(at + '#drill');
      await tab.waitForSelector('.drill .go');
      await tab.locator('.drill summary').first().tap();
      await tab.locator('.drill .topics').first().waitFor();
      await look('drill-levels');
      await tab.locator('.drill .go').first().tap();
      await tab.waitForSelector('.drill .answers, .drill .pad');
      await look('drill-question');
      await tab.locator('.drill .skip').tap();
      await tab.waitForSelector('.drill .next');
      await look('drill-answered');
      await begin(tab, {first: ''});
      await settled(tab);
      await look('choice');
      await tap(tab, 'fcA:serve');
      await tab.waitForSelector('.opening .two');
      await look('opening');
      await tab.locator('.ending .door').tap();
      await tab.waitForSelector('.court');
      for (const side of 'AABBAB') await tap(tab, side);
      await look('play');
      await tap(tab, 'time-out');
      await tab.waitForSelector('dialog[open] .side.A');
      await look('time-out');
      await tab.locator('dialog[open] .side.A').tap();
      await tab.waitForSelector('.clock:not([hidden])');
      await look('break');
      await tap(tab, 'in');
      await tap(tab, 'more');
      await tab.waitForSelector('dialog[open] [data-topic]');
      await look('more');
      await tab.locator('[data-topic=medical]').tap();
      await tab.waitForSelector('dialog[open] .help');
      await look('medical');
      await tab.locator('dialog[open] .quiet').last().tap();
      await tap(tab, 'more');
      await tab.locator('[data-topic=wrong]').tap();
      await tab.waitForSelector('dialog[open] [data-key]');
      await look('wrong');
      await tab.locator('dialog[open] .quiet').last().tap();
      await tap(tab, 'more');
      await tab.locator('[data-topic=correct]').tap();
      await tab.waitForSelector('dialog[open] [data-key]');
      await look('correct');
      await tab.locator('dialog[open] [data-key="3"]').tap();
      await tab.waitForSelector('dialog[open] [data-key="B"]');
      await tab.locator('dialog[open] [data-key="B"]').tap();
      await tab.waitForSelector('dialog[open] [data-entry]');
      await look('correct-sure');
      await tab.locator('dialog[open] .quiet').last().tap();
      await tap(tab, 'more');
      await tab.locator('dialog[open] summary').tap();
      await tab.locator('dialog[open] [data-kind]').first().waitFor();
      await tab.locator('dialog[open] summary').scrollIntoViewIfNeeded();
      await look('everything-else');
      await tab.locator('dialog[open] [data-kind=ret]').tap();
      await tab.waitForSelector('dialog[open] [data-entry=retA]');
      await look('of-whom');
      await tab.locator('dialog[open] [data-entry=retA]').tap();
      await tab.waitForSelector('dialog[open] .ask');
      await look('sure');
      await tab.locator('dialog[open] .quiet').last().tap();
      await tap(tab, 'more');
      await press(tab, 'asks');
      await tab.locator('[data-asks=B]').tap();
      await tab.waitForSelector('[data-question=own-places]');
      await look('asks');
      await tab.locator('[data-question=own-places]').tap();
      await says(tab, 'dialog[open]', /"Yes\."/);
      await says(tab, 'dialog[open]', /take your places/);
      await look('asks-answer');
      await tab.locator('dialog[open] .leaving .quiet').tap();
      await tap(tab, 'more');
      await press(tab, 'fault');
      await tab.waitForSelector('dialog[open] [data-fault]');
      await look('fault');
      await tab.locator('dialog[open] [data-fault=nvz]').tap();
      await tab.waitForSelector('dialog[open] .side');
      await look('fault-whose');
      await tab.locator('dialog[open] .quiet').last().tap();
      await winUntil(tab, '.opening');
      await look('between');
      await tab.locator('.ending .door').tap();
      await tab.waitForSelector('.court');
      await winUntil(tab, '.final');
      await look('final');
      const id = await tab.evaluate(() => location.hash.split('/')[1]);
      await tab.goto(`${at}#papers/${id}`);
      await arrived(tab, 'papers');
      await tab.waitForSelector('.entries li', {state: 'attached'});
      await tab.waitForSelector('.paper .marks');
      await look('papers');
      await tab.emulateMedia({media: 'print'});
      if (shots) await tab.screenshot({path: join(shots, `${size}-${light}-printed.png`), fullPage: true});
      assert.ok(await tab.evaluate(() => [...document.querySelectorAll('#screen > :not(.paper)')].every(e => !e.offsetParent)), 'only the sheet is printed');
      assert.deepEqual(await tab.evaluate(() => [getComputedStyle(document.body).backgroundColor, getComputedStyle(document.querySelector('.paper')).color]), ['rgb(255, 255, 255)', 'rgb(0, 0, 0)'], 'in black on white in any light');
      await tab.emulateMedia({media: null});
      await tab.goto(`${at}#blank/sideout-doubles-11-of3@2026`);
      await arrived(tab, 'blank');
      await tab.waitForSelector('.paper .marks');
      assert.equal(await tab.locator('.paper .marks').count(), 6);
      await look('blank');
      await tab.goto(at + '#new');
      await arrived(tab, 'new');
      await look('new');
      await begin(tab, {shape: 'rally-doubles-11'});
      await settled(tab);
      await tab.locator('.ending .door').tap();
      await tab.waitForSelector('.court');
      for (const side of 'AAAAAA') await tap(tab, side);
      await tab.locator('[data-do="ends"]').waitFor();
      await look('ends-due');
      await guided(tab, 'wrong', 'server', 'stopped', 'ref', 'struck');
      await tab.locator('.did:not(:empty)').waitFor();
      await look('ruling');
      await guided(tab, 'medical', 'medical-request', 'A2');
      await says(tab, '.open', /qualified help/i);
      await look('medical-asked');
      await tap(tab, 'more');
      await tab.locator('dialog[open] a').tap();
      await arrived(tab, 'names');
      await look('names');
      // Help first, on the screen too; what was entered by mistake is lifted with a reason.
      await begin(tab);
      await tab.locator('.ending .door').tap();
      await settled(tab);
      await guided(tab, 'medical', 'concussion', 'A1');
      await tab.locator('.open .help').waitFor();
      assert.ok(await tab.evaluate(() => document.querySelector('.help').getBoundingClientRect().bottom < document.querySelector('.court').getBoundingClientRect().top), 'help stands over the court');
      await look('concussion');
      await tap(tab, 'more');
      await tab.locator('[data-topic=correct]').tap();
      await tab.locator('dialog[open] [data-key="3"]').tap();
      await says(tab, 'dialog[open]', /says suspected concussion, Imani Okafor/);
      await tab.locator('dialog[open] [data-key="-"]').tap();
      await says(tab, 'dialog[open]', /reason/);
      await tab.locator('dialog[open] input').fill('entered for the wrong player');
      await look('reason');
      await tab.locator('dialog[open] [type=submit]').tap();
      await entering(tab, () => tab.locator('dialog[open] [data-entry]').tap());
      await tab.waitForFunction(() => !document.querySelector('.help'));
    }, {viewport, colorScheme: light === 'dark' ? 'dark' : 'light'});
  }

  await step('a drill answered by touch, offline, with a hint, on a topic, and its progress kept', async (tab, context) => {
    await tab.goto(at + '#drill');
    await tab.waitForSelector('.drill .go');
    await installed(tab);
    await context.setOffline(true);
    await tab.reload();
    await tab.waitForSelector('.drill .go');
    const exercises = async () => {
      let right = 0, n = 0;
      const seen = new Set();
      for (;; n++) {
        await tab.locator('.drill .skip').waitFor(); // an exercise is put
        seen.add(await tab.locator('.drill h2').textContent());
        if (n === 0) {
          await tab.locator('.drill .hint').tap();
          await says(tab, '.drill [role=status]', /./);
        }
        const first = tab.locator('.drill .answers [data-key]').first();
        if (await first.count()) await first.tap();
        else {
          for (const sign of '0-0-2') if (await tab.locator(`.drill [data-sign="${sign}"]`).count()) await tab.locator(`.drill [data-sign="${sign}"]`).tap();
          await tab.locator('.drill .pad [type=submit]').tap();
          await tab.locator('.drill .next, .drill [role=status] p.trouble').first().waitFor(); // not the hint, which stands there as well
          if (!await tab.locator('.drill .next').count()) await tab.locator('.drill .skip').tap(); // it wanted marks
        }
        await tab.locator('.drill .next').waitFor();
        right += await tab.locator('.drill p.right').count();
        assert.equal(await tab.locator('.drill p.right, .drill p.wrong').count(), 1);
        assert.ok(await tab.locator('.drill .reason').count() > 0, 'the reason is said');
        await tab.locator('.drill .next').tap();
        await tab.locator('.drill .skip, .drill a.door.main').waitFor();
        if (await tab.locator('.drill a.door.main').count()) break;
      }
      assert.equal(n, 9, 'ten exercises');
      assert.match(await tab.locator('.drill h2').textContent(), new RegExp(`\\b${right}\\b.*\\b10\\b`));
      return [...seen];
    };
    await tab.locator('.drill .go').first().tap();
    await exercises();
    const cards = await tab.evaluate(() => JSON.parse(localStorage.getItem('progress')).lines.length);
    assert.ok(cards > 0 && cards <= 10, String(cards));
    await tab.locator('.drill .door.main').tap();
    await tab.locator('.drill summary').first().tap();
    const topic = tab.locator('.drill .topics a').first(), name = await topic.textContent();
    await topic.tap();
    for (const title of await exercises()) assert.ok(title.toLowerCase().includes(name.toLowerCase()), `${title}: only ${name}`);
    assert.ok(await tab.evaluate(() => JSON.parse(localStorage.getItem('progress')).lines.length) >= cards);
  });

  await step('names and the side on the left during a match, one who is late, another time-out in a break, by keyboard alone', async tab => {
    await begin(tab, {names: {}});
    await settled(tab);
    const spot = person => tab.locator(`[data-person=${person}]`).getAttribute('class');
    const key = async (selector, name = 'Enter') => {
      const to = tab.locator(selector).first();
      await settled(tab); // nothing is drawn between the two
      await to.waitFor();
      await to.focus();
      await tab.keyboard.press(name);
    };
    // Side B comes a minute late; on the left is who chose that end.
    await key('[data-do=more]');
    await key('dialog[open] summary');
    await key('dialog[open] [data-kind=late]');
    await key('dialog[open] [data-entry="lateB:0"]');
    await tab.locator('dialog[open] .pad input').waitFor();
    await tab.locator('dialog[open] .pad input').focus();
    await tab.keyboard.type('1');
    await tab.keyboard.press('Enter');
    await tab.waitForSelector('dialog[open] .pad', {state: 'detached'});
    await entering(tab, () => key('dialog[open] .door.main'));
    await entering(tab, () => key('.opening [data-value=B]'));
    await entering(tab, () => key('.ending .door'));
    await tab.waitForSelector('.court');
    assert.match(await spot('A1'), /right/, 'a side that is not on the left is on the right');
    assert.deepEqual(await tab.locator('.win').evaluateAll(all => all.map(b => b.dataset.do)), ['B', 'A']);
    await entering(tab, () => key('[data-do=A]'));
    // Names are supplied, and the sides turned round, as the referee sees them now.
    await key('[data-do=more]');
    await key('dialog[open] a');
    await arrived(tab, 'names');
    for (const [name, value] of Object.entries(people)) await tab.fill(`input[name="${name}"]`, value);
    assert.equal(await tab.locator('[aria-checked=true]').getAttribute('data-value'), 'B');
    await key('[data-value=B]', 'ArrowLeft');
    await key('form .door.main');
    await arrived(tab, 'match');
    assert.match(await spot('A1'), /left/);
    assert.match(await tab.locator('.court').textContent(), /Imani Okafor.*band|band.*Imani Okafor/s);
    assert.equal(await tab.locator('.call strong').textContent(), '1-0-2');
    // A second time-out in the same break is not taken for the first.
    for (const again of [false, true]) {
      await key('[data-do=time-out]');
      await tab.waitForSelector('dialog[open] .side.A');
      assert.equal(await tab.locator('dialog[open] .trouble').count(), +again);
      if (again) await tab.keyboard.press('Escape');
      else await entering(tab, () => key('dialog[open] .side.A'));
    }
    await entering(tab, () => key('.ending .door'));
    for (const taken of [true, false]) { // the format gives two: what to do with a third is said
      await key('[data-do=time-out]');
      await (taken ? entering(tab, () => key('dialog[open] .side.A')) : key('dialog[open] .side.A'));
      if (taken) await entering(tab, () => key('.ending .door'));
      else await says(tab, '.trouble', /no penalty|play (goes )?on/i);
    }
    const lines = await entries(tab), rows = lines.map(line => JSON.parse(line)), text = lines.map(line => line + '\n').join('');
    assert.deepEqual(rows.filter(row => row.do).map(row => row.do), ['fcA:serve', 'lateB:60', 'gA1B1', 'A', 'tA', 'in', 'tA', 'in']);
    assert.match(officiate(text), /Imani Okafor/);
    const [head] = again(text).split('\n');
    assert.equal(JSON.parse(head).setup.sides[0].players[0].mark, 'band');
  });

  await step('as plain files in a folder of another server, which is gone afterwards', async tab => {
    const folder = join(work, 'files'), types = {html: 'text/html', css: 'text/css', js: 'text/javascript', svg: 'image/svg+xml', png: 'image/png', wasm: 'application/wasm', webmanifest: 'application/manifest+json'};
    execFileSync(join(work, 'courtside'), ['-out', folder]);
    let bytes = 0;
    const other = createServer((asked, answer) => {
      const name = new URL(asked.url, 'http://x').pathname.match(/^\/courtside\/([\w.-]*)$/)?.[1] || 'index.html', file = join(folder, name), br = existsSync(file + '.br');
      if (!existsSync(file)) return answer.writeHead(404).end();
      const headers = {'Content-Type': types[name.split('.').pop()], ETag: `"${name}"`, ...br && {'Content-Encoding': 'br'}};
      if (asked.headers['if-none-match'] === headers.ETag) return answer.writeHead(304, headers).end();
      const body = readFileSync(br ? file + '.br' : file);
      bytes += body.length;
      answer.writeHead(200, headers).end(body);
    });
    await new Promise(done => other.listen(0, '127.0.0.1', done));
    await tab.goto(`http://127.0.0.1:${other.address().port}/courtside/`);
    await tab.waitForSelector('.doors');
    await installed(tab);
    console.log(`   ${bytes} bytes from that server until all of it works without one`);
    assert.ok(bytes < 1e6, String(bytes));
    other.closeAllConnections();
    await new Promise(done => other.close(done));
    await tab.reload();
    await tab.locator('.doors a').first().tap();
    await tab.locator('form .door.main').tap();
    await arrived(tab, 'match');
    await settled(tab);
    await tab.goto(tab.url().replace(/#.*/, '#drill'));
    await tab.waitForSelector('.drill .go');
  });

  // The score is kept without the library; what is asked of it waits for it and for what was entered meanwhile, whatever screen was
  // looked at before it came.
  await step('a library that comes late', async (tab, context) => {
    let come;
    const late = new Promise(done => { come = done; });
    await context.route('**/desk.wasm', async route => {
      await late;
      await route.continue();
    });
    await begin(tab);
    const match = tab.url();
    await entering(tab, () => tab.locator('.ending .door').tap());
    for (const side of 'AABB') await tap(tab, side);
    await tab.goto(match.replace('#match', '#papers'));
    await arrived(tab, 'papers');
    await tab.goto(match);
    await arrived(tab, 'match');
    for (const topic of ['[data-do=asks]', '[data-topic=wrong]', '[data-topic=correct]']) {
      await tap(tab, 'more');
      await tab.locator(topic).tap();
      await says(tab, 'dialog[open]', /being loaded/);
      if (!topic.includes('correct')) await tab.locator('dialog[open] .quiet').tap();
    }
    come();
    for (const key of ['6', 'A']) await tab.locator(`dialog[open][aria-busy=false] [data-key="${key}"]`).tap();
    await entering(tab, () => tab.locator('dialog[open] [data-entry]').tap());
    await settled(tab);
    assert.equal(await tab.locator('.trouble').textContent(), '');
    assert.match(compare((await entries(tab)).map(line => line + '\n').join('')).at(-1).do, /^amend 6 A$/);
    await tab.goto(match.replace('#match', '#papers'));
    await tab.waitForSelector('.paper .marks');
  }, {serviceWorkers: 'block'});

  // What the device does is recorded in the place of the device, so that what is asked of it, and when, can be compared.
  await step('speech, vibration, sound, sharing, a screen that stays on, installing', async (tab, context) => {
    const set = settings => tab.evaluate(settings => localStorage.setItem('settings', JSON.stringify({language: 'en', ...settings})), settings);
    const did = () => tab.evaluate(() => globalThis.did.splice(0));
    const still = async () => tab.clock.pauseAt(await tab.evaluate(() => Date.now()) + 3600e3); // from here on time passes only as it is told to
    await tab.clock.install();
    await tab.addInitScript(() => {
      globalThis.did = [];
      const record = (name, answer) => (...args) => { did.push([name, ...args]); return answer; };
      const put = (on, name, value) => Object.defineProperty(on, name, {value, configurable: true, writable: true});
      put(navigator, 'vibrate', pattern => record('vibrate', true)([...pattern]));
      put(navigator, 'wakeLock', {request: async what => { did.push(['awake', what]); return {release: async () => did.push(['asleep'])}; }});
      put(globalThis, 'speechSynthesis', {cancel: () => {}, speak: said => did.push(['speak', said.lang, said.text])});
      put(globalThis, 'AudioContext', class {
        currentTime = 0;
        resume() {}
        createGain() { return {gain: {setValueAtTime() {}, exponentialRampToValueAtTime() {}}, connect: to => to}; }
        createOscillator() { return {frequency: {}, connect: to => to, start: at => did.push(['tone', at]), stop() {}}; }
      });
      put(navigator, 'canShare', () => true);
      put(navigator, 'share', async ({files: [file], title}) => {
        if (globalThis.refusing) { did.push(['called off']); throw new DOMException('', 'AbortError'); }
        did.push(['share', title, file.name, file.type, await file.text()]);
      });
    });
    await tab.goto(at);
    await set({speak: true});
    await tab.reload();
    await begin(tab);
    await settled(tab);
    await entering(tab, () => tab.locator('.ending .door').tap());
    await settled(tab);
    assert.deepEqual((await did()).filter(([what]) => what !== 'speak'), [['awake', 'screen']]);
    await tab.evaluate(() => document.dispatchEvent(new Event('visibilitychange'))); // back from another program
    assert.deepEqual(await did(), [['awake', 'screen']]);
    await tap(tab, 'A');
    await settled(tab);
    assert.deepEqual(await did(), [['speak', 'en', 'point. one, zero, two']]);
    await tap(tab, 'B');
    await settled(tab);
    assert.deepEqual(await did(), [['speak', 'en', 'side out. zero, one, one']]);
    // Ten seconds from the call: a notice when they are over, none where the rally ended before.
    await still();
    const ten = async () => { await press(tab, 'ten'); await tab.waitForSelector('.ten.counts:not(.over)'); };
    await ten();
    await tab.clock.fastForward(9000);
    assert.deepEqual(await did(), []);
    assert.equal(await tab.locator('.ten').textContent(), '1');
    await tab.clock.fastForward(1100);
    assert.deepEqual(await did(), [['vibrate', [180, 180, 180]], ['tone', 0], ['tone', 0.35]]);
    assert.match(await tab.locator('#alarm').textContent(), /Ten seconds/);
    await ten();
    await tap(tab, 'B');
    await settled(tab);
    await tab.clock.fastForward(20000);
    assert.deepEqual((await did()).filter(([what]) => what !== 'speak'), []);
    // A time-out: one notice fifteen seconds before its end, two at its end.
    await tap(tab, 'time-out');
    await entering(tab, () => tab.locator('dialog[open] .side.B').tap());
    await settled(tab);
    await tab.waitForSelector('.clock:not([hidden])');
    await did();
    await tab.clock.fastForward(44000);
    assert.deepEqual(await did(), []);
    await tab.clock.fastForward(1500);
    assert.deepEqual(await did(), [['vibrate', [180]], ['tone', 0]]);
    await tab.clock.fastForward(15000);
    assert.deepEqual(await did(), [['vibrate', [180, 180, 180]], ['tone', 0], ['tone', 0.35]]);
    const match = tab.url(), text = (await entries(tab)).map(line => line + '\n').join('');
    await tab.clock.resume();
    // Sharing: the record as a file; a share that is called off does nothing; without sharing it is saved.
    await tab.goto(match.replace('#match', '#papers'));
    await arrived(tab, 'papers');
    const shared = tab.locator('.answers .door').first();
    await did();
    await shared.tap();
    await tab.waitForFunction(() => did.length);
    const [[, title, name, type, whole]] = await did();
    assert.match(name, /^match-\d{8}-\d{4}\.txt$/);
    assert.equal(title, name.replace('.txt', '.jsonl'));
    assert.equal(type, 'text/plain');
    assert.equal(whole, text);
    let downloads = 0;
    tab.on('download', () => downloads++);
    await tab.evaluate(() => { globalThis.refusing = true; });
    await shared.tap();
    await tab.waitForFunction(() => did.length);
    await tab.waitForTimeout(200);
    assert.equal(downloads, 0);
    await tab.evaluate(() => { navigator.canShare = () => false; });
    await Promise.all([tab.waitForEvent('download'), shared.tap()]);
    // Everything turned off: nothing is heard or felt.
    await set({speak: false, sound: false, buzz: false});
    await tab.goto(at);
    await tab.goto(match);
    await tab.reload();
    await arrived(tab, 'match');
    await settled(tab);
    await still();
    if (await tab.locator('[data-do=in]').count()) await tap(tab, 'in');
    await tap(tab, 'A');
    await ten();
    await tab.clock.fastForward(11000);
    await tab.waitForSelector('.ten.over');
    await tap(tab, 'time-out');
    await entering(tab, () => tab.locator('dialog[open] .side.B').tap());
    await tab.waitForSelector('.clock:not([hidden])');
    await tab.clock.fastForward(61000);
    await tab.waitForSelector('.clock.over');
    assert.deepEqual((await did()).filter(([what]) => !/awake|asleep/.test(what)), []);
    // Installing: the browser reads the manifest and has nothing against it.
    const cdp = await context.newCDPSession(tab), {errors, data} = await cdp.send('Page.getAppManifest');
    assert.deepEqual(errors, []);
    const manifest = JSON.parse(data);
    assert.equal(manifest.display, 'standalone');
    for (const {src, sizes, type} of manifest.icons) {
      const icon = await (await fetch(at + src)).blob();
      assert.equal(icon.type.split(';')[0], type, src);
      if (sizes !== 'any') assert.equal(await tab.evaluate(async src => { const i = new Image(); i.src = src; await i.decode(); return `${i.naturalWidth}x${i.naturalHeight}`; }, src), sizes);
    }
    const {installabilityErrors} = await cdp.send('Page.getInstallabilityErrors');
    assert.deepEqual(installabilityErrors.filter(({errorId}) => errorId !== 'in-incognito'), []);
  });

  await step('text at 200 %, by keyboard, left hand, German', async tab => {
    await tab.addInitScript(() => { localStorage.setItem('settings', JSON.stringify({language: 'de', hand: 'left'})); });
    await tab.setViewportSize(sizes.phone);
    await begin(tab);
    await tab.addStyleTag({content: ':root { font-size: 200% }'}).catch(() => {});
    await tab.evaluate(() => { document.documentElement.style.fontSize = '200%'; });
    await settled(tab);
    await tab.locator('.ending .door').focus();
    await tab.keyboard.press('Enter');
    await tab.waitForSelector('.court');
    await tab.locator('[data-do=A]').focus();
    await tab.keyboard.press('Enter');
    await says(tab, '.call strong', /^1-0-2$/);
    assert.equal(await tab.evaluate(() => document.activeElement.dataset.do), 'A', 'focus stays');
    await settled(tab); // the call in words stands below the figures, once the library is there
    assert.ok(await tab.evaluate(() => document.documentElement.scrollWidth <= innerWidth), 'nothing is lost at the side');
    const cut = await tab.evaluate(() => [...document.querySelectorAll('button, .place, .call, h1, p')].filter(e => e.offsetParent && !e.closest('.unseen') && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 2)).map(e => e.className + e.textContent));
    assert.deepEqual(cut, []);
    await picture(tab, 'phone-200');
    // On the smallest glass nothing covers the call and the court for good.
    await tab.setViewportSize(sizes.small);
    await entering(tab, () => tab.locator('[data-do=B]').tap());
    await settled(tab);
    for (const part of ['.call strong', '[data-person=A1]', '[data-do=more]']) {
      await tab.locator(part).scrollIntoViewIfNeeded();
      assert.ok(await tab.locator(part).evaluate(e => {
        const {left, top, width, height} = e.getBoundingClientRect(), there = document.elementFromPoint(left + width / 2, top + height / 2);
        return e.contains(there);
      }), part);
    }
    await picture(tab, 'small-200');
  });

  await step('bad days', async (tab, context) => {
    await begin(tab);
    await tab.locator('.ending .door').tap();
    await tab.waitForSelector('.court');
    // Two tabs on one match.
    const other = await context.newPage();
    await other.goto(tab.url());
    await arrived(other, 'match');
    await tap(tab, 'A');
    await says(other, '.call strong', /^1-0-2$/);
    await says(other, '.trouble', /Another tab/);
    await other.close();
    // The phone's clock is set back an hour.
    await tab.evaluate(() => { const now = Date.now; Date.now = () => now() - 3600e3; });
    await tap(tab, 'B');
    await says(tab, '.trouble', /set back/);
    compare((await entries(tab)).map(line => line + '\n').join(''));
    // The phone is full, then the permission is lost; the match goes on, and is kept when there is room.
    for (const [error, said] of [['QuotaExceededError', /full/], ['InvalidStateError', /does not let/]]) {
      await tab.evaluate(name => {
        globalThis.add ||= IDBObjectStore.prototype.add;
        IDBObjectStore.prototype.add = () => { throw new DOMException('', name); };
      }, error);
      const before = (await entries(tab)).length;
      await tap(tab, 'A');
      await says(tab, '.trouble', said);
      await settled(tab);
      assert.equal((await entries(tab)).length, before);
      await picture(tab, 'phone-' + error);
      await checked(tab, error);
      await tab.evaluate(() => { IDBObjectStore.prototype.add = globalThis.add; });
      await tab.locator('.trouble button').first().tap();
      await says(tab, '.trouble', /^$/);
      assert.equal((await entries(tab)).length, before + 1);
    }
    // A record that is damaged, on the phone and from a file.
    const whole = await entries(tab);
    await tab.evaluate(async () => {
      const id = location.hash.split('/')[1], db = await new Promise(done => { const r = indexedDB.open('courtside'); r.onsuccess = () => done(r.result); });
      const tx = db.transaction('lines', 'readwrite'), store = tx.objectStore('lines');
      const row = await new Promise(done => { const r = store.get([id, 4]); r.onsuccess = () => done(r.result); });
      store.put({...row, text: row.text.replace('"do":"B"', '"do":"A"')});
      await new Promise(done => { tx.oncomplete = done; });
      db.close();
    });
    await tab.reload();
    await says(tab, '.trouble', /damaged at line/);
    await picture(tab, 'phone-damaged');
    assert.equal(JSON.parse((await entries(tab)).at(-1)).line, JSON.parse(whole.at(-1)).line, 'the score is what it was');
    again((await entries(tab)).map(line => line + '\n').join(''));
    await tab.goto(at + '#home');
    await tab.waitForSelector('input[type=file]', {state: 'attached'});
    await tab.setInputFiles('input[type=file]', {name: 'x.jsonl', mimeType: 'text/plain', buffer: Buffer.from('no record\n')});
    await says(tab, '.trouble', /no record of a match/);
  });

  await step('a board: an hour without it, twice sent, two phones', async (tab, context) => {
    const dir = mkdtempSync(join(tmpdir(), 'courtside-board-'));
    execFileSync('go', ['build', '-o', join(work, 'board'), '../board'], {cwd: here});
    const board = spawn(join(work, 'board'), ['-addr', '127.0.0.1:0', '-dir', dir, '-courts', '1']);
    const link = await new Promise(done => { let text = ''; board.stdout.on('data', more => { const found = (text += more).match(/http:\S+\/court\/1\/\w+/); if (found) done(found[0]); }); });
    if ((await fetch(link + '/log')).status === 404) {
      board.kill();
      console.log('   SKIPPED: this board cannot be caught up with');
      return;
    }
    const shown = async () => (await (await fetch(link + '/log')).json()).log;
    try {
      await begin(tab);
      await tab.locator('.ending .door').tap();
      await tab.waitForSelector('.court');
      const match = tab.url(), id = match.split('/').pop();
      board.kill('SIGSTOP'); // no board for the next entries
      await tab.goto(`${at}#papers/${id}`);
      await arrived(tab, 'papers');
      await tab.locator('summary').nth(1).tap();
      await tab.fill('input[type=url]', link);
      await tab.locator('form button').tap();
      await says(tab, '[role=status].note', /./); // the address is taken
      await tab.goto(match);
      await arrived(tab, 'match');
      for (const side of 'AABBA') await tap(tab, side);
      board.kill('SIGCONT');
      await tab.reload();
      await tab.waitForSelector('.court');
      const want = (await entries(tab)).slice(1).map(line => JSON.parse(line).do);
      await until(async () => (await shown()).length >= want.length, 'the board is told');
      assert.deepEqual(await shown(), want);
      // What was sent is sent again, as by a phone that had no answer.
      await tab.waitForFunction(([id, n]) => JSON.parse(localStorage.getItem('board ' + id)).sent === n, [id, want.length]);
      await tab.evaluate(id => { const key = 'board ' + id, state = JSON.parse(localStorage.getItem(key)); localStorage.setItem(key, JSON.stringify({...state, sent: 0})); }, id);
      await tab.reload();
      await tab.waitForSelector('.court');
      await tap(tab, 'B');
      await until(async () => (await shown()).length > want.length, 'the board is told more');
      assert.deepEqual(await shown(), [...want, 'B']);
      // Another phone enters into the same match.
      const other = await fetch(link, {method: 'POST', body: JSON.stringify({id: 'other', n: want.length + 2, do: 'A'})});
      assert.equal(other.status, 200);
      await tap(tab, 'B');
      await says(tab, '.trouble', /another phone/);
      assert.equal((await shown()).length, want.length + 2);
    } finally {
      board.kill('SIGCONT');
      board.kill();
    }
  });

  await step('a record of officiate opens here, and one of here there', async tab => {
    await tab.goto(at + '#home');
    await tab.waitForSelector('input[type=file]', {state: 'attached'});
    const theirs = readFileSync(join(here, '../officiate/ladder-match.jsonl'), 'utf8');
    await tab.setInputFiles('input[type=file]', {name: 'ladder-match.jsonl', mimeType: 'text/plain', buffer: Buffer.from(theirs)});
    await arrived(tab, 'match');
    const lines = await entries(tab);
    assert.equal(lines.map(line => line + '\n').join(''), theirs);
    const id = await tab.evaluate(() => location.hash.split('/')[1]);
    await tab.goto(`${at}#papers/${id}`);
    const [file] = await Promise.all([tab.waitForEvent('download'), tab.locator('[data-do=save]').tap()]);
    await file.saveAs(join(work, 'back.jsonl'));
    assert.match(officiate(readFileSync(join(work, 'back.jsonl'), 'utf8')), /Imani Okafor/);
  });

  // What else the machine is doing only adds to the time: the least of up to ten first loads, each in a new profile, is the page's. The
  // phone is always the same: one that takes so long over a sum; a machine that is slower, or busy, is slowed down less to be like it.
  const SUM = 110; // milliseconds
  let first = Infinity, second = Infinity;
  for (let i = 1; i <= 10 && (i <= 3 || first >= 1000 || second >= 1000); i++) await step(`the first load on a slow phone, ${i}`, async (tab, context) => {
    const cdp = await context.newCDPSession(tab), sum = await tab.evaluate(() => {
      let x = 1;
      const began = performance.now();
      for (let i = 0; i < 2e7; i++) x = Math.imul(x, 1664525) + 1013904223 | 0;
      return x && performance.now() - began;
    });
    const rate = Math.max(1, SUM / sum);
    let bytes = 0;
    const mark = () => tab.evaluate(() => performance.getEntriesByName('ready')[0].startTime);
    cdp.on('Network.loadingFinished', e => { bytes += e.encodedDataLength; });
    await cdp.send('Network.enable');
    await cdp.send('Network.emulateNetworkConditions', {offline: false, latency: 150, downloadThroughput: 1.6e6 / 8, uploadThroughput: 750e3 / 8});
    await cdp.send('Emulation.setCPUThrottlingRate', {rate});
    await tab.goto(at, {waitUntil: 'commit'});
    await arrived(tab, 'home');
    first = Math.min(first, await mark());
    const page = bytes;
    await installed(tab);
    await cdp.send('Network.emulateNetworkConditions', {offline: false, latency: 0, downloadThroughput: -1, uploadThroughput: -1});
    await tab.reload();
    await arrived(tab, 'home');
    second = Math.min(second, await mark());
    console.log(`   least so far: ready to tap after ${Math.round(first)} ms on the first load, ${Math.round(second)} ms later (CPU ${rate.toFixed(1)}x slower, 150 ms, 1.6 Mbit/s), ${page} bytes before it`);
  });
  if (first < Infinity) assert.ok(first < 1000 && second < 1000, `ready to tap after ${first} ms`);
} finally {
  program.kill('SIGCONT');
  program.kill();
  await chromium.close();
  rmSync(work, {recursive: true, force: true});
}
