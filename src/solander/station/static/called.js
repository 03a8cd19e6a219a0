// @ts-check
// Names are offered while one types: a few that begin so, looked up among however many there are. Without this script
// a name is typed as it is, and understood when it is sent.

/** Milliseconds of stillness after which one asks. */
const STILL_MS = 120;

/** @param {HTMLInputElement} field */
function offer(field) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let waiting;
  let asked = 0;
  const ask = async () => {
    asked += 1;
    const mine = asked;
    const answer = await fetch(`/faces/called?begun=${encodeURIComponent(field.value)}`).catch(() => null);
    /** @type {string[]} */
    const names = answer?.ok ? await answer.json() : [];
    if (mine === asked) field.list?.replaceChildren(...names.map((name) => new Option(name, name)));
  };
  field.addEventListener("input", () => {
    clearTimeout(waiting);
    waiting = setTimeout(ask, STILL_MS);
  });
}

for (const field of document.querySelectorAll("[data-called]")) {
  if (field instanceof HTMLInputElement) offer(field);
}
