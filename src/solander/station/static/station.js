// @ts-check
// The station: puts what the workbench tells where it is seen, and sends what a person orders.

import "./answers.js";
import { Ear } from "./station-ear.js";
import { Link, post, troubleWords } from "./station-link.js";
import { followKeys } from "./station-orders.js";
import { here } from "./station-paper.js";
import { Prints } from "./station-prints.js";
import { SayAll, Slip } from "./station-slip.js";
import { Stage } from "./station-stage.js";
import { Story } from "./station-story.js";
import { Ways } from "./station-ways.js";
import { WaysIn } from "./station-ways-in.js";

const room = here("station");
const { name = "1", token = "" } = room.dataset;
const base = `/station/${encodeURIComponent(name)}`;

/** Milliseconds for which a state must hold before it is read out: hands come and go. */
const HOLDS_MS = 900;

/** Reads something out for those who listen instead of looking. @param {string} words */
function readOut(words) {
  here("read-out").textContent = words;
}

let latest = "";
/** @type {ReturnType<typeof setTimeout> | undefined} */
let reading = undefined;

/** @param {string} words */
function readStateOut(words) {
  if (words === latest) return;
  latest = words;
  clearTimeout(reading);
  reading = setTimeout(() => readOut(words), HOLDS_MS);
}

/** @param {import("./station-link.js").Trouble | null} trouble */
function tell(trouble) {
  here("trouble").hidden = !trouble;
  here("trouble-words").textContent = trouble ? troubleWords(trouble) : "";
  if (trouble) here("told").textContent = "";
}

/** @param {string} where @param {Record<string, unknown>} what @returns {Promise<boolean>} whether it was done */
async function send(where, what) {
  const trouble = await post(`${base}/${where}`, token, what);
  tell(trouble);
  if (trouble) ear.sounds.play("not");
  return !trouble;
}

/** @param {string} wanted */
const order = (wanted) => void send("order", { order: wanted });

const ear = new Ear(base);
const stage = new Stage();
const prints = new Prints({
  order,
  back: (yes) => void send("back", { yes }),
  decide: (keep) => void send("again", { keep }),
});
const story = new Story(order);
const ways = new Ways(name, (words) => tell({ what: words }));
const waysIn = new WaysIn(send);
const sayAll = new SayAll((words) => send("say", { words }));
const slip = new Slip(here("slip-sentence"), here("slip-sounds"), {
  put: (part, words) => send("put", { part, words }),
  drop: (part) => send("drop", { part }),
  hear: async (sound) => {
    const answer = await fetch(`${base}/sounds/${encodeURIComponent(sound.id)}.wav`);
    if (answer.ok) await ear.sounds.hear(await answer.arrayBuffer());
  },
  type: (sound, words) => send("say", { words, sound: sound.id }),
});

/** @param {boolean} rests */
function rest(rests) {
  room.classList.toggle("resting", rests);
  here("rest-words").hidden = !rests;
}

/** What was last seen of the stage. @type {import("./station-stage.js").Watched} */
let watched = { state: "" };

function showWatched() {
  const blind = { state: "blind", words: waysIn.words || worded("No camera yet") };
  readStateOut(stage.show(room.classList.contains("blind") ? blind : watched));
  rest(watched.state === "resting");
}

/** What each kind of message does. @type {Record<string, (told: any) => void>} */
const TOLD = {
  watched: (told) => {
    watched = told;
    showWatched();
  },
  slip: (said) => slip.show(said),
  last: (laid) => prints.show(laid),
  taken: ({ accession, words = "", faults = [] }) => {
    tell(null);
    ear.sounds.play(accession && !faults.length ? "taken" : "again");
    const said = accession ? [`${accession}.`, ...faults].join(" ") : words;
    here("told").textContent = accession ? "" : words;
    readOut(said);
    ear.sounds.say(said);
  },
  again: (again) => prints.again(again),
  heard: (heard) => {
    ear.heard(heard, (yes) => void send("heard", { id: heard.id, yes }));
    ear.sounds.play(heard.state === "understood" ? "understood" : "not");
    if (heard.state === "understood") ear.sounds.say(heard.words);
  },
  told: ({ words, tone }) => {
    tell(null);
    here("told").textContent = words;
    readOut(words);
    if (tone === "not" || tone === "again") ear.sounds.play(tone);
    else sayAll.done();
  },
  story: (told) => story.show(told),
  camera: (camera) => {
    ways.show(camera);
    showWatched();
  },
  ways: (told) => {
    waysIn.show(told);
    showWatched();
  },
  others: (number) => (here("others").hidden = !number),
  microphone: ({ muted }) => ear.microphone.told(muted),
  trouble: (trouble) => {
    tell(trouble);
    if (trouble) ear.sounds.play("again");
  },
};

const live = new Link(`${base}/live`, {
  text: (message) => {
    for (const [kind, told] of Object.entries(message)) TOLD[kind]?.(told);
  },
  binary: async (jpeg) => {
    await stage.picture(jpeg);
    live.send({ next: true });
  },
  changed: (open) => {
    here("lost").hidden = open;
    room.classList.toggle("cut", !open);
    if (!open) readStateOut(here("lost").textContent?.trim() ?? "");
  },
});

for (const one of room.querySelectorAll("button[data-order]")) {
  if (!(one instanceof HTMLButtonElement)) continue;
  one.addEventListener("click", (event) => {
    if (event.detail) one.blur();
    order(one.dataset.order ?? "");
  });
}
followKeys(order, () => room.classList.contains("resting") && (order("wake"), true));
here("watching").addEventListener("click", () => room.classList.contains("resting") && order("wake"));
here("trouble-seen").addEventListener("click", () => tell(null));

addEventListener("pagehide", () => live.close());
