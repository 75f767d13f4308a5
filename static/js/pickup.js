// Tried on and handed over stand on one page as two forms: what is ticked and typed in the one
// stays when the other is sent.
// The words above the buttons name the balance only while that is what the field says.

const KEY = `pickup ${location.pathname}`;
const hand = () => document.querySelector('form[data-pickup]');
const UNSAVED = ['hidden', 'submit', 'button'];
const fields = () => [...hand()?.elements ?? []]
  .filter((one) => one.name && !UNSAVED.includes(one.type));
const isTick = (one) => one.type === 'checkbox' || one.type === 'radio';

function putBack() {
  const kept = JSON.parse(sessionStorage.getItem(KEY) ?? '[]');
  sessionStorage.removeItem(KEY);
  if (hand()?.querySelector('.errors')) return;   // the shop's own page has everything typed
  for (const one of fields()) {
    const before = kept.find(([name, which]) => (
      name === one.name && (!isTick(one) || which === one.value)));
    if (before && isTick(one)) one.checked = before[2];
    else if (before) [, , one.value] = before;
  }
}

function nameTheBalance() {
  const paid = hand()?.elements.namedItem('paid');
  const words = hand()?.querySelector('[data-takes]');
  if (!paid || !words) return;
  words.dataset.all ??= words.textContent;
  const same = paid.value.trim() === paid.defaultValue;
  words.textContent = same ? words.dataset.all : hand().dataset.pickup;
}

document.addEventListener('submit', (event) => {
  if (!('tried' in event.target.dataset)) return;
  const rows = fields().map((one) => [one.name, one.value, isTick(one) ? one.checked : one.value]);
  sessionStorage.setItem(KEY, JSON.stringify(rows));
}, true);
document.addEventListener('input', ({ target }) => {
  if (target.name === 'paid') nameTheBalance();
});
putBack();
nameTheBalance();
