// @ts-check
// A key answers as the button or link does that names it (`data-key`), and the next pictures come while one looks at
// these. Without this script the buttons and links do the same.

document.documentElement.classList.add("scripted");

/**
 * Whether the key belongs to something else: a shortcut, a field.
 * @param {KeyboardEvent} event
 * @returns {boolean}
 */
export function belongsElsewhere(event) {
  const typing = event.target instanceof Element && event.target.closest("input, select, textarea, [contenteditable]");
  return event.ctrlKey || event.metaKey || Boolean(typing);
}

document.addEventListener("keydown", (event) => {
  if (event.altKey || event.repeat || event.key.length !== 1 || belongsElsewhere(event)) return;
  const answer = document.querySelector(`[data-key="${CSS.escape(event.key.toLowerCase())}"]`);
  if (answer instanceof HTMLElement && answer.checkVisibility()) {
    event.preventDefault();
    answer.click();
  }
});

const next = document.querySelector("[data-next]");
if (next instanceof HTMLElement) {
  for (const address of (next.dataset.next ?? "").split(" ")) new Image().src = address;
}
