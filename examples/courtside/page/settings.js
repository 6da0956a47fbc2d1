// What the referee has set, kept on the phone; without room for it the page goes by what is usual.
const usual = {language: '', light: 'auto', hand: 'right', sound: true, buzz: true, speak: false};

/** The settings as they are. */
export const settings = {...usual, ...read('settings')};

function read(name) {
  try {
    return JSON.parse(localStorage.getItem(name)) || {};
  } catch {
    return {};
  }
}

/** Changes a setting. */
export function change(name, value) {
  settings[name] = value;
  keep('settings', settings);
  apply();
}

/** Keeps a small thing that the page can do without. */
export function keep(name, value) {
  try {
    localStorage.setItem(name, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

export const kept = read;

/** Puts light and hand into effect. */
export function apply() {
  const root = document.documentElement;
  root.dataset.light = settings.light;
  root.dataset.hand = settings.hand;
}
