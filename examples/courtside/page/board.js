// A board that is given is told every entry, when there is a network: each under a name of its own, so that twice sent is once
// counted, and with its number, so that two phones on one match are told of each other.
import {t} from './text.js';
import {kept, keep} from './settings.js';

const AT_ONCE = 300; // entries in a request

/** Begins to send a match to its board, if it has one; tell says what the referee must know. */
export function connect(sitting, tell) {
  const name = `board ${sitting.id}`, state = {address: '', match: 0, sent: 0, stopped: '', ...kept(name)};
  let timer, running = false, wait = 1000;
  const note = () => keep(name, state);
  const entries = () => sitting.lines.map(line => JSON.parse(line)).filter(row => row.do !== undefined);

  // Asks the board; what will pass is an error, what will not is told once.
  async function ask(path, method, ...bodies) {
    const answer = await fetch(state.address + path, {method, body: bodies.length ? bodies.map(b => JSON.stringify(b)).join('\n') : undefined,
      headers: bodies.length ? {'Content-Type': 'application/json'} : {}, signal: AbortSignal.timeout(10000)});
    if (answer.status === 429 || answer.status >= 500) throw new Error('later');
    const said = await answer.json().catch(() => ({}));
    if (!answer.ok) {
      state.stopped = said.error || String(answer.status);
      stopped();
    }
    return answer.ok && said;
  }

  const stopped = () => tell(t('courtside.board-stopped', {n: state.sent + 1, why: state.stopped}));

  // Puts the match on its court: in the place of one that nobody has begun, or after one that is over.
  async function open() {
    const there = await ask('/log', 'GET');
    if (!there) return;
    const {first, ...setup} = sitting.setup, {format} = JSON.parse(sitting.lines[0]);
    if (there.entries > 0 ? await ask('/next', 'POST', {match: there.match + 1, format, setup}) : await ask('', 'PUT', setup)) state.match = there.match + (there.entries > 0);
  }

  async function send() {
    if (running || !state.address || state.stopped) return;
    running = true;
    clearTimeout(timer);
    try {
      if (!state.match) await open();
      for (let list = entries(); state.match && !state.stopped && state.sent < list.length; list = entries()) {
        const some = list.slice(state.sent, state.sent + AT_ONCE);
        if (await ask('', 'POST', ...some.map(row => ({id: `${sitting.id}-${row.n}`, match: state.match, n: row.n, do: row.do})))) state.sent += some.length;
        note();
        wait = 1000;
      }
    } catch {
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
      clearTimeout(timer);
      removeEventListener('online', send);
    },
  };
}
