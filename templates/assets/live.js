// A part of a page that stays as the record has it: it is told one number, and when that goes up it fetches the page
// anew and puts the part in its place. What is typed, what is open and what has the focus stays. Without this file the
// page is as fresh as it was loaded.
const NEWS_POLL_MS = 30_000;
const MINUTE_MS = 60_000;
const byItself = { headers: { accept: "text/html", "tympan-by-itself": "yes" }, redirect: "manual", cache: "no-store" };

const part = () => document.querySelector("[data-news]");
const said = document.querySelector("[data-said]");
let number = Number(part()?.dataset.number ?? 0);
let source = null;
let polling = null;
let due = null;
let leaving = false;
let loaded = performance.now();

/** What a control is called across two loads of the page. */
const called = (control) => control.id || [control.form?.getAttribute("action"), control.name, control.getAttribute("href"),
  control.type === "submit" ? control.value : ""].join(" ");
const controls = (root) => [...root.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")];

/** Values somebody typed since the page was written, by the name of their control. */
function typed(root) {
  const changed = controls(root).filter((one) => ("value" in one && one.defaultValue !== undefined && one.value !== one.defaultValue)
    || (one.tagName === "SELECT" && [...one.options].some((option) => option.selected !== option.defaultSelected)));
  return new Map(changed.map((one) => [called(one), one.value]));
}

function put(fresh) {
  const old = part();
  const values = typed(old);
  const focused = old.contains(document.activeElement) ? document.activeElement : null;
  const [name, start, end] = [focused && called(focused), focused?.selectionStart, focused?.selectionEnd];
  const open = [...old.querySelectorAll("details[open] > summary")].map((one) => one.textContent);
  const before = old.dataset.says;
  const made = document.importNode(fresh, true);
  old.replaceWith(made);
  loaded = performance.now();
  for (const one of controls(made)) {
    if (values.has(called(one))) one.value = values.get(called(one));
    if (one.tagName === "SUMMARY" && open.includes(one.textContent)) one.parentElement.open = true;
  }
  const again = name && controls(made).find((one) => called(one) === name);
  if (again) {
    again.focus({ preventScroll: true });
    if (start !== undefined && start !== null && again.setSelectionRange) again.setSelectionRange(start, end);
  }
  if (said && made.dataset.says !== before) said.textContent = made.dataset.says;
}

async function refresh() {
  due = null;
  if (leaving) return;
  const wanted = number;
  const address = part().dataset.from ?? location.pathname + location.search.replace(/([?&])done=[^&]*&?/, "$1");
  const answer = await fetch(address, byItself).catch(() => null);
  if (!answer?.ok || leaving) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector("[data-news]");
  if (!fresh || leaving) return;
  put(fresh);
  number = Math.max(wanted, number, Number(fresh.dataset.number));
}

/** Not all pages of a class at the same moment, and one fetch for several numbers. */
function heard(stands) {
  if (!(stands > number)) return;
  number = stands;
  due ??= setTimeout(refresh, 150 + Math.random() * 600);
}

async function poll() {
  const answer = await fetch(part().dataset.news, { ...byItself, headers: { accept: "application/json", "tympan-by-itself": "yes" } }).catch(() => null);
  if (answer?.ok) heard((await answer.json()).number);
  // Signed out, or the class is not there any more: the next tap says so.
  else if (answer) rest();
}

function listen() {
  rest();
  source = new EventSource(part().dataset.news);
  source.onmessage = (event) => heard(Number(event.data));
  const askInstead = () => {
    source?.close();
    source = null;
    polling ??= setInterval(poll, NEWS_POLL_MS);
  };
  source.addEventListener("enough", askInstead);
  source.onerror = () => {
    if (source?.readyState === EventSource.CLOSED) {
      askInstead();
      poll();
    }
  };
}

function rest() {
  source?.close();
  source = null;
  clearInterval(polling);
  polling = null;
}

/** Minutes go on while nothing else happens. */
function countOn() {
  const since = Math.floor((performance.now() - loaded) / MINUTE_MS);
  for (const one of document.querySelectorAll("[data-waited]")) {
    one.textContent = one.dataset.words.replace("{minutes}", String(Number(one.dataset.waited) + since));
  }
}

if (part()) {
  listen();
  setInterval(countOn, 10_000);
  // A page nobody sees needs no news; it learns what it missed when it is looked at again.
  document.addEventListener("visibilitychange", () => (document.hidden ? rest() : listen()));
  document.addEventListener("submit", () => { leaving = true; });
  addEventListener("pageshow", () => { leaving = false; });
  addEventListener("pagehide", rest);
}
