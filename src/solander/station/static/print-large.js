// @ts-check
// A print large: + and − come closer and go wider, up to every pixel; 0 shows it whole; the wheel does the same once a
// side is in hand, or with Ctrl. Arrows and the hand move what is too large. Without this script the picture is a link.

import { belongsElsewhere } from "./answers.js";

/** How much closer a step, and a pixel of the wheel, leads; how far arrows move, in pixels. */
const STEP = 1.5, WHEEL = 0.0022, MOVE_PX = 80;

const sides = document.querySelector(".sides");
const words = /** @type {HTMLElement | null} */ (document.querySelector(".zoom-words"));

/** One side under the glass. */
class Glass {
  /** @param {HTMLElement} figure */
  constructor(figure) {
    this.figure = figure;
    this.link = /** @type {HTMLAnchorElement} */ (figure.querySelector(".glass"));
    this.picture = /** @type {HTMLImageElement} */ (figure.querySelector(".glass img"));
    /** Pixels of the window for a pixel of the picture; 0 while it lies whole. */
    this.scale = 0;
    this.x = 0;
    this.y = 0;
    this.listen();
  }

  get closer() {
    return this.scale > 0;
  }

  /** The scale at which it fits into its frame, and the one at which each of its pixels is one of the screen's. */
  get whole() {
    const { clientWidth, clientHeight } = this.link;
    return Math.min(clientWidth / this.picture.naturalWidth, clientHeight / this.picture.naturalHeight);
  }
  get full() {
    return Math.max(1 / devicePixelRatio, this.whole);
  }

  listen() {
    this.link.addEventListener("click", (event) => {
      event.preventDefault();
      if (this.dragged) this.dragged = false;
      else if (!this.closer) this.by(STEP);
    });
    this.link.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    this.link.addEventListener("keydown", (event) => this.key(event));
    this.link.addEventListener("dragstart", (event) => event.preventDefault());
    this.pointers();
  }

  dragged = false;

  pointers() {
    /** @type {[number, number] | null} */
    let last = null;
    this.link.addEventListener("pointerdown", (event) => {
      if (!this.closer || event.button) return;
      last = [event.clientX, event.clientY];
      this.dragged = false;
    });
    this.link.addEventListener("pointermove", (event) => {
      if (!last) return;
      const [right, down] = [event.clientX - last[0], event.clientY - last[1]];
      if (!this.dragged && Math.hypot(right, down) < 4) return;
      this.link.setPointerCapture(event.pointerId);
      this.dragged = true;
      last = [event.clientX, event.clientY];
      this.move(right, down);
    });
    for (const gone of ["pointerup", "pointercancel"]) this.link.addEventListener(gone, () => (last = null));
  }

  /** @param {WheelEvent} event */
  wheel(event) {
    if (!event.ctrlKey && document.activeElement !== this.link) return;
    event.preventDefault();
    const { left, top } = this.link.getBoundingClientRect();
    const pixels = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1;
    const strength = event.ctrlKey && Math.abs(event.deltaY) < 20 ? 5 * WHEEL : WHEEL;
    this.by(Math.exp(-event.deltaY * pixels * strength), [event.clientX - left, event.clientY - top]);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const moves = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    const move = moves[/** @type {keyof typeof moves} */ (event.key)];
    if (this.closer && move) this.move((move[0] ?? 0) * MOVE_PX, (move[1] ?? 0) * MOVE_PX);
    else if (this.closer && event.key === "Escape") this.lay();
    else if (event.key === "Enter") this.closer ? this.lay() : this.by(Infinity);
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** Comes closer by a factor, to a point of the frame or its middle. @param {number} factor @param {[number, number]} [at] */
  by(factor, at) {
    if (!this.picture.naturalWidth) return;
    if (!this.closer) {
      if (factor < 1) return;
      this.begin();
    }
    const [x, y] = at ?? [this.link.clientWidth / 2, this.link.clientHeight / 2];
    const next = Math.min(this.full, this.scale * factor);
    if (next < this.whole * 0.999) {
      this.lay();
      return;
    }
    this.x = x - ((x - this.x) * next) / this.scale;
    this.y = y - ((y - this.y) * next) / this.scale;
    this.scale = next;
    this.draw();
  }

  begin() {
    for (const other of glasses) if (other.closer) other.lay();
    sides?.classList.add("closer");
    this.figure.classList.add("held");
    this.scale = this.whole;
    const { clientWidth, clientHeight } = this.link;
    this.x = (clientWidth - this.picture.naturalWidth * this.scale) / 2;
    this.y = (clientHeight - this.picture.naturalHeight * this.scale) / 2;
    this.link.focus({ preventScroll: true });
    this.figure.scrollIntoView({ block: "nearest" });
  }

  /** @param {number} right @param {number} down */
  move(right, down) {
    this.x += right;
    this.y += down;
    this.draw();
  }

  draw() {
    const { clientWidth, clientHeight } = this.link;
    const [wide, high] = [this.picture.naturalWidth * this.scale, this.picture.naturalHeight * this.scale];
    this.x = wide <= clientWidth ? (clientWidth - wide) / 2 : Math.min(0, Math.max(clientWidth - wide, this.x));
    this.y = high <= clientHeight ? (clientHeight - high) / 2 : Math.min(0, Math.max(clientHeight - high, this.y));
    const { style } = this.picture;
    style.width = `${this.picture.naturalWidth}px`;
    style.height = `${this.picture.naturalHeight}px`;
    style.transform = `translate(${this.x}px, ${this.y}px) scale(${this.scale})`;
    const share = Math.round(this.scale * devicePixelRatio * 100);
    if (words) words.textContent = share >= 100 ? (words.dataset.every ?? "") : `${share} % ${words.dataset.share}`;
  }

  /** Lays it down whole. */
  lay() {
    this.scale = 0;
    sides?.classList.remove("closer");
    this.figure.classList.remove("held");
    this.picture.removeAttribute("style");
    if (words) words.textContent = "";
  }
}

/** @type {Glass[]} */
const glasses = [...document.querySelectorAll(".side")].flatMap((one) => (one instanceof HTMLElement ? [new Glass(one)] : []));

/** The side in hand: the one that is closer, else the first. */
function held() {
  return glasses.find((one) => one.closer) ?? glasses[0];
}

/** Shows the next side as close as this one. */
function turnOver() {
  const now = held();
  const next = now && glasses[(glasses.indexOf(now) + 1) % glasses.length];
  if (!now || !next || next === now) return;
  now.lay();
  next.by(1);
}

document.addEventListener("keydown", (event) => {
  if (event.altKey || belongsElsewhere(event)) return;
  const glass = held();
  if (event.key === "+" || event.key === "=") glass?.by(STEP);
  else if (event.key === "-") glass?.by(1 / STEP);
  else if (event.key === "0") glass?.lay();
  else if (event.key.toLowerCase() === "b" && glasses.length > 1) turnOver();
  else if (event.key.startsWith("Arrow") && glass?.closer) glass.key(event);
  else if (event.key === "Escape" && glass?.closer) glass.lay();
  else return;
  event.preventDefault();
  event.stopImmediatePropagation();
});
