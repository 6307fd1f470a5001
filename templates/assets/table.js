// At the table: hands off. One tap starts a lead-in, then every application runs by itself; nothing need be touched until the
// gum is on and the gloves are off. The page is filled from a pack, the record's when there is a signal, else the phone's own.

import { ask, fillBeside, newVersion, takePhoto, tellPhotos } from "/assets/table-beside.js";
import { LEAD_MS, at, clockText, due, measured, secondsOf, segments, takenBack } from "/assets/table-clock.js";
import { confirmed, forget, settleDrops, share, showDrops, tapDrops, writeDrops } from "/assets/table-drops.js";
import * as kept from "/assets/table-kept.js";
import { give, keepAwake, letSleep, wakeSound } from "/assets/table-signal.js";

const SAME_TAP_MS = 400;
const main = document.querySelector("main");
const part = (name) => document.querySelector(`[data-part="${name}"]`);
const form = part("log");
const wallClock = (moment) => new Date(moment).toLocaleTimeString("en-GB");

function say(key, values = {}) {
  const text = document.querySelector(`#words [data-say="${key}"]`).textContent;
  return text.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}

function list(name, lines) {
  part(name).replaceChildren(...lines.map((text) => Object.assign(document.createElement("li"), { textContent: text })));
}

function tell(name, text) {
  part(name).textContent = text;
  part(name).hidden = text === "";
}

/** The one etch on this page: { path, person, run, entry, taps, who, pack, typed }. */
let own = null;
let pack = null;
let heard = Date.now();

// ---- the page before, filled from the pack ----

async function packHere() {
  const given = main.dataset.pack;
  if (given) {
    const fresh = JSON.parse(given);
    await kept.contact(fresh).catch(() => {});
    return fresh;
  }
  return kept.pack(location.pathname).catch(() => null);
}

/** Where the phone's own pack stood in for a slow record, the record's comes as soon as it can. */
async function fresher() {
  if (main.dataset.pack) return;
  const answer = await fetch(location.pathname, { headers: { accept: "application/json" }, cache: "no-store" }).catch(() => null);
  if (!answer?.ok || !answer.headers.get("content-type")?.includes("json")) return;
  const said = await answer.json().catch(() => null);
  if (!said?.pack || own || main.dataset.stage !== "before") return;
  pack = said.pack;
  await kept.contact(pack).catch(() => {});
  fill();
  await takeUp();
  draw();
}

function fill() {
  part("missing").hidden = true;
  part("step").textContent = pack.title;
  if (!main.dataset.pack) part("plate").textContent = `${pack.number}, ${pack.print}`;
  part("leave").href = part("on").href = pack.plate_path;
  part("splash").href = pack.tablet ? "/splash" : `/classes/${pack.class}/splash`;
  form.action = pack.path;
  list("beside", pack.beside ?? []);
  list("before", pack.before);
  list("after", pack.after);
  list("cautions", pack.cautions);
  list("refusals", pack.refusals);
  part("caution-box").hidden = pack.cautions.length === 0;
  part("during").replaceChildren(...pack.during.map((text) => Object.assign(document.createElement("p"), { textContent: text })));
  part("etch-fields").hidden = !pack.wants_etch;
  part("sheets-box").hidden = !pack.wants_sheets;
  part("who-box").hidden = !pack.wants_company;
  fillBeside(pack, say);
  mayBegin();
  for (const [name, choices] of [["gum", pack.gums], ["acid", pack.acids], ["stock", pack.stocks]]) {
    const field = form.elements.namedItem(name);
    if (field && !main.dataset.pack) field.replaceChildren(...choices.map((one) => new Option(one.label, one.value)));
  }
  for (const [name, words] of Object.entries(pack.labels)) {
    const text = form.elements.namedItem(name)?.labels?.[0]?.firstChild;
    if (text?.nodeType === Node.TEXT_NODE) text.data = text.data.trim().startsWith(words) ? text.data : words;
  }
  for (const [name, value] of Object.entries(pack.fields)) {
    const field = form.elements.namedItem(name);
    if (field && !main.dataset.pack) field.value = value;
  }
  if (pack.wants_etch) showMix();
}

/** A rule that refuses hides the button; the end of a rest brings it back by itself, with or without a signal. */
function mayBegin() {
  const from = pack.may_start_from_ms;
  const may = pack.may_start || pack.run || (from && Date.now() >= from);
  part("script-only").hidden = !may;
  part("refusals").hidden = Boolean(may) || pack.refusals.length === 0;
}

function label(choices, value) {
  return choices.find((one) => one.value === value)?.label.split(",")[0] ?? "–";
}

function showMix() {
  const { gum, gum_volume, acid } = pack.fields;
  const drops = confirmed(pack)?.drops ?? pack.fields.drops;
  part("mix").hidden = false;
  showDrops(pack, say);
  const unit = pack.fields.unit === "us_fl_oz" ? "fl oz" : "mL";
  part("mix-words").textContent = say("mix-words", {
    gum: label(pack.gums, gum), volume: `${gum_volume || "–"} ${unit}`, acid: label(pack.acids, acid), drops: drops || "–",
  });
  part("plan").textContent = say("plan", { applications: plan().map(clockText).join(" + ") });
}

/** Seconds of each application, as carried over. */
function plan() {
  if (!pack.wants_etch) return [];
  const told = Array.from({ length: 12 }, (_, row) => row + 1).map((row) => secondsOf(pack.fields[`application_${row}`] ?? "")).filter((seconds) => seconds > 0);
  return told.length > 0 ? told : [120];
}

// ---- taps ----

function stage(name) {
  if (main.dataset.stage === name) return;
  main.dataset.stage = name;
  for (const section of document.querySelectorAll("[data-stage-of]")) section.hidden = section.dataset.stageOf !== name;
  document.querySelector(`[data-stage-of="${name}"] h2`).scrollIntoView({ block: "nearest" });
}

async function tapped(kind) {
  const now = Date.now();
  if (kind === "begin" && !settleDrops(pack, say)) return;
  if (kind === "begin") wakeSound();
  const tap = { kind, ...(await kept.moment(now)) };
  if (kind === "begin") {
    own = { path: pack.path, person: pack.person, run: pack.run?.id ?? crypto.randomUUID(), entry: crypto.randomUUID(),
      taps: [{ ...tap, plan: plan() }], who: document.querySelector("#who-else").value.trim(), counted: confirmed(pack), pack };
    heard = now;
  } else if (kind === "back") {
    const left = takenBack(own.taps, now);
    if (left.length === 0) {
      own = null;
      await kept.dropRunning(pack.path);
      tell("alert", "");
      await letSleep();
      return stage("before");
    }
    own.taps = left;
    delete own.measured;
    own.typed = own.typed?.filter(([name]) => name !== "left_off" && !name.startsWith("application_"));
  } else if (kind === "more") {
    own.taps.push({ ...tap, seconds: lastLength() });
  } else {
    own.taps.push(tap);
  }
  if (kind === "stop") tell("alert", say("stopped", { at: wallClock(now) }));
  if (kind === "over" || kind === "more" || kind === "back") tell("alert", "");
  await kept.keepRunning(own);
  await begun(now);
  draw();
}

function lastLength() {
  const on = segments(own.taps).filter((one) => one.kind === "on");
  return on.at(-1)?.length ?? plan()[0] ?? 120;
}

/** Once the lead-in is over, or at once where there is none, the record hears that the step began. */
async function begun(now) {
  if (!own || own.told || own.taps.length === 0) return;
  const first = own.taps[0];
  if (pack.wants_etch && now < first.at + LEAD_MS) return;
  own.told = true;
  if ((await kept.running(own.path))?.told) return; // another tab was quicker
  await kept.keepRunning(own);
  await kept.line({ id: crypto.randomUUID(), person: own.person, path: pack.path, fields: [
    ["person", own.person], ["says", "began"], ["run", own.run], ["step", pack.step],
    ["began_ms", String(first.at)], ["planned", first.plan.join(",")], ["in_room", own.who ?? ""],
  ] }, first);
  send();
}

// ---- the clocks ----

function draw() {
  if (!own && main.dataset.stage === "before") mayBegin();
  if (!own || main.dataset.stage === "kept") return;
  const now = Date.now();
  begun(now).catch(() => {});
  const last = own.taps.at(-1);
  if (last.kind === "over") return after();
  stage("running");
  const here = at(own.taps, now);
  const etching = pack.wants_etch;
  for (const [tap, shown] of [["more", etching && here.phase !== "lead"], ["stop", etching && here.phase !== "stopped" && here.phase !== "over"], ["back", canTakeBack(now)], ["over", here.phase !== "lead" && here.phase !== "on"]]) {
    main.querySelector(`[data-stage-of="running"] [data-tap="${tap}"]`).hidden = !shown;
  }
  drawParts(now);
  if (!etching) return drawSince(now);
  const length = here.length / 1000;
  part("clock").textContent = clockText(here.left / 1000);
  part("progress").max = Math.max(1, length);
  part("progress").value = length - here.left / 1000;
  part("from").textContent = say("from", { at: wallClock(here.from) });
  part("to").textContent = say("lift", { at: wallClock(here.to) });
  part("clock-label").textContent =
    here.phase === "lead" ? say("lead-for", here)
      : here.phase === "on" ? say("on", { ...here, length: clockText(length) })
        : here.phase === "stopped" ? say("stopped", { at: wallClock(last.at) }) : say("all-over");
  for (const one of due(own.taps, heard, now)) signal(one, now);
  heard = now;
}

function drawSince(now) {
  const since = own.taps[0].at;
  part("clock").textContent = clockText((now - since) / 1000);
  part("clock-label").textContent = say("goes-on", { at: wallClock(since) });
  part("progress").max = Math.max(1, pack.minutes * 60);
  part("progress").value = (now - since) / 1000;
  part("from").textContent = part("to").textContent = "";
}

const canTakeBack = (now) => takenBack(own.taps, now).length < own.taps.length;

function drawParts(now) {
  const on = segments(own.taps).filter((one) => one.kind === "on");
  part("parts").hidden = on.length === 0;
  const lines = on.map((one) => {
    const state = now >= one.to ? "done" : now >= one.from ? "under-way" : "";
    const line = document.createElement("li");
    if (state === "under-way") line.setAttribute("aria-current", "step");
    const square = Object.assign(document.createElement("span"), { className: `square${state ? ` square-${state}` : ""}` });
    square.setAttribute("aria-hidden", "true");
    const words = document.createElement("span");
    const name = Object.assign(document.createElement("b"), { textContent: say("done-part", { part: one.part }) });
    words.append(name, state === "done" ? clockText((one.to - one.from) / 1000) : say(state || "not-yet"));
    line.append(square, words);
    return line;
  });
  const key = lines.map((one) => one.textContent).join("|");
  if (part("parts").dataset.key === key) return;
  part("parts").dataset.key = key;
  part("parts").replaceChildren(...lines);
}

// ---- what is heard, felt and seen ----

function signal(one, now) {
  const last = one.what === "end" && at(own.taps, now).phase === "over";
  tell("alert", last ? say("all-over") : say(one.what === "on" ? "lift" : one.what, { part: one.part, at: "" }).trim());
  if (one.what === "on") tell("alert", "");
  // A signal that came while the phone slept is shown, not played.
  if (now - one.at < 3000) give(one.what);
}

const stayAwake = () => (own ? keepAwake(() => tell("wake", say("wake-refused")), () => tell("wake", "")) : null);

// ---- afterwards ----

function after() {
  if (main.dataset.stage === "after") return;
  stage("after");
  letSleep();
  if (pack.wants_etch) {
    fillMeasured();
    writeDrops(pack, own.counted, form.elements.namedItem("drops"), say);
  }
  if (own.typed) typeBack(own.typed);
}

function fillMeasured() {
  const times = measured(own.taps, own.taps.at(-1).at);
  own.measured = times;
  for (let row = 1; row <= 12; row += 1) {
    const field = form.elements.namedItem(`application_${row}`);
    if (field) field.value = row <= times.length ? clockText(times[row - 1]) : "";
  }
  part("measured").textContent = say("measured", { times: times.map(clockText).join(" + ") });
  const stopped = own.taps.some((tap) => tap.kind === "stop");
  form.elements.namedItem("left_off").checked = stopped && times.length < own.taps[0].plan.length;
}

/** Everything in the form, ticks with what they are now. */
function typed() {
  return [...form.elements]
    .filter((field) => field.name && !["seal", "once"].includes(field.name) && field.type !== "submit" && field.type !== "button")
    .map((field) => [field.name, field.type === "checkbox" ? (field.checked ? "yes" : "") : field.value]);
}

/** Puts back what was typed before a reload, or what an entry says that came back with a complaint. */
function typeBack(fields) {
  for (const [name, value] of fields) {
    const field = form.elements.namedItem(name);
    if (!(field instanceof Element)) continue;
    if (field.type === "checkbox") field.checked = value !== "";
    else field.value = value;
  }
}

async function keep(event) {
  event.preventDefault();
  const all = typed();
  const ticked = all.filter(([name, value]) => name !== "left_off" && (value !== "" || form.elements.namedItem(name).type !== "checkbox"));
  const left = form.elements.namedItem("left_off").checked;
  const [first, last] = [own.taps[0], own.taps.at(-1)];
  const fields = [
    ["person", own.person], ["says", left ? "left_off" : "done"], ["run", own.run], ["step", pack.step],
    ["began_ms", String(byLaterClock(first, last))], ["ended_ms", String(last.at)], ["planned", first.plan.join(",")],
    ["in_room", own.who ?? ""], ...(own.measured ? [["measured", own.measured.join(",")]] : []),
    ...(pack.wants_etch ? ticked : ticked.filter(([name]) => ["sheets", "note", "gummed", "buffed", "talc", "rack_place", "goes_on"].includes(name))),
  ];
  own.typed = all;
  const waits = await problematic();
  const entry = { id: waits ? crypto.randomUUID() : own.entry, person: own.person, path: pack.path, run: own.run, fields, pack: own.pack };
  // Put right after a complaint: the same place in line, under a new id, because what it says has changed.
  if (waits) await kept.relined({ ...waits, ...entry });
  else await kept.line(entry, last);
  own.lined = true;
  forget(pack);
  await kept.keepRunning(own);
  stage("kept");
  part("kept-words").textContent = say("waits", { count: (await kept.waiting()).length });
  await send();
}

/** The first tap by the clock of the last one, where the record knows of both that the phone was set between them. */
function byLaterClock(first, last) {
  const shift = Number.isFinite(first.offset) && Number.isFinite(last.offset) ? first.offset - last.offset : 0;
  return Math.min(last.at, Math.abs(shift) > 60_000 ? first.at + shift : first.at);
}

/** This run's entry that came back with a complaint. */
async function problematic() {
  return (await kept.waiting()).find((one) => one.run === own.run && one.problem && !kept.isBegan(one));
}

async function send() {
  const standing = await kept.flush(sending).catch(() => null);
  if (!standing) return;
  const words = { stored: "", waits: standing.mine > 0 ? say("waits", { count: standing.mine }) : "", "sign-in": say("sign-in"), "needs-you": say("needs-you", { says: standing.problem?.says ?? "" }) };
  tell("state", words[standing.state]);
  if (!own?.lined) return;
  const isDone = (one) => one.run === own.run && !kept.isBegan(one);
  const mine = (await kept.waiting()).find(isDone);
  if (mine?.problem) return complain(mine);
  if (!mine) await kept.dropRunning(pack.path, "stored");
  stage("kept");
  part("kept-words").textContent = mine ? say("waits", { count: standing.mine }) : say("stored");
  await others();
}

/** Only while something really goes; before it is kept, and afterwards stored. */
function sending() {
  if (main.dataset.stage === "kept") part("kept-words").textContent = say("sending");
  else tell("state", say("sending"));
}

function complain({ problem, fields }) {
  own.lined = false;
  stage("after");
  for (const tick of form.querySelectorAll("[type=checkbox]")) tick.checked = false;
  typeBack(fields);
  form.elements.namedItem("left_off").checked = fields.some(([name, value]) => name === "says" && value === "left_off");
  for (const old of form.querySelectorAll(".complaint-kept")) old.remove();
  for (const old of form.querySelectorAll("[aria-invalid]")) old.removeAttribute("aria-invalid");
  for (const [name, words] of Object.entries(problem.fields)) {
    const field = form.elements.namedItem(name);
    if (!(field instanceof Element)) continue;
    field.setAttribute("aria-invalid", "true");
    field.after(Object.assign(document.createElement("span"), { className: "complaint complaint-kept", textContent: words }));
  }
  form.querySelector("[aria-invalid]")?.focus();
}

/** Other plates of one's own whose next step is the same: one sitting, one mix. */
async function others() {
  const same = (await kept.packs()).filter((one) => one.path !== pack.path && one.step === pack.step && one.person === pack.person && one.may_start);
  part("others-label").hidden = same.length === 0;
  part("others").replaceChildren(...same.map((one) => {
    const line = document.createElement("li");
    line.append(Object.assign(document.createElement("a"), { href: one.path, textContent: `${one.number}, ${one.print}` }));
    return line;
  }));
  const mix = Object.fromEntries([...new FormData(form)].filter(([name]) => ["gum", "gum_volume", "acid", "drops", "stock", "stock_volume", "unit", "recipe", "tool"].includes(name)));
  for (const one of same) {
    await kept.keepPack({ ...one, fields: { ...one.fields, ...mix } });
    if (own.counted) share(one, { ...own.counted, drops: mix.drops });
  }
}

// ---- the beginning ----

/** What runs here already; else an entry that came back; else a run that another phone began: the same clocks. */
async function takeUp() {
  await kept.tryAgain(pack.path).catch(() => {});
  const here = await kept.running(pack.path).catch(() => null);
  const back = (await kept.waiting().catch(() => [])).find((one) => one.path === pack.path && one.problem && one.person === pack.person && !kept.isBegan(one));
  if (here && here.person === pack.person) {
    own = here;
  } else if (back) {
    own = ofEntry(back);
  } else if (pack.run && (!pack.wants_etch || pack.run.planned.length > 0)) {
    const offset = (await kept.note("offset")) ?? 0;
    own = { path: pack.path, person: pack.person, run: pack.run.id, entry: crypto.randomUUID(), told: true, who: pack.run.in_room, pack,
      taps: [{ kind: "begin", at: pack.run.began_ms - offset, plan: pack.run.planned, offset }] };
    await kept.keepRunning(own);
  }
  // The plate may have gone on meanwhile: what runs here, or came back, is told as the step it was.
  if (own?.pack && own.pack.step !== pack.step) {
    pack = own.pack;
    delete main.dataset.pack;
    fill();
  }
  if (back && own?.run === back.run) complain(back);
}

/** The run that an entry tells of. */
function ofEntry({ path, person, run, id, fields, pack: then }) {
  const said = (name) => fields.find(([field]) => field === name)?.[1] ?? "";
  const plan = said("planned").split(",").map(Number).filter((seconds) => seconds > 0);
  return { path, person, run, entry: id, told: true, who: said("in_room"), pack: then ?? pack,
    taps: [{ kind: "begin", at: Number(said("began_ms")), plan }, { kind: "over", at: Number(said("ended_ms")) }],
    measured: said("measured").split(",").map(Number).filter((seconds) => seconds > 0) };
}

/** Another tab of this phone tapped something, wrote it down, or took it back. */
async function takeOver({ path, left }) {
  if (path !== pack.path || (main.dataset.stage === "kept" && left !== "stored")) return;
  const here = await kept.running(path);
  if (here && here.person !== pack.person) return;
  own = here ?? null;
  heard = Date.now();
  if (left === "stored" || own?.lined) {
    stage("kept");
    part("kept-words").textContent = left === "stored" ? say("stored") : say("waits", { count: (await kept.waiting()).length });
    return letSleep();
  }
  if (!own) {
    tell("alert", "");
    await letSleep();
    return stage("before");
  }
  const last = own.taps.at(-1);
  tell("alert", last.kind === "stop" ? say("stopped", { at: wallClock(last.at) }) : "");
  draw();
}

let lastTap = Number.NEGATIVE_INFINITY; // the first tap counts, however soon it comes
document.addEventListener("click", (event) => {
  const asks = event.target.closest("[data-ask]");
  if (asks && pack) ask(asks.dataset.ask, pack, say).catch((error) => tell("state", String(error)));
  const drops = event.target.closest("[data-drops]");
  if (drops && pack && tapDrops(drops.dataset.drops, pack, say)) showMix();
  const button = event.target.closest("[data-tap]");
  if (!button || !pack) return;
  const now = performance.now();
  if (now - lastTap < SAME_TAP_MS) return;
  lastTap = now;
  tapped(button.dataset.tap).then(stayAwake).catch((error) => tell("state", String(error)));
});
for (const kind of ["input", "change"]) {
  form.addEventListener(kind, () => {
    if (!own || main.dataset.stage !== "after") return;
    own.typed = typed();
    kept.keepTyped(own).catch(() => {});
  });
}
part("photo").addEventListener("change", ({ target: { files } }) => {
  for (const file of files) takePhoto(file, pack, say).catch((error) => tell("state", String(error)));
});
form.addEventListener("submit", (event) => keep(event).catch((error) => tell("state", String(error))));
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState !== "visible") return;
  draw();
  stayAwake();
  send();
});
addEventListener("online", () => {
  send();
  if (pack?.photo_path) tellPhotos(pack, say).catch(() => {});
});

pack = await packHere();
if (pack) {
  fill();
  await takeUp();
  kept.hearOthers((told) => takeOver(told).catch((error) => tell("state", String(error))));
  setInterval(draw, 200);
  setInterval(send, 30_000);
  draw();
  stayAwake();
  send();
  fresher().catch(() => {});
}
newVersion(() => !own, say);
