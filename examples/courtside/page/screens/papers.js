// The record: what was entered, to share or save, to print, to hand over.
import {h, button, field} from '../dom.js';
import {t, language} from '../text.js';
import * as desk from '../desk/desk.js';
import {Sitting, sideName} from '../sitting.js';
import {connect} from '../board.js';
import {sheet} from '../sheet.js';

export async function papers([id]) {
  const sitting = await Sitting.resume(id), doubles = sitting.engine.rules.doubles, told = h('p', {role: 'status', class: 'note'});
  const name = `match-${(sitting.setup.began || '').slice(0, 16).replace(/[-:]/g, '').replace('T', '-')}.jsonl`;
  const file = () => new File([sitting.text()], name, {type: 'application/json'});
  const save = () => {
    const a = h('a', {href: URL.createObjectURL(file()), download: name});
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
    told.textContent = t('courtside.saved-as', {name});
  };
  const share = async () => {
    const files = [new File([sitting.text()], name.replace('.jsonl', '.txt'), {type: 'text/plain'})];
    if (!navigator.canShare?.({files})) return save();
    await navigator.share({files, title: name}).catch(error => error.name === 'AbortError' || save());
  };
  const list = h('ol', {class: 'entries'}), over = h('div', {class: 'handover'}), page = h('section', {class: 'paper'}), printing = button(t('courtside.print'), () => print(), {class: 'door', disabled: true});
  let left = false;
  const fill = () => desk.inTurn(async () => {
    if (left) return;
    if (!(await new desk.Follower().follow(sitting)).agrees) return page.replaceChildren(h('p', {class: 'trouble', role: 'alert'}, t('courtside.disagree')));
    const {rows} = await desk.ask('log');
    list.replaceChildren(...rows.map(([n, ms, holds, , text]) => h('li', {value: n, class: holds === 'true' ? '' : 'gone'}, h('span', {}, text), ms >= 0 ? h('small', {}, minutes(+ms)) : '')));
    over.replaceChildren(...(await desk.ask('handover')).rows.map(([line]) => h('p', {}, line)));
    page.replaceChildren(...sheet((await desk.ask('sheet')).rows));
    printing.disabled = false;
  });
  page.append(h('p', {}, t('courtside.loading')));
  desk.whenLoaded(is => is ? fill() : page.replaceChildren(h('p', {}, t('courtside.no-desk'))));
  const board = connect(sitting, text => { told.textContent = text; }), address = h('input', {type: 'url', value: board.state.address, placeholder: 'https://…/court/1/…'});
  return {title: t('courtside.record'), leave: () => { left = true; board.stop(); sitting.close(); }, element: [
    h('header', {}, h('a', {class: 'back', href: `#match/${id}`}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.record'))),
    h('p', {}, `${sideName(sitting.setup, 'A', doubles)} – ${sideName(sitting.setup, 'B', doubles)}`), told,
    h('div', {class: 'answers'}, button(t('courtside.share'), share, {class: 'door'}), button(t('courtside.save'), save, {class: 'door', 'data-do': 'save'}), printing),
    h('details', {}, h('summary', {}, t('courtside.hand-over')), over),
    h('details', {}, h('summary', {}, t('courtside.board')), h('form', {submit: e => { e.preventDefault(); board.give(address.value.trim()); told.textContent = t('courtside.board-given'); }},
      field(t('courtside.board-address'), address), h('button', {type: 'submit'}, t('courtside.board-send')), h('p', {class: 'note'}, t('courtside.board-sent', {sent: board.state.sent})))),
    h('details', {}, h('summary', {}, t('courtside.entries')), list),
    page,
  ]};
}

const minutes = ms => `${Math.floor(ms / 60000)}:${String(Math.floor(ms / 1000) % 60).padStart(2, '0')}`;

/** A blank sheet of a format, to be filled in by hand. */
export async function blank([format]) {
  const page = h('section', {class: 'paper'}, h('p', {}, t('courtside.loading')));
  desk.whenLoaded(async is => {
    const {rows, error} = is ? await desk.ask('blank', language(), format) : {error: true};
    page.replaceChildren(...error ? [h('p', {class: 'trouble', role: 'alert'}, t(is ? 'courtside.no-format' : 'courtside.no-desk'))] : sheet(rows));
  });
  return {title: t('courtside.blank'), element: [
    h('header', {}, h('a', {class: 'back', href: '#new'}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.blank')), button(t('courtside.print'), () => print())),
    page,
  ]};
}
