// @ts-check
// Which camera looks at the stage: that of this computer, a phone, or none yet.

import { here } from "./station-paper.js";

/** Fetched when it is wanted: most stations are watched by a phone. @type {string} */
const CAMERA = "./camera.js";

/** @typedef {{ words?: string[] }} Camera sentences about what it sees and holds */

export class Ways {
  /** @param {string} station @param {(words: string) => void} trouble */
  constructor(station, trouble) {
    this.station = station;
    this.trouble = trouble;
    /** @type {{ stop: () => void } | null} */
    this.own = null;
    here("own-camera").addEventListener("click", () => void this.begin());
    here("own-camera-off").addEventListener("click", () => this.end());
  }

  async begin() {
    const way = here("own-camera");
    way.toggleAttribute("disabled", true);
    try {
      const { openCamera } = await import(CAMERA);
      this.own = await openCamera({ station: this.station, told: this.trouble });
    } catch (error) {
      this.trouble(error instanceof Error ? error.message : String(error));
    }
    way.toggleAttribute("disabled", false);
    here("own-camera-off").hidden = !this.own;
  }

  end() {
    this.own?.stop();
    this.own = null;
    here("own-camera-off").hidden = true;
  }

  /** @param {Camera | null} camera */
  show(camera) {
    here("no-camera").hidden = Boolean(camera);
    here("watching").hidden = !camera;
    here("station").classList.toggle("blind", !camera);
    here("camera-words").textContent = camera?.words?.join(" ") ?? "";
  }
}
