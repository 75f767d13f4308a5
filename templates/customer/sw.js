// Keeps one customer's page under its version: the page from the network first, its files from the
// phone. Knows nothing of the staff's pages.
const KEPT = 'boots-{{ version }}';
const PAGE = {{ page|tojson }};
const OFFLINE = {{ offline|tojson }};
const FILES = {{ files|tojson }};

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const kept = await caches.open(KEPT);
    const pages = [PAGE, OFFLINE].map((page) => new Request(page, { cache: 'reload' }));
    await kept.addAll([...FILES, ...pages]);
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

async function page(request, url) {
  const kept = await caches.open(KEPT);
  const isPage = url.pathname === PAGE;
  try {
    const answer = await fetch(request);
    if (isPage && answer.ok && !answer.redirected) await kept.put(PAGE, answer.clone());
    if (isPage && [404, 410].includes(answer.status)) await kept.delete(PAGE);
    return answer;
  } catch {
    return (isPage && await kept.match(PAGE)) || kept.match(OFFLINE);
  }
}

async function file(request, url) {
  return await (await caches.open(KEPT)).match(url.pathname) ?? fetch(request);
}

// A message of the shop: shown as it came; a tap opens its page. The same one again takes the place
// of the first.
self.addEventListener('push', (event) => {
  event.waitUntil((async () => {
    const { title, body, tag, path, stays } = event.data?.json() ?? {};
    if (!title) return;
    const icon = {{ url_for('static', filename='icons/boots-192.png')|tojson }};
    const how = { body, tag, icon, renotify: true, requireInteraction: stays, data: { path } };
    await self.registration.showNotification(title, { ...how, vibrate: [400, 200, 400] });
  })());
});

self.addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil((async () => {
    const to = event.notification.data?.path || PAGE;
    const open = await self.clients.matchAll({ type: 'window' });
    const there = open.find((one) => new URL(one.url).pathname === to);
    await (there ? there.focus() : self.clients.openWindow(to));
  })());
});
