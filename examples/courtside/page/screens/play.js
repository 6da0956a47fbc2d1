// The match: the call in the largest print, the court, what is open, and two buttons as large as the screen allows.
import {h, button, dialog, pressed, put} from '../dom.js';
import {t} from '../text.js';
import {settings} from '../settings.js';
import * as desk from '../desk/desk.js';
import * as store from '../store.js';
import * as notice from '../notice.js';
import {Sitting, sideName, shortName, nameOf} from '../sitting.js';
import {court} from '../court.js';
import {Clocked, Ten} from '../countdown.js';
import {more, sure} from '../more.js';
import {connect} from '../board.js';
import {SCORE, WON, PHASE, USED, ENDS, DUE, BREAK, BEFORE, PLAY, BETWEEN, OVER, CLOSED} from '../../../web/core.js';

export async function play([id], {say, alarm}) {
  let sitting;
  try {
    sitting = await Sitting.resume(id);
  } catch {
    return {element: [h('h1', {tabindex: -1}, t('courtside.gone')), h('a', {class: 'door', href: '#home'}, t('courtside.back'))]};
  }
  if (sitting.id !== id) history.replaceState(null, '', `#match/${sitting.id}`);
  const problems = sitting.problems || JSON.parse(sessionStorage.getItem('problems ' + sitting.id) || 'null');
  const screen = new Play(sitting, say, alarm);
  if (problems) screen.tell(t('courtside.damaged', {line: problems[0].line}));
  screen.draw();
  desk.whenLoaded(is => is && screen.follow());
  const listener = what => screen.after(what);
  sitting.listeners.add(listener);
  screen.board = connect(sitting, text => screen.tell(text));
  // The browser lets the screen go dark again when another program was looked at.
  let lock;
  const awake = () => { if (document.visibilityState === 'visible') lock = navigator.wakeLock?.request('screen').catch(() => {}); };
  awake();
  document.addEventListener('visibilitychange', awake);
  return {title: sideName(sitting.setup, 'A', screen.doubles), element: screen.parts, leave: () => {
    screen.left = true;
    sitting.listeners.delete(listener);
    sitting.close();
    screen.countdown.stop();
    screen.ten.stop();
    screen.board.stop();
    document.removeEventListener('visibilitychange', awake);
    lock?.then(l => l?.release());
  }};
}

class Play {
  constructor(sitting, say, alarm) {
    Object.assign(this, {sitting, say, alarm, words: undefined, follower: new desk.Follower()});
    this.doubles = sitting.engine.rules.doubles;
    const part = (tag, name, more = {}) => this[name] = h(tag, {class: name, ...more});
    this.countdown = new Clocked(sitting, text => alarm(text));
    this.ten = new Ten(text => alarm(text));
    this.parts = [
      h('header', {class: 'top'}, h('a', {class: 'back', href: '#home'}, t('courtside.matches')), part('h1', 'title', {tabindex: -1}),
        button(t('courtside.record'), () => { location.hash = `#papers/${sitting.id}`; }, {class: 'quiet'})),
      part('p', 'trouble', {role: 'alert'}),
      part('div', 'call'),
      this.countdown.element,
      part('p', 'did'),
      part('div', 'middle'),
      part('div', 'open'),
      this.dock = h('div', {class: 'dock'}, part('div', 'rally'), part('div', 'ending'), part('nav', 'always', {'aria-label': t('courtside.always')})),
    ];
  }

  side(side, name = nameOf) { return sideName(this.sitting.setup, side, this.doubles, name); }

  /** Says something that stays until the next entry. */
  tell(text) {
    this.told = text;
    this.drawTrouble();
  }

  async enter(text) {
    this.told = '';
    const answer = await this.sitting.enter(text);
    if (answer.refused === 'taken') this.tell(t('courtside.taken'));
    else if (answer.refused) {
      const {rows} = desk.loaded ? await this.ask('refusal', text) : {rows: []};
      this.tell([t('courtside.refused'), ...rows.filter(r => r[0] === 'did').map(r => r[1])].join(' '));
    }
    this.draw();
    return answer;
  }

  // After an entry: it is drawn at once, and in words when the library has them.
  after({entry, elsewhere}) {
    this.ten.stop();
    this.news = '';
    scrollTo(0, 0);
    if (this.sitting.clock.wasSetBack()) this.told = t('courtside.set-back');
    if (elsewhere) this.told = t('courtside.elsewhere');
    this.draw();
    this.note();
    this.board?.changed();
    if (desk.loaded) this.follow(entry !== undefined);
    else this.say(this.sitting.engine.call());
  }

  /** Asks something about this match: the library is told first what it does not know yet. */
  ask(...request) {
    return desk.inTurn(async () => (await this.follower.follow(this.sitting)).agrees ? desk.ask(...request) : {rows: [], error: 'disagrees'});
  }

  /** Tells the library what it does not know yet, and takes over what it says. */
  follow(aloud) { return desk.inTurn(() => this.left || this.catchUp(aloud)); }

  async catchUp(aloud) {
    const {agrees, line, last} = await this.follower.follow(this.sitting);
    if (!agrees) return this.tell(t('courtside.disagree'));
    const of = name => last.filter(r => r[0] === name).map(r => r[1]);
    this.news = of('did').join(' ');
    this.result = of('result')[0] || '';
    await this.now(line, aloud);
  }

  // What the library says of the line that it has been told, be there another by now or not.
  async now(line, aloud) {
    const {rows, error} = await desk.ask('now', this.sitting.clock.now());
    if (error || this.left) return;
    const of = name => rows.filter(r => r[0] === name).map(r => r.slice(1));
    this.words = {call: of('call')[0]?.[0], server: of('server')[0]?.[0], reminders: of('reminder'), duties: of('duty').map(d => d[0]), help: of('help')[0]?.[0],
      undo: of('undo')[0]?.[0], redo: of('redo')[0]?.[0], outcome: of('outcome')[0]?.[0], line};
    this.countdown.set(of('clock')[0]);
    if (aloud) {
      const spoken = [this.result, this.words.call || this.words.outcome].filter(Boolean).join('. ');
      this.say([spoken, this.news].filter(Boolean).join('. '));
      notice.speak(spoken);
    }
    this.draw();
  }

  // What the list of matches shows.
  note() {
    const s = this.sitting.engine.state;
    store.match(this.sitting.id).then(m => m && store.note({...m, score: `${s[WON]}:${s[WON + 1]} · ${s[SCORE]}-${s[SCORE + 1]}`, over: s[PHASE] >= OVER})).catch(() => {});
  }

  draw() {
    if (this.left || this.sitting.making) return; // it is drawn when the entry is safe
    const {do: entry, value} = document.activeElement?.dataset || {}, focused = entry ? `[data-do="${entry}"]` : value && `[data-value="${value}"]`;
    const {engine} = this.sitting, s = engine.state, fresh = this.words?.line === engine.line() ? this.words : undefined;
    document.getElementById('screen').dataset.phase = {[BEFORE]: 'before', [PLAY]: 'play', [BETWEEN]: 'between'}[s[PHASE]] || 'over';
    document.getElementById('screen').dataset.care = s[BREAK] > 1 || fresh?.help ? 'first' : '';
    const of = engine.rules.match.games, n = Math.max(1, s[0]);
    this.title.textContent = of > 1 ? t('courtside.game-of', {n, of}) : t('courtside.game', {n});
    this.drawTrouble();
    put(this.call, ...s[PHASE] === BEFORE ? [] : [h('strong', {}, engine.call() || `${s[SCORE]}-${s[SCORE + 1]}`)], ...fresh?.call ? [h('span', {}, fresh.call)] : s[PHASE] > PLAY ? [h('span', {}, `${this.side('A', shortName)} – ${this.side('B', shortName)}`)] : []);
    this.drawMiddle(s, fresh);
    this.drawOpen(s, fresh);
    this.drawRally(s);
    this.drawAlways(s, fresh);
    const {dataset} = document.getElementById('screen');
    dataset.entries = this.sitting.lines.length - 1;
    dataset.told = fresh ? dataset.entries : ''; // all of it in words too
    // Of large letters on a small glass the buttons would cover everything else.
    this.dock.classList.remove('loose');
    this.dock.classList.toggle('loose', this.dock.offsetHeight > innerHeight * 0.65);
    if (focused) this.parts.flatMap(p => [...p.querySelectorAll(focused)]).find(b => !b.disabled)?.focus();
  }

  drawTrouble() {
    const {trouble} = this.sitting;
    put(this.trouble, ...[trouble && t(`courtside.trouble-${trouble}`), this.told].filter(Boolean).map(text => h('span', {}, text + ' ')),
      ...trouble && trouble !== 'taken' ? [button(t('courtside.try-again'), () => this.sitting.save().then(() => this.draw())), button(t('courtside.share'), () => { location.hash = `#papers/${this.sitting.id}`; })] : []);
  }

  drawMiddle(s, fresh) {
    const {engine} = this.sitting;
    this.opens = undefined;
    if (s[PHASE] === PLAY) return put(this.middle, court(this.sitting), ...fresh?.server ? [h('details', {class: 'why', open: this.why, toggle: e => { this.why = e.target.open; }}, h('summary', {}, t('courtside.why')), h('p', {}, fresh.server))] : []);
    if (s[PHASE] === BEFORE || s[PHASE] === BETWEEN) return put(this.middle, this.opening(s));
    const {winner} = engine.result();
    put(this.middle, h('h2', {}, fresh?.outcome || (winner ? t('courtside.won', {side: this.side(winner)}) : t('courtside.over'))),
      h('table', {class: 'final'}, h('thead', {}, h('tr', {}, h('td'), engine.result().games.map((_, i) => h('th', {scope: 'col'}, t('courtside.game', {n: i + 1}))))),
        h('tbody', {}, ['A', 'B'].map((side, s) => h('tr', {}, h('th', {scope: 'row'}, this.side(side, shortName)), engine.result().games.map(({score}) => h('td', {}, String(score[s]))))))),
      h('a', {class: 'door', href: `#papers/${this.sitting.id}`}, t('courtside.record')));
  }

  // What a game needs before its first call: who serves first, and the starting servers.
  opening(s) {
    const {engine} = this.sitting, allowed = engine.allowed(), choices = allowed.filter(e => e.startsWith('fc')), starts = allowed.filter(e => /^g[AB]\d/.test(e));
    const box = h('div', {class: 'opening'});
    if (s[PHASE] === BEFORE) { // who chose an end says which
      box.append(h('p', {class: 'label'}, t('courtside.left')), pressed(t('courtside.left'), ['A', 'B'].map(side => [side, this.side(side, shortName)]), this.sitting.setup.left,
        left => this.sitting.name({...this.sitting.setup, left})));
    }
    if (choices.length) {
      box.append(h('h2', {}, t('courtside.choice')));
      for (const side of ['A', 'B']) {
        box.append(h('div', {class: 'answers four', role: 'group', 'aria-label': this.side(side)}, h('p', {class: 'label'}, this.side(side)),
          choices.filter(e => e[2] === side).map(e => this.entering(e, t(`courtside.choose-${e.slice(4)}`)))));
      }
    }
    if (starts.length && !choices.length) { // nobody opens a game before the choice
      const first = starts[0][1], other = first === 'A' ? 'B' : 'A', chosen = this.starters ||= {A: 'A1', B: 'B1'};
      if (!this.words) box.append(h('h2', {}, t('courtside.starts', {side: this.side(first)}))); // else a reminder says it
      if (this.doubles) {
        for (const side of [first, other]) {
          box.append(h('div', {class: 'answers two', role: 'group', 'aria-label': t('courtside.starter', {side: this.side(side)})}, h('p', {class: 'label'}, t('courtside.starter', {side: this.side(side, shortName)})),
            [1, 2].map(n => button(nameOf(this.sitting.setup, side + n), () => { chosen[side] = side + n; this.draw(); }, {'aria-pressed': String(chosen[side] === side + n), 'data-do': 'start ' + side + n, class: 'side ' + side}))));
        }
      }
      this.opens = [`g${chosen[first]}${chosen[other]}`, t('courtside.open-game', {n: s[0] + 1})];
    }
    return box;
  }

  entering(entry, label, name = '', make = () => this.enter(entry)) { return button(label, make, {class: name, 'data-do': entry}); }

  drawOpen(s, fresh) {
    const {engine} = this.sitting, list = [];
    if (fresh) {
      for (const [text, ...settles] of fresh.reminders) {
        const answers = [];
        for (let i = 0; i < settles.length && i < 6; i += 2) if (!/^(g[AB]|fc|(in|dealt|ends)$)/.test(settles[i])) answers.push(this.entering(settles[i], settles[i + 1], '', () => sure(this, settles[i])));
        list.push(h('li', {}, h('span', {}, text), answers));
      }
    } else {
      if (s[DUE]) list.push(h('li', {}, t('courtside.ends-due')));
      if (s[PHASE] === OVER) list.push(h('li', {}, this.entering('sheet', t('courtside.sheet'), '', () => sure(this, 'sheet'))));
    }
    put(this.did, !fresh?.help && this.news || ''); // where help is to be called, that is what is said
    const duties = fresh && s[PHASE] !== PLAY ? fresh.duties : fresh && (s[BREAK] || s[DUE]) ? fresh.duties : [];
    put(this.open, ...fresh?.help ? [h('p', {class: 'help'}, fresh.help)] : [], ...list.length ? [h('ul', {'aria-label': t('courtside.still-open')}, list)] : [],
      ...duties.length ? [h('details', {open: s[BREAK] > 0}, h('summary', {}, t('courtside.duties')), h('ol', {}, duties.map(d => h('li', {}, d))))] : []);
  }

  // The buttons that are always there are changed, never replaced: a finger may be on one.
  drawRally(s) {
    const {engine, setup} = this.sitting, allowed = new Set(engine.allowed()), [a] = engine.view(setup.left).hands;
    this.wins ||= Object.fromEntries(['A', 'B'].map(side => [side, button([h('b'), h('span', {class: 'points'}), h('small'), h('small')], () => this.enter(this.wins[side].dataset.do), {class: 'win ' + side})]));
    for (const side of ['A', 'B']) {
      const b = this.wins[side], absent = `${side}:absent`, due = allowed.has(absent) && !allowed.has(side);
      b.dataset.do = due ? absent : side;
      b.disabled = !allowed.has(b.dataset.do);
      const won = s[WON + (side === 'B')];
      [this.side(side, shortName), s[SCORE + (side === 'B')], t(due ? 'courtside.absent' : 'courtside.wins'), won ? t('courtside.games-won', {n: won}) : ''].forEach((text, i) => { b.children[i].textContent = text; });
    }
    const order = a === 'left' ? [this.wins.A, this.wins.B] : [this.wins.B, this.wins.A];
    if (this.rally.firstChild !== order[0]) this.rally.replaceChildren(...order);
    // While there is no rally to be won one button stands in their place: what ends the break, or opens the game. One for ends that
    // are due stands over them, since that stops no rally.
    const end = s[DUE] && s[BREAK] < 2 && allowed.has('ends') ? [['ends', t('courtside.ends')]] : [], instead = s[BREAK] ? ['in', 'dealt'].filter(e => allowed.has(e)).map(e => [e, t(`courtside.${e}`)]) : s[PHASE] !== PLAY && this.opens ? [this.opens] : [];
    put(this.ending, ...[...instead, ...end].map(([e, text]) => this.entering(e, text, 'door main')));
    this.rally.hidden = s[PHASE] !== PLAY || instead.length > 0 || !allowed.has(this.wins.A.dataset.do) && !allowed.has(this.wins.B.dataset.do);
  }

  drawAlways(s, fresh) {
    const {engine} = this.sitting, allowed = engine.allowed(), out = side => allowed.includes('t' + side);
    if (!this.undoing) {
      this.undoing = button([h('b', {}, t('courtside.undo')), h('small')], () => this.enter('undo'), {class: 'undo', 'data-do': 'undo'});
      this.timing = button(t('courtside.time-out'), () => this.timeOut(), {'data-do': 'time-out'});
      this.always.replaceChildren(this.undoing, this.timing, this.ten.element, button(t('courtside.more'), () => more(this), {'data-do': 'more'}));
    }
    this.undoing.disabled = !engine.undoable();
    const last = engine.undoable() && engine.entries[engine.undoable() - 1].text;
    this.undoing.lastChild.textContent = /^(stop|[AB])\?/.test(last) ? t('courtside.topic-wrong') : /^[AB]$/.test(last) ? `${this.side(last, shortName)} ${t('courtside.wins')}` : fresh?.undo || '';
    this.timing.disabled = s[PHASE] !== PLAY && !out('A') && !out('B');
    this.ten.element.disabled = s[PHASE] !== PLAY || s[BREAK] > 0;
  }

  timeOutsLeft(side) {
    const {engine} = this.sitting, s = engine.state;
    return engine.rules.coming(s).timeOuts - (s[USED + (side === 'B')] || 0);
  }

  timeOut() {
    const left = side => this.timeOutsLeft(side); // asked for with none left: the refusal says what to do
    const d = dialog(t('courtside.time-out'), this.sitting.engine.state[BREAK] ? h('p', {class: 'trouble'}, t('courtside.stopped-already')) : [], h('div', {class: 'answers'}, ['A', 'B'].map(side => button(t('courtside.time-out-of', {side: this.side(side), n: left(side)}),
      () => { d.close(); this.enter('t' + side); }, {class: 'side ' + side})), button(t('courtside.leave'), () => d.close(), {class: 'quiet'})));
  }
}
