from __future__ import annotations

from gettext import NullTranslations
from threading import Thread

import pytest
from babel.numbers import format_decimal

from solander.core.language import ENGLISH, Language, _, _n, decimal_words, language, number_words, speaking


class Backwards(NullTranslations):
    """Says every message from its end, so that it is seen whether it was asked."""

    def gettext(self, message: str) -> str:
        return {"The back of %(print)s": "Rückseite von %(print)s", "100 %% sure": "zu 100 %% sicher"}[message]

    def ngettext(self, one: str, many: str, number: int) -> str:
        return "%(num)s Bild" if number == 1 else "%(num)s Bilder"


GERMAN = Language("de", "Deutsch", Backwards())


def test_messages_are_said_in_the_language_that_is_spoken_and_in_english_outside():
    assert _("The back of %(print)s", print="P-0001") == "The back of P-0001"
    with speaking(GERMAN):
        assert _("The back of %(print)s", print="P-0001") == "Rückseite von P-0001"
        assert _n("%(num)s print", "%(num)s prints", 1) == "1 Bild"
        assert _n("%(num)s print", "%(num)s prints", 12345) == "12.345 Bilder"
        assert _("100 %% sure") == "zu 100 % sicher"
    assert _n("%(num)s print", "%(num)s prints", 12345) == "12,345 prints"
    assert language() is ENGLISH


def test_the_language_is_put_back_when_something_fails_within():
    with pytest.raises(KeyError), speaking(GERMAN):
        _("Nobody has translated this")
    assert language() is ENGLISH


def test_another_thread_speaks_for_itself():
    heard = []
    with speaking(GERMAN):
        other = Thread(target=lambda: heard.append(language().code))
        other.start()
        other.join()
    assert heard == ["en"]


@pytest.mark.parametrize("code", ["en", "de", "fr"])
@pytest.mark.parametrize("number", [0, 7, 999, 1000, 20480, 1234567])
def test_thousands_are_parted_as_the_unicode_locale_data_say(code, number):
    """CLDR, by way of Babel."""
    with speaking(Language(code, code)):
        assert number_words(number) == format_decimal(number, locale=code)


@pytest.mark.parametrize("code", ["en", "de", "fr"])
@pytest.mark.parametrize(("number", "digits"), [(1.8, 1), (0.25, 2), (-3.0, 1)])
def test_the_decimal_mark_is_that_of_the_unicode_locale_data(code, number, digits):
    """CLDR, by way of Babel."""
    with speaking(Language(code, code)):
        assert decimal_words(number, digits) == format_decimal(number, f"0.{'0' * digits}", locale=code)
