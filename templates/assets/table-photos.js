// Photos of proofs that were taken without a signal: kept on this phone with an id of their own, and sent when their owner is
// signed in here. They lie in a store of their own, so that a page that runs already need not make room for them.

import { hello } from "/assets/table-kept.js";

let opened = null;

function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open("tympan-photos", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("photos", { keyPath: "id" });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
  return opened;
}

async function work(mode, deed) {
  const db = await open();
  return new Promise((resolve, reject) => {
    const transaction = db.transaction("photos", mode);
    const request = deed(transaction.objectStore("photos"));
    transaction.oncomplete = () => resolve(request.result);
    transaction.onerror = transaction.onabort = () => reject(transaction.error);
  });
}

export const photos = () => work("readonly", (all) => all.getAll());
const put = (one) => work("readwrite", (all) => all.put(one));
const remove = (id) => work("readwrite", (all) => all.delete(id));

/** Keeps a photo: { path, person, kind, pulled, note, file }. */
export async function keepPhoto({ file, ...told }) {
  await put({ ...told, id: crypto.randomUUID(), bytes: await file.arrayBuffer(), type: file.type, problem: null });
  navigator.storage?.persist?.().catch(() => {});
}

/** At sign-out, where their owner said so. */
export async function dropPhotos(person) {
  for (const one of await photos()) if (one.person === person) await remove(one.id);
}

/** Sends what waits; says how many of `person` are left, and what is wrong with one: { mine, problem }. */
export function sendPhotos(person) {
  const send = async () => {
    const before = await photos();
    const here = before.some((one) => !one.problem) ? await hello() : null;
    for (const one of here?.person ? before : []) {
      if (one.person !== here.person || one.problem) continue;
      const sent = await sendOne(one, here.seal);
      if (sent === "later") break;
      await (sent === "stored" ? remove(one.id) : put({ ...one, problem: sent }));
    }
    const left = (await photos()).filter((one) => one.person === person);
    const wrong = left.find((one) => one.problem);
    return { mine: left.length, problem: wrong ? { ...wrong.problem, path: wrong.path } : null };
  };
  return navigator.locks ? navigator.locks.request("tympan-photos", send) : send();
}

async function sendOne({ id, path, kind, pulled, note, bytes, type }, seal) {
  const body = new FormData(); // the seal comes first
  for (const [name, value] of [["seal", seal], ["once", id], ["kind", kind], ["pulled", pulled], ["note", note]]) body.append(name, value);
  body.append("file", new Blob([bytes], { type }), "proof");
  try {
    const answer = await fetch(path, { method: "POST", headers: { accept: "application/json" }, body, redirect: "manual" });
    if (answer.ok) return "stored";
    if (answer.status === 429 || answer.status >= 500 || answer.status === 401 || answer.type === "opaqueredirect") return "later";
    const said = await answer.json().catch(() => ({}));
    return { says: (said.trouble ?? []).join(" ") };
  } catch {
    return "later";
  }
}
