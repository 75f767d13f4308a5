// Which field is up next, and which fields of a sheet may stay empty: by the gap, boots but where
// the gap is highest and where it is widest; beside the legs of last time, legs with an inch of
// room in the boot.

import { place } from './tape_fields.js';

/** The fields that may stay empty, from what is typed so far. rules: the handbook's figures. */
export function spare(form, cells, rules) {
  const first = cells.filter((cell) => cell.repeat === 1);
  const sides = ['left', 'right'].map((side) => first.filter((cell) => cell.side === side));
  const compared = form.classList.contains('compared') && form.elements.method?.value === 'inside';
  return new Set(sides.flatMap((side) => [
    ...spareBoots(side), ...(compared ? spareLegs(side, rules.last_room) : []),
  ]).map((cell) => cell.input));
}

/**
 * The empty field that is up next: a second reading that was asked for comes before all others, and
 * what is folded away is not asked for. left: those that may stay empty.
 */
export function upNext(inputs, left) {
  const empty = inputs.filter((input) => (
    !input.value && !left.has(input) && !input.closest('details:not([open])')));
  return empty.find((input) => place(input).repeat > 1) ?? empty[0];
}

const of = (cells, kind) => cells.filter((cell) => cell.what === kind);

function spareBoots(cells) {
  const gaps = of(cells, 'gap');
  const read = gaps.filter((cell) => cell.mm !== null);
  const highest = Math.max(...(read.length ? read : gaps).map((cell) => cell.height));
  const most = Math.max(...read.map((cell) => cell.mm));
  const widest = Math.max(...read.filter((cell) => cell.mm === most).map((cell) => cell.height));
  if (!gaps.length) return [];
  return of(cells, 'boot').filter((cell) => ![highest, widest].includes(cell.height));
}

/** Never the leg that has least room. */
function spareLegs(cells, room) {
  const boots = of(cells, 'boot').filter((cell) => cell.mm !== null);
  const beside = of(cells, 'leg').flatMap((leg) => {
    const boot = boots.find((cell) => cell.height === leg.height);
    const last = Number(leg.input.parentElement.querySelector('[data-last]')?.dataset.last);
    return boot && last ? [{ leg, has: boot.mm - last }] : [];
  });
  const least = Math.min(...beside.map(({ has }) => has));
  return beside.filter(({ has }) => has >= room && has > least).map(({ leg }) => leg);
}

/** Shows the legs of last time beside the fields, at one tap. then: what follows. */
export function comparing(form, then) {
  const button = form.querySelector('[data-compare]');
  if (!button) return;
  button.hidden = false;
  button.addEventListener('click', () => {
    form.classList.add('compared');
    for (const last of form.querySelectorAll('[data-last]')) last.hidden = false;
    button.remove();
    then();
  });
}
