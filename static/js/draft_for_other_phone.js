// Keeps a form as it is typed, so that it can be gone on with on another phone. Without it, "Keep
// it for later" does the same.

const PAUSE_MS = 1200;

for (const form of document.querySelectorAll('form[data-draft]')) {
  let waiting = 0;
  let kept = '';

  const typed = () => new URLSearchParams(new FormData(form));

  const keep = () => {
    const body = typed().toString();
    if (body === kept) return;
    const how = { method: 'POST', body: typed(), credentials: 'same-origin', keepalive: true };
    fetch(form.dataset.draft, how)
      .then((answer) => { if (answer.ok) kept = body; })
      .catch(() => {});   // no network: what was typed still stands on the page
  };

  form.addEventListener('input', () => {
    clearTimeout(waiting);
    waiting = setTimeout(keep, PAUSE_MS);
  });
  // nor when the page goes: a draft would outlive its ticket
  form.addEventListener('submit', () => { clearTimeout(waiting); waiting = 0; });
  addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden' && waiting) { clearTimeout(waiting); keep(); }
  });
}
