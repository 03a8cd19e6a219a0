// @ts-check
// The microphone: off until somebody switches it on, its state always told in words, shut by one key. Its sound goes to
// the workbench on this machine as it is, without anything that a browser would do to make it pleasant.

import { Link } from "./station-link.js";

/** @typedef {"off" | "asking" | "on" | "silent" | "muted" | "refused" | "none" | "lost"} Ear */

/** Pieces (of 64 ms) in which nothing at all is heard, after which that is said. */
const SILENT_PIECES = 50;
const RATE = 16_000;
/** Milliseconds after one's own key in which the workbench may still tell of the state before. */
const ECHO_MS = 1500;

/** What is told of each state: in a word or two, and what to do. */
/** @type {Readonly<Record<Ear, () => [string, string]>>} */
export const EAR_WORDS = {
  off: () => [worded("Microphone off"), ""],
  asking: () => [worded("The browser asks"), worded("Allow the microphone where the browser asks for it.")],
  on: () => [worded("Listening"), ""],
  silent: () => [worded("Nothing is heard"), worded("The microphone gives no sound at all. Is it plugged in, and not switched off?")],
  muted: () => [worded("Not listening"), worded("What is said now goes nowhere.")],
  refused: () => [worded("Microphone refused"), worded("The browser does not let this page listen. Allow it beside the address of the page, then press M.")],
  none: () => [worded("No microphone"), worded("None was found, or another program holds it. Plug one in, then press M. All can be typed as well.")],
  lost: () => [worded("Connection lost"), worded("It listens again as soon as the workbench answers.")],
};

export class Microphone {
  /**
   * @param {string} address of the socket that takes sound
   * @param {(ear: Ear) => void} changed is told each new state
   * @param {(loudest: number) => void} level is told how loud it is, 0 to 1
   */
  constructor(address, changed, level) {
    this.address = address;
    this.changed = changed;
    this.level = level;
    /** @type {Ear} */
    this.ear = "off";
    this.silent = 0;
    /** When it was opened or shut by hand. */
    this.opened = 0;
    /** @type {{ stream: MediaStream, context: AudioContext, link: Link } | null} */
    this.open = null;
  }

  /** @param {Ear} ear */
  become(ear) {
    if (ear === this.ear) return;
    this.ear = ear;
    this.changed(ear);
  }

  get isListening() {
    return this.ear === "on" || this.ear === "silent" || this.ear === "lost";
  }

  /** One key: on when it is off, shut when it listens, open again when it is shut. */
  async toggle() {
    if (this.ear === "asking") return;
    if (!this.open) await this.on();
    else this.mute(this.ear !== "muted");
  }

  async on() {
    this.become("asking");
    /** @type {MediaStream | null} */
    let stream = null;
    try {
      stream = await askForSound();
      this.open = { stream, ...(await this.listen(stream)) };
      for (const track of stream.getTracks()) track.addEventListener("ended", () => this.off("none"));
      this.become("on");
    } catch (error) {
      for (const track of stream?.getTracks() ?? []) track.stop(); // what nobody listens to is not left open
      this.become(error instanceof DOMException && error.name === "NotAllowedError" ? "refused" : "none");
    }
  }

  /** @param {MediaStream} stream */
  async listen(stream) {
    const { context, source } = await sourceOf(stream);
    await context.audioWorklet.addModule("/station/station-worklet.js");
    const ear = new AudioWorkletNode(context, "ear", { numberOfOutputs: 0, channelCount: 1, channelCountMode: "explicit" });
    source.connect(ear);
    const link = new Link(this.address, { changed: (open) => this.connected(open) });
    ear.port.onmessage = ({ data }) => this.piece(data.sound, data.loudest);
    return { context, link };
  }

  /** @param {boolean} open */
  connected(open) {
    if (this.ear === "muted") this.open?.link.send({ mute: true });
    else if (this.open) this.become(open ? "on" : "lost");
  }

  /** @param {ArrayBuffer} sound @param {number} loudest */
  piece(sound, loudest) {
    if (!this.isListening) return;
    this.level(loudest);
    this.open?.link.send(sound);
    this.silent = loudest > 0 ? 0 : this.silent + 1;
    if (this.ear === "on" && this.silent > SILENT_PIECES) this.become("silent");
    else if (this.ear === "silent" && !this.silent) this.become("on");
  }

  /** @param {boolean} shut */
  mute(shut) {
    if (!this.open) return;
    for (const track of this.open.stream.getTracks()) track.enabled = !shut;
    this.open.link.send({ mute: shut });
    this.silent = 0;
    this.opened = Date.now();
    this.level(0);
    this.become(shut ? "muted" : this.open.link.isOpen ? "on" : "lost");
  }

  /** The workbench says that it does not listen, as by a spoken order. @param {boolean} muted */
  told(muted) {
    if (muted && this.isListening && Date.now() - this.opened > ECHO_MS) this.mute(true);
  }

  /** Lets the microphone go. @param {Ear} [why] */
  off(why = "off") {
    const held = this.open;
    this.open = null;
    for (const track of held?.stream.getTracks() ?? []) track.stop();
    held?.link.close();
    void held?.context.close();
    this.level(0);
    this.become(why);
  }

  /** Our own sound plays for so long: nothing is to be understood of it. @param {number} ms */
  closeFor(ms) {
    this.open?.link.send({ own_sound: Math.round(ms) });
  }
}

export function askForSound() {
  const { mediaDevices } = navigator;
  if (!mediaDevices) throw new DOMException("not a secure page", "NotAllowedError");
  return mediaDevices.getUserMedia({
    audio: { channelCount: 1, echoCancellation: false, noiseSuppression: false, autoGainControl: false },
  });
}

/** At the rate that is listened to where the browser can do that, else at its own: the worklet brings it there. */
/** @param {MediaStream} stream */
export async function sourceOf(stream) {
  const wanted = new AudioContext({ sampleRate: RATE });
  try {
    return { context: wanted, source: wanted.createMediaStreamSource(stream) };
  } catch {
    await wanted.close();
    const own = new AudioContext();
    return { context: own, source: own.createMediaStreamSource(stream) };
  }
}
