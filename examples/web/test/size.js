// Prints the size of each part with its pack, bundled, minified and compressed with brotli at its best; of full, of the build that
// says words, and of the one that checks results. Budgets: small 7500, whole 14000.
import {existsSync, readFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {brotliCompressSync, constants} from 'node:zlib';
import {build} from 'esbuild';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const compressed = bytes => brotliCompressSync(bytes, {params: {[constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24}}).length;

/** Returns the size of a bundle in bytes. */
export async function size(entry) {
  const {outputFiles: [{contents}]} = await build({entryPoints: [join(here, entry)], bundle: true, minify: true, format: 'esm', target: 'es2022', write: false});
  return compressed(contents);
}

console.log('small', await size('index.js'));
console.log('whole', await size('whole.js'));
for (const [name, file] of [['full', 'words'], ['audit', 'audit']]) {
  const path = join(here, `full/${file}.wasm`);
  console.log(name, existsSync(path) ? compressed(readFileSync(path)) : 'not built: node test/build.js, where Go is');
}
