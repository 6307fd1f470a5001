import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { WIDTHS } from "../visitor.mjs";

export const title = "Beside the main way: a refused start, allow once, a burned plate, a list as a file, a slip, a class again";

const NAMES = { narrow: ["Ondine", "Quill", "7701"], wide: ["Perrin", "Marlowe", "7702"] };
const TERMS = { narrow: ["Late autumn", 60], wide: ["Early spring", 260] };

/** What a hand does: taps and keys, counted while it fills a form. */
class Hand {
  taps = 0;
  keys = 0;
  async type(field, text) {
    this.taps += 1;
    this.keys += text.length;
    await field.fill(text);
  }
  async tap(place) {
    this.taps += 1;
    await place.click();
  }
  /** A choice: one tap opens it, one chooses. */
  async choose(field, index) {
    this.taps += 2;
    await field.selectOption({ index });
  }
  said = () => `${this.taps} taps and ${this.keys} keys`;
}

export default async function more(story) {
  const demo = await story.ownDemo();
  const student = await story.visitor(demo, "student");
  const instructor = await story.visitor(demo, "instructor");
  const keeper = await story.visitor(demo, "keeper");
  const home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");
  const { password } = demo.signIn("keeper");
  const here = (visitor) => new URL(visitor.page.url()).pathname;

  async function send(visitor, button) {
    await visitor.page.locator(button).first().click();
    await visitor.page.waitForLoadState("load");
  }

  /** Goes to a page that may ask for the password once more first. */
  async function goWeighty(visitor, path) {
    await visitor.go(path);
    if (here(visitor) !== "/account/confirm") return;
    await visitor.page.locator('input[autocomplete~="current-password"]').fill(password);
    await send(visitor, "main form button.act");
  }

  async function beginPrint(title) {
    await student.go(`${home}/prints/new`);
    for (const [name, value] of [["title", title], ["width", "20"], ["height", "30"], ["materials", "crayon 3"]]) {
      await student.page.locator(`main [name=${name}]`).fill(value);
    }
    for (const name of ["project", "procedure"]) await student.page.locator(`main [name=${name}]`).selectOption({ index: 1 });
    await student.page.locator("[name=weight]").first().check();
    await send(student, "main form button.act");
    return here(student);
  }

  const startOf = (step) => `form[action$="/start"]:has([value="${step}"]) button`;

  await story.part("the pages around: hall, confirm, forgotten, letters, people, a name", async () => {
    await keeper.go("/");
    await keeper.look("hall");
    await keeper.go("/account/confirm");
    await keeper.look("confirm");
    await keeper.go("/school/people");
    await keeper.look("people-of-the-school");
    await goWeighty(keeper, "/account/email");
    await keeper.look("change-of-address");
    await keeper.go("/school/about");
    await keeper.look("school-about");
    await instructor.go(`${home}/letters`);
    await instructor.look("letters");
    await instructor.go(`${home}/topics`);
    await instructor.look("checklists");
    await instructor.go(`${home}/topics/new`);
    await instructor.look("checklist-new");
    const stranger = await story.visitor(demo);
    await stranger.go("/forgotten");
    await stranger.look("forgotten");
  });

  await story.part("what the hand does for a log: typed, and carried over from the last", async () => {
    const plate = await beginPrint("Counted by hand");
    const first = new Hand();
    const again = new Hand();
    const log = () => student.page.locator('main form[action$="/etches/new"]');
    for (const step of ["prepare", "draw"]) {
      await student.go(plate);
      await send(student, startOf(step));
      await send(student, 'form[action$="/end"] button');
    }
    await student.go(plate);
    await send(student, startOf("first-etch"));
    await student.go(`${plate}/etches/new`);
    await first.choose(log().locator("[name=gum]"), 1);
    await first.type(log().locator("[name=gum_volume]"), "1");
    await first.choose(log().locator("[name=acid]"), 1);
    await first.type(log().locator("[name=drops]"), "4");
    for (const row of [1, 2]) await first.type(log().locator(`[name=application_${row}]`), "2");
    for (const tick of ["gummed", "buffed"]) await first.tap(log().locator(`[name=${tick}]`));
    await first.type(log().locator("[name=rack_place]"), "B2");
    await first.tap(log().locator("button.act"));
    await student.page.waitForLoadState("load");
    assert.equal(here(student), plate);
    await send(student, startOf("roll-up"));
    await send(student, 'form[action$="/end"] button');
    await student.go(plate);
    await send(student, 'form[action$="/came-up"] button[value="as-drawn"]');
    await student.go(plate);
    await send(student, startOf("second-etch"));
    await student.go(`${plate}/etches/new`);
    assert.equal(await log().locator("[name=drops]").inputValue(), "4", "the last log is carried over");
    for (const tick of ["gummed", "buffed"]) if (!(await log().locator(`[name=${tick}]`).isChecked())) await again.tap(log().locator(`[name=${tick}]`));
    if ((await log().locator("[name=rack_place]").inputValue()) === "") await again.type(log().locator("[name=rack_place]"), "B2");
    await again.tap(log().locator("button.act"));
    await student.page.waitForLoadState("load");
    assert.equal(here(student), plate, "stored");
    console.log(`      an etch log: ${first.said()} when all is typed, ${again.said()} with the last one carried over`);
    // Twenty seconds at the table: a tap takes one to two, a key about half of one (our own reckoning).
    assert.ok(again.taps * 2 + again.keys * 0.5 <= 20, again.said());
  });

  await story.part("the sign-off on acid is withdrawn, with a reason", async () => {
    const name = await student.page.locator("header").innerText();
    await instructor.go(`${home}/sign-offs/record`);
    const own = instructor.page.locator("main section", { has: instructor.page.locator("h2") });
    const titles = await own.locator("h2").allInnerTexts();
    const place = titles.findIndex((title) => name.includes(title));
    assert.ok(place >= 0, `${name} among ${titles}`);
    for (;;) {
      const line = own.nth(place).locator("li", { hasText: /acid/i }).filter({ has: instructor.page.locator('form[action$="/withdraw"]') }).first();
      if ((await line.count()) === 0) break;
      await line.locator("details", { has: instructor.page.locator("form") }).last().locator("summary").click();
      await line.locator("[name=reason]").fill("Goggles were off.");
      await line.locator('form[action$="/withdraw"] button').click();
      await instructor.page.waitForLoadState("load");
    }
    await instructor.look("record-with-a-withdrawal");
  });

  for (const width of ["narrow", "wide"]) {
    const [given, family, number] = NAMES[width];

    await story.part(`a start is refused with who gives what is missing, and allowed once (${width})`, async () => {
      for (const visitor of [student, instructor, keeper]) await visitor.page.setViewportSize(WIDTHS[width]);
      const plate = await beginPrint(`Held back, ${width}`);
      await student.expecting(409, () => send(student, startOf("prepare")));
      const text = await student.page.locator("main").innerText();
      assert.match(text, /acid/i);
      assert.ok((await student.page.locator("main table tbody tr").count()) > 0, "who can give it");
      if (width === "narrow") await student.look("refused-start");
      await instructor.go(plate);
      await instructor.expecting(409, () => send(instructor, startOf("prepare")));
      if (width === "narrow") await instructor.look("refused-start-of-an-instructor");
      await instructor.page.locator('form[action$="/allow"] [name=why]').first().check();
      await send(instructor, 'form[action$="/allow"] button');
      await student.go(plate);
      await send(student, startOf("prepare"));
      assert.equal(here(student), plate);
      await send(student, 'form[action$="/end"] button');
    });

    await story.part(`a burned plate is replaced (${width})`, async () => {
      const old = here(student);
      await student.go(old);
      await student.page.locator('main a[href*="replaces="]').evaluate((one) => one.closest("details")?.setAttribute("open", ""));
      await student.page.locator('main a[href*="replaces="]').click();
      await student.page.waitForLoadState("load");
      if (width === "narrow") await student.look("plate-in-the-place-of-another");
      assert.equal(await student.page.locator("[name=materials]").inputValue(), "crayon 3", "what it was stands there");
      await student.page.locator("[name=procedure]").selectOption({ index: 1 });
      await send(student, "main form button.act");
      assert.notEqual(here(student), old);
      assert.match(here(student), /\/plates\/[0-9a-f-]{36}$/);
    });

    await story.part(`the class list comes as a file, and a newcomer gets a slip (${width})`, async () => {
      await instructor.go(`${home}/people/list`);
      const list = `Given name,Family name,Student number,Listing\r\n${given},${family},${number},LIT 220-01\r\n`;
      await instructor.page.locator('main input[type="file"]').setInputFiles({ name: "list.csv", mimeType: "text/csv", buffer: Buffer.from(list) });
      await instructor.page.locator('main form:has(input[type="file"]) button.act').first().click();
      await instructor.page.waitForLoadState("load");
      assert.match(await instructor.page.locator("main").innerText(), new RegExp(family));
      const invite = instructor.page.locator('[name="invite"]');
      if (await invite.count()) await invite.check();
      await instructor.page.locator('form[action$="/confirm"] button.act').click();
      await instructor.page.waitForLoadState("load");
      await instructor.go(`${home}/people`);
      await instructor.page.locator("main a", { hasText: family }).first().click();
      await instructor.page.waitForLoadState("load");
      if (width === "narrow") await instructor.look("person");
      const slip = instructor.page.locator('main a[href$="/slip"]');
      if ((await slip.count()) === 0) await send(instructor, 'form[action$="/invite"] button');
      await instructor.page.locator('main a[href$="/slip"]').click();
      await instructor.page.waitForLoadState("load");
      assert.match(await instructor.page.locator("main").innerText(), /\/links\/[\w-]+/);
      if (width === "narrow") await instructor.look("slip");
    });

    await story.part(`tables of prints and plates are taken (${width})`, async () => {
      await goWeighty(instructor, `${home}/records`);
      for (const [table, word] of [["prints", `Held back, ${width}`], ["plates", "crayon 3"]]) {
        const [file] = await Promise.all([
          instructor.page.waitForEvent("download"), instructor.page.locator(`main a[href$="/records/${table}.csv"]`).first().click(),
        ]);
        const text = readFileSync(await file.path(), "utf8");
        assert.ok(text.includes(word), `${word} is not in ${table}: ${text.slice(0, 400)}`);
      }
    });

    await story.part(`a class is started again for a new term (${width})`, async () => {
      const [term, ahead] = TERMS[width];
      const day = (more) => new Date(Date.parse("2026-11-10T12:00:00Z") + (ahead + more) * 86_400_000).toISOString().slice(0, 10);
      await keeper.go("/school/terms");
      for (const [name, value] of [["name", term], ["starts", day(0)], ["ends", day(180)], ["zone", "America/New_York"]]) {
        await keeper.page.locator(`main [name=${name}]`).fill(value);
      }
      await send(keeper, "main form button.act");
      await keeper.go("/school");
      await keeper.page.locator('main a[href$="/again"]').first().click();
      await keeper.page.waitForLoadState("load");
      for (const [name, words] of [["term", term], ["studio", null]]) {
        const field = keeper.page.locator(`main [name=${name}]`);
        const options = await field.locator("option").evaluateAll((all) => all.map((one) => [one.value, one.textContent]));
        const found = options.find(([value, text]) => value && (words === null || text.includes(words)));
        await field.selectOption(found[0]);
      }
      await send(keeper, "main form button.act");
      if (width === "narrow") await keeper.look("class-again");
      await keeper.page.locator("main [name=code]").fill(`AG-${width}`);
      const teacher = keeper.page.locator("main select[name=instructor]");
      if ((await teacher.inputValue()) === "") await teacher.selectOption({ index: 1 });
      await send(keeper, "main form button.act");
      const text = await keeper.page.locator("main").innerText();
      assert.match(here(keeper), /\/school\/classes\/[0-9a-f-]{36}|\/school$/, text.slice(0, 600));
      await keeper.go("/school");
      assert.match(await keeper.page.locator("main").innerText(), new RegExp(`AG-${width}`));
    });
  }
}
