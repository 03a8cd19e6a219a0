"""Where the scene is, in the fields of all three blocks: position with its radius, names then and now, country.

Which field holds which fact follows IPTC Photo Metadata 2023.1 and IIM 4.2, Darwin Core (radius) and EXIF 2.32. A
place that is only a guess stays out of fields that cannot say that it is one: EXIF GPS, town, state and country.
"""

from __future__ import annotations

from fractions import Fraction

from solander.core.places import Place
from solander.core.statements import Sure
from solander.delivery.embed_facts import AccessCopy
from solander.delivery.embed_packet import Alt, Bag, Node, Struct
from solander.delivery.embed_words import plain_number

__all__ = ["place_in_exif", "place_in_iptc", "place_in_xmp"]

_GEONAMES = "geonames:"
_GEONAMES_PAGE = "https://sws.geonames.org/{}/"
"""The address that GeoNames gives each of its places (its ontology's documentation, from memory)."""


def place_in_xmp(copy: AccessCopy) -> dict[str, Node]:
    """The XMP properties of the place; empty ones are for the packet to drop."""
    place, words = copy.described.place, copy.described.place_words
    if place is None:
        return {}
    radius = "" if place.radius_m is None else plain_number(place.radius_m)
    return {
        "Iptc4xmpCore:Location": place.name,
        **_for_older_readers(copy),
        "Iptc4xmpExt:LocationShown": Bag((_location(copy, place),)),
        "dwcterms:coordinateUncertaintyInMeters": radius,
        "solander:placeSure": copy.described.place_sure.value,
        "solander:placeThen": Alt(words.then),
        "solander:placeNow": Alt(words.now),
    }


def _for_older_readers(copy: AccessCopy) -> dict[str, Node]:
    """The fields that the Metadata Working Group's guidelines pair with IIM 2:90, 2:95, 2:100 and 2:101."""
    place, words = copy.described.place, copy.described.place_words
    if place is None or copy.described.place_sure is Sure.GUESS:
        return {}
    return {
        "photoshop:City": place.town,
        "photoshop:State": place.region,
        "photoshop:Country": words.country,
        "Iptc4xmpCore:CountryCode": words.letters or place.country,
    }


def _location(copy: AccessCopy, place: Place) -> Struct:
    words = copy.described.place_words
    fields: dict[str, Node] = {
        "Iptc4xmpExt:LocationName": Alt(place.name),
        "Iptc4xmpExt:LocationId": Bag(tuple(filter(None, map(_identifier, place.known_as)))),
        "Iptc4xmpExt:City": place.town,
        "Iptc4xmpExt:ProvinceState": place.region,
        "Iptc4xmpExt:CountryName": words.country,
        "Iptc4xmpExt:CountryCode": words.letters or place.country,
    }
    if place.latitude is not None and place.longitude is not None:
        fields["exif:GPSLatitude"] = _coordinate(place.latitude, "NS")
        fields["exif:GPSLongitude"] = _coordinate(place.longitude, "EW")
    return Struct(fields)


def _identifier(key: str) -> str:
    """The address of a place on the web (IPTC asks for one); keys in files of the user's are none."""
    if key.startswith(_GEONAMES):
        return _GEONAMES_PAGE.format(key.removeprefix(_GEONAMES))
    return key if key.startswith(("https://", "http://")) else ""


def _coordinate(degrees: float, letters: str) -> str:
    """`51,46.620000N`: XMP's degrees, decimal minutes and letter; six decimals are 2 mm on the ground."""
    whole, rest = divmod(round(abs(degrees) * 60_000_000), 60_000_000)
    return f"{whole},{rest // 1_000_000}.{rest % 1_000_000:06d}{letters[degrees < 0]}"


def place_in_iptc(copy: AccessCopy) -> dict[str, str]:
    """IIM data sets by name: sub-location, town, state, country and its three letters."""
    place, words = copy.described.place, copy.described.place_words
    if place is None:
        return {}
    sub_location = {"SubLocation": place.name}
    if copy.described.place_sure is Sure.GUESS:
        return sub_location
    return {
        **sub_location,
        "City": place.town,
        "ProvinceState": place.region,
        "CountryCode": words.letters,
        "CountryName": words.country,
    }


def place_in_exif(copy: AccessCopy) -> dict[str, str]:
    """The GPS tags; a pin on a map cannot say that it is a guess, and then there is none."""
    place = copy.described.place
    if place is None or copy.described.place_sure is Sure.GUESS:
        return {}
    if place.latitude is None or place.longitude is None:
        return {}
    return {
        "Exif.GPSInfo.GPSVersionID": "2 3 0 0",
        "Exif.GPSInfo.GPSLatitudeRef": "S" if place.latitude < 0 else "N",
        "Exif.GPSInfo.GPSLatitude": _degrees(place.latitude),
        "Exif.GPSInfo.GPSLongitudeRef": "W" if place.longitude < 0 else "E",
        "Exif.GPSInfo.GPSLongitude": _degrees(place.longitude),
        "Exif.GPSInfo.GPSMapDatum": "WGS-84",
        "Exif.GPSInfo.GPSHPositioningError": _radius(place),
    }


def _degrees(value: float) -> str:
    """Degrees, minutes and ten-thousandths of seconds (3 mm on the ground) as three rationals."""
    minutes, ticks = divmod(round(abs(value) * 36_000_000), 600_000)
    return f"{minutes // 60}/1 {minutes % 60}/1 {ticks}/10000"


def _radius(place: Place) -> str:
    if place.radius_m is None:
        return ""
    error = Fraction(max(1, round(place.radius_m * 10)), 10)
    return f"{error.numerator}/{error.denominator}"
