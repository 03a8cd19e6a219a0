// @ts-check
// When the collection is changed elsewhere, by another window or a command, the page brings itself up to date. What
// is being typed stays, and so does the place on the page. Without this script the page is as it was when it came.

import { asSent, bring } from "./morph.js";

const PARTS = ["header", "main"];
const LISTEN = "/changes?since=";

/** Parts that scripts drew themselves: new words for them need a new page. */
const WHOLE = "[data-whole], .time:has(.rule-box), .map:not([hidden])";

const meta = document.querySelector('meta[name="last-change"]');
let seen = Number(meta?.getAttribute("content") ?? 0);
const parts = PARTS.flatMap((name) => {
  const live = document.querySelector(`body > ${name}`);
  return live ? [{ name, ...asSent(live) }] : [];
});

/** @type {EventSource | null} */
let listening = null; // a page with `data-still` never does: all of it is being drawn
let fetching = false;

function listen() {
  if (listening || document.hidden || document.querySelector("[data-still]")) return;
  listening = new EventSource(LISTEN + seen);
  listening.addEventListener("message", (event) => void upTo(Number(event.data)));
}

// A browser gives a site few connections (six in HTTP/1.1): a page that nobody sees holds none.
function leave() {
  listening?.close();
  listening = null;
}

/**
 * Fetches the page as it is after a change, and shows what differs.
 * @param {number} change
 */
async function upTo(change) {
  if (change <= seen || fetching) return;
  fetching = true;
  try {
    const answer = await fetch(location.href, { headers: { accept: "text/html" }, redirect: "error" });
    if (answer.ok) showAnew(new DOMParser().parseFromString(await answer.text(), "text/html"), change);
    else if (answer.status === 404) tell("gone");
  } catch {
    // It is asked for again with the next change, or by loading the page.
  } finally {
    fetching = false;
  }
  if (change > seen) seen = change;
}

/** @param {Document} now @param {number} change */
function showAnew(now, change) {
  const place = placeOf();
  let kept = false;
  for (const part of parts) {
    const sent = now.querySelector(`body > ${part.name}`);
    if (!sent) continue;
    const brought = bring(part.sent, sent, part.shown, { keep: isInUse, laid: comeIn });
    kept = kept || brought.kept;
    part.sent = brought.sent;
    part.shown = brought.shown;
  }
  document.title = now.title;
  seen = Math.max(change, Number(now.querySelector('meta[name="last-change"]')?.getAttribute("content") ?? 0));
  place();
  tell(kept ? "partly" : "anew");
  document.dispatchEvent(new CustomEvent("changed"));
}

/**
 * Whether somebody is at this part: a form with something in it that was not sent, or what a script has drawn.
 * @param {Element} live
 */
function isInUse(live) {
  if (live.matches(WHOLE)) return true;
  return live instanceof HTMLFormElement && [...live.elements].some(isTouched);
}

/** @param {Element} field */
function isTouched(field) {
  if (field instanceof HTMLInputElement) {
    if (field.type === "checkbox" || field.type === "radio") return field.checked !== field.defaultChecked;
    return field.type === "file" ? Boolean(field.value) : field.type !== "hidden" && field.value !== field.defaultValue;
  }
  if (field instanceof HTMLTextAreaElement) return field.value !== field.defaultValue;
  if (!(field instanceof HTMLSelectElement)) return false;
  const sent = [...field.options].findIndex((option) => option.defaultSelected);
  return field.selectedIndex !== Math.max(0, sent);
}

/** @param {Node} live */
function comeIn(live) {
  if (live instanceof HTMLElement) live.classList.add("come-in");
}

/** Where the page is; called again, it brings the window back there, for browsers that do not do so themselves. */
function placeOf() {
  if (CSS.supports("overflow-anchor", "auto")) return () => {};
  const middle = document.elementFromPoint(innerWidth / 2, innerHeight / 2);
  const top = middle?.getBoundingClientRect().top ?? 0;
  return () => {
    if (middle?.isConnected) scrollBy({ top: middle.getBoundingClientRect().top - top, behavior: "instant" });
  };
}

/** @param {"anew" | "partly" | "gone"} how */
function tell(how) {
  const line = document.querySelector("[data-live]");
  if (!(line instanceof HTMLElement)) return;
  const words = line.querySelector(`[data-live-${how}]`);
  for (const other of line.children) if (other instanceof HTMLElement) other.hidden = other !== words;
}

document.addEventListener("visibilitychange", () => (document.hidden ? leave() : listen()));
// What this page itself sends leads to a page that is new anyway.
addEventListener("submit", (event) => {
  if (!event.defaultPrevented) leave();
});
addEventListener("pagehide", leave);
addEventListener("pageshow", listen);
listen();
