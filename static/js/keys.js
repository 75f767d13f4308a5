// Our keys for the tape: a whole number, then a fraction, and the next height is up. Two taps a reading.
// Progressive: reads the data attributes of _parts/_measure.html and writes into the same inputs the plain sheet has.

import { parse, setWords, show } from './tape.js';
import { question } from './slips.js';
import { draw } from './measure.js';
import { answerKeys, firstWhole, keys } from './keypad.js';
import { bringBoth, bringUp, cellsOf, inOrder, place, showHow } from './fields.js';
import { comparing, spare } from './needed.js';
import { filled } from './words.js';

class Pad {
  constructor(panel) {
    this.panel = panel;
    this.form = panel.closest('form');
    this.isSheet = 'measure' in this.form.dataset;
    this.unit = panel.dataset.unit;
    this.rules = JSON.parse(panel.dataset.rules || 'null');
    this.says = JSON.parse(panel.dataset.says);
    this.part = (name) => panel.querySelector(`[data-${name}]`);
    this.go = this.part('go');
    this.words = [this.go.firstElementChild.textContent, this.go.lastElementChild?.textContent ?? ''];
    this.mode = { digits: false, odd: false, fresh: true };
    this.inputs = inOrder(this.form, this.unit);
    for (const input of this.inputs) {
      input.inputMode = 'none';
      input.placeholder = '–';
      input.enterKeyHint = 'next';
      input.addEventListener('focus', () => this.select(input));
      input.addEventListener('input', () => { this.closeSlip(); this.render(); });
      input.addEventListener('keydown', (event) => this.key(event));
    }
    this.foot = ['', ''].map(() => Object.assign(document.createElement('button'), { type: 'button', tabIndex: -1 }));
    panel.addEventListener('pointerdown', (event) => { if (event.target.closest('[data-pad], [data-slip], [data-foot] [type=button]')) event.preventDefault(); });
    panel.addEventListener('click', (event) => this.press(event));
    this.form.addEventListener('submit', (event) => this.submit(event));
    this.form.addEventListener('change', (event) => { if (event.target.name === 'unit') this.changeUnit(event.target.value); });
    addEventListener('resize', () => this.current && draw(this.form, this.cells(), this.current));
    matchMedia('(orientation: landscape)').addEventListener('change', () => this.current && this.bringUpSoon());
    comparing(this.form, () => this.bootsFirst());
    if (this.isSheet && !('answered' in this.form.dataset)) {
      (this.nextEmpty(-1) ?? this.inputs[0]).focus({ preventScroll: true });
      this.bringUpSoon();
    }
  }

  /** The keys come with the first field that is touched; a page that only measures begins with
   *  them, unless the answer stands there. */
  open() {
    this.form.classList.add('keyed');
    for (const name of ['entry', 'pad']) this.part(name).hidden = false;
    this.part('foot').prepend(...this.foot);
  }

  select(input) {
    const [first, other] = [!this.current, this.current !== input];
    this.current = input;
    if (first) this.open();
    else if (other) this.closeSlip();
    if (other && !(first && this.isSheet)) this.bringUpSoon();
    Object.assign(this.mode, { fresh: true, odd: false, digits: false });
    for (const one of this.inputs) one.toggleAttribute('data-current', one === input);
    this.render();
  }

  bringUpSoon() {
    requestAnimationFrame(() => (this.isSheet ? bringUp : bringBoth)(this.current, this.panel));
  }

  key(event) {
    if (event.key !== 'Enter' || this.sends()) return;
    event.preventDefault();
    this.done();
  }

  /** Whether Enter sends: nothing is left to read, and nothing to ask about what was read. */
  sends() {
    if (this.isSheet) return !this.nextEmpty(-1) && this.current === this.asksFor().at(-1);
    const { mm, text } = this.here();
    return !(text && mm === null) && !this.nextEmpty(this.inputs.indexOf(this.current)) && !this.asked();
  }

  cells() {
    return cellsOf(this.inputs, this.unit);
  }

  here() {
    return this.cells().find((cell) => cell.input === this.current);
  }

  /** The question that this reading raises and that nobody has answered yet. */
  asked() {
    const here = this.here();
    return this.rules && this.current.dataset.kept !== here.text && question(here, this.cells(), this.rules, this.says);
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
    const here = this.here();
    if (here.mm === null && here.text) { this.render(); return; }
    const asked = this.asked();
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

  /** The empty field that is up next, round the sheet; a second reading that was asked for comes before all others. On no sheet a field may stay empty, and what is folded away is not asked for. */
  nextEmpty(at) {
    const others = [...this.inputs.slice(at + 1), ...(this.isSheet ? this.inputs.slice(0, Math.max(at, 0)) : [])];
    const left = this.mayStayEmpty();
    const empty = others.filter((input) => (
      !input.value && !left.has(input) && !input.closest('details:not([open])')));
    return empty.find((input) => place(input).repeat > 1) ?? empty[0];
  }

  mayStayEmpty(cells = this.cells()) {
    return spare(this.form, cells, this.rules);
  }

  /** Boots first, since they say where the legs of last time are near. */
  bootsFirst() {
    const isBoot = (input) => place(input).what === 'boot';
    this.inputs.sort((a, b) => isBoot(b) - isBoot(a));
    this.nextEmpty(-1)?.focus();
  }

  /** The fields of a sheet without those that may stay empty and do. */
  asksFor() {
    const left = this.mayStayEmpty();
    return this.inputs.filter((input) => input.value || !left.has(input));
  }

  openSlip({ text, answers }) {
    const slip = this.part('slip');
    const says = Object.assign(document.createElement('p'), { textContent: text });
    slip.replaceChildren(says, ...answerKeys(answers, this.unit));
    slip.hidden = false;
    this.render();
  }

  closeSlip() {
    this.part('slip').hidden = true;
  }

  submit(event) {
    if (this.part('slip').hidden) {
      const asked = !this.isSheet && this.current && this.asked();
      if (!asked) return;
      event.preventDefault();
      this.openSlip(asked);
      return;
    }
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
    const left = this.mayStayEmpty(cells);
    const how = { inputs: this.inputs, current: this.current, says: this.says, left };
    for (const cell of cells) showHow(cell, how);
    const [said, after] = this.words;
    const read = cells.filter((cell) => cell.text).length;
    const asked = !this.part('slip').hidden;
    this.go.firstElementChild.textContent = asked ? this.says.again : said;
    const soFar = filled(this.says.read, { read, count: this.asksFor().length });
    this.go.lastElementChild.textContent = asked ? this.says.between : this.isSheet ? soFar : after;
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
    other.hidden = this.unit === 'in' && cells.length === 1;
    [other.textContent, other.dataset.act] = this.unit === 'in' ? [this.says.skip, 'skip'] : [this.says.back, 'back'];
  }
}

/** A step that reads one girth has its field touched as it opens. */
function touch({ inputs, panel }) {
  const step = panel.closest('details.step');
  if (!step || inputs.length > 1) return;
  step.addEventListener('toggle', () => inputs[0].focus());
  inputs[0].focus();
  // at the stand the boot's name, large, stays in view: the keys say what is read
  if (document.querySelector('h1.heard')) requestAnimationFrame(() => requestAnimationFrame(() => scrollTo(0, 0)));
}

export function wire(root = document) {
  for (const panel of root.querySelectorAll('[data-keys]')) {
    if (panel.closest('form')?.querySelector('[data-tape]')) touch(new Pad(panel));
  }
}

wire();
document.addEventListener('changed', () => wire());
