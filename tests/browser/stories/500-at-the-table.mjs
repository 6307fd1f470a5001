import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { AT, root } from "../harness.mjs";
import { AtTable, MINUTE, SECOND } from "../table-scene.mjs";

export const title = "At the table: an etch by itself, without signal, over a reload, sent later; clocks wrong, taps double, left off";
export const alone = true;

export default async function atTheTable(story) {
  await story.check("the clocks follow from taps and the time alone", async () => {
    const source = readFileSync(path.join(root, "templates/assets/table-clock.js"), "utf8");
    const clock = await import(`data:text/javascript,${encodeURIComponent(source)}`);
    const begin = { kind: "begin", at: 0, plan: [120, 90] };
    const phases = (taps, moments) => moments.map((now) => clock.at(taps, now).phase);
    assert.deepEqual(phases([begin], [0, 9_999, 10_000, 129_999, 130_000, 140_000, 229_999, 230_000]),
      ["lead", "lead", "on", "on", "lead", "on", "on", "over"]);
    assert.deepEqual(clock.measured([begin], 70_000), [60], "an application under way counts as far as it went");
    const stopped = [begin, { kind: "stop", at: 160_000 }];
    assert.deepEqual([clock.at(stopped, 500_000).phase, clock.measured(stopped, 500_000)], ["stopped", [120, 20]]);
    const more = [...stopped, { kind: "more", at: 200_000, seconds: 60 }];
    assert.deepEqual([clock.at(more, 215_000).phase, clock.measured(more, 900_000)], ["on", [120, 20, 60]]);
    assert.deepEqual(clock.signals([begin]).map((one) => [one.at, one.what]), [
      [10_000, "on"], [70_000, "half"], [120_000, "ten"], [130_000, "end"],
      [140_000, "on"], [185_000, "half"], [220_000, "ten"], [230_000, "end"],
    ]);
    assert.deepEqual(clock.due([begin], 60_000, 130_000).map((one) => one.what), ["half", "ten", "end"], "after a lock nothing is missed");
    assert.deepEqual(clock.takenBack([begin], 5_000), [], "within the lead-in nothing was on the plate");
    assert.deepEqual(clock.takenBack([begin], 15_000), [begin], "what is on the plate stays begun");
    assert.deepEqual(clock.takenBack(stopped, 170_000), [begin]);
    for (const [typed, seconds] of [["2", 120], ["1,5", 90], ["2:30", 150], ["", null], ["two", null], ["2:60", null]]) {
      assert.equal(clock.secondsOf(typed), seconds, typed);
    }
  });

  const demo = await story.ownDemo();
  const student = await story.visitor(demo, "student");
  const table = new AtTable(student);
  const { home, page } = table;
  const [tap, shown] = [(kind) => table.tap(kind), (name) => table.shown(name)];
  // A tap is kept on the phone before it shows.
  const says = (name, words) => page.locator(`[data-part=${name}]`, { hasText: words }).waitFor();
  const [drawnPlate, withoutSignal] = [(name) => table.drawnPlate(name), (deed) => table.withoutSignal(deed)];
  let plate = null;

  await story.part("the table is reached from the plate, and says everything before the acid is opened", async () => {
    plate = await drawnPlate("Undertow");
    await student.go(plate);
    await student.look("plate-with-table");
    await page.clock.install({ time: new Date(AT) });
    await page.locator(`a[href="${plate}/table"]`).click();
    await page.locator("[data-tap=begin]").waitFor();
    assert.match(await page.locator("main").innerText(), /Who else is in the room/i);
    await student.look("table-before", { source: false });
    await page.locator("#drops-counted").fill("a few");
    await page.locator("[data-drops=counted]").click();
    await says("drops-words", /“a few” is not a whole number/);
    assert.equal(await page.locator("#drops-counted").inputValue(), "a few", "what was typed stays");
    await page.locator("#drops-counted").fill("lots");
    await tap("begin");
    await says("drops-words", /“lots” is not a whole number/);
    assert.equal(await page.locator("main").getAttribute("data-stage"), "before", "the clock stands still");
    await page.locator("#drops-counted").fill("99");
    await page.locator("[data-drops=counted]").click();
    await says("drops-words", /99 drops are many more/);
    await page.locator("[data-drops=counted]").click();
    await says("drops-words", /Counted at/);
    await page.locator("[data-drops=again]").click();
    await page.locator("#drops-counted").fill("9");
    await page.locator("[data-drops=counted]").click();
    await says("drops-words", /Counted at/);
    assert.equal(await page.locator("#drops-counted").getAttribute("aria-invalid"), null);
    await student.look("table-drops-counted", { source: false, widths: ["narrow"] });
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => null));
  });

  await story.part("a whole etch without signal: the lead-in, every application by itself, a reload in the middle", async () => {
    await withoutSignal(async () => {
      await page.goto(`${demo.address}${plate}/table`);
      await page.locator("[data-tap=begin]").waitFor();
      await says("drops-words", /Counted at/); // once is enough, whatever became of the page
      assert.equal(await page.locator("#drops-counted").inputValue(), "9");
      await page.locator("#who-else").fill("Otis");
      await tap("begin");
      await says("clock-label", /Ready for application 1/);
      await page.clock.runFor(SECOND);
      await tap("back");
      await page.locator("[data-tap=begin]:visible").waitFor(); // taken back within the lead-in
      await page.clock.runFor(SECOND);
      await page.locator("[data-tap=begin]").dblclick();
      await page.clock.runFor(10 * SECOND + 300);
      await says("clock-label", /application 1 of/);
      await student.look("table-running", { source: false, least: 64 });
      await page.reload();
      await page.locator("[data-stage-of=running]:visible").waitFor();
      await says("clock-label", /application 1 of/);
      await page.clock.fastForward(10 * MINUTE);
      await page.clock.runFor(500);
      await says("alert", /All applications are over/);
      await student.look("table-over", { source: false, least: 64 });
      await page.clock.runFor(SECOND);
      await tap("more");
      await page.clock.runFor(39 * SECOND);
      await page.clock.runFor(SECOND);
      await tap("stop");
      await page.locator("[data-part=alert]", { hasText: /Stopped at/ }).waitFor();
      await page.clock.runFor(SECOND);
      await tap("over");
      await page.locator("[data-stage-of=after]:visible").waitFor();
      assert.match(await page.locator("form [name=gum_volume]").evaluate((field) => field.labels[0].innerText), /fl oz|mL/);
      assert.match(await page.locator("form [name=unit]").inputValue(), /us_fl_oz|ml/);
      assert.equal(await page.locator("form [name=drops]").inputValue(), "9");
      await says("drops-in", /9 drops, as counted at/);
      await page.locator("[name=left_off]").uncheck();
      await page.locator("form [name=gummed]").check();
      await page.locator("form [name=buffed]").check();
      await page.locator("form [name=rack_place]").fill("C2");
      await student.look("table-after", { source: false, widths: ["narrow"] });
      await page.locator("form button[type=submit]").click();
      await page.locator("[data-stage-of=kept]:visible").waitFor();
      assert.match(await shown("kept-words"), /kept on this phone/i);
      await student.look("table-kept", { source: false, widths: ["narrow"] });
    });
    let letGo = null;
    const held = new Promise((resolve) => { letGo = resolve; });
    await student.context.route("**/table?*", async (route) => {
      if (route.request().method() === "POST") await held;
      await route.continue();
    });
    await page.evaluate(() => dispatchEvent(new Event("online")));
    await says("kept-words", /^Sending/);
    letGo();
    await page.locator("[data-part=kept-words]", { hasText: "Stored in the studio’s record" }).waitFor();
    await student.context.unroute("**/table?*");
    await student.go(plate);
    const text = await page.locator("main").innerText();
    assert.match(text, /C2/);
    assert.match(text, /9 drops/i, "as they were counted");
    assert.match(text, /in the room: Otis/, "who else was in the room is its own fact");
    assert.match(text, /0:30/, "the added application was stopped after half a minute");
    // The ten minutes of lock were not the record's, so its clock was set after the last contact; over a reload nobody can
    // say before which tap, and that is told.
    assert.match(text, /clock could not be put right/);
    await student.look("plate-after-the-table");
  });

  await story.part("signing out asks before anything unsent would go", async () => {
    const second = await drawnPlate("Ebb");
    await student.go(home);
    await student.go(`${second}/table`);
    await page.locator("[data-tap=begin]").waitFor();
    await page.clock.runFor(SECOND);
    await withoutSignal(async () => {
      await tap("begin");
      await page.clock.runFor(15 * SECOND);
      await page.waitForFunction(async () => (await (await import("/assets/table-kept.js")).waiting()).length > 0);
      // The line to the record is cut for entries only, so that the page itself can be read.
      await student.context.route("**/table?*", (route) => (route.request().method() === "POST" ? route.abort() : route.continue()));
      await student.context.route("**/table/hello", (route) => route.abort());
    });
    await student.go(home);
    await page.locator("[data-kept]:visible").waitFor();
    assert.match(await page.locator("[data-kept]").innerText(), /1 kept on this phone/);
    await page.locator('form[action="/sign-out"] button').click();
    await page.locator("#unsent[open]").waitFor();
    await student.look("unsent", { source: false, widths: ["narrow"] });
    await page.locator("#unsent button[value=stay]").click();
    assert.equal(new URL(page.url()).pathname, home);
    for (const elsewhere of ["/account", "/help"]) {
      await student.go(elsewhere);
      await page.locator("[data-kept]:visible").waitFor();
      await page.locator('form[action="/sign-out"] button').click();
      await page.locator("#unsent[open]").waitFor();
      await page.locator("#unsent button[value=stay]").click();
    }
    await student.context.unroute("**/table?*");
    await student.context.unroute("**/table/hello");
    student.takeComplaints();
    await student.go(home);
    await page.waitForFunction(async () => (await (await import("/assets/table-kept.js")).waiting()).length === 0);
  });

  await story.check("a splash: water first, with and without signal", async () => {
    await student.go(`${home}/splash`);
    assert.match(await page.locator("main").innerText(), /Water first/);
    await says("eyewash", /\w/);
    await student.look("splash", { source: false });
    await withoutSignal(async () => {
      await page.goto(`${demo.address}/splash`);
      assert.match(await page.locator("main").innerText(), /15:00|14:5\d/);
      await says("numbers", /\d{3}/);
      assert.ok((await page.locator("[data-part=numbers] a[href^='tel:']").count()) > 0, "numbers can be tapped");
      await says("eyewash", /\w/);
    });
  });
}
