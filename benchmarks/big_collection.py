"""Makes a made-up collection of any size, 100,000 prints by default, to measure the workbench on.

    python benchmarks/big_collection.py FOLDER [--prints 100000]

Containers B1/E1 …, occasions of 5 to 60 prints that follow each other in them, two fifths of the prints with no
date said, people, places, captions, backs, a few questions and contradictions. Everything is written straight
through the catalogue. A few drawn pictures serve all prints: each print has its own outline in one of them, and
its small picture is the same file under another name. Names are invented.
"""

from __future__ import annotations

import argparse
import os
import random
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

import numpy as np
from attrs import frozen

from solander.catalogue.records import capture_row, print_row, question_row, statement_row, view_row
from solander.catalogue.schema import captures, occasions, prints, questions, statements, views
from solander.catalogue.work import Work
from solander.core.dates import from_day
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Capture, Condition, Container, Outline, Print, Side, View, accession_number
from solander.core.questions import Asks, Question
from solander.core.statements import About, Says, Statement, Sure
from solander.core.upright import Upright
from solander.imaging.encode import encode_jpeg, thumbnail
from solander.imaging.simulate.pictures import drawn_picture
from solander.tasks.collection import Collection
from solander.tasks.prepare import view_paths

PPI = 150.0
SIZES_MM = ((130, 90), (90, 130), (148, 104), (90, 60), (88, 88), (70, 100), (180, 130), (64, 104))
PICTURES = 24
IN_ENVELOPE, IN_BOX = 100, 25
AT = "2026-03-01T10:00:00.000Z"
GIVEN = ("Anna", "Johan", "Maria", "Karl", "Ingrid", "Nils", "Sofia", "Erik", "Zofia", "Tadeusz", "Åse", "Émile")
FAMILY = ("Berggren", "Holmquist", "Nydal", "Westerwik", "Lundby", "Krzewski", "Sandström", "Österrud")
EVENTS = ("Regatta", "Harvest", "Wedding", "Whitsun outing", "School outing", "Christmas", "Skating", "Baptism")
SPOTS = ("harbour", "old mill", "meadow", "church", "station", "garden", "lake", "bridge")
DOING = ("waving", "with the dog", "on the steps", "after dinner", "in the rain", "all in a row", "looking away")


@frozen
class Picture:
    """A drawn picture that many prints share."""

    capture: Capture
    small: Path


@frozen
class Outing:
    """An occasion with the day it truly was on and those who were there."""

    name: str
    day: int
    people: tuple[str, ...]
    place: str
    how_dated: int


def make(root: Path, count: int, *, seed: int = 6) -> Collection:
    """The collection in `root`, which must not hold anything yet."""
    dice = random.Random(seed)
    collection = Collection.create(root, title=f"Made up, {count:,} prints")
    pictures = [_picture(collection, number) for number in range(PICTURES + 2)]
    with collection.catalogue.act("benchmark", "filled it") as act, act.work() as work:
        work.set("made_up", "yes")
        work.recorder.insert_all(captures, [capture_row(one.capture) for one in pictures])
        people, places = _people(dice), _places(dice)
        work.enter_people([(person, ()) for person in people])
        for place in places:
            work.keep_place(place)
        _fill(work, dice, count, people=people, places=places, pictures=pictures, views_root=collection.views_root)
        work.commit()
    return collection


def _picture(collection: Collection, number: int) -> Picture:
    """One of the drawn pictures; the last two are blank backs."""
    size = tuple(round(mm / 25.4 * PPI) for mm in SIZES_MM[number % len(SIZES_MM)])
    paper = number >= PICTURES
    rgb = np.full((size[1], size[0], 3), 232, np.uint8) if paper else drawn_picture(number, size)
    if not paper:
        rgb[:12], rgb[-12:], rgb[:, :12], rgb[:, -12:] = (240, 240, 240, 240)
    kept = collection.vault.put(encode_jpeg(rgb, quality=88), suffix=".jpg")
    small = collection.views_root / f"picture-{number}.jpg"
    small.parent.mkdir(exist_ok=True)
    small.write_bytes(encode_jpeg(thumbnail(rgb), quality=80))
    capture = Capture(kept.sha256, f"{number}.jpg", "image/jpeg", kept.size, *size, dpi=PPI)
    return Picture(capture, small)


def _people(dice: random.Random) -> list[Person]:
    return [
        Person(
            f"{GIVEN[i % 12]} {FAMILY[i // 12 % 8]} {'the ' + str(i // 96 + 1)}", (), str(dice.randint(1860, 1980))
        )
        for i in range(400)
    ]


def _places(dice: random.Random) -> list[Place]:
    names = [
        f"{name}{end}"
        for name in ("Berg", "Holm", "Lund", "Sand", "Wester", "Krz")
        for end in ("dal", "vik", "by")
    ]
    return [Place(name, "NO", dice.uniform(58, 63), dice.uniform(5, 12), 4000.0) for name in names]


def _fill(
    work: Work,
    dice: random.Random,
    count: int,
    *,
    people: list[Person],
    places: list[Place],
    pictures: list[Picture],
    views_root: Path,
) -> None:
    born = sorted((int(person.born), person.name) for person in people)
    made: list[Print] = []
    said: list[Statement] = []
    named: list[str] = []
    while len(made) < count:
        outing = _outing(dice, len(named), born, places)
        size = min(dice.randint(5, 60), count - len(made))
        own = [_print(dice, len(made) + place, pictures) for place in range(size)]
        made += own
        if dice.random() < 0.85:
            named.append(outing.name)
            said += _of_outing(outing)
            said += (_said(one.accession, Says.OCCASION, outing.name) for one in own)
        said += (each for one in own for each in _of_print(dice, one, outing))
    for code in dict.fromkeys(one.container for one in made if one.container):
        work.add_container(Container(code))
    work.recorder.insert_all(prints, map(print_row, made))
    work.recorder.insert_all(views, _views(made))
    work.recorder.insert_all(occasions, ({"name": name} for name in named))
    work.recorder.insert_all(statements, map(statement_row, said))
    work.recorder.insert_all(questions, map(question_row, _questions(dice, made)))
    _link(made, {one.capture.sha256: one.small for one in pictures}, views_root)


def _outing(dice: random.Random, number: int, born: list[tuple[int, str]], places: list[Place]) -> Outing:
    year = min(1999, max(1899, round(dice.gauss(1956, 19))))
    living = [name for when, name in born if when < year - 1 and when > year - 85]
    return Outing(
        f"{dice.choice(EVENTS)} {year} · {number + 1}",
        year * 365 + year // 4 - year // 100 + year // 400 + dice.randint(1, 364) - 365,
        tuple(dice.sample(living, min(len(living), dice.randint(2, 9)))),
        dice.choice(places).name,
        dice.randrange(10),
    )


def _of_outing(outing: Outing) -> Iterator[Statement]:
    """Four of ten have a date: a day, a month, a year, or some years."""
    yield _said(outing.name, Says.PLACE, outing.place, about=About.OCCASION)
    if outing.how_dated < 4:
        edtf = _edtf(outing.day, outing.how_dated)
        sure = Sure.LIKELY if outing.how_dated < 3 else Sure.GUESS
        yield _said(outing.name, Says.EXPOSURE, edtf, about=About.OCCASION, sure=sure)


def _edtf(day: int, how: int) -> str:
    year, month, of_month = from_day(day)
    return (f"{year}-{month:02}-{of_month:02}", f"{year}-{month:02}", f"{year}", f"[{year - 2}..{year + 3}]")[how]


def _print(dice: random.Random, number: int, pictures: list[Picture]) -> Print:
    envelope, own = divmod(number, IN_ENVELOPE)
    box, inner = divmod(envelope, IN_BOX)
    container = f"B{box + 1}/E{inner + 1}"
    sides = [_view(dice, pictures[dice.randrange(PICTURES)], number, Side.RECTO)]
    if dice.random() < 0.3:
        sides.append(_view(dice, pictures[PICTURES + number % 2], number, Side.VERSO))
    return Print(accession_number(container, own + 1), container, own + 1, tuple(sides))


def _view(dice: random.Random, picture: Picture, number: int, side: Side) -> View:
    """The whole picture, moved by a thousandth of a pixel for each print: another outline, the same picture."""
    right, bottom = picture.capture.width - 1.0, picture.capture.height - 1.0
    # Keys know thousandths of a pixel: two of the corners carry the number in them.
    corners = (number % 1000 / 1000, 0.0), (right, number // 1000 / 1000), (right, bottom), (0.0, bottom)
    sure = 0.97 if dice.random() > 0.01 else 0.6
    condition = Condition(1.5, 0.0, 0.0, f"{dice.getrandbits(64):016x}")
    return View(
        picture.capture.sha256,
        0,
        Outline(corners, sure),
        side,
        picture.capture.width,
        picture.capture.height,
        upright=Upright.PERSON,
        ppi=PPI,
        condition=condition,
    )


def _views(made: Iterable[Print]) -> Iterator[dict[str, object]]:
    numbered = ((one.accession, view) for one in made for view in one.views)
    return (view_row(accession, view, sequence=place) for place, (accession, view) in enumerate(numbered, 1))


def _of_print(dice: random.Random, one: Print, outing: Outing) -> Iterator[Statement]:
    if dice.random() < 0.12:
        yield _said(one.accession, Says.EXPOSURE, _edtf(outing.day, dice.randrange(3)), sure=Sure.LIKELY)
    elif dice.random() < 0.002:
        yield _said(one.accession, Says.EXPOSURE, str(from_day(outing.day)[0] + dice.choice([-9, 9])))
    if outing.people and dice.random() < 0.75:
        for name in dice.sample(outing.people, min(len(outing.people), dice.randint(1, 3))):
            sure = Sure.CERTAIN if dice.random() < 0.9 else Sure.GUESS
            yield _said(one.accession, Says.PERSON, name, sure=sure)
    if dice.random() < 0.5:
        yield _said(one.accession, Says.CAPTION, f"By the {dice.choice(SPOTS)}, {dice.choice(DOING)}")
    if one.verso and dice.random() < 0.6:
        yield _said(one.accession, Says.TRANSCRIPTION, f"{outing.place}, {dice.choice(SPOTS)} {one.number}")
    if dice.random() < 0.04:
        yield _said(one.accession, Says.NOTE, "the corner is torn")


_ids = iter(range(1, 10**9))


def _said(
    subject: str, says: Says, value: str, *, about: About = About.PRINT, sure: Sure = Sure.CERTAIN
) -> Statement:
    return Statement(f"made-{next(_ids)}", about, subject, says, value, value, sure, "made up", AT)


def _questions(dice: random.Random, made: Iterable[Print]) -> Iterator[Question]:
    for one in made:
        if any(not view.outline.is_sure for view in one.views):
            yield Question(f"edge {one.accession}", Asks.OUTLINE, one.accession, "Is this its edge?", AT)
        if dice.random() < 0.005:
            sentence = f"{one.accession} is not sharp: capture it again?"
            yield Question(f"again {one.accession}", Asks.CAPTURE_AGAIN, one.accession, sentence, AT)


def _link(made: Iterable[Print], small: dict[str, Path], views_root: Path) -> None:
    for view in (view for one in made for view in one.views):
        path = view_paths(views_root, view.key)[1]
        path.parent.mkdir(exist_ok=True)
        os.link(small[view.capture], path)


def main() -> None:
    """Makes it and says how long that took."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("folder", type=Path)
    asked.add_argument("--prints", type=int, default=100_000)
    given = asked.parse_args()
    start = time.perf_counter()
    make(given.folder, given.prints).close()
    print(f"{given.prints:,} prints in {time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
