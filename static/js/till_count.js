// What the till is short or over while it is counted. Without script it is said when it is closed.

import { _ } from './words.js';

const TYPED = /^[-−]?\d{1,6}(?:[.,]\d*)?$/;
const CASH = 'counted_cash';

class Count {
  constructor(place) {
    this.place = place;
    this.form = place.closest('form');
    this.digits = Number(place.dataset.digits);
    this.expected = Object.entries(JSON.parse(place.dataset.expected));
    this.form.addEventListener('input', () => this.show());
    this.show();
  }

  // Minor units as typed; NaN where that cannot be read.
  minor(name) {
    const text = this.form.elements[name].value.replace(/[\s$€£]/g, '');
    if (!TYPED.test(text)) return Number.NaN;
    return Math.round(Number(text.replace('−', '-').replace(',', '.')) * 10 ** this.digits);
  }

  // Over, below nought short; NaN until every kind is counted.
  off() {
    const change = this.form.elements.change.value.trim() ? this.minor('change') : 0;
    let off = 0;
    for (const [name, moved] of this.expected) {
      off += this.minor(name) - moved - (name === CASH ? change : 0);
    }
    return off;
  }

  money(minor) {
    const { currency } = this.place.dataset;
    const how = { style: 'currency', currency };
    const format = new Intl.NumberFormat(document.documentElement.lang, how);
    return format.format(minor / 10 ** this.digits);
  }

  show() {
    const off = this.off();
    if (Number.isNaN(off)) this.place.textContent = '';
    else if (off < 0) this.place.textContent = _('{amount} short.', { amount: this.money(-off) });
    else if (off > 0) this.place.textContent = _('{amount} over.', { amount: this.money(off) });
    else this.place.textContent = _('Right to the cent.');
  }
}

for (const place of document.querySelectorAll('[data-expected]')) new Count(place);
