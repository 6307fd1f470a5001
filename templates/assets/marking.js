// Marking by keyboard. While a level of a criterion has the focus, a digit chooses that level and goes on to the next
// criterion; Control and Enter keep the mark and go on to the next print. Without this file it is a plain form, whose
// arrow keys and tabs the browser sees to.
const form = document.querySelector("form[data-marking]");
const levels = (criterion) => [...criterion.querySelectorAll("input[type=radio]")];
const focusOn = (criterion) => {
  const all = levels(criterion);
  (all.find((level) => level.checked) ?? all[0])?.focus();
};

form?.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && event.ctrlKey) {
    event.preventDefault();
    form.requestSubmit(form.querySelector("button[name=go]"));
    return;
  }
  const criterion = event.target.closest("[data-criterion]");
  const plain = !(event.ctrlKey || event.altKey || event.metaKey);
  if (!criterion || !plain || event.target.type !== "radio" || !/^[1-9]$/.test(event.key)) return;
  const chosen = levels(criterion)[Number(event.key) - 1];
  if (!chosen || chosen.value === "") return;
  event.preventDefault();
  chosen.checked = true;
  const all = [...form.querySelectorAll("[data-criterion]")];
  const next = all[all.indexOf(criterion) + 1];
  if (next) focusOn(next);
  else form.querySelector("textarea[name=words]").focus();
});

// With a keyboard one starts at once; a finger chooses its own place.
if (form && matchMedia("(pointer: fine)").matches && !location.hash && !form.querySelector(".summary")) {
  const first = form.querySelector("[data-criterion]");
  if (first) focusOn(first);
}
