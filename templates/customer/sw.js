// Keeps one customer's page under its version: the page from the network first, its files from the
// phone. Knows nothing of the staff's pages.
const KEPT = 'boots-{{ version }}';
const PAGE = {{ page|tojson }};
const OFFLINE = {{ offline|tojson }};
const FILES = {{ files|tojson }};
const ICON = {{ url_for('static', filename='icons/boots-192.png')|tojson }};
const PATIENCE_MS = 3000;
const LONGEST_MS = 20000;   // for what is not kept
self.messages = { icon: ICON, home: PAGE };
importScripts({{ url_for('static', filename='js/service_worker_shared.js')|tojson }});

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const kept = await caches.open(KEPT);
    const pages = [PAGE, OFFLINE].map((page) => new Request(page, { cache: 'reload' }));
    await keepAll(kept, [...FILES, ...pages]);
    await self.skipWaiting();
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    const names = await caches.keys();
    const old = names.filter((name) => name.startsWith('boots-') && name !== KEPT);
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  })());
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (url.origin !== location.origin || request.method !== 'GET') return;
  if (request.mode === 'navigate') event.respondWith(page(request, url));
  else if (url.pathname.startsWith('/static/')) event.respondWith(file(request, url));
});

// A line may hang, with neither answer nor error: then the page that is kept is shown, and what the
// network says later is kept for the next time and told to the open page.
async function page(request, url) {
  const isPage = url.pathname === PAGE;
  const kept = isPage ? await (await caches.open(KEPT)).match(PAGE) : undefined;
  const asked = ask(request, isPage);
  try {
    return await within(asked, kept ? PATIENCE_MS : LONGEST_MS);
  } catch {
    if (kept) asked.then(newer, () => {});
    return kept ?? (await caches.open(KEPT)).match(OFFLINE);
  }
}

async function ask(request, isPage) {
  const answer = await fetch(request);
  const kept = await caches.open(KEPT);
  if (isPage && answer.ok && !answer.redirected) await kept.put(PAGE, answer.clone());
  if (isPage && [404, 410].includes(answer.status)) await kept.delete(PAGE);
  return answer;
}

const within = (asked, ms) => Promise.race([asked, new Promise((_, fail) => {
  setTimeout(fail, ms);
})]);

async function newer() {
  for (const open of await self.clients.matchAll()) open.postMessage('newer');
}

async function file(request, url) {
  return await (await caches.open(KEPT)).match(url.pathname) ?? fetch(request);
}
