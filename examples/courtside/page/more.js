// What is rare: entry by questions, and every other event that may come now.
import {h, button, dialog, field, upper} from './dom.js';
import {t, has} from './text.js';
import * as desk from './desk/desk.js';
import {pad} from './pad.js';
import {nameOf} from './sitting.js';

const shown = /^(A|B|t[AB]|in|ends|g[AB]\d|fc[AB])/; // what the screen has buttons for
const topics = ['wrong', 'medical', 'penalty', 'correct'];

/** Opens the list. screen enters what is chosen. */
export function more(screen) {
  const {engine} = screen.sitting, d = dialog(t('courtside.more'));
  const box = d.firstChild, enter = entry => { d.close(); screen.enter(entry); };
  // What has a question of its own, or a button, is left out; of what is left, those that differ in nothing but who it is are one button.
  const rest = engine.allowed().filter(e => !shown.test(e) && !/^(vw|tw|tf|gf|mf|m[AB]\d|c[AB]\d|stop)/.test(e) && !e.endsWith(':65535'));
  const kinds = new Map();
  for (const e of rest) {
    const [, kind, who] = e.match(/^([a-z]+)([AB]\d?)?/);
    kinds.set(kind, [...kinds.get(kind) || [], [e, who]]);
  }
  box.append(
    h('div', {class: 'answers'}, topics.map(topic => button(t(`courtside.topic-${topic}`), () => { d.close(); guided(screen, topic); }, {'data-topic': topic})),
      button(t('courtside.asks'), () => { d.close(); asks(screen); }, {'data-do': 'asks', disabled: !engine.allowed().includes('A')}),
      button(t('courtside.fault'), () => { d.close(); fault(screen); }, {'data-do': 'fault', disabled: !engine.allowed().includes('A')}),
      h('a', {class: 'go', href: `#names/${screen.sitting.id}`}, t('courtside.names')),
      engine.redoable() ? button(t('courtside.redo'), () => enter('redo')) : undefined),
    h('details', {}, h('summary', {}, t('courtside.all-events')), h('div', {class: 'answers'}, [...kinds].map(([kind, events]) =>
      button(eventName(events[0][0]), () => { d.close(); events[0][1] ? ofWhom(screen, kind, events) : sure(screen, events[0][0]); }, {'data-kind': kind})))),
    leaving(d));
}

// Stays in reach below a long list.
const leaving = (d, ...more) => h('div', {class: 'answers leaving'}, more, button(t('courtside.leave'), () => d.close(), {class: 'quiet'}));

const whom = (screen, entry) => {
  const [, side] = entry.match(/([AB])\d?(:\d+)?$/) || [];
  return side ? `: ${screen.side(side)}` : '';
};
const eventName = e => has(`event.${e}`) ? t(`event.${e}`) : e;

// Who it is; of somebody late, how late.
function ofWhom(screen, kind, events) {
  const name = who => who[1] ? nameOf(screen.sitting.setup, who) : screen.side(who), d = dialog(t('courtside.who', {event: upper(eventName(events[0][0]))}));
  d.firstChild.append(h('div', {class: 'answers'}, events.map(([e, who]) => button(name(who), () => { d.close(); kind === 'late' ? late(screen, who) : sure(screen, e); }, {class: 'side ' + who[0], 'data-entry': e})),
    button(t('courtside.leave'), () => d.close(), {class: 'quiet'})));
}

function late(screen, side) {
  const d = dialog(t('event.lateA:0'));
  d.firstChild.append(pad(t('courtside.minutes'), '1234567890', minutes => { d.close(); sure(screen, `late${side}:${Math.min(+minutes * 60, 65534)}`); }),
    h('div', {class: 'answers'}, button(t('courtside.leave'), () => d.close(), {class: 'quiet'})));
}

/** Makes an entry; what ends a match is asked twice. */
export function sure(screen, entry) {
  if (!/^(ret|wd|gf|mf|dq|abandon|sheet|ej|ex|late|lost)/.test(entry)) return screen.enter(entry);
  const again = dialog(t('courtside.sure'), h('p', {class: 'ask'}, upper(eventName(entry.replace(/:\d+$/, ':0'))) + whom(screen, entry)), h('div', {class: 'answers'},
    button(t('courtside.yes'), () => { again.close(); screen.enter(entry); }, {class: 'door main'}), button(t('courtside.leave'), () => again.close(), {class: 'quiet'})));
}

// A player asks before the serve: what the edition lets the referee say.
async function asks(screen) {
  const d = dialog(t('courtside.asks')), box = d.firstChild, title = box.firstChild, of = (rows, name) => rows.find(r => r[0] === name)?.slice(1) || [];
  const step = (question, ...body) => { box.replaceChildren(title, h('p', {class: 'ask'}, question), ...body, leaving(d)); box.querySelector('button').focus(); };
  const answer = async (side, q, question) => {
    const {rows} = await screen.ask('asks', side, q), [right, done] = of(rows, 'right'), [wrong, otherwise] = of(rows, 'wrong');
    step(question, h('p', {class: 'answer'}, done === otherwise ? done : ''), ...right === wrong ? [h('p', {}, right)] :
      [h('p', {}, t('courtside.asks-right', {said: right})), h('p', {}, t('courtside.asks-wrong', {said: wrong}))], h('p', {class: 'note'}, of(rows, 'why')[0]));
  };
  if (desk.loaded === undefined) step(t('courtside.loading'));
  const {rows, error} = await screen.ask('asks');
  if (error) return step(t('courtside.no-desk'));
  step(t('courtside.asks-who'), h('div', {class: 'answers'}, ['A', 'B'].map(side => button(screen.side(side), () =>
    step(screen.side(side), h('div', {class: 'answers'}, rows.map(([, q, text]) => button(text, () => answer(side, q, text), {'data-question': q})))), {class: 'side ' + side, 'data-asks': side}))));
}

// A rally with the fault that ended it: the fault, then whose it was.
function fault(screen) {
  const faults = ['foot', 'serve', 'short', 'early', 'ten', 'net', 'out', 'bounce', 'nvz', 'twice', 'body', 'touch', 'plane', 'receiver', 'stopped', 'timeout', 'distract', 'other'];
  const d = dialog(t('courtside.fault'));
  d.firstChild.append(h('div', {class: 'answers'}, faults.map(f => button(t(`fault.${f}`), () => {
    d.close();
    const whose = dialog(t('courtside.whose', {fault: t(`fault.${f}`)}));
    whose.firstChild.append(h('div', {class: 'answers'}, ['A', 'B'].map(side => button(screen.side(side), () => { whose.close(); screen.enter(`${side === 'A' ? 'B' : 'A'}:${f}`); }, {class: 'side ' + side})),
      button(t('courtside.leave'), () => whose.close(), {class: 'quiet'})));
  }, {'data-fault': f}))), leaving(d));
}

/** Entry by questions: one question at a time, short answers, and what an answer leads to before it is made. */
export async function guided(screen, topic) {
  const d = dialog(t(`courtside.topic-${topic}`)), box = d.firstChild, title = box.firstChild, answers = [];
  const busy = on => d.setAttribute('aria-busy', on);
  const step = async () => {
    busy(true);
    if (desk.loaded === undefined) box.replaceChildren(title, h('p', {}, t('courtside.loading')), leaving(d));
    const {rows, error} = await screen.ask('guided', topic, ...answers);
    const list = topic === 'correct' && !answers.length ? (await screen.ask('log')).rows.filter(r => r[2] === 'true').slice(-40).reverse() : [];
    const of = name => rows.filter(r => r[0] === name).map(r => r.slice(1)), body = [];
    busy(false);
    const again = change => { if (d.getAttribute('aria-busy') === 'false') { change(); step(); } }, answer = key => again(() => answers.push(key)); // tapped twice is answered once
    const back = button(t('courtside.back'), () => again(() => answers.pop()), {class: 'quiet', disabled: !answers.length});
    if (of('help').length) body.push(h('p', {class: 'help', role: 'alert'}, of('help')[0][0]));
    const [done] = of('done'), [ask] = [...of('ask'), ...of('free')];
    if (error) body.push(h('p', {class: 'trouble', role: 'alert'}, desk.loaded ? [t('courtside.no-answer'), ...of('did').map(r => r[0])].join(' ') : t('courtside.no-desk')));
    else if (done) {
      body.push(h('p', {class: 'ask'}, upper(done[1])), of('change').map(([text]) => h('p', {}, text)),
        h('div', {class: 'answers'}, button(t('courtside.enter'), () => { d.close(); screen.enter(done[0]); }, {class: 'door main', 'data-entry': done[0]})));
    } else if (ask) {
      body.push(h('p', {class: 'ask'}, ask[0]));
      const choices = [...of('reply'), ...list.map(r => [r[0], `${r[0]}. ${r[4]}`])];
      body.push(h('div', {class: 'answers'}, choices.map(([key, text]) => button(text, () => answer(key), {'data-key': key}))));
      if (of('free').length) {
        const input = h('input', {autocomplete: 'off', maxlength: 400});
        body.push(h('form', {class: 'free', submit: e => { e.preventDefault(); if (input.value.trim()) answer(input.value.trim()); }}, field(t(choices.length ? 'courtside.other-answer' : 'courtside.answer'), input), h('button', {type: 'submit'}, t('courtside.answer'))));
      }
      if (!choices.length && !of('free').length) body.push(h('p', {}, t('courtside.nothing-now')));
    }
    box.replaceChildren(title, ...body.flat(), leaving(d, back));
    box.querySelector('.answers button')?.focus();
  };
  await step();
}
