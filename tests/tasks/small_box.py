"""Small simulated captures, and what is asked of a collection."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from PIL import Image

from solander.core.questions import Asks
from solander.imaging.simulate import Camera, Paper, Placement, Shadow, Stage, drawn_picture, simulate_capture
from solander.tasks.collection import Collection

Draw = Callable[..., Path]

SIZE = (720, 540)
SHARP = Camera(blur_px=0.5, noise=1.0)
OUT_OF_FOCUS = Camera(blur_px=0.5, noise=1.0, defocus_px=9)


@cache
def capture_of(number: int, camera: Camera, angle_deg: float) -> Image.Image:
    """One print on a grey stage; the same number is the same picture."""
    width, height = ((96, 68), (70, 70), (66, 92))[number % 3]
    picture = drawn_picture(number, (480, round(480 * height / width)), style=("harbour", "town")[number % 2])
    paper = Paper(picture, (width, height), border_mm=4, seed=number)
    placement = Placement((SIZE[0] / 2, SIZE[1] / 2), angle_deg, 4.6)
    seen = simulate_capture(
        [paper], [placement], Stage("grey"), size=SIZE, seed=number, camera=camera, shadow=Shadow((2, 2), 3)
    )
    return Image.fromarray(seen.rgb)


def asked(collection: Collection, kind: Asks) -> list[tuple[str, str]]:
    """Subject and sentence of the questions of a kind that wait."""
    return [(one.subject, one.sentence) for one in collection.catalogue.questions() if one.asks is kind]


def slip_file(folder: Path, *lines: str) -> Path:
    """A slip file of those lines, the first one naming the columns."""
    path = folder / "slips.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path
