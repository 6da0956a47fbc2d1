// Reasons: the clauses behind an answer, as they stand in the edition.
import known from './pack/clauses.js';
import pack from './pack/core.js';
import {SIDES, parseEvent, named, part, Rules, PHASE, WINNER, BREAK, DID, BETWEEN, CARE, POINT, ENDS_DUE, BREAK_ENDED} from './core.js';
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

// What decides where an event is taken otherwise than is usual for its kind.
const also = (kind, by) => {
  const handler = part.handlers[kind];
  part.handlers[kind] = (r, s, e) => {
    const phase = s[PHASE], winner = s[WINNER], during = s[BREAK];
    const why = handler(r, s, e);
    return why && why.trim() !== '-' ? why : by(r, s, e, {phase, winner, during});
  };
};
const lost = {ten: '- ten-seconds lost-rally', absent: '- absent-due lost-rally', stopped: '- stopped-wrongly lost-rally', timeout: '- time-out-late lost-rally'};

also('rally', (r, s, e) => {
  if (e.incident) return s[DID] & BREAK_ENDED && '- time-out-over';
  if (s[DID] & POINT && s[DID] & ENDS_DUE) return r.game(s).changeEndsEvery ? '- ends-by-total' : r.match.games === 1 ? '- end-change-single' : '- end-change-last';
  return e.fault ? lost[pack.faults[e.fault]] || '- lost-rally' : s[DID] & BREAK_ENDED && '- time-out-over';
});
part.handlers.stop = part.handlers.rally;
also('time-out', (r, s, e, {phase, during}) => during === CARE ? '- medical-with-time-outs' : during ? '- time-out-again' : phase === BETWEEN && '- time-out-between');
also('start-game', (r, s, e, {phase, winner}) => phase === BETWEEN && winner && '- starter-named after-game-forfeit');
also('first-choice', (r, s, e) => e.choice === 'defer' && '- deferring');
also('ends-changed', (r, s) => r.game(s).changeEndsEvery && '- ends-by-total-missed');

Match.prototype.why = function (text) { return this.rules.why(this.state, text); };

// What is known of a clause in an edition; nothing where only a setting of the event brings it.
function sourceOf(clause, edition) {
  const spans = known[clause] || [];
  for (let i = 0; i < spans.length; i += 4) if (spans[i] <= edition && edition <= spans[i + 1]) return {rule: spans[i + 2], mark: spans[i + 3]};
  return {setting: true};
}
