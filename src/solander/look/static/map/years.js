// @ts-check
// A range of years taken on the measuring rule, by two brackets: drag them or what is between them, or use the keys.
// What is taken goes to the fields beside it, to every map of the page and to the rows of its table.

/** Years that the keys move a bracket by. @type {Readonly<Record<string, number>>} */
const YEAR_KEYS = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10, Home: -1e4, End: 1e4 };

class YearsTaken {
  /** @param {HTMLElement} home */
  constructor(home) {
    this.home = home;
    this.first = Number(home.dataset.first);
    this.last = Number(home.dataset.last);
    this.rule = /** @type {HTMLElement} */ (home.querySelector(".years-rule"));
    this.fields = /** @type {HTMLInputElement[]} */ (["from", "to"].map((name) => home.querySelector(`input[name=${name}]`)));
    this.range = { from: this.first, to: this.last };
    this.brackets = [this.bracket("from", worded("From the year")), this.bracket("to", worded("To the year"))];
    this.band = document.createElement("div");
    this.band.className = "years-band";
    this.rule.append(this.band, ...this.brackets);
    this.hands();
    const [from, to] = this.fields.map((field) => Number.parseInt(field.value, 10));
    this.take(Number.isFinite(from) ? /** @type {number} */ (from) : this.first, Number.isFinite(to) ? /** @type {number} */ (to) : this.last);
  }

  /** @param {"from" | "to"} end @param {string} words */
  bracket(end, words) {
    const bracket = document.createElement("div");
    bracket.className = `years-bracket years-${end}`;
    bracket.tabIndex = 0;
    bracket.setAttribute("role", "slider");
    bracket.setAttribute("aria-label", words);
    bracket.setAttribute("aria-valuemin", String(this.first));
    bracket.setAttribute("aria-valuemax", String(this.last));
    bracket.addEventListener("keydown", (event) => {
      const years = YEAR_KEYS[event.key];
      if (years === undefined || event.altKey || event.ctrlKey || event.metaKey) return;
      event.preventDefault();
      event.stopPropagation();
      this.move(end, this.range[end] + years);
    });
    return bracket;
  }

  /** Moves one end, never past the other. @param {"from" | "to"} end @param {number} year */
  move(end, year) {
    const { from, to } = this.range;
    if (end === "from") this.take(Math.min(year, to), to);
    else this.take(from, Math.max(year, from));
  }

  /** @param {number} from @param {number} to */
  take(from, to) {
    const within = (/** @type {number} */ year) => Math.min(this.last, Math.max(this.first, Math.round(year)));
    this.range = { from: within(Math.min(from, to)), to: within(Math.max(from, to)) };
    this.show();
  }

  get isAll() {
    return this.range.from === this.first && this.range.to === this.last;
  }

  show() {
    const share = (/** @type {number} */ year) => ((year - this.first) / (this.last + 1 - this.first)) * 100;
    this.band.hidden = this.isAll;
    const left = share(this.range.from), right = share(this.range.to + 1);
    this.band.style.setProperty("left", `${left}%`);
    this.band.style.setProperty("width", `${right - left}%`);
    [left, right].forEach((at, i) => this.brackets[i]?.style.setProperty("left", `${at}%`));
    [this.range.from, this.range.to].forEach((year, i) => {
      this.brackets[i]?.setAttribute("aria-valuenow", String(year));
      const field = this.fields[i];
      if (field && document.activeElement !== field) field.value = this.isAll ? "" : String(year);
    });
    this.home.dispatchEvent(new CustomEvent("years-taken", { bubbles: true, detail: this.isAll ? null : this.range }));
  }

  hands() {
    /** @type {{what: "from" | "to" | "both" | "new", at: number, range: YearRange} | null} */
    let held = null;
    const yearAt = (/** @type {PointerEvent} */ event) => {
      const { left, width } = this.rule.getBoundingClientRect();
      return this.first + ((event.clientX - left) / width) * (this.last + 1 - this.first);
    };
    this.rule.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      const at = yearAt(event);
      held = { what: this.#meant(event, at), at, range: this.range };
      this.rule.setPointerCapture(event.pointerId);
      event.preventDefault();
    });
    this.rule.addEventListener("pointermove", (event) => {
      if (!held) return;
      const year = yearAt(event), { from, to } = held.range;
      if (held.what === "both") {
        const by = Math.max(this.first - from, Math.min(this.last - to, Math.round(year - held.at)));
        this.take(from + by, to + by);
      } else if (held.what === "new") this.take(Math.floor(Math.min(held.at, year)), Math.floor(Math.max(held.at, year)));
      else this.move(held.what, held.what === "from" ? year : year - 1);
    });
    for (const gone of ["pointerup", "pointercancel"]) this.rule.addEventListener(gone, () => { held = null; });
    for (const field of this.fields) {
      field.addEventListener("input", () => {
        const [from, to] = this.fields.map((one) => (/^\d{4}$/.test(one.value.trim()) ? Number(one.value) : Number.NaN));
        this.take(Number.isNaN(from ?? Number.NaN) ? this.first : Number(from), Number.isNaN(to ?? Number.NaN) ? this.last : Number(to));
      });
    }
    this.home.addEventListener("click", (event) => {
      if (event.target instanceof Element && event.target.closest("[data-do=all-years]")) {
        event.preventDefault();
        this.take(this.first, this.last);
      }
    });
  }

  /** What a pointer that goes down means: a bracket near it, the band between them, or new years. @param {PointerEvent} event @param {number} at @returns {"from" | "to" | "both" | "new"} */
  #meant(event, at) {
    const { from, to } = this.range;
    const near = (12 / this.rule.getBoundingClientRect().width) * (this.last + 1 - this.first);
    const [left, right] = [Math.abs(at - from), Math.abs(at - to - 1)];
    if (Math.min(left, right) < near) return left < right ? "from" : "to";
    return !this.isAll && at > from && at < to + 1 ? "both" : "new";
  }
}

/** Hides the rows of a table whose places have no print in these years. @param {YearRange | null} range @param {MapPlace[]} places */
function showRows(range, places) {
  const inRow = new Map(places.map((place) => [String(place.row), place]));
  for (const row of document.querySelectorAll("[data-place-row]")) {
    const place = row instanceof HTMLElement ? inRow.get(row.dataset.placeRow ?? "") : undefined;
    if (!(row instanceof HTMLElement) || !place) continue;
    const prints = printsWithin(place, range);
    row.hidden = Boolean(range) && prints === 0;
    const number = row.querySelector("[data-prints]");
    if (number) number.textContent = printsWords(prints);
  }
}

document.addEventListener("map-laid", (laid) => {
  const sheet = /** @type {CustomEvent<MapSheet>} */ (laid).detail;
  document.addEventListener("years-taken", (taken) => {
    const range = /** @type {CustomEvent<YearRange | null>} */ (taken).detail;
    sheet.count(range);
    showRows(range, sheet.places);
  });
  document.querySelectorAll("[data-years]").forEach((home) => {
    if (home instanceof HTMLElement) new YearsTaken(home);
  });
});
