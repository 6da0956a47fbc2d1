// The drill: one exercise at a time, answered by touch, the reason after it, and progress kept on the phone.
import {h, button, upper} from '../dom.js';
import {pad} from '../pad.js';
import {t, language} from '../text.js';
import * as desk from '../desk/desk.js';
import {kept, keep} from '../settings.js';

const EXERCISES = 10;
const today = () => { const d = new Date(); return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, '0')}-${String(d.getDate()).padStart(2, '0')}`; };

export async function drill([level, topic = '']) {
  const box = h('div', {class: 'drill'}, h('p', {}, t('courtside.loading')));
  (level ? run(box, level, topic) : levels(box)).catch(() => box.replaceChildren(h('p', {class: 'trouble', role: 'alert'}, t('courtside.no-desk'))));
  return {title: t('courtside.drill'), element: [
    h('header', {}, h('a', {class: 'back', href: level ? '#drill' : '#home'}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.drill'))), box]};
}

async function asked(...request) {
  const {rows, error} = await desk.ask(...request);
  if (error) throw new Error(error);
  return rows;
}

// The levels, each as a whole or one topic of it.
async function levels(box) {
  const rows = await asked('levels', language()), of = name => rows.filter(r => r[0] === name).map(r => r.slice(1));
  box.replaceChildren(h('ul', {class: 'levels'}, of('level').map(([name, text, topics]) => h('li', {},
    h('a', {class: 'go', href: `#drill/${name}`}, h('b', {}, upper(text)), h('small', {}, topics)),
    h('details', {}, h('summary', {}, t('courtside.drill-topic')), h('div', {class: 'topics answers'}, of('topic').filter(([level]) => level === name).map(([, topic, text]) =>
      h('a', {class: 'go', href: `#drill/${name}/${topic}`}, upper(text)))))))), h('p', {class: 'note'}, of('note')[0][0]));
}

async function run(box, level, topic) {
  const progress = kept('progress').lines || [], seed = crypto.getRandomValues(new Uint32Array(1))[0];
  const [[, count]] = await asked('drill', language(), level, topic, seed, EXERCISES, today(), ...progress);
  let right = 0;
  const put = async i => {
    if (i >= +count) {
      box.replaceChildren(h('h2', {tabindex: -1}, t('courtside.drill-result', {right, asked: count})), h('a', {class: 'door main', href: '#drill'}, t('courtside.drill-again')), h('p', {class: 'note'}, (await asked('levels', language())).at(-1)[1]));
      box.firstChild.focus();
      return;
    }
    const rows = await asked('put', i), of = name => rows.filter(r => r[0] === name).map(r => r.slice(1)), told = h('div', {role: 'status'});
    const answer = async given => {
      const marked = await asked('mark', i, given, today());
      if (marked[0][0] === 'again') return told.replaceChildren(h('p', {class: 'trouble'}, marked[0][1]));
      if (marked[0][0] === 'right') right++;
      keep('progress', {lines: marked.filter(r => r[0] === 'progress').map(r => r.slice(1).join('\t'))});
      box.querySelectorAll('button, input').forEach(b => { b.disabled = true; });
      box.querySelectorAll('.signs, [type=submit], .aside').forEach(e => e.remove());
      told.replaceChildren(h('p', {class: marked[0][0]}, marked[0][1]), ...marked.filter(r => r[0] === 'reason').map(r => h('p', {class: 'reason'}, r[1])), button(t('courtside.next'), () => put(i + 1), {class: 'door main next'}));
      told.querySelector('.next').focus();
    };
    box.replaceChildren(h('h2', {tabindex: -1}, t('courtside.exercise', {i: i + 1, n: count, topic: of('topic')[0][0]})), ...of('prompt').map(([p]) => h('p', {class: 'prompt'}, p)),
      of('option').length ? h('div', {class: 'answers'}, of('option').map(([key, text]) => button(text, () => answer(key), {'data-key': key})))
        : pad(of('wanted')[0][0], of('signs')[0][0], answer),
      h('div', {class: 'aside'}, button(t('courtside.hint'), async () => told.replaceChildren(h('p', {}, (await asked('hint', i))[0][1])), {class: 'quiet hint'}),
        button(t('courtside.skip'), () => answer(''), {class: 'quiet skip'})), told);
    box.firstChild.focus();
  };
  await put(0);
}
