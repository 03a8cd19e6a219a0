// @ts-check
// What is typed is understood at once: beside a field that has `data-understood` the output of its name shows what was
// made of it. Without this script the same is said after the form was sent.

import "./answers.js";

/** Milliseconds of stillness after which one asks. */
const STILL_MS = 200;

/** @param {HTMLInputElement | HTMLTextAreaElement} field */
function follow(field) {
  const place = field.form?.querySelector(`output[data-of="${field.name}"]`);
  if (!(place instanceof HTMLElement)) return;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let waiting;
  let asked = 0;
  const ask = async () => {
    asked += 1;
    const mine = asked;
    const said = field.value.trim();
    if (!said) {
      place.replaceChildren();
      return;
    }
    const answer = await fetch(`/understood/${field.dataset.understood}?said=${encodeURIComponent(said)}`);
    const words = answer.ok ? await answer.text() : "";
    if (mine === asked) place.innerHTML = words;
  };
  field.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(ask, STILL_MS);
  });
  if (field.value.trim() && !place.childElementCount) ask();
}

for (const field of document.querySelectorAll("[data-understood]")) {
  if (field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) follow(field);
}
