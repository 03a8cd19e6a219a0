"""Own places from files of other programs: GeoJSON (RFC 7946), KML (OGC 2.2), GPX 1.1, tables; what is refused.

The forms are those of the standards, written from memory of them; the bounds on harm (entities, sizes) are ours.
"""

from __future__ import annotations

import json
import zipfile
from pathlib import Path

import pytest

from solander.authorities.gazetteer.finder import Gazetteer
from solander.authorities.gazetteer.pack import build_pack
from solander.authorities.place_files import reading
from solander.authorities.place_files.reading import read_place_file
from solander.authorities.place_files.told import circle_around, names_in
from solander.core.errors import CannotBegin
from solander.core.places import Place, PlaceName

GPX = """<?xml version="1.0"?>
<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="x">
 <wpt lat="60.5" lon="5.4"><ele>12</ele><name>Hytta</name><type>cabin</type></wpt>
 <wpt lat="91" lon="5.4"><name>Nowhere</name></wpt>
 <trk><name>A walk</name></trk>
</gpx>"""

KML = """<kml xmlns="http://www.opengis.net/kml/2.2"><Document><Folder>
<Placemark id="p1"><name>School</name><Point><coordinates>5.31,60.41,0</coordinates></Point></Placemark>
<Placemark><name>Lake</name><Polygon><outerBoundaryIs><LinearRing><coordinates>
5,60 5.1,60 5.1,60.1 5,60</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>
<Placemark><name>Empty</name></Placemark>
</Folder></Document></kml>"""


def written(tmp_path: Path, name: str, text: str) -> Path:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return path


def feature(name: str, geometry: object, **more: object) -> dict:
    return {"type": "Feature", "properties": {"name": name, **more}, "geometry": geometry}


def geojson(*features: dict) -> str:
    return json.dumps({"type": "FeatureCollection", "features": features})


def test_a_point_of_geojson_has_its_longitude_first_and_the_size_of_such_things(tmp_path: Path) -> None:
    point = {"type": "Point", "coordinates": [5.3, 60.4]}
    found = read_place_file(written(tmp_path, "x.geojson", geojson(feature("Nordgard", point, what="farm"))))
    place = found.told[0].place
    assert (place.latitude, place.longitude, place.radius_m) == (60.4, 5.3, 200.0)


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("name;latitude;longitude;country\nMühle;60,39;5,32;Norwegen\n", Place("Mühle", "NO", 60.39, 5.32, 30.0)),
        ("Name,Lat,Lng,Country\nMill,60.39,5.32,NOR\n", Place("Mill", "NO", 60.39, 5.32, 30.0)),
        ("name,country\nMill,Austria\n", Place("Mill", "AT")),
    ],
)
def test_sheets_as_spreadsheets_and_people_write_them(tmp_path: Path, text: str, place: Place) -> None:
    assert [one.place for one in read_place_file(written(tmp_path, "x.csv", text)).told] == [place]


def test_a_country_that_is_none_and_a_radius_below_nothing_are_told(tmp_path: Path) -> None:
    (sentence,) = read_place_file(written(tmp_path, "x.csv", "name,country\nMill,Atlantis\n")).set_aside
    assert "The country “Atlantis” is not known" in sentence
    point = {"type": "Point", "coordinates": [5.3, 60.4]}
    found = read_place_file(written(tmp_path, "x.json", geojson(feature("Mill", point, country="Austria"))))
    assert found.told[0].place.country == "AT"
    found = read_place_file(written(tmp_path, "x.json", geojson(feature("Mill", point, radius=-5))))
    assert "its radius reads -5" in found.set_aside[0]


def test_a_line_across_the_date_line_has_its_middle_there() -> None:
    north, east, radius = circle_around([(0.0, 179.9), (0.0, -179.9)], "")
    assert (north, abs(east)) == (0.0, 180.0)
    assert 11_000 < radius < 11_200  # a tenth of a degree on the equator, 11.1 km


def test_a_house_is_thirty_metres(tmp_path: Path) -> None:
    point = {"type": "Point", "coordinates": [5.3, 60.4]}
    found = read_place_file(written(tmp_path, "x.json", geojson(feature("Our house", point, what="house"))))
    assert found.told[0].place.radius_m == 30.0


@pytest.mark.parametrize(
    ("geometry", "why"),
    [
        (None, "no position"),
        ({"type": "Point", "coordinates": [500, 60]}, "nowhere on earth"),
        ({"type": "Point", "coordinates": ["5", "60"]}, "not written as GeoJSON"),
        ({"type": "Point", "coordinates": [5]}, "two numbers"),
    ],
)
def test_a_feature_without_a_position_is_set_aside_and_the_rest_goes_on(
    tmp_path: Path, geometry: object, why: str
) -> None:
    good = feature("Good", {"type": "Point", "coordinates": [5, 60]})
    found = read_place_file(written(tmp_path, "x.geojson", geojson(feature("Bad", geometry), good)))
    assert [one.place.name for one in found.told] == ["Good"]
    assert why in found.set_aside[0]
    assert "feature 1" in found.set_aside[0]


def test_waypoints_are_places_and_tracks_are_passed_over(tmp_path: Path) -> None:
    found = read_place_file(written(tmp_path, "x.gpx", GPX))
    assert [(one.place.name, one.place.latitude, one.place.longitude) for one in found.told] == [
        ("Hytta", 60.5, 5.4)
    ]
    assert "Nowhere" in found.set_aside[0]
    assert "only waypoints" in found.passed_over[0]


def test_placemarks_are_places_and_a_shape_becomes_the_circle_around_it(tmp_path: Path) -> None:
    found = read_place_file(written(tmp_path, "x.kml", KML))
    school, lake = (one.place for one in found.told)
    assert (school.name, school.latitude, found.told[0].key) == ("School", 60.41, "x.kml#p1")
    assert lake.radius_m == pytest.approx(6230, rel=0.01)  # half the diagonal of 11.12 km by 5.56 km
    assert "Empty" in found.set_aside[0]


def test_a_kmz_is_opened(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "x.kmz", "w") as packed:
        packed.writestr("doc.kml", KML)
    assert len(read_place_file(tmp_path / "x.kmz").told) == 2


@pytest.mark.parametrize("name", ["x.kml", "x.gpx"])
def test_entities_are_refused(tmp_path: Path, name: str) -> None:
    bomb = '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><gpx>&b;</gpx>'
    with pytest.raises(CannotBegin, match="could harm"):
        read_place_file(written(tmp_path, name, bomb))


@pytest.mark.parametrize(
    ("name", "text"), [("x.kml", "<kml><a></kml>"), ("x.geojson", "{"), ("x.geojson", "[" * 9999)]
)
def test_a_damaged_file_is_told(tmp_path: Path, name: str, text: str) -> None:
    with pytest.raises(CannotBegin, match="could not be read"):
        read_place_file(written(tmp_path, name, text))


def test_a_file_beyond_all_measure_is_not_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "MOST_BYTES", 10)
    with pytest.raises(CannotBegin, match="larger than"):
        read_place_file(written(tmp_path, "x.kml", KML))


def test_a_table_tells_only_its_columns_and_names_their_years(tmp_path: Path) -> None:
    table = "name;latitude;longitude;also_called\nThe mill;60.1;5.2;Old mill (1850-1900); \n"
    found = read_place_file(written(tmp_path, "x.csv", table.replace("; \n", "\n")))
    told = found.told[0]
    assert told.place.names == (PlaceName("Old mill", "1850", "1900"),)
    assert told.place.radius_m == 30.0
    assert "country" not in told.fields


def test_places_of_a_table_have_their_circle_or_none(tmp_path: Path) -> None:
    text = "name,country,latitude,longitude,radius_m\nTernvik,NO,68.5,15.25,900\nSandvær,NO,,,\n"
    found = read_place_file(written(tmp_path, "x.csv", text))
    assert [one.place for one in found.told] == [
        Place("Ternvik", "NO", 68.5, 15.25, 900.0),
        Place("Sandvær", "NO"),
    ]


@pytest.mark.parametrize(
    "numbers", ["91,15,900", "68,181,900", "68,15,0", "68,,900", "north,15,900", "nan,15,900"]
)
def test_a_position_that_is_none_is_set_aside_with_its_line(tmp_path: Path, numbers: str) -> None:
    found = read_place_file(written(tmp_path, "x.csv", f"name,latitude,longitude,radius_m\nTernvik,{numbers}\n"))
    assert found.told == ()
    assert "line 2" in found.set_aside[0]
    assert "Ternvik" in found.set_aside[0]


def test_a_file_that_is_no_list_of_places_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match="no column “name”"):
        read_place_file(written(tmp_path, "x.csv", "who\nLiv\n"))
    (tmp_path / "y.csv").write_text("name\nHåkon\n", encoding="latin-1")
    with pytest.raises(CannotBegin, match="not saved as UTF-8"):
        read_place_file(tmp_path / "y.csv")
    with pytest.raises(CannotBegin, match="could not be read"):
        read_place_file(tmp_path / "missing.csv")


def test_a_column_that_is_not_known_is_named_once(tmp_path: Path) -> None:
    found = read_place_file(written(tmp_path, "x.csv", "name,altitude\nLiv,1\nNed,2\n"))
    assert found.passed_over == ("The column “altitude” of x.csv is not known and was passed over.",)
    assert len(found.told) == 2


def test_one_name_for_two_places_is_set_aside(tmp_path: Path) -> None:
    two = [feature("Cabin", {"type": "Point", "coordinates": [east, 60]}) for east in (5, 6)]
    found = read_place_file(written(tmp_path, "x.geojson", geojson(*two)))
    assert found.told == ()
    assert "“Cabin” stands there 2 times" in found.set_aside[0]


def test_the_circle_holds_all_points() -> None:
    assert circle_around([(60.0, 5.0), (60.0, 5.0)], "lake") == (60.0, 5.0, 1500.0)


def test_names_have_years_or_not() -> None:
    said = "Petrograd (1914–1924); Piter; Saint P. (–1914)"
    assert names_in(said) == (
        PlaceName("Petrograd", "1914", "1924"),
        PlaceName("Piter"),
        PlaceName("Saint P.", "", "1914"),
    )


def dump_line(ident: int, name: str, kind: str, code: str = "X", country: str = "NO") -> str:
    cells = [
        str(ident),
        name,
        name,
        "Old name",
        "60.4",
        "5.32",
        kind,
        code,
        country,
        "",
        "07",
        "",
        "",
        "",
        "0",
        "",
        "0",
    ]
    return "\t".join([*cells, "Europe/Oslo", "2026-01-01"]) + "\n"


def test_a_country_file_becomes_a_pack_whose_landmarks_are_found(tmp_path: Path) -> None:
    lines = (
        dump_line(1, "Lysøen Church", "S") + dump_line(2, "Some county", "A") + dump_line(3, "Lysøen", "T", "ISL")
    )
    pack, towns = tmp_path / "packs" / "NO.db", tmp_path / "towns.db"
    assert build_pack(written(tmp_path, "NO.txt", lines), pack) == 2
    build_pack(written(tmp_path, "P.txt", dump_line(9, "Bergen", "P")), towns)
    found = Gazetteer(towns, (pack,)).find("Lysoen Church")[0]
    assert (found.name, found.what, found.radius_m, found.country) == ("Lysøen Church", "building", 200.0, "NO")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("1\tno dump\n", "2 columns"),
        ("", "holds no places"),
        (dump_line(1, "x", "S").replace("60.4", "up"), "line 1"),
    ],
)
def test_what_is_no_country_file_is_told(tmp_path: Path, text: str, why: str) -> None:
    with pytest.raises(CannotBegin, match=why):
        build_pack(written(tmp_path, "XX.txt", text), tmp_path / "x.db")


def test_a_country_file_is_no_list_of_own_places(tmp_path: Path) -> None:
    with pytest.raises(CannotBegin, match=r"landmarks NO\.txt"):
        read_place_file(written(tmp_path, "NO.txt", dump_line(1, "x", "S")))
