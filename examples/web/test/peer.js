// The package over the protocol of the corpus, for checkengine: "node test/peer.js" plays everything, "node test/peer.js small"
// the small part as it is published, which skips what it has not; where a case starts from a line, the whole reads that for it.
import {createHash} from 'node:crypto';
import {createInterface} from 'node:readline';
import * as whole from '../whole.js';

const small = process.argv[2] === 'small', {match, compile, Match} = small ? await import('../dist/index.js') : whole;

const claimed = ['small', 'small-log', 'plumbing', 'sideout-singles', 'sideout-doubles', 'rally-2025', 'rally-2026', 'fixed-courts', 'half-court', 'time-outs'];

class Skip extends Error {}

// Where the protocol names starting servers, opening the game is entry 1 of the log.
function begin({format, start: {servers, ...start}}) {
  try {
    const m = start.from ? new Match(compile(format), whole.match(format, start).state) : match(format, start), {refused} = servers ? m.do('g' + (servers.startsWith(start.first) ? servers : servers.slice(2) + servers.slice(0, 2))) : {};
    if (refused) throw new RangeError(`the game cannot be opened: ${refused}`);
    return m;
  } catch (error) {
    if (error.refused === 'skipped') throw new Skip('starts from a line');
    throw error;
  }
}

function plays(format) {
  try {
    compile(format);
    return true;
  } catch {
    return false;
  }
}

const commands = {
  start: () => ({version: 1, engine: {name: small ? 'evencourt small' : 'evencourt', version: '0.1.0', language: 'JavaScript'},
    commands: small ? ['case', 'line', 'tree'] : ['case', 'result', 'line', 'tree']}),
  profile({profile, formats}) {
    if (small && !claimed.includes(profile)) throw new Skip('not in the small part');
    return {formats: formats.filter(plays)};
  },
  case(request) {
    const m = begin(request), answer = more => ({line: m.line(), call: m.call(), ...more});
    return {answers: [answer({effects: []}), ...request.events.map(event => {
      const {effects, refused} = m.do(event);
      if (refused === 'skipped') throw new Skip('not in the small part: ' + event);
      return answer(refused ? {effects, refused} : {effects});
    })]};
  },
  result(request) {
    const m = begin(request);
    for (const event of request.events) m.do(event);
    const {winner, games} = m.result();
    return {winner: winner || '-', games: games.map(g => g.score.join('-'))};
  },
  line(request) {
    const m = begin(request), events = request.events || [];
    for (const [i, event] of events.entries()) {
      const {refused} = m.do(event);
      if (refused) return {refused, at: i + 1};
    }
    return {line: m.line()};
  },
  tree(request) {
    const m = begin(request);
    for (const event of request.events || []) m.do(event);
    const {state, rules} = m, known = new Map(), sha = text => createHash('sha256').update(text).digest('hex');
    const digest = (s, d) => {
      const line = rules.line(s), key = d + line;
      if (!known.has(key)) {
        known.set(key, sha(line + '\n' + (d === 0 ? '' : request.alphabet.map(e => {
          const {state, refused} = rules.apply(s, e);
          return `${e} ${refused ? '!' : digest(state, d - 1)}\n`;
        }).join(''))));
      }
      return known.get(key);
    };
    return {digest: digest(state, request.depth || 0)};
  },
  stop: () => ({}),
};

for await (const text of createInterface({input: process.stdin})) {
  const request = JSON.parse(text), {seq} = request;
  let reply;
  try {
    reply = {seq, result: commands[request.cmd](request)};
  } catch (error) {
    reply = error instanceof Skip ? {seq, skipped: {reason: error.message}} : {seq, errored: {message: String(error.stack || error).slice(0, 400)}};
  }
  process.stdout.write(JSON.stringify(reply) + '\n');
  if (request.cmd === 'stop') break;
}
