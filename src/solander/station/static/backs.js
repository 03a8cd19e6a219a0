// @ts-check
// A back is transcribed from line to line by keys alone. Without this script lines are typed or ticked, and the ways to
// see the writing are links.

import { belongsElsewhere } from "./answers.js";

const ILLEGIBLE = "[illegible]";
const CLOSER = 1.5, CLOSEST = 8;

const form = /** @type {HTMLFormElement | null} */ (document.querySelector("form.written"));
const board = /** @type {HTMLElement | null} */ (document.querySelector(".board"));
const sheet = /** @type {HTMLElement | null} */ (document.querySelector(".board-sheet"));
const picture = /** @type {HTMLImageElement | null} */ (document.querySelector(".board-sheet img"));
const ways = /** @type {HTMLAnchorElement[]} */ ([...document.querySelectorAll("[data-way]")]);
const lines = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(".line")]);
/** None where the whole is written down already: it is changed as a whole then. */
const fields = /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll(".line input[data-read]")]);
const outlines = [...document.querySelectorAll(".board-sheet polygon")];
const keep = /** @type {HTMLButtonElement | null} */ (form?.querySelector("button[name=next]") ?? null);
let now = -1, scale = 1, changed = false;

/** Shows the writing, and each line of it, in another way. @param {string} way */
function see(way) {
  if (!picture) return;
  for (const one of ways) one.toggleAttribute("aria-current", one.dataset.way === way);
  ways.find((one) => one.dataset.way === way)?.setAttribute("aria-current", "true");
  picture.src = `/legible/${picture.dataset.view}/${way}.jpg${picture.dataset.query}`;
  for (const line of lines) {
    const crop = line.querySelector("img");
    if (crop) crop.src = `/legible/${picture.dataset.view}/${way}/${line.dataset.line}.jpg`;
  }
  sheet?.classList.toggle("over", way === "mirrored");
}

function seeNext() {
  const at = ways.findIndex((one) => one.hasAttribute("aria-current"));
  see(ways[(at + 1) % ways.length]?.dataset.way ?? "as-taken");
}

for (const one of ways)
  one.addEventListener("click", (event) => {
    event.preventDefault();
    see(one.dataset.way ?? "");
  });
// The pictures of the other ways come one after the other while the first is looked at.
picture?.addEventListener("load", () => {
  for (const one of ways) new Image().src = `/legible/${picture.dataset.view}/${one.dataset.way}.jpg${picture.dataset.query}`;
}, { once: true });

/** Marks a line on the sheet and brings it into sight. @param {number} at */
function mark(at) {
  now = at;
  lines.forEach((line, number) => line.classList.toggle("now", number === at));
  outlines.forEach((one, number) => one.classList.toggle("now", number === at));
  reveal();
}

function reveal() {
  const outline = outlines[now];
  if (!outline || !board || scale === 1) return;
  const [line, window] = [outline.getBoundingClientRect(), board.getBoundingClientRect()];
  board.scrollLeft += line.left + line.width / 2 - window.left - window.width / 2;
  board.scrollTop += line.top + line.height / 2 - window.top - window.height / 2;
}

/** @param {number} factor; 0 lays it whole */
function zoom(factor) {
  if (!sheet) return;
  scale = factor === 0 ? 1 : Math.min(CLOSEST, Math.max(1, factor > 0 ? scale * CLOSER : scale / CLOSER));
  sheet.style.width = scale === 1 ? "" : `${100 * scale}%`;
  board?.classList.toggle("closer", scale > 1);
  reveal();
}

for (const one of document.querySelectorAll("[data-zoom]"))
  one.addEventListener("click", () => zoom(Number(one instanceof HTMLElement ? one.dataset.zoom : 0)));

/** Goes to a line; past the last one to what keeps them. @param {number} at */
function go(at) {
  if (at < 0) return;
  const field = fields[at];
  if (!field) {
    keep?.focus();
    return;
  }
  field.focus();
  field.setSelectionRange(field.value.length, field.value.length);
}

/** @param {HTMLInputElement} field */
function take(field) {
  if (field.value.trim() || !field.dataset.read) return;
  write(field, field.dataset.read);
}

/** @param {HTMLInputElement | HTMLTextAreaElement} field @param {string} text */
function write(field, text) {
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
}

/** Puts the mark for what can't be made out where one types. @param {HTMLInputElement | HTMLTextAreaElement} field */
function illegible(field) {
  const [from, to] = [field.selectionStart ?? 0, field.selectionEnd ?? 0];
  const before = field.value.slice(0, from), after = field.value.slice(to);
  const spaced = before && !/\s$/.test(before) ? ` ${ILLEGIBLE}` : ILLEGIBLE;
  write(field, before + spaced + (after && !/^\s/.test(after) ? ` ${after}` : after));
  field.setSelectionRange(before.length + spaced.length, before.length + spaced.length);
}

/** Underlines what is chosen, else the word at which one types. @param {HTMLInputElement | HTMLTextAreaElement} field */
function underline(field) {
  const { value } = field;
  let [from, to] = [field.selectionStart ?? 0, field.selectionEnd ?? 0];
  if (from === to) {
    while (from > 0 && /\S/.test(value[from - 1] ?? "")) from -= 1;
    while (to < value.length && /\S/.test(value[to] ?? "")) to += 1;
  }
  if (from === to) return;
  write(field, `${value.slice(0, from)}_${value.slice(from, to).trim()}_${value.slice(to)}`);
  field.setSelectionRange(to + 2, to + 2);
}

/** @type {Record<string, (field: HTMLInputElement | HTMLTextAreaElement) => void>} */
const DOES = { illegible, underline };

fields.forEach((field, at) => {
  field.addEventListener("focus", () => mark(at));
  field.addEventListener("keydown", (event) => lineKey(event, field, at));
});

/** @param {KeyboardEvent} event @param {HTMLInputElement} field @param {number} at */
function lineKey(event, field, at) {
  if (event.isComposing || event.altKey || event.ctrlKey || event.metaKey) return;
  if (event.key === "Enter") {
    take(field);
    go(at + 1);
  } else if (event.key === "ArrowRight" && !field.value && field.dataset.read) take(field);
  else if (event.key === "ArrowRight" && field.value === field.dataset.read && field.dataset.also) write(field, field.dataset.also);
  else if (event.key === "ArrowDown") go(at + 1);
  else if (event.key === "ArrowUp") go(at - 1);
  else return;
  event.preventDefault();
}

form?.addEventListener("keydown", (event) => {
  const field = event.target;
  if (event.isComposing) return;
  const typing = field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement;
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) keep?.click();
  else if (event.key === "F8") seeNext();
  else if (typing && event.key === "F2") illegible(field);
  else if (typing && event.key === "F4") underline(field);
  else if (typing && event.key === "Escape") field.blur();
  else return;
  event.preventDefault();
});

// A button beside a line does what its key does there.
form?.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  const at = lines.findIndex((line) => line.contains(button));
  const field = fields[at] ?? form.querySelector("textarea");
  if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement)) return;
  if (button.dataset.do === "take" && field instanceof HTMLInputElement) {
    take(field);
    go(at + 1);
    return;
  }
  field.focus();
  DOES[button.dataset.do ?? ""]?.(field);
});

document.addEventListener("keydown", (event) => {
  if (event.altKey || belongsElsewhere(event)) return;
  if (event.key === "F8") seeNext();
  else if (event.key === "=") zoom(1);
  else if (event.key === "ArrowDown" && document.activeElement !== board) go(now < 0 ? 0 : now + (lines[now] ? 1 : 0));
  else if (event.key === "Enter" && document.activeElement === document.body) go(Math.max(0, now));
  else return;
  event.preventDefault();
});

// What was written and not kept is not lost by a slip of the hand.
form?.addEventListener("input", () => (changed = true));
form?.addEventListener("submit", () => (changed = false));
window.addEventListener("beforeunload", (event) => {
  if (changed) event.preventDefault();
});

const field = document.activeElement;
if (field instanceof HTMLInputElement && fields.includes(field)) mark(fields.indexOf(field));
