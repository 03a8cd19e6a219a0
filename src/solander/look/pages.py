"""The one Jinja environment: page parts, words and drawings for the station and for what is handed over."""

from __future__ import annotations

from pathlib import Path

from jinja2 import ChoiceLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from solander.core.descriptions import When
from solander.look import words
from solander.look.ruler import Span, strip_svg

__all__ = ["MADE_UP", "STATIC", "environment"]

STATIC = Path(__file__).parent / "static"
"""The folder of the style sheet, the fonts and the page scripts."""

MADE_UP = "Everything here is made up: the place, the families, the dates."
"""Stands on every page of a made-up collection."""


def environment(package: str) -> Environment:
    """Templates of `package` and the shared parts; text is escaped, a missing value is an error."""
    env = Environment(
        loader=ChoiceLoader([PackageLoader(package), PackageLoader("solander.look")]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    env.filters |= {name: getattr(words, name) for name in words.__all__}
    env.globals |= {"made_up_words": MADE_UP, "strip": _strip}
    return env


def _strip(when: When, span: Span | None) -> Markup:
    # Markup is right here: the drawing is made of numbers alone.
    return Markup(strip_svg(when, span))
