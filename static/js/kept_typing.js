// What is typed in a form that may wait is kept on this phone key by key, because a phone throws a
// page away while it is in a pocket. It comes back when the page is opened again; it goes when the
// form is saved or somebody signs out, and after three days.

import { all, change, remove, usable } from './offline_store.js';
import { _, dayAndHour } from './words.js';

const PAUSE_MS = 300;
const LONGEST_MS = 3 * 86400000;

const keyOf = (form) => `${location.pathname} ${form.getAttribute('action') ?? ''}`;
const versionOf = (form) => form.elements.namedItem('version')?.value ?? '';
const UNTYPED = ['hidden', 'submit', 'button', 'password', 'file'];
const fields = (form) => (
  [...form.elements].filter((one) => one.name && !UNTYPED.includes(one.type)));
const isPicked = (one) => one.type === 'radio' || one.type === 'checkbox';

function valuesOf(form) {
  return fields(form).filter((one) => !isPicked(one) || one.checked)
    .map((one) => [one.name, one.value]);
}

/** Nothing is said where the phone has no room. */
const keep = (form) => change(
  { page: keyOf(form), at: Date.now(), version: versionOf(form), values: valuesOf(form) },
  'typed',
).catch(() => {});

/** Puts back what was typed; gives how many fields are other now than the page had them. */
function putBack(form, values) {
  const changed = fields(form).filter((one) => {
    const said = values.filter(([name]) => name === one.name).map(([, value]) => value);
    if (isPicked(one)) {
      const was = one.checked;
      one.checked = said.includes(one.value);
      return was !== one.checked;
    }
    const was = one.value;
    if (said.length) [one.value] = said;
    return was !== one.value;
  });
  for (const one of changed) one.closest('details')?.setAttribute('open', '');
  const here = document.activeElement;
  if (changed.includes(here)) here.dispatchEvent(new Event('input', { bubbles: true }));
  return changed.length;
}

function say(form, sentence, button) {
  const words = { className: 'notice', textContent: `${sentence} ` };
  const note = Object.assign(document.createElement('p'), words);
  note.setAttribute('role', 'status');
  if (button) note.append(button);
  form.before(note);
}

function afresh(key) {
  const how = { type: 'button', className: 'plain', textContent: _('Clear the form') };
  const button = Object.assign(document.createElement('button'), how);
  button.addEventListener('click', async () => { await remove(key, 'typed'); location.reload(); });
  return button;
}

/** What a field is called on the page. */
function labelOf(form, name) {
  const [one] = fields(form).filter((field) => field.name === name);
  const words = one?.closest('fieldset')?.querySelector('legend') ?? one?.labels?.[0];
  return words?.textContent.trim() ?? name.replaceAll('_', ' ');
}

function restore(form, kept) {
  if (form.querySelector('.errors')) return;   // the shop's own page has everything typed
  const time = dayAndHour(kept.at);
  if (kept.version !== versionOf(form)) {
    const typed = kept.values.filter(([, value]) => value);
    const texts = typed.map(([name, value]) => `${labelOf(form, name)}: ${value}`).join('; ');
    const sentence = _(
      'Someone changed this after {time}. You typed on this phone: {texts}.',
      { time, texts },
    );
    say(form, sentence, afresh(kept.page));
  } else if (putBack(form, kept.values)) {
    say(form, _('What you typed {time} is back, not saved yet.', { time }), afresh(kept.page));
  }
}

async function begin() {
  const kept = new Map((await all('typed')).map((row) => [row.page, row]));
  for (const row of kept.values()) {
    if (Date.now() - row.at > LONGEST_MS) await remove(row.page, 'typed');
  }
  for (const form of document.querySelectorAll('form[data-queue]')) {
    if (kept.has(keyOf(form))) restore(form, kept.get(keyOf(form)));
  }
  let waiting;
  document.addEventListener('input', ({ target: { form } }) => {
    if (!form || !('queue' in form.dataset)) return;
    clearTimeout(waiting);
    waiting = setTimeout(() => keep(form), PAUSE_MS);
  });
  document.addEventListener('waits', ({ target }) => {
    clearTimeout(waiting);
    remove(keyOf(target), 'typed').catch(() => {});
  });
}

if (usable) begin();
