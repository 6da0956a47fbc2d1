// A new match: format, names and marks, who stands left, who serves first. The names of one under way.
import {h, button, field, choice, pressed, upper} from '../dom.js';
import {t, shapes} from '../text.js';
import {kept, keep} from '../settings.js';
import {compile} from '../../../web/whole.js';
import {Sitting, sideName} from '../sitting.js';
import * as store from '../store.js';

const editions = ['2026', '2025', '2024', '2023-08', '2022', '2021', '2020', '2019', '2018'];
const sides = ['A', 'B'], pairs = sides.map(side => [side, side]);

// The parts of a shape's name: what is played, the target, what changes towards the end, how many games at most.
const parts = shape => {
  const [, play, target, freeze = '', games = '1'] = shape.match(/^(.*?)-(\d+)(?:-(?!of\d)(.*?))?(?:-of(\d))?$/);
  return {shape, play, target, freeze, games};
};

/** Chooses a format by its parts: what cannot be combined is not offered. */
function shaping(form, changed) {
  const box = h('div'), all = shapes().map(([shape]) => parts(shape)), aspects = ['play', 'target', 'freeze', 'games'];
  const draw = () => {
    const own = parts(form.shape), focused = document.activeElement?.name;
    const take = (aspect, value) => {
      const like = p => aspects.filter(a => p[a] === (a === aspect ? value : own[a])).length;
      form.shape = all.filter(p => p[aspect] === value && (aspect === 'play' || p.play === own.play)).sort((p, q) => like(q) - like(p))[0].shape;
      draw();
      changed();
    };
    // Of an aspect what there is: of those before it as they are chosen, of those behind it in any way.
    const values = aspect => [...new Set(all.filter(p => aspect === 'play' || p.play === own.play).map(p => p[aspect]))].sort((p, q) => p - q);
    const row = (aspect, label, say) => values(aspect).length < 2 ? [] : [h('p', {class: 'label'}, label), pressed(label, values(aspect).map(v => [v, say(v)]), own[aspect], v => take(aspect, v))];
    box.replaceChildren(
      field(t('courtside.format'), choice('play', ['sideout-doubles', 'sideout-singles', 'rally-doubles', 'rally-singles', 'fixed-doubles', 'swap-doubles', 'half-court-singles'].map(v => [v, t(`courtside.play-${v}`)]), own.play, v => take('play', v))),
      ...row('target', t('courtside.target'), v => v), ...row('games', t('courtside.games'), v => t(`courtside.games-${v}`)),
      ...values('freeze').length < 2 ? [] : [field(t('courtside.freeze'), choice('freeze', values('freeze').map(v => [v, t(`courtside.freeze-${v || 'none'}`)]), own.freeze, v => take('freeze', v)))],
      h('p', {class: 'note chosen'}, upper(t(`shape.${form.shape}`))));
    if (focused) box.querySelector(`[name=${focused}]`)?.focus();
  };
  draw();
  return box;
}

// Fields for names and marks, and for what else a sheet says; read gives them as a set-up has them.
function naming(setup) {
  const names = {}, people = h('div', {class: 'people'});
  const text = (name, label, value, more = {}) => field(label, names[name] = h('input', {name, autocomplete: 'off', maxlength: 80, value: names[name]?.value ?? value ?? '', ...more}));
  const value = name => names[name]?.isConnected ? names[name].value.trim() : '';
  const player = id => ({...value(id) && {name: value(id)}, ...value(id + '.mark') && {mark: value(id + '.mark')}});
  const more = ['match', 'court', 'referee'];
  return {
    draw(doubles) {
      people.replaceChildren(...sides.map((side, s) => h('fieldset', {class: 'side ' + side}, h('legend', {}, t('courtside.side', {side})),
        [1, 2].slice(0, doubles ? 2 : 1).map(n => {
          const {name, mark} = setup?.sides[s].players[n - 1] || {};
          return h('div', {class: 'pair'}, text(side + n, t('courtside.player', {n: side + n}), name), text(`${side}${n}.mark`, t('courtside.mark'), mark, {maxlength: 24}));
        }))));
    },
    people,
    more: h('details', {}, h('summary', {}, t('courtside.details')), more.map(name => text(name, t(`sheet.${name}`), setup?.[name]))),
    read: () => ({...Object.fromEntries(more.filter(value).map(n => [n, value(n)])), sides: sides.map((side, s) => ({...setup?.sides[s].name && {name: setup.sides[s].name}, players: [player(side + 1), player(side + 2)]}))}),
  };
}

export async function setUp() {
  const last = kept('set-up'), form = {shape: 'sideout-doubles-11-of3', edition: '2026', ...last, left: 'A', first: ''};
  if (!shapes().some(([shape]) => shape === form.shape)) form.shape = 'sideout-doubles-11-of3';
  const wrong = h('p', {class: 'trouble', role: 'alert'}), given = naming(), draw = () => given.draw(/doubles/.test(form.shape));
  let begun = false; // a second tap on a slow phone begins no other match
  const begin = async e => {
    e.preventDefault();
    if (begun) return;
    const format = `${form.shape}@${form.edition}`;
    try {
      compile(format);
    } catch {
      wrong.textContent = t('courtside.no-format');
      return;
    }
    begun = true;
    const setup = {...given.read(), left: form.left};
    keep('set-up', {shape: form.shape, edition: form.edition});
    const s = await Sitting.begin(format, setup);
    if (s.trouble) {
      begun = false;
      wrong.textContent = t(`courtside.trouble-${s.trouble}`);
      return;
    }
    if (form.first) await s.enter(`fc${form.first}:serve`);
    await store.note({id: s.id, began: Date.now(), name: matchName(s)});
    s.close();
    location.hash = `#match/${s.id}`;
  };
  draw();
  return {title: t('courtside.new'), element: [
    h('header', {}, h('a', {class: 'back', href: '#home'}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.new'))),
    h('form', {submit: begin},
      shaping(form, draw),
      field(t('courtside.edition'), choice('edition', editions.map(e => [e, e]), form.edition, v => { form.edition = v; })),
      given.people,
      h('p', {class: 'label'}, t('courtside.left')), pressed(t('courtside.left'), pairs, form.left, v => { form.left = v; }),
      h('p', {class: 'label'}, t('courtside.first')), pressed(t('courtside.first'), [...pairs, ['', t('courtside.not-yet')]], form.first, v => { form.first = v; }),
      given.more,
      wrong,
      h('button', {type: 'submit', class: 'door main'}, t('courtside.begin')),
      button(t('courtside.blank'), () => { location.hash = `#blank/${form.shape}@${form.edition}`; }, {class: 'door quiet blank'})),
  ]};
}

const matchName = s => ['A', 'B'].map(side => sideName(s.setup, side, s.engine.rules.doubles)).join(' – ');

/** Names, marks and the side on the left of a match under way: what was not known before, or is wrong. */
export async function names([id]) {
  const sitting = await Sitting.resume(id), given = naming(sitting.setup);
  let left = sitting.left();
  const keepThem = async e => {
    e.preventDefault();
    await sitting.name({...given.read(), began: sitting.setup.began, left: sitting.leftAtFirst(left)});
    const noted = await store.match(id);
    if (noted) await store.note({...noted, name: matchName(sitting)});
    location.hash = `#match/${id}`;
  };
  given.draw(sitting.engine.rules.doubles);
  return {title: t('courtside.names'), leave: () => sitting.close(), element: [
    h('header', {}, h('a', {class: 'back', href: `#match/${id}`}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.names'))),
    h('form', {submit: keepThem},
      given.people,
      h('p', {class: 'label'}, t('courtside.left-now')), pressed(t('courtside.left-now'), ['A', 'B'].map(side => [side, sideName(sitting.setup, side, sitting.engine.rules.doubles)]), left, v => { left = v; }),
      given.more,
      h('button', {type: 'submit', class: 'door main'}, t('courtside.keep'))),
  ]};
}
