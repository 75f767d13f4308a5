// Boots off on this phone from the moment something does not feel right, also without network and
// on a page kept from before: until a newer page of the shop says otherwise.

import { all } from './offline_store.js';

const KEY = `hold ${location.pathname}`;
const made = Date.parse(document.querySelector('[data-made]')?.dataset.made ?? '') || 0;
const box = document.querySelector('[data-wear]');

/** Is a report still on this phone, or was one made on a page as old as this one? */
async function isHeld() {
  const told = Number(localStorage.getItem(KEY));
  const rows = await all().catch(() => []);
  if (rows.some(({ url }) => url === `${location.pathname}/not-right`)) return true;
  if (told && told < made) localStorage.removeItem(KEY);
  return told >= made && told > 0;
}

function hold() {
  if (!box || box.classList.contains('on-hold')) return;
  box.classList.add('on-hold');
  box.querySelector('h1').textContent = box.dataset.hold;
  document.querySelector('.urgent')?.classList.add('shown');
  document.querySelector('section.days')?.setAttribute('hidden', '');
  box.dispatchEvent(new Event('hold'));
}

document.addEventListener('waits', ({ target }) => {
  if (!target.matches('.not-right')) return;
  localStorage.setItem(KEY, String(made));
  hold();
});
const look = () => isHeld().then((held) => { if (held) hold(); }, () => {});
addEventListener('storage', ({ key }) => { if (key === KEY) look(); });
look();
