// On every page of somebody who works at a table: takes packs along, sends what waits, says how it stands, and asks before a
// sign-out would lose something. Without scripts the pages work; only the table has no clocks.

import { flush, forget, keepPacks, note, waiting } from "/assets/table-kept.js";

const line = document.querySelector("[data-kept]");
const words = (key) => line?.dataset[key] ?? "";

async function takeAlong(address) {
  const answer = await fetch(address, { headers: { accept: "application/json" }, cache: "no-store" });
  if (!answer.ok) return;
  const said = await answer.json();
  await keepPacks(said.person, said.packs);
}

function show(standing) {
  if (!line) return;
  const text =
    standing.state === "needs-you"
      ? words("needsYou").replace("{says}", standing.problem?.says ?? "")
      : standing.mine > 0
        ? words("waits").replace("{count}", standing.mine)
        : standing.others > 0
          ? words("others").replace("{count}", standing.others)
          : "";
  line.textContent = text;
  line.hidden = text === "";
}

async function look() {
  show(await flush());
}

async function askBeforeLeaving(form) {
  const person = await note("person");
  const mine = (await waiting()).filter((one) => one.person === person);
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
      form.submit();
    },
    { once: true },
  );
}

if ("indexedDB" in window) {
  if (line?.dataset.packs) takeAlong(line.dataset.packs).catch(() => {});
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
