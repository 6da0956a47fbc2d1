// Reasons: the clauses behind an answer, as they stand in the edition.
import known from './pack/clauses.js';
import {SIDES, parseEvent, named, part, words, Rules} from './core.js';
import {Match} from './log.js';
import {absentDue} from './breaks.js';

/** Explains what would be said to an event: the refusal, the clauses behind it as they stand in the edition, and what may come instead. */
Rules.prototype.why = function (s, text) {
  const e = parseEvent(text), {refused, clauses, did} = this.apply(s, text), allowed = this.allowed(s), request = ['medical-request', 'blood', 'illness'].includes(e?.kind);
  const grounds = clauses.filter((c, i) => c && clauses.indexOf(c) === i).map(clause => ({clause, ...sourceOf(clause, this.edition)}));
  const out = {event: text, refused, grounds, allowed, help: false, instead: []};
  if (!refused) return {...out, effects: named(did)};
  if (request || e?.kind === 'play-on-alone' || e?.kind === 'concussion') {
    out.help = true;
    out.instead = allowed.filter(w => ['ref', 'illness', 'blood'].includes(w));
    if (!out.instead.length && request) out.instead = allowed.filter(w => /^c[AB]/.test(w));
  } else if (refused === 'absent-due') out.instead = [`${SIDES[1 - absentDue(this, s)]}:absent`];
  return out;
};

Match.prototype.why = function (text) { return this.rules.why(this.state, text); };

const marks = {r: 'read', p: 'paraphrase', l: 'paraphrase-low', c: 'common-practice', d: 'derived', m: 'memory', o: 'open'};

const document = n => part.editions[n].replace(/[-\d]+$/, '');

// What is known of a clause in an edition; nothing where only a setting of the event brings it.
function sourceOf(clause, edition) {
  const [, from, rule, mark] = words(known[clause]).map(row => /^(.)(.*)(.)$/.exec(row)).findLast(([, from]) => parseInt(from, 36) <= edition) || [];
  return mark in marks && document(parseInt(from, 36)) === document(edition) ? {rule, mark: marks[mark]} : {setting: true};
}
