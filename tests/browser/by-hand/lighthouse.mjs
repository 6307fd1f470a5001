// What Lighthouse reports of the pages people open most; reported, never gated. It is no part of the usual packages:
//
//   npm install --prefix target/lighthouse --no-save --ignore-scripts lighthouse@13.5.0
//   TYMPAN_BIN=target/release/tympan node tests/browser/run.mjs by-hand lighthouse

import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { freePort, target } from "../harness.mjs";

export const title = "What Lighthouse reports";

const PAGES = [
  ["student", "Today", ""], ["student", "Plates", "/plates"], ["student", "Grades", "/grades"],
  ["instructor", "Today", ""], ["instructor", "Tonight", "/tonight"], ["instructor", "Class", "/all"],
];
const CATEGORIES = ["performance", "accessibility", "best-practices"];

export default async function reported(story) {
  await story.check("six pages on a phone", async () => {
    const entry = path.join(target, "lighthouse/node_modules/lighthouse/core/index.js");
    assert.ok(existsSync(entry), "Lighthouse is not there: see the head of by-hand/lighthouse.mjs for how to fetch it");
    const { default: lighthouse } = await import(pathToFileURL(entry));
    const demo = await story.ownDemo();
    const port = await freePort();
    const browser = await chromium.launch({
      executablePath: process.env.TYMPAN_CHROMIUM ?? "/usr/bin/chromium-headless-shell",
      args: ["--no-sandbox", "--disable-gpu", `--remote-debugging-port=${port}`, "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
    });
    story.atTheEnd(() => browser.close());
    for (const [role, name, rest] of PAGES) {
      const visitor = await story.visitor(demo, role);
      const home = new URL(visitor.page.url()).pathname;
      const cookie = (await visitor.context.cookies()).map((one) => `${one.name}=${one.value}`).join("; ");
      await visitor.leave();
      const { lhr } = await lighthouse(new URL(home + rest, demo.address).href, {
        port, logLevel: "error", onlyCategories: CATEGORIES, extraHeaders: { cookie },
      });
      assert.equal(lhr.runtimeError, undefined, lhr.runtimeError?.message);
      const scores = CATEGORIES.map((key) => `${key} ${Math.round(lhr.categories[key].score * 100)}`).join(", ");
      const paint = lhr.audits["largest-contentful-paint"].displayValue;
      console.log(`      ${name} of the ${role}: ${scores}; largest paint ${paint}, ${lhr.audits["total-blocking-time"].displayValue} blocked`);
      const low = Object.values(lhr.audits).filter((audit) => audit.score !== null && audit.score < 0.9 && audit.scoreDisplayMode === "binary");
      for (const audit of low) console.log(`        ${audit.id}: ${audit.title}`);
    }
  });
}
