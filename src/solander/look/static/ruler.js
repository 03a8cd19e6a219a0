// @ts-check
// Hands on the measuring rule: wheel, fingers, keys and buttons. Comes after ruler-drawing.js.

/** What the keys do, in the words of the buttons. @type {Readonly<Record<string, string>>} */
const RULE_KEYS = {
  "+": "closer", "=": "closer", "-": "wider", ArrowLeft: "earlier", ArrowRight: "later", Home: "first", End: "last",
  ArrowDown: "next", ArrowUp: "before", Escape: "leave",
};

/** Pixels a pointer may tremble and still mean a click, and by which it may miss a bar. */
const TREMBLE = 4;

/** How much closer a pixel of the wheel leads, and pixels in one of its lines. */
const WHEEL = 0.0015, WHEEL_LINE = 30;

/** @param {Rule} rule */
function handsOn(rule) {
  const home = /** @type {HTMLElement} */ (rule.box.parentElement);
  home.addEventListener("click", (event) => {
    const button = event.target instanceof Element && event.target.closest("[data-do]");
    if (button instanceof HTMLElement) rule.act(button.dataset.do ?? "");
  });
  rule.box.addEventListener("keydown", (event) => {
    const what = RULE_KEYS[event.key];
    if (!what || event.altKey || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    rule.act(what);
  });
  rule.box.addEventListener("wheel", (event) => turn(rule, event), { passive: false });
  rule.box.addEventListener("scroll", () => rule.show(), { passive: true });
  rule.box.addEventListener("dragstart", (event) => event.preventDefault());
  followPointers(rule);
}

/** The day under a pointer. @param {Rule} rule @param {{clientX: number}} event */
function dayUnder(rule, { clientX }) {
  const left = rule.box.getBoundingClientRect().left;
  return rule.view.from + ((clientX - left) / rule.view.width) * rule.view.days;
}

/**
 * The wheel over the figures, or with Ctrl as a trackpad's pinch comes, leads closer; sideways it leads along; over
 * the bars it scrolls as everywhere.
 * @param {Rule} rule @param {WheelEvent} event
 */
function turn(rule, event) {
  const pixels = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? WHEEL_LINE : 1;
  const { deltaX, deltaY } = event;
  const onFigures = event.target instanceof Element && Boolean(event.target.closest(".rule-strip"));
  if (Math.abs(deltaX) > Math.abs(deltaY)) {
    event.preventDefault();
    const { from, days, width } = rule.view;
    rule.go({ from: from + (deltaX * pixels * days) / width, days });
  } else if (event.ctrlKey || onFigures) {
    event.preventDefault();
    // A pinch comes in small turns.
    const strength = event.ctrlKey && Math.abs(deltaY) < 20 ? 6 * WHEEL : WHEEL;
    rule.zoom(Math.exp(deltaY * pixels * strength), dayUnder(rule, event));
  }
}

/** One pointer drags, two spread or close, none pressed points. @param {Rule} rule */
function followPointers(rule) {
  /** Day held by each pointer, and where it went down. @type {Map<number, {day: number, x: number, now: number}>} */
  const held = new Map();
  let moved = false;
  /** @type {number | null} */
  let before = null;

  rule.box.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    if (held.size === 0) moved = false;
    held.set(event.pointerId, { day: dayUnder(rule, event), x: event.clientX, now: event.clientX });
    before = rule.current;
    if (event.pointerType !== "mouse") point(rule, event);
  });
  rule.box.addEventListener("pointermove", (event) => {
    const own = held.get(event.pointerId);
    if (!own) {
      point(rule, event);
      return;
    }
    own.now = event.clientX;
    if (!moved && held.size === 1 && Math.abs(own.now - own.x) <= TREMBLE) return;
    if (!moved) rule.choose(null);
    moved = true;
    rule.box.setPointerCapture(event.pointerId);
    drag(rule, [...held.values()]);
  });
  for (const gone of ["pointerup", "pointercancel"]) {
    rule.box.addEventListener(gone, (event) => held.delete(/** @type {PointerEvent} */ (event).pointerId));
  }
  rule.box.addEventListener("pointerleave", (event) => {
    held.delete(event.pointerId);
    if (event.pointerType === "mouse" && document.activeElement !== rule.print) rule.choose(null);
  });
  rule.box.addEventListener(
    "click",
    (event) => {
      const byFinger = /** @type {PointerEvent} */ (event).pointerType === "touch";
      const onBar = event.target instanceof Element && Boolean(event.target.closest(".rule-print"));
      // A drag is no click, and a finger's first touch of a bar only points at it.
      const byKey = event.detail === 0;
      if (!byKey && (moved || (byFinger && onBar && rule.current !== before))) {
        event.preventDefault();
        event.stopPropagation();
      }
      moved = false;
    },
    true,
  );
}

/** Keeps each held day under its pointer. @param {Rule} rule @param {{day: number, now: number}[]} held */
function drag(rule, [one, other]) {
  if (!one) return;
  const left = rule.box.getBoundingClientRect().left;
  const { width } = rule.view;
  const spread = other && Math.abs(other.now - one.now) > 1 ? (other.day - one.day) / (other.now - one.now) : 0;
  const days = spread > 0 ? spread * width : rule.view.days;
  rule.go({ from: one.day - ((one.now - left) * days) / width, days });
}

/** @param {Rule} rule @param {PointerEvent} event */
function point(rule, event) {
  if (event.target instanceof Element && event.target.closest(".rule-strip")) {
    rule.choose(null);
    return;
  }
  const y = event.clientY - rule.sheet.getBoundingClientRect().top - OVER_LANES;
  const within = (TREMBLE / rule.view.width) * rule.view.days;
  const at = { view: rule.view, lane: Math.floor(y / rule.lane), day: dayUnder(rule, event), within };
  rule.choose(barAt(rule.bars, rule.laid.lanes, at));
}

document.querySelectorAll("[data-rule]").forEach((home) => {
  if (home instanceof HTMLElement) handsOn(new Rule(home, JSON.parse(home.dataset.rule ?? "")));
});
