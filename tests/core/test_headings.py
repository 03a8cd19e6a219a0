"""Headings tell people of one name apart by their lives, as library authority files do (common practice)."""

from __future__ import annotations

import pytest

from solander.core.headings import heading_of, life_years
from solander.core.people import Person


@pytest.mark.parametrize(
    ("born", "died", "years"),
    [
        ("1881", "1950", "1881–1950"),
        ("1881-03-12", "", "born 1881"),
        ("1881~", "", "born about 1881"),
        ("", "1950-01", "died 1950"),
        ("[1918..1920]", "", "born about 1919"),
        ("[1918..1919]", "", "born 1918 or 1919"),
        ("[..1959]", "", "born before 1960"),
        ("", "[1945..]", "died after 1944"),
        ("", "", ""),
        ("XXXX-04-15", "", ""),
    ],
)
def test_the_years_of_a_life(born: str, died: str, years: str) -> None:
    assert life_years(Person("", born=born, died=died)) == years


def test_each_is_told_apart_by_what_is_known() -> None:
    taken: set[str] = set()
    someone = Person("", born="1881-03-12", born_at="Vik")
    found = []
    for _ in range(5):
        found.append(heading_of("Anna Weber", someone, taken=taken))
        taken.add(found[-1])
    assert found == [
        "Anna Weber",
        "Anna Weber, born 1881",
        "Anna Weber, born 12 March 1881",
        "Anna Weber, born 1881, Vik",
        "Anna Weber, born 1881, Vik (2)",
    ]
    assert heading_of("Anna Weber", Person(""), taken=taken) == "Anna Weber (2)"
    assert heading_of("", Person(""), taken=taken) == "Unnamed"
    assert heading_of("Tom", Person("", born="1900"), taken=taken, shared=True) == "Tom, born 1900"
