// What the page says, in the language that is chosen. The texts come from the catalog of the library and the programs.
/* global TEXTS */
import {settings} from './settings.js';

const texts = globalThis.TEXTS_OF_TESTS || TEXTS;

/** The tag of the language: the one that is set, else that of the browser, else English. */
export function language() {
  const wanted = [settings.language, ...(globalThis.navigator?.languages || [])].filter(Boolean).map(tag => tag.slice(0, 2));
  return wanted.find(tag => texts[tag]) || 'en';
}

/** Says a code; what stands in braces is filled in. */
export function t(code, args = {}) {
  const text = texts[language()][code];
  return text === undefined ? `[${code}]` : text.replace(/\{(\w+)\}/g, (_, name) => args[name] ?? '–');
}

/** Reports whether there is such a text. */
export const has = code => texts[language()][code] !== undefined;

/** The names of languages, each in its own. */
export const languages = () => Object.keys(texts).map(tag => [tag, texts[tag]['courtside.language']]);

/** The shapes that are played here, with their names. */
export const shapes = () => Object.keys(texts.en).filter(code => code.startsWith('shape.')).map(code => [code.slice(6), t(code)]);
