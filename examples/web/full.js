// What the pack leaves out, from the library itself: words, duties, refusals in sentences, entry by questions, and the check of
// reported results. Two builds, each loaded when it is asked for: open(bytes) takes words.wasm or audit.wasm as bytes, with Go's
// wasm_exec.js loaded before.

/** Starts a build and returns what asks it: an operation and its arguments, answered by lines. */
async function start(bytes) {
  const go = new globalThis.Go(), {instance} = await WebAssembly.instantiate(bytes, go.importObject);
  go.run(instance);
  const {mem, space, room, ask} = instance.exports;
  return (...request) => {
    const at = space(), text = new TextEncoder().encode(request.join('\n'));
    if (text.length > room()) throw new RangeError('evencourt: the request is too long');
    new Uint8Array(mem.buffer, at, text.length).set(text);
    const length = ask(text.length); // memory may grow meanwhile
    const answer = new TextDecoder().decode(new Uint8Array(mem.buffer, at, length));
    if (answer.startsWith('!')) throw new Error('evencourt: ' + answer.slice(1));
    return answer ? answer.split('\n') : [];
  };
}

/** Begins a match in words: bytes are words.wasm. A build holds one match. */
export async function words(bytes, format, {first = '-'} = {}) {
  const ask = await start(bytes);
  ask('begin', format, first);
  return {
    do: entry => ask('do', entry), // what happened, a sentence each; throws for what is refused
    call: () => ask('call')[0],
    server: () => ask('server')[0], // why this player serves
    line: () => ask('line')[0],
    duties: () => ask('duties'), // what to do and say now, help first
    event: text => ask('event', text)[0],
    refusal: text => ask('refusal', text), // nothing where the event would be taken
    /** Entry by questions: topic is wrong, medical, penalty or correct. */
    guided(topic, ...answers) {
      const [state, first, ...rest] = ask('guided', topic, ...answers);
      if (state === 'done') return {done: true, entry: first, changes: rest};
      return {done: false, question: first, replies: rest.map(line => ({key: line.split('\t')[0], text: line.split('\t')[1]}))};
    },
  };
}

/** Returns what checks a reported result, given as in the lines that the library reads: bytes are audit.wasm. */
export async function audit(bytes) {
  const ask = await start(bytes);
  return result => ask(JSON.stringify(result)).map(line => ({code: line.split('\t')[0], text: line.split('\t')[1]}));
}
