// @ts-check
// A counting glass: the capture's own pixels around a corner, in a frame ruled in pixels of the capture. It stands
// beside the paper, never over it, and its middle is left free.

import { at } from "./corners.js";

/** @typedef {import("./corners.js").Point} Point */

/** Screen pixels for one of the capture, from the whole corner to its single pixels. */
export const MAGNIFICATIONS = [1, 2, 4, 6, 8, 16];

const RULED = 12; // width of the ruled frame, screen pixels
const FREE = 7; // around the middle nothing is drawn

export class Loupe {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {HTMLImageElement} whole the whole capture, shown until its own pixels have come
   * @param {{address: string, tile: number, width: number, height: number}} capture
   */
  constructor(canvas, whole, capture) {
    this.canvas = canvas;
    this.whole = whole;
    this.capture = capture;
    this.magnification = 4;
    /** @type {Map<string, HTMLImageElement>} */
    this.tiles = new Map();
    /** @type {() => void} */
    this.again = () => {};
  }

  /**
   * Shows the corner `i` of an outline.
   * @param {Point[]} corners
   * @param {number} i
   */
  show(corners, i) {
    this.again = () => this.draw(corners, i);
    this.again();
  }

  /**
   * @param {Point[]} corners
   * @param {number} i
   */
  draw(corners, i) {
    const size = this.canvas.clientWidth;
    const context = this.canvas.getContext("2d");
    if (!size || !context) return;
    const density = devicePixelRatio || 1;
    if (this.canvas.width !== Math.round(size * density)) {
      this.canvas.width = this.canvas.height = Math.round(size * density);
    }
    context.setTransform(density, 0, 0, density, 0, 0);
    const look = getComputedStyle(document.documentElement);
    context.fillStyle = look.getPropertyValue("--table");
    context.fillRect(0, 0, size, size);
    const view = { size, middle: at(corners, i), zoom: this.magnification };
    this.drawPaper(context, view);
    drawSides(context, view, [at(corners, i + 3), at(corners, i + 1)]);
    drawRules(context, view, look);
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {View} view
   */
  drawPaper(context, view) {
    const { size, middle, zoom } = view;
    const share = this.whole.naturalWidth / this.capture.width;
    const [left, top] = [middle[0] - size / 2 / zoom + 0.5, middle[1] - size / 2 / zoom + 0.5];
    const extent = size / zoom;
    context.imageSmoothingEnabled = true;
    context.drawImage(this.whole, left * share, top * share, extent * share, extent * share, 0, 0, size, size);
    context.imageSmoothingEnabled = zoom < 2;
    const { tile, width, height } = this.capture;
    const last = { column: Math.ceil(width / tile) - 1, row: Math.ceil(height / tile) - 1 };
    for (let row = first(top, tile); row <= Math.min(last.row, Math.floor((top + extent) / tile)); row += 1) {
      for (let column = first(left, tile); column <= Math.min(last.column, Math.floor((left + extent) / tile)); column += 1) {
        const image = this.pixels(column, row);
        if (!image) continue;
        const [x, y] = [(column * tile - left) * zoom, (row * tile - top) * zoom];
        context.drawImage(image, x, y, image.naturalWidth * zoom, image.naturalHeight * zoom);
      }
    }
  }

  /**
   * A piece of the capture's own pixels, once it has come.
   * @param {number} column
   * @param {number} row
   * @returns {HTMLImageElement | null}
   */
  pixels(column, row) {
    const name = `${column}-${row}`;
    let image = this.tiles.get(name);
    if (!image) {
      image = new Image();
      image.src = `${this.capture.address}/${name}.png`;
      image.addEventListener("load", () => this.again());
      this.tiles.set(name, image);
    }
    return image.complete && image.naturalWidth ? image : null;
  }
}

/** @typedef {{size: number, middle: Point, zoom: number}} View */

/**
 * @param {number} edge
 * @param {number} tile
 * @returns {number}
 */
function first(edge, tile) {
  return Math.max(0, Math.floor(edge / tile));
}

/**
 * The two sides that meet at the corner, from a little beside it.
 * @param {CanvasRenderingContext2D} context
 * @param {View} view
 * @param {Point[]} neighbours
 */
function drawSides(context, { size, middle, zoom }, neighbours) {
  for (const [colour, width] of /** @type {[string, number][]} */ ([["#1E1C1A", 3], ["#FBFAF7", 1]])) {
    context.strokeStyle = colour;
    context.lineWidth = width;
    for (const there of neighbours) {
      const [x, y] = [(there[0] - middle[0]) * zoom, (there[1] - middle[1]) * zoom];
      const length = Math.hypot(x, y) || 1;
      context.beginPath();
      context.moveTo(size / 2 + (x / length) * FREE, size / 2 + (y / length) * FREE);
      context.lineTo(size / 2 + x, size / 2 + y);
      context.stroke();
    }
  }
}

/**
 * The ruled frame along the top and the left: every pixel where there is room, every tenth longer.
 * @param {CanvasRenderingContext2D} context
 * @param {View} view
 * @param {CSSStyleDeclaration} look
 */
function drawRules(context, { size, middle, zoom }, look) {
  context.fillStyle = look.getPropertyValue("--paper");
  context.fillRect(0, 0, size, RULED);
  context.fillRect(0, 0, RULED, size);
  context.fillStyle = look.getPropertyValue("--ink");
  const step = zoom >= 4 ? 1 : 10;
  middle.forEach((centre, axis) => {
    const start = Math.ceil((centre - size / 2 / zoom) / step) * step;
    for (let value = start; value <= centre + size / 2 / zoom; value += step) {
      const place = (value - centre) * zoom + size / 2;
      const length = value % 10 === 0 ? RULED - 2 : 4;
      if (axis === 0) context.fillRect(place, 0, 1, length);
      else context.fillRect(0, place, length, 1);
    }
  });
  context.fillStyle = look.getPropertyValue("--accent");
  context.fillRect(size / 2 - 1, 0, 2, RULED);
  context.fillRect(0, size / 2 - 1, RULED, 2);
}
