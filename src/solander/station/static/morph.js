// @ts-check
// Brings what is on a page up to date with the page as it is now, and touches only what differs between the page as
// it was sent before and as it is sent now: what scripts made of the rest, what is typed, opened and in focus stays.

/** What goes with the page as it was sent: each of its nodes and the node on the screen that came of it. */
/** @typedef {Map<Node, Node>} Shown */

/**
 * A copy of a part of the page as it was sent, before any script has changed it, with the nodes that came of it.
 * @param {Node} live
 * @returns {{ sent: Node, shown: Shown }}
 */
export function asSent(live) {
  const sent = live.cloneNode(true);
  /** @type {Shown} */
  const shown = new Map();
  pair(sent, live, shown);
  return { sent, shown };
}

/**
 * Notes for each node of `sent` the node of `live` that is at the same place.
 * @param {Node} sent @param {Node} live @param {Shown} shown
 */
function pair(sent, live, shown) {
  shown.set(sent, live);
  sent.childNodes.forEach((child, i) => {
    const other = live.childNodes[i];
    if (other) pair(child, other, shown);
  });
}

/**
 * @typedef {object} Keeping
 * @property {(live: Element) => boolean} keep whether an element is left as it is, because somebody is at it
 * @property {(live: Node) => void} laid is told of each node that is new on the page
 */

/**
 * Brings `shown` from `before` to `now`, both as they were sent; gives what is shown of `now`, and whether some of
 * it was kept back.
 * @param {Node} before @param {Node} now @param {Shown} shown @param {Keeping} keeping
 * @returns {{ sent: Node, shown: Shown, kept: boolean }}
 */
export function bring(before, now, shown, keeping) {
  /** @type {{ after: Shown, kept: boolean }} */
  const result = { after: new Map(), kept: false };
  const sent = step(before, now);
  return { sent, shown: result.after, kept: result.kept };

  /** @param {Node} was @param {Node} is @returns {Node} what is now the page as it was sent, at this place */
  function step(was, is) {
    const live = shown.get(was);
    if (!live) return is;
    if (was.isEqualNode(is)) return carry(was, is, live);
    if (live instanceof Element && keeping.keep(live)) {
      result.kept = true;
      return keepBack(was, is);
    }
    result.after.set(is, live);
    if (was instanceof Element && is instanceof Element && live instanceof Element) attributes(was, is, live);
    else if (live instanceof CharacterData && is instanceof CharacterData) live.data = is.data;
    children(was, is, live);
    return is;
  }

  /** The same was sent again: what is on the screen stays. @param {Node} was @param {Node} is @param {Node} live */
  function carry(was, is, live) {
    result.after.set(is, live);
    was.childNodes.forEach((child, i) => {
      const there = shown.get(child), same = is.childNodes[i];
      if (there && same) carry(child, same, there);
    });
    return is;
  }

  /** What somebody is at stays as it was sent before, so that it is brought up to date when they are done.
   * @param {Node} was @param {Node} is @returns {Node} */
  function keepBack(was, is) {
    const copy = was.cloneNode(true);
    again(was, copy);
    is.parentNode?.replaceChild(copy, is);
    return copy;
  }

  /** @param {Node} was @param {Node} copy */
  function again(was, copy) {
    const live = shown.get(was);
    if (live) result.after.set(copy, live);
    was.childNodes.forEach((child, i) => again(child, /** @type {Node} */ (copy.childNodes[i])));
  }

  /** @param {Node} was @param {Node} is @param {Node} live */
  function children(was, is, live) {
    const matched = match([...was.childNodes], [...is.childNodes]);
    const stay = new Set(matched.values());
    for (const child of was.childNodes) {
      const there = shown.get(child);
      if (there && !stay.has(child)) /** @type {ChildNode} */ (there).remove();
    }
    /** @type {Node | null} */
    let last = null;
    for (const child of [...is.childNodes]) {
      const old = matched.get(child), there = old && shown.get(old);
      const here = there ?? lay(child);
      // Moving a node takes the focus from it: one that comes after the one before it is left where it is.
      if (!there || (last && !follows(here, last))) live.insertBefore(here, last ? last.nextSibling : live.firstChild);
      last = here;
      if (old && there) step(old, child);
    }
  }

  /** A new part of the page. @param {Node} sent @returns {Node} */
  function lay(sent) {
    const live = document.importNode(sent, true);
    pair(sent, live, result.after);
    keeping.laid(live);
    return live;
  }
}

/**
 * Which of the former children each of the present ones is: by its `id` or `data-key`, else one that is the very
 * same, else the next one of its kind that has no name.
 * @param {Node[]} were @param {Node[]} are @returns {Map<Node, Node>}
 */
export function match(were, are) {
  /** @type {Map<Node, Node>} */
  const found = new Map();
  const left = new Set(were);
  /** @param {Node} is @param {Node | undefined} was */
  const take = (is, was) => {
    if (was) left.delete(was), found.set(is, was);
  };
  const named = new Map(were.filter(nameOf).map((node) => [nameOf(node), node]));
  for (const is of are) if (nameOf(is)) take(is, named.get(nameOf(is)));
  const others = are.filter((node) => !nameOf(node));
  for (const is of others) take(is, [...left].find((was) => !nameOf(was) && was.isEqualNode(is)));
  for (const is of others) {
    if (!found.has(is)) take(is, [...left].find((was) => !nameOf(was) && was.nodeName === is.nodeName));
  }
  return found;
}

/** @param {Node} node @param {Node} other @returns {boolean} whether it comes after the other */
function follows(node, other) {
  return Boolean(other.compareDocumentPosition(node) & Node.DOCUMENT_POSITION_FOLLOWING);
}

/** @param {Node} node @returns {string} */
function nameOf(node) {
  if (!(node instanceof HTMLElement || node instanceof SVGElement)) return "";
  return node.id || node.dataset.key || "";
}

/**
 * Changes on the screen the attributes that were changed where they were sent; those that scripts and people set
 * stay. Whether something is open is for whoever opened it.
 * @param {Element} was @param {Element} is @param {Element} live
 */
function attributes(was, is, live) {
  for (const name of new Set([...was.getAttributeNames(), ...is.getAttributeNames()])) {
    const value = is.getAttribute(name);
    if (value === was.getAttribute(name) || (name === "open" && live instanceof HTMLDetailsElement)) continue;
    if (value === null) live.removeAttribute(name);
    else live.setAttribute(name, value);
  }
  // A field that nobody has touched shows what is sent now.
  if (live instanceof HTMLInputElement && is.getAttribute("value") !== was.getAttribute("value")) {
    live.value = is.getAttribute("value") ?? "";
  }
}
