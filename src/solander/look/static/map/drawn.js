// @ts-check
// What lies on the sheet of map as parts of a drawing: circles, marks that can be taken in hand, labels. Comes after
// marks.js and the vendored d3-geo.

/** Metres in a radian of the earth: its mean radius (IUGG). */
const EARTH_M = 6_371_008.8;

const SVG_NAMES = "http://www.w3.org/2000/svg";

/** @param {string} name @param {Record<string, string | number>} [attributes] */
function svgPart(name, attributes = {}) {
  const part = document.createElementNS(SVG_NAMES, name);
  for (const [key, value] of Object.entries(attributes)) part.setAttribute(key, String(value));
  return part;
}

/** The circles of a mark that are large enough to be seen as what they are. @param {Mark} mark @param {D3Path} path */
function trueCircles(mark, path) {
  return mark.spots
    .filter((spot) => spot.reach > DOT)
    .map((spot) => {
      const circle = d3.geoCircle().center(spot.place.at).radius((spot.place.radius / EARTH_M) * (180 / Math.PI)).precision(4);
      return svgPart("path", { class: "map-circle", d: path(circle()) ?? "" });
    });
}

/** What can be taken in hand: a link to the place, or a button where several lie together. @param {Mark} mark */
function markPart(mark) {
  const [only] = mark.spots.length === 1 ? mark.spots : [];
  const part = only ? svgPart("a", { href: only.place.href }) : svgPart("g", { role: "button" });
  part.classList.add("map-mark");
  part.setAttribute("aria-label", markWords(mark));
  const hold = svgPart("circle", { class: "map-hold", cx: mark.x, cy: mark.y, r: APART / 2 });
  part.append(hold);
  if (mark.reach <= DOT || mark.spots.length > 1) {
    part.append(svgPart("circle", { class: "map-dot", cx: mark.x, cy: mark.y, r: mark.spots.length > 1 ? DOT + 3 : DOT }));
  }
  return part;
}

/** How large a number is written, in the size of the page's type; map.css says the same. */
const NUMBER_SIZES = { few: 1, some: 1.25, many: 1.75 };

/** @param {number} prints @returns {keyof typeof NUMBER_SIZES} */
function numberSize(prints) {
  return prints >= 100 ? "many" : prints >= 10 ? "some" : "few";
}

/** @param {number} prints */
function numberWords(prints) {
  return prints ? prints.toLocaleString("en") : "";
}

/** The name of a mark and its number of prints, larger where there are many. @param {Mark} mark */
function labelPart(mark) {
  const text = svgPart("text", { class: "map-label", dy: ".35em" });
  const number = svgPart("tspan", { class: numberSize(mark.prints), dx: 6 });
  number.textContent = numberWords(mark.prints);
  const name = svgPart("tspan");
  name.textContent = markName(mark);
  text.append(name, number);
  return text;
}
