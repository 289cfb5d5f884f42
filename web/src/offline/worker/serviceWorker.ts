// Answers for the application's own files when there is no network. It keeps the built files and the page as one
// version; the page is kept as a whole answer, since its headers carry the word its styles need. What the server
// answers under /api/ is none of its business.
//
// A newer version is fetched beside the running one and waits until a page asks it to take over.
export {};
declare const self: ServiceWorkerGlobalScope;
// Put in by precache.ts when the application is built.
declare const __FILES__: readonly string[];
declare const __VERSION__: string;

const prefix = 'dapple-files-';
const own = prefix + __VERSION__;
const page = '/';

async function fetchAll(): Promise<void> {
  const cache = await caches.open(own);
  const fresh = [page, ...__FILES__].map((address) => new Request(address, { cache: 'no-cache' }));
  await cache.addAll(fresh);
}

// The version before stays, for pages that still run it in another tab.
async function dropOld(): Promise<void> {
  const versions = (await caches.keys()).filter((name) => name.startsWith(prefix) && name !== own);
  await Promise.all(versions.slice(0, -1).map((name) => caches.delete(name)));
}

async function kept(address: string, request: Request): Promise<Response> {
  const cache = await caches.open(own);
  return (await cache.match(address)) ?? (await caches.match(request)) ?? fetch(request);
}

const namesAFile = (path: string) => path.slice(path.lastIndexOf('/') + 1).includes('.');

self.addEventListener('install', (event) => event.waitUntil(fetchAll()));

self.addEventListener('activate', (event) => event.waitUntil(dropOld().then(() => self.clients.claim())));

self.addEventListener('message', (event) => {
  if (event.data === 'take over') void self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== self.location.origin) return;
  if (address.pathname.startsWith('/api/')) return;
  if (request.mode === 'navigate' && !namesAFile(address.pathname)) event.respondWith(kept(page, request));
  else if (__FILES__.includes(address.pathname)) event.respondWith(kept(address.pathname, request));
});
