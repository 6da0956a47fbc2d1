import assert from 'node:assert/strict';
import {test} from 'node:test';
import {compile, load, match, parseLine} from '../whole.js';
import {ask, library} from './library.js';

test('a match from its first serve', () => {
  const m = match('sideout-doubles-11@2026', {first: 'A'});
  assert.deepEqual(m.do('gA1B1'), {effects: ['game-started']});
  assert.equal(m.call(), '0-0-2');
  assert.deepEqual(m.do('A').effects, ['point']);
  assert.equal(m.call(), '1-0-2');
  assert.deepEqual(m.places(), {server: 'A1', receiver: 'B2', court: 'L', receives: 'L', at: [['A2', 'A1'], ['B1', 'B2']], standing: ['L', 'L'], number: 2});
  assert.equal(m.view('A').server.depth, 'far');
  assert.deepEqual(m.do('B').effects, ['side-out']);
});

test('undo, redo and amend', () => {
  const m = match('rally-singles-11@2026', {first: 'A'});
  for (const e of ['A', 'A', 'B']) m.do(e);
  const line = m.line();
  assert.equal(m.undoable(), 3);
  m.undo();
  assert.notEqual(m.line(), line);
  m.redo();
  assert.equal(m.line(), line);
  assert.equal(m.redo().refused, 'not-now');
  m.amend(2, 'B');
  assert.match(m.line(), /score=1-2/);
  assert.deepEqual(m.holds().map(h => h.event), ['A', 'B', 'B']);
  assert.deepEqual({...m.amend(9, 'A'), effects: []}, {effects: [], refused: 'malformed', at: 0, clauses: ['event-words']});
});

test('a refused entry changes nothing, and why names its clause', () => {
  const m = match('sideout-doubles-11@2026', {first: 'A', servers: 'A1B1'});
  m.do('tA');
  m.do('tA');
  const line = m.line();
  assert.equal(m.do('tA').refused, 'none-left');
  assert.equal(m.line(), line);
  const why = m.why('tA');
  assert.equal(why.refused, 'none-left');
  assert.equal(why.grounds[0].clause, 'time-out-none-left');
  assert.ok(why.allowed.includes('tB') && !why.allowed.includes('tA'));
  assert.ok(m.why('mA1').refused === undefined && !m.why('ends').help);
  m.do('in');
  for (const e of ['mA1', 'mA1+', 'in']) m.do(e);
  assert.ok(m.why('mA1').help, 'a second medical need calls help first');
  assert.deepEqual(m.why('mA1').instead.sort(), ['blood', 'illness', 'ref']);
});

test('what may come may come, and nothing else does', () => {
  const m = match('fixed-doubles-21@2026', {first: 'B'});
  for (const e of ['gB1A1', 'B', 'A', 'tA', 'xB']) {
    assert.ok(m.allowed().includes(e), e);
    m.do(e);
  }
  assert.ok(!m.allowed().includes('ends'));
});

test('words of an object are no events, formats or fields', () => {
  for (const word of ['constructor', '__proto__', 'toString', 'A:constructor', 'A?constructor', '']) {
    assert.equal(match('sideout-doubles-11@2026', {first: 'A'}).do(word).refused, 'malformed', word);
    assert.throws(() => compile(word), RangeError);
    assert.throws(() => compile(`sideout-doubles-11@2026+${word}=1`), RangeError);
  }
});

test('lines that are none are refused', () => {
  const r = compile('sideout-doubles-11@2026'), line = match(r, {first: 'A', servers: 'A1B1'}).line();
  assert.ok(parseLine(r, line));
  for (const [from, to] of [['ends=0', 'ends=2'], ['start=A1B1', 'start=A1B4'], ['start=A1B1', 'start=A2B0'], ['score=0-0', 'score=00-0'], ['score=0-0', 'score=-1-0'],
    ['score=0-0', 'score=0-0-0'], ['won=0:0', 'won=0'], ['medical=----', 'medical=---'], ['carry=----', 'carry=8---'], ['carry=----', 'carry=-----'], ['L2', 'L3'],
    ['first=A', 'first=AB'], ['due=-', 'due=ee'], ['due=-', 'due='], ['phase=play', 'phase=constructor'], ['break=-', 'break=tC'], ['opens=0:0', 'opens=3:0']]) {
    assert.ok(line.includes(from));
    assert.equal(parseLine(r, line.replace(from, to)), undefined, to);
  }
  const over = match(r, {first: 'A', servers: 'A1B1'}), before = match(r, {first: 'A'});
  over.do('mfB');
  before.do('mfB');
  for (const [of, from, to] of [[over, 'result=Amf', 'result=mf'], [over, 'result=Amf', 'result=Admf'], [over, 'result=Amf', 'result=ret'], [before, 'start=-', 'start=A1B1']]) {
    assert.ok(parseLine(r, of.line()) && of.line().includes(from));
    assert.equal(parseLine(r, of.line().replace(from, to)), undefined, to);
  }
  const old = line.replace('L2', 'L1');
  assert.deepEqual(parseLine(r, old), parseLine(r, line));
  assert.equal(parseLine(r, old.replace('due=-', 'due=x')), undefined);
});

test('a record comes back, and a changed one does not', () => {
  const m = match('sideout-doubles-11@2026', {first: 'A'});
  for (const e of ['gA1B1', 'A:net', 'A', 'undo', 'amend 2 B', 'tA', 'in', 'redo']) m.do(e);
  const text = m.save({referee: 'Noor Haddad'}), back = load(text);
  assert.equal(back.line(), m.line());
  assert.equal(back.save({referee: 'Noor Haddad'}), text);
  assert.throws(() => load(text.replace('A:net', 'B:net')), /line 3/);
  assert.throws(() => load(text.slice(0, -1)), /breaks off/);
  assert.throws(() => load(text.split('\n').filter((_, i) => i !== 2).join('\n')), /line 3/);
  assert.throws(() => load('{}\n'.repeat(20001)), /line 20001: too many/);
  for (const none of ['', '{}\n', 'null\n', '[]\n', '{"record":9}\n']) assert.throws(() => load(none), SyntaxError);
});

test('a record that is saved here is read by the library', library, () => {
  for (const format of ['sideout-doubles-11@2026', 'rally-singles-11-of3@2025', 'fixed-doubles-21@2024']) {
    const m = match(format, {first: 'B'});
    for (const e of ['B', 'A', 'tA', 'in', 'B', 'undo', 'A', 'cA1', 'retA', 'sheet']) m.do(e);
    assert.equal(ask(['record', m.save({referee: 'Noor Haddad'})]), m.line());
  }
});

test('the clause of an answer is the one that decides it', () => {
  const invalid = entries => {
    const m = match('sideout-doubles-11@2021', {first: 'A', servers: 'A1B1'});
    for (const e of entries) m.do(e);
    return m.rules.apply(m.state, 'mB1-').clauses;
  };
  assert.equal(invalid(['mB1'])[0], 'medical-invalid-charged');
  assert.equal(invalid(['tB', 'in', 'tB', 'mB1'])[0], 'medical-invalid-foul', 'no time-out is left to charge');
  const beach = compile('beach-doubles-21-of3@beach-2025');
  assert.deepEqual(beach.apply(beach.begin(), 'fcB:receive').clauses, ['first-choice']);
  assert.deepEqual(beach.apply(beach.begin(), 'A').clauses, ['beach-first'], 'nobody has chosen');
});

test('settings that are none are refused, those that nothing here turns on too', () => {
  for (const own of ['target=0', 'equipment-seconds=3601', 'equipment-seconds=', 'early-serve=perhaps', 'late-game-seconds=7201', 'time-outs-11=16', 'no-such=1']) {
    assert.throws(() => compile('sideout-doubles-11@2026+' + own), RangeError, own);
  }
  for (const own of ['equipment-seconds=3600', 'early-serve=strike', 'late-game-seconds=7200', 'time-outs-11=15']) assert.ok(compile('sideout-doubles-11@2026+' + own));
});

test('limits of notes, lines and records are those that are stated', () => {
  const noted = note => {
    const m = match('sideout-doubles-11@2026', {first: 'A', servers: 'A1B1'});
    m.do('A');
    return m.amend(1, 'B', note).refused;
  };
  assert.equal(noted('é'.repeat(200)), undefined, '400 bytes');
  assert.equal(noted('é'.repeat(200) + 'e'), 'malformed', '401 bytes');
  for (const note of ['a\tb', 'a\u2028b', 'ends ', '']) assert.equal(noted(note), note ? 'malformed' : undefined, JSON.stringify(note));
  const m = match('rally-doubles-11@2026', {first: 'A', servers: 'A1B1'}), lineOf = setup => Buffer.byteLength(m.save(setup).split('\n')[0]);
  const room = 32768 - lineOf({venue: ''});
  assert.equal(load(m.save({venue: 'x'.repeat(room)})).line(), m.line(), 'a line of 32768 bytes');
  assert.throws(() => load(m.save({venue: 'x'.repeat(room + 1)})), /line 1: too long/);
  for (let i = 1; i < 20000; i++) m.do('replay');
  assert.equal(load(m.save()).length, 19999, '20000 lines');
  m.do('replay');
  assert.throws(() => load(m.save()), /line 20001: too many/);
});

test('a record says where the match was taken up, and whom it had serve first', () => {
  const header = m => JSON.parse(m.save().split('\n')[0]), r = compile('sideout-doubles-11@2026');
  assert.deepEqual([header(match(r)).setup.first, header(match(r)).start], [undefined, undefined]);
  assert.deepEqual([header(match(r, {first: 'B'})).setup.first, header(match(r, {first: 'B'})).start], ['B', undefined]);
  const m = match(r, {first: 'A', servers: 'A2B1'});
  assert.deepEqual([header(m).setup.first, header(m).start], [undefined, m.line()]);
  assert.equal(load(m.save()).line(), m.line());
  const old = [JSON.stringify({record: 1, format: r.id, setup: {first: 'A'}}), JSON.stringify({n: 1, do: 'gA1B1'}), JSON.stringify({end: 'x', entries: 1}), ''].join('\n');
  assert.equal(load(old).length, 1);
  assert.throws(() => load(old.replace('"entries":1', '"entries":2')), /line 3: counts other entries/);
  assert.throws(() => load(old.replace('"n":1', '"n":2')), /line 2: is not the next entry/);
});

test('the places of a match are those of its play only', () => {
  const m = match('sideout-doubles-11@2026', {first: 'A'});
  assert.equal(m.places(), undefined);
  m.do('gA1B1');
  assert.equal(m.places().server, 'A1');
  m.do('retA');
  assert.equal(m.places(), undefined);
});

test('whose partner is out is told what may come instead', () => {
  const m = match('sideout-doubles-11@2026', {first: 'A', servers: 'A1B1'});
  m.do('outA1');
  const {refused, instead} = m.why('A');
  assert.deepEqual([refused, instead], ['absent-due', ['B:absent']]);
  assert.deepEqual(m.do('B:absent').refused, undefined);
});
