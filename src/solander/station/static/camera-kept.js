// @ts-check
// Stills on their way: each is kept on this device until the workbench has it, over breaks of the line and over the end
// of the page. Each has a number of its own, by which the workbench knows one that it gets twice.

import { troubleWords } from "./station-link.js";

const STORE = "stills";

/** Milliseconds after which it is tried again, the first time and at most. */
const FIRST_MS = 1000, LONGEST_MS = 20000;

/** What the workbench answers to a still that it will never take; all else is tried again. */
const NEVER = [400, 404, 413, 415, 422];

/** What it answers when one still is at fault, so that the others need not wait for it. */
const OF_THIS_ONE = 500;

/** What it answers to one that came too slowly or too soon, which nobody need know. */
const SOON = [408, 429];

/** @typedef {{ id: string, at: number, ask: number, route: string, picture: Blob, to?: string }} Still */

/** @returns {Promise<IDBDatabase>} */
function opened() {
  return new Promise((done, fail) => {
    const opening = indexedDB.open("solander-camera", 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE, { keyPath: "id" });
    opening.onsuccess = () => done(opening.result);
    opening.onerror = () => fail(opening.error);
  });
}

/** @template T @param {IDBRequest<T>} asked @returns {Promise<T>} */
function answered(asked) {
  return new Promise((done, fail) => {
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

/** Keeps stills on the device; in memory alone where the browser keeps nothing (a private window). */
class Shelf {
  constructor() {
    /** @type {Map<string, Still>} */
    this.memory = new Map();
    this.database = opened().catch(() => null);
  }

  /** @template T @param {IDBTransactionMode} mode @param {(store: IDBObjectStore) => IDBRequest<T>} doing @returns {Promise<T | null>} */
  async at(mode, doing) {
    const database = await this.database;
    return database && answered(doing(database.transaction(STORE, mode).objectStore(STORE))).catch(() => null);
  }

  /** @param {Still} still */
  async put(still) {
    if ((await this.at("readwrite", (store) => store.put(still))) === null) this.memory.set(still.id, still);
  }

  /** @param {string} id */
  async drop(id) {
    this.memory.delete(id);
    await this.at("readwrite", (store) => store.delete(id));
  }

  /** All of them, the oldest first. @returns {Promise<Still[]>} */
  async all() {
    const shelved = (await this.at("readonly", (store) => store.getAll())) ?? [];
    return [...shelved, ...this.memory.values()].sort((one, other) => one.at - other.at);
  }
}

export class Kept {
  /**
   * @param {string} address where stills go
   * @param {{ token: string, collection: string }} ours another collection may be served at the same address
   * @param {{ told: (words: string) => void, waiting?: (count: number) => void }} tells
   */
  constructor(address, { token, collection }, tells) {
    this.address = address;
    this.token = token;
    this.collection = collection;
    this.to = `${collection} ${address}`;
    this.tells = tells;
    this.shelf = new Shelf();
    this.wait = FIRST_MS;
    this.sending = false;
    this.stopped = false;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.again = undefined;
    this.online = () => void this.send();
    addEventListener("online", this.online);
  }

  /** Those of this station of this collection. */
  async mine() {
    return (await this.shelf.all()).filter((still) => still.to === this.to);
  }

  /** Whether a still answers this ask already. @param {number} ask */
  async answers(ask) {
    return (await this.mine()).some((still) => still.ask === ask);
  }

  /** Keeps a still and sends it as soon as that can be. @param {Still} still */
  async keep(still) {
    await this.shelf.put({ ...still, to: this.to });
    await this.send();
  }

  /** Sends what is kept, the oldest first, until the line breaks; one at which the workbench fails comes after the others. */
  async send() {
    if (this.sending || this.stopped) return;
    this.sending = true;
    clearTimeout(this.again);
    const failed = new Set();
    try {
      for (let left = await this.mine(); left.length; left = await this.mine()) {
        this.tells.waiting?.(left.length);
        const next = left.find((still) => !failed.has(still.id));
        if (!next) return this.later();
        const answer = await this.sendOne(next);
        if (answer === OF_THIS_ONE) failed.add(next.id);
        else if (answer) return this.later();
        else this.wait = FIRST_MS;
      }
      this.tells.waiting?.(0);
    } finally {
      this.sending = false;
    }
  }

  later() {
    this.again = setTimeout(() => void this.send(), this.wait);
    this.wait = Math.min(LONGEST_MS, this.wait * 2);
  }

  /** @param {Still} still @returns {Promise<number>} what hindered it, 1 for a broken line; 0 when it need not be sent any more */
  async sendOne(still) {
    const numbers = { id: still.id, ask: String(still.ask), at: String(still.at) };
    const told = new URLSearchParams({ route: still.route, collection: this.collection, ...numbers });
    const headers = { accept: "application/json", "x-solander-token": this.token };
    const answer = await fetch(`${this.address}?${told}`, { method: "POST", headers, body: still.picture }).catch(() => null);
    if (answer === null) return 1;
    const isDone = answer.ok || NEVER.includes(answer.status);
    if (isDone) await this.shelf.drop(still.id);
    if (!answer.ok && !SOON.includes(answer.status)) {
      const said = await answer.json().catch(() => ({}));
      this.tells.told(troubleWords(said.trouble ?? { what: worded("A picture was not taken in") }));
    }
    return isDone ? 0 : answer.status;
  }

  stop() {
    this.stopped = true;
    clearTimeout(this.again);
    removeEventListener("online", this.online);
  }
}
