// @ts-check
// The stage as the program sees it: the whole newest picture, with the outline that was found drawn over it. The style
// of the line and a word tell how far it is: dashed and "edge not sure", plain and "lies still", heavy and "taken".

import { here, made } from "./station-paper.js";

/** @typedef {{ corners: [number, number][], sure: boolean }} Outline shares of the picture's width and height */
/**
 * @typedef {object} Watched
 * @property {string} state
 * @property {string} [why]
 * @property {string} [light]
 * @property {string} [words] what is so, and what to do
 * @property {string} [light_words] what is wrong with the light
 * @property {Outline[]} [outlines]
 */

const SVG = "http://www.w3.org/2000/svg";

/** The first sentence, which is read from afar, and the rest. @param {string} words @returns {[string, string]} */
function inTwo(words) {
  const [, first = words, rest = ""] = /^(.*?)[.](?:\s+(.*))?$/s.exec(words) ?? [];
  return [first, rest];
}

/** The word at an outline, and the class of its line. @param {string} state @param {boolean} sure */
function lineOf(state, sure) {
  if (state === "taken") return ["is-taken", worded("taken")];
  if (!sure) return ["is-unsure", worded("edge not sure")];
  return state === "settled" ? ["is-still", worded("lies still")] : ["is-moving", worded("seen")];
}

export class Stage {
  constructor() {
    this.canvas = /** @type {HTMLCanvasElement} */ (here("stage-picture"));
    this.lines = here("stage-lines");
    this.words = here("stage-edge-words");
    this.state = here("state");
    this.hint = here("state-hint");
    this.light = here("light");
    this.figure = here("stage");
    this.busy = false;
  }

  /** Draws the newest picture; one that comes while another is drawn is passed over. @param {ArrayBuffer} jpeg */
  async picture(jpeg) {
    if (this.busy) return;
    this.busy = true;
    try {
      const bitmap = await createImageBitmap(new Blob([jpeg], { type: "image/jpeg" }));
      if (this.canvas.width !== bitmap.width || this.canvas.height !== bitmap.height) {
        this.canvas.width = bitmap.width;
        this.canvas.height = bitmap.height;
        this.figure.style.setProperty("--shape", `${bitmap.width / bitmap.height}`);
      }
      this.canvas.getContext("2d")?.drawImage(bitmap, 0, 0);
      bitmap.close();
      this.figure.hidden = false;
    } catch {
      // A picture that was cut off on its way; the next one comes at once.
    } finally {
      this.busy = false;
    }
  }

  /** @param {Watched} watched @returns {string} what is to be said of it */
  show(watched) {
    const { state, words = "", outlines = [], light = "", light_words: lit = "" } = watched;
    const [first, rest] = inTwo(words);
    this.state.textContent = first;
    this.state.dataset.state = watched.why ? "cannot" : state;
    this.hint.textContent = rest;
    this.outline(state, outlines);
    this.light.hidden = !lit;
    here("light-words").textContent = lit;
    here("light-empty").hidden = light === "flicker";
    return words;
  }

  /** @param {string} state @param {Outline[]} outlines */
  outline(state, outlines) {
    this.lines.replaceChildren();
    this.words.replaceChildren();
    for (const { corners, sure } of outlines) {
      const [style, word] = lineOf(state, sure);
      for (const layer of ["beneath", "edge"]) {
        const line = document.createElementNS(SVG, "polygon");
        line.setAttribute("points", corners.map((corner) => corner.join(",")).join(" "));
        line.setAttribute("class", `${layer} ${style}`);
        this.lines.append(line);
      }
      this.words.append(placed(made("span", word ?? ""), corners));
    }
  }
}

/** Share of the picture's height that a word needs above an outline; where there is less it stands within. */
const ABOVE = 0.12;

/** Puts a word at the upper left corner of an outline. @param {HTMLElement} word @param {[number, number][]} corners */
function placed(word, corners) {
  const [x, y] = corners.reduce((best, each) => (each[0] + each[1] < best[0] + best[1] ? each : best));
  word.style.left = `${Math.max(0, Math.min(0.8, x)) * 100}%`;
  word.classList.toggle("inside", y < ABOVE);
  word.style.top = `${Math.max(0, Math.min(0.92, y)) * 100}%`;
  return word;
}
