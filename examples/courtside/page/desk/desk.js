// Asks the library, which is loaded after the page is ready to tap: words, reminders, entry by questions, papers, the drill.
import {language} from '../text.js';

let worker, waiting, count = 0;
/** What became of loading it: undefined while it is under way, then true or false. */
export let loaded;
const told = new Set();

/** Calls back when it is known whether the library is there. */
export const whenLoaded = f => loaded === undefined ? told.add(f) : f(loaded);

/** Begins to load it. */
export function start() {
  if (worker) return;
  waiting = new Map();
  worker = new Worker('desk.js', {type: 'module'});
  const tell = is => {
    loaded = is;
    for (const f of told) f(is);
    told.clear();
    if (!is) for (const {done} of waiting.values()) done({rows: [], error: 'not loaded'});
  };
  worker.onerror = () => tell(false);
  worker.onmessage = ({data}) => {
    if (data.ready) return tell(true);
    if (data.failed) return tell(false);
    waiting.get(data.id).done(data);
    waiting.delete(data.id);
  };
}

/** Asks something; answers {rows, error}. */
export function ask(...request) {
  start();
  if (loaded === false) return Promise.resolve({rows: [], error: 'not loaded'});
  return new Promise(done => {
    waiting.set(++count, {done});
    worker.postMessage({id: count, request: request.map(String)});
  });
}

let turn = Promise.resolve(), at;

/** Holds a conversation that nobody else cuts into: the library is at one match, and its answers are about that. */
export function inTurn(f) {
  const mine = turn.then(f);
  turn = mine.catch(() => {});
  return mine;
}

/** The set-up of a match in lines. */
function lines(setup, start) {
  const out = [];
  const add = (name, value) => value && out.push(`${name}\t${String(value).replace(/[\t\n]/g, ' ')}`);
  for (const name of ['match', 'court', 'referee', 'began', 'left', 'first']) add(name, setup[name]);
  setup.sides.forEach((team, s) => {
    add('AB'[s], team.name);
    team.players.forEach((p, i) => {
      add('AB'[s] + (i + 1), p?.name);
      add(`${'AB'[s]}${i + 1}.mark`, p?.mark);
    });
  });
  add('start', start);
  return out;
}

/** Keeps the library at the match at hand. */
export class Follower {
  /** Tells it, in turn, what it does not know yet; whether it agrees with the page, the line they agree on, and what it said of the last entry. */
  async follow({lines: record, setup, start, engine}) {
    const rows = record.map(line => JSON.parse(line)), entries = rows.filter(row => row.do !== undefined), line = engine.line();
    const names = JSON.stringify(setup), known = at === this && this.known === names && this.told <= entries.length && entries[this.told - 1]?.do === this.do;
    if (!known) {
      const {error} = await ask('begin', language(), rows[0].format, ...lines(setup, start));
      if (error) return {agrees: false};
      at = Object.assign(this, {known: names, told: 0, last: []});
    }
    for (const row of entries.slice(this.told)) {
      const {rows: said, error} = await ask('do', row.do, row.ms ?? '');
      if (error) return this.known = '', {agrees: false};
      Object.assign(this, {told: this.told + 1, do: row.do, last: said});
    }
    const agrees = !entries.length || this.last.some(([name, text]) => name === 'line' && text === line);
    if (!agrees) this.known = '';
    return {agrees, line, last: this.last};
  }
}
