// @ts-check
// Four corners as a person moves them: the same rules as in core/outlines.py, told at once.

/** @typedef {[number, number]} Point - across and down in pixels of the capture; 0 is the middle of the first. */
/** @typedef {{width: number, height: number, shortest: number}} Frame */

/**
 * The points of a drawing, "1,2 3,4".
 * @param {string} text
 * @returns {Point[]}
 */
export function parsePoints(text) {
  return text.split(" ").filter(Boolean).map((pair) => {
    const [across, down] = pair.split(",").map(Number);
    return [across ?? NaN, down ?? NaN];
  });
}

/**
 * @param {Point[]} points
 * @returns {string}
 */
export function writePoints(points) {
  return points.map(([across, down]) => `${round(across)},${round(down)}`).join(" ");
}

/**
 * To a hundredth of a pixel: finer than any edge is known.
 * @param {number} value
 * @returns {number}
 */
export function round(value) {
  return Math.round(value * 100) / 100;
}

/**
 * The point, brought back onto the capture.
 * @param {Point} point
 * @param {Frame} frame
 * @returns {Point}
 */
export function within([across, down], { width, height }) {
  return [Math.min(Math.max(across, -0.5), width - 0.5), Math.min(Math.max(down, -0.5), height - 0.5)];
}

/**
 * Why the corners bound no print, as a sentence; empty where they do.
 * @param {Point[]} points
 * @param {Frame} frame
 * @returns {string}
 */
export function fault(points, frame) {
  if (points.some((point) => !point.every(Number.isFinite))) {
    return worded("A corner is no place yet: give two numbers.");
  }
  if (points.some((point) => String(within(point, frame)) !== String(point))) {
    return worded("A corner lies outside the capture. Move it back onto the picture.");
  }
  const shortest = Math.min(...points.map((point, i) => apart(point, at(points, i + 1))));
  if (shortest < frame.shortest) {
    return worded("The shortest side is %(length)s pixels long; the least is %(least)s.", {
      length: Math.round(shortest), least: frame.shortest,
    });
  }
  const turns = points.map((point, i) => turn(at(points, i + 3), point, at(points, i + 1)));
  const right = turns.filter((one) => one > 0).length;
  if (right === 4 || turns.every((one) => one < 0)) return "";
  return right === 2
    ? worded("Two sides cross. Move the corners so that they go round the print one by one.")
    : worded("One corner lies inside the other three. Move each onto a corner of the paper.");
}

/**
 * Where a corner is, in words.
 * @param {Point} point
 * @returns {string}
 */
export function spoken([across, down]) {
  return worded("%(across)s across, %(down)s down", { across: inWords(across), down: inWords(down) });
}

/**
 * @param {number} value
 * @returns {string}
 */
function inWords(value) {
  return value.toLocaleString(document.documentElement.lang || "en", { maximumFractionDigits: 1 });
}

/**
 * @param {Point[]} points
 * @param {number} i
 * @returns {Point}
 */
export function at(points, i) {
  return points[i % points.length] ?? [NaN, NaN];
}

/**
 * @param {Point} one
 * @param {Point} other
 * @returns {number}
 */
export function apart(one, other) {
  return Math.hypot(one[0] - other[0], one[1] - other[1]);
}

/**
 * Positive where the way turns clockwise (down is positive).
 * @param {Point} before
 * @param {Point} here
 * @param {Point} after
 * @returns {number}
 */
function turn(before, here, after) {
  return (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0]);
}
