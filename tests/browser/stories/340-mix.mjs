import assert from "node:assert/strict";

export const title = "Mixing: an etch reckoned, the table, the dropper, the batch for tonight, data sheets and labels";

const PDF = Buffer.from(
  "%PDF-1.4\n1 0 obj<</Type/Catalog/Pages 2 0 R>>endobj\n2 0 obj<</Type/Pages/Kids[3 0 R]/Count 1>>endobj\n" +
    "3 0 obj<</Type/Page/Parent 2 0 R/MediaBox[0 0 200 200]>>endobj\ntrailer<</Root 1 0 R>>\nstartxref\n9\n%%EOF\n",
);

export default async function mixing(story) {
  const demo = await story.ownDemo();
  const instructor = await story.visitor(demo, "instructor");
  const student = await story.visitor(demo, "student");
  const home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");
  const reckon = (visitor) => visitor.page.locator("main form button.act").first().click();

  await story.part("the instructor changes the table of etches", async () => {
    await instructor.go(`${home}/settings/etch-table?propose=stone`);
    await instructor.look("mix-table");
    await instructor.page.locator("[name=drops-2]").fill("-3");
    await instructor.expecting(422, () => reckon(instructor));
    await instructor.look("mix-table-refused");
    await instructor.page.locator("[name=drops-2]").fill("7");
    await reckon(instructor);
    await instructor.look("mix-table-kept");
  });

  await story.check("a student reckons an etch from a row, then with other drops", async () => {
    await student.go(`${home}/mix`);
    await student.look("mix-empty");
    await student.page.locator("main .ledger a").nth(2).click();
    assert.match(await student.page.locator("main").innerText(), /7 drops of acid from A1/);
    await student.look("mix-row");
    await student.page.locator("[name=drops]").fill("100");
    await reckon(student);
    assert.match(await student.page.locator("main").innerText(), /destroys the drawing/);
    await student.look("mix-too-strong");
    await student.page.locator("[name=unit]").selectOption("imp_fl_oz");
    await student.page.locator("[name=volume]").fill("");
    await student.expecting(422, () => reckon(student));
    await student.look("mix-refused");
    await student.go(`${home}/mix/dilute?wanted=10&total=500&unit=ml`);
    await student.look("mix-dilute");
  });

  let acid = null;
  await story.part("the dropper of the acid is calibrated", async () => {
    await instructor.go(`${home}/containers`);
    acid = await instructor.page.locator("main th a", { hasText: "A1" }).first().getAttribute("href");
    await instructor.go(`${acid}/dropper`);
    await instructor.page.locator("[name=drops]").fill("30");
    await instructor.page.locator("[name=grams]").fill("1.7");
    await reckon(instructor);
    assert.match(await instructor.page.locator("main").innerText(), /30 drops × 1.689 g\/mL ÷ 1.7 g = 29.81 drops per mL/);
    await instructor.look("mix-dropper");
  });

  await story.part("a data sheet is put on file and opened with one tap", async () => {
    await instructor.go(`${acid}/sheet`);
    await instructor.look("mix-sheet-none");
    await instructor.page.locator("[name=file]").setInputFiles({ name: "sheet.pdf", mimeType: "application/pdf", buffer: PDF });
    await instructor.page.locator("[name=supplier]").fill("Harbour Chemicals");
    await instructor.page.locator("[name=revised]").fill("2025-03-03");
    await instructor.page.locator("[name=signal][value=danger]").check();
    await instructor.page.locator("[name=hazards]").fill("May be corrosive to metals\nCauses severe skin burns and eye damage");
    await instructor.page.locator("[name=pictograms][value=corrosion]").check();
    await reckon(instructor);
    await instructor.look("mix-sheet");
    await student.go(`${home}/containers`);
    await student.look("mix-shelf");
    const file = await student.page.locator(`main a[href$="/sheet/file"]`).first().getAttribute("href");
    const answer = await student.page.request.get(new URL(file, student.page.url()).href);
    assert.equal(answer.headers()["content-type"], "application/pdf");
  });

  await story.check("the batch for tonight", async () => {
    await instructor.go(`${home}/mix/tonight`);
    await instructor.look("mix-tonight");
    for (const choice of await instructor.page.locator("main form select").all()) {
      if (!(await choice.inputValue())) await choice.selectOption({ index: 1 });
    }
    await instructor.page.locator("[name=gum_left]").fill("800");
    await instructor.page.locator("[name=acid_left]").fill("120");
    await reckon(instructor);
    assert.match(await instructor.page.locator("main").innerText(), /enough for \d+ more plates/);
    await instructor.look("mix-tonight-reckoned");
  });

  await story.check("labels for a bottle, for waste and for a mix, and how they print", async () => {
    await instructor.go(`${acid}/label?start=3&copies=4`);
    await instructor.look("mix-label");
    const paper = await instructor.page.pdf({ preferCSSPageSize: true });
    const sheets = paper.toString("latin1").match(/\/Type\s*\/Page[^s]/g) ?? [];
    assert.equal(sheets.length, 1, "the labels print on one sheet");
    assert.match(paper.toString("latin1"), /MediaBox\s*\[\s*0 0 61[12](\.\d+)? 79[12](\.\d+)?\s*\]/, "of letter paper");
    await instructor.go(`${acid}/label?kind=waste`);
    await instructor.look("mix-label-waste");
    await student.go(`${home}/mix?drops=5`);
    await student.page.locator(`main a[href*="/mix/label?"]`).click();
    await student.look("mix-label-mix");
  });
}
