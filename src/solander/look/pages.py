"""The one Jinja environment: page parts, words and drawings for the station and for what is handed over."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from solander.core import language
from solander.core.descriptions import When
from solander.look import map_figure, words
from solander.look.languages import LANGUAGES
from solander.look.ruler import Span, strip_svg

__all__ = ["MADE_UP", "ONLY_FOR_MAPS", "STATIC", "environment"]

STATIC = Path(__file__).parent / "static"
"""The folder of the style sheet, the fonts and the page scripts."""

ONLY_FOR_MAPS = ("map", "vendor")
"""Folders in it that only pages with a map need."""

MADE_UP = language.marked("Everything here is made up: the place, the families, the dates.")
"""Stands on every page of a made-up collection."""


_OF_PLACES = ("distance_words", "latitude_words", "longitude_words", "name_years_words")

_ACCESSION = re.compile(r"\b(?:P|[A-Z]+\d+(?:-[A-Z]+\d+)*)-\d{4,}\b")


def environment(package: str) -> Environment:
    """Templates of `package` and the shared parts; text is escaped, a missing value is an error."""
    env = Environment(
        loader=ChoiceLoader([PackageLoader(package), PackageLoader("solander.look")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.i18n"],
    )
    env.policies["ext.i18n.trimmed"] = True
    # Each place of a message is a named one ("newstyle"); they are filled here, so that text is escaped.
    env.newstyle_gettext = True  # type: ignore[attr-defined]
    env.globals |= {"gettext": _told, "ngettext": _counted, "_": _told, "language": language.language}
    env.filters |= {name: getattr(words, name) for name in words.__all__} | {"whole_numbers": _whole_numbers}
    env.filters |= {name: getattr(map_figure, name) for name in _OF_PLACES}
    env.globals |= {"made_up_words": MADE_UP, "strip": _strip, "languages": LANGUAGES}
    env.filters["number_words"] = language.number_words
    return env


def _told(message: str, /, **places: Any) -> Markup:
    return Markup(language.gettext(message)) % places


def _counted(one: str, many: str, number: int, /, **places: Any) -> Markup:
    return Markup(language.ngettext(one, many, number)) % {**places, "num": language.number_words(number)}


def _whole_numbers(text: str) -> Markup:
    """The text, escaped, with every accession number kept in one piece: lines are not broken at its hyphens."""
    return Markup(_ACCESSION.sub(r'<span class="accession">\g<0></span>', str(escape(text))))


def _strip(when: When, span: Span | None) -> Markup:
    # Markup is right here: the drawing is made of numbers alone.
    return Markup(strip_svg(when, span))
