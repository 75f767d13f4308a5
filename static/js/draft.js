// Keeps a form as it is typed, so that it can be gone on with on another phone. Without it, "Keep it for later" does the same.

const PAUSE_MS = 1200;

for (const form of document.querySelectorAll('form[data-draft]')) {
  let waiting = 0;
  let kept = '';

  const typed = () => new URLSearchParams(new FormData(form));

  const keep = () => {
    const body = typed().toString();
    if (body === kept) return;
    fetch(form.dataset.draft, { method: 'POST', body: typed(), credentials: 'same-origin', keepalive: true })
      .then((answer) => { if (answer.ok) kept = body; })
      .catch(() => {});   // no network: what was typed still stands on the page
  };

  form.addEventListener('input', () => { clearTimeout(waiting); waiting = setTimeout(keep, PAUSE_MS); });
  form.addEventListener('submit', () => { clearTimeout(waiting); waiting = 0; });   // nor when the page goes: a draft would outlive its ticket
  addEventListener('visibilitychange', () => { if (document.visibilityState === 'hidden' && waiting) { clearTimeout(waiting); keep(); } });
}
