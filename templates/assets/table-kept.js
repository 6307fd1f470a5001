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

/**
 * What came from the studio's record about one class: its packs, and where help is in its room. Packs of other people and
 * old ones go; those of another class of the same person stay.
 */
export async function keepAlong({ person, class: at, packs: fresh, help }, now = Date.now()) {
  const names = new Set(fresh.map((one) => one.path));
  for (const one of await packs()) {
    const old = now - one.kept_at > one.kept_days * DAY_MS;
    const gone = one.class === at && !names.has(one.path);
    if (old || one.person !== person || gone) await remove("packs", one.path);
  }
  for (const one of fresh) await put("packs", { ...one, kept_at: now });
  await keepHelp(at, help);
  if ((await note("person")) !== person) await dropPictures();
  await keepNote("person", person);
  await keepPictures(at, fresh).catch(() => {});
}

/** Pictures of how it should look, and how wrong looks; the worker shows them from here. */
const PICTURES = "tympan-pictures";
const dropPictures = async () => "caches" in globalThis && caches.delete(PICTURES);

async function keepPictures(at, fresh) {
  if (!("caches" in globalThis)) return;
  const wanted = new Set(fresh.flatMap((one) => (one.pictures ?? []).map((picture) => picture.small)));
  const shelf = await caches.open(PICTURES);
  for (const { url } of await shelf.keys()) {
    const { pathname } = new URL(url);
    if (pathname.startsWith(`/classes/${at}/`) && !wanted.has(pathname)) await shelf.delete(url);
  }
  for (const path of wanted) if (!(await shelf.match(path))) await shelf.add(path);
}

/** Where help is in the room of a class, and what its data sheets say in short. The last class is the one at hand. */
async function keepHelp(at, help) {
  if (!help) return;
  await keepNote(`help ${at}`, help);
  await keepNote("class", at);
}

/** The help for the class that an address names, else for the class at hand. */
export async function help(path) {
  const named = /^\/classes\/([^/]+)\//.exec(path)?.[1] ?? (await note("class"));
  return named ? note(`help ${named}`) : null;
}

/** One pack, such as the page at the table itself brings. */
export const keepPack = (one, now = Date.now()) => put("packs", { ...one, kept_at: now });

/** A pack that came just now from the record says who is signed in and what time it is there. */
export async function contact(one, now = Date.now()) {
  await keepPack(one, now);
  await keepHelp(one.class, one.help);
  await keepNote("person", one.person);
  await keepNote("offset", one.made_ms - now);
}

/** One life of one page: within it there is a clock that nobody sets. */
const LIFE = crypto.randomUUID();

/** A moment by every clock at hand, and by how much the phone's was off at the last contact. */
export async function moment(at = Date.now()) {
  const mono = performance.now() - (Date.now() - at);
  return { at, mono, life: LIFE, offset: await note("offset").catch(() => null) };
}

/** Puts an entry in line, told at a moment; it is sent when there is a signal and its owner is signed in here. */
export async function line(entry, { at, mono, life, offset }) {
  await put("waiting", { ...entry, made_at: at, made_mono: mono, life, offset });
  navigator.storage?.persist?.().catch(() => {});
}

/** An entry that was put right after a complaint. */
export const relined = (entry) => put("waiting", { ...entry, problem: null });

const told = (entry, field) => entry.fields.find(([name]) => name === field)?.[1];
/** Whether an entry says no more than that a step began. What says how it ended tells all of that again. */
export const isBegan = (entry) => told(entry, "says") === "began";

/** Lets a beginning that the record would not take be tried once more. */
export async function tryAgain(path) {
  for (const one of await waiting()) if (one.path === path && one.problem && isBegan(one)) await relined(one);
}

/** What is typed after a step, so that a reload does not lose it; other tabs need not know. */
export const keepTyped = (one) => put("running", one);

/** Who was signed in at the last contact, and by how much the clocks differ. */
export const note = (key) => get("notes", key).then((found) => found?.value ?? null);
const keepNote = (key, value) => put("notes", { key, value });

const ON_TABLET = "/tablet/";
const onTablet = (entry) => entry.path.startsWith(ON_TABLET);

/** Asks who is signed in here, or which of the studio's tablets this is; null without a signal. */
export async function hello(address = "/table/hello") {
  const asked = Date.now();
  try {
    const answer = await fetch(address, { headers: { accept: "application/json" }, cache: "no-store" });
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
 * Sends what waits, in order, one plate's entries after another; `sending` is called when one goes. Says how it stands:
 * { state, mine, others, problem }, state being "stored", "waits", "sign-in" or "needs-you".
 */
export function flush(sending = () => {}) {
  const send = async () => {
    const before = await waiting();
    if (before.length === 0) return { state: "stored", mine: 0, others: 0, problem: null };
    // The studio's tablet tells for whoever stood there; for all others one has to be signed in.
    const shared = before.some(onTablet) ? await hello("/tablet/hello") : null;
    const own = before.every(onTablet) ? null : await hello();
    const person = own?.person ?? (await note("person"));
    if (!shared && !own) return tell("waits", person);
    if (!shared && !own.person) return tell("sign-in", person);
    const held = new Set();
    for (const entry of before) {
      const here = onTablet(entry) ? shared : own?.person === entry.person ? own : null;
      if (!here || held.has(entry.path)) continue;
      if (entry.problem) {
        if (!isBegan(entry)) held.add(entry.path);
        continue;
      }
      sending();
      const sent = await sendOne(entry, here);
      if (sent === "stored") {
        await remove("waiting", entry.place);
        if (!isBegan(entry)) await dropBegan(entry);
      } else if (sent === "later") {
        break;
      } else {
        if (!isBegan(entry)) held.add(entry.path);
        await put("waiting", { ...entry, problem: sent });
      }
    }
    return tell(null, person);
  };
  return navigator.locks ? navigator.locks.request("tympan-flush", send) : send();
}

/** The record has all of a run: its beginning, which it would not take by itself, is told with it. */
async function dropBegan(entry) {
  for (const one of await waiting()) {
    if (one.problem && isBegan(one) && told(one, "run") === told(entry, "run")) await remove("waiting", one.place);
  }
}

async function tell(state, person) {
  const left = await waiting();
  const mine = left.filter((one) => one.person === person || onTablet(one));
  const wrong = mine.find((one) => one.problem && !isBegan(one)) ?? mine.find((one) => one.problem);
  const problem = wrong ? { ...wrong.problem, path: wrong.path } : null;
  const found = state ?? (mine.length === 0 ? "stored" : problem ? "needs-you" : "waits");
  return { state: found, mine: mine.length, others: left.length - mine.length, problem };
}

async function sendOne(entry, here) {
  // Within one life of the page nobody sets this clock; after a reload the phone's own clock has to do.
  const steady = entry.life === LIFE;
  const elapsed = Math.max(0, Math.round(steady ? performance.now() - entry.made_mono : Date.now() - entry.made_at));
  const clock = new URLSearchParams({ elapsed, now_offset: here.offset });
  if (Number.isFinite(entry.offset)) clock.set("offset", entry.offset);
  if (steady) clock.set("steady", "yes");
  const body = new URLSearchParams([...entry.fields, ["seal", here.seal], ["once", entry.id]]);
  try {
    const answer = await fetch(`${entry.path}?${clock}`, {
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
  await dropPictures();
  for (const one of await all("running")) if (one.person === person) await remove("running", one.path);
  if (andEntries) for (const one of await waiting()) if (one.person === person) await remove("waiting", one.place);
}
