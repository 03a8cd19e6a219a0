"""Everything said of a print finds it, and what is counted is what is there."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from solander.core.people import Name, NameKind, Person
from solander.core.places import Place, PlaceName
from solander.core.prints import Container, Print
from solander.core.standing import Arrangement
from solander.core.statements import About, Says, Statement, Sure
from solander.tasks.collection import Collection
from solander.tasks.find import Facet, Finder, find
from solander.tasks.standing import keep_all

NAMES = ("Łucja Wójcik", "Jörg Müller", "Søren Ærø", "Надя Иванова", "Zoë O’Neill", "Åse Strand")
AT = "2026-03-01T10:00:00Z"


def _said(number: int, subject: str, says: Says, value: str, *, about: About = About.PRINT) -> Statement:
    return Statement(f"{subject}-{number}", about, subject, says, value, value, Sure.LIKELY, "Ada", AT)


def _describe(collection: Collection) -> None:
    said = [
        _said(1, "B2-E5-0001", Says.CAPTION, "Müllers Boot am See"),
        _said(2, "B2-E5-0001", Says.EXPOSURE, "1958-07"),
        _said(3, "B2-E5-0001", Says.PERSON, "Jörg Müller"),
        _said(4, "B2-E5-0002", Says.TRANSCRIPTION, "Harbour, 14 July"),
        _said(5, "B2-E5-0002", Says.PLACE, "Leningrad"),
        _said(6, "B2-E5-0002", Says.EXPOSURE, "1958"),
        _said(7, "B2-E5-0003", Says.OCCASION, "Regatta"),
        _said(8, "B2-E5-0003", Says.NOTE, "torn corner"),
        _said(9, "B2-E5-0004", Says.EXPOSURE, "195X"),
        *(_said(10 + at, f"B3-{at + 1:04}", Says.PERSON, name) for at, name in enumerate(NAMES)),
        _said(1, "Regatta", Says.PLACE, "Vik", about=About.OCCASION),
    ]
    with collection.catalogue.act("Ada", "described") as act, act.work() as work:
        work.add_container(Container("B2", title="Grandmother’s blue box"))
        work.keep_person(Person("Jörg Müller", ("Uncle Jo",), names=(Name("Juri Miller", NameKind.OTHER_SCRIPT),)))
        work.keep_place(Place("Leningrad", "RU", names=(PlaceName("Petrograd"),), town="Saint Petersburg"))
        for number in range(1, 5):
            work.add_print(Print(f"B2-E5-{number:04}", "B2/E5", number))
        for number in range(1, len(NAMES) + 1):
            work.add_print(Print(f"B3-{number:04}", "B3", number))
        for statement in said:
            work.state(statement)
        work.commit()
    keep_all(collection)


@pytest.fixture(scope="module")
def box(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Collection]:
    """Ten prints in two boxes, something said of each."""
    with Collection.create(tmp_path_factory.mktemp("found") / "box", title="Ten prints") as created:
        _describe(created)
        yield created


@pytest.fixture(scope="module")
def finder(box: Collection) -> Finder:
    return Finder(box)


FOUND = {
    "boot": ["B2-E5-0001"],
    "mueller": ["B2-E5-0001", "B3-0002"],
    "muller see": ["B2-E5-0001"],
    "MÜLLER SEE": ["B2-E5-0001"],
    unicodedata.normalize("NFD", "Müller"): ["B2-E5-0001", "B3-0002"],
    "uncle jo": ["B2-E5-0001", "B3-0002"],  # as he is also called
    "juri miller": ["B2-E5-0001", "B3-0002"],  # in other letters
    "lucja": ["B3-0001"],
    "Łucja wojcik": ["B3-0001"],
    "soren aero": ["B3-0003"],
    "Надя": ["B3-0004"],
    "надя": ["B3-0004"],
    "aase": ["B3-0006"],
    "petrograd": ["B2-E5-0002"],  # what the place was called
    "saint petersburg": ["B2-E5-0002"],  # and is called now
    "russia harbour": ["B2-E5-0002"],
    "regatta vik": ["B2-E5-0003"],  # said of its occasion
    "torn": ["B2-E5-0003"],
    "blue grandmother": ["B2-E5-0001", "B2-E5-0002", "B2-E5-0003", "B2-E5-0004"],
    "B2/E5": ["B2-E5-0001", "B2-E5-0002", "B2-E5-0003", "B2-E5-0004"],
    "b2-e5-0003": ["B2-E5-0003"],
    "summer 58": ["B2-E5-0001", "B2-E5-0002"],  # July 1958; some day of 1958
    "juli 1958": ["B2-E5-0001", "B2-E5-0002"],
    "1962": [],
    "harbour summer 1958": ["B2-E5-0002"],
    "the 1950s": ["B2-E5-0001", "B2-E5-0002", "B2-E5-0004"],
    "boot torn": [],
}


@pytest.mark.parametrize(("sought", "prints"), FOUND.items())
def test_what_is_found(finder: Finder, sought: str, prints: list[str]) -> None:
    assert sorted(finder.find(sought).prints) == prints


def test_a_time_that_is_understood_is_told(finder: Finder) -> None:
    time = finder.find("boot summer 58").time
    assert time is not None
    assert (time.edtf, time.rest) == ("1958-22", ("boot",))
    # EDTF seasons as the collection counts them: 22 is June to August (docs of dates).
    assert (time.bounds.latest or 0) - (time.bounds.earliest or 0) == 91
    assert finder.find("May").time is None


@pytest.mark.parametrize(
    ("sought", "nearest"),
    [
        ("harbuor", ("harbour",)),
        ("regata", ("regatta",)),
        ("Mülller", ("muller", "mueller")),
        ("xy", ()),
        ("9321", ()),
    ],
)
def test_the_nearest_word_is_offered_for_one_that_nothing_has(
    finder: Finder, sought: str, nearest: tuple[str, ...]
) -> None:
    (unheard,) = finder.find(sought).unheard
    assert unheard.word == sought
    assert unheard.nearest[: len(nearest)] == nearest or set(nearest) <= set(unheard.nearest)


def test_words_that_are_nowhere_together_are_not_called_misspelt(finder: Finder) -> None:
    assert (finder.find("boot torn").total, finder.find("boot torn").unheard) == (0, ())


def test_what_is_counted_is_what_a_choice_leaves(finder: Finder) -> None:
    everything = finder.find(limit=100)
    assert everything.total == 10
    for facet in Facet:
        left = finder.find(facets=[facet], limit=100)
        assert left.total == everything.counts[facet] == len(left.prints)
    assert everything.counts[Facet.NOBODY] == 3
    for container, count in everything.containers.items():
        assert finder.find(container=container).total == count
    assert everything.containers == {"B2": 4, "B2/E5": 4, "B3": 6}


@pytest.mark.parametrize("arrangement", Arrangement)
def test_pages_lie_end_to_end(finder: Finder, arrangement: Arrangement) -> None:
    whole = finder.find(arrangement=arrangement, limit=100).prints
    pages: list[str] = []
    while True:
        page = finder.find(arrangement=arrangement, after=pages[-1] if pages else "", limit=3)
        pages += page.prints
        if not page.more:
            break
    assert tuple(pages) == whole
    assert tuple(one.accession for one in finder.collection.catalogue.standings(arrangement)) == whole


@pytest.mark.slow
@settings(max_examples=150, deadline=None)
@given(st.text() | st.text(alphabet="\"*^():-+{}ANDORNEARNOT \0' 0123456789", max_size=40))
@example("\ud800 boot")
@example("²½٣ ⁴ 1958")
@example("word " * 500)
def test_nothing_that_is_typed_is_too_odd(finder: Finder, text: str) -> None:
    found = finder.find(text)
    assert found.total <= 10


@pytest.mark.slow
@settings(max_examples=100, deadline=None)
@given(st.data())
def test_every_print_that_is_found_holds_every_word(finder: Finder, data: st.DataObject) -> None:
    documents = finder.collection.catalogue.documents(finder.find(limit=100).prints)
    words = sorted(
        {word for row in documents.values() for text in list(row.values())[1:] for word in text.split()}
    )
    sought = data.draw(st.lists(st.sampled_from(words), min_size=1, max_size=3))
    found = finder.find(" ".join(sought))
    for one in finder.told(found):
        if found.time is None:
            said = [piece for where in one.where for piece in (*where.pieces, *where.called) if piece.found]
            assert said, (one.described.print.accession, sought)
    alone = [set(finder.find(word).prints) for word in sought]
    if found.time is None and all(finder.find(word).time is None for word in sought):
        assert set(found.prints) == set.intersection(*alone)


def test_where_the_words_stand_is_told(finder: Finder) -> None:
    (one,) = finder.told(finder.find("harbour petrograd"))
    told = {where.field: "".join(piece.text for piece in (*where.pieces, *where.called)) for where in one.where}
    assert told == {"transcription": "Harbour, 14 July", "place": "LeningradPetrograd"}


def test_what_is_said_later_is_found_at_once(tmp_path: Path) -> None:
    with Collection.create(tmp_path / "box", title="Ten prints") as box:
        _describe(box)
        finder = Finder(box)
        assert finder.find("skating").total == 0
        with box.catalogue.act("Ada", "said more") as act, act.work() as work:
            work.state(_said(99, "B3-0001", Says.CAPTION, "Skating"))
            work.withdraw("B2-E5-0001-1")
            work.commit()
        assert finder.find("skating").prints == ("B3-0001",)
        assert finder.find("boot").total == 0
        box.catalogue.undo("Ada")
        assert (finder.find("skating").total, find(box, "boot").prints) == (0, ("B2-E5-0001",))
