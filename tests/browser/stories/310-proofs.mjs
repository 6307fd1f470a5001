import assert from "node:assert/strict";
import { proofPicture } from "../picture.mjs";

export const title = "Proofs: two photos from a phone, side by side, and what is said about them";

const asFile = (name, buffer, mimeType = "image/jpeg") => ({ name, mimeType, buffer });

/** Fills the form of a proof and sends it. */
async function add(visitor, file, note) {
  const { page } = visitor;
  await page.locator("[name=file]").setInputFiles(file);
  await page.locator("[name=note]").fill(note);
  await page.locator("main form button.act").click();
  await page.waitForLoadState("load");
}

export default async function proofs(story) {
  const demo = await story.ownDemo();
  const student = await story.visitor(demo, "student");
  const instructor = await story.visitor(demo, "instructor", { width: "wide" });
  const home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");
  let plate = null;

  await story.part("a student goes from the plate to the form", async () => {
    await student.go(`${home}/plates`);
    plate = await student.page.locator(`main a[href^="${home}/plates/"]`).first().getAttribute("href");
    await student.go(plate);
    await student.page.locator('a[href$="/proofs/new"]').first().click();
    await student.look("proof-new");
  });

  await story.part("what is no photo comes back with a sentence, and the note stays", async () => {
    const page = asFile("photo.jpg", Buffer.from("<!doctype html><p>no picture"));
    await student.expecting(422, () => add(student, page, "rag paper"));
    await student.look("proof-refused");
    assert.equal(await student.page.locator("[name=note]").inputValue(), "rag paper");
  });

  await story.part("two photos are added", async () => {
    await add(student, asFile("one.jpg", await proofPicture(student.page, { ink: 0.9 })), "darks closed up");
    assert.match(student.page.url(), /\/proofs\?done=done-proof-added/);
    await student.go(`${plate}/proofs/new`);
    const wide = await proofPicture(student.page, { width: 2400, height: 1800, ink: 0.5 });
    await add(student, asFile("two.jpg", wide), "opened after the third etch");
    await student.look("proofs");
    const loaded = await student.page.locator("main img").evaluateAll((all) => all.map((one) => [one.complete, one.naturalWidth]));
    assert.ok(loaded.length >= 2 && loaded.every(([complete, width]) => complete && width > 0), JSON.stringify(loaded));
  });

  await story.part("they stand side by side on a wide sheet and one above the other on a phone", async () => {
    await student.go(`${plate}/proofs/compare`);
    await student.look("proofs-side-by-side");
    const boxes = async () => student.page.locator(".proof-frame").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()));
    const [upper, lower] = await boxes();
    assert.ok(lower.top >= upper.bottom && lower.left === upper.left, "one above the other");
    await student.page.setViewportSize({ width: 1280, height: 900 });
    const [left, right] = await boxes();
    assert.ok(right.left >= left.right && right.top === left.top, "side by side");
    await student.page.setViewportSize({ width: 360, height: 740 });
  });

  await story.part("the student asks, the instructor reads and answers", async () => {
    const first = student.page.locator("article").first();
    await first.locator("summary").click();
    await first.locator("textarea").fill("Did the second etch come too late?");
    await first.locator("form button.act").click();
    await instructor.go(`${plate}/proofs/compare`);
    assert.match(await instructor.page.locator("main").innerText(), /Did the second etch come too late\?/);
    await instructor.go(plate);
    await instructor.page.locator("summary", { hasText: "Comment on the plate" }).click();
    await instructor.page.locator('form[action$="/comments"] textarea').fill("Gum over everything first.");
    await instructor.page.locator('form[action$="/comments"] button.act').click();
    await instructor.look("plate-with-proofs");
    await student.go(`${plate}/proofs`);
    assert.match(await student.page.locator("main").innerText(), /Gum over everything first\./);
  });

  await story.check("an empty comment comes back open, at its place", async () => {
    const last = student.page.locator('form[action$="/comments"]').last();
    await student.page.locator("summary").last().click();
    await last.locator("textarea").evaluate((field) => field.removeAttribute("required"));
    await student.expecting(422, () => last.locator("button.act").click());
    await student.look("proofs-comment-refused");
    assert.ok(await student.page.locator("#proofs-comment-words").isVisible());
  });
}
