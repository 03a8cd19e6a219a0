"""How well treatments bring prints back: aged on purpose, treated, compared with what they were.

    python benchmarks/treatments.py --judge

Prints, for each kind of damage, the colour difference (CIEDE2000, mean and 90th percentile over the picture,
means over the prints) or the PSNR before and after; then how much an undamaged print changes by what is proposed,
and how long steps take. Whoever changes a step tunes with `--tune` (the default) and reports what `--judge` says:
other seeds, and the other half of the photographs. `--figure FILE.svg` draws each print as a line from before to
after.
The photographs are those of `shared/data/photos`, beside the project.
"""

from __future__ import annotations

import argparse
import csv
import time
from collections import defaultdict
from collections.abc import Callable, Iterator

import cv2
import numpy as np
from skimage.color import deltaE_ciede2000

from aged_prints import (
    MONOCHROME,
    SHARED,
    SIDE_ABSORPTIONS,
    Aged,
    bordered,
    dusty,
    faded,
    photograph,
    photographs,
    textured,
    under_two_lights,
    yellowed,
)
from solander.core.treatments import Step
from solander.imaging.conventions import Rgb
from solander.imaging.encode import encode_jpeg
from solander.imaging.rectify import straighten
from solander.imaging.treatment.blocks import Grid, grid_of
from solander.imaging.treatment.border import find_border
from solander.imaging.treatment.deep import as_deep, light_of_codes
from solander.imaging.treatment.fading import darkest_density, density_at, fading_from
from solander.imaging.treatment.grain import grain_of, plainest
from solander.imaging.treatment.marks import find_marks, mask_of
from solander.imaging.treatment.preview import Preview
from solander.imaging.treatment.texture import texture_peaks
from solander.imaging.treatment.treat import treat
from solander.imaging.treatment.yellowing import yellowing_of
from solander.tasks.propose_treatment import propose_treatment
from treatments_figure import figure

SETS = {"tune": (10_000, 0), "judge": (700_000, 1)}
"""First seed, and which of every two photographs."""

GRAIN = 255 * 0.01 * float(np.linalg.norm([0.299, 0.587, 0.114]))
"""Deviation of the luma of the noise that `aged_prints.textured` puts on a print, code values."""

Pair = tuple[float, float]
Rows = dict[str, list[tuple[Pair, Pair]]]
"""By what was tried: before and after of each print, each (mean, 90th percentile) or (PSNR, PSNR of the limit)."""


def main() -> None:
    """Measure and print everything that was asked for."""
    options = _options()
    _check_yardstick()
    cv2.setNumThreads(1)
    rows: Rows = defaultdict(list)
    for kind, measure in KINDS.items():
        if kind in (options.kind or KINDS):
            for each, rng in _chosen(options.set, options.every):
                for name, before, after in measure(each, rng):
                    rows[name].append((before, after))
            _print_kind(rows)
    if not options.kind:
        _print_undamaged(options.every)
        _print_times()
    if options.figure:
        options.figure.write(figure({name: [(b[0], a[0]) for b, a in pairs] for name, pairs in rows.items()}))


def of_fading(row: dict[str, str], rng: np.random.Generator) -> Iterator[tuple[str, Pair, Pair]]:
    """Colour prints, dyes and stain by chance, and one as in the trial."""
    if row["tone"] in MONOCHROME:
        return
    picture = photograph(row, 480)
    for name, aged in (
        ("", faded(picture, rng)),
        (", trial's strength", faded(picture, rng, kept=(0.55, 0.85, 0.75))),
    ):
        before = colour_difference(aged.now, aged.was)
        border = find_border(aged.now)
        if border is None:
            yield f"fading{name}: no border found, nothing done", before, before
            continue
        stain = Step("neutral", {"shift": np.subtract(border.density, min(border.density)).tolist()})
        yield f"fading{name}: stain alone", before, _after(aged, [stain])
        ways = {"darkest place": (darkest_density(aged.now, border), None)}
        if aged.neutral:
            shown = density_at(aged.now, aged.neutral)
            ways |= {"neutral shown": (shown, None), "neutral shown, dyes known": (shown, SIDE_ABSORPTIONS)}
        for way, (neutral, absorb) in ways.items():
            fading = fading_from(border.density, neutral, side_absorptions=absorb)
            if fading:
                more = {} if absorb is None else {"side_absorptions": absorb.ravel().tolist()}
                step = Step("fading", {"stain": fading.stain, "gain": fading.gain, **more})
                yield f"fading{name}: border, {way}", before, _after(aged, [step])
                if way == "neutral shown":
                    yield (
                        f"fading{name}: border, neutral shown, density known",
                        before,
                        _after(aged, [_exact(aged, step)]),
                    )
        if aged.neutral:
            yield f"fading{name}: grey world, for comparison", before, _grey_world(aged)


def of_yellowing(row: dict[str, str], rng: np.random.Generator) -> Iterator[tuple[str, Pair, Pair]]:
    """Monochrome prints of three tones."""
    if row["tone"] not in MONOCHROME:
        return
    for tone in ("neutral", "sepia", "selenium"):
        aged = yellowed(photograph(row, 480), rng, tone)
        before = colour_difference(aged.now, aged.was)
        found = yellowing_of(aged.now, find_border(aged.now))
        steps = [Step("yellowing", {"stain": found.stain})] if found else []
        yield f"yellowing, {tone} tone", before, _after(aged, steps)


def of_texture(row: dict[str, str], rng: np.random.Generator) -> Iterator[tuple[str, Pair, Pair]]:
    """Honeycomb paper, and what is done to photographs without texture."""
    for shading in (False, True):
        aged = textured(photograph(row, 1000), rng, shading=shading)
        peaks = texture_peaks(aged.now)
        steps = [Step("texture", {"peaks": peaks})] if peaks else []
        treated = treat(aged.now, steps).picture
        before, after = psnr(aged.now, aged.was), psnr(treated, aged.was)
        how = "as relief shades" if shading else "added, as in the trial"
        kept = grain_of(treated, where=plainest(aged.was))
        yield f"texture: {how}, grain (before: as it was put there)", (GRAIN, 0), (kept, 0)
        yield f"texture: {how} (PSNR)", (before, 0), (after, 0)
        yield f"texture: {how}, found", (0, 0), (bool(peaks), 0)
    clean = photograph(row, 1000)
    peaks = texture_peaks(clean)
    harm = psnr(treat(clean, [Step("texture", {"peaks": peaks})]).picture, clean) if peaks else np.inf
    yield "texture: photographs without it, found nonetheless", (0, 0), (bool(peaks), 0)
    if peaks:
        yield "texture: harm where found nonetheless (PSNR)", (0, 0), (harm, 0)
    for quality in (30, 60, 90):
        for what, print_ in (
            ("without it", clean),
            ("of honeycomb paper", textured(clean, rng, shading=True).now),
        ):
            view, grid = _through_a_file(print_, rng, quality)
            blind, knowing = bool(texture_peaks(view)), bool(texture_peaks(view, grid=grid))
            # blind: as if nothing were known of the squares of the file
            yield f"texture: {what}, JPEG at {quality}, found blind → told", (blind, 0), (knowing, 0)


def _through_a_file(print_: Rgb, rng: np.random.Generator, quality: int) -> tuple[Rgb, Grid]:
    """The print with a camera's noise in a JPEG file of that quality, aslant by half a degree or less, and the
    grid of the file."""
    height, width = print_.shape[:2]
    to = cv2.getRotationMatrix2D((width / 2, height / 2), rng.uniform(-0.5, 0.5), rng.uniform(0.9, 1.0))
    to[:, 2] += 40
    capture = cv2.warpAffine(
        print_, to, (width + 80, height + 80), flags=cv2.INTER_CUBIC, borderValue=(60, 60, 60)
    )
    noisy = (capture[:, :, ::-1] + rng.normal(0, 4, capture.shape)).clip(0, 255).astype(np.uint8)
    code = cv2.imencode(".jpg", noisy, [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    corners = np.array([[-0.5, -0.5], [width - 0.5, -0.5], [width - 0.5, height - 0.5], [-0.5, height - 0.5]])
    corners = cv2.transform(corners[None], to)[0]
    seen = cv2.imdecode(code, cv2.IMREAD_COLOR)[:, :, ::-1]
    straight = straighten(np.ascontiguousarray(seen), corners)
    kept = np.frombuffer(encode_jpeg(straight), np.uint8)  # as views are kept
    view = np.ascontiguousarray(cv2.imdecode(kept, cv2.IMREAD_COLOR)[:, :, ::-1])
    return view, grid_of(corners, (view.shape[1], view.shape[0]), 0)


def of_glare(row: dict[str, str], rng: np.random.Generator) -> Iterator[tuple[str, Pair, Pair]]:
    """Two lights; the ways that it may be done."""
    aged = under_two_lights(photograph(row, 800), rng)
    before = colour_difference(aged.now, aged.was)
    merged = treat(aged.now, [Step("two lights", {"second": "b"})], others={"b": aged.second}).picture
    inner = np.s_[8:-8, 8:-8]
    yield "glare: both captures merged", before, colour_difference(merged[inner], aged.was[inner])
    lower = cv2.min(aged.now, aged.second)
    yield "glare: lower of both, for comparison", before, colour_difference(lower, aged.was)


def of_dust(row: dict[str, str], rng: np.random.Generator) -> Iterator[tuple[str, Pair, Pair]]:
    """Dust and scratches: what is found, what is touched wrongly, how it looks after."""
    aged = dusty(photograph(row, 1000), rng)
    strokes = find_marks(aged.now)
    size = aged.now.shape[1], aged.now.shape[0]
    mask = mask_of(strokes, size)
    count, labels = cv2.connectedComponents(aged.marks)
    hit = len(set(np.unique(labels[mask > 0])) - {0}) / max(1, count - 1)
    true = np.mean([aged.marks[mask_of([one], size) > 0].any() for one in strokes]) if strokes else np.nan
    yield "dust: share of marks found (before: of what was found, true)", (true, 0), (hit, 0)
    treated = treat(aged.now, [Step("marks", {"strokes": strokes})] if strokes else []).picture
    yield "dust: painted over (PSNR)", (psnr(aged.now, aged.was), 0), (psnr(treated, aged.was), 0)
    elsewhere = (mask == 0) & (aged.marks == 0)
    yield "dust: largest change elsewhere", (0, 0), (int(cv2.absdiff(treated, aged.now)[elsewhere].max()), 0)
    where = plainest(aged.was)
    yield (
        "dust: grain in the plainest places",
        (grain_of(aged.was, where=where), 0),
        (grain_of(treated, where=where), 0),
    )


KINDS: dict[str, Callable[[dict[str, str], np.random.Generator], Iterator[tuple[str, Pair, Pair]]]] = {
    "fading": of_fading,
    "yellowing": of_yellowing,
    "texture": of_texture,
    "glare": of_glare,
    "dust": of_dust,
}


def colour_difference(one: Rgb, other: Rgb) -> Pair:
    """CIEDE2000, mean and 90th percentile, of every second pixel both ways."""
    lab = [cv2.cvtColor((each[::2, ::2] / 255).astype(np.float32), cv2.COLOR_RGB2LAB) for each in (one, other)]
    difference = deltaE_ciede2000(*lab)
    return float(difference.mean()), float(np.percentile(difference, 90))


def psnr(one: Rgb, other: Rgb) -> float:
    """Peak signal to noise, dB."""
    return float(cv2.PSNR(one, other))


def _after(aged: Aged, steps: list[Step]) -> Pair:
    return colour_difference(treat(aged.now, steps).picture, aged.was)


def _exact(aged: Aged, step: Step) -> Step:
    """The fading step with the lightness that the shown place really had, as a trial knows it and nobody else."""
    true = float(np.mean(density_at(aged.was, aged.neutral)))
    now = np.subtract(density_at(aged.now, aged.neutral), step.parameters["stain"])
    return Step("fading", {"stain": step.parameters["stain"], "gain": (true / now).clip(0.25, 4.6).tolist()})


def _grey_world(aged: Aged) -> Pair:
    light = light_of_codes()[as_deep(aged.now)].reshape(-1, 3).mean(axis=0)
    shift = -np.log10(light.mean() / light)
    return _after(aged, [Step("neutral", {"shift": (-shift).tolist()})])


def _check_yardstick() -> None:
    """The colour difference against the pairs of Sharma, Wu and Dalal (2005)."""
    rows = csv.DictReader(
        (SHARED.parents[1] / "standards" / "ciede2000-pairs.csv").read_text("utf-8").splitlines()
    )
    off = [
        abs(deltaE_ciede2000(*([float(row[f"{axis}{n}"]) for axis in "Lab"] for n in (1, 2))) - float(row["dE00"]))
        for row in rows
    ]
    print(f"CIEDE2000 of {len(off)} published pairs: off by {max(off):.5f} at most")


def _chosen(which: str, every: int) -> Iterator[tuple[dict[str, str], np.random.Generator]]:
    seed, half = SETS[which]
    for number, row in enumerate(photographs()[half :: 2 * every]):
        yield row, np.random.default_rng(seed + number)


def _print_kind(rows: Rows) -> None:
    for name, pairs in rows.items():
        if pairs and name not in _PRINTED:
            _PRINTED.add(name)
            (mean, high), (mean_after, high_after) = np.nanmean(pairs, axis=0)
            after = [pair[1][0] for pair in pairs]
            print(
                f"{name:62s} n={len(pairs):3d}  {mean:6.2f} → {mean_after:6.2f}   p90 {high:6.2f} → "
                f"{high_after:6.2f}   least/most after {min(after):.2f}/{max(after):.2f}",
                flush=True,
            )


_PRINTED: set[str] = set()


def _print_undamaged(every: int) -> None:
    """All photographs, bare and on white or cream paper: what is proposed, and what it changes."""
    changes = []
    for row in photographs()[::every]:
        picture = photograph(row, 600)
        for paper in (None, (252, 251, 249), (245, 242, 233)):
            print_ = picture if paper is None else bordered(picture, paper=paper)
            proposal = propose_treatment(print_)
            changed = colour_difference(treat(print_, proposal.treatment.applied).picture, print_)[0]
            changes.append(changed)
            if changed > 0:
                print(f"  {row['file']} paper {paper}: {'; '.join(proposal.treatment.sentences)}: {changed:.2f}")
    print(f"undamaged prints, mean dE by what is proposed: mean {np.mean(changes):.3f}, most {np.max(changes):.2f}"
          f", above 1 {int((np.array(changes) > 1).sum())} of {len(changes)}")  # fmt: skip


def _print_times() -> None:
    """One core, processor time, best of three."""
    view = cv2.resize(photograph(photographs()[0], 640), (4000, 3000), interpolation=cv2.INTER_CUBIC)
    colour = [
        Step("fading", {"stain": [0.02, 0.04, 0.12], "gain": [1.8, 1.2, 1.4]}),
        Step("neutral", {"shift": [0, 0.01, 0.02]}),
        Step("density", {"by": 0.05}),
        Step("tone curve", {"points": [[0, 0], [0.5, 0.55], [1, 1]]}),
    ]
    detail, turn = Step("detail", {"shadows": 0.4, "highlights": 0.2}), Step("fine turn", {"degrees": 1.5})
    crop = Step("crop", {"box": [0.05, 0.05, 0.95, 0.95]})
    texture = Step("texture", {"peaks": [[0.1, 0.05], [0.2, 0.1], [-0.1, 0.05]]})
    preview = Preview(view)
    preview.shown([texture, *colour])
    for name, act in {
        "12 MP: colour and tone": lambda: treat(view, colour),
        "12 MP: colour, tone, detail, fine turn, crop": lambda: treat(view, [*colour, detail, turn, crop]),
        "12 MP: texture alone": lambda: treat(view, [texture]),
        "12 MP: texture looked for": lambda: texture_peaks(view),
        "12 MP: what is proposed": lambda: propose_treatment(view),
        "preview after a change of colour": lambda: preview.shown([texture, *colour]),
        "preview after a change, detail and turn too": lambda: preview.shown(
            [texture, *colour, detail, turn, crop]
        ),
    }.items():
        print(f"{name:50s} {min(_seconds(act) for _ in range(3)) * 1000:7.0f} ms")


def _seconds(act: Callable[[], object]) -> float:
    start = time.process_time()
    act()
    return time.process_time() - start


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--judge", dest="set", action="store_const", const="judge", default="tune")
    parser.add_argument("--kind", action="append", choices=KINDS)
    parser.add_argument("--every", type=int, default=1, help="every so many photographs of the half")
    parser.add_argument("--figure", type=argparse.FileType("w", encoding="utf-8"))
    return parser.parse_args()


if __name__ == "__main__":
    main()
