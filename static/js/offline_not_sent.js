// A form that cannot wait on the phone is sent only when the shop answers, with a fresh token:
// without network it stays on the page as it was typed, instead of giving way to the browser's own
// page of regret.

import { usable } from './offline_store.js';
import { sendIfThere } from './offline_forms.js';

if (usable) {
  document.addEventListener('submit', (event) => {
    const form = event.target;
    const token = form.elements.namedItem('csrf_token');
    if (event.defaultPrevented || !token || 'plain' in form.dataset) return;
    const leaves = form.getAttribute('action')?.endsWith('/sign-out');
    if (leaves && !('wiped' in form.dataset)) return;   // offline_count.js asks first, and once
    event.preventDefault();
    if ('busy' in form.dataset) return;   // a second tap is the same
    form.dataset.busy = '';
    sendIfThere(form, event.submitter);
  });
}
