// The tablet's page for a number, where the record cannot be reached: opens the plates whose table this tablet has along.

import { packs } from "/assets/table-kept.js";

const DAY_MS = 86_400_000;
const part = (name) => document.querySelector(`[data-part="${name}"]`);
const say = (name) => document.querySelector(`[data-say="${name}"]`).textContent;

navigator.serviceWorker?.register("/service-worker.js").catch(() => {});

/** What was opened at this tablet lately, by the number of its plate. */
async function along() {
  const fresh = (one) => one.tablet && Date.now() - one.kept_at <= one.kept_days * DAY_MS;
  return (await packs().catch(() => [])).filter(fresh).sort((one, other) => one.number - other.number);
}

function line({ path, number, title }) {
  const link = Object.assign(document.createElement("a"), { href: path, className: "act-quiet act-full", textContent: `${number}: ${title}` });
  const item = document.createElement("li");
  item.append(link);
  return item;
}

async function look() {
  const typed = new URLSearchParams(location.search).get("number")?.trim() ?? "";
  const here = await along();
  const meant = here.filter((one) => String(one.number) === typed);
  if (meant.length === 1) return location.replace(meant[0].path);
  document.querySelector("#number").value = typed;
  part("not-along").hidden = typed === "" || meant.length > 0;
  part("not-along").textContent = say("not-along").replace("{number}", typed);
  part("along").replaceChildren(...(meant.length > 1 ? meant : here).map(line));
  part("along-box").hidden = here.length === 0;
}

if (part("along")) await look();
