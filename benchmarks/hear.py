"""How well speech at the stand is understood: synthetic voices, noise, talk that is not meant for it.

    python benchmarks/hear.py --judge --count 120 --voices slt,rms,heart --noise clean,10 --jobs 2

Every sentence goes the whole way: samples in pieces of 64 ms, voice activity, both recognisers, what is put
together again. `acted right` was done as it was said, `asked right` was shown to confirm and is right, `acted
wrong` was done and is wrong. Tuned with `--tune` (the default): other sentences, other names, other voices than
`--judge`.

flite speaks `slt`, `rms`, `awb`; espeak-ng `gb`, `scot`; for others see `hear_voices.py`, which is run by the
Python given with `--speaker`. `--alone` leaves the second recogniser out; `--size` tells what a large collection
costs; real voices are heard by `hear_real.py`. `--live` lets the sound come as fast as it is spoken, to processes
of two cores each, and tells how long after the last sound of a sentence the answer is there. Noise is brown
without what lies below 20 Hz, at the signal-to-noise ratio in dB of the speech alone.
"""

from __future__ import annotations

import argparse
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from multiprocessing import Pool, current_process
from pathlib import Path

import numpy as np
import soundfile
from attrs import define, evolve, frozen
from numpy.typing import NDArray

from hear_sentences import CHATTER, NAMES, Case, cases, many_names
from hear_voices import file_of
from solander.reading.speech import Listener, Names, Stream, Told

RATE = 16_000
SEEDS = {"tune": 1, "judge": 2}
VOICES = {"tune": "awb,joe", "judge": "slt,rms,heart,hts,scot"}
PAUSE_S = 1.5
ANSWER_S = 0.6
PIECE = 1024

Samples = NDArray[np.float64]


@frozen
class Job:
    """One sentence by one voice in one noise."""

    case: Case
    voice: str
    noise: str
    seed: int


@define
class Count:
    """What became of the sentences of one kind."""

    said: int = 0
    acted_right: int = 0
    asked_right: int = 0
    acted_wrong: int = 0
    asked_wrong: int = 0

    def __str__(self) -> str:
        shares = (self.acted_right, self.asked_right, self.acted_wrong, self.asked_wrong)
        names = ("acted right", "asked right", "acted wrong", "asked wrong")
        told = "  ".join(
            f"{name} {100 * share / self.said:5.1f} %" for name, share in zip(names, shares, strict=True)
        )
        return f"{self.said:5} said  {told}"


_listener: list[Listener] = []


def begin(names: Names, alone: bool, live: bool = False) -> None:
    """Makes the listener of this process; a live one keeps to two cores of its own."""
    _listener[:] = [Listener(names, second=False if alone else None)]
    place = 2 * ((current_process()._identity or (1,))[0] - 1)
    if live and place + 1 < (os.cpu_count() or 1):
        os.sched_setaffinity(0, {place, place + 1})


def spoken(folder: Path, job: Job) -> Samples:
    """The sound of a sentence at 16 kHz, with quiet before and behind, and its noise."""
    pieces: list[Samples] = [np.zeros(RATE // 2)]
    for part in job.case.said.split("…"):
        path = file_of(folder, job.voice, part.strip(" ,"))
        pieces += [read(path if path.exists() else path.with_suffix(".flac")), np.zeros(int(PAUSE_S * RATE))]
    return noisy(np.concatenate([*pieces[:-1], np.zeros(RATE)]), job.noise, job.seed)


def read(path: Path) -> Samples:
    """A file's samples at 16 kHz, in steps of 16 bits."""
    samples, rate = soundfile.read(path, dtype="int16")
    if rate == RATE:
        return samples.astype(float)
    length = int(len(samples) * RATE / rate)
    bins = np.fft.rfft(samples.astype(float))
    kept = np.zeros(length // 2 + 1, complex)
    kept[: min(len(kept), len(bins))] = bins[: len(kept)]
    return np.fft.irfft(kept, length) * length / len(samples)


def noisy(samples: Samples, noise: str, seed: int) -> Samples:
    """The samples with noise; "clean" is as quiet as a good microphone in a quiet room."""
    chance = np.random.default_rng(seed)
    if noise == "clean":
        return samples + chance.normal(0, 8, len(samples))
    brown = np.cumsum(chance.normal(0, 1, len(samples)))
    brown -= np.convolve(brown, np.ones(800) / 800, "same")
    speech = np.mean(samples[np.abs(samples) > 200] ** 2) if np.any(np.abs(samples) > 200) else 1e6
    return samples + brown * np.sqrt(speech / np.mean(brown**2) / 10 ** (float(noise) / 10))


@frozen
class Cost:
    """What it took: cores while the sound lasts, and seconds from the last sound to the answer (None if not live,
    or if there was none)."""

    cores: float
    delay_s: float | None


def heard(samples: Samples, ends_s: float | None = None) -> tuple[list[Told], Cost]:
    """What a stream of these samples gives; with `ends_s`, the second of the last sound, in its own time."""
    pcm = np.clip(samples, -32768, 32767).astype("<i2").tobytes()
    stream, told, delay = Stream(_listener[0]), [], None
    begun, busy = time.monotonic(), time.process_time()
    for number, start in enumerate(range(0, len(pcm), 2 * PIECE), 1):
        if ends_s is not None:
            time.sleep(max(0.0, begun + number * PIECE / RATE - time.monotonic()))
        if new := list(stream.hear(pcm[start : start + 2 * PIECE])):
            delay = time.monotonic() - begun - ends_s if ends_s is not None else None
            told += new
    return told, Cost((time.process_time() - busy) / (len(samples) / RATE), delay)


def outcome(job: Job, told: Sequence[Told]) -> str:
    """ "acted right", "asked wrong" and so on; empty where it was ignored."""
    kept: list[Told] = []
    for one in told:
        if one.again and kept:
            kept.pop()
        kept.append(one)
    known = [one for one in kept if one.understood.certainty != "not"]
    if not known:
        return ""
    how = "acted" if all(one.understood.certainty == "sure" for one in known) else "asked"
    order = known[0].understood.order
    if job.case.order is not None or order is not None:
        right = order is job.case.order and len(known) == 1
    else:
        right = slip_of(known) == corrected(job.case.words)
    return f"{how} {'right' if right and job.case.kind != 'talk' else 'wrong'}"


def slip_of(told: Sequence[Told]) -> str:
    """What stands on a slip after all that: the later word of one kind counts."""
    slip: dict[str, str] = {}
    for one in told:
        for part in one.understood.parts:
            slip.pop(part.kind, None)
            slip[part.kind] = corrected(part.words)
    return ", ".join(slip.values())


def corrected(words: str) -> str:
    """ "1951, no, 1936" is 1936."""
    return words.rpartition(", no, ")[2]


def one(task: tuple[Path, Job, bool]) -> tuple[Job, str, str, Cost]:
    """A job with its outcome, what was heard, and what it took."""
    folder, job, live = task
    samples = spoken(folder, job)
    told, cost = heard(samples, last_sound_s(spoken(folder, evolve(job, noise="clean"))) if live else None)
    words = " / ".join(
        f"{each.understood.order or each.understood.words} ({each.understood.certainty})" for each in told
    )
    return job, outcome(job, told), words, cost


def last_sound_s(samples: Samples) -> float:
    """The second of the last sample that is louder than the quiet behind."""
    return float(np.flatnonzero(np.abs(samples) > 200)[-1]) / RATE


def jobs_of(which: str, count: int, voices: Sequence[str], noises: Sequence[str]) -> Iterator[Job]:
    """All sentences by all voices in all noises, and the talk."""
    talk = [Case(line, kind="talk") for line in CHATTER[which]]
    for noise in noises:
        for voice in voices:
            for seed, case in enumerate([*cases(which, count, seed=SEEDS[which]), *talk]):
                yield Job(case, voice, noise, seed)


def speak_all(folder: Path, jobs: Sequence[Job], speaker: str) -> None:
    """Makes the sounds that are not there yet."""
    wanted: dict[str, dict[str, None]] = defaultdict(dict)
    for job in jobs:
        for part in job.case.said.split("…"):
            path = file_of(folder, job.voice, said := part.strip(" ,"))
            if not path.exists() and not path.with_suffix(".flac").exists():
                wanted[job.voice][said] = None
    script = Path(__file__).with_name("hear_voices.py")
    for voice, lines in wanted.items():
        command = [speaker, str(script), str(folder), voice]
        subprocess.run(command, input="\n".join(lines), text=True, check=True)


def judge(arguments: argparse.Namespace) -> None:
    """Prints what became of all sentences."""
    which = "judge" if arguments.judge else "tune"
    voices = (arguments.voices or VOICES[which]).split(",")
    jobs = list(jobs_of(which, arguments.count, voices, arguments.noise.split(",")))
    with tempfile.TemporaryDirectory() as made:
        folder = arguments.sounds or Path(made)
        speak_all(folder, jobs, arguments.speaker)
        with Pool(arguments.jobs, begin, (NAMES[which], arguments.alone, arguments.live)) as pool:
            found = pool.map(one, [(folder, job, arguments.live) for job in jobs], chunksize=4)
    report(found, verbose=arguments.verbose)


def report(found: Sequence[tuple[Job, str, str, Cost]], *, verbose: bool) -> None:
    """Prints the shares by noise, voice and kind, and the time."""
    counts: dict[tuple[str, str, str], Count] = defaultdict(Count)
    for job, how, words, _ in found:
        is_talk = job.case.kind == "talk"
        what = "talk" if is_talk else "sentences"
        keys = {
            (job.noise, "all voices", what),
            (job.noise, job.voice, what),
            (job.noise, "all voices", job.case.kind),
        }
        for key in keys:
            counts[key].said += 1
            if how:
                name = how.replace(" ", "_")
                setattr(counts[key], name, getattr(counts[key], name) + 1)
        if verbose and (how != "acted right" if not is_talk else how):
            print(f"  {job.noise} {job.voice}: {job.case.said} → {words}  [{how or 'ignored'}]")
    for (noise, voice, kind), count in sorted(counts.items()):
        print(f"{noise:6} {voice:11} {kind:22} {count}")
    print(f"cores while the sound lasts: {np.mean([cost.cores for *_, cost in found]):.3f}")
    delays = [cost.delay_s for *_, cost in found if cost.delay_s is not None]
    if delays:
        median, most = np.percentile(delays, (50, 95))
        within = 100 * np.mean(np.array(delays) <= ANSWER_S)
        print(f"answer after the last sound: median {median:.2f} s, 95 % {most:.2f} s")
        print(f"within {ANSWER_S} s: {within:.1f} %")


def size(people: int, places: int) -> None:
    """Prints what the grammar of a large collection costs."""
    names = many_names(people, places)
    Listener(names)
    begun = time.process_time()
    _listener[:] = [Listener(names)]
    print(f"{len(names.people)} names of people, {len(names.places)} of places")
    print(f"made anew in {time.process_time() - begun:.2f} s of processor time")
    with tempfile.TemporaryDirectory() as made:
        for said in ("summer nineteen fifty eight", f"{names.people[7]}, {names.places[3]}"):
            job = Job(Case(said), "slt", "clean", 1)
            speak_all(Path(made), [job], sys.executable)
            samples = spoken(Path(made), job)
            told, cost = heard(samples)
            words = [each.understood.words for each in told]
            print(f"{said}: {words}, {cost.cores:.3f} cores, sound {len(samples) / RATE:.1f} s")
    print(f"memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MiB")


def main() -> None:
    """Reads the command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--judge", action="store_true")
    parser.add_argument("--tune", action="store_true")
    parser.add_argument("--count", type=int, default=80)
    parser.add_argument("--voices", default="")
    parser.add_argument("--noise", default="clean")
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--sounds", type=Path)
    parser.add_argument("--speaker", default=sys.executable)
    parser.add_argument("--alone", action="store_true")
    parser.add_argument("--live", action="store_true")
    parser.add_argument("--verbose", action="store_true")
    parser.add_argument("--size", type=int, nargs=2, metavar=("PEOPLE", "PLACES"))
    arguments = parser.parse_args()
    if arguments.size:
        size(*arguments.size)
    else:
        judge(arguments)


if __name__ == "__main__":
    main()
