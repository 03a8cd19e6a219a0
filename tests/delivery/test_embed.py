"""Descriptions inside pictures, as programs that are not ours read them."""

from __future__ import annotations

import io
import json
import subprocess
import xml.etree.ElementTree as ET
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import numpy as np
import pyexiv2
import pytest
from attrs import evolve
from delivered import CAPTURE, DESCRIBED, EXIFTOOL, RECTO, exiftool, jpeg, needs_exiftool, view_of
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from solander import __version__
from solander.core.descriptions import DescribedPrint, PersonShown, When
from solander.core.errors import InvalidValue, NotFound, Trouble
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Print, Side
from solander.core.statements import Sure
from solander.core.treatments import Step, Treatment
from solander.delivery.embed import SOLANDER, Fields, embed, embed_file, fields_of, stand_in
from solander.delivery.embed_blocks import IIM_LIMITS, shorten
from solander.delivery.embed_packet import NAMESPACES, clean

pytestmark = pytest.mark.slow

DATA = Path(__file__).parent / "data"
PLAIN = jpeg()
TREATED = Treatment.of([Step("neutral", {"shift": [0, 0.01, 0.1]}), Step("crop", {"box": [0, 0, 0.5, 1]})])


def sample() -> Fields:
    values = json.loads((DATA / "sample-exif-iim.json").read_text("utf-8"))
    return Fields(values["exif"], values["iim"], (DATA / "sample-packet.xmp").read_text("utf-8"))


def written(described: DescribedPrint = DESCRIBED, side: Side = Side.RECTO, **options: Any) -> bytes:
    return embed(PLAIN, fields_of(described, side, capture=CAPTURE, **options))


def dated(edtf: str, **others: Any) -> DescribedPrint:
    known = {"words": edtf, "earliest": None, "latest": None, "guess": None, "sure": Sure.CERTAIN, "stated": True}
    return evolve(DESCRIBED, when=When(edtf=edtf, **{**known, **others}))


def pixels(picture: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(picture)))


def metadata(picture: bytes) -> tuple[dict[str, str], dict[str, Any], str]:
    with pyexiv2.ImageData(picture) as image:
        return image.read_exif(), image.read_iptc(), image.read_raw_xmp()


@needs_exiftool
def test_all_values_of_the_sample_are_read_by_an_outside_reader(tmp_path: Path) -> None:
    expected = json.loads((DATA / "sample-expected.json").read_text("utf-8"))
    found = exiftool(embed(PLAIN, sample()), tmp_path)
    assert len(expected) == 66
    assert {name: found.get(name) for name in expected} == expected


@needs_exiftool
def test_every_fact_of_a_front_is_read_by_an_outside_reader(tmp_path: Path) -> None:
    options = {"rights": "Family Kowalski", "collection": "Kowalski box"}
    found = exiftool(written(capture_path="captures/abab.jpg", **options), tmp_path)
    assert {name: found.get(name) for name in EXPECTED_FRONT} == EXPECTED_FRONT


@needs_exiftool
def test_every_fact_of_a_back_is_read_by_an_outside_reader(tmp_path: Path) -> None:
    found = exiftool(written(side=Side.VERSO), tmp_path)
    front = exiftool(written(), tmp_path)
    assert found["XMP-dc:Identifier"] == "B2-E5-0017_back"
    assert found["XMP-dc:Description"].startswith("Anna u. Józef,\nSommer 52\n")
    assert found["XMP-solander:Side"] == "verso"
    assert found["XMP-dc:Source"] == front["XMP-dc:Source"]
    assert found["XMP-dc:Relation"] == [front["XMP-xmpMM:DocumentID"]]
    assert front["XMP-dc:Relation"] == [found["XMP-xmpMM:DocumentID"]]
    assert found["XMP-xmpMM:DerivedFrom"]["DocumentID"] != front["XMP-xmpMM:DerivedFrom"]["DocumentID"]


@needs_exiftool
def test_a_treated_copy_says_so_in_fields_that_an_outside_reader_knows(tmp_path: Path) -> None:
    told = ["paper border made neutral", "cropped by hand"]
    options: dict[str, Any] = {"view": RECTO, "sortable": stand_in(DESCRIBED)}
    plain = exiftool(written(**options), tmp_path)
    found = exiftool(written(treatment=TREATED, **options), tmp_path)
    assert found["XMP-solander:Treatment"] == told
    history = found["XMP-xmpMM:History"]
    assert [event["Parameters"] for event in history] == told
    assert [event["Action"] for event in history] == ["edited", "cropped"]
    assert {event["SoftwareAgent"] for event in history} == {f"Solander {__version__}"}
    sentence = f"This copy was treated: {'; '.join(told)}. The capture is as it was taken."
    for field in ("XMP-dc:Description", "IFD0:ImageDescription", "IPTC:Caption-Abstract"):
        assert sentence in found[field]
        assert "was treated" not in plain[field]
    assert {"XMP-solander:Treatment", "XMP-xmpMM:History"}.isdisjoint(plain)
    assert found["XMP-xmpMM:DocumentID"] == plain["XMP-xmpMM:DocumentID"]
    assert found["XMP-xmpMM:InstanceID"] != plain["XMP-xmpMM:InstanceID"]
    assert found["ExifIFD:ImageUniqueID"] != plain["ExifIFD:ImageUniqueID"]
    checked = exiftool(written(treatment=TREATED, **options), tmp_path, "-validate", "-warning", "-error")
    assert checked["ExifTool:Validate"] == "0 0 0"


@needs_exiftool
def test_size_and_scale_are_those_of_the_treated_picture(tmp_path: Path) -> None:
    view = evolve(RECTO, ppi=600.0, width=2000, height=1000)
    smaller = Treatment.of([*TREATED, Step("output", {"long_side": 500})])
    for treatment, size, ppi in ((TREATED, [1000, 1000], 600), (smaller, [500, 500], 300)):
        found = exiftool(written(view=view, treatment=treatment), tmp_path)
        assert [found["ExifIFD:ExifImageWidth"], found["ExifIFD:ExifImageHeight"]] == size
        assert [found["IFD0:XResolution"], found["IFD0:YResolution"]] == [ppi, ppi]


def test_treatments_of_the_same_words_and_other_numbers_are_other_files() -> None:
    one, other = (Treatment.of([Step("yellowing", {"stain": [0, 0, stain]})]) for stain in (0.1, 0.2))
    assert one.sentences == other.sentences
    fields = [fields_of(DESCRIBED, Side.RECTO, treatment=each) for each in (one, other)]
    assert fields[0].exif["Exif.Photo.ImageUniqueID"] != fields[1].exif["Exif.Photo.ImageUniqueID"]


@needs_exiftool
def test_a_file_with_a_whole_date_has_no_fault(tmp_path: Path) -> None:
    found = exiftool(written(sortable=stand_in(DESCRIBED)), tmp_path, "-validate", "-warning", "-error")
    assert found["ExifTool:Validate"] == "0 0 0"


@needs_exiftool
def test_blanks_in_a_date_are_the_only_thing_an_outside_reader_remarks_on(tmp_path: Path) -> None:
    # "Pitfalls seen" of the field map names it: EXIF 2.32 asks for blanks, the reader warns of them (minor).
    path = tmp_path / "picture.jpg"
    path.write_bytes(written())
    assert EXIFTOOL is not None
    command = [EXIFTOOL, "-validate", "-warning", "-error", "-a", "-s3", str(path)]
    said = subprocess.run(command, capture_output=True, check=True, text=True).stdout.splitlines()
    assert said == ["1 Warning (minor)", "[minor] Invalid date/time format for EXIF:DateTimeOriginal"]


@pytest.mark.parametrize(
    ("edtf", "xmp", "exif", "iim"),
    [
        ("1952-07-03", "1952-07-03", "1952:07:03   :  :  ", "1952:07:03"),
        ("1952-07", "1952-07", "1952:07:     :  :  ", "1952:07:00"),
        ("1952-06~/1952-08~", 1952, "1952:  :     :  :  ", "1952:00:00"),
        ("1952-22", 1952, "1952:  :     :  :  ", "1952:00:00"),
        ("[1948..1952]", None, None, None),
        ("195X", None, None, None),
        ("../1952", None, None, None),
        ("Y17000", None, None, None),
        ("", None, None, None),
    ],
)
@needs_exiftool
def test_ordinary_date_fields_say_only_what_is_certain(
    tmp_path: Path, edtf: str, xmp: str | None, exif: str | None, iim: str | None
) -> None:
    found = exiftool(written(dated(edtf)), tmp_path)
    stated = [found.get(name) for name in ("XMP-photoshop:DateCreated", "ExifIFD:DateTimeOriginal")]
    as_reader_writes_it = xmp.replace("-", ":") if isinstance(xmp, str) else xmp
    assert [*stated, found.get("IPTC:DateCreated")] == [as_reader_writes_it, exif, iim]
    assert found.get("XMP-dcterms:Created") == (edtf or None)
    assert found["XMP-solander:StandInDate"] is False


@needs_exiftool
def test_a_guessed_date_stays_out_of_fields_that_cannot_say_so(tmp_path: Path) -> None:
    found = exiftool(written(dated("1952-07", sure=Sure.GUESS, words="July 1952")), tmp_path)
    assert found["XMP-dcterms:Created"] == "1952-07"
    assert "Date: July 1952 (guess)." in found["XMP-dc:Description"]
    assert {"ExifIFD:DateTimeOriginal", "XMP-photoshop:DateCreated", "IPTC:DateCreated"}.isdisjoint(found)


@needs_exiftool
def test_a_stand_in_date_sorts_and_says_that_it_is_one(tmp_path: Path) -> None:
    found = exiftool(written(sortable=stand_in(DESCRIBED)), tmp_path)
    assert found["ExifIFD:DateTimeOriginal"] == "1952:07:16 12:00:14"
    assert found["XMP-exif:DateTimeOriginal"] == "1952:07:16 12:00:14"
    assert found["XMP-solander:StandInDate"] is True
    sentence = (
        "For sorting only, this file carries the stand-in date 1952-07-16 12:00:14; "
        "what is known is: about summer 1952."
    )
    assert sentence in found["XMP-dc:Description"]
    assert sentence in found["IFD0:ImageDescription"]
    assert found["XMP-photoshop:DateCreated"] == 1952
    assert found["IPTC:DateCreated"] == "1952:00:00"
    assert found["XMP-dcterms:Created"] == "1952-06~/1952-08~"


def test_an_undated_print_says_so_beside_its_stand_in() -> None:
    described = dated("", words="", guess="1950-01-01")
    exif, _, _ = metadata(written(described, sortable=stand_in(described)))
    assert exif["Exif.Image.ImageDescription"].endswith("1950-01-01 12:00:14; the date is not known.")


@given(st.lists(st.integers(1, 43_199), min_size=2, max_size=2, unique=True))
def test_prints_of_one_day_keep_their_order_in_their_stand_ins(orders: list[int]) -> None:
    first, second = (stand_in(evolve(DESCRIBED, order=order)) for order in sorted(orders))
    assert first is not None
    assert second is not None
    assert first < second
    assert first[:10] == second[:10] == "1952-07-16"


def test_there_is_no_stand_in_without_a_day_that_fits() -> None:
    assert stand_in(dated("", guess=None)) is None
    assert stand_in(dated("Y17000", guess="17000-01-01")) is None
    assert stand_in(evolve(DESCRIBED, order=90_000)) == "1952-07-16T23:59:59"


@pytest.mark.parametrize("sortable", ["1952-07", "1952-13-01T12:00:00", "1952-07-03 12:00:00", ""])
def test_half_a_date_is_no_stand_in(sortable: str) -> None:
    with pytest.raises(InvalidValue, match="no stand-in date"):
        fields_of(DESCRIBED, Side.RECTO, sortable=sortable)


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(-33.9, -18.42), (0.0, 0.0), (89.99999999, 179.99999999), (-90, 180)]
)
@needs_exiftool
def test_places_of_all_quarters_come_back(tmp_path: Path, latitude: float, longitude: float) -> None:
    place = Place("There", "ZA", latitude, longitude, 0.5)
    found = exiftool(written(evolve(DESCRIBED, place=place)), tmp_path)
    shown = found["XMP-iptcExt:LocationShown"][0]
    sign = {"S": -1, "N": 1, "W": -1, "E": 1}
    exif = [found[f"GPS:GPS{name}"] * sign[found[f"GPS:GPS{name}Ref"]] for name in ("Latitude", "Longitude")]
    assert [shown["GPSLatitude"], shown["GPSLongitude"]] == pytest.approx([latitude, longitude], abs=1e-7)
    assert exif == pytest.approx([latitude, longitude], abs=1e-7)
    assert found["GPS:GPSHPositioningError"] == 0.5
    assert found["XMP-dwcterms:CoordinateUncertaintyInMeters"] == 0.5


@needs_exiftool
def test_a_guessed_place_is_no_pin_on_a_map(tmp_path: Path) -> None:
    found = exiftool(written(evolve(DESCRIBED, place_sure=Sure.GUESS)), tmp_path)
    assert not [name for name in found if name.startswith("GPS:")]
    assert found["XMP-solander:PlaceSure"] == "guess"
    assert "the place Łódź (guess)" in found["XMP-dc:Description"]


@needs_exiftool
def test_a_print_of_which_nothing_is_known_still_says_which_it_is(tmp_path: Path) -> None:
    bare = DescribedPrint(Print("P-0001", None, 1, (view_of(Side.RECTO, ppi=None),)), 1, dated("", words="").when)
    found = exiftool(embed(PLAIN, fields_of(bare, Side.RECTO)), tmp_path)
    assert found["XMP-dc:Title"] == "P-0001"
    assert found["IFD0:XResolution"] == 72
    absent = {"dc:Description", "dc:Relation", "dcterms:Extent", "iptcExt:PersonInImage", "dc:Rights"}
    assert {f"XMP-{name}" for name in absent}.isdisjoint(found)


@needs_exiftool
def test_resolution_is_that_of_the_access_picture(tmp_path: Path) -> None:
    found = exiftool(written(pixels=(1051, 1500)), tmp_path)
    assert (found["IFD0:XResolution"], found["ExifIFD:ExifImageWidth"]) == (300, 1051)
    assert found["XMP-dcterms:Extent"] == "89 mm x 127 mm"


@pytest.mark.parametrize(
    ("taken", "date", "time"),
    [
        ("2026-11-25T09:14:30Z", "2026-11-25", "09:14:30+00:00"),
        ("2026-11-25T09:14:30.25-05:00", "2026-11-25", "09:14:30-05:00"),
        ("2026-11-25T09:14:30", "2026-11-25", None),
        ("0000-00-00T00:00:00", None, None),
        (None, None, None),
    ],
)
def test_the_time_of_capture_is_as_the_file_gave_it(taken: str | None, date: str | None, time: str | None) -> None:
    capture = evolve(CAPTURE, taken=taken)
    exif, iptc, _ = metadata(embed(PLAIN, fields_of(DESCRIBED, Side.RECTO, capture=capture)))
    assert iptc.get("Iptc.Application2.DigitizationDate") == date
    assert iptc.get("Iptc.Application2.DigitizationTime") == time
    assert exif.get("Exif.Photo.OffsetTimeDigitized") == (time and time[8:])
    expected = None if date is None else f"{date.replace('-', ':')} 09:14:30"
    assert exif.get("Exif.Photo.DateTimeDigitized") == expected


def test_pixels_are_the_same_to_the_bit() -> None:
    described = written()
    start_of_scan = b"\xff\xda"
    assert described != PLAIN
    assert described[described.rindex(start_of_scan) :] == PLAIN[PLAIN.rindex(start_of_scan) :]
    assert np.array_equal(pixels(described), pixels(PLAIN))


def test_colour_profile_and_density_stay() -> None:
    file = io.BytesIO()
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    Image.new("RGB", (40, 30), "tan").save(file, "JPEG", icc_profile=profile, dpi=(600, 600))
    kept = Image.open(io.BytesIO(embed(file.getvalue(), fields_of(DESCRIBED, Side.RECTO))))
    assert kept.info["icc_profile"] == profile
    assert kept.info["jfif_density"] == (600, 600)


def test_embedding_again_changes_nothing() -> None:
    fields = fields_of(DESCRIBED, Side.RECTO, capture=CAPTURE)
    once = embed(PLAIN, fields)
    assert embed(once, fields) == once


def test_nothing_of_an_earlier_description_stays() -> None:
    family = written(sortable=stand_in(DESCRIBED), rights="Family")
    unknown = evolve(dated("", words=""), place=None, people=())
    assert metadata(embed(family, fields_of(unknown, Side.RECTO))) == metadata(
        embed(PLAIN, fields_of(unknown, Side.RECTO))
    )


def test_identifiers_do_not_depend_on_the_run() -> None:
    assert fields_of(DESCRIBED, Side.RECTO) == fields_of(DESCRIBED, Side.RECTO)
    plain, treated = fields_of(DESCRIBED, Side.RECTO), fields_of(DESCRIBED, Side.RECTO, treatment=TREATED)
    unique = "Exif.Photo.ImageUniqueID"
    assert plain.exif[unique] != treated.exif[unique]


def test_a_side_that_was_not_taken_is_refused() -> None:
    with pytest.raises(NotFound, match="no picture of its detail"):
        fields_of(DESCRIBED, Side.DETAIL)


@pytest.mark.parametrize("broken", [b"", b"GIF89a", b"\xff\xd8\xff", PLAIN[:40]])
def test_what_is_no_picture_is_refused_and_the_next_one_is_written(broken: bytes) -> None:
    with pytest.raises(Trouble, match="could not be given its description"):
        embed(broken, sample())
    assert metadata(embed(PLAIN, sample()))[1]["Iptc.Application2.City"] == "Łódź"


def test_a_broken_packet_does_not_fall_on_the_next_picture() -> None:
    with pytest.raises(Trouble):
        embed(PLAIN, Fields({}, {}, "no packet"))
    assert embed(PLAIN, sample())


def test_the_library_says_nothing_of_its_own(capfd: pytest.CaptureFixture[str]) -> None:
    written(evolve(DESCRIBED, transcription="𝔄𝔫𝔫𝔞 \x00\x85"))
    with pytest.raises(Trouble):
        embed(PLAIN, Fields({}, {}, "no packet"))
    assert capfd.readouterr() == ("", "")


def test_statements_stay_out_where_they_would_not_fit() -> None:
    many = evolve(DESCRIBED, statements=DESCRIBED.statements * 400)
    packet = metadata(written(many))[2]
    assert "solander:statements" not in packet
    assert "Sommer 52" in packet


def test_a_text_longer_than_a_file_can_hold_is_said_plainly() -> None:
    with pytest.raises(Trouble, match="longer than a JPEG file can hold"):
        written(evolve(DESCRIBED, transcription="x" * 40_000))


def test_long_texts_of_exif_are_cut_and_nothing_is_lost() -> None:
    exif, _, packet = metadata(written(evolve(DESCRIBED, transcription="é" * 9_000)))
    assert exif["Exif.Photo.DateTimeDigitized"] == "2026:11:25 09:14:30"
    assert len(exif["Exif.Image.ImageDescription"].encode()) <= 16_000
    assert "é" * 9_000 in packet


def test_threads_take_turns() -> None:
    fields = [fields_of(evolve(DESCRIBED, caption=f"print {number}"), Side.RECTO) for number in range(24)]
    one_by_one = [embed(PLAIN, each) for each in fields]
    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(lambda each: embed(PLAIN, each), fields)) == one_by_one


def test_embed_file_replaces_whole(tmp_path: Path) -> None:
    path = tmp_path / "B2-E5-0017_front.jpg"
    path.write_bytes(PLAIN)
    fields = fields_of(DESCRIBED, Side.RECTO)
    embed_file(path, fields)
    assert path.read_bytes() == embed(PLAIN, fields)
    with pytest.raises(Trouble):
        embed_file(path, Fields({}, {}, "no packet"))
    assert path.read_bytes() == embed(PLAIN, fields)
    assert [entry.name for entry in tmp_path.iterdir()] == [path.name]


WRITTEN = st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1, max_size=60).filter(
    lambda text: clean(text) == text and bool(text.strip())
)
ANYTHING = st.text(st.characters(), max_size=40)


def item(packet: str, name: str) -> list[str]:
    prefix, local = name.split(":")
    path = f".//{{{NAMESPACES[prefix]}}}{local}//{{http://www.w3.org/1999/02/22-rdf-syntax-ns#}}li"
    return [found.text or "" for found in ET.fromstring(packet.strip("\ufeff")).iterfind(path)]


@settings(deadline=None, max_examples=60)
@given(note=WRITTEN, caption=WRITTEN, name=WRITTEN)
def test_any_text_comes_back(note: str, caption: str, name: str) -> None:
    people = (PersonShown(Person(name), Sure.CERTAIN),)
    described = evolve(DESCRIBED, note=note, transcription=note, caption=caption, people=people)
    exif, iptc, packet = metadata(written(described))
    assert item(packet, "solander:note") == item(packet, "solander:transcription") == [note]
    assert item(packet, "Iptc4xmpExt:PersonInImage") == [name]
    assert item(packet, "dc:description")[0].startswith(caption)
    assert exif["Exif.Image.ImageDescription"] == item(packet, "dc:description")[0]
    assert iptc["Iptc.Application2.Keywords"][0] == shorten(name, IIM_LIMITS["Keywords"])


@settings(deadline=None, max_examples=60)
@given(ANYTHING, ANYTHING, ANYTHING)
def test_what_xml_cannot_hold_is_shown_as_lost(note: str, name: str, place: str) -> None:
    described = evolve(
        DESCRIBED,
        note=note,
        caption=note,
        occasion=name,
        people=(PersonShown(Person(name), Sure.GUESS),),
        place=Place(place, "PL"),
    )
    _, iptc, packet = metadata(written(described, rights=place, collection=name))
    assert item(packet, "solander:note") == ([clean(note)] if note else [])
    for name_of_field, most in IIM_LIMITS.items():
        texts = iptc.get(f"Iptc.Application2.{name_of_field}", "")
        for text in texts if isinstance(texts, list) else [texts]:
            assert len(text.encode()) <= most


@pytest.mark.parametrize("text", ["type=Alt x", "type=Nonsense", 'lang="de" x', "charset=Ascii x"])
def test_text_that_the_library_could_take_for_a_command(text: str) -> None:
    described = evolve(
        DESCRIBED, note=text, caption=text, occasion=text, place=Place(text), people=(), transcription=text
    )
    exif, _, packet = metadata(written(described, collection=text, capture_path=text))
    assert item(packet, "solander:note") == item(packet, "Iptc4xmpExt:Event") == [text]
    assert exif["Exif.Photo.UserComment"] == f"charset=Unicode {text}"


def test_the_words_of_the_namespace_are_all_documented() -> None:
    manual = Path(__file__).parents[2] / "docs" / "own-xmp-namespace.md"
    described = manual.read_text("utf-8")
    root = ET.fromstring(fields_of(DESCRIBED, Side.RECTO, capture=CAPTURE, treatment=TREATED).xmp_packet)
    ours = {element.tag.removeprefix(f"{{{SOLANDER}}}") for element in root.iter() if SOLANDER in element.tag}
    assert SOLANDER in described
    assert {name for name in ours if f"`{name}`" not in described} == set()
    assert len(ours) > 30


EXPECTED_FRONT: dict[str, Any] = {
    "XMP-dc:Title": "Dożynki w ogrodzie <Łódź> & “Anna”",
    "XMP-dc:Description": (
        "Dożynki w ogrodzie <Łódź> & “Anna”\n"
        "Date: about summer 1952 (likely).\n"
        "Not certain: the place Łódź (likely), Józef Nowak (likely), Aunt Ida (guess).\n"
        "On the back: “Anna u. Józef,\nSommer 52”"
    ),
    "XMP-dc:Subject": ["Anna Kowalska", "Józef Nowak", "Harvest supper at the mill"],
    "XMP-dc:Rights": "Family Kowalski",
    "XMP-dc:Identifier": "B2-E5-0017_front",
    "XMP-dc:Source": "B2-E5-0017 (paper print)",
    "XMP-dcterms:Created": "1952-06~/1952-08~",
    "XMP-dcterms:Extent": "89 mm x 127 mm",
    "XMP-photoshop:DateCreated": 1952,
    "XMP-exif:DateTimeOriginal": 1952,
    "XMP-xmp:CreateDate": "2026:11:25 09:14:30+01:00",
    "XMP-iptcExt:Event": "Harvest supper at the mill",
    "XMP-iptcExt:PersonInImage": ["Anna Kowalska", "Józef Nowak"],
    "XMP-iptcExt:PersonInImageWDetails": [
        {"PersonName": "Anna Kowalska", "PersonDescription": "aged 31"},
        {"PersonName": "Józef Nowak", "PersonDescription": "likely"},
        {"PersonName": "Aunt Ida", "PersonDescription": "guess"},
    ],
    "XMP-iptcExt:LocationShown": [
        {"LocationName": "Łódź", "CountryCode": "PL", "GPSLatitude": 51.777, "GPSLongitude": 19.4555}
    ],
    "XMP-iptcExt:DigitalSourceType": "http://cv.iptc.org/newscodes/digitalsourcetype/print",
    "XMP-iptcExt:ArtworkOrObject": [
        {
            "AOSourceInvNo": "B2-E5-0017",
            "AOCircaDateCreated": "about summer 1952",
            "AOPhysicalDescription": "paper photograph, 89 mm x 127 mm",
        }
    ],
    "XMP-plus:ImageSupplierImageID": "B2-E5-0017_front",
    "XMP-dwcterms:CoordinateUncertaintyInMeters": 2500,
    "XMP-mwg-coll:Collections": [{"CollectionName": "Kowalski box"}, {"CollectionName": "B2/E5"}],
    "XMP-solander:Accession": "B2-E5-0017",
    "XMP-solander:Side": "recto",
    "XMP-solander:OrderNumber": 14,
    "XMP-solander:DateEDTF": "1952-06~/1952-08~",
    "XMP-solander:DateWords": "about summer 1952",
    "XMP-solander:DateSure": "likely",
    "XMP-solander:DateStated": True,
    "XMP-solander:DateEarliest": "1952-06-01",
    "XMP-solander:DateLatest": "1952-08-31",
    "XMP-solander:PrintingEDTF": 1953,
    "XMP-solander:StandInDate": False,
    "XMP-solander:PlaceSure": "likely",
    "XMP-solander:Reasons": [
        {
            "Sentence": "dated “Sommer 52” on the back",
            "Source": "slip file box.csv, line 4",
            "Sure": "likely",
            "BoundsPrinting": False,
        }
    ],
    "XMP-solander:People": [
        {"Name": "Anna Kowalska", "Sure": "certain", "Age": 31},
        {"Name": "Józef Nowak", "Sure": "likely"},
        {"Name": "Aunt Ida", "Sure": "guess"},
    ],
    "XMP-solander:Transcription": "Anna u. Józef,\nSommer 52",
    "XMP-solander:Note": "The album page is stuck",
    "XMP-solander:Size": {"WidthMm": 89, "HeightMm": 127},
    "XMP-solander:CaptureSHA256": RECTO.capture,
    "XMP-solander:CaptureName": "Łódź 017.jpg",
    "XMP-solander:Statements": [
        {
            "About": "print",
            "Subject": "B2-E5-0017",
            "Says": "exposure",
            "Value": "1952-06~/1952-08~",
            "Words": "Sommer 52",
            "Sure": "likely",
            "Source": "slip file box.csv, line 4",
            "Entered": "2026:11:25 09:20:00Z",
        }
    ],
    "IFD0:XResolution": 600,
    "IFD0:Copyright": "Family Kowalski",
    "IFD0:Software": f"Solander {__version__}",
    "ExifIFD:DateTimeOriginal": "1952:  :     :  :  ",
    "ExifIFD:OffsetTimeOriginal": "   :  ",
    "ExifIFD:CreateDate": "2026:11:25 09:14:30",
    "ExifIFD:OffsetTimeDigitized": "+01:00",
    "ExifIFD:UserComment": "Anna u. Józef,\nSommer 52",
    "GPS:GPSLatitude": 51.777,
    "GPS:GPSLongitude": 19.4555,
    "GPS:GPSLatitudeRef": "N",
    "GPS:GPSLongitudeRef": "E",
    "GPS:GPSMapDatum": "WGS-84",
    "GPS:GPSHPositioningError": 2500,
    "IPTC:CodedCharacterSet": "\u001b%G",
    "IPTC:ObjectName": "Dożynki w ogrodzie <Łódź> & “Anna”",
    "IPTC:Keywords": ["Anna Kowalska", "Józef Nowak", "Harvest supper at the mill"],
    "IPTC:DateCreated": "1952:00:00",
    "IPTC:DigitalCreationDate": "2026:11:25",
    "IPTC:DigitalCreationTime": "09:14:30+01:00",
    "IPTC:Sub-location": "Łódź",
    "IPTC:OriginalTransmissionReference": "B2-E5-0017_front",
    "IPTC:Source": "B2-E5-0017",
    "IPTC:CopyrightNotice": "Family Kowalski",
}
