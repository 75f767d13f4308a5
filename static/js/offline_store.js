// What waits on this phone, in IndexedDB: one row a form, in the order in which they were saved.
// Never a token, never a name.
// A row: {n, id, url, body, words, page, at, by, refused}. by: the number of whoever was signed in.
// refused: {code, sentence, shown} where the shop could not take it; shown: its form came back to
// somebody with everything typed.
// faults: how often the shop's own machine failed at it.

const NAME = 'fitcounter';

/** Without HTTPS, or in a browser that forbids storage, plain forms do the work. */
export const usable = Boolean(self.isSecureContext && self.indexedDB && navigator.locks);

let opened;

function open() {
  opened ??= new Promise((done, fail) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('outbox', { keyPath: 'n', autoIncrement: true })
        .createIndex('id', 'id', { unique: true });
      asked.result.createObjectStore('photos', { keyPath: 'n', autoIncrement: true });
      asked.result.createObjectStore('typed', { keyPath: 'page' });
    };
    asked.onsuccess = () => {
      asked.result.onclose = asked.result.onversionchange = () => {
        asked.result.close();
        opened = undefined;
      };
      done(asked.result);
    };
    asked.onerror = () => { opened = undefined; fail(asked.error); };
  });
  return opened;
}

/** Runs work on one store and gives its result once it is on the disk. */
export async function within(name, mode, work) {
  const database = await open();
  return new Promise((done, fail) => {
    const whole = database.transaction(name, mode, { durability: 'strict' });
    const asked = work(whole.objectStore(name));
    whole.oncomplete = () => done(asked?.result);
    whole.onabort = whole.onerror = () => fail(whole.error ?? asked?.error);
  });
}

export const all = (name = 'outbox') => within(name, 'readonly', (store) => store.getAll());
export const remove = (n, name = 'outbox') => within(name, 'readwrite', (store) => store.delete(n));
export const change = (row, name = 'outbox') => (
  within(name, 'readwrite', (store) => store.put(row)));
/** Changes a row that is still there: what was taken back meanwhile does not come again. */
export const amend = (row, name = 'outbox') => within(name, 'readwrite', (store) => {
  const there = store.getKey(row.n);
  there.onsuccess = () => { if (there.result !== undefined) store.put(row); };
});
export const byId = (id) => within('outbox', 'readonly', (store) => store.index('id').get(id));

/** Was this row typed into that form? That of a missed day has the same address as today's. */
export const isOf = ({ url, body }, form) => (
  url === form.getAttribute('action') && ['n', 'day'].every((name) => (
    (new URLSearchParams(body).get(name) ?? '') === (form.elements.namedItem(name)?.value ?? ''))));

/**
 * Adds a row at the end; one with the same id, which was refused and is put right now, gives way to
 * it.
 */
export const add = (row) => within('outbox', 'readwrite', (store) => {
  const before = store.index('id').getKey(row.id);
  before.onsuccess = () => {
    if (before.result !== undefined) store.delete(before.result);
    store.add(row);
  };
});

/** Everything this phone holds of anybody, when somebody signs out. */
export async function wipe() {
  for (const name of ['outbox', 'photos', 'typed']) {
    await within(name, 'readwrite', (store) => store.clear());
  }
  await self.caches?.delete('hers');   // a customer's page that was looked at here
}
