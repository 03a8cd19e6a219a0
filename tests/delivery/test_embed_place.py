"""What released files carry of their place, read back by ExifTool.

The expected forms are those of `data/sample-expected.json`, which was handed over (town, three letters of ISO
3166-1, identifier of the place), and of IPTC Photo Metadata and IIM 4.2 as ExifTool names them.
"""

from __future__ import annotations

from pathlib import Path

from attrs import evolve
from delivered import DESCRIBED, exiftool, jpeg, needs_exiftool

from solander.core.places import GEONAMES, Place, PlaceWords
from solander.core.prints import Side
from solander.core.statements import Sure
from solander.delivery.embed import embed, fields_of

PLACE = Place(
    "Leningrad",
    "RU",
    59.93863,
    30.31413,
    27_000.0,
    known_as=("own.geojson#7", "geonames:498817"),
    town="Saint Petersburg",
    region="St.-Petersburg",
    source=GEONAMES,
)
WORDS = PlaceWords("Russia", "RUS", "Saint Petersburg, Russia", "Leningrad, USSR")
THERE = evolve(DESCRIBED, place=PLACE, place_words=WORDS)


@needs_exiftool
def test_files_say_town_state_country_and_both_names(tmp_path: Path) -> None:
    found = exiftool(embed(jpeg(), fields_of(THERE, Side.RECTO)), tmp_path)
    (shown,) = found["XMP-iptcExt:LocationShown"]
    assert shown["LocationName"] == "Leningrad"
    assert shown["LocationId"] == ["https://sws.geonames.org/498817/"]
    told = [shown[name] for name in ("City", "ProvinceState", "CountryName", "CountryCode")]
    assert told == ["Saint Petersburg", "St.-Petersburg", "Russia", "RUS"]
    assert [found[f"XMP-photoshop:{name}"] for name in ("City", "State", "Country")] == told[:3]
    assert found["XMP-iptcCore:CountryCode"] == "RUS"
    names = ("City", "Province-State", "Country-PrimaryLocationName", "Country-PrimaryLocationCode")
    assert [found[f"IPTC:{name}"] for name in names] == told
    assert (found["XMP-solander:PlaceThen"], found["XMP-solander:PlaceNow"]) == (WORDS.then, WORDS.now)
    assert found["GPS:GPSHPositioningError"] == found["XMP-dwcterms:CoordinateUncertaintyInMeters"] == 27_000


@needs_exiftool
def test_a_guessed_place_is_in_no_field_that_can_not_say_so(tmp_path: Path) -> None:
    guessed = evolve(THERE, place_sure=Sure.GUESS)
    found = exiftool(embed(jpeg(), fields_of(guessed, Side.RECTO)), tmp_path)
    absent = {"XMP-photoshop:City", "XMP-photoshop:Country", "IPTC:City", "GPS:GPSLatitude"}
    assert absent.isdisjoint(found)
    assert found["XMP-iptcExt:LocationShown"][0]["City"] == "Saint Petersburg"
    assert found["XMP-solander:PlaceSure"] == "guess"
