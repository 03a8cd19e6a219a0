# ruff: noqa: E501 (a table reads by its columns)
"""A made-up box for page tests: prints with drawn pictures and everything that makes a page difficult."""

from __future__ import annotations

import random
from pathlib import Path

from attrs import evolve
from PIL import Image, ImageDraw, ImageFilter

from solander.core.descriptions import DescribedPrint, PersonShown, Reason, When
from solander.core.people import Person
from solander.core.places import Place
from solander.core.prints import Outline, Print, Side, View, accession_number
from solander.core.questions import Asks, Question
from solander.core.statements import About, Says, Statement, Sure

CORNERS = ((0.0, 0.0), (99.0, 0.0), (99.0, 99.0), (0.0, 99.0))
PEOPLE = {
    name: Person(name, born=born, died=died)
    for name, born, died in (
        ("Ingrid Sollihøgda", "1927-04-02", ""),
        ("Nils Sollihøgda", "1930", "1994"),
        ("Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki", "1899", "1971-11"),
        ("Małgorzata Brzęczyszczykiewicz", "[1903..1905]", "1988"),
        ("Aunt Signe", "", ""),
    )
}
PLACES = {
    "Vessholm": Place("Vessholm", "NO", 60.4, 5.3, 9000.0),
    "Trzcianna pod Wzgórzem": Place("Trzcianna pod Wzgórzem", "PL"),
    "the boathouse": Place("the boathouse"),
}
NINE_BY_THIRTEEN, CONTACT, POSTCARD, CABINET, SQUARE = (128, 89), (64, 88), (140, 90), (240, 180), (89, 89)

# size in mm, words, edtf, earliest, latest, guess, sure, stated, place, people, caption, back
ROWS = (
    (CABINET, "about 1908", "1908~", "1906-01-01", "1910-12-31", "1908-07-01", "guess", True, "Trzcianna pod Wzgórzem", (), "The house before the fire", "Trzcianna, dom przed pożarem"),
    (CONTACT, "between 1919 and 1926", "[1919..1926]", "1919-01-01", "1926-12-31", "1922-12-31", "likely", False, "", (2, 3), "", ""),
    (POSTCARD, "Whitsun 1924", "1924-06-08", "1924-06-08", "1924-06-08", "1924-06-08", "certain", True, "Trzcianna pod Wzgórzem", (2,), "", "Zielone Świątki 1924 — Wawrzyniec, ciocia i psy"),
    (SQUARE, "1931", "1931", "1931-01-01", "1931-12-31", "1931-07-02", "likely", True, "Vessholm", (0,), "Ingrid's first boat", ""),
    (NINE_BY_THIRTEEN, "between Whitsun 1936 and the war", "1936-05-31/1939-09-01", "1936-05-31", "1939-09-01", "1938-01-15", "likely", True, "Trzcianna pod Wzgórzem", (2, 3, 4), "", "przed wojną!"),
    (CONTACT, "before 1939", "/1939", None, "1939-09-01", "1938-06-01", "likely", False, "", (3,), "", ""),
    (POSTCARD, "7 May 1945", "1945-05-07", "1945-05-07", "1945-05-07", "1945-05-07", "certain", True, "Vessholm", (0, 1), "The day the flags came out", "Fred! 7. mai 1945"),
    (NINE_BY_THIRTEEN, "summer 1951", "1951-22", "1951-06-01", "1951-08-31", "1951-07-16", "certain", True, "the boathouse", (0, 1), "", ""),
    (NINE_BY_THIRTEEN, "summer 1958", "1958-22", "1958-06-01", "1958-08-31", "1958-07-16", "likely", True, "Vessholm", (0, 1), "Waiting for the ferry", "Sommeren 58. Ferjen kom ikke."),
    (SQUARE, "summer 1958", "1958-22", "1958-06-01", "1958-08-31", "1958-07-17", "likely", True, "Vessholm", (1,), "", ""),
    (POSTCARD, "between 1958 and 1964", "[1958..1964]", "1958-01-01", "1964-12-31", "1959-03-01", "guess", False, "", (), "", ""),
    (CABINET, "Christmas 1959", "1959-12-25", "1959-12-25", "1959-12-25", "1959-12-25", "certain", True, "Vessholm", (0, 1, 4), "", ""),
    ((103, 148), "since 1968", "1968/", "1968-01-01", None, "1971-01-01", "likely", False, "", (0,), "", "12A"),
    (NINE_BY_THIRTEEN, "", "", None, None, "1971-01-02", "guess", False, "", (), "", ""),
)  # fmt: skip

REASONS = (
    Reason("dated “{words}”", "slip file vessholm.csv, line 4", Sure.LIKELY),
    Reason("paper of this kind was sold from {year}", "list of papers", Sure.LIKELY, bounds_printing=True),
    Reason("Wawrzyniec Brzęczyszczykiewicz-Chrząszczyżewoszycki was born 1899 and died November 1971", "list of people", Sure.CERTAIN),
    Reason("B2-E5-0009 follows B2-E5-0008 in B2/E5", "the order of the envelope", Sure.LIKELY),
)  # fmt: skip


def described_prints(count: int = len(ROWS)) -> list[DescribedPrint]:
    """The box's first `count` prints in time order; more than there are rows repeat with later years."""
    return [_described(index) for index in range(count)]


def many_prints(count: int) -> list[DescribedPrint]:
    """A long collection: one print after the other through the years from 1900."""
    return [_plain(index, count) for index in range(count)]


def questions_of(prints: list[DescribedPrint]) -> list[Question]:
    """What waits about these prints, and one file that was set aside."""
    asked = [
        Question(f"{one.order}-{i}", Asks.OUTLINE, one.print.accession, sentence, "2026-01-02T10:00:00Z")
        for one in prints
        for i, sentence in enumerate(one.waits)
    ]
    cut = "scan-03.tif is cut off after 2 MB, so it was set aside. Copy it again from the card."
    return [*asked, Question("cut", Asks.SET_ASIDE, "scan-03.tif", cut, "2026-01-02T10:00:00Z")]


def undated(
    one: DescribedPrint, guess: str | None = None, likely: tuple[str, str] | None = None
) -> DescribedPrint:
    """The print without anything that bounds its date; with `guess` it has a place among its neighbours."""
    return evolve(one, when=When("", "", None, None, guess, Sure.GUESS, False, likely=likely))


def _described(index: int) -> DescribedPrint:
    size, words, edtf, earliest, latest, guess, sure, stated, place, people, caption, back = ROWS[index]
    accession = accession_number("B2/E5", index + 1)
    views = [_view(index, size, Side.RECTO, confidence=0.55 if index in (5, 9) else 0.99)]
    views += [_view(index, size, Side.VERSO)] if back else []
    names = list(PEOPLE)
    return DescribedPrint(
        print=Print(accession, "B2/E5", index + 1, tuple(views)),
        order=index + 1,
        when=When(edtf, words, earliest, latest, guess, Sure(sure), stated, _reasons(index, words, guess)),
        people=tuple(_person(PEOPLE[names[i]], guess, Sure.GUESS if i == 4 else Sure.CERTAIN) for i in people),
        place=PLACES[place] if place else None,
        place_sure=Sure.LIKELY if place == "the boathouse" else Sure.CERTAIN,
        occasion="A summer by the water" if "1958" in words else "",
        caption=caption,
        transcription=back,
        note="The right-hand edge was cut with scissors." if index == 8 else "",
        statements=_statements(accession, words, people) if words and stated else (),
        waits=_waits(index, accession),
    )


def _plain(index: int, count: int) -> DescribedPrint:
    year = 1900 + index * 90 // count
    accession = accession_number("B1", index + 1)
    view = _view(index % len(ROWS), NINE_BY_THIRTEEN, Side.RECTO)
    when = When(str(year), str(year), f"{year}-01-01", f"{year}-12-31", f"{year}-07-02", Sure.CERTAIN, True)
    return DescribedPrint(Print(accession, "B1", index + 1, (view,)), index + 1, when)


def _view(index: int, size: tuple[int, int], side: Side, confidence: float = 0.99) -> View:
    scale = 1200 / max(size)
    width, height = round(size[0] * scale), round(size[1] * scale)
    capture = f"{index:032x}{side.value.encode().hex():0>32}"[:64]
    return View(capture, 0, Outline(CORNERS, confidence), side, width, height, ppi=scale * 25.4)


def _person(person: Person, guess: str, sure: Sure) -> PersonShown:
    born = person.born[:4]
    return PersonShown(person, sure, str(int(guess[:4]) - int(born)) if born.isdigit() else "")


def _reasons(index: int, words: str, guess: str) -> tuple[Reason, ...]:
    if not words:
        return ()
    chosen = [REASONS[0], *REASONS[1 : 1 + index % 4]]
    return tuple(
        Reason(r.sentence.format(words=words, year=int(guess[:4]) - 3), r.source, r.sure, r.bounds_printing)
        for r in chosen
    )


def _statements(accession: str, words: str, people: tuple[int, ...]) -> tuple[Statement, ...]:
    line, entered = "slip file vessholm.csv, line 4", "2026-01-02T10:00:00Z"
    names = list(PEOPLE)
    told = [(Says.EXPOSURE, words, Sure.LIKELY), *((Says.PERSON, names[i], Sure.CERTAIN) for i in people)]
    return tuple(
        Statement(f"s{i}", About.PRINT, accession, says, said, said, sure, line, entered)
        for i, (says, said, sure) in enumerate(told)
    )


def _waits(index: int, accession: str) -> tuple[str, ...]:
    if index in (5, 9):
        return (f"Is this the edge of {accession}?",)
    return ("Do these two pictures show one print?", "What does the back say?") if index == 12 else ()


def draw_pictures(prints: list[DescribedPrint], folder: Path) -> dict[str, Path]:
    """Draws every view of the prints once; paths by view key."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = {view.key: (view, folder / f"{view.key}.jpg") for one in prints for view in one.print.views}
    for key, (view, path) in paths.items():
        if not path.exists():
            picture = _landscape(view, key) if view.side is Side.RECTO else _back(view, key)
            picture.save(path, quality=88)
    return {key: path for key, (_, path) in paths.items()}


TONES = (
    ((58, 46, 36), (226, 208, 176)),
    ((40, 42, 46), (222, 222, 216)),
    ((46, 60, 74), (236, 206, 160)),
    ((44, 70, 60), (240, 214, 170)),
)


def _landscape(view: View, key: str) -> Image.Image:
    """Hills, water and a low sun in one of four tones, with grain and a white border."""
    dice = random.Random(key)
    dark, light = TONES[dice.randrange(len(TONES))]
    border = 44
    width, height = view.width - 2 * border, view.height - 2 * border
    sky = Image.linear_gradient("L").resize((width, height))
    draw = ImageDraw.Draw(sky)
    x, y, r = dice.randrange(width // 5, width * 4 // 5), height * dice.uniform(0.2, 0.45), height * 0.06
    draw.ellipse((x - r, y - r, x + r, y + r), fill=250)
    for step in range(4):
        _hills(draw, dice, (width, height), step)
    sky = sky.filter(ImageFilter.GaussianBlur(2))
    grain = Image.effect_noise((width, height), 28)
    sky = Image.blend(sky, grain, 0.12)
    toned = Image.merge(
        "RGB",
        [sky.point([round(a + (b - a) * v / 255) for v in range(256)]) for a, b in zip(dark, light, strict=True)],
    )
    paper = Image.new("RGB", (view.width, view.height), (243, 238, 226))
    paper.paste(toned, (border, border))
    return paper


def _hills(draw: ImageDraw.ImageDraw, dice: random.Random, size: tuple[int, int], step: int) -> None:
    width, height = size
    base = height * (0.5 + 0.12 * step)
    line = [(0, height)]
    level = base
    for i in range(25):
        level += dice.uniform(-0.04, 0.04) * height
        level += (base - level) * 0.2
        line.append((width * i / 24, level))
    draw.polygon([*line, (width, height)], fill=150 - 40 * step)
    if step == 1:
        at = dice.uniform(0.2, 0.7) * width
        draw.rectangle((at, base - 0.02 * height, at + 0.08 * width, base + 0.07 * height), fill=220)
        draw.polygon(
            [(at - 8, base), (at + 0.04 * width, base - 0.09 * height), (at + 0.08 * width + 8, base)], fill=30
        )


def _back(view: View, key: str) -> Image.Image:
    dice = random.Random(key)
    paper = Image.new("RGB", (view.width, view.height), (231, 222, 201))
    draw = ImageDraw.Draw(paper)
    for row in range(3):
        y = view.height * (0.3 + 0.14 * row)
        line = [(view.width * 0.1 + i * 9, y + dice.uniform(-12, 12)) for i in range(int(view.width * 0.07))]
        draw.line(line, fill=(52, 66, 96), width=4, joint="curve")
    return paper.filter(ImageFilter.GaussianBlur(0.8))
