// Runs the library beside the page, so that a tap never waits for it. A message is {id, request}, a list of texts; the answer
// {id, rows} or {id, error}.
import 'wasm_exec';

const ready = (async () => {
  const go = new globalThis.Go(), source = await fetch('desk.wasm');
  if (!source.ok) throw new Error(`desk.wasm: ${source.status}`);
  const {instance} = await (source.headers.get('content-type') === 'application/wasm' && !source.redirected
    ? WebAssembly.instantiateStreaming(source, go.importObject) : WebAssembly.instantiate(await source.arrayBuffer(), go.importObject));
  go.run(instance);
  return instance.exports;
})();
ready.then(() => postMessage({ready: true}), error => postMessage({failed: String(error)}));

onmessage = async ({data: {id, request}}) => {
  try {
    const {mem, space, room, ask} = await ready, text = new TextEncoder().encode(request.join('\n'));
    if (text.length > room()) throw new RangeError('the request is too long');
    const at = space();
    new Uint8Array(mem.buffer, at, text.length).set(text);
    const length = ask(text.length); // memory may grow meanwhile
    const answer = new TextDecoder().decode(new Uint8Array(mem.buffer, at, length));
    const rows = answer ? answer.split('\n').map(line => line.split('\t')) : [];
    postMessage({id, rows, error: answer.startsWith('!') ? answer.split('\n')[0].slice(1) : undefined});
  } catch (error) {
    postMessage({id, rows: [], error: String(error)});
  }
};
