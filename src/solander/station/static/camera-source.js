// @ts-check
// What a browser lets one do with a camera: its largest picture, a still in full, its settings held still. Much of it
// is allowed by some browsers only (Image Capture, W3C); what is not is told, so that a person can see to it.

/** Milliseconds in which a camera finds its exposure before it is held; and in which it must have given a still. */
const FINDS_MS = 2000, STILL_MS = 8000;

/** More than any camera has: the browser gives the largest that there is. */
const LARGEST = { width: { ideal: 8192 }, height: { ideal: 6144 } };

/** A still must be so much larger than a frame to be worth its time. */
const WORTH = 1.1;

const HELD = /** @type {const} */ ({
  exposure: ["exposureMode", "exposureTime"],
  "white-balance": ["whiteBalanceMode", "colorTemperature"],
  focus: ["focusMode", "focusDistance"],
});

/** @typedef {{ routes: Record<string, [number, number]>, locked: string[], not: string[] }} Says */
/** @typedef {{ takePhoto: (settings?: object) => Promise<Blob>, getPhotoCapabilities: () => Promise<any> }} Photographs */

export class Source {
  /** @param {HTMLVideoElement} video @param {string} [device] */
  constructor(video, device) {
    this.video = video;
    this.device = device;
    this.video.muted = true;
    this.video.playsInline = true;
    this.canvas = document.createElement("canvas");
    /** @type {MediaStream | null} */
    this.stream = null;
    /** @type {Photographs | null} */
    this.photographs = null;
    /** @type {Says} */
    this.says = { routes: {}, locked: [], not: [] };
    /** @type {WakeLockSentinel | null} */
    this.awake = null;
    this.seen = () => void this.stayAwake();
  }

  get track() {
    return this.stream?.getVideoTracks()[0] ?? null;
  }

  /** Whether the camera has a lamp of its own. */
  get hasLamp() {
    return Boolean(/** @type {any} */ (this.track?.getCapabilities?.())?.torch);
  }

  /** Opens the camera at its largest. What hinders it is thrown, as a sentence. */
  async start() {
    if (!globalThis.isSecureContext || !navigator.mediaDevices) throw new Error(insecureWords());
    const which = this.device ? { deviceId: { exact: this.device } } : { facingMode: { ideal: "environment" } };
    try {
      this.stream = await navigator.mediaDevices.getUserMedia({ video: { ...LARGEST, ...which }, audio: false });
    } catch (error) {
      throw new Error(hindranceWords(error instanceof DOMException ? error.name : ""));
    }
    this.video.srcObject = this.stream;
    await this.video.play();
    document.addEventListener("visibilitychange", this.seen);
    await this.stayAwake();
    await this.measure();
  }

  stop() {
    for (const track of this.stream?.getTracks() ?? []) track.stop();
    this.stream = null;
    this.video.srcObject = null;
    document.removeEventListener("visibilitychange", this.seen);
    void this.awake?.release().catch(() => undefined);
    this.awake = null;
  }

  /** How large its pictures are, in passing and in full. */
  async measure() {
    const { videoWidth, videoHeight } = this.video;
    this.says.routes = { frame: [videoWidth, videoHeight] };
    const made = /** @type {{ ImageCapture?: new (track: MediaStreamTrack) => Photographs }} */ (globalThis).ImageCapture;
    this.photographs = null;
    if (!made || !this.track) return;
    try {
      const photographs = new made(this.track);
      const can = await photographs.getPhotoCapabilities();
      const [width, height] = [Number(can.imageWidth?.max ?? 0), Number(can.imageHeight?.max ?? 0)];
      if (width * height <= videoWidth * videoHeight * WORTH) return;
      this.says.routes.still = [width, height];
      this.photographs = photographs;
    } catch {
      // It has no stills beside its frames.
    }
  }

  /** Holds still what the browser lets one hold, once the camera has found it. */
  async hold() {
    const can = /** @type {any} */ (this.track?.getCapabilities?.() ?? {});
    this.says.locked = [];
    this.says.not = [];
    const holding = Object.entries(HELD).filter(([, [mode]]) => can[mode]?.includes("manual"));
    this.says.not = Object.keys(HELD).filter((kind) => !holding.some(([held]) => held === kind));
    if (holding.length) await new Promise((done) => setTimeout(done, FINDS_MS));
    for (const [kind, [mode, value]] of holding) {
      const held = await this.apply({ [mode]: "manual", ...this.presently(value) });
      (held ? this.says.locked : this.says.not).push(kind);
    }
  }

  /** The value of a setting as it is now, where the camera tells it. @param {string} name */
  presently(name) {
    const value = /** @type {any} */ (this.track?.getSettings() ?? {})[name];
    return value === undefined ? {} : { [name]: value };
  }

  /** @param {Record<string, unknown>} setting @returns {Promise<boolean>} whether it was done */
  async apply(setting) {
    try {
      await this.track?.applyConstraints({ advanced: [/** @type {MediaTrackConstraintSet} */ (setting)] });
      return Boolean(this.track);
    } catch {
      return false;
    }
  }

  /** Switches the lamp. @param {boolean} on */
  lamp(on) {
    return this.apply({ torch: on });
  }

  /** Keeps the screen on while the page is seen: a phone that sleeps sees nothing. */
  async stayAwake() {
    if (document.hidden || !this.stream || !("wakeLock" in navigator)) return;
    this.awake = await navigator.wakeLock.request("screen").catch(() => null);
  }

  /**
   * What the camera sees now, as a JPEG; null while it sees nothing.
   * @param {number} longest pixels of the longer side at most @param {number} quality
   * @returns {Promise<Blob | null>}
   */
  async picture(longest, quality) {
    const { videoWidth, videoHeight } = this.video;
    if (!videoWidth || !this.track || this.track.readyState !== "live") return null;
    const scale = Math.min(1, longest / Math.max(videoWidth, videoHeight));
    this.canvas.width = Math.round(videoWidth * scale);
    this.canvas.height = Math.round(videoHeight * scale);
    this.canvas.getContext("2d")?.drawImage(this.video, 0, 0, this.canvas.width, this.canvas.height);
    return new Promise((done) => this.canvas.toBlob(done, "image/jpeg", quality));
  }

  /** A picture in full, by the better of the two ways; a still that does not come is a frame. */
  async still() {
    const photograph = await this.photograph();
    if (photograph) return { picture: photograph, route: "still" };
    const frame = await this.picture(Infinity, 0.95);
    if (!frame) throw new Error(worded("The camera gave no picture. Load this page again."));
    return { picture: frame, route: "frame" };
  }

  /** @returns {Promise<Blob | null>} */
  async photograph() {
    const [width, height] = this.says.routes.still ?? [0, 0];
    if (!this.photographs || !width) return null;
    const late = new Promise((_, fail) => setTimeout(() => fail(new Error("late")), STILL_MS));
    const taking = this.photographs.takePhoto({ imageWidth: width, imageHeight: height });
    try {
      return /** @type {Blob} */ (await Promise.race([taking, late]));
    } catch {
      return null;
    }
  }
}

/** @returns {string} */
export function insecureWords() {
  return worded(
    "The browser gives this page no camera, because it was not opened over a secure line. On this computer open it as http://127.0.0.1; on a phone by the code at the workbench.",
  );
}

/** @param {string} name that the browser gave the hindrance (Media Capture, W3C, 10.2) */
function hindranceWords(name) {
  if (name === "NotAllowedError") return worded("The browser was not allowed to use the camera. Allow it beside the address of this page, and load the page again.");
  if (name === "NotFoundError" || name === "OverconstrainedError") return worded("No camera was found. Plug one in, and load the page again.");
  if (name === "NotReadableError") return worded("The camera is in use by another program. Close that, and load the page again.");
  return worded("The camera could not be opened. Load the page again.");
}
