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

/** A call, notice or question for people (`pushMessageSchema`). Whatever comes is shown: browsers end what comes and stays hidden. */
self.addEventListener('push', (event) => {
  let told = {};
  try {
    told = event.data?.json() ?? {};
  } catch {
    // not one of ours: it is shown without words
  }
  const { farm = 'Drybell', sentence = '', language, tag, type } = told;
  event.waitUntil(
    self.registration.showNotification(farm, {
      body: sentence,
      lang: language,
      tag,
      renotify: tag !== undefined,
      requireInteraction: type === 'call',
      icon: '/icon.svg',
    }),
  );
});

/** Where a call is answered and a round is walked. */
const ANSWERED_AT = '#now';

/** Whoever presses a notification comes to the calls and the round: on the page that is open, in sight if one is, or on a new one. */
self.addEventListener('notificationclick', (event) => {
  event.notification.close();
  const open = async () => {
    const pages = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
    const page = pages.find((one) => one.visibilityState === 'visible') ?? pages[0];
    if (page === undefined) return self.clients.openWindow(`/${ANSWERED_AT}`);
    page.postMessage({ goTo: ANSWERED_AT });
    return page.focus();
  };
  event.waitUntil(open());
});

async function ask(wish) {
  const headers = { 'Content-Type': 'application/json' };
  const answer = await fetch('/api/phone', { method: 'POST', headers, body: JSON.stringify(wish) });
  return answer.json();
}

/** The browser has given the phone another address: the house is told it, under the old one's name. */
self.addEventListener('pushsubscriptionchange', (event) => {
  const { oldSubscription } = event;
  if (oldSubscription === null) return;
  const carryOver = async () => {
    const { endpoint } = oldSubscription;
    const { phone, publicKey } = await ask({ do: 'look', endpoint });
    if (phone === undefined) return;
    const subscription =
      event.newSubscription ??
      (await self.registration.pushManager.subscribe({
        userVisibleOnly: true,
        applicationServerKey: publicKey,
      }));
    await ask({ do: 'begin', subscription, name: phone.name });
    await ask({ do: 'end', endpoint });
  };
  event.waitUntil(carryOver());
});
