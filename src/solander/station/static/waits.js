// @ts-check
// A page that waits for something looks again by itself, says how far it is, and gives way when it is done. Without
// this script its link does the same.

/** Milliseconds between two looks. */
const LOOK_MS = 2000;

async function look() {
  const answer = await fetch(location.href, { headers: { accept: "text/html" } }).catch(() => null);
  const seen = answer && new DOMParser().parseFromString(await answer.text(), "text/html");
  if (seen && !seen.querySelector("[data-waits]")) return location.reload();
  const [now, then] = [document, seen].map((page) => page?.querySelector("[data-waits] [role=status]"));
  if (now && then) now.textContent = then.textContent;
  setTimeout(look, LOOK_MS);
}

setTimeout(look, LOOK_MS);
