// Elements in one expression.

/** Makes an element: attributes by name, functions as listeners, then children; what is nothing is left out. */
export function h(tag, attributes = {}, ...children) {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === 'function') e.addEventListener(name, value);
    else if (value === true) e.setAttribute(name, '');
    else if (value !== false && value !== undefined && value !== null) e.setAttribute(name, value);
  }
  e.append(...children.flat(9).filter(child => child || child === 0));
  return e;
}

/** A label with a capital, as it stands on its own. */
export const upper = label => typeof label === 'string' ? label.replace(/^\p{Ll}/u, c => c.toUpperCase()) : label;

/** A button with its label. */
export const button = (label, click, attributes = {}) => h('button', {type: 'button', click, ...attributes}, upper(label));

/** A label over a field. */
export const field = (label, input) => h('label', {class: 'field'}, h('span', {}, label), input);

/** A choice among pairs of value and label. */
export function choice(name, pairs, value, change) {
  const select = h('select', {name, change: change && (e => change(e.target.value))}, pairs.map(([v, label]) => h('option', {value: v, selected: v === value}, upper(label))));
  select.value = value;
  return select;
}

/** A row of buttons of which one is pressed. */
export function pressed(label, pairs, value, change) {
  const group = h('div', {class: 'pressed', role: 'radiogroup', 'aria-label': label});
  const draw = value => {
    const focused = group.contains(document.activeElement);
    group.replaceChildren(...pairs.map(([v, text]) => button(text, () => { draw(v); change(v); },
      {role: 'radio', 'aria-checked': String(v === value), tabindex: v === value ? 0 : -1, 'data-value': v})));
    if (focused) group.querySelector('[aria-checked=true]')?.focus();
  };
  group.addEventListener('keydown', e => {
    const step = {ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1}[e.key];
    if (!step) return;
    e.preventDefault();
    const at = [...group.children].findIndex(b => b.getAttribute('aria-checked') === 'true');
    group.children[(Math.max(at, 0) + step + pairs.length) % pairs.length].click();
    group.querySelector('[aria-checked=true]')?.focus();
  });
  draw(value);
  if (!group.querySelector('[tabindex="0"]')) group.firstChild.tabIndex = 0;
  return group;
}

/** Asks in a dialog over the page; it is gone when it is closed. */
export function dialog(title, ...content) {
  const d = h('dialog', {'aria-label': title, close: () => d.remove(), click: e => e.target === d && d.close()}, h('div', {class: 'sheet'}, h('h2', {tabindex: -1}, upper(title)), content));
  document.body.append(d);
  d.showModal();
  d.querySelector('h2').focus();
  return d;
}

/** Puts nodes in the place of what an element holds, unless they look the same: a finger may be on what is there. */
export function put(to, ...nodes) {
  const now = h('div', {}, nodes);
  if (now.innerHTML !== to.innerHTML) to.replaceChildren(...now.childNodes);
}
