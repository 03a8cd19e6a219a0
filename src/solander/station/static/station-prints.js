// @ts-check
// The last prints, each on paper: number, side, its slip, and what is wrong with it in plain words. Of two pictures of
// one side, old and new lie side by side, and a person decides.

import { button, here, made } from "./station-paper.js";

/**
 * @typedef {object} Laid
 * @property {string} accession
 * @property {"front" | "back" | "detail"} side
 * @property {string} [thumb]
 * @property {string} [words]
 * @property {string[]} [faults]
 * @property {boolean} [proposed_back]
 */
/** @typedef {{ accession: string, side: Laid["side"], old: string, new: string, faults?: string[], old_faults?: string[] }} Again */
/**
 * @typedef {object} Does
 * @property {(order: string) => void} order
 * @property {(yes: boolean) => void} back answers whether it is the back of the one before
 * @property {(keep: "new" | "old") => void} decide
 */

/** @type {Readonly<Record<Laid["side"], () => string>>} */
const SIDES = { front: () => worded("front"), back: () => worded("back"), detail: () => worded("a part of it") };

/** @param {string | undefined} address @param {string} words */
function picture(address, words) {
  if (!address) return made("span.missing", worded("No picture yet"));
  const image = /** @type {HTMLImageElement} */ (made("img.paper"));
  image.alt = words;
  image.src = address;
  return image;
}

/** @param {string[] | undefined} faults */
function faultLines(faults) {
  return (faults ?? []).map((fault) => made("p.fault", fault));
}

export class Prints {
  /** @param {Does} does */
  constructor({ order, back, decide }) {
    this.order = order;
    this.back = back;
    this.list = here("last-prints");
    this.none = here("no-prints");
    this.two = here("again");
    this.decide = decide;
  }

  /** @param {Laid[]} laid the newest first */
  show(laid) {
    this.none.hidden = laid.length > 0;
    this.list.replaceChildren(...laid.map((one, i) => this.print(one, i === 0)));
  }

  /** @param {Laid} one @param {boolean} newest */
  print(one, newest) {
    const side = SIDES[one.side]();
    const link = /** @type {HTMLAnchorElement} */ (made("a.accession", one.accession));
    link.href = `/print/${encodeURIComponent(one.accession)}`;
    const slip = made("div.slip",
      made("p.number", link, made("span", side)),
      one.words ? made("p.sentence", one.words) : null,
      ...faultLines(one.faults),
      newest ? this.ways(one) : null,
    );
    return made(newest ? "li.newest" : "li", picture(one.thumb, `${one.accession}, ${side}`), slip);
  }

  /** What may still be said of the newest. @param {Laid} one */
  ways(one) {
    const asked = Boolean(one.proposed_back);
    const back = asked ? button(worded("It is the back of the one before"), "i", () => this.back(true)) : null;
    const own = asked || one.side === "back" ? button(worded("It is a print of its own"), "o", () => (asked ? this.back(false) : this.order("own-print"))) : null;
    return made("p.answers-row", back, own, button(worded("Take it again"), "a", () => this.order("take-again")));
  }

  /** Two pictures of one side, for a person to choose; null when it is decided. @param {Again | null} again */
  again(again) {
    this.two.hidden = !again;
    if (!again) return;
    const called = `${again.accession}, ${SIDES[again.side]()}`;
    here("again-pictures").replaceChildren(
      made("figure", picture(again.old, `${called}: ${worded("as it was")}`), made("figcaption", worded("as it was"), ...faultLines(again.old_faults)),
        button(worded("Leave the old one"), "l", () => this.decide("old"))),
      made("figure", picture(again.new, `${called}: ${worded("taken just now")}`), made("figcaption", worded("taken just now"), ...faultLines(again.faults)),
        button(worded("Keep the new one"), "k", () => this.decide("new"))),
    );
    here("again-of").textContent = worded("Which picture of %(print)s is the better one?", { print: `${again.accession} (${SIDES[again.side]()})` });
  }
}
