"""Places as they are named, looked up, meant by a person, taken in from files, and told in released files."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from solander.core.errors import CannotBegin, NotFound, Trouble
from solander.core.place_finds import Home
from solander.core.places import GEONAMES, Place, PlaceName
from solander.core.questions import Asks
from solander.core.statements import Sure
from solander.tasks.address_service import ask_service, name_service, service_of
from solander.tasks.coarsen import coarsening
from solander.tasks.collection import Collection
from solander.tasks.keep_places import lay_circle
from solander.tasks.place_said import enter_place
from solander.tasks.places import (
    LookedUp,
    PlaceReader,
    geonames_credit,
    mean_place,
    place_reader,
    understand_places,
)
from solander.tasks.take_in_places import place_difference, take_in_places


def entered(collection: Collection, name: str, *, on: str = "", read: PlaceReader | None = None) -> Place:
    with collection.catalogue.act("test", "slips") as act, act.work() as work:
        enter_place(work, name, read or place_reader(collection.catalogue), on=on)
        work.commit()
    return next(place for place in collection.catalogue.places() if place.name == name)


def questions(collection: Collection) -> list[str]:
    return [one.sentence for one in collection.catalogue.questions() if one.asks is Asks.PLACE]


def test_a_plain_name_is_kept_as_written_and_located_with_its_source(collection: Collection) -> None:
    place = entered(collection, "Leningrad", on="1950")
    assert (place.name, place.town, place.country) == ("Leningrad", "Saint Petersburg", "RU")
    assert (place.source, place.known_as, place.sure) == (GEONAMES, ("geonames:498817",), Sure.CERTAIN)
    assert place.radius_m == pytest.approx(27_000, abs=2000)
    assert questions(collection) == []


def test_words_that_were_not_understood_make_it_less_sure(collection: Collection) -> None:
    assert entered(collection, "Salzburg railway station").sure is Sure.LIKELY


def test_a_name_of_several_towns_waits_for_a_person_who_says_which(collection: Collection) -> None:
    assert not entered(collection, "Springfield").is_located
    (asked,) = questions(collection)
    assert asked.startswith("“Springfield” may be more than one place: is it Springfield (")
    mean_place(collection, "Springfield", "geonames:4250542")
    place = next(one for one in collection.catalogue.places() if one.name == "Springfield")
    assert (place.region, place.sure, questions(collection)) == ("Illinois", Sure.CERTAIN, [])
    collection.catalogue.undo("test")
    assert questions(collection) == [asked]


def test_what_is_misspelt_is_asked_and_never_taken(collection: Collection) -> None:
    assert not entered(collection, "Philadelpia").is_located
    assert questions(collection) == [
        "No place is known as “Philadelpia”: is it Philadelphia (Pennsylvania, United States)?"
    ]


@pytest.mark.parametrize("name", ["Xyzzyqwert", "…"])
def test_what_no_table_knows_is_kept_without_a_question(collection: Collection, name: str) -> None:
    assert entered(collection, name) == Place(name)
    assert questions(collection) == []


def test_without_a_gazetteer_places_are_kept_as_written(collection: Collection) -> None:
    nothing = PlaceReader(None, why_none="The gazetteer could not be made.")
    assert entered(collection, "Bergen", read=nothing) == Place("Bergen")
    with pytest.raises(CannotBegin, match="could not be made"):
        nothing("Bergen")


def test_places_of_earlier_slips_are_looked_up_when_asked(collection: Collection) -> None:
    entered(collection, "Bergen", read=PlaceReader(None))
    entered(collection, "Springfield", read=PlaceReader(None))
    looked_up = understand_places(collection)
    assert [place.town for place in looked_up.found] == ["Bergen"]
    assert len(looked_up.asked) == 1
    assert understand_places(collection) == LookedUp((), looked_up.asked, None)


def known(collection: Collection, place: Place) -> None:
    with collection.catalogue.act("test", "own") as act, act.work() as work:
        work.keep_place(place)
        work.commit()


def test_a_place_of_a_list_is_looked_up_in_its_own_country(collection: Collection) -> None:
    known(collection, Place("Perth", "GB", known_as=("own.csv#7",), what="village"))
    (found,) = understand_places(collection).found
    assert (found.country, found.region) == ("GB", "Scotland")
    assert found.known_as[1:] == ("own.csv#7",), "the list it came from still finds it"
    assert found.what == "village"


def test_a_place_keeps_its_key_in_the_file_it_came_from_when_somebody_says_where_it_is(
    collection: Collection,
) -> None:
    known(collection, Place("Springfield", known_as=("own.csv#7",)))
    mean_place(collection, "Springfield", "geonames:4250542")
    (place,) = collection.catalogue.places()
    assert place.known_as == ("geonames:4250542", "own.csv#7")


def test_laying_a_circle_answers_which_place_is_meant(collection: Collection) -> None:
    entered(collection, "Springfield")
    assert len(questions(collection)) == 1
    lay_circle(collection, "Springfield", (60.0, 5.0), 30.0)
    assert questions(collection) == []
    collection.catalogue.undo("archivist")
    assert len(questions(collection)) == 1


def test_a_file_is_taken_in_only_as_it_was_shown(collection: Collection, tmp_path: Path) -> None:
    path = geojson(tmp_path / "own.geojson", ("a", "Nordgard", 60.0))
    shown = place_difference(collection, path)
    geojson(path, ("a", "Nordgard", 61.0))
    with pytest.raises(Trouble, match="has changed since"):
        take_in_places(collection, path, expecting=shown)
    assert collection.catalogue.places() == []
    assert take_in_places(collection, path, expecting=place_difference(collection, path)).act is not None
    assert take_in_places(collection, path).act is None, "nothing was left to do"


def test_own_names_are_told_before_the_gazetteer(collection: Collection) -> None:
    known(collection, Place("Bergen", "NO", 61.0, 9.0, 200.0, source="archivist"))
    assert place_reader(collection.catalogue)("Bergen")[0].own is not None


def test_a_place_that_nobody_offered_is_refused(collection: Collection) -> None:
    with pytest.raises(NotFound):
        mean_place(collection, "Springfield", "geonames:1")


def geojson(path: Path, *places: tuple[str, str, float]) -> Path:
    features = [
        {
            "type": "Feature",
            "id": ident,
            "properties": {"name": name},
            "geometry": {"type": "Point", "coordinates": [5.0, north]},
        }
        for ident, name, north in places
    ]
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}), encoding="utf-8")
    return path


def test_a_file_is_looked_at_first_and_taken_in_again_updates(collection: Collection, tmp_path: Path) -> None:
    path = geojson(tmp_path / "own.geojson", ("a", "Nordgard", 60.0), ("b", "Hytta", 61.0))
    assert len(place_difference(collection, path).new) == 2
    assert collection.catalogue.places() == []
    take_in_places(collection, path)
    assert take_in_places(collection, path).as_before == 2
    geojson(path, ("a", "The old farm", 60.0), ("b", "Hytta", 61.5))
    changed = take_in_places(collection, path)
    assert [change.words for change in changed.changed] == [
        "also called The old farm",
        "latitude 61.5 instead of 61",
    ]
    assert [place.name for place in collection.catalogue.places()] == ["Hytta", "Nordgard"]
    collection.catalogue.undo("test")
    assert collection.catalogue.places()[0].latitude == 61.0


def test_taking_a_file_in_answers_what_was_asked_and_keeps_what_it_does_not_tell(
    collection: Collection, tmp_path: Path
) -> None:
    entered(collection, "Springfield")
    with collection.catalogue.act("test", "name") as act, act.work() as work:
        work.keep_place(Place("Springfield", names=(PlaceName("The Field", "1900", ""),)))
        work.commit()
    take_in_places(collection, geojson(tmp_path / "own.geojson", ("a", "Springfield", 60.0)))
    (place,) = collection.catalogue.places()
    assert (place.latitude, place.names, place.source) == (
        60.0,
        (PlaceName("The Field", "1900", ""),),
        "own.geojson",
    )
    assert questions(collection) == []


def test_no_address_service_is_asked_until_one_is_named(collection: Collection) -> None:
    assert service_of(collection.catalogue) is None
    with pytest.raises(CannotBegin, match="none is named"):
        ask_service(collection, "Old school, Bergen")
    name_service(collection, "https://addresses.example/search", credit="Addresses of Example")
    service = service_of(collection.catalogue)
    assert service
    assert service.credit == "Addresses of Example"
    name_service(collection, "")
    assert service_of(collection.catalogue) is None


def test_geonames_is_credited_where_its_places_are_used() -> None:
    assert "CC BY 4.0" in geonames_credit([Place("Bergen", source=GEONAMES)])
    assert geonames_credit([Place("Nordgard", source="archivist")]) == ""


def test_homes_weigh(collection: Collection) -> None:
    reader = place_reader(collection.catalogue)
    there = PlaceReader(reader.gazetteer, home=Home(((39.8, -89.64),), frozenset({"US"})))
    assert there("Springfield")[0].region == "Illinois"


@pytest.mark.parametrize("how", ["", "near", "0km", "-3", "5000 km"])
def test_a_coarseness_that_is_none_is_refused(how: str) -> None:
    with pytest.raises(CannotBegin, match="can't be told"):
        coarsening(how)
