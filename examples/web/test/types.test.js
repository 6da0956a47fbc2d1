// The types: a page that uses everything they declare is accepted by the compiler, a wrong name is not, and what they declare is there.
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {existsSync, mkdirSync, mkdtempSync, readFileSync, symlinkSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {test} from 'node:test';

const here = join(dirname(fileURLToPath(import.meta.url)), '..');
const tools = existsSync(join(here, 'node_modules/typescript')) ? {} : {skip: 'needs npm ci'};

const small = `
import {match, load, compile, parseEvent, Match, Rules} from 'evencourt';
import type {Answer, Court, Edition, Effect, Entry, Event, Fault, Format, Kind, Person, Places, Refusal, Shape, Side, Spot, Start, State, Switch, View} from 'evencourt';

const shape: Shape = 'sideout-doubles-11', edition: Edition = '2026', format: Format = \`\${shape}@\${edition}\`, own: Format = \`\${format}+defer=yes\`;
const side: Side = 'A', start: Start = {first: side, servers: 'A1B1'}, rules: Rules = compile(format), m: Match = match(rules, start);
const entry: Entry = 'A:net', fault: Fault = 'net', kind: Kind = 'rally', name: Switch = 'defer';
const answer: Answer = m.do(entry), effects: Effect[] = answer.effects, refused: Refusal | undefined = answer.refused, at: number = answer.at ?? 0, by: string[] = answer.clauses ?? [];
for (const {effects} of [m.undo(), m.redo(), m.amend(1, 'B', 'second look')]) effects.includes('point');
const numbers: number[] = [m.length, m.undoable(), m.redoable()];
for (const {n, event, effects} of m.holds()) numbers.push(n + event.length + effects.length);
const places: Places | undefined = m.places(), court: Court | '-' | undefined = places?.court, server: Person | undefined = places?.server, receiver: Person | undefined = places?.receiver;
const who: Person[] = places ? places.at.flat() : [], stands = [places?.standing[0] === 'R', places?.receives === '-', places?.number === 2];
const view: View = m.view('B'), spot: Spot | undefined = view.server ?? view.receiver, text: string = [view.hands[0], view.serving, view.playing, spot?.person, spot?.court, spot?.hand, spot?.depth, ...view.spots].join();
const state: State = m.state, {state: next, did, refused: no, clauses} = m.rules.apply(state, entry), event: Event | undefined = parseEvent(entry);
const told: string[] = [m.call(), m.line(), m.save({referee: 'Noor Haddad'}), ...m.allowed(), rules.call(next), rules.line(next), ...rules.allowed(next), rules.id, rules.editionName];
const more: boolean = rules.frozen(next, 0) && rules.doubles && rules.places(next).server === 'A1' && rules.view(next, 'A').playing && event?.kind === kind && event.text === entry && event.side === 0 && event.person === 3;
const back: Match = load(m.save()), again = new Match(new Rules(format), rules.begin('-')), from = match(format, {from: m.line()});
export {own, fault, name, effects, refused, at, by, court, server, receiver, who, stands, text, did, no, clauses, told, more, back, again, from};

// @ts-expect-error no such effect
effects.includes('goal');
// @ts-expect-error no such shape
match('sideout-doubles-12@2026');
// @ts-expect-error no such edition
compile('sideout-doubles-11@2099');
// @ts-expect-error no such side
match(format, {first: 'C'});
// @ts-expect-error no such function
m.score();
// @ts-expect-error a state never changes
state[0] = 1;
// @ts-expect-error a state is none that was made by hand
rules.line('L2');
`;
const whole = `
import {match, load, compile, parseLine, parseEvent, Match, Rules} from 'evencourt/whole';
import type {Cause, Explanation, Ground, Mark, Result, Start, State} from 'evencourt/whole';
import * as small from 'evencourt';

const start: Start = {}, m: Match = match('rally-doubles-11@2026', start), rules: Rules = compile('rally-doubles-11@2026'), same: Rules = m.rules;
const why: Explanation = m.why('ends'), ground: Ground | undefined = rules.why(m.state, 'ends').grounds[0], mark: Mark | undefined = ground?.mark;
const told = [why.event, why.refused, why.grounds, why.allowed, why.instead, why.help, why.effects, ground?.clause, ground?.rule, ground?.setting, rules.takes('order-fault')];
const result: Result = m.result(), cause: Cause = result.cause, [game] = result.games, line: State | undefined = parseLine(rules, m.line());
const all = [result.winner, game?.score[0], game?.how === 'played', load(m.save()).result(), new Match(new Rules('swap-doubles-11'), rules.begin('A')), parseEvent('A')?.kind];
export {same, mark, told, cause, line, all};

// @ts-expect-error of the whole only
small.parseLine(rules, m.line());
// @ts-expect-error of the whole only
small.match('rally-doubles-11@2026').why('ends');
// @ts-expect-error no such mark
if (mark === 'certain') told.pop();
`;
const full = `
import {words, audit} from 'evencourt/full';
import type {Step, Words} from 'evencourt/full';

export async function page(bytes: BufferSource): Promise<string[]> {
  const m: Words = await words(bytes, 'sideout-doubles-11@2026', {first: 'A'}), step: Step = m.guided('wrong', 'a'), check = await audit(bytes);
  const found = check({match: 'm1'}).map(({code, text}) => code + text);
  const asked = step.done ? [step.entry, ...step.changes] : [step.question, ...step.replies.map(({key, text}) => key + text)];
  // @ts-expect-error no such topic
  m.guided('weather');
  return [...found, ...asked, ...m.do('A'), m.call(), m.server(), m.line(), ...m.duties(), m.event('A'), ...m.refusal('ends')];
}
`;
const required = `
import small = require('evencourt');
import whole = require('evencourt/whole');
export const call: string = small.match('sideout-doubles-11').call(), help: boolean = whole.match('sideout-doubles-11').why('A').help;
// @ts-expect-error of the whole only
small.parseLine;
`;
const pages = {'small.mts': small, 'whole.mts': whole, 'full.mts': full, 'required.cts': required};

// A project of its own that has the package.
function project(pages) {
  const work = mkdtempSync(join(tmpdir(), 'evencourt-types-'));
  mkdirSync(join(work, 'node_modules'));
  symlinkSync(here, join(work, 'node_modules/evencourt'));
  for (const [name, text] of Object.entries(pages)) writeFileSync(join(work, name), text);
  return work;
}

function compiled(work, names, how) {
  const {status, stdout} = spawnSync(join(here, 'node_modules/.bin/tsc'), ['--noEmit', '--strict', '--target', 'es2022', '--lib', 'es2023,dom', ...how, ...names], {cwd: work, encoding: 'utf8'});
  return {status, stdout};
}

test('types: pages that use everything', tools, async () => {
  await (await import('./bundle.js')).writeParts();
  const work = project({...pages, 'wrong.mts': "import {match} from 'evencourt';\nmatch('sideout-doubles-11').doo('A');\n"});
  assert.deepEqual(compiled(work, Object.keys(pages), ['--module', 'node16']), {status: 0, stdout: ''});
  assert.deepEqual(compiled(work, ['small.mts', 'whole.mts', 'full.mts'], ['--module', 'esnext', '--moduleResolution', 'bundler']), {status: 0, stdout: ''});
  const wrong = compiled(work, ['wrong.mts'], ['--module', 'node16']);
  assert.notEqual(wrong.status, 0);
  assert.match(wrong.stdout, /wrong\.mts\(2,\d+\): error TS\d+: Property 'doo' does not exist on type 'Match'/);
});

test('types: what is declared is there, and used by these pages, and nothing else is exported', tools, async () => {
  const {default: ts} = await import('typescript'), parts = {index: small, whole, full};
  const program = ts.createProgram(Object.keys(parts).map(part => join(here, part + '.d.ts')), {strict: true, target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.Node16, types: []});
  const types = program.getTypeChecker(), has = (page, name) => assert.match(page, RegExp(`\\b${name}\\b`), `no page uses ${name}`);
  let seen = 0;
  for (const [part, page] of Object.entries(parts)) {
    const module = types.getSymbolAtLocation(program.getSourceFile(join(here, part + '.d.ts'))), declared = types.getExportsOfModule(module).map(x => x.flags & ts.SymbolFlags.Alias ? types.getAliasedSymbol(x) : x);
    const values = declared.filter(x => x.flags & ts.SymbolFlags.Value), pageOf = part === 'full' ? page : small + whole;
    for (const {name} of declared) has(pageOf, name);
    for (const {name} of values) has(page, name);
    const modules = part === 'full' ? [await import('../full.js')] : [await import(`../${part}.js`), await import(`../dist/${part}.js`)];
    for (const real of modules) {
      assert.deepEqual(values.map(x => x.name).sort(), Object.keys(real).sort(), part);
      for (const value of values) {
        assert.equal(typeof real[value.name], 'function', value.name);
        if (!(value.flags & ts.SymbolFlags.Class)) continue;
        const m = real.match('sideout-doubles-11@2026', {first: 'A'}), one = {Match: m, Rules: m.rules}[value.name];
        for (const member of types.getPropertiesOfType(types.getDeclaredTypeOfSymbol(value))) {
          const method = Boolean(member.flags & ts.SymbolFlags.Method);
          assert.ok(member.name in one && typeof one[member.name] === 'function' === method, `${part}: ${value.name}.${member.name}`);
          has(pageOf, member.name);
          seen++;
        }
      }
    }
  }
  assert.ok(seen > 80, `${seen} members`);
});

test('types: words of the pack are those that the types name', tools, async () => {
  const text = readFileSync(join(here, 'names.d.ts'), 'utf8'), {part, shapes} = await import('../core.js');
  await import('../whole.js');
  const named = name => [...text.match(RegExp(`export type ${name} = (.*);`))[1].matchAll(/'([^']*)'/g)].map(([, word]) => word);
  assert.deepEqual(named('Shape').sort(), [...shapes.keys()].sort());
  assert.deepEqual(named('Edition'), part.editions);
  assert.deepEqual(named('Switch').sort(), part.switches.map(([name]) => name).sort());
});
