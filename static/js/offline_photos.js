// Photos that wait on this phone, one after another, beside the forms and never before them.
// A row: {n, id, url, moment, at, by, picture}. A photo of a job that is not open yet (425) waits
// for it and lets the others pass.

import { AGAIN_MS, MOST_FAULTS, freshToken, tell } from './offline_send.js';
import { all, amend, remove, usable, within } from './offline_store.js';
import { _ } from './words.js';

const PATIENCE_MS = 120000;

export const keepPhoto = async (row) => {
  const known = { id: crypto.randomUUID(), at: Date.now(), by: document.body.dataset.by };
  await within('photos', 'readwrite', (store) => store.add({ ...row, ...known }));
  tell();
  sendPhotos().catch(() => {});
};

/** Sends one and says on the page how far it is. Gives {code, sentence, ours}. */
function post(row, token) {
  const form = new FormData();
  form.append('submission_id', row.id);
  form.append('moment', row.moment);
  form.append('view', row.view ?? '');
  form.append('photo', new Blob([row.picture], { type: 'image/jpeg' }), 'photo.jpg');
  const sending = new XMLHttpRequest();
  sending.open('POST', row.url);
  sending.timeout = PATIENCE_MS;
  const age = Math.max(0, Math.round((Date.now() - row.at) / 1000));
  const headers = {
    'X-CSRFToken': token, Outbox: 'later', 'Outbox-Age': age, 'Outbox-By': row.by ?? '',
  };
  for (const [name, value] of Object.entries(headers)) sending.setRequestHeader(name, value);
  sending.upload.addEventListener('progress', ({ lengthComputable, loaded, total }) => {
    progress(row, lengthComputable ? loaded / total : 0);
  });
  return new Promise((done, fail) => {
    sending.addEventListener('load', () => done({
      code: sending.status,
      ours: sending.getResponseHeader('Outbox'),
      text: sending.responseText,
    }));
    for (const wrong of ['error', 'abort', 'timeout']) {
      sending.addEventListener(wrong, () => fail(new Error(wrong)));
    }
    sending.send(form);
  });
}

/**
 * share: how much of it has left the phone. saved: true once the shop has it, false when it has not
 * taken it.
 */
function progress(row, share, saved = undefined) {
  const detail = { url: row.url, share, saved };
  document.dispatchEvent(new CustomEvent('photo', { detail }));
}

/** True where the shop's machine failed at it for the third time. */
async function failedAgain(row, code) {
  if (code !== 500) return false;
  const faults = (row.faults ?? 0) + 1;
  await amend({ ...row, faults }, 'photos');
  return faults >= MOST_FAULTS;
}

/** True where the next one may be tried. */
async function one(row, token) {
  const { code, ours, text } = await post(row, token);
  if (ours === 'saved') await remove(row.n, 'photos');
  // 400: its token is over, the next try has a fresh one
  else if (!ours || [400, 401, 429].includes(code)) return false;
  else if (code >= 500 && !(await failedAgain(row, code))) return false;
  else if (code !== 425) {
    const page = new DOMParser().parseFromString(text, 'text/html');
    const said = page.querySelector('[role=alert]')?.textContent.trim();
    await amend({ ...row, refused: said ?? _('The photo was not saved.') }, 'photos');
  }
  progress(row, 1, ours === 'saved');
  tell();
  return true;
}

/** how: options of the lock. */
export function sendPhotos(how = {}) {
  return navigator.locks.request('photos', how, async (held) => {
    if (!held) return;
    const rows = (await all('photos')).filter((row) => !row.refused);
    if (!rows.length) return;
    const token = await freshToken();
    for (const row of rows) if (!(await one(row, token))) return;
  });
}

if (usable) {
  const again = () => { sendPhotos({ ifAvailable: true }).catch(() => {}); };
  again();
  addEventListener('online', again);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') again();
  });
  document.addEventListener('outbox', ({ detail }) => {
    if (detail?.id) again();   // the ticket may be open now
  });
  setInterval(again, AGAIN_MS);
}
