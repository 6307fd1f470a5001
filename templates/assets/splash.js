// Fifteen minutes by timestamps, and the studio this phone knows.

import { packs } from "/assets/table-kept.js";

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

// The page that the record sent names its studio already.
if (!document.querySelector("main").dataset.room) {
  const room = (await packs().catch(() => [])).at(-1)?.room;
  if (room) {
    part("eyewash").textContent = room.eyewash;
    part("numbers").textContent = room.emergency_numbers;
    part("address").firstElementChild.textContent = room.room_address;
  }
}
