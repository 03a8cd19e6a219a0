"""Backs and bordered fronts drawn by chance, with what stands on them: for `inscriptions.py`.

Hands are typefaces under the OFL, so nothing here says how well handwriting is read; stamps are set in type, worn
as rubber stamps are. Names and studios are made up.
"""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
from attrs import frozen

from solander.imaging.conventions import Rgb
from solander.imaging.simulate import Inscription, drawn_picture, written_back

__all__ = ["Back", "Front", "Typefaces", "made_back", "made_front"]

Fact = tuple[str, str]
"""Kind and value, as `core.inscriptions` has them."""

SIZES = ((89, 64), (89, 89), (127, 89), (152, 102), (148, 105))
STOCKS = ((240, 233, 214), (246, 243, 236), (232, 226, 210), (225, 210, 180), (248, 248, 246))
PENS = ((38, 44, 78), (30, 30, 34), (70, 60, 60), (92, 92, 96), (24, 48, 120), (98, 70, 46))
STAMPS = ((90, 40, 110), (40, 60, 120), (60, 60, 66), (140, 40, 50), (30, 90, 80))

PEOPLE = [
    "Nan",
    "Bill",
    "Ada",
    "Walter",
    "Elsie",
    "Fred",
    "Ingrid",
    "Heinz",
    "Margaret",
    "Tom",
    "Rosa",
    "Karl",
    "Edith",
    "Albert",
    "Grace",
    "Peter",
]
KIN = ("Aunt", "Uncle", "Tante", "Onkel")
PLACES = ("Skegness", "Bournemouth", "Innsbruck", "Rotterdam", "Scarborough", "Heidelberg", "Brighton", "Toulouse")
MONTHS = {
    "January": 1, "March": 3, "April": 4, "June": 6, "July": 7, "August": 8, "September": 9, "October": 10,
    "December": 12,
}  # fmt: skip
SHORT = ["JAN", "FEB", "MAR", "APR", "MAY", "JUN", "JUL", "AUG", "SEP", "OCT", "NOV", "DEC"]
STUDIOS = ("HARBOUR PHOTO WORKS", "Atelier Lindqvist", "FOTO BRANDNER", "Castle Studios", "Photographie Morel")
STREETS = ("14 High Street", "Hauptstraße 12", "27 Station Road", "8 rue du Pont", "103 Market Street")
MAKERS = ("NORDA PAPER", "Velmira", "ARGENTA PAPER", "Lumipap")


@frozen
class Typefaces:
    """Bytes of fonts: of hands, of stamps, of what is printed in borders."""

    hands: tuple[bytes, ...]
    stamps: tuple[bytes, ...]
    borders: tuple[bytes, ...]

    @classmethod
    def of(cls, which: str, folder: Path | None) -> Typefaces:
        """To tune with, those of the project; to judge with, those of `folder` and of the system."""
        own = Path(__file__).resolve().parents[1] / "src" / "solander"
        box, page = own / "demo" / "box" / "fonts", own / "look" / "static" / "fonts"
        hands, stamps = sorted(box.glob("[BC]*[!d].ttf")), [box / "CourierPrime-Bold.ttf"]
        borders = [box / "CourierPrime-Bold.ttf", page / "atkinson-hyperlegible-next-latin-700-normal.ttf"]
        if which == "judge":
            hands = sorted(folder.glob("*.ttf")) if folder else hands
            system = Path("/usr/share/fonts/truetype")
            found = [path for name in _SYSTEM for path in sorted(system.glob(f"*/{name}.ttf"))]
            stamps, borders = found or stamps, found or borders
        return cls(*(tuple(path.read_bytes() for path in paths) for paths in (hands, stamps, borders)))


_SYSTEM = ("LiberationSans-Bold", "LiberationSansNarrow-Bold", "LiberationSerif-Bold", "DejaVuSansMono-Bold")


@frozen
class Back:
    """A back with its truth: the lines by who made them, the facts, how it was turned (clockwise)."""

    rgb: Rgb
    written: tuple[str, ...] = ()
    stamped: tuple[str, ...] = ()
    printed: str = ""
    facts: frozenset[Fact] = frozenset()
    stamp_date: str = ""
    turned: int = 0


@frozen
class Front:
    """A front; `date` is the EDTF value in its border, empty where there is none."""

    rgb: Rgb
    date: str = ""
    number: str = ""


def made_back(seed: int, faces: Typefaces, *, blank: bool = False) -> Back:
    """One back, or a blank one with what time left on it."""
    rng = np.random.default_rng([seed, 41])
    size = SIZES[int(rng.integers(len(SIZES)))]
    stock = STOCKS[int(rng.integers(len(STOCKS)))]
    glue = float(rng.choice([0.0, 0.0, 0.4, 0.8]))
    if blank:
        return Back(_seen(rng, written_back((), size_mm=size, stock=stock, glue=glue, seed=seed), size))
    marks: list[Inscription] = []
    printed = ""
    if rng.uniform() < 0.2:
        printed = str(rng.choice(MAKERS))
        marks += _all_over(rng, printed, faces, size, stock)
    kinds = (True, False) if rng.uniform() < 0.4 else ((True,) if rng.uniform() < 0.6 else (False,))
    written, facts = _note(rng) if True in kinds else ((), set())
    stamped, stamp_date, of_stamp = _stamp(rng) if False in kinds else ((), "", set())
    if written:
        marks.append(_hand(rng, written, faces, size))
    if stamped:
        marks.append(_stamped(rng, stamped, faces, size, low=bool(written)))
    turned = int(rng.integers(4))
    rgb = _seen(rng, written_back(tuple(marks), size_mm=size, stock=stock, glue=glue * 0.5, seed=seed), size)
    facts |= of_stamp | ({("paper", "E159")} if printed else set())
    lying = np.ascontiguousarray(np.rot90(rgb, -turned))
    return Back(lying, written, stamped, printed, frozenset(facts), stamp_date, turned)


def _note(rng: np.random.Generator) -> tuple[tuple[str, ...], set[Fact]]:
    """What a hand wrote: who, where, when, in one of the usual ways."""
    one, two, three = (str(name) for name in rng.choice(PEOPLE, 3, replace=False))
    place, year = str(rng.choice(PLACES)), int(rng.integers(1915, 1979))
    month = str(rng.choice(list(MONTHS)))
    kin = f"{rng.choice(KIN)} {one}"
    dated: set[Fact] = {("date", f"{year}-{MONTHS[month]:02}")}
    ways: tuple[tuple[tuple[str, ...], set[Fact]], ...] = (
        ((f"{one} and {two}", f"{place}, {month} {year}"),
         {("person", one), ("person", two), ("together", f"{one} + {two}"), ("place", place), *dated}),
        ((f"{place} {year}",), {("place", place), ("date", str(year))}),
        ((f"{kin} and {two}", f"at {place}", f"{month} {year}"),
         {("person", kin), ("person", two), ("together", f"{kin} + {two}"), ("place", place), *dated}),
        ((f"{one}, {two} and {three}", f"summer {year}"),
         {("person", one), ("person", two), ("person", three), ("together", f"{one} + {two} + {three}"),
          ("date", f"{year}-22")}),
        ((f"{one} {year}", "on the beach"), {("person", one), ("date", str(year))}),
        (("The new garden gate", f"{month} {year}"), dated),
        ((f"Christmas {year}", f"{one} with {two}"),
         {("person", one), ("person", two), ("together", f"{one} + {two}"), ("date", f"{year}-12-25~")}),
    )  # fmt: skip
    return ways[int(rng.integers(len(ways)))]


def _stamp(rng: np.random.Generator) -> tuple[tuple[str, ...], str, set[Fact]]:
    """What a studio or a laboratory stamped; its date, where it has one, binds the printing."""
    studio, street = str(rng.choice(STUDIOS)), str(rng.choice(STREETS))
    month, year, day = int(rng.integers(12)), int(rng.integers(1946, 1979)), int(rng.integers(1, 29))
    named: set[Fact] = {("studio", studio)}
    monthly = f"{year}-{month + 1:02}"
    ways: tuple[tuple[tuple[str, ...], str, set[Fact]], ...] = (
        (("PROCESSED BY", studio, f"{SHORT[month]} {year}"), monthly, {("printing", monthly), *named}),
        ((studio, street), "", {("address", street), *named}),
        ((studio, street, f"{day} {SHORT[month]} {year}"), f"{monthly}-{day:02}",
         {("printing", f"{monthly}-{day:02}"), ("address", street), *named}),
        (("PRINT MADE BY", studio, f"{SHORT[month]} {year}"), monthly, {("printing", monthly), *named}),
    )  # fmt: skip
    return ways[int(rng.integers(len(ways)))]


def _hand(
    rng: np.random.Generator, lines: tuple[str, ...], faces: Typefaces, size: tuple[int, int]
) -> Inscription:
    height = float(rng.uniform(5.5, 9.0))
    longest = max(map(len, lines))
    height = min(height, (size[0] - 14) / (0.5 * longest))
    return Inscription(
        "\n".join(lines),
        faces.hands[int(rng.integers(len(faces.hands)))],
        height_mm=height,
        at_mm=(float(rng.uniform(5, 9)), float(rng.uniform(10, 16))),
        angle_deg=float(rng.uniform(-5, 4)),
        ink=PENS[int(rng.integers(len(PENS)))],
    )


def _stamped(
    rng: np.random.Generator, lines: tuple[str, ...], faces: Typefaces, size: tuple[int, int], *, low: bool
) -> Inscription:
    height = min(float(rng.uniform(2.6, 4.2)), (size[0] - 16) / (0.66 * max(map(len, lines))))
    top = size[1] - 1.25 * height * len(lines) - 3 if low else float(rng.uniform(10, size[1] / 2))
    return Inscription(
        "\n".join(lines),
        faces.stamps[int(rng.integers(len(faces.stamps)))],
        height_mm=height,
        at_mm=(float(rng.uniform(6, 10)), top),
        angle_deg=float(rng.uniform(-2, 2) if low else rng.uniform(-8, 8)),
        ink=STAMPS[int(rng.integers(len(STAMPS)))],
        stamped=True,
    )


def _all_over(
    rng: np.random.Generator, words: str, faces: Typefaces, size: tuple[int, int], stock: tuple[int, int, int]
) -> list[Inscription]:
    """The maker's name aslant in rows, pale."""
    angle, pale = float(rng.uniform(-48, -30)), float(rng.uniform(0.72, 0.86))
    face = faces.stamps[int(rng.integers(len(faces.stamps)))]
    ink = (round(stock[0] * pale), round(stock[1] * pale), round(stock[2] * pale))
    return [
        Inscription(words, face, height_mm=4.0, at_mm=(x + 17.0 * (row % 2), y), angle_deg=angle, ink=ink)
        for row, y in enumerate(range(30, size[1] + 20, 24))
        for x in range(-20, size[0], 44)
    ]


def made_front(seed: int, faces: Typefaces) -> Front:
    """A front with a white border; two of three with a date in it, some with a number, some with nothing."""
    rng = np.random.default_rng([seed, 43])
    size = ((89, 89), (127, 89), (89, 127))[int(rng.integers(3))]
    per_mm = float(rng.uniform(8.5, 14))
    border = float(rng.uniform(3.6, 6.5))
    width, height = (round(side * per_mm) for side in size)
    inner = (round((size[0] - 2 * border) * per_mm), round((size[1] - 2 * border) * per_mm))
    paper = np.array([[[246, 244, 238]]], np.float32) * rng.uniform(0.9, 1.0)
    sheet = np.broadcast_to(paper, (height, width, 3)).astype(np.uint8).copy()
    at = round(border * per_mm)
    sheet[at : at + inner[1], at : at + inner[0]] = drawn_picture(seed, inner)
    date = number = ""
    if rng.uniform() < 2 / 3:
        month, year = int(rng.integers(12)), int(rng.integers(1950, 1980))
        between = str(rng.choice([" . ", " • ", " ", ". ", " · ", " - "]))
        date = f"{year}-{month + 1:02}"
        sheet = _print(rng, sheet, f"{SHORT[month]}{between}{year % 100:02}", faces, per_mm, border)
    elif rng.uniform() < 0.5:
        number = str(int(rng.integers(1, 37)))
        sheet = _print(rng, sheet, number, faces, per_mm, border)
    return Front(_taken(rng, sheet), date, number)


def _print(
    rng: np.random.Generator, sheet: Rgb, words: str, faces: Typefaces, per_mm: float, border: float
) -> Rgb:
    """Words into the middle of one border, along it."""
    side = int(rng.integers(4))
    turned = np.ascontiguousarray(np.rot90(sheet, side))
    width = turned.shape[1]
    letters = float(rng.uniform(1.7, 2.4)) * 1.35  # a typeface's nominal size for capitals so high
    back = written_back(
        (
            Inscription(
                words,
                faces.borders[int(rng.integers(len(faces.borders)))],
                height_mm=letters,
                at_mm=(float(rng.uniform(0.15, 0.7)) * width / per_mm, border / 2 + letters * 0.36),
                angle_deg=0,
                ink=(0, 0, 0),
            ),
        ),
        size_mm=(width / per_mm, border),
        stock=(255, 255, 255),
        seed=int(rng.integers(1 << 20)),
    )
    strip = (
        cv2.resize(back, (width, round(border * per_mm)), interpolation=cv2.INTER_AREA).astype(np.float32) / 255
    )
    if rng.uniform() < 0.5:
        strip = strip[::-1, ::-1]
    pale = float(rng.uniform(0.5, 0.95))
    cover = np.clip((0.9 - strip.mean(axis=2, keepdims=True)) / 0.75, 0, 1) * pale
    part = turned[: strip.shape[0]].astype(np.float32)
    turned[: strip.shape[0]] = (part + (np.array([52, 50, 56], np.float32) - part) * cover).astype(np.uint8)
    return np.ascontiguousarray(np.rot90(turned, -side))


def _seen(rng: np.random.Generator, drawn: Rgb, size: tuple[int, int]) -> Rgb:
    """At a camera's or a scanner's density, its light uneven, stains and scuffs on it."""
    per_mm = float(rng.uniform(8, 14))
    seen = cv2.resize(drawn, (round(size[0] * per_mm), round(size[1] * per_mm)), interpolation=cv2.INTER_AREA)
    light = seen.astype(np.float32)
    for _ in range(int(rng.integers(0, 4))):
        light *= _stain(rng, light.shape)
    y, x = np.mgrid[-1 : 1 : light.shape[0] * 1j, -1 : 1 : light.shape[1] * 1j].astype(np.float32)
    light *= (1 - rng.uniform(0, 0.14) * (x * rng.uniform(-1, 1) + y * rng.uniform(-1, 1)))[..., None]
    return _taken(rng, np.asarray(np.clip(light, 0, 255), np.uint8))


def _stain(rng: np.random.Generator, shape: tuple[int, ...]) -> np.ndarray:
    """A soft stain, or a thin crease: what blank backs bear and is no writing."""
    mask = np.zeros(shape[:2], np.float32)
    if rng.uniform() < 0.5:
        ends = [(int(rng.integers(shape[1])), int(rng.integers(shape[0]))) for _ in range(2)]
        cv2.line(mask, ends[0], ends[1], float(rng.uniform(0.1, 0.35)), int(rng.integers(1, 4)), cv2.LINE_AA)
        mask = cv2.GaussianBlur(mask, (0, 0), 1.2)
    else:
        centre = (int(rng.integers(shape[1])), int(rng.integers(shape[0])))
        axes = (int(rng.integers(10, 130)), int(rng.integers(10, 90)))
        cv2.ellipse(mask, centre, axes, float(rng.uniform(0, 180)), 0, 360, float(rng.uniform(0.05, 0.3)), -1)
        mask = cv2.GaussianBlur(mask, (0, 0), float(rng.uniform(3, 14)))
    return 1 - mask[..., None] * np.array([0.8, 0.9, 1.0], np.float32)


def _taken(rng: np.random.Generator, seen: Rgb) -> Rgb:
    """Soft, noisy, saved as JPEG."""
    soft = cv2.GaussianBlur(seen, (0, 0), float(rng.uniform(0.4, 0.9))).astype(np.float32)
    soft += rng.normal(0, rng.uniform(1, 4), soft.shape).astype(np.float32)
    done, jpeg = cv2.imencode(
        ".jpg", np.clip(soft, 0, 255).astype(np.uint8)[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, 88]
    )
    assert done
    return np.ascontiguousarray(cv2.imdecode(jpeg, cv2.IMREAD_COLOR)[..., ::-1])
