// @ts-check
// Bars of the measuring rule: how far each reaches, in which lane it lies, and the lines that draw them. Many bars
// share a path: as elements of their own, 5,000 would be too slow to move.

/**
 * One print in days; what is open or unknown is null. See look/ruler_figure.py.
 * @typedef {[name: string, earliest: number | null, latest: number | null, guess: number | null,
 *   likelyFrom: number | null, likelyTo: number | null, words: number, href: string, against?: string]} Row
 * @typedef {{all: [number, number], links: Record<string, string>, words: string[], href: [string, string],
 *   bars: Row[]}} RuleData
 */

/**
 * A bar from its first day to the one after its last; an open end (`left`, `right`) fades from its peak outwards.
 * @typedef {{from: number, to: number, peakFrom: number, peakTo: number, left: boolean, right: boolean,
 *   guess: number | null, likely: [number, number] | null, words: string, href: string, against: string}} Bar
 * @typedef {{lanes: Int32Array, count: number, near: number}} Laid
 * @typedef {{view: View, lane: number, first: number, last: number}} Pane
 * @typedef {{range: string, likely: string, ends: string, guess: string, clash: string, edge: string,
 *   fades: string[]}} Lines
 */

/** Tones from full to none in which an open end fades: with 12, their steps are seen. */
const FADE_STEPS = 24;

/** The step whose tone a bar has of which nothing is known: a quarter of the full one. */
const FAINT = 17;

/** Days over which an open end fades at least. */
const FADE_AT_LEAST = 3653;

/** Pixels: the least width of a bar, and of one whose hatching must be seen. */
const LEAST_BAR = 3, LEAST_CLASH = 9;

/** Pixels: what stays free after a bar so narrow, and the columns in which room below others is reckoned. */
const BAR_GAP = 4, COLUMN = 4;

/** Pixels from which on a bar is drawn one shorter, so that it ends before the next begins. */
const SHORTENED = 5;

/** How many times wider than what is laid a bar may be and still have a right to be seen without scrolling. */
const WIDE = 2;

/** Pixels above the first lane. */
const OVER_LANES = 8;

/** Lanes thinner than this leave no room for the strokes at the ends of bars. */
const LANE_WITH_ENDS = 6;

/** Bars thinner than this show no hatching. */
const THICK_ENOUGH = 4;

/** Half of the cross that stands for hatching in thin lanes, in pixels. */
const CROSS = 3;

/** @param {Row} row @param {RuleData} data @returns {Bar} */
function barOf(row, data) {
  const [name, earliest, latest, guess, likelyFrom, likelyTo, words, middle, against] = row;
  const after = latest === null ? null : latest + 1;
  const peak = guess ?? after ?? earliest ?? (data.all[0] + data.all[1]) / 2;
  const [peakFrom, peakTo] = [earliest ?? after ?? peak, after ?? earliest ?? peak];
  return {
    from: earliest ?? Math.min(data.all[0], peakTo - FADE_AT_LEAST, peak),
    to: after ?? Math.max(data.all[1], peakFrom + FADE_AT_LEAST, peak),
    peakFrom, peakTo, guess,
    likely: likelyFrom === null || likelyTo === null ? null : [likelyFrom, likelyTo + 1],
    left: earliest === null, right: latest === null,
    words: `${name}: ${data.words[words] ?? ""}`,
    href: data.href[0] + middle + data.href[1],
    against: against ?? "",
  };
}

/** What a bar says when pointed at. @param {Bar} bar */
function barWords(bar) {
  if (!bar.against) return bar.words;
  return worded("%(said)s (cannot be true together with: %(others)s)", { said: bar.words, others: bar.against });
}

/** Bars by how vague they are, the surest first, and in each class in order of time. @param {Bar[]} bars */
function vaguenessOf(bars) {
  const most = [31, 123, 366, 3 * 366, 10 * 366, Infinity, Infinity];
  const classes = most.map(() => /** @type {number[]} */ ([]));
  bars.forEach((bar, i) => {
    const open = bar.left || bar.right;
    classes[open ? most.length - 1 : most.findIndex((days) => bar.to - bar.from <= days)]?.push(i);
  });
  const from = (/** @type {number} */ i) => bars[i]?.from ?? 0;
  return classes.map((places) => places.sort((a, b) => from(a) - from(b)));
}

/**
 * The lane of every bar between two days, -1 for the others: below all surer ones in its place, and then in the
 * first lane that is free there. `near` is how many lanes hold bars that are not much wider than the scope.
 * @param {Bar[]} bars @param {number[][]} classes @param {{from: number, to: number, scale: number}} scope
 * @returns {Laid}
 */
function layInLanes(bars, classes, scope) {
  const laid = { lanes: new Int32Array(bars.length).fill(-1), count: 0, near: 0 };
  // How deep the surer classes hang, by columns.
  let depth = new Int32Array(Math.ceil(((scope.to - scope.from) * scope.scale) / COLUMN) + 1);
  for (const places of classes) {
    const deeper = depth.slice();
    /** Where each lane is free again for this class. @type {number[]} */
    const free = [];
    for (const i of places) {
      const bar = /** @type {Bar} */ (bars[i]);
      if (bar.to <= scope.from || bar.from >= scope.to) continue;
      const { left, right, first, after } = columnsOf(bar, scope, depth.length);
      let lane = 0;
      for (let at = first; at < after; at += 1) lane = Math.max(lane, depth[at] ?? 0);
      while ((free[lane] ?? -Infinity) > left) lane += 1;
      for (let at = first; at < after; at += 1) deeper[at] = Math.max(deeper[at] ?? 0, lane + 1);
      free[lane] = right;
      laid.lanes[i] = lane;
      laid.count = Math.max(laid.count, lane + 1);
      if (!isWide(bar, scope)) laid.near = Math.max(laid.near, lane + 1);
    }
    depth = deeper;
  }
  return laid;
}

/**
 * A bar's ends in pixels, with what must stay free, and the columns that these touch.
 * @param {Bar} bar @param {{from: number, scale: number}} scope @param {number} columns
 */
function columnsOf(bar, scope, columns) {
  const left = (bar.from - scope.from) * scope.scale;
  const least = (bar.against ? LEAST_CLASH : LEAST_BAR) + BAR_GAP;
  const right = Math.max((bar.to - scope.from) * scope.scale, left + least);
  const first = kept(Math.floor(left / COLUMN), 0, columns - 1);
  return { left, right, first, after: kept(Math.ceil(right / COLUMN), first + 1, columns) };
}

/** @param {Bar} bar @param {{from: number, to: number}} scope */
function isWide(bar, scope) {
  return bar.left || bar.right || bar.to - bar.from > WIDE * (scope.to - scope.from);
}

/** Where the middle of a lane lies. @param {number} lane @param {number} height */
function laneMiddle(lane, height) {
  return OVER_LANES + (lane + 0.5) * height;
}

/** How thick a bar is in its lane, and how tall the stroke of the best guess. @param {number} lane */
function barHeights(lane) {
  return { thick: Math.round(lane * 0.6), tick: lane - 1 };
}

/**
 * Ends at least so far apart.
 * @param {number} left @param {number} right @param {number} least @returns {[number, number]}
 */
function widened(left, right, least) {
  if (right - left >= least) return [left, right];
  const middle = Math.round((left + right) * 5) / 10;
  return [middle - least / 2, middle + least / 2];
}

/** @param {View} view @param {number} day to a tenth of a pixel, cut off just outside what is seen */
function cutPlace(view, day) {
  return Math.round(Math.max(-20, Math.min(view.width + 20, placeOf(view, day))) * 10) / 10;
}

/** Lines for all bars in sight. @param {Bar[]} bars @param {Int32Array} lanes @param {Pane} pane @returns {Lines} */
function linesOf(bars, lanes, pane) {
  const fades = /** @type {string[]} */ (new Array(FADE_STEPS).fill(""));
  const lines = { range: "", likely: "", ends: "", guess: "", clash: "", edge: "", fades };
  const end = pane.view.from + pane.view.days;
  for (let i = 0; i < bars.length; i += 1) {
    const lane = lanes[i] ?? -1;
    const bar = bars[i];
    if (!bar || lane < pane.first || lane > pane.last) continue;
    if (bar.to < pane.view.from || bar.from > end) continue;
    addBar(lines, bar, laneMiddle(lane, pane.lane), pane);
  }
  return lines;
}

/** @param {Lines} lines @param {Bar} bar @param {number} y @param {Pane} pane */
function addBar(lines, bar, y, pane) {
  const { view, lane } = pane;
  const { thick, tick } = barHeights(lane);
  const least = bar.against ? LEAST_CLASH : LEAST_BAR;
  const [left, right] = widened(cutPlace(view, bar.from), cutPlace(view, bar.to), least);
  if (bar.against) addClash(lines, bar, { left, right, y, thick });
  else if (bar.left || bar.right) addFades(lines, bar, y, view);
  else lines.range += `M${left} ${y}H${right - left > SHORTENED ? right - 1 : right}`;
  if (lane >= LANE_WITH_ENDS && !bar.against) {
    if (!bar.left) lines.ends += `M${left + 0.5} ${y - thick / 2}v${thick}`;
    if (!bar.right) lines.ends += `M${right - 1.5} ${y - thick / 2}v${thick}`;
  }
  if (bar.likely && !bar.against) {
    lines.likely += `M${cutPlace(view, bar.likely[0])} ${y}H${cutPlace(view, bar.likely[1])}`;
  }
  if (bar.guess !== null) lines.guess += `M${cutPlace(view, bar.guess + 0.5)} ${y - tick / 2}v${tick}`;
}

/**
 * Hatched, with an edge all around that is missing where the bar is open; crossed where the lane is thin.
 * @param {Lines} lines @param {Bar} bar @param {{left: number, right: number, y: number, thick: number}} place
 */
function addClash(lines, bar, { left, right, y, thick }) {
  lines.clash += `M${left} ${y}H${right}`;
  if (thick < THICK_ENOUGH) {
    addCross(lines, (left + right) / 2, y);
    return;
  }
  lines.edge += `M${left} ${y - thick / 2}H${right}M${left} ${y + thick / 2}H${right}`;
  if (!bar.left) lines.edge += `M${left} ${y - thick / 2}v${thick}`;
  if (!bar.right) lines.edge += `M${right} ${y - thick / 2}v${thick}`;
}

/** @param {Lines} lines @param {number} x @param {number} y */
function addCross(lines, x, y) {
  lines.edge += `M${x - CROSS} ${y - CROSS}l${2 * CROSS} ${2 * CROSS}m0 ${-2 * CROSS}l${-2 * CROSS} ${2 * CROSS}`;
}

/**
 * Open ends fade from where the bar is known to be; one of which nothing is known lies faintly over all years, for a
 * peak anywhere would be a guess that nobody made.
 * @param {Lines} lines @param {Bar} bar @param {number} y @param {View} view
 */
function addFades(lines, bar, y, view) {
  if (bar.left && bar.right && bar.guess === null) {
    lines.fades[FAINT] += `M${cutPlace(view, bar.from)} ${y}H${cutPlace(view, bar.to)}`;
    return;
  }
  if (bar.left) addFade(lines, { peak: bar.peakFrom, end: bar.from }, y, view);
  if (bar.right) addFade(lines, { peak: bar.peakTo, end: bar.to }, y, view);
}

/** @param {Lines} lines @param {{peak: number, end: number}} fade @param {number} y @param {View} view */
function addFade(lines, { peak, end }, y, view) {
  for (let k = 0; k < FADE_STEPS; k += 1) {
    const [a, b] = [k, k + 1].map((step) => cutPlace(view, peak + ((end - peak) * step) / FADE_STEPS));
    if (a !== b) lines.fades[k] += `M${a} ${y}H${b}`;
  }
}

/**
 * The bar at a place, the one with the nearest best guess where several lie; null where none does.
 * @param {Bar[]} bars @param {Int32Array} lanes @param {{view: View, lane: number, day: number, within: number}} at
 */
function barAt(bars, lanes, at) {
  let found = null;
  let nearest = Infinity;
  bars.forEach((bar, i) => {
    if (lanes[i] !== at.lane || bar.from - at.within > at.day || bar.to + at.within < at.day) return;
    const away = Math.abs((bar.guess ?? (bar.from + bar.to) / 2) - at.day);
    if (away < nearest) [found, nearest] = [i, away];
  });
  return /** @type {number | null} */ (found);
}
