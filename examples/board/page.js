// Draws what comes from /live, and sends what is tapped where the address holds a secret.
"use strict";
const [, , number, secret] = location.pathname.split("/");
const at = (id) => document.getElementById(id);
const words = {};
let board = null, came = 0;
const word = (family, code) => words[family + "." + code] || code;
const add = (to, tag, text, name) => {
  const e = to.appendChild(document.createElement(tag));
  e.textContent = text;
  if (name) e.className = name;
  return e;
};

const live = new EventSource("/live/" + number);
live.addEventListener("words", (e) => { Object.assign(words, JSON.parse(e.data)); document.documentElement.lang = words.lang; });
live.addEventListener("board", (e) => { board = JSON.parse(e.data); came = performance.now(); draw(); });

function draw() {
  at("match").textContent = board.setup.match || "";
  at("court").textContent = board.setup.court || number;
  document.title = board.score.join("-");
  document.querySelector("main").classList.toggle("turned", board.view.hands[0] === "right");
  ["A", "B"].forEach((side, i) => {
    const box = at(side), head = box.querySelector("h1");
    box.classList.toggle("serves", board.serving === side);
    head.textContent = "";
    board.setup.sides[i].players.forEach((p, j) => {
      if (j > 0 && !board.doubles) return;
      const id = side + (j + 1), line = add(head, "span", p.name || id, board.server === id ? "server" : "");
      if (p.mark) add(line, "mark", " " + p.mark);
    });
    box.querySelector("output").textContent = board.score[i];
    box.querySelector("p").textContent = "▮".repeat(board.won[i]) + " " + "○".repeat(board.time_outs[i].left);
  });
  at("call").textContent = board.call;
  // Help comes first, clocks last.
  const care = ["m", "blood", "illness"].includes(board.break) || board.medical.includes("requested") || board.absent.includes("concussed");
  at("help").textContent = care ? words.help : "";
  const say = [word("phase", board.phase)];
  if (board.phase === "play") say.splice(0, 1);
  if (board.result !== "-") say.unshift(word("effect", board.result));
  if (board.break !== "-") say.push(word("break", board.break));
  if (board.ends_due) say.push(word("event", "ends"));
  at("state").textContent = say.join(" · ");
  at("finals").textContent = board.finals.map((g) => g.score.join("-")).join("  ");
  tick();
  if (secret) buttons();
}

// The clock goes on between two boards.
function tick() {
  const c = board && board.clock, p = at("clock");
  p.hidden = !c || !c.limit;
  if (p.hidden) return;
  const left = Math.ceil((c.remaining - (performance.now() - came)) / 1000), s = Math.abs(left);
  p.classList.toggle("over", left < 0);
  p.textContent = word("interval", c.interval) + " " + (left < 0 ? "−" : "") + Math.floor(s / 60) + ":" + String(s % 60).padStart(2, "0");
}
setInterval(tick, 250);

function buttons() {
  const nav = at("buttons"), kept = document.activeElement && document.activeElement.dataset.do;
  nav.hidden = false;
  nav.textContent = "";
  const button = (what, label, why) => {
    const b = add(nav, "button", label, what === "A" || what === "B" ? "rally" : "");
    b.dataset.do = what;
    b.disabled = why !== "";
    b.title = why;
    b.onclick = () => enter(what);
    if (what === kept) b.focus();
  };
  const rallies = board.allowed.filter((e) => e === "A" || e === "B");
  for (const e of rallies) button(e, word("event", e), "");
  for (const what of ["undo", "redo"]) {
    if (board[what]) button(what, word("kind", what) + ": " + (words[what] || board[what]), "");
  }
  for (const e of board.allowed) if (!rallies.includes(e)) button(e, word("event", e), "");
  // What is short of its moment shows why; what never comes in this phase is left out.
  for (const r of board.refused) {
    if (r.why === "none-left" || r.why === "second-verbal" || r.why === "medical-used") button(r.event, word("event", r.event), word("refusal", r.why));
  }
}

// Sent until there is an answer, under one name: it is taken once.
async function enter(what) {
  const body = JSON.stringify({ id: crypto.randomUUID ? crypto.randomUUID() : String(Date.now()) + Math.random(), n: board.entries + 1, do: what });
  for (let wait = 250; ; wait = Math.min(2 * wait, 8000)) {
    try {
      const r = await fetch(location.pathname, { method: "POST", body, headers: { "Content-Type": "application/json" } });
      at("answer").textContent = r.ok ? "" : (await r.json()).error || "";
      if (r.status !== 429) return;
    } catch (e) {
      at("answer").textContent = "…";
    }
    await new Promise((done) => setTimeout(done, wait));
  }
}
