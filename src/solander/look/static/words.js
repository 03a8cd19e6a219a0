// @ts-check
// Words of page scripts in the reader's language. The workbench sends them in a script of their own before this one;
// where there is none, as in what is handed over, they are said in English.

/** @typedef {Record<string, string | number>} Places */

/**
 * A message in the reader's language with its places filled: `worded("%(num)s prints", { num: 3 })`.
 * @param {string} message @param {Places} [places] @returns {string}
 */
function worded(message, places = {}) {
  const spoken = /** @type {{ spoken?: Record<string, string> }} */ (/** @type {unknown} */ (self)).spoken;
  const language = document.documentElement.lang || "en";
  return (spoken?.[message] ?? message).replace(/%\((\w+)\)s/g, (whole, name) => {
    const value = places[name];
    return typeof value === "number" ? value.toLocaleString(language) : (value ?? whole);
  });
}
