import assert from "node:assert/strict";
import { proofPicture } from "../picture.mjs";

export const title = "Procedures: read as a handout, copied, edited, kept as the next version, and written from nothing";

export default async function procedures(story) {
  const demo = await story.ownDemo();
  const instructor = await story.visitor(demo, "instructor", { width: "wide" });
  const student = await story.visitor(demo, "student");
  const home = new URL(instructor.page.url()).pathname.split("/").slice(0, 3).join("/");
  const list = `${home}/settings/procedures`;
  const { page } = instructor;
  const here = () => new URL(page.url()).pathname;
  const main = () => page.locator("main").innerText();
  let writing = null;

  await story.part("the instructor finds the list from the settings", async () => {
    await instructor.go(`${home}/settings`);
    await page.locator(`main a[href="${list}"]`).click();
    assert.match(await main(), /version 1/);
    await instructor.look("procedures-list");
  });

  await story.part("a copy is asked for a name, and becomes the class's own", async () => {
    await page.locator('main a[href*="/new?from="]').first().click();
    await instructor.look("procedure-copy");
    await page.locator("[name=name]").fill("Our aluminium plate");
    await page.locator("main form button.act").click();
    writing = here();
    assert.match(await main(), /Version 1 holds/);
    await instructor.look("procedure-before-a-draft");
  });

  await story.part("a rest is edited on the step's own form", async () => {
    await page.locator("main table a.link-row", { hasText: "First etch" }).click();
    await instructor.look("procedure-step");
    await page.locator("[name=rest_advised]").fill("soon");
    await instructor.expecting(422, () => page.locator("main form button.act").click());
    assert.equal(await page.locator("[name=rest_advised]").inputValue(), "soon");
    await instructor.look("procedure-step-refused");
    await page.locator("[name=rest_advised]").fill("18 h");
    await page.locator("main form button.act").click();
    assert.equal(here(), writing);
    await instructor.look("procedure-draft");
  });

  await story.check("a circle is said at its step and cannot be kept", async () => {
    await instructor.go(`${writing}/steps/prepare`);
    await page.locator('[name=after][value="draw"]').check();
    await page.locator("main form button.act").click();
    await instructor.expecting(422, () => page.locator('form[action$="/keep"] button').click());
    assert.match(await main(), /Prepare waits for itself/);
    await instructor.look("procedure-circle");
    await instructor.go(`${writing}/steps/prepare`);
    await page.locator('[name=after][value="draw"]').uncheck();
    await page.locator("main form button.act").click();
  });

  await story.part("it is kept as version 2 and read by the class", async () => {
    await page.locator('form[action$="/keep"] button').click();
    assert.match(await main(), /Version 2 holds/);
    await page.locator("main a", { hasText: "Read it as the class does" }).click();
    const reading = here();
    assert.match(await main(), /18\s*h is advised/);
    await student.go(reading);
    await student.look("procedure-handout");
    await student.page.emulateMedia({ media: "print" });
    assert.ok(await student.page.locator("h2", { hasText: "First etch" }).isVisible(), "it prints");
    await student.page.emulateMedia({ media: "screen" });
  });

  await story.check("a plate leads to the version it keeps", async () => {
    await student.go(`${home}/plates`);
    const plate = await student.page.locator(`main a[href^="${home}/plates/"]`).first().getAttribute("href");
    await student.go(plate);
    await student.page.locator(`main a[href="${plate}/procedure"]`).click();
    assert.match(new URL(student.page.url()).search, /version=1/);
  });

  await story.part("one is begun from nothing, and its first step added", async () => {
    await instructor.go(`${list}/new`);
    await page.locator("[name=name]").fill("Photo plate from film");
    await page.locator('[name=surface][value="plate"]').check();
    await instructor.look("procedure-new");
    await page.locator("main form button.act").click();
    await instructor.look("procedure-empty");
    await page.locator("[name=title]").fill("Make the film");
    await page.locator('form[action$="/steps"] button').click();
    await page.locator("[name=minutes]").fill("1 h");
    await page.locator("main form button.act").click();
    await page.locator('form[action$="/keep"] button').click();
    assert.match(await main(), /Version 1 holds/);
  });

  await story.check("a picture of how it should look is added to a step and seen in the handout", async () => {
    await instructor.go(`${writing}/steps/draw`);
    await page.locator("[name=file]").setInputFiles({ name: "right.jpg", mimeType: "image/jpeg", buffer: await proofPicture(page, { ink: 0.6 }) });
    await page.locator("[name=caption]").fill("Dots sharp, borders clean");
    await page.locator('form[action$="/pictures"] button').click();
    await instructor.look("procedure-step-picture");
    await instructor.go(writing);
    await page.locator('form[action$="/keep"] button').click();
    await page.locator("main a", { hasText: "Read it as the class does" }).click();
    const width = await page.locator("main figure img").first().evaluate((img) => img.decode().then(() => img.naturalWidth));
    assert.ok(width > 0);
  });

  await story.check("it is taken out as a file and what is no procedure is refused", async () => {
    await instructor.go(list);
    await page.locator("[name=file]").setInputFiles({ name: "no.json", mimeType: "application/json", buffer: Buffer.from('{"name": 1}') });
    await instructor.expecting(422, () => page.locator('form[action$="/brought"] button').click());
    await instructor.look("procedures-brought-refused");
  });
}
