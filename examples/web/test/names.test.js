// Lists of the code that the pack has in another form: bits of effects, phases and causes by name, and which kinds each part plays.
import assert from 'node:assert/strict';
import {test} from 'node:test';
import * as core from '../core.js';
import '../index.js';
import pack from '../pack/core.js';
import rulings from '../pack/rulings.js';

const {words, part} = core, small = Object.keys(part.handlers); // before the whole is loaded

test('every effect is the bit of its place', () => {
  const effects = {POINT: 'point', SECOND_SERVER: 'second-server', SIDE_OUT: 'side-out', AGAIN: 'replay', WITHHELD: 'withheld', STANDS: 'stands', OVERRULED: 'overruled',
    GAME_STARTED: 'game-started', GAME_WON: 'game-won', MATCH_WON: 'match-won', ENDS_DUE: 'ends-due', ENDS_MADE: 'ends-changed', EXCHANGED: 'exchanged', BREAK_BEGAN: 'break',
    BREAK_ENDED: 'time-in', CHARGED: 'time-out-charged', LAST_TIME_OUT: 'last-time-out', MEDICAL_USED: 'medical-used', WARNED: 'warning', FOULED: 'foul',
    WARNED_VERBALLY: 'verbal-warning', PENALTY_POINT: 'penalty-point', GAME_FORFEITED: 'game-forfeit', MATCH_FORFEITED: 'match-forfeit', PLAYER_OUT: 'player-out',
    CALL_HELP: 'help', PUT_RIGHT: 'put-right', RECORDED: 'recorded', FIRST_CHOSEN: 'first-chosen', SHEET_CLOSED: 'closed'};
  assert.deepEqual(Object.values(effects), words(pack.effects));
  Object.entries(effects).forEach(([name, word], i) => {
    assert.equal(core[name], 1 << i, name);
    assert.deepEqual(core.named(core[name]), [word]);
  });
});

test('every phase, cause and break is the number of its place', () => {
  const places = (text, names) => assert.deepEqual(words(text).map((_, i) => names[i] ? core[names[i]] : i), words(text).map((_, i) => i), names.join());
  assert.equal(words(pack.phases).join(), 'before,play,between,over,closed');
  places(pack.phases, ['BEFORE', 'PLAY', 'BETWEEN', 'OVER', 'CLOSED']);
  assert.equal(words(rulings.causes).join(), '-,played,retired,withdrew,forfeited,double-forfeit,tied,abandoned');
  places(rulings.causes, ['', 'PLAYED', 'RETIRED', 'WITHDREW', 'FORFEITED', 'BOTH_FORFEITED', 'TIED', 'ABANDONED']);
  assert.equal(rulings.breaks, '- t m eq ref blood hazard illness');
  places(rulings.breaks, ['', 'TIME_OUT', 'CARE', 'EQUIPMENT', 'REFEREE', 'BLOOD']);
});

test('each part plays the kinds that the pack says are its own, and the whole all of them', async () => {
  const own = words(pack.kinds).map(row => row.split(':')[0]);
  assert.deepEqual([...small].sort(), [...own].sort());
  await import('../whole.js');
  assert.deepEqual(Object.keys(part.handlers).sort(), [...own, ...words(rulings.kinds)].sort());
  assert.deepEqual(words(rulings.accepted).length, own.length + words(rulings.kinds).length);
});
