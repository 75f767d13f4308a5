// What the service workers of shop and customer have in common: keeping files through a bad moment
// of the network, and showing the shop's messages. Each sets self.messages = { icon, home } before.

const TRIES = 3;
const PAUSE_MS = 1000;

/** All of them, or an error: one answer that got lost is asked for again. */
self.keepAll = async (cache, files, tries = TRIES) => {
  try {
    await cache.addAll(files);
  } catch (error) {
    if (tries === 1) throw error;
    await new Promise((done) => { setTimeout(done, PAUSE_MS); });
    await self.keepAll(cache, files, tries - 1);
  }
};

// Shown as it came; a tap opens its page. The same one again takes the place of the first.
self.addEventListener('push', (event) => {
  event.waitUntil((async () => {
    const { title, body, tag, path, stays } = event.data?.json() ?? {};
    if (!title) return;
    const { icon } = self.messages;
    const how = { body, tag, icon, renotify: true, requireInteraction: stays, data: { path } };
    await self.registration.showNotification(title, { ...how, vibrate: [400, 200, 400] });
  })());
});

self.addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil((async () => {
    const to = event.notification.data?.path || self.messages.home;
    const open = await self.clients.matchAll({ type: 'window' });
    const there = open.find((one) => new URL(one.url).pathname === to);
    await (there ? there.focus() : self.clients.openWindow(to));
  })());
});
