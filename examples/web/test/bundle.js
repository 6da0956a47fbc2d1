// The parts of the package as one file each, minified: what is published beside the modules, and what counts as their size.
import {mkdirSync, readFileSync, writeFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {build} from 'esbuild';
import {minify} from 'terser';

export const here = join(dirname(fileURLToPath(import.meta.url)), '..');

// Names that nobody outside sees and no text of the pack says: they are shortened too. The small part has besides no settings, in
// which fields of a game are named by an id.
const inner = `handlers editions switches afterEnd broken opened own masks played pause sport settled unruled reasons ready busy breaks gameOver settle turn
  every lifts owed follows corrections after before back final steps now versions taken decide coming nextFirst needed correct top fold take known any
  time_outs after_end formats kinds later outcomes phases choices faults freezes orders build`.split(/\s+/);
const fields = 'scorer servers firstTurn serves winBy changeEndsAt changeEndsEvery timeOuts playAll nextServe changeEnds freeze'.split(' ');

/** Makes a part of its module; format is esm or cjs. */
export async function bundle(entry, format = 'esm') {
  const {outputFiles: [{text}]} = await build({entryPoints: [join(here, entry)], bundle: true, format, target: 'es2022', write: false});
  const names = entry === 'index.js' ? [...inner, ...fields] : inner;
  // Rules, state, event and game are called the same everywhere, which compresses better than the shortest names.
  const {code} = await minify(text, {module: format === 'esm', toplevel: true, ecma: 2022, compress: {passes: 3, unsafe_arrows: true, unsafe_methods: true, pure_getters: true},
    mangle: {reserved: ['r', 's', 'e', 'g'], properties: {regex: RegExp(`^(${names.join('|')})$`)}}});
  return code;
}

/** Writes every part: dist for import, cjs for require, which has types of its own. */
export async function writeParts() {
  for (const [folder, format, end] of [['dist', 'esm', '.js'], ['cjs', 'cjs', '.cjs']]) {
    mkdirSync(join(here, folder), {recursive: true});
    for (const part of ['index', 'whole']) writeFileSync(join(here, folder, part + end), await bundle(part + '.js', format));
  }
  for (const types of ['names', 'index', 'whole']) {
    writeFileSync(join(here, 'cjs', types + '.d.cts'), readFileSync(join(here, types + '.d.ts'), 'utf8').replace(/'\.\/(\w+)\.js'/g, "'./$1.cjs'"));
  }
}
