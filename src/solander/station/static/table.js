// @ts-check
// The Table goes on as one goes on: parts are laid before and after what one looks at, and those far away are taken
// off again, their height kept. Without this script links lead to the prints before and after.

import "./answers.js";
import { Hand } from "./table-hand.js";
import { followTime } from "./table-time.js";

/** Screens before and after the window in which parts lie. */
const NEAR_SCREENS = 2;
/** Screens beyond which they are taken off. */
const FAR_SCREENS = 4;
/** Pixels at the top of the window that the rule may lie over. */
const COVERED = 120;
/** Milliseconds between two questions whether the order is worked out. */
const ASK_MS = 3000;

class Lying {
  /** @param {HTMLElement} lies */
  constructor(lies) {
    this.laid = lies.dataset.laid ?? "time";
    this.parts = /** @type {HTMLElement} */ (lies.querySelector("[data-parts]"));
    this.before = /** @type {HTMLElement | null} */ (lies.querySelector("[data-before]"));
    this.after = /** @type {HTMLElement | null} */ (lies.querySelector("[data-after]"));
    this.busy = false;
    this.waits = false;
    const look = () => this.soon();
    addEventListener("scroll", look, { passive: true });
    addEventListener("resize", look, { passive: true });
    this.soon();
  }

  /** Looks at what is near before the next frame, once however often it is asked. */
  soon() {
    if (this.waits) return;
    this.waits = true;
    requestAnimationFrame(() => {
      this.waits = false;
      void this.complete();
    });
  }

  /** Lays what is near and takes off what is far, one part at a time. */
  async complete() {
    if (this.busy) return;
    this.busy = true;
    try {
      this.takeOff();
      const wanted = this.wanted();
      if (wanted) {
        await wanted();
        this.soon();
      }
    } finally {
      this.busy = false;
    }
  }

  /** @returns {HTMLElement[]} */
  all() {
    return /** @type {HTMLElement[]} */ ([...this.parts.children]);
  }

  /** What is missing near the window, if anything is. @returns {(() => Promise<void>) | undefined} */
  wanted() {
    const reach = innerHeight * NEAR_SCREENS;
    for (const part of this.all()) {
      if (!part.dataset.empty) continue;
      const { top, bottom } = part.getBoundingClientRect();
      if (bottom > -reach && top < innerHeight + reach) return () => this.layAgain(part);
    }
    const [first, last] = [this.all().at(0), this.all().at(-1)];
    if (last && last.dataset.isLast === undefined && last.getBoundingClientRect().bottom < innerHeight + reach) {
      return () => this.layAfter(last);
    }
    if (first && first.dataset.isFirst === undefined && first.getBoundingClientRect().top > -reach && scrollY > 0) {
      return () => this.layBefore(first);
    }
    return undefined;
  }

  takeOff() {
    const far = innerHeight * FAR_SCREENS;
    /** @type {{ part: HTMLElement, height: number }[]} */
    const off = [];
    for (const part of this.all()) {
      if (part.dataset.empty || part.contains(document.activeElement)) continue;
      const { top, bottom, height } = part.getBoundingClientRect();
      if (bottom >= -far && top <= innerHeight + far) continue;
      off.push({ part, height });
    }
    // All are measured before the first is changed: else the page would be laid out once for each.
    for (const { part, height } of off) {
      part.style.height = `${height}px`;
      part.dataset.empty = "yes";
      part.replaceChildren();
    }
  }

  /**
   * A part as the workbench has it now; nothing when it is not to be had.
   * @param {Record<string, string>} where
   * @returns {Promise<HTMLElement | undefined>}
   */
  async part(where) {
    const answer = await fetch(`/table/part?${new URLSearchParams({ laid: this.laid, ...where })}`);
    if (!answer.ok) return undefined;
    const holder = document.createElement("template");
    holder.innerHTML = await answer.text();
    const part = holder.content.firstElementChild;
    return part instanceof HTMLElement && part.dataset.first ? part : undefined;
  }

  /** @param {HTMLElement} part */
  async layAgain(part) {
    const fresh = await this.part({ start: part.dataset.first ?? "", count: part.dataset.count ?? "" });
    const before = part.getBoundingClientRect();
    if (!fresh) {
      part.remove();
      return;
    }
    part.replaceWith(fresh);
    this.stay(fresh, before);
    this.laidDown(fresh);
  }

  /** @param {HTMLElement} last */
  async layAfter(last) {
    const fresh = await this.part({ after: last.dataset.last ?? "" });
    if (!fresh) last.dataset.isLast = "";
    else {
      last.after(fresh);
      this.laidDown(fresh);
    }
    if (this.after && this.all().at(-1)?.dataset.isLast !== undefined) this.after.hidden = true;
  }

  /** @param {HTMLElement} first */
  async layBefore(first) {
    const fresh = await this.part({ before: first.dataset.first ?? "" });
    if (!fresh) first.dataset.isFirst = "";
    else {
      const top = first.getBoundingClientRect().top;
      first.before(fresh);
      scrollBy({ top: first.getBoundingClientRect().top - top, behavior: "instant" });
      this.laidDown(fresh);
    }
    if (this.before && this.all().at(0)?.dataset.isFirst !== undefined) this.before.hidden = true;
  }

  /**
   * What one looks at stays where it is when a part above it is not as high as it was.
   * @param {HTMLElement} fresh
   * @param {DOMRect} before
   */
  stay(fresh, before) {
    if (before.bottom > 0) return;
    scrollBy({ top: fresh.getBoundingClientRect().height - before.height, behavior: "instant" });
  }

  /** @param {HTMLElement} part */
  laidDown(part) {
    document.dispatchEvent(new CustomEvent("laid", { detail: part }));
  }

  /**
   * Lays out what lies at a year, in the place of all that lies there now.
   * @param {string} year
   */
  async goTo(year) {
    const fresh = await this.part({ year });
    if (!fresh) return;
    this.parts.replaceChildren(fresh);
    for (const way of [this.before, this.after]) if (way) way.hidden = false;
    fresh.scrollIntoView({ block: "start", behavior: "instant" });
    this.laidDown(fresh);
    history.replaceState({}, "", `/?year=${encodeURIComponent(year)}`);
    this.soon();
  }

  /** Lays the parts that are on the table again, as they are now. */
  async anew() {
    for (const part of this.all()) if (!part.dataset.empty && !part.contains(document.activeElement)) await this.layAgain(part);
  }

  /** The print that lies uppermost in the window. */
  uppermost() {
    const part = this.all().find((each) => each.getBoundingClientRect().bottom > COVERED);
    for (const print of part?.querySelectorAll("[data-print]") ?? []) {
      if (print instanceof HTMLElement && print.getBoundingClientRect().bottom > COVERED) return print;
    }
    return undefined;
  }
}

/** Tells when the order is worked out, without laying anything anew under one's eyes. */
function askWhetherWorkedOut() {
  const place = document.querySelector("[data-working]");
  const link = place?.querySelector("[data-worked]");
  if (!(link instanceof HTMLElement)) return;
  const asking = setInterval(async () => {
    const answer = await fetch("/table/settled").catch(() => undefined);
    if (!answer?.ok || !(await answer.json())) return;
    clearInterval(asking);
    link.hidden = false;
    const words = place?.querySelector("span");
    if (words) words.hidden = true;
  }, ASK_MS);
}

const lies = document.getElementById("lies");
if (lies) {
  const lying = new Lying(lies);
  const form = lies.querySelector("form");
  if (form instanceof HTMLFormElement && form.querySelector("[data-hand]")) new Hand(form, lying.laid, () => lying.uppermost());
  followTime(lies, (year) => lying.goTo(year), () => lying.uppermost());
  document.addEventListener("changed", () => void lying.anew());
  askWhetherWorkedOut();
}
