import assert from "node:assert/strict";
import { crawl } from "../crawl.mjs";

export const title = "Every page each person can reach by links, looked at";

const nameOf = (role, pattern) => `crawl-${role}-${pattern}`.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/-$/, "");

export default async function crawling(story) {
  const demo = await story.demo();
  const lookedAt = new Set(); // a pattern is looked at in full once, and briefly as each other person
  const roles = [null, ...new Set(demo.signIns.map((one) => one.role))];
  for (const role of roles) {
    const who = role ?? "nobody";
    await story.check(`${who} follows every link`, async () => {
      const visitor = await story.visitor(demo, role);
      const wrong = [];
      const walked = await crawl(visitor, "/", {
        atRefusal: (sentence) => wrong.push(sentence),
        atPage: async (pattern) => {
          const wishes = lookedAt.has(pattern) ? { widths: ["narrow"], schemes: ["light"] } : {};
          lookedAt.add(pattern);
          await visitor.look(nameOf(who, pattern), wishes).catch((error) => wrong.push(error.message));
        },
      });
      console.log(`      ${walked.pages} pages and ${walked.files} files of ${walked.patterns.size} kinds; ${walked.left} addresses left by the bounds`);
      await visitor.leave();
      assert.equal(wrong.length, 0, `\n${wrong.join("\n")}`);
    });
  }
}
