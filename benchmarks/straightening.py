"""How straight and how true: curl, lens and tilt in the map alone, with exact outlines or the finder's own.

Geometry is the simulator's (a pinhole at 1.5 long sides of the frame); corners and bows are exact, or with the
finder's error of `--error` pixels at random. Figures are the largest deviation inside the view in % of its
diagonal, and the error of the aspect in %.

    python benchmarks/straightening.py --prints 300
"""

from __future__ import annotations

import argparse

import numpy as np
from numpy.typing import NDArray

from solander.imaging.curl import Bows
from solander.imaging.in_view import InView
from solander.imaging.lens import Lens
from solander.imaging.rectify import straight_size
from solander.imaging.scale import Plane
from solander.imaging.simulate.geometry import Chain, Placement
from solander.imaging.simulate.geometry import Lens as BentGlass

FRAME = (4000, 3000)
FOCAL = 1.5
SIZES = ((90, 60), (130, 90), (150, 100), (178, 127), (60, 90), (100, 150), (90, 90))
SHARES = np.stack(np.meshgrid(np.linspace(0.02, 0.98, 15), np.linspace(0.02, 0.98, 15)), axis=-1).reshape(-1, 2)
PX_PER_MM = 10.0


def random_print(
    rng: np.random.Generator, *, tilt: float, curl: float, axis_deg: float
) -> tuple[Chain, Placement]:
    """A print of a usual size that fills 35 to 75 % of the frame, tilted and curled by up to so much."""
    size = SIZES[int(rng.integers(len(SIZES)))]
    scale = float(rng.uniform(0.35, 0.75)) * min(FRAME[0] / size[0], FRAME[1] / size[1])
    centre = np.array(FRAME) / 2 + rng.uniform(-200, 200, 2)
    about, lean = rng.uniform(0, 2 * np.pi), float(rng.uniform(0, tilt))
    at = Placement(
        (float(centre[0]), float(centre[1])),
        float(rng.uniform(-8, 8)),
        scale,
        (lean * np.cos(about), lean * np.sin(about)),
    )
    bow = float(rng.uniform(-curl, curl))
    turned = float(rng.normal(0, axis_deg)) if axis_deg else 0.0
    paper = (size[0] * scale, size[1] * scale)
    return Chain(placement=at, paper_px=paper, lens=BentGlass(FRAME), curl=bow, curl_axis_deg=turned), at


def outline_of(
    chain: Chain, lens: Lens, rng: np.random.Generator, error: float
) -> tuple[NDArray[np.float64], Bows]:
    """Corners and bows as a finder that errs by `error` px tells them."""
    bows = []
    for side in lens.captured(chain.border(65), FRAME).reshape(4, 65, 2):
        chord = side[-1] - side[0]
        normal = np.array([chord[1], -chord[0]]) / np.hypot(*chord)
        along = (side - side[0]) @ chord / (chord @ chord)
        bows.append(float(-np.polyfit(2 * along - 1, (side - side[0]) @ normal, 2)[0]) + error * rng.normal())
    corners = lens.captured(chain.corners(), FRAME)
    return corners + error * rng.normal(size=(4, 2)), (bows[0], bows[1], bows[2], bows[3])


def deviation(sheet: InView, chain: Chain, lens: Lens) -> float:
    """The largest distance inside the view from where it should be, in % of its diagonal."""
    truth = lens.captured(chain.to_capture((SHARES - 0.5) * chain.paper_px), FRAME)
    corners = chain.corners()
    return float(100 * np.hypot(*(sheet.seen(SHARES) - truth).T).max() / np.hypot(*(corners[2] - corners[0])))


def run(
    name: str,
    prints: int,
    error: float,
    *,
    tilt: float = 0.0,
    curl: float = 0.0,
    axis: float = 0.0,
    bend: float = 0.0,
) -> None:
    """One line a way of straightening: deviation and aspect, median and 95th of a hundred."""
    rng = np.random.default_rng(1)
    told: dict[str, list[tuple[float, float]]] = {}
    for _ in range(prints):
        chain, at = random_print(rng, tilt=tilt, curl=curl, axis_deg=axis)
        lens = Lens(float(rng.uniform(-bend, bend)))
        corners, bows = outline_of(chain, lens, rng, error)
        plane = Plane(at.homography(FRAME) @ np.diag([at.px_per_mm, at.px_per_mm, 1.0]), FRAME, lens)
        ways = {
            "corners alone": (Lens(), None, None, None),
            "sides' bows": (Lens(), bows, None, None),
            "bows, focal length known": (Lens(), bows, FOCAL, None),
            "lens and bows": (lens, bows, None, None),
            "lens, bows, focal length": (lens, bows, FOCAL, None),
            "stage sheet (all of it)": (lens, bows, FOCAL, plane),
        }
        true = chain.paper_px[0] / chain.paper_px[1]
        for way, (known, seen, focal, stage) in ways.items():
            size = straight_size(corners, frame=FRAME, lens=known, bows=seen, focal=focal, plane=stage)
            off = deviation(InView(corners, FRAME, lens=known, bows=seen, focal=focal), chain, lens)
            told.setdefault(way, []).append((off, 100 * abs(size[0] / size[1] / true - 1)))
    print(f"{name}: deviation median / p95, aspect median / p95, in %")
    for way, values in told.items():
        (off, late), (aspect, worst) = (np.quantile(column, (0.5, 0.95)) for column in np.array(values).T)
        print(f"  {way:26} {off:6.3f} / {late:6.3f}   {aspect:6.3f} / {worst:6.3f}")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--prints", type=int, default=300)
    parser.add_argument("--error", type=float, default=0.3)
    arguments = parser.parse_args()
    prints, error = arguments.prints, arguments.error
    run("flat, straight above", prints, error)
    run("tilted up to 6°", prints, error, tilt=6)
    run("lens up to ±1.5 % at the corner", prints, error, bend=0.03)
    run("lens and tilt", prints, error, bend=0.03, tilt=6)
    run("curl up to 2 %", prints, error, curl=0.02)
    run("curl up to 2 % about an axis turned by 8° (sd)", prints, error, curl=0.02, axis=8)
    run("curl, tilt up to 3° and lens", prints, error, curl=0.01, tilt=3, bend=0.02)


if __name__ == "__main__":
    main()
