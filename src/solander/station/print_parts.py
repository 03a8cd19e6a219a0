"""The parts of a print's slip, and what its page shows of views and of what was understood."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from attrs import frozen
from markupsafe import Markup

from solander.core.dates import parse_edtf
from solander.core.descriptions import When
from solander.core.language import marked, told
from solander.core.places import Place
from solander.core.sentence import Capital, Sentence
from solander.core.statements import Says
from solander.look.map_figure import PlaceOnMap, map_data
from solander.look.ruler import Span, rule_svg, strip_of_days, strip_svg, year_of
from solander.look.words import source_told
from solander.station.laid import laid_one
from solander.tasks.claims import AT_THE_DESK
from solander.tasks.print_desk import Looked, PrintTold
from solander.tasks.say import ONE_AT_A_TIME
from solander.tasks.seen_on_print import Look, WhereToLook, days_of_fact
from solander.tasks.typed import Field
from solander.tasks.voices import Voice
from solander.tasks.who_is_it import speaker

__all__ = [
    "PARTS",
    "Part",
    "clash_values",
    "looked_values",
    "own_words",
    "seen_values",
    "span_around",
    "voice_values",
]


@frozen
class Part:
    """One part of the slip: its key, how it is called, what stands there while it is empty, what may be typed;
    `long` for what may take several lines."""

    field: Field
    key: str
    called: str
    empty: str
    such_as: str
    long: bool = False


_SUCH_DATES = marked("summer 58, about 1935, not before 1968")

PARTS = (
    Part(Field.DATE, "1", marked("When"), marked("when?"), _SUCH_DATES),
    Part(Field.PLACE, "2", marked("Where"), marked("where?"), marked("Leningrad, the boathouse")),
    Part(Field.PEOPLE, "3", marked("Who"), marked("who?"), marked("Nan + Uncle Joe (40)")),
    Part(Field.OCCASION, "4", marked("Occasion"), marked("what occasion?"), marked("Whitsun outing")),
    Part(Field.CAPTION, "5", marked("Caption"), marked("a caption"), marked("Before the snow")),
    Part(Field.NOTE, "6", marked("Note"), marked("a note"), marked("what else is known of it"), long=True),
    Part(
        Field.TRANSCRIPTION,
        "7",
        marked("On the back"),
        marked("what is written on the back"),
        marked("letter by letter"),
        long=True,
    ),
    Part(
        Field.EVIDENCE,
        "8",
        marked("Seen on it"),
        marked("what is seen on the paper"),
        marked("cabinet card; deckle edge"),
    ),
)
"""In the order of the slip; each is opened by its key."""


def span_around(told: PrintTold) -> Span | None:
    """The years of the collection and of the print, in whole decades."""
    voices = [one for one in told.voices.get(Field.DATE, ()) if one.ident or not one.believed]
    days = [day for one in voices for day in (one.earliest, one.latest) if day is not None]
    return _span(told.years, told.described.when, days)


def _span(of_all: tuple[int, int] | None, when: When, days: Sequence[int] = ()) -> Span | None:
    years = [*(of_all or ()), *(int(year_of(day)) for day in days)]
    years += [int(one.rsplit("-", 2)[0]) for one in (when.guess, *(when.likely or ())) if one]
    if not years:
        return None
    return Span(min(years) // 10 * 10, max(years) // 10 * 10 + 10)


_SEEN_HERE = f"; seen: {AT_THE_DESK}"


def who_words(source: str) -> str:
    """Who says so, the file where only a file does; empty for whoever sits here."""
    if source.endswith(_SEEN_HERE) and isinstance(source, Sentence):
        source = source.made_of[1]["source"]
    who = speaker(source)
    return "" if source == AT_THE_DESK else source_told(source if who == source else who or source)


def voice_values(known: PrintTold, span: Span | None) -> list[tuple[Part, list[dict[str, Any]]]]:
    """Every part that anybody said something of, with all views of it side by side."""
    parts = {part.field: part for part in PARTS}
    return [
        (parts[field], [_voice(voice, parts[field], span) for voice in views])
        for field, views in known.voices.items()
    ]


def _voice(voice: Voice, part: Part, span: Span | None) -> dict[str, Any]:
    strip = part.field is Field.DATE and span and (voice.earliest or voice.latest)
    return {
        "voice": voice,
        "told": told(Capital(voice.said)).rstrip("."),
        "who": who_words(voice.source),
        "strip": Markup(strip_of_days(voice.earliest, voice.latest, span)) if strip and span else "",
    }


def own_words(told: PrintTold) -> dict[str, str]:
    """What whoever sits here said last in each field of which one holds one view: it stands there anew."""
    return {
        field: [one.said for one in views if one.own and one.source == AT_THE_DESK][-1]
        for field, views in told.voices.items()
        if field in ONE_AT_A_TIME and any(one.own and one.source == AT_THE_DESK for one in views)
    }


def clash_values(told: PrintTold) -> list[tuple[str, list[dict[str, Any]]]]:
    """What can't all be true: how far it is apart, then reason by reason."""
    return [
        (
            clash.apart,
            [
                {"words": one[0], "who": who_words(one[1]), "ident": one[2], "left_out": one == clash.left_out}
                for one in clash.reasons
            ],
        )
        for clash in told.clashes
    ]


def looked_values(looked: Looked) -> dict[str, Any]:
    """What a page shows of words before they are kept: lines, choices, the rule, the map."""
    meant = looked.meant
    bars = _bars(looked)
    when = looked.when
    span = _span_with(_span(looked.years, when), bars)
    return {
        "looked": looked,
        "meant": meant,
        "sure": meant.lines[0].sure if meant.lines else None,
        "rule": Markup(rule_svg(span)) if bars and span else "",
        "strips": [
            (words, Markup(strip_of_days(first, last, span, guess=guess))) for words, first, last, guess in bars
        ]
        if span
        else [],
        "believed": when if bars and (when.earliest or when.latest or when.guess) else None,
        "span": span,
        "map": map_data([_on_map(meant.place)]) if meant.place and meant.place.is_located else "",
        "place": meant.place,
        "instead": looked.instead,
    }


Bar = tuple[str, int | None, int | None, int | None]


_FIRST_PHOTOGRAPHS, _LAST_PAPER = 1840, 2040
"""The years of the rule on which facts lie: paper prints begin in the 1840s (the table of facts)."""

WHERE_WORDS = {
    Look.EDGES: marked("Edges and corners"),
    Look.BORDER: marked("Border and margin"),
    Look.SIZE: marked("Size and shape"),
    Look.SURFACE: marked("Surface and colour"),
    Look.BACK: marked("The back"),
    Look.POSTCARD: marked("A postcard"),
    Look.STAMP_BOX: marked("The stamp box of a postcard"),
    Look.MOUNT: marked("The card it is stuck on"),
    Look.PLATE: marked("Metal, glass or a case"),
    Look.INSTANT: marked("An instant picture"),
    Look.FILM: marked("The film it was taken on"),
    Look.LAMP: marked("Under an ultraviolet lamp"),
    Look.PICTURE: marked("In the picture"),
}
"""Where one looks, in words."""


def seen_values(told: PrintTold, places: Sequence[WhereToLook]) -> dict[str, Any]:
    """What the page for choosing facts shows: each fact with its years, all under one rule."""
    span = Span(_FIRST_PHOTOGRAPHS, _LAST_PAPER)
    facts = [one for where in places for one in where.facts]
    return {
        "shown": laid_one(told.described),
        "places": places,
        "where_words": WHERE_WORDS,
        "rule": Markup(rule_svg(span, fades=True)),
        "believed": Markup(strip_svg(told.described.when, span)),
        "strips": {one.fact.id: Markup(strip_of_days(one.earliest, one.latest, span)) for one in facts},
    }


def _bars(looked: Looked) -> list[Bar]:
    """What the rule shows of what was typed: the days of a date with its middle, those of each fact."""
    meant = looked.meant
    if meant.edtf:
        days = parse_edtf(meant.edtf).bounds()
        both = days.earliest is not None and days.latest is not None
        guess = (days.earliest + days.latest) // 2 if both else None  # type: ignore[operator]
        return [("", days.earliest, days.latest, guess)]
    facts = zip(meant.lines, meant.claims, strict=False)
    return [(line.words, *days_of_fact(one.value), None) for line, one in facts if one.says is Says.EVIDENCE]


def _span_with(span: Span | None, bars: Sequence[Bar]) -> Span | None:
    """The span, widened so that what was typed lies on it."""
    days = [day for _, first, last, guess in bars for day in (first, last, guess) if day is not None]
    years = [int(year_of(day)) for day in days] + ([span.first, span.last - 10] if span else [])
    return Span(min(years) // 10 * 10, max(years) // 10 * 10 + 10) if years else None


def _on_map(place: Place) -> PlaceOnMap:
    assert place.latitude is not None
    assert place.longitude is not None
    return PlaceOnMap(place.name, "#slip", place.latitude, place.longitude, place.radius_m or 1.0, undated=1)
