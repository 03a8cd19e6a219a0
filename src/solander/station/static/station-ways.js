// @ts-check
// Which camera looks at the stage: one of this computer, a phone, or none yet.

import { here } from "./station-paper.js";

/** @typedef {import("./camera.js").Camera} OwnCamera */
/** @typedef {{ words?: string[] }} Camera sentences about what it sees and holds */

export class Ways {
  /** @param {string} station @param {(words: string) => void} trouble */
  constructor(station, trouble) {
    this.station = station;
    this.trouble = trouble;
    this.which = /** @type {HTMLSelectElement} */ (here("which-camera"));
    /** @type {OwnCamera | null} */
    this.own = null;
    here("own-camera").addEventListener("click", () => void this.begin());
    here("own-camera-off").addEventListener("click", () => this.end());
    this.which.addEventListener("change", () => void this.begin());
  }

  /** Opens a camera of this computer; its script comes when it is wanted, for most stations are watched by a phone. */
  async begin() {
    this.own?.stop();
    this.own = null;
    here("own-camera").toggleAttribute("disabled", true);
    try {
      const { openCamera } = await import("./camera.js");
      this.own = await openCamera({
        station: this.station,
        device: this.which.value || undefined,
        told: (words) => this.hindered(words),
        waiting: (count) => this.waiting(count),
      });
      await this.offer();
    } catch (error) {
      this.trouble(error instanceof Error ? error.message : String(error));
    }
    here("own-camera").toggleAttribute("disabled", false);
    here("own-ways").hidden = !this.own;
  }

  /** @param {string} words */
  hindered(words) {
    this.trouble(words);
    if (this.own?.link.closed) this.end();
  }

  /** Pictures that could not be sent yet are kept in this browser. @param {number} count */
  waiting(count) {
    here("stills-wait").textContent = count ? worded("Pictures that wait to be sent: %(count)s", { count }) : "";
  }

  /** Which cameras there are is told only once one was allowed. */
  async offer() {
    const all = (await navigator.mediaDevices.enumerateDevices()).filter((one) => one.kind === "videoinput");
    const present = this.own?.source.track?.getSettings().deviceId ?? "";
    const choices = all.map((one) => new Option(one.label || one.deviceId, one.deviceId, false, one.deviceId === present));
    this.which.replaceChildren(...choices);
    here("camera-choice").hidden = all.length < 2;
  }

  end() {
    this.own?.stop();
    this.own = null;
    here("own-ways").hidden = true;
  }

  /** @param {Camera | null} camera */
  show(camera) {
    here("no-camera").hidden = Boolean(camera);
    here("watching").hidden = !camera;
    here("station").classList.toggle("blind", !camera);
    here("camera-words").textContent = camera?.words?.join(" ") ?? "";
  }
}
