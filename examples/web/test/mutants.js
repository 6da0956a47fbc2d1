// Seeded errors, one cell of the pack or one operator of the code at a time, and by what each is noticed: answers to random logs
// and published digests, as the library gave them before; the package's own tests; the corpus. "node test/mutants.js pack 60 3" sows
// 60 in the pack, drawn by seed 3, "code all" every one in the code; a pattern after the seed only those whose name it matches. What
// equal.js lists as equal in behaviour is no error, and noticed all the same it is something found.
import {fork, spawn} from 'node:child_process';
import {cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath, pathToFileURL} from 'node:url';

const self = fileURLToPath(import.meta.url), here = join(dirname(self), '..'), [what, count = '60', seed = '1', only = ''] = process.argv.slice(2);

if (what === 'notice') { // a process of its own, asked for copies of the package: what is noticed of each first
  const expected = JSON.parse(readFileSync(count));
  process.on('message', async ({folder, within}) => {
    const noticed = async () => {
      const {answers, sumOf} = await import(pathToFileURL(join(folder, 'test/compare.js'))), {walk} = await import(pathToFileURL(join(folder, 'test/digests.js')));
      const differs = ({log, format, depth, sum}) => {
        try {
          return (log ? sumOf(answers(...log.slice(0, 3), log.slice(3))) : sumOf([walk(format, ['A', 'B'], depth)])) !== sum;
        } catch {
          return true;
        }
      };
      return expected.find(row => RegExp(within).test(row.name) && differs(row))?.name || '';
    };
    process.send(await noticed().catch(error => 'does not load: ' + error));
  });
} else await sowAll();

async function sowAll() {
  const {generator} = await import('./random.js'), {comparing, library, program} = await import('./library.js');
  const {codeErrors, modules, packErrors} = await import('./sown.js'), {equalTo} = await import('./equal.js');
  if (library.skip) return console.log('SKIPPED: ' + library.skip);
  const sown = (what === 'pack' ? await packErrors() : codeErrors()).filter(({name}) => RegExp(only).test(name)), draw = generator(+seed);
  if (count !== 'all') for (let i = sown.length - 1; i > 0; i--) { // in an order drawn at random
    const j = draw(i + 1);
    [sown[i], sown[j]] = [sown[j], sown[i]];
  }
  const work = mkdtempSync(join(tmpdir(), 'evencourt-mutants-')), known = join(work, 'expected.json'), check = program('conformance/cmd/checkengine');
  writeFileSync(known, JSON.stringify((await import('./expected.js')).expected(comparing())));

  const some = count === 'all' ? sown : sown.slice(0, +count), missed = [], same = [], wrong = [];
  let child, asked = 0;
  for (const {file, name, within = '', text} of some) {
    const folder = join(work, String(++asked)), why = equalTo(file, text());
    mkdirSync(folder);
    for (const part of ['pack', 'test', 'package.json']) cpSync(join(here, part), join(folder, part), {recursive: true});
    for (const module of ['index', 'whole', ...modules]) cpSync(join(here, module + '.js'), join(folder, module + '.js'));
    writeFileSync(join(folder, file), text());
    if (asked % 50 === 1) { // modules are never unloaded
      child?.kill();
      child = undefined;
    }
    child ||= fork(self, ['notice', known]);
    let by = await answered(child, {folder, within});
    if (by === undefined) {
      child.kill('SIGKILL');
      child = undefined;
      by = 'never ends';
    }
    by ||= await failing(folder, check);
    rmSync(folder, {recursive: true});
    if (!by) (why ? same : missed).push(name);
    else if (why) wrong.push(name);
    console.log(`${name}: ${by ? by + (why ? ', THOUGH SAID TO BE EQUAL' : '') : why ? 'equal: ' + why : 'NOT NOTICED'}`);
  }
  child?.kill();
  rmSync(work, {recursive: true});
  console.log(`seed ${seed}: of ${some.length} errors in the ${what}, of ${sown.length} that there are, ${some.length - missed.length - same.length} are noticed and ${same.length} equal; not noticed: ${missed.join('; ') || 'none'}`);
  process.exitCode = missed.length + wrong.length ? 1 : 0;
}

// What a process answers to a message, in a quarter of an hour.
function answered(child, message) {
  return new Promise(done => {
    const late = setTimeout(done, 900000);
    child.once('message', by => {
      clearTimeout(late);
      done(by);
    });
    child.send(message);
  });
}

// What no log notices, the package's own tests may, or the corpus: the test, or the case, that fails first.
async function failing(folder, check) {
  const tests = await run('node', ['--test', 'test/package.test.js'], folder, 900000), named = /^not ok \d+ - (.*)$/m.exec(tests.stdout);
  if (named) return `test "${named[1]}"`;
  const {stdout, status} = await run(check, ['-quiet', '-strict', '--', 'node', join(folder, 'test/peer.js')], folder, 1800000);
  return status === 0 ? '' : status === null ? 'never ends' : 'case ' + (/\bc\d{4}\b/.exec(stdout)?.[0] || 'of the corpus');
}

function run(command, args, cwd, timeout) {
  return new Promise(done => {
    const child = spawn(command, args, {cwd, timeout, killSignal: 'SIGKILL', stdio: ['ignore', 'pipe', 'ignore']});
    let stdout = '';
    child.stdout.on('data', piece => { stdout += piece; });
    child.on('close', status => done({stdout, status}));
  });
}
