// Keeps the page on the phone, so that it opens without the network. It keeps no answers of the house: what the farm was like
// is the page's own memory, with its age. FILES and EDITION are put in by build.mjs.
const FILES = '@files@';
const EDITION = 'drybell-@edition@';
/** A house that has not sent the page by then is not waited for, ms. */
const PATIENCE_MS = 4000;
const KEPT_PAGE = '/kept.html';

self.addEventListener('install', (event) => {
  self.skipWaiting();
  event.waitUntil(caches.open(EDITION).then((kept) => kept.addAll([KEPT_PAGE, ...FILES])));
});

self.addEventListener('activate', (event) => {
  const forgetOthers = async () => {
    for (const name of await caches.keys()) if (name !== EDITION) await caches.delete(name);
    await self.clients.claim();
  };
  event.waitUntil(forgetOthers());
});

/** The page from the house; where it does not answer, the kept one. */
async function pageOf(request) {
  try {
    return await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
  } catch {
    return (await caches.match(KEPT_PAGE)) ?? Response.error();
  }
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== 'GET' || origin !== self.location.origin) return;
  if (request.mode === 'navigate') event.respondWith(pageOf(request));
  else if (FILES.includes(pathname))
    event.respondWith(caches.match(request).then((kept) => kept ?? fetch(request)));
});
