// @ts-check
// Sound at another rate: each new sample is the old ones weighed by a sinc under a Kaiser window, cut off below half of
// the lower rate, so that nothing above it is folded down into speech (Oppenheim & Schafer, Discrete-Time Signal
// Processing: changing the rate by a non-integer factor; Kaiser's formulas for the window, from memory).

/** Zero crossings of the sinc on each side: how steep the cut is. */
const CROSSINGS = 24;
/** Kaiser's beta for about 80 dB. */
const BETA = 7.86;
/** The cut as a share of half the lower rate: the slope ends about there. */
const CUT = 0.9;
/** Positions between two samples for which the weights are worked out beforehand. */
const PHASES = 256;

/** The modified Bessel function of order 0, as its series. @param {number} x */
function bessel(x) {
  let sum = 1, term = 1;
  for (let k = 1; term > sum * 1e-12; k += 1) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

export class Resampler {
  /** @param {number} from @param {number} to samples a second */
  constructor(from, to) {
    this.step = from / to;
    const cut = CUT * Math.min(1, to / from);
    this.half = Math.ceil(CROSSINGS / cut);
    this.weights = weightsOf(this.half, cut);
    /** What is still needed of the samples before; it begins with silence. */
    this.before = new Float32Array(2 * this.half);
    /** Where the next new sample lies, counted from the first of `before`. */
    this.at = this.half;
  }

  /** The new samples that can be told of what came so far. @param {Float32Array} samples @returns {Float32Array} */
  push(samples) {
    const all = new Float32Array(this.before.length + samples.length);
    all.set(this.before);
    all.set(samples, this.before.length);
    const out = [];
    for (; this.at + this.half + 1 < all.length; this.at += this.step) out.push(this.sampleAt(all, this.at));
    const gone = Math.max(0, Math.floor(this.at) - this.half);
    this.before = all.slice(gone);
    this.at -= gone;
    return Float32Array.from(out);
  }

  /** @param {Float32Array} all @param {number} at */
  sampleAt(all, at) {
    const whole = Math.floor(at), taps = 2 * this.half;
    const phase = (at - whole) * PHASES, row = Math.floor(phase), share = phase - row;
    let low = 0, high = 0;
    for (let i = 0; i < taps; i += 1) {
      const sample = all[whole - this.half + 1 + i] ?? 0;
      low += sample * (this.weights[row * taps + i] ?? 0);
      high += sample * (this.weights[(row + 1) * taps + i] ?? 0);
    }
    return low + share * (high - low);
  }
}

/** Row by row the weights for a new sample so many `PHASES` after an old one. @param {number} half @param {number} cut */
function weightsOf(half, cut) {
  const taps = 2 * half, weights = new Float32Array((PHASES + 1) * taps);
  for (let row = 0; row <= PHASES; row += 1) {
    let sum = 0;
    for (let i = 0; i < taps; i += 1) {
      const x = i - half + 1 - row / PHASES, r = x / half;
      const sinc = x ? Math.sin(Math.PI * cut * x) / (Math.PI * x) : cut;
      const weight = Math.abs(r) < 1 ? (sinc * bessel(BETA * Math.sqrt(1 - r * r))) / bessel(BETA) : 0;
      weights[row * taps + i] = weight;
      sum += weight;
    }
    for (let i = 0; i < taps; i += 1) weights[row * taps + i] = (weights[row * taps + i] ?? 0) / sum;
  }
  return weights;
}
