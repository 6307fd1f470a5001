// On every page of somebody who works at a table: takes packs along, sends what waits, says how it stands, and asks before a
// sign-out would lose something. Without scripts the pages work; only the table has no clocks.

import { flush, forget, keepAlong, note, waiting } from "/assets/table-kept.js";
import { dropPhotos, keepPhoto, photos, sendPhotos } from "/assets/table-photos.js";

// The page's part that holds the line may be put anew.
const line = () => document.querySelector("[data-kept]");
const words = (key) => line()?.dataset[key] ?? "";

async function takeAlong(address) {
  const answer = await fetch(address, { headers: { accept: "application/json" }, cache: "no-store" });
  if (!answer.ok) return;
  await keepAlong(await answer.json());
}

function said({ state, mine, others, problem }) {
  if (state === "needs-you") return words("needsYou").replace("{says}", problem?.says ?? "");
  if (state === "sending") return words("sending");
  if (mine > 0) return words("waits").replace("{count}", mine);
  return others > 0 ? words("others").replace("{count}", others) : "";
}

function show(standing) {
  const here = line();
  if (!here) return;
  const text = said(standing);
  here.textContent = text;
  here.hidden = text === "";
  if (standing.state === "needs-you" && standing.problem?.path) {
    const to = Object.assign(document.createElement("a"), { href: standing.problem.path, textContent: words("open") });
    here.append(" ", to);
  }
}

async function look() {
  const standing = await flush(() => show({ state: "sending" }));
  const { mine, problem } = await sendPhotos(await note("person")).catch(() => ({ mine: 0, problem: null }));
  const wrong = standing.problem ?? problem;
  show({ ...standing, state: wrong ? "needs-you" : standing.state, mine: standing.mine + mine, problem: wrong });
}

async function askBeforeLeaving(form) {
  const person = await note("person");
  const mine = [...(await waiting()), ...(await photos())].filter((one) => one.person === person);
  if (mine.length === 0) {
    await forget(person, false);
    form.submit();
    return;
  }
  const dialog = document.querySelector("#unsent");
  dialog.querySelector("[data-count]").textContent = words("waits").replace("{count}", mine.length);
  dialog.showModal();
  dialog.addEventListener(
    "close",
    async () => {
      if (dialog.returnValue === "stay") return;
      await forget(person, dialog.returnValue === "drop");
      if (dialog.returnValue === "drop") await dropPhotos(person);
      form.submit();
    },
    { once: true },
  );
}

/** The form of a proof, where nobody hears it: what was typed and the photo are kept, and go by themselves. */
async function keepForm(form) {
  const sent = new FormData(form);
  const file = [sent.get("camera"), sent.get("file")].find((one) => one instanceof File && one.size > 0);
  const person = await note("person");
  if (!file || !person) return form.submit();
  const told = (name) => String(sent.get(name) ?? "");
  await keepPhoto({ path: new URL(form.action).pathname, person, kind: told("kind"), pulled: told("pulled"), note: told("note"), file });
  form.reset();
  return look();
}

if ("indexedDB" in window) {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches("[data-outbox]") || navigator.onLine) return;
    event.preventDefault();
    keepForm(form).catch(() => form.submit());
  });
  // It was sent, and nobody answered.
  document.addEventListener("not-sent", ({ target }) => target.matches("[data-outbox]") && keepForm(target).catch(() => {}));
  if (line()?.dataset.packs) takeAlong(line().dataset.packs).catch(() => {});
  look().catch(() => {});
  addEventListener("online", () => look().catch(() => {}));
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && look().catch(() => {}));
  setInterval(() => look().catch(() => {}), 30_000);
  document.querySelector('form[action="/sign-out"]')?.addEventListener("submit", (event) => {
    event.preventDefault();
    askBeforeLeaving(event.target).catch(() => event.target.submit());
  });
}
if ("serviceWorker" in navigator && window.isSecureContext) {
  navigator.serviceWorker.register("/service-worker.js").catch(() => {});
}
