"""Captures of one print with one known fault, or none: for measuring how well `condition` tells them.

The sound capture is that of a careful person at a stand: sharp, evenly lit within 8 %, paper white below the end
of the scale. Each fault comes in three grades. All strengths are our own choice (common practice, no source) but
for the model of ageing, see `ageing`.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from typing import Any

import cv2
import numpy as np
from attrs import evolve, field, frozen

from solander.imaging.linear_light import linear
from solander.imaging.simulate.ageing import CORNERS, SIDES, AgedPaper
from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.captures import simulate_capture
from solander.imaging.simulate.cutting import Cut, Wear
from solander.imaging.simulate.geometry import Placement, Points
from solander.imaging.simulate.light import CODE_SHARES, Rgb, encoded
from solander.imaging.simulate.shadows import Glare, Shadow, Slope
from solander.imaging.simulate.stages import Stage

__all__ = ["FAULTY", "GRADES", "Faulty", "faulty_capture"]

GRADES = "slight", "plain", "heavy"

FAULTY: dict[str, tuple[Any, Any, Any]] = {
    "not sharp": (2.5, 5.0, 8.0),  # radius of the blur disc, px
    "shaken": (4.0, 9.0, 16.0),  # length of the shake, px
    "too bright": (0.015, 0.08, 0.2),  # share of the print that comes to white
    "too dark": (0.05, 0.25, 0.45),  # share of the print that comes to black
    "glare": (0.012, 0.03, 0.07),  # radius of the lamp in the gloss, as a share of the frame's width
    "uneven light": (0.10, 0.30, 0.50),  # share of the light lost from one side of the print to the other
    "tilted": (4.5, 8.0, 12.0),  # degrees
    "dust": (25, 80, 250),  # specks
    "faded": (0.85, 0.6, 0.4),  # share of the cyan dye kept
    "yellowed": (0.05, 0.15, 0.28),  # density of the stain in blue
    "mirroring": (0.5, 1.0, 1.6),
    "missing corner": (3.5, 8.0, 15.0),  # legs, mm
    "torn": (3.0, 8.0, 18.0),  # depth, mm
}
"""Each fault with its three strengths."""

MONOCHROME = ("mirroring",)
COLOUR = ("faded",)
EXPOSURES = "too bright", "too dark"


@frozen
class Faulty:
    """A capture, the corners of its print as a good finder gives them, its scale, and what is true of it: `at`
    where the fault is, in words of the print as it lies; `tone` of the print; `angle_deg` of a shake, clockwise
    from x;
    `stage` that it lies on."""

    rgb: Rgb = field(eq=False)
    corners: Points = field(eq=False)
    ppi: float
    tone: str
    at: str = ""
    angle_deg: float = 0.0
    stage: str = ""


def faulty_capture(
    seed: int, pictures: Sequence[Rgb], fault: str = "", grade: int = 1, *, width: int = 2000, stage: str = ""
) -> Faulty:
    """A capture of width × ¾ width pixels with a `fault` of `FAULTY` ("" for none) in a grade of 0 to 2."""
    rng = np.random.default_rng([seed, zlib.crc32(fault.encode())])
    size = (width, width * 3 // 4)
    paper = _paper(rng, pictures, fault)
    fill = rng.uniform(0.62, 0.85)
    scale = fill * min(size[0] / paper.size_mm[0], size[1] / paper.size_mm[1])
    placement = Placement(
        (size[0] / 2 + rng.uniform(-25, 25), size[1] / 2 + rng.uniform(-20, 20)),
        rng.uniform(-3, 3),
        scale,
        (rng.uniform(-1.5, 1.5), rng.uniform(-1.5, 1.5)),
    )
    kinds = ("grey", "blue", "green", "black felt", "grey", "wood")
    ground = Stage(
        stage or kinds[int(rng.integers(len(kinds)))], unevenness=rng.uniform(0.0, 0.08), px_per_mm=scale
    )
    camera = _camera(rng)
    more: dict[str, Any] = {}
    at, angle = "", 0.0
    if fault:
        strength = FAULTY[fault][grade]
        if fault in ("not sharp", "shaken"):
            angle = float(rng.uniform(0, 180))
            camera = _worse(camera, fault, strength, angle)
        elif fault == "glare":
            at, more["glare"] = _glare(rng, placement, paper, strength * width)
        elif fault == "uneven light":
            at, more["casts"] = _dimmed(rng, placement, paper, strength)
        elif fault == "tilted":
            turn = rng.uniform(0, 2 * np.pi)
            placement = evolve(placement, tilt_deg=(strength * np.cos(turn), strength * np.sin(turn)))
        elif fault not in EXPOSURES:
            at, paper = _aged(rng, paper, fault, strength)
    shadow = Shadow((rng.uniform(-6, 6), rng.uniform(1, 6)), rng.uniform(4, 10), rng.uniform(0.1, 0.35))
    seen = simulate_capture(
        [paper],
        [placement],
        ground,
        size=size,
        seed=int(rng.integers(2**31)),
        camera=camera,
        shadow=shadow,
        **more,
    )
    rgb = _exposed(seen.rgb, seen.truths[0], fault, FAULTY[fault][grade]) if fault in EXPOSURES else seen.rgb
    corners = seen.truths[0] + rng.normal(0, 0.35, (4, 2))
    return Faulty(rgb, corners, 25.4 * scale, paper.tone, at, angle, ground.kind)


def _paper(rng: np.random.Generator, pictures: Sequence[Rgb], fault: str) -> AgedPaper:
    in_colour = [_is_colour(picture) for picture in pictures]
    fit = [i for i, colour in enumerate(in_colour) if fault not in COLOUR or colour]
    which = int(rng.choice(fit))
    picture = pictures[which]
    long, short = ((90, 60), (130, 90), (148, 105), (85, 85))[int(rng.integers(4))]
    border = rng.uniform(3, 6) if rng.uniform() < 0.6 else 0.0
    tone = "colour" if in_colour[which] and fault not in MONOCHROME else "grey"
    if tone == "grey" and border and rng.uniform() < 0.3:
        tone = "sepia"
    stocks = ((245, 242, 233), (244, 243, 239), (240, 236, 224), (246, 244, 238))
    across = picture.shape[1] >= picture.shape[0]
    return AgedPaper(
        picture,
        (float(long), float(short)) if across else (float(short), float(long)),
        border_mm=float(border),
        stock=stocks[int(rng.integers(4))],
        tone=tone,
        yellowing=float(rng.uniform(0, 0.12)),
        texture=float(rng.uniform(0, 0.5)),
        cut=Cut(
            deckle_mm=float(rng.uniform(0.4, 1.0)) if border and rng.uniform() < 0.25 else 0.0,
            corner_mm=float(rng.uniform(1, 4)) if rng.uniform() < 0.15 else 0.0,
        ),
        wear=Wear(
            rim=float(rng.uniform(0, 0.4)), dents=float(rng.uniform(0, 0.4)), tears=float(rng.uniform(0, 0.15))
        ),
        seed=int(rng.integers(2**31)),
    )


def _is_colour(picture: Rgb) -> bool:
    small = picture[::8, ::8].astype(np.float32)
    return float(np.median(small.max(axis=2) - small.min(axis=2))) > 12


def _camera(rng: np.random.Generator) -> Camera:
    phone = rng.uniform() < 0.5
    return Camera(
        blur_px=rng.uniform(0.5, 0.9),
        falloff=rng.uniform(0, 0.05),
        noise=rng.uniform(1.0, 2.5),
        exposure=rng.uniform(0.72, 0.86),
        cast=(rng.uniform(0.985, 1.015), 1.0, rng.uniform(0.985, 1.015)),
        smoothing=rng.uniform(0.2, 0.7) if phone else 0.0,
        sharpening=rng.uniform(0.1, 0.5) if phone else 0.0,
        jpeg_quality=int(rng.integers(88, 97)),
        chroma_halved=phone,
    )


def _worse(camera: Camera, fault: str, strength: float, angle: float) -> Camera:
    if fault == "not sharp":
        return evolve(camera, defocus_px=strength)
    return evolve(camera, shake_px=strength, shake_deg=angle)


def _glare(rng: np.random.Generator, at: Placement, paper: AgedPaper, radius: float) -> tuple[str, Glare]:
    x, y = rng.uniform(-0.38, 0.38, 2)
    size = np.array(paper.size_mm) * at.px_per_mm
    centre = (float(at.centre[0] + x * size[0]), float(at.centre[1] + y * size[1]))
    radii = (radius * float(rng.uniform(0.8, 1.4)), radius * float(rng.uniform(0.8, 1.4)))
    glare = Glare(centre, radii, float(rng.uniform(1.6, 3.0)), square=bool(rng.uniform() < 0.4))
    away = {"left edge": x + 0.5, "right edge": 0.5 - x, "top edge": y + 0.5, "bottom edge": 0.5 - y}
    nearest = min(away, key=lambda name: away[name])
    return (nearest if away[nearest] < 0.3 else "middle"), glare


def _dimmed(rng: np.random.Generator, at: Placement, paper: AgedPaper, lost: float) -> tuple[str, list[Slope]]:
    """Light that falls off across the print, towards one of its sides."""
    side = int(rng.integers(4))
    reach = np.array(paper.size_mm) * at.px_per_mm / 2
    return f"{SIDES[side]} edge", [Slope(at.centre, float(reach[(side + 1) % 2]), side, lost)]


def _aged(rng: np.random.Generator, paper: AgedPaper, fault: str, strength: Any) -> tuple[str, AgedPaper]:
    where = int(rng.integers(4))
    match fault:
        case "dust":
            return "", evolve(paper, dust=strength)
        case "faded":
            lost = 1 - strength
            kept = (strength, 1 - 0.4 * lost, 1 - 0.5 * lost)
            return "", evolve(paper, dyes_kept=kept, stain=(0.02 * lost, 0.06 * lost, 0.14 * lost))
        case "yellowed":
            return "", evolve(paper, stain=(0.1 * strength, 0.35 * strength, strength))
        case "mirroring":
            return "", evolve(paper, mirroring=strength)
        case "missing corner":
            return CORNERS[where], evolve(paper, lost_corner=(where, strength * float(rng.uniform(0.9, 1.25))))
        case _:
            return f"{SIDES[where]} edge", evolve(paper, tear=(where, strength * float(rng.uniform(0.9, 1.25))))


def _exposed(rgb: Rgb, corners: Points, fault: str, share: float) -> Rgb:
    """So much more or less light that this share of the print comes to white or to black."""
    inside = cv2.fillConvexPoly(np.zeros(rgb.shape[:2], np.uint8), np.rint(corners).astype(np.int32), (1,)) > 0
    luma = cv2.cvtColor(rgb, cv2.COLOR_RGB2GRAY)[inside]
    if fault == "too dark":
        cut = float(np.quantile(luma, share))
        return np.asarray(np.clip((rgb.astype(np.float32) - cut) * (255 / (255 - cut)), 0, 255), np.uint8)
    bright = linear(np.full((1, 1, 3), int(np.quantile(luma, 1 - share)), np.uint8)).item(0)
    light = linear(rgb) * np.float32(1.02 / max(bright, 1e-3))
    return np.asarray(cv2.convertScaleAbs(encoded(light), alpha=1 / CODE_SHARES), np.uint8)
