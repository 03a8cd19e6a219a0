from __future__ import annotations

import re

import pytest
from drawn_box import described_prints

from solander.core.people import Person
from solander.look.life_rule import life_rule, life_years_words
from solander.look.ruler import bar_of


@pytest.mark.parametrize(
    ("born", "died", "words"),
    [
        ("1904", "1978", "1904–1978"),
        ("1927-04-02", "", "born 1927"),
        ("", "1967", "died 1967"),
        ("[1903..1905]", "1988", "1903/1905–1988"),
        ("[1880..1900]", "", "born about 1890"),
        ("/1939", "", "born before 1940"),
        ("", "", ""),
    ],
)
def test_lives_are_told_in_years(born, died, words):
    assert life_years_words(Person("X", (), born, died)) == words


def pieces(drawn: str) -> list[tuple[str, float, float]]:
    found = re.findall(
        r'<rect (class="life"|fill="url\(#fade-\w+\)") x="([\d.]+)%" width="([\d.]+)%" y="50"', drawn
    )
    return [(look, float(x), float(x) + float(width)) for look, x, width in found]


def test_a_life_reaches_from_birth_to_death_on_the_rule():
    drawn = str(life_rule(Person("X", (), "1900-01-01", "1950-01-01"), []))
    ((look, left, right),) = pieces(drawn)
    assert look == 'class="life"'
    # whole decades from 1900 to 1960
    assert (left, right) == (pytest.approx(0), pytest.approx(100 * 50 / 60, abs=0.01))


def test_an_open_life_fades_and_one_of_unsure_birth_fades_in():
    assert pieces(str(life_rule(Person("X", (), "1934-06-21", ""), [])))[0][0] == 'fill="url(#fade-right)"'
    looks = [look for look, _, _ in pieces(str(life_rule(Person("X", (), "[1880..1884]", "1950"), [])))]
    assert looks == ['fill="url(#fade-left)"', 'class="life"', 'fill="url(#fade-right)"']


def test_prints_hang_under_the_life_and_a_name_is_escaped():
    bars = [bar_of(one) for one in described_prints()[:5]]
    drawn = str(life_rule(Person("<X>", (), "1899", "1971"), bars))
    assert drawn.count("<title>") == 5
    assert "<X>" not in drawn
    assert life_rule(Person("X"), []) == ""
