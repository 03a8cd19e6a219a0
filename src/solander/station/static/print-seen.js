// @ts-check
// Choosing what is seen on a print: a field that narrows the list, and what is chosen told at the foot.

import { belongsElsewhere } from "./answers.js";

const form = /** @type {HTMLFormElement} */ (document.querySelector("form.seen"));
const told = /** @type {HTMLElement} */ (form.querySelector(".chosen-words"));
const narrow = /** @type {HTMLInputElement} */ (form.querySelector("[data-narrow]"));

function tell() {
  const chosen = [...form.querySelectorAll(".facts-seen input:checked:not(:disabled)")];
  const names = chosen.map((one) => one.closest("label")?.textContent?.trim() ?? "");
  told.textContent = names.length ? names.join(" · ") : (told.dataset.none ?? "");
}

narrow.addEventListener("input", () => {
  const sought = narrow.value.toLowerCase().split(/\s+/).filter(Boolean);
  for (const one of form.querySelectorAll(".facts-seen li")) {
    if (!(one instanceof HTMLElement)) continue;
    const words = one.dataset.words ?? "";
    one.hidden = !sought.every((word) => words.includes(word)) && !one.querySelector("input:checked:not(:disabled)");
  }
  for (const part of form.querySelectorAll("#seen-all section")) {
    if (part instanceof HTMLElement) part.hidden = !part.querySelector("li:not([hidden])");
  }
});

form.addEventListener("change", tell);
tell();

document.addEventListener("keydown", (event) => {
  if (event.altKey && !event.ctrlKey) {
    const one = form.querySelector(`[data-alt="${CSS.escape(event.key.toUpperCase())}"]`);
    if (!(one instanceof HTMLInputElement)) return;
    one.checked = true;
    event.preventDefault();
  } else if (event.key === "/" && !belongsElsewhere(event)) {
    narrow.focus();
    event.preventDefault();
  } else if (event.key === "Enter" && event.target === narrow) {
    // Enter in the field that narrows keeps nothing: it takes the first that is left.
    const first = form.querySelector(".facts-seen li:not([hidden]) input:not(:disabled)");
    if (first instanceof HTMLInputElement) first.focus();
    event.preventDefault();
  }
});
