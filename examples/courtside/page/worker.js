// Keeps the page on the phone, so that it works without a network. A page that changed is fetched whole before it takes the place of
// the old one, and takes it when the old one is closed.
/* global FILES, VERSION */
const name = 'courtside ' + VERSION;

addEventListener('install', e => e.waitUntil((async () => {
  const cache = await caches.open(name);
  await cache.addAll([...FILES.map(file => new Request(file, {cache: 'no-cache'})), './']);
})()));

addEventListener('activate', e => e.waitUntil((async () => {
  for (const other of await caches.keys()) if (other.startsWith('courtside ') && other !== name) await caches.delete(other);
  await clients.claim();
})()));

addEventListener('fetch', e => {
  const {request} = e, url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== location.origin) return;
  e.respondWith((async () => {
    const cache = await caches.open(name);
    return await cache.match(request, {ignoreSearch: true}) || (request.mode === 'navigate' && await cache.match('./')) || fetch(request);
  })());
});

addEventListener('message', e => e.data === 'now' && skipWaiting());
