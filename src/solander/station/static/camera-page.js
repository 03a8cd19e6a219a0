// @ts-check
// The page of a camera: opens it, shows the whole stage with what is seen on it, and says what it can't do.

import { openCamera } from "./camera.js";
import { insecureWords } from "./camera-source.js";
import { EAR_WORDS, Microphone } from "./station-microphone.js";
import { here } from "./station-paper.js";
import { Stage } from "./station-stage.js";

document.documentElement.classList.add("scripted");

const room = here("camera");
const { station = "1" } = room.dataset;
const video = /** @type {HTMLVideoElement} */ (here("camera-video"));
const which = /** @type {HTMLSelectElement} */ (here("camera-which"));
const stage = new Stage();

/** @type {import("./camera.js").Camera | null} */
let camera = null;

/** @param {string} words */
function tell(words) {
  here("trouble-words").textContent = words;
  here("trouble").hidden = !words;
}

/** @param {Record<string, any>} message */
function show(message) {
  if (message.watched) {
    const words = stage.show(message.watched);
    if (here("read-out").textContent !== words) here("read-out").textContent = words;
  }
  if (message.slip) here("slip-sentence").textContent = message.slip.words;
  if (message.last) here("last-words").textContent = message.last[0]?.words ?? "";
  if (message.taken) showTaken(message.taken);
  if (message.microphone) microphone.told(message.microphone.muted);
  if (message.told) showTaken({ words: message.told.words, faults: [] });
  if (message.camera) here("camera-words").textContent = message.camera.words.join(" ");
  if (message.trouble) tell([message.trouble.what, message.trouble.why, message.trouble.todo].filter(Boolean).join(". "));
}

/** @param {{ words: string, faults: string[] }} taken */
function showTaken({ words, faults }) {
  tell("");
  here("taken-words").textContent = words;
  here("taken-faults").textContent = faults.join(" ");
}

/** Whether it was sent away is told by its own page, which it may not see then. */
async function seeWhetherSentAway() {
  const answer = await fetch(location.href, { headers: { accept: "text/html" } }).catch(() => null);
  if (answer?.status === 403) location.reload();
}

/** @param {boolean} open */
function changed(open) {
  here("lost").hidden = open;
  if (!open) setTimeout(() => void seeWhetherSentAway(), 500);
}

/** @param {number} count */
function waiting(count) {
  here("waiting").hidden = count === 0;
  here("waiting-words").textContent = worded("Pictures that wait to be sent: %(count)s", { count });
}

/** @param {boolean} rests */
function resting(rests) {
  here("camera-rests").hidden = !rests;
  video.hidden = rests;
}

async function open() {
  camera?.stop();
  camera = null;
  here("camera-begin").toggleAttribute("disabled", true);
  try {
    const device = which.value || undefined;
    camera = await openCamera({ station, video, device, told: tell, text: show, changed, waiting, resting });
    tell("");
    here("camera-asks").hidden = true;
    here("camera-shows").hidden = false;
    here("stage").hidden = false;
    await offerCameras();
    here("lamp").hidden = !camera.source.hasLamp;
  } catch (error) {
    tell(error instanceof Error ? error.message : String(error));
  } finally {
    here("camera-begin").toggleAttribute("disabled", false);
  }
}

/** Which cameras there are is told only once one was allowed. */
async function offerCameras() {
  const all = (await navigator.mediaDevices.enumerateDevices()).filter((one) => one.kind === "videoinput");
  const present = camera?.source.track?.getSettings().deviceId ?? "";
  which.replaceChildren(...all.map((one) => new Option(one.label || one.deviceId, one.deviceId, false, one.deviceId === present)));
  here("camera-choice").hidden = all.length < 2;
}

/** Keys that shutter buttons send (common practice, no source); on a button of the page they press that. */
const SHUTTER = ["Enter", " ", "PageDown", "AudioVolumeUp", "AudioVolumeDown"];

addEventListener("keydown", (event) => {
  if (event.target instanceof Element && event.target.closest("button, select, a, summary, input")) return;
  if (event.key === "m" && !event.repeat && !event.ctrlKey && !event.metaKey) void microphone.toggle();
  if (!camera || event.repeat || !SHUTTER.includes(event.key)) return;
  event.preventDefault();
  void camera.take();
});

const microphone = new Microphone(`/station/${encodeURIComponent(station)}/sound`, showEar, () => undefined);

/** Off, listening or shut: always told. @param {import("./station-microphone.js").Ear} ear */
function showEar(ear) {
  const [words, todo] = EAR_WORDS[ear]();
  here("ear-words").textContent = words;
  here("ear-todo").textContent = todo;
}

showEar("off");
here("ear-toggle").addEventListener("click", () => void microphone.toggle());

let lit = false;
here("camera-begin").addEventListener("click", () => void open());
here("take").addEventListener("click", () => void camera?.take());
here("go-on").addEventListener("click", () => void camera?.goAt("watch"));
here("rest").addEventListener("click", () => void camera?.goAt("rest"));
here("trouble-seen").addEventListener("click", () => tell(""));
which.addEventListener("change", () => void open());
here("lamp").addEventListener("click", async () => {
  if (await camera?.source.lamp(!lit)) lit = !lit;
  here("lamp").setAttribute("aria-pressed", String(lit));
});

if (!globalThis.isSecureContext) {
  tell(insecureWords());
  here("camera-begin").hidden = true;
}
