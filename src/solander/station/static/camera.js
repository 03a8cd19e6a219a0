// @ts-check
// A camera over the stage: sends what it sees in small, and takes a still in full when it is asked. Whoever opens it
// says what is to be done with what the workbench tells.

import { Kept } from "./camera-kept.js";
import { Source } from "./camera-source.js";
import { Link } from "./station-link.js";

/** Pixels of the longer side of what is sent in passing, and how well it is kept. */
const PREVIEW_PX = 640, PREVIEW_QUALITY = 0.7;

/** Pictures a second: while the stage is watched, and while it rests by itself. */
const PACES = new Map([["watch", 12], ["slow", 1], ["rest", 0]]);

/**
 * @typedef {object} Wishes
 * @property {string} station its name
 * @property {(words: string) => void} told is given what went wrong, as sentences
 * @property {HTMLVideoElement} [video] shows the stage; without one it is watched unseen
 * @property {string} [device] which camera
 * @property {(message: Record<string, any>) => void} [text] is given what the workbench tells
 * @property {(open: boolean) => void} [changed] is told when the line opens, and when it is lost
 * @property {(count: number) => void} [waiting] is told how many stills wait to be sent
 * @property {(rests: boolean) => void} [resting] is told when the camera stops and when it goes on
 */

/** The word that the pages of this sitting know (on a phone its cookie does), and the collection that they are of. */
function ours() {
  const page = document.querySelector("[data-token]");
  const { token = "", collection = "" } = page instanceof HTMLElement ? page.dataset : {};
  return { token, collection };
}

export class Camera {
  /** @param {Source} source @param {Wishes} wishes */
  constructor(source, wishes) {
    this.source = source;
    this.wishes = wishes;
    this.pace = "watch";
    /** @type {Promise<void> | undefined} */
    this.waking = undefined;
    this.sending = false;
    /** @type {Set<number>} */
    this.asked = new Set();
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.tick = undefined;
    const base = `/station/${encodeURIComponent(wishes.station)}`;
    this.kept = new Kept(`${base}/still`, ours(), { told: wishes.told, waiting: wishes.waiting });
    this.link = new Link(`${base}/camera`, {
      text: (message) => this.heard(message),
      changed: (open) => this.changed(open),
    });
    void this.kept.send();
    void this.hold();
    this.next();
  }

  /** Holds still what can be, and tells what can't. */
  async hold() {
    await this.source.hold();
    this.link.send({ camera: this.source.says });
  }

  /** @param {boolean} open */
  changed(open) {
    if (open) {
      this.link.send({ camera: this.source.says });
      void this.kept.send();
    }
    this.wishes.changed?.(open);
  }

  /** @param {Record<string, any>} message */
  heard(message) {
    if (message.do === "still") void this.take(Number(message.ask));
    else if (message.do === "leave") this.leave();
    else if (PACES.has(message.do)) void this.goAt(message.do);
    this.wishes.text?.(message);
  }

  /** Another camera took this one's place: coming again would send that one away. */
  leave() {
    this.stop();
    this.wishes.told(worded("Another camera watches this stage now, so this one was put away."));
  }

  /** @param {string} pace */
  async goAt(pace) {
    const before = this.pace;
    this.pace = pace;
    if (pace === "rest") this.source.stop();
    else if (before === "rest") await (this.waking = this.wake());
    if (this.pace !== pace) return; // another word came while it woke
    this.wishes.resting?.(pace === "rest");
    this.link.send({ pace });
    if (pace === "watch") this.next(); // at once, not when the slow picture would have been due
  }

  async wake() {
    try {
      await this.source.start();
      // It may have been told to rest, or been put away, while the camera was opening.
      if (this.pace === "rest" || this.link.closed) this.source.stop();
      else void this.hold();
    } catch (error) {
      this.wishes.told(error instanceof Error ? error.message : String(error));
    }
  }

  next() {
    clearTimeout(this.tick);
    const pace = PACES.get(this.pace);
    if (!pace || this.link.closed) return;
    this.tick = setTimeout(() => this.next(), 1000 / pace);
    void this.show();
  }

  /** Sends a picture when the line is free: what can't be sent now is never sent later. */
  async show() {
    const socket = this.link.socket;
    if (this.sending || !this.link.isOpen || (socket?.bufferedAmount ?? 0) > 0) return;
    this.sending = true;
    try {
      const small = await this.source.picture(PREVIEW_PX, PREVIEW_QUALITY);
      if (small) this.link.send(await small.arrayBuffer());
    } finally {
      this.sending = false;
    }
  }

  /** Takes a still, which is kept until it has been sent; one that was asked for twice is taken once. @param {number} ask */
  async take(ask = 0) {
    if (ask && (this.asked.has(ask) || (await this.kept.answers(ask)))) return;
    if (ask && this.pace === "rest") return; // it was put to rest since the workbench asked
    if (ask) this.asked.add(ask);
    if (this.pace === "rest") await this.goAt("watch");
    await this.waking;
    try {
      const { picture, route } = await this.source.still();
      await this.kept.keep({ id: crypto.randomUUID(), at: Date.now(), ask, route, picture });
    } catch (error) {
      this.asked.delete(ask);
      this.wishes.told(error instanceof Error ? error.message : String(error));
    }
  }

  stop() {
    clearTimeout(this.tick);
    this.link.close();
    this.kept.stop();
    this.source.stop();
  }
}

/**
 * Opens a camera of this device over the stage of a station. What hinders it is thrown, as a sentence.
 * @param {Wishes} wishes @returns {Promise<Camera>}
 */
export async function openCamera(wishes) {
  const video = wishes.video ?? document.createElement("video");
  const source = new Source(video, wishes.device);
  await source.start();
  return new Camera(source, wishes);
}
