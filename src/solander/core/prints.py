"""What the catalogue speaks about: containers, prints, captures, outlines and views."""

from __future__ import annotations

import hashlib
import json
import re
from enum import StrEnum

from attrs import evolve, field, frozen, validators

from solander.core.condition import Condition
from solander.core.errors import InvalidValue
from solander.core.sentence import Sentence
from solander.core.stand_profile import Light
from solander.core.treatments import UNTREATED, Treatment
from solander.core.upright import Upright

__all__ = [
    "SURE_ENOUGH",
    "Capture",
    "Condition",
    "Container",
    "Corners",
    "Outline",
    "Print",
    "Side",
    "Stand",
    "View",
    "accession_number",
    "container_code",
]

Corners = tuple[tuple[float, float], tuple[float, float], tuple[float, float], tuple[float, float]]
"""Four (x, y) in pixels of the capture after EXIF orientation; (0, 0) is the centre of the first pixel;
clockwise from the one nearest the capture's top left. `View.turn` tells which is the print's own top left."""

SURE_ENOUGH = 0.9
"""Outlines below this confidence wait for a person; docs/measured.md says what it lets through."""

_CODE = re.compile(r"[A-Z]{1,3}[0-9]{1,5}(/[A-Z]{1,3}[0-9]{1,5})*")
_SHA256 = re.compile(r"[0-9a-f]{64}")


class Side(StrEnum):
    """Which side of the paper a view shows; on screen: front, back, detail."""

    RECTO = "recto"
    VERSO = "verso"
    DETAIL = "detail"


def container_code(text: str) -> str:
    """The container code in its written form, `b2-e5` and `B2 / E5` alike as `B2/E5`.

    Raises
    ------
    InvalidValue
        When a level is not letters followed by digits.
    """
    code = re.sub(r"\s*[/\\-]\s*", "/", text.strip()).upper()
    if not _CODE.fullmatch(code):
        raise InvalidValue(
            Sentence("“%(text)s” is no container code", text=text),
            Sentence("each level is one to three letters and a number"),
            Sentence("Write for instance B2 for a box, B2/E5 for an envelope in it"),
        )
    return code


def accession_number(container: str | None, number: int) -> str:
    """The print's number: `B2-E5-0014`, or `P-0001` where no container is known."""
    return f"{container.replace('/', '-') if container else 'P'}-{number:04d}"


@frozen
class Container:
    """A box, envelope, album or page; `code` holds the path of codes, `B2/E5`.

    `captures` are the SHA-256 of those that show it as it was found: an album page with what is written on it.
    """

    code: str = field(validator=validators.matches_re(_CODE))
    title: str = ""
    captures: tuple[str, ...] = ()

    @property
    def parent(self) -> str | None:
        """The code of the container around this one, if any."""
        return self.code.rpartition("/")[0] or None


@frozen
class Capture:
    """One picture file exactly as it arrived.

    `width` and `height` are those of the first page after EXIF orientation, in pixels; `dpi` is what the file
    says of itself, pixels per inch, None when it says nothing believable. `taken` is the camera's or scanner's
    time as the file gives it (RFC 3339, offset only where known).
    """

    sha256: str = field(validator=validators.matches_re(_SHA256))
    name: str
    media_type: str
    size: int
    width: int
    height: int
    pages: int = 1
    dpi: float | None = None
    taken: str | None = None
    suffix: str = ".jpg"


@frozen
class Outline:
    """Where one print lies in one page of a capture; `confidence` from 0 to 1; `checked` by a person.

    `second` is the outline that comes next: the next best that was found, or the one before a person chose. `bows`
    tell how far the middles of the sides, from the first corner on, lie outside the straight lines between the
    corners, in pixels of the capture; None where the sides are straight or nobody measured.
    """

    corners: Corners
    confidence: float = field(validator=[validators.ge(0), validators.le(1)])
    checked: bool = False
    second: Corners | None = None
    bows: tuple[float, float, float, float] | None = None

    @property
    def is_sure(self) -> bool:
        """Whether a person checked it, or it was found with enough confidence to be taken without asking."""
        return self.checked or self.confidence >= SURE_ENOUGH


@frozen
class Stand:
    """What was known of the camera over the stage when a view was cut out of its capture, as plain numbers.

    `lens` is k1 and k2 of its radial distortion, in half diagonals of the frame; `focal` its focal length in long
    sides of the frame; `plane` the nine numbers, row by row, of the homography from millimetres on the stage to
    pixels of the capture without distortion. `picture` is the SHA-256 of the capture of the stage that told them.
    `light` is the profile by which light and colour are put right, None where they are left as captured.
    """

    lens: tuple[float, float] = (0.0, 0.0)
    focal: float | None = None
    plane: tuple[float, ...] | None = None
    picture: str | None = None
    light: Light | None = None


@frozen
class View:
    """The straightened picture of one side of a print; always re-creatable from capture, outline, stand and turn.

    `width` and `height` in pixels after `turn` quarter turns clockwise; `upright` is what tells that this is the
    right way up, None where nothing does; `ppi` is pixels per inch on the paper. `treatment` is what is done to it
    where it is shown or handed over to be looked at: the view itself, and its key, are without it.
    """

    capture: str
    page: int
    outline: Outline
    side: Side
    width: int
    height: int
    turn: int = 0
    upright: Upright | None = None
    ppi: float | None = None
    condition: Condition | None = None
    stand: Stand | None = None
    treatment: Treatment = UNTREATED

    @property
    def key(self) -> str:
        """A name made from all that decides the pixels, so that equal views share one file.

        Corners alone decide the size where neither bows nor stand are known: so it was in the first collections.
        """
        corners = [[round(v, 3) for v in c] for c in self.outline.corners]
        recipe: list[object] = [self.capture, self.page, corners, self.turn]
        if self.outline.bows or self.stand:
            stand = self.stand or Stand()
            bows = [round(bow, 3) for bow in self.outline.bows or ()]
            recipe += [bows, list(stand.lens), stand.focal, list(self.laid_size)]
            if stand.light:
                recipe.append(stand.light.recipe)
        return hashlib.sha256(json.dumps(recipe).encode()).hexdigest()[:32]

    @property
    def laid_size(self) -> tuple[int, int]:
        """Width and height in pixels as the print lay, before any turn."""
        return (self.height, self.width) if self.turn % 2 else (self.width, self.height)

    def turned(self, turn: int, upright: Upright | None) -> View:
        """The same view `turn` quarter turns clockwise from how the print lay, because `upright` tells so."""
        width, height = self.laid_size
        turn %= 4
        size = (height, width) if turn % 2 else (width, height)
        return evolve(self, turn=turn, upright=upright, width=size[0], height=size[1])

    @property
    def size_mm(self) -> tuple[float, float] | None:
        """Width and height of the paper in millimetres, where the scale is known; a detail does not tell it."""
        if not self.ppi or self.side is Side.DETAIL:
            return None
        return round(self.width / self.ppi * 25.4, 1), round(self.height / self.ppi * 25.4, 1)


@frozen
class Print:
    """One paper photograph; `number` counts prints inside their container in the order of arrival."""

    accession: str
    container: str | None
    number: int = field(validator=validators.ge(1))
    views: tuple[View, ...] = ()

    def view(self, side: Side) -> View | None:
        """The first view of that side, if there is one."""
        return next((view for view in self.views if view.side is side), None)

    def number_of(self, view: View) -> int:
        """Which view of its side that is, counted from 1."""
        keys = [other.key for other in self.views if other.side is view.side]
        return keys.index(view.key) + 1 if view.key in keys else 1

    @property
    def recto(self) -> View | None:
        """The front."""
        return self.view(Side.RECTO)

    @property
    def verso(self) -> View | None:
        """The back."""
        return self.view(Side.VERSO)
