"""A film for the browser's made camera: a hand lays one print on the stage, lets go, and takes it away again.

Chromium plays a file of JPEGs (Motion JPEG) as its camera, at 30 pictures a second, over and over.
"""

from __future__ import annotations

from pathlib import Path

from solander.imaging.simulate.pictures import drawn_picture
from solander.imaging.simulate.sittings import random_sitting

LEAD_IN = 30
"""Pictures of the empty stage before anything happens."""

AT_REST = 10
"""Each picture of the print at rest is shown so often: browsers of a busy machine lose most of them."""

CAMERA = (
    "--use-fake-ui-for-media-stream",
    "--use-fake-device-for-media-stream",
    "--use-file-for-fake-video-capture={film}",
)


def film(folder: Path) -> Path:
    """Writes it; the print lies still for some five seconds."""
    moments = list(random_sitting(4, [drawn_picture(3)], case="grey stage", prints=1, acts=("plain",)))
    pictures = [moments[0].jpeg] * LEAD_IN
    for moment in moments:
        pictures += [moment.jpeg] * (AT_REST if moment.side and moment.well else 2)
    made = folder / "stage.mjpeg"
    made.write_bytes(b"".join(pictures))
    return made
