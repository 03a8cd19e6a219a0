from __future__ import annotations

import pytest
from babel import Locale

from solander.core.language import ENGLISH
from solander.look.languages import LANGUAGES, LOCALE, best_of, language_of


@pytest.mark.parametrize(
    ("header", "code"),
    [
        # The first two are the examples of RFC 9110, 12.5.4 and 12.4.2, with languages that are spoken here.
        ("da, en-gb;q=0.8, en;q=0.7", "en"),
        ("fr-CH, fr;q=0.9, en;q=0.8, de;q=0.7, *;q=0.5", "fr"),
        ("de-AT", "de"),
        ("DE", "de"),
        ("en;q=0.1, de;q=0", "en"),
        ("de;q=0", "en"),
        ("pl, ja", "en"),
        ("", "en"),
        ("de;q=nonsense", "en"),
        (";;;,,q=,\x00", "en"),
        ("fr;q=0.5, de;q=0.5", "fr"),
    ],
)
def test_the_language_that_the_browser_likes_best_is_taken(header, code):
    assert best_of(header) == code


def test_each_language_is_called_as_its_speakers_call_it():
    """By the Unicode locale data, which write most names of languages small."""
    for code, name in LANGUAGES.items():
        assert Locale(code).get_display_name(code).casefold() == name.casefold()


def test_each_language_but_english_has_its_messages():
    assert {path.stem for path in LOCALE.glob("*.po")} == set(LANGUAGES) - {"en"}
    for code in LANGUAGES:
        assert language_of(code).code == code


def test_an_unknown_language_is_english():
    assert language_of("tlh") is ENGLISH
