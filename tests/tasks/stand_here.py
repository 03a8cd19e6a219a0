"""Pictures and sounds as a station gets them."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image
from small_box import SHARP, capture_of

from solander.core.statements import Says
from solander.demo.prints import sheet
from solander.imaging.simulate import Camera, Placement, Stage, simulate_capture
from solander.tasks.collection import Collection

__all__ = ["back", "empty", "jpeg", "said", "still", "voice"]


def still(number: int, *, camera: Camera = SHARP, angle_deg: float = 2.0) -> bytes:
    """A picture of one print on the stage; the same number shows the same photograph."""
    return jpeg(capture_of(number, camera, angle_deg))


def jpeg(picture: Image.Image) -> bytes:
    """A picture as a camera sends it."""
    content = io.BytesIO()
    picture.save(content, "jpeg", quality=90)
    return content.getvalue()


def empty() -> bytes:
    """The stage with nothing on it."""
    seen = simulate_capture([], [], Stage("grey"), size=(720, 540), seed=5, camera=SHARP)
    return jpeg(Image.fromarray(seen.rgb))


def back() -> bytes:
    """A picture of the first back of the made-up box, with writing on it."""
    paper = sheet("e1-01 back")
    at = Placement((600, 450), 2.0, 8)
    seen = simulate_capture([paper], [at], Stage("grey"), size=(1200, 900), seed=4, camera=SHARP)
    return jpeg(Image.fromarray(seen.rgb))


def said(collection: Collection, accession: str, says: Says) -> list[str]:
    """What stands of a print."""
    return [one.value for one in collection.catalogue.statements(subject=accession) if one.says is says]


def voice(seconds: float = 1.0, *, pitch: float = 180.0) -> bytes:
    """16-bit PCM of a humming voice with a little noise, one channel, 16 kHz."""
    time = np.arange(round(seconds * 16_000)) / 16_000
    noise = np.random.default_rng(7).normal(0, 60, len(time))
    hum = sum(np.sin(2 * np.pi * pitch * n * time) / n for n in (1, 2, 3)) * (1 + np.sin(2 * np.pi * 3 * time))
    return (hum * 3000 + noise).astype("<i2").tobytes()
