// Keeps the table, the splash page and what they are made of, so that both open without signal. Nothing that belongs to a
// person is ever kept here: pages with somebody's data always come from the studio's record.

const SHELLS = ["/at-the-table", "/splash"];
const CACHE = `tympan-${VERSION}`;
const WAIT_MS = 4000;
const AT_A_TABLE = /^\/classes\/[^/]+\/plates\/[^/]+\/table$/;
const SPLASH = /^\/(classes\/[^/]+\/)?splash$/;

self.addEventListener("install", (event) => {
  // Without cookies, so that nothing of a person comes along; the language is told instead.
  const wanted = { cache: "reload", credentials: "omit", headers: { "accept-language": LANGUAGE } };
  const fresh = [...SHELLS, ...KEPT].map((path) => new Request(path, wanted));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(fresh)));
});

self.addEventListener("activate", (event) => {
  const clear = async () => {
    for (const name of await caches.keys()) if (name !== CACHE) await caches.delete(name);
    await self.clients.claim();
  };
  event.waitUntil(clear());
});

// A new version takes over when somebody says so, never by itself in the middle of an etch.
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

const kept = async (path) => (await caches.open(CACHE)).match(path, { ignoreSearch: true });

async function networkOr(request, path) {
  const given = new AbortController();
  const timer = setTimeout(() => given.abort(), WAIT_MS);
  try {
    return await fetch(request, { signal: given.signal });
  } catch {
    return (await kept(path)) ?? Response.error();
  } finally {
    clearTimeout(timer);
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (request.mode === "navigate" && AT_A_TABLE.test(pathname)) {
    event.respondWith(networkOr(request, "/at-the-table"));
  } else if (request.mode === "navigate" && SPLASH.test(pathname)) {
    event.respondWith(networkOr(request, "/splash"));
  } else if (KEPT.includes(pathname) && request.cache !== "reload") {
    event.respondWith(fetch(request).catch(async () => (await kept(pathname)) ?? Response.error()));
  }
});
