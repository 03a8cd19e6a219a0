// @ts-check
// A name said three times: the recording goes to the workbench on this machine, and what it sounds like into the field,
// where a person changes or keeps it. Without a microphone the field alone does it.

import { askForSound, sourceOf } from "./station-microphone.js";
import { troubleWords } from "./station-link.js";

/** Samples a second that the worklet gives. */
const RATE = 16_000;

class SaidName {
  /** @param {HTMLElement} here @param {HTMLInputElement} field */
  constructor(here, field) {
    this.here = here;
    this.field = field;
    this.state = /** @type {HTMLElement} */ (here.querySelector("#say-it-state"));
    this.button = /** @type {HTMLButtonElement} */ (here.querySelector("#say-it-now"));
    this.first = this.button.textContent ?? "";
    /** @type {{ stream: MediaStream, context: AudioContext } | null} */
    this.open = null;
    /** @type {ArrayBuffer[]} */
    this.pieces = [];
    this.busy = false;
    this.button.addEventListener("click", () => void this.pressed());
  }

  async pressed() {
    if (this.busy) return;
    this.busy = true;
    try {
      if (this.open) await this.ends();
      else await this.begins();
    } finally {
      this.busy = false;
    }
  }

  async begins() {
    this.tell(worded("Allow the microphone where the browser asks for it."));
    /** @type {MediaStream | null} */
    let stream = null;
    try {
      stream = await askForSound();
      const { context, source } = await sourceOf(stream);
      this.open = { stream, context };
      await context.audioWorklet.addModule("/station/station-worklet.js");
      const ear = new AudioWorkletNode(context, "ear", { numberOfOutputs: 0, channelCount: 1, channelCountMode: "explicit" });
      source.connect(ear);
      this.pieces = [];
      ear.port.onmessage = ({ data }) => this.piece(data.sound);
      this.button.textContent = worded("That was it");
      this.tell(worded("Listening: say the name three times, with a pause between."));
    } catch {
      for (const track of stream?.getTracks() ?? []) track.stop();
      this.shut();
      this.tell(worded("There is no microphone, or the browser does not let this page listen. Spell it instead."));
    }
  }

  /** @param {ArrayBuffer} sound */
  piece(sound) {
    if (!this.open) return;
    this.pieces.push(sound);
    const heard = this.pieces.reduce((sum, { byteLength }) => sum + byteLength / 2, 0) / RATE;
    if (heard > Number(this.here.dataset.longest) - 1) void this.pressed();
  }

  async ends() {
    this.shut();
    this.tell(worded("It is worked out what that sounds like …"));
    try {
      const { address = "", token = "" } = this.here.dataset;
      const headers = { accept: "application/json", "content-type": "application/octet-stream", "x-solander-token": token };
      const answer = await fetch(address, { method: "POST", headers, body: new Blob(this.pieces) });
      const told = await answer.json();
      if (!answer.ok) return this.tell(troubleWords(told.trouble ?? { what: told.what ?? worded("That was not done"), why: told.why, todo: told.todo }));
      this.field.value = told.spelling;
      this.field.focus();
      this.tell(worded("It sounds like “%(spelling)s”. Change it if you like, and keep it.", { spelling: told.spelling }));
    } catch {
      this.tell(worded("The workbench does not answer. See whether it still runs."));
    }
  }

  shut() {
    for (const track of this.open?.stream.getTracks() ?? []) track.stop();
    void this.open?.context.close();
    this.open = null;
    this.button.textContent = this.first;
  }

  /** @param {string} words */
  tell(words) {
    this.state.textContent = words;
  }
}

const here = document.querySelector("#say-it");
const field = document.querySelector("#spelling");
if (here instanceof HTMLElement && field instanceof HTMLInputElement) {
  here.hidden = false;
  new SaidName(here, field);
}
