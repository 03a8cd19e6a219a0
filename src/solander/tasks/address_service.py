"""The address service of a collection: off until somebody names one, asked only when somebody says so."""

from __future__ import annotations

import json
from collections.abc import Iterable

from attrs import evolve

from solander.authorities.address_service import AddressService
from solander.authorities.gazetteer.kept import default_file
from solander.catalogue.queries import Reading as Known
from solander.core.errors import CannotBegin
from solander.core.place_finds import PlaceFound
from solander.core.places import Place
from solander.core.questions import Asks
from solander.core.sentence import Sentence
from solander.tasks.ask import settle
from solander.tasks.collection import Collection

__all__ = ["ask_service", "keep_address", "name_service", "service_credit", "service_of"]

_SETTING = "address_service"


def service_of(catalogue: Known) -> AddressService | None:
    """The service that the collection goes by; None while it is off."""
    kept = catalogue.setting(_SETTING)
    if not kept:
        return None
    said = json.loads(kept)
    return AddressService(said["url"], default_file().with_name("addresses.db"), credit=said["credit"])


def name_service(collection: Collection, url: str, *, credit: str = "", who: str = "archivist") -> int | None:
    """Goes by the service at `url` from now on, or by none when that is empty; the act's number for undo.

    Raises
    ------
    InvalidValue
        When it is no address of the web.
    """
    if url:
        AddressService(url, default_file())
    what = (
        Sentence("named the address service %(url)s", url=url)
        if url
        else Sentence("switched the address service off")
    )
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.set(_SETTING, json.dumps({"url": url, "credit": credit}) if url else "")
        work.commit()
    return act.number


def service_credit(catalogue: Known, places: Iterable[Place]) -> str:
    """What must stand where places that the service found are used; empty where none is."""
    service = service_of(catalogue)
    source = _source(service)
    return f"Addresses: {source}." if source and any(place.source == source for place in places) else ""


def _source(service: AddressService | None) -> str:
    return (service.credit or service.url) if service else ""


def ask_service(collection: Collection, phrase: str) -> tuple[PlaceFound, ...]:
    """What the service answers to a phrase; the phrase leaves this computer.

    Raises
    ------
    CannotBegin
        When none is named.
    Trouble
        When it can't be reached, or its answer is not understood.
    """
    service = service_of(collection.catalogue)
    if service is None:
        raise CannotBegin(
            Sentence("No address service was asked"),
            Sentence("none is named, so that no word leaves this computer"),
            Sentence("Name one: solander address COLLECTION --service https://…"),
        )
    return service.find(phrase)


def keep_address(collection: Collection, name: str, found: PlaceFound, *, who: str = "archivist") -> int | None:
    """Says that the collection means by `name` what the service found; the act's number for undo."""
    source = _source(service_of(collection.catalogue))
    known = next((one for one in collection.catalogue.places() if one.name == name), Place(name))
    place = evolve(
        known,
        country=found.country or known.country,
        latitude=round(found.latitude, 6),
        longitude=round(found.longitude, 6),
        radius_m=found.radius_m,
        what=known.what or found.what,
        known_as=tuple(dict.fromkeys((*known.known_as, *filter(None, [found.known_as])))),
        source=source,
    )
    what = Sentence("%(name)s is %(found)s, as the address service says", name=name, found=found.name)
    with collection.catalogue.act(who, what) as act, act.work() as work:
        work.keep_place(place)
        settle(collection, work, Asks.PLACE, name)
        work.commit()
    return act.number
