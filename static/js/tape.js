// Tape readings on the phone: the same grammar as fitcounter/fit/tape.py, held to it by
// tests/reference/tape_cases.json.
// Exact: a length is a fraction of a millimetre in BigInt, never a float, until it is shown.

import { _, decimal } from './words.js';

const MM_PER_UNIT = { in: [127n, 5n], cm: [10n, 1n], mm: [1n, 1n] };
const EXAMPLES = { in: '16 1/4', cm: decimal(41.3), mm: '413' };
const LONGEST_TEXT = 24;
const MOST_WHOLE_DIGITS = 4;
const THOUSANDS_BELOW_MM = 127n;
const DENOMINATORS = [2n, 4n, 8n, 16n, 32n, 64n];
const DRAWN = '⅛¼⅜½⅝¾⅞';
// every space separator of Unicode, as in fit/tape.py
const SPACES = ' \u00a0\u1680\u2000-\u200a\u202f\u205f\u3000';
const MARKS = '\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069';

const ENDS = new RegExp(`^[${SPACES}${MARKS}]+|[${SPACES}${MARKS}]+$`, 'g');
const LOOSE_MARKS = new RegExp(`([${SPACES}])[${MARKS}]+|[${MARKS}]+(?=[${SPACES}])`, 'g');
const WITH_UNIT = /^(.*?) *(in|cm|mm|["”″]|''|’’|′′)?$/i;
const DECIMAL = /^([0-9]+)(?:([.,])([0-9]+))?$/;
const FRACTION = /^(?:([0-9]+)(?: +|-))?([0-9]+)\/([0-9]+)$/;
const DRAWN_FRACTION = new RegExp(`^(?:([0-9]+)(?: *|-))?([${DRAWN}])$`);
const TAPE_PARTS = _(
  'A tape has halves, quarters, eighths, sixteenths, 32nds and 64ths: type one such as 16 1/4.',
);

/** A reading that cannot be read; message says what to type. */
export class BadReading extends Error {}

/**
 * What was typed, as {over, under} of a millimetre, the unit it was typed in, and its text. Throws
 * BadReading.
 */
export function parse(typed, unit, zeroOk = false) {
  if (!(unit in MM_PER_UNIT)) throw new BadReading(_('The unit of a reading is in, cm or mm.'));
  const example = EXAMPLES[unit];
  if ([...typed].length > LONGEST_TEXT) {
    const why = _('That is too long for a reading: type one such as {example}.', { example });
    throw new BadReading(why);
  }
  const text = typed.replace(ENDS, '').replace(LOOSE_MARKS, '$1');
  const plain = text.replace(new RegExp(`[${SPACES}]`, 'g'), ' ').replaceAll('\u2044', '/');
  if (!plain) throw new BadReading(_('Type a reading such as {example}.', { example }));
  const parts = WITH_UNIT.exec(plain);
  const number = parts ? parts[1] : plain;
  const named = parts && parts[2];
  const own = named ? (/[a-z]/i.test(named) ? named.toLowerCase() : 'in') : unit;
  const [mmOver, mmUnder] = MM_PER_UNIT[own];
  const amount = read(number, own, example);
  if (amount.over === 0n && !zeroOk) {
    throw new BadReading(_('A reading is above 0: type one such as {example}.', { example }));
  }
  return { over: amount.over * mmOver, under: amount.under * mmUnder, unit: own, text };
}

function read(number, unit, example) {
  let found = DECIMAL.exec(number);
  if (found) {
    const under = 10n ** BigInt(found[3]?.length ?? 0);
    const amount = { over: whole(found[1], example) * under + BigInt(found[3] || 0), under };
    const [mmOver, mmUnder] = MM_PER_UNIT[unit];
    const thousands = found[2] === ',' && found[3].length === 3 && found[1][0] !== '0';
    if (thousands && amount.over * mmOver < THOUSANDS_BELOW_MM * amount.under * mmUnder) {
      throw new BadReading(_(
        'Is the comma a decimal comma or thousands?'
        + ' Type the reading with a point, or as a fraction.',
      ));
    }
    return amount;
  }
  found = DRAWN_FRACTION.exec(number);
  if (found) {
    const eighths = BigInt(DRAWN.indexOf(found[2]) + 1);
    return { over: whole(found[1], example) * 8n + eighths, under: 8n };
  }
  found = FRACTION.exec(number);
  if (found) {
    const [over, under] = [BigInt(found[2]), BigInt(found[3])];
    if (!DENOMINATORS.includes(under)) throw new BadReading(TAPE_PARTS);
    if (over >= under) {
      throw new BadReading(_(
        'The fraction is less than one: leave a space after the whole number, as in 14 5/8.',
      ));
    }
    return { over: whole(found[1], example) * under + over, under };
  }
  throw new BadReading(whyNot(number, example));
}

function whole(digits, example) {
  if (digits && digits.length > MOST_WHOLE_DIGITS) {
    throw new BadReading(_(
      'That is longer than any leg or boot: type a reading such as {example}.',
      { example },
    ));
  }
  return BigInt(digits || 0);
}

function whyNot(number, example) {
  if (/['’′]/.test(number)) return _('Feet are not used here: type inches alone, such as 16 1/4.');
  if (/^[-−–]/.test(number)) {
    return _('A reading is above 0: type it without a minus sign, such as {example}.', { example });
  }
  if (/[⅓⅔⅕⅖⅗⅘⅙⅚⅐⅑⅒]/.test(number)) return TAPE_PARTS;
  return _('Type a reading in the digits 0 to 9, such as {example}.', { example });
}

/** Millimetres of a parsed length, for drawing and for asking. */
export const toMm = ({ over, under }) => Number(over) / Number(under);

/** Whole inches, numerator and denominator of the nearest sixteenth. */
export function inchParts(mm) {
  const exact = (mm / 25.4) * 16;
  const below = Math.floor(exact);
  // a tie goes to the even one, as on the server
  const tie = Math.abs(exact - below - 0.5) < 1e-9;
  const sixteenths = tie ? below + (below % 2) : Math.round(exact);
  let [over, under] = [sixteenths % 16, 16];
  while (over && over % 2 === 0) [over, under] = [over / 2, under / 2];
  return [Math.floor(sixteenths / 16), over, over ? under : 1];
}

/** As it is typed: 15 11/16, 5/8, 16, or 41.3 in centimetres. */
export function plain(mm, unit) {
  if (unit !== 'in') return (mm / 10).toFixed(1).replace(/\.0$/, '');
  const [inches, over, under] = inchParts(mm);
  return over ? `${inches ? `${inches} ` : ''}${over}/${under}` : String(inches);
}

/** Fills an element with a length, its fraction set as one; never with markup from outside. */
export function show(element, mm, unit, after = '') {
  if (unit !== 'in') {
    element.replaceChildren(decimal(mm / 10) + after);
    return;
  }
  const [inches, over, under] = inchParts(mm);
  const lead = inches || !over ? String(inches) : '';
  element.replaceChildren(lead);
  if (over && under <= 8) element.append(DRAWN[(over * 8) / under - 1]);
  else if (over) element.append(lead && '\u2009', composed(over, under));
  element.append(after);
}

/** Fills an element with words, every fraction of a tape in them set as one: Left leg, 4 1/2 up. */
export function setWords(element, text) {
  element.replaceChildren();
  for (const piece of text.split(/((?:\d+ )?\d+\/(?:2|4|8|16))/)) {
    const found = /^(?:(\d+) )?(\d+)\/(\d+)$/.exec(piece);
    if (!found) element.append(piece);
    else if (found[3] === '16') {
      const gap = found[1] ? '\u2009' : '';
      element.append(found[1] ?? '', gap, composed(found[2], found[3]));
    } else element.append((found[1] ?? '') + DRAWN[(Number(found[2]) * 8) / Number(found[3]) - 1]);
  }
}

/** A fraction of two small figures, for the sixteenths that letters do not have. */
export function composed(over, under) {
  const part = (text) => Object.assign(document.createElement('span'), { textContent: text });
  const fraction = part('');
  fraction.className = 'frac';
  fraction.append(part(over), '\u2044', part(under));
  return fraction;
}
