// A board that is given is told every entry, when there is a network: each under a name of its own, so that twice sent is once
// counted, and with its number, so that two phones on one match are told of each other.
import {t} from './text.js';
import {kept, keep} from './settings.js';

/** Begins to send a match to its board, if it has one; tell says what the referee must know. */
export function connect(sitting, tell) {
  const name = `board ${sitting.id}`, state = {address: '', sent: 0, stopped: '', ...kept(name)};
  let timer, running = false, wait = 1000;
  const entries = () => sitting.lines.map(line => JSON.parse(line)).filter(row => row.do !== undefined);
  const later = () => { clearTimeout(timer); timer = setTimeout(send, wait); wait = Math.min(wait * 2, 60000); };

  async function send() {
    if (running || !state.address || state.stopped) return;
    running = true;
    try {
      for (let list = entries(); state.sent < list.length; list = entries()) {
        const n = state.sent + 1, body = JSON.stringify({id: `${sitting.id}-${n}`, n, do: list[n - 1].do});
        const answer = await fetch(state.address, {method: 'POST', body, headers: {'Content-Type': 'application/json'}, signal: AbortSignal.timeout(10000)});
        if (answer.status === 429 || answer.status >= 500) throw new Error('later');
        if (!answer.ok) {
          state.stopped = (await answer.json().catch(() => ({}))).error || String(answer.status);
          tell(t('courtside.board-stopped', {n, why: state.stopped}));
          break;
        }
        state.sent = n;
        keep(name, state);
        wait = 1000;
      }
    } catch {
      later();
    } finally {
      running = false;
      keep(name, state);
    }
  }

  addEventListener('online', send);
  if (state.stopped) tell(t('courtside.board-stopped', {n: state.sent + 1, why: state.stopped}));
  send();
  return {
    changed: send,
    state,
    /** Gives the match a board: the address with the secret that the board prints. Sending begins anew. */
    give(address) { Object.assign(state, {address, sent: 0, stopped: ''}); keep(name, state); send(); },
    stop() { clearTimeout(timer); removeEventListener('online', send); },
  };
}
