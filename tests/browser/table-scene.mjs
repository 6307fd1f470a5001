// A student with a phone at the table: plates ready for their first etch, taps, and a network that can go away.

export const SECOND = 1000;
export const MINUTE = 60 * SECOND;

export class AtTable {
  constructor(student) {
    this.student = student;
    this.page = student.page;
    this.home = new URL(student.page.url()).pathname.split("/").slice(0, 3).join("/");
  }

  tap(kind, page = this.page) {
    return page.locator(`[data-tap=${kind}]:visible`).click();
  }

  shown(name, page = this.page) {
    return page.locator(`[data-part=${name}]`).innerText();
  }

  /** Does something of which the record is told at once, and waits until it has been. */
  async telling(deed) {
    const told = this.page.waitForResponse((answer) => answer.request().method() === "POST" && answer.ok());
    await deed();
    await told;
    await this.page.waitForFunction(async () => (await (await import("/assets/table-kept.js")).waiting()).length === 0);
  }

  /** A plate of one's own, prepared and drawn the day before. */
  async drawnPlate(name) {
    const { student, page } = this;
    await student.go(`${this.home}/prints/new`);
    for (const [field, value] of [["title", name], ["width", "20"], ["height", "30"], ["materials", "crayon 3"]]) {
      await page.locator(`[name=${field}]`).fill(value);
    }
    for (const field of ["project", "procedure", "size_unit"]) {
      await page.locator(`[name=${field}]`).selectOption({ index: 1 }).catch(() => {});
    }
    await page.locator("[name=weight]").first().check();
    await page.locator("main form button.act").click();
    const made = new URL(page.url()).pathname;
    for (const [step, began, ended] of [["prepare", "08:00", "08:30"], ["draw", "09:00", "13:00"]]) {
      await student.go(made);
      await page.locator("#tell-head + details summary").click();
      const form = page.locator(`form[action="${made}/tell"]`).last();
      await form.locator("[name=step]").selectOption(step);
      await form.locator("[name=began]").fill(`2026-11-09T${began}`);
      await form.locator("[name=ended]").fill(`2026-11-09T${ended}`);
      await form.locator("button[type=submit]").click();
    }
    return made;
  }

  /** What a browser says of a network that is not there is no fault here. */
  async withoutSignal(deed) {
    const { student } = this;
    const before = student.complaints.length;
    await student.context.setOffline(true);
    try {
      await deed();
    } finally {
      await student.context.setOffline(false);
    }
    const since = student.complaints.splice(before);
    student.complaints.push(...since.filter((one) => !/INTERNET_DISCONNECTED|ERR_FAILED|Failed to fetch/.test(one)));
  }

  /** Opens the table of a plate, ready to begin. */
  async sit(plate, page = this.page) {
    await page.goto(`${this.student.address}${plate}/table`);
    await page.locator("main[data-pack]").waitFor();
    await page.waitForFunction(() => document.querySelector("main").dataset.stage !== "before" || document.querySelector("[data-tap=begin]").checkVisibility());
  }

  /** Seconds of each application, as the page at the table carries them over. */
  async plan(page = this.page) {
    const typed = await page.locator("main").evaluate((main) => JSON.parse(main.dataset.pack).fields);
    const clock = (text) => (text.includes(":") ? Number(text.split(":")[0]) * 60 + Number(text.split(":")[1]) : Number(text) * 60);
    return [1, 2, 3].map((row) => typed[`application_${row}`]).filter(Boolean).map(clock);
  }

  /** Taps that the etch is over, says how the plate was put down, and waits until the record has it or something else shows. */
  async keep({ page = this.page, place = "C2" } = {}) {
    await page.clock.runFor(SECOND);
    await this.tap("over", page);
    await this.write({ page, place });
  }

  async write({ page = this.page, place = "C2" } = {}) {
    await page.locator("[data-stage-of=after]:visible").waitFor();
    await page.locator("[name=left_off]").uncheck();
    await page.locator("form [name=gummed]").check();
    await page.locator("form [name=buffed]").check();
    await page.locator("form [name=rack_place]").fill(place);
    await page.locator("form button[type=submit]").click();
    await page.locator("[data-stage-of=kept]:visible").waitFor();
  }

  /** What the record says of the runs of a step on a plate: one text for each row of the table of what was done. */
  async runs(plate, step) {
    await this.student.go(plate);
    const rows = await this.page.locator("#runs-head ~ table tbody tr").allInnerTexts();
    return rows.filter((row) => row.toLowerCase().startsWith(step));
  }
}

/** The time of the program, by its own clock. */
export async function timeAt(address) {
  return (await (await fetch(`${address}/table/hello`)).json()).now;
}
