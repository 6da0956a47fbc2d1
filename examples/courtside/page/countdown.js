// A clock that is running, with its notices.
import {h} from './dom.js';
import {t} from './text.js';
import * as notice from './notice.js';

export class Clocked {
  constructor(sitting, alarm) {
    Object.assign(this, {sitting, alarm, element: h('p', {class: 'clock', hidden: true, role: 'timer'})});
    this.timer = setInterval(() => this.tick(), 250);
  }

  /** Takes over what the library says: interval, its name, limit, what remains, when the next notice is due. */
  set(clock) {
    const [interval, name, limit, remaining, at] = clock || [];
    this.running = interval && +limit > 0 ? {name, end: this.sitting.clock.now() + +remaining, notice: +at} : undefined;
    if (this.running && +remaining <= 0) this.running.over = true;
    this.element.hidden = !this.running;
    this.tick();
  }

  tick() {
    const c = this.running;
    if (!c) return;
    const now = this.sitting.clock.now(), left = Math.ceil((c.end - now) / 1000), s = Math.abs(left);
    this.element.textContent = `${c.name} ${left < 0 ? '−' : ''}${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
    this.element.classList.toggle('over', left < 0);
    if (c.notice >= 0 && now >= c.notice && !c.over) {
      c.notice = -1;
      notice.ring(1);
      this.alarm(t('courtside.notice', {seconds: s}));
    }
    if (left <= 0 && !c.over) {
      c.over = true;
      notice.ring(2);
      this.alarm(t('courtside.time-over', {name: c.name}));
    }
  }

  stop() { clearInterval(this.timer); }
}
