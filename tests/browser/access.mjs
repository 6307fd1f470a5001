// What WCAG 2.2 asks that a look by axe does not measure: targets, focus, reflow, spacing of text, zoom, motion. Each
// function answers with sentences about what is wrong; none means nothing was found.

const LEAST = 24; // WCAG 2.2, 2.5.8
const PHONE = { width: 360, height: 740 };
const WIDE = { width: 1280, height: 900 };
const CONTROLS = "a[href], button, input:not([type=hidden]), select, textarea, summary";

// WCAG 2.1, 1.4.12: a person's own style sheet may set these four.
const SPACED = "* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-block-end: 2em !important }";

/** 2.5.8: every target is 24 px each way, or far enough from the next; links within a sentence are excepted. */
export async function targets(page) {
  const wrong = [];
  for (const viewport of [PHONE, WIDE]) {
    await page.setViewportSize(viewport);
    const found = await page.evaluate(smallTargets, [CONTROLS, LEAST]);
    wrong.push(...found.map((one) => `2.5.8: ${one} at ${viewport.width} px`));
  }
  return wrong;
}

/** 1.4.10, 1.4.4: at 320 px, and at 1280 px magnified twice and four times, nothing asks for sideways scrolling. */
export async function reflow(page) {
  const wrong = [];
  for (const [what, viewport] of [
    ["1.4.10: at 320 px", { width: 320, height: 640 }],
    ["1.4.4: at 200 % of 1280 px", { width: 640, height: 450 }],
    ["1.4.10: at 400 % of 1280 px", { width: 320, height: 256 }],
  ]) {
    await page.setViewportSize(viewport);
    const found = [...(await page.evaluate(sticksOut)), ...(await page.evaluate(clipped))];
    wrong.push(...found.map((one) => `${what} ${one}`));
  }
  return wrong;
}

/** 1.4.12: with the spacing of text that somebody may need, nothing is cut off and nothing sticks out. */
export async function spacing(page) {
  const wrong = [];
  const spaced = (css) => page.evaluate((text) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(text);
    document.adoptedStyleSheets = [sheet];
  }, css);
  await spaced(SPACED);
  for (const viewport of [PHONE, WIDE]) {
    await page.setViewportSize(viewport);
    const found = [...(await page.evaluate(sticksOut)), ...(await page.evaluate(clipped))];
    wrong.push(...found.map((one) => `1.4.12: with wider text, at ${viewport.width} px, ${one}`));
  }
  await spaced("");
  return wrong;
}

/**
 * 2.1.1, 2.4.7, 2.4.11: the Tab key reaches every control, in a circle; each shows a ring, and none is wholly hidden
 * behind something that stays in its place.
 */
export async function keyboard(page, viewport = PHONE) {
  await page.setViewportSize(viewport);
  const wanted = await page.evaluate(markControls, CONTROLS);
  await page.evaluate(() => {
    document.activeElement?.blur();
    scrollTo(0, 0);
  });
  const [reached, wrong] = [new Set(), new Set()];
  const most = wanted.length * 6 + 20; // a field for a date has several stops
  for (let tab = 0; tab < most; tab += 1) {
    await page.keyboard.press("Tab");
    const here = await page.evaluate(focused);
    if (here.end && reached.size > 0) break;
    if (here.end) continue;
    reached.add(here.mark);
    for (const one of here.wrong) wrong.add(one);
  }
  for (const { mark, name } of wanted) if (!reached.has(mark)) wrong.add(`2.1.1: the Tab key never reaches ${name}`);
  return [...wrong];
}

/** 2.3.3 in our own words: who asks for less motion gets none. */
export async function stillness(page) {
  await page.emulateMedia({ reducedMotion: "reduce" });
  return page.evaluate(() => {
    const moves = (one) => ["transitionDuration", "animationDuration"].some((name) => getComputedStyle(one)[name].split(",").some((time) => parseFloat(time) > 0));
    const moving = [...document.querySelectorAll("body *")].filter(moves).map((one) => one.localName);
    const smooth = getComputedStyle(document.documentElement).scrollBehavior === "smooth" ? ["html scrolls smoothly"] : [];
    return [...new Set(moving.map((name) => `${name} moves`)), ...smooth].map((one) => `reduced motion: ${one}`);
  });
}

// The functions below run in the page.

export function sticksOut() {
  const sheet = document.documentElement;
  if (Math.max(sheet.scrollWidth, document.body.scrollWidth) <= sheet.clientWidth) return [];
  const out = [...document.body.querySelectorAll("*")].filter((one) => one.getBoundingClientRect().right > sheet.clientWidth + 0.5);
  const names = out.slice(0, 4).map((one) => `${one.localName}.${[...one.classList].join(".")}`);
  return [`the page is ${sheet.scrollWidth} px on ${sheet.clientWidth}: ${names.join(", ")}`];
}

function clipped() {
  const wrong = [];
  for (const one of document.body.querySelectorAll("*")) {
    if (one.closest(".for-ear, svg, noscript, thead") || !one.checkVisibility({ visibilityProperty: true })) continue;
    const own = [...one.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.data.trim() !== "");
    if (!own) continue;
    for (let box = one; box && box !== document.body; box = box.parentElement) {
      const { overflowX, overflowY } = getComputedStyle(box);
      const across = overflowX !== "visible" && box.scrollWidth > box.clientWidth + 1 && box.clientWidth > 0;
      const down = overflowY === "hidden" && box.scrollHeight > box.clientHeight + 1 && box.clientHeight > 0;
      if (!across && !down) continue;
      wrong.push(`“${one.textContent.trim().slice(0, 30)}” is cut off by ${box.localName}.${[...box.classList].join(".")}`);
      break;
    }
  }
  return [...new Set(wrong)].slice(0, 5);
}

function smallTargets([controls, least]) {
  const boxOf = (control) => {
    const hit = control.matches("input[type=checkbox], input[type=radio]") ? (control.closest("label") ?? control.labels?.[0] ?? control) : control;
    return hit.getBoundingClientRect();
  };
  const seen = [...document.querySelectorAll(controls)].filter((one) => {
    if (one.closest(".for-ear, .skip-link") || !one.checkVisibility({ visibilityProperty: true })) return false;
    const { width, height } = boxOf(one);
    return width > 0 && height > 0;
  });
  const boxes = seen.map(boxOf);
  const small = [];
  for (const [place, control] of seen.entries()) {
    const box = boxes[place];
    if (box.width >= least - 0.5 && box.height >= least - 0.5) continue;
    const around = control.localName === "a" ? control.closest("p, li, dd, td, figcaption, caption, label, legend") : null;
    const links = around ? [...around.querySelectorAll("a")].map((link) => link.textContent).join("") : "";
    if (around && around.textContent.replace(/\s/g, "").length > links.replace(/\s/g, "").length) continue;
    // The exception of spacing: a circle of 24 px over its middle touches no other target.
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const near = boxes.some((other, at) => at !== place
      && Math.hypot(x - Math.min(Math.max(x, other.left), other.right), y - Math.min(Math.max(y, other.top), other.bottom)) < least / 2);
    if (near) small.push(`“${(control.textContent.trim() || control.name || control.localName).slice(0, 40)}” is ${Math.round(box.width)} × ${Math.round(box.height)} px with another target beside it`);
  }
  return small;
}

function markControls(controls) {
  const found = [];
  const groups = new Set();
  for (const one of document.querySelectorAll(`${controls}, [tabindex="0"]`)) {
    if (one.closest(".for-ear") || one.disabled || !one.checkVisibility({ visibilityProperty: true }) || one.tabIndex < 0) continue;
    // Of radio buttons that belong together the Tab key reaches one.
    const group = one.type === "radio" ? `${one.form?.action} ${one.name}` : null;
    if (group && (groups.has(group) || (!one.checked && document.querySelector(`input[type=radio][name="${CSS.escape(one.name)}"]:checked`)))) continue;
    if (group) groups.add(group);
    one.dataset.stop = String(found.length);
    found.push({ mark: one.dataset.stop, name: `“${(one.textContent.trim() || one.name || one.localName).slice(0, 40)}” (${one.localName})` });
  }
  return found;
}

function focused() {
  const one = document.activeElement;
  if (!one || one === document.body || one === document.documentElement) return { end: true };
  const name = `“${(one.textContent.trim() || one.name || one.localName).slice(0, 40)}” (${one.localName})`;
  const wrong = [];
  const { outlineStyle, outlineWidth } = getComputedStyle(one);
  // The button within a date field takes the focus from the field, and has a ring by the browser.
  const within = !one.matches(":focus");
  if (!within && (outlineStyle === "none" || parseFloat(outlineWidth) < 2)) wrong.push(`2.4.7: ${name} shows no ring when it has the focus`);
  const box = one.getBoundingClientRect();
  const inside = [[0.5, 0.5], [0.1, 0.2], [0.9, 0.2], [0.1, 0.8], [0.9, 0.8]].map(([x, y]) => [box.x + box.width * x, box.y + box.height * y]);
  const shown = inside.some(([x, y]) => {
    const top = document.elementFromPoint(x, y);
    return top && (top === one || one.contains(top) || top.contains(one) && !getComputedStyle(top).position.match(/sticky|fixed/));
  });
  if (!shown) wrong.push(`2.4.11: ${name} has the focus and cannot be seen`);
  return { end: false, mark: one.dataset.stop, wrong };
}
