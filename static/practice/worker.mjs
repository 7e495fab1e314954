// The practice page's service worker: keeps the page's own files, so that it
// opens with the hub stopped. The hub puts `shell`, the list of those files, a
// hash of what is in them and the reader's language, before this text; the
// questions are kept by the page.

const prefix = 'fieldsign-practice-shell-';
const name = prefix + shell.version;

addEventListener('install', (event) => {
  skipWaiting();
  event.waitUntil(keep());
});

async function keep() {
  const cache = await caches.open(name);
  await cache.addAll(shell.files.map((file) => new Request(file, { cache: 'reload' })));
}

addEventListener('activate', (event) => {
  event.waitUntil(clearUp());
});

async function clearUp() {
  const old = (await caches.keys()).filter((key) => key.startsWith(prefix) && key !== name);
  await Promise.all(old.map((key) => caches.delete(key)));
  await clients.claim();
}

addEventListener('fetch', (event) => {
  const { origin, pathname, searchParams } = new URL(event.request.url);
  const file = pathname === '/practice' ? `/practice?lang=${encodeURIComponent(searchParams.get('lang') ?? shell.language)}` : pathname;
  if (event.request.method === 'GET' && origin === location.origin && shell.files.includes(file)) {
    event.respondWith(kept(file, event.request));
  }
});

async function kept(file, request) {
  return (await (await caches.open(name)).match(file)) ?? fetch(request);
}
