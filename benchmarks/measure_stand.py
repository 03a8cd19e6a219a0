"""How near the figures of a stand come to the truth, on simulated pictures.

Cameras are drawn at random (matrix, exposure, fall-off, blur, noise); truth is what the same camera shows without
noise. Prints the largest and the median error of each figure, what the profile leaves on the chart's own patches
and on 200 other colours, and the time that flat field and profile add to a view of 12 megapixels.
"""

from __future__ import annotations

import sys
import time

import cv2
import numpy as np

from solander.imaging.chart import read_chart
from solander.imaging.colour import chart_lab, difference, lab_of, roots
from solander.imaging.evenness import flat_of, read_blank
from solander.imaging.linear_light import linear
from solander.imaging.simulate.chart import RigCamera, chart_shot, sheet_shot
from solander.imaging.slanted_edge import sharpest
from solander.imaging.stand_light import StandLight, corrected
from solander.tasks.rig_keep import colours_of

FRAME = (1800, 1200)


def camera(rng: np.random.Generator) -> RigCamera:
    mix = np.eye(3) + rng.uniform(0, 0.12, (3, 3)) * (1 - np.eye(3))
    mix = mix / mix.sum(axis=1, keepdims=True) * rng.uniform(0.92, 1.08, (3, 1))
    return RigCamera(
        mix, exposure=rng.uniform(0.75, 0.95), fall=rng.uniform(0, 0.2), vignette=rng.uniform(0, 0.2),
        blur_px=rng.uniform(0.6, 1.4), noise=rng.uniform(0.5, 2.0), aside_px=rng.uniform(0, 0.6),
    )  # fmt: skip


def one(seed: int) -> dict[str, float] | None:
    rng = np.random.default_rng(seed)
    taken_by, edition = camera(rng), ("before", "after")[seed % 2]
    shot = chart_shot(taken_by, edition=edition, frame=FRAME, turn_deg=rng.uniform(3, 12), seed=seed)
    seen, blank = read_chart(shot.rgb), read_blank(sheet_shot(taken_by, frame=FRAME, seed=seed + 1))
    if seen is None or blank is None:
        return None
    reference, truth = chart_lab(edition), lab_of(shot.truth)
    flat = flat_of(blank)
    places = np.stack(np.meshgrid(np.arange(0, FRAME[0], 20), np.arange(0, FRAME[1], 20)), axis=-1).astype(float)
    light = taken_by.light_at(places, FRAME)
    evened = seen.colours / flat.light_at(seen.places, FRAME)
    numbers, _before, after = colours_of(seen, evened)
    others = np.clip(rng.uniform(0.03, 0.85, (200, 3)), 0, 1)
    peak = light.max()
    shown = roots(others @ taken_by.matrix.T * taken_by.exposure * peak) @ np.reshape(numbers, (3, 6)).T
    edges = sharpest(linear(shot.rgb))
    half = np.sqrt(np.log(2) / 2) / (np.pi * taken_by.blur_px)
    return {
        "edition wrong": float(seen.edition != edition),
        "colour mean": abs(difference(seen.lab, reference).mean() - difference(truth, reference).mean()),
        "colour max": abs(difference(seen.lab, reference).max() - difference(truth, reference).max()),
        "tone L*": abs(np.abs(seen.lab - reference)[18:, 0].max() - np.abs(truth - reference)[18:, 0].max()),
        "flat field %": 100 * np.abs(flat.light_at(places, FRAME)[..., 1] / (light / peak) - 1).max(),
        "MTF50 %": 100 * abs(min(e.falls_to(0.5) for e in edges) / half - 1) if edges else np.nan,
        "fringe px": abs(max(e.misregistration for e in edges) - taken_by.aside_px) if edges else np.nan,
        "before dE": difference(truth, reference).mean(),
        "after dE": after,
        "others dE": difference(lab_of(shown), lab_of(others)).mean(),
    }


def main(count: int) -> None:
    told = [one(seed) for seed in range(count)]
    found = [row for row in told if row]
    print(f"{len(found)} of {count} charts found")
    for name in found[0]:
        values = np.array([row[name] for row in found])
        print(f"{name:15} median {np.nanmedian(values):7.3f}  largest {np.nanmax(values):7.3f}")
    cv2.setNumThreads(1)
    view = cv2.resize(sheet_shot(RigCamera(fall=0.2), frame=(800, 600)), (4000, 3000))
    light = StandLight(flat_of(read_blank(view)), tuple((np.eye(3, 6) * 0.98 + 0.005).ravel()))
    spent = []
    for _ in range(7):
        began = time.process_time()
        corrected(view, light, (4000, 3000), lambda shares: shares * np.array([4000, 3000]) - 0.5)
        spent.append(1000 * (time.process_time() - began))
    print(f"12 MP view: {np.median(spent):.0f} ms of one core (of 7, least {min(spent):.0f})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 12)
