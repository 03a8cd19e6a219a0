// @ts-check
// Prints are taken up into the hand: a click or the space key takes one up, Shift takes a run, Escape puts all down, the
// arrow keys go from print to print. Without this script each print has its tick and the buttons do the same.

import { belongsElsewhere } from "./answers.js";
import { putDownWhatWasSent } from "./in-hand.js";

/** @type {Readonly<Record<string, number>>} */
const STEPS = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

/** @typedef {HTMLInputElement} Tick */

class Hand {
  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.form = form;
    this.ticks = /** @type {Tick[]} */ ([...form.querySelectorAll("[data-takes-up]")]);
    this.bar = /** @type {HTMLElement} */ (form.querySelector("[data-hand]"));
    this.words = /** @type {HTMLElement} */ (this.bar.querySelector("[data-in-hand]"));
    this.down = /** @type {HTMLButtonElement} */ (this.bar.querySelector("[data-puts-down]"));
    this.last = 0;
    for (const [place, tick] of this.ticks.entries()) tick.addEventListener("click", (event) => this.taken(place, event));
    this.down.addEventListener("click", () => this.putDown());
    form.addEventListener("keydown", (event) => this.key(event));
    form.addEventListener("submit", (event) => this.complete(event));
    this.tell();
  }

  /**
   * @param {number} place
   * @param {MouseEvent} event
   */
  taken(place, event) {
    if (event.shiftKey) this.run(this.last, place, this.ticks[place]?.checked ?? true);
    this.last = place;
    this.tell();
  }

  /**
   * @param {number} from
   * @param {number} to
   * @param {boolean} up
   */
  run(from, to, up) {
    for (const tick of this.ticks.slice(Math.min(from, to), Math.max(from, to) + 1)) tick.checked = up;
    this.tell();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.key === "Escape") this.putDown();
    const place = this.ticks.findIndex((tick) => tick === document.activeElement);
    const step = STEPS[event.key];
    const to = place + (step ?? 0);
    const next = this.ticks[to];
    if (place < 0 || !step || event.ctrlKey || event.altKey || event.metaKey || !next) return;
    event.preventDefault();
    if (event.shiftKey) this.run(place, to, true);
    this.last = to;
    next.focus();
  }

  putDown() {
    for (const tick of this.ticks) tick.checked = false;
    this.tell();
  }

  /**
   * A button whose field is empty leads to it instead; Enter in a field presses that field's button.
   * @param {SubmitEvent} event
   */
  complete(event) {
    const typing = document.activeElement;
    const wanted = typing instanceof HTMLInputElement ? typing.dataset.does : undefined;
    const pressed = /** @type {HTMLButtonElement | null} */ (event.submitter);
    if (!wanted || pressed?.value === wanted) {
      const field = pressed?.closest(".doing")?.querySelector("input");
      if (!field || field.value.trim()) return;
      event.preventDefault();
      field.focus();
      return;
    }
    event.preventDefault();
    const button = this.form.querySelector(`button[value="${wanted}"]`);
    // A form that is about to be sent takes no second wish (HTML standard, 4.10.22.3): it is sent right after.
    setTimeout(() => this.form.requestSubmit(/** @type {HTMLButtonElement} */ (button)));
  }

  tell() {
    const held = this.ticks.filter((tick) => tick.checked).length;
    const { inHand, inHandOne, inHandMany } = this.words.dataset;
    const told = held === 0 ? inHand : held === 1 ? inHandOne : inHandMany?.replace("NUMBER", String(held));
    this.words.textContent = told ?? "";
    this.bar.classList.toggle("holding", held > 0);
    this.down.hidden = held === 0;
  }
}

putDownWhatWasSent();
for (const form of document.querySelectorAll("form.together")) new Hand(/** @type {HTMLFormElement} */ (form));
for (const button of document.querySelectorAll("[data-prints-page]")) button.addEventListener("click", () => window.print());

// A lone arrow key brings one into the prints.
document.addEventListener("keydown", (event) => {
  const first = document.querySelector("[data-takes-up]");
  const idle = document.activeElement === document.body || document.activeElement === null;
  if (!idle || belongsElsewhere(event) || event.shiftKey || !(event.key in STEPS)) return;
  if (first instanceof HTMLInputElement && event.key === "ArrowRight") {
    event.preventDefault();
    first.focus();
  }
});
