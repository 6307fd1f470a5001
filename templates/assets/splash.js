// Fifteen minutes by timestamps, and the studio this phone knows.

import { help } from "/assets/table-kept.js";

const LENGTH_MS = 15 * 60_000;
const part = (name) => document.querySelector(`[data-part="${name}"]`);
const say = (name) => document.querySelector(`[data-say="${name}"]`).textContent;
const clock = (at) => new Date(at).toLocaleTimeString("en-GB");

// A reload goes on counting; an hour later it is another splash.
let began = history.state?.splash;
if (!began || Date.now() - began > 3_600_000) began = Date.now();
history.replaceState({ splash: began }, "");
part("from").textContent = say("since").replace("{at}", clock(began));
part("to").textContent = say("until").replace("{at}", clock(began + LENGTH_MS));

function tick() {
  const left = Math.max(0, Math.ceil((began + LENGTH_MS - Date.now()) / 1000));
  part("clock").textContent = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
  if (left > 0) return;
  clearInterval(timer);
  part("alert").hidden = false;
  part("alert").textContent = say("over");
  navigator.vibrate?.([400, 200, 400]);
}
const timer = setInterval(tick, 250);
tick();

/** Words, and numbers that can be tapped. */
function calls(pieces) {
  return pieces.map(({ words, call }) => (call ? Object.assign(document.createElement("a"), { href: call, textContent: words }) : words));
}

function short({ product, supplier, revised, signal, hazards }) {
  const line = document.createElement("li");
  const text = document.createElement("span");
  line.append(text);
  const strong = (textContent) => Object.assign(document.createElement("b"), { textContent });
  text.append(strong(product), `, ${supplier}, ${revised}`, ...(signal ? [": ", strong(signal)] : []), hazards.map((one) => `; ${one}`).join(""));
  return line;
}

// The page that the record sent names its room already; this one is the room of the class at hand.
if (!document.querySelector("main").dataset.room) {
  const here = await help(location.pathname).catch(() => null);
  if (here) {
    part("eyewash").textContent = here.eyewash;
    part("numbers").replaceChildren(...calls(here.calls));
    part("address").firstElementChild.textContent = here.address;
    part("sheets-box").hidden = here.sheets.length === 0;
    part("sheets").replaceChildren(...here.sheets.map(short));
  }
}
