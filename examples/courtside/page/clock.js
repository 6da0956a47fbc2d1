// The time of a match in milliseconds since it began. It never goes back, whatever is done to the clock of the phone, and goes on
// while the phone sleeps or the page is closed.
const SLACK = 2000; // milliseconds that two clocks may differ without anybody having set one

export class Clock {
  /** began: the moment of the match, in milliseconds since 1970; last: the time of its last entry. */
  constructor(began, last, wall = () => Date.now(), steady = () => performance.now()) {
    Object.assign(this, {wall, steady, back: false});
    const since = wall() - began;
    this.back = since < last - SLACK;
    this.base = Math.max(since, last); // match time at the moment when both clocks were read
    this.wall0 = wall();
    this.steady0 = steady();
  }

  /** Returns the time now. That of the day counts, which goes on in sleep, unless it was set back meanwhile. */
  now() {
    const ran = this.steady() - this.steady0, day = this.wall() - this.wall0;
    if (day < ran - SLACK) {
      this.back = true;
      this.base += ran;
      this.wall0 = this.wall();
      this.steady0 = this.steady();
      return Math.round(this.base);
    }
    return Math.round(this.base + Math.max(ran, day));
  }

  /** Reports, once, that the clock of the phone was set back. */
  wasSetBack() {
    const back = this.back;
    this.back = false;
    return back;
  }
}
