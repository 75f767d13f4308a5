// The list of what waits on this phone, and the ways on for what the shop could not take.

import { drop, flush, fresh } from './offline_send.js';
import { all, change, usable, within } from './offline_store.js';
import { sendPhotos } from './offline_photos.js';
import { send } from './offline_forms.js';
import { _, dayAndHour } from './words.js';

const UNSEEN = ['submission_id', 'version', 'catch_up'];
const WHY = {
  network: _('No connection. The phone tries again by itself.'),
  'signed-out': _('You are signed out. Sign in to send this.'),
  busy: _('The shop’s computer is busy. The phone tries again by itself.'),
};
const part = (name) => document.querySelector(`[data-unsent-${name}]`);
const make = (kind, more) => Object.assign(document.createElement(kind), more);

function button(text, act, className = '') {
  const made = make('button', { type: 'button', textContent: text, className });
  made.addEventListener('click', act);
  return made;
}

function typed(row) {
  const list = make('dl', { className: 'facts' });
  for (const [name, value] of new URLSearchParams(row.body)) {
    if (!value || UNSEEN.includes(name)) continue;
    const pair = make('div');
    const term = make('dt', { textContent: name.replaceAll(/[_-]/g, ' ') });
    pair.append(term, make('dd', { textContent: value }));
    list.append(pair);
  }
  const fold = make('details', { className: 'aside' });
  fold.append(make('summary', { textContent: _('What you typed') }), list);
  return fold;
}

/**
 * The number of whoever is signed in, or null where the shop cannot be asked: until then it stays
 * whose it was.
 */
async function whoseNow() {
  const now = await fresh().catch(() => null);
  if (!now) await show({ why: 'network' });
  return now && now.by;
}

/**
 * Sent once more in front of the person, whose it is from here on; what is still not taken opens as
 * the shop's own page, with everything typed.
 */
async function open({ refused, by: before, ...row }) {
  const by = await whoseNow();
  if (by === null) return;
  await change({ ...row, by });
  const result = await flush(row.id).catch(() => ({ why: 'network' }));
  if (result.saved) location.assign(result.next ?? row.page);
  else if (result.code) await asForm(row);
  else await show(result);
}

async function photoAgain(n) {
  const by = await whoseNow();
  const kept = await within('photos', 'readonly', (store) => store.get(n));
  const { refused, by: before, ...photo } = kept;
  if (by === null) return;
  await change({ ...photo, by }, 'photos');
  await sendPhotos().catch(() => {});
  await show();
}

async function asForm(row) {
  const { token } = await fresh();
  const form = make('form', { method: 'post', action: row.url, hidden: true });
  const fields = [...new URLSearchParams(row.body), ['csrf_token', token]];
  for (const [name, value] of fields) form.append(make('input', { type: 'hidden', name, value }));
  document.body.append(form);
  send(form);
}

function throwAway(row) {
  const question = _('Delete “{words}”? It is saved nowhere else.', { words: row.words });
  if (confirm(question)) drop(row.n, row.photo ? 'photos' : 'outbox');
}

/** A photo in the list of forms. */
const asRow = ({ refused, ...photo }) => ({
  ...photo,
  photo: true,
  body: '',
  words: _('A photo'),
  refused: refused && { sentence: refused },
});

function line(row) {
  const at = Number.isFinite(row.at) ? dayAndHour(row.at) : _('Earlier');
  const entry = make('li', { className: 'row' });
  const words = make('span', { className: 'row-b' });
  const title = make('strong', { textContent: row.words ?? _('A form') });
  const textContent = row.refused ? `${at}. ${row.refused.sentence}` : at;
  words.append(title, make('span', { textContent }), row.photo ? '' : typed(row));
  const ways = make('span', { className: 'acts' });
  if (row.refused?.code && !row.photo) ways.append(button(_('Fix and save'), () => open(row)));
  if (row.refused && row.photo) {
    ways.append(button(_('Send the photo again'), () => photoAgain(row.n)));
  }
  ways.append(button(_('Delete'), () => throwAway(row), 'plain'));
  words.append(ways);
  entry.append(make('span', { className: 'row-m' }), words);
  return entry;
}

function say(why) {
  part('state').textContent = WHY[why] ?? '';
  if (why !== 'signed-out') return;
  const way = { href: '/sign-in?next=/unsent', textContent: _('Sign in') };
  part('state').append(' ', make('a', way));
}

async function show({ why } = {}) {
  const rows = [...await all(), ...(await all('photos')).map(asRow)];
  const refused = rows.filter((row) => row.refused);
  const waiting = rows.filter((row) => !row.refused);
  for (const [name, some] of [['refused', refused], ['waiting', waiting]]) {
    part(name).hidden = !some.length;
    part(name).querySelector('.rows').replaceChildren(...some.map(line));
  }
  part('send').hidden = !waiting.length;
  if (!rows.length) part('state').textContent = _('All sent. Nothing is waiting on this phone.');
  else if (why === 'network') say(why);
  else if (!waiting.length) part('state').textContent = _('Everything else is sent.');
  else if (why) say(why);
  else {
    const sentence = _(
      'Saved without a connection. The phone sends these by itself, in this order.',
    );
    part('state').textContent = sentence;
  }
}

async function sendNow() {
  part('send').disabled = true;
  const { why } = await flush().catch(() => ({ why: 'network' }));
  await sendPhotos().catch(() => {});
  part('send').disabled = false;
  await show({ why });
}

if (usable) {
  show();
  document.addEventListener('outbox', ({ detail }) => show(detail ?? {}));
  part('send').addEventListener('click', sendNow);
}
