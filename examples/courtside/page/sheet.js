// The match sheet on paper, as the library lays it out: filled in, or blank.
import {h} from './dom.js';

/** The sheet as elements, of the rows that the library gives. */
export function sheet(rows) {
  const out = [];
  let facts, boxes, notes;
  const put = {
    title: text => out.push(h('h2', {}, text)),
    about: text => { out.push(h('p', {class: 'note'}, text)); put.facts(); },
    facts: () => out.push(facts = h('dl')),
    fact: (name, value) => facts.append(h('div', {}, h('dt', {}, name), h('dd', {}, value))),
    key: text => out.push(h('p', {class: 'note'}, text)),
    game: text => { out.push(h('h3', {}, text)); put.facts(); },
    side: name => out.push(h('div', {class: 'marks'}, h('b', {}, name), boxes = h('ol'))),
    cell: (score, mark) => boxes.append(h('li', {class: mark.endsWith('/') ? 'end' : ''}, h('small', {}, score), h('span', {}, mark))),
    turns: text => out.push(h('p', {class: 'turns'}, text)),
    notes: (label, lines) => out.push(h('p', {}, label), notes = h('ul', {class: 'notes'}, Array.from({length: +lines}, () => h('li', {class: 'line'})))),
    note: text => notes.append(h('li', {}, text)),
    sign: (...who) => out.push(h('div', {class: 'sign'}, who.map(text => h('p', {}, text)))),
    caution: text => out.push(h('p', {class: 'note'}, text)),
  };
  for (const [name, ...values] of rows) put[name](...values);
  return out;
}
