"""What a place was called when a picture was taken, and what it is called today."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from solander.authorities.former_names import FormerTownName, names_of_town
from solander.authorities.gazetteer.folding import key_of
from solander.authorities.gazetteer.qualifiers import country_letters, country_name
from solander.authorities.gazetteer.span import Span
from solander.core.places import Place, PlaceWords

__all__ = ["words_of_place"]

_KEY = "geonames:"


@lru_cache(maxsize=8192)
def words_of_place(place: Place, on: str) -> PlaceWords:
    """The place in words; `on` is the EDTF date of the picture, or empty.

    A former name is told only when it surely held then: on every day that the date allows.
    """
    country = country_name(place.country)
    now = ", ".join(filter(None, [place.town or ("" if place.source else place.name), country]))
    span = Span.of(on)
    return PlaceWords(country, country_letters(place.country), now, _then(place, span) if span.is_known else "")


def _then(place: Place, span: Span) -> str:
    own = [name.text for name in place.names if (name.valid_from or name.valid_to) and span.within(name)]
    if own:
        return own[0]
    held = [name for name in _of_town(place) if span.within(name)]
    # Of several languages, the name as it was written; else the one whose years are known best.
    held.sort(key=lambda name: (key_of(name.name) != key_of(place.name), not name.valid_from, name.name))
    return ", ".join(filter(None, [held[0].name, held[0].country_then])) if held else ""


def _of_town(place: Place) -> Iterator[FormerTownName]:
    for key in place.known_as:
        if key.startswith(_KEY) and key.removeprefix(_KEY).isdecimal():
            written = key_of(place.name)
            for name in names_of_town(int(key.removeprefix(_KEY))):
                # Names without a first year are names in another language as often as not: only as written.
                if name.valid_from or written.split(" ")[0] == key_of(name.name).split(" ")[0]:
                    yield name
