// A visitor: one cookie jar, one page, and an ear for everything that goes wrong unseen.

import { look } from "./look.mjs";

export const WIDTHS = { narrow: { width: 360, height: 740 }, wide: { width: 1280, height: 900 } };
const PATIENCE = 15_000;

export class Visitor {
  /** What went wrong since it was last asked: sentences. A story's part fails when one is left at its end. */
  complaints = [];
  #answers = [];

  static async arrive(browser, address, { width, scheme, pictures }) {
    const visitor = new Visitor();
    visitor.address = address;
    visitor.pictures = pictures;
    visitor.context = await browser.newContext({
      baseURL: address, viewport: WIDTHS[width], colorScheme: scheme, reducedMotion: "reduce", locale: "en",
    });
    visitor.context.setDefaultTimeout(PATIENCE);
    await visitor.context.exposeBinding("tellTheVisitor", (_, sentence) => visitor.complaints.push(sentence));
    await visitor.context.addInitScript(() => {
      document.addEventListener("securitypolicyviolation", (event) => {
        const what = event.blockedURI || event.sample;
        globalThis.tellTheVisitor(`the content policy (${event.effectiveDirective}) blocked ${what} on ${event.documentURI}`);
      });
    });
    visitor.context.on("page", (page) => visitor.#listen(page));
    visitor.page = await visitor.context.newPage();
    return visitor;
  }

  #listen(page) {
    page.on("console", (message) => {
      if (message.type() === "error") this.complaints.push(`console on ${page.url()}: ${message.text()}`);
    });
    page.on("pageerror", (error) => this.complaints.push(`script on ${page.url()}: ${error.message}`));
    page.on("crash", () => this.complaints.push(`the page ${page.url()} crashed`));
    page.on("request", (request) => {
      const url = new URL(request.url());
      if (/^https?:$/.test(url.protocol) && url.origin !== this.address) {
        this.complaints.push(`${page.url()} asked another host: ${request.url()}`);
      }
    });
    page.on("requestfailed", (request) => {
      const why = request.failure()?.errorText ?? "no reason given";
      // Leaving a page, or turning a navigation into a download, aborts a request: no fault.
      if (why !== "net::ERR_ABORTED") this.complaints.push(`${request.method()} ${request.url()} failed: ${why}`);
    });
    page.on("response", (response) => {
      this.#answers.push(response.status());
      const request = response.request();
      if (response.status() >= 400) {
        this.complaints.push(`${request.method()} ${response.url()} was answered ${response.status()}`);
      }
      if (page === this.page && request.isNavigationRequest() && request.frame() === page.mainFrame()) {
        this.lastPage = response;
      }
    });
  }

  /** Goes to a path of the program; the answer is checked by the ear, so a 404 is a complaint. */
  async go(path) {
    return this.page.goto(new URL(path, this.address).href, { waitUntil: "load" });
  }

  /** Does `deed`, which has to be answered with `status` at least once, and lets that answer count as no fault. */
  async expecting(status, deed) {
    const [complaintsBefore, answersBefore] = [this.complaints.length, this.#answers.length];
    const result = await deed();
    if (!this.#answers.slice(answersBefore).includes(status)) {
      throw new Error(`an answer ${status} was expected; there came ${this.#answers.slice(answersBefore).join(", ") || "none"}`);
    }
    // The browser's console reports the same answer once more, a moment later.
    await this.page.waitForTimeout(50);
    const told = new RegExp(`(was answered ${status}$)|(status of ${status}\\b)`);
    const since = this.complaints.splice(complaintsBefore);
    this.complaints.push(...since.filter((one) => !told.test(one)));
    return result;
  }

  /** Looks at the page as it stands: see `look.mjs`. Throws with everything found wrong. */
  async look(name, wishes) {
    return look(this, name, wishes);
  }

  /** Hands over what went wrong so far, once. */
  takeComplaints() {
    return this.complaints.splice(0);
  }

  async leave() {
    await this.context.close();
  }
}
