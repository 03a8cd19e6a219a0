"""Small simulated captures, and what is asked of a collection."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

from PIL import Image

from solander.core.questions import Asks
from solander.imaging.simulate import Camera, Paper, Placement, Shadow, Stage, drawn_picture, simulate_capture
from solander.tasks import prepare as preparing
from solander.tasks.collection import Collection
from solander.tasks.prepare import Job, Prepared, prepare, view_paths, write_whole

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


_AS_WRITTEN = dict(vars(preparing))
_prepared: dict[tuple[object, ...], tuple[Prepared, dict[str, tuple[bytes, bytes]]]] = {}


def prepared_once(job: Job) -> Prepared:
    """What `prepare` gives and writes for a capture; what it gave for the same bytes before is given and written
    again. Where a test has changed how captures are prepared, or an empty stage is known, nothing is kept."""
    if job.stage or any(vars(preparing).get(name) is not value for name, value in _AS_WRITTEN.items()):
        return prepare(job)
    key = (job.sha256, job.path.suffix, job.side, job.face_model, job.lens, job.album_page)
    if key not in _prepared:
        given = prepare(job)
        written = {
            view.key: tuple(p.read_bytes() for p in view_paths(job.views_root, view.key)) for view in given.views
        }
        _prepared[key] = given, written
    given, written = _prepared[key]
    for view_key, contents in written.items():
        for path, content in zip(view_paths(job.views_root, view_key), contents, strict=True):
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, content)
    return given


def asked(collection: Collection, kind: Asks) -> list[tuple[str, str]]:
    """Subject and sentence of the questions of a kind that wait."""
    return [(one.subject, one.sentence) for one in collection.catalogue.questions() if one.asks is kind]


def slip_file(folder: Path, *lines: str) -> Path:
    """A slip file of those lines, the first one naming the columns."""
    path = folder / "slips.csv"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path
