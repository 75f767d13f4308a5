// The customer's page: one button counts the minutes by the clock, so that a phone that slept, was
// locked or has the page open twice is still right, and rings when the boots come off.
// Everything it says stands on the page; without it nothing is missing.

import { allowSound, ring } from './code_reader.js';
import { fresh } from './offline_send.js';
import { all, isOf, usable } from './offline_store.js';
import { dayAndHour, filled, hour } from './words.js';
import './wear_boots_off.js';
import './wear_push.js';
import './wear_zone.js';

const RINGS = 20;
const LATE_MIN = 3;
const OLD_MS = 1800000;
const FORGOTTEN_MS = 3 * 3600000;   // later than that nobody knows how long they were worn
const SCREEN = `wear ${location.pathname.slice(-6)} `;
const section = document.querySelector('[data-wear][data-minutes]');
const page = document.querySelector('[data-wear]');
const make = (kind, more) => Object.assign(document.createElement(kind), more);
const button = (textContent, className) => (
  make('button', { type: 'button', textContent, className }));

/** The page as the shop has it now; one that came back with a mistake stays as it was typed. */
const anew = () => { if (location.pathname === document.body.dataset.scope) location.reload(); };

/** The clock that runs, or none, for who sends messages to this phone. */
const told = (detail) => document.dispatchEvent(new CustomEvent('clock', { detail }));

const isNight = (at) => new Date(at).getHours() >= 22 || new Date(at).getHours() < 7;

class Countdown {
  constructor(box) {
    this.box = box;
    this.form = box.querySelector('[data-timer]');
    [this.minutes, this.hour, this.ago] = ['minutes', 'put_on', 'ago'].map(
      (name) => this.form.elements.namedItem(name),
    );
    this.length = Number(box.dataset.minutes) * 60000;
    this.key = SCREEN + box.dataset.n;
    this.heading = box.querySelector('h1');
    this.title = this.heading.textContent;
    this.told = this.form.closest('details');
    this.build();
    this.told.open = Boolean(box.closest('main').querySelector('.error'));
    this.form.addEventListener('waits', () => this.handOn());
    this.minutes.addEventListener('input', () => { this.edited = true; });
    this.hour.addEventListener('input', () => { this.ago.value = ''; this.own = true; });
    box.addEventListener('hold', () => this.hold());
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'visible') this.read();
    });
    addEventListener('storage', ({ key, newValue }) => {
      if (key !== this.key) return;
      if (newValue) this.read();
      else this.elsewhere().catch(() => {});
    });
    this.read();
    this.waits().then((waits) => { if (waits) this.handOn(); }, () => {});
  }

  build() {
    const { start, step, mistake, areOff } = this.box.dataset;
    this.start = button('', 'next');
    this.start.append(make('span', { textContent: start }), make('small', { textContent: step }));
    this.off = Object.assign(button('', 'next'), { hidden: true });
    this.off.append(make('span', { textContent: areOff }));
    this.figure = make('p', { className: 'count-down', hidden: true });
    this.said = make('p', { className: 'lead' });
    this.said.setAttribute('role', 'status');
    this.mistake = Object.assign(button(mistake, 'press'), { hidden: true });
    this.start.addEventListener('click', () => this.begin());
    this.off.addEventListener('click', () => this.take());
    this.mistake.addEventListener('click', () => this.never());
    const hurts = this.box.querySelector('.hurts').parentElement;
    hurts.before(this.start, this.off, this.figure, this.said);
    this.told.before(this.mistake);
  }

  /** What the phone keeps, which another tab may have changed; what is old is asked about. */
  read() {
    if (this.handed) return;
    this.at = Number(localStorage.getItem(this.key)) || 0;
    const age = Date.now() - this.at;
    if (this.at && (age > FORGOTTEN_MS || age < -60000)) this.ask();
    else if (this.at) this.run();
    else this.rest();
  }

  /** Boots off: from now on that is what stands here, whatever becomes of the clock. */
  hold() {
    this.title = this.heading.textContent;
    this.rest();
  }

  /** Was this wear told already, and is it still on this phone? */
  async waits() {
    return (await all()).some((row) => !row.refused && isOf(row, this.form));
  }

  /** In the other tab it was told, and waits or has arrived; or it was started by mistake. */
  async elsewhere() {
    if (!await this.waits()) return anew();
    this.handOn();
    return document.dispatchEvent(new Event('changed'));
  }

  /** They are off: what stands in the form is saved. */
  take() {
    this.look();
    this.quiet = true;
    this.form.requestSubmit();
  }

  /** There was no wear: the form as it came. */
  never() {
    this.end();
    this.form.reset();
    this.ago.value = '';
    [this.own, this.edited] = [false, false];
    this.read();
  }

  begin() {
    const { late, overnight } = this.box.dataset;
    const off = Date.now() + this.length;
    if (isNight(Date.now())) {
      if (!confirm(late)) return;
    } else if (isNight(off - 60000) && !confirm(filled(overnight, { time: hour(off) }))) return;
    allowSound();
    localStorage.setItem(this.key, String(Date.now()));
    this.read();
  }

  /** Also after the phone has slept: what counts is the clock. */
  run() {
    if (this.box.classList.contains('on-hold')) return;
    clearInterval(this.ticking);
    this.quiet = false;
    told({ n: this.box.dataset.n, at: this.at });
    this.ticking = setInterval(() => this.look(), 500);
    navigator.wakeLock?.request('screen').then((held) => {
      this.awake = held;
    }).catch(() => {});
    this.start.hidden = true;
    this.told.open = true;
    this.figure.hidden = false;
    this.mistake.hidden = false;
    this.look();
  }

  /** Nothing runs: the page as it came. */
  rest() {
    this.stop();
    this.box.classList.remove('time-up');
    this.heading.textContent = this.title;
    this.said.textContent = '';
    this.start.hidden = false;
    this.off.hidden = true;
    this.figure.hidden = true;
    this.mistake.hidden = true;
  }

  /** The clock was forgotten: no count, a question; the hour it was started stands in its field. */
  ask() {
    this.rest();
    this.start.hidden = true;
    this.mistake.hidden = false;
    this.told.open = true;
    this.said.textContent = filled(this.box.dataset.forgot, { time: dayAndHour(this.at) });
    if (!this.edited) this.minutes.value = '';
    this.fillHour();
  }

  look() {
    const left = this.at + this.length - Date.now();
    const seconds = Math.max(0, Math.ceil(left / 1000));
    const rest = String(seconds % 60).padStart(2, '0');
    this.figure.textContent = `${Math.floor(seconds / 60)}:${rest}`;
    const off = hour(this.at + this.length);
    const words = left > 0 ? filled(this.box.dataset.until, { time: off }) : '';
    if (this.said.textContent !== words) this.said.textContent = words;
    if (left <= 0) this.over();
    this.fill(-left);
  }

  /** Time is up: the whole screen says one thing and has one button. */
  over() {
    if (!this.box.classList.contains('time-up')) {
      this.box.classList.add('time-up');
      this.heading.textContent = this.box.dataset.off;
      this.off.hidden = false;
      this.box.scrollIntoView();
    }
    if (this.rings) return;
    this.rings = 1;
    if (navigator.userActivation?.hasBeenActive !== false) navigator.vibrate?.([400, 200, 400]);
    ring(3);
    const again = setInterval(() => {
      this.rings += 1;
      ring(3);
      if (this.rings >= RINGS || !this.at || this.quiet) clearInterval(again);
    }, 3000);
    document.addEventListener('pointerdown', () => clearInterval(again), { once: true });
  }

  /** What would be saved if the boots came off now; what was typed stays. */
  fill(over) {
    const worn = (Date.now() - this.at) / 60000;
    const planned = this.length / 60000;
    const value = over > 0 && worn <= planned + LATE_MIN ? planned : Math.max(1, Math.round(worn));
    if (!this.edited) this.minutes.value = String(value);
    this.fillHour();
  }

  /** ago: in minutes, for a phone whose clock is wrong. */
  fillHour() {
    if (this.own) return;
    this.ago.value = String(Math.max(0, Math.round((Date.now() - this.at) / 60000)));
    const { zone } = this.box.dataset;
    const form = { timeZone: zone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };
    const time = new Date(this.at).toLocaleTimeString('en-GB', form);
    this.hour.value = time;
  }

  stop() {
    clearInterval(this.ticking);
    this.quiet = true;
    this.awake?.release();
    this.awake = null;
  }

  /** The outbox of this phone has the wear. */
  handOn() {
    this.end();
    this.rest();
    this.handed = true;
    this.start.hidden = true;
    this.told.open = true;
  }

  /** The wear is in safe hands, or there was none. */
  end() {
    localStorage.removeItem(this.key);
    told(null);
    this.at = 0;
    this.stop();
  }
}

const countdown = section && new Countdown(section);

const isAtRest = () => !document.querySelector('.kept, form[data-busy]');

// The shop has something that was told in another tab.
if (page && usable) {
  new BroadcastChannel('outbox').addEventListener('message', ({ data }) => {
    if (data?.id && isAtRest()) anew();
  });
}

// The network was slow, so this page came from the phone; now there is a newer one.
let touched = false;
addEventListener('input', () => { touched = true; });
navigator.serviceWorker?.addEventListener('message', ({ data }) => {
  if (data === 'newer' && isAtRest() && !touched) anew();
});

// A phone shows a page again hours later, as it left it.
const opened = Date.now();
document.addEventListener('visibilitychange', () => {
  const isOld = Math.abs(Date.now() - opened) > OLD_MS && !countdown?.at;
  if (document.visibilityState === 'visible' && isOld) anew();
});

// The clock of a step that the shop has as worn.
for (const n of (page?.dataset.worn ?? '').split(' ')) localStorage.removeItem(SCREEN + n);

// A page from the phone's memory says from when it is; a phone with a wrong day has one of today.
const made = document.querySelector('[data-made]');
const dayOf = (at) => new Date(at).toDateString();
function old() {
  const form = { weekday: 'long', day: 'numeric', month: 'long' };
  const day = new Date(made.dataset.made).toLocaleDateString(document.documentElement.lang, form);
  const textContent = filled(made.dataset.old, { day });
  document.querySelector('h1').after(make('p', { className: 'notice', textContent }));
}
if (made && dayOf(made.dataset.made) !== dayOf(Date.now())) fresh().catch(old);
