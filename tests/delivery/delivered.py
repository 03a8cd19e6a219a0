"""One print with everything known of it, and pictures to put descriptions into."""

from __future__ import annotations

import io
import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from solander.core.descriptions import DescribedPrint, PersonShown, Reason, When
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Capture, Outline, Print, Side, View
from solander.core.statements import About, Says, Statement, Sure

EXIFTOOL = shutil.which("exiftool")
needs_exiftool = pytest.mark.skipif(EXIFTOOL is None, reason="exiftool is not installed: it is the outside reader")

CAPTURE = Capture(
    sha256="ab" * 32,
    name="Łódź 017.jpg",
    media_type="image/jpeg",
    size=123456,
    width=4000,
    height=3000,
    taken="2026-11-25T09:14:30+01:00",
)


def view_of(side: Side, **others: Any) -> View:
    corners = ((0.0, 0.0), (2102.0, 0.0), (2102.0, 3000.0), (0.0, 3000.0))
    capture = ("ab" if side is Side.RECTO else "cd") * 32
    known = {"width": 2102, "height": 3000, "ppi": 600.0, **others}
    return View(capture, 0, Outline(corners, 0.97), side, **known)


RECTO, VERSO = view_of(Side.RECTO), view_of(Side.VERSO)

WHEN = When(
    edtf="1952-06~/1952-08~",
    words="about summer 1952",
    earliest="1952-06-01",
    latest="1952-08-31",
    guess="1952-07-16",
    sure=Sure.LIKELY,
    stated=True,
    reasons=(Reason("dated “Sommer 52” on the back", "slip file box.csv, line 4", Sure.LIKELY),),
    printing_edtf="1953",
)

STATEMENT = Statement(
    id="s1",
    about=About.PRINT,
    subject="B2-E5-0017",
    says=Says.EXPOSURE,
    value="1952-06~/1952-08~",
    words="Sommer 52",
    sure=Sure.LIKELY,
    source="slip file box.csv, line 4",
    entered="2026-11-25T09:20:00Z",
)

DESCRIBED = DescribedPrint(
    print=Print("B2-E5-0017", "B2/E5", 17, (RECTO, VERSO)),
    order=14,
    when=WHEN,
    people=(
        PersonShown(Person("Anna Kowalska"), Sure.CERTAIN, "31"),
        PersonShown(Person("Józef Nowak"), Sure.LIKELY),
        PersonShown(Person("Aunt Ida"), Sure.GUESS),
    ),
    place=Place("Łódź", "PL", 51.777, 19.4555, 2500.0),
    place_sure=Sure.LIKELY,
    occasion="Harvest supper at the mill",
    caption="Dożynki w ogrodzie <Łódź> & “Anna”",
    note="The album page is stuck",
    transcription="Anna u. Józef,\nSommer 52",
    statements=(STATEMENT,),
)


def jpeg(width: int = 210, height: int = 300) -> bytes:
    noise = np.random.default_rng(4).integers(0, 255, (height, width, 3), dtype=np.uint8)
    file = io.BytesIO()
    Image.fromarray(noise).save(file, "JPEG", quality=88)
    return file.getvalue()


def exiftool(picture: bytes, folder: Path, *options: str) -> dict[str, Any]:
    """What the outside reader finds in the picture."""
    path = folder / "picture.jpg"
    path.write_bytes(picture)
    assert EXIFTOOL is not None
    command = [EXIFTOOL, "-j", "-struct", "-G1", "-n", *options, str(path)]
    said = subprocess.run(command, capture_output=True, check=True)
    found: dict[str, Any] = json.loads(said.stdout.decode("utf-8"))[0]
    return found
