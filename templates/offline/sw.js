// Keeps the shell under its version, pages always from the network first. No staff page is ever
// kept; a customer's own page is, where the customer opened it.
const SHELL = 'shell-{{ version }}';
const CUSTOMERS = 'hers';   // the name that phones know: another would drop the page they keep
const KEPT = '/static/{{ version }}/';
const FILES = {{ files|tojson }};
const PAGES = {{ pages|tojson }};
const CUSTOMER_PAGE = /^\/c\/[\w-]+$/;
self.messages = { icon: {{ url_for('static', filename='icons/icon-192.png')|tojson }}, home: '/' };
importScripts({{ url_for('static', filename='js/service_worker_shared.js')|tojson }});

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const shell = await caches.open(SHELL);
    // pages without a cookie: they are the same for everybody and hold no token of anybody
    const bare = PAGES.map((page) => new Request(page, { credentials: 'omit', cache: 'reload' }));
    await keepAll(shell, [...FILES, ...bare]);
    await self.skipWaiting();
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    // what begins so is kept by the worker of a customer's page
    const ours = (name) => [SHELL, CUSTOMERS].includes(name) || name.startsWith('boots-');
    const old = (await caches.keys()).filter((name) => !ours(name));
    await Promise.all(old.map((name) => caches.delete(name)));
    await self.clients.claim();
  })());
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  // a form that fails stays in the browser, which can send it again
  if (url.origin !== location.origin || request.method !== 'GET') return;
  if (request.mode === 'navigate') event.respondWith(page(request, url));
  else if (url.pathname.startsWith('/static/')) event.respondWith(file(request, url));
});

async function page(request, url) {
  const isCustomers = CUSTOMER_PAGE.test(url.pathname);
  const kept = () => caches.open(CUSTOMERS);
  try {
    const answer = await fetch(request);
    const gone = [404, 410].includes(answer.status);
    if (isCustomers && answer.ok && !answer.redirected) {
      await (await kept()).put(url.pathname, answer.clone());
    }
    if (isCustomers && gone) await (await kept()).delete(url.pathname);
    return answer;
  } catch {
    const own = isCustomers ? await (await kept()).match(url.pathname) : undefined;
    return own ?? shell(PAGES.includes(url.pathname) ? url.pathname : PAGES[0]);
  }
}

// What a hotel's sign-in or a proxy answers in place of a file is a page, and must not be kept as
// the file.
const isPage = (answer) => (answer.headers.get('Content-Type') ?? '').includes('html');

// A file of this version never changes, so the kept one is right. Another version's file: the
// network knows, else the kept one of that name.
async function file(request, url) {
  const kept = await shell(url.pathname);
  if (kept) return kept;
  try {
    const answer = await fetch(request);
    const isOurs = answer.ok && !isPage(answer) && url.pathname.startsWith(KEPT);
    if (isOurs) await (await caches.open(SHELL)).put(url.pathname, answer.clone());
    return answer;
  } catch (error) {
    const same = await shell(url.pathname.replace(/^\/static\/[0-9a-f]{12}\//, KEPT));
    if (same) return same;
    throw error;
  }
}

const shell = async (address) => (await caches.open(SHELL)).match(address);
