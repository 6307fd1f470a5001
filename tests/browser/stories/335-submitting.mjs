// Submitting grades, what stands then, archives from three taps, keeping and purging: each page looked at, and the archive
// really downloaded.
import { promises as fs } from "node:fs";

export const title = "The record a department keeps";

export default async function (story) {
  const school = await story.ownDemo();
  const instructor = await story.visitor(school, "instructor");
  let grades;

  await story.part("looks the class over and submits who is ready", async () => {
    await instructor.page.locator("nav.page-tabs a", { hasText: "Grades" }).click();
    grades = new URL(instructor.page.url()).pathname;
    await instructor.page.locator("a", { hasText: "Submit grades" }).first().click();
    await instructor.look("submit");
    const boxes = instructor.page.locator("input[name=person]");
    if (!(await boxes.count())) throw new Error("nobody could be submitted");
    await boxes.first().check();
    await instructor.page.locator("button", { hasText: "Submit the grades" }).click();
    await instructor.page.getByText("Submitted; the letters are on their way.").waitFor();
    await instructor.look("submitted");
  });

  await story.part("changes one with a reason", async () => {
    await instructor.page.locator("a.link-row").first().click();
    await instructor.look("decide");
    await instructor.page.getByRole("radio", { name: "Chosen by hand" }).check();
    await instructor.page.getByLabel("Letter, where chosen by hand").selectOption({ index: 1 });
    await instructor.page.getByLabel("Reason").fill("Agreed after the critique.");
    await instructor.page.locator("main button[type=submit]").click();
    await instructor.page.getByText("Submitted; the letters are on their way.").waitFor();
  });

  await story.check("reads a file for an appeal", async () => {
    await instructor.go(grades);
    await instructor.page.locator("a.link-row[href*='/people/']").first().click();
    await instructor.page.locator("a", { hasText: "File for an appeal" }).click();
    await instructor.look("appeal");
  });

  await story.check("takes the archive by three taps", async () => {
    await instructor.page.locator("nav.page-tabs a", { hasText: "Records" }).click();
    await instructor.look("records-with-archive");
    const coming = instructor.page.waitForEvent("download");
    await instructor.page.locator("a", { hasText: "Download the archive as of now" }).click();
    const file = await (await coming).path();
    const bytes = await fs.readFile(file);
    if (bytes.subarray(0, 2).toString() !== "PK") throw new Error("no zip file came");
    await instructor.page.reload();
    await instructor.look("records-with-archive-made");
    const again = instructor.page.waitForEvent("download");
    await instructor.page.locator("#archive-head ~ p a", { hasText: /^As of/ }).first().click();
    const other = await fs.readFile(await (await again).path());
    if (!bytes.equals(other)) throw new Error("another file came of the same moment");
  });

  await story.check("reads what was told to others, and who is cleared", async () => {
    const base = grades.replace(/\/grades$/, "");
    await instructor.go(`${base}/disclosures`);
    await instructor.look("told");
    await instructor.go(`${base}/sign-offs/cleared`);
    await instructor.look("cleared");
    await instructor.go(`${base}/sign-offs/record`);
    await instructor.page.locator("main a.link-row").first().click();
    await instructor.look("training");
    const student = await story.visitor(school, "student");
    await student.go(`${base}/disclosures`);
    await student.look("told-own");
    const officer = await story.visitor(school, "safety officer");
    await officer.go(`${base}/sign-offs/cleared/room`);
    await officer.look("cleared-room");
  });

  await story.check("says what a table is taken for", async () => {
    const base = grades.replace(/\/grades$/, "");
    await instructor.go(`${base}/records`);
    await instructor.page.locator("summary", { hasText: "Another reason" }).click();
    await instructor.page.getByLabel("What for").selectOption({ label: "Review of the department" });
    await instructor.page.locator("button", { hasText: "Take it for this" }).click();
    await instructor.page.locator("a[href$='grades.csv?for=review']").waitFor();
    await instructor.look("records-for");
  });

  await story.check("lets a keeper look at rules, holds and letters of grades", async () => {
    const keeper = await story.visitor(school, "keeper");
    await keeper.go("/school/retention");
    await keeper.look("retention");
    await keeper.go("/school/grade-letters");
    await keeper.look("grade-letters");
  });
}
