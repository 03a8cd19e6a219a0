// @ts-check
// A frame drawn on a print where a face was missed: by mouse, finger or keys. The figures in the form are what is sent,
// so that the page works without this script too.

import { belongsElsewhere } from "./answers.js";

/** @typedef {{left: number, top: number, width: number, height: number}} Frame in percent of the picture */

const STEP = 0.5;
const LEAST = 1;
const MOVES = /** @type {Readonly<Record<string, [number, number]>>} */ ({
  ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1],
});

/**
 * @template {Element} T
 * @param {string} selector
 * @param {new () => T} kind
 * @returns {T}
 */
function one(selector, kind) {
  const found = document.querySelector(selector);
  if (!(found instanceof kind)) throw new Error(`The page has no ${selector}`);
  return found;
}

const form = one("#frame", HTMLFormElement);
const sheet = one("#picture .framed", HTMLElement);
const state = one("#frame-state", HTMLElement);
const place = one("#place", HTMLButtonElement);
const grip = document.createElement("button");
grip.type = "button";
grip.className = "in-hand";
/** @type {Frame} */
let frame = read();
let saying = 0;

/** @param {string} name */
function field(name) {
  return one(`#frame [name=${name}]`, HTMLInputElement);
}

/** @returns {Frame} */
function read() {
  const [left = 40, top = 40, width = 10, height = 14] = ["left", "top", "width", "height"].map((name) => {
    return Number(field(name).value.replace(",", "."));
  });
  return { left, top, width, height };
}

/**
 * The frame kept on the picture and no smaller than can be seen.
 * @param {Frame} wanted
 * @returns {Frame}
 */
function within(wanted) {
  const width = Math.min(Math.max(wanted.width, LEAST), 100);
  const height = Math.min(Math.max(wanted.height, LEAST), 100);
  return {
    left: Math.min(Math.max(wanted.left, 0), 100 - width), top: Math.min(Math.max(wanted.top, 0), 100 - height),
    width, height,
  };
}

/** @param {Frame} wanted */
function lay(wanted) {
  frame = within(wanted);
  for (const [name, value] of Object.entries(frame)) {
    grip.style.setProperty(name, `${value}%`);
    if (document.activeElement !== field(name)) field(name).value = String(Math.round(value * 10) / 10);
  }
  grip.setAttribute("aria-label", worded("The frame, %(place)s. Arrow keys move it, with Shift they change its size.", { place: words() }));
}

function words() {
  const [left, top] = [Math.round(frame.left), Math.round(frame.top)];
  const [width, height] = [Math.round(frame.width), Math.round(frame.height)];
  return worded("%(left)s percent from the left, %(top)s from the top, %(width)s wide, %(height)s high", { left, top, width, height });
}

/** @param {string} sentence */
function say(sentence) {
  clearTimeout(saying);
  saying = setTimeout(() => { state.textContent = sentence; }, 350);
}

function takeUp() {
  if (!grip.isConnected) sheet.append(grip);
  sheet.classList.add("drawing-frame");
  lay(read());
  grip.focus();
  say(worded("A frame lies on the picture, %(place)s. It is added when you say so.", { place: words() }));
}

/**
 * Where a pointer is, in percent of the picture.
 * @param {PointerEvent} event
 * @returns {[number, number]}
 */
function at(event) {
  const box = sheet.getBoundingClientRect();
  return [((event.clientX - box.left) / box.width) * 100, ((event.clientY - box.top) / box.height) * 100];
}

place.addEventListener("click", takeUp);
document.addEventListener("keydown", (event) => {
  if (event.key.toLowerCase() === "d" && !event.altKey && !belongsElsewhere(event)) takeUp();
});

grip.addEventListener("keydown", (event) => {
  const move = MOVES[event.key];
  if (!move) return;
  event.preventDefault();
  const [across, down] = [move[0] * STEP, move[1] * STEP];
  lay(event.shiftKey
    ? { ...frame, width: frame.width + across, height: frame.height + down }
    : { ...frame, left: frame.left + across, top: frame.top + down });
  say(worded("The frame is %(place)s.", { place: words() }));
});

sheet.addEventListener("pointerdown", (event) => {
  if (!sheet.classList.contains("drawing-frame") || event.button) return;
  event.preventDefault();
  const moving = event.target === grip;
  const [startAcross, startDown] = at(event);
  const before = frame;
  sheet.setPointerCapture(event.pointerId);
  /** @param {PointerEvent} moved */
  const follow = (moved) => {
    const [across, down] = at(moved);
    lay(moving
      ? { ...before, left: before.left + across - startAcross, top: before.top + down - startDown }
      : {
          left: Math.min(startAcross, across), top: Math.min(startDown, down),
          width: Math.abs(across - startAcross), height: Math.abs(down - startDown),
        });
  };
  sheet.addEventListener("pointermove", follow);
  sheet.addEventListener("pointerup", () => {
    sheet.removeEventListener("pointermove", follow);
    grip.focus({ preventScroll: true });
    say(worded("The frame is %(place)s. It is added when you say so.", { place: words() }));
  }, { once: true });
});

form.addEventListener("input", () => {
  if (grip.isConnected) lay(read());
});
