// Figures that only a browser and a running program can give. They are printed, not gated, but for what the program
// promises without regard to the machine: bytes.
//
//   cargo bench --bench floors -- --only class --pairs 1      builds the school of 72 plates under target/bench
//   TYMPAN_BIN=target/release/tympan node tests/browser/run.mjs by-hand figures

import assert from "node:assert/strict";
import { copyFileSync, existsSync, readFileSync, readdirSync, statSync } from "node:fs";
import { execFileSync } from "node:child_process";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { crawl } from "../crawl.mjs";
import mainJob from "../stories/400-main-job.mjs";
import { NewSchool, target } from "../harness.mjs";
import { AtTable } from "../table-scene.mjs";

export const title = "Bytes, paints, memory and processor time";

const SECOND = 1000;
const kib = (bytes) => (bytes / 1024).toFixed(1);
const tell = (line) => console.log(`      ${line}`);

/** MiB that a process holds in memory now. */
const resident = (pid) => Number(/^VmRSS:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, "utf8"))[1]) / 1024;

/** Seconds of processor time a process has used, in hundredths (USER_HZ of Linux). */
const spent = (pid) => readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1].split(" ").slice(11, 13)
  .reduce((sum, ticks) => sum + Number(ticks), 0) / 100;

/** Everything a first visit to a page transfers, photos left out, and from whom. */
async function transferred(visitor, address) {
  const network = await visitor.context.newCDPSession(visitor.page);
  await network.send("Network.enable");
  await network.send("Network.setCacheDisabled", { cacheDisabled: true });
  const types = new Map();
  let bytes = 0;
  network.on("Network.responseReceived", ({ requestId, type }) => types.set(requestId, type));
  network.on("Network.loadingFinished", ({ requestId, encodedDataLength }) => {
    if (types.get(requestId) !== "Image") bytes += encodedDataLength;
  });
  await visitor.go(address);
  await visitor.page.waitForLoadState("networkidle");
  await network.detach();
  return bytes;
}

/** Milliseconds from the start of a page to its largest paint. */
async function largestPaint(page, address, slowdown) {
  const network = await page.context().newCDPSession(page);
  await network.send("Emulation.setCPUThrottlingRate", { rate: slowdown });
  await page.goto(address, { waitUntil: "load" });
  const paint = await page.evaluate(() => new Promise((found) => {
    new PerformanceObserver((list) => found(list.getEntries().at(-1).startTime))
      .observe({ type: "largest-contentful-paint", buffered: true });
  }));
  await network.detach();
  return paint;
}

const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];

/** The bench's school of 72 plates, served; its sessions are those of the bench, put into the present. */
async function fullClass(story) {
  const folder = path.join(target, "bench");
  const files = existsSync(folder) ? readdirSync(folder).filter((name) => /^school-.*\.db$/.test(name)) : [];
  const small = files.map((name) => path.join(folder, name)).filter((file) => statSync(file).size < 5e6)
    .sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs)[0];
  assert.ok(small, "no school of the bench: run `cargo bench --bench floors -- --only class --pairs 1` first");
  const copy = path.join(folder, "browser.db");
  copyFileSync(small, copy);
  const now = Date.now();
  const sql = `UPDATE session SET seen_at = ${now}, ends_at = ${now + 3_600_000}, confirmed_at = ${now}; SELECT class_id FROM plate LIMIT 1;`;
  const id = execFileSync("sqlite3", [copy, sql], { encoding: "utf8" }).trim();
  const school = await NewSchool.start({ database: copy });
  story.atTheEnd(() => school.stop());
  return { school, id };
}

async function as(story, school, token, wishes) {
  const visitor = await story.visitor(school, null, wishes);
  await visitor.context.addCookies([{ name: "sid", value: token, url: school.address }]);
  return visitor;
}

export default async function figures(story) {
  const demo = await story.ownDemo();

  await story.check("Today is light", async () => {
    for (const role of ["student", "instructor"]) {
      const visitor = await story.visitor(demo, role);
      const bytes = await transferred(visitor, visitor.page.url());
      tell(`Today of the ${role}: ${kib(bytes)} KiB transferred without photos, scripts and styles included`);
      assert.ok(bytes < 60_000, `${bytes} bytes`);
      await visitor.leave();
    }
  });

  await story.check("the table opens from what the phone keeps", async () => {
    const student = await story.visitor(demo, "student");
    const table = new AtTable(student);
    const plate = await table.drawnPlate("Weir");
    await table.sit(plate);
    await student.page.waitForFunction(() => navigator.serviceWorker.controller !== null || navigator.serviceWorker.ready.then(() => true));
    await student.page.reload();
    await student.page.waitForLoadState("networkidle");
    const phone = await student.context.newCDPSession(student.page);
    await phone.send("Network.enable");
    // A phone of the middle class on a bad line: the figures of the usual throttling profile for slow 3G, from memory.
    await phone.send("Network.emulateNetworkConditions", { offline: false, latency: 400, downloadThroughput: 50_000, uploadThroughput: 50_000 });
    await phone.send("Emulation.setCPUThrottlingRate", { rate: 4 });
    const times = [];
    for (let n = 0; n < 5; n += 1) {
      const began = Date.now();
      await student.page.goto(`${student.address}${plate}/table`, { waitUntil: "commit" });
      await student.page.locator("[data-tap=begin]:visible").waitFor();
      times.push(Date.now() - began);
    }
    await phone.detach();
    tell(`the table of a plate can be used after ${median(times)} ms (median of 5: ${times.join(", ")}), processor at a quarter, 400 ms to the server`);
    await student.leave();
  });

  await story.check("Tonight with 24 who listen", async () => {
    const instructor = await story.visitor(demo, "instructor");
    const address = `${new URL(instructor.page.url()).pathname}/tonight/news`;
    const cookie = (await instructor.context.cookies()).map(({ name, value }) => `${name}=${value}`).join("; ");
    const leaving = new AbortController();
    const streams = await Promise.all(Array.from({ length: 24 }, () => fetch(new URL(address, demo.address), {
      headers: { cookie, accept: "text/event-stream" }, signal: leaving.signal,
    })));
    const listening = streams.filter((one) => one.ok && /event-stream/.test(one.headers.get("content-type") ?? ""));
    const reading = listening.map((one) => one.text().catch(() => "left"));
    await pause(5 * SECOND);
    const before = spent(demo.running.process.pid);
    await pause(60 * SECOND);
    const used = spent(demo.running.process.pid) - before;
    leaving.abort();
    await Promise.all(reading);
    tell(`${listening.length} of 24 listen; ${used.toFixed(2)} s of processor time in 60 s: ${((used / 60) * 100).toFixed(2)} % of a core`);
    assert.ok(listening.length > 0, `no stream: ${streams.map((one) => one.status)}`);
    await instructor.leave();
  });

  await story.check("memory after everybody looked at everything", async () => {
    for (const role of new Set(demo.signIns.map((one) => one.role))) {
      const visitor = await story.visitor(demo, role);
      const walked = await crawl(visitor, "/", { atPage: async () => {}, atRefusal: () => {} });
      tell(`${role}: ${walked.pages} pages, ${walked.files} files`);
      await visitor.leave();
    }
    const { pid } = demo.running.process;
    const busy = resident(pid);
    await pause(60 * SECOND);
    tell(`VmRSS ${busy.toFixed(1)} MiB, and after 60 s of rest ${resident(pid).toFixed(1)} MiB (making the demo included)`);
  });

  await story.check("memory after the main job", async () => {
    let school = null;
    const open = story.newSchool.bind(story);
    story.newSchool = async () => (school = await open());
    await mainJob(story);
    const { pid } = school.running.process;
    await pause(60 * SECOND);
    tell(`the server of the main job, 60 s after it: VmRSS ${resident(pid).toFixed(1)} MiB`);
  });

  await story.check("Class with 72 plates is painted", async () => {
    const { school, id } = await fullClass(story);
    const instructor = await as(story, school, "bench-instructor", { width: "wide" });
    for (const [slowdown, machine] of [[1, "this machine"], [4, "at a quarter of it"]]) {
      const paints = [];
      for (let n = 0; n < 5; n += 1) paints.push(await largestPaint(instructor.page, `${school.address}/classes/${id}/all`, slowdown));
      tell(`largest paint after ${median(paints).toFixed(0)} ms on ${machine} (median of 5)`);
    }
    const rows = await instructor.page.locator("main a[href*='/plates/']").count();
    tell(`${rows} links to plates on the page`);
    await instructor.look("class-of-72-plates");
    await instructor.leave();
    const pid = school.running.process.pid;
    await pause(60 * SECOND);
    tell(`a server that has only served this class: VmRSS ${resident(pid).toFixed(1)} MiB`);
  });
}
