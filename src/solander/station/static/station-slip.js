// @ts-check
// The slip: one sentence on paper that goes on for the prints that follow. Each part opens where it stands, is typed
// anew or dropped; what was said and not understood is a small player with a field to type it once.

import { button, here, made } from "./station-paper.js";

/** @typedef {{ part: string, words: string, sure?: string }} PartSaid */
/** @typedef {{ id: string | number, covers?: string[] }} Sound */
/** @typedef {{ words?: string, parts?: PartSaid[], sounds?: Sound[] }} SlipSaid */
/**
 * @typedef {object} Does
 * @property {(part: string, words: string) => Promise<boolean>} put
 * @property {(part: string) => Promise<boolean>} drop
 * @property {(sound: Sound) => Promise<void>} hear
 * @property {(sound: Sound, words: string) => Promise<boolean>} type
 */

/** Milliseconds of stillness after which one asks what was understood. */
const STILL_MS = 150;

/** The parts in the order in which they are said; what stands there while nothing was said; how it is understood. */
/** @type {readonly { part: string, empty: () => string, called: () => string, understood?: string }[]} */
const PARTS = [
  { part: "date", empty: () => worded("when?"), called: () => worded("Date"), understood: "date" },
  { part: "place", empty: () => worded("where?"), called: () => worded("Place"), understood: "places" },
  { part: "people", empty: () => worded("who?"), called: () => worded("People") },
  { part: "occasion", empty: () => worded("what was it?"), called: () => worded("Occasion") },
  { part: "container", empty: () => worded("out of which box?"), called: () => worded("Box or envelope") },
];

/** @param {string | undefined} sure */
function sureWords(sure) {
  if (sure === "likely") return worded(", likely");
  return sure === "guess" ? worded(", a guess") : "";
}

class Part {
  /** @param {typeof PARTS[number]} kind @param {number} number @param {Does} does */
  constructor(kind, number, does) {
    this.kind = kind;
    this.does = does;
    this.said = "";
    this.words = made("span.words");
    this.sure = made("span.sure");
    // A link, not a button: a long part breaks where its line ends.
    this.opens = /** @type {HTMLAnchorElement} */ (made("a.opens"));
    this.opens.href = "#slip-sentence";
    this.opens.dataset.key = String(number);
    this.opens.addEventListener("click", (event) => {
      event.preventDefault();
      this.open();
    });
    this.key = made("kbd", String(number));
    this.key.ariaHidden = "true";
    this.opens.append(this.words, this.sure, " ", this.key);
    this.element = made(`span.part.part-${kind.part}`, this.opens);
    this.show(undefined);
  }

  /** @param {PartSaid | undefined} said */
  show(said) {
    this.said = said?.words ?? "";
    this.words.textContent = this.said || this.kind.empty();
    this.sure.textContent = this.said ? sureWords(said?.sure) : "";
    this.element.classList.toggle("unsaid", !this.said);
    const how = this.said ? worded("%(part)s: %(words)s. Change it", { part: this.kind.called(), words: this.said + this.sure.textContent }) : worded("%(part)s: not said. Say it", { part: this.kind.called() });
    this.opens.setAttribute("aria-label", how);
  }

  open() {
    if (this.element.classList.contains("open")) return;
    this.element.classList.add("open");
    this.opens.hidden = true;
    this.element.append(new Typing(this.said, this.kind, {
      keep: (words) => this.does.put(this.kind.part, words),
      drop: this.said ? () => this.does.drop(this.kind.part) : null,
      left: () => this.close(),
    }).element);
    this.element.querySelector("input")?.select();
  }

  close() {
    this.element.querySelector("form")?.remove();
    this.element.classList.remove("open");
    this.opens.hidden = false;
    this.opens.focus({ preventScroll: true });
  }
}

/** A field in which something is typed, understood while one types, kept by Enter and left by Escape. */
class Typing {
  /**
   * @param {string} said what stands there
   * @param {{ called: () => string, understood?: string }} kind
   * @param {{ keep: (words: string) => Promise<boolean>, drop: (() => Promise<boolean>) | null, left: () => void }} ends
   */
  constructor(said, kind, ends) {
    this.kind = kind;
    this.ends = ends;
    this.asked = 0;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.waiting = undefined;
    this.field = /** @type {HTMLInputElement} */ (made("input"));
    Object.assign(this.field, { value: said, autocomplete: "off", ariaLabel: kind.called(), spellcheck: false, maxLength: 400 });
    this.shown = made("output.understood");
    const keep = made("button.foremost", worded("Keep"));
    const drop = ends.drop ? button(worded("Drop"), "", () => void this.end(ends.drop?.())) : null;
    this.element = made("form.typing", this.field, made("span.typing-ends", keep, drop, button(worded("Leave"), "", ends.left)), this.shown);
    this.element.addEventListener("submit", (event) => {
      event.preventDefault();
      if (this.field.value.trim()) void this.end(ends.keep(this.field.value.trim()));
    });
    this.element.addEventListener("keydown", (event) => this.key(event));
    this.field.addEventListener("input", () => this.soon());
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.key !== "Escape" || event.isComposing) return;
    event.preventDefault();
    this.ends.left();
  }

  /** @param {Promise<boolean> | undefined} done */
  async end(done) {
    if (await done) this.ends.left();
    else this.field.focus();
  }

  soon() {
    clearTimeout(this.waiting);
    if (this.kind.understood) this.waiting = setTimeout(() => this.ask(), STILL_MS);
  }

  async ask() {
    this.asked += 1;
    const mine = this.asked, said = this.field.value.trim();
    const answer = said ? await fetch(`/understood/${this.kind.understood}?said=${encodeURIComponent(said)}`) : null;
    const words = answer?.ok ? await answer.text() : "";
    if (mine === this.asked) this.shown.innerHTML = words;
  }
}

export class Slip {
  /** @param {HTMLElement} sentence @param {HTMLElement} sounds @param {Does} does */
  constructor(sentence, sounds, does) {
    this.does = does;
    this.sounds = sounds;
    this.parts = PARTS.map((kind, i) => new Part(kind, i + 1, does));
    for (const part of this.parts) {
      const dot = made("span.dot", " · ");
      dot.ariaHidden = "true";
      sentence.append(...(part === this.parts[0] ? [] : [dot]), part.element);
    }
    this.shown = "[]";
  }

  /** @param {SlipSaid} said */
  show(said) {
    for (const part of this.parts) part.show(said.parts?.find((one) => one.part === part.kind.part));
    const sounds = said.sounds ?? [];
    // What somebody types just now is not taken from under their hands.
    if (JSON.stringify(sounds) === this.shown || this.sounds.contains(document.activeElement)) return;
    this.shown = JSON.stringify(sounds);
    this.sounds.replaceChildren(...sounds.map((sound) => this.player(sound)));
    this.sounds.hidden = !sounds.length;
  }

  /** @param {Sound} sound */
  player(sound) {
    const covers = sound.covers ?? [];
    const serves = covers.length ? worded("Said of %(prints)s", { prints: covers.join(", ") }) : worded("Said and not understood");
    const hear = button(worded("Hear it"), "", () => void this.does.hear(sound));
    const typing = new Typing("", { called: () => worded("What was said here") }, {
      keep: (words) => this.does.type(sound, words),
      drop: () => this.does.drop(String(sound.id)),
      left: () => hear.focus(),
    });
    typing.field.placeholder = worded("type it once");
    return made("li.sound", made("span.source", serves), hear, typing.element);
  }
}

/** The line in which all may be typed at once. What was not understood stays in it. */
export class SayAll {
  /** @param {(words: string) => Promise<boolean>} say */
  constructor(say) {
    const form = /** @type {HTMLFormElement} */ (here("say"));
    this.field = /** @type {HTMLInputElement} */ (form.elements.namedItem("words"));
    this.said = "";
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.said = this.field.value;
      if (this.said.trim()) void say(this.said.trim());
    });
    form.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.field.blur();
    });
  }

  /** Something was done; if it was this, the line is free again. */
  done() {
    if (this.said && this.field.value === this.said) {
      this.field.value = "";
      this.field.blur(); // keys order again
    }
    this.said = "";
  }
}
