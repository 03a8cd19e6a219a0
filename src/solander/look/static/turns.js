// @ts-check
// Keys 1, 2, 3 … answer which way is up, or who is meant: in the question that has the focus, else in the first one
// of the page. Without this script the buttons do the same.

/**
 * @param {KeyboardEvent} event
 * @returns {boolean} whether the key belongs to something else: a shortcut, a field
 */
function isTyped(event) {
  const typing = event.target instanceof Element && event.target.closest("input, select, textarea, [contenteditable]");
  return event.altKey || event.ctrlKey || event.metaKey || Boolean(typing);
}

document.addEventListener("keydown", (event) => {
  if (!/^[1-9]$/.test(event.key) || event.repeat || isTyped(event)) return;
  const at = document.activeElement;
  const choices = "form.turns, form.choices";
  const asked = at?.closest("article")?.querySelector(choices) ?? document.querySelector(choices);
  const button = asked?.querySelectorAll("button")[Number(event.key) - 1];
  if (button) {
    event.preventDefault();
    button.click();
  }
});
