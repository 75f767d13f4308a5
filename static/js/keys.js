// Our keys for the tape: a whole number, then a fraction, and the next height is up. Two taps a reading.
// Progressive: reads the data attributes of _parts/_measure.html and writes into the same inputs the plain sheet has.

import { parse, setWords, show, toMm } from './tape.js';
import { question } from './slips.js';
import { draw } from './measure.js';
import { firstWhole, keys } from './keypad.js';
import { filled } from './words.js';

function lengthOf(text, unit, zeroOk = true) {
  try { return text.trim() ? parse(text, unit, zeroOk) : null; } catch { return null; }
}

/** Where a field stands on its sheet; a single reading stands on none. */
function place(input) {
  return {
    what: input.closest('[data-sheet]')?.dataset.sheet ?? 'girth',
    side: input.closest('[data-side]')?.dataset.side ?? '',
    station: input.closest('.height')?.dataset.station ?? '',
    repeat: Number(input.dataset.repeat ?? 1),
  };
}

class Pad {
  constructor(panel) {
    this.panel = panel;
    this.form = panel.closest('form');
    this.unit = panel.dataset.unit;
    this.rules = JSON.parse(panel.dataset.rules || 'null');
    this.says = JSON.parse(panel.dataset.says);
    this.part = (name) => panel.querySelector(`[data-${name}]`);
    this.go = this.part('go');
    this.words = [this.go.firstElementChild.textContent, this.go.lastElementChild?.textContent ?? ''];
    this.mode = { digits: false, odd: false, fresh: true };
    this.inputs = this.inOrder();
    for (const input of this.inputs) {
      input.inputMode = 'none';
      input.placeholder = '–';
      input.enterKeyHint = 'next';
      input.addEventListener('focus', () => this.select(input));
      input.addEventListener('input', () => this.typed());
      input.addEventListener('keydown', (event) => this.key(event));
    }
    this.foot = ['', ''].map(() => Object.assign(document.createElement('button'), { type: 'button', tabIndex: -1 }));
    panel.addEventListener('pointerdown', (event) => { if (event.target.closest('[data-pad], [data-slip], [data-foot] [type=button]')) event.preventDefault(); });
    panel.addEventListener('click', (event) => this.press(event));
    this.form.addEventListener('submit', (event) => this.submit(event));
    this.form.addEventListener('change', (event) => { if (event.target.name === 'unit') this.changeUnit(event.target.value); });
    addEventListener('resize', () => this.current && draw(this.form, this.cells(), this.current));
    if ('measure' in this.form.dataset) {
      (this.nextEmpty(-1) ?? this.inputs[0]).focus({ preventScroll: true });
      requestAnimationFrame(() => this.bringUp(this.current));
    }
  }

  /** The keys come with the first field that is touched; a page that only measures begins with them. */
  open() {
    this.form.classList.add('keyed');
    for (const name of ['entry', 'pad']) this.part(name).hidden = false;
    this.part('foot').prepend(...this.foot);
    if (!('measure' in this.form.dataset)) requestAnimationFrame(() => this.panel.scrollIntoView({ block: 'end' }));
  }

  /** Sheet by sheet, up the left side, then up the right. */
  inOrder() {
    const all = [...this.form.querySelectorAll('[data-tape]')];
    const sheets = [...new Set(all.map((input) => place(input).what))];
    const rank = (input) => [sheets.indexOf(place(input).what), place(input).side === 'right' ? 1 : 0, this.height(input), place(input).repeat];
    const compare = (a, b) => a.map((value, i) => value - b[i]).find((differ) => differ) ?? 0;
    return all.map((input, i) => [input, [...rank(input), i]]).sort((a, b) => compare(a[1], b[1])).map(([input]) => input);
  }

  height(input) {
    const row = input.closest('.height');
    const text = row?.dataset.height || row?.querySelector('[data-own-height]')?.value || '';
    const found = lengthOf(text, this.unit);
    return found ? toMm(found) : 0;
  }

  cells() {
    return this.inputs.map((input) => {
      const where = place(input);
      const length = lengthOf(input.value, this.unit, ['gap', 'amount'].includes(where.what));
      return { ...where, input, height: this.height(input), mm: length ? toMm(length) : null, unit: length?.unit ?? this.unit, text: input.value };
    });
  }

  select(input) {
    if (!this.current) this.open();
    else if (this.current !== input) {
      this.closeSlip();
      this.bringUp(input);
    }
    this.current = input;
    Object.assign(this.mode, { fresh: true, odd: false, digits: false });
    for (const one of this.inputs) one.toggleAttribute('data-current', one === input);
    this.render();
  }

  /** The row of a field comes above the keys, and no row is left half under them. */
  bringUp(input) {
    input.closest('.height')?.scrollIntoView({ block: 'nearest' });
    const edge = this.panel.getBoundingClientRect().top;
    const cut = [...this.form.querySelectorAll('.height')].map((row) => row.getBoundingClientRect()).find((row) => row.top < edge && row.bottom > edge);
    if (cut) scrollBy(0, cut.bottom - edge);
  }

  typed() {
    this.closeSlip();
    this.render();
  }

  key(event) {
    if (event.key !== 'Enter') return;
    const left = this.inputs.some((input) => !input.value);
    if (!left && this.current === this.inputs.at(-1)) return;
    event.preventDefault();
    this.done();
  }

  put(text) {
    this.current.value = text;
    this.current.dispatchEvent(new Event('input', { bubbles: true }));
  }

  press(event) {
    const button = event.target.closest('button');
    if (!button || button === this.go) return;
    const { whole, part, act, set } = button.dataset;
    if (whole !== undefined) this.whole(whole);
    else if (part !== undefined) this.fraction(part);
    else if (set !== undefined) this.answer(set);
    else if (act === 'back') this.back();
    else if (act === 'skip') this.advance();
    else if (act) { this.mode[act] = !this.mode[act]; this.render(); }
  }

  whole(text) {
    const started = !this.mode.fresh && /^\d+$/.test(this.current.value);
    this.put(this.mode.digits && started && this.current.value.length < 3 ? this.current.value + text : text);
    this.mode.fresh = false;
    this.render();
  }

  fraction(text) {
    const inches = /^\d+/.exec(this.current.value)?.[0] ?? '';
    const kept = this.mode.fresh && this.current.value ? '' : inches;
    if (this.unit === 'in') this.put(text === '0' ? kept || '0' : `${kept && kept !== '0' ? `${kept} ` : ''}${text}`);
    else this.put(`${kept || '0'}${text === '.0' ? '' : text}`);
    this.done();
  }

  back() {
    const { value } = this.current;
    if (!value) {
      const before = this.inputs[this.inputs.indexOf(this.current) - 1];
      if (before) before.focus();
      return;
    }
    const shorter = /[ .]/.test(value) ? value.replace(/[ .][^ .]*$/, '') : this.mode.digits ? value.slice(0, -1) : '';
    this.put(shorter);
    this.mode.fresh = false;
    this.render();
  }

  /** A reading is complete: ask if it looks like a slip, otherwise on to the next. */
  done() {
    const cells = this.cells();
    const here = cells.find((cell) => cell.input === this.current);
    if (here.mm === null && here.text) { this.render(); return; }
    const asked = this.rules && this.current.dataset.kept !== here.text && question(here, cells, this.rules, this.says);
    if (asked) this.openSlip(asked);
    else this.advance();
  }

  answer(text) {
    this.put(text);
    this.current.dataset.kept = text;
    this.closeSlip();
    this.advance();
  }

  advance() {
    const next = this.nextEmpty(this.inputs.indexOf(this.current));
    if (next) next.focus();
    else { this.render(); this.go.focus({ preventScroll: true }); }
  }

  /** The empty field that is up next, round the sheet; a second reading that was asked for comes before all others. */
  nextEmpty(at) {
    const empty = [...this.inputs.slice(at + 1), ...this.inputs.slice(0, Math.max(at, 0))].filter((input) => !input.value);
    return empty.find((input) => place(input).repeat > 1) ?? empty[0];
  }

  openSlip({ text, answers }) {
    const slip = this.part('slip');
    const says = Object.assign(document.createElement('p'), { textContent: text });
    slip.replaceChildren(says, ...answers.map(({ mm, unit, set }) => {
      const button = Object.assign(document.createElement('button'), { type: 'button' });
      button.dataset.set = set;
      show(button, mm, unit, unit === this.unit ? '' : ` ${unit}`);
      return button;
    }));
    slip.hidden = false;
    this.render();
  }

  closeSlip() {
    this.part('slip').hidden = true;
  }

  submit(event) {
    if (this.part('slip').hidden) return;
    event.preventDefault();      // "Measure again": the doubtful number goes
    this.put('');
    this.select(this.current);
    this.current.focus();
  }

  changeUnit(unit) {
    for (const cell of this.cells()) {
      const bare = cell.text && cell.mm !== null && !/(in|cm|mm|["”″])$/i.test(cell.text.trim());
      if (bare) cell.input.value = cell.unit === 'in' ? `${cell.text}"` : `${cell.text} ${cell.unit}`;   // what was read stays what was read
    }
    this.unit = unit;
    this.render();
  }

  // ---- what is shown ----

  render() {
    const cells = this.cells();
    const here = cells.find((cell) => cell.input === this.current);
    setWords(this.part('label'), this.current.labels[0]?.textContent ?? '');
    this.showValue(here);
    this.showPad(here, cells);
    for (const cell of cells) this.showHow(cell);
    const [said, after] = this.words;
    const read = cells.filter((cell) => cell.text).length;
    const asked = !this.part('slip').hidden;
    this.go.firstElementChild.textContent = asked ? this.says.again : said;
    const soFar = filled(this.says.read, { read, count: cells.length });
    this.go.lastElementChild.textContent = asked ? this.says.between : cells.length > 1 ? soFar : after;
    this.drawSoon(cells);
  }

  /** The drawing waits for the next frame, so that a key answers first. */
  drawSoon(cells) {
    cancelAnimationFrame(this.drawing);
    this.drawing = requestAnimationFrame(() => draw(this.form, cells, this.current));
  }

  showValue(here) {
    const value = this.part('value');
    const echo = this.part('echo');
    if (here.mm === null) {
      value.textContent = here.text || '–';
      echo.textContent = here.text ? this.why(here.text) : '';
      return;
    }
    show(value, here.mm, here.unit, ` ${here.unit === 'in' ? 'in' : 'cm'}`);
    show(echo, here.mm, here.unit === 'in' ? 'cm' : 'in', here.unit === 'in' ? ' cm' : ' in');
  }

  why(text) {
    try { parse(text, this.unit); return ''; } catch (error) { return error.message; }
  }

  showHow(cell) {
    const how = cell.input.parentElement.querySelector('.how');
    if (!how) return;
    const mine = this.inputs.filter((input) => input.parentElement === cell.input.parentElement);
    const count = mine.filter((input) => input.value).length;
    const { now, none, once, often } = this.says;
    how.textContent = mine.includes(this.current) ? now : [none, once][count] ?? filled(often, { count });
    how.parentElement.toggleAttribute('data-now', mine.includes(this.current));
  }

  showPad(here, cells) {
    const pad = this.part('pad');
    const first = firstWhole({ ...here, mm: this.mode.fresh ? null : here.mm }, cells, this.unit);
    const focused = pad.contains(document.activeElement);
    const now = this.mode.fresh ? '' : /^\d*/.exec(this.current.value)[0];
    pad.replaceChildren(...keys(this.mode, this.unit, first, now, this.says));
    if (focused) pad.querySelector('button').focus();
    const [digits, other] = this.foot;
    digits.textContent = this.mode.digits ? `${first}–${first + 9}` : '0–9';
    digits.dataset.act = 'digits';
    [other.textContent, other.dataset.act] = this.unit === 'in' ? [this.says.skip, 'skip'] : [this.says.back, 'back'];
  }
}

export function wire(root = document) {
  for (const panel of root.querySelectorAll('[data-keys]')) {
    if (panel.closest('form')?.querySelector('[data-tape]')) new Pad(panel);
  }
}

wire();
