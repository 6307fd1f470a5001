import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import path from "node:path";
import { root } from "../harness.mjs";
import { openLeaf } from "../leaf.mjs";

export const title = "The specimen sheet: every component of the style sheets once";

export default async function specimen(story) {
  const sheet = readFileSync(path.join(root, "tests/browser/specimen.html"), "utf8");
  const leaf = await openLeaf({ "/specimen.html": sheet }, path.join(root, "templates/assets"));
  story.atTheEnd(() => leaf.close());
  const visitor = await story.visitor(leaf);

  await story.check("it stands up to a look", async () => {
    await visitor.go("/specimen.html");
    await visitor.look("specimen");
  });

  await story.check("a tick in a form can be hit anywhere on its line, and shows that it was", async () => {
    const goggles = visitor.page.getByLabel("goggles");
    await visitor.page.getByText("goggles", { exact: true }).click();
    assert.equal(await goggles.isChecked(), true);
    const box = await goggles.boundingBox();
    assert.deepEqual([box.width, box.height], [28, 28]);
  });

  await story.check("at 320 px and with WCAG 1.4.12 text spacing nothing sticks out sideways", async () => {
    await visitor.page.setViewportSize({ width: 320, height: 640 });
    await visitor.page.evaluate(() => {
      const spaced = new CSSStyleSheet();
      spaced.replaceSync("* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-block-end: 2em !important }");
      document.adoptedStyleSheets = [spaced];
    });
    const [wide, sheetWidth] = await visitor.page.evaluate(() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]);
    assert.ok(wide <= sheetWidth, `${wide} on ${sheetWidth}`);
  });
}
