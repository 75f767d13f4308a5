// A form that cannot wait on the phone is sent only when the shop answers, with a fresh token: without network it stays on the page
// as it was typed, instead of giving way to the browser's own page of regret.

import { freshToken } from './outbox.js';
import { usable } from './outbox_store.js';
import { say, send } from './outbox_forms.js';

const AWAY = 'The shop cannot be reached just now, so it was not saved. What you typed stays here: try again when the network is back.';

if (usable) {
  document.addEventListener('submit', async (event) => {
    const form = event.target;
    const token = form.elements.namedItem('csrf_token');
    if (event.defaultPrevented || !token || 'plain' in form.dataset) return;
    event.preventDefault();
    try {
      token.value = await freshToken();
    } catch {
      say(form, form.dataset.away ?? AWAY);
      return;
    }
    send(form, event.submitter);
  });
}
