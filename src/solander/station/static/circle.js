// @ts-check
// The map under a ring: what lies under it is the place, and the ring is as large as the place. The fields say the
// same in figures, and what is typed there moves the map.

document.documentElement.classList.add("scripted");

/** How much smaller or larger one step makes the ring, and how much closer a first look lies than the ring itself. */
const RING_STEP = Math.SQRT2, LOOK = 6;

/** Pixels by which the arrows move the map, and with Shift. */
const NUDGE = 12, FAR_NUDGE = 96;

/** @type {Readonly<Record<string, [number, number]>>} */
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

class Ring {
  /** @param {MapSheet} sheet @param {HTMLFormElement} form */
  constructor(sheet, form) {
    this.sheet = sheet;
    this.form = form;
    this.words = form.querySelector("#circle-words");
    this.circle = svgPart("circle", { class: "ring" });
    this.middle = svgPart("path", { class: "ring-middle" });
    sheet.parts.svg.append(this.circle, this.middle);
    this.typing = false;
    const told = sheet.told;
    sheet.told = () => {
      told();
      this.show();
    };
    sheet.box.tabIndex = 0;
    sheet.box.setAttribute("role", "application");
    sheet.box.setAttribute("aria-label", worded("The map under the ring, moved with the arrow keys"));
    this.hands();
    this.begin();
  }

  /** @param {string} name @returns {HTMLInputElement} */
  field(name) {
    return /** @type {HTMLInputElement} */ (this.form.elements.namedItem(name));
  }

  /** Metres that the field says; null where it says none. */
  get radius() {
    const found = /^\s*(\d+(?:[.,]\d+)?)\s*(k?)\s*m?\s*$/i.exec(this.field("radius").value);
    if (!found) return null;
    return Number((found[1] ?? "").replace(",", ".")) * (found[2] ? 1000 : 1);
  }

  /** Degrees that the fields say; null where they say none. @returns {[number, number] | null} */
  get degrees() {
    const [longitude, latitude] = ["longitude", "latitude"].map((name) => Number.parseFloat(this.field(name).value.replace(",", ".").replace("−", "-")));
    if (longitude === undefined || latitude === undefined || !(Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90)) return null;
    return [longitude, latitude];
  }

  begin() {
    const at = this.degrees, radius = Number(this.form.dataset.around) || this.radius || 30;
    if (at) this.sheet.jump({ middle: at, scale: (EARTH_M / radius / LOOK) * (Math.min(this.sheet.size.width, this.sheet.size.height) / 6) });
    else this.sheet.jump(this.sheet.whole());
    this.show();
  }

  show() {
    const { width, height } = this.sheet.size, [x, y] = [width / 2, height / 2];
    const reach = (this.radius ?? 0) / this.sheet.metres;
    for (const [key, value] of Object.entries({ cx: x, cy: y, r: Math.max(reach, 0.5) })) this.circle.setAttribute(key, String(value));
    this.middle.setAttribute("d", `M${x - 14} ${y}h9m10 0h9M${x} ${y - 14}v9m0 10v9`);
    const [longitude, latitude] = this.sheet.view.middle;
    if (!this.typing) {
      this.field("latitude").value = latitude.toFixed(6);
      this.field("longitude").value = longitude.toFixed(6);
    }
    if (this.words) {
      const told = {
        radius: distanceWords(this.radius ?? 0),
        latitude: degreesWords(latitude, worded("N"), worded("S")),
        longitude: degreesWords(longitude, worded("E"), worded("W")),
      };
      const closer = reach < 3 ? ` ${worded("Come closer to see how large it is.")}` : "";
      this.words.textContent = worded("A circle of %(radius)s around %(latitude)s, %(longitude)s.", told) + closer;
    }
  }

  /** @param {number} factor */
  resize(factor) {
    const metres = Math.min(5e6, Math.max(5, (this.radius ?? 30) * factor));
    const digits = 10 ** Math.max(0, Math.floor(Math.log10(metres)) - 1);
    this.field("radius").value = distanceWords(Math.round(metres / digits) * digits);
    this.show();
  }

  hands() {
    const { sheet, form } = this;
    sheet.box.addEventListener("keydown", (event) => {
      if (event.altKey || event.ctrlKey || event.metaKey) return;
      const way = WAYS[event.key];
      if (way) {
        const far = event.shiftKey ? FAR_NUDGE : NUDGE;
        sheet.jump(sheet.moved(way[0] * far, way[1] * far));
      } else if (event.key === "<" || event.key === ",") this.resize(1 / RING_STEP);
      else if (event.key === ">" || event.key === ".") this.resize(RING_STEP);
      else return;
      event.preventDefault();
      event.stopImmediatePropagation();
    }, true);
    sheet.box.addEventListener("click", (event) => {
      if (event.detail === 0) return;
      event.preventDefault();
      const { left, top } = sheet.box.getBoundingClientRect();
      const middle = sheet.degreesAt([event.clientX - left, event.clientY - top]);
      if (middle) sheet.go({ middle, scale: sheet.view.scale });
    });
    form.addEventListener("click", (event) => {
      const button = event.target instanceof Element && event.target.closest("[data-ring]");
      if (button instanceof HTMLElement) this.resize(button.dataset.ring === "larger" ? RING_STEP : 1 / RING_STEP);
    });
    form.addEventListener("input", (event) => {
      const name = event.target instanceof HTMLInputElement ? event.target.name : "";
      const at = this.degrees;
      this.typing = true;
      if ((name === "latitude" || name === "longitude") && at) sheet.jump({ middle: at, scale: sheet.view.scale });
      else this.show();
      this.typing = false;
    });
  }
}

/** @param {number} degrees @param {string} above @param {string} below */
function degreesWords(degrees, above, below) {
  return `${Math.abs(degrees).toFixed(3)}° ${degrees >= 0 ? above : below}`;
}

document.addEventListener("map-laid", (laid) => {
  const form = document.querySelector("#circle");
  if (form instanceof HTMLFormElement) new Ring(/** @type {CustomEvent<MapSheet>} */ (laid).detail, form);
});
