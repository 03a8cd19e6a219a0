"""A view keeps the colours that the capture had, judged by CIEDE2000.

The yardstick itself is checked first: scikit-image's CIEDE2000 against the pairs of Sharma, Wu and Dalal (Color
Research & Application 30(1), 2005, table 1), as `data/ciede2000-pairs.csv` carries them.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from solander.imaging.decode import decode
from solander.imaging.encode import encode_jpeg
from solander.imaging.locate import locate_prints
from solander.imaging.rectify import straighten

skimage_color = pytest.importorskip("skimage.color", reason="scikit-image, the yardstick, is not installed")

PAIRS = list(
    csv.DictReader((Path(__file__).parent / "data" / "ciede2000-pairs.csv").read_text("utf-8").splitlines())
)


@pytest.mark.parametrize("pair", PAIRS, ids=[pair["pair"] for pair in PAIRS])
def test_the_yardstick_gives_the_published_differences(pair: dict[str, str]) -> None:
    one, other = ([float(pair[f"{axis}{n}"]) for axis in "Lab"] for n in (1, 2))
    assert skimage_color.deltaE_ciede2000(one, other) == pytest.approx(float(pair["dE00"]), abs=5e-5)


def test_a_print_keeps_its_colours_from_capture_to_access_copy(tmp_path: Path) -> None:
    """24 patches on white paper on a grey stage, found, straightened, encoded and decoded again.

    The bound is 1, about a difference that an eye just sees; cut out, encoded at 92 and read back, plain areas
    should lose far less.
    """
    patches = _patches()
    capture = np.full((900, 1200, 3), 120, np.uint8)
    capture[100:800, 150:1050] = _chart(patches)
    (found,) = locate_prints(capture)
    path = tmp_path / "view.jpg"
    path.write_bytes(encode_jpeg(straighten(capture, found.corners)))
    seen = _means(decode(path))
    difference = skimage_color.deltaE_ciede2000(_lab(seen), _lab(patches))
    assert difference.max() < 1
    assert difference.mean() < 0.4


def _patches() -> np.ndarray:
    """24 colours spread over the sRGB cube, six greys among them."""
    colours = np.random.default_rng(24).integers(30, 226, (18, 3))
    greys = np.repeat(np.linspace(40, 235, 6).round().astype(int)[:, None], 3, axis=1)
    return np.vstack([colours, greys]).astype(np.uint8)


def _chart(patches: np.ndarray) -> np.ndarray:
    chart = np.full((700, 900, 3), 248, np.uint8)
    for place, colour in enumerate(patches):
        top, left = 60 + place // 6 * 150, 60 + place % 6 * 135
        chart[top : top + 120, left : left + 105] = colour
    return chart


def _means(view: np.ndarray) -> np.ndarray:
    down, across = view.shape[0] / 700, view.shape[1] / 900
    centres = [((120 + p // 6 * 150) * down, (112 + p % 6 * 135) * across) for p in range(24)]
    return np.array([view[int(y) - 30 : int(y) + 30, int(x) - 30 : int(x) + 30].mean((0, 1)) for y, x in centres])


def _lab(rgb: np.ndarray) -> np.ndarray:
    return skimage_color.rgb2lab(np.asarray(rgb, float)[None] / 255)[0]
