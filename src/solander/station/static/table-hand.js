// @ts-check
// Prints taken up on the Table stay in the hand while the table goes on under it: a click on a print's tick or the space
// key takes one up, Shift takes a run, Escape puts all down, the arrow keys go from print to print. A print that is
// dragged on to another is laid before or after it, on to a heading it comes under that one. Without this script each
// print has its tick, and the buttons do the same for those on the page.

import { belongsElsewhere } from "./answers.js";
import { held, hold, putDownWhatWasSent, send } from "./in-hand.js";

const ARROWS = ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"];

export class Hand {
  /**
   * @param {HTMLFormElement} form
   * @param {string} laid
   * @param {() => HTMLElement | undefined} uppermost
   */
  constructor(form, laid, uppermost) {
    this.form = form;
    this.laid = laid;
    this.uppermost = uppermost;
    putDownWhatWasSent();
    /** @type {Set<string>} In the order in which they were taken up. */
    this.held = new Set(held());
    this.last = "";
    this.bar = /** @type {HTMLElement} */ (form.querySelector("[data-hand]"));
    this.words = /** @type {HTMLElement} */ (this.bar.querySelector("[data-in-hand]"));
    this.down = /** @type {HTMLButtonElement} */ (this.bar.querySelector("[data-puts-down]"));
    this.beside = /** @type {HTMLInputElement | null} */ (form.querySelector("[data-beside]"));
    this.down.addEventListener("click", () => this.putDown());
    form.addEventListener("click", (event) => this.clicked(event));
    form.addEventListener("submit", (event) => this.complete(event));
    form.addEventListener("formdata", (event) => this.name(event.formData));
    form.addEventListener("focusin", (event) => this.looksAt(event));
    document.addEventListener("keydown", (event) => this.key(event));
    document.addEventListener("laid", (event) => this.tick(/** @type {CustomEvent<HTMLElement>} */ (event).detail));
    this.letDrag();
    this.tell();
  }

  // -- taking up -------------------------------------------------------------------------------------------------

  /** @param {MouseEvent} event */
  clicked(event) {
    const tick = event.target;
    if (!(tick instanceof HTMLInputElement) || tick.dataset.takesUp === undefined) return;
    const number = numberOf(tick);
    if (event.shiftKey && this.last) void this.run(this.last, number);
    else this.take(number, tick.checked);
    this.last = number;
  }

  /**
   * @param {string} number
   * @param {boolean} up
   */
  take(number, up) {
    if (up) this.held.add(number);
    else this.held.delete(number);
    this.tell();
  }

  /**
   * Takes up all prints from one to another, also those that are not laid out here.
   * @param {string} first
   * @param {string} last
   */
  async run(first, last) {
    const answer = await fetch(`/table/run?${new URLSearchParams({ laid: this.laid, first, last })}`);
    if (!answer.ok) return;
    for (const number of await answer.json()) this.held.add(number);
    this.tell();
  }

  putDown() {
    this.held.clear();
    this.tell();
  }

  // -- keys ------------------------------------------------------------------------------------------------------

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.altKey || belongsElsewhere(event) || !this.form.checkVisibility()) return;
    const here = document.activeElement?.closest("[data-print]");
    if (event.key === "Escape" && this.held.size) this.putDown();
    else if (ARROWS.includes(event.key)) this.step(event, here);
    else if (event.key === " " && here instanceof HTMLElement && !(event.target instanceof HTMLInputElement)) {
      event.preventDefault();
      const number = numberOf(here);
      this.last = number;
      this.take(number, !this.held.has(number));
    } else this.layBeside(event, here);
  }

  /**
   * @param {KeyboardEvent} event
   * @param {Element | null | undefined} here
   */
  step(event, here) {
    const idle = document.activeElement === document.body;
    if (!here && (!idle || event.key !== "ArrowRight")) return;
    const to = here instanceof HTMLElement ? neighbour(here, event.key) : this.uppermost();
    if (!to) return;
    event.preventDefault();
    if (event.shiftKey && here instanceof HTMLElement) {
      this.take(numberOf(here), true);
      void this.run(numberOf(here), numberOf(to));
    }
    this.last = numberOf(to);
    const link = to.querySelector("a.front");
    if (link instanceof HTMLElement) link.focus();
  }

  /**
   * The key of a button lays what is in the hand before or after the print that has the focus.
   * @param {KeyboardEvent} event
   * @param {Element | null | undefined} here
   */
  layBeside(event, here) {
    const button = this.bar.querySelector(`[data-lays="${CSS.escape(event.key.toLowerCase())}"]`);
    if (!(button instanceof HTMLButtonElement) || event.repeat || !this.held.size) return;
    event.preventDefault();
    if (!(here instanceof HTMLElement)) {
      this.beside?.focus();
      return;
    }
    if (this.beside) this.beside.value = numberOf(here);
    this.form.requestSubmit(button);
  }

  /** The field says which print has the focus, so that one sees beside which others will be laid. @param {FocusEvent} event */
  looksAt(event) {
    const here = event.target instanceof Element ? event.target.closest("[data-print]") : null;
    if (here instanceof HTMLElement && this.beside && !this.held.has(numberOf(here))) this.beside.value = numberOf(here);
  }

  // -- dragging --------------------------------------------------------------------------------------------------

  letDrag() {
    this.form.addEventListener("dragstart", (event) => {
      const print = event.target instanceof Element ? event.target.closest("[data-print]") : null;
      if (!(print instanceof HTMLElement) || !event.dataTransfer) return;
      this.take(numberOf(print), true);
      event.dataTransfer.setData("text/plain", [...this.held].join("\n"));
      event.dataTransfer.effectAllowed = "move";
    });
    this.form.addEventListener("dragover", (event) => {
      const place = this.placeUnder(event);
      this.show(place, event);
      if (place) event.preventDefault();
    });
    this.form.addEventListener("dragend", () => this.show(undefined));
    this.form.addEventListener("drop", (event) => {
      const place = this.placeUnder(event);
      if (!place) return;
      event.preventDefault();
      this.show(undefined);
      this.dropOn(place, event);
    });
  }

  /** What a print may be dropped on: a print that is not in the hand, a heading. @param {DragEvent} event */
  placeUnder(event) {
    const under = event.target instanceof Element ? event.target.closest("[data-occasion], [data-container], [data-print]") : null;
    if (!(under instanceof HTMLElement) || !this.held.size) return undefined;
    return under.dataset.print && this.held.has(under.dataset.print) ? undefined : under;
  }

  /**
   * @param {HTMLElement | undefined} place
   * @param {DragEvent} [event]
   */
  show(place, event) {
    for (const each of this.form.querySelectorAll(".drop-before, .drop-after, .drop-under")) each.classList.remove("drop-before", "drop-after", "drop-under");
    if (place) place.classList.add(!place.dataset.print ? "drop-under" : event && isBefore(place, event) ? "drop-before" : "drop-after");
  }

  /**
   * @param {HTMLElement} place
   * @param {DragEvent} event
   */
  dropOn(place, event) {
    const { occasion, container, print } = place.dataset;
    if (occasion) this.send("pile", "occasion", occasion);
    else if (container) this.send("put", "container", container);
    else if (print) this.send(isBefore(place, event) ? "before" : "after", "beside", print);
  }

  /**
   * @param {string} does
   * @param {string} field
   * @param {string} value
   */
  send(does, field, value) {
    const input = this.form.elements.namedItem(field);
    const button = this.form.querySelector(`button[value="${does}"]`);
    if (input instanceof HTMLInputElement) input.value = value;
    if (button instanceof HTMLButtonElement) this.form.requestSubmit(button);
  }

  // -- sending ---------------------------------------------------------------------------------------------------

  /** Enter in a field presses that field's button; a button whose field is empty leads to it. @param {SubmitEvent} event */
  complete(event) {
    const typing = document.activeElement;
    const wanted = typing instanceof HTMLInputElement ? typing.dataset.does : undefined;
    const pressed = /** @type {HTMLButtonElement | null} */ (event.submitter);
    if (wanted && pressed?.value !== wanted && pressed?.dataset.lays === undefined) {
      event.preventDefault();
      const button = this.form.querySelector(`button[value="${wanted}"]`);
      // A form that is about to be sent takes no second wish (HTML standard, 4.10.22.3): it is sent right after.
      setTimeout(() => this.form.requestSubmit(/** @type {HTMLButtonElement} */ (button)));
      return;
    }
    const field = pressed?.closest(".doing")?.querySelector("input");
    if (!field || field.value.trim()) return;
    event.preventDefault();
    field.focus();
  }

  /** All that is in the hand is sent, in the order in which it was taken up, and one comes back to where one is. @param {FormData} sent */
  name(sent) {
    for (const name of [...sent.keys()]) if (name.startsWith("print-")) sent.delete(name);
    sent.set("prints", [...this.held].join("\n"));
    const upper = this.uppermost();
    const here = new URLSearchParams({ ...(this.laid === "time" ? {} : { laid: this.laid }), start: upper ? numberOf(upper) : "" });
    sent.set("then", `/?${here}`);
    send();
  }

  /** The ticks of prints that lie somewhere say what is in the hand. @param {ParentNode} place */
  tick(place) {
    for (const tick of place.querySelectorAll("[data-takes-up]")) {
      if (tick instanceof HTMLInputElement) tick.checked = this.held.has(numberOf(tick));
    }
  }

  tell() {
    this.tick(this.form);
    const count = this.held.size;
    const { inHand, inHandOne, inHandMany } = this.words.dataset;
    this.words.textContent = (count === 0 ? inHand : count === 1 ? inHandOne : inHandMany?.replace("NUMBER", String(count))) ?? "";
    this.bar.classList.toggle("holding", count > 0);
    this.down.hidden = count === 0;
    hold(this.held);
  }
}

/** The number of the print that something belongs to. @param {HTMLElement} part */
function numberOf(part) {
  const print = part.closest("[data-print]");
  return print instanceof HTMLElement ? (print.dataset.print ?? "") : "";
}

/** Whether the pointer is over the first half of a print. @param {HTMLElement} place @param {DragEvent} event */
function isBefore(place, event) {
  const { left, width } = place.getBoundingClientRect();
  return event.clientX < left + width / 2;
}

/**
 * The print that an arrow key leads to: beside it in the order, or the nearest one of the row above or below.
 * @param {HTMLElement} here
 * @param {string} key
 * @returns {HTMLElement | undefined}
 */
function neighbour(here, key) {
  const all = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("[data-parts] [data-print]")]);
  const at = all.indexOf(here);
  if (key === "ArrowLeft") return all[at - 1];
  if (key === "ArrowRight") return all[at + 1];
  const own = here.getBoundingClientRect();
  const others = key === "ArrowDown" ? all.slice(at + 1) : all.slice(0, at).reverse();
  const rows = others.map((print) => ({ print, box: print.getBoundingClientRect() })).filter(({ box }) => Math.abs(box.top - own.top) > 40);
  const row = rows[0]?.box.top;
  const beside = rows.filter(({ box }) => Math.abs(box.top - (row ?? 0)) < 40);
  beside.sort((one, other) => Math.abs(one.box.left - own.left) - Math.abs(other.box.left - own.left));
  return beside[0]?.print;
}
