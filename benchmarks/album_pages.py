"""How well prints are found on pages of albums: drawn pages with real photographs, captions and a table beneath.

    .venv/bin/python benchmarks/album_pages.py [PAGES]

Pages are black, grey, brown, cream or white; half of them lie on a table, turned by up to 3°, half fill the frame;
four prints with white borders lie on each, turned by up to 2°, a caption under each. The photographs are those of
`../shared/data/photos`, which are not part of the project; the drawing is this file's own, no other's.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from pathlib import Path

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from solander.imaging.album import locate_on_page
from solander.imaging.conventions import Quad, Rgb, iou
from solander.imaging.decode import decode

PHOTOS = Path(__file__).resolve().parents[2] / "shared/data/photos"
PAPERS = {
    "black": ((38, 36, 34), (230, 230, 225)),
    "grey": ((120, 118, 112), (240, 240, 235)),
    "brown": ((110, 85, 60), (235, 230, 220)),
    "cream": ((225, 215, 190), (40, 40, 60)),
    "white": ((243, 242, 238), (30, 30, 60)),
}
SIZE = (3000, 2200)
PLACES = ((375, 315), (1635, 355), (375, 1220), (1660, 1200))
CAPTIONS = ("Lyngfjell 1931", "On the ferry", "Uncle O.", "Midsummer")
SURE = 0.9


@frozen
class Page:
    """A drawn page and the true outlines of its prints."""

    rgb: Rgb
    truths: tuple[Quad, ...]


def main() -> None:
    """Prints one line for each kind of page, and one for all."""
    photos = sorted(PHOTOS.rglob("*.jpg"))
    if not photos:
        sys.exit("../shared/data/photos is not here: nothing was measured.")
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    told: dict[str, Counter[str]] = {name: Counter() for name in PAPERS}
    for seed in range(number):
        kind = list(PAPERS)[seed % len(PAPERS)]
        told[kind] += judged(drawn(seed, kind, photos))
    for kind, seen in [*told.items(), ("all", sum(told.values(), Counter()))]:
        pages, prints = max(seen["pages"], 1), max(seen["prints"], 1)
        print(
            f"{kind:6} {seen['pages']:3} pages: number right {seen['number right'] / pages:4.0%}; "
            f"of {prints} prints IoU ≥ .98 {seen['close'] / prints:4.0%}; "
            f"accepted unasked {seen['accepted'] / prints:4.0%}, of these wrong (IoU < .95) "
            f"{seen['accepted wrong']}; {seen['ms'] / pages:.0f} ms a page"
        )


def judged(page: Page) -> Counter[str]:
    """What came of a page, as counts."""
    begun = time.process_time()
    found = locate_on_page(page.rgb)
    seen = Counter(pages=1, prints=len(page.truths), ms=round(1000 * (time.process_time() - begun)))
    seen["number right"] = int(len(found) == len(page.truths))
    seen["close"] = sum(max((iou(one.corners, t) for one in found), default=0) >= 0.98 for t in page.truths)
    accepted = [max(iou(one.corners, t) for t in page.truths) for one in found if one.confidence >= SURE]
    seen["accepted"], seen["accepted wrong"] = len(accepted), sum(overlap < 0.95 for overlap in accepted)
    return seen


def drawn(seed: int, kind: str, photos: list[Path]) -> Page:
    """A page of that paper; odd seeds lie on a table."""
    random, (paper, ink) = np.random.default_rng(seed), PAPERS[kind]
    (width, height), on_table = SIZE, (seed // len(PAPERS)) % 2 == 1
    picture = np.full((height, width, 3), (150, 140, 128), np.float32)
    rim = 120 if on_table else -50
    picture[max(rim, 0) : height - rim, max(rim, 0) : width - rim] = paper
    picture += cv2.resize(random.normal(0, 5, (height // 4, width // 4)).astype(np.float32), SIZE)[..., None]
    truths = []
    for place, (at, caption) in enumerate(zip(PLACES, CAPTIONS, strict=True)):
        print_ = bordered(photos[(4 * seed + place) % len(photos)], (960, 660) if place % 2 == 0 else (840, 620))
        motion = turned(random.uniform(-2, 2), at)
        laid(picture, print_, motion)
        write(picture, caption, (at[0] + 120, at[1] + print_.shape[0] + 85), ink)
        far_x, far_y = print_.shape[1] - 0.5, print_.shape[0] - 0.5
        corners = np.array([[-0.5, -0.5], [far_x, -0.5], [far_x, far_y], [-0.5, far_y]])
        truths.append(corners @ motion[:, :2].T + motion[:, 2])
    if on_table:
        turn = cv2.getRotationMatrix2D((width / 2, height / 2), random.uniform(-3, 3), 0.95)
        motion = np.asarray(turn, np.float64)
        picture = np.asarray(cv2.warpAffine(picture, motion, SIZE, borderValue=(150, 140, 128)), np.float32)
        truths = [truth @ motion[:, :2].T + motion[:, 2] for truth in truths]
    seen = cv2.GaussianBlur(picture, (0, 0), 0.8) + random.normal(0, 2, picture.shape)
    return Page(seen.clip(0, 255).astype(np.uint8), tuple(truths))


def bordered(photo: Path, size: tuple[int, int]) -> NDArray[np.float32]:
    """The photograph inside a white border."""
    picture = decode(photo)
    print_ = np.full((size[1], size[0], 3), 238, np.float32)
    print_[36:-36, 36:-36] = cv2.resize(picture, (size[0] - 72, size[1] - 72), interpolation=cv2.INTER_AREA)
    return print_


def turned(degrees: float, at: tuple[int, int]) -> NDArray[np.float64]:
    """A turn about the print's own top left, which then lies at `at`."""
    c, s = np.cos(np.deg2rad(degrees)), np.sin(np.deg2rad(degrees))
    return np.array([[c, -s, at[0]], [s, c, at[1]]])


def laid(picture: NDArray[np.float32], print_: NDArray[np.float32], motion: NDArray[np.float64]) -> None:
    """Lays the print on the page, a soft shadow around it."""
    mask = cv2.warpAffine(np.ones(print_.shape[:2], np.float32), motion, SIZE)[..., None]
    shadow = cv2.GaussianBlur(mask, (0, 0), 9)[..., None]
    picture *= 1 - 0.25 * shadow * (1 - mask)
    picture += mask * (cv2.warpAffine(print_, motion, SIZE, borderMode=cv2.BORDER_REPLICATE) - picture)


def write(picture: NDArray[np.float32], text: str, at: tuple[int, int], ink: tuple[int, int, int]) -> None:
    """Writes a caption."""
    line = np.zeros(picture.shape[:2], np.uint8)
    cv2.putText(line, text, at, cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, 2.2, 255, 4, cv2.LINE_AA)
    share = line[..., None].astype(np.float32) / 255
    picture += share * (np.array(ink, np.float32) - picture)


if __name__ == "__main__":
    main()
