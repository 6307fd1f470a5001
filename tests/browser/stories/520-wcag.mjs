import assert from "node:assert/strict";
import { keyboard, reflow, spacing, stillness, targets } from "../access.mjs";
import { openLeaf } from "../leaf.mjs";

export const title = "WCAG 2.2 measured on the main pages of everybody: targets, focus, reflow, text spacing, zoom, keyboard, motion";

// The main pages of each person; what begins with “>” is the first link of the page before it
// that fits, what begins with “+” stands under the page before it.
const CLASS_PAGES = {
  student: ["", "/plates", ">/plates/[0-9a-f-]+$", "+/plan", "/plates", ">/plates/[0-9a-f-]+$", "+/table", "/etches", ">/etches/[0-9a-f-]{36}$", "/prints/new", "/mix", "/sign-offs", "/grades", "/studio", "/containers", "/projects", "/splash", "/search?q=a"],
  assistant: ["", "/tonight", "/people", "/plates", ">/plates/[0-9a-f-]+$", "/sign-offs", "/studio/hours", "/containers", "/mix/tonight"],
  instructor: ["", "/tonight", "/all", "/people", ">/people/[0-9a-f-]{36}$", "/plates", ">/plates/[0-9a-f-]+$", "+/proofs", "/plan", "/etches", "/sign-offs", "/grades", ">/assessments/[0-9a-f-]{36}$", "/criteria", "/goals", "/rolls", "/settings", "/settings/projects", "/settings/procedures", "/records", "/letters", "/search?q=a"],
  "safety officer": ["/sign-offs", "/sign-offs/cleared", "/studio", "/containers"],
  records: ["/people", "/sign-offs/record", "/grades/submitted", "/records"],
};
const OTHER_PAGES = { nobody: ["/sign-in", "/forgotten", "/help", "/tablet/away"], student: ["/", "/account"], keeper: ["/", "/school", "/school/people", "/school/classes", "/school/ids", "/school/retention"] };

async function measured(visitor) {
  const { page } = visitor;
  const before = page.viewportSize();
  const wrong = [];
  for (const measure of [targets, reflow, spacing, stillness, keyboard]) wrong.push(...(await measure(page)));
  await page.setViewportSize(before);
  return wrong;
}

export default async function wcag(story) {
  await story.check("what is wrong on a page is found", async () => {
    const sheet = (body) => `<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>A leaf</title><link rel="stylesheet" href="/leaf.css"></head><body><main><h1>A leaf</h1>${body}</main></body></html>`;
    const leaf = await openLeaf({
      "/favicon.ico": "",
      "/leaf.css": "body { margin: 0 } :focus-visible { outline: 3px solid } .low { width: 10px; height: 10px; padding: 0; overflow: hidden } .bare:focus { outline: none !important } .wide { width: 25rem } .cut { width: 6rem; height: 1.2rem; overflow: hidden } .over { position: fixed; inset: auto 0 0 0; height: 300px; margin: 0; background: #fff } .tall { height: 3000px } .moves { transition: opacity 2s }",
      "/small.html": sheet('<button class="low">a</button><button class="low">b</button>'),
      "/ring.html": sheet('<button class="bare">No ring</button>'),
      "/wide.html": sheet('<p class="wide">wide</p>'),
      "/cut.html": sheet('<p class="cut">Some words</p>'),
      "/over.html": sheet('<p class="tall">tall</p><button>Under</button><p class="over">over it</p>'),
      "/lost.html": sheet('<button>One</button><button tabindex="0">Two</button>'),
      "/moves.html": sheet('<p class="moves">it fades</p>'),
      "/good.html": sheet('<p><a href="/good.html">Go on</a> with it.</p><button type="button">A plain button</button>'),
    });
    story.atTheEnd(() => leaf.close());
    const visitor = await story.visitor(leaf);
    const says = async (path, pattern) => {
      await visitor.go(path);
      assert.match((await measured(visitor)).join("\n"), pattern, path);
    };
    await says("/small.html", /2\.5\.8: “a” is 10 × 10 px/);
    await says("/ring.html", /2\.4\.7: “No ring”/);
    await says("/wide.html", /1\.4\.10: at 320 px the page is \d+ px on 320/);
    await says("/cut.html", /1\.4\.12: .*“Some words” is cut off by p\.cut/);
    await says("/over.html", /2\.4\.11: “Under”/);
    await says("/moves.html", /reduced motion: p moves/);
    await visitor.go("/lost.html");
    await visitor.page.evaluate(() => document.addEventListener("keydown", (event) => {
      if (document.activeElement.textContent === "One") event.preventDefault();
    }));
    assert.match((await keyboard(visitor.page)).join("\n"), /2\.1\.1: the Tab key never reaches “Two”/);
    await visitor.go("/good.html");
    assert.deepEqual(await measured(visitor), []);
  });

  const demo = await story.demo();
  for (const role of ["nobody", "student", "assistant", "instructor", "safety officer", "records", "keeper"]) {
    const visitor = await story.visitor(demo, role === "nobody" ? null : role);
    const { page } = visitor;
    let paths = OTHER_PAGES[role] ?? [];
    if (CLASS_PAGES[role]) {
      await visitor.go("/");
      const first = await page.evaluate(() => [location.pathname, ...[...document.querySelectorAll("a[href]")].map((link) => link.pathname)].find((path) => /^\/classes\/[0-9a-f-]{36}/.test(path)));
      const home = first.split("/").slice(0, 3).join("/");
      paths = [...paths, ...CLASS_PAGES[role].map((path) => (/^[>+]/.test(path) ? path : home + path))];
    }
    for (const path of paths) {
      await story.check(`${role}: ${path.replace(/[0-9a-f-]{36}/, "…")}`, async () => {
        let next = path.startsWith("+") ? new URL(page.url()).pathname + path.slice(1) : path;
        if (path.startsWith(">")) {
          const links = await page.evaluate(() => [...document.querySelectorAll("main a[href]")].map((link) => link.pathname));
          next = links.find((link) => new RegExp(path.slice(1)).test(link));
          assert.ok(next, `${page.url()} has no link that fits ${path}`);
        }
        await visitor.go(next);
        const wrong = await measured(visitor);
        assert.equal(wrong.length, 0, `\n${page.url()}\n${wrong.join("\n")}`);
      });
    }
    await visitor.leave();
  }
}
