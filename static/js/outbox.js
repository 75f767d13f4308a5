// Sends what waits, first come first, each with its submission id, so that whatever happens on the way it is saved once.
// Stops at no network, 401, 429 and 5xx and keeps the order; what cannot be taken as it is keeps its text and lets the rest pass.

import { add, all, byId, change, remove, usable } from './outbox_store.js';

const PATIENCE_MS = 10000;
const DAY_MS = 86400000;
export const AGAIN_MS = 10000;
const others = usable ? new BroadcastChannel('outbox') : null;

/** Says on this page and in the other tabs that the outbox is another now. sent: {id, next} of what was just saved, or {why} it stopped. */
export function tell(sent = null) {
  document.dispatchEvent(new CustomEvent('outbox', { detail: sent }));
  others?.postMessage(sent);
}
others?.addEventListener('message', ({ data }) => document.dispatchEvent(new CustomEvent('outbox', { detail: data })));

/** How many wait, and how many were refused and looked at by nobody yet. */
export async function counts() {
  const rows = [...await all(), ...await all('photos')];
  return { waiting: rows.filter((row) => !row.refused).length, refused: rows.filter((row) => row.refused && !row.refused.shown).length };
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

export async function freshToken() {
  const answer = await fetch('/api/csrf', { cache: 'no-store', signal: AbortSignal.timeout(PATIENCE_MS) });
  if (!answer.ok) throw new Error('no token');
  return (await answer.json()).token;
}

/** False where the phone kept a row so badly that no shop can be asked about it: it must not stand before the others for ever. */
function whole({ id, url, body }) {
  if (![id, url, body].every((part) => typeof part === 'string')) return false;
  try {
    return new URL(url, location.href).origin === location.origin;
  } catch {
    return false;
  }
}

async function post(row, token, how) {
  const age = Math.max(0, Math.round((Date.now() - row.at) / 1000));
  const answer = await fetch(row.url, {
    method: 'POST', body: row.body, redirect: 'manual', cache: 'no-store', signal: AbortSignal.timeout(PATIENCE_MS),
    headers: { 'Content-Type': 'application/x-www-form-urlencoded', 'X-CSRFToken': token, Outbox: how, 'Outbox-Age': String(age), 'Outbox-By': row.by ?? '' },
  });
  const ours = answer.headers.get('Outbox');
  if (ours === 'saved') return { saved: true, next: answer.headers.get('Outbox-Next') };
  if (!ours || answer.status === 429 || answer.status >= 500) return { why: ours ? 'busy' : 'network' };
  if (answer.status === 401) return { why: 'signed-out' };
  return { code: answer.status, sentence: sentenceOf(await answer.text()) };
}

/** The sentence of an error page, as text. */
function sentenceOf(page) {
  const read = new DOMParser().parseFromString(page, 'text/html');
  return (read.querySelector('.errors li, .error, [role=alert]')?.textContent ?? '').replace(/\s+/g, ' ').trim().slice(0, 300);
}

async function attempt(row, how, known) {
  if (!whole(row)) return { code: 0, sentence: 'The phone has kept only a part of it, which cannot be sent.' };
  try {
    known.token ??= await freshToken();
    const result = await post(row, known.token, how);
    if (result.code !== 400 || known.renewed) return result;
    Object.assign(known, { token: await freshToken(), renewed: true });
    return await post(row, known.token, how);
  } catch {
    return { why: 'network' };   // nothing came back; whether it was saved the submission id will tell
  }
}

/** Sends what waits. mine: the id somebody is waiting for; token: the form's own. Gives what became of it, or of the last one. */
export function flush(mine = '', token = undefined) {
  if (!usable) return Promise.resolve({});
  return navigator.locks.request('outbox', async () => {
    const known = { token };
    let last = {};
    for (;;) {
      const row = (await all()).find((one) => !one.refused);
      if (!row) break;
      last = await attempt(row, row.id === mine ? 'now' : 'later', known);
      if (last.why) break;
      if (last.saved) await remove(row.n);
      else await change({ ...row, refused: { ...last, shown: row.id === mine } });
      tell(last.saved ? { id: row.id, next: last.next } : null);
      if (row.id === mine) return last;
    }
    await forget();
    if (last.why) tell({ why: last.why });
    if (!mine) return last;
    const kept = await byId(mine);
    return kept ? (kept.refused ?? last) : { saved: true, next: null };   // gone: another tab has sent it
  });
}

/** What was refused in front of somebody, and put right there, is not kept longer than a day. */
async function forget() {
  for (const row of await all()) if (row.refused?.shown && Date.now() - row.at > DAY_MS) await remove(row.n);
}

if (usable) {
  const again = () => { flush().catch(() => {}); };
  again();
  addEventListener('online', again);
  addEventListener('pageshow', (event) => { if (event.persisted) again(); });
  document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'visible') again(); });
  setInterval(() => { counts().then(({ waiting }) => waiting && again(), () => {}); }, AGAIN_MS);   // a page opened without network may never hear that it is back
}
