import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { proofPicture } from "../picture.mjs";

export const title = "The main job: from nothing to a ready class, a print, its grade and the term's tables";

const PASSWORD = "slow grained stone 14";
const LIST = [
  "Given name;Family name;E-mail;Student number;Section",
  "Wanda;Sørby;wanda.sorby@student.example;7001;01",
  "Ezekiel;\"Ó Riain; the younger\";zeke.oriain@student.example;7002;01",
  "Nu;Trần;;7003;01",
].join("\r\n");

/** Fills fields by name: text, a choice by its label, or a tick. */
async function fill(page, values) {
  for (const [name, value] of Object.entries(values)) {
    const field = page.locator(`main [name="${name}"]`);
    const kind = await field.first().evaluate((one) => one.type ?? one.localName);
    if (kind === "checkbox" || kind === "radio") await page.locator(`main [name="${name}"][value="${value}"]`).check();
    else if (kind.startsWith("select")) await field.first().selectOption(await optionWith(field.first(), value));
    else await field.first().fill(value);
  }
}

/** The value of the first option whose words hold these. */
async function optionWith(field, words) {
  const options = await field.locator("option").evaluateAll((all) => all.map((one) => [one.value, one.textContent]));
  const found = options.find(([, text]) => text.includes(words));
  assert.ok(found, `no “${words}” among ${options.map(([, text]) => text).join(", ")}`);
  return found[0];
}

/** Sends the form and waits for what comes of it. */
async function send(visitor, button = "main form button.act") {
  await visitor.page.locator(button).first().click();
  await visitor.page.waitForLoadState("load");
}

const here = (visitor) => new URL(visitor.page.url()).pathname;

/** A local date so many days from today, as date fields take it. */
function day(ahead) {
  const when = new Date(Date.now() + ahead * 86_400_000);
  return when.toISOString().slice(0, 10);
}

async function letterWith(school, words) {
  for (let tries = 0; tries < 300; tries += 1) {
    const found = school.letters().map(plain).find((letter) => words.every((word) => letter.includes(word)));
    if (found) return found;
    await pause(200);
  }
  throw new Error(`no letter with ${words.join(", ")}`);
}

/** A letter without the folds of quoted-printable. */
const plain = (letter) => letter.replace(/=\r?\n/g, "").replace(/=3D/g, "=");

export default async function mainJob(story) {
  const school = await story.newSchool();
  const keeper = await story.visitor(school);
  const began = Date.now();
  let home = "";

  await story.part("the first keeper makes the school by the address the console prints", async () => {
    await keeper.go(school.setUp);
    await keeper.look("set-up");
    await fill(keeper.page, {
      school: "Tidewater School of Print", safety_office: "Safety office, extension 88",
      given_name: "Hedda", family_name: "Marsh", email: "hedda.marsh@college.example", new: PASSWORD, again: PASSWORD,
    });
    await send(keeper);
    await keeper.look("first-page-of-a-keeper");
  });

  await story.part("a term, a studio, a class", async () => {
    await keeper.go("/school/terms");
    await fill(keeper.page, { name: "Autumn", starts: day(-30), ends: day(80), zone: "Europe/Oslo" });
    await send(keeper);
    await keeper.go("/school/studios");
    await fill(keeper.page, {
      name: "Stone room", room_address: "Quay 3, room 2", eyewash: "beside the door", emergency_numbers: "112, then extension 88",
    });
    await send(keeper);
    await keeper.go("/school/classes");
    await fill(keeper.page, { term: "Autumn", studio: "Stone room", code: "TP-1", title: "Plates one", instructor: "Hedda Marsh" });
    await send(keeper);
    await keeper.look("school-with-a-class");
    await keeper.go("/");
    const link = await keeper.page.locator('main a[href^="/classes/"]').first().getAttribute("href").catch(() => null);
    home = (link ?? here(keeper)).split("/").slice(0, 3).join("/");
    assert.match(home, /^\/classes\/[0-9a-f-]{36}$/);
  });

  await story.part("its listing, hours, stations, shelf and project", async () => {
    await keeper.go(`${home}/settings/listings`);
    await fill(keeper.page, { code: "TP 101", section: "01", level: "first year", credits: "5", basis: "letter" });
    await send(keeper);
    await keeper.go(`${home}/studio/hours`);
    const hours = keeper.page.locator('form[action$="/openings"]');
    for (const weekday of ["1", "2", "3", "4", "5", "6", "7"]) await hours.locator(`[name=weekday][value="${weekday}"]`).check();
    await hours.locator("[name=from]").fill("08:00");
    await hours.locator("[name=to]").fill("22:00");
    await hours.locator("button").click();
    for (const [name, kind] of [["Etching table", "etching table"], ["Slab", "slab"], ["Star-wheel press", "press"], ["Sink", "graining sink"]]) {
      await keeper.go(`${home}/studio/stations`);
      await fill(keeper.page, { name, kind, units: "2" });
      await send(keeper);
    }
    await keeper.go(`${home}/containers/new?what=gum`);
    await fill(keeper.page, { label: "Gum arabic", opened: day(-5), baume: "14", ph: "4.3" });
    await send(keeper);
    await keeper.go(`${home}/containers/new?what=phosphoric`);
    await fill(keeper.page, { label: "Phosphoric acid", opened: day(-5), weight: "85", drops_per_ml: "20", drops_spread: "2" });
    await send(keeper);
    await keeper.go(`${home}/settings/projects`);
    await fill(keeper.page, {
      title: "Tide marks", brief: "What the water left.", due: `${day(40)}T16:00`, edition_asked: "4", procedure: "Ball-grained aluminium plate",
    });
    await send(keeper);
    await keeper.look("settings-of-a-new-class");
  });

  await story.part("the class list, looked over and confirmed", async () => {
    await keeper.go(`${home}/people/list`);
    await fill(keeper.page, { text: LIST });
    await send(keeper);
    await keeper.look("list-preview");
    const text = await keeper.page.locator("main").innerText();
    for (const word of ["Sørby", "Ó Riain; the younger", "Trần"]) assert.ok(text.includes(word), word);
    await keeper.page.locator('[name="invite"]').check();
    await send(keeper);
    await keeper.look("people-of-a-new-class");
    await keeper.go(`${home}/people/list`);
    await fill(keeper.page, { text: LIST });
    await send(keeper);
    assert.equal(await keeper.page.locator('form[action$="/confirm"]').count(), 0, "the same list again is nothing to do");
    console.log(`      from nothing to a ready class: ${((Date.now() - began) / 1000).toFixed(1)} s of a program's clicks`);
  });

  let student = null;
  await story.part("a student comes in by the letter", async () => {
    const letter = await letterWith(school, ["wanda.sorby@student.example", "/links/"]);
    const link = /\/links\/[\w-]+/.exec(letter);
    assert.ok(link, letter);
    student = await story.visitor(school);
    await student.go(link[0]);
    await student.look("new-password");
    await fill(student.page, { new: PASSWORD, again: PASSWORD });
    await send(student);
    await student.look("first-page-of-a-student");
  });

  await story.part("every topic shown is signed off on one sheet", async () => {
    await keeper.go(`${home}/topics`);
    for (const tick of await keeper.page.locator('[name="topic"]').all()) await tick.check();
    await send(keeper);
    await keeper.go(`${home}/sign-offs`);
    const topics = await keeper.page.locator("#topic option").evaluateAll((all) => all.map((one) => [one.value, one.textContent]));
    assert.ok(topics.length >= 4);
    for (const [topic] of topics) {
      await keeper.go(`${home}/sign-offs?topic=${topic}&grade=watched`);
      await send(keeper, 'button[value="tick-all"]');
      await send(keeper, 'button[value="look-over"]');
      if (topic === topics[0][0]) await keeper.look("sign-offs-look-over");
      await send(keeper, 'button[value="sign"]');
    }
    await keeper.look("sign-offs-given");
  });

  let plate = "";
  await story.part("the student begins a print and its plate", async () => {
    await student.go(`${home}/prints/new`);
    await fill(student.page, {
      project: "Tide marks", title: "Low water", procedure: "aluminium", width: "30", height: "20", size_unit: "centimetres",
      materials: "crayon 3", weight: "medium",
    });
    await send(student);
    plate = here(student);
    assert.match(plate, /\/plates\/[0-9a-f-]{36}$/);
    await student.look("plate-begun");
  });

  await story.part("steps are started and ended at the table", async () => {
    for (const step of ["prepare", "draw"]) {
      await student.go(plate);
      await send(student, `form[action$="/start"]:has([value="${step}"]) button`);
      await student.look(`plate-${step}-under-way`);
      await send(student, 'form[action$="/end"] button');
    }
  });

  /** Starts a step on the plate's page. */
  async function start(step) {
    await student.go(plate);
    await send(student, `form[action$="/start"]:has([value="${step}"]) button`);
  }

  /** Logs the etch that is under way. */
  async function logEtch() {
    await student.go(`${plate}/etches/new`);
    await fill(student.page, { gum: "G1", gum_volume: "1", acid: "A1", drops: "4", application_1: "2", application_2: "2", gummed: "yes", buffed: "yes", rack_place: "B2" });
    await send(student, 'main form[action$="/etches/new"] button.act');
  }

  await story.part("the first etch is logged with its mix, and stands under gum", async () => {
    await start("first-etch");
    await student.look("etch-under-way");
    await logEtch();
    await student.go(plate);
    await student.look("plate-under-gum");
    const text = await student.page.locator("main").innerText();
    for (const word of ["0.0984 mol/L", "an estimate", "B2"]) assert.ok(text.includes(word), `${word} is not in ${text}`);
  });

  await story.part("rolled up, asked how the etch came up, etched again, proofed", async () => {
    await start("roll-up");
    await send(student, 'form[action$="/end"] button');
    await student.go(plate);
    await send(student, 'form[action$="/came-up"] button[value="as-drawn"]');
    await start("second-etch");
    await logEtch();
    await start("proof");
    await send(student, 'form[action$="/end"] button');
    await student.go(plate);
    await student.look("plate-proofed");
  });

  await story.part("a photo of the proof is added", async () => {
    await student.go(`${plate}/proofs/new`);
    await student.page.locator("[name=file]").setInputFiles({ name: "proof.jpg", mimeType: "image/jpeg", buffer: await proofPicture(student.page, { ink: 0.7 }) });
    await send(student);
    await student.look("proof-added");
    assert.ok(await student.page.locator("main img").first().evaluate((one) => one.naturalWidth > 0));
  });

  await story.part("the instructor gives the go-ahead; the print is handed in", async () => {
    await keeper.go(plate);
    await send(keeper, 'form[action$="/start"]:has([value="go-ahead"]) button');
    await send(keeper, 'form[action$="/end"] button');
    await student.go(`${home}/plates`);
    await send(student, 'form[action$="/hand-in"] button');
    await student.look("print-handed-in");
  });

  await story.part("it is marked, handed back, and the student sees the working", async () => {
    await keeper.go(`${home}/grades/rules`);
    const rows = keeper.page.locator('form[action$="/grades/categories"]');
    await rows.locator('[name^="title-"]').first().fill("Prints");
    await rows.locator('[name^="weight-"]').first().fill("100");
    for (const more of (await rows.locator('[name^="title-"]').all()).slice(1)) await more.fill("");
    for (const more of (await rows.locator('[name^="weight-"]').all()).slice(1)) await more.fill("");
    await rows.locator("button").click();
    await keeper.page.waitForLoadState("load");
    await keeper.go(`${home}/assessments`);
    await fill(keeper.page, { title: "Tide marks: the print", category: "Prints", project: "Tide marks", points: "40" });
    await send(keeper);
    await keeper.go(`${home}/grades`);
    const marking = await keeper.page.locator('main a[href*="/assessments/"]').first().getAttribute("href");
    await keeper.go(marking);
    const row = keeper.page.locator("fieldset", { hasText: "Sørby" });
    await row.locator('[name^="status-"]').selectOption("graded");
    await row.locator('[name^="points-"]').fill("34");
    await row.locator('[name^="words-"]').fill("Held from the first tone to the last.");
    await send(keeper);
    await keeper.look("marking");
    await keeper.go(`${marking}/hand-back`);
    await send(keeper);
    await student.go(`${home}/grades`);
    await student.look("grades-of-a-student");
    const text = await student.page.locator("main").innerText();
    for (const word of ["85", "34", "Held from the first tone"]) assert.ok(text.includes(word), `${word} is not in ${text}`);
  });

  await story.part("the tables of the term are taken", async () => {
    await keeper.go(`${home}/records`);
    if (here(keeper) !== `${home}/records`) {
      await keeper.page.locator('input[autocomplete~="current-password"]').fill(PASSWORD);
      await send(keeper);
    }
    await keeper.look("records-of-a-new-class");
    for (const [table, word] of [["roster", "Sørby"], ["etches", "as-drawn"], ["grades", "85"], ["signoffs", "watched"]]) {
      const [file] = await Promise.all([
        keeper.page.waitForEvent("download"), keeper.page.locator(`main a[href$="/records/${table}.csv"]`).first().click(),
      ]);
      const text = readFileSync(await file.path(), "utf8");
      assert.ok(text.includes(word), `${word} is not in ${table}: ${text.slice(0, 600)}`);
    }
  });
}
