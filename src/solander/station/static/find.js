// @ts-check
// What is looked for is found as one types: it takes the place of what lies on the table, and stands in the address, so
// that one can go back to it. Without this script the field is a form that leads to the same page.

import { belongsElsewhere } from "./answers.js";

/** Milliseconds of stillness after which one asks. */
const STILL_MS = 90;

const field = /** @type {HTMLInputElement} */ (document.getElementById("sought"));
const form = /** @type {HTMLFormElement} */ (document.getElementById("look-for"));
const place = /** @type {HTMLElement} */ (document.getElementById("found"));
const lies = document.getElementById("lies");
const came = location.pathname;
/** @type {AbortController | undefined} */
let asking;
/** @type {ReturnType<typeof setTimeout> | undefined} */
let waiting;

/** The address of what the form says now. */
function sought() {
  const said = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (String(value).trim()) said.append(name, String(value));
  return said.size ? `/find?${said}` : came;
}

/**
 * What is found at an address, on the page.
 * @param {string} address
 */
async function lay(address) {
  asking?.abort();
  asking = new AbortController();
  const nothing = !address.startsWith("/find");
  try {
    const answer = await fetch(`/find${new URL(address, location.href).search || "?"}&part=found`, { signal: asking.signal });
    if (!answer.ok) return;
    const words = await answer.text();
    const held = document.activeElement?.id;
    const open = place.querySelector("details")?.open ?? false;
    place.innerHTML = words;
    const within = place.querySelector("details");
    if (within && open) within.open = true;
    if (held && place.querySelector(`#${CSS.escape(held)}`)) document.getElementById(held)?.focus();
    if (lies) lies.hidden = !nothing;
  } catch (error) {
    if (!(error instanceof DOMException && error.name === "AbortError")) throw error;
  }
}

/** Goes to what the form says: a first step is one to go back from, further letters are the same step. */
function look() {
  const address = sought();
  if (address === came && !lies && came !== "/find") return;
  const here = location.pathname + location.search;
  if (address === here) return;
  if (history.state?.looking) history.replaceState({ looking: true }, "", address);
  else history.pushState({ looking: true }, "", address);
  lay(address);
}

field.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(look, STILL_MS);
});
place.addEventListener("change", look);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  look();
});

place.addEventListener("click", async (event) => {
  const link = event.target instanceof Element ? event.target.closest("a") : null;
  if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
  if (link.rel === "next") {
    event.preventDefault();
    const answer = await fetch(`${link.getAttribute("href")}&part=further`);
    if (answer.ok) link.parentElement?.insertAdjacentHTML("afterend", await answer.text());
    const following = link.parentElement?.nextElementSibling?.querySelector("a");
    link.parentElement?.remove();
    following?.focus();
  } else if (link.dataset.putAway !== undefined && lies) {
    event.preventDefault();
    putAway();
  }
});

/** All prints lie on the table again. */
function putAway() {
  if (!lies?.isConnected) {
    location.assign(came);
    return;
  }
  field.value = "";
  for (const box of place.querySelectorAll("input")) if (box instanceof HTMLInputElement) box.remove();
  history.pushState({}, "", came);
  lay(came);
}

addEventListener("popstate", () => {
  const said = new URLSearchParams(location.search);
  if (location.pathname !== "/find" && !lies?.isConnected) {
    location.reload();
    return;
  }
  field.value = location.pathname === "/find" ? (said.get("look-for") ?? "") : "";
  lay(location.pathname + location.search);
});

document.addEventListener("keydown", (event) => {
  if (event.key === "/" && !event.altKey && !belongsElsewhere(event)) {
    event.preventDefault();
    field.focus();
    field.select();
  } else if (document.activeElement === field && event.key === "Escape") {
    event.preventDefault();
    field.blur();
  } else if (document.activeElement === field && event.key === "ArrowDown") {
    const first = place.querySelector(".found-prints a");
    if (first instanceof HTMLElement) {
      event.preventDefault();
      first.focus();
    }
  }
});
