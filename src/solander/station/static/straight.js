// @ts-check
// How the print would be cut out: the whole capture's picture, seen through the outline from straight above.

import { apart, at } from "./corners.js";

/** @typedef {import("./corners.js").Point} Point */

const LONGEST = 320; // of the picture drawn
const SOURCE = 1000; // of the picture that it is taken from

export class Straight {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {HTMLImageElement} whole the whole capture
   * @param {{width: number, turn: number}} capture its width in pixels; quarter turns clockwise of the print
   */
  constructor(canvas, whole, capture) {
    this.canvas = canvas;
    this.capture = capture;
    const scale = Math.min(1, SOURCE / Math.max(whole.naturalWidth, whole.naturalHeight));
    const small = document.createElement("canvas");
    small.width = Math.max(1, Math.round(whole.naturalWidth * scale));
    small.height = Math.max(1, Math.round(whole.naturalHeight * scale));
    const context = small.getContext("2d", { willReadFrequently: true });
    context?.drawImage(whole, 0, 0, small.width, small.height);
    this.source = context?.getImageData(0, 0, small.width, small.height);
  }

  /** @param {Point[]} corners */
  draw(corners) {
    const context = this.canvas.getContext("2d");
    if (!context || !this.source) return;
    const turned = corners.map((_, i) => at(corners, i + 4 - this.capture.turn));
    const side = (/** @type {number} */ i) => apart(at(turned, i), at(turned, i + 1));
    const [across, down] = [side(0) + side(2), side(1) + side(3)];
    const width = Math.max(1, Math.round((LONGEST * across) / Math.max(across, down)));
    const height = Math.max(1, Math.round((LONGEST * down) / Math.max(across, down)));
    this.canvas.width = width;
    this.canvas.height = height;
    const share = this.source.width / this.capture.width;
    const places = turned.map(([x, y]) => /** @type {Point} */ ([(x + 0.5) * share, (y + 0.5) * share]));
    context.putImageData(seenThrough(this.source, places, new ImageData(width, height)), 0, 0);
  }
}

/**
 * Each pixel of `picture` taken from the place of `source` that it stands for, the nearest one.
 * @param {ImageData} source
 * @param {Point[]} corners on the outer edges of the pixels of `source`
 * @param {ImageData} picture
 * @returns {ImageData}
 */
function seenThrough(source, corners, picture) {
  const [from, to] = [new Uint32Array(source.data.buffer), new Uint32Array(picture.data.buffer)];
  const [a, b, c, d, e, f, g, h] = fromUnitSquare(corners);
  for (let row = 0; row < picture.height; row += 1) {
    const v = (row + 0.5) / picture.height;
    for (let column = 0; column < picture.width; column += 1) {
      const u = (column + 0.5) / picture.width;
      const depth = g * u + h * v + 1;
      const x = Math.min(Math.max(Math.floor((a * u + b * v + c) / depth), 0), source.width - 1);
      const y = Math.min(Math.max(Math.floor((d * u + e * v + f) / depth), 0), source.height - 1);
      to[row * picture.width + column] = from[y * source.width + x] ?? 0;
    }
  }
  return picture;
}

/**
 * The eight numbers of the homography from the unit square to four corners (Heckbert, Fundamentals of texture
 * mapping and image warping, 1989, 2.2.3).
 * @param {Point[]} corners
 * @returns {[number, number, number, number, number, number, number, number]}
 */
function fromUnitSquare(corners) {
  const [p, q, r, s] = [at(corners, 0), at(corners, 1), at(corners, 2), at(corners, 3)];
  const [dx1, dx2, dx3] = [q[0] - r[0], s[0] - r[0], p[0] - q[0] + r[0] - s[0]];
  const [dy1, dy2, dy3] = [q[1] - r[1], s[1] - r[1], p[1] - q[1] + r[1] - s[1]];
  const whole = dx1 * dy2 - dx2 * dy1 || 1e-9;
  const g = (dx3 * dy2 - dx2 * dy3) / whole;
  const h = (dx1 * dy3 - dx3 * dy1) / whole;
  return [
    q[0] - p[0] + g * q[0], s[0] - p[0] + h * s[0], p[0],
    q[1] - p[1] + g * q[1], s[1] - p[1] + h * s[1], p[1],
    g, h,
  ];
}
