// The fields that our keys write into: where each stands, in which order they are read, what is
// read in them and how it is shown, and how they come into view.

import { parse, show, toMm } from './tape.js';
import { filled } from './words.js';

function lengthOf(text, unit, zeroOk = true) {
  try { return text.trim() ? parse(text, unit, zeroOk) : null; } catch { return null; }
}

/** Where a field stands on its sheet; a single reading stands on none: a girth, or what it says. */
export function place(input) {
  return {
    what: input.closest('[data-sheet]')?.dataset.sheet ?? (input.dataset.what || 'girth'),
    side: input.closest('[data-side]')?.dataset.side ?? '',
    station: input.closest('.height')?.dataset.station ?? '',
    repeat: Number(input.dataset.repeat ?? 1),
  };
}

function heightOf(input, unit) {
  const row = input.closest('.height');
  const text = row?.dataset.height || row?.querySelector('[data-own-height]')?.value || '';
  const found = lengthOf(text, unit);
  return found ? toMm(found) : 0;
}

const sheetOf = (input) => input.closest('[data-sheet]')?.dataset.sheet ?? '';

/** The fields of a form: sheet by sheet, up the left side, then up the right. */
export function inOrder(form, unit) {
  const all = [...form.querySelectorAll('[data-tape]')];
  const sheets = [...new Set(all.map(sheetOf))];
  const ranks = new Map(all.map((input, i) => {
    const { side, repeat } = place(input);
    const sheet = sheets.indexOf(sheetOf(input));
    return [input, [sheet, side === 'right' ? 1 : 0, heightOf(input, unit), repeat, i]];
  }));
  const apart = (a, b) => ranks.get(a).map((value, i) => value - ranks.get(b)[i]);
  return all.sort((a, b) => apart(a, b).find((differ) => differ) ?? 0);
}

/**
 * What is read in each field: {what, side, height, station, repeat, input, mm, unit, text}; mm is
 * null where nothing (readable) stands.
 */
export function cellsOf(inputs, unit) {
  return inputs.map((input) => {
    const where = place(input);
    const length = lengthOf(input.value, unit, ['gap', 'amount'].includes(where.what));
    const [mm, height] = [length ? toMm(length) : null, heightOf(input, unit)];
    return { ...where, input, height, mm, unit: length?.unit ?? unit, text: input.value };
  });
}

/** A reading on no sheet: the keys come into view, and its field above them or beside them. */
export function bringBoth(input, panel) {
  const low = panel.getBoundingClientRect();
  scrollBy(0, Math.max(0, Math.min(low.bottom - innerHeight, low.top)));
  const [keys, field] = [panel.getBoundingClientRect(), input.getBoundingClientRect()];
  if (keys.left >= field.right) input.scrollIntoView({ block: 'nearest' });
  else scrollBy(0, Math.max(0, field.bottom + 8 - keys.top));
}

/** The row of a field on a sheet comes above the keys, and no row is left half under them. */
export function bringUp(input, panel) {
  input.closest('.height')?.scrollIntoView({ block: 'nearest' });
  const edge = panel.getBoundingClientRect().top;
  const rows = [...panel.closest('form').querySelectorAll('.height')];
  const cut = rows.map((row) => row.getBoundingClientRect())
    .find((row) => row.top < edge && row.bottom > edge);
  if (cut) scrollBy(0, cut.bottom - edge);
}

/** How often the field was read, or that it may stay empty: left has those that may. */
export function showHow(cell, { inputs, current, says, left }) {
  const how = cell.input.parentElement.querySelector('.how');
  if (!how) return;
  const mine = inputs.filter((input) => input.parentElement === cell.input.parentElement);
  const count = mine.filter((input) => input.value).length;
  const none = left.has(cell.input) ? says.spare : says.none;
  how.textContent = mine.includes(current)
    ? says.now : [none, says.once][count] ?? filled(says.often, { count });
  how.parentElement.toggleAttribute('data-now', mine.includes(current));
}

/** A reading large, and in the other unit beside it; or why it cannot be read. */
export function showValue(value, echo, cell, unit) {
  if (cell.mm === null) {
    value.textContent = cell.text || '–';
    echo.textContent = cell.text ? whyNot(cell.text, unit) : '';
    return;
  }
  show(value, cell.mm, cell.unit, ` ${cell.unit === 'in' ? 'in' : 'cm'}`);
  show(echo, cell.mm, cell.unit === 'in' ? 'cm' : 'in', cell.unit === 'in' ? ' cm' : ' in');
}

function whyNot(text, unit) {
  try { parse(text, unit); return ''; } catch (error) { return error.message; }
}
