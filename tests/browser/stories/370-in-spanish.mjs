import assert from "node:assert/strict";

export const title = "The daily pages in Spanish: longer words, and nothing sticks out";

export default async function inSpanish(story) {
  const demo = await story.ownDemo();
  const nobody = await story.visitor(demo);
  const student = await story.visitor(demo, "student");
  const instructor = await story.visitor(demo, "instructor");
  const home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");

  /** Whether the page at hand is in Spanish. */
  async function speaksSpanish(visitor) {
    assert.equal(await visitor.page.locator("html").getAttribute("lang"), "es");
  }

  await story.part("the sign-in changes its language by the link at its foot", async () => {
    await nobody.go("/sign-in");
    assert.equal(await nobody.page.locator("html").getAttribute("lang"), "en");
    await nobody.page.getByRole("link", { name: "Español" }).click();
    await speaksSpanish(nobody);
    assert.equal(new URL(nobody.page.url()).pathname, "/sign-in");
    assert.match(await nobody.page.locator("main").innerText(), /Contraseña olvidada/);
    await nobody.look("es-sign-in");
    await nobody.go("/help");
    await nobody.look("es-help");
  });

  await story.part("a student chooses Spanish on the account", async () => {
    await student.go("/account");
    await student.page.locator("[name=language]").selectOption("es");
    await student.page.locator("form[action$=preferences] button").click();
    await speaksSpanish(student);
    assert.match(await student.page.locator(".notice:visible").innerText(), /Guardado/);
    await student.look("es-account");
  });

  await story.part("Today, plates, a plate and its etch form", async () => {
    await student.go(home);
    await speaksSpanish(student);
    await student.look("es-today");
    await student.go(`${home}/plates`);
    await student.look("es-plates");
    const plate = await student.page.locator(`main a[href^="${home}/plates/"]`).first().getAttribute("href");
    await student.go(plate);
    await speaksSpanish(student);
    await student.look("es-plate");
    await student.go(`${plate}/etches/new?told=yes`);
    assert.match(await student.page.locator("h1").innerText(), /Registrar la acidulación/);
    await student.look("es-etch-form");
    await student.go(`${plate}/plan`);
    await student.look("es-plan");
  });

  await story.check("sign-offs, grades, the shelf and the mix", async () => {
    for (const [path, name] of [["sign-offs", "sign-offs"], ["grades", "grades"], ["studio", "studio"], ["containers", "containers"], ["mix", "mix"]]) {
      await student.go(`${home}/${path}`);
      await speaksSpanish(student);
      await student.look(`es-${name}`);
    }
  });

  await story.check("the instructor's pages", async () => {
    await instructor.go(`/language/es?back=${home}`);
    await speaksSpanish(instructor);
    await instructor.look("es-instructor-today");
    for (const [path, name] of [["all", "class"], ["people", "people"], ["grades", "ledger"], ["settings", "settings"], ["records", "records"], ["plan", "class-plan"]]) {
      await instructor.go(`${home}/${path}`);
      await speaksSpanish(instructor);
      await instructor.look(`es-${name}`);
    }
  });
}
