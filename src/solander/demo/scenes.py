"""How each capture of the made-up box came about: which sheets lay where, on what, seen by which camera.

Placements are in pixels of the upright picture: (0, 0) is the centre of the first pixel, x right, y down.
"""

from __future__ import annotations

from attrs import evolve, field, frozen

from solander.imaging.simulate import Camera, Placement, Shadow, Stage

__all__ = ["SCAN_DPI", "SCENES", "Scene"]

SCAN_DPI = 300
_SCAN_SCALE = SCAN_DPI / 25.4
_LYING, _STANDING = (2400, 1800), (1800, 2400)
_STAND_CAMERA = Camera(blur_px=0.7, noise=1.4, distortion=0.008)
_KNOCKED_CAMERA = Camera(blur_px=1.0, noise=1.4, distortion=0.008, defocus_px=9, shake_px=6, shake_deg=20)


@frozen
class Scene:
    """One capture to be made.

    `sheets` are names of `solander.demo.prints.SHEETS`, one a placement; `taken` is local time as EXIF writes it;
    `size` is (width, height) of the upright picture, `orientation` how the file holds it (EXIF 1, 3, 6 or 8).
    """

    name: str
    sheets: tuple[str, ...]
    placements: tuple[Placement, ...]
    taken: str
    stage: Stage
    camera: Camera
    shadow: Shadow
    size: tuple[int, int] = _LYING
    orientation: int = 1


@frozen
class _Sitting:
    """What holds for all captures of one sitting at the stand."""

    stage: str
    day: str
    tilt_deg: tuple[float, float]
    camera: Camera = field(default=_STAND_CAMERA)
    orientation: int = 1

    def scene(self, name: str, sheet: str, time: str, at: tuple[float, float, float, float]) -> Scene:
        """One sheet on the stand; `at` is x, y (px), angle (degrees clockwise) and scale (px per mm)."""
        x, y, angle_deg, px_per_mm = at
        return Scene(
            name=name,
            sheets=(sheet,),
            placements=(Placement((x, y), angle_deg, px_per_mm, self.tilt_deg),),
            taken=f"{self.day} {time}",
            stage=Stage(self.stage, unevenness=0.14),
            camera=self.camera,
            shadow=Shadow((4.0, 5.0), softness_px=6.0, strength=0.4),
            size=_LYING if self.orientation in (1, 3) else _STANDING,
            orientation=self.orientation,
        )


_FIRST = _Sitting("grey", "2024:11:02", (0.6, -0.4))
_SECOND = _Sitting("blue", "2024:11:02", (-0.8, 0.5))
_THIRD = _Sitting("black felt", "2024:11:09", (0.5, 0.9))
# The camera was on its side for one print and its back: the file lies, the orientation tag says so.
_ON_ITS_SIDE = evolve(_THIRD, orientation=6)
_KNOCKED = evolve(_THIRD, camera=_KNOCKED_CAMERA)
_FOURTH = _Sitting("grey", "2024:11:10", (0.3, 0.2))

_SCAN = Scene(
    name="scan-01.tif",
    sheets=("album 1", "album 2", "album 3", "album 4"),
    placements=(
        Placement((590, 430), 0.9, _SCAN_SCALE),
        Placement((1750, 455), -1.4, _SCAN_SCALE),
        Placement((560, 1310), 2.2, _SCAN_SCALE),
        Placement((1620, 1300), -0.6, _SCAN_SCALE),
    ),
    taken="2024:11:10 11:00:00",
    stage=Stage("flatbed lid", unevenness=0.02),
    camera=Camera(blur_px=0.7, noise=0.9),
    shadow=Shadow((0.0, 2.0), softness_px=4.0, strength=0.15),
)

SCENES: tuple[Scene, ...] = (
    _FIRST.scene("e1-01_r.jpg", "e1-01", "10:04:11", (1190, 905, 1.8, 17)),
    _FIRST.scene("e1-01_v.jpg", "e1-01 back", "10:04:32", (1215, 890, -2.3, 17)),
    _FIRST.scene("e1-02_r.jpg", "e1-02", "10:05:20", (1202, 912, -3.4, 17)),
    _FIRST.scene("e1-02_v.jpg", "e1-02 back", "10:05:41", (1180, 900, 2.9, 17)),
    _SECOND.scene("e2-01_r.jpg", "e2-01", "10:21:03", (1230, 880, 4.6, 17)),
    _SECOND.scene("e2-01_v.jpg", "e2-01 back", "10:21:27", (1170, 915, -1.2, 17)),
    _SECOND.scene("e2-02_r.jpg", "e2-02", "10:22:15", (1205, 896, -6.1, 17)),
    _SECOND.scene("e2-02_v.jpg", "e2-02 back", "10:22:36", (1196, 905, 3.3, 17)),
    _SECOND.scene("e2-03_r.jpg", "e2-03", "10:23:30", (1185, 910, 2.1, 17)),
    _ON_ITS_SIDE.scene("e3-01_r.jpg", "e3-01", "14:02:10", (900, 1190, -2.7, 17)),
    _ON_ITS_SIDE.scene("e3-01_v.jpg", "e3-01 back", "14:02:33", (905, 1205, 1.6, 17)),
    _KNOCKED.scene("e3-02_r.jpg", "e3-02", "14:03:40", (1210, 900, 3.0, 17)),
    _THIRD.scene("e3-03_r.jpg", "e3-03", "14:04:18", (1180, 890, -1.9, 17)),
    _THIRD.scene("e3-04_r.jpg", "e3-03", "14:04:29", (1236, 921, 2.2, 17)),
    _FOURTH.scene("e4-01_r.jpg", "e4-01", "09:30:02", (1200, 900, 1.1, 15)),
    _FOURTH.scene("e4-02_r.jpg", "e4-02", "09:30:51", (1220, 885, -4.2, 17)),
    _FOURTH.scene("e4-03_r.png", "e4-03", "09:31:44", (1190, 905, 5.3, 16)),
    _SCAN,
)
"""The captures: four envelopes on the stand in four sittings, one album page on the flatbed."""
