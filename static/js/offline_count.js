// On every page: the shell that works without network, the outbox, and how many wait, always in
// view.

import { counts, flush, fresh } from './offline_send.js';
import { usable, wipe } from './offline_store.js';
import './offline_forms.js';
import './kept_typing.js';
import './offline_not_sent.js';
import './offline_photos.js';
import { _ } from './words.js';

const AWAY = _(
  'No connection. This phone is empty now, but you are still signed in.'
  + ' Sign out again when the connection is back.',
);
const place = document.querySelector('[data-outbox]');

let answered = navigator.onLine;   // the page itself came from the shop

/** How many wait and how many need a fix, as a way to the list of them. */
function stateOf({ waiting, refused }) {
  const fix = refused ? _('{count} to fix', { count: refused }) : '';
  const here = { count: waiting };
  if (waiting && !answered) return _('No connection. {count} waiting on this phone.', here);
  const kept = waiting ? _('{count} waiting on this phone', here) : '';
  return [kept, fix].filter(Boolean).join('; ');
}

/** "All sent" only where the shop answered; what stood there where the phone cannot say. */
async function show() {
  const known = await counts().catch(() => null);
  if (!known) return;
  const said = stateOf(known);
  const way = Object.assign(document.createElement('a'), { href: '/unsent', textContent: said });
  const empty = place.dataset.outbox || (answered ? _('All sent') : _('No connection'));
  place.replaceChildren(said ? way : empty);
}

/** The shop answered, or it did not. */
function heard(now) {
  answered = now;
  show();
}

if (usable && place) {
  show();
  document.addEventListener('outbox', ({ detail }) => {
    if (detail?.id || detail?.why === 'busy' || detail?.why === 'signed-out') answered = true;
    if (detail?.why === 'network') answered = false;
    show();
  });
  addEventListener('offline', () => heard(false));
  addEventListener('online', () => { fresh().then(() => heard(true), () => heard(false)); });
  addEventListener('pageshow', ({ persisted }) => {
    if (persisted) fresh().then(() => heard(true), () => heard(false));
  });
}

// Signing out wipes this phone, so what waits is sent first; where it cannot be sent, the person
// says so a second time.
document.addEventListener('submit', async (event) => {
  const form = event.target;
  const leaves = form.getAttribute('action')?.endsWith('/sign-out');
  if (!usable || !leaves || 'wiped' in form.dataset) return;
  event.preventDefault();
  await flush().catch(() => {});   // what is not sent is asked about
  const { waiting, refused } = await counts();
  const count = waiting + refused;
  const question = _('Not saved in the shop yet: {count}. Sign out and lose them?', { count });
  if (count && !confirm(question)) return;
  await wipe();
  localStorage.clear();
  sessionStorage.clear();
  form.dataset.wiped = '';
  form.dataset.away = AWAY;
  form.requestSubmit();
});

if (usable && document.querySelector('[data-shutter]')) import('./photo_shutter.js');
const takesScans = 'form[data-scan], form[data-pickup], form[data-find], form[data-tags]';
const scanned = document.querySelector(takesScans) && !document.querySelector('[data-ready]');
if (scanned) import('./scan.js');
// A long page comes back from a refused form at its top: what is wrong is brought into view.
const wrong = document.querySelector('main .errors');
if (wrong && wrong.getBoundingClientRect().top > innerHeight / 2) {
  wrong.scrollIntoView({ block: 'center' });
}

if (document.querySelector('form[data-pickup]')) import('./pickup.js');
const { worker = '/sw.js', scope } = document.body.dataset;   // a customer's page has its own
const install = () => navigator.serviceWorker.register(worker, scope ? { scope } : {});
if ('serviceWorker' in navigator) addEventListener('load', () => { install().catch(() => {}); });
