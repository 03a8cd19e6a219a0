"""Where in the picture somebody is: as an IPTC image region and, for older readers, as a region of the MWG.

IPTC Photo Metadata 2023.1, "Image Region": a rectangle by its top left corner, in shares of the picture. Metadata
Working Group, Guidelines for Handling Image Metadata 2.0, "Regions": the same by its centre, with the size of the
picture that it speaks of. One person a region. Measures of faces are never written.
"""

from __future__ import annotations

from solander.core.faces import Box, NamedFace
from solander.delivery.embed_facts import AccessCopy
from solander.delivery.embed_packet import Alt, Bag, Node, Struct

__all__ = ["regions_of"]

_DIGITS = 7
"""Digits after the point: finer than a pixel of the largest scan."""


def regions_of(copy: AccessCopy) -> dict[str, Node]:
    """The properties that hold the named faces; empty ones where there are none."""
    if not copy.faces:
        return {}
    width, height = copy.pixels
    dimensions = Struct({"stDim:w": str(width), "stDim:h": str(height), "stDim:unit": "pixel"})
    return {
        "Iptc4xmpExt:ImageRegion": Bag(
            tuple(_iptc(face, f"face-{number}") for number, face in enumerate(copy.faces, start=1))
        ),
        "mwg-rs:Regions": Struct(
            {
                "mwg-rs:AppliedToDimensions": dimensions,
                "mwg-rs:RegionList": Bag(tuple(_mwg(face) for face in copy.faces)),
            }
        ),
    }


def _iptc(face: NamedFace, identifier: str) -> Struct:
    box = face.box
    corner = {"rbX": box.left, "rbY": box.top, "rbW": box.width, "rbH": box.height}
    boundary = {"Iptc4xmpExt:rbShape": "rectangle", "Iptc4xmpExt:rbUnit": "relative"}
    boundary |= {f"Iptc4xmpExt:{name}": _share(value) for name, value in corner.items()}
    person = Struct({"Iptc4xmpExt:PersonName": Alt(face.person)})
    return Struct(
        {
            "Iptc4xmpExt:RegionBoundary": Struct(boundary),
            "Iptc4xmpExt:rId": identifier,
            "Iptc4xmpExt:Name": Alt(face.person),
            "Iptc4xmpExt:rCtype": Bag((Struct({"Iptc4xmpExt:Name": Alt("human")}),)),
            "Iptc4xmpExt:PersonInImageWDetails": Bag((person,)),
        }
    )


def _mwg(face: NamedFace) -> Struct:
    across, down = _centre(face.box)
    area = {"stArea:x": across, "stArea:y": down, "stArea:w": face.box.width, "stArea:h": face.box.height}
    told: dict[str, Node] = {name: _share(value) for name, value in area.items()}
    return Struct(
        {
            "mwg-rs:Name": face.person,
            "mwg-rs:Type": "Face",
            "mwg-rs:Area": Struct({**told, "stArea:unit": "normalized"}),
        }
    )


def _centre(box: Box) -> tuple[float, float]:
    return box.left + box.width / 2, box.top + box.height / 2


def _share(value: float) -> str:
    """Without an exponent, which no form of XMP's real numbers has."""
    return f"{value:.{_DIGITS}f}".rstrip("0").rstrip(".") or "0"
