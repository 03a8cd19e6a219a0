// @ts-check
// Places as marks on a sheet of map: how many prints each holds, which lie too close together to be told apart, where
// their names have room, in what order they are read. Knows nothing of the page.

/**
 * A place as the page tells it: degrees, metres, prints by year of their best guess, and prints without one. See
 * look/map_figure.py.
 * @typedef {[name: string, href: string, longitude: number, latitude: number, radius: number,
 *   years: [year: number, prints: number][], undated: number]} PlaceRow
 * @typedef {{name: string, href: string, at: [number, number], unit: UnitVector, radius: number, years: [number, number][],
 *   undated: number, row: number}} MapPlace
 * @typedef {{from: number, to: number}} YearRange
 * @typedef {[x: number, y: number, z: number]} UnitVector from the middle of the earth, of length 1
 */

/**
 * Where a place lies on the sheet, in pixels; `reach` is its true radius there.
 * @typedef {{place: MapPlace, prints: number, x: number, y: number, reach: number}} Spot
 * @typedef {{spots: Spot[], prints: number, x: number, y: number, reach: number}} Mark
 * @typedef {{x: number, y: number, anchor: "start" | "end" | "middle"}} LabelSpot
 * @typedef {{left: number, top: number, right: number, bottom: number}} MapBox
 */

/** Pixels: marks closer than this can't be told apart by a finger or an eye. */
const APART = 26;

/** Pixels: the least radius of a dot that stands for a circle too small to be seen. */
const DOT = 4;

/** Pixels from the top of one line of marks to the next, where they are read line by line. */
const READING_LINE = 48;

/** Pixels: height of a name, and the space between it and its mark. */
const LABEL_HEIGHT = 22, LABEL_GAP = 6;

/** @param {PlaceRow} row @param {number} place @returns {MapPlace} */
function mapPlace([name, href, longitude, latitude, radius, years, undated], place) {
  const at = /** @type {[number, number]} */ ([longitude, latitude]);
  return { name, href, at, unit: unitVector(at), radius, years, undated, row: place };
}

/** @param {[number, number]} degrees @returns {UnitVector} */
function unitVector([longitude, latitude]) {
  const [l, p] = [(longitude * Math.PI) / 180, (latitude * Math.PI) / 180];
  return [Math.cos(p) * Math.cos(l), Math.cos(p) * Math.sin(l), Math.sin(p)];
}

/** How many prints of a place lie in these years; all of them where no years are chosen. @param {MapPlace} place @param {YearRange | null} range */
function printsWithin(place, range) {
  let prints = range ? 0 : place.undated;
  for (const [year, count] of place.years) {
    if (!range || (year >= range.from && year <= range.to)) prints += count;
  }
  return prints;
}

/**
 * Marks for these spots: the ones with most prints first, and with each those that lie too close to be told apart.
 * Circles that are seen at their true size keep apart.
 * @param {Spot[]} spots @returns {Mark[]}
 */
function gatherSpots(spots) {
  /** @type {Mark[]} */
  const marks = [];
  /** Marks by squares of `APART` pixels. @type {Map<string, Mark[]>} */
  const squares = new Map();
  for (const spot of [...spots].sort((a, b) => b.prints - a.prints || a.place.row - b.place.row)) {
    const [column, line] = [Math.floor(spot.x / APART), Math.floor(spot.y / APART)];
    const near = spot.reach < APART ? nearbyMark(squares, spot, column, line) : undefined;
    if (near) {
      near.spots.push(spot);
      near.prints += spot.prints;
      continue;
    }
    const mark = { spots: [spot], prints: spot.prints, x: spot.x, y: spot.y, reach: spot.reach };
    marks.push(mark);
    const square = `${column} ${line}`;
    squares.set(square, [...(squares.get(square) ?? []), mark]);
  }
  return marks;
}

/** @param {Map<string, Mark[]>} squares @param {Spot} spot @param {number} column @param {number} line */
function nearbyMark(squares, spot, column, line) {
  for (let i = column - 1; i <= column + 1; i += 1) {
    for (let j = line - 1; j <= line + 1; j += 1) {
      const found = squares.get(`${i} ${j}`)?.find((mark) => Math.hypot(mark.x - spot.x, mark.y - spot.y) < APART && mark.reach < APART);
      if (found) return found;
    }
  }
  return undefined;
}

/** As a page is read: line by line, and in each from left to right. @param {Mark[]} marks */
function inReadingOrder(marks) {
  const line = (/** @type {Mark} */ mark) => Math.floor(mark.y / READING_LINE);
  return [...marks].sort((a, b) => line(a) - line(b) || a.x - b.x || a.y - b.y);
}

/** @param {number} prints */
function printsWords(prints) {
  return prints === 1 ? worded("1 print") : worded("%(num)s prints", { num: prints });
}

/** The name under which a mark goes: "Bergen", "Bergen and 3 more". @param {Mark} mark */
function markName(mark) {
  const first = mark.spots[0]?.place.name ?? "";
  return mark.spots.length > 1 ? worded("%(name)s and %(num)s more", { name: first, num: mark.spots.length - 1 }) : first;
}

/** What a mark says: "Bergen, 12 prints, a circle of 9 km". @param {Mark} mark */
function markWords(mark) {
  const told = `${markName(mark)}, ${printsWords(mark.prints)}`;
  return mark.spots.length > 1 ? told : `${told}, ${circleWords(mark.spots[0]?.place.radius ?? 0)}`;
}

/** @param {number} metres */
function circleWords(metres) {
  return worded("a circle of %(size)s", { size: distanceWords(metres) });
}

/** A radius or a length as a person says it. @param {number} metres */
function distanceWords(metres) {
  if (metres < 1000) return `${Math.round(metres)} m`;
  const km = metres / 1000;
  return `${km < 10 ? Math.round(km * 10) / 10 : Math.round(km).toLocaleString("en")} km`;
}

/**
 * Where each mark's label has room, the fullest marks first; nothing for those without. `widths` are those of the
 * labels in pixels.
 * @param {Mark[]} marks @param {number[]} widths @param {{width: number, height: number}} sheet
 * @returns {(LabelSpot | null)[]}
 */
function labelSpots(marks, widths, sheet) {
  const taken = marks.map((mark) => aroundMark(mark));
  const order = marks.map((_, i) => i).sort((a, b) => (marks[b]?.prints ?? 0) - (marks[a]?.prints ?? 0));
  /** @type {(LabelSpot | null)[]} */
  const found = marks.map(() => null);
  for (const i of order) {
    const mark = /** @type {Mark} */ (marks[i]);
    for (const [spot, box] of labelPlaces(mark, widths[i] ?? 0)) {
      const inside = box.left > 0 && box.top > 0 && box.right < sheet.width && box.bottom < sheet.height;
      if (!inside || taken.some((other, j) => j !== i && boxesMeet(box, other))) continue;
      found[i] = spot;
      taken.push(box);
      break;
    }
  }
  return found;
}

/** @param {Mark} mark @returns {MapBox} */
function aroundMark(mark) {
  const reach = Math.min(Math.max(mark.reach, DOT), APART) + 2;
  return { left: mark.x - reach, top: mark.y - reach, right: mark.x + reach, bottom: mark.y + reach };
}

/** Right of its mark, left, below, above. @param {Mark} mark @param {number} width @returns {[LabelSpot, MapBox][]} */
function labelPlaces(mark, width) {
  const side = Math.min(Math.max(mark.reach, DOT), APART * 2) + LABEL_GAP, half = LABEL_HEIGHT / 2;
  /** @type {[number, number, LabelSpot["anchor"]][]} */
  const tried = [
    [mark.x + side, mark.y, "start"], [mark.x - side, mark.y, "end"],
    [mark.x, mark.y + side + half, "middle"], [mark.x, mark.y - side - half, "middle"],
  ];
  return tried.map(([x, y, anchor]) => {
    const left = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
    return [{ x, y, anchor }, { left, top: y - half, right: left + width, bottom: y + half }];
  });
}

/** @param {MapBox} one @param {MapBox} other */
function boxesMeet(one, other) {
  return one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom;
}
