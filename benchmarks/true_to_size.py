"""How true to size prints come out of whole captures: the finder's own outlines, in pixels.

One simulated camera after another: tilted, with a bent lens (the simulator's own model of it), takes the stage
sheet (as PDFium renders it), then prints of known size that lie where it lay. Each print is cut out three ways:
with nothing known, with the focal length known, with the picture of the sheet. Figures in %, of the prints found.

    python benchmarks/true_to_size.py --cameras 20
"""

from __future__ import annotations

import argparse

import numpy as np
from attrs import evolve

from solander.core.formats import format_of
from solander.imaging.conventions import iou
from solander.imaging.lens import lens_from_sheets
from solander.imaging.locate import locate_prints
from solander.imaging.rectify import paper_mm, straight_size
from solander.imaging.scale import plane_of_sheet
from solander.imaging.sheet import read_sheet
from solander.imaging.simulate import Camera, Paper, Placement, Stage, drawn_picture, simulate_capture
from stage_sheet import A4_MM, printed

FRAME = (3000, 2250)
FOCAL = 1.5
SIZES = ((88.9, 88.9), (127.0, 88.9), (130, 90), (150, 100), (152.4, 101.6), (177.8, 127.0), (90, 60))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cameras", type=int, default=20)
    parser.add_argument("--tilt", type=float, default=6.0)
    parser.add_argument("--curl", type=float, default=0.0)
    arguments = parser.parse_args()
    rng = np.random.default_rng(3)
    sheet = Paper(
        printed(), (float(A4_MM[0]), float(A4_MM[1])), border_mm=0, tone="colour", yellowing=0, texture=0
    )
    told: dict[str, list[float]] = {}
    read = found_prints = named = nameable = wrong = 0
    for number in range(arguments.cameras):
        about, lean = rng.uniform(0, 2 * np.pi), float(rng.uniform(0, arguments.tilt))
        at = Placement((1499.5, 1124.5), 90.0, 9.0, (lean * np.cos(about), lean * np.sin(about)))
        camera = Camera(distortion=float(rng.uniform(-0.03, 0.03)), distortion_2=float(rng.uniform(-0.01, 0.01)))
        stage = Stage("grey")
        bare = simulate_capture([sheet], [at], stage, size=FRAME, seed=number, camera=camera)
        seen = read_sheet(bare.rgb)
        fit = lens_from_sheets([seen]) if seen else None
        plane = plane_of_sheet(seen, fit.lens) if seen and fit else None
        if plane is None or fit is None:
            continue
        read += 1
        told.setdefault("tilt, error in degrees", []).append(abs(plane.tilt_deg(FOCAL) - lean))
        for one in range(2):
            size = SIZES[int(rng.integers(len(SIZES)))]
            picture = drawn_picture(number * 2 + one, (900, round(900 * size[1] / size[0])))
            paper = Paper(picture, size, seed=number, curl=float(rng.uniform(-arguments.curl, arguments.curl)))
            lies = evolve(at, angle_deg=float(rng.uniform(-8, 8)))
            taken = simulate_capture([paper], [lies], stage, size=FRAME, seed=number + 1000, camera=camera)
            prints = locate_prints(taken.rgb)
            if len(prints) != 1 or iou(prints[0].corners, taken.truths[0]) < 0.98:
                continue
            found_prints += 1
            print_ = prints[0]
            ways = {
                "aspect, nothing known": {"bows": print_.bows},
                "aspect, focal length": {"bows": print_.bows, "focal": FOCAL},
                "aspect, stage sheet": {"bows": print_.bows, "lens": fit.lens, "focal": FOCAL, "plane": plane},
            }
            for way, known in ways.items():
                width, height = straight_size(print_.corners, frame=FRAME, **known)
                told.setdefault(way, []).append(100 * abs(width / height / (size[0] / size[1]) - 1))
            measured = paper_mm(print_.corners, plane, bows=print_.bows, focal=FOCAL)
            told.setdefault("size, stage sheet", []).extend(
                100 * abs(m / s - 1) for m, s in zip(measured, size, strict=True)
            )
            true, called = format_of(size), format_of(measured)
            nameable += true is not None
            named += called is not None and called == true
            wrong += called is not None and called != true
    print(f"{read} of {arguments.cameras} sheets read; {found_prints} of {2 * read} prints found")
    for way, values in told.items():
        middle, late = np.quantile(values, (0.5, 0.95))
        print(f"  {way:24} median {middle:.3f}  p95 {late:.3f}  most {max(values):.3f}")
    print(f"  sizes named: {named} of {nameable}, {wrong} wrongly")


if __name__ == "__main__":
    main()
