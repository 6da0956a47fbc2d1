'use strict';
// A skeleton of an engine on the protocol: side-out singles to 11, rallies
// only. It passes the profile plumbing; put your own engine in place of begin
// and play, then claim more.   node conformance/skeleton.js

const LEDGER = 'medical=---- out=---- vw=0:0 tw=0:0 tf=0:0 gf=0:0 wrong=0:0 carry=----';
class Skip extends Error {} // "I do not play this", with the reason

// ---- your engine: begin a match, play an event, state the line ----------

function begin(start) {
  if (start.from) return read(start.from);
  if (!start.servers) throw new Skip('begins only with starting servers');
  return { score: [0, 0], side: 'AB'.indexOf(start.first), first: start.first };
}

function read(line) {
  const field = (name) => new RegExp(` ${name}=(\\S+)`).exec(line)[1];
  const m = { score: field('score').split('-').map(Number), side: 'AB'.indexOf(field('serve')[0]), first: field('first') };
  if (lineOf(m) !== line) throw new Skip('takes up only plain positions of a single game');
  return m;
}

// play changes the match and returns the effects, or says why not.
function play(m, event) {
  if (event === 'replay') return { effects: ['replay'] };
  if (event !== 'A' && event !== 'B') {
    if (/^[A-Z]$/.test(event)) return { refused: 'malformed' };
    throw new Skip(`does not play ${event}`);
  }
  const winner = 'AB'.indexOf(event);
  if (winner !== m.side) {
    m.side = winner;
    return { effects: ['side-out'] };
  }
  if (m.score[winner] >= 10 || m.score[winner] === 5) throw new Skip('knows no end change and no end of a game');
  m.score[winner]++;
  return { effects: ['point'] };
}

function lineOf(m) {
  const [server, receiver] = m.side === 0 ? ['A1', 'B1'] : ['B1', 'A1'];
  const even = m.score[m.side] % 2 === 0;
  const place = even ? '1-' : '-1';
  return `L2 game=1 won=0:0 score=${m.score.join('-')} opens=0:0 serve=${server}@${even ? 'R' : 'L'}#- receive=${receiver} ` +
    `A=${place} B=${place} first=${m.first} start=A1B1 ends=0 due=- phase=play result=- break=- timeouts=0:0 ${LEDGER}`;
}

const callOf = (m) => `${m.score[m.side]}-${m.score[1 - m.side]}`;

// ---- the protocol: nothing below knows about scoring --------------------

function answer(q) {
  switch (q.cmd) {
    case 'start':
      if (q.version !== 1) throw new Error('speaks version 1 of the protocol');
      return { version: 1, engine: { name: 'skeleton', version: '0.1', language: 'JavaScript' }, commands: ['case'] };
    case 'profile': {
      const formats = q.formats.filter((id) => q.profile === 'plumbing' && id.startsWith('sideout-singles-11@'));
      if (formats.length === 0) throw new Skip('not played');
      return { formats };
    }
    case 'case': {
      const m = begin(q.start);
      const answers = [{ line: lineOf(m), call: callOf(m), effects: [] }];
      for (const event of q.events) {
        const did = play(m, event);
        answers.push({ line: lineOf(m), call: callOf(m), effects: did.effects || [], ...(did.refused && { refused: did.refused }) });
      }
      return { answers };
    }
    case 'stop':
      return {};
  }
  throw new Error(`unknown command ${q.cmd}`);
}

require('node:readline').createInterface({ input: process.stdin }).on('line', (text) => {
  let seq = 0, reply;
  try {
    const q = JSON.parse(text);
    seq = q.seq;
    reply = { seq, result: answer(q) };
  } catch (e) {
    reply = e instanceof Skip ? { seq, skipped: { reason: e.message } } : { seq, errored: { message: String(e.message) } };
  }
  process.stdout.write(`${JSON.stringify(reply)}\n`);
});
