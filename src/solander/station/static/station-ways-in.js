// @ts-check
// The other ways in: a folder that is watched, a scanner, a camera on a cable. Each is begun and ended here, and how it
// stands is always seen: in its place among the ways, and beside the stage while a camera looks at that.

import { button, here, made } from "./station-paper.js";

/** @typedef {{ state: string, words: string, path: string, all: boolean }} Folder */
/** @typedef {{ device: string, name: string }} Scanner */
/**
 * @typedef {object} Scanning
 * @property {string} state off, looking, ready, setting or scanning
 * @property {string} words
 * @property {Scanner[]} scanners
 * @property {string} device
 * @property {number} dpi
 * @property {string} place glass, feeder or both
 */
/** @typedef {{ state: string, words: string }} Cable */
/** @typedef {{ words: string, folder: Folder, scanner: Scanning, cable: Cable }} Told */
/** @typedef {(where: string, what: Record<string, unknown>) => Promise<boolean>} Send */

/** @param {string} name */
const input = (name) => /** @type {HTMLInputElement} */ (here(name));

/** Puts a value into a field, unless somebody is typing there. @param {HTMLInputElement | HTMLSelectElement} field @param {string} value */
function fill(field, value) {
  if (document.activeElement !== field) field.value = value;
}

/** What each button does: where it is sent, and the word. @type {[string, string, string][]} */
const DOES = [
  ["folder-end", "folder", "end"],
  ["scanner-look", "scanner", "look"],
  ["scan-stop", "scanner", "stop"],
  ["scanner-away", "scanner", "away"],
  ["cable-begin", "cable", "begin"],
  ["cable-end", "cable", "end"],
];

export class WaysIn {
  /** @param {Send} send */
  constructor(send) {
    this.send = send;
    /** What is so, or to be done, while no camera looks at the stage. */
    this.words = "";
    this.known = "";
    this.knownFolder = "";
    /** What runs, by where it is told to. @type {Map<string, HTMLElement>} */
    this.lines = new Map();
    this.device = /** @type {HTMLSelectElement} */ (here("scanner-device"));
    this.form = /** @type {HTMLFormElement} */ (here("scanner-form"));
    here("folder-form").addEventListener("submit", (event) => {
      event.preventDefault();
      void send("folder", { do: "begin", path: input("folder-path").value, all: input("folder-all").checked });
    });
    this.form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.scan();
    });
    this.form.addEventListener("change", () => this.warn());
    for (const [name, where, what] of DOES) here(name).addEventListener("click", () => void send(where, { do: what }));
  }

  get place() {
    return String(new FormData(this.form).get("place") ?? "glass");
  }

  scan() {
    // What is in focus then is no button, so that the key that takes scans the next.
    here("scan-now").blur();
    void this.send("scanner", { do: "scan", device: this.device.value, dpi: Number(input("scanner-dpi").value), place: this.place });
  }

  warn() {
    here("feeder-warning").hidden = this.place === "glass";
  }

  /** @param {Told} told */
  show({ words, folder, scanner, cable }) {
    this.words = words;
    this.showFolder(folder);
    this.showScanner(scanner);
    here("cable-words").textContent = cable.words;
    here("cable-begin").hidden = cable.state !== "off";
    here("cable-end").hidden = cable.state === "off";
    this.line("folder", folder.state !== "off", folder.words, worded("Watch it no longer"), "end");
    this.line("scanner", !["off", "looking"].includes(scanner.state), scanner.words, worded("Put it away"), "away");
    this.line("cable", cable.state !== "off", cable.words, worded("Let it go"), "end");
    here("ways-now").hidden = !this.lines.size;
  }

  /**
   * What runs, told beside the stage. Its line stays while it runs, and so does the focus on its button.
   * @param {string} where @param {boolean} runs @param {string} words @param {string} ends @param {string} what
   */
  line(where, runs, words, ends, what) {
    let line = this.lines.get(where);
    if (!runs) {
      line?.remove();
      this.lines.delete(where);
      return;
    }
    if (!line) {
      line = made("li", made("span"), " ", button(ends, "", () => void this.send(where, { do: what })));
      this.lines.set(where, line);
      here("ways-now").append(line);
    }
    if (line.firstChild) line.firstChild.textContent = words;
  }

  /** @param {Folder} folder */
  showFolder(folder) {
    const told = JSON.stringify([folder.path, folder.all]);
    if (told !== this.knownFolder) {
      // Else what somebody has filled in meanwhile stays.
      this.knownFolder = told;
      if (folder.path) fill(input("folder-path"), folder.path);
      input("folder-all").checked = folder.all;
    }
    here("folder-words").textContent = folder.words;
    here("folder-begin").hidden = folder.state !== "off";
    here("folder-end").hidden = folder.state === "off";
    input("folder-path").readOnly = folder.state !== "off";
    input("folder-all").disabled = folder.state !== "off";
  }

  /** @param {Scanning} scanner */
  showScanner(scanner) {
    const works = ["setting", "scanning"].includes(scanner.state);
    here("scanner-words").textContent = scanner.words;
    here("scanner-look").hidden = !["off", "looking"].includes(scanner.state);
    here("scanner-look").toggleAttribute("disabled", scanner.state === "looking");
    this.form.hidden = !works && scanner.state !== "ready";
    here("scan-now").toggleAttribute("disabled", works);
    here("scan-stop").hidden = !works;
    here("scanner-away").hidden = works;
    this.choices(scanner);
  }

  /** @param {Scanning} scanner */
  choices({ scanners, device, dpi, place }) {
    const told = JSON.stringify([scanners, device, dpi, place]);
    if (told === this.known) return;
    this.known = told;
    const named = scanners.length ? scanners : [{ device, name: "" }];
    this.device.replaceChildren(...named.map((one) => new Option(one.name ? `${one.name} (${one.device})` : one.device, one.device)));
    fill(this.device, device);
    fill(input("scanner-dpi"), String(dpi));
    const lies = this.form.querySelector(`[name="place"][value="${CSS.escape(place)}"]`);
    if (lies instanceof HTMLInputElement) lies.checked = true;
    this.warn();
  }
}
