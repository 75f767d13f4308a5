// The customer's page: one button counts the minutes by the clock, so that a phone that slept is
// still right, and rings when the boots come off.
// Everything it says stands on the page; without it nothing is missing.

import { allowSound, ring } from './camera.js';
import { hour } from './words.js';

const RINGS = 20;
const LATE_MIN = 3;
const section = document.querySelector('[data-wear][data-minutes]');
const make = (kind, more) => Object.assign(document.createElement(kind), more);

class Countdown {
  constructor(box) {
    this.box = box;
    this.form = box.querySelector('[data-timer]');
    this.minutes = this.form.elements.namedItem('minutes');
    this.length = Number(box.dataset.minutes) * 60000;
    this.key = `wear ${location.pathname.slice(-6)} ${box.dataset.n}`;
    this.figure = make('p', { className: 'count-down', hidden: true });
    this.said = make('p', { className: 'lead' });
    this.said.setAttribute('role', 'status');
    this.start = make('button', { type: 'button', className: 'next' });
    this.start.append(make('span', { textContent: box.dataset.start }), make('small', { textContent: box.dataset.step }));
    this.told = this.form.closest('details');
    this.start.addEventListener('click', () => this.begin());
    this.told.before(this.start, this.figure, this.said);
    this.told.open = Boolean(box.closest('main').querySelector('.error'));
    this.form.addEventListener('submit', () => this.end());
    this.minutes.addEventListener('input', () => { this.edited = true; });
    document.addEventListener('visibilitychange', () => { if (this.at && document.visibilityState === 'visible') this.run(); });
    this.at = Number(localStorage.getItem(this.key)) || 0;
    if (this.at) this.run();
  }

  begin() {
    allowSound();
    this.at = Date.now();
    localStorage.setItem(this.key, String(this.at));
    this.run();
  }

  /** Also after the phone has slept: what counts is the clock. */
  run() {
    clearInterval(this.ticking);
    this.ticking = setInterval(() => this.look(), 500);
    navigator.wakeLock?.request('screen').then((held) => { this.awake = held; }).catch(() => {});
    this.start.hidden = true;
    this.told.open = true;
    this.figure.hidden = false;
    this.look();
  }

  look() {
    const left = this.at + this.length - Date.now();
    const seconds = Math.max(0, Math.ceil(left / 1000));
    this.figure.textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
    const off = hour(this.at + this.length);
    const words = left > 0 ? this.box.dataset.until.replace('{time}', off) : this.box.dataset.off;
    if (this.said.textContent !== words) this.said.textContent = words;
    if (left <= 0) this.over();
    this.fill(-left);
  }

  over() {
    if (this.rings) return;
    this.rings = 1;
    navigator.vibrate?.([400, 200, 400]);
    ring(3);
    const again = setInterval(() => {
      this.rings += 1;
      ring(3);
      if (this.rings >= RINGS || !this.at) clearInterval(again);
    }, 3000);
    document.addEventListener('pointerdown', () => clearInterval(again), { once: true });
  }

  /** What would be saved if the boots came off now; what was typed stays. */
  fill(over) {
    const worn = (Date.now() - this.at) / 60000;
    const planned = this.length / 60000;
    const time = { timeZone: this.box.dataset.zone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' };
    if (!this.edited) this.minutes.value = String(over > 0 && worn <= planned + LATE_MIN ? planned : Math.round(worn));
    this.form.elements.namedItem('put_on').value = new Date(this.at).toLocaleTimeString('en-GB', time);
  }

  end() {
    localStorage.removeItem(this.key);
    clearInterval(this.ticking);
    this.at = 0;
    this.awake?.release();
  }
}

if (section) new Countdown(section);

// A page from the phone's memory says from when it is.
const made = document.querySelector('[data-made]');
if (made && new Date(made.dataset.made).toDateString() !== new Date().toDateString()) {
  const day = new Date(made.dataset.made).toLocaleDateString(document.documentElement.lang, { weekday: 'long', day: 'numeric', month: 'long' });
  document.querySelector('h1').after(make('p', { className: 'notice', textContent: made.dataset.old.replace('{day}', day) }));
}
