// What the referee can set.
import {h, pressed} from '../dom.js';
import {t, language, languages} from '../text.js';
import {settings, change} from '../settings.js';

export async function preferences() {
  const yes = [[true, t('courtside.on')], [false, t('courtside.off')]];
  const row = (name, pairs, after = () => {}) => {
    const label = t(`courtside.set-${name}`);
    return [h('p', {class: 'label'}, label), pressed(label, pairs, name === 'language' ? language() : settings[name], v => { change(name, v); after(); })];
  };
  return {title: t('courtside.settings'), element: [
    h('header', {}, h('button', {type: 'button', class: 'back', click: () => history.back()}, t('courtside.back')), h('h1', {tabindex: -1}, t('courtside.settings'))),
    row('language', languages(), () => dispatchEvent(new HashChangeEvent('hashchange'))),
    row('light', ['auto', 'light', 'dark', 'sun'].map(v => [v, t(`courtside.light-${v}`)])),
    row('hand', ['right', 'left'].map(v => [v, t(`courtside.hand-${v}`)])),
    row('sound', yes), row('buzz', yes), row('speak', yes),
  ]};
}
