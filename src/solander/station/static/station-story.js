// @ts-check
// A told story while it is told: that it is recorded, since when, and of which prints. It changes no slip.

import { here } from "./station-paper.js";

/** @typedef {{ running: boolean, seconds?: number, prints?: string[] }} Told */

/** @param {number} seconds */
function minutes(seconds) {
  return `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")}`;
}

export class Story {
  /** @param {(order: string) => void} order */
  constructor(order) {
    this.running = false;
    this.began = 0;
    /** @type {ReturnType<typeof setInterval> | undefined} */
    this.ticking = undefined;
    here("story-toggle").addEventListener("click", (event) => {
      if (event.detail) here("story-toggle").blur();
      order(this.running ? "story-ends" : "story");
    });
  }

  /** @param {Told | null} told */
  show(told) {
    this.running = Boolean(told?.running);
    clearInterval(this.ticking);
    here("story").hidden = !this.running;
    here("story-next").textContent = this.running ? worded("The story ends") : worded("A story begins");
    if (!this.running) return;
    this.began = Date.now() - 1000 * (told?.seconds ?? 0);
    const prints = told?.prints ?? [];
    here("story-prints").textContent = prints.length ? worded("It goes with %(prints)s.", { prints: prints.join(", ") }) : worded("It goes with the next print.");
    const tick = () => (here("story-time").textContent = minutes((Date.now() - this.began) / 1000));
    tick();
    this.ticking = setInterval(tick, 1000);
  }
}
