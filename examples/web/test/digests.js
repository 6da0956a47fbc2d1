// The published digests, as conformance/DIGESTS.md defines them, computed by the package; in Node and in a browser.
import {compile} from '../whole.js';

function begin(format) {
  const r = compile(format);
  return [r, r.apply(r.begin('A'), 'gA1B1').state];
}

/** Returns the text of the WALK digest of a format over an alphabet, to a depth. */
export function walk(format, alphabet, depth) {
  const [r, root] = begin(format), out = [], visit = (s, path) => {
    out.push(`${path.map(e => e.replaceAll(',', ';')).join(',') || '-'} ${r.line(s)}\n`);
    if (path.length === depth) return;
    for (const e of alphabet) {
      const {state, refused} = r.apply(s, e);
      if (!refused) visit(state, [...path, e]);
    }
  };
  visit(root, []);
  return out.join('');
}

/** Returns the text of the TABLE digest, to a bound of points. */
export function table(format, alphabet, bound) {
  const [r, root] = begin(format), states = new Map([[r.line(root), root]]), rows = [];
  for (const [line, s] of states) {
    const [, a, b] = line.match(/ score=(\d+)-(\d+) /), far = / phase=play /.test(line) && Math.max(a, b) >= bound;
    for (const e of alphabet) {
      const {state, refused} = far ? {} : r.apply(s, e), next = state && r.line(state);
      if (state && !refused && !states.has(next)) states.set(next, state);
      rows.push(`${line}\t${e}\t${far ? '#bound' : refused ? '!' : next}\n`);
    }
  }
  return rows.sort((a, b) => a < b ? -1 : 1).join('');
}

/** Lists the published rows of the first edition that each covers: {format, alphabet, walk, table, ...}. */
export const rows = published => published.map(row => ({...row, format: row.formats.split('..')[0]}));
