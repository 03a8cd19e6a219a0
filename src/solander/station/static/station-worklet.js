// @ts-check
// Beside the page, where sound is worked on: takes the microphone, brings it to 16 kHz, and gives pieces of whole
// numbers to the page.

import { Resampler } from "./resample.js";

/** Samples a second that are listened to, and samples a piece: 512 are what the finder of speech takes at once. */
const RATE = 16_000, PIECE = 1024;

/** What a worklet has and the types of a page do not. */
const scope = /** @type {{ sampleRate: number, registerProcessor: (name: string, made: unknown) => void, AudioWorkletProcessor: { new (): { port: MessagePort } } }} */ (/** @type {unknown} */ (globalThis));

class Ear extends scope.AudioWorkletProcessor {
  constructor() {
    super();
    this.resampler = scope.sampleRate === RATE ? null : new Resampler(scope.sampleRate, RATE);
    this.piece = new Int16Array(PIECE);
    this.filled = 0;
    this.loudest = 0;
  }

  /** @param {Float32Array[][]} inputs */
  process(inputs) {
    const heard = inputs[0]?.[0];
    if (heard) for (const sample of this.resampler ? this.resampler.push(heard) : heard) this.add(sample);
    return true;
  }

  /** @param {number} sample */
  add(sample) {
    const within = Math.max(-1, Math.min(1, sample));
    this.loudest = Math.max(this.loudest, Math.abs(within));
    this.piece[this.filled] = Math.round(within * 32_767);
    this.filled += 1;
    if (this.filled < PIECE) return;
    this.port.postMessage({ sound: this.piece.buffer, loudest: this.loudest }, [this.piece.buffer]);
    this.piece = new Int16Array(PIECE);
    this.filled = this.loudest = 0;
  }
}

scope.registerProcessor("ear", Ear);
