// @ts-check
// While a code is shown, the page looks whether it was used, and then shows the phone. Without this script it does
// so when it is loaded again.

const LOOK_MS = 1500;

const shown = document.querySelector("[data-offered]");

async function look() {
  const answer = await fetch("/phones/state").catch(() => null);
  const state = answer?.ok ? await answer.json() : { offered: true };
  if (state.offered) setTimeout(() => void look(), LOOK_MS);
  else location.reload();
}

if (shown) setTimeout(() => void look(), LOOK_MS);

export {};
