"""A place under its name of then is told with its name of today, on the page of a print."""

from __future__ import annotations

import pytest
from attrs import evolve
from drawn_box import described_prints

from solander.core.places import GEONAMES, Place, PlaceWords
from solander.look.pages import environment

PRINT = described_prints()[0]


@pytest.mark.parametrize(
    ("name", "told"),
    [("Leningrad", "Leningrad (today Saint Petersburg, Russia)"), ("Saint Petersburg", "Saint Petersburg")],
)
def test_the_name_of_today_stands_beside_another(name: str, told: str) -> None:
    place = Place(name, "RU", 59.9, 30.3, 27_000.0, town="Saint Petersburg", source=GEONAMES)
    words = PlaceWords("Russia", "RUS", "Saint Petersburg, Russia", "")
    asked = '{% from "parts.html" import facts %}{{ facts(described, 3) }}'
    described = evolve(PRINT, place=place, place_words=words)
    page = environment("solander.look").from_string(asked).render(described=described)
    plain = " ".join(page.replace('<span class="source">', "").replace("</span>", "").split())
    assert f"<dt>Place</dt><dd>{told}</dd>" in plain
