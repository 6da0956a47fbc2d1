// Random logs, the same for the same seed: formats and readings drawn at random, every kind of event, incidents, corrections,
// and texts that are none.
import '../whole.js';
import pack from '../pack/core.js';
import rulings from '../pack/rulings.js';
import {part, shapes as named, words, faults, choices, SCORE, OPENS, ORDER, DID} from '../core.js';

const ids = [...named.keys()], lists = ['mistakes', 'reaches', 'sinces', 'stoppers'].map(list => words(rulings[list])), [mistakes] = lists;

/** Returns a generator of numbers from 0 to below n. */
export function generator(seed) {
  let x = seed >>> 0 || 1;
  return n => { // splitmix32
    x = x + 0x9e3779b9 | 0;
    let t = x ^ x >>> 16;
    t = Math.imul(t, 0x21f0aaad);
    t = t ^ t >>> 15;
    t = Math.imul(t, 0x735a2d97);
    return ((t ^ t >>> 15) >>> 0) % n;
  };
}

const switches = part.switches.filter(([, takes, readings]) => takes && !/^\d/.test(readings));

/** Draws a format, half of them with a reading or two of their own. */
export function anyFormat(next) {
  const shape = ids[next(ids.length)], spans = named.get(shape), {from, to} = spans[next(spans.length)], edition = from + next(to - from + 1);
  let id = `${shape}@${part.editions[edition]}`;
  for (let n = next(4) - 1; n > 0; n--) {
    const [name, , readings] = switches[next(switches.length)], values = words(readings);
    if (!id.includes(name + '=')) id += `+${name}=${values[next(values.length)]}`;
  }
  if (!next(12)) id += ['+target=5', '+win-by=1', '+cap=13', '+games=3', '+last-target=7', '+play-all=yes+games=2', '+change-ends-at=3', '+change-ends-every=5', '+serves=3', '+target=9+win-by=1', '+last-target=15', '+games=1'][next(12)];
  return id;
}

const fields = [...rulings.fields, ...rulings.match].map(words);

/** Draws a format with settings of its own, many of which are none. */
export function ownFormat(next) {
  const ofSwitch = () => {
    const [name, , readings] = part.switches[next(part.switches.length)], values = words(readings);
    return `${name}=${next(9) && values.length ? values[next(values.length)] : ['-', '0', '7', '9999', '10000', ''][next(6)]}`;
  };
  const ofField = () => {
    const [name, ...values] = fields[next(fields.length)], number = next(4) ? next(26) : [0, 1, 2, 127, 250, 251, 255, 256, '01', '-1', ''][next(11)];
    return `${next(3) ? '' : 'last-'}${name}=${next(9) && values.length ? values[next(values.length)] : number}`;
  };
  let id = anyFormat(next);
  for (let n = 1 + next(3); n > 0; n--) id += '+' + (next(4) ? ofField() : ofSwitch());
  return id;
}

const sides = ['A', 'B'], persons = ['A1', 'A2', 'B1', 'B2'];

function word([, text], next) {
  const side = sides[next(2)];
  return text.replace('S', side).replace('P', persons[next(4)]).replace('G', side === 'A' ? `A${1 + next(2)}B${1 + next(2)}` : `B${1 + next(2)}A${1 + next(2)}`)
    .replace('C', `${side}:${choices[1 + next(4)]}`).replace('N', `${side}:${[0, 599, 600, 899, 900, 1200][next(6)]}`);
}

/** Draws the words of an incident. */
export function incident(next) {
  const out = mistakes.filter((_, i) => !next(i === 1 || i === 3 || i === 5 ? 3 : 7));
  if (!next(4)) out.push('~' + mistakes[next(8)]);
  if (!next(6)) out.push('misled');
  for (const [list, none] of [[lists[1], 2], [lists[2], 2], [lists[3], 3]]) if (next(4) >= none - 1) out.push(list[1 + next(list.length - 1)]);
  if (!next(5)) out.push('asked');
  return out.join(',');
}

const events = [...words(pack.kinds).map(row => row.split(':')).map(([kind, text = kind]) => [kind, text]).filter(([kind]) => kind !== 'rally'),
  ...words(pack.later).map((text, i) => [words(rulings.kinds)[i], text]), ['late-arrival', 'lateN']];
const ends = new Set(['game-forfeit', 'match-forfeit', 'double-forfeit', 'retirement', 'withdrawal', 'abandon', 'sheet-returned', 'concussion']);

/** Draws the line of the state now with a few fields otherwise, mostly one that cannot be. */
export function stated(next, m) {
  const s = m.state.slice();
  for (let n = 1 + next(4); n > 0; n--) {
    const at = next(DID);
    s[at] = at === SCORE || at === SCORE + 1 ? next(+/\d+/.exec(m.rules.id)[0] + 4) : at === ORDER ? next(32) : next(at === OPENS || next(3) ? 3 : 9);
  }
  try {
    return m.rules.line(s);
  } catch { // there is no such player, or game
    return m.line();
  }
}

/** Draws the next entry of a match. */
export function anyEntry(next, m) {
  const rally = () => sides[next(2)], n = 1 + next(m.length + 1), any = () => {
    for (;;) {
      const kind = events[next(events.length)];
      if (!ends.has(kind[0]) || !next(60)) return word(kind, next);
    }
  };
  const withIncident = () => (next(4) ? `${rally()}${next(4) ? '' : ':' + faults[1 + next(6)]}` : 'stop') + '?' + incident(next);
  switch (next(100)) {
    case 0: case 1: case 2: case 3: return ['undo', 'undo', 'redo', 'sheet'][next(4)];
    case 4: case 5: return `amend ${n} ${[rally(), any(), '-', withIncident()][next(4)]}${next(3) ? '' : ' second look'}`;
    case 6: case 7: return `rule ${Math.max(1, m.length - next(4))} ${rally()}?${incident(next)}`;
    case 8: return `rewind ${Math.max(1, m.length - next(8))}`;
    case 9: return 'set ' + (next(2) ? spoilt(m.line(), next) : stated(next, m));
    case 10: return `format ${anyFormat(next)} ${['now', 'next'][next(2)]} desk`;
    case 11: return spoilt([any(), withIncident(), rally()][next(3)], next);
    case 12: case 13: case 14: case 15: case 16: case 17: case 18: case 19: return withIncident();
    case 20: case 21: return ['gA1B1', 'gB1A1', 'gA2B1', 'gB2A2'][next(4)];
    case 22: case 23: case 24: return ['in', 'ends', 'dealt', 'xA', 'xB', 'resume'][next(6)];
    case 25: case 26: case 27: case 28: case 29: case 30: case 31: case 32: case 33: case 34: case 35: case 36: case 37: case 38: return any();
  }
  return next(8) ? rally() : `${rally()}:${faults[1 + next(faults.length - 1)]}`;
}

// Changes a text a little, often to one that is none.
function spoilt(text, next) {
  if (!next(3)) return text;
  const at = next(text.length), to = '0123456789AB-:mxeprgcf,?~ '[next(26)];
  return [text.slice(0, at) + to + text.slice(at + 1), text.slice(0, at) + text.slice(at + 1), text.slice(0, at) + to + text.slice(at)][next(3)];
}
