// What this phone keeps: packs for the table, the etch that runs, and entries that wait to be sent. Nothing else is stored,
// and nothing is ever dropped silently: an entry goes only when the studio's record says it has it, or its owner says so.

const NAME = "tympan";
const STORES = ["packs", "running", "waiting", "notes"];
const DAY_MS = 86_400_000;

let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      const db = request.result;
      db.createObjectStore("packs", { keyPath: "path" });
      db.createObjectStore("running", { keyPath: "path" });
      db.createObjectStore("waiting", { keyPath: "place", autoIncrement: true });
      db.createObjectStore("notes", { keyPath: "key" });
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
  });
  return opened;
}

async function work(store, mode, deed) {
  if (!STORES.includes(store)) throw new Error(`no store is called ${store}`);
  const db = await open();
  return new Promise((resolve, reject) => {
    const transaction = db.transaction(store, mode);
    const request = deed(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

const get = (store, key) => work(store, "readonly", (all) => all.get(key));
const all = (store) => work(store, "readonly", (every) => every.getAll());
const put = (store, value) => work(store, "readwrite", (every) => every.put(value));
const remove = (store, key) => work(store, "readwrite", (every) => every.delete(key));

export const pack = (path) => get("packs", path);
export const packs = () => all("packs");
export const running = (path) => get("running", path);

let tabs = null;

/** The other tabs of this phone, where the browser can tell them something. */
function others() {
  if ("BroadcastChannel" in globalThis) tabs ??= new BroadcastChannel("tympan-running");
  return tabs;
}

/** What runs on a plate. Other tabs with the same plate hear of it, so that two tabs are one etch. */
export async function keepRunning(one) {
  await put("running", one);
  others()?.postMessage({ path: one.path, left: null });
}

/** It runs no more: it was taken back, or its entry is stored ("stored"). */
export async function dropRunning(path, left = "back") {
  await remove("running", path);
  others()?.postMessage({ path, left });
}

/** Calls `deed` with { path, left } when another tab changed what runs. */
export const hearOthers = (deed) => others()?.addEventListener("message", (event) => deed(event.data));
export const waiting = () => all("waiting");

/** Packs as they came from the studio's record; older ones of anybody go. */
export async function keepPacks(person, fresh, now = Date.now()) {
  const kept = await packs();
  const names = new Set(fresh.map((one) => one.path));
  for (const one of kept) {
    const old = now - one.kept_at > one.kept_days * DAY_MS;
    if (old || one.person !== person || !names.has(one.path)) await remove("packs", one.path);
  }
  for (const one of fresh) await put("packs", { ...one, kept_at: now });
  await keepNote("person", person);
}

/** One pack, such as the page at the table itself brings. */
export const keepPack = (one, now = Date.now()) => put("packs", { ...one, kept_at: now });

/** A pack that came just now from the record says who is signed in and what time it is there. */
export async function contact(one, now = Date.now()) {
  await keepPack(one, now);
  await keepNote("person", one.person);
  await keepNote("offset", one.made_ms - now);
}

/** Puts an entry in line; it is sent when there is a signal and its owner is signed in here. */
export async function line(entry) {
  await put("waiting", { ...entry, made_at: Date.now(), made_mono: performance.timeOrigin + performance.now() });
  navigator.storage?.persist?.().catch(() => {});
}

/** An entry that was put right after a complaint. */
export const relined = (entry) => put("waiting", { ...entry, problem: null });

/** Who was signed in at the last contact, and by how much the clocks differ. */
export const note = (key) => get("notes", key).then((found) => found?.value ?? null);
const keepNote = (key, value) => put("notes", { key, value });

/** Asks who is signed in here; null without a signal. */
export async function hello() {
  const asked = Date.now();
  try {
    const answer = await fetch("/table/hello", { headers: { accept: "application/json" }, cache: "no-store" });
    if (!answer.ok) return null;
    const said = await answer.json();
    const back = Date.now();
    const offset = Math.round(said.now + (back - asked) / 2 - back);
    await keepNote("offset", offset);
    if (said.person) await keepNote("person", said.person);
    return { ...said, offset };
  } catch {
    return null;
  }
}

/**
 * Sends what waits, in order, one plate's entries after another. Says how it stands: { state, mine, others, problem },
 * state being "stored", "waits", "sign-in" or "needs-you".
 */
export function flush() {
  const send = async () => {
    const before = await waiting();
    if (before.length === 0) return { state: "stored", mine: 0, others: 0, problem: null };
    const here = await hello();
    if (!here) return tell("waits", await note("person"));
    if (!here.person) return tell("sign-in", await note("person"));
    const held = new Set();
    for (const entry of before) {
      if (entry.person !== here.person || held.has(entry.path)) continue;
      if (entry.problem) {
        held.add(entry.path);
        continue;
      }
      const sent = await sendOne(entry, here);
      if (sent === "stored") await remove("waiting", entry.place);
      else if (sent === "later") break;
      else {
        held.add(entry.path);
        await put("waiting", { ...entry, problem: sent });
      }
    }
    return tell(null, here.person);
  };
  return navigator.locks ? navigator.locks.request("tympan-flush", send) : send();
}

async function tell(state, person) {
  const left = await waiting();
  const mine = left.filter((one) => one.person === person);
  const problem = mine.find((one) => one.problem)?.problem ?? null;
  const found = state ?? (mine.length === 0 ? "stored" : problem ? "needs-you" : "waits");
  return { state: found, mine: mine.length, others: left.length - mine.length, problem };
}

async function sendOne(entry, here) {
  const mono = performance.timeOrigin + performance.now();
  // Within one life of the page nobody sets this clock; after a reload the phone's own clock has to do.
  const sameLife = entry.made_mono >= performance.timeOrigin;
  const elapsed = Math.max(0, Math.round(sameLife ? mono - entry.made_mono : Date.now() - entry.made_at));
  const body = new URLSearchParams([...entry.fields, ["seal", here.seal], ["once", entry.id]]);
  try {
    const answer = await fetch(`${entry.path}?offset=${here.offset}&elapsed=${elapsed}`, {
      method: "POST",
      headers: { accept: "application/json" },
      body,
      redirect: "manual",
    });
    if (answer.ok) return "stored";
    if (answer.status === 429 || answer.status >= 500 || answer.status === 401 || answer.type === "opaqueredirect") return "later";
    const said = await answer.json().catch(() => ({}));
    return { says: (said.trouble ?? []).join(" "), fields: said.fields ?? {} };
  } catch {
    return "later";
  }
}

/** At sign-out: this person's packs go, and their unsent entries only where they said so. */
export async function forget(person, andEntries) {
  for (const one of await packs()) if (one.person === person) await remove("packs", one.path);
  for (const one of await all("running")) if (one.person === person) await remove("running", one.path);
  if (andEntries) for (const one of await waiting()) if (one.person === person) await remove("waiting", one.place);
}
