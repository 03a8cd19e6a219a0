// @ts-check
// The slip opens where it stands: a number opens a part, what is typed is understood at once, Enter keeps it, Escape
// leaves. Without this script every part is a link and every field a form.

import { belongsElsewhere } from "./answers.js";

/** Milliseconds of stillness after which one asks what was understood. */
const STILL_MS = 150;

const slip = /** @type {HTMLElement} */ (document.querySelector("#slip"));

/** @typedef {HTMLInputElement | HTMLTextAreaElement} Typing */

/** One part of the slip with its field and what goes with it. */
class Part {
  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.form = form;
    this.name = form.dataset.field ?? "";
    this.place = /** @type {HTMLElement} */ (slip.querySelector(`[data-part="${this.name}"]`));
    this.link = /** @type {HTMLAnchorElement} */ (this.place.querySelector(".opens"));
    this.field = /** @type {Typing} */ (this.place.querySelector("input, textarea"));
    this.understood = /** @type {HTMLElement} */ (form.querySelector(".understood-here"));
    /** Whether how sure was said apart; until then it follows the words. */
    this.sureSaid = Boolean(form.querySelector("[name=sure]:checked"));
    this.asked = 0;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.waiting = undefined;
    this.listen();
    if (!form.hidden) this.begin();
  }

  listen() {
    this.link.addEventListener("click", (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      open(this);
    });
    this.field.addEventListener("input", () => this.soon());
    this.form.addEventListener("submit", () => this.sayNoMore());
    this.form.addEventListener("input", (event) => this.changed(event));
    this.form.querySelector(".leaves")?.addEventListener("click", (event) => {
      event.preventDefault();
      this.leave();
    });
    for (const where of [this.form, this.place]) where.addEventListener("keydown", (event) => this.key(event));
  }

  /** @param {Event} event */
  changed(event) {
    const { target } = event;
    if (!(target instanceof HTMLInputElement) || target === this.field) return;
    if (target.name === "sure") this.sureSaid = true;
    if (target.name === "by") /** @type {HTMLInputElement} */ (this.form.elements.namedItem("by-typed")).value = "";
    this.soon();
  }

  open() {
    this.place.classList.add("open");
    this.field.hidden = false;
    this.field.disabled = false;
    this.form.hidden = false;
    this.begin();
  }

  begin() {
    this.field.focus({ preventScroll: true });
    if (!this.isTouched) this.field.select();
    this.form.scrollIntoView({ block: "nearest" });
    this.field.scrollIntoView({ block: "nearest" });
    if (this.field.value.trim() && !this.understood.childElementCount) this.soon();
  }

  /** Whether something was typed that is not kept. */
  get isTouched() {
    return this.field.value !== this.field.defaultValue;
  }

  get isOpen() {
    return !this.form.hidden;
  }

  close() {
    this.place.classList.remove("open");
    this.field.hidden = true;
    this.field.disabled = true;
    this.form.hidden = true;
  }

  leave() {
    this.field.value = this.field.defaultValue;
    this.understood.replaceChildren();
    this.close();
    this.link.focus({ preventScroll: true });
  }

  soon() {
    clearTimeout(this.waiting);
    this.waiting = setTimeout(() => this.ask(), STILL_MS);
  }

  async ask() {
    this.asked += 1;
    const mine = this.asked;
    if (!this.field.value.trim()) {
      this.understood.replaceChildren();
      return;
    }
    const said = new URLSearchParams();
    for (const [name, value] of new FormData(this.form)) if (name !== "token") said.append(name, String(value));
    if (!this.sureSaid) said.delete("sure");
    const answer = await fetch(`${slip.dataset.here}/understood?${said}`);
    const words = answer.ok ? await answer.text() : "";
    if (mine !== this.asked) return;
    this.show(words);
  }

  /** @param {string} words */
  show(words) {
    const held = document.activeElement instanceof HTMLInputElement && this.understood.contains(document.activeElement)
      ? [document.activeElement.name, document.activeElement.value] : null;
    this.understood.innerHTML = words;
    if (held) this.radio(held[0] ?? "", held[1] ?? "")?.focus({ preventScroll: true });
    const sure = this.understood.querySelector("[data-sure]");
    if (sure instanceof HTMLElement && sure.dataset.sure && !this.sureSaid) {
      const one = this.radio("sure", sure.dataset.sure);
      if (one) one.checked = true;
    }
    const map = this.understood.querySelector("[data-map]");
    if (map instanceof HTMLElement) lay(map);
  }

  /** @param {string} name @param {string} value */
  radio(name, value) {
    const found = this.form.querySelector(`input[name="${CSS.escape(name)}"][value="${CSS.escape(value)}"]`);
    return found instanceof HTMLInputElement ? found : null;
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.isComposing) return;
    if (event.key === "Escape") this.leave();
    else if (event.key === "Enter" && this.keeps(event)) this.keep(event.ctrlKey || event.metaKey);
    else if (event.altKey && !event.ctrlKey && !event.metaKey && this.choose(event.key)) this.soon();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** Enter keeps, but where it presses a button or breaks a line. @param {KeyboardEvent} event */
  keeps(event) {
    const { target } = event;
    return target instanceof HTMLInputElement || (target instanceof HTMLTextAreaElement && !event.shiftKey);
  }

  /** How sure is sent only where it was said apart: what follows the words may follow words of a moment ago. */
  sayNoMore() {
    if (this.sureSaid) return;
    for (const one of this.form.querySelectorAll("[name=sure]")) if (one instanceof HTMLInputElement) one.checked = false;
  }

  /** @param {boolean} next */
  keep(next) {
    if (!this.field.value.trim()) return;
    const button = next ? this.form.querySelector("[name=next]") : null;
    this.form.requestSubmit(button instanceof HTMLElement ? button : null);
  }

  /** One key each: how sure, who says so. @param {string} key */
  choose(key) {
    const one = this.form.querySelector(`[data-alt="${CSS.escape(key.toUpperCase())}"]`);
    if (!(one instanceof HTMLInputElement)) return false;
    one.checked = one.type === "checkbox" ? !one.checked : true;
    one.dispatchEvent(new Event("input", { bubbles: true }));
    this.field.focus({ preventScroll: true });
    return true;
  }
}

/** @param {Part} part */
function open(part) {
  for (const other of parts) if (other !== part && other.isOpen) other.close();
  part.open();
}

const parts = [...slip.querySelectorAll("form.say-here")].flatMap((form) => (form instanceof HTMLFormElement ? [new Part(form)] : []));

/** The scripts of the map, got when the first place is typed. @type {Promise<void> | null} */
let mapScripts = null;

function withMap() {
  const names = (slip.dataset.mapParts ?? "").split(" ");
  mapScripts ??= names.reduce((before, name) => before.then(() => script(`/static/${name}.js`)), Promise.resolve());
  return mapScripts;
}

/** @param {string} address @returns {Promise<void>} */
function script(address) {
  return new Promise((done, failed) => {
    const one = document.createElement("script");
    one.src = address;
    one.onload = () => done();
    one.onerror = failed;
    document.head.append(one);
  });
}

/** Lays a map, unless its words were changed meanwhile. @param {HTMLElement} home */
async function lay(home) {
  await withMap();
  const laid = /** @type {{layMap?: (home: HTMLElement) => void}} */ (/** @type {unknown} */ (window)).layMap;
  if (home.isConnected && home.hidden) laid?.(home);
}

const first = slip.querySelector(".understood-here [data-map]");
if (first instanceof HTMLElement) lay(first);

// Page down goes to the next print in the box with the same part open; what is typed and not kept stays here.
document.addEventListener("keydown", (event) => {
  const to = { PageDown: "after", PageUp: "before" }[event.key];
  const elsewhere = event.altKey || event.ctrlKey || event.metaKey;
  const part = parts.find((one) => one.isOpen);
  if (!to || elsewhere || (!part && belongsElsewhere(event))) return;
  const link = document.querySelector(`a[data-box="${to}"]`);
  if (!(link instanceof HTMLAnchorElement)) return;
  event.preventDefault();
  if (part?.isTouched) {
    part.form.querySelector(".foremost")?.scrollIntoView({ block: "nearest" });
    return;
  }
  const address = new URL(link.href);
  address.search = part ? `?say=${part.name}` : "";
  address.hash = "";
  location.assign(address);
});
