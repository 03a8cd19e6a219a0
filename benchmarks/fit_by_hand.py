"""How well an outline that is set roughly by hand finds the paper's edge: corner error in % of the diagonal.

Simulated captures of 2400 × 1800 pixels; each corner is put off by a normal error of 0.5 % of the diagonal in both
directions, three times a capture.
"""

from __future__ import annotations

import argparse
import time

import numpy as np

from solander.imaging.conventions import corner_error, diagonal
from solander.imaging.fit import fit_to_paper
from solander.imaging.simulate import Camera, Paper, Placement, Shadow, Stage, drawn_picture, simulate_capture

STAGES = ("grey", "wood", "black felt", "white paper")
SIZE = (2400, 1800)
OFF = 0.005


def measure(stage: str, border_mm: float, captures: int) -> str:
    """One line for a stage with and without a border."""
    drawn, errors, seconds, sides = [], [], [], []
    for seed in range(captures):
        rng = np.random.default_rng(seed)
        picture = drawn_picture(seed, (1200, 850), style=("harbour", "town")[seed % 2])
        paper = Paper(picture, (128, 89), border_mm=border_mm, seed=seed)
        at = Placement(
            (1200 + rng.uniform(-100, 100), 900 + rng.uniform(-80, 80)), float(rng.uniform(-15, 15)), 13.0
        )
        camera, shadow = Camera(blur_px=0.8, noise=1.5), Shadow((4, 4), 6)
        seen = simulate_capture([paper], [at], Stage(stage), size=SIZE, seed=seed, camera=camera, shadow=shadow)
        (truth,) = seen.truths
        for _ in range(3):
            rough = truth + rng.normal(0, OFF * diagonal(truth), (4, 2))
            began = time.perf_counter()
            fitted = fit_to_paper(seen.rgb, rough)
            seconds.append(time.perf_counter() - began)
            drawn.append(corner_error(rough, truth))
            errors.append(corner_error(fitted.corners, truth))
            sides.append(sum(fitted.sides))
    return (
        f"{stage:12} border {border_mm} mm: drawn {np.median(drawn):.2f} %, fitted {np.median(errors):.3f}, "
        f"p95 {np.quantile(errors, 0.95):.3f}, most {max(errors):.3f} %; {np.mean(sides):.2f} sides; "
        f"{1000 * np.median(seconds):.0f} ms"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--captures", type=int, default=6, help="captures a stage and border")
    captures = parser.parse_args().captures
    for stage in STAGES:
        for border_mm in (0, 4):
            print(measure(stage, border_mm, captures), flush=True)


if __name__ == "__main__":
    main()
