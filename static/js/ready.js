// "Is it ready?" answered while the number is typed: number → words → shelf, kept on the phone without names.

const form = document.querySelector('[data-find]');
const field = form?.querySelector('input');
const answer = form?.querySelector('[data-answer]');
const offline = document.querySelector('[data-ready]');
const KEPT = 'ready-list';

async function list() {
  try {
    const sent = await fetch(form.dataset.find || '/ready.json', { headers: { Accept: 'application/json' } });
    if (sent.ok) {
      const rows = await sent.json();
      localStorage.setItem(KEPT, JSON.stringify({ at: Date.now(), rows }));
      return { rows, at: null };
    }
    if (sent.status === 401) localStorage.removeItem(KEPT);
  } catch {
    // no network: what was kept last answers, and says how old it is
  }
  const kept = JSON.parse(localStorage.getItem(KEPT) ?? 'null');
  return kept ?? { rows: [], at: null };
}

const begun = (text) => text.charAt(0).toUpperCase() + text.slice(1);
const words = (row) => `${row.number}: ${row.ready ? `all here. ${begun(row.words)}` : row.words}`;
const hour = (at) => new Date(at).toLocaleString([], { weekday: 'short', hour: 'numeric', minute: '2-digit' });

function say({ rows, at }) {
  const typed = field.value.trim();
  const row = /^\d{1,4}$/.test(typed) ? rows.find((one) => String(one.number) === typed) : null;
  answer.textContent = row ? `${words(row)}${at ? ` (as of ${hour(at)})` : ''}` : '';
  if (offline && typed && !row) answer.textContent = 'Not on this phone’s list. Try again when the connection is back.';
}

/** The page without network shows the whole list, those that are all here first. */
function show({ rows, at }) {
  offline.hidden = !rows.length;
  document.querySelector('[data-ready-as-of]').textContent = at ? `As of ${hour(at)}.` : '';
  const sorted = [...rows].sort((a, b) => b.ready - a.ready || a.number - b.number);
  document.querySelector('[data-ready-list]').replaceChildren(...sorted.map((row) => {
    const [line, number, text] = ['li', 'span', 'span'].map((kind) => document.createElement(kind));
    line.className = 'row';
    number.className = 'row-m';
    number.append(Object.assign(document.createElement('span'), { className: 'row-n', textContent: row.number }));
    Object.assign(text, { className: 'row-b', textContent: `${row.ready ? 'All here. ' : ''}${begun(row.words)}` });
    line.append(number, text);
    return line;
  }));
}

if (form) {
  const known = list();
  field.addEventListener('input', async () => say(await known));
  if (offline) {
    known.then(show);
    form.addEventListener('submit', async (event) => { event.preventDefault(); say(await known); });
  }
}
