// @ts-check
// The arrow keys go to the print before and after; without this script the links do the same.

/** @type {Readonly<Record<string, string>>} */
const GOES_TO = { ArrowLeft: "prev", ArrowRight: "next" };

/**
 * Whether the key belongs to something else: a shortcut, a field, a page wider than its window.
 * @param {KeyboardEvent} event
 * @returns {boolean}
 */
function belongsElsewhere(event) {
  const page = document.documentElement;
  const typing = event.target instanceof Element && event.target.closest("input, select, textarea, [contenteditable]");
  const shortcut = event.altKey || event.ctrlKey || event.metaKey || event.shiftKey;
  return shortcut || Boolean(typing) || page.scrollWidth > page.clientWidth;
}

document.addEventListener("keydown", (event) => {
  const rel = GOES_TO[event.key];
  if (!rel || belongsElsewhere(event)) return;
  const link = document.querySelector(`a[rel="${rel}"]`);
  if (link instanceof HTMLAnchorElement) {
    event.preventDefault();
    link.click();
  }
});
