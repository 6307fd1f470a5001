// Beside the clocks: pictures of how it should look, instructions that may be folded, asking for somebody of the staff, and
// a new version of the program.

import { hello, note } from "/assets/table-kept.js";
import { keepPhoto, sendPhotos } from "/assets/table-photos.js";

const part = (name) => document.querySelector(`[data-part="${name}"]`);

/** Shows the pictures of a step, and folds its instructions for whoever may work alone. Cautions are never folded. */
export function fillBeside(pack, say) {
  for (const fold of document.querySelectorAll("[data-fold]")) {
    fold.open = !pack.may_fold;
    fold.querySelector("summary").hidden = !pack.may_fold;
  }
  const pictures = pack.pictures ?? [];
  part("pictures-box").hidden = pictures.length === 0;
  part("pictures").replaceChildren(...pictures.map(({ wrong, caption, small }) => {
    const picture = document.createElement("figure");
    const words = document.createElement("figcaption");
    const shows = Object.assign(document.createElement("b"), { textContent: say(wrong ? "picture-wrong" : "picture-right") });
    words.append(shows, caption ? `: ${caption}` : "");
    picture.append(Object.assign(document.createElement("img"), { src: small, alt: caption || shows.textContent }), words);
    return picture;
  }));
  part("asks").hidden = !pack.may_ask;
  part("photo-box").hidden = !pack.photo_path;
}

/** A photo of the proof, taken here: it is kept at once and goes when it can. */
export async function takePhoto(file, pack, say) {
  const now = Date.now() + ((await note("offset")) ?? 0);
  const local = new Intl.DateTimeFormat("sv-SE", { timeZone: pack.zone, dateStyle: "short", timeStyle: "short" }).format(now);
  await keepPhoto({ path: pack.photo_path, person: pack.person, kind: "trial", pulled: local.replace(" ", "T"), note: "", file });
  await tellPhotos(pack, say);
}

/** How many wait, once what can be sent is sent. */
export async function tellPhotos(pack, say) {
  const { mine, problem } = await sendPhotos(pack.person);
  const words = problem ? say("needs-you", { says: problem.says }) : mine > 0 ? say("photos-wait", { count: mine }) : say("photo-stored");
  part("photo-words").textContent = words;
}

/** Asks with one tap; without a signal nobody hears it, and that is said. */
export async function ask(kind, pack, say) {
  const here = await hello();
  const tell = (key) => {
    part("asked").textContent = say(key);
    part("asked").hidden = false;
  };
  if (!here?.person) return tell("ask-none");
  const body = new URLSearchParams({ kind, plate: pack.plate, from: "plate", seal: here.seal, once: crypto.randomUUID() });
  const answer = await fetch(`/classes/${pack.class}/askings`, { method: "POST", body, redirect: "manual" }).catch(() => null);
  if (!answer) return tell("ask-none");
  return tell(answer.ok || answer.type === "opaqueredirect" ? "asked" : "ask-refused");
}

/** A new version waits until nothing runs, and is taken with a tap. */
export function newVersion(idle, say) {
  navigator.serviceWorker?.register("/service-worker.js").then((worker) => {
    const offer = () => {
      if (!worker.waiting || !idle()) return;
      const take = Object.assign(document.createElement("button"), { type: "button", className: "act-quiet", textContent: say("take-it") });
      take.addEventListener("click", () => worker.waiting?.postMessage("take over"));
      part("state").textContent = say("new-version");
      part("state").append(" ", take);
      part("state").hidden = false;
    };
    offer();
    worker.addEventListener("updatefound", () => worker.installing?.addEventListener("statechange", offer));
    navigator.serviceWorker.addEventListener("controllerchange", () => { if (idle()) location.reload(); });
  }).catch(() => {});
}
