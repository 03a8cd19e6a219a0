"""What a person's page says of each claim: understood, in words, without the marks of the file it came from."""

from __future__ import annotations

import pytest

from solander.core.statements import About, Says, Statement, Sure
from solander.station.people import SaidLine


def line(says, value, words):
    return SaidLine(Statement("1", About.PERSON, "Anna Moor", says, value, words, Sure.CERTAIN, "tree.ged", ""))


@pytest.mark.parametrize(
    ("says", "value", "written", "what", "words"),
    [
        (Says.NAME, "birth|Anna /Weber/", "Anna /Weber/", "name at birth", "Anna Weber"),
        (Says.NAME, "nickname|Nan", "Anna /Weber/", "nickname", "Nan"),
        (Says.SEX, "female", "F", "sex", "female"),
        (Says.BORN, "1908-03-04", "4 MAR 1908", "born", "4 March 1908"),
        (Says.DIED, "", "in the war", "died", "“in the war”"),
        (Says.BORN_AT, "Łódź", "", "born at", "Łódź"),
    ],
)
def test_a_claim_is_told_as_people_write(says, value, written, what, words):
    told = line(says, value, written)
    assert (told.what, told.words) == (what, words)


def test_a_date_that_was_written_otherwise_is_shown_as_written_too():
    assert line(Says.BORN, "1908~", "ABT 1908").written == "ABT 1908"
    assert line(Says.BORN, "1908-03-04", "4 March 1908").written == ""
    assert line(Says.NAME, "birth|Anna /Weber/", "Anna /Weber/").written == ""
