// @ts-check
// A sheet of map: land and water in two tones of paper, each place a circle of its true radius. The sheet is laid
// around its middle without changing areas (Lambert's azimuthal equal-area projection), so that circles stay round
// where one looks and one scale holds. Comes after marks.js, drawn.js and the vendored d3-geo and
// topojson-client.

/** Metres a pixel: the closest look, and from which on the finer coast is laid. */
const CLOSEST = 2, FINER_FROM = 8000;

/** Metres of surroundings at least shown around places when all are laid in sight. */
const SURROUNDINGS_M = 60_000;

/**
 * Radians from the middle to the furthest place from which on the world is shown as a whole: then the middle lies in
 * latitudes where people look for it (degrees), and the far rim, which is drawn out of all shape, is left off.
 */
const WORLDWIDE = 0.9, CALM_LATITUDE = 35, FURTHEST = 150;

/** Pixels from the edge of the sheet to the outermost place when all are laid in sight. */
const RIM_PX = 56;

/** Milliseconds in which the sheet is laid anew. */
const LAY_MS = 160;

/** Degrees between the lines of the net that may be chosen, and about how many pixels they lie apart. */
const NET_STEPS = [30, 15, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01], NET_PX = 160;

/** @typedef {{middle: [number, number], scale: number}} SheetView `scale` in pixels a radian */

class MapSheet {
  /** @param {HTMLElement} box @param {PlaceRow[]} rows */
  constructor(box, rows) {
    this.box = box;
    box.tabIndex = -1;
    this.places = rows.map(mapPlace);
    /** @type {YearRange | null} */
    this.range = null;
    /** Land, coarse and fine. @type {{coarse: D3Shape | null, fine: D3Shape | null}} */
    this.land = { coarse: null, fine: null };
    /** @type {Mark[]} */
    this.marks = [];
    this.current = -1;
    /** Called with the mark in hand whenever that or what is in sight changes. @type {() => void} */
    this.told = () => {};
    /** Called once, when the coast should be finer. @type {() => void} */
    this.wantsFiner = () => {};
    this.projection = d3.geoAzimuthalEqualArea().precision(0.4);
    this.parts = this.#lay();
    this.size = this.#measure();
    /** @type {SheetView} */
    this.view = this.whole();
    this.motion = 0;
    /** @type {Map<string, number>} */
    this.widths = new Map();
    this.measure = document.createElement("canvas").getContext("2d");
    this.type = this.#type();
    document.fonts.ready.then(() => this.widths.clear());
  }

  #lay() {
    const svg = svgPart("svg", { class: "map-sheet", role: "group" });
    svg.setAttribute("aria-label", worded("Places on the map"));
    const parts = {
      svg,
      sea: svgPart("path", { class: "map-sea" }),
      land: svgPart("path", { class: "map-land" }),
      net: svgPart("path", { class: "map-net" }),
      circles: svgPart("g", {}),
      marks: svgPart("g", {}),
      labels: svgPart("g", { "aria-hidden": "true" }),
      scale: svgPart("g", { class: "map-scale", "aria-hidden": "true" }),
    };
    svg.append(parts.sea, parts.land, parts.net, parts.circles, parts.labels, parts.marks, parts.scale);
    this.box.append(svg);
    return parts;
  }

  #measure() {
    const { clientWidth, clientHeight } = this.box;
    return { width: Math.max(clientWidth, 1), height: Math.max(clientHeight, 1) };
  }

  /** The size of the page's type in pixels, and its face. */
  #type() {
    const size = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    return { size, face: getComputedStyle(this.box).getPropertyValue("--serif") || "serif" };
  }

  /** Metres that a pixel shows in the middle. */
  get metres() {
    return EARTH_M / this.view.scale;
  }

  /** The scale at which the whole world is a disc that fits. */
  get #widest() {
    return (Math.min(this.size.width, this.size.height) - 16) / 4;
  }

  /** The view in which all places that have prints lie; the whole world where there are none. @returns {SheetView} */
  whole() {
    const shown = this.places.filter((place) => printsWithin(place, this.range) > 0);
    return this.around(shown.length ? shown : this.places);
  }

  /** The view in which these places lie. @param {MapPlace[]} places @returns {SheetView} */
  around(places) {
    let middle = middleOf(places.map((place) => place.at));
    if (!middle) return { middle: [10, 30], scale: this.#widest };
    if (reachAround(middle, places) > WORLDWIDE) {
      middle = [middle[0], Math.min(CALM_LATITUDE, Math.max(-CALM_LATITUDE, middle[1]))];
    }
    const reach = Math.min(Math.PI, Math.max(reachAround(middle, places), SURROUNDINGS_M / EARTH_M));
    const half = Math.max(40, Math.min(this.size.width, this.size.height) / 2 - RIM_PX);
    return { middle, scale: this.#within(half / (2 * Math.sin(reach / 2))) };
  }

  /** @param {number} scale */
  #within(scale) {
    return Math.min(EARTH_M / CLOSEST, Math.max(this.#widest, scale));
  }

  /** Goes to a view, step by step unless the system asks for less motion. @param {SheetView} view */
  go(view) {
    cancelAnimationFrame(this.motion);
    const from = this.view, to = { middle: view.middle, scale: this.#within(view.scale) };
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      this.jump(to);
      return;
    }
    const began = performance.now();
    const step = (/** @type {number} */ now) => {
      const share = Math.min(1, (now - began) / LAY_MS), eased = 1 - (1 - share) ** 2;
      const middle = d3.geoInterpolate(from.middle, to.middle)(eased);
      this.jump({ middle, scale: from.scale * (to.scale / from.scale) ** eased }, share < 1);
      if (share < 1) this.motion = requestAnimationFrame(step);
    };
    this.motion = requestAnimationFrame(step);
  }

  /** Shows a view at once; while `moving`, the coarse coast does. @param {SheetView} view */
  jump(view, moving = false) {
    this.view = { middle: view.middle, scale: this.#within(view.scale) };
    this.draw(moving);
  }

  /** @param {number} factor @param {[number, number]} [at] the pixel that stays where it is */
  zoomed(factor, at) {
    const scale = this.#within(this.view.scale * factor);
    const held = at && this.degreesAt(at);
    if (!held || !at) return { middle: this.view.middle, scale };
    return { middle: this.middleFor(held, at, scale), scale };
  }

  /** @param {number} right @param {number} down in pixels */
  moved(right, down) {
    const { width, height } = this.size;
    const middle = this.degreesAt([width / 2 + right, height / 2 + down]) ?? this.view.middle;
    return { middle, scale: this.view.scale };
  }

  /** The middle with which a point of the earth comes to lie at a pixel, closely enough for a hand. @param {[number, number]} held @param {[number, number]} at @param {number} scale @returns {[number, number]} */
  middleFor(held, at, scale) {
    let middle = this.view.middle;
    for (let i = 0; i < 3; i += 1) {
      this.#place({ middle, scale });
      const now = this.projection(held);
      if (!now) break;
      const { width, height } = this.size;
      middle = this.#asDegrees([width / 2 + now[0] - at[0], height / 2 + now[1] - at[1]]) ?? middle;
    }
    this.#place(this.view);
    return middle;
  }

  /** @param {SheetView} view */
  #place({ middle, scale }) {
    const { width, height } = this.size;
    this.projection.rotate([-middle[0], -middle[1], 0]).scale(scale).translate([width / 2, height / 2]);
    this.projection.clipAngle(Math.min(FURTHEST, clipDegrees(this.size, scale)));
  }

  /** @param {[number, number]} pixel @returns {[number, number] | null} */
  #asDegrees(pixel) {
    const found = this.projection.invert(pixel);
    return found && found.every(Number.isFinite) ? found : null;
  }

  /** Longitude and latitude at a pixel; null beside the earth. @param {[number, number]} pixel */
  degreesAt(pixel) {
    this.#place(this.view);
    return this.#asDegrees(pixel);
  }

  /** Chooses the years whose prints count. @param {YearRange | null} range */
  count(range) {
    this.range = range;
    this.current = -1;
    this.draw();
  }

  /** Takes the mark at that place in reading order in hand; -1 for none. @param {number} place */
  choose(place, focus = false) {
    this.current = this.marks.length ? Math.max(-1, Math.min(this.marks.length - 1, place)) : -1;
    this.#showCurrent();
    const shown = this.parts.marks.children[this.current];
    if (focus && shown instanceof SVGElement) shown.focus();
    this.told();
  }

  get mark() {
    return this.marks[this.current] ?? null;
  }

  #showCurrent() {
    const groups = [this.parts.marks, this.parts.labels];
    for (const group of groups) {
      [...group.children].forEach((part, i) => part.classList.toggle("current", i === this.current));
    }
    [...this.parts.marks.children].forEach((part, i) => part.setAttribute("tabindex", i === Math.max(this.current, 0) ? "0" : "-1"));
  }

  /** Draws anew in a box or with type of another size: asked only then, for asking makes the page lay out anew. */
  resized() {
    this.size = this.#measure();
    this.type = this.#type();
    this.widths.clear();
    this.draw();
  }

  draw(moving = false) {
    const { width, height } = this.size;
    this.#place(this.view);
    this.projection.clipExtent([[-60, -60], [width + 60, height + 60]]);
    const path = d3.geoPath(this.projection).digits(1);
    const fine = this.metres < FINER_FROM && !moving ? this.land.fine : null;
    if (this.metres < FINER_FROM && !this.land.fine) this.wantsFiner();
    const { svg, sea, land, net } = this.parts;
    svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    sea.setAttribute("d", path({ type: "Sphere" }) ?? "");
    const shape = fine ?? this.land.coarse;
    land.setAttribute("d", (shape && path(shape)) ?? "");
    net.setAttribute("d", path(this.#net()) ?? "");
    this.#drawMarks(path);
    this.#drawScale();
    this.told();
  }

  /** Lines of longitude and latitude around the middle. */
  #net() {
    const degrees = (NET_PX / this.view.scale) * (180 / Math.PI);
    const step = NET_STEPS.find((one) => one <= degrees * 1.3) ?? 0.01;
    const graticule = d3.geoGraticule().step([step, step]).precision(step > 2 ? 2.5 : step / 4);
    const reach = clipDegrees(this.size, this.view.scale);
    if (reach < 60) {
      const [longitude, latitude] = this.view.middle;
      const across = Math.min(180, reach / Math.max(0.05, Math.cos((Math.min(85, Math.abs(latitude) + reach) * Math.PI) / 180)));
      const down = (/** @type {number} */ degrees_) => Math.floor(degrees_ / step) * step;
      graticule.extent([
        [down(longitude - across), Math.max(-90, down(latitude - reach))],
        [down(longitude + across) + step, Math.min(90, down(latitude + reach) + step)],
      ]);
    }
    return graticule();
  }

  /** @returns {Spot[]} */
  #spots() {
    const { width, height } = this.size, [x, y, z] = unitVector(this.view.middle);
    const least = Math.cos((Math.min(clipDegrees(this.size, this.view.scale), FURTHEST) * Math.PI) / 180);
    /** @type {Spot[]} */
    const spots = [];
    for (const place of this.places) {
      const prints = printsWithin(place, this.range);
      const [px, py, pz] = place.unit;
      if ((!prints && this.range) || x * px + y * py + z * pz < least) continue;
      const at = this.projection(place.at);
      if (!at || at[0] < 0 || at[1] < 0 || at[0] > width || at[1] > height) continue;
      spots.push({ place, prints, x: at[0], y: at[1], reach: (place.radius / EARTH_M) * this.view.scale });
    }
    return spots;
  }

  /** @param {D3Path} path */
  #drawMarks(path) {
    const before = this.mark?.spots[0]?.place;
    const held = this.parts.marks.contains(document.activeElement);
    this.marks = inReadingOrder(gatherSpots(this.#spots()));
    this.current = before ? this.marks.findIndex((mark) => mark.spots.some((spot) => spot.place === before)) : -1;
    this.parts.circles.replaceChildren(...this.marks.flatMap((mark) => trueCircles(mark, path)));
    this.parts.marks.replaceChildren(...this.marks.map(markPart));
    this.#drawLabels();
    this.#showCurrent();
    const shown = this.parts.marks.children[Math.max(this.current, 0)];
    // What was in hand may have gone out of sight; the sheet itself then keeps the keys.
    if (held) (shown instanceof SVGElement ? shown : this.box).focus({ preventScroll: true });
  }

  #drawLabels() {
    const labels = this.marks.map(labelPart);
    this.parts.labels.replaceChildren(...labels);
    const widths = this.marks.map((mark) => this.#labelWidth(mark));
    const spots = labelSpots(this.marks, widths, this.size);
    labels.forEach((label, i) => {
      const mark = /** @type {Mark} */ (this.marks[i]);
      const right = mark.x + (widths[i] ?? 0) + 12 < this.size.width;
      const beside = { x: mark.x + (right ? 12 : -12), y: mark.y, anchor: right ? "start" : "end" };
      const spot = spots[i] ?? beside;
      label.classList.toggle("no-room", !spots[i]);
      for (const [key, value] of Object.entries({ x: spot.x, y: spot.y, "text-anchor": spot.anchor })) {
        label.setAttribute(key, String(value));
      }
    });
  }

  /**
   * Width of a mark's label in pixels. Asked of a canvas and kept: asking the page itself would make it lay out anew
   * for every label.
   * @param {Mark} mark
   */
  #labelWidth(mark) {
    const { size, face } = this.type, number = numberSize(mark.prints), key = `${markName(mark)} ${mark.prints}`;
    let width = this.widths.get(key);
    if (width === undefined && this.measure) {
      this.measure.font = `${size}px ${face}`;
      width = this.measure.measureText(markName(mark)).width + 6;
      this.measure.font = `600 ${NUMBER_SIZES[number] * size}px ${face}`;
      width += this.measure.measureText(numberWords(mark.prints)).width;
      this.widths.set(key, width);
    }
    return width ?? 0;
  }

  /** A piece of rule that says how far it is. */
  #drawScale() {
    const most = this.metres * Math.min(140, this.size.width / 3), power = 10 ** Math.floor(Math.log10(most));
    const metres = [5, 2, 1].map((digit) => digit * power).find((one) => one <= most) ?? power;
    const length = metres / this.metres, y = this.size.height - 16;
    const line = svgPart("path", { d: `M16 ${y - 8}V${y}H${16 + length}V${y - 8}M${16 + length / 2} ${y - 5}V${y}` });
    const words = svgPart("text", { x: 24 + length, y });
    words.textContent = distanceWords(metres);
    this.parts.scale.replaceChildren(line, words);
  }
}

/** How far from the middle the corners of the sheet are, in degrees. @param {{width: number, height: number}} size @param {number} scale */
function clipDegrees({ width, height }, scale) {
  const share = Math.hypot(width / 2 + 80, height / 2 + 80) / (2 * scale);
  return share >= 1 ? 180 : (2 * Math.asin(share) * 180) / Math.PI;
}

/** How far the places reach from a point, in radians. @param {[number, number]} middle @param {MapPlace[]} places */
function reachAround(middle, places) {
  return Math.max(0, ...places.map((place) => d3.geoDistance(middle, place.at) + (1.5 * place.radius) / EARTH_M));
}

/** The middle of points on the earth; null for none. @param {[number, number][]} points @returns {[number, number] | null} */
function middleOf(points) {
  let [x, y, z] = [0, 0, 0];
  for (const point of points) {
    const [px, py, pz] = unitVector(point);
    x += px;
    y += py;
    z += pz;
  }
  if (Math.hypot(x, y, z) < 1e-9) return points[0] ?? null;
  return [(Math.atan2(y, x) * 180) / Math.PI, (Math.atan2(z, Math.hypot(x, y)) * 180) / Math.PI];
}
