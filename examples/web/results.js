// Results as they are reported.
import rulings from './pack/rulings.js';
import {PHASE, GAME, WON, SCORE, CAUSE, WINNER, ABORTED, PLAY, BETWEEN, OVER, CLOSED, PLAYED, FORFEITED, LATE, TIED, ABANDONED, GAME_FORFEITED,
  SIDES, words} from './core.js';
import {Match} from './log.js';


/** Returns the reportable result: the games played, and for what was forfeited or not played the conventional score. */
Match.prototype.result = function () {
  const s = this.state, {rules: r} = this, ended = s[PHASE] === OVER || s[PHASE] === CLOSED, games = [];
  const cause = s[ABORTED] ? ABANDONED : ended ? s[CAUSE] === LATE ? FORFEITED : s[CAUSE] : 0, winner = ended && (s[WINNER] === 1 || s[WINNER] === 2) ? s[WINNER] - 1 : undefined;
  const awarded = (r, n, winner, score, kept) => {
    const g = r.games[n >= r.match.games ? 1 : 0], loser = kept ? score[1 - winner] : 0, own = Math.max(g.target, loser + g.winBy);
    const out = [loser, loser];
    out[winner] = g.cap ? Math.min(own, g.cap) : own;
    return out;
  };
  const finals = new Map();
  for (const st of this.read().filter(st => st?.final)) {
    const n = st.back[GAME], side = st.back[WON + 1] > st.before[WON + 1] ? 1 : 0, score = [st.back[SCORE], st.back[SCORE + 1]];
    const kept = st.rules.takes('forfeit-kept') && st.before[PHASE] === PLAY;
    finals.set(n, st.did & GAME_FORFEITED ? {score: awarded(st.rules, n, side, score, kept), how: 'forfeited'} : {score, how: 'played'});
  }
  for (let n = 1; n <= s[GAME]; n++) {
    const now = [s[SCORE], s[SCORE + 1]];
    games.push(finals.get(n) || (n < s[GAME] || s[PHASE] === BETWEEN ? {score: [0, 0], how: 'unknown'} :
      {score: now, how: cause === PLAYED || cause === TIED ? 'unknown' : 'unfinished'}));
  }
  if (winner !== undefined && cause !== PLAYED) {
    let need = r.match.playAll ? r.match.games - s[WON] - s[WON + 1] : r.needed - s[WON + winner];
    const last = games[games.length - 1], kept = r.takes(cause === FORFEITED ? 'forfeit-kept' : 'retirement-kept');
    if (last?.how === 'unfinished' && need > 0) {
      games[games.length - 1] = {score: awarded(r, games.length, winner, last.score, kept), how: 'broken-off'};
      need--;
    }
    for (; need > 0; need--) games.push({score: awarded(r, games.length + 1, winner, [0, 0], false), how: 'unplayed'});
  }
  return {cause: words(rulings.causes)[cause], winner: winner === undefined ? undefined : SIDES[winner], games};
};
