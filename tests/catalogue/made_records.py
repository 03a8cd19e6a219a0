"""Made-up records for the tests of the catalogue, and a quick way to an empty catalogue."""

from __future__ import annotations

import functools
import hashlib
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hypothesis import strategies as st

from solander.catalogue.schema import metadata, row_key
from solander.catalogue.store import Catalogue
from solander.core.occasions import Occasion
from solander.core.people import Name, NameKind, Person
from solander.core.places import Place
from solander.core.prints import Capture, Condition, Container, Outline, Print, Side, Stand, View, accession_number
from solander.core.questions import Asks, Question
from solander.core.statements import About, Says, Statement, Sure
from solander.core.treatments import UNTREATED, Step, Treatment
from solander.core.upright import Upright

NOW = "2026-03-01T10:00:00.000Z"


@functools.cache
def _empty_file() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        Catalogue.create(Path(folder)).close()
        return (Path(folder) / "solander.db").read_bytes()


@contextmanager
def empty_catalogue() -> Iterator[Catalogue]:
    """A catalogue of its own for each example of a property; making one anew takes 0.3 s."""
    folder = Path(tempfile.mkdtemp())
    (folder / "solander.db").write_bytes(_empty_file())
    try:
        with Catalogue.open(folder, now=lambda: NOW) as catalogue:
            yield catalogue
    finally:
        shutil.rmtree(folder)


def sha(number: int) -> str:
    return hashlib.sha256(str(number).encode()).hexdigest()


def a_capture(number: int = 1) -> Capture:
    return Capture(sha(number), f"{number}.jpg", "image/jpeg", 1000 + number, 400, 300, dpi=300.0)


def a_view(capture: int = 1, *, side: Side = Side.RECTO, turn: int = 0, left: float = 0.25, page: int = 0) -> View:
    outline = Outline(((left, 0.0), (90.5, 1.0), (90.0, 60.0), (0.5, 61.0)), 0.97)
    return View(sha(capture), page, outline, side, 90, 60, turn=turn, ppi=300.0)


def a_print(number: int = 1, container: str | None = "B1", views: tuple[View, ...] = ()) -> Print:
    return Print(accession_number(container, number), container, number, views)


def a_statement(
    ident: str, subject: str, says: Says, value: str, *, about: About = About.PRINT, words: str = ""
) -> Statement:
    return Statement(ident, about, subject, says, value, words or value, Sure.LIKELY, "slip file box.csv", NOW)


def a_question(key: str, subject: str) -> Question:
    return Question(key, Asks.PAIR, subject, f"Which front belongs to {subject}?", NOW)


_FILLED = {"search_documents": ("accession",), "person_names": ("words", "person")}


def dump(catalogue: Catalogue) -> dict[str, list[dict[str, object]]]:
    """Every row of every table that undo speaks for, and of those filled at once, without their numbers."""
    worked_out = {name for name in metadata.tables if name.startswith("standing")}
    lasting = {"acts", "changes", "captures", "arrivals", "sounds", "slips", "writings", *worked_out}
    kept = {}
    with catalogue._reading() as connection:
        for table in metadata.sorted_tables:
            if table.name not in lasting:
                order = _FILLED.get(table.name) or (row_key(table).name,)
                rows = connection.execute(table.select().order_by(*(table.c[name] for name in order))).mappings()
                number = "id" if table.name in _FILLED else None
                kept[table.name] = [{name: row[name] for name in row if name != number} for row in rows]
    return kept


texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
names = texts.filter(bool)
numbers = st.floats(allow_nan=False, allow_infinity=False, width=64)
shares = st.floats(0, 1)
shas = st.binary(max_size=8).map(lambda data: hashlib.sha256(data).hexdigest())
codes = st.lists(st.from_regex(r"[A-Z]{1,3}[0-9]{1,5}", fullmatch=True), min_size=1, max_size=3).map("/".join)
counts = st.integers(1, 2**40)
optional_text = st.none() | texts

captures = st.builds(
    Capture,
    sha256=shas,
    name=texts,
    media_type=texts,
    size=counts,
    width=counts,
    height=counts,
    pages=counts,
    dpi=st.none() | numbers,
    taken=optional_text,
    suffix=texts,
)
corner = st.tuples(numbers, numbers)
four_corners = st.tuples(corner, corner, corner, corner)
outlines = st.builds(
    Outline,
    corners=four_corners,
    confidence=shares,
    checked=st.booleans(),
    second=st.none() | four_corners,
    bows=st.none() | st.tuples(numbers, numbers, numbers, numbers),
)
stands = st.builds(
    Stand,
    lens=st.tuples(numbers, numbers),
    focal=st.none() | numbers,
    plane=st.none() | st.lists(numbers, min_size=9, max_size=9).map(tuple),
    picture=st.none() | shas,
)
conditions = st.builds(
    Condition,
    sharpness=numbers,
    clipped_dark=shares,
    clipped_light=shares,
    fingerprint=st.from_regex(r"[0-9a-f]{16}", fullmatch=True),
    faults=st.lists(texts, max_size=3).map(tuple),
)
steps = st.builds(
    Step,
    name=st.just("density"),
    parameters=st.fixed_dictionaries({"by": st.sampled_from((-0.25, 0.1))}),
    on=st.booleans(),
    who=texts,
    reason=texts,
)
treatments = st.just(UNTREATED) | st.lists(steps, min_size=1, max_size=1).map(Treatment.of)
views = st.builds(
    View,
    capture=shas,
    page=st.integers(0, 30),
    outline=outlines,
    side=st.sampled_from(Side),
    width=counts,
    height=counts,
    turn=st.integers(0, 3),
    upright=st.none() | st.sampled_from(Upright),
    ppi=st.none() | numbers,
    condition=st.none() | conditions,
    stand=st.none() | stands,
    treatment=treatments,
)
prints = st.builds(
    lambda container, number, views: Print(accession_number(container, number), container, number, tuple(views)),
    st.none() | codes,
    st.integers(1, 10**6),
    st.lists(views, max_size=3, unique_by=lambda view: view.key),
)
containers = st.builds(Container, code=codes, title=texts)
person_names = st.builds(Name, text=texts, kind=st.sampled_from(NameKind), surname=texts)
few_texts = st.lists(texts, max_size=3).map(tuple)
people = st.builds(
    Person,
    name=names,
    also_called=few_texts,
    born=texts,
    died=texts,
    names=st.lists(person_names, max_size=3).map(tuple),
    sex=texts,
    born_at=texts,
    died_at=texts,
    known_as=few_texts,
)
places = st.builds(
    Place,
    name=names,
    country=texts,
    latitude=st.floats(-90, 90),
    longitude=st.floats(-180, 180),
    radius_m=st.floats(0.1, 1e7),
) | st.builds(Place, name=names)
occasions = st.builds(Occasion, name=names)
questions = st.builds(
    Question,
    key=names,
    asks=st.sampled_from(Asks),
    subject=texts,
    sentence=texts,
    raised=texts,
    settled=optional_text,
)
statements_about_occasions = st.builds(
    Statement,
    id=names,
    about=st.just(About.OCCASION),
    subject=names,
    says=st.sampled_from(Says),
    value=texts,
    words=texts,
    sure=st.sampled_from(Sure),
    source=texts,
    entered=texts,
    withdrawn=optional_text,
)
