// The first screen: go on, begin, open a record, the drill, settings.
import {h, button} from '../dom.js';
import {t} from '../text.js';
import * as store from '../store.js';
import * as record from '../record.js';
import {Sitting, sideName} from '../sitting.js';

export async function home(_, {say, alarm}) {
  const list = h('ul', {class: 'matches'}), trouble = h('p', {class: 'trouble', role: 'alert'});
  const draw = async () => {
    try {
      list.replaceChildren(...(await store.matches()).map(match => h('li', {},
        h('a', {class: 'go', href: `#match/${match.id}`}, h('b', {}, match.name || t('courtside.match')), h('span', {}, match.score || '')),
        button(t('courtside.remove'), () => ask(match), {class: 'quiet', 'aria-label': `${t('courtside.remove')}: ${match.name || ''}`}))));
    } catch {
      trouble.textContent = t('courtside.no-store');
    }
  };
  const ask = async match => {
    if (!confirm(t('courtside.remove-sure'))) return;
    await store.remove(match.id);
    await draw();
  };
  const open = async e => {
    const file = e.target.files[0];
    if (file) await take(await file.text(), alarm, trouble);
    e.target.value = '';
  };
  const file = h('input', {type: 'file', class: 'unseen', accept: '.jsonl,.json,.txt,application/json,text/plain', change: open, 'aria-label': t('courtside.open'), tabindex: -1});
  await draw();
  return {element: [
    h('h1', {tabindex: -1}, t('courtside.name')),
    trouble,
    h('nav', {class: 'doors'},
      h('a', {class: 'door main', href: '#new'}, t('courtside.new')),
      button(t('courtside.open'), () => file.click(), {class: 'door'}), file,
      h('a', {class: 'door', href: '#drill'}, t('courtside.drill')),
      h('a', {class: 'door', href: '#settings'}, t('courtside.settings'))),
    list,
    globalThis.isSecureContext ? undefined : h('p', {class: 'note'}, t('courtside.insecure')),
    h('p', {class: 'note'}, t('officiate.caution')),
  ]};
}

/** Takes a record as a match of this phone; of a damaged one what can be read, and says so. */
export async function take(text, alarm, trouble) {
  let read;
  try {
    read = record.read(text);
  } catch {
    try {
      read = record.recover(text);
    } catch {
      trouble.textContent = t('courtside.no-record');
      return;
    }
  }
  const s = await Sitting.keep(read);
  const doubles = s.engine.rules.doubles;
  if (!s.trouble) await store.note({id: s.id, began: Date.now(), name: `${sideName(s.setup, 'A', doubles)} – ${sideName(s.setup, 'B', doubles)}`});
  if (read.problems?.length) sessionStorage.setItem('problems ' + s.id, JSON.stringify(read.problems));
  s.close();
  location.hash = `#match/${s.id}`;
}
