import assert from "node:assert/strict";

export const title = "Tonight: a student asks, the instructor sees it without a reload, done, and the student sees that";

export default async function tonight(story) {
  const demo = await story.ownDemo();
  const student = await story.visitor(demo, "student");
  const home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");
  const instructor = await story.visitor(demo, "instructor");
  const line = student.page.locator("#line");
  const waiting = instructor.page.locator(".waiting");

  await story.part("the instructor's page says who waits, what is ready, and what to put out", async () => {
    await instructor.go(home);
    await instructor.look("today-with-waiting");
    await instructor.page.locator(".page-tabs a", { hasText: "Tonight" }).click();
    await waiting.waitFor();
    const text = await instructor.page.locator("main").innerText();
    for (const said of [/Etching table/, /What to put out/, /Roll of 13:00/, /Done a moment ago/]) assert.match(text, said);
    assert.equal(await waiting.locator("li").count(), 3);
    await instructor.look("tonight");
  });

  await story.part("a student asks on Today and reads the place in the line; the instructor's page shows it by itself", async () => {
    await student.go(home);
    await student.look("today-asking");
    await line.locator("[name=place]").fill("table 3");
    const [count] = [await waiting.locator("li").count()];
    await line.getByRole("button", { name: "Help" }).click();
    await student.page.locator(".in-line").waitFor();
    assert.match(await line.innerText(), /you are number 4 in the line/);
    assert.equal(await line.locator("[name=place]").inputValue(), "table 3", "where one is is remembered");
    await student.look("today-in-line");
    await waiting.locator("li", { hasText: "table 3" }).waitFor();
    assert.equal(await waiting.locator("li").count(), count + 1);
    await student.go(`${home}/plates`);
    await student.page.locator(`main a[href^="${home}/plates/"]`).first().click();
    await student.page.locator("#line").waitFor();
    await student.look("plate-asking");
    await student.go(home);
  });

  await story.part("what is typed and what has the focus stays while the part is put in place anew", async () => {
    await line.locator("[name=place]").fill("by the window");
    await line.locator("[name=place]").press("ArrowLeft");
    const before = await line.getAttribute("data-number");
    await waiting.locator("li").first().getByRole("button").click();
    await student.page.locator(`#line:not([data-number="${before}"])`).waitFor();
    assert.match(await line.innerText(), /you are 3rd in the line/, "the line moves on by itself");
    assert.deepEqual(await student.page.evaluate(() => {
      const { name, value, selectionStart } = document.activeElement;
      return { name, value, selectionStart };
    }), { name: "place", value: "by the window", selectionStart: 12 });
  });

  await story.part("done is one tap, the student sees it, and it can be undone", async () => {
    await instructor.go(`${home}/tonight`);
    await waiting.locator("li", { hasText: "table 3" }).getByRole("button").click();
    await instructor.page.locator(".answered li", { hasText: "Help" }).first().waitFor();
    await student.page.locator(".in-line").waitFor({ state: "detached" });
    await instructor.page.locator(".answered li").first().getByRole("button").click();
    await student.page.locator(".in-line").waitFor();
    assert.match(await line.innerText(), /you are 3rd in the line/);
    await line.locator(".in-line button").click();
    await waiting.locator("li", { hasText: "table 3" }).waitFor({ state: "detached" });
  });

  await story.part("a row of the run sheet goes up, without a script too", async () => {
    await instructor.go(`${home}/tonight`);
    const station = instructor.page.locator(".station", { has: instructor.page.locator("tbody tr:nth-child(2)") }).first();
    const rows = station.locator("tbody th");
    const before = await rows.allInnerTexts();
    const plates = () => station.locator("tbody tr td:nth-child(3)").allInnerTexts();
    const [first, second] = await plates();
    await station.locator("tbody tr").nth(1).getByRole("button", { name: /^Up/ }).click();
    await instructor.page.locator(".notice[role=status]:visible").waitFor();
    assert.deepEqual((await plates()).slice(0, 2), [second, first]);
    assert.equal(before.length, await rows.count());
  });

  await story.check("the run sheet prints, and what is for the screen alone does not", async () => {
    await instructor.page.emulateMedia({ media: "print" });
    assert.equal(await instructor.page.locator("#waiting-head").isVisible(), false);
    assert.equal(await instructor.page.locator("#run-head").isVisible(), true);
    assert.equal(await instructor.page.locator(".moves button").first().isVisible(), false);
    await instructor.page.emulateMedia({ media: "screen" });
  });
}
