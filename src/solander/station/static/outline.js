// @ts-check
// An outline drawn by hand: corners dragged or moved by keys, fitted to the paper's edge, seen under the loupe and cut
// out. The figures in the form are what is sent, so that the page works without this script too.

import { belongsElsewhere } from "./answers.js";
import { at, fault, parsePoints, round, spoken, within, writePoints } from "./corners.js";
import { Loupe, MAGNIFICATIONS } from "./loupe.js";
import { Straight } from "./straight.js";

/** @typedef {import("./corners.js").Point} Point */

const STEPS = /** @type {Readonly<Record<string, Point>>} */ ({
  ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1],
});
const SAID_AFTER_MS = 350; // so that a held key is told once

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

const form = one("#drawing", HTMLFormElement);
const capture = one("#capture", HTMLImageElement);
const state = one("#state", HTMLElement);
const keep = one("#keep", HTMLButtonElement);
const buttons = [...form.querySelectorAll("button.corner")].filter((b) => b instanceof HTMLButtonElement);
const fields = [...form.querySelectorAll("fieldset")].map((set) => [...set.querySelectorAll("input")]);
const told = form.dataset;
const frame = { width: Number(told.width), height: Number(told.height), shortest: Number(told.shortest) };
const found = parsePoints(one(".line.drawn", SVGPolygonElement).getAttribute("points") ?? "");
const second = parsePoints(told.second ?? "");

let corners = found.map((point) => within(point, frame));
let inHand = 0;
/** @type {Point[][]} */
const before = [];
/** @type {string} what the last step was, so that a held key is one step back */
let lastStep = "";
let saying = 0;

const loupe = new Loupe(one("#loupe", HTMLCanvasElement), capture, {
  address: told.capture ?? "", tile: Number(told.tile), width: frame.width, height: frame.height,
});
/** @type {Straight | null} */
let straight = null;

/**
 * Lays the outline elsewhere; `step` names what was done, the same name again is one step.
 * @param {Point[]} points
 * @param {string} step
 */
function lay(points, step) {
  if (step !== lastStep || !step) before.push(corners);
  lastStep = step;
  corners = points.map((point) => within(point, frame));
  show();
}

/**
 * @param {number} i
 * @param {Point} point
 * @param {string} step
 */
function move(i, point, step) {
  lay(corners.map((corner, j) => (j === i ? point : corner)), `${step} ${i}`);
  sayLater(worded("%(name)s corner, %(place)s.", { name: name(i), place: spoken(at(corners, i)) }));
}

function show() {
  const wrong = fault(corners, frame);
  for (const line of document.querySelectorAll(".drawn")) line.setAttribute("points", writePoints(corners));
  buttons.forEach((button, i) => {
    const [across, down] = at(corners, i);
    button.style.left = `${((across + 0.5) / frame.width) * 100}%`;
    button.style.top = `${((down + 0.5) / frame.height) * 100}%`;
    button.setAttribute("aria-label", worded("%(name)s corner, %(place)s", { name: name(i), place: spoken([across, down]) }));
    if (i === inHand) button.setAttribute("aria-current", "true");
    else button.removeAttribute("aria-current");
    fields[i]?.forEach((field, axis) => {
      if (document.activeElement !== field) field.value = String(round(axis ? down : across));
    });
  });
  loupe.show(corners, inHand);
  one("#loupe-words", HTMLElement).textContent = worded("%(name)s, %(times)s times", { name: name(inHand), times: loupe.magnification });
  if (!wrong) straight?.draw(corners);
  keep.setAttribute("aria-disabled", String(Boolean(wrong)));
  if (wrong) say(wrong);
  one("[data-does=back]", HTMLElement).setAttribute("aria-disabled", String(before.length === 0));
}

/** @param {number} i */
function name(i) {
  return buttons[i % 4]?.dataset.name ?? "";
}

/** @param {string} sentence */
function say(sentence) {
  clearTimeout(saying);
  state.textContent = sentence;
}

/** @param {string} sentence */
function sayLater(sentence) {
  if (fault(corners, frame)) return;
  clearTimeout(saying);
  const moved = `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)} ${worded("Not kept yet.")}`;
  saying = setTimeout(() => say(moved), SAID_AFTER_MS);
}

const does = {
  async fit() {
    if (fault(corners, frame)) return;
    say(worded("Looking for the paper’s edge…"));
    const asked = corners;
    const read = await ask(`${told.capture}/fit?corners=${corners.flat().map(round).join(",")}`);
    if (asked !== corners) return; // moved on meanwhile
    if (read.error) return say(read.error);
    if (read.sides) lay(read.corners, "");
    say(fitWords(read.sides));
  },
  second() {
    const onSecond = writePoints(corners) === writePoints(second);
    lay(onSecond ? found : second, "");
    say(onSecond
      ? worded("Back on the outline that it had. Nothing is changed yet.")
      : worded("On the second best. Not kept yet."));
  },
  back() {
    const points = before.pop();
    if (!points) return;
    corners = points;
    lastStep = "";
    show();
    say(before.length ? worded("One step back. Not kept yet.") : worded("As it was found. Nothing is changed yet."));
  },
};

/**
 * @param {number} sides beside which an edge was found
 * @returns {string}
 */
function fitWords(sides) {
  if (sides === 4) return worded("Fitted to the paper’s edge on all four sides. Not kept yet.");
  if (sides) {
    return worded("An edge was found beside %(sides)s of the four sides; the others stay where you put them. Not kept yet.", { sides });
  }
  return worded("No clear edge lies near it, so it stays as you drew it. Lay the corners closer and try again.");
}

/**
 * Follows a pointer on `element`; `to` gives the corner's new place from how far the pointer went.
 * @param {HTMLElement} element
 * @param {() => number} which
 * @param {(start: Point, across: number, down: number) => Point} to
 */
function follow(element, which, to) {
  element.addEventListener("pointerdown", (down) => {
    if (down.button) return;
    down.preventDefault();
    take(which());
    element.setPointerCapture(down.pointerId);
    const start = at(corners, inHand);
    lastStep = "";
    const moved = (/** @type {PointerEvent} */ event) =>
      move(inHand, to(start, event.clientX - down.clientX, event.clientY - down.clientY), "drag");
    element.addEventListener("pointermove", moved);
    const ended = () => element.removeEventListener("pointermove", moved);
    element.addEventListener("lostpointercapture", ended, { once: true });
  });
}

/** @param {number} i the corner to take in hand */
function take(i) {
  inHand = i;
  buttons[i]?.focus({ preventScroll: true });
  show();
}

/** @param {KeyboardEvent} event */
function onKey(event) {
  const typing = belongsElsewhere(event);
  const at_ = event.target instanceof Element ? event.target : document.body;
  if (event.key === "Escape") one("#leave", HTMLAnchorElement).click();
  else if (event.key === "Enter" && !at_.closest("a, summary, button:not(.corner)")) form.requestSubmit(keep);
  else if (!typing && STEPS[event.key] && !at_.closest("summary")) step(event);
  else if (!typing && /^[1-4]$/.test(event.key)) take(Number(event.key) - 1);
  else if (!typing && /^[+=−-]$/.test(event.key)) magnify(/[+=]/.test(event.key) ? 1 : -1);
  else return;
  event.preventDefault();
}

/** @param {KeyboardEvent} event */
function step(event) {
  const [across, down] = STEPS[event.key] ?? [0, 0];
  const far = event.shiftKey ? 10 : event.altKey ? 0.1 : 1;
  const [x, y] = at(corners, inHand);
  move(inHand, [round(x + across * far), round(y + down * far)], "key");
}

/** @param {number} by */
function magnify(by) {
  const now = MAGNIFICATIONS.indexOf(loupe.magnification) + by;
  loupe.magnification = MAGNIFICATIONS[Math.min(Math.max(now, 0), MAGNIFICATIONS.length - 1)] ?? 4;
  show();
}

/** @param {SubmitEvent} event */
async function send(event) {
  if (event.submitter !== keep) return; // the other answers go as any form does
  event.preventDefault();
  const wrong = fault(corners, frame);
  if (wrong) return say(wrong);
  say(worded("Cutting it out…"));
  const body = new URLSearchParams();
  for (const [field, value] of new FormData(form)) body.append(field, String(value));
  const read = await ask(form.action, { method: "POST", body });
  if (read.go) location.assign(read.go);
  else say(read.error);
}

/**
 * What the workbench answers; `error` is a sentence where something went wrong.
 * @param {string} address
 * @param {RequestInit} how
 */
async function ask(address, how = {}) {
  try {
    const answer = await fetch(address, { ...how, headers: { accept: "application/json" } });
    return await answer.json();
  } catch {
    return { error: worded("The workbench did not answer, so nothing was changed. Is it still open in its window?") };
  }
}

function begin() {
  for (const part of form.querySelectorAll(".loupe, .straight, .corners")) part.removeAttribute("hidden");
  one(".figures", HTMLDetailsElement).open = false;
  straight = new Straight(one("#straight", HTMLCanvasElement), capture, {
    width: frame.width, turn: Number(told.turn),
  });
  buttons.forEach((button, i) => {
    button.addEventListener("focus", () => i !== inHand && take(i));
    follow(button, () => i, ([x, y], across, down) => {
      const shown = capture.getBoundingClientRect();
      return [x + (across * frame.width) / shown.width, y + (down * frame.height) / shown.height];
    });
  });
  follow(loupe.canvas, () => inHand, ([x, y], across, down) => [
    x - across / loupe.magnification, y - down / loupe.magnification,
  ]);
  fields.forEach((pair, i) => pair.forEach((field) => field.addEventListener("input", () => {
    const [across, down] = pair.map((each) => Number(each.value.replace(",", ".") || NaN));
    if (Number.isFinite(across) && Number.isFinite(down)) move(i, [across ?? 0, down ?? 0], "figures");
  })));
  for (const [action, run] of Object.entries(does)) {
    form.querySelector(`[data-does="${action}"]`)?.addEventListener("click", () => void run());
  }
  document.addEventListener("keydown", onKey);
  form.addEventListener("submit", (event) => void send(event));
  addEventListener("resize", show);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", show);
  show();
}

if (capture.complete) begin();
else capture.addEventListener("load", begin, { once: true });
