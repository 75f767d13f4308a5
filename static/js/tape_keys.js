// Our keys for the tape: a whole number, then a fraction, and the next height is up. Two taps a
// reading. Progressive: reads the data attributes of _parts/_measure.html and writes into the same
// inputs the plain sheet has.

import { setWords } from './tape.js';
import { question } from './slips.js';
import { draw } from './leg_outline.js';
import { answerKeys, firstWhole, keys } from './tape_keypad.js';
import { bringBoth, bringUp, cellsOf, inOrder, place, showHow, showValue } from './tape_fields.js';
import { comparing, spare, upNext } from './heights_to_read.js';
import { filled } from './words.js';

const OF_THE_KEYS = '[data-pad], [data-slip], [data-foot] [type=button]';

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
    const [said, after] = [this.go.firstElementChild, this.go.lastElementChild];
    this.words = [said.textContent, after?.textContent ?? ''];
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
    const how = { type: 'button', tabIndex: -1 };
    this.foot = ['', ''].map(() => Object.assign(document.createElement('button'), how));
    panel.addEventListener('pointerdown', (event) => {
      if (event.target.closest(OF_THE_KEYS)) event.preventDefault();
    });
    panel.addEventListener('click', (event) => this.press(event));
    this.form.addEventListener('submit', (event) => this.submit(event));
    this.form.addEventListener('change', ({ target }) => {
      if (target.name === 'unit') this.changeUnit(target.value);
    });
    addEventListener('resize', () => this.current && draw(this.form, this.cells(), this.current));
    const across = matchMedia('(orientation: landscape)');
    across.addEventListener('change', () => this.current && this.bringUpSoon());
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
    if (text && mm === null) return false;
    return !this.nextEmpty(this.inputs.indexOf(this.current)) && !this.asked();
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
    if (!this.rules || this.current.dataset.kept === here.text) return false;
    return question(here, this.cells(), this.rules, this.says);
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
    const grows = this.mode.digits && started && this.current.value.length < 3;
    this.put(grows ? this.current.value + text : text);
    this.mode.fresh = false;
    this.render();
  }

  fraction(text) {
    const inches = /^\d+/.exec(this.current.value)?.[0] ?? '';
    const kept = this.mode.fresh && this.current.value ? '' : inches;
    const before = kept && kept !== '0' ? `${kept} ` : '';
    if (this.unit === 'in') this.put(text === '0' ? kept || '0' : before + text);
    else this.put(`${kept || '0'}${text === '.0' ? '' : text}`);
    this.done();
  }

  back() {
    const { value } = this.current;
    if (!value) {
      this.inputs[this.inputs.indexOf(this.current) - 1]?.focus();
      return;
    }
    const ofDigits = this.mode.digits ? value.slice(0, -1) : '';
    const shorter = /[ .]/.test(value) ? value.replace(/[ .][^ .]*$/, '') : ofDigits;
    this.put(shorter);
    this.mode.fresh = false;
    this.render();
  }

  /** A reading is complete: ask if it looks like a slip, otherwise on to the next. */
  done() {
    const { mm, text } = this.here();
    if (mm === null && text) { this.render(); return; }
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

  /** The empty field that is up next, round the sheet. On no sheet a field may stay empty. */
  nextEmpty(at) {
    const round = this.isSheet ? this.inputs.slice(0, Math.max(at, 0)) : [];
    return upNext([...this.inputs.slice(at + 1), ...round], this.mayStayEmpty());
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
      // what was read stays what was read
      const mark = cell.unit === 'in' ? '"' : ` ${cell.unit}`;
      if (bare) cell.input.value = `${cell.text}${mark}`;
    }
    this.unit = unit;
    this.render();
  }

  // ---- what is shown ----

  render() {
    const cells = this.cells();
    const here = cells.find((cell) => cell.input === this.current);
    setWords(this.part('label'), this.current.labels[0]?.textContent ?? '');
    showValue(this.part('value'), this.part('echo'), here, this.unit);
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
    const { skip, back } = this.says;
    [other.textContent, other.dataset.act] = this.unit === 'in' ? [skip, 'skip'] : [back, 'back'];
  }
}

/** A step that reads one girth has its field touched as it opens. */
function touch({ inputs, panel }) {
  const step = panel.closest('details.step');
  if (!step || inputs.length > 1) return;
  step.addEventListener('toggle', () => inputs[0].focus());
  inputs[0].focus();
  // at the stand the boot's name, large, stays in view: the keys say what is read
  const next = (work) => requestAnimationFrame(work);
  if (document.querySelector('h1.heard')) next(() => next(() => scrollTo(0, 0)));
}

export function wire(root = document) {
  for (const panel of root.querySelectorAll('[data-keys]')) {
    if (panel.closest('form')?.querySelector('[data-tape]')) touch(new Pad(panel));
  }
}

wire();
document.addEventListener('changed', () => wire());
