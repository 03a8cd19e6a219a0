// @ts-check
// Hands on the sheet of map: keys, wheel, fingers, buttons, and the words under it. Comes after sheet.js.

/** What the keys do; those of marks step in reading order. @type {Readonly<Record<string, string>>} */
const MAP_KEYS = {
  "+": "closer", "=": "closer", "-": "wider", Home: "all", "0": "all", ArrowLeft: "before", ArrowUp: "before",
  ArrowRight: "next", ArrowDown: "next", Escape: "leave", Enter: "open", " ": "open",
};

/** With Shift the arrows move the sheet, by this share of it. @type {Readonly<Record<string, [number, number]>>} */
const MAP_MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const MOVE_SHARE = 0.2;

/** How much closer a step, and a pixel of the wheel, leads. */
const MAP_STEP = 2, MAP_WHEEL = 0.0022;

/** Pixels a pointer may tremble and still mean a click. */
const MAP_TREMBLE = 5;

/** Places of a gathered mark that are named under the map. */
const NAMED_TOGETHER = 8;

class MapHands {
  /** @param {HTMLElement} home @param {MapSheet} sheet */
  constructor(home, sheet) {
    this.home = home;
    this.sheet = sheet;
    this.words = home.querySelector(".map-words");
    sheet.told = () => this.tell();
    home.addEventListener("click", (event) => {
      const button = event.target instanceof Element && event.target.closest("[data-do]");
      if (button instanceof HTMLElement) this.act(button.dataset.do ?? "");
    });
    sheet.box.addEventListener("keydown", (event) => this.key(event));
    sheet.box.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    sheet.parts.marks.addEventListener("focusin", (event) => this.take(event, false));
    sheet.parts.marks.addEventListener("pointerover", (event) => this.take(event, true));
    this.pointers();
    new ResizeObserver(() => sheet.resized()).observe(sheet.box);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const move = event.shiftKey ? MAP_MOVES[event.key] : undefined;
    const what = MAP_KEYS[event.key];
    if (move) {
      const { width, height } = this.sheet.size;
      this.sheet.go(this.sheet.moved(move[0] * width * MOVE_SHARE, move[1] * height * MOVE_SHARE));
    } else if (what === "open") {
      if (!this.openMark()) return;
    } else if (what && !(what === "leave" && this.sheet.current < 0)) {
      this.act(what);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** @param {string} what */
  act(what) {
    const { sheet } = this;
    if (what === "closer") sheet.go(sheet.zoomed(MAP_STEP, this.#held()));
    else if (what === "wider") sheet.go(sheet.zoomed(1 / MAP_STEP, this.#held()));
    else if (what === "all") sheet.go(sheet.whole());
    else if (what === "next") sheet.choose((sheet.current + 1) % Math.max(1, sheet.marks.length), true);
    else if (what === "before") sheet.choose(sheet.current > 0 ? sheet.current - 1 : sheet.marks.length - 1, true);
    else if (what === "leave") sheet.choose(-1);
  }

  /** Where the mark in hand lies: it stays there when one comes closer. @returns {[number, number] | undefined} */
  #held() {
    const { mark } = this.sheet;
    return mark ? [mark.x, mark.y] : undefined;
  }

  /** Comes closer to a mark of several places; a single one is a link, and opens by itself. */
  openMark() {
    const { mark } = this.sheet;
    if (!mark || mark.spots.length < 2) return false;
    const to = this.sheet.around(mark.spots.map((spot) => spot.place));
    if (to.scale > this.sheet.view.scale * 1.05) this.sheet.go(to);
    return true;
  }

  /** Takes a mark in hand that is pointed at or has the focus. @param {Event} event @param {boolean} pointed */
  take(event, pointed) {
    const part = event.target instanceof Element && event.target.closest(".map-mark");
    const place = part ? [...this.sheet.parts.marks.children].indexOf(part) : -1;
    if (place < 0 || place === this.sheet.current) return;
    if (pointed && this.sheet.parts.marks.contains(document.activeElement)) return;
    this.sheet.choose(place);
  }

  /** The wheel comes closer while the sheet is in hand, and always with Ctrl, as a pinch on a trackpad comes. @param {WheelEvent} event */
  wheel(event) {
    if (!event.ctrlKey && !this.sheet.box.contains(document.activeElement)) return;
    event.preventDefault();
    const pixels = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 30 : 1;
    const strength = event.ctrlKey && Math.abs(event.deltaY) < 20 ? 5 * MAP_WHEEL : MAP_WHEEL;
    this.sheet.jump(this.sheet.zoomed(Math.exp(-event.deltaY * pixels * strength), this.pixel(event)), true);
    clearTimeout(this.settling);
    this.settling = setTimeout(() => this.sheet.draw(), 150);
  }

  /** @type {ReturnType<typeof setTimeout> | undefined} */
  settling = undefined;

  /** @param {{clientX: number, clientY: number}} event @returns {[number, number]} */
  pixel(event) {
    const { left, top } = this.sheet.box.getBoundingClientRect();
    return [event.clientX - left, event.clientY - top];
  }

  /** One pointer drags (a finger lets the page scroll: two fingers drag and spread). */
  pointers() {
    /** @type {Map<number, [number, number]>} */
    const held = new Map();
    let moved = false;
    const { box } = this.sheet;
    box.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      if (held.size === 0) moved = false;
      held.set(event.pointerId, this.pixel(event));
    });
    box.addEventListener("pointermove", (event) => {
      const before = held.get(event.pointerId);
      if (!before || (event.pointerType === "touch" && held.size < 2)) return;
      const now = this.pixel(event);
      if (!moved && Math.hypot(now[0] - before[0], now[1] - before[1]) <= MAP_TREMBLE) return;
      if (!moved) box.setPointerCapture(event.pointerId);
      moved = true;
      this.drag([...held.values()], event.pointerId, held, now);
    });
    for (const gone of ["pointerup", "pointercancel", "lostpointercapture"]) {
      box.addEventListener(gone, (event) => {
        if (held.delete(/** @type {PointerEvent} */ (event).pointerId) && moved) this.sheet.draw();
      });
    }
    box.addEventListener("dragstart", (event) => event.preventDefault());
    box.addEventListener("click", (event) => {
      const byKey = event.detail === 0;
      if (moved && !byKey) {
        event.preventDefault();
        event.stopImmediatePropagation();
      } else if (event.target instanceof Element && event.target.closest("g.map-mark")) {
        this.openMark();
      }
      moved = false;
    }, true);
  }

  /** @param {[number, number][]} before @param {number} which @param {Map<number, [number, number]>} held @param {[number, number]} now */
  drag(before, which, held, now) {
    const last = /** @type {[number, number]} */ (held.get(which));
    held.set(which, now);
    const after = [...held.values()];
    const { sheet } = this;
    if (after.length < 2) {
      sheet.jump(sheet.moved(last[0] - now[0], last[1] - now[1]), true);
      return;
    }
    const [mid, spread] = midAndSpread(before), [newMid, newSpread] = midAndSpread(after);
    sheet.jump(sheet.moved(mid[0] - newMid[0], mid[1] - newMid[1]), true);
    sheet.jump(sheet.zoomed(newSpread / spread, newMid), true);
  }

  tell() {
    if (!(this.words instanceof HTMLElement)) return;
    const { mark, marks, range } = this.sheet;
    if (mark) this.words.replaceChildren(...markTold(mark));
    else {
      const prints = marks.reduce((sum, one) => sum + one.prints, 0);
      const places = marks.reduce((sum, one) => sum + one.spots.length, 0);
      const years = range ? ` from ${range.from} to ${range.to}` : "";
      const seen = { prints: printsWords(prints) + years, places };
      this.words.textContent = places === 1
        ? worded("%(prints)s at one place in sight", seen)
        : worded("%(prints)s at %(places)s places in sight", seen);
    }
  }
}

/** @param {[number, number][]} points @returns {[[number, number], number]} */
function midAndSpread([one = [0, 0], other = one]) {
  const mid = /** @type {[number, number]} */ ([(one[0] + other[0]) / 2, (one[1] + other[1]) / 2]);
  return [mid, Math.max(1, Math.hypot(one[0] - other[0], one[1] - other[1]))];
}

/** What lies at a mark, each place a link. @param {Mark} mark @returns {(Node | string)[]} */
function markTold(mark) {
  const told = mark.spots.slice(0, NAMED_TOGETHER).flatMap((spot, i) => {
    const link = document.createElement("a");
    link.href = spot.place.href;
    link.textContent = spot.place.name;
    const size = mark.spots.length === 1 ? `, ${circleWords(spot.place.radius)}` : "";
    return [i ? " · " : "", link, `, ${printsWords(spot.prints)}${size}`];
  });
  const more = mark.spots.length - NAMED_TOGETHER;
  return more > 0 ? [...told, ` · ${worded("and %(num)s more; come closer to see them", { num: more })}`] : told;
}

/** @param {string} address @returns {Promise<D3Shape>} */
async function landFrom(address) {
  const topology = await (await fetch(address)).json();
  return topojson.feature(topology, topology.objects.land);
}

/** @param {HTMLElement} home */
async function layMap(home) {
  const box = home.querySelector(".map-box");
  if (!(box instanceof HTMLElement)) return;
  home.hidden = false;
  const sheet = new MapSheet(box, JSON.parse(home.dataset.map ?? "[]"));
  sheet.wantsFiner = () => {
    sheet.wantsFiner = () => {};
    landFrom(home.dataset.finer ?? "").then((shape) => {
      sheet.land.fine = shape;
      sheet.draw();
    });
  };
  new MapHands(home, sheet);
  sheet.jump(sheet.whole());
  home.dispatchEvent(new CustomEvent("map-laid", { bubbles: true, detail: sheet }));
  sheet.land.coarse = await landFrom(home.dataset.land ?? "");
  sheet.draw();
  home.dataset.laid = "";
}

document.querySelectorAll("[data-map]").forEach((home) => {
  if (home instanceof HTMLElement) layMap(home);
});
