// Matches on this phone: every line of a record for itself, so that a line is there whole or not at all. A line that another tab
// has written first is not written over.
const NAME = 'courtside';
let opened;

/** Opens the store; rejects where the browser gives none. */
function open() {
  return opened ||= new Promise((done, fail) => {
    if (!globalThis.indexedDB) return fail(new Error('no store'));
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('matches', {keyPath: 'id'});
      request.result.createObjectStore('lines', {keyPath: ['match', 'n']});
    };
    request.onsuccess = () => {
      request.result.onclose = () => { opened = undefined; };
      done(request.result);
    };
    request.onerror = () => fail(request.error);
    request.onblocked = () => fail(new Error('blocked'));
  }).catch(error => {
    opened = undefined;
    throw error;
  });
}

// Runs a transaction and waits until it is safe on the disk.
async function transact(stores, mode, work) {
  const db = await open();
  return new Promise((done, fail) => {
    const tx = db.transaction(stores, mode, mode === 'readwrite' ? {durability: 'strict'} : undefined);
    const result = work(...stores.map(name => tx.objectStore(name)));
    tx.oncomplete = () => done(result?.result);
    tx.onabort = () => fail(tx.error || new Error('aborted'));
    tx.onerror = () => {}; // the abort says it
  });
}

const all = match => IDBKeyRange.bound([match, 0], [match, Infinity]);

/** Begins a match with the lines of its record. */
export const create = (match, lines) => transact(['matches', 'lines'], 'readwrite', (matches, store) => {
  matches.add(match);
  lines.forEach((text, n) => store.add({match: match.id, n, text}));
});

/** Adds lines from number n on; the error is a ConstraintError where one of them is there. */
export const append = (id, n, lines) => transact(['lines'], 'readwrite', store => lines.forEach((text, i) => { store.add({match: id, n: n + i, text}); }));

/** The lines of a record, in their order. */
export const lines = async id => (await transact(['lines'], 'readonly', store => store.getAll(all(id)))).map(row => row.text);

/** All matches, the newest first. */
export const matches = async () => (await transact(['matches'], 'readonly', store => store.getAll())).sort((a, b) => b.began - a.began);

/** What is noted of a match besides its record. */
export const match = id => transact(['matches'], 'readonly', store => store.get(id));
export const note = match => transact(['matches'], 'readwrite', store => store.put(match));

/** Takes a match off the phone. */
export const remove = id => transact(['matches', 'lines'], 'readwrite', (matches, store) => {
  matches.delete(id);
  store.delete(all(id));
});

/** Asks the browser not to clear the store when it wants room. */
export const persist = () => navigator.storage?.persist?.().catch(() => false);

/** What an error of the store means: 'taken', 'full' or 'lost'. */
export const meaning = error => ({ConstraintError: 'taken', QuotaExceededError: 'full'})[error?.name] || 'lost';
