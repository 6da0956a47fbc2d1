// The text of a record, line by line, as the library reads and writes it: rally/record/FORMAT.md.
import {load, match as begin} from '../../web/whole.js';
import {crc} from '../../web/log.js';

/** Writes a line that follows one with a checksum; of a record without checksums, undefined, none. */
export function seal(row, before) {
  const text = JSON.stringify(row);
  if (before === undefined) return text;
  const open = text.slice(0, -1);
  return `${open},"sum":"${before}${crc(before + open)}"}`;
}

/** The checksum that the line after this one begins with. */
export const sumOf = line => line.match(/"sum":"[0-9a-f]{8}([0-9a-f]{8})"\}$/)?.[1];

/** The first line of a record. */
export function header(engine, setup) {
  const {first, ...rest} = setup;
  const id = engine.rules.id, shape = id.split('+')[0];
  return seal({record: 2, format: id.includes('@') ? id : id.replace(shape, `${shape}@${engine.rules.editionName}`), edition: engine.rules.editionName,
    setup: first ? {...rest, first} : rest}, '00000000');
}

/** The line of the last entry of a match. */
export const entry = (engine, text, ms, before) => seal({n: engine.length, do: text, ms, line: engine.line()}, before);

/** Reads a record strictly: the match, its set-up, its lines, the times of its entries. Throws a SyntaxError. */
export function read(text) {
  const engine = load(text), rows = text.trimEnd().split('\n');
  return {engine, ...known(rows)};
}

// What stands in lines besides the match.
function known(lines) {
  const rows = lines.map(line => JSON.parse(line)), later = rows.slice(1).filter(row => row.setup).pop();
  return {lines, start: rows[0].start, setup: {...rows[0].setup, ...later?.setup, first: rows[0].setup.first}, times: rows.filter(row => row.do !== undefined).map(row => row.ms)};
}

/** Reads what can be read: every entry that the match takes, and the line at fault of everything else. Where entries are lost it
 * goes on from the position that stands beside the next one. */
export function recover(text) {
  const lines = text.split('\n').filter(line => line.trim()), problems = [];
  let head;
  try {
    head = JSON.parse(lines[0]);
    if (![1, 2].includes(head.record)) throw new SyntaxError('no header');
  } catch {
    throw new SyntaxError('evencourt: record: line 1: is no header');
  }
  const engine = begin(head.format, {first: head.start ? undefined : head.setup?.first, from: head.start});
  const setup = head.setup || {}, out = [];
  const sealed = head.record === 2;
  const keep = row => out.push(seal(row, sealed ? sumOf(out[out.length - 1]) : undefined));
  const {sum: _, ...bare} = head;
  out.push(seal(bare, sealed ? '00000000' : undefined));
  let last = 0, next = 1, ms = 0;
  lines.slice(1).forEach((line, i) => {
    const row = parsed(line, sealed);
    if (!row || row.do === undefined) {
      if (row?.setup) keep({setup: row.setup});
      else if (!row) problems.push({line: i + 2, why: 'damaged'});
      return;
    }
    if (row.n < next) return problems.push({line: i + 2, why: 'duplicate'});
    const lost = row.n > next;
    if (lost) problems.push({line: i + 2, why: 'gap'});
    next = row.n + 1;
    const at = row.ms >= ms ? {ms: ms = row.ms} : {};
    const made = text => {
      if (engine.do(text).refused) return false;
      keep({n: engine.length, do: text, ...at, line: engine.line()});
      return true;
    };
    if (lost && !led(engine, row)) {
      if (row.line && !made(`set ${row.line}`)) problems.push({line: i + 2, why: 'refused'});
    } else if (!made(row.do)) problems.push({line: i + 2, why: 'refused'});
    last = row.n;
  });
  return {engine, problems, ...known(out), last};
}

// Whether an entry leads to the line beside it although others before it are lost.
function led(engine, row) {
  const trial = engine.rules.apply(engine.state, row.do);
  return row.line !== undefined && !trial.refused && engine.rules.line(trial.state) === row.line;
}

function parsed(line, sealed) {
  try {
    const row = JSON.parse(line);
    if (sealed) {
      const [, body, before, own] = line.match(/^(.*),"sum":"([0-9a-f]{8})([0-9a-f]{8})"\}$/s) || [];
      if (own !== crc(before + body)) return undefined;
    }
    return row;
  } catch {
    return undefined;
  }
}
