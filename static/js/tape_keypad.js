// The keys as they stand on the phone: ten whole numbers, the parts of one, the ways beside them.

import { composed, show } from './tape.js';
import { USUAL, along } from './leg_outline.js';

const EIGHTHS = ['0', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8'];
const ODD = ['1/16', '3/16', '5/16', '7/16', '9/16', '11/16', '13/16', '15/16'];

/**
 * Where the ten likely whole numbers begin: at a five or a nought, so that a number always sits in
 * the same column.
 */
export function firstWhole(here, cells, unit) {
  if (here.what === 'gap' || here.what === 'amount') return 0;
  const guess = here.mm ?? (Number(here.input.dataset.likely) || fromNeighbour(here, cells));
  return Math.max(0, 5 * Math.round((guess / (unit === 'in' ? 25.4 : 10) - 4.5) / 5));
}

/** The nearest reading of the same kind, carried to this height. */
function fromNeighbour(here, cells) {
  const usual = along(USUAL, here.height || 300);
  const apart = (cell) => Math.abs(cell.height - here.height) + (cell.side === here.side ? 1 : 0);
  const isNear = (cell) => cell.what === here.what && cell.mm !== null && cell !== here;
  const [near] = cells.filter(isNear).sort((a, b) => apart(a) - apart(b));
  return near ? (near.mm * usual) / along(USUAL, near.height || 300) : usual;
}

/**
 * The buttons for a mode {digits, odd}; now: the whole number that is chosen; says: our words for
 * them.
 */
export function keys(mode, unit, first, now, says) {
  const row = () => Array.from({ length: 10 }, (_, i) => first + i);
  const wholes = mode.digits ? [1, 2, 3, 4, 5, 6, 7, 8, 9, 0] : row();
  const look = (n) => (!mode.digits && String(n) === now ? 'n is-on' : 'n');
  const numbers = wholes.map((n) => key(String(n), { whole: n }, look(n)));
  return [...numbers, ...(unit === 'in' ? fractions(mode.odd, says) : tenths())];
}

function fractions(odd, says) {
  const tick = (i) => (odd ? 'k' : `k${i % 4 === 0 ? ' h' : i % 2 === 0 ? ' q' : ''}`);
  const parts = (odd ? ODD : EIGHTHS).map((text, i) => key(text, { part: text }, tick(i)));
  if (!odd) parts[0] = wholeInch(says);
  const other = key(odd ? says.eighths : says.sixteenths, { act: 'odd' }, 'w');
  return [...parts.slice(0, 4), other, ...parts.slice(4), key(says.back, { act: 'back' }, 'w')];
}

/** No fraction: the longest mark of the tape, in words, so that it is no second 0. */
function wholeInch(says) {
  const button = key(says.whole, { part: '0' }, 'k i');
  button.setAttribute('aria-label', says['whole inch']);
  return button;
}

const tenths = () => Array.from(
  { length: 10 },
  (_, i) => key(`.${i}`, { part: `.${i}` }, i % 5 ? 'k' : 'k h'),
);

function key(text, data, cls) {
  const how = { type: 'button', className: cls, tabIndex: -1 };
  const button = Object.assign(document.createElement('button'), how);
  Object.assign(button.dataset, data);
  const [over, under] = text.split('/');
  if (!under) button.append(text);
  else if (under === '16') button.append(composed(over, under));
  else button.append('⅛¼⅜½⅝¾⅞'[(Number(over) * 8) / Number(under) - 1]);
  return button;
}

/** What a doubtful reading may have been, a key each: answers of {mm, unit, set}. */
export function answerKeys(answers, ownUnit) {
  return answers.map(({ mm, unit, set }) => {
    const button = Object.assign(document.createElement('button'), { type: 'button' });
    button.dataset.set = set;
    show(button, mm, unit, unit === ownUnit ? '' : ` ${unit}`);
    return button;
  });
}
