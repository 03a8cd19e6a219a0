// @ts-check
// Orders by key, foot pedal and shutter button. A pedal is a keyboard of a few keys, a shutter button often the volume
// key of a phone; both are set in different ways, so all the usual keys do the same here.

/** Keys by their names in UI Events (W3C, "KeyboardEvent key Values"), and what they order. */
/** @type {Readonly<Record<string, string>>} */
export const PRESSED = {
  PageDown: "take",
  Enter: "take",
  " ": "take",
  AudioVolumeUp: "take",
  PageUp: "back",
  AudioVolumeDown: "back",
};

/** Keys that press what is in focus, if that can be pressed. */
const PRESSES_TOO = new Set(["Enter", " "]);

/**
 * Whether the key belongs to what is in focus. In a line of text the page keys and those for loudness mean nothing, so
 * that a foot may press them while hands type.
 * @param {KeyboardEvent} event
 */
function belongsElsewhere(event) {
  if (event.altKey || event.ctrlKey || event.metaKey || event.repeat || event.isComposing) return true;
  const at = event.target instanceof Element ? event.target : null;
  if (at?.closest("select, textarea, [type=range]")) return true;
  return PRESSES_TOO.has(event.key) && Boolean(at?.closest("a, button, summary, input"));
}

/**
 * Lets keys order.
 * @param {(order: string) => void} order
 * @param {() => boolean} wakes is asked at any key first; true means that the key has woken the station and does no more
 */
export function followKeys(order, wakes) {
  addEventListener("keydown", (event) => {
    const { key } = event;
    if (["Shift", "Control", "Alt", "Meta", "Tab", "Escape"].includes(key)) return;
    const typing = event.target instanceof Element && event.target.closest("input, textarea, select");
    if (!typing && !event.ctrlKey && !event.metaKey && wakes()) {
      event.preventDefault();
      event.stopImmediatePropagation();
      return;
    }
    const wanted = PRESSED[key];
    if (!wanted || belongsElsewhere(event)) return;
    event.preventDefault();
    order(wanted);
  }, { capture: true });
}
