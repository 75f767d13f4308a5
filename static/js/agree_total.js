// The total of the agreement and its usual deposit, while the prices are typed.
// Without script the page shows those of what is offered.

const LINE = /^line_(\d+)_amount$/;
const RUSH = 'rush_amount';
const EXTRA = /^sum_(.+)$/;

function minor(text, digits) {
  const plain = text.replace(/[^\d.,]/g, '').replace(',', '.');
  const amount = Number.parseFloat(plain);
  return Number.isFinite(amount) ? Math.round(amount * 10 ** digits) : 0;
}

class Total {
  constructor(place) {
    this.place = place;
    this.form = place.closest('form');
    this.digits = Number(place.dataset.digits);
    this.free = this.form.querySelector('[list="work-list"]');
    this.form.addEventListener('input', () => this.show());
    this.show();
  }

  // The price of what was picked from the list stands in the empty field, for all it is on.
  priceOfList() {
    const typed = this.free.value.trim().toLowerCase();
    const options = [...this.free.list.options];
    const entry = options.find((one) => one.value.toLowerCase() === typed);
    const amount = this.form.elements[this.free.name.replace('_what', '_amount')];
    const on = this.form.elements[this.free.name.replace('_what', '_on')];
    const count = on ? on.value.split('-').length : 1;
    const each = entry?.dataset.each;
    const all = each ? (Number(each) * count) / 10 ** this.digits : '';
    amount.placeholder = each ? all.toFixed(this.digits) : '';
    amount.toggleAttribute('data-plain', entry !== undefined && 'untaxed' in entry.dataset);
  }

  counts(name) {
    if (name === RUSH) return this.form.elements.rush.checked;
    const line = LINE.exec(name);
    if (line) return this.form.elements[`line_${line[1]}_what`].value.trim() !== '';
    return this.form.elements[`extra_${EXTRA.exec(name)[1]}`].checked;
  }

  sums() {
    const sums = { taxed: 0, plain: 0 };
    for (const field of this.form.elements) {
      if (!LINE.test(field.name) && !EXTRA.test(field.name) && field.name !== RUSH) continue;
      if (!this.counts(field.name)) continue;
      const typed = field.value.trim() || field.placeholder || '';
      sums['plain' in field.dataset ? 'plain' : 'taxed'] += minor(typed, this.digits);
    }
    return sums;
  }

  say(amount, digits) {
    const how = { minimumFractionDigits: digits, maximumFractionDigits: digits };
    const currency = { style: 'currency', currency: this.place.dataset.currency };
    const money = new Intl.NumberFormat(document.documentElement.lang, { ...currency, ...how });
    return money.format(amount / 10 ** this.digits);
  }

  show() {
    if (this.free) this.priceOfList();
    const { taxed, plain } = this.sums();
    const rate = this.place.dataset.included ? 0 : Number(this.place.dataset.tax);
    const total = taxed + plain + Math.round((taxed * rate) / 10000);
    this.place.textContent = this.say(total, this.digits);
    const usual = this.form.querySelector('.usual-deposit');
    if (!usual) return;
    const whole = 10 ** this.digits;
    const share = Math.floor((total * Number(this.place.dataset.deposit)) / 100);
    usual.textContent = this.say(Math.floor(share / whole) * whole, 0);
  }
}

for (const place of document.querySelectorAll('[data-total]')) new Total(place);
