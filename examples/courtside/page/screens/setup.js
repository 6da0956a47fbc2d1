// A new match: format, names and marks, who stands left, who serves first.
import {h, button, field, choice, pressed} from '../dom.js';
import {t, shapes} from '../text.js';
import {kept, keep} from '../settings.js';
import {compile} from '../../../web/whole.js';
import {Sitting} from '../sitting.js';
import * as store from '../store.js';
import {sideName} from '../sitting.js';

const editions = ['2026', '2025', '2024', '2023-08', '2022', '2021', '2020', '2019', '2018'];

export async function setUp() {
  const last = kept('set-up'), form = {shape: 'sideout-doubles-11-of3', edition: '2026', ...last, left: 'A', first: ''};
  const names = {}, wrong = h('p', {class: 'trouble', role: 'alert'});
  const text = (name, label, more = {}) => field(label, names[name] = h('input', {name, autocomplete: 'off', maxlength: 80, ...more}));
  const people = h('div', {class: 'people'}), chosen = h('p', {class: 'note chosen'}); // a phone cuts a long choice off
  const draw = () => {
    const doubles = /doubles/.test(form.shape), was = Object.fromEntries(Object.entries(names).map(([n, e]) => [n, e.value]));
    chosen.textContent = t(`shape.${form.shape}`);
    people.replaceChildren(...['A', 'B'].map(side => h('fieldset', {class: 'side ' + side}, h('legend', {}, t('courtside.side', {side})),
      [1, 2].slice(0, doubles ? 2 : 1).map(n => h('div', {class: 'pair'}, text(side + n, t('courtside.player', {n: side + n})), text(`${side}${n}.mark`, t('courtside.mark'), {maxlength: 24}))))));
    for (const [n, value] of Object.entries(was)) if (names[n]) names[n].value = value;
  };
  const sides = [['A', 'A'], ['B', 'B']];
  const begin = async e => {
    e.preventDefault();
    const value = name => names[name]?.isConnected ? names[name].value.trim() : '';
    const player = id => ({...value(id) && {name: value(id)}, ...value(id + '.mark') && {mark: value(id + '.mark')}});
    const format = `${form.shape}@${form.edition}`;
    try {
      compile(format);
    } catch {
      wrong.textContent = t('courtside.no-format');
      return;
    }
    const setup = {...Object.fromEntries(['match', 'court', 'referee'].filter(value).map(n => [n, value(n)])),
      sides: ['A', 'B'].map(side => ({players: [player(side + 1), player(side + 2)]})), left: form.left};
    keep('set-up', {shape: form.shape, edition: form.edition});
    const s = await Sitting.begin(format, setup), doubles = s.engine.rules.doubles;
    if (s.trouble) {
      wrong.textContent = t(`courtside.trouble-${s.trouble}`);
      return;
    }
    if (form.first) await s.enter(`fc${form.first}:serve`);
    await store.note({id: s.id, began: Date.now(), name: `${sideName(setup, 'A', doubles)} – ${sideName(setup, 'B', doubles)}`});
    s.close();
    location.hash = `#match/${s.id}`;
  };
  draw();
  return {title: t('courtside.new'), element: [
    h('header', {}, h('a', {class: 'back', href: '#home'}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.new'))),
    h('form', {submit: begin},
      field(t('courtside.format'), choice('shape', shapes(), form.shape, v => { form.shape = v; draw(); })), chosen,
      field(t('courtside.edition'), choice('edition', editions.map(e => [e, e]), form.edition, v => { form.edition = v; })),
      people,
      h('p', {class: 'label'}, t('courtside.left')), pressed(t('courtside.left'), sides, form.left, v => { form.left = v; }),
      h('p', {class: 'label'}, t('courtside.first')), pressed(t('courtside.first'), [...sides, ['', t('courtside.not-yet')]], form.first, v => { form.first = v; }),
      h('details', {}, h('summary', {}, t('courtside.details')), text('match', t('sheet.match')), text('court', t('sheet.court')), text('referee', t('sheet.referee'))),
      wrong,
      h('button', {type: 'submit', class: 'door main'}, t('courtside.begin')),
      button(t('courtside.blank'), () => { location.hash = `#blank/${form.shape}@${form.edition}`; }, {class: 'door quiet blank'})),
  ]};
}
