// Signs to be tapped where a number, a call or marks are wanted: no keyboard covers the question.
import {h, button, field} from './dom.js';
import {t} from './text.js';

/** A field under a label, with a button for each sign; done gets what was put in. A keyboard may type it all the same. */
export function pad(label, signs, done) {
  const input = h('input', {autocomplete: 'off', maxlength: 120, inputmode: 'none'});
  const put = sign => () => { input.value += sign; };
  return h('form', {class: 'pad', submit: e => { e.preventDefault(); if (input.value.trim()) done(input.value.trim()); }},
    field(label, input),
    h('div', {class: 'signs'}, [...signs].map(sign => button(sign, put(sign), {'data-sign': sign})),
      button('\u232b', () => { input.value = input.value.slice(0, -1); }, {'aria-label': t('courtside.erase'), 'data-sign': 'erase'})),
    h('button', {type: 'submit', class: 'door main'}, t('courtside.answer')));
}
