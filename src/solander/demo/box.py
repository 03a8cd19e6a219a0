"""The made-up box as captures: what a copy stand and a flatbed would have handed over, with the truth about each.

Everything is invented (see `box/README.txt`) and rendered anew each time, the same bytes from the same versions of
the libraries. Corners are in pixels of the picture after its EXIF orientation; (0, 0) is the centre of the first
pixel.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray
from PIL import Image

from solander.demo.prints import sheet
from solander.demo.scenes import SCAN_DPI, SCENES, Scene
from solander.imaging.simulate import simulate_capture
from solander.imaging.simulate.light import Rgb

__all__ = ["DemoCapture", "box_files", "captures", "write_capture", "write_captures"]

# EXIF, tags of CIPA DC-008: orientation, maker, model, software, and in the Exif IFD the moment of exposure.
_ORIENTATION, _MAKE, _MODEL, _SOFTWARE, _EXIF_IFD, _TAKEN = 0x0112, 0x010F, 0x0110, 0x0131, 0x8769, 0x9003
# How the upright picture lies in the file, in quarter turns counter-clockwise, by EXIF orientation.
_STORED_TURNS = {1: 0, 3: 2, 6: 1, 8: 3}


@frozen
class DemoCapture:
    """One capture, as the camera saw it.

    `rgb` is upright, (height, width, 3) uint8 sRGB; `truths` one (4, 2) a print, in the order of the sheets.
    """

    name: str
    rgb: Rgb = field(eq=False)
    truths: tuple[NDArray[np.float64], ...] = field(eq=False)
    scene: Scene = field(repr=False)


def captures() -> Iterator[DemoCapture]:
    """Every capture of the box in the order in which it was made."""
    for number, scene in enumerate(SCENES):
        yield _rendered(scene, seed=1900 + number)


def write_captures(folder: Path) -> list[Path]:
    """The files of the box, written into `folder` (made when missing): JPEG, one PNG, one TIFF at 300 dpi."""
    folder.mkdir(parents=True, exist_ok=True)
    return [write_capture(capture, folder) for capture in captures()]


def write_capture(capture: DemoCapture, folder: Path) -> Path:
    """The file of one capture, with what a camera (Exif) or a scanner (resolution) writes into it."""
    path = folder / capture.name
    turned = np.rot90(capture.rgb, _STORED_TURNS[capture.scene.orientation])
    picture, exif = Image.fromarray(np.ascontiguousarray(turned)), _exif(capture.scene)
    match path.suffix:
        case ".tif":
            picture.save(path, compression="tiff_lzw", dpi=(SCAN_DPI, SCAN_DPI), software="Made-up flatbed")
        case ".png":
            picture.save(path, compress_level=1, exif=exif)
        case _:
            picture.save(path, quality=91, subsampling=0, exif=exif)
    return path


def box_files() -> Traversable:
    """The folder with `slips.csv`, `people.csv`, `places.csv`, `README.txt` and `LICENCES.txt`."""
    return files("solander.demo") / "box"


def _rendered(scene: Scene, *, seed: int) -> DemoCapture:
    papers = [sheet(name) for name in scene.sheets]
    seen = simulate_capture(
        papers, scene.placements, scene.stage,
        size=scene.size, seed=seed, camera=scene.camera, shadow=scene.shadow,
    )  # fmt: skip
    return DemoCapture(scene.name, seen.rgb, seen.truths, scene)


def _exif(scene: Scene) -> Image.Exif:
    exif = Image.Exif()
    exif[_ORIENTATION] = scene.orientation
    exif[_MAKE], exif[_MODEL], exif[_SOFTWARE] = "Made up", "Copy stand of the made-up box", "Solander demo"
    exif.get_ifd(_EXIF_IFD)[_TAKEN] = scene.taken
    return exif
