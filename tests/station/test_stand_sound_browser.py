"""What the station hears and sounds, with a made microphone: a file that Chromium plays into it."""

from __future__ import annotations

import shutil
import subprocess
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from named_box import named_collection
from page_checks import browser, open_page, until, window
from stage_stand_in import LAST, SLIP, StandIn

from solander.core.orders import Order
from solander.tasks.hear import Hearing

pytestmark = [pytest.mark.browser, pytest.mark.slow]

RATE = 16_000
HERTZ, LOUD = 440.0, 0.25
SPY = """
globalThis.tones = [];
const begin = OscillatorNode.prototype.start, end = OscillatorNode.prototype.stop;
OscillatorNode.prototype.start = function (at) {
  this.toneBegan = at; begin.call(this, at);
};
OscillatorNode.prototype.stop = function (at) {
  tones.push({ hertz: this.frequency.value, from: this.toneBegan, until: at });
  end.call(this, at);
};
const ramp = AudioParam.prototype.linearRampToValueAtTime;
globalThis.loudest = 0;
AudioParam.prototype.linearRampToValueAtTime = function (value, at) {
  loudest = Math.max(loudest, value); return ramp.call(this, value, at);
};
"""
REFUSING = "navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', '%s')); 1"


def made_sound(path: Path) -> Path:
    """One second of silence, which Chromium may begin late in, then a tone of known pitch and loudness."""
    times = np.arange(3 * RATE) / RATE
    tone = np.concatenate([np.zeros(RATE), LOUD * np.sin(2 * np.pi * HERTZ * times)])
    with wave.open(str(path), "wb") as file:
        file.setparams((1, 2, RATE, 0, "NONE", ""))
        file.writeframes((tone * 32_767).astype("<i2").tobytes())
    return path


@pytest.fixture(scope="module")
def chromium(tmp_path_factory) -> Iterator[object]:
    path = made_sound(tmp_path_factory.mktemp("sound") / "tone.wav")
    made = ["--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream"]
    with browser(*made, f"--use-file-for-fake-audio-capture={path}") as launched:
        yield launched


@pytest.fixture
def home(home_of_stage: str) -> str:
    return home_of_stage


@pytest.fixture
def page(chromium, home, stage) -> Iterator[object]:
    with window(chromium, "desk") as page:
        page.add_init_script(SPY)
        open_page(page, f"{home}/station")
        stage.wait()
        yield page


def words(page) -> str:
    return page.locator("#ear-words").inner_text()


def heard(stage: StandIn) -> np.ndarray:
    return np.frombuffer(bytes(stage.sound), "<i2") / 32_767


def switch_on(page) -> None:
    page.keyboard.press("m")
    until(page, lambda: words(page) == "Listening")


def test_the_microphone_is_off_until_it_is_switched_on(page, stage):
    assert words(page) == "Microphone off"
    assert stage.sound == b""
    assert stage.ear == []


def test_sound_comes_at_16_khz_as_it_was(page, stage):
    """Against the sound that was made: its pitch tells the rate, its loudness that nothing was regulated."""
    switch_on(page)
    until(page, lambda: len(heard(stage)) > 4 * RATE)
    sound = heard(stage)
    assert len(stage.sound) % 1024 == 0, "whole pieces of 512 samples"
    loud = np.flatnonzero(np.abs(sound) > 0.5 * LOUD)
    assert len(loud), "the tone did not come"
    within = sound[loud[0] + 800 : loud[0] + 800 + RATE]
    spectrum = np.abs(np.fft.rfft(within * np.hanning(len(within))))
    assert np.argmax(spectrum) * RATE / len(within) == pytest.approx(HERTZ, abs=1)
    assert 20 * np.log10(np.sqrt(2 * np.mean(within**2)) / LOUD) == pytest.approx(0, abs=1)


def test_a_story_that_nobody_hears_is_told(page, stage):
    stage.tell(story={"running": True, "seconds": 0, "prints": []})
    page.wait_for_selector(".unheard", state="visible")
    switch_on(page)
    page.wait_for_selector(".unheard", state="hidden")


def test_one_key_shuts_it_and_opens_it_again(page, stage):
    switch_on(page)
    until(page, lambda: len(stage.sound) > 0)
    page.keyboard.press("m")
    until(page, lambda: stage.ear and stage.ear[-1].get("mute") is True)
    assert words(page) == "Not listening"
    before = stage.ear[-1]["after"]
    page.wait_for_timeout(400)  # sound of six pieces, had it not been shut
    assert len(stage.sound) == before
    page.keyboard.press("m")
    until(page, lambda: len(stage.sound) > before)
    assert stage.ear[-1]["mute"] is False
    assert words(page) == "Listening"
    page.get_by_role("button", name="Switch it off").click()
    assert words(page) == "Microphone off"


def test_an_order_spoken_shuts_it_too(page, stage):
    switch_on(page)
    page.wait_for_timeout(1600)  # what is told at once after a key may be of the time before it
    stage.tell(microphone={"open": True, "muted": True})
    until(page, lambda: words(page) == "Not listening")


@pytest.mark.parametrize(
    ("error", "told"), [("NotAllowedError", "Microphone refused"), ("NotFoundError", "No microphone")]
)
def test_what_hinders_it_is_said(page, error, told):
    page.evaluate(REFUSING % error)
    page.keyboard.press("m")
    until(page, lambda: words(page) == told)
    assert "press M" in page.locator("#ear-todo").inner_text()


UNLISTENED = """() => {
  const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
  navigator.mediaDevices.getUserMedia = async (wanted) => (globalThis.given = await ask(wanted));
  AudioWorklet.prototype.addModule = () => Promise.reject(new Error("no script"));
}"""


def test_a_microphone_to_which_the_page_can_t_listen_is_not_left_open(page):
    page.evaluate(UNLISTENED)
    page.keyboard.press("m")
    page.locator("#ear-words", has_text="No microphone").wait_for()
    assert page.evaluate("given.getTracks().map((one) => one.readyState)") == ["ended"]


def test_a_microphone_that_gives_nothing_at_all_is_told(page):
    """Sixty empty pieces are four seconds; a real room is never without a sound."""
    told = page.evaluate(
        """async () => {
          const { Microphone } = await import("/station/station-microphone.js");
          const told = [], microphone = new Microphone("/none", (ear) => told.push(ear), () => {});
          microphone.ear = "on";
          for (let i = 0; i < 60; i += 1) microphone.piece(new ArrayBuffer(0), 0);
          microphone.piece(new ArrayBuffer(0), 0.1);
          return told;
        }"""
    )
    assert told == ["silent", "on"]


def test_four_sounds_differ_are_short_and_quiet(page, stage):
    """Short and quiet: common practice, no source; under half a second, and under a third of full loudness."""
    page.keyboard.press("Shift")
    melodies = {}
    for name in ("taken", "understood", "not understood", "take it again"):
        page.evaluate("tones.length = 0")
        page.get_by_role("button", name=name, exact=True).click()
        tones = page.evaluate("tones")
        first = min(tone["from"] for tone in tones)
        assert max(tone["until"] for tone in tones) - first < 0.5
        melodies[name] = tuple((round(tone["hertz"]), round(tone["from"] - first, 2)) for tone in tones)
    assert len(set(melodies.values())) == 4
    assert 0 < page.evaluate("loudest") < 1 / 3


@pytest.mark.parametrize(
    ("message", "cue"),
    [
        ({"taken": {**LAST[1]}}, [330, 660]),
        ({"taken": {**LAST[0]}}, [784, 587, 440]),
        ({"heard": {"id": 1, "words": "Bergen", "state": "understood"}}, [660, 990]),
        ({"heard": {"id": 1, "words": "", "state": "not"}}, [294, 294]),
        ({"heard": {"id": 1, "words": "Bergen", "state": "ask"}}, [294, 294]),
        ({"trouble": {"what": "Not taken"}}, [784, 587, 440]),
    ],
)
def test_each_thing_that_happens_has_its_sound(page, stage, message, cue):
    page.keyboard.press("Shift")
    stage.tell(camera={}, slip=SLIP)
    stage.tell(**message)
    until(page, lambda: page.evaluate("tones.length") > 0)
    assert page.evaluate("tones.map((tone) => tone.hertz)") == cue


def test_sounds_off_are_kept_off_in_this_browser(page, stage):
    page.locator("#sounds-on").uncheck()
    page.reload()
    stage.wait()
    assert not page.locator("#sounds-on").is_checked()
    stage.tell(taken=LAST[1])
    until(page, lambda: "B2-E5-0013" in page.locator("#read-out").text_content())
    assert page.evaluate("tones") == []


def test_nothing_is_listened_to_while_our_own_sound_plays(page, stage):
    """The workbench is told before the first tone sounds, for at least as long as the tones last."""
    switch_on(page)
    until(page, lambda: len(stage.sound) > 0)
    page.evaluate("tones.length = 0")
    stage.tell(taken=LAST[0])
    until(page, lambda: any("own_sound" in told for told in stage.ear))
    closed = next(told["own_sound"] for told in stage.ear if "own_sound" in told)
    lasts = page.evaluate(
        "1000 * (Math.max(...tones.map((t) => t.until)) - Math.min(...tones.map((t) => t.from)))"
    )
    assert closed >= lasts + 100


RESAMPLED = """
async ([from, hertz]) => {
  const { Resampler } = await import("/station/resample.js");
  const resampler = new Resampler(from, 16000), out = [];
  for (let block = 0; block < 400; block += 1) {
    const turn = (2 * Math.PI * hertz) / from;
    const piece = Float32Array.from({ length: 128 }, (_, i) => Math.sin(turn * (block * 128 + i)));
    out.push(...resampler.push(piece));
  }
  return out;
}
"""


@pytest.mark.parametrize("rate", [48_000, 44_100, 96_000, 8_000])
def test_another_rate_is_brought_to_16_khz(page, rate):
    """Against the sine itself at the new rate: what is left beside it is 60 dB below (our choice)."""
    out = np.array(page.evaluate(RESAMPLED, [rate, 1000]))
    assert len(out) == pytest.approx(400 * 128 * 16_000 / rate, abs=200)
    within = out[500:-10]
    times = np.arange(len(within)) / RATE
    basis = np.stack([np.sin(2 * np.pi * 1000 * times), np.cos(2 * np.pi * 1000 * times)])
    parts, *_ = np.linalg.lstsq(basis.T, within, rcond=None)
    assert np.hypot(*parts) == pytest.approx(1, abs=0.01)
    assert np.std(within - parts @ basis) < 1e-3


@pytest.mark.parametrize("hertz", [9_000, 12_000, 15_500])
def test_what_lies_above_is_not_folded_down_into_speech(page, hertz):
    """Above half of 16 kHz nothing may be left (Nyquist); 60 dB is our choice."""
    out = np.array(page.evaluate(RESAMPLED, [48_000, hertz]))
    assert np.max(np.abs(out[500:-10])) < 1e-3


DRAWN = """
async (cue) => {
  const { TONES, sound } = await import("/station/station-sounds.js");
  const context = new OfflineAudioContext(1, 16000, 16000);
  for (const tone of TONES[cue]) sound(context, tone, 0.1, 0.5);
  return [...(await context.startRendering()).getChannelData(0)];
}
"""


def spoken(words: str, folder: Path) -> np.ndarray:
    """Words as a loudspeaker would say them, between a second of the quiet of a room on both sides."""
    flite = shutil.which("flite")
    if flite is None:
        pytest.skip("flite is not installed, so nothing was spoken")
    path = folder / "spoken.wav"
    subprocess.run([flite, "-voice", "slt", "-t", words, "-o", str(path)], check=True)
    with wave.open(str(path), "rb") as file:
        assert file.getframerate() == RATE
        said = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32_767
    return np.concatenate([np.zeros(RATE), said, np.zeros(RATE)])


def in_a_room(sound: np.ndarray) -> bytes:
    """What a microphone would give of it: with the noise of a room, 60 dB below the loudest there can be."""
    noise = np.random.default_rng(7).normal(0, 1e-3, len(sound))
    return (np.clip(sound + noise, -1, 1) * 32_767).astype("<i2").tobytes()


def listened(hearing: Hearing, pcm: bytes) -> list:
    """What is heard, piece by piece as the page sends it."""
    return [heard for i in range(0, len(pcm), 2048) for heard in hearing.sound(pcm[i : i + 2048])]


def test_what_our_loudspeaker_says_is_not_understood(page, tmp_path):
    """A spoken confirmation that happens to be an order: heard by an open ear, not by one that was told."""
    with named_collection(tmp_path / "said") as collection:
        pcm = in_a_room(0.5 * spoken("undo that", tmp_path))
        assert [heard.order for heard in listened(Hearing(collection), pcm)] == [Order.UNDO]
        told = Hearing(collection)
        told.own_sound(len(pcm) // 32)
        assert listened(told, pcm) == []
        again = [heard.order for heard in listened(told, pcm)]
    assert again == [Order.UNDO], "afterwards it is heard again"


def test_our_tones_alone_are_taken_for_no_words(page, tmp_path):
    """Should a window ever be told late: the tones themselves, loud in the microphone, mean nothing."""
    with named_collection(tmp_path / "said") as collection:
        for cue in ("taken", "understood", "not", "again"):
            tones = np.array(page.evaluate(DRAWN, cue))
            assert np.max(np.abs(tones)) > 0.1
            silence = np.zeros(RATE)
            heard = listened(Hearing(collection), in_a_room(np.concatenate([silence, tones, silence])))
            assert [one for one in heard if one.sure != "not"] == [], cue
