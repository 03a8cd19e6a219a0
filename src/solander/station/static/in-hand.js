// @ts-check
// What is in the hand on the Table, as long as this window is open. What was sent leaves the hand with the page that
// tells of the act, whichever that is; where nothing was done it stays.

const HELD = "in-your-hand", SENT = "sent-from-the-hand";

/** The numbers of the prints, in the order in which they were taken up. @returns {string[]} */
export function held() {
  return JSON.parse(sessionStorage.getItem(HELD) ?? "[]");
}

/** @param {Iterable<string>} numbers */
export function hold(numbers) {
  sessionStorage.setItem(HELD, JSON.stringify([...numbers]));
}

/** All that is in the hand is on its way. */
export function send() {
  sessionStorage.setItem(SENT, "yes");
}

export function putDownWhatWasSent() {
  if (sessionStorage.getItem(SENT) && new URLSearchParams(location.search).has("done")) hold([]);
  sessionStorage.removeItem(SENT);
}
