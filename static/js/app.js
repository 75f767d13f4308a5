// On every page: the shell that works without network, the outbox, and how many wait, always in view.

import { counts, flush } from './outbox.js';
import { usable, wipe } from './outbox_store.js';
import './outbox_forms.js';
import './keep.js';
import './guard.js';
import './photo_queue.js';

const AWAY = 'The shop cannot be reached just now: you are still signed in there. This phone is empty; sign out again when the network is back.';
const place = document.querySelector('[data-outbox]');

/** "3 not sent yet, safe on this phone", as a way to the list of them; what stood there where the phone cannot say. */
async function show() {
  const known = await counts().catch(() => null);
  if (!known) return;
  const { waiting, refused } = known;
  const said = [waiting && `${waiting} not sent yet, safe on this phone`, refused && `${refused} needs a look`].filter(Boolean).join('; ');
  const way = Object.assign(document.createElement('a'), { href: '/unsent', textContent: said });
  place.replaceChildren(said ? way : place.dataset.outbox || 'All sent');
}

if (usable && place) {
  show();
  document.addEventListener('outbox', show);
}

// Signing out wipes this phone, so what waits is sent first; where it cannot be sent, the person says so a second time.
document.addEventListener('submit', async (event) => {
  const form = event.target;
  if (!usable || !form.getAttribute('action')?.endsWith('/sign-out') || 'wiped' in form.dataset) return;
  event.preventDefault();
  await flush().catch(() => {});   // what is not sent is asked about
  const { waiting, refused } = await counts();
  if (waiting + refused && !confirm(`${waiting + refused} on this phone are not saved in the shop yet. Sign out and lose them?`)) return;
  await wipe();
  localStorage.clear();
  sessionStorage.clear();
  form.dataset.wiped = '';
  form.dataset.away = AWAY;
  form.requestSubmit();
});

if (usable && document.querySelector('[data-shutter]')) import('./photo.js');
if (document.querySelector('form[data-scan], form[data-pickup], form[data-find], form[data-tags]') && !document.querySelector('[data-ready]')) import('./scan.js');
// A long page comes back from a refused form at its top: what is wrong is brought into view.
const wrong = document.querySelector('main .errors');
if (wrong && wrong.getBoundingClientRect().top > innerHeight / 2) wrong.scrollIntoView({ block: 'center' });

if (document.querySelector('form[data-pickup]')) import('./pickup.js');
if ('serviceWorker' in navigator) addEventListener('load', () => navigator.serviceWorker.register('/sw.js').catch(() => {}));
