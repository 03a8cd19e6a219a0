// @ts-check
// A socket to the workbench that comes again by itself when it was lost, and orders that are sent beside it.

/** Milliseconds after which a lost socket is tried again, the first time and at most. */
const FIRST_MS = 400, LONGEST_MS = 5000;

/**
 * @typedef {object} Ends
 * @property {(message: Record<string, any>) => void} [text] is given each message
 * @property {(picture: ArrayBuffer) => void} [binary] is given each picture
 * @property {(open: boolean) => void} [changed] is told when the socket opens, and when it is lost
 */

/** A socket below the address of one station. */
export class Link {
  /** @param {string} path @param {Ends} ends */
  constructor(path, ends) {
    this.address = new URL(path, location.href);
    this.address.protocol = location.protocol === "https:" ? "wss:" : "ws:";
    this.ends = ends;
    this.wait = FIRST_MS;
    this.closed = false;
    /** @type {WebSocket | null} */
    this.socket = null;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.again = undefined;
    this.soon = () => this.hurry();
    addEventListener("online", this.soon);
    this.open();
  }

  get isOpen() {
    return this.socket?.readyState === WebSocket.OPEN;
  }

  open() {
    const socket = new WebSocket(this.address);
    socket.binaryType = "arraybuffer";
    this.socket = socket;
    socket.addEventListener("open", () => {
      this.wait = FIRST_MS;
      this.ends.changed?.(true);
    });
    socket.addEventListener("message", ({ data }) => {
      if (typeof data === "string") this.ends.text?.(JSON.parse(data));
      else this.ends.binary?.(data);
    });
    socket.addEventListener("close", () => this.lost(socket));
  }

  /** @param {WebSocket} socket */
  lost(socket) {
    if (this.closed || socket !== this.socket) return;
    this.ends.changed?.(false);
    this.again = setTimeout(() => this.open(), this.wait);
    this.wait = Math.min(LONGEST_MS, this.wait * 2);
  }

  /** The network is there again: it is not waited for longer. */
  hurry() {
    if (this.closed || this.socket?.readyState !== WebSocket.CLOSED) return;
    clearTimeout(this.again);
    this.open();
  }

  /** Sends when the socket is open; what could not be sent is not kept. @param {ArrayBuffer | Record<string, any>} what */
  send(what) {
    if (this.isOpen) this.socket?.send(what instanceof ArrayBuffer ? what : JSON.stringify(what));
  }

  close() {
    this.closed = true;
    clearTimeout(this.again);
    removeEventListener("online", this.soon);
    this.socket?.close();
  }
}

/** @typedef {{ what: string, why?: string, todo?: string }} Trouble */

/**
 * Sends what a person wants to a station; gives what went wrong, null where nothing did.
 * @param {string} address @param {string} token @param {Record<string, unknown>} what
 * @returns {Promise<Trouble | null>}
 */
export async function post(address, token, what) {
  try {
    const answer = await fetch(address, {
      method: "POST",
      headers: { "content-type": "application/json", accept: "application/json", "x-solander-token": token },
      body: JSON.stringify(what),
    });
    if (answer.ok) return null;
    const told = await answer.json().catch(() => ({}));
    return told.trouble ?? { what: told.what ?? worded("That was not done"), why: told.why, todo: told.todo };
  } catch {
    return { what: worded("That was not done"), why: worded("the workbench does not answer"), todo: worded("See whether it still runs") };
  }
}

/** A trouble as sentences. @param {Trouble} trouble */
export function troubleWords({ what, why, todo }) {
  const first = why ? `${what}: ${why}.` : `${what}.`;
  return todo ? `${first} ${todo}.` : first;
}
