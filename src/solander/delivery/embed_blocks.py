"""The EXIF and IIM fields of an access picture: shortened copies of its XMP for older readers.

EXIF 2.32 tags and IPTC IIM 4.2 data sets by the names that libexiv2 gives them. Text in EXIF is UTF-8, as the
Metadata Working Group's guidelines ask; IIM says that it is UTF-8 in 1:90.
"""

from __future__ import annotations

from fractions import Fraction

from solander import __version__
from solander.delivery.embed_facts import AccessCopy, moment_of_capture
from solander.delivery.embed_packet import clean
from solander.delivery.embed_place import place_in_exif, place_in_iptc
from solander.delivery.embed_words import description_of, keywords_of, title_of

__all__ = ["IIM_LIMITS", "exif_of", "iptc_of", "shorten"]

IIM_LIMITS = {
    "ObjectName": 64,
    "Caption": 2000,
    "Keywords": 64,
    "SubLocation": 32,
    "City": 32,
    "ProvinceState": 32,
    "CountryCode": 3,
    "CountryName": 64,
    "TransmissionReference": 32,
    "Source": 32,
    "Copyright": 128,
    "Program": 32,
    "ProgramVersion": 10,
}
"""Most bytes that a text may have in IIM 4.2; the writing library does not keep to them by itself."""

_LONGEST_EXIF_TEXT = 16_000
"""Bytes of each of the two long EXIF texts. All EXIF shares one JPEG segment of 65,533 bytes, and of a value
that does not fit the library loses everything without a word (measured); XMP has the whole text."""

_UTF8_MARKER = "\x1b%G"

Exif = dict[str, str]
Iptc = dict[str, str | list[str]]


def shorten(text: str, most: int) -> str:
    """The text, cut at a character so that it has at most so many bytes in UTF-8."""
    return text.encode()[:most].decode(errors="ignore")


def exif_of(copy: AccessCopy) -> Exif:
    """EXIF tags by name."""
    description = clean(
        description_of(copy.described, copy.side, sortable=copy.sortable, treatment=copy.treatment)
    )
    fields = {
        **_picture(copy),
        "Exif.Image.ImageDescription": shorten(description, _LONGEST_EXIF_TEXT),
        "Exif.Image.Copyright": shorten(clean(copy.rights), _LONGEST_EXIF_TEXT),
        "Exif.Image.Software": f"Solander {__version__}",
        "Exif.Photo.ImageUniqueID": copy.instance.hex,
        "Exif.Photo.UserComment": _comment(copy.described.transcription),
        **_original(copy),
        **_digitized(copy),
        **place_in_exif(copy),
    }
    return {name: value for name, value in fields.items() if value}


def iptc_of(copy: AccessCopy) -> Iptc:
    """IIM data sets by name, each within its limit of bytes."""
    described = copy.described
    captured = moment_of_capture(copy)
    texts = {
        "ObjectName": title_of(described, copy.side),
        "Caption": description_of(described, copy.side, sortable=copy.sortable, treatment=copy.treatment),
        **place_in_iptc(copy),
        "TransmissionReference": copy.identifier,
        "Source": described.print.accession,
        "Copyright": copy.rights,
        "Program": "Solander",
        "ProgramVersion": __version__,
    }
    fields: Iptc = {name: shorten(clean(text), IIM_LIMITS[name]) for name, text in texts.items()}
    fields["Keywords"] = [shorten(clean(word), IIM_LIMITS["Keywords"]) for word in keywords_of(described)]
    if copy.plain_date:
        fields["DateCreated"] = f"{copy.plain_date}-00-00"[:10]  # zeros: not known
    if captured:
        fields["DigitizationDate"] = captured.strftime("%Y-%m-%d")
    if captured and captured.utcoffset() is not None:  # IIM has no time without an offset
        fields["DigitizationTime"] = captured.isoformat(timespec="seconds")[11:]
    named: Iptc = {f"Iptc.Application2.{name}": value for name, value in fields.items() if value}
    return {"Iptc.Envelope.CharacterSet": _UTF8_MARKER, **named}


def _picture(copy: AccessCopy) -> Exif:
    """What EXIF requires of every JPEG file. 72 pixels per inch is its word for "not known" (tag 0x011A)."""
    resolution = copy.ppi or Fraction(72)
    return {
        "Exif.Image.XResolution": _rational(resolution),
        "Exif.Image.YResolution": _rational(resolution),
        "Exif.Image.ResolutionUnit": "2",
        "Exif.Image.YCbCrPositioning": "1",
        "Exif.Photo.ExifVersion": "48 50 51 50",
        "Exif.Photo.ComponentsConfiguration": "1 2 3 0",
        "Exif.Photo.FlashpixVersion": "48 49 48 48",
        "Exif.Photo.ColorSpace": "1",
        "Exif.Photo.PixelXDimension": str(copy.pixels[0]),
        "Exif.Photo.PixelYDimension": str(copy.pixels[1]),
    }


def _comment(text: str) -> str:
    """UserComment in UTF-16 as EXIF has it; characters beyond 16 bits show as lost, since the library mangles
    them (measured)."""
    narrow = "".join(char if ord(char) < 0x10000 else "\ufffd" for char in clean(text))
    return f"charset=Unicode {narrow[: _LONGEST_EXIF_TEXT // 2]}" if narrow else ""


def _original(copy: AccessCopy) -> Exif:
    """The date of the scene: a stand-in, or what is known with blanks for the rest (EXIF 2.32, tag 0x9003)."""
    if copy.sortable:
        return {"Exif.Photo.DateTimeOriginal": copy.sortable.replace("-", ":").replace("T", " ")}
    if not copy.plain_date:
        return {}
    year, month, day = [*copy.plain_date.split("-"), "  ", "  "][:3]
    return {
        "Exif.Photo.DateTimeOriginal": f"{year}:{month}:{day}   :  :  ",
        "Exif.Photo.OffsetTimeOriginal": "   :  ",
    }


def _digitized(copy: AccessCopy) -> Exif:
    captured = moment_of_capture(copy)
    if captured is None:
        return {}
    offset = captured.isoformat(timespec="seconds")[19:]
    return {
        "Exif.Photo.DateTimeDigitized": captured.strftime("%Y:%m:%d %H:%M:%S"),
        "Exif.Photo.OffsetTimeDigitized": offset,
    }


def _rational(value: Fraction) -> str:
    return f"{value.numerator}/{value.denominator}"
