// A board that is given is told every entry, when there is a network: each under a name of its own, so that twice sent is once
// counted, and with its number, so that two phones on one match are told of each other.
import {t} from './text.js';
import {kept, keep} from './settings.js';

const AT_ONCE = 300; // entries in a request

/** Begins to send a match to its board, if it has one; tell says what the referee must know. */
export function connect(sitting, tell) {
  const name = `board ${sitting.id}`, state = {address: '', match: 0, sent: 0, stopped: '', ...kept(name)};
  const left = new AbortController(); // the screen is left: another sends from here on
  let timer, running = false, wait = 1000;
  const note = () => left.signal.aborted || keep(name, state);
  const entries = () => sitting.lines.map(line => JSON.parse(line)).filter(row => row.do !== undefined);

  // Asks the board: whether it took it, and what it says; what will pass is an error.
  async function reach(path, method, ...bodies) {
    const call = new AbortController(), leave = () => call.abort(), late = setTimeout(leave, 10000);
    left.signal.addEventListener('abort', leave);
    try {
      const answer = await fetch(state.address + path, {method, body: bodies.length ? bodies.map(b => JSON.stringify(b)).join('\n') : undefined,
        headers: bodies.length ? {'Content-Type': 'application/json'} : {}, signal: call.signal});
      if (answer.status === 429 || answer.status >= 500) throw new Error('later');
      const said = await answer.json().catch(() => ({}));
      left.signal.throwIfAborted();
      return [answer.ok, said, answer.status];
    } finally {
      clearTimeout(late);
      left.signal.removeEventListener('abort', leave);
    }
  }

  // Asks what the board must take; where it does not, sending ends, and it is told.
  async function ask(...request) {
    const [ok, said, status] = await reach(...request);
    if (!ok) {
      state.stopped = said.error || String(status);
      stopped();
    }
    return ok && said;
  }

  const request = row => ({id: `${sitting.id}-${row.n}`, match: state.match, n: row.n, do: row.do});

  const stopped = () => tell(t('courtside.board-stopped', {n: state.sent + 1, why: state.stopped}));

  // Puts the match on its court: in the place of one that nobody has begun, or after one that is over. It may be there already,
  // where the page was closed before the board answered: then its first entry is known there.
  async function open() {
    const there = await ask('/log', 'GET');
    if (!there) return;
    const [begun] = there.entries > 0 ? entries() : [];
    if (begun && (await reach('', 'POST', {...request(begun), match: there.match}))[0]) return state.match = there.match;
    const {first, ...setup} = sitting.setup, {format} = JSON.parse(sitting.lines[0]);
    if (there.entries > 0 ? await ask('/next', 'POST', {match: there.match + 1, format, setup}) : await ask('', 'PUT', setup)) state.match = there.match + (there.entries > 0);
  }

  async function send() {
    if (running || left.signal.aborted || !state.address || state.stopped) return;
    running = true;
    clearTimeout(timer);
    try {
      if (!state.match) await open();
      for (let list = entries(); state.match && !state.stopped && state.sent < list.length; list = entries()) {
        const some = list.slice(state.sent, state.sent + AT_ONCE);
        if (await ask('', 'POST', ...some.map(request))) state.sent += some.length;
        note();
        wait = 1000;
      }
    } catch {
      if (left.signal.aborted) return;
      timer = setTimeout(send, wait);
      wait = Math.min(wait * 2, 60000);
    } finally {
      running = false;
      note();
    }
  }

  addEventListener('online', send);
  if (state.stopped) stopped();
  send();
  return {
    changed: send,
    state,
    /** Gives the match a board: the link for entering that it prints. Sending begins anew. */
    give(address) {
      Object.assign(state, {address: address.replace(/\/$/, ''), match: 0, sent: 0, stopped: ''});
      note();
      return send();
    },
    stop() {
      left.abort();
      clearTimeout(timer);
      removeEventListener('online', send);
    },
  };
}
