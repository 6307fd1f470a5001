import assert from "node:assert/strict";
import { createServer, request as ask } from "node:http";
import { once } from "node:events";
import path from "node:path";
import { AT } from "../harness.mjs";
import { AtTable, MINUTE, SECOND } from "../table-scene.mjs";

export const title = "At the table on a weak signal; what is kept where; complaints that come later; a second phone without an etch";
export const alone = true;

/** Stands before the program, and answers as late as it is told. */
async function slowLine(address) {
  const line = { wait: 0 };
  const to = new URL(address);
  const server = createServer((request, response) => {
    setTimeout(() => {
      const onward = ask({ host: to.hostname, port: to.port, path: request.url, method: request.method, headers: { ...request.headers, host: to.host } }, (answer) => {
        response.writeHead(answer.statusCode, answer.headers);
        answer.pipe(response);
      });
      onward.on("error", () => response.destroy());
      request.pipe(onward);
    }, line.wait);
  }).listen(0, "127.0.0.1");
  await once(server, "listening");
  line.address = `http://127.0.0.1:${server.address().port}`;
  line.close = () => {
    server.closeAllConnections();
    server.close();
  };
  return line;
}

export default async function weakSignal(story) {
  const demo = await story.ownDemo();
  const student = await story.visitor(demo, "student");
  const table = new AtTable(student);
  const { page, home } = table;
  const waiting = () => page.evaluate(async () => (await (await import("/assets/table-kept.js")).waiting()).length);
  const cutLine = async () => {
    await student.context.route("**/table?*", (route) => (route.request().method() === "POST" ? route.abort() : route.continue()));
    await student.context.route("**/table/hello", (route) => route.abort());
  };
  const mendLine = async () => {
    await student.context.unroute("**/table?*");
    await student.context.unroute("**/table/hello");
    student.takeComplaints();
  };
  let plate = null;

  await story.part("a slow record does not keep the table from opening: the phone's own pack stands in within a second or so", async () => {
    plate = await table.drawnPlate("Weak signal");
    await student.go(home);
    await page.waitForFunction(async (path) => Boolean(await (await import("/assets/table-kept.js")).pack(`${path}/table`)), plate);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => null));
    const cookies = await student.context.cookies();
    const line = await slowLine(demo.address);
    try {
      // The same phone on another line: one address is one store, so it takes everything along here as well.
      const far = await story.visitor({ address: line.address, signIn: (role) => demo.signIn(role) }, "student");
      await far.context.addCookies(cookies.map((cookie) => ({ ...cookie, domain: "127.0.0.1" })));
      await far.go(home);
      await far.page.evaluate(() => navigator.serviceWorker.ready.then(() => null));
      await far.page.waitForFunction(async (path) => Boolean(await (await import("/assets/table-kept.js")).pack(`${path}/table`)), plate);
      await far.go(home); // from here on the worker is at the controls
      await far.page.waitForFunction(() => Boolean(navigator.serviceWorker.controller));
      line.wait = 8000;
      const began = Date.now();
      await far.page.goto(`${line.address}${plate}/table`, { waitUntil: "commit" });
      await far.page.locator("[data-tap=begin]:visible").waitFor();
      const took = Date.now() - began;
      assert.ok(took < 3000, `the table opened after ${took} ms with a record that takes 8000`);
      line.wait = 0;
      far.takeComplaints();
      await far.leave();
    } finally {
      line.close();
    }
  });

  await story.check("what a browser keeps as pages and files is of nobody", async () => {
    const kept = await page.evaluate(async () => {
      const found = [];
      for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        for (const { url } of await cache.keys()) found.push([new URL(url).pathname, await (await cache.match(url, { ignoreVary: true })).text()]);
      }
      return found;
    });
    const name = (await page.locator(".who a").innerText()).trim();
    assert.ok(kept.length > 8, JSON.stringify(kept.map(([path]) => path)));
    for (const [path, text] of kept) {
      assert.match(path, /^\/(at-the-table|splash|tablet\/away|assets\/[a-z.-]+|classes\/[^/]+\/procedures\/[^/]+\/pictures\/.+)$/);
      assert.ok(!text.includes(name) && !text.includes("Weak signal"), `${path} names somebody`);
    }
  });

  await story.part("a phone that will not stay awake says so, and a refused entry comes back as it was typed, also after a reload", async () => {
    await page.clock.install({ time: new Date(AT) });
    await page.addInitScript(() => {
      navigator.wakeLock.request = () => Promise.reject(new Error("battery low"));
    });
    await table.sit(plate);
    await table.tap("begin");
    await page.locator("[data-part=wake]", { hasText: "does not keep its screen on" }).waitFor();
    await page.clock.runFor(12 * SECOND);
    await page.waitForFunction(async () => (await (await import("/assets/table-kept.js")).waiting()).length === 0);
    await page.clock.fastForward(10 * MINUTE);
    await page.clock.runFor(SECOND);
    await table.tap("over");
    await page.locator("[data-stage-of=after]:visible").waitFor();
    await page.locator("form [name=drops]").fill("four");
    await page.locator("form [name=note]").fill("The border foamed.");
    await page.locator("form [name=rack_place]").fill("H1");
    await page.reload();
    await page.locator("[data-stage-of=after]:visible").waitFor();
    assert.equal(await page.locator("form [name=drops]").inputValue(), "four", "what is typed survives a reload");
    assert.equal(await page.locator("form [name=note]").inputValue(), "The border foamed.");
    await page.locator("form [name=gummed]").check();
    await page.locator("form [name=buffed]").check();
    await student.expecting(422, async () => {
      await page.locator("form button[type=submit]").click();
      await page.locator("[name=drops][aria-invalid]").waitFor();
    });
    await student.go("/help");
    await page.locator("[data-kept] a", { hasText: "Open it" }).click();
    await page.locator("[name=drops][aria-invalid]").waitFor();
    assert.equal(await page.locator("form [name=drops]").inputValue(), "four", "the entry's own words, not those of the pack");
    assert.equal(await page.locator("form [name=note]").inputValue(), "The border foamed.");
    assert.equal(await page.locator("form [name=gummed]").isChecked(), true);
    await student.look("table-complaint", { source: false, widths: ["narrow"] });
    await page.locator("form [name=drops]").fill("4");
    await page.locator("form button[type=submit]").click();
    await page.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    assert.equal((await table.runs(plate, "first etch")).length, 1);
    assert.match(await page.locator("main").innerText(), /The border foamed/);
  });

  await story.check("the instructor reads what the browser made: times by the clock, the note, the rack place", async () => {
    const instructor = await story.visitor(demo, "instructor");
    await instructor.go(plate);
    const text = await instructor.page.locator("main").innerText();
    assert.match(text, /The border foamed/);
    assert.match(text, /H1/);
    assert.match(text, /4 drops/);
    assert.match(text, /by the clock here/);
    await instructor.leave();
  });

  await story.check("a rest that ends brings the button back by itself, without signal", async () => {
    await page.goto(`${demo.address}${plate}/table`);
    await page.locator("main[data-pack]").waitFor();
    await page.evaluate(async () => {
      const kept = await import("/assets/table-kept.js");
      const pack = await kept.pack(location.pathname);
      await kept.keepPack({ ...pack, run: null, may_start: false, may_start_from_ms: Date.now() + 8000, refusals: ["It rests."] });
    });
    await table.withoutSignal(async () => {
      await page.goto(`${demo.address}${plate}/table`);
      await page.locator("[data-part=refusals]:visible", { hasText: "It rests." }).waitFor();
      assert.equal(await page.locator("[data-tap=begin]").isVisible(), false);
      await page.clock.runFor(9 * SECOND);
      await page.locator("[data-tap=begin]:visible").waitFor();
      assert.equal(await page.locator("[data-part=refusals]").isVisible(), false);
    });
  });

  await story.check("a second phone takes up a step without an etch; what waits goes when the page is looked at again", async () => {
    await student.go(`${home}/prints/new`);
    for (const [field, value] of [["title", "No etch yet"], ["width", "20"], ["height", "30"], ["materials", "crayon 3"]]) await page.locator(`[name=${field}]`).fill(value);
    for (const field of ["project", "procedure", "size_unit"]) await page.locator(`[name=${field}]`).selectOption({ index: 1 }).catch(() => {});
    await page.locator("[name=weight]").first().check();
    await page.locator("main form button.act").click();
    const bare = new URL(page.url()).pathname;
    await table.sit(bare);
    await cutLine();
    await table.tap("begin");
    await page.clock.runFor(SECOND);
    await page.waitForFunction(async () => (await (await import("/assets/table-kept.js")).waiting()).length === 1);
    await mendLine();
    await page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
    await page.waitForFunction(async () => (await (await import("/assets/table-kept.js")).waiting()).length === 0);
    const second = await story.visitor(demo, "student");
    await second.go(`${bare}/table`);
    await second.page.locator("[data-stage-of=running]:visible").waitFor();
    assert.match(await second.page.locator("[data-part=clock-label]").innerText(), /Under way since/);
    await second.leave();
    assert.equal(await waiting(), 0);
  });

  await story.check("a photo of a proof that was taken without signal is kept, and goes by itself", async () => {
    await student.go(`${plate}/proofs/new`);
    const drawn = await page.evaluate(async () => {
      const canvas = new OffscreenCanvas(400, 300);
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#ddd";
      pen.fillRect(0, 0, 400, 300);
      pen.fillStyle = "#333";
      pen.fillRect(60, 50, 220, 170);
      return [...new Uint8Array(await (await canvas.convertToBlob({ type: "image/jpeg" })).arrayBuffer())];
    });
    await page.locator("[name=file]").setInputFiles({ name: "pull.jpg", mimeType: "image/jpeg", buffer: Buffer.from(drawn) });
    await page.locator("[name=note]").fill("Pulled in the basement.");
    const kept = () => page.evaluate(async () => (await (await import("/assets/table-photos.js")).photos()).length);
    await table.withoutSignal(async () => {
      await page.locator("main form button.act").click();
      await page.locator("[data-kept]:visible", { hasText: "1 kept on this phone" }).waitFor();
      assert.equal(await kept(), 1);
    });
    student.takeComplaints();
    await page.evaluate(() => dispatchEvent(new Event("online")));
    for (let tries = 0; (await kept()) > 0 && tries < 100; tries += 1) await page.waitForTimeout(100);
    assert.equal(await kept(), 0, "it went");
    await student.go(`${plate}/proofs`);
    assert.match(await page.locator("main").innerText(), /Pulled in the basement/);
  });

  await story.check("the studio's tablet: a number, the table of its plate, an entry that says where it was told", async () => {
    const staff = await story.visitor(demo, "instructor");
    await staff.go(`${home}/studio/tablets`);
    await staff.page.locator("[name=name]").fill("tablet at the sink");
    await staff.page.locator("main form button.act").click();
    await staff.look("studio-tablets");
    const address = new URL((await staff.page.locator("main .figures").first().innerText()).trim()).pathname;
    await student.go(plate);
    const number = /\b(\d+)\b/.exec(await page.locator(".page-head p").first().innerText())[1];
    const made = await table.drawnPlate("On the tablet");
    await student.go(made);
    const other = /\b(\d+)\b/.exec(await page.locator(".page-head p").first().innerText())[1];
    assert.notEqual(number, other);
    const device = new AtTable(student);
    const context = await staff.context.browser().newContext({ viewport: { width: 820, height: 1180 }, locale: "en" });
    const screen = await context.newPage();
    await screen.goto(`${demo.address}${address}`);
    await screen.locator("main form button.act").click();
    await screen.locator("#number").fill(other);
    await screen.locator("main form button.act").click();
    await screen.locator("[data-tap=begin]:visible").waitFor();
    assert.equal(new URL(screen.url()).pathname, `/tablet/plates/${made.split("/").at(-1)}`);
    await screen.clock.install({ time: new Date(AT) });
    await screen.locator("[data-tap=begin]:visible").click();
    await screen.clock.runFor(12 * SECOND);
    await screen.clock.fastForward(10 * MINUTE);
    await screen.clock.runFor(SECOND);
    await device.keep({ page: screen, place: "T1" });
    await screen.locator("[data-part=kept-words]", { hasText: "Stored" }).waitFor();
    assert.equal((await screen.goto(`${demo.address}${made}`)).url().includes("/sign-in"), true, "it opens no other page");

    // Without signal the number opens what was opened here before, and says so of the others.
    await screen.evaluate(() => navigator.serviceWorker.ready.then(() => null));
    await screen.goto(`${demo.address}/tablet`);
    await screen.waitForFunction(() => Boolean(navigator.serviceWorker.controller));
    await context.setOffline(true);
    await screen.goto(`${demo.address}/tablet`);
    await screen.getByText("No signal here.").waitFor();
    await screen.screenshot({ path: path.join(student.pictures, "tablet-without-signal-820-light.png"), fullPage: true });
    assert.equal(await screen.locator("[data-part=along] a").count(), 1, "only this tablet's plate is along");
    await screen.locator("#number").fill(number);
    await screen.locator("main form button.act").click();
    await screen.getByText(`does not have plate ${number} along`).waitFor();
    await screen.locator("#number").fill(other);
    await screen.locator("main form button.act").click();
    await screen.waitForURL(`**/tablet/plates/${made.split("/").at(-1)}`);
    await screen.locator("main[data-pack], main[data-stage]").first().waitFor();
    await context.setOffline(false);
    await context.close();
    const nobody = await story.visitor(demo);
    await nobody.go("/tablet/away");
    await nobody.look("tablet-away");
    await nobody.leave();
    const [run] = await table.runs(made, "first etch");
    assert.match(run, /on the studio’s tablet/);
    await staff.leave();
  });

  await story.check("packs of a person's other class stay; help is asked for with one tap", async () => {
    const left = await page.evaluate(async () => {
      const kept = await import("/assets/table-kept.js");
      const [one] = await kept.packs();
      const other = { ...one, path: "/classes/other/plates/1/table", class: "other" };
      await kept.keepPack(other);
      await kept.keepAlong({ person: one.person, class: one.class, packs: [one], help: null });
      const paths = (await kept.packs()).map((pack) => pack.path);
      await kept.keepAlong({ person: one.person, class: "other", packs: [], help: null });
      return [paths.includes(other.path), (await kept.packs()).some((pack) => pack.path === other.path)];
    });
    assert.deepEqual(left, [true, false]);
    await student.go(`${plate}/table`);
    await page.locator("[data-ask=help]").click();
    await page.locator("[data-part=asked]", { hasText: "Asked." }).waitFor();
    await student.look("table-asked", { source: false, widths: ["narrow"] });
    await student.go(plate);
    await page.locator("#line", { hasText: "Help, plate" }).waitFor();
    await student.go(`${plate}/card`);
    await student.look("table-card");
  });
}
