"""How often faces tell which way is up, and how often they are right: real photographs beside the project.

    python benchmarks/right_way_up.py [--every 1] [--with-faces] [--way "as it is"] [--score 0.8]

Each photograph of `shared/data/photos` (all upright) is looked at in its four turns: first as it is, then as a
faded print of simulated paper that lay on a grey stage in that turn, found and straightened as in a take-in.
Prints for each the number of pictures, the share in which a turn is told, the share of those that is right with
Wilson's 95 % interval, and the median processor time of the vote (all its searches). Pictures, not turns, are
counted for the interval: the four turns of one picture are no four trials. `--every 5` takes every fifth
photograph, `--with-faces` those whose manifest tells of faces, `--way` one of the two alone; `--score` and
`--sides` try another level and other sizes than those of `reading.faces`.
"""

from __future__ import annotations

import argparse
import csv
import math
import time
from collections.abc import Callable, Iterable
from pathlib import Path

import cv2
import numpy as np
from attrs import define, field

from solander.core.upright import turn_by_faces
from solander.imaging.conventions import Rgb
from solander.imaging.decode import decode
from solander.imaging.locate import locate_prints
from solander.imaging.rectify import quarter_turn, straighten
from solander.imaging.simulate import Paper, Placement, Stage, simulate_capture
from solander.reading import faces
from solander.reading.models import YUNET, installed

SHARED = Path(__file__).resolve().parents[2] / "shared" / "data"
CAPTURE = (1000, 1000)
PX_PER_MM = 7.0
TONES = ("grey", "sepia", "colour")


@define
class Tally:
    """What was told of one kind of picture; a picture counts as right when none of its turns was told wrongly."""

    pictures: int = 0
    told: int = 0
    right: int = 0
    turns_told: int = 0
    turns_right: int = 0
    lost: int = 0
    seconds: list[float] = field(factory=list)
    wrong: list[str] = field(factory=list)

    def add(self, name: str, answers: Iterable[tuple[int | None, int] | None]) -> None:
        """Counts one picture: for each turn what was told and the truth, None where the print was not found."""
        seen = list(answers)
        self.lost += sum(one is None for one in seen)
        told = [one for one in seen if one is not None and one[0] is not None]
        right = sum(answer == truth for answer, truth in told)
        self.pictures += 1
        self.told += bool(told)
        self.right += bool(told) and right == len(told)
        self.turns_told += len(told)
        self.turns_right += right
        if right < len(told):
            self.wrong.append(name)

    def line(self, name: str) -> str:
        """One line of the table."""
        low, high = wilson(self.right, self.told)
        return (
            f"{name:16} {self.pictures:8} {self.told:5} ({100 * self.told / max(self.pictures, 1):4.1f} %)"
            f"  {self.right} of {self.told} right [{low:.3f}–{high:.3f}]"
            f"  turns {self.turns_right} of {self.turns_told}, not found {self.lost}"
            f"  {1000 * np.median(self.seconds):5.0f} ms  {' '.join(self.wrong)}"
        )


def wilson(right: int, of: int, *, z: float = 1.96) -> tuple[float, float]:
    """Wilson's score interval of a share (Wilson 1927)."""
    if not of:
        return 0.0, 1.0
    share, part = right / of, z * z / of
    middle = (share + part / 2) / (1 + part)
    half = z / (1 + part) * math.sqrt(share * (1 - share) / of + part / (4 * of))
    return max(0.0, middle - half), min(1.0, middle + half)


def told(rgb: Rgb, model: Path, tally: Tally) -> int | None:
    """The turn that faces tell."""
    began = time.thread_time()
    turn = turn_by_faces(faces.turn_votes(rgb, model))
    tally.seconds.append(time.thread_time() - began)
    return turn


def as_it_is(rgb: Rgb, laid: int, seed: int, model: Path, tally: Tally) -> tuple[int | None, int] | None:
    """A photograph turned by `laid` quarter turns."""
    return told(quarter_turn(rgb, laid), model, tally), -laid % 4


def as_a_faded_print(rgb: Rgb, laid: int, seed: int, model: Path, tally: Tally) -> tuple[int | None, int] | None:
    """The same as an old print that lay so on the stage; None where its outline was not found."""
    share = rgb.shape[1] / rgb.shape[0]
    size = (100.0, 100.0 / share) if share > 1 else (100.0 * share, 100.0)
    paper = Paper(rgb, size, border_mm=4.0, tone=TONES[seed % 3], fading=0.8, yellowing=0.6, seed=seed)
    chance = np.random.default_rng([seed, laid])
    placement = Placement((CAPTURE[0] / 2, CAPTURE[1] / 2), 90.0 * laid + chance.uniform(-6, 6), PX_PER_MM)
    seen = simulate_capture([paper], [placement], Stage("grey"), size=CAPTURE, seed=seed)
    found = locate_prints(seen.rgb)
    if len(found) != 1:
        return None
    own_first = np.linalg.norm(found[0].corners - seen.truths[0][0], axis=1).argmin()
    # The corner that is the print's own top left comes to the first place after so many turns clockwise.
    return told(straighten(seen.rgb, found[0].corners), model, tally), -int(own_first) % 4


def shows(photo: Path) -> bool:
    """Whether the manifest says that there are faces in it: large, small or in profile."""
    with (SHARED / "photos" / "manifest.csv").open(encoding="utf-8", newline="") as file:
        return any(row["file"] == photo.name and not row["faces"].startswith("no") for row in csv.DictReader(file))


WAYS: dict[str, Callable[[Rgb, int, int, Path, Tally], tuple[int | None, int] | None]] = {
    "as it is": as_it_is,
    "as a faded print": as_a_faded_print,
}


def main() -> None:
    """Runs both."""
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    arguments.add_argument("--every", type=int, default=1)
    arguments.add_argument("--score", type=float, default=faces.SURE)
    arguments.add_argument("--sides", type=int, nargs="+", default=list(faces.VOTING_SIDES))
    arguments.add_argument("--way", choices=WAYS)
    arguments.add_argument("--with-faces", action="store_true")
    given = arguments.parse_args()
    faces.SURE, faces.VOTING_SIDES = given.score, tuple(given.sides)
    model = installed(YUNET)
    photos = [
        path for path in sorted((SHARED / "photos").glob("*.[jp][pn]g")) if not given.with_faces or shows(path)
    ]
    photos = photos[:: given.every]
    if model is None or not photos:
        raise SystemExit(
            "This needs `solander faces --set-up` and the photographs of shared/data beside the project"
        )
    cv2.setNumThreads(1)
    print(f"{len(photos)} photographs in four turns, score ≥ {given.score}, at {given.sides} px")
    for name, way in WAYS.items():
        if given.way not in (None, name):
            continue
        tally = Tally()
        for seed, photo in enumerate(photos):
            rgb = decode(photo)
            tally.add(photo.name, [way(rgb, laid, seed, model, tally) for laid in range(4)])
        print(tally.line(name), flush=True)


if __name__ == "__main__":
    main()
