// A look at a page: pictures at both widths in both schemes, and everything a machine can judge about it.

import { mkdirSync } from "node:fs";
import path from "node:path";
import axe from "axe-core";
import { HtmlValidate, StaticConfigLoader } from "html-validate";
import { WIDTHS } from "./visitor.mjs";

// WCAG 2.0, 2.1 and 2.2, levels A and AA. Target size (2.5.8) is off in axe unless asked for by name.
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
// A scheme changes colours and nothing else, so the second look at a width asks for what depends on them alone.
const OF_COLOUR = ["color-contrast", "link-in-text-block"];
const AXE = { runOnly: { type: "tag", values: TAGS }, rules: { "target-size": { enabled: true } }, resultTypes: ["violations"] };

// Our own rule for controls on a phone, in CSS pixels: alone, and as a link within a sentence (WCAG 2.5.8).
const LEAST = 48;
const LEAST_IN_A_SENTENCE = 24;

// Ticks that belong together share a name, as radio buttons do.
const SHARED = { shared: ["radio", "checkbox", "submit", "button", "reset"] };
const html = new HtmlValidate(new StaticConfigLoader({
  root: true, extends: ["html-validate:recommended"], // A space at a line's end is nothing to whoever reads the page.
  rules: { "no-inline-style": "error", "no-trailing-whitespace": "off", "form-dup-name": ["error", SHARED] },
}));

/**
 * Looks at the visitor's page. `wishes`: `widths` and `schemes` to look in (all), `least` height of a control at the
 * narrow width in pixels (48; 64 at the table), `source` false for a page whose HTML a script has made.
 * Throws one error that lists everything wrong.
 */
export async function look(visitor, name, { widths = Object.keys(WIDTHS), schemes = ["light", "dark"], least = LEAST, source = true } = {}) {
  const { page } = visitor;
  const [viewport, wrong] = [page.viewportSize(), new Set()];
  mkdirSync(visitor.pictures, { recursive: true });
  for (const width of widths) {
    for (const scheme of schemes) {
      const where = `${width}, ${scheme}`;
      await page.setViewportSize(WIDTHS[width]);
      await page.emulateMedia({ colorScheme: scheme });
      await page.evaluate(() => document.fonts.ready.then(() => null));
      await page.screenshot({ path: path.join(visitor.pictures, `${name}-${WIDTHS[width].width}-${scheme}.png`), fullPage: true });
      const asked = scheme === schemes[0] ? AXE : { ...AXE, runOnly: OF_COLOUR, rules: {} };
      for (const one of await accessibility(page, asked)) wrong.add(`${one} (${where})`);
      for (const one of await page.evaluate(sticksOut)) wrong.add(`${one} (${width})`);
      if (width === "narrow") for (const one of await page.evaluate(tooSmall, [least, LEAST_IN_A_SENTENCE])) wrong.add(one);
    }
  }
  await page.emulateMedia({ colorScheme: null });
  await page.setViewportSize(viewport);
  if (source) for (const one of await validity(visitor)) wrong.add(one);
  if (wrong.size > 0) throw new Error([`${name}, ${page.url()}:`, ...wrong].join("\n  "));
}

async function accessibility(page, asked) {
  // By evaluation, not as a script element: the page's own content policy stays as strict as it is.
  if (!(await page.evaluate(() => Boolean(globalThis.axe)))) await page.evaluate(axe.source);
  const { violations } = await page.evaluate((wishes) => globalThis.axe.run(document, wishes), asked);
  return violations.map((one) => {
    const places = one.nodes.slice(0, 3).map((node) => `${node.target.join(" ")} ${firstLine(node.failureSummary)}`);
    return `${one.id}, ${one.help}, ${one.nodes.length} times: ${places.join("; ")}`;
  });
}

const firstLine = (text) => (text ?? "").split("\n").slice(1, 2).join("").trim();

async function validity(visitor) {
  if (!visitor.lastPage) return ["no page has been answered yet"];
  const report = await html.validateString(await visitor.lastPage.text());
  return report.results.flatMap((result) => result.messages)
    .map((one) => `html ${one.ruleId}, line ${one.line}: ${one.message}`);
}

// The two below run in the page.

function sticksOut() {
  const sheet = document.documentElement;
  if (Math.max(sheet.scrollWidth, document.body.scrollWidth) <= sheet.clientWidth) return [];
  const out = [...document.body.querySelectorAll("*")].filter((one) => one.getBoundingClientRect().right > sheet.clientWidth + 0.5);
  const names = out.slice(0, 4).map((one) => `${one.localName}.${[...one.classList].join(".")}`);
  return [`wider than the sheet, ${sheet.scrollWidth} on ${sheet.clientWidth}: ${names.join(", ")}`];
}

function tooSmall([least, leastInASentence]) {
  const small = [];
  for (const control of document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")) {
    if (!control.checkVisibility({ visibilityProperty: true }) || control.closest(".for-ear, .skip-link")) continue;
    // A tick or a file field is hit through its label.
    const hit = control.matches("input[type=checkbox], input[type=radio]") ? (control.closest("label") ?? control.labels?.[0] ?? control) : control;
    const { width, height } = hit.getBoundingClientRect();
    if (width === 0 || height === 0) continue;
    const around = control.localName === "a" ? control.closest("p, li, dd, td, figcaption, caption, label, legend") : null;
    const links = around ? [...around.querySelectorAll("a")].map((link) => link.textContent).join("") : "";
    const inASentence = around && around.textContent.replace(/\s/g, "").length > links.replace(/\s/g, "").length;
    if (height < (inASentence ? leastInASentence : least) - 0.5) {
      small.push(`“${(control.textContent.trim() || control.name || control.localName).slice(0, 40)}” is ${Math.round(height)} px high`);
    }
  }
  return small;
}
