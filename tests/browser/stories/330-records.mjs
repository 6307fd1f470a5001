import assert from "node:assert/strict";
import { readFileSync } from "node:fs";

export const title = "Records: the tables of a class, taken by the instructor and by records staff";

async function confirm(visitor, password) {
  await visitor.page.locator('input[autocomplete~="current-password"]').fill(password);
  await visitor.page.locator("main form button.act").click();
  await visitor.page.waitForLoadState("load");
}

async function download(visitor, table) {
  const [file] = await Promise.all([
    visitor.page.waitForEvent("download"),
    visitor.page.locator(`main a[href$="/records/${table}.csv"]`).click(),
  ]);
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), "utf8") };
}

export default async function records(story) {
  const demo = await story.demo();
  const instructor = await story.visitor(demo, "instructor");
  const home = new URL(instructor.page.url()).pathname.split("/").slice(0, 3).join("/");

  await story.part("the instructor opens Records from the tabs", async () => {
    await instructor.page.locator("nav.page-tabs a", { hasText: "Records" }).click();
    await instructor.page.waitForLoadState("load");
    // Within ten minutes of signing in the password is not asked for again.
    assert.equal(new URL(instructor.page.url()).pathname, `${home}/records`);
    await instructor.look("records");
  });

  await story.check("the password typed once more leads back to the page", async () => {
    await instructor.go(`/account/confirm?next=${home}/records`);
    await confirm(instructor, demo.signIn("instructor").password);
    assert.equal(new URL(instructor.page.url()).pathname, `${home}/records`);
  });

  await story.check("what stands in the columns is told", async () => {
    await instructor.page.locator("main article details summary").nth(3).click();
    assert.ok((await instructor.page.locator("main").innerText()).includes("never a measurement"));
    await instructor.look("records-columns");
  });

  await story.check("the grades come as a file, and that they were taken is listed", async () => {
    const file = await download(instructor, "grades");
    assert.match(file.name, /^LIT-B .* grades\.csv$/);
    const lines = file.text.split("\r\n");
    assert.equal(lines[0].split(",").slice(0, 3).join(","), "person_id,given_name,family_name");
    assert.ok(lines.length > 18, `${lines.length} lines`);
    await instructor.page.locator("[data-progress] output", { hasText: "the download has begun" }).waitFor();
    await instructor.go(`${home}/records`);
    assert.ok((await instructor.page.locator("main").innerText()).includes("Edda Varga"));
  });

  await story.check("records staff find what is theirs", async () => {
    const staff = await story.visitor(demo, "records");
    await staff.go(`${home}/records`);
    assert.equal(await staff.page.locator('main a[href$="/scores.csv"]').count(), 0);
    const file = await download(staff, "roster");
    assert.ok(file.text.includes("@student.example"));
    await staff.look("records-staff");
    await staff.go("/");
    await staff.page.locator('main a[href="/records"]').click();
    await staff.look("records-of-terms");
    const coming = staff.page.waitForEvent("download");
    await staff.page.locator('main a[href$=".zip"]').first().click();
    const bytes = readFileSync(await (await coming).path());
    assert.equal(bytes.subarray(0, 2).toString(), "PK", "the package of the term came");
  });

  await story.check("a long upload tells how far it is; what is wrong with the file stands in the page", async () => {
    const { page } = instructor;
    await instructor.go(`${home}/people/list`);
    const told = page.evaluate(() => new Promise((said) => {
      new MutationObserver(() => said(document.querySelector("[data-progress] output").textContent))
        .observe(document.querySelector("[data-progress]"), { childList: true, subtree: true, characterData: true });
    }));
    const buffer = Buffer.from("nothing,here\n".repeat(120_000));
    await page.locator("[name=file]").setInputFiles({ name: "list.csv", mimeType: "text/csv", buffer });
    await instructor.expecting(422, async () => {
      await page.locator("main form button.act").click();
      await page.locator("main [aria-invalid=true], main .summary").first().waitFor();
    });
    assert.match(await told, /MB are on their way/);
    assert.equal(await page.locator("[name=text]").count(), 1, "the form is there again");
  });
}
