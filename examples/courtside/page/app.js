// The page: which screen is shown, and what stays when screens change.
import {t, language} from './text.js';
import {apply} from './settings.js';
import * as desk from './desk/desk.js';
import * as store from './store.js';
import {home} from './screens/home.js';
import {setUp, names} from './screens/setup.js';
import {play} from './screens/play.js';
import {papers, blank} from './screens/papers.js';
import {preferences} from './screens/preferences.js';
import {drill} from './screens/drill.js';

const screens = {home, new: setUp, match: play, names, papers, blank, settings: preferences, drill};
let leave = () => {}, turn = 0;

/** Shows the screen that the address names: #screen/argument. */
async function show() {
  const [name, ...rest] = location.hash.slice(1).split('/');
  const mine = ++turn;
  leave();
  leave = () => {};
  document.querySelectorAll('dialog').forEach(d => d.close());
  document.documentElement.lang = language();
  const screen = screens[name] || home, to = document.getElementById('screen');
  to.className = name || 'home';
  to.setAttribute('aria-busy', true);
  const shown = await screen(rest.map(decodeURIComponent), {say, alarm});
  if (mine !== turn) return shown.leave?.(); // another screen was asked for meanwhile
  to.replaceChildren(...[shown.element].flat(9).filter(Boolean));
  leave = shown.leave || leave;
  to.setAttribute('aria-busy', false);
  document.title = shown.title ? `${shown.title} · ${t('courtside.name')}` : t('courtside.name');
  to.querySelector('h1')?.focus({preventScroll: true});
  scrollTo(0, 0);
  performance.mark('ready');
}

/** Says something to a screen reader, politely or at once. */
const tell = id => text => { document.getElementById(id).textContent = text; };
const say = tell('said'), alarm = tell('alarm');

apply();
addEventListener('hashchange', show);
if (!location.hash) {
  // A match that was under way is what a page opens with.
  const last = (await store.matches().catch(() => []))[0];
  if (last && !last.over && Date.now() - last.began < 12 * 3600 * 1000) history.replaceState(null, '', `#match/${last.id}`);
}
await show();

// What can wait until there is something to tap: the library, and the page's own copy for times without a network.
const later = globalThis.requestIdleCallback || (f => setTimeout(f, 200));
later(() => {
  desk.start();
  navigator.serviceWorker?.register('worker.js').catch(() => {});
});
