"""Fits again what the finder weighs: which edge is the paper's, and how sure an outline is.

    python benchmarks/calibrate_finder.py --per-case 12 --judged 12

Captures are those of the evaluation's `tune` set, each as it is and some worsened: smaller, blurred, sharpened,
noisier, saved as a poor JPEG. Printed are the weights to be written into `solander/imaging/choice.py`
(conditional logit over the lines beside a side) and `solander/imaging/confidence.py` (logistic regression on
whether the mean corner error is at most .3 % of the diagonal), then what they accept and how right that is on the
`judge` set, which has other seeds and other photographs.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from find_prints import SETS, printed_pictures
from solander.imaging import choice, confidence
from solander.imaging.conventions import Quad, Rgb, corner_error, iou
from solander.imaging.locate import look, outlines_in
from solander.imaging.proposals import propose
from solander.imaging.refine import refine
from solander.imaging.search import Side, view_of
from solander.imaging.sheet_on_table import on_its_sheet
from solander.imaging.simulate import random_capture

Floats = NDArray[np.float64]

SINGLE = (
    "grey stage", "blue stage", "green stage", "black felt", "borderless", "wood", "white on white",
    "dark on black", "doors and mounts", "glare", "curl", "rounded", "deckle", "household", "stage edge",
)  # fmt: skip
"""Cases of one print, or of some apart, whose outlines geometry alone decides."""

RIGHT = 0.3
"""Corner error, % of the diagonal, up to which an outline is right."""

SURE = 0.9
WORSENED = 1
"""Worsened copies of each capture."""


@frozen(eq=False)
class Shown:
    """A capture, its true outlines, and the frame of the empty stage where there is one."""

    rgb: Rgb
    truths: tuple[Quad, ...]
    empty: Rgb | None = None


@frozen(eq=False)
class Lines:
    """The features (n, k) of the lines beside one side, and which of them is the paper's."""

    seen: Floats
    right: int


def main() -> None:
    """Collect, fit, print, judge."""
    options = _options()
    cv2.setNumThreads(1)
    report(list(shown("tune", options.per_case)), list(shown("judge", options.judged)))


def report(tune: list[Shown], judge: list[Shown]) -> None:
    """Fit on the first, judge on the second, print both."""
    lines = [one for capture in tune for one in lines_of(capture)]
    weights = fit_choice(lines)
    named = dict(zip(choice.FEATURES, weights.round(2).tolist(), strict=True))
    print(f"choice.WEIGHTS of {len(lines)} sides: {named}")
    right = np.mean([int(np.argmax(one.seen @ weights)) == one.right for one in lines])
    print(f"  the paper's line is taken on {100 * right:.1f} % of them")
    seen, errors = finds_of(tune)
    weights, bias = fit_confidence(seen, errors <= RIGHT)
    print(f"confidence.WEIGHTS of {len(errors)} finds:", weights.round(2).tolist(), "BIAS", round(bias, 2))
    _judged("the same captures", seen, errors, weights, bias)
    _judged("judge", *finds_of(judge), weights, bias)
    print("and by the weights in the program:")
    _judged("judge", *finds_of(judge), confidence.WEIGHTS, confidence.BIAS)


def shown(which: str, per_case: int) -> Iterator[Shown]:
    """Captures of a set, each with its worsened copies."""
    first, pictures = SETS[which][0], printed_pictures(which)
    for case in SINGLE:
        for seed in range(first, first + per_case):
            with_empty = case == "dark on black" and seed % 2 == 0
            capture = random_capture(seed, pictures, case=case, with_empty=with_empty)
            plain = Shown(capture.rgb, capture.truths, capture.empty)
            yield plain
            rng = np.random.default_rng([seed, 5])
            yield from (worsened(plain, rng) for _ in range(WORSENED))


def worsened(capture: Shown, rng: np.random.Generator) -> Shown:
    """A smaller copy, out of focus or sharpened, noisy, and saved as a poor JPEG."""
    width = int(rng.choice([640, 900, 1280, 1800]))
    scale = width / capture.rgb.shape[1]
    size = (width, round(capture.rgb.shape[0] * scale))
    small = np.asarray(cv2.resize(capture.rgb, size, interpolation=cv2.INTER_AREA), np.float32)
    if rng.uniform() < 0.5:
        small = np.asarray(cv2.GaussianBlur(small, (0, 0), rng.uniform(0.5, 2.5)), np.float32)
    if rng.uniform() < 0.4:
        small += rng.uniform(0.3, 1.2) * (small - cv2.GaussianBlur(small, (0, 0), rng.uniform(0.8, 2.5)))
    small += rng.uniform(0.5, 6) * rng.standard_normal(small.shape, dtype=np.float32)
    coded = np.clip(small, 0, 255).astype(np.uint8)
    quality = [cv2.IMWRITE_JPEG_QUALITY, int(rng.integers(55, 92))]
    data = cv2.imencode(".jpg", coded, quality)[1]
    rgb = np.asarray(cv2.imdecode(data, cv2.IMREAD_COLOR), np.uint8)
    return Shown(rgb, tuple((truth + 0.5) * scale - 0.5 for truth in capture.truths))


def lines_of(capture: Shown) -> Iterator[Lines]:
    """The lines beside the sides of the roughly right proposals, where one of them is the paper's."""
    scene = look(capture.rgb, capture.empty)
    for rough in propose(scene.coarse, scene.stage):
        quad = scene.middle.from_full(scene.coarse.to_full(rough))
        for truth in capture.truths:
            true = scene.middle.from_full(truth)
            if iou(quad, true) < 0.7:
                continue
            for i in range(4):
                view = view_of(scene, (quad[i], quad[(i + 1) % 4]), quad)
                away = [_from_true(side, true) for side in view.sides]
                if away and min(away) < 2:
                    yield Lines(np.array([s.chosen.seen for s in view.sides]), int(np.argmin(away)))


def _from_true(side: Side, true: Quad) -> float:
    """Mean distance of a side from the true side that runs along it, in pixels."""
    ahead = np.roll(true, -1, axis=0) - true
    ahead /= np.linalg.norm(ahead, axis=1)[:, None]
    j = int(np.argmax(ahead @ (side.end - side.start)))
    normal = np.array([-ahead[j][1], ahead[j][0]])
    places = side.start + (side.end - side.start) * np.array([[0.1], [0.5], [0.9]])
    return float(np.abs((places - true[j]) @ normal).mean())


def fit_choice(lines: list[Lines], ridge: float = 4e-4) -> Floats:
    """Weights of the conditional logit, by Newton's steps."""
    weights = np.zeros(lines[0].seen.shape[1])
    for _ in range(30):
        slope, bend = 2 * ridge * weights, 2 * ridge * np.eye(len(weights))
        for one in lines:
            utility = one.seen @ weights
            share = np.exp(utility - utility.max())
            share /= share.sum()
            mean = share @ one.seen
            slope = slope + (mean - one.seen[one.right]) / len(lines)
            bend = bend + ((one.seen * share[:, None]).T @ one.seen - np.outer(mean, mean)) / len(lines)
        weights = weights - np.linalg.solve(bend, slope)
    return weights


def finds_of(captures: list[Shown]) -> tuple[Floats, Floats]:
    """Of every find its evidence and its error against the truth that it overlaps most (100 for none)."""
    seen: list[Floats] = []
    errors: list[float] = []
    for capture in captures:
        scene = look(capture.rgb, capture.empty)
        if capture.empty is None:
            scene = on_its_sheet(scene)
        for outline in outlines_in(scene):
            refined = refine(scene, outline)
            if not refined.agreement:
                continue
            overlaps = [iou(refined.corners, truth) for truth in capture.truths]
            nearest = capture.truths[int(np.argmax(overlaps))]
            seen.append(confidence.evidence(outline, refined))
            errors.append(corner_error(refined.corners, nearest) if max(overlaps) > 0.1 else 100.0)
    return np.array(seen), np.array(errors)


def fit_confidence(seen: Floats, right: NDArray[np.bool_], ridge: float = 3e-3) -> tuple[Floats, float]:
    """Weights and bias of the logistic regression on standardised evidence, by Newton's steps."""
    middle, spread = seen.mean(axis=0), seen.std(axis=0) + 1e-9
    basis = np.column_stack([(seen - middle) / spread, np.ones(len(seen))])
    weights = np.zeros(basis.shape[1])
    held = 2 * ridge * np.diag([*[1.0] * (len(weights) - 1), 0.0])
    for _ in range(40):
        share = 1 / (1 + np.exp(-np.clip(basis @ weights, -30, 30)))
        slope = basis.T @ (share - right) / len(seen) + held @ weights
        bend = (basis * (share * (1 - share))[:, None]).T @ basis / len(seen) + held + 1e-9 * np.eye(len(weights))
        weights = weights - np.linalg.solve(bend, slope)
    plain = weights[:-1] / spread
    return plain, float(weights[-1] - plain @ middle)


def _judged(name: str, seen: Floats, errors: Floats, weights: Floats, bias: float) -> None:
    sure = 1 / (1 + np.exp(-(seen @ weights + bias)))
    taken = sure >= SURE
    p95 = np.percentile(errors[taken], 95) if taken.any() else np.nan
    print(f"  {name}: {100 * taken.mean():.1f} % of {len(errors)} accepted, p95 {p95:.3f} %")
    for low, high in ((0, 0.3), (0.3, 0.6), (0.6, 0.8), (0.8, 0.9), (0.9, 0.97), (0.97, 1.01)):
        within = (sure >= low) & (sure < high)
        if within.any():
            share = 100 * (errors[within] <= RIGHT).mean()
            print(f"    confidence {low:.2f}–{min(high, 1):.2f}: {within.sum():5} finds, {share:5.1f} % right")


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--per-case", type=int, default=12, help="captures of each case to fit on")
    parser.add_argument("--judged", type=int, default=12, help="captures of each case to judge on")
    return parser.parse_args()


if __name__ == "__main__":
    main()
