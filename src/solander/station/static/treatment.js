// @ts-check
// What is changed in a sentence is shown at once, and kept nowhere until one says so. A click on the untreated print
// chooses a place, a stroke draws a mark. Without this script every button asks for the page anew.

import { cross, drawing, lies, saysPlace, shares } from "./treatment-pick.js";

const form = /** @type {HTMLFormElement} */ (document.querySelector("#treatment"));
const after = /** @type {HTMLImageElement} */ (document.querySelector("#after"));
const told = /** @type {HTMLElement} */ (document.querySelector("#told"));
const keep = /** @type {HTMLButtonElement} */ (document.querySelector("#keep"));
const said = /** @type {HTMLInputElement} */ (document.querySelector("#said"));
const notKept = /** @type {HTMLElement} */ (document.querySelector("#not-kept"));
const draw = /** @type {HTMLButtonElement} */ (document.querySelector("#draw"));
const more = /** @type {HTMLInputElement} */ (document.querySelector("#marks-more"));

/** Milliseconds of stillness after which what was typed is tried: fingers between two digits are faster. */
const STILL_MS = 60;

/** Width of a mark that is drawn, a share of the longer side: a speck of 1 mm on a print of 13 cm. */
const DRAWN = 0.008;

/** What the form says. @returns {string} */
function query() {
  const fields = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (typeof value === "string") fields.append(name, value);
  return fields.toString();
}

let asked = 0;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let waiting;

/** Tries what is in the fields, once they are still. */
function soon() {
  clearTimeout(waiting);
  waiting = setTimeout(tryIt, STILL_MS);
}

/** Shows the print as the sentences now say, and what can't be done. */
async function tryIt() {
  if (!form.checkValidity()) return;
  const mine = (asked += 1);
  said.value = query();
  const next = new Image();
  next.src = `${form.dataset.here}/seen.jpg?${said.value}`;
  const [answer] = await Promise.all([fetch(`${form.dataset.here}/told?${said.value}`), next.decode().catch(() => {})]);
  const words = await answer.text();
  if (mine !== asked) return;
  if (next.naturalWidth) {
    after.width = next.naturalWidth;
    after.height = next.naturalHeight;
    after.src = next.src;
  }
  if (answer.ok) told.innerHTML = words;
  keep.disabled = false;
  notKept.hidden = false;
  for (const step of form.querySelectorAll(".step")) {
    const on = step.querySelector('input[name$=".on"]');
    step.classList.toggle("is-off", on instanceof HTMLInputElement && !on.checked);
  }
}

form.addEventListener("input", (event) => {
  const { target } = event;
  if (!saysPlace(target)) soon();
  if (target instanceof HTMLInputElement && target.dataset.ofMark) markOf(target).classList.toggle("away", target.checked);
});

form.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
  event.preventDefault();
  if (!saysPlace(event.target)) soon();
});

/** @param {HTMLInputElement} field @returns {SVGLineElement} */
function markOf(field) {
  return /** @type {SVGLineElement} */ (drawing.querySelector(`[data-mark="${field.dataset.ofMark}"]`));
}

drawing.addEventListener("click", (event) => {
  if (!(event.target instanceof SVGLineElement) || isDrawing()) return;
  event.stopPropagation();
  const field = form.querySelector(`[data-of-mark="${event.target.dataset.mark}"]`);
  if (field instanceof HTMLInputElement) field.click();
});

form.addEventListener("focusin", ({ target }) => {
  for (const mark of drawing.querySelectorAll(".pointed")) mark.classList.remove("pointed");
  if (target instanceof HTMLInputElement && target.dataset.ofMark) markOf(target).classList.add("pointed");
});

/** @returns {boolean} */
function isDrawing() {
  return draw.getAttribute("aria-pressed") === "true";
}

draw.addEventListener("click", () => {
  draw.setAttribute("aria-pressed", String(!isDrawing()));
  form.classList.toggle("drawing", isDrawing());
});

/** @type {[number, number] | undefined} */
let begun;

lies.addEventListener("pointerdown", (event) => {
  if (isDrawing()) {
    begun = shares(event);
    lies.setPointerCapture(event.pointerId);
    event.preventDefault();
  }
});

lies.addEventListener("pointerup", (event) => {
  if (begun) addMark(begun, shares(event));
  begun = undefined;
});

/** Adds a mark from one place to the other. @param {[number, number]} from @param {[number, number]} to */
function addMark(from, to) {
  const stroke = [...from, ...to, DRAWN].map((share) => share.toFixed(5)).join(" ");
  more.value = more.value ? `${more.value};${stroke}` : stroke;
  const box = drawing.viewBox.baseVal;
  const line = document.createElementNS("http://www.w3.org/2000/svg", "line");
  const ends = { x1: from[0] * box.width, y1: from[1] * box.height, x2: to[0] * box.width, y2: to[1] * box.height };
  for (const [name, value] of Object.entries(ends)) line.setAttribute(name, String(value));
  line.setAttribute("stroke-width", String(DRAWN * Math.max(box.width, box.height)));
  line.classList.add("mark");
  drawing.insertBefore(line, cross);
  if (!form.querySelector('[name="marks.here"]')) {
    for (const name of ["marks.here", "marks.on", "marks.drawn"]) {
      const field = document.createElement("input");
      Object.assign(field, { type: "hidden", name, value: "1" });
      form.append(field);
    }
  }
  soon();
}
