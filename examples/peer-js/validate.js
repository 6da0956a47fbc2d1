'use strict';
// Validates every file of the corpus against its JSON Schema, and what is
// named on the command line: a report (--report FILE), a manifest of expected
// failures (--expected FILE) or a recorded dialogue (--dialogue FILE, one
// {"to":…} or {"from":…} a line).

const fs = require('node:fs');
const path = require('node:path');
const Ajv2020 = require('ajv/dist/2020').default;

const conformance = path.join(__dirname, '..', '..', 'conformance');
const ajv = new Ajv2020({ allErrors: false, strict: true, strictRequired: false, strictTypes: false });
const schemaOf = (name) => JSON.parse(fs.readFileSync(path.join(conformance, 'schema', name), 'utf8'));
const compiled = new Map();
function compile(name) {
  if (!compiled.has(name)) compiled.set(name, ajv.compile(schemaOf(name)));
  return compiled.get(name);
}

let checked = 0, bad = 0;
function check(validate, value, where) {
  checked++;
  if (validate(value)) return;
  bad++;
  const e = validate.errors[0];
  console.error(`${where}: ${e.instancePath || '/'} ${e.message} ${JSON.stringify(e.params)}`);
}
const read = (file) => JSON.parse(fs.readFileSync(file, 'utf8'));

const cases = compile('cases.json'), why = compile('why.json');
const folder = path.join(conformance, 'cases');
for (const name of fs.readdirSync(folder).filter((n) => n.endsWith('.json'))) {
  check(name === 'why.json' ? why : cases, read(path.join(folder, name)), name);
}
check(compile('profiles.json'), read(path.join(conformance, 'profiles.json')), 'profiles.json');

// A schema that accepts everything checks nothing: a good file with one fault
// is refused.
const good = read(path.join(folder, 'plumbing.json'));
for (const [fault, spoil] of Object.entries({
  'an unknown field': (f) => { f.cases[0].tittle = 'x'; },
  'an id of another form': (f) => { f.cases[0].id = 'x1'; },
  'no clauses': (f) => { f.cases[0].clauses = []; },
  'a line with a field too few': (f) => { f.cases[0].steps[0].line = f.cases[0].steps[0].line.replace(' due=-', ''); },
  'an unknown effect': (f) => { f.cases[0].steps[0].effects = ['won']; },
  'start and from': (f) => { f.cases[0].from = f.cases[0].start.line; },
})) {
  const copy = structuredClone(good);
  spoil(copy);
  checked++;
  if (cases(copy)) {
    bad++;
    console.error(`the schema of case files accepts ${fault}`);
  }
}

ajv.addSchema(schemaOf('protocol.json'), 'protocol');
for (let i = 2; i + 1 < process.argv.length; i += 2) {
  const [what, file] = process.argv.slice(i, i + 2);
  if (what === '--report') check(compile('report.json'), read(file), file);
  else if (what === '--expected') check(compile('expected.json'), read(file), file);
  else if (what === '--dialogue') {
    let command = '';
    fs.readFileSync(file, 'utf8').split('\n').forEach((text, n) => {
      if (text === '') return;
      const m = JSON.parse(text);
      if (m.to) command = m.to.cmd;
      check(ajv.getSchema(`protocol#/$defs/${command}${m.to ? '' : 'Reply'}`), m.to || m.from, `${file}:${n + 1}`);
    });
  } else {
    console.error(`unknown option ${what}`);
    process.exit(2);
  }
}
console.log(`${checked} documents checked against their schemas, ${bad} bad`);
process.exit(bad === 0 && checked > 0 ? 0 : 1);
