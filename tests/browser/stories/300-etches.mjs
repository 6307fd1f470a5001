import assert from "node:assert/strict";

export const title = "An etch is logged, corrected, asked about at the roll-up, and read across the class";

export default async function etches(story) {
  const demo = await story.ownDemo();
  const student = await story.visitor(demo, "student");
  const instructor = await story.visitor(demo, "instructor");
  const home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");
  let plate = null;
  let log = null;

  /** Fills the form of a log with the usual first etch. */
  async function fill() {
    const form = student.page.locator('main form[action$="/etches/new"]');
    await form.locator("[name=gum]").selectOption({ index: 1 });
    await form.locator("[name=gum_volume]").fill("1");
    await form.locator("[name=acid]").selectOption({ index: 1 });
    await form.locator("[name=drops]").fill("4");
    for (const [row, minutes] of [[1, "2"], [2, "1.5"], [3, "2:30"]]) {
      await form.locator(`[name=application_${row}]`).fill(minutes);
    }
    await form.locator("[name=tool]").fill("brush");
    await form.locator("[name=helper]").fill("Tomás Reyne");
    await form.locator("[name=seen]").fill("Even film, no bubbles.");
    return form;
  }

  await story.part("a plate of one's own has no log yet", async () => {
    await student.go(`${home}/prints/new`);
    for (const [name, value] of [["title", "Sleet"], ["width", "20"], ["height", "30"], ["materials", "crayon 3"]]) {
      await student.page.locator(`[name=${name}]`).fill(value);
    }
    for (const name of ["project", "procedure", "size_unit"]) {
      await student.page.locator(`[name=${name}]`).selectOption({ index: 1 }).catch(() => {});
    }
    await student.page.locator("[name=weight]").first().check();
    await student.page.locator("main form button.act").click();
    plate = new URL(student.page.url()).pathname;
    await student.go(plate);
    await student.look("plate-before-its-etch");
  });

  await story.part("what cannot be read comes back with everything typed", async () => {
    await student.go(`${plate}/etches/new?told=yes`);
    await student.look("etch-form-told");
    const form = await fill();
    await form.locator("[name=drops]").fill("four");
    // The day before the one the demo plays on.
    const day = "2026-11-09";
    await form.locator("[name=step]").selectOption("first-etch");
    await form.locator("[name=began]").fill(`${day}T10:00`);
    await form.locator("[name=ended]").fill(`${day}T10:45`);
    await form.locator("[name=gummed]").check();
    await form.locator("[name=buffed]").check();
    await form.locator("[name=rack_place]").fill("B4");
    await student.expecting(422, () => form.locator("button.act").click());
    await student.look("etch-form-refused");
    const again = student.page.locator('main form[action$="/etches/new"]');
    assert.equal(await again.locator("[name=application_3]").inputValue(), "2:30");
    await again.locator("[name=drops]").fill("4");
    await again.locator("button.act").click();
    assert.equal(new URL(student.page.url()).pathname, plate);
    await student.look("plate-with-its-etch");
  });

  await story.part("the log says how strong the etch was", async () => {
    log = await student.page.locator(`main a[href^="${plate}/etches/"]:not([href*="/new"])`).first().getAttribute("href");
    await student.go(log);
    const text = await student.page.locator("main").innerText();
    assert.match(text, /mol\/L/);
    assert.match(text, /an estimate, not a measurement/);
    await student.look("etch-log");
    await student.go(`${plate}/etches/new?told=yes`);
    assert.equal(await student.page.locator("[name=drops]").inputValue(), "4", "carried over");
    await student.look("etch-form-carried-over");
  });

  await story.check("a correction keeps the entry before it", async () => {
    await student.go(`${log}/amend`);
    await student.page.locator("[name=drops]").fill("5");
    await student.page.locator("[name=reason]").fill("Slip of the key.");
    await student.look("etch-amend");
    await student.page.locator("main form button.act").click();
    await student.look("etch-log-corrected");
  });

  await story.check("how it came up is told with one tap", async () => {
    await student.go(log);
    await student.page.locator("main details summary").first().click();
    await student.page.locator("[name=how]").selectOption("burned");
    await student.page.locator('main form[action$="/came-up"] button').click();
    assert.match(await student.page.locator("main").innerText(), /burned/);
  });

  await story.check("staff read the logs of the class", async () => {
    await instructor.go(`${home}/etches`);
    await instructor.look("etches-of-the-class");
    await instructor.page.locator("[name=came_up]").selectOption("burned");
    await instructor.page.locator("main form button").click();
    assert.match(await instructor.page.locator("main").innerText(), /burned/);
    await instructor.look("etches-narrowed");
  });
}
