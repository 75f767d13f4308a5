// Sends what waits, first come first, each with its submission id, so that whatever happens on the
// way it is saved once. Stops at no network, 401, 429 and 5xx and keeps the order; what cannot be
// taken as it is keeps its text and lets the rest pass, and so does what the shop's machine fails
// at three times.

import { add, all, amend, byId, remove, usable } from './offline_store.js';
import { _ } from './words.js';

export const PATIENCE_MS = 10000;
const LONGEST_PATIENCE_MS = 40000;
export const MOST_FAULTS = 3;
const DAY_MS = 86400000;
export const AGAIN_MS = 10000;
// grows while nobody waits: a slow network would be cut off at the same place for ever
let patience = PATIENCE_MS;
const others = usable ? new BroadcastChannel('outbox') : null;

/**
 * Says on this page and in the other tabs that the outbox is another now. sent: {id, next} of what
 * was just saved, or {why} it stopped.
 */
export function tell(sent = null) {
  document.dispatchEvent(new CustomEvent('outbox', { detail: sent }));
  others?.postMessage(sent);
}
others?.addEventListener('message', ({ data }) => {
  document.dispatchEvent(new CustomEvent('outbox', { detail: data }));
});

/** How many wait, and how many were refused and looked at by nobody yet. */
export async function counts() {
  const rows = [...await all(), ...await all('photos')];
  const refused = rows.filter((row) => row.refused);
  return {
    waiting: rows.length - refused.length,
    refused: refused.filter((row) => !row.refused.shown).length,
  };
}

/** Keeps a form before anything is sent. Rejects where the phone has no room. */
export async function keep(row) {
  await add(row);
  navigator.storage?.persist?.().catch(() => {});
  tell();
}

export async function drop(n, from = 'outbox') {
  await navigator.locks.request(from, () => remove(n, from));
  tell();
}

/**
 * A fresh token, and the number of whoever is signed in. Rejects where the shop does not answer.
 */
export async function fresh(within = PATIENCE_MS) {
  const how = { cache: 'no-store', signal: AbortSignal.timeout(within) };
  const answer = await fetch('/api/csrf', how);
  if (!answer.ok) throw new Error('no token');
  return answer.json();
}
export const freshToken = async (within) => (await fresh(within)).token;

/**
 * False where the phone kept a row so badly that no shop can be asked about it: it must not stand
 * before the others for ever.
 */
function whole({ id, url, body }) {
  if (![id, url, body].every((part) => typeof part === 'string')) return false;
  try {
    return new URL(url, location.href).origin === location.origin;
  } catch {
    return false;
  }
}

const patienceOf = (how) => (how === 'now' ? PATIENCE_MS : patience);

async function post(row, token, how) {
  const age = Math.max(0, Math.round((Date.now() - row.at) / 1000));
  const answer = await fetch(row.url, {
    method: 'POST',
    body: row.body,
    redirect: 'manual',
    cache: 'no-store',
    signal: AbortSignal.timeout(patienceOf(how)),
    headers: {
      'Content-Type': 'application/x-www-form-urlencoded',
      'X-CSRFToken': token,
      Outbox: how,
      'Outbox-Age': String(age),
      'Outbox-By': row.by ?? '',
    },
  });
  const ours = answer.headers.get('Outbox');
  if (ours === 'saved') return { saved: true, next: answer.headers.get('Outbox-Next') };
  if (ours && answer.status === 500) return { why: 'busy', fault: sentenceOf(await answer.text()) };
  if (!ours) return { why: 'network' };
  if (answer.status === 429 || answer.status >= 500) return { why: 'busy' };
  if (answer.status === 401) return { why: 'signed-out' };
  return { code: answer.status, sentence: sentenceOf(await answer.text()) };
}

/** The sentence of an error page, as text. */
function sentenceOf(page) {
  const read = new DOMParser().parseFromString(page, 'text/html');
  const text = read.querySelector('.errors li, .error, [role=alert]')?.textContent ?? '';
  return text.replace(/\s+/g, ' ').trim().slice(0, 300);
}

async function attempt(row, how, known) {
  if (!whole(row)) {
    const sentence = _('The phone kept only a part of this form, so it cannot be sent.');
    return { code: 0, sentence };
  }
  try {
    known.token ??= await freshToken(patienceOf(how));
    const result = await post(row, known.token, how);
    patience = PATIENCE_MS;
    if (result.code !== 400 || known.renewed) return result;
    Object.assign(known, { token: await freshToken(patienceOf(how)), renewed: true });
    return await post(row, known.token, how);
  } catch (error) {
    const late = error.name === 'TimeoutError' && how === 'later';
    if (late) patience = Math.min(2 * patience, LONGEST_PATIENCE_MS);
    // nothing came back; whether it was saved the submission id will tell
    return { why: 'network' };
  }
}

/** At the third time it is set aside like what was refused. */
async function counted(row, result) {
  const faults = (row.faults ?? 0) + 1;
  if (faults >= MOST_FAULTS) return { code: 500, sentence: result.fault };
  await amend({ ...row, faults });
  return result;
}

/**
 * By itself: not where it is being tried already, or tries at a shop that never answers would queue
 * up before the next save.
 */
const IDLE = { ifAvailable: true };
const soon = () => ({ signal: AbortSignal.timeout(PATIENCE_MS) });

/**
 * Sends what waits. mine: the id somebody is waiting for; token: the form's own. Gives what became
 * of it, or of the last one. Rejects where another try lasts too long.
 */
export function flush(mine = '', token = undefined, how = soon()) {
  if (!usable) return Promise.resolve({});
  return navigator.locks.request('outbox', how, async (held) => {
    if (!held) return {};
    const known = { token };
    let last = {};
    for (;;) {
      const row = (await all()).find((one) => !one.refused);
      if (!row) break;
      last = await attempt(row, row.id === mine ? 'now' : 'later', known);
      if (last.fault) last = await counted(row, last);
      if (last.why) break;
      if (last.saved) await remove(row.n);
      else await amend({ ...row, refused: { ...last, shown: false } });
      tell(last.saved ? { id: row.id, next: last.next } : null);
      if (row.id === mine) return last;
    }
    await forget();
    if (last.why) tell({ why: last.why });
    if (!mine) return last;
    const kept = await byId(mine);
    // gone: another tab has sent it
    return kept ? (kept.refused ?? last) : { saved: true, next: null };
  });
}

/** What was refused in front of somebody, and put right there, is not kept longer than a day. */
async function forget() {
  for (const row of await all()) {
    if (row.refused?.shown && Date.now() - row.at > DAY_MS) await remove(row.n);
  }
}

if (usable) {
  const again = () => { flush('', undefined, IDLE).catch(() => {}); };
  again();
  addEventListener('online', again);
  addEventListener('pageshow', (event) => { if (event.persisted) again(); });
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') again();
  });
  // a page opened without network may never hear that it is back
  setInterval(() => { counts().then(({ waiting }) => waiting && again(), () => {}); }, AGAIN_MS);
}
