"""Sentences that are kept as parts: the same again from what was kept, English as text, told in each language."""

from __future__ import annotations

import json
import pickle
from gettext import NullTranslations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import escape

from solander.core.dates import Dated, Days, day
from solander.core.errors import Trouble
from solander.core.language import Language, _, speaking, told
from solander.core.sentence import Counted, Listed, Number, Sentence, kept, parts, read_kept, read_parts

ABROAD = {
    "joined %(one)s to %(other)s": "%(other)s ← %(one)s",
    "%(num)s print": "%(num)s Abzug",
    "%(parts)s and %(last)s": "%(parts)s und %(last)s",
    "100 %% of it": "alles (100 %%)",
}


class Abroad(NullTranslations):
    def gettext(self, message):
        return ABROAD.get(message, message)

    def ngettext(self, one, many, number):
        return "%(num)s Abzug" if number == 1 else "%(num)s Abzüge"


GERMAN = Language("de", "Deutsch", Abroad())

SAID = [
    (Sentence("joined %(one)s to %(other)s", one="Nan", other="<b>Ola</b> 100 %"), "<b>Ola</b> 100 % ← Nan"),
    (Sentence("100 %% of it"), "alles (100 %)"),
    (Counted("%(num)s print", "%(num)s prints", 1204), "1.204 Abzüge"),
    (Counted("%(num)s print", "%(num)s prints", 1), "1 Abzug"),
    (Number(12345), "12.345"),
    (Listed(["Nan", "Ola", Dated("1958-22")]), "Nan, Ola und Sommer 1958"),
    (Dated("1958-03-07"), "7. März 1958"),
    (Days(day(1936, 1, 1), day(1940, 12, 31)), "zwischen 1936 und 1940"),
    (Sentence("joined %(one)s to %(other)s", one=1958, other=Dated("1958-22")), "Sommer 1958 ← 1958"),
]


@pytest.mark.parametrize(("sentence", "german"), SAID)
def test_a_sentence_is_told_in_the_language_of_the_reader_and_is_english_as_text(sentence, german):
    assert told(sentence) == str(sentence)
    with speaking(GERMAN):
        assert told(sentence) == german
        assert str(sentence) != german
        assert escape(sentence) == escape(german)
        assert _("%(what)s", what=sentence) == german


@pytest.mark.parametrize(("sentence", "german"), SAID)
@pytest.mark.parametrize(
    "again", [lambda one: read_kept(kept(one)), lambda one: pickle.loads(pickle.dumps(one))], ids=["kept", "sent"]
)
def test_a_sentence_that_was_kept_or_sent_to_another_process_is_the_same(sentence, german, again):
    found = again(sentence)
    assert found == sentence
    with speaking(GERMAN):
        assert told(found) == german


@given(st.text())
def test_text_that_is_no_sentence_is_kept_as_it_is(text):
    assert kept(text) == text
    if not text.startswith('["'):
        assert read_kept(text) == text


@pytest.mark.parametrize(
    "line", ['["say"', '["quoth","x",{}]', '["", "x"]', '["say"]', '["say","%(x)s",{}]', '["']
)
def test_a_line_that_only_looks_like_a_sentence_is_read_as_it_stands(line):
    assert read_kept(line) == line


places = st.recursive(
    st.text(st.characters(exclude_categories=("Cs",))) | st.integers() | st.none(),
    lambda some: st.builds(lambda one, other: Sentence("%(one)s, %(other)s", one=one, other=other), some, some),
)


@given(places)
def test_what_stands_in_places_comes_back_as_it_was(value):
    sentence = Sentence("joined %(one)s to %(other)s", one=value, other="x")
    found = read_kept(kept(sentence))
    assert found == sentence
    assert parts(found) == parts(sentence)
    assert read_parts(json.loads(json.dumps(parts(sentence)))) == sentence


def test_bytes_that_are_no_text_are_kept_as_escapes():
    line = kept(Sentence("took in %(name)s", name="scan\udce9.png"))
    assert read_kept(line) == "took in scan\\udce9.png"


def test_a_trouble_is_told_in_the_language_of_the_reader_with_all_its_parts():
    trouble = Trouble(Sentence("joined %(one)s to %(other)s", one="a", other="b"), "why it is.", "Do this")
    assert str(trouble) == "joined a to b: why it is. Do this."
    with speaking(GERMAN):
        assert told(trouble.sentence) == "b ← a: why it is. Do this."
