// Keeps the table, the splash page, the tablet's number and what they are made of, so that they open without signal, and at once on a weak one.
// Nothing that belongs to a person is ever kept here: pages with somebody's data always come from the studio's record.

const SHELLS = ["/at-the-table", "/splash", "/tablet/away"];
const CACHE = `tympan-${VERSION}`;
// So long the record is waited for where the phone has everything along; and so long where it has not.
const SOON_MS = 700;
const WAIT_MS = 15_000;
const PATHS = new Set(KEPT.map((address) => address.split("?")[0]));
const AT_A_TABLE = /^\/(classes\/[^/]+\/plates\/[^/]+\/table|tablet\/plates\/[^/]+)$/;
// Pictures that a procedure shows to a class; taken along and let go by the page.
const PICTURES = "tympan-pictures";
const PICTURE = /^\/classes\/[^/]+\/procedures\/[^/]+\/pictures\//;
const SPLASH = /^\/(classes\/[^/]+\/)?splash$/;

self.addEventListener("install", (event) => {
  // Without cookies, so that nothing of a person comes along; the language is told instead.
  const wanted = { cache: "reload", credentials: "omit", headers: { "accept-language": LANGUAGE } };
  const fresh = [...SHELLS, ...KEPT].map((path) => new Request(path, wanted));
  event.waitUntil(caches.open(CACHE).then((cache) => cache.addAll(fresh)));
});

self.addEventListener("activate", (event) => {
  const clear = async () => {
    for (const name of await caches.keys()) if (name !== CACHE && name !== PICTURES) await caches.delete(name);
    await self.clients.claim();
  };
  event.waitUntil(clear());
});

// A new version takes over when somebody says so, never by itself in the middle of an etch.
self.addEventListener("message", (event) => {
  if (event.data === "take over") self.skipWaiting();
});

const kept = async (path, exactly = false) =>
  (await caches.open(CACHE)).match(path, { ignoreSearch: !exactly, ignoreVary: true });

/** An asset of this version never changes; one of another version comes from the record, and any will do without signal. */
async function asset(request, pathname, search) {
  const here = search === "" ? undefined : await kept(pathname + search, true);
  if (here) return here;
  try {
    return await fetch(request);
  } catch {
    return (await kept(pathname)) ?? Response.error();
  }
}

/** Whether the phone has a plate's pack along; without one the page that is kept would say nothing. */
function along(path) {
  return new Promise((resolve) => {
    const request = indexedDB.open("tympan");
    request.onupgradeneeded = () => request.transaction.abort(); // nothing was ever kept here
    request.onerror = () => resolve(false);
    request.onsuccess = () => {
      const db = request.result;
      const done = (found) => {
        db.close();
        resolve(found);
      };
      try {
        const asked = db.transaction("packs").objectStore("packs").count(path);
        asked.onsuccess = () => done(asked.result > 0);
        asked.onerror = () => done(false);
      } catch {
        done(false);
      }
    };
  });
}

/** The record's page, or the one that is kept when the record is slow, broken or out of reach. */
async function pageOr(request, shell, plate) {
  const given = new AbortController();
  const asked = fetch(request, { signal: given.signal }).catch(() => null);
  const ready = plate === null || (await along(plate));
  const late = new Promise((done) => setTimeout(() => done(null), ready ? SOON_MS : WAIT_MS));
  const answer = await Promise.race([asked, late]);
  if (answer && answer.status < 500) return answer;
  const here = await kept(shell);
  if (!here) return (await asked) ?? Response.error();
  given.abort();
  return here;
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname, search } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (request.mode === "navigate" && AT_A_TABLE.test(pathname)) {
    event.respondWith(pageOr(request, "/at-the-table", pathname));
  } else if (request.mode === "navigate" && SPLASH.test(pathname)) {
    event.respondWith(pageOr(request, "/splash", null));
  } else if (request.mode === "navigate" && pathname === "/tablet") {
    event.respondWith(pageOr(request, "/tablet/away", null));
  } else if (PICTURE.test(pathname)) {
    event.respondWith(caches.match(pathname, { cacheName: PICTURES, ignoreVary: true }).then((here) => here ?? fetch(request)));
  } else if (PATHS.has(pathname) && request.cache !== "reload") {
    event.respondWith(asset(request, pathname, search));
  }
});
