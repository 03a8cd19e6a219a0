"""What the workbench shows so that a phone can be paired: its address, and a code that is good for once."""

from __future__ import annotations

import io
from collections.abc import Sequence

import segno
from attrs import define, field

from solander.station.certificate import Certificate
from solander.tasks.cameras import Cameras

__all__ = ["Phones"]


@define(eq=False)
class Phones:
    """Where phones reach this computer: `origins` as in "https://192.168.1.5:8766", the first the usual one.

    `code` is the one that is shown just now, `station` the station that it is for.
    """

    cameras: Cameras
    certificate: Certificate
    origins: Sequence[str]
    code: str = field(default="", init=False, repr=False)
    station: str = field(default="1", init=False)

    @property
    def address(self) -> str:
        """The usual address."""
        return self.origins[0]

    @property
    def is_offered(self) -> bool:
        """Whether the code that is shown can still be used."""
        return bool(self.code) and self.cameras.is_offered(self.code)

    @property
    def used(self) -> bool:
        """Whether a code was shown that can't be used any more."""
        return bool(self.code) and not self.is_offered

    def offer(self, station: str) -> None:
        """Shows a new code for a station."""
        self.station = station if station.isalnum() and station.isascii() else "1"
        self.code = self.cameras.offer()

    def drawn(self) -> bytes:
        """The code as a drawing (SVG): black on white with its quiet zone, as ISO/IEC 18004 asks, in any light."""
        out = io.BytesIO()
        asked = f"?at={self.station}" if self.station != "1" else ""
        code = segno.make(f"{self.address}/pair/{self.code}{asked}", error="m", micro=False)
        code.save(out, kind="svg", scale=8, border=4, dark="#000", light="#fff", xmldecl=False)
        return out.getvalue()
