// Reasons: the clauses behind a refusal, as they stand in the edition.
import known from './pack/clauses.js';
import {SIDES, parseEvent, named, Rules} from './core.js';
import {Match} from './log.js';
import {absentDue} from './breaks.js';

/** Explains what would be said to an event: the refusal, the clauses behind it as they stand in the edition, and what may come instead. */
Rules.prototype.why = function (s, text) {
  const e = parseEvent(text), {refused, clauses, did} = this.apply(s, text), allowed = this.allowed(s), medical = e?.kind === 'medical-request';
  const grounds = clauses.filter((c, i) => c && clauses.indexOf(c) === i).map(clause => ({clause, ...sourceOf(clause, this.edition)}));
  const out = {event: text, refused, grounds, allowed, help: false, instead: []};
  if (!refused) return {...out, effects: named(did)};
  if (medical || e?.kind === 'play-on-alone' || e?.kind === 'concussion') {
    out.help = true;
    out.instead = allowed.filter(w => ['ref', 'illness', 'blood'].includes(w));
    if (!out.instead.length && medical) out.instead = allowed.filter(w => /^c[AB]/.test(w));
  } else if (refused === 'absent-due') out.instead = [`${SIDES[1 - absentDue(this, s)]}:absent`];
  return out;
};

Match.prototype.why = function (text) { return this.rules.why(this.state, text); };

// What is known of a clause in an edition; nothing where only a setting of the event brings it.
function sourceOf(clause, edition) {
  const spans = known[clause] || [];
  for (let i = 0; i < spans.length; i += 4) if (spans[i] <= edition && edition <= spans[i + 1]) return {rule: spans[i + 2], mark: spans[i + 3]};
  return {setting: true};
}
