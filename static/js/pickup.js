// Tried on and handed over stand on one page as two forms: what is ticked and typed in the one stays when the other is sent.
// The button names the sum that is owed only while that is what the field says.

const KEY = `pickup ${location.pathname}`;
const hand = () => document.querySelector('form[data-pickup]');
const fields = () => [...hand()?.elements ?? []].filter((one) => one.name && !['hidden', 'submit', 'button'].includes(one.type));
const isTick = (one) => one.type === 'checkbox';

function putBack() {
  const kept = JSON.parse(sessionStorage.getItem(KEY) ?? '[]');
  sessionStorage.removeItem(KEY);
  if (hand()?.querySelector('.errors')) return;   // the shop's own page has everything typed
  for (const one of fields()) {
    const said = kept.find(([name, which]) => name === one.name && (!isTick(one) || which === one.value));
    if (said && isTick(one)) one.checked = said[2];
    else if (said) [, , one.value] = said;
  }
}

function nameTheSum() {
  const [paid, words] = [hand()?.elements.namedItem('paid'), hand()?.querySelector('button.next span')];
  if (!paid || !words) return;
  words.dataset.all ??= words.textContent;
  words.textContent = paid.value.trim() === paid.defaultValue ? words.dataset.all : words.dataset.all.split(',')[0];
}

document.addEventListener('submit', (event) => {
  if (!('tried' in event.target.dataset)) return;
  sessionStorage.setItem(KEY, JSON.stringify(fields().map((one) => [one.name, one.value, isTick(one) ? one.checked : one.value])));
}, true);
document.addEventListener('input', (event) => { if (event.target.name === 'paid') nameTheSum(); });
putBack();
nameTheSum();
