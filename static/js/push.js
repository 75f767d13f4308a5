// Messages to this phone: asked for at its browser, and told to the shop.

import { fresh, PATIENCE_MS } from './offline_send.js';

/** Whether this browser can show messages of this page at all. */
export const canPush = 'serviceWorker' in navigator && 'PushManager' in self
  && 'Notification' in self;

const bytes = (text) => Uint8Array.from(
  atob(text.replaceAll('-', '+').replaceAll('_', '/')),
  (letter) => letter.charCodeAt(0),
);
const same = (one, other) => (
  one?.byteLength === other.length && new Uint8Array(one).every((byte, n) => byte === other[n]));

/** Sends fields to the shop; the error is its answer. */
export async function post(url, fields) {
  const { token } = await fresh();
  const body = new URLSearchParams({ csrf_token: token, ...fields });
  const signal = AbortSignal.timeout(PATIENCE_MS);
  const answer = await fetch(url, { method: 'POST', body, signal });
  if (!answer.ok) throw new Error(String(answer.status));
}

/** What this phone asked for before, null for nothing. */
export async function held() {
  if (!canPush || Notification.permission !== 'granted') return null;
  return (await navigator.serviceWorker.ready).pushManager.getSubscription();
}

/** Asks the person, then the browser, then tells the shop. False where the person says no. */
export async function ask({ key, ask: url }) {
  if (await Notification.requestPermission() !== 'granted') return false;
  const { pushManager } = await navigator.serviceWorker.ready;
  const applicationServerKey = bytes(key);
  const old = await pushManager.getSubscription();
  if (old && !same(old.options.applicationServerKey, applicationServerKey)) await old.unsubscribe();
  const made = await pushManager.subscribe({ userVisibleOnly: true, applicationServerKey });
  const { endpoint, keys: { p256dh, auth } } = made.toJSON();
  await post(url, { endpoint, p256dh, auth });
  return true;
}

/** Nothing comes to this phone any more; the form that asked for it tells the shop. */
export async function end() {
  await (await held())?.unsubscribe();
}
