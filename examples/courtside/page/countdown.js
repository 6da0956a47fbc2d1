// Clocks with their notices: the one that is running, and the ten seconds for the serve once the score is called.
import {h, button, upper} from './dom.js';
import {t} from './text.js';
import * as notice from './notice.js';

export class Clocked {
  constructor(sitting, alarm) {
    Object.assign(this, {sitting, alarm, name: h('small'), time: h('span'), element: h('p', {class: 'clock', hidden: true, role: 'timer'})});
    this.element.append(this.name, ' ', this.time);
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
    this.name.textContent = upper(c.name);
    this.time.textContent = `${left < 0 ? '−' : ''}${Math.floor(s / 60)}:${String(s % 60).padStart(2, '0')}`;
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

const TEN = 10; // seconds from the call to the serve, in every edition: clause ten-seconds

/** A button that counts the ten seconds: it is tapped when the score is called, and again to begin anew. */
export class Ten {
  constructor(alarm) {
    Object.assign(this, {alarm, element: button('', () => this.start(), {class: 'ten', 'data-do': 'ten', 'aria-label': t('courtside.ten')})});
    this.stop();
  }

  start() {
    this.stop();
    const end = performance.now() + TEN * 1000, show = () => {
      const left = Math.max(0, Math.ceil((end - performance.now()) / 1000));
      this.element.textContent = left;
      if (left) return;
      clearInterval(this.timer);
      this.element.classList.add('over');
      notice.ring(2);
      this.alarm(t('courtside.ten-over'));
    };
    this.element.classList.add('counts');
    this.timer = setInterval(show, 250);
    show();
  }

  /** The serve was struck, or is not waited for. */
  stop() {
    clearInterval(this.timer);
    this.element.classList.remove('counts', 'over');
    this.element.textContent = t('courtside.ten-short');
  }
}
