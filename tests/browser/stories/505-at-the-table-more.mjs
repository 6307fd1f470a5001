import assert from "node:assert/strict";
import { signIn } from "../harness.mjs";
import { AtTable, MINUTE, SECOND, timeAt } from "../table-scene.mjs";

export const title = "More at the table: a locked phone, a wrong clock, two tabs, a second phone, a session that ends, a new version, a withdrawn sign-off";
export const alone = true;

const clockText = (seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
const localTime = (ms) => new Date(ms).toLocaleTimeString("en-GB", { timeZone: "America/New_York", hour: "2-digit", minute: "2-digit" });

export default async function moreAtTheTable(story) {
  const demo = await story.ownDemo();

  /** A phone of the student's, its clock so far ahead of the program's. */
  async function phone(ahead = 0) {
    const table = new AtTable(await story.visitor(demo, "student"));
    table.setClock = async () => table.page.clock.install({ time: new Date((await timeAt(demo.address)) + ahead) });
    return table;
  }

  await story.check("after ten minutes of lock the clocks are right, and the times are those that were set", async () => {
    const table = await phone();
    const { page } = table;
    const plate = await table.drawnPlate("Slack water");
    await table.setClock();
    await table.sit(plate);
    const plan = await table.plan();
    await table.tap("begin");
    await page.clock.runFor(10 * SECOND + 300);
    await page.clock.fastForward(40 * SECOND); // locked for less than the application
    await page.clock.runFor(300);
    const left = plan[0] - 40;
    assert.ok([left, left - 1, left - 2].map(clockText).includes(await table.shown("clock")), `${await table.shown("clock")} of ${clockText(left)}`);
    await page.clock.fastForward(10 * MINUTE);
    await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange"))); // the phone is unlocked
    await page.clock.runFor(300);
    assert.match(await table.shown("alert"), /All applications are over/);
    await page.clock.runFor(SECOND);
    await table.tap("over");
    await page.locator("[data-stage-of=after]:visible").waitFor();
    assert.ok((await table.shown("measured")).includes(plan.map(clockText).join(" + ")), await table.shown("measured"));
    await table.write();
    await page.locator("[data-part=kept-words]", { hasText: "Stored in the studio’s record" }).waitFor();
    assert.equal((await table.runs(plate, "first etch")).length, 1);
    await table.student.leave();
  });

  await story.check("a phone whose clock is forty minutes wrong tells the right times, and says so", async () => {
    const table = await phone(30 * MINUTE);
    const { page } = table;
    const plate = await table.drawnPlate("Spring tide");
    await table.setClock();
    await table.sit(plate);
    const before = await timeAt(demo.address);
    await table.tap("begin");
    await table.telling(() => page.clock.runFor(10 * SECOND + 300));
    await page.clock.fastForward(10 * MINUTE); // somebody sets it by ten more minutes
    await page.clock.runFor(300);
    await table.keep();
    await page.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    const [run] = await table.runs(plate, "first etch");
    assert.match(run, /clock was (40|41) min ahead; put right/);
    const near = [-2, -1, 0, 1, 2].map((minutes) => localTime(before + minutes * MINUTE));
    assert.ok(near.some((time) => run.includes(time)), `${run} is about ${near[2]}`);
    await table.student.leave();
  });

  await story.check("a second phone takes up the clocks of the first, and what both tell is one etch", async () => {
    const first = await phone();
    const plate = await first.drawnPlate("Second phone");
    await first.setClock();
    await first.sit(plate);
    await first.tap("begin");
    await first.telling(() => first.page.clock.runFor(12 * SECOND));
    const second = await phone();
    await second.setClock();
    await second.sit(plate);
    await second.page.locator("[data-stage-of=running]:visible").waitFor();
    await second.page.clock.runFor(300);
    assert.match(await second.shown("clock-label"), /application 1 of|Ready for application 1/);
    await second.page.clock.fastForward(10 * MINUTE);
    await second.page.clock.runFor(300);
    await second.keep({ place: "B7" });
    await second.page.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    await first.page.clock.fastForward(10 * MINUTE);
    await first.page.clock.runFor(300);
    await first.keep({ place: "B7" });
    await first.page.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    const runs = await first.runs(plate, "first etch");
    assert.equal(runs.length, 1, runs.join("\n"));
    assert.doesNotMatch(runs[0], /under way|without a valid|left off/);
    await first.student.leave();
    await second.student.leave();
  });

  await story.check("a session that ends at minute four: the etch goes on, is kept, and goes once its owner signs in again", async () => {
    const table = await phone();
    const { page, student } = table;
    const plate = await table.drawnPlate("Neap");
    await table.setClock();
    await table.sit(plate);
    await table.tap("begin");
    await table.telling(() => page.clock.runFor(12 * SECOND));
    await page.clock.fastForward(3 * MINUTE + 48 * SECOND);
    const elsewhere = await story.visitor(demo, "student");
    await elsewhere.go("/account");
    for (let more = 1; more > 0;) {
      const end = elsewhere.page.locator('form[action^="/account/sessions/"][action$="/end"] button');
      more = await end.count();
      if (more > 0) await end.first().click();
    }
    await page.clock.runFor(31 * SECOND);
    await page.clock.fastForward(5 * MINUTE);
    await page.clock.runFor(300);
    assert.match(await table.shown("alert"), /All applications are over/, "the clocks need no session");
    await table.keep({ place: "E1" });
    await page.locator("[data-part=state]", { hasText: "Sign in again to send it" }).waitFor();
    assert.equal((await page.evaluate(async () => (await (await import("/assets/table-kept.js")).waiting()).length)), 1);
    const tab = { page: await student.context.newPage() };
    tab.go = (path) => tab.page.goto(new URL(path, demo.address).href);
    await signIn(tab, demo.signIn("student"));
    await tab.page.close();
    await page.evaluate(() => dispatchEvent(new Event("online")));
    await page.locator("[data-part=kept-words]", { hasText: "Stored in the studio’s record" }).waitFor();
    assert.equal((await table.runs(plate, "first etch")).length, 1);
    await student.leave();
    await elsewhere.leave();
  });

  await story.check("a new version of what the phone keeps waits, and breaks no etch when it takes over", async () => {
    const table = await phone();
    const { page, student } = table;
    const plate = await table.drawnPlate("New version");
    await table.setClock();
    await table.sit(plate);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => null));
    await table.tap("begin");
    await page.clock.runFor(12 * SECOND);
    await page.evaluate(() => { globalThis.sameLife = true; });
    // In another language the pages that are kept are other pages, so the worker is another one.
    const tab = await student.context.newPage();
    await tab.goto(`${demo.address}/language/es`);
    await tab.evaluate(async () => {
      const worker = await navigator.serviceWorker.getRegistration();
      await worker.update();
      const fresh = worker.installing ?? worker.waiting;
      if (fresh && fresh.state !== "installed") await new Promise((done) => fresh.addEventListener("statechange", () => fresh.state !== "installing" && done()));
      if (!worker.waiting) throw new Error("no new version waits");
      const changed = new Promise((done) => navigator.serviceWorker.addEventListener("controllerchange", done, { once: true }));
      worker.waiting.postMessage("take over");
      await changed;
    });
    await tab.close();
    await page.clock.runFor(SECOND);
    assert.equal(await page.evaluate(() => globalThis.sameLife), true, "the page was not loaded anew");
    assert.match(await table.shown("clock-label"), /application 1 of/);
    await table.withoutSignal(async () => {
      await page.reload();
      await page.locator("[data-stage-of=running]:visible").waitFor();
      await page.clock.runFor(300);
      assert.match(await table.shown("clock-label"), /aplicación 1 de/i, `the new version goes on with the old etch: ${await table.shown("clock-label")}`);
      await page.clock.fastForward(10 * MINUTE);
      await page.clock.runFor(300);
      await table.keep({ place: "F2" });
    });
    await page.evaluate(() => dispatchEvent(new Event("online")));
    await page.locator("[data-part=kept-words]", { hasText: "Guardado en el registro del taller." }).waitFor();
    await student.go(plate);
    assert.match(await page.locator("main").innerText(), /F2/);
    await student.leave();
  });

  await story.check("two tabs of the same running step are one etch: what is tapped in one shows in the other", async () => {
    const table = await phone();
    const { page, student } = table;
    const plate = await table.drawnPlate("Two tabs");
    await table.setClock();
    const other = await student.context.newPage();
    await table.sit(plate);
    const plan = await table.plan();
    await table.sit(plate, other);
    await table.tap("begin");
    await page.clock.runFor(10 * SECOND + 300);
    await other.locator("[data-stage-of=running]:visible").waitFor();
    await other.clock.runFor(300);
    assert.equal(await table.shown("clock-label"), await table.shown("clock-label", other));
    await other.clock.runFor(20 * SECOND);
    await table.tap("stop", other);
    await page.locator("[data-part=alert]", { hasText: "Stopped at" }).waitFor();
    await page.clock.runFor(SECOND);
    await table.tap("over", other);
    await page.locator("[data-stage-of=after]:visible").waitFor();
    assert.equal(await table.shown("measured"), await table.shown("measured", other));
    await table.write({ page: other, place: "D4" });
    await other.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    await page.locator("[data-stage-of=kept]:visible").waitFor();
    await other.close();
    assert.equal((await page.evaluate(async () => (await (await import("/assets/table-kept.js")).waiting()).length)), 0);
    const runs = await table.runs(plate, "first etch");
    assert.equal(runs.length, 1, runs.join("\n"));
    assert.match(await page.locator("main").innerText(), /D4/);
    // An etch that was stopped early is no measure for the next one.
    await table.sit(await table.drawnPlate("After a stop"));
    assert.deepEqual(await table.plan(), plan);
    await student.leave();
  });

  await story.check("a sign-off withdrawn while an etch runs refuses nothing; begun after it, the etch is stored and marked", async () => {
    const instructor = await story.visitor(demo, "instructor");
    const table = await phone();
    const { page, student } = table;
    const name = (await page.locator(".who a").innerText()).trim();
    const [running, next] = [await table.drawnPlate("Withdrawn"), await table.drawnPlate("After it")];
    await table.setClock();
    const tab = await student.context.newPage();
    await table.sit(next, tab);
    await table.sit(running);
    await table.tap("begin");
    await table.telling(() => page.clock.runFor(12 * SECOND));

    await instructor.go(`${table.home}/sign-offs/record`);
    const lines = instructor.page.locator("section", { has: instructor.page.locator("h2", { hasText: name }) }).locator("li", { hasText: /acid and gum/i });
    for (;;) {
      const form = lines.locator('form[action$="/withdraw"]').first();
      if ((await form.count()) === 0) break;
      await form.locator("xpath=..").locator("summary").click();
      await form.locator("[name=reason]").fill("Acid was poured without goggles.");
      await form.locator("button").click();
      await instructor.page.waitForLoadState("load");
      await instructor.go(`${table.home}/sign-offs/record`);
    }

    await page.clock.fastForward(10 * MINUTE);
    await page.clock.runFor(300);
    await table.keep({ place: "G1" });
    await page.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();

    await table.tap("begin", tab);
    // In its own time: what is run forward would be reckoned back to before the withdrawal.
    await tab.locator("[data-part=clock-label]", { hasText: /^(?!Ready).*application 1 of/ }).waitFor();
    await table.tap("stop", tab);
    await table.keep({ page: tab, place: "G2" });
    await tab.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    await tab.close();

    const [kept] = await table.runs(running, "first etch");
    assert.doesNotMatch(kept, /without a valid sign-off/, "it began with one");
    const [marked] = await table.runs(next, "first etch");
    assert.match(marked, /without a valid sign-off/);
    assert.match(marked, /waits/i, "it waits for the instructor");
    await student.leave();
    await instructor.leave();
  });
}
