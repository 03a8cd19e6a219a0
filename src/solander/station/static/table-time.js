// @ts-check
// The rule over the table: a click lays out what lies at that year, and a mark on it says what one looks at.

/** Milliseconds after which the mark follows: it need not be measured in each frame. */
const STILL_MS = 80;

/**
 * @param {HTMLElement} lies
 * @param {(year: string) => Promise<void>} goTo
 * @param {() => HTMLElement | undefined} uppermost
 */
export function followTime(lies, goTo, uppermost) {
  const rule = lies.querySelector(".density");
  if (!(rule instanceof SVGElement)) return;
  const first = Number(rule.dataset.first);
  const years = Number(rule.dataset.last) - first;
  rule.addEventListener("click", (event) => {
    const link = event.target instanceof Element ? event.target.closest("a") : null;
    const address = link?.getAttribute("href");
    if (!address || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    void goTo(new URL(address, location.href).searchParams.get("year") ?? "");
  });
  const mark = document.createElementNS("http://www.w3.org/2000/svg", "rect");
  mark.classList.add("looked-at");
  mark.setAttribute("y", "0");
  mark.setAttribute("height", "44");
  mark.setAttribute("width", `${100 / years}%`);
  rule.append(mark);
  let waits = false;
  const follow = () => {
    waits = false;
    const year = Number(uppermost()?.dataset.year || Number.NaN);
    mark.toggleAttribute("hidden", Number.isNaN(year));
    if (!Number.isNaN(year)) mark.setAttribute("x", `${((year - first) / years) * 100}%`);
  };
  const soon = () => {
    if (!waits) setTimeout(() => requestAnimationFrame(follow), STILL_MS);
    waits = true;
  };
  addEventListener("scroll", soon, { passive: true });
  document.addEventListener("laid", soon);
  soon();
}
