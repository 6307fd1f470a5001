import assert from "node:assert/strict";

export const title = "The plan of a plate, the class plan with its questions, what is out of order, the calendar";

export default async function plans(story) {
  const demo = await story.ownDemo();
  const instructor = await story.visitor(demo, "instructor");
  const student = await story.visitor(demo, "student");

  let base = null;
  await story.part("the class plan and a question beside it", async () => {
    await instructor.go("/");
    const found = await instructor.page.locator('main a[href^="/classes/"]').first().getAttribute("href");
    base = found.split("/").slice(0, 3).join("/");
    await instructor.go(`${base}/plan`);
    assert.ok(await instructor.page.locator("svg.chart").count() > 0, "bars are drawn");
    await instructor.look("class-plan");
    await instructor.page.locator("[name=day]").selectOption("4");
    await instructor.page.locator("[name=from]").fill("18:00");
    await instructor.page.locator("[name=to]").fill("21:00");
    await instructor.page.locator("[name=sheets]").fill("4");
    await instructor.page.locator("main form button.act").click();
    await instructor.page.waitForURL(/day=4/);
    assert.equal(await instructor.page.locator("#answers-head ~ table tbody tr").count(), 3);
    await instructor.look("class-plan-asked");
    await instructor.expecting(422, () => instructor.go(`${base}/plan?day=4&from=21:00&to=18:00`, 422));
    await instructor.look("class-plan-refused");
  });

  await story.check("a press is out of order and runs again", async () => {
    await instructor.go(`${base}/studio/downs`);
    await instructor.page.locator("[name=station]").selectOption({ index: 1 });
    await instructor.page.locator("[name=reason]").fill("the felt is torn");
    await instructor.look("downs");
    await instructor.page.locator("main form button.act").click();
    await instructor.page.waitForURL(/done=/);
    await instructor.look("downs-told");
    await instructor.go(`${base}/plan`);
    assert.ok((await instructor.page.locator("main").innerText()).includes("the felt is torn"));
    await instructor.go(`${base}/studio`);
    assert.ok((await instructor.page.locator("main").innerText()).includes("the felt is torn"));
    await instructor.go(`${base}/studio/downs`);
    await instructor.page.locator('main form[action$="/end"] button').first().click();
    await instructor.page.waitForURL(/done=/);
  });

  await story.check("the plan of a plate, from its page", async () => {
    await student.go(`${base}/plates`);
    const plate = await student.page.locator('main a[href*="/plates/"]:not([href$="/new"])').first().getAttribute("href");
    await student.go(plate);
    await student.look("plate-with-plan");
    await student.go(`${plate}/plan`);
    await student.look("plate-plan");
  });

  await story.check("a calendar address is made and withdrawn", async () => {
    await student.go("/account");
    await student.page.locator('main form[action="/account/calendar"] button').click();
    await student.page.waitForURL(/done=/);
    await student.look("account-calendar");
    await student.page.locator('main form[action$="/withdraw"] button').click();
    await student.page.waitForURL(/done=/);
  });
}
