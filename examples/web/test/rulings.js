// The RULINGS digest of an edition, as conformance/DIGESTS.md defines it, computed by the package; in Node and in a browser.
import {compile, parseEvent} from '../whole.js';
import {named} from '../core.js';

const shapes = {'badminton-2005': 'badminton-doubles-15-of3', 'badminton-2006': 'badminton-doubles-21-of3', 'badminton-2027': 'badminton-doubles-15-of3'};

/** Calls add with every piece of the text that is digested; returns the number of its lines. */
export function rulingsText(edition, add) {
  const r = compile(`${shapes[edition] || 'sideout-doubles-11'}@${edition}`), play = (s, text) => r.apply(s, text).state;
  const s = ['gA1B1', 'B', 'A', 'A'].reduce(play, r.begin('A')), again = play(s, 'B?server'), texts = new Map();
  let lines = 0, piece = '';
  const incidents = (s, base, reaches) => {
    const e = base === 'stop' ? {kind: 'stop'} : parseEvent(base), stop = base === 'stop';
    for (let mistakes = 0; mistakes < 256; mistakes++) {
      for (let claim = 0; claim < 9; claim++) {
        for (let misled = 0; misled < 2; misled++) {
          for (let reach = 0; reach <= reaches; reach++) {
            for (let since = 0; since < (stop ? 1 : 6); since++) {
              for (let stopper = 0; stopper < 4; stopper++) {
                for (let asked = 0; asked < 2; asked++) {
                  if (!mistakes && !claim && (!stop || !misled && !reach && !stopper && !asked)) continue;
                  const incident = {mistakes, claim: claim ? claim - 1 : undefined, misled: misled > 0, reach, since, stopper, asked: asked > 0};
                  const {did, refused} = r.apply(s, {...e, incident});
                  let text = texts.get(did);
                  if (text === undefined) texts.set(did, text = (named(did).join(',') || '-') + '\n');
                  piece += refused ? `!${refused}\n` : text;
                  if (++lines % 4096 === 0) {
                    add(piece);
                    piece = '';
                  }
                }
              }
            }
          }
        }
      }
    }
  };
  for (const base of ['stop', 'A', 'B']) incidents(s, base, 5);
  for (const base of ['A:ten', 'B:foot']) incidents(s, base, 0);
  for (const base of ['stop', 'B']) incidents(again, base, 5);
  add(piece);
  return lines;
}
