// @ts-check
// Four short sounds, made from a table of tones: one hears without looking up whether a print was taken. While one of
// them plays nothing is listened to, so that the workbench does not hear itself.

/** @typedef {"taken" | "understood" | "not" | "again"} Cue */
/** @typedef {{ hertz: number, from: number, lasts: number, loud: number }} Tone seconds; `loud` is a share */

/** Told apart by their shape, not by pitch alone: one knock; two rising; two low and level; three falling. */
/** @type {Readonly<Record<Cue, readonly Tone[]>>} */
export const TONES = {
  taken: [{ hertz: 330, from: 0, lasts: 0.07, loud: 1 }, { hertz: 660, from: 0, lasts: 0.05, loud: 0.3 }],
  understood: [{ hertz: 660, from: 0, lasts: 0.06, loud: 0.6 }, { hertz: 990, from: 0.08, lasts: 0.09, loud: 0.5 }],
  not: [{ hertz: 294, from: 0, lasts: 0.07, loud: 0.9 }, { hertz: 294, from: 0.14, lasts: 0.07, loud: 0.9 }],
  again: [
    { hertz: 784, from: 0, lasts: 0.07, loud: 0.6 },
    { hertz: 587, from: 0.1, lasts: 0.07, loud: 0.7 },
    { hertz: 440, from: 0.2, lasts: 0.13, loud: 0.8 },
  ],
};

/** Seconds until a tone is at its loudest: at once it would click. */
const RISE = 0.006;
/** The loudest that a tone ever is: they are to be heard beside a voice, not over it. */
const QUIET = 0.25;
/** Milliseconds that a room goes on sounding after a tone, and that loudspeakers may lag. */
const ECHO_MS = 200;
/** Milliseconds for which the ear is shut at a time while a sentence is spoken. */
const BREATH_MS = 300;
const KEPT = "station-sounds";

/** @typedef {{ on: boolean, loud: number, spoken: boolean }} Wanted */

/** @returns {Wanted} as this browser keeps it */
function kept() {
  /** @type {Wanted} */
  const usual = { on: true, loud: 0.6, spoken: false };
  try {
    return { ...usual, ...JSON.parse(localStorage.getItem(KEPT) ?? "{}") };
  } catch {
    return usual;
  }
}

export class Sounds {
  /** @param {(ms: number) => void} closing is told for how long nothing is to be listened to */
  constructor(closing) {
    this.closing = closing;
    this.wanted = kept();
    /** @type {AudioContext | null} */
    this.context = null;
    // Browsers let a page sound only after somebody has touched it.
    for (const kind of ["pointerdown", "keydown"]) addEventListener(kind, () => this.ready(), { once: true });
  }

  ready() {
    this.context ??= new AudioContext();
    if (this.context.state === "suspended") void this.context.resume();
    return this.context;
  }

  /** @param {Partial<Wanted>} changed */
  want(changed) {
    this.wanted = { ...this.wanted, ...changed };
    try {
      localStorage.setItem(KEPT, JSON.stringify(this.wanted));
    } catch {
      // A browser that keeps nothing: it holds until the page is left.
    }
    if (!this.wanted.spoken) globalThis.speechSynthesis?.cancel();
  }

  /** @param {Cue} cue */
  play(cue) {
    if (!this.wanted.on || !this.wanted.loud) return;
    const context = this.ready(), start = context.currentTime + 0.01;
    for (const tone of TONES[cue]) sound(context, tone, start, this.wanted.loud * QUIET);
    this.closing(1000 * Math.max(...TONES[cue].map((tone) => tone.from + tone.lasts)) + ECHO_MS);
  }

  /** Plays a kept sound, so that it can be typed what was said. @param {ArrayBuffer} file */
  async hear(file) {
    const context = this.ready();
    const source = new AudioBufferSourceNode(context, { buffer: await context.decodeAudioData(file) });
    source.connect(context.destination);
    source.start();
    this.closing(1000 * (source.buffer?.duration ?? 0) + ECHO_MS);
    return new Promise((done) => source.addEventListener("ended", done));
  }

  /** Says words aloud, where that is wanted and this machine has a voice of its own. @param {string} words */
  say(words) {
    const voice = this.wanted.spoken ? ownVoice() : null;
    if (!voice || !words) return;
    const spoken = new SpeechSynthesisUtterance(words);
    spoken.voice = voice;
    spoken.lang = voice.lang;
    spoken.volume = Math.min(1, this.wanted.loud + 0.2);
    speechSynthesis.cancel();
    this.closeWhile(spoken);
    speechSynthesis.speak(spoken);
  }

  /** Nobody knows beforehand how long a sentence lasts: the ear is shut again and again for a little.
   * @param {SpeechSynthesisUtterance} spoken */
  closeWhile(spoken) {
    const shut = () => this.closing(BREATH_MS + ECHO_MS);
    /** @type {ReturnType<typeof setInterval> | undefined} */
    let shutting;
    spoken.addEventListener("start", () => {
      shut();
      shutting = setInterval(shut, BREATH_MS);
    });
    for (const end of ["end", "error"]) spoken.addEventListener(end, () => clearInterval(shutting));
  }
}

/** A voice of this machine in the reader's language: one from elsewhere would send the words away. */
export function ownVoice() {
  const voices = globalThis.speechSynthesis?.getVoices() ?? [];
  const spoken = document.documentElement.lang;
  return voices.find((one) => one.localService && one.lang.slice(0, 2) === spoken) ?? null;
}

/** Sounds one tone, beginning at `start` on the clock of the context.
 * @param {BaseAudioContext} context @param {Tone} tone @param {number} start @param {number} loud */
export function sound(context, tone, start, loud) {
  const from = start + tone.from, until = from + tone.lasts;
  const oscillator = new OscillatorNode(context, { frequency: tone.hertz });
  const gain = new GainNode(context, { gain: 0 });
  gain.gain.setValueAtTime(0, from);
  gain.gain.linearRampToValueAtTime(loud * tone.loud, from + RISE);
  gain.gain.exponentialRampToValueAtTime(loud * tone.loud * 0.01, until);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(from);
  oscillator.stop(until + 0.01);
}
