"""How many faces are found, how long it takes, and how often like faces are grouped rightly: real photographs.

    python benchmarks/faces.py [--photos FOLDER...] [--copies 3] [--alike 0.45 0.5 0.55 0.6] [--least 0 24 32 48]

Photographs are those of `shared/data/photos` beside the project, or of the folders that are named. No two of them
are taken to show the same person, and nobody twice in one: so every group that holds faces of two photographs is
wrong. The same person in other prints is simulated, for no open set with names was at hand: each photograph is
photographed again `--copies` times as a smaller, faded, turned, blurred, grainy print (`rephotographed`); faces of
copies that lie where a face of the photograph lies are that face. It says nothing of somebody older, or seen from
another side. Prints finds at 640 px alone and merged, processor times of one thread, and for each bound the pairs
that groups join, the share that is right (Wilson's 95 % interval), and the share of true pairs that are joined;
then how often the likest named face suggests the right person. `--least` leaves out faces narrower than so many
pixels, as they are.
"""

from __future__ import annotations

import argparse
import math
import time
from collections.abc import Iterator, Sequence
from itertools import combinations
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen

from solander.imaging.conventions import Rgb
from solander.imaging.decode import Unreadable, decode
from solander.reading import faces
from solander.reading.faces import Face, find_faces
from solander.reading.likeness import grouped, measure_of
from solander.reading.models import SFACE, YUNET, installed
from solander.tasks.face_evidence import LIKE

SHARED = Path(__file__).resolve().parents[2] / "shared" / "data" / "photos"


@frozen(eq=False)
class Seen:
    """A measured face: of which picture (each copy is one of its own), of which person, how many pixels wide."""

    picture: str
    person: str
    measure: np.ndarray
    width: float


def rephotographed(rgb: Rgb, seed: int) -> tuple[Rgb, np.ndarray]:
    """The photograph as another print of it, and the affine map (2, 3) from the one to the other."""
    chance = np.random.default_rng(seed)
    height, width = rgb.shape[:2]
    scale, angle = chance.uniform(0.55, 0.95), chance.uniform(-8, 8)
    across = cv2.getRotationMatrix2D((width / 2, height / 2), angle, scale)
    seen = cv2.warpAffine(rgb, across, (width, height), flags=cv2.INTER_AREA, borderMode=cv2.BORDER_REPLICATE)
    seen = cv2.GaussianBlur(seen, (0, 0), chance.uniform(0.3, 1.2)).astype(np.float32)
    grey = seen @ np.array([0.299, 0.587, 0.114], np.float32)
    seen = grey[..., None] * np.array([1.0, 0.93, 0.8], np.float32) if chance.random() < 0.5 else seen
    lift, contrast = chance.uniform(10, 60), chance.uniform(0.45, 0.9)
    seen = lift + contrast * seen + chance.normal(0, chance.uniform(2, 7), seen.shape)
    _, packed = cv2.imencode(".jpg", np.clip(seen, 0, 255).astype(np.uint8), [cv2.IMWRITE_JPEG_QUALITY, 70])
    return np.asarray(cv2.imdecode(packed, cv2.IMREAD_COLOR), np.uint8), across


def middle(face: Face) -> np.ndarray:
    """The middle of a face."""
    return np.array([face.x + face.width / 2, face.y + face.height / 2])


def persons(originals: Sequence[Face], copies: Sequence[Face], across: np.ndarray) -> Iterator[tuple[Face, int]]:
    """The faces of a copy, each with the number of the face in the photograph that it is."""
    for face in copies:
        for number, one in enumerate(originals):
            there = across[:, :2] @ middle(one) + across[:, 2]
            if np.linalg.norm(there - middle(face)) < 0.4 * face.width:
                yield face, number
                break


def wilson(right: int, of: int, *, z: float = 1.96) -> tuple[float, float]:
    """Wilson's score interval of a share (Wilson 1927)."""
    if not of:
        return 0.0, 1.0
    share, part = right / of, z * z / of
    centre = (share + part / 2) / (1 + part)
    half = z / (1 + part) * math.sqrt(share * (1 - share) / of + part / (4 * of))
    return max(0.0, centre - half), min(1.0, centre + half)


def tell(seen: Sequence[Seen], alike: float) -> str:
    """One line: pairs of different pictures that groups join, and how many of them are one person."""
    labels = grouped(np.stack([one.measure for one in seen]), [one.picture for one in seen], alike=alike)
    joined = right = true = 0
    for one, other in combinations(range(len(seen)), 2):
        same = seen[one].person == seen[other].person
        true += same
        if labels[one] == labels[other]:
            joined, right = joined + 1, right + same
    low, high = wilson(right, joined)
    mixed = sum(
        len({seen[place].person for place in np.flatnonzero(labels == label)}) > 1
        for label in set(labels.tolist())
    )
    return (
        f"alike ≥ {alike:.2f}: {len(set(labels.tolist()))} groups, {mixed} of them of several people; "
        f"{joined} pairs joined, {right} rightly = {right / max(joined, 1):.4f} [{low:.4f}–{high:.4f}]; "
        f"of {true} true pairs {right / max(true, 1):.3f} joined"
    )


def suggested_rightly(named: Sequence[Seen], others: Sequence[Seen], like: float) -> str:
    """One line: with all of `named` named, how often a face of another print has its own person as the likest."""
    cosines = np.stack([one.measure for one in others]) @ np.stack([one.measure for one in named]).T
    best = cosines.argmax(axis=1)
    told = cosines.max(axis=1) >= like
    known = {one.person for one in named}
    right = sum(named[best[at]].person == others[at].person for at in np.flatnonzero(told))
    low, high = wilson(right, int(told.sum()))
    return (
        f"suggested from {like:.2f}: for {told.sum()} of {sum(one.person in known for one in others)} faces, "
        f"{right} rightly = {right / max(int(told.sum()), 1):.4f} [{low:.4f}–{high:.4f}]"
    )


def photographs(folders: Sequence[Path]) -> list[Path]:
    """The pictures in the folders, one of each name."""
    found = {
        path.stem.removeprefix("fsa_").removeprefix("doc_"): path for folder in folders for path in _in(folder)
    }
    return [found[name] for name in sorted(found)]


def _in(folder: Path) -> list[Path]:
    return sorted(path for path in folder.iterdir() if path.suffix.lower() in (".jpg", ".jpeg", ".png"))


def main() -> None:
    """Finds, measures, groups."""
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    arguments.add_argument("--photos", type=Path, nargs="+", default=[SHARED])
    arguments.add_argument("--copies", type=int, default=3)
    arguments.add_argument("--alike", type=float, nargs="+", default=[0.45, 0.5, 0.55, 0.6])
    arguments.add_argument("--least", type=float, nargs="+", default=[0.0, 24.0, 32.0, 48.0])
    given = arguments.parse_args()
    finder, measurer = installed(YUNET), installed(SFACE)
    if finder is None or measurer is None or not all(folder.is_dir() for folder in given.photos):
        raise SystemExit("This needs `solander faces --set-up` and photographs, by default shared/data beside it")
    cv2.setNumThreads(1)
    originals: list[Seen] = []
    copies: list[Seen] = []
    finding, measuring, at_640, pictures = [], [], 0, 0
    for path in photographs(given.photos):
        try:
            rgb = decode(path)
        except Unreadable:
            continue
        pictures += 1
        at_640 += len(find_faces(rgb, finder, sides=(640,)))
        began = time.thread_time()
        found = find_faces(rgb, finder)
        finding.append(time.thread_time() - began)
        for number, face in enumerate(found):
            began = time.thread_time()
            measure = measure_of(rgb, face, measurer)
            measuring.append(time.thread_time() - began)
            originals.append(Seen(path.stem, f"{path.stem} {number}", measure, face.width))
        for copy in range(given.copies if found else 0):
            again, across = rephotographed(rgb, seed=copy + pictures * 97)
            for face, number in persons(found, find_faces(again, finder), across):
                measure = measure_of(again, face, measurer)
                copies.append(Seen(f"{path.stem} copy {copy}", f"{path.stem} {number}", measure, face.width))
    print(f"{pictures} photographs: {at_640} faces at 640 px, {len(measuring)} at {faces.FINDING_SIDES} px merged")
    print(f"finding {1000 * np.median(finding):.0f} ms a picture")
    print(f"measuring {1000 * np.median(measuring):.0f} ms a face")
    for least in given.least:
        people, again = ([one for one in seen if one.width >= least] for seen in (originals, copies))
        print(f"faces from {least:.0f} px: {len(people)} people, none twice:")
        for alike in given.alike:
            print("  " + tell(people, alike))
        print(f"  and {len(again)} faces in {given.copies} simulated prints of each photograph:")
        for alike in given.alike:
            print("  " + tell([*people, *again], alike), flush=True)
        for like in (LIKE, 0.363):
            print("  " + suggested_rightly(people, again, like), flush=True)


if __name__ == "__main__":
    main()
