// @ts-check
// What is heard and what sounds: the microphone's switch and its words, what was understood, and the sounds' settings.

import { EAR_WORDS, Microphone } from "./station-microphone.js";
import { button, here, made } from "./station-paper.js";
import { Sounds, ownVoice } from "./station-sounds.js";

/** @typedef {{ id?: string | number, words: string, state: "understood" | "ask" | "not" }} Heard */

/** What a key does in each state of the microphone. @param {import("./station-microphone.js").Ear} ear */
function nextWords(ear) {
  if (ear === "muted") return worded("Listen again");
  return ear === "on" || ear === "silent" || ear === "lost" ? worded("Do not listen") : worded("Switch it on");
}

export class Ear {
  /** @param {string} base */
  constructor(base) {
    this.microphone = new Microphone(`${base}/sound`, (ear) => this.show(ear), (loudest) => this.level(loudest));
    this.sounds = new Sounds((ms) => this.microphone.closeFor(ms));
    this.toggle = here("ear-toggle");
    this.put = here("ear-off");
    this.toggle.addEventListener("click", (event) => {
      if (event.detail) this.toggle.blur();
      void this.microphone.toggle();
    });
    this.put.addEventListener("click", () => this.microphone.off());
    this.settings();
    this.show("off");
  }

  /** @param {import("./station-microphone.js").Ear} ear */
  show(ear) {
    const [words, todo] = EAR_WORDS[ear]();
    here("ear").dataset.ear = ear;
    here("ear-words").textContent = words;
    here("ear-todo").textContent = todo;
    here("ear-next").textContent = nextWords(ear);
    this.put.hidden = !this.microphone.open;
  }

  /** @param {number} loudest */
  level(loudest) {
    // In decibels below the loudest there can be: a voice at the stand is between -40 and -10.
    const share = loudest ? Math.max(0, Math.min(1, 1 + (20 * Math.log10(loudest)) / 60)) : 0;
    here("ear-level").style.setProperty("--loud", share.toFixed(2));
  }

  /** @param {Heard} heard @param {(yes: boolean) => void} answer */
  heard(heard, answer) {
    const place = here("heard");
    place.dataset.heard = heard.state;
    const told = {
      understood: () => worded("Heard: %(words)s", { words: heard.words }),
      ask: () => worded("Was this said: %(words)s?", { words: heard.words }),
      not: () => heard.words || worded("That was not understood. It stays below the slip, to be typed once."),
    }[heard.state]();
    const answers = heard.state !== "ask" ? null : made("span.answers-row",
      button(worded("Yes"), "y", () => (answer(true), place.replaceChildren())),
      button(worded("No"), "n", () => (answer(false), place.replaceChildren())),
    );
    place.replaceChildren(made("span.heard-words", told), ...(answers ? [" ", answers] : []));
  }

  settings() {
    const on = /** @type {HTMLInputElement} */ (here("sounds-on"));
    const loud = /** @type {HTMLInputElement} */ (here("sounds-loud"));
    const spoken = /** @type {HTMLInputElement} */ (here("sounds-spoken"));
    on.checked = this.sounds.wanted.on;
    loud.value = String(Math.round(this.sounds.wanted.loud * 10));
    spoken.checked = this.sounds.wanted.spoken;
    on.addEventListener("change", () => this.want({ on: on.checked }));
    loud.addEventListener("change", () => this.want({ loud: Number(loud.value) / 10 }));
    spoken.addEventListener("change", () => this.want({ spoken: spoken.checked }));
    for (const one of document.querySelectorAll("[data-cue]")) {
      const cue = /** @type {import("./station-sounds.js").Cue} */ (one.getAttribute("data-cue"));
      one.addEventListener("click", () => this.sounds.play(cue));
    }
    const voices = () => (here("no-voice").hidden = !(spoken.disabled = !ownVoice()));
    globalThis.speechSynthesis?.addEventListener("voiceschanged", voices);
    voices();
  }

  /** @param {Partial<import("./station-sounds.js").Wanted>} changed */
  want(changed) {
    this.sounds.want(changed);
    this.sounds.play("taken");
  }
}
