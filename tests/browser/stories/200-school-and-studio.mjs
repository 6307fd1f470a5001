import assert from "node:assert/strict";

export const title = "The school, the settings of a class, the studio and its shelf";

/** Where a link of the page leads that begins so. */
async function link(visitor, beginning) {
  const found = await visitor.page.locator(`main a[href^="${beginning}"]`).first().getAttribute("href");
  assert.ok(found, `no link to ${beginning}`);
  return found;
}

export default async function school(story) {
  const demo = await story.ownDemo();
  const keeper = await story.visitor(demo, "keeper");
  const instructor = await story.visitor(demo, "instructor");
  const student = await story.visitor(demo, "student");

  let again = null;
  await story.part("the school and its forms", async () => {
    await keeper.go("/school");
    await keeper.look("school");
    again = (await keeper.page.locator('a[href$="/again"]').first().getAttribute("href"));
    for (const [path, name] of [["/school/terms", "term"], ["/school/studios", "studio-new"], ["/school/classes", "class-new"]]) {
      await keeper.go(path);
      await keeper.look(name);
    }
    await keeper.go("/school");
    await keeper.go(await link(keeper, "/school/classes/"));
    await keeper.look("class-kept");
  });

  await story.check("a term that ends before it begins comes back with its complaint", async () => {
    await keeper.go("/school/terms");
    await keeper.page.locator("[name=name]").fill("Spring 2027");
    await keeper.page.locator("[name=starts]").fill("2027-05-01");
    await keeper.page.locator("[name=ends]").fill("2027-01-01");
    await keeper.page.locator("[name=zone]").fill("America/New_York");
    await keeper.expecting(422, () => keeper.page.locator("main form button.act").click());
    await keeper.look("term-refused");
    await keeper.page.locator("[name=starts]").fill("2027-01-18");
    await keeper.page.locator("[name=ends]").fill("2027-05-14");
    await keeper.page.locator("main form button.act").click();
    assert.equal(new URL(keeper.page.url()).pathname, "/school");
  });

  await story.check("a class is started again, after the preview", async () => {
    await keeper.go(again);
    await keeper.look("again");
    await keeper.page.locator("[name=term]").selectOption({ label: "Spring 2027" });
    await keeper.page.locator("main form button.act").click();
    await keeper.look("again-preview");
  });

  const home = new URL(instructor.page.url()).pathname.split("/").slice(0, 3).join("/");
  await story.part("the settings of a class", async () => {
    await instructor.go(`${home}/settings`);
    await instructor.look("settings");
    for (const part of ["rules", "listings", "meetings", "projects", "again"]) {
      await instructor.go(`${home}/settings/${part}`);
      await instructor.look(`settings-${part}`);
    }
    await instructor.go(`${home}/settings`);
    const project = await link(instructor, `${home}/settings/projects/`);
    for (const part of ["", "/due", "/own-due"]) {
      await instructor.go(`${project}${part}`);
      await instructor.look(`project${part.replace("/", "-")}`);
    }
  });

  await story.check("the studio and its shelf, for a student and for staff", async () => {
    for (const part of ["studio", "containers"]) {
      await student.go(`${home}/${part}`);
      await student.look(`${part}-student`);
      await instructor.go(`${home}/${part}`);
      await instructor.look(`${part}-staff`);
    }
    for (const [part, name] of [
      ["studio/room", "room"], ["studio/hours", "hours"], ["studio/stations", "station"],
      ["containers/new", "container-what"], ["containers/new?what=gum", "container-gum"],
      ["containers/new?what=phosphoric", "container-acid"], ["containers/new?what=stock", "container-stock"],
    ]) {
      await instructor.go(`${home}/${part}`);
      await instructor.look(name);
    }
  });

  await story.check("a closure told backwards comes back at its own form", async () => {
    await instructor.go(`${home}/studio/hours`);
    const form = instructor.page.locator(`form[action$="/closures"]`);
    await form.locator("[name=first]").fill("2026-12-02");
    await form.locator("[name=last]").fill("2026-12-01");
    await form.locator("[name=reason]").fill("Stocktaking");
    await instructor.expecting(422, () => form.locator("button").click());
    await instructor.look("hours-refused");
  });
}
