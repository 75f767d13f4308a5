// The questions a reading raises while the tape is still in the hand. They never block: every
// answer is accepted. The same questions as fitcounter/fit/assessment/slips.py; the figures come
// from the handbook, in the page's data-rules.
// A cell: {what, side, height, station, repeat, mm, unit, text}; mm is null where nothing
// (readable) stands.

import { plain } from './tape.js';
import { filled } from './words.js';

const INCH = 25.4;
const isInch = (differ, rules) => Math.abs(Math.abs(differ) - INCH) <= rules.inch_within;
const ask = (text, ...answers) => ({ text, answers });

const typedIn = (mm, unit) => (unit === 'in' ? plain(mm, 'in') : plain(mm, 'cm'));

/**
 * The question about one cell among all of them, or null. says: our sentences, by name. answers:
 * {mm, unit, set}, the last one keeps what was typed.
 */
export function question(here, cells, rules, says) {
  if (here.mm === null || here.what === 'amount' || here.what === 'height') return null;
  const keep = { mm: here.mm, unit: here.unit, set: here.text };
  if (here.what === 'gap') return second(here, cells, rules, says, keep);
  return unitSlip(here, rules, says)
    ?? second(here, cells, rules, says, keep)
    ?? implausible(here, rules, says, keep)
    ?? offTrend(here, cells, rules, says, keep)
    ?? betweenSides(here, cells, rules, says, keep)
    ?? copied(here, cells, rules, says, keep);
}

function second(here, cells, rules, says, keep) {
  if (here.repeat < 2) return null;
  const before = cells.filter((one) => one.repeat === here.repeat - 1 && one.mm !== null);
  const first = before.find((one) => sameSpot(one, here));
  const close = here.what === 'boot' || here.station === 'small';
  if (!first) return null;
  const differ = first.mm - here.mm;
  if (Math.abs(differ) <= (close ? rules.agree_close : rules.agree)) return null;
  const [inch, less] = [isInch(differ, rules), here.mm < first.mm];
  const text = !inch ? says.differs : less ? says.less : says.more;
  return ask(text, { mm: first.mm, unit: first.unit, set: first.text }, keep);
}

function unitSlip(here, rules, says) {
  const range = rules.unit_slip[here.unit];
  const number = here.mm / (here.unit === 'in' ? INCH : 10);
  const ordinary = here.mm >= rules.ordinary[0] && here.mm <= rules.ordinary[1];
  if (!range || ordinary || number < range[0] || number > range[1]) return null;
  const bare = here.text.replace(/\s*(in|cm|mm|["”″])$/i, '');
  const other = here.unit === 'in' ? 'cm' : 'in';
  const answer = (unit) => (
    { mm: number * (unit === 'in' ? INCH : 10), unit, set: `${bare} ${unit}` });
  return ask(says.unit, answer(other), answer(here.unit));
}

function implausible(here, rules, says, keep) {
  if (here.what !== 'leg') return null;
  const [low, high] = rules.refuse[here.station] ?? [0, Infinity];
  if (here.mm < low || here.mm > high) return ask(says['no leg'], keep);
  const [least, most] = [rules.ask_under[here.station], rules.ask_over[here.station]];
  const few = here.mm < (least ?? 0) || here.mm > (most ?? Infinity);
  return few ? ask(says['few legs'], keep) : null;
}

function offTrend(here, cells, rules, says, keep) {
  const leg = firstReadings(here.what, cells).filter((one) => one.side === here.side);
  leg.sort((a, b) => a.height - b.height);
  const girths = leg.map((one) => one.mm);
  const at = leg.findIndex((one) => one.height === here.height);
  const isEnd = at < 1 || at > leg.length - 2;
  if (isEnd || [Math.max(...girths), Math.min(...girths)].includes(here.mm)) return null;
  const [below, above] = [leg[at - 1], leg[at + 1]];
  const [least, most] = [Math.min(below.mm, above.mm), Math.max(below.mm, above.mm)];
  if (here.mm >= least && here.mm <= most) return null;
  const rise = (above.mm - below.mm) * (here.height - below.height);
  const line = below.mm + rise / (above.height - below.height);
  return isInch(here.mm - line, rules) ? ask(says.neighbors, inchNearer(here, line), keep) : null;
}

function betweenSides(here, cells, rules, says, keep) {
  const firsts = firstReadings(here.what, cells);
  const other = across(here, firsts);
  if (!other) return null;
  const others = firsts.filter((one) => one.side === here.side && one.height !== here.height)
    .map((one) => [one, across(one, firsts)])
    .filter(([, there]) => there).map(([one, there]) => one.mm - there.mm).sort((a, b) => a - b);
  const half = (others.length - 1) / 2;
  const middle = (others[Math.floor(half)] + others[Math.ceil(half)]) / 2;
  const apart = here.mm - other.mm;
  if (others.length > 1 && Math.abs(middle) < rules.sides_differ && isInch(apart - middle, rules)) {
    return ask(says[other.side], inchNearer(here, other.mm + middle), keep);
  }
  if (here.what !== 'leg' || Math.abs(apart) < rules.sides_differ) return null;
  return ask(filled(says.apart, { length: typedIn(Math.abs(apart), here.unit) }), keep);
}

function copied(here, cells, rules, says, keep) {
  if (here.what !== 'leg') return null;
  const legs = firstReadings('leg', cells);
  const pairs = legs.filter((one) => one.side === here.side).map((one) => [one, across(one, legs)]);
  const alike = pairs.every(([one, there]) => there && there.mm === one.mm);
  if (pairs.length < rules.copied_from || !alike) return null;
  return ask(says.copied, keep);
}

const firstReadings = (what, cells) => (
  cells.filter((one) => one.what === what && one.repeat === 1 && one.mm !== null));

/** The reading at the same height of the other side. */
const across = (cell, cells) => (
  cells.find((one) => one.side !== cell.side && one.height === cell.height));

const sameSpot = (a, b) => a.what === b.what && a.side === b.side && a.height === b.height;

function inchNearer(here, towards) {
  const mm = here.mm + (here.mm < towards ? INCH : -INCH);
  const set = here.unit === 'in' ? plain(mm, 'in') : `${plain(mm, 'cm')} cm`;
  return { mm, unit: here.unit, set };
}
