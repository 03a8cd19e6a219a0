// @ts-check
// The measuring rule on which one may come closer, from all years down to a day. Without this script the drawing
// that stands in its place serves. Comes after ruler-days.js and ruler-bars.js; ruler.js puts it into the page.

const CENTURY = 36525;

/** The tone of a bar, as in the style sheet. */
const FULL_TONE = 0.38;

/** Pixels of a lane: what 5,000 bars may be pressed to, and what a few are given. */
const LANE_LEAST = 3, LANE_MOST = 12;

/** Pixels of a lane that is easily read: while all bars can have that, none is left to be scrolled to. */
const LANE_EASY = 5;

/** Heights of the type: the strip with the figures, where these stand, and the least and most for the bars. */
const STRIP = 2.75, FIGURES_AT = 2.125, ROOM_LEAST = 7, ROOM_MOST = 16;

/** Heights of the type: short, middle and tall marks. */
const MARKS = [0.375, 0.625, 0.875];

/** Share of the window's height that the bars may take, so that the first row of prints is seen below. */
const ROOM_SHARE = 0.25;

/** Milliseconds of a step, and of quiet before the stretch is said aloud. */
const STEP_TIME = 140, SAID_AFTER = 500;

function ruleParts() {
  const ruler = worded("Time ruler"), earlier = worded("Earlier"), later = worded("Later");
  const closer = worded("Closer"), wider = worded("Wider"), all = worded("All years");
  return `
<div class="rule-box" role="group" tabindex="0" aria-label="${ruler}" aria-describedby="rule-keys">
  <svg class="ruler rule-strip" width="100%"><path class="rule-mark"/><g class="rule-figures"/></svg>
  <svg class="rule-bars" width="100%">
    <defs><pattern id="rule-hatch" width="5" height="5" patternUnits="userSpaceOnUse"
      patternTransform="rotate(45)"><path class="clash-line" d="M1 0V5"/></pattern></defs>
    <g class="rule-lines"><g class="rule-fades"/><path class="range"/><path class="likely"/>
      <path class="clash"/></g>
    <path class="edge clash-edge"/><path class="ends"/><path class="guess"/>
    <a class="rule-print" tabindex="-1" draggable="false"><title></title><rect rx="1"/></a>
  </svg>
</div>
<div class="rule-foot">
  <p class="rule-buttons"><button type="button" data-do="earlier">${earlier}</button>
    <button type="button" data-do="later">${later}</button><button type="button" data-do="closer">${closer}</button>
    <button type="button" data-do="wider">${wider}</button><button type="button" data-do="all">${all}</button></p>
  <p class="rule-words"><span></span><a hidden></a></p>
  <details class="rule-help"><summary>${worded("How to read it")}</summary><p>${worded("A bar is all the time that a print may be from, its darker part the likelier time, the stroke the best guess. An end that fades is open. A bar that is hatched, or crossed where it is thin, contradicts something else that was said.")}</p>
    <p id="rule-keys">${worded("Turn the wheel over the figures or spread two fingers to come closer, and drag to go along. Keys: plus and minus, left and right, Home and End; up and down go from print to print, Enter opens it.")}</p></details>
  <p class="unseen" role="status"></p>
</div>`;
}

/**
 * The first and last day that the rule or any bar without an open end has.
 * @param {Bar[]} bars @param {[number, number]} all @returns {[number, number]}
 */
function outerDays(bars, all) {
  let [first, last] = all;
  for (const bar of bars) {
    if (!bar.left) first = Math.min(first, bar.from);
    if (!bar.right) last = Math.max(last, bar.to);
  }
  return [first, last];
}

/** Puts the parts beside the drawing, which stays for printing. @param {HTMLElement} home */
function rulePartsIn(home) {
  home.querySelector("svg")?.setAttribute("class", "rule-printed");
  home.insertAdjacentHTML("beforeend", ruleParts());
  const part = (/** @type {string} */ found) => /** @type {HTMLElement} */ (home.querySelector(found));
  const drawn = (/** @type {string} */ found) => /** @type {SVGElement} */ (home.querySelector(found));
  for (let k = 0; k < FADE_STEPS; k += 1) {
    const path = document.createElementNS(drawn("svg").namespaceURI, "path");
    path.setAttribute("class", "fade");
    path.setAttribute("stroke-opacity", String(FULL_TONE * (1 - (k + 0.5) / FADE_STEPS)));
    drawn(".rule-fades").append(path);
  }
  return {
    box: part(".rule-box"),
    strip: drawn(".rule-strip"),
    sheet: drawn(".rule-bars"),
    print: drawn(".rule-print"),
    buttons: part(".rule-buttons"),
    words: part(".rule-words span"),
    link: /** @type {HTMLAnchorElement} */ (part(".rule-words a")),
    status: part("[role=status]"),
  };
}

class Rule {
  /** @param {HTMLElement} home @param {RuleData} data */
  constructor(home, data) {
    const parts = rulePartsIn(home);
    this.box = parts.box;
    this.strip = parts.strip;
    this.sheet = parts.sheet;
    this.print = parts.print;
    this.words = parts.words;
    this.link = parts.link;
    this.status = parts.status;
    this.data = data;
    this.bars = data.bars.map((row) => barOf(row, data));
    this.classes = vaguenessOf(this.bars);
    this.outer = outerDays(this.bars, data.all);
    /** @type {View} */
    this.view = { from: data.all[0], days: data.all[1] - data.all[0], width: 0, em: 16 };
    /** Where a step that is under way leads. @type {{from: number, days: number} | null} */
    this.goal = null;
    this.scope = { from: 0, to: 0, scale: 0 };
    this.laid = layInLanes([], [], this.scope);
    this.lane = LANE_MOST;
    this.room = { most: 0, tall: 0 };
    /** The print pointed at. @type {number | null} */
    this.current = null;
    this.reveals = false;
    this.waits = false;
    this.said = 0;
    this.figures = "";
    this.measured = "";
    const sizes = new ResizeObserver(() => this.measure());
    sizes.observe(this.box);
    // The buttons grow with the type, which may grow without the box.
    sizes.observe(parts.buttons);
    addEventListener("resize", () => this.measure());
    this.measure();
  }

  /** Takes the size of the type and of the box, and how many lanes all years need. */
  measure() {
    const em = parseFloat(getComputedStyle(document.documentElement).fontSize);
    // Not the window's inner height: on a phone that changes while one scrolls.
    const high = document.documentElement.clientHeight;
    const measured = [em, this.box.clientWidth, high].join();
    if (measured === this.measured) return;
    this.measured = measured;
    const most = kept(ROOM_SHARE * high, ROOM_LEAST * em, ROOM_MOST * em);
    this.strip.setAttribute("height", String(STRIP * em));
    this.box.style.maxHeight = `${STRIP * em + most}px`;
    const view = { from: this.data.all[0], days: this.data.all[1] - this.data.all[0] };
    this.view = { ...this.view, em, width: this.box.clientWidth };
    this.room = { most, tall: 0 };
    this.room.tall = Math.min(most, this.heightOf(this.layFor(view)));
    this.scope.scale = 0;
    this.show();
  }

  /** Lanes for a stretch and half as much again to both sides. @param {{from: number, days: number}} view */
  layFor({ from, days }) {
    const scale = 2 ** Math.floor(Math.log2(this.view.width / days));
    this.scope = { from: from - days / 2, to: from + 1.5 * days, scale };
    return layInLanes(this.bars, this.classes, this.scope);
  }

  /** Fits the lanes' height to the room, vague bars last, and says how high all are together. @param {Laid} laid */
  heightOf({ count, near }) {
    const pixel = this.view.em / 16;
    const fitting = (/** @type {number} */ lanes) => Math.floor((this.room.most - 2 * OVER_LANES) / Math.max(1, lanes));
    const lane = fitting(count) >= LANE_EASY * pixel ? fitting(count) : fitting(near);
    this.lane = kept(lane, LANE_LEAST * pixel, LANE_MOST * pixel);
    return 2 * OVER_LANES + count * this.lane;
  }

  show() {
    if (this.waits) return;
    this.waits = true;
    requestAnimationFrame(() => {
      this.waits = false;
      if (this.view.width > 0) this.draw();
    });
  }

  draw() {
    this.settle();
    this.drawStrip();
    this.drawBars();
    this.drawPrint();
    this.tell();
  }

  /**
   * Lays the bars anew when the scale has doubled or halved, or the lanes laid so far end; not at every step, so
   * that bars stay where they are while one goes along.
   */
  settle() {
    const { from, days, width } = this.view;
    const scale = 2 ** Math.floor(Math.log2(width / days));
    if (scale === this.scope.scale && from >= this.scope.from && from + days <= this.scope.to) return;
    this.laid = this.layFor(this.view);
    this.sheet.setAttribute("height", String(Math.max(this.room.tall, this.heightOf(this.laid))));
  }

  drawStrip() {
    const mark = (/** @type {number} */ day, /** @type {number} */ high) =>
      `M${Math.round(placeOf(this.view, day)) + 0.5} 0v${high * this.view.em}`;
    const marks = marksOf(this.view).map((days, i) => days.map((day) => mark(day, MARKS[i] ?? 0)).join(""));
    this.strip.querySelector(".rule-mark")?.setAttribute("d", marks.join(""));
    const figures = figuresOf(this.view);
    const texts = figures.map((figure) => figure.text).join();
    const group = /** @type {SVGElement} */ (this.strip.querySelector(".rule-figures"));
    if (texts !== this.figures) this.write(figures, group);
    this.figures = texts;
    figures.forEach((figure, i) => {
      const x = String(Math.round(figure.x + 0.3 * this.view.em));
      group.children[i]?.querySelector("text")?.setAttribute("x", x);
    });
  }

  /**
   * Figures anew; those of a decade that has an address are links.
   * @param {Figure[]} figures @param {SVGElement} group
   */
  write(figures, group) {
    if (group.contains(document.activeElement)) this.box.focus();
    group.replaceChildren(
      ...figures.map((figure) => {
        const href = figure.year === null ? undefined : this.data.links[figure.year];
        const holder = document.createElementNS(this.strip.namespaceURI, href ? "a" : "g");
        const text = document.createElementNS(this.strip.namespaceURI, "text");
        if (href) holder.setAttribute("href", href);
        text.setAttribute("class", "rule-figure");
        text.setAttribute("y", String(FIGURES_AT * this.view.em));
        text.textContent = figure.text;
        holder.append(text);
        return holder;
      }),
    );
  }

  drawBars() {
    const seen = this.box.clientHeight;
    const first = Math.max(0, Math.floor((this.box.scrollTop - OVER_LANES) / this.lane) - 1);
    const last = Math.ceil((this.box.scrollTop + seen) / this.lane) + 1;
    const lines = linesOf(this.bars, this.laid.lanes, { view: this.view, lane: this.lane, first, last });
    const { fades, ...others } = lines;
    this.sheet.querySelectorAll(".fade").forEach((path, k) => path.setAttribute("d", fades[k] ?? ""));
    for (const [name, d] of Object.entries(others)) this.sheet.querySelector(`.${name}`)?.setAttribute("d", d);
    this.sheet.querySelector(".rule-lines")?.setAttribute("stroke-width", String(barHeights(this.lane).thick));
    this.sheet.querySelector(".guess")?.setAttribute("stroke-width", this.lane >= LANE_WITH_ENDS ? "2" : "1");
  }

  /** The print pointed at: a link over its bar. */
  drawPrint() {
    const bar = this.current === null ? undefined : this.bars[this.current];
    const lane = this.current === null ? -1 : (this.laid.lanes[this.current] ?? -1);
    const rect = /** @type {Element} */ (this.print.querySelector("rect"));
    const { from, days } = this.view;
    if (!bar || lane < 0 || bar.to < from || bar.from > from + days) {
      rect.setAttribute("width", "0");
      return;
    }
    const middle = laneMiddle(lane, this.lane);
    if (this.reveals) this.scrollTo(middle);
    const [left, right] = [bar.from, bar.to].map((day) => kept(placeOf(this.view, day), 1, this.view.width - 1));
    const wide = Math.max(8, (right ?? 0) - (left ?? 0));
    const tall = Math.max(6, this.lane - 2);
    const x = kept(((left ?? 0) + (right ?? 0) - wide) / 2, 1, this.view.width - wide - 1);
    const places = { x, y: middle - tall / 2, width: wide, height: tall };
    Object.entries(places).forEach(([name, value]) => rect.setAttribute(name, String(value)));
  }

  /** @param {number} middle of the lane that is to be seen */
  scrollTo(middle) {
    this.reveals = false;
    const seen = this.box.clientHeight - STRIP * this.view.em;
    const top = this.box.scrollTop;
    if (middle < top + this.lane || middle > top + seen - this.lane) this.box.scrollTop = middle - seen / 2;
  }

  /** Says the stretch and how many prints may be from then; aloud only once it stands still. */
  tell() {
    const end = this.view.from + this.view.days;
    const seen = this.bars.filter((bar) => bar.to > this.view.from && bar.from < end).length;
    const all = this.bars.length;
    const stretch = stretchWords(Math.floor(this.view.from + 0.01), Math.ceil(end - 0.01) - 1);
    const counted = (/** @type {number} */ n) =>
      n === 1 ? worded("1 print") : worded("%(num)s prints", { num: n });
    const part = worded("%(seen)s of %(prints)s may be from then", { seen, prints: counted(all) });
    const words = `${stretch}: ${seen === all ? counted(all) : part}`;
    if (words === this.words.textContent) return;
    const first = this.words.textContent === "";
    this.words.textContent = words;
    clearTimeout(this.said);
    if (!first) this.said = window.setTimeout(() => (this.status.textContent = words), SAID_AFTER);
  }

  /** Points at a print, or at none. @param {number | null} i */
  choose(i) {
    if (i === this.current) return;
    const bar = i === null ? undefined : this.bars[i];
    this.current = bar ? i : null;
    const words = bar ? barWords(bar) : "";
    this.words.hidden = Boolean(bar);
    this.link.hidden = !bar;
    this.link.textContent = words;
    this.link.href = bar?.href ?? "";
    /** @type {Element} */ (this.print.querySelector("title")).textContent = words;
    if (bar) {
      this.print.setAttribute("href", bar.href);
      this.print.setAttribute("aria-label", words);
    } else {
      this.print.removeAttribute("href");
      this.print.removeAttribute("aria-label");
    }
    this.show();
  }

  /** @param {{from: number, days: number}} view @param {boolean} [slowly] */
  go(view, slowly = false) {
    const days = kept(view.days, 1, Math.max(CENTURY, this.outer[1] - this.outer[0]));
    const ends = [this.outer[0], this.outer[1] - days];
    const goal = { from: kept(view.from, Math.min(...ends), Math.max(...ends)), days };
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    this.goal = slowly && !calm ? goal : null;
    if (this.goal) this.step({ ...this.view }, goal, performance.now());
    else Object.assign(this.view, goal);
    this.show();
  }

  /** @param {View} begin @param {{from: number, days: number}} goal @param {number} began */
  step(begin, goal, began) {
    requestAnimationFrame((now) => {
      if (this.goal !== goal) return;
      const done = kept((now - began) / STEP_TIME, 0, 1);
      const eased = 1 - (1 - done) ** 3;
      this.view.days = begin.days * (goal.days / begin.days) ** eased;
      this.view.from = begin.from + (goal.from - begin.from) * eased;
      if (done < 1) this.step(begin, goal, began);
      else this.goal = null;
      this.show();
    });
  }

  /**
   * Closer by less than 1, wider by more; the day stays in its place.
   * @param {number} by @param {number} [day] @param {boolean} [slowly]
   */
  zoom(by, day, slowly = false) {
    const now = this.goal ?? this.view;
    const fixed = day ?? this.middle();
    const days = kept(now.days * by, 1, Math.max(CENTURY, this.outer[1] - this.outer[0]));
    // At the closest one day is seen, not the halves of two.
    const from = days === 1 ? Math.floor(fixed) : fixed - ((fixed - now.from) * days) / now.days;
    this.go({ from, days }, slowly);
  }

  /** The best guess of the print pointed at where it is in sight, else the middle. */
  middle() {
    const now = this.goal ?? this.view;
    const guess = this.current === null ? null : this.bars[this.current]?.guess;
    const inSight = typeof guess === "number" && guess >= now.from && guess <= now.from + now.days;
    return inSight ? guess + 0.5 : now.from + now.days / 2;
  }

  /** @param {string} what the word of a button or key */
  act(what) {
    const { from, days } = this.goal ?? this.view;
    const along = Math.max(1, days / 4);
    /** @type {Record<string, () => void>} */
    const acts = {
      earlier: () => this.go({ from: from - along, days }, true),
      later: () => this.go({ from: from + along, days }, true),
      closer: () => this.zoom(0.5, undefined, true),
      wider: () => this.zoom(2, undefined, true),
      all: () => this.go({ from: this.data.all[0], days: this.data.all[1] - this.data.all[0] }, true),
      first: () => this.go({ from: this.data.all[0], days }, true),
      last: () => this.go({ from: this.data.all[1] - days, days }, true),
      next: () => this.visit(1),
      before: () => this.visit(-1),
      leave: () => this.leave(),
    };
    acts[what]?.();
  }

  /** Goes to the print after or before in the collection's order, at first to one in sight. @param {1 | -1} by */
  visit(by) {
    const { from, days } = this.view;
    const inSight = (/** @type {Bar} */ bar) => bar.guess !== null && bar.guess >= from && bar.guess < from + days;
    const begin = this.bars.findIndex(inSight);
    const i = this.current === null ? Math.max(0, begin) : kept(this.current + by, 0, this.bars.length - 1);
    const bar = this.bars[i];
    if (!bar) return;
    this.choose(i);
    if (!inSight(bar)) this.go({ from: (bar.guess ?? (bar.from + bar.to) / 2) - days / 2, days });
    this.reveals = true;
    this.print.focus({ preventScroll: true });
  }

  leave() {
    if (this.box.contains(document.activeElement)) this.box.focus({ preventScroll: true });
    this.choose(null);
  }
}
