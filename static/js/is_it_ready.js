// "Is it ready?" answered while the number is typed: number → words → shelf, kept on the phone
// without names.

import { _, dayAndHour } from './words.js';

const form = document.querySelector('[data-find]');
const field = form?.querySelector('input');
const answer = form?.querySelector('[data-answer]');
const offline = document.querySelector('[data-ready]');
const KEPT = 'ready-list';

async function list() {
  try {
    const how = { headers: { Accept: 'application/json' } };
    const sent = await fetch(form.dataset.find || '/ready.json', how);
    if (sent.ok) {
      const rows = await sent.json();
      localStorage.setItem(KEPT, JSON.stringify({ at: Date.now(), rows }));
      return { rows, at: null };
    }
    if (sent.status === 401) localStorage.removeItem(KEPT);
  } catch {
    // no network: what was kept last answers, and says how old it is
  }
  const kept = JSON.parse(localStorage.getItem(KEPT) ?? 'null');
  return kept ?? { rows: [], at: null };
}

const begun = (text) => text.charAt(0).toUpperCase() + text.slice(1);

/** What the shop said of a ticket, and on a list from the phone's memory how old it is. */
function words({ number, ready, words: where }, at) {
  const known = { number, where: ready ? begun(where) : where, time: at && dayAndHour(at) };
  if (ready && at) return _('{number}: all here. {where} (as of {time})', known);
  if (ready) return _('{number}: all here. {where}', known);
  return at ? _('{number}: {where} (as of {time})', known) : _('{number}: {where}', known);
}

function say({ rows, at }) {
  const typed = field.value.trim();
  const row = /^\d{1,4}$/.test(typed) ? rows.find((one) => String(one.number) === typed) : null;
  answer.textContent = row ? words(row, at) : '';
  const nowhere = _('Not on this phone’s list. Try again when the connection is back.');
  if (offline && typed && !row) answer.textContent = nowhere;
}

/** The page without network shows the whole list, those that are all here first. */
function show({ rows, at }) {
  offline.hidden = !rows.length;
  const age = at ? _('As of {time}.', { time: dayAndHour(at) }) : '';
  document.querySelector('[data-ready-as-of]').textContent = age;
  const sorted = [...rows].sort((a, b) => b.ready - a.ready || a.number - b.number);
  document.querySelector('[data-ready-list]').replaceChildren(...sorted.map((row) => {
    const [line, number, text] = ['li', 'span', 'span'].map((kind) => document.createElement(kind));
    line.className = 'row';
    number.className = 'row-m';
    const known = { className: 'row-n', textContent: row.number };
    number.append(Object.assign(document.createElement('span'), known));
    const where = begun(row.words);
    text.className = 'row-b';
    text.textContent = row.ready ? _('All here. {where}', { where }) : where;
    line.append(number, text);
    return line;
  }));
}

/** What letters find, or four digits, stands under the field while they are typed. */
let asked = 0;
async function find() {
  const mine = ++asked;
  const typed = field.value.trim();
  const old = document.querySelector('[aria-labelledby="l-found"]');
  if (typed.length < 2 || /^\d{1,3}$/.test(typed)) {
    old?.remove();
    return;
  }
  await new Promise((done) => { setTimeout(done, 250); });
  if (mine !== asked) return;
  const sent = await fetch(`${form.action}?q=${encodeURIComponent(typed)}`).catch(() => null);
  // a tag opens by Find alone
  if (mine !== asked || !sent?.ok || !sent.url.startsWith(form.action)) return;
  const page = new DOMParser().parseFromString(await sent.text(), 'text/html');
  const list = page.querySelector('[aria-labelledby="l-found"]');
  if (mine !== asked || !list) return;
  document.querySelector('[aria-labelledby="l-found"]')?.remove();
  form.after(list);
}

if (form) {
  const known = list();
  field.addEventListener('input', async () => say(await known));
  if (offline) {
    known.then(show);
    form.addEventListener('submit', async (event) => { event.preventDefault(); say(await known); });
  } else {
    field.addEventListener('input', find);
    // a scanner on a computer types into the field at once; on a phone the keyboard would open
    const hand = matchMedia('(hover: hover) and (pointer: fine)');
    if (hand.matches && !location.hash) field.focus({ preventScroll: true });
  }
}
