// "Is it ready?" answered while the number is typed: number → words → shelf, kept on the phone without names.
const form = document.querySelector("[data-find]");
const field = form?.querySelector("input");
const answer = form?.querySelector("[data-answer]");
const KEPT = "ready-list";

async function list() {
  try {
    const sent = await fetch(form.dataset.find, { headers: { Accept: "application/json" } });
    if (sent.ok) {
      const rows = await sent.json();
      localStorage.setItem(KEPT, JSON.stringify({ at: Date.now(), rows }));
      return { rows, at: null };
    }
    if (sent.status === 401) localStorage.removeItem(KEPT);
  } catch {
    // no network: what was kept last answers, and says how old it is
  }
  const kept = JSON.parse(localStorage.getItem(KEPT) ?? "null");
  return kept ?? { rows: [], at: null };
}

function say({ rows, at }) {
  const typed = field.value.trim();
  const row = /^\d{1,4}$/.test(typed) ? rows.find((one) => String(one.number) === typed) : null;
  const old = at ? ` (as of ${new Date(at).toLocaleTimeString([], { hour: "numeric", minute: "2-digit" })})` : "";
  answer.textContent = row ? `${row.number}: ${row.ready ? "all here. " : ""}${row.words}${old}` : "";
}

if (form) {
  const known = list();
  field.addEventListener("input", async () => say(await known));
}
