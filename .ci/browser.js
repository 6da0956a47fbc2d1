// Runs the browser build of .ci/size and plain JavaScript over the same million
// rallies of side-out doubles to 11: they must agree on every one, and a rally
// through the exported function should cost at most five times as much (ten
// fails: other work on the machine moves the figure).
"use strict";

const fs = require("fs");
const [support, program] = process.argv.slice(2);
require(support);

const RALLIES = 1e6;

// random returns the same winners each time.
function random() {
  let x = 1;
  return () => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return x & 1;
  };
}

// plain is the rally in JavaScript: "point" 0, "second server" 1, "side out" 2,
// "match" 3.
function plain() {
  let score = [0, 0];
  let serving = 0;
  let number = 2;
  return (winner) => {
    if (winner !== serving) {
      if (number === 1) {
        number = 2;
        return 1;
      }
      number = 1;
      serving = winner;
      return 2;
    }
    score[winner]++;
    if (score[winner] < 11 || score[winner] - score[1 - winner] < 2) return 0;
    score = [0, 0];
    serving = 0;
    number = 2;
    return 3;
  };
}

// least returns the least nanoseconds a rally of each, in passes that take turns;
// on a busy machine more passes are made until the ratio is as it should be.
function least(...steps) {
  const best = steps.map(() => Infinity);
  for (let round = 0; round < 5 || (round < 50 && best[1] > 5 * best[0]); round++) {
    steps.forEach((step, k) => {
      const next = random();
      const begun = process.hrtime.bigint();
      for (let i = 0; i < RALLIES; i++) step(next());
      best[k] = Math.min(best[k], Number(process.hrtime.bigint() - begun) / RALLIES);
    });
  }
  return best;
}

async function main() {
  const go = new Go();
  const { instance } = await WebAssembly.instantiate(fs.readFileSync(program), go.importObject);
  go.run(instance);
  const { begin, won, space, mem } = instance.exports;
  const id = Buffer.from("sideout-doubles-11");
  new Uint8Array(mem.buffer).set(id, space());
  if (begin(space(), id.length) !== 0) throw new Error("the format is not known");

  const expect = plain();
  const next = random();
  const results = new Map(); // the engine's code of each result, learnt once
  for (let i = 0; i < RALLIES; i++) {
    const winner = next();
    const want = expect(winner);
    const got = won(winner);
    if (!results.has(want)) results.set(want, got);
    if (got < 0 || results.get(want) !== got) throw new Error(`rally ${i + 1}: ${got}, want ${results.get(want)}`);
  }
  if (new Set(results.values()).size !== 4) throw new Error("results are not told apart");

  const [js, wasm] = least(plain(), won);
  console.log(`a rally: ${js.toFixed(1)} ns in plain JavaScript, ${wasm.toFixed(1)} ns through the browser build: ${(wasm / js).toFixed(1)}x`);
  process.exit(wasm / js <= 10 ? 0 : 1);
}

main().catch((err) => {
  console.error(err.message);
  process.exit(1);
});
