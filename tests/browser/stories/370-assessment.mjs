import assert from "node:assert/strict";

export const title = "Assessment: criteria, marking by keyboard, a second look, critique notes, the roll, duties, goals";

const text = (visitor) => visitor.page.locator("main").innerText();

export default async function assessment(story) {
  const demo = await story.ownDemo();
  const instructor = await story.visitor(demo, "instructor");
  const student = await story.visitor(demo, "student");
  const home = new URL(instructor.page.url()).pathname.split("/").slice(0, 3).join("/");
  let marking = "";

  await story.part("the ledger leads to everything there is to do", async () => {
    await instructor.go(`${home}/grades`);
    await instructor.look("assess-ledger");
    assert.match(await text(instructor), /asks? for a second look/);
  });

  await story.check("the criteria and one of them", async () => {
    await instructor.go(`${home}/criteria`);
    await instructor.look("assess-criteria");
    await instructor.page.locator("main h2 a").first().click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-criterion");
  });

  await story.part("a print is marked by keyboard alone beside its photos and logs", async () => {
    await instructor.go(`${home}/grades`);
    await instructor.page.locator("main a.link-row", { hasText: "A room at night: the print" }).first().click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-sheet");
    marking = new URL(instructor.page.url()).pathname;
    await instructor.page.locator("main a.link-row", { hasText: "Gülşen" }).click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-print-missing");
    await instructor.go(`${marking}`);
    await instructor.page.locator("main a.link-row", { hasText: "Chiamaka" }).click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-print");
    const page = instructor.page;
    // The first criterion has the focus; a digit chooses and goes on.
    for (const digit of "11211") await page.keyboard.press(digit);
    assert.equal(await page.evaluate(() => document.activeElement.name), "words");
    await page.keyboard.type("Seen again by day.");
    await page.locator("#grades-print-reason").focus();
    await page.keyboard.type("The second state counts too");
    await page.keyboard.press("Control+Enter");
    await page.waitForLoadState("load");
    await page.waitForURL(/done=done-mark/);
    assert.notEqual(new URL(page.url()).pathname, marking, "on the next print");
  });

  await story.check("what is marked is kept back, and handed back all at once", async () => {
    await instructor.go(`${home}/grades/hand-back`);
    await instructor.look("assess-hand-back-all");
    assert.match(await text(instructor), /97 of 100/);
  });

  await story.check("a second look waits beside the mark", async () => {
    await instructor.go(`${home}/second-looks`);
    await instructor.look("assess-second-looks");
  });

  await story.part("the student reads levels, descriptors and notes, and reckons ahead", async () => {
    await student.go(`${home}/grades`);
    await student.look("assess-own");
    const read = await text(student);
    for (const part of ["Craft of the etch", "Marked by Edda Varga", "Critique notes", "Roll", "Duties"]) {
      assert.ok(read.includes(part), `${part} in ${read}`);
    }
    await student.go(`${home}/grades/ahead`);
    await student.page.locator("main input[inputmode=decimal]").first().fill("95");
    await student.page.locator("main form button.act").click();
    await student.page.waitForLoadState("load");
    await student.look("assess-ahead");
    assert.match(await text(student), /With these scores it would be/);
    await student.go(`${home}/grades`);
    await student.page.locator("main a", { hasText: "Ask for a second look" }).first().click();
    await student.page.waitForLoadState("load");
    await student.look("assess-second-look");
  });

  await story.check("critique notes in hanging order", async () => {
    await instructor.go(`${home}/critiques`);
    await instructor.look("assess-critiques");
    await instructor.page.locator("main select").selectOption({ label: "Weather" });
    await instructor.page.locator("main form button.act").click();
    await instructor.page.waitForLoadState("load");
    await instructor.page.locator("main textarea").first().fill("The sky is found; the land waits.");
    await instructor.page.locator("main button[name=move]").first().click();
    await instructor.page.waitForLoadState("load");
    assert.equal(await instructor.page.locator("main textarea").nth(1).inputValue(), "The sky is found; the land waits.");
    await instructor.look("assess-critique");
  });

  await story.check("the roll of a meeting by thumb", async () => {
    await instructor.go(`${home}/rolls`);
    await instructor.look("assess-rolls");
    await instructor.page.locator("main a.link-row").first().click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-roll");
  });

  await story.check("duties, what is granted, days not counted, goals, two markers", async () => {
    for (const [path, name] of [
      ["duties", "assess-duties"],
      ["accommodations", "assess-granted"],
      ["grades/uncounted", "assess-uncounted"],
    ]) {
      await instructor.go(`${home}/${path}`);
      await instructor.look(name);
    }
    await instructor.go(`${home}/goals`);
    await instructor.page.locator("main input[type=text]").first().fill("Fit an etch to a drawing");
    await instructor.page.locator("main input[type=checkbox]").first().check();
    await instructor.page.locator("main form button.act").last().click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-goals");
    await instructor.page.locator("main tbody .links a").first().click();
    await instructor.page.waitForLoadState("load");
    await instructor.look("assess-goal");
    await instructor.go(`${marking}/two-markers`);
    await instructor.look("assess-two-markers");
    await instructor.go(`${marking}/criteria`);
    await instructor.look("assess-weighed");
  });
}
