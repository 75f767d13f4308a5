// Forms with data-queue="what it is" are written to this phone first and then sent. Without this
// script they are plain forms.
// data-queue-not: the name of a button that asks for something else.
// data-queue-again: stays open for the next one.
// data-kept: the sentence for "kept on this phone", where the page speaks another language.

import { flush, freshToken, keep, tell } from './offline_send.js';
import { all, amend, byId, isOf, remove, usable } from './offline_store.js';
import { _ } from './words.js';

const KEPT = _('Safe on this phone. The phone sends it when the connection is back.');
const SIGNED_OUT = _('You are signed out. It is safe on this phone: sign in to send it.');
const AWAY = _(
  'No connection, so it is not saved.'
  + ' What you typed stays here: try again when the connection is back.',
);
const BUSY = _('The shop’s computer is busy. It is safe on this phone, and the phone tries again.');

const NOT_TAKEN = _('The shop could not save this. Everything you typed is still on this phone.');

const SOON_MS = 3000;   // longest without a word, with two hundred waiting before it
const LONGEST_MS = 16000;
// for what cannot wait on the phone; longer after each time, or a slow network would never do
let patience = 4000;
const field = (form, name) => form.elements.namedItem(name);
const make = (kind, more) => Object.assign(document.createElement(kind), more);

/**
 * A page view has its own submission id, for it may come from the phone's memory; a form that was
 * refused keeps the one it had.
 */
export async function prepare(root = document) {
  const rows = await all();
  const refused = new Map(rows.filter((row) => row.refused).map((row) => [row.id, row]));
  for (const form of root.querySelectorAll('form')) {
    const id = field(form, 'submission_id');
    if (!id || form.getAttribute('method') !== 'post') continue;
    const row = refused.get(id.value);
    if (row) await came(form, row);
    else if ('queue' in form.dataset) id.value = crypto.randomUUID();
    const waiting = rows.find((one) => !one.refused && isOf(one, form));
    // the customer's page has no count of what waits
    if (waiting && form.dataset.kept) follow(form, waiting.id, say(form, form.dataset.kept));
  }
}

/** What was refused has come back to somebody with everything typed: only now it needs no look. */
async function came(form, row) {
  form.dataset.queue ??= row.words;
  await amend({ ...row, refused: { ...row.refused, shown: true } });
  tell();
}

/** The form as it would be sent, without its token. */
function bodyOf(form, submitter) {
  const typed = new FormData(form);
  typed.delete('csrf_token');
  if (submitter?.name) typed.append(submitter.name, submitter.value);
  return new URLSearchParams(typed).toString();
}

async function save(form, submitter) {
  const [body, token] = [bodyOf(form, submitter), field(form, 'csrf_token')?.value];
  const page = location.pathname + location.search;
  const row = {
    id: field(form, 'submission_id').value,
    url: form.getAttribute('action') || page,
    body,
    words: form.dataset.queue,
    page,
    at: Date.now(),
    by: document.body.dataset.by,
  };
  try {
    await keep(row);
  } catch {
    await sendIfThere(form, submitter);   // no room on the phone: the plain way
    return;
  }
  form.dispatchEvent(new Event('waits', { bubbles: true }));
  form.inert = true;   // what would be typed now is not in what was kept
  const long = setTimeout(() => say(form, sentence(form)), SOON_MS);
  const result = await flush(row.id, token).catch(() => ({ why: 'network' }));
  clearTimeout(long);
  if (result.saved) go(result.next ?? row.page);
  // the shop's own page says at which field, with everything typed
  else if (result.code) send(form, submitter);
  else if ('queueAgain' in form.dataset) await another(form, row.id, result.why);
  else await rest(form, row.id, result.why);
}

/** The plain way, past this script. */
export function send(form, submitter) {
  form.dataset.plain = '';
  form.inert = false;
  form.requestSubmit(submitter ?? undefined);
}

/**
 * The plain way where the shop answers, with a fresh token; else the form stays as it was typed,
 * and says so.
 */
export async function sendIfThere(form, submitter) {
  try {
    const [fresh, token] = [await freshToken(patience), field(form, 'csrf_token')];
    if (token) token.value = fresh;
  } catch {
    patience = Math.min(2 * patience, LONGEST_MS);
    delete form.dataset.busy;
    say(form, form.dataset.away ?? AWAY);
    return;
  }
  send(form, submitter);
}

/** Goes on as after a plain form; a page that changes in place says it will. */
export function go(address) {
  const asked = new CustomEvent('go', { cancelable: true, detail: address });
  if (document.dispatchEvent(asked)) location.assign(address);
}

export function say(form, sentence, ...more) {
  const stood = form.nextElementSibling;
  const note = stood?.matches('.kept') ? stood : make('div');
  const words = make('p', { className: 'notice', textContent: sentence });
  words.setAttribute('role', 'status');
  note.className = 'kept';
  note.replaceChildren(words, ...more);
  if (!note.isConnected) form.after(note);
  return note;
}

const sentence = (form, why) => (
  form.dataset.kept ?? { 'signed-out': SIGNED_OUT, busy: BUSY }[why] ?? KEPT);

/** The form rests while its words wait; they can be changed as long as they are here. */
async function rest(form, id, why) {
  form.inert = true;
  const textContent = form.dataset.change ?? _('Change what I typed');
  const change = make('button', { type: 'button', textContent });
  const ways = [change];
  if (why === 'signed-out') {
    const back = encodeURIComponent(location.pathname + location.search);
    ways.unshift(link(`/sign-in?next=${back}`, _('Sign in')));
  }
  const note = say(form, sentence(form, why), ...ways);
  note.scrollIntoView({ block: 'nearest' });
  change.addEventListener('click', async () => {
    const row = await byId(id);
    if (row) await remove(row.n);
    tell();
    note.remove();
    Object.assign(form, { inert: false });
    delete form.dataset.busy;
    // the id stays: where the first one arrived after all, the shop does not take both. What a
    // customer tells is no step
    if (form.dataset.kept) field(form, 'submission_id').value = crypto.randomUUID();
  });
  follow(form, id, note, change);
}

/** What becomes of the last form that waits, beside it. */
function follow(form, id, note, ...ways) {
  note.dataset.of = id;
  document.addEventListener('outbox', async ({ detail }) => {
    const row = detail?.id === id ? undefined : await byId(id);
    if (!note.isConnected || note.dataset.of !== id) return;
    const customers = form.dataset.kept;
    if (detail?.id === id) {
      const on = link(detail.next ?? '/', form.dataset.on ?? _('Go on'));
      say(form, form.dataset.sent ?? _('Sent.'), on);
    } else if (row?.refused) {
      const more = customers ? [] : [link('/unsent', _('See what is waiting'))];
      say(form, `${customers ? '' : NOT_TAKEN} ${row.refused.sentence}`, ...ways, ...more);
    }
  });
}

function link(href, text) {
  return make('a', { href, textContent: text, className: 'press' });
}

async function another(form, id, why) {
  follow(form, id, say(form, sentence(form, why)));
  form.inert = false;
  form.reset();
  delete form.dataset.busy;
  field(form, 'submission_id').value = crypto.randomUUID();
  form.querySelector('input:not([type=hidden])')?.focus();
}

if (usable) {
  prepare();
  document.addEventListener('changed', () => prepare());
  document.addEventListener('submit', (event) => {
    const form = event.target;
    if (event.defaultPrevented || !('queue' in form.dataset) || 'plain' in form.dataset) return;
    if (event.submitter?.name && event.submitter.name === form.dataset.queueNot) return;
    event.preventDefault();
    if ('busy' in form.dataset) return;   // a second tap is the same save
    form.dataset.busy = '';
    save(form, event.submitter);
  });
  // A browser that brings a left page back as it was brings its forms back at rest: what stood
  // there is saved, what is typed now is another save.
  addEventListener('pageshow', ({ persisted }) => {
    for (const form of persisted ? document.querySelectorAll('form[data-queue][data-busy]') : []) {
      if (form.nextElementSibling?.matches('.kept')) continue;   // it waits, and says so
      form.inert = false;
      delete form.dataset.busy;
      field(form, 'submission_id').value = crypto.randomUUID();
    }
  });
}
