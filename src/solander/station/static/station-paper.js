// @ts-check
// Makes what is laid on the page: elements with their words, and what belongs to one station.

/**
 * An element with classes and what is in it; text is text, never markup.
 * @param {string} name tag and classes, "p.number.wide"
 * @param {...(string | Node | null)} inside
 * @returns {HTMLElement}
 */
export function made(name, ...inside) {
  const [tag, ...classes] = name.split(".");
  const element = document.createElement(tag ?? "span");
  if (classes.length) element.className = classes.join(" ");
  element.append(...inside.filter((one) => one !== null));
  return element;
}

/**
 * A button that says what it does, with the key that does the same.
 * @param {string} words @param {string} key empty for none @param {() => void} does
 * @returns {HTMLButtonElement}
 */
export function button(words, key, does) {
  const one = /** @type {HTMLButtonElement} */ (made("button", words));
  one.type = "button";
  if (key) {
    one.dataset.key = key;
    const shown = made("kbd", key.toUpperCase());
    shown.ariaHidden = "true";
    one.append(" ", shown);
  }
  one.addEventListener("click", (event) => {
    // A pedal may send Enter: it must not press once more what a mouse has pressed.
    if (event.detail) one.blur();
    does();
  });
  return one;
}

/** The element of the page with this name. @param {string} name @returns {HTMLElement} */
export function here(name) {
  const found = document.getElementById(name);
  if (!found) throw new Error(`nothing on the page is called ${name}`);
  return found;
}
