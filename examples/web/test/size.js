// Prints the size of each part with its pack, as published: one minified file, compressed with brotli at its best; of full, of the
// build that says words, and of the one that checks results. Aims: small 7500, whole 14000.
import {existsSync, readFileSync} from 'node:fs';
import {join} from 'node:path';
import {brotliCompressSync, constants} from 'node:zlib';
import {bundle, here} from './bundle.js';

const compressed = bytes => brotliCompressSync(bytes, {params: {[constants.BROTLI_PARAM_QUALITY]: 11, [constants.BROTLI_PARAM_LGWIN]: 24}}).length;

console.log('small', compressed(await bundle('index.js')));
console.log('whole', compressed(await bundle('whole.js')));
for (const [name, file] of [['full', 'words'], ['audit', 'audit']]) {
  const path = join(here, `full/${file}.wasm`);
  console.log(name, existsSync(path) ? compressed(readFileSync(path)) : 'not built: node test/build.js, where Go is');
}
