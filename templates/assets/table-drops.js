// The drops: one large number, put right and confirmed once, with clean hands and before the clock runs. What was confirmed
// stays with the tab until the etch begins, and is written into its entry.

const part = (name) => document.querySelector(`[data-part="${name}"]`);
const button = (name) => document.querySelector(`[data-drops="${name}"]`);
const key = (pack) => `drops ${pack.person} ${pack.path} ${pack.step}`;
const clock = (moment) => new Date(moment).toLocaleTimeString("en-GB", { hour: "2-digit", minute: "2-digit" });
const HOLDS_MS = 12 * 3_600_000;
/** More than any etch of ours takes: asked about once. From memory, common practice, no published source. */
const MANY = 60;

/** What was confirmed for the etch that comes: { drops, at }, or null. */
export function confirmed(pack, now = Date.now()) {
  try {
    const one = JSON.parse(sessionStorage.getItem(key(pack)));
    return one && now - one.at < HOLDS_MS ? one : null;
  } catch {
    return null;
  }
}

/** The same mix serves another plate of this sitting. */
export const share = (pack, one) => sessionStorage.setItem(key(pack), JSON.stringify(one));
export const forget = (pack) => sessionStorage.removeItem(key(pack));

/** The number as it stands: to be confirmed, or confirmed. */
export function showDrops(pack, say) {
  part("drops-box").hidden = pack.fields.recipe !== "acid_in_gum";
  const one = confirmed(pack);
  const field = part("drops");
  field.value = one ? one.drops : (pack.fields.drops ?? "");
  field.readOnly = Boolean(one);
  button("counted").hidden = Boolean(one);
  button("again").hidden = !one;
  tell(one ? say("drops-at", { at: clock(one.at) }) : say("drops-counted"));
}

/** Confirms the number, or opens it again. Says whether that could be done. */
export function tapDrops(kind, pack, say) {
  const field = part("drops");
  if (kind === "again") {
    forget(pack);
    showDrops(pack, say);
    field.focus();
    return true;
  }
  const drops = field.value.trim();
  if (!/^\d+$/.test(drops) || Number(drops) < 1 || Number(drops) > 1000) {
    field.setAttribute("aria-invalid", "true");
    tell(say("drops-wrong", { drops: drops || "–" }));
    field.focus();
    return false;
  }
  if (Number(drops) > MANY && field.dataset.asked !== drops) {
    field.dataset.asked = drops;
    tell(say("drops-many", { drops }));
    field.focus();
    return false;
  }
  share(pack, { drops, at: Date.now() });
  showDrops(pack, say);
  button("again").focus();
  return true;
}

/** Before the clock runs: a number that was typed is confirmed with it; what cannot be a number keeps the clock still. */
export function settleDrops(pack, say) {
  if (!pack.wants_etch || part("drops-box").hidden || confirmed(pack)) return true;
  const as = (pack.fields.drops ?? "").trim();
  return part("drops").value.trim() === as || tapDrops("counted", pack, say);
}

/** Writes what was confirmed into the entry, and says so, or that nothing was; there it can still be put right. */
export function writeDrops(pack, one, field, say) {
  part("drops-in").hidden = !one && pack.fields.recipe !== "acid_in_gum";
  if (one) field.value = one.drops;
  part("drops-in").textContent = one ? say("drops-in", { drops: one.drops, at: clock(one.at) }) : say("drops-not-counted");
}

function tell(words) {
  part("drops-words").textContent = words;
  if (!button("counted").hidden) return;
  part("drops").removeAttribute("aria-invalid");
}
