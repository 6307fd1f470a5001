// What is heard, felt and seen at the table besides the page, and the screen that stays on while something runs.

const BEEPS = { on: 1, half: 1, ten: 2, end: 3 };

let sound = null;
let lock = null;

/** A tap lets the page make sounds later on. */
export function wakeSound() {
  try {
    sound ??= new AudioContext();
    sound.resume();
  } catch {
    sound = null;
  }
}

/** Gives a signal in every way the phone has. */
export function give(what) {
  const times = BEEPS[what];
  beep(times, what === "half" ? 440 : 880);
  navigator.vibrate?.(Array.from({ length: times }, () => [300, 150]).flat());
  document.documentElement.classList.add("lit");
  setTimeout(() => document.documentElement.classList.remove("lit"), what === "end" ? 3000 : 900);
}

function beep(times, pitch) {
  if (!sound) return;
  for (let one = 0; one < times; one += 1) {
    const tone = sound.createOscillator();
    const level = sound.createGain();
    const from = sound.currentTime + one * 0.4;
    tone.frequency.value = pitch;
    level.gain.setValueAtTime(0.4, from);
    level.gain.exponentialRampToValueAtTime(0.001, from + 0.3);
    tone.connect(level).connect(sound.destination);
    tone.start(from);
    tone.stop(from + 0.3);
  }
}

/** Keeps the screen on; where the phone will not, `refused` says so. */
export async function keepAwake(refused, granted) {
  if (lock || document.visibilityState !== "visible") return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => { lock = null; });
    granted();
  } catch {
    refused();
  }
}

export async function letSleep() {
  await lock?.release().catch(() => {});
  lock = null;
}
