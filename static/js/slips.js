// The questions a reading raises while the tape is still in the hand. They never block: every answer is accepted.
// The same questions as fitcounter/fit/assessment/slips.py; the figures come from the handbook, in the page's data-rules.
// A cell: {what, side, height, station, repeat, mm, unit, text}; mm is null where nothing (readable) stands.

import { plain } from './tape.js';
import { filled } from './words.js';

const INCH = 25.4;
const isInch = (differ, rules) => Math.abs(Math.abs(differ) - INCH) <= rules.inch_within;
const ask = (text, ...answers) => ({ text, answers });

const typedIn = (mm, unit) => (unit === 'in' ? plain(mm, 'in') : plain(mm, 'cm'));

/** The question about one cell among all of them, or null. says: our sentences, by name. answers: {mm, unit, set}, the last one keeps what was typed. */
export function question(here, cells, rules, says) {
  if (here.mm === null || here.what === 'amount' || here.what === 'height') return null;
  const keep = { mm: here.mm, unit: here.unit, set: here.text };
  if (here.what === 'gap') return second(here, cells, rules, says, keep);
  return unitSlip(here, rules, says) ?? second(here, cells, rules, says, keep) ?? implausible(here, rules, says, keep)
    ?? offTrend(here, cells, rules, says, keep) ?? betweenSides(here, cells, rules, says, keep) ?? copied(here, cells, rules, says, keep);
}

function second(here, cells, rules, says, keep) {
  if (here.repeat < 2) return null;
  const first = cells.find((one) => one.repeat === here.repeat - 1 && sameSpot(one, here) && one.mm !== null);
  const close = here.what === 'boot' || here.station === 'small';
  if (!first || Math.abs(first.mm - here.mm) <= (close ? rules.agree_close : rules.agree)) return null;
  const text = !isInch(first.mm - here.mm, rules) ? says.differs : here.mm < first.mm ? says.less : says.more;
  return ask(text, { mm: first.mm, unit: first.unit, set: first.text }, keep);
}

function unitSlip(here, rules, says) {
  const range = rules.unit_slip[here.unit];
  const number = here.mm / (here.unit === 'in' ? INCH : 10);
  const ordinary = here.mm >= rules.ordinary[0] && here.mm <= rules.ordinary[1];
  if (!range || ordinary || number < range[0] || number > range[1]) return null;
  const bare = here.text.replace(/\s*(in|cm|mm|["”″])$/i, '');
  const other = here.unit === 'in' ? 'cm' : 'in';
  const answer = (unit) => ({ mm: number * (unit === 'in' ? INCH : 10), unit, set: `${bare} ${unit}` });
  return ask(says.unit, answer(other), answer(here.unit));
}

function implausible(here, rules, says, keep) {
  if (here.what !== 'leg') return null;
  const [low, high] = rules.refuse[here.station] ?? [0, Infinity];
  if (here.mm < low || here.mm > high) return ask(says['no leg'], keep);
  const few = here.mm < (rules.ask_under[here.station] ?? 0) || here.mm > (rules.ask_over[here.station] ?? Infinity);
  return few ? ask(says['few legs'], keep) : null;
}

function offTrend(here, cells, rules, says, keep) {
  const leg = cells.filter((one) => one.what === here.what && one.side === here.side && one.repeat === 1 && one.mm !== null);
  leg.sort((a, b) => a.height - b.height);
  const girths = leg.map((one) => one.mm);
  const at = leg.findIndex((one) => one.height === here.height);
  if (at < 1 || at > leg.length - 2 || here.mm === Math.max(...girths) || here.mm === Math.min(...girths)) return null;
  const [below, above] = [leg[at - 1], leg[at + 1]];
  if (here.mm >= Math.min(below.mm, above.mm) && here.mm <= Math.max(below.mm, above.mm)) return null;
  const line = below.mm + ((above.mm - below.mm) * (here.height - below.height)) / (above.height - below.height);
  return isInch(here.mm - line, rules) ? ask(says.neighbors, inchNearer(here, line), keep) : null;
}

function betweenSides(here, cells, rules, says, keep) {
  const firsts = cells.filter((one) => one.what === here.what && one.repeat === 1 && one.mm !== null);
  const other = firsts.find((one) => one.side !== here.side && one.height === here.height);
  if (!other) return null;
  const others = firsts.filter((one) => one.side === here.side && one.height !== here.height)
    .map((one) => [one, firsts.find((there) => there.side !== here.side && there.height === one.height)])
    .filter(([, there]) => there).map(([one, there]) => one.mm - there.mm).sort((a, b) => a - b);
  const middle = (others[Math.floor((others.length - 1) / 2)] + others[Math.ceil((others.length - 1) / 2)]) / 2;
  const apart = here.mm - other.mm;
  if (others.length > 1 && Math.abs(middle) < rules.sides_differ && isInch(apart - middle, rules)) {
    return ask(says[other.side], inchNearer(here, other.mm + middle), keep);
  }
  if (here.what !== 'leg' || Math.abs(apart) < rules.sides_differ) return null;
  return ask(filled(says.apart, { length: typedIn(Math.abs(apart), here.unit) }), keep);
}

function copied(here, cells, rules, says, keep) {
  if (here.what !== 'leg') return null;
  const pairs = cells.filter((one) => one.what === 'leg' && one.repeat === 1 && one.side === here.side && one.mm !== null)
    .map((one) => [one, cells.find((there) => there.what === 'leg' && there.repeat === 1 && there.side !== one.side && there.height === one.height)]);
  const alike = pairs.every(([one, there]) => there && there.mm === one.mm);
  if (pairs.length < rules.copied_from || !alike) return null;
  return ask(says.copied, keep);
}

const sameSpot = (a, b) => a.what === b.what && a.side === b.side && a.height === b.height;

function inchNearer(here, towards) {
  const mm = here.mm + (here.mm < towards ? INCH : -INCH);
  return { mm, unit: here.unit, set: here.unit === 'in' ? plain(mm, 'in') : `${plain(mm, 'cm')} cm` };
}
