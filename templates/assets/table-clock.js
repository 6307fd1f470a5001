// The clocks at the table: from taps and the time, never from counted ticks, so they survive a lock, a reload and a second
// phone. Nothing here touches the page or a store.

/** Before each application: time to put the gum brush down, in milliseconds. */
export const LEAD_MS = 10_000;

/**
 * What was tapped, in order:
 *   { kind: "begin", at, plan: [seconds, …] }   the lead-in starts, then every application by itself
 *   { kind: "stop", at }                        something is wrong
 *   { kind: "more", at, seconds }               one more application
 *   { kind: "over", at }                        it is done
 */
export function segments(taps) {
  let found = [];
  for (const tap of taps) {
    if (tap.kind === "begin") {
      for (const seconds of tap.plan) found.push(...application(endOf(found, tap.at), seconds));
    } else if (tap.kind === "more") {
      found.push(...application(Math.max(endOf(found, tap.at), tap.at), tap.seconds));
    } else if (tap.kind === "stop" || tap.kind === "over") {
      found = found
        .filter((one) => one.from < tap.at)
        .map((one) => (one.to > tap.at ? { ...one, to: tap.at, cut: true } : one));
    }
  }
  let part = 0;
  return found.map((one) => ({ ...one, part: one.kind === "on" ? ++part : part + 1 }));
}

function application(from, seconds) {
  const on = from + LEAD_MS;
  return [
    { kind: "lead", from, to: on },
    { kind: "on", from: on, to: on + seconds * 1000, length: seconds },
  ];
}

function endOf(found, otherwise) {
  return found.length > 0 ? found[found.length - 1].to : otherwise;
}

/** Where the etch stands at a moment: { phase, part, parts, from, to, left, length }. */
export function at(taps, now) {
  const all = segments(taps);
  const parts = all.filter((one) => one.kind === "on").length;
  const here = all.find((one) => one.from <= now && now < one.to);
  const last = taps[taps.length - 1];
  if (here) {
    return { phase: here.kind, part: here.part, parts, from: here.from, to: here.to, left: here.to - now, length: here.to - here.from };
  }
  const begun = taps.length > 0;
  const phase = !begun ? "before" : last.kind === "stop" ? "stopped" : "over";
  return { phase, part: parts, parts, from: begun ? taps[0].at : now, to: endOf(all, now), left: 0, length: 0 };
}

/** The moments at which something is to be heard, felt and read: half, ten seconds before the end, and the end. */
export function signals(taps) {
  const found = [];
  for (const one of segments(taps)) {
    if (one.kind === "lead") {
      if (!one.cut) found.push({ at: one.to, what: "on", part: one.part });
      continue;
    }
    if (one.cut) continue;
    const length = one.to - one.from;
    found.push({ at: one.from + length / 2, what: "half", part: one.part });
    if (length > 20_000) found.push({ at: one.to - 10_000, what: "ten", part: one.part });
    found.push({ at: one.to, what: "end", part: one.part });
  }
  return found.sort((a, b) => a.at - b.at);
}

/** Signals after `since` and up to `now`. */
export function due(taps, since, now) {
  return signals(taps).filter((one) => since < one.at && one.at <= now);
}

/** Whole seconds each application was on, up to `now`; one that never began is not among them. */
export function measured(taps, now) {
  return segments(taps)
    .filter((one) => one.kind === "on" && one.from < now)
    .map((one) => Math.round((Math.min(one.to, now) - one.from) / 1000))
    .filter((seconds) => seconds > 0);
}

/** The taps without the last one; what has begun on the plate stays begun once its lead-in is over. */
export function takenBack(taps, now) {
  if (taps.length === 0) return taps;
  const last = taps[taps.length - 1];
  if (last.kind === "begin" && now >= last.at + LEAD_MS) return taps;
  return taps.slice(0, -1);
}

/** Seconds as “2:00”. */
export function clockText(seconds) {
  const whole = Math.max(0, Math.ceil(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

/** Minutes as people type them, in seconds: “2”, “1.5”, “1:30”; null when it is none of these. */
export function secondsOf(typed) {
  const text = typed.trim().replace(",", ".");
  const clock = /^(\d{1,3}):([0-5]\d)$/.exec(text);
  if (clock) return Number(clock[1]) * 60 + Number(clock[2]);
  if (!/^\d{0,3}(\.\d{1,2})?$/.test(text) || text === "") return null;
  return Math.round(Number(text) * 60);
}
