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

/** Tells the library the match at hand from its beginning; returns whether it agrees with what the page has. */
export async function follow(sitting) {
  const format = JSON.parse(sitting.lines[0]).format;
  const {error} = await ask('begin', language(), format, ...lines(sitting.setup, sitting.start));
  if (error) return false;
  let last = [];
  const entries = sitting.lines.slice(1).map(line => JSON.parse(line)).filter(row => row.do !== undefined);
  for (const row of entries) last = await ask('do', row.do, row.ms ?? '');
  return !entries.length || last.rows?.some(([name, line]) => name === 'line' && line === sitting.engine.line());
}
