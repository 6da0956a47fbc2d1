// A match at hand: the rules, the record and the clock in one. An entry is answered when it is safe on the phone; where the phone
// cannot keep it, the match goes on and says so until it can.
import {match as begin} from '../../web/whole.js';
import {Clock} from './clock.js';
import * as store from './store.js';
import * as record from './record.js';

/** The moment with the offset of the place, as records have it. */
export function moment(ms) {
  const d = new Date(ms), off = -d.getTimezoneOffset(), two = n => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  return `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}T${two(d.getHours())}:${two(d.getMinutes())}:${two(d.getSeconds())}` +
    (off ? `${off < 0 ? '-' : '+'}${two(off / 60)}:${two(off % 60)}` : 'Z');
}

/** A name for a match that no other phone gives. */
export const fresh = () => Date.now().toString(36) + [...crypto.getRandomValues(new Uint8Array(8))].map(n => n.toString(36).padStart(2, '0')).join('');

export class Sitting {
  constructor(id, {engine, lines, setup, start, times = []}) {
    Object.assign(this, {id, engine, lines, setup, start, saved: lines.length, trouble: '', listeners: new Set(), queue: Promise.resolve()});
    this.times = times;
    const began = Date.parse(setup.began || '');
    this.clock = new Clock(Number.isNaN(began) ? Date.now() - (times.at(-1) || 0) : began, times.findLast(ms => ms !== undefined) || 0);
    this.channel = globalThis.BroadcastChannel && new BroadcastChannel('courtside');
    this.channel?.unref?.();
    if (this.channel) this.channel.onmessage = e => e.data.id === id && this.refresh();
  }

  /** Begins a match and keeps its header. */
  static async begin(format, setup) {
    const engine = begin(format, {first: setup.first}), now = Date.now();
    const whole = {sides: [{players: [{}, {}]}, {players: [{}, {}]}], left: 'A', ...setup, began: moment(now)};
    return Sitting.keep({engine, setup: whole, lines: [record.header(engine, whole)]});
  }

  /** Takes a record as a new match of this phone. */
  static async keep(read) {
    const s = new Sitting(fresh(), read);
    try {
      await store.create({id: s.id, began: Date.now()}, s.lines);
      store.persist();
    } catch (error) {
      s.saved = 0;
      s.trouble = store.meaning(error);
    }
    return s;
  }

  /** Goes on with a match that is kept. What cannot be read whole is read as far as it goes, under a new name. */
  static async resume(id) {
    const text = (await store.lines(id)).map(line => line + '\n').join('');
    try {
      return new Sitting(id, record.read(text));
    } catch (error) {
      if (!(error instanceof SyntaxError)) throw error;
      const read = record.recover(text), s = await Sitting.keep(read);
      s.problems = read.problems.length ? read.problems : [{line: 1, why: 'damaged'}];
      return s;
    }
  }

  /** The record as text. */
  text() { return this.lines.map(line => line + '\n').join(''); }

  /** Makes an entry, one after the other: what it did, or why it was refused. taken: another tab was there first. */
  enter(text) { return this.queue = this.queue.then(() => this.make(text).finally(() => { this.making = false; })); }

  async make(text) {
    this.making = true; // until it is safe nothing of it is shown
    const known = this.lines.length, answer = this.engine.do(text);
    if (answer.refused) return answer;
    const ms = Math.max(this.clock.now(), this.times.findLast(ms => ms !== undefined) || 0);
    this.lines.push(record.entry(this.engine, text, ms, this.seals()));
    this.times.push(ms);
    if (!await this.save() && this.trouble === 'taken') {
      await this.reload();
      return {effects: [], refused: 'taken', n: this.lines.length - known};
    }
    this.making = false;
    this.changed({entry: text, ms, effects: answer.effects});
    return answer;
  }

  /** The checksum that the next line begins with; undefined in a record without. */
  seals() { return record.sumOf(this.lines.at(-1)); }

  /** The side on the referee's left now. */
  left() { return this.engine.view(this.setup.left).hands[0] === 'left' ? 'A' : 'B'; }

  /** The side that was on his left at the first serve, as a set-up has it, if side is there now. */
  leftAtFirst(side) { return side === this.left() ? this.setup.left : this.setup.left === 'A' ? 'B' : 'A'; }

  /** Supplies or changes names, marks, the side on the left; what is not given goes. */
  name(setup) {
    return this.queue = this.queue.then(async () => {
      const {first, ...rest} = setup;
      this.lines.push(record.seal({setup: rest}, this.seals()));
      this.setup = {...rest, first: this.setup.first};
      if (!await this.save() && this.trouble === 'taken') await this.reload();
      this.changed({});
    });
  }

  /** Writes what is not on the phone yet; returns whether all of it is. */
  async save() {
    try {
      if (this.saved === 0) await store.create({id: this.id, began: Date.now()}, this.lines);
      else await store.append(this.id, this.saved, this.lines.slice(this.saved));
    } catch (error) {
      this.trouble = store.meaning(error);
      return false;
    }
    this.saved = this.lines.length;
    this.trouble = '';
    this.channel?.postMessage({id: this.id});
    return true;
  }

  // Takes over what another tab has written.
  refresh() {
    return this.queue = this.queue.then(async () => {
      if (this.trouble && this.trouble !== 'taken') return;
      const lines = await store.lines(this.id).catch(() => this.lines);
      if (lines.length > this.lines.length) {
        await this.reload();
        this.changed({elsewhere: true});
      }
    });
  }

  async reload() {
    const read = record.read((await store.lines(this.id)).map(line => line + '\n').join(''));
    Object.assign(this, read, {saved: read.lines.length, trouble: ''});
  }

  changed(what) { for (const f of this.listeners) f(what); }

  close() { this.channel?.close(); }
}

/** The name of a player, or his id. */
export const nameOf = (setup, person) => setup.sides['AB'.indexOf(person[0])].players[person[1] - 1]?.name || person;

/** The last word of a name, for a button; the whole where two would be alike. */
export function shortName(setup, person) {
  const last = name => name.split(' ').pop(), own = nameOf(setup, person);
  const alike = ['A1', 'A2', 'B1', 'B2'].filter(p => p !== person && last(nameOf(setup, p)) === last(own));
  return alike.length ? own : last(own);
}

/** The name of a side: its own, else those of its players. */
export function sideName(setup, side, doubles, name = nameOf) {
  const team = setup.sides['AB'.indexOf(side)];
  return team.name || [side + 1, ...doubles ? [side + 2] : []].map(p => name(setup, p)).join(' / ');
}
