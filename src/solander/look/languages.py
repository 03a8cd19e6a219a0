"""The languages that Solander speaks, and which of them a reader understands best.

Messages are read from the `.po` files that translators write, when a language is first asked for: a compiled file
beside each would be one more thing that can be old, and reading one takes a moment only (docs/measured.md).
"""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from functools import cache
from gettext import GNUTranslations
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from solander.core.language import ENGLISH, Language

__all__ = ["LANGUAGES", "LOCALE", "best_of", "language_of", "script_words"]

LOCALE = Path(__file__).parent / "locale"
"""The folder of the message files, one `CODE.po` a language."""

LANGUAGES: Mapping[str, str] = {"en": "English", "de": "Deutsch", "fr": "Français"}
"""Codes and how each calls itself, in the order in which they are offered."""


@cache
def language_of(code: str) -> Language:
    """The language of a code in `LANGUAGES`, English for any other."""
    if code == ENGLISH.code or code not in LANGUAGES:
        return ENGLISH
    compiled = io.BytesIO()
    write_mo(compiled, _catalogue(code))
    compiled.seek(0)
    return Language(code, LANGUAGES[code], GNUTranslations(compiled))


@cache
def script_words(code: str) -> Mapping[str, str]:
    """What page scripts say in a language, by what they say in English; nothing for one not in `LANGUAGES`."""
    if code == ENGLISH.code or code not in LANGUAGES:
        return {}
    said = (message for message in _catalogue(code) if any(file.endswith(".js") for file, _ in message.locations))
    return {str(message.id): str(message.string) for message in said if message.string}


@cache
def _catalogue(code: str) -> Catalog:
    with (LOCALE / f"{code}.po").open("rb") as file:
        return read_po(file, locale=code)


def best_of(accepted: str) -> str:
    """The code that an `Accept-Language` header (RFC 9110, 12.5.4) likes best; English where none is known.

    >>> best_of("de-AT,de;q=0.9,en;q=0.5")
    'de'
    >>> best_of("pl, fr;q=0.4, en;q=0.3")
    'fr'
    """
    liked = sorted(_weighed(accepted), key=lambda each: -each[1])
    return next((code for code, weight in liked if weight > 0 and code in LANGUAGES), ENGLISH.code)


def _weighed(accepted: str) -> Sequence[tuple[str, float]]:
    """Primary languages with their weights, as they stand in the header; what can't be read weighs nothing."""
    found = []
    for part in accepted.split(","):
        tag, _, parameter = part.partition(";")
        quality = parameter.strip().removeprefix("q=") if parameter else "1"
        weight = float(quality) if quality.replace(".", "", 1).isdecimal() else 0.0
        found.append((tag.strip().split("-")[0].casefold(), weight))
    return found
