"""What may be said, how it sounds, and what is typed for it; without a voice."""

from __future__ import annotations

from datetime import date
from itertools import product

import numpy as np
import pytest

from solander.core.orders import Order
from solander.core.phrases import read_date
from solander.reading.speech.cues import apart
from solander.reading.speech.dates import in_digits
from solander.reading.speech.english import ENGLISH
from solander.reading.speech.grammar import Any, Kind, Loop, Maybe, Row, Turns, Word
from solander.reading.speech.model import english_model
from solander.reading.speech.network import Network
from solander.reading.speech.phones import PHONES
from solander.reading.speech.pronounce import Pronouncer, dictionary_in
from solander.reading.speech.said import order_of, parts_of, sentence_of


@pytest.fixture(scope="module")
def pronouncer() -> Pronouncer:
    return Pronouncer(dictionary_in(english_model().dictionary), {"siobhan": ("shivawn",)})


def word(kind: Kind, written: str) -> Word:
    return Word(f"{kind}_{written}", kind, written, (("AH",),))


def said(*words: tuple[Kind, str]) -> str:
    return sentence_of(parts_of([word(kind, each) for kind, told in words for each in told.split("|")], ENGLISH))


def edtf_of(phrase: str) -> str:
    return read_date(phrase, today=date(2026, 1, 1)).readings[0].edtf


@pytest.mark.parametrize(
    ("spoken", "edtf"),
    [
        ("summer nineteen fifty eight", "1958-22"),
        ("nineteen oh five", "1905"),
        ("third june nineteen sixty one", "1961-06-03"),
        ("june twenty first nineteen sixty one", "1961-06-21"),
        ("between nineteen forty eight and nineteen fifty two", "[1948..1952]"),
        ("nineteen hundred", "1900"),
        ("nineteen fifties", "195X"),
    ],
)
def test_a_date_as_said_is_the_date_that_core_phrases_reads(spoken: str, edtf: str) -> None:
    # The values are those of EDTF (ISO 8601-2): a season as 22, a set of years in brackets.
    digits = in_digits(spoken.split(), ENGLISH)
    assert not any(unit in digits.split() for unit in ("nineteen", "fifty", "third"))
    assert edtf_of(digits) == edtf


def test_parts_are_typed_as_a_person_types_them() -> None:
    people = (Kind.PEOPLE, "Ingrid"), (Kind.JOINT, "and"), (Kind.KIN, "her brother"), (Kind.PEOPLE, "Nils")
    heard = said((Kind.DATE, "summer|nineteen|fifty|eight"), (Kind.PLACE, "Bergen"), (Kind.JOINT, "with"), *people)
    assert heard == "summer 1958, Bergen, with Ingrid and her brother Nils"
    assert said((Kind.CONTAINER, "box|two|envelope|thirty|five")) == "B2/E35"
    assert said((Kind.CONTAINER, "envelope|five")) == "envelope 5"
    assert said((Kind.JOINT, "without"), (Kind.PEOPLE, "Nils")) == "without Nils"


def test_what_is_taken_back_is_not_typed() -> None:
    assert said((Kind.PEOPLE, "Ingrid"), (Kind.BACK, "sorry"), (Kind.PEOPLE, "Astrid")) == "with Astrid"
    corrected = said((Kind.DATE, "nineteen|fifty|one"), (Kind.BACK, "no"), (Kind.DATE, "nineteen|thirty|six"))
    assert edtf_of(corrected) == "1936"


def test_every_order_has_phrases_of_two_words_or_more_and_none_twice() -> None:
    assert set(ENGLISH.orders) == set(Order)
    phrases = [phrase for told in ENGLISH.orders.values() for phrase in told.split("|")]
    assert len(phrases) == len(set(phrases))
    assert all(len(phrase.split()) >= 2 for phrase in phrases)
    assert order_of([word(Kind.ORDER, Order.UNDO.value)]) is Order.UNDO


def test_no_order_sounds_like_another(pronouncer: Pronouncer) -> None:
    """At least three sounds differ between the phrases of two orders (our choice)."""
    phrases = [(order, phrase) for order, told in ENGLISH.orders.items() for phrase in told.split("|")]
    for (one, first), (other, second) in product(phrases, phrases):
        if one is not other:
            assert apart(pronouncer.ways(first)[0], pronouncer.ways(second)[0]) >= 3, (first, second)


def test_names_sound_as_the_dictionary_tells_or_as_their_letters(pronouncer: Pronouncer) -> None:
    # The CMU pronouncing dictionary tells "weber" so; "Hartwhistle" is in no dictionary, its parts are.
    assert ("W", "EH", "B", "ER") in pronouncer.ways("Weber")
    assert ("HH", "AA", "R", "T", "W", "IH", "S", "AH", "L") in pronouncer.ways("Hartwhistle")
    for name in ("Ternvåg", "Mewińska", "Łucja", "O'Brien", "Żółć", "Jørn", "Siobhán"):
        assert pronouncer.ways(name)
        assert all(phone in PHONES for way in pronouncer.ways(name) for phone in way)
    assert pronouncer.ways("  42 ") == ()


def test_a_person_may_tell_how_a_name_sounds(pronouncer: Pronouncer) -> None:
    told = pronouncer.ways("Siobhan")[0]
    assert told[0] == "SH"
    assert "V" in told


# -- the search, against trying every way ----------------------------------------------------------------

A, B, C = (Word(name, Kind.PLACE, name, ways) for name, ways in (
    ("a", (("AA",), ("AA", "B"))), ("b", (("B", "B"),)), ("c", (("K", "AA"),)))
)  # fmt: skip
LABELS = {"AA": 0, "B": 1, "K": 2}
RULES = {
    "row": (Row((A, B)), [(A, B)]),
    "any": (Any((A, Row((B, C)))), [(A,), (B, C)]),
    "maybe": (Row((Maybe(A), C)), [(C,), (A, C)]),
    "loop": (Loop(A, B), [(A,), (A, B, A), (A, B, A, B, A)]),
    "turns": (Turns((A, B), Maybe(C), C), [(A,), (B,), (A, B), (B, A), (A, C, B), (A, C, A), (B, C, B), (B, C, A),
              (A, B, A), (B, A, B)]),
}  # fmt: skip


@pytest.mark.parametrize("name", RULES)
@pytest.mark.parametrize("seed", range(3))
def test_the_search_finds_what_trying_every_way_finds(name: str, seed: int) -> None:
    """Against the definition in Graves and others, 2006: the best path of a row of labels with blanks between."""
    rule, ways = RULES[name]
    chances = np.random.default_rng(seed).dirichlet(np.ones(4), 7)
    scores = np.log(chances).astype(np.float32)
    found = Network(rule, LABELS, lambda word: 0.25).search(scores[:, :3], scores[:, 3])
    tried = [
        (best_path(scores, [LABELS[phone] for way in sounds for phone in way]) - 0.25 * len(words), words)
        for words in ways
        for sounds in product(*(word.ways for word in words))
    ]
    assert found is not None
    assert found.score == pytest.approx(max(score for score, _ in tried), abs=1e-4)
    assert found.words == max(tried, key=lambda each: each[0])[1]


def best_path(scores: np.ndarray, labels: list[int]) -> float:
    """The best alignment, by a table over blanks and labels in turn."""
    row = [3]
    for label in labels:
        row += [label, 3]
    best = np.full(len(row), -np.inf)
    best[:2] = scores[0, row[0]], scores[0, row[1]]
    for frame in scores[1:]:
        before = best.copy()
        for place, label in enumerate(row):
            options = [before[place], before[place - 1] if place else -np.inf]
            if place > 1 and label != 3 and label != row[place - 2]:
                options.append(before[place - 2])
            best[place] = max(options) + frame[label]
    return float(max(best[-1], best[-2]))


def test_nothing_is_found_where_no_way_is_short_enough() -> None:
    scores = np.zeros((1, 3), np.float32)
    assert Network(Row((B, C)), LABELS, lambda word: 0).search(scores, scores[:, 0]) is None
