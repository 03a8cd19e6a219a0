"""Captures of paper prints with exact truth, for the made-up box, the tests and the benchmarks.

Things: `papers` (with their `cutting`, `pictures`, `openings`, `backs`), `hands`, `things`, and the `surfaces` of
`stages`. Light: `light`, `shadows`. Camera: `optics`, `sensor`, `camera`. `geometry` says where a thing comes to
lie and `captures` puts all of it together. By chance: `draws` (the cases), `sheets`, `arrangements`,
`surroundings`, `chance`.
"""

from __future__ import annotations

from solander.imaging.simulate.backs import Inscription, written_back
from solander.imaging.simulate.camera import Camera
from solander.imaging.simulate.captures import Simulated, simulate_capture
from solander.imaging.simulate.chance import CASES, PLAIN_CASES, random_capture
from solander.imaging.simulate.cutting import Cut, Wear
from solander.imaging.simulate.geometry import Placement
from solander.imaging.simulate.hands import Hand
from solander.imaging.simulate.papers import Frame, Paper
from solander.imaging.simulate.pictures import drawn_picture
from solander.imaging.simulate.shadows import Cast, Glare, Shadow
from solander.imaging.simulate.stages import STAGES, Stage

__all__ = [
    "CASES",
    "PLAIN_CASES",
    "STAGES",
    "Camera",
    "Cast",
    "Cut",
    "Frame",
    "Glare",
    "Hand",
    "Inscription",
    "Paper",
    "Placement",
    "Shadow",
    "Simulated",
    "Stage",
    "Wear",
    "drawn_picture",
    "random_capture",
    "simulate_capture",
    "written_back",
]
