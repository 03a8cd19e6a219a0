// @ts-check
// A click on the untreated print chooses a place; its two fields say where, and may be typed instead.

/** @typedef {[number, number]} Shares */

/** The untreated print, and what is drawn over it. */
export const lies = /** @type {HTMLElement} */ (document.querySelector("#before"));
export const drawing = /** @type {SVGSVGElement} */ (lies.querySelector("svg"));
export const cross = /** @type {SVGGElement} */ (document.querySelector("#cross"));

const across = document.querySelector("#pick-x");
const down = document.querySelector("#pick-y");

/** Where in the untreated print that is, shares of it. @param {PointerEvent} event @returns {Shares} */
export function shares(event) {
  const box = lies.getBoundingClientRect();
  const held = (/** @type {number} */ share) => Math.min(1, Math.max(0, share));
  return [held((event.clientX - box.left) / box.width), held((event.clientY - box.top) / box.height)];
}

/** Whether a field says the place that is picked. @param {EventTarget | null} field @returns {boolean} */
export function saysPlace(field) {
  return field !== null && (field === across || field === down);
}

/** Shows the place that the fields say. */
function point() {
  if (!(across instanceof HTMLInputElement && down instanceof HTMLInputElement)) return;
  const box = drawing.viewBox.baseVal;
  cross.toggleAttribute("hidden", across.value === "" || down.value === "");
  const [x, y] = [(Number(across.value) / 100) * box.width, (Number(down.value) / 100) * box.height];
  cross.setAttribute("transform", `translate(${x} ${y})`);
}

/** Chooses a place. @param {Shares} place */
export function pick([x, y]) {
  if (!(across instanceof HTMLInputElement && down instanceof HTMLInputElement)) return;
  across.value = (100 * x).toFixed(1);
  down.value = (100 * y).toFixed(1);
  point();
}

for (const field of [across, down]) field?.addEventListener("input", point);
lies.addEventListener("pointerup", (event) => {
  const isElsewhere = event.target instanceof SVGLineElement || lies.closest(".drawing") !== null;
  if (!isElsewhere) pick(shares(event));
});
point();
