// Tells the stories of tests/browser/stories in order of their names, and closes with `N passed, N failed`.
//
//   node tests/browser/run.mjs              all
//   node tests/browser/run.mjs etch crawl   those with one of the words in their file names
//   node tests/browser/run.mjs by-hand       those too long for every change
//
// A story is a module with a `title` and a default function that is handed a Story: it opens what it needs and tells
// its parts. What is counted are the parts. Two are told at a time, each in one piece, because a story mostly waits; one
// that measures time says `export const alone = true` and is told when the others are through.

import { readdirSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { Demo, NewSchool, openBrowser, root, signIn, visit } from "./harness.mjs";

// `by-hand` as the first word tells those that take too long for every change.
const byHand = process.argv[2] === "by-hand";
const folder = path.join(root, "tests/browser", byHand ? "by-hand" : "stories");
const count = { passed: 0, failed: 0 };

class Untellable extends Error {}

class Story {
  #visitors = [];
  #closing = [];
  #lines = [];
  count = { passed: 0, failed: 0 };

  constructor(browser, sharedDemo) {
    this.browser = browser;
    this.sharedDemo = sharedDemo;
  }

  /** The demo school that all stories share: for those that only look. */
  async demo() {
    return this.sharedDemo();
  }

  /** A demo school of this story's own, to change at will; `wishes` as in `Demo.start`. */
  async ownDemo(wishes) {
    const demo = await Demo.start(wishes);
    this.atTheEnd(() => demo.stop());
    return demo;
  }

  /** A school of this story's own that nobody has set up yet. */
  async newSchool() {
    const school = await NewSchool.start();
    this.atTheEnd(() => school.stop());
    return school;
  }

  /** A visitor at a demo or any other address; with a role, signed in. `wishes`: `width`, `scheme`. */
  async visitor(place, role, wishes) {
    const visitor = await visit(this.browser, place.address, wishes);
    this.#visitors.push(visitor);
    this.atTheEnd(() => visitor.leave());
    if (role) await signIn(visitor, place.signIn(role));
    return visitor;
  }

  atTheEnd(deed) {
    this.#closing.unshift(deed);
  }

  /** A part of the job; the parts after it need it, so where it fails the story ends. */
  async part(name, deed) {
    if (!(await this.check(name, deed))) throw new Untellable();
  }

  /** A part that others do not need: the story goes on when it fails. Returns whether it passed. */
  async check(name, deed) {
    const began = Date.now();
    let wrong = null;
    try {
      await deed();
    } catch (error) {
      wrong = error.stack ?? String(error);
    }
    const complaints = this.#visitors.flatMap((one) => one.takeComplaints());
    if (complaints.length > 0) wrong = [wrong, ...new Set(complaints)].filter(Boolean).join("\n");
    this.tell(`${name} (${((Date.now() - began) / 1000).toFixed(1)} s)`, wrong);
    if (wrong) await this.#keepPictures(name);
    return !wrong;
  }

  /** Counts a part, and keeps what is said of it. */
  tell(name, wrong) {
    this.count[wrong ? "failed" : "passed"] += 1;
    this.#lines.push(`  ${wrong ? "FAILED" : "ok"}  ${name}`);
    if (wrong) this.#lines.push(wrong.replace(/^/gm, "      "));
  }

  async #keepPictures(name) {
    for (const [n, visitor] of this.#visitors.entries()) {
      const file = `failed-${name.toLowerCase().replace(/[^a-z0-9]+/g, "-").slice(0, 60)}-${n + 1}.png`;
      await visitor.page.screenshot({ path: path.join(visitor.pictures, file) }).catch(() => {});
    }
  }

  async end(title) {
    for (const deed of this.#closing) await deed();
    console.log([title, ...this.#lines].join("\n"));
    count.passed += this.count.passed;
    count.failed += this.count.failed;
  }
}

async function tell({ file, title, default: story }, browser, sharedDemo) {
  const telling = new Story(browser, sharedDemo);
  try {
    await story(telling);
    if (telling.count.passed + telling.count.failed === 0) throw new Error("the story told no part");
  } catch (error) {
    if (!(error instanceof Untellable)) telling.tell("between its parts", error.stack ?? String(error));
  } finally {
    await telling.end(`${file}: ${title}`);
  }
}

async function main(words) {
  const files = readdirSync(folder).filter((file) => file.endsWith(".mjs")).sort()
    .filter((file) => words.length === 0 || words.some((word) => file.includes(word)));
  const stories = [];
  for (const file of files) stories.push({ file, ...(await import(pathToFileURL(path.join(folder, file)))) });
  const browser = await openBrowser();
  let shared = null;
  const lane = async (left) => {
    for (let story = left.shift(); story; story = left.shift()) {
      await tell(story, browser, () => (shared ??= Demo.start()));
    }
  };
  try {
    const together = stories.filter((story) => !story.alone && !byHand);
    await Promise.all([lane(together), lane(together)]);
    await lane(stories.filter((story) => story.alone || byHand));
  } finally {
    await browser.close();
    await shared?.then((demo) => demo.stop(), () => {});
  }
  console.log(`${count.passed} passed, ${count.failed} failed`);
  return count.failed === 0 && count.passed > 0 ? 0 : 1;
}

// Leaving in the usual way ends the programs that the stories started.
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"]) process.once(signal, () => process.exit(1));
process.exitCode = await main(process.argv.slice(byHand ? 3 : 2));
