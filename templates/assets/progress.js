// Long work tells how far it is: a file on its way up by its bytes, a file that is put together by the seconds it takes.
// Without this file the browser's own signs have to do; what is sent and what comes back is the same.
const SECOND_MS = 1000;

// The page's part that holds the line may be put anew.
const line = () => document.querySelector("[data-progress]");

function show(words, part) {
  if (!line()) return;
  const [bar, said] = line().children;
  line().hidden = false;
  bar.hidden = false;
  if (part === undefined) bar.removeAttribute("value");
  else bar.value = part;
  if (said.textContent !== words) said.textContent = words;
}

function done(words) {
  show(words, 1);
  line()?.firstElementChild.toggleAttribute("hidden", true);
}

const megabytes = (bytes) => (bytes / 1_000_000).toFixed(1);
const filled = (words, values) => words.replace(/\[(\w+)\]/g, (all, name) => values[name] ?? all);

/** The answer to a form that was sent by this file takes the place of the page, as the browser would have put it. */
function arrive(request, asked) {
  if (request.responseURL && request.responseURL !== asked) {
    location.assign(request.responseURL);
    return;
  }
  const page = new DOMParser().parseFromString(request.responseText, "text/html");
  const main = page.querySelector("main");
  if (!main) {
    location.reload();
    return;
  }
  document.querySelector("main").replaceWith(document.importNode(main, true));
  document.title = page.title;
  const wrong = document.querySelector("main [role=alert], main h1");
  wrong?.setAttribute("tabindex", "-1");
  wrong?.focus();
}

function send(form, button) {
  const body = new FormData(form, button);
  const request = new XMLHttpRequest();
  const asked = new URL(button?.getAttribute("formaction") ?? form.getAttribute("action") ?? "", location.href).href;
  request.open("POST", asked);
  request.setRequestHeader("accept", "text/html");
  request.upload.addEventListener("progress", (event) => {
    if (!event.lengthComputable) return;
    const values = { sent: megabytes(event.loaded), all: megabytes(event.total) };
    show(filled(line().dataset.sending, values), event.loaded / event.total);
  });
  request.upload.addEventListener("load", () => show(line().dataset.reading));
  request.addEventListener("load", () => {
    line()?.toggleAttribute("hidden", true);
    arrive(request, asked);
  });
  // What was chosen is still in the form: it can be sent again.
  request.addEventListener("error", () => {
    done(line().dataset.lost);
    form.inert = false;
    form.dispatchEvent(new Event("not-sent", { bubbles: true }));
  });
  form.inert = true;
  show(filled(line().dataset.sending, { sent: "0.0", all: "?" }), 0);
  request.send(body);
}

// What is through in a moment is left to the browser.
const LONG_BYTES = 1_000_000;

document.addEventListener("submit", (event) => {
  const form = event.target;
  const files = [...form.querySelectorAll("input[type=file]")].flatMap((one) => [...one.files]);
  const bytes = files.reduce((sum, file) => sum + file.size, 0);
  if (event.defaultPrevented || form.enctype !== "multipart/form-data" || bytes < LONG_BYTES) return;
  event.preventDefault();
  send(form, event.submitter);
});

/** The link that asks for a file with the mark in its address. */
let asking = null;

/** Says how long a file has been put together, until its first byte: then the server has set the cookie that was asked for. */
document.addEventListener("click", (event) => {
  const link = event.target.closest?.("a[download]");
  if (!link || link === asking || event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey) return;
  const mark = [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  const address = new URL(link.href);
  address.searchParams.set("told", mark);
  event.preventDefault();
  const began = Date.now();
  asking = link.cloneNode();
  asking.href = address.href;
  asking.hidden = true;
  link.after(asking);
  asking.click();
  asking.remove();
  const timer = setInterval(() => {
    if (document.cookie.includes(`told=${mark}`)) {
      clearInterval(timer);
      done(line().dataset.here);
      return;
    }
    show(filled(line().dataset.making, { seconds: Math.round((Date.now() - began) / SECOND_MS) }));
  }, SECOND_MS / 4);
});
