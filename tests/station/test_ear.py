"""The ear of a station beside its sockets: what belongs together, and whose voice is heard."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from attrs import define, field, frozen
from stage_parts_here import Heard, Here, Stand, Told

from solander.station.ear import Ear
from solander.station.stages import Station

QUIET = b"\0\0"


@pytest.fixture
def here() -> Here:
    return Here()


@pytest.fixture
def station(here: Here) -> Iterator[Station]:
    stages = here.stages()
    yield stages.at("1")
    stages.close()


def says(here: Here, ear: Ear, microphone: int, *heard: Heard) -> None:
    here.ear.next = list(heard)
    ear.hear(QUIET, microphone)


def test_of_two_microphones_the_one_opened_last_is_heard(here: Here, station: Station) -> None:
    phone, laptop = station.ear.begin(), station.ear.begin()
    station.ear.hear(b"\1\1", laptop)
    station.ear.hear(b"\2\2", phone)
    assert here.ear.pieces == [b"\1\1"]
    station.ear.end(laptop)
    station.ear.hear(b"\3\3", phone)
    assert b"\3\3" in here.ear.pieces


def test_what_was_begun_goes_with_a_microphone_that_is_shut_or_closed(here: Here, station: Station) -> None:
    microphone = station.ear.begin()
    says(here, station.ear, microphone)
    before = here.ear.forgot
    station.ear.mute(True)
    station.ear.mute(False)
    assert here.ear.forgot > before
    before = here.ear.forgot
    station.ear.end(microphone)
    assert here.ear.forgot > before


def test_the_rest_of_a_sentence_takes_the_place_of_its_beginning_and_of_no_other(
    here: Here, station: Station
) -> None:
    """What was asked about before, and is no part of it, still waits for an answer."""
    microphone = station.ear.begin()
    says(here, station.ear, microphone, Heard("Oslo", sure="ask"))
    says(here, station.ear, microphone, Heard("1950"), Heard("1958", again=True))
    station.ear.answer(1, yes=True)
    assert station.stage.stand.done == ["1950", "1958", "Oslo"]


def test_a_beginning_that_was_asked_about_is_asked_no_more_once_its_rest_is_there(
    here: Here, station: Station
) -> None:
    microphone = station.ear.begin()
    says(here, station.ear, microphone, Heard("1950", sure="ask"), Heard("1958", again=True))
    with pytest.raises(Exception, match="does not wait any more"):
        station.ear.answer(1, yes=True)
    assert station.stage.stand.done == ["1958"]


@frozen
class Kept:
    id: str
    covers: tuple[str, ...] = ()


@define
class Keeping(Stand):
    """Keeps each sound under a number."""

    kept: list[Kept] = field(factory=list)

    def sounds(self) -> list[Kept]:
        return list(self.kept)

    def keep_sound(self, pcm: bytes) -> Told:
        self.kept.append(Kept(f"sound {len(self.kept) + 1}"))
        return Told("")


def test_a_kept_sound_is_typed_by_its_own_rest_alone(here: Here, station: Station) -> None:
    microphone = station.ear.begin()
    station.stage.stand = Keeping("1")
    says(here, station.ear, microphone, Heard("mumbled", sure="not"), Heard("Oslo", sure="ask"))
    says(here, station.ear, microphone, Heard("Oslo 1950", again=True))  # the rest of what was asked about
    assert station.stage.stand.done == ["Oslo 1950"]
    says(here, station.ear, microphone, Heard("mumbled", sure="not"), Heard("Bergen", again=True))
    assert station.stage.stand.done[1:] == [("sound 2", "Bergen")]
